//! How an answer comes out on paper or in a cell: the many writings of one value.

use toothmark::answer;
use toothmark::gears::ask;
use toothmark::number;
use toothmark::seed;

/// How tidily somebody writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hand {
    /// The bare answer, as the sheet shows it.
    Plain,
    /// Units, words, capitals, spaces, equals signs.
    Lively,
}

/// Returns the answer as this hand writes it; every writing means the same.
pub(crate) fn write(
    fact: &ask::Fact,
    form: &answer::Form,
    hand: Hand,
    stream: &mut seed::Stream,
) -> String {
    let pick = stream.below(12);
    let plain = plain(fact, form);
    match hand {
        Hand::Plain => plain,
        Hand::Lively => lively(&plain, form, pick),
    }
}

/// Returns the text as it came out: now and then a number is put right in the same
/// breath, or the pupil writes that they guess. A person should look at those.
pub(crate) fn muddle(text: String, form: &answer::Form, stream: &mut seed::Stream) -> String {
    let (pick, first) = (stream.below(90), 2 + stream.below(60));
    match (form, pick) {
        (answer::Form::Number { .. }, 0 | 1) => format!("{first} no {}", text.trim()),
        (answer::Form::List { .. }, 0) => format!("{} i think maybe", text.trim()),
        _ => text,
    }
}

/// The answer as the mark scheme would show it, one choice where several are right.
fn plain(fact: &ask::Fact, form: &answer::Form) -> String {
    match fact {
        ask::Fact::Choices(choices) => {
            let first = choices.first().cloned().unwrap_or_default();
            first
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join(" and ")
        }
        ask::Fact::Quantity { .. }
        | ask::Fact::Ratio(..)
        | ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Reasons(_) => answer::expected(fact, form),
    }
}

fn lively(plain: &str, form: &answer::Form, pick: u64) -> String {
    match form {
        answer::Form::Number { unit, .. } => number_words(&bare(plain), unit.text(), pick),
        answer::Form::Ratio { .. } => match pick {
            0 | 1 => plain.replace(' ', ""),
            2 => plain.replace(':', "to"),
            3 => format!("{plain} "),
            4 => plain.replace(" : ", " :"),
            5 | 6 => plain.replace(" : ", "/"),
            _ => plain.to_owned(),
        },
        answer::Form::List { .. } => list_words(plain, pick),
        // Explanations have a hand of their own.
        answer::Form::Explanation(_) => plain.to_owned(),
        answer::Form::Gears { .. } => match pick {
            0 | 1 => plain.replace(" and ", ", "),
            2 => plain.replace(" and ", " & "),
            _ => plain.to_owned(),
        },
    }
}

/// The number without its unit.
fn bare(plain: &str) -> String {
    let is_number = |word: &&str| word.starts_with(|sign: char| sign.is_ascii_digit());
    let words = plain.split_whitespace();
    words.take_while(is_number).collect::<Vec<_>>().join(" ")
}

fn number_words(bare: &str, unit: &str, pick: u64) -> String {
    let bare = bare.to_owned();
    let halves = bare
        .parse::<number::Number>()
        .ok()
        .and_then(|value| half_words(value, pick));
    match pick {
        0 => format!("{bare} {unit}"),
        1 => format!("= {bare}"),
        2 => format!(" {bare} "),
        3 => format!("{bare}."),
        4 => small_word(&bare).unwrap_or(bare),
        5 | 6 => halves.unwrap_or(bare),
        7 => format!("its {bare}"),
        _ => bare,
    }
}

/// `2.5` as `2 1/2` or `2½`.
fn half_words(value: number::Number, pick: u64) -> Option<String> {
    let whole = value.floor();
    let rest = value.minus(whole).ok()?;
    if rest.to_string() != "1/2" {
        return None;
    }
    let whole = if whole.is_zero() {
        String::new()
    } else {
        whole.to_string()
    };
    Some(if pick == 5 {
        format!("{whole}½")
    } else {
        format!("{whole} 1/2").trim().to_owned()
    })
}

fn small_word(bare: &str) -> Option<String> {
    const WORDS: [&str; 13] = [
        "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    let index: usize = bare.parse().ok()?;
    WORDS.get(index).map(|word| (*word).to_owned())
}

fn list_words(plain: &str, pick: u64) -> String {
    match (plain, pick) {
        ("clockwise", 0 | 1) => "CW".to_owned(),
        ("clockwise", 2) => "clock wise".to_owned(),
        ("clockwise", 3) => "clockwize".to_owned(),
        ("anticlockwise", 0) => "ACW".to_owned(),
        ("anticlockwise", 1) => "anti-clockwise".to_owned(),
        ("anticlockwise", 2) => "anti".to_owned(),
        ("anticlockwise", 3) => "anticlockwize".to_owned(),
        ("yes", 0 | 1) => "y".to_owned(),
        ("yes", 2) => "Yes!".to_owned(),
        ("no", 0 | 1) => "n".to_owned(),
        ("no", 2) => "No.".to_owned(),
        ("the same", 0 | 1) => "same".to_owned(),
        (_, 4 | 5) => capital(plain),
        (_, 6) => plain.strip_prefix("gear ").unwrap_or(plain).to_owned(),
        _ => plain.to_owned(),
    }
}

fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(signs).collect()
    })
}
