//! How what was given agrees with a right or predicted answer.

use crate::answer::Agreement;
use crate::answer::Form;
use crate::answer::Given;
use crate::answer::Measure;
use crate::answer::Unit;
use crate::answer::Written;
use crate::answer::accuracy;
use crate::answer::unit;
use crate::gears::ask;
use crate::number;

/// Returns how an answer given agrees with a fact.
pub(super) fn compare(given: &Given, fact: &ask::Fact, form: &Form) -> Agreement {
    let result = match given {
        Given::Quantity {
            value,
            unit,
            places,
        } => quantity(
            &Quantity {
                value: *value,
                unit: unit.as_ref(),
                places: *places,
            },
            fact,
            form,
        ),
        Given::Ratio(first, second) => ratio((*first, *second), fact, form),
        Given::Entry(entry) => Some(if entry == fact {
            Agreement::Equal
        } else {
            Agreement::NotEqual
        }),
        Given::Gears(gears) => choice(gears, fact),
        // What an explanation is worth is more than whether it agrees.
        Given::Explanation(_) => None,
    };
    result.unwrap_or(Agreement::NotEqual)
}

/// A quantity as written.
struct Quantity<'w> {
    value: number::Value,
    unit: Option<&'w Written>,
    places: Option<u8>,
}

fn quantity(written: &Quantity<'_>, fact: &ask::Fact, form: &Form) -> Option<Agreement> {
    let Form::Number {
        unit, precision, ..
    } = form
    else {
        return None;
    };
    let ask::Fact::Quantity { value, unit: base } = fact else {
        return None;
    };
    let (form_base, scale) = unit.in_base();
    if form_base != *base {
        return None;
    }
    let exact = value.divided_by(scale.into()).ok()?;
    let held = |factor: number::Number| -> Option<accuracy::Digits> {
        let last_place = match written.places {
            Some(places) => Some(last_place(places)?.times(factor).ok()?),
            None => None,
        };
        Some(accuracy::digits(&accuracy::Numbers {
            given: written.value.times(factor.into()).ok()?,
            last_place,
            exact,
            precision: *precision,
            is_count: unit.is_count(),
        }))
    };
    let as_printed = held(number::Number::ONE)?;
    let Some(written_unit) = written.unit else {
        return Some(plain(as_printed));
    };
    let measure = written_unit.means;
    if measure.is_some_and(|measure| says_the_same(measure, *unit)) {
        return Some(plain(as_printed));
    }
    let factor = measure.and_then(|measure| {
        unit::conversion(measure.unit, *unit)?
            .times(measure.scale)
            .ok()
    });
    if let Some(factor) = factor {
        let converted = held(factor)?;
        match converted {
            accuracy::Digits::Exact | accuracy::Digits::AsAsked => {
                return Some(Agreement::ConvertedUnit);
            }
            accuracy::Digits::TooFew | accuracy::Digits::CutOff | accuracy::Digits::RoughPi => {
                return Some(plain(converted));
            }
            // Nothing is right in the unit written: perhaps it is as printed.
            accuracy::Digits::Wrong => {}
        }
    }
    Some(match as_printed {
        accuracy::Digits::Exact | accuracy::Digits::AsAsked => Agreement::WrongUnit,
        accuracy::Digits::TooFew | accuracy::Digits::CutOff | accuracy::Digits::RoughPi => {
            Agreement::WrongUnitAndDigits
        }
        accuracy::Digits::Wrong => Agreement::NotEqual,
    })
}

fn plain(digits: accuracy::Digits) -> Agreement {
    match digits {
        accuracy::Digits::Exact => Agreement::Equal,
        accuracy::Digits::AsAsked => Agreement::Rounded,
        accuracy::Digits::TooFew => Agreement::TooFewDigits,
        accuracy::Digits::CutOff => Agreement::CutOff,
        accuracy::Digits::RoughPi => Agreement::PiTruncated,
        accuracy::Digits::Wrong => Agreement::NotEqual,
    }
}

/// Whether a unit written says no other than the one printed: `20 turns` answers
/// "how many turns a minute" as well as `20 rpm`.
fn says_the_same(written: Measure, printed: Unit) -> bool {
    written.scale == number::Number::ONE
        && (written.unit == printed || (written.unit == Unit::Turns && printed == Unit::Rpm))
}

/// The worth of the last of so many decimal places.
fn last_place(places: u8) -> Option<number::Number> {
    let tens = 10_i64.checked_pow(u32::from(places))?;
    number::Number::ratio(1, tens).ok()
}

fn ratio(
    given: (number::Number, number::Number),
    fact: &ask::Fact,
    form: &Form,
) -> Option<Agreement> {
    let ask::Fact::Ratio(first, second) = fact else {
        return None;
    };
    let simplest_asked = match form {
        Form::Ratio { simplest, .. } => *simplest,
        Form::Number { .. } | Form::List { .. } | Form::Gears { .. } | Form::Explanation(_) => {
            return None;
        }
    };
    let right = first.divided_by(*second).ok()?;
    let value = given.0.divided_by(given.1).ok()?;
    if value == right {
        let is_simplest = given == (*first, *second);
        Some(if is_simplest || !simplest_asked {
            Agreement::Equal
        } else {
            Agreement::Unsimplified
        })
    } else if given.1.divided_by(given.0).ok()? == right {
        let is_simplest = given == (*second, *first);
        Some(if is_simplest || !simplest_asked {
            Agreement::Reversed
        } else {
            Agreement::ReversedUnsimplified
        })
    } else if given.1 == number::Number::ONE
        && number::Number::ONE
            .divided_by(right)
            .is_ok_and(|turned| is_rounded(value, turned))
    {
        Some(Agreement::Reversed)
    } else if given.1 == number::Number::ONE && is_rounded(value, right) {
        Some(if simplest_asked {
            Agreement::Unsimplified
        } else {
            Agreement::Rounded
        })
    } else {
        None
    }
}

/// Whether `n` of `n : 1` is the right ratio rounded as any other number may be where no
/// precision is asked: to three figures or two places, or with more right digits.
fn is_rounded(value: number::Number, right: number::Number) -> bool {
    let six = |number: number::Number| {
        number::round_half_up(number.into(), number::Precision::Figures(6)).ok()
    };
    // Many digits, as a calculator shows them.
    if value != right && six(value).is_some() && six(value) == six(right) {
        return true;
    }
    let numbers = accuracy::Numbers {
        given: value.into(),
        last_place: (0..=MOST_PLACES)
            .filter_map(last_place)
            .find(|place| value.divided_by(*place).is_ok_and(number::Number::is_whole)),
        exact: right.into(),
        precision: number::Precision::Exact,
        is_count: false,
    };
    accuracy::digits(&numbers) == accuracy::Digits::AsAsked
}

/// So many places of a decimal are looked for: more than a calculator shows.
const MOST_PLACES: u8 = 12;

fn choice(gears: &[u32], fact: &ask::Fact) -> Option<Agreement> {
    let ask::Fact::Choices(choices) = fact else {
        return None;
    };
    if choices.iter().any(|choice| choice == gears) {
        return Some(Agreement::Equal);
    }
    let turned: Vec<u32> = gears.iter().rev().copied().collect();
    choices.contains(&turned).then_some(Agreement::Reversed)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(unit: Unit) -> Form {
        Form::Number {
            unit,
            precision: number::Precision::Exact,
            labels: Vec::new(),
        }
    }

    fn number(text: &str) -> number::Number {
        text.parse().expect("the test's own")
    }

    fn given(text: &str, unit: Option<Unit>) -> Given {
        Given::Quantity {
            value: number(text).into(),
            unit: unit.map(|unit| Written {
                words: unit.text().to_owned(),
                means: Some(Measure {
                    unit,
                    scale: number::Number::ONE,
                }),
            }),
            places: Some(0),
        }
    }

    fn fact(text: &str, unit: ask::Unit) -> ask::Fact {
        ask::Fact::Quantity {
            value: number(text).into(),
            unit,
        }
    }

    #[test]
    fn units_convert_or_contradict() {
        let right = fact("180", ask::Unit::Millimetres);
        for (value, unit, wanted) in [
            ("180", None, Agreement::Equal),
            ("180", Some(Unit::Millimetres), Agreement::Equal),
            ("18", Some(Unit::Centimetres), Agreement::ConvertedUnit),
            ("180", Some(Unit::Centimetres), Agreement::WrongUnit),
            ("180", Some(Unit::Newtons), Agreement::WrongUnit),
            ("18", None, Agreement::NotEqual),
            ("18", Some(Unit::Newtons), Agreement::NotEqual),
        ] {
            let agreement = compare(&given(value, unit), &right, &length(Unit::Millimetres));
            assert_eq!(agreement, wanted, "{value} {unit:?}");
        }
        assert_eq!(
            compare(&given("18", None), &right, &length(Unit::Centimetres)),
            Agreement::Equal
        );
        let speed = fact("20", ask::Unit::Rpm);
        assert_eq!(
            compare(&given("20", Some(Unit::Turns)), &speed, &length(Unit::Rpm)),
            Agreement::Equal
        );
    }

    #[test]
    fn ratios_may_be_unsimplified_or_reversed() {
        let right = ask::Fact::Ratio(number("3"), number("1"));
        for (first, second, simplest, wanted) in [
            ("3", "1", true, Agreement::Equal),
            ("36", "12", false, Agreement::Equal),
            ("36", "12", true, Agreement::Unsimplified),
            ("1", "3", true, Agreement::Reversed),
            ("12", "36", true, Agreement::ReversedUnsimplified),
            ("12", "36", false, Agreement::Reversed),
            ("3", "0", false, Agreement::NotEqual),
            ("0", "3", false, Agreement::NotEqual),
            ("2", "1", false, Agreement::NotEqual),
            ("3.01", "1", false, Agreement::NotEqual),
        ] {
            let form = Form::Ratio {
                first: "turns of A".to_owned(),
                second: "turns of B".to_owned(),
                simplest,
            };
            let given = Given::Ratio(number(first), number(second));
            assert_eq!(compare(&given, &right, &form), wanted, "{first}:{second}");
        }
    }

    #[test]
    fn a_ratio_to_one_may_be_rounded() {
        let right = ask::Fact::Ratio(number("5"), number("3"));
        for (first, second, simplest, wanted) in [
            ("1.67", "1", false, Agreement::Rounded),
            ("1.67", "1", true, Agreement::Unsimplified),
            ("1.6", "1", false, Agreement::NotEqual),
            ("1.66", "1", false, Agreement::NotEqual),
            ("1.667", "1", false, Agreement::Rounded),
            ("1.6667", "1", true, Agreement::Unsimplified),
            ("1.666", "1", false, Agreement::NotEqual),
            ("1.6666", "1", false, Agreement::Rounded),
            ("1.664", "1", false, Agreement::NotEqual),
            ("1.66666666", "1", false, Agreement::Rounded),
            ("1.67", "2", false, Agreement::NotEqual),
        ] {
            let form = Form::Ratio {
                first: "turns of A".to_owned(),
                second: "turns of B".to_owned(),
                simplest,
            };
            let given = Given::Ratio(number(first), number(second));
            assert_eq!(compare(&given, &right, &form), wanted, "{first}:{second}");
        }
    }

    #[test]
    fn a_rounded_ratio_to_one_may_be_reversed() {
        // 3 ÷ 7 is 0.428571...
        let right = ask::Fact::Ratio(number("7"), number("3"));
        let form = Form::Ratio {
            first: "turns of A".to_owned(),
            second: "turns of B".to_owned(),
            simplest: false,
        };
        for (first, second, wanted) in [
            ("0.43", "1", Agreement::Reversed),
            ("0.4286", "1", Agreement::Reversed),
            ("0.42", "1", Agreement::NotEqual),
            ("0.43", "2", Agreement::NotEqual),
        ] {
            let given = Given::Ratio(number(first), number(second));
            assert_eq!(compare(&given, &right, &form), wanted, "{first}:{second}");
        }
    }

    #[test]
    fn any_right_choice_is_right() {
        let right = ask::Fact::Choices(vec![vec![8, 24], vec![12, 36]]);
        let form = Form::Gears {
            labels: vec!["A".to_owned(), "B".to_owned()],
            from: vec![8, 12, 24, 36],
            in_drive_order: true,
        };
        for (gears, wanted) in [
            ([12, 36], Agreement::Equal),
            ([36, 12], Agreement::Reversed),
            ([8, 36], Agreement::NotEqual),
        ] {
            let given = Given::Gears(gears.to_vec());
            assert_eq!(compare(&given, &right, &form), wanted, "{gears:?}");
        }
    }
}
