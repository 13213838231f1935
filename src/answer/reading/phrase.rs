//! The number that stands at the front of a row of tokens, in digits or words.

use crate::answer::reading::in_words;
use crate::answer::reading::token;
use crate::number;
use winnow::Parser;
use winnow::combinator::alt;
use winnow::combinator::opt;
use winnow::combinator::peek;
use winnow::combinator::preceded;
use winnow::combinator::repeat;
use winnow::token::any;

/// A number as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Phrase {
    /// Its exact value.
    pub(super) value: number::Value,
    /// How many decimal places were written; `None` for fractions and words.
    pub(super) places: Option<u8>,
    /// The two numbers of a fraction in digits, as written: `36/12`.
    pub(super) fraction: Option<(number::Number, number::Number)>,
    /// The numeral's own digits, where it is one.
    pub(super) digits: Option<String>,
    /// Another value that may be meant.
    pub(super) other: Option<number::Value>,
    /// Why a person should look, where there is a reason.
    pub(super) doubt: Option<&'static str>,
}

/// Adds `and a half` where it follows, as in `2 turns and a half`.
pub(super) fn add_part(phrase: &mut Phrase, tokens: &mut Tokens<'_>) {
    let start = *tokens;
    let below_one = (whole_numeral, in_words::slash, whole_numeral).verify_map(
        |(top, (), bottom): (number::Number, (), number::Number)| {
            let part = top.divided_by(bottom).ok()?;
            (part < number::Number::ONE).then_some(part)
        },
    );
    let sum = (
        words(&["and", "an", "n"]),
        alt((in_words::word_part, below_one)),
    )
        .parse_next(tokens)
        .ok()
        .and_then(|((), part)| phrase.value.plus(part.into()).ok());
    match sum {
        Some(sum) => {
            *phrase = Phrase {
                value: sum,
                places: None,
                fraction: None,
                digits: None,
                other: None,
                doubt: phrase.doubt,
            }
        }
        None => *tokens = start,
    }
}

type Tokens<'t> = &'t [token::Token];

/// Reads a number off the front; `None` leaves the tokens as they were.
pub(super) fn number(tokens: &mut Tokens<'_>) -> Option<Phrase> {
    let start = *tokens;
    let phrase = signed.parse_next(tokens);
    if phrase.is_err() {
        *tokens = start;
    }
    phrase.ok()
}

/// Reads a number off the front that a sum may be made with: no pi in it, which is a
/// number of its own there. `None` leaves the tokens as they were.
pub(super) fn without_pi(tokens: &mut Tokens<'_>) -> Option<Phrase> {
    let start = *tokens;
    let minus = opt((
        sign('-'),
        peek(any.verify(|next: &token::Token| next.glued)),
    ));
    // "216 216 ÷ 36" is a result and what is done with it, no 216 thousand.
    let number = alt((
        |input: &mut Tokens<'_>| mixed_up_to(input, LARGEST_BOTTOM),
        recurring,
        fraction,
        numeral_and_words,
        any.verify_map(|token: token::Token| token.numeral().map(plain)),
        in_words::in_words.map(exact),
    ));
    let Ok((minus, mut phrase)) = (minus, number).parse_next(tokens) else {
        *tokens = start;
        return None;
    };
    if minus.is_some() {
        phrase.value = phrase.value.negated();
    }
    Some(phrase)
}

fn signed(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    let minus = opt(alt((
        (
            sign('-'),
            peek(any.verify(|next: &token::Token| next.glued)),
        )
            .void(),
        words(&["minus", "negative"]).void(),
    )))
    .parse_next(input)?;
    let mut phrase = with_pi(input)?;
    if minus.is_some() {
        phrase.value = phrase.value.negated();
    }
    Ok(phrase)
}

/// `80 pi`, `80 × pi`, `pi × 80`, `pi`; `50 %`.
fn with_pi(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    let pi = || words(&["pi"]);
    let times = || opt(alt((sign('×'), words(&["x", "times"]))));
    let mut phrase = alt((
        preceded((pi(), times()), unsigned).map(|phrase| (phrase, true)),
        (unsigned, opt((times(), pi()))).map(|(phrase, pi)| (phrase, pi.is_some())),
        pi().map(|()| (exact(number::Number::ONE), true)),
    ))
    .verify_map(|(phrase, has_pi): (Phrase, bool)| {
        if !has_pi {
            return Some(phrase);
        }
        Some(Phrase {
            value: phrase.value.times(number::Value::PI).ok()?,
            places: None,
            fraction: None,
            digits: None,
            other: None,
            doubt: phrase.doubt,
        })
    })
    .parse_next(input)?;
    let percent = opt(alt((sign('%'), words(&["percent"])))).parse_next(input)?;
    if percent.is_some()
        && let Ok(share) = phrase.value.divided_by(number::Number::whole(100).into())
    {
        phrase = Phrase {
            value: share,
            places: None,
            fraction: None,
            digits: None,
            other: None,
            doubt: Some("a percentage"),
        };
    }
    Ok(phrase)
}

fn unsigned(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    alt((
        mixed,
        recurring,
        power_of_ten,
        fraction,
        hundreds_and_more,
        numeral_and_words,
        spaced_thousands,
        any.verify_map(|token: token::Token| token.numeral().map(plain)),
        in_words::in_words.map(exact),
    ))
    .parse_next(input)
}

/// The largest bottom of a fraction behind a whole number in working: in `1440 120/1440`
/// another calculation begins.
const LARGEST_BOTTOM: i64 = 100;

/// `2 1/2`, `2 and 1/2`, `2-1/2`; the fraction below one.
fn mixed(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    mixed_up_to(input, i64::MAX)
}

/// The like, the bottom of the fraction no more than so much.
fn mixed_up_to(input: &mut Tokens<'_>, largest: i64) -> winnow::Result<Phrase> {
    (
        whole_numeral,
        opt(alt((
            sign('-').map(|()| true),
            alt((sign('+'), sign('&'), words(&["and", "an"]))).map(|()| false),
        ))),
        whole_numeral,
        in_words::slash,
        whole_numeral,
    )
        .verify_map(|(whole, dash, top, (), bottom)| {
            let part = top.divided_by(bottom).ok()?;
            if part >= number::Number::ONE || bottom > number::Number::whole(largest) {
                return None;
            }
            let mut phrase = exact(whole.plus(part).ok()?);
            phrase.doubt = (dash == Some(true)).then_some("a dash that may be a minus");
            Some(phrase)
        })
        .parse_next(input)
}

/// `7/2`, `7 over 2`, `1.5/2`.
fn fraction(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    (numeral, in_words::slash, numeral)
        .verify_map(|(top, (), bottom)| {
            let mut phrase = exact(top.value.divided_by(bottom.value).ok()?);
            phrase.fraction = Some((top.value, bottom.value));
            Some(phrase)
        })
        .parse_next(input)
}

/// `3 quarters`, `2 and a half`, `2 and 3 quarters`, `2 halves`, `5 hundred`.
fn numeral_and_words(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    alt((
        (numeral, in_words::and_part)
            .verify_map(|(whole, part)| Some(exact(whole.value.plus(part).ok()?))),
        (whole_numeral, ordinal)
            .verify_map(|(top, bottom)| Some(exact(top.divided_by(bottom).ok()?))),
        (whole_numeral, in_words::fraction_word)
            .verify_map(|(top, bottom)| Some(exact(top.divided_by(bottom.into()).ok()?))),
        (numeral, in_words::multiplier)
            .verify_map(|(count, worth)| Some(exact(count.value.times(worth.into()).ok()?))),
    ))
    .parse_next(input)
}

/// `1 200`, `12 000`
fn spaced_thousands(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    (
        any.verify_map(|token: token::Token| {
            let first = token.numeral()?;
            let fits = first.is_plain() && first.text.len() <= 3 && !first.text.starts_with('0');
            fits.then_some(first.value)
        }),
        any.verify_map(|token: token::Token| {
            let group = token.numeral()?;
            let whole = group.text.split('.').next().unwrap_or_default();
            let fits = whole.len() == 3 && whole.bytes().all(|byte| byte.is_ascii_digit());
            (fits && !token.glued).then(|| group.clone())
        }),
    )
        .verify_map(|(first, group)| {
            let thousands = first.times(number::Number::whole(1000)).ok()?;
            Some(Phrase {
                value: thousands.plus(group.value).ok()?.into(),
                places: Some(group.places),
                fraction: None,
                digits: None,
                other: None,
                doubt: None,
            })
        })
        .parse_next(input)
}

/// `1 thousand 2 hundred`, `1 hundred and 8`: hundreds in words, the rest in digits.
fn hundreds_and_more(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    let joint = || opt(alt((words(&["and"]), sign(','))));
    let small = || {
        whole_numeral.verify(|rest: &number::Number| {
            *rest < number::Number::whole(100) && rest.is_positive()
        })
    };
    let hundreds = (small(), in_words::multiplier, opt((joint(), small())));
    (
        small(),
        in_words::multiplier,
        joint(),
        alt((
            hundreds.verify_map(|(count, worth, rest)| {
                let sum = count.times(worth.into()).ok()?;
                sum.plus(rest.map_or(number::Number::ZERO, |(_, rest)| rest))
                    .ok()
            }),
            small(),
        )),
    )
        .verify_map(|(count, worth, _, rest)| {
            let sum = count.times(worth.into()).ok()?;
            (rest < number::Number::from(worth)).then(|| sum.plus(rest).ok().map(exact))?
        })
        .parse_next(input)
}

/// `1.2 × 10^3`, `1.2 x 10³`
fn power_of_ten(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    let raised = any.verify_map(|token: token::Token| {
        let place = "⁰¹²³⁴⁵⁶⁷⁸⁹"
            .chars()
            .position(|raised| token.sign() == Some(raised))?;
        u32::try_from(place).ok()
    });
    let power = alt((
        preceded(sign('^'), whole_numeral)
            .verify_map(|power| u32::try_from(power.as_whole()?).ok()),
        raised,
    ));
    (
        numeral,
        alt((sign('×'), words(&["x", "times"]))),
        whole_numeral.verify(|ten: &number::Number| *ten == number::Number::whole(10)),
        power,
    )
        .verify_map(|(factor, (), _, power)| {
            let tens = 10_i64.checked_pow(power)?;
            let value = factor.value.times(number::Number::whole(tens)).ok()?;
            Some(exact(value))
        })
        .parse_next(input)
}

/// `3.3 recurring`, `3.33...`, `2.3r`, `2.(3)`, dots over digits, and in words: digits
/// that go on for ever. Of several behind the point it may be the last or the last two.
fn recurring(input: &mut Tokens<'_>) -> winnow::Result<Phrase> {
    const SAYS_SO: &[&str] = &[
        "recurring",
        "rec",
        "reccuring",
        "recuring",
        "reoccurring",
        "repeating",
        "reccurring",
    ];
    let says_so = || words(SAYS_SO);
    let dots = repeat::<_, _, (), _, _>(2.., sign('.'));
    let letter = any.verify(|token: &token::Token| token.glued && token.word() == Some("r"));
    let bracketed = (whole_numeral, sign('.'), sign('('), numeral, sign(')'))
        .verify_map(|(whole, (), (), block, ())| repeating(whole, "", &block.text));
    // The tidied form of dots over the first and the last digit.
    let dotted = (numeral, says_so(), numeral, says_so()).verify_map(|(first, (), last, ())| {
        let (whole, places) = parted(&first)?;
        let (before, digit) = places.split_at_checked(places.len().checked_sub(1)?)?;
        repeating(whole, before, &format!("{digit}{}", last.text))
    });
    let in_words = (in_words::decimal_digits, says_so())
        .verify_map(|((whole, digits), ())| last_digits(whole, &digits));
    let written = (
        numeral,
        alt((
            says_so().map(|()| true),
            letter.map(|_| true),
            dots.map(|()| false),
        )),
    )
        .verify_map(|(numeral, is_said)| {
            let (whole, places) = parted(&numeral)?;
            let mut digits = places.chars().rev();
            let is_same = digits.next() == digits.next();
            (is_said || is_same).then(|| last_digits(whole, &places))?
        });
    alt((bracketed, dotted, in_words, written)).parse_next(input)
}

/// Whole part and decimal places.
fn parted(numeral: &token::Numeral) -> Option<(number::Number, String)> {
    let (whole, places) = numeral.text.split_once('.')?;
    Some((whole.parse().ok()?, places.to_owned()))
}

/// The last digit going on for ever; the last two as another meaning where they differ.
fn last_digits(whole: number::Number, places: &str) -> Option<Phrase> {
    let (before, last) = places.split_at_checked(places.len().checked_sub(1)?)?;
    let mut phrase = repeating(whole, before, last)?;
    if let Some((head, two)) = places.split_at_checked(places.len().saturating_sub(2))
        && two.len() == 2
        && !two.chars().all(|digit| two.starts_with(digit))
    {
        phrase.other = repeating(whole, head, two).map(|phrase| phrase.value);
        // "63.63 recurring": the two digits stand there twice already.
        let stands_twice = head.is_empty() && whole.to_string().ends_with(two);
        if stands_twice && let Some(both) = phrase.other {
            phrase.other = Some(phrase.value);
            phrase.value = both;
        }
    }
    Some(phrase)
}

/// `whole.before(block)`, the block repeated for ever.
///
/// Source: a block of n digits repeated is the block over n nines (common practice, no
/// source).
fn repeating(whole: number::Number, before: &str, block: &str) -> Option<Phrase> {
    let ten = |power: usize| 10_i64.checked_pow(u32::try_from(power).ok()?);
    let digits = |text: &str| {
        if text.is_empty() {
            Some(0_i64)
        } else {
            text.parse::<i64>().ok()
        }
    };
    let shift = ten(before.len())?;
    let nines = ten(block.len())?
        .checked_sub(1)
        .filter(|nines| *nines > 0)?;
    let head = number::Number::ratio(digits(before)?, shift).ok()?;
    let tail = number::Number::ratio(digits(block)?, nines)
        .and_then(|tail| tail.divided_by(number::Number::whole(shift)))
        .ok()?;
    Some(exact(whole.plus(head).ok()?.plus(tail).ok()?))
}

/// `4th` after a number: the bottom of `1 4th`.
fn ordinal(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    let ending = any.verify(|token: &token::Token| {
        token.glued
            && matches!(
                token.word(),
                Some("rd" | "rds" | "th" | "ths" | "nd" | "nds")
            )
    });
    (whole_numeral, ending)
        .map(|(bottom, _)| bottom)
        .parse_next(input)
}

fn numeral(input: &mut Tokens<'_>) -> winnow::Result<token::Numeral> {
    any.verify_map(|token: token::Token| token.numeral().cloned())
        .parse_next(input)
}

/// A whole number in digits.
pub(super) fn whole_numeral(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    numeral
        .verify_map(|numeral| numeral.is_plain().then_some(numeral.value))
        .parse_next(input)
}

/// One sign.
pub(super) fn sign<'t>(wanted: char) -> impl Parser<Tokens<'t>, (), winnow::error::ContextError> {
    any.verify_map(move |token: token::Token| (token.sign() == Some(wanted)).then_some(()))
}

/// One of the words.
pub(super) fn words<'t>(
    wanted: &'static [&'static str],
) -> impl Parser<Tokens<'t>, (), winnow::error::ContextError> {
    any.verify_map(move |token: token::Token| {
        token
            .word()
            .is_some_and(|word| wanted.contains(&word))
            .then_some(())
    })
}

fn plain(numeral: &token::Numeral) -> Phrase {
    Phrase {
        value: numeral.value.into(),
        places: Some(numeral.places),
        fraction: None,
        digits: Some(numeral.text.clone()),
        other: None,
        doubt: numeral.has_letter.then_some("a letter o read as nought"),
    }
}

fn exact(value: number::Number) -> Phrase {
    Phrase {
        value: value.into(),
        places: None,
        fraction: None,
        digits: None,
        other: None,
        doubt: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The number read and how many tokens are left.
    fn check(text: &str) -> Option<(String, usize)> {
        let tokens = token::tokens(text);
        let mut rest = tokens.as_slice();
        let phrase = number(&mut rest)?;
        Some((phrase.value.to_string(), rest.len()))
    }

    #[test]
    fn numbers_are_read_in_digits_and_words() {
        for (text, value, left) in [
            ("27", "27", 0),
            ("-3", "-3", 0),
            ("minus three", "-3", 0),
            ("2 1/2", "5/2", 0),
            ("2 and 1/2", "5/2", 0),
            ("2 and a half", "5/2", 0),
            ("2 and half", "5/2", 0),
            ("two and a half", "5/2", 0),
            ("three and three quarters", "15/4", 0),
            ("7/2", "7/2", 0),
            ("7 over 2", "7/2", 0),
            ("3 quarters", "3/4", 0),
            ("half", "1/2", 0),
            ("a quarter", "1/4", 0),
            ("two thirds", "2/3", 0),
            ("two-thirds", "2/3", 0),
            ("1 200", "1200", 0),
            ("12 36", "12", 1),
            ("twenty five", "25", 0),
            ("twenty-five", "25", 0),
            ("one hundred and twenty", "120", 0),
            ("a hundred", "100", 0),
            ("hundred", "100", 0),
            ("two thousand five hundred", "2500", 0),
            ("a thousand and one", "1001", 0),
            ("two point five", "5/2", 0),
            ("point two five", "1/4", 0),
            ("fourty", "40", 0),
            ("twice", "2", 0),
            ("80 pi", "80 pi", 0),
            ("80 x pi", "80 pi", 0),
            ("pi", "1 pi", 0),
            ("50%", "1/2", 0),
            ("3.3 recurring", "10/3", 0),
            ("3.33...", "10/3", 0),
            ("2.3r", "7/3", 0),
            ("2.(3)", "7/3", 0),
            ("two point three recurring", "7/3", 0),
            ("63.6 recurring 3 recurring", "700/11", 0),
            ("0.16 recurring", "1/6", 0),
            ("1.2 x 10^3", "1200", 0),
            ("1.2 × 10³", "1200", 0),
            ("1 thousand 2 hundred", "1200", 0),
            ("1 hundred and 8", "108", 0),
            ("one thousand, two hundred", "1200", 0),
            ("one-hundred-and-eight", "108", 0),
            ("seven-and-a-half", "15/2", 0),
            ("thirtysix", "36", 0),
            ("seven elevenths", "7/11", 0),
            ("double start", "2", 1),
            ("5 937.6", "29688/5", 0),
            ("2.5...", "5/2", 3),
            ("1 3rd", "1/3", 0),
            ("3rd", "3", 1),
            ("one over three", "1/3", 0),
            ("a full turn", "1", 1),
            ("3 turns", "3", 1),
            ("2 and 3", "2", 2),
        ] {
            assert_eq!(check(text), Some((value.to_owned(), left)), "{text}");
        }
        for text in ["", "turns", "a gear", "and", "-"] {
            assert_eq!(check(text), None, "{text}");
        }
    }
}
