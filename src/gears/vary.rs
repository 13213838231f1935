//! The numbers of a mechanism in a fixed order, and the same mechanism with other
//! numbers.
//!
//! Two calculations that agree on many mechanisms of one shape agree for a reason,
//! not by chance; so a pupil's way of working can be told from a lucky one.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::number;
use crate::seed;
use std::collections::BTreeMap;

/// A mechanism with a question about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Varied {
    /// The mechanism.
    pub mechanism: mechanism::Mechanism,
    /// The question.
    pub ask: ask::Ask,
    /// Its right answer with its working.
    pub worked: solve::Worked,
}

/// Returns every number that a mechanism and a question tell, always in the same
/// order: counts, sizes, then what is given.
#[must_use]
pub fn numbers(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> Vec<number::Value> {
    let slots = slots(mechanism, ask);
    slots.into_iter().map(|(_, value)| value).collect()
}

/// Returns the numbers of [`numbers`], each with its kind.
#[must_use]
pub fn slots(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> Vec<(Slot, number::Value)> {
    let mut found = Vec::new();
    let (mut mechanism, mut ask) = (mechanism.clone(), ask.clone());
    visit(&mut mechanism, &mut ask, &mut |slot, value| {
        found.push((slot, value));
        value
    });
    found
}

/// Returns the mechanism and the question with other numbers, in the order of
/// [`numbers`]; where there are too few, the last ones stay.
///
/// A ring round planets is made to fit them.
#[must_use]
pub fn with_numbers(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    numbers: &[number::Value],
) -> (mechanism::Mechanism, ask::Ask) {
    let (mut mechanism, mut ask) = (mechanism.clone(), ask.clone());
    let mut numbers = numbers.iter();
    visit(&mut mechanism, &mut ask, &mut |_, value| {
        numbers.next().copied().unwrap_or(value)
    });
    fit_rings(&mut mechanism);
    (mechanism, ask)
}

/// Returns up to `count` mechanisms of the same shape with other numbers, each with
/// the question answered; fewer where numbers that fit are hard to find.
///
/// The same mechanism gives the same ones every time.
#[must_use]
pub fn varied(mechanism: &mechanism::Mechanism, ask: &ask::Ask, count: usize) -> Vec<Varied> {
    let mut found = Vec::new();
    for attempt in 0..ATTEMPTS {
        if found.len() == count {
            break;
        }
        found.extend(attempted(mechanism, ask, attempt));
    }
    found
}

/// How often numbers are drawn before one gives up.
const ATTEMPTS: u64 = 160;

fn attempted(mechanism: &mechanism::Mechanism, ask: &ask::Ask, attempt: u64) -> Option<Varied> {
    let mut stream = seed::Stream::named(&["other numbers"], attempt);
    let (mut mechanism, mut ask) = (mechanism.clone(), ask.clone());
    // Gears that mesh share one tooth size, so equal ones stay equal.
    let mut tooth_sizes: BTreeMap<number::Number, number::Number> = BTreeMap::new();
    let mut unused: Vec<u32> = COUNTS.to_vec();
    stream.shuffle(&mut unused);
    visit(&mut mechanism, &mut ask, &mut |slot, value| {
        // One turn and one start need no multiplying, so a right method may leave them out.
        if value.factor == number::Number::ONE && slot != Slot::ToothSize {
            return value;
        }
        let drawn = match slot {
            Slot::Count | Slot::Starts => unused.pop().map_or(value.factor, number::Number::from),
            Slot::ToothSize => *tooth_sizes
                .entry(value.factor)
                .or_insert_with(|| drawn(&mut stream, TOOTH_SIZES)),
            Slot::Share => drawn(&mut stream, SHARES),
            Slot::Length | Slot::Amount => drawn(&mut stream, AMOUNTS),
            Slot::Nought => return value,
        };
        number::Value {
            factor: drawn,
            pi_power: value.pi_power,
        }
    });
    fit_rings(&mut mechanism);
    let worked = solve::answer(&mechanism, &ask).ok()?;
    Some(Varied {
        mechanism,
        ask,
        worked,
    })
}

/// Counts with many common divisors, so that whole answers turn up.
const COUNTS: [u32; 24] = [
    8, 9, 10, 12, 14, 15, 16, 18, 20, 21, 24, 25, 27, 28, 30, 32, 35, 36, 40, 42, 45, 48, 54, 60,
];
const TOOTH_SIZES: &[(i64, i64)] = &[(3, 2), (5, 2), (2, 1), (3, 1), (4, 1), (5, 1), (6, 1)];
const SHARES: &[(i64, i64)] = &[(4, 5), (17, 20), (3, 4), (19, 20), (7, 10), (3, 5)];
const AMOUNTS: &[(i64, i64)] = &[
    (6, 1),
    (7, 1),
    (14, 1),
    (15, 1),
    (22, 1),
    (26, 1),
    (33, 1),
    (39, 1),
    (44, 1),
    (50, 1),
    (63, 1),
    (70, 1),
    (84, 1),
    (90, 1),
    (105, 1),
    (132, 1),
    (150, 1),
    (210, 1),
    (13, 2),
    (27, 2),
];

fn drawn(stream: &mut seed::Stream, from: &[(i64, i64)]) -> number::Number {
    let (top, bottom) = stream.choose(from).copied().unwrap_or((1, 1));
    number::Number::ratio(top, bottom).expect("no list has a nought below")
}

/// A ring round planets has the teeth of the sun and twice those of a planet.
fn fit_rings(mechanism: &mut mechanism::Mechanism) {
    let teeth = |part: &mechanism::Part| {
        let mechanism::Kind::Gear {
            teeth: mechanism::Count::Known(teeth),
        } = part.kind
        else {
            return None;
        };
        Some(teeth)
    };
    let planet = mechanism
        .parts
        .iter()
        .find(|part| part.rides_on.is_some())
        .and_then(teeth);
    let sun = mechanism
        .parts
        .iter()
        .find(|part| part.rides_on.is_none() && teeth(part).is_some())
        .and_then(teeth);
    let (Some(planet), Some(sun)) = (planet, sun) else {
        return;
    };
    for part in &mut mechanism.parts {
        if let mechanism::Kind::Ring {
            teeth: mechanism::Count::Known(teeth),
        } = &mut part.kind
        {
            *teeth = sun + 2 * planet;
        }
    }
}

/// What kind of number stands somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Slot {
    /// Teeth.
    Count,
    /// Starts of a worm.
    Starts,
    /// A tooth size.
    ToothSize,
    /// A diameter, an arm, a distance of axles.
    Length,
    /// Turns, turns a minute, a way, minutes, a force.
    Amount,
    /// A share passed on.
    Share,
    /// Held still: a nought that stays one.
    Nought,
}

type Change<'c> = dyn FnMut(Slot, number::Value) -> number::Value + 'c;

/// Shows every number to `change` and puts what it gives in its place.
fn visit(mechanism: &mut mechanism::Mechanism, ask: &mut ask::Ask, change: &mut Change<'_>) {
    for part in &mut mechanism.parts {
        let slot = match part.kind {
            mechanism::Kind::Worm { .. } => Slot::Starts,
            mechanism::Kind::Gear { .. }
            | mechanism::Kind::Ring { .. }
            | mechanism::Kind::Bevel { .. }
            | mechanism::Kind::Sprocket { .. }
            | mechanism::Kind::Pulley { .. }
            | mechanism::Kind::Rack { .. }
            | mechanism::Kind::Handle { .. }
            | mechanism::Kind::Drum { .. }
            | mechanism::Kind::Roller { .. }
            | mechanism::Kind::Motor
            | mechanism::Kind::Dynamo
            | mechanism::Kind::Carrier => Slot::Count,
        };
        match &mut part.kind {
            mechanism::Kind::Gear { teeth }
            | mechanism::Kind::Ring { teeth }
            | mechanism::Kind::Bevel { teeth }
            | mechanism::Kind::Sprocket { teeth }
            | mechanism::Kind::Worm { starts: teeth } => {
                if let mechanism::Count::Known(count) = teeth {
                    let value = change(slot, number::Number::from(*count).into());
                    let whole = value.factor.as_whole();
                    *count = whole
                        .and_then(|it| u32::try_from(it).ok())
                        .unwrap_or(*count);
                }
            }
            mechanism::Kind::Pulley { diameter_mm }
            | mechanism::Kind::Drum { diameter_mm }
            | mechanism::Kind::Roller { diameter_mm } => plain(diameter_mm, Slot::Length, change),
            mechanism::Kind::Handle { arm_mm: Some(arm) } => plain(arm, Slot::Length, change),
            mechanism::Kind::Handle { arm_mm: None }
            | mechanism::Kind::Rack { .. }
            | mechanism::Kind::Motor
            | mechanism::Kind::Dynamo
            | mechanism::Kind::Carrier => {}
        }
        if let Some(size) = &mut part.tooth_size_mm {
            plain(size, Slot::ToothSize, change);
        }
    }
    for given in &mut mechanism.givens {
        match given {
            mechanism::Given::Motion {
                amount: Some(amount),
                ..
            } => match amount {
                mechanism::Amount::Turns(number) | mechanism::Amount::Rpm(number) => {
                    plain(number, Slot::Amount, change);
                }
                mechanism::Amount::Millimetres(length) => {
                    let slot = slot_of(Slot::Amount, length.factor);
                    *length = change(slot, *length);
                }
            },
            mechanism::Given::Minutes(number)
            | mechanism::Given::Force {
                newtons: number, ..
            }
            | mechanism::Given::TurningForce {
                newton_cm: number, ..
            } => plain(number, Slot::Amount, change),
            mechanism::Given::Efficiency(share) => plain(share, Slot::Share, change),
            mechanism::Given::Apart { mm, .. } => plain(mm, Slot::Length, change),
            mechanism::Given::Motion { amount: None, .. }
            | mechanism::Given::Held(_)
            | mechanism::Given::TakenOut { .. } => {}
        }
    }
    if let ask::Ask::Stages(total) = ask {
        plain(total, Slot::Nought, change);
    }
}

fn plain(number: &mut number::Number, slot: Slot, change: &mut Change<'_>) {
    *number = change(slot_of(slot, *number), (*number).into()).factor;
}

fn slot_of(slot: Slot, number: number::Number) -> Slot {
    if number.is_zero() { Slot::Nought } else { slot }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    fn check(lines: &[&str], asked: &str) -> usize {
        let mechanism = notation::read(lines).expect("well formed");
        let ask = notation::read_ask(asked, &mechanism).expect("well formed");
        let found = varied(&mechanism, &ask, 4);
        for one in &found {
            assert_ne!(one.mechanism, mechanism, "{lines:?}");
            assert_eq!(
                numbers(&one.mechanism, &one.ask).len(),
                numbers(&mechanism, &ask).len()
            );
        }
        assert_eq!(found, varied(&mechanism, &ask, 4), "the same every time");
        found.len()
    }

    #[test]
    fn one_turn_and_one_start_stay_and_a_tooth_size_of_one_does_not() {
        let lines = [
            "worm W 1 start drives gear B 40",
            "tooth size 1 mm",
            "W turns 1",
        ];
        let mechanism = notation::read(&lines).expect("well formed");
        let ask = notation::read_ask("turns of B", &mechanism).expect("well formed");
        let found = varied(&mechanism, &ask, 6);
        let mut sizes = Vec::new();
        for one in &found {
            for (slot, value) in slots(&one.mechanism, &one.ask) {
                match slot {
                    Slot::Starts | Slot::Amount => assert_eq!(value, number::Value::ONE),
                    Slot::ToothSize => sizes.push(value),
                    Slot::Count => assert_ne!(value, number::Number::whole(40).into()),
                    Slot::Share | Slot::Length | Slot::Nought => {}
                }
            }
        }
        assert!(
            sizes.iter().any(|size| *size != number::Value::ONE),
            "{sizes:?}"
        );
    }

    #[test]
    fn mechanisms_of_every_kind_have_others_like_them() {
        for (lines, asked) in [
            (
                vec!["gear A 12 drives gear B 36", "A turns 9"],
                "turns of B",
            ),
            (
                vec!["gear A 12 drives gear B ?", "A turns 9", "B turns 3"],
                "teeth of B",
            ),
            (
                vec!["gear A 20 drives gear B 40", "tooth size 2 mm"],
                "centre distance of A, B",
            ),
            (
                vec![
                    "gear A 20 drives gear B ?",
                    "tooth size 2 mm",
                    "A and B 60 mm apart",
                ],
                "teeth of B",
            ),
            (
                vec![
                    "gear S 20 drives gear P 20",
                    "gear P 20 drives ring R 60",
                    "gear P 20 rides on carrier C",
                    "R held still",
                    "S turns 8",
                ],
                "turns of C",
            ),
            (
                vec![
                    "handle H 300 mm, gear A 10 on one axle",
                    "gear A 10 drives gear B 40",
                    "gear B 40, drum D 100 mm on one axle",
                    "force 20 N at H",
                    "efficiency 9/10",
                ],
                "force at D",
            ),
            (vec!["gear A 32 drives gear B 72"], "meet again A, B"),
        ] {
            assert_eq!(check(&lines, asked), 4, "{lines:?}");
        }
    }

    #[test]
    fn every_number_told_is_found() {
        let lines = [
            "gear A 12 drives gear B 36",
            "A runs at 120 rpm",
            "for 5 minutes",
        ];
        let mechanism = notation::read(&lines).expect("well formed");
        let ask = notation::read_ask("turns of B", &mechanism).expect("well formed");
        let said: Vec<String> = numbers(&mechanism, &ask)
            .iter()
            .map(ToString::to_string)
            .collect();
        assert_eq!(said, ["12", "36", "120", "5"]);
    }
}
