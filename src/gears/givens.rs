//! What is given about motion, read into moves of bodies.

use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::size;
use crate::gears::walk;
use crate::number;

/// Returns the part, if the given says that it does not move.
pub(super) fn held(given: &mechanism::Given) -> Option<mechanism::PartId> {
    match given {
        mechanism::Given::Held(part) => Some(*part),
        mechanism::Given::Motion {
            part,
            amount: Some(amount),
            ..
        } => is_nought(*amount).then_some(*part),
        mechanism::Given::Motion { amount: None, .. }
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => None,
    }
}

/// Whether an amount says that a part does not move.
pub(super) fn is_nought(amount: mechanism::Amount) -> bool {
    match amount {
        mechanism::Amount::Turns(number) | mechanism::Amount::Rpm(number) => number.is_zero(),
        mechanism::Amount::Millimetres(value) => value.factor.is_zero(),
    }
}

/// The minutes of the run: the last that are given, so that a later part of a
/// question may change them.
pub(super) fn minutes(mechanism: &mechanism::Mechanism) -> Option<number::Number> {
    mechanism.givens.iter().rev().find_map(|given| match given {
        mechanism::Given::Minutes(minutes) => Some(*minutes),
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => None,
    })
}

/// The diameter that a string or the ground runs along.
pub(super) fn rolling_diameter(kind: &mechanism::Kind) -> Option<number::Number> {
    match kind {
        mechanism::Kind::Drum { diameter_mm } | mechanism::Kind::Roller { diameter_mm } => {
            Some(*diameter_mm)
        }
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => None,
    }
}

/// Returns how much a part's body moves: turns, or for a bar pi millimetres.
///
/// Source: a string or wheel runs along its circumference, pi d a turn (Euclid's
/// circle; common practice, no source for the drum).
pub(super) fn moves(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    amount: mechanism::Amount,
) -> Result<(motion::Per, number::Value), fault::Fault> {
    let kind = &mechanism.part(part).kind;
    let slides = matches!(kind, mechanism::Kind::Rack { .. });
    let cannot = |what| fault::Fault::CannotAsk { part, what };
    let (per, moves) = match amount {
        mechanism::Amount::Turns(number) if !slides => (motion::Per::Run, number.into()),
        mechanism::Amount::Rpm(number) if !slides => (motion::Per::Minute, number.into()),
        mechanism::Amount::Turns(_) => return Err(cannot("turns")),
        mechanism::Amount::Rpm(_) => return Err(cannot("turns a minute")),
        mechanism::Amount::Millimetres(value) => {
            let length = value.divided_by(number::Value::PI)?;
            let moves = if slides {
                if size::tooth_size(mechanism, part).is_none() {
                    return Err(fault::Fault::NotEnoughGiven {
                        what: "the tooth size",
                    });
                }
                length
            } else {
                let diameter = rolling_diameter(kind).ok_or(cannot("a distance"))?;
                length.divided_by(diameter.into())?
            };
            (motion::Per::Run, moves)
        }
    };
    if moves.factor.is_negative() {
        return Err(fault::Fault::NotPositive { what: "the motion" });
    }
    Ok((per, moves))
}

/// A part of a planetary set that is driven.
#[derive(Debug, Clone, Copy)]
struct Driven {
    per: motion::Per,
    value: number::Value,
    part: mechanism::PartId,
    positive: Option<bool>,
    given: mechanism::Amount,
}

/// Cluster, ratio within it, and signed amount.
type SignedAmount = (usize, number::Number, number::Number);

/// Returns the signed amounts given in these clusters, and the scale that they are
/// in; `None` (with the fault told) when they are not enough or go together badly.
///
/// # Errors
///
/// [`fault::Fault::Number`] when a number does not fit.
pub(super) fn signed_amounts(
    walk: &walk::Walk<'_>,
    clusters: &[usize],
    touched: &[usize],
    faults: &mut Vec<fault::Fault>,
) -> Result<Option<(Vec<SignedAmount>, motion::Settled)>, fault::Fault> {
    let minutes = minutes(walk.mechanism);
    let mut found: Vec<Driven> = Vec::new();
    for given in &walk.mechanism.givens {
        let mechanism::Given::Motion {
            part,
            amount: Some(amount),
            sense,
        } = given
        else {
            continue;
        };
        if !clusters.contains(&walk.at(*part).cluster) {
            continue;
        }
        let (per, value) = moves(walk.mechanism, *part, *amount)?;
        if value.factor.is_zero() {
            continue;
        }
        // A sense behind a worm says nothing about the planets.
        let seen = touched.contains(&walk.at(*part).group);
        let sense = sense.or_else(|| other_sense(walk.mechanism, *part));
        let positive = sense
            .filter(|_| seen)
            .and_then(|sense| walk::is_positive(&walk.mechanism.part(*part).kind, sense));
        found.push(Driven {
            per,
            value,
            part: *part,
            positive,
            given: *amount,
        });
    }
    let mixed = [motion::Per::Run, motion::Per::Minute]
        .iter()
        .all(|per| found.iter().any(|it| it.per == *per));
    let Some(&first) = found.first() else {
        faults.push(fault::Fault::NotEnoughGiven {
            what: "how another part of the planetary set moves, or which part is held still",
        });
        return Ok(None);
    };
    if found.len() > 1
        && found
            .iter()
            .any(|it| it.positive.is_none() || walk.at(it.part).group != walk.at(first.part).group)
    {
        faults.push(fault::Fault::NotEnoughGiven {
            what: "which way each driven part of the planetary set turns",
        });
        return Ok(None);
    }
    if mixed && minutes.is_none() {
        faults.push(fault::Fault::NotEnoughGiven {
            what: "how many minutes it runs",
        });
        return Ok(None);
    }
    let mut pi_power = None;
    let mut amounts = Vec::new();
    for driven in found {
        let value = match (driven.per, minutes) {
            (motion::Per::Minute, Some(minutes)) if mixed => driven.value.times(minutes.into())?,
            (motion::Per::Minute | motion::Per::Run, _) => driven.value,
        };
        if *pi_power.get_or_insert(value.pi_power) != value.pi_power {
            return Err(number::NumberError::MixedPi.into());
        }
        let size = value.factor;
        let signed = if driven.positive == Some(false) {
            size.negated()
        } else {
            size
        };
        let reached = walk.at(driven.part);
        amounts.push((reached.cluster, reached.ratio, signed));
    }
    let settled = motion::Settled {
        per: if mixed { motion::Per::Run } else { first.per },
        value: number::Value {
            factor: number::Number::ONE,
            pi_power: pi_power.unwrap_or_default(),
        },
        from: first.part,
        given: first.given,
    };
    Ok(Some((amounts, settled)))
}

/// The sense that another line gives of the same part.
fn other_sense(
    mechanism: &mechanism::Mechanism,
    wanted: mechanism::PartId,
) -> Option<mechanism::Sense> {
    mechanism.givens.iter().find_map(|given| match given {
        mechanism::Given::Motion { part, sense, .. } if *part == wanted => *sense,
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => None,
    })
}
