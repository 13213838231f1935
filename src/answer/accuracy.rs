//! How near a number given is to the exact one, in the digits asked.
//!
//! Exact fractions throughout; the default marking policy, line 2, in numbers.

use crate::number;
use std::cmp::Ordering;

/// A number given and what it is held against, all in one unit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Numbers {
    /// What was given.
    pub(super) given: number::Value,
    /// The worth of the last place written, where a decimal was.
    pub(super) last_place: Option<number::Number>,
    /// The exact value.
    pub(super) exact: number::Value,
    /// How exactly it is wanted.
    pub(super) precision: number::Precision,
    /// Whether it counts whole things, so that no rounding is right.
    pub(super) is_count: bool,
}

/// How good the digits are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Digits {
    /// The exact value.
    Exact,
    /// As asked, or more and right.
    AsAsked,
    /// Right as far as they go.
    TooFew,
    /// Cut off, not rounded.
    CutOff,
    /// Worked with a rough pi.
    RoughPi,
    /// Another number.
    Wrong,
}

/// The values of pi that pupils use: 3.14, 22/7, 3.142.
const ROUGH_PI: [(i64, i64); 3] = [(157, 50), (22, 7), (1571, 500)];

/// Returns how good the digits are.
pub(super) fn digits(numbers: &Numbers) -> Digits {
    if numbers.given == numbers.exact {
        return Digits::Exact;
    }
    let Some(given) = numbers.given.as_number() else {
        return Digits::Wrong;
    };
    if numbers.as_asked(given, numbers.exact) {
        Digits::AsAsked
    } else if numbers.too_few(given) == Some(true) {
        Digits::TooFew
    } else if numbers.rough_pi(given) {
        Digits::RoughPi
    } else if numbers.cut_off(given) == Some(true) {
        Digits::CutOff
    } else {
        Digits::Wrong
    }
}

impl Numbers {
    /// Whether it is a count of whole things; a wrong way of thinking may give a broken
    /// one, which is rounded like any other number.
    fn is_count(&self) -> bool {
        self.is_count && self.exact.as_number().is_some_and(number::Number::is_whole)
    }

    /// The roundings that earn everything.
    fn wanted(&self) -> Vec<number::Precision> {
        match self.precision {
            number::Precision::Exact if self.is_count() => Vec::new(),
            number::Precision::Exact => {
                vec![number::Precision::Figures(3), number::Precision::Places(2)]
            }
            number::Precision::Places(_) | number::Precision::Figures(_) => vec![self.precision],
        }
    }

    /// Whether it is `exact` rounded as asked, or more digits of it.
    fn as_asked(&self, given: number::Number, exact: number::Value) -> bool {
        self.wanted().into_iter().any(|precision| {
            let Ok(wanted) = number::round_half_up(exact, precision) else {
                return false;
            };
            given == wanted
                || (number::round_half_up(given.into(), precision) == Ok(wanted)
                    && self.within_last_place(given, exact) == Some(true)
                    && self.is_right_to_its_end(given, exact, precision) == Some(true))
        })
    }

    /// Whether more digits than asked are right: rounded at their own end, or so many
    /// that a calculator cut them off.
    fn is_right_to_its_end(
        &self,
        given: number::Number,
        exact: number::Value,
        precision: number::Precision,
    ) -> Option<bool> {
        let last = self.last_place?;
        let steps = exact.divided_by(last.into()).ok()?;
        let rounded = number::round_half_up(steps, number::Precision::Places(0)).ok()?;
        if rounded.times(last).ok()? == given {
            return Some(true);
        }
        Some(match precision {
            number::Precision::Exact => true,
            number::Precision::Places(asked) => {
                let far = 10_i64.checked_pow(u32::from(asked) + 2)?;
                last <= number::Number::ratio(1, far).ok()?
            }
            number::Precision::Figures(asked) => significant_figures(given, last)? >= asked + 2,
        })
    }

    /// Whether the exact value is less than one last place away.
    fn within_last_place(&self, given: number::Number, exact: number::Value) -> Option<bool> {
        let last = self.last_place?;
        let low = given.minus(last).ok()?;
        let high = given.plus(last).ok()?;
        Some(
            exact.compare(low.into()).ok()? == Ordering::Greater
                && exact.compare(high.into()).ok()? == Ordering::Less,
        )
    }

    /// Whether it is the exact value rounded to fewer digits.
    fn too_few(&self, given: number::Number) -> Option<bool> {
        // What comes out whole is not rounded where nothing says so.
        let is_whole = self.exact.as_number().is_some_and(number::Number::is_whole);
        let is_exact_asked = self.precision == number::Precision::Exact;
        if given.is_zero() || self.is_count() || (is_whole && is_exact_asked) {
            return Some(false);
        }
        let last = self.last_place?;
        let by_places = self.rounded_to(last)? == given;
        let figures = significant_figures(given, last)?;
        // One figure and noughts behind it, as 90: rounded to tens.
        let ends_in_nought = last == number::Number::ONE
            && given
                .divided_by(number::Number::whole(10))
                .is_ok_and(number::Number::is_whole);
        let by_figures = (figures >= 2 || ends_in_nought)
            && number::round_half_up(self.exact, number::Precision::Figures(figures)).ok()?
                == given;
        let allowed = if figures == 1 && ends_in_nought {
            20
        } else {
            6
        };
        Some((by_places || by_figures) && self.is_near(given, allowed)?)
    }

    /// Whether it is the exact value with the further digits left off.
    fn cut_off(&self, given: number::Number) -> Option<bool> {
        if given.is_zero() || given.is_negative() || self.is_count() {
            return Some(false);
        }
        let last = self.last_place?;
        let next = given.plus(last).ok()?;
        let between = self.exact.compare(given.into()).ok()? == Ordering::Greater
            && self.exact.compare(next.into()).ok()? == Ordering::Less;
        Some(between && significant_figures(given, last)? >= 2 && self.is_near(given, 6)?)
    }

    /// Whether a rough pi gives it, in the digits asked.
    fn rough_pi(&self, given: number::Number) -> bool {
        self.exact.pi_power != 0
            && ROUGH_PI.into_iter().any(|(top, bottom)| {
                rough(self.exact, top, bottom)
                    .is_some_and(|rough| given == rough || self.as_asked(given, rough.into()))
            })
    }

    fn rounded_to(&self, step: number::Number) -> Option<number::Number> {
        let steps = self.exact.divided_by(step.into()).ok()?;
        number::round_half_up(steps, number::Precision::Places(0))
            .ok()?
            .times(step)
            .ok()
    }

    /// Whether it is within a sixth, or another such part, of the exact value: a
    /// coarser rounding shows no method (1 for 0.6 is as likely a guess).
    fn is_near(&self, given: number::Number, part: i64) -> Option<bool> {
        let share = |top, bottom| {
            let share = number::Number::ratio(top, bottom).ok()?;
            self.exact.magnitude().times(share.into()).ok()
        };
        let given = number::Value::from(given.magnitude());
        Some(
            given.compare(share(part - 1, part)?).ok()? != Ordering::Less
                && given.compare(share(part + 1, part)?).ok()? != Ordering::Greater,
        )
    }
}

/// The value with another number in the place of pi.
fn rough(value: number::Value, top: i64, bottom: i64) -> Option<number::Number> {
    let pi = number::Number::ratio(top, bottom).ok()?;
    let mut result = value.factor;
    for _ in 0..value.pi_power.unsigned_abs() {
        result = if value.pi_power > 0 {
            result.times(pi).ok()?
        } else {
            result.divided_by(pi).ok()?
        };
    }
    Some(result)
}

/// Whether a number shows two figures or more.
pub(super) fn has_two_figures(value: number::Value, places: Option<u8>) -> bool {
    let Some(places) = places else { return true };
    let last = 10_i64
        .checked_pow(u32::from(places))
        .and_then(|tens| number::Number::ratio(1, tens).ok());
    match (value.as_number(), last) {
        (Some(number), Some(last)) => {
            significant_figures(number.magnitude(), last).is_none_or(|figures| figures >= 2)
        }
        (Some(_) | None, _) => true,
    }
}

/// How many figures a decimal shows, without noughts at either end.
fn significant_figures(given: number::Number, last_place: number::Number) -> Option<u8> {
    let mut whole = given.divided_by(last_place).ok()?.numerator();
    while whole > 0 && whole.is_multiple_of(10) {
        whole /= 10;
    }
    u8::try_from(whole.to_string().len()).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(given: &str, exact: (&str, i8), precision: number::Precision) -> Digits {
        let places = given.split_once('.').map_or(0, |(_, part)| part.len());
        let last_place = (!given.contains('/')).then(|| {
            let tens = 10_i64.pow(u32::try_from(places).expect("few places"));
            number::Number::ratio(1, tens).expect("fits")
        });
        let number = |text: &str| -> number::Number { text.parse().expect("the test's own") };
        digits(&Numbers {
            given: number(given).into(),
            last_place,
            exact: number::Value {
                factor: number(exact.0),
                pi_power: exact.1,
            },
            precision,
            is_count: false,
        })
    }

    #[test]
    fn digits_are_held_against_those_asked() {
        use number::Precision;
        for (given, exact, precision, wanted) in [
            ("2.5", ("5/2", 0), Precision::Exact, Digits::Exact),
            ("10/4", ("5/2", 0), Precision::Exact, Digits::Exact),
            ("16.67", ("50/3", 0), Precision::Exact, Digits::AsAsked),
            ("16.7", ("50/3", 0), Precision::Exact, Digits::AsAsked),
            ("16.666", ("50/3", 0), Precision::Exact, Digits::AsAsked),
            ("16.66", ("50/3", 0), Precision::Exact, Digits::CutOff),
            ("0.666", ("2/3", 0), Precision::Exact, Digits::CutOff),
            ("90", ("942/10", 0), Precision::Places(0), Digits::TooFew),
            ("17", ("50/3", 0), Precision::Exact, Digits::TooFew),
            ("16.6", ("50/3", 0), Precision::Exact, Digits::CutOff),
            ("20", ("50/3", 0), Precision::Exact, Digits::Wrong),
            ("16.67", ("50/3", 0), Precision::Places(1), Digits::AsAsked),
            ("16.66", ("50/3", 0), Precision::Places(1), Digits::CutOff),
            ("16.666", ("50/3", 0), Precision::Places(1), Digits::AsAsked),
            ("16.7", ("50/3", 0), Precision::Places(2), Digits::TooFew),
            ("2.5", ("5/2", 0), Precision::Places(2), Digits::Exact),
            ("3", ("5/2", 0), Precision::Places(0), Digits::AsAsked),
            ("1", ("3/5", 0), Precision::Places(1), Digits::Wrong),
            ("0", ("1/5", 0), Precision::Places(1), Digits::Wrong),
            ("251", ("80", 1), Precision::Exact, Digits::AsAsked),
            ("251.33", ("80", 1), Precision::Places(2), Digits::AsAsked),
            ("251.327", ("80", 1), Precision::Places(2), Digits::AsAsked),
            ("251.2", ("80", 1), Precision::Places(2), Digits::RoughPi),
            ("251.43", ("80", 1), Precision::Places(2), Digits::RoughPi),
            ("251.36", ("80", 1), Precision::Places(2), Digits::RoughPi),
            ("251", ("80", 1), Precision::Places(2), Digits::TooFew),
            ("250", ("80", 1), Precision::Places(0), Digits::TooFew),
            ("251.32", ("80", 1), Precision::Places(2), Digits::CutOff),
            ("252", ("80", 1), Precision::Places(0), Digits::Wrong),
            ("16.66", ("50/3", 0), Precision::Figures(3), Digits::CutOff),
            (
                "16.666",
                ("50/3", 0),
                Precision::Figures(3),
                Digits::AsAsked,
            ),
            // At a sixth of the exact value it is near, further off it is not.
            ("1", ("6/5", 0), Precision::Places(1), Digits::TooFew),
            ("1", ("7/5", 0), Precision::Places(1), Digits::Wrong),
            ("1", ("6/7", 0), Precision::Places(1), Digits::TooFew),
            ("1", ("4/5", 0), Precision::Places(1), Digits::Wrong),
            // Tens: within a twentieth.
            ("80", ("844/10", 0), Precision::Places(0), Digits::Wrong),
            ("80", ("84", 0), Precision::Places(0), Digits::TooFew),
            ("80", ("76", 0), Precision::Places(0), Digits::Wrong),
        ] {
            assert_eq!(
                check(given, exact, precision),
                wanted,
                "{given} for {exact:?} as {precision:?}"
            );
        }
    }
}
