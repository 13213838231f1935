//! What most pupils type: a number in plain digits, or a word of the list as it is printed.
//!
//! Such a text can mean one thing only, so it is read at a glance. It gives what reading
//! it piece by piece gives; tests hold the two against each other.

use crate::answer::Candidate;
use crate::answer::Form;
use crate::answer::Given;
use crate::answer::ListOption;
use crate::answer::Reading;
use crate::answer::Sureness;
use crate::answer::scheme;
use crate::number;

/// The longest number that is read at a glance, in characters.
const LONGEST: usize = 9;

/// Words of our lists that are read at a glance, besides single letters. None of them is
/// a short form, or a way of saying "I do not know".
const WORDS: [&str; 4] = ["clockwise", "anticlockwise", "yes", "no"];

/// Returns the reading of a text that can mean one thing only; none for any other.
pub(super) fn read(text: &str, form: &Form) -> Option<Reading> {
    let text = text.trim_matches(' ');
    match form {
        Form::Number { .. } => number(text).or_else(|| fraction(text)),
        Form::List { options, .. } => entry(text, options),
        Form::Ratio { .. } | Form::Gears { .. } | Form::Explanation(_) => None,
    }
}

/// `27` or `2.5`.
fn number(text: &str) -> Option<Reading> {
    let (whole, part) = match text.split_once('.') {
        Some((whole, part)) => (whole, Some(part)),
        None => (text, None),
    };
    let is_digits = |text: &str| !text.is_empty() && text.bytes().all(|it| it.is_ascii_digit());
    if text.len() > LONGEST || !is_digits(whole) || part.is_some_and(|part| !is_digits(part)) {
        return None;
    }
    let part = part.unwrap_or_default();
    let places = u8::try_from(part.len()).ok()?;
    let digits = whole.bytes().chain(part.bytes());
    let value = digits.fold(0_i64, |value, digit| value * 10 + i64::from(digit - b'0'));
    let value = if places == 0 {
        number::Number::whole(value)
    } else {
        number::Number::ratio(value, 10_i64.checked_pow(places.into())?).ok()?
    };
    Some(Reading::Read(vec![Candidate {
        given: Given::Quantity {
            value: value.into(),
            unit: None,
            places: Some(places),
        },
        sureness: Sureness::Sure,
        said: value.to_decimal()?,
    }]))
}

/// `2 1/2` or `3/4`, with less than one in the fraction.
fn fraction(text: &str) -> Option<Reading> {
    let digits = |text: &str| {
        let is_digits = (1..=3).contains(&text.len()) && text.bytes().all(|it| it.is_ascii_digit());
        is_digits.then(|| text.parse::<i64>().ok()).flatten()
    };
    let (before, bottom) = text.split_once('/')?;
    let (whole, top) = match before.split_once(' ') {
        Some((whole, top)) => (digits(whole)?, digits(top)?),
        None => (0, digits(before)?),
    };
    let bottom = digits(bottom).filter(|bottom| (1..*bottom).contains(&top))?;
    let value = number::Number::ratio(whole * bottom + top, bottom).ok()?;
    Some(Reading::Read(vec![Candidate {
        given: Given::Quantity {
            value: value.into(),
            unit: None,
            places: None,
        },
        sureness: Sureness::Sure,
        said: scheme::exact_text(value.into()),
    }]))
}

/// `clockwise`, `B`.
fn entry(text: &str, options: &[ListOption]) -> Option<Reading> {
    let is_letter = text.len() == 1 && text.bytes().all(|it| it.is_ascii_alphabetic());
    if !is_letter && !WORDS.iter().any(|word| word.eq_ignore_ascii_case(text)) {
        return None;
    }
    let option = options
        .iter()
        .find(|option| option.text.eq_ignore_ascii_case(text))?;
    Some(Reading::Read(vec![Candidate {
        given: Given::Entry(option.fact.clone()),
        sureness: Sureness::Sure,
        said: option.text.clone(),
    }]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::answer;
    use crate::answer::reading;
    use crate::gears::notation;
    use proptest::prelude::ProptestConfig;
    use proptest::prop_assert_eq;
    use proptest::proptest;

    /// The forms of questions about three gears in mesh.
    fn forms() -> Vec<Form> {
        let lines = [
            "gear A 12 drives gear B 36",
            "B drives gear C 24",
            "A turns 9 clockwise",
        ];
        let mechanism = notation::read(&lines).expect("the mechanism is sound");
        let form = |question: &&str| {
            let ask = notation::read_ask(question, &mechanism).expect("it can be asked");
            let exact = number::Precision::Exact;
            answer::form_for(&mechanism, &ask, None, exact, false).expect("it can be asked")
        };
        let questions = [
            "turns of B",
            "direction of B",
            "same way A, C",
            "faster of A, B",
        ];
        questions.iter().map(form).collect()
    }

    fn check(text: &str) -> Option<(Reading, Reading)> {
        for form in forms() {
            if let Some(fast) = read(text, &form) {
                let slow = reading::read_piece_by_piece(text, &form);
                if fast != slow {
                    return Some((fast, slow));
                }
            }
        }
        None
    }

    #[test]
    fn plain_answers_are_read_at_a_glance() {
        let forms = forms();
        for text in [
            "27",
            "2 1/2",
            "3/4",
            "2.5",
            "007",
            "0",
            "0.125",
            "clockwise",
            "Anticlockwise",
            " 3 ",
        ] {
            assert!(
                forms.iter().any(|form| read(text, form).is_some()),
                "{text}"
            );
            assert_eq!(check(text), None, "{text}");
        }
        for text in [
            "5/2",
            "1/0",
            "2  1/2",
            "2,5",
            ".5",
            "5.",
            "1.2.3",
            "1234567890",
            "3 turns",
            "\u{663}",
            "cw",
            "",
        ] {
            assert!(
                forms.iter().all(|form| read(text, form).is_none()),
                "{text}"
            );
        }
    }

    #[test]
    fn every_letter_and_word_is_read_as_piece_by_piece() {
        let letters = ('a'..='z').chain('A'..='Z').map(String::from);
        let words = WORDS.iter().map(|word| (*word).to_owned());
        for text in letters.chain(words) {
            assert_eq!(check(&text), None, "{text}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2_000, ..ProptestConfig::default() })]

        #[test]
        fn a_glance_gives_what_reading_piece_by_piece_gives(
            text in "([0-9]{1,10}(\\.[0-9]{0,6})? ?|([0-9]{1,3} )?[0-9]{1,3}/[0-9]{1,4})| \
                     [0-9]{1,4}|[a-zA-Z]{1,2}|[0-9./, ]{1,8}"
        ) {
            prop_assert_eq!(check(&text), None);
        }
    }
}
