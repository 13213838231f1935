//! Messy answers as people type them, and what they must be read as.

use proptest::prelude::{ProptestConfig, Strategy};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;
use toothmark::answer;
use toothmark::gears::ask;
use toothmark::gears::notation;
use toothmark::number;

const CASES: &str = include_str!("../cases/answers.tsv");

static FORMS: LazyLock<BTreeMap<&'static str, answer::Form>> = LazyLock::new(forms);

/// The forms that the file names: `@name`, mechanism, what is asked, unit, `simplest`.
fn forms() -> BTreeMap<&'static str, answer::Form> {
    CASES
        .lines()
        .filter_map(|line| line.strip_prefix('@'))
        .map(|line| {
            let cells: Vec<&str> = line.split('\t').collect();
            let [name, mechanism, ask, rest @ ..] = cells.as_slice() else {
                panic!("a form needs a name, a mechanism and what is asked: {line}");
            };
            let lines: Vec<&str> = mechanism.split("; ").collect();
            let mechanism = notation::read(&lines).expect("the mechanism can be read");
            let ask = notation::read_ask(ask, &mechanism).expect("the question can be read");
            let unit = rest.iter().find_map(|cell| answer::Unit::parse(cell));
            let simplest = rest.contains(&"simplest");
            let exact = number::Precision::Exact;
            let form = answer::form_for(&mechanism, &ask, unit, exact, simplest)
                .expect("the form fits what is asked");
            (*name, form)
        })
        .collect()
}

/// A reading in the writing of the file.
fn shown(reading: &answer::Reading) -> String {
    let all = |candidates: &[answer::Candidate]| {
        let texts: Vec<String> = candidates
            .iter()
            .map(|candidate| match &candidate.sureness {
                answer::Sureness::Sure => format!("= {}", candidate.said),
                answer::Sureness::Check { .. } | answer::Sureness::Loose { .. } => {
                    format!("? {}", candidate.said)
                }
                answer::Sureness::Slip { .. } => format!("slip {}", candidate.said),
            })
            .collect();
        texts.join(" | ")
    };
    match reading {
        answer::Reading::Blank => "blank".to_owned(),
        answer::Reading::DontKnow => "don't know".to_owned(),
        answer::Reading::Unreadable { .. } => "unreadable".to_owned(),
        answer::Reading::OtherKind { .. } => "other kind".to_owned(),
        answer::Reading::Read(candidates) => all(candidates),
        answer::Reading::Several(candidates) => format!("several {}", all(candidates)),
    }
}

/// Why a person should look, for the message of a failing test.
fn reasons(reading: &answer::Reading) -> String {
    match reading {
        answer::Reading::Blank | answer::Reading::DontKnow => String::new(),
        answer::Reading::Unreadable { why } | answer::Reading::OtherKind { why } => why.clone(),
        answer::Reading::Read(candidates) | answer::Reading::Several(candidates) => candidates
            .iter()
            .filter_map(|candidate| match &candidate.sureness {
                answer::Sureness::Sure => None,
                answer::Sureness::Check { why }
                | answer::Sureness::Loose { why }
                | answer::Sureness::Slip { why } => Some(why.as_str()),
            })
            .collect::<Vec<_>>()
            .join(" | "),
    }
}

#[test]
fn messy_answers_are_read_as_a_careful_person_would() {
    let forms = &*FORMS;
    let mut count = 0;
    let mut differences = Vec::new();
    let cases = CASES
        .lines()
        .enumerate()
        .filter(|(_, line)| !line.is_empty() && !line.starts_with(['@', '#']));
    for (index, line) in cases {
        let cells: Vec<&str> = line.split('\t').collect();
        let [name, typed, wanted] = cells.as_slice() else {
            panic!("line {}: three cells wanted: {line}", index + 1);
        };
        let form = forms.get(name).expect("the form is named above");
        let typed = answer::Typed {
            text: typed.replace("\\n", "\n").replace("\\t", "\t"),
            undone: Vec::new(),
        };
        let reading = answer::read(&typed, form);
        count += 1;
        if shown(&reading) != *wanted {
            differences.push(format!(
                "line {}: {name}: {:?}\n   wanted {wanted}\n   found  {}   ({})",
                index + 1,
                typed.text,
                shown(&reading),
                reasons(&reading)
            ));
        }
    }
    assert!(count >= 250, "only {count} cases");
    assert!(
        differences.is_empty(),
        "{} of {count} are read otherwise:\n{}",
        differences.len(),
        differences.join("\n")
    );
}

/// Every word of four letters or more that stands in a case.
static WORDS: LazyLock<Vec<&'static str>> = LazyLock::new(|| {
    let more = [
        include_str!("../cases/by-hand/words.tsv"),
        include_str!("../cases/by-hand/explanations.tsv"),
    ];
    let words: BTreeSet<&str> = std::iter::once(CASES)
        .chain(more)
        .flat_map(str::lines)
        .filter(|line| !line.starts_with(['#', '@']))
        .filter_map(|line| line.split('\t').nth(1))
        .flat_map(|text| text.split(|sign: char| !sign.is_alphabetic()))
        .filter(|word| word.len() > 3)
        .collect();
    words.into_iter().collect()
});

/// Words of the cases in any order.
fn said() -> impl Strategy<Value = String> {
    let word = proptest::sample::select(WORDS.as_slice());
    proptest::collection::vec(word, 1..8).prop_map(|words| words.join(" "))
}

proptest::proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn no_text_stops_the_reader_and_it_reads_the_same_twice(
        text in proptest::prop_oneof![
            said(),
            "\\PC{0,60}",
            "[0-9 .,:/x=+-]{0,30}",
            "([0-9]{1,3}|half|one|and|to|no|or|not|turns|rpm|cm|A|B|=|:|-|/|x|,|clockwise|same|yes| ){0,20}",
        ],
    ) {
        for form in FORMS.values() {
            let typed = answer::Typed { text: text.clone(), undone: Vec::new() };
            let reading = answer::read(&typed, form);
            proptest::prop_assert_eq!(&reading, &answer::read(&typed, form));
            if let answer::Reading::Read(candidates) | answer::Reading::Several(candidates) = reading {
                proptest::prop_assert!(!candidates.is_empty());
                proptest::prop_assert!(candidates.len() <= 6);
            }
        }
    }
}

#[test]
fn no_word_stops_the_reader_with_letters_doubled_or_written_once() {
    // To questions of other kinds too.
    let words = &*WORDS;
    assert!(words.len() > 300, "{}", words.len());
    let forms = [
        "direction",
        "rack",
        "faster",
        "stronger",
        "sameway",
        "works",
        "turns",
    ];
    for &word in words {
        let mut once: Vec<char> = word.chars().collect();
        once.dedup();
        let doubled: String = word.chars().flat_map(|sign| [sign, sign]).collect();
        for text in [word, &once.iter().collect::<String>(), &doubled] {
            for form in forms {
                let typed = answer::Typed {
                    text: text.to_owned(),
                    undone: Vec::new(),
                };
                assert_ne!(
                    answer::read(&typed, &FORMS[form]),
                    answer::Reading::Blank,
                    "{text}"
                );
            }
        }
    }
}

#[test]
fn the_longest_cell_is_read_as_far_as_stated() {
    for (name, form) in &*FORMS {
        for unit in [
            "1 ",
            "1/",
            "no ",
            "a",
            "(",
            "-",
            "one hundred and ",
            "2,",
            "\u{301}",
        ] {
            let typed = answer::Typed {
                text: unit.repeat(32_767 / unit.len()),
                undone: Vec::new(),
            };
            match answer::read(&typed, form) {
                answer::Reading::Unreadable { why } => assert!(why.contains("long"), "{name}"),
                answer::Reading::OtherKind { .. } => panic!("{name}: a long text is looked at"),
                answer::Reading::Blank => panic!("{name}: a full cell is not blank"),
                answer::Reading::DontKnow
                | answer::Reading::Read(_)
                | answer::Reading::Several(_) => {}
            }
        }
    }
}

#[test]
fn what_a_spreadsheet_changed_gives_each_reading_once() {
    let ratio = FORMS.get("ratio").expect("named in the file");
    let undone = |texts: &[(&str, &str)]| answer::Typed {
        text: "03:01:00".to_owned(),
        undone: texts
            .iter()
            .map(|(text, why)| answer::Undone {
                text: (*text).to_owned(),
                why: (*why).to_owned(),
            })
            .collect(),
    };
    let time = undone(&[("3:1", "the cell holds the time 03:01:00")]);
    assert_eq!(
        shown(&answer::read(&time, ratio)),
        "= 3 : 1 (the cell holds the time 03:01:00)"
    );
    let date = undone(&[
        ("1/3", "day first"),
        ("3/1", "month first"),
        ("1/3", "again"),
    ]);
    assert_eq!(
        shown(&answer::read(&date, ratio)),
        "= 1 : 3 (day first) | = 3 : 1 (month first)"
    );
}

/// Whether an answer written so earns everything.
fn is_right(text: &str, fact: &ask::Fact, form: &answer::Form) -> bool {
    let typed = answer::Typed {
        text: text.to_owned(),
        undone: Vec::new(),
    };
    let answer::Reading::Read(candidates) = answer::read(&typed, form) else {
        return false;
    };
    candidates.iter().any(|candidate| {
        candidate.sureness == answer::Sureness::Sure
            && matches!(
                answer::compare(&candidate.given, fact, form),
                answer::Agreement::Equal | answer::Agreement::Rounded
            )
    })
}

/// A whole number below two thousand in words.
fn in_words(number: u32) -> String {
    let small = [
        "zero",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
    ];
    let tens = [
        "", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
    ];
    let index = |number: u32| usize::try_from(number).expect("small");
    match number {
        0..=19 => small[index(number)].to_owned(),
        20..=99 if number.is_multiple_of(10) => tens[index(number / 10)].to_owned(),
        20..=99 => format!("{} {}", tens[index(number / 10)], small[index(number % 10)]),
        100..=999 if number.is_multiple_of(100) => format!("{} hundred", in_words(number / 100)),
        100..=999 => format!(
            "{} hundred and {}",
            in_words(number / 100),
            in_words(number % 100)
        ),
        _ if number.is_multiple_of(1000) => format!("{} thousand", in_words(number / 1000)),
        _ => {
            let rest = number % 1000;
            let and = if rest < 100 { "and " } else { "" };
            format!(
                "{} thousand {and}{}",
                in_words(number / 1000),
                in_words(rest)
            )
        }
    }
}

#[test]
fn every_whole_number_is_read_in_words() {
    let form = FORMS.get("turns").expect("named in the file");
    for number in 0..2000 {
        let fact = ask::Fact::Quantity {
            value: number::Number::from(number).into(),
            unit: ask::Unit::Turns,
        };
        let words = in_words(number);
        assert!(is_right(&words, &fact, form), "{words}");
        let without_and = words.replace(" and ", " ");
        assert!(is_right(&without_and, &fact, form), "{without_and}");
        let hyphens = format!("{} turns", words.replace("ty ", "ty-"));
        assert!(is_right(&hyphens, &fact, form), "{hyphens}");
    }
}

#[test]
fn the_wrapping_of_a_number_changes_nothing() {
    let form = FORMS.get("turns").expect("named in the file");
    let values = [
        ("3", "3"),
        ("2.5", "5/2"),
        ("2 1/2", "5/2"),
        ("2½", "5/2"),
        ("5/2", "5/2"),
        ("two and a half", "5/2"),
        ("1,200", "1200"),
        ("1 1/3", "4/3"),
        ("half", "1/2"),
        ("0.5", "1/2"),
        ("twelve", "12"),
        ("12", "12"),
    ];
    let wrappings = [
        "{}",
        " {} ",
        "{}.",
        "= {}",
        "={}",
        "{} turns",
        "{} truns",
        "it is {}",
        "It makes {} turns.",
        "B = {}",
        "gear B makes {} turns",
        "I think it is {}",
        "{}!",
        "({})",
        "about {}",
        "{} turns because it is bigger",
        "the answer is {}",
        "Answer: {} turns",
        "{}?",
        "so it turns {} times",
        "x {}",
        "{} times",
        "{} rotations clockwise",
    ];
    for (typed, value) in values {
        for wrapping in wrappings {
            let text = wrapping.replace("{}", typed);
            for (other, other_value) in values {
                let fact = ask::Fact::Quantity {
                    value: other_value
                        .parse::<number::Number>()
                        .expect("a number")
                        .into(),
                    unit: ask::Unit::Turns,
                };
                let right = is_right(&text, &fact, form);
                assert_eq!(right, value == other_value, "{text:?} for {other}");
            }
        }
    }
}

#[test]
fn every_entry_of_a_list_is_read_as_itself() {
    for (name, form) in &*FORMS {
        let answer::Form::List { options, .. } = form else {
            continue;
        };
        for option in options {
            for text in std::iter::once(&option.text).chain(&option.also) {
                assert!(is_right(text, &option.fact, form), "{name}: {text}");
            }
        }
    }
}

proptest::proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn an_answer_as_the_mark_scheme_writes_it_is_right(
        top in 1_i64..5000,
        bottom in 1_i64..60,
        pi_power in 0_i8..2,
        unit_index in 0_usize..11,
        precision_index in 0_usize..6,
    ) {
        let units = ["turns", "rpm", "teeth", "starts", "stages", "mm", "cm", "m", "N", "N cm", "N m"];
        let unit = answer::Unit::parse(units[unit_index]).expect("a unit");
        let precisions = ["exact", "whole", "1 place", "2 places", "3 figures", "2 figures"];
        let precision = answer::parse_precision(precisions[precision_index]).expect("a precision");
        let (base, scale) = unit.in_base();
        let value = number::Value {
            factor: number::Number::ratio(top, bottom)
                .and_then(|value| value.times(scale))
                .expect("fits"),
            pi_power: if matches!(base, ask::Unit::Millimetres) { pi_power } else { 0 },
        };
        let fact = ask::Fact::Quantity { value, unit: base };
        let form = answer::Form::Number { unit, precision, labels: Vec::new() };
        // What rounds to nought says nothing.
        let rounded = number::round_half_up(value.divided_by(scale.into()).expect("fits"), precision);
        proptest::prop_assume!(rounded != Ok(number::Number::ZERO));
        for text in std::iter::once(answer::expected(&fact, &form)).chain(answer::accepted(&fact, &form)) {
            proptest::prop_assert!(is_right(&text, &fact, &form), "{} for {:?}", text, value);
        }
    }

    #[test]
    fn a_ratio_as_the_mark_scheme_writes_it_is_right(first in 1_i64..200, second in 1_i64..200) {
        let one = number::Number::ratio(first, second).expect("fits");
        let whole = |digits: u128| i64::try_from(digits).map(number::Number::whole).expect("small");
        let fact = ask::Fact::Ratio(whole(one.numerator()), whole(one.denominator()));
        for name in ["ratio", "simplest"] {
            let form = FORMS.get(name).expect("named in the file");
            for text in std::iter::once(answer::expected(&fact, form)).chain(answer::accepted(&fact, form)) {
                proptest::prop_assert!(is_right(&text, &fact, form), "{}", text);
            }
        }
    }
}
