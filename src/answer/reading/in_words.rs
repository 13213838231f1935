//! The number in words that stands at the front of a row of tokens.

use crate::answer::reading::number_words;
use crate::answer::reading::phrase::sign;
use crate::answer::reading::phrase::whole_numeral;
use crate::answer::reading::phrase::words;
use crate::answer::reading::token;
use crate::number;
use winnow::Parser;
use winnow::combinator::alt;
use winnow::combinator::opt;
use winnow::combinator::peek;
use winnow::combinator::preceded;
use winnow::combinator::repeat;
use winnow::token::any;

type Tokens<'t> = &'t [token::Token];

/// Any number in words: `half`, `two and a half`, `two point five`, `twenty`, `twice`.
pub(super) fn in_words(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    alt((
        (cardinal, slash, cardinal).verify_map(|(top, (), bottom)| top.divided_by(bottom).ok()),
        full_turn,
        part,
        (cardinal, and_part).verify_map(|(whole, part)| whole.plus(part).ok()),
        decimal_words,
        starts,
        cardinal,
        any.verify_map(|token: token::Token| {
            number_words::how_often(token.word()?).map(number::Number::from)
        }),
    ))
    .parse_next(input)
}

/// `and a half`, `and three quarters`, `and half`.
pub(super) fn and_part(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    preceded(
        alt((words(&["and", "an", "n"]), sign('&'), sign('+'))),
        part,
    )
    .parse_next(input)
}

/// `a half`, `quarter`: not in digits, which would be another number.
pub(super) fn word_part(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    preceded(opt(words(&["a"])), fraction_word)
        .verify_map(|bottom| number::Number::ONE.divided_by(bottom.into()).ok())
        .parse_next(input)
}

/// `/`, or `over`.
pub(super) fn slash(input: &mut Tokens<'_>) -> winnow::Result<()> {
    alt((sign('/'), sign('\\'), words(&["over"]))).parse_next(input)
}

/// `twenty five`, `one hundred and twenty`, `a thousand`, `two thousand five hundred`
pub(super) fn cardinal(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    let total = alt((thousands, hundreds, below_hundred)).parse_next(input)?;
    Ok(total.into())
}

/// `hundred`, `thousand`: what they multiply by.
pub(super) fn multiplier(input: &mut Tokens<'_>) -> winnow::Result<u32> {
    any.verify_map(|token: token::Token| number_words::multiplier(token.word()?))
        .parse_next(input)
}

/// `half`, `thirds`: the bottom of the fraction.
pub(super) fn fraction_word(input: &mut Tokens<'_>) -> winnow::Result<u32> {
    any.verify_map(|token: token::Token| number_words::fraction_bottom(token.word()?))
        .parse_next(input)
}

/// `a half`, `three quarters`, `half`, `1 third`: below one.
fn part(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    let top = alt((
        words(&["a", "an"]).map(|()| number::Number::ONE),
        small_word.map(number::Number::from),
        whole_numeral,
    ));
    let half_or_quarter = |bottom: &u32| *bottom == 2 || *bottom == 4;
    alt((
        (top, opt(sign('-')), fraction_word),
        fraction_word
            .verify(half_or_quarter)
            .map(|bottom| (number::Number::ONE, None, bottom)),
    ))
    .verify_map(|(top, _, bottom)| top.divided_by(bottom.into()).ok())
    .parse_next(input)
}

/// `a full turn`, `whole turn`: one; the turn itself is left standing.
fn full_turn(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    (
        opt(words(&["a", "one"])),
        words(&["full", "whole", "complete"]),
        peek(words(&[
            "turn",
            "rotation",
            "revolution",
            "spin",
            "circle",
            "rev",
        ])),
    )
        .map(|_| number::Number::ONE)
        .parse_next(input)
}

/// `double start`: two; the start itself is left standing.
fn starts(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    (
        any.verify_map(|token: token::Token| number_words::starts(token.word()?)),
        peek(words(&["start", "starts", "thread", "threads"])),
    )
        .map(|(count, ())| count.into())
        .parse_next(input)
}

/// The digits of `two point five`, `point two five`, `2 point 5`: whole part and places.
pub(super) fn decimal_digits(input: &mut Tokens<'_>) -> winnow::Result<(number::Number, String)> {
    let digit = any.verify_map(|token: token::Token| {
        let digit = match token.word() {
            Some("o" | "oh") => 0,
            Some(word) => number_words::small(word)?,
            None => {
                let numeral = token.numeral()?;
                u32::try_from(numeral.value.as_whole()?).ok()?
            }
        };
        (digit <= 9).then_some(digit)
    });
    (
        opt(alt((cardinal, whole_numeral))),
        words(&["point"]),
        repeat::<_, _, Vec<u32>, _, _>(1..=6, digit),
    )
        .map(|(whole, (), digits)| {
            let digits: String = digits.iter().map(ToString::to_string).collect();
            (whole.unwrap_or(number::Number::ZERO), digits)
        })
        .parse_next(input)
}

fn decimal_words(input: &mut Tokens<'_>) -> winnow::Result<number::Number> {
    decimal_digits
        .verify_map(|(whole, digits)| {
            let part: number::Number = format!("0.{digits}").parse().ok()?;
            whole.plus(part).ok()
        })
        .parse_next(input)
}

fn thousands(input: &mut Tokens<'_>) -> winnow::Result<u32> {
    (
        alt((hundreds, below_hundred, words(&["a"]).map(|()| 1))),
        multiplier.verify(|worth| *worth == 1000),
        opt(preceded(
            opt(alt((words(&["and"]), sign(',')))),
            alt((hundreds, below_hundred)),
        )),
    )
        .map(|(count, worth, rest)| count * worth + rest.unwrap_or(0))
        .parse_next(input)
}

fn hundreds(input: &mut Tokens<'_>) -> winnow::Result<u32> {
    (
        alt((
            below_hundred,
            words(&["a"]).map(|()| 1),
            peek(multiplier).map(|_| 1),
        )),
        multiplier.verify(|worth| *worth == 100),
        opt(preceded(opt(words(&["and"])), below_hundred)),
    )
        .map(|(count, worth, rest)| count * worth + rest.unwrap_or(0))
        .parse_next(input)
}

fn below_hundred(input: &mut Tokens<'_>) -> winnow::Result<u32> {
    alt((
        (
            any.verify_map(|token: token::Token| number_words::tens(token.word()?)),
            opt(sign('-')),
            small_word.verify(|units| (1..=9).contains(units)),
        )
            .map(|(tens, _, units)| tens + units),
        small_word,
    ))
    .parse_next(input)
}

fn small_word(input: &mut Tokens<'_>) -> winnow::Result<u32> {
    any.verify_map(|token: token::Token| number_words::small(token.word()?))
        .parse_next(input)
}
