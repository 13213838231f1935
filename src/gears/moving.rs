//! Answers that need motion: turns, speeds, senses, ratios, forces, distances.

use crate::gears::ask;
use crate::gears::fault;
use crate::gears::force;
use crate::gears::givens;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::size;
use crate::gears::step;
use crate::gears::whole;
use crate::gears::working;
use crate::number;
use std::cmp::Ordering;

/// Returns the answer to a question of motion or force.
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] where the question does not fit the part,
/// [`fault::Fault::NotEnoughGiven`] or [`fault::Fault::DirectionUnknown`] where the
/// answer does not follow.
pub(super) fn answer(
    motions: &motion::Motions<'_>,
    ask: &ask::Ask,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    match ask {
        ask::Ask::Turns(part) => turns(motions, *part, motion::Per::Run, steps),
        ask::Ask::Speed(part) => turns(motions, *part, motion::Per::Minute, steps),
        ask::Ask::Direction(part) => direction(motions, *part, steps),
        ask::Ask::SameWay(one, other) => same_way(motions, *one, *other, steps),
        ask::Ask::Faster(one, other) => {
            let (first, second) = speeds(motions, *one, *other, steps)?;
            steps.push(step::Step::Compare {
                first: *one,
                second: *other,
                first_moves: first,
                second_moves: second,
            });
            which(first, second)
        }
        ask::Ask::Stronger(one, other) => stronger(motions, *one, *other, steps),
        ask::Ask::TurnsRatio(one, other) => turns_ratio(motions, *one, *other, steps),
        ask::Ask::Force(part) => {
            let newtons = force::force(motions, *part, force::Wanted::Newtons, steps)?;
            Ok(quantity(newtons, ask::Unit::Newtons))
        }
        ask::Ask::TurningForce(part) => {
            let newton_cm = force::force(motions, *part, force::Wanted::Turning, steps)?;
            Ok(quantity(newton_cm, ask::Unit::NewtonCentimetres))
        }
        ask::Ask::Distance(part) => distance(motions, *part, steps),
        ask::Ask::Stages(total) => {
            let stages = whole::stages(motions, *total, steps)?;
            Ok(quantity(stages, ask::Unit::Stages))
        }
        ask::Ask::TeethRatio(_, _)
        | ask::Ask::Teeth(_)
        | ask::Ask::Starts(_)
        | ask::Ask::CentreDistance(_, _)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::WillItTurn
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::MeetAgain(_, _)
        | ask::Ask::Choose { .. }
        | ask::Ask::Why(_) => Err(fault::Fault::NotEnoughGiven {
            what: "a question of motion",
        }),
    }
}

fn quantity(value: impl Into<number::Value>, unit: ask::Unit) -> ask::Fact {
    ask::Fact::Quantity {
        value: value.into(),
        unit,
    }
}

/// Refuses a bar where only what turns can be asked about.
fn must_turn(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    what: &'static str,
) -> Result<(), fault::Fault> {
    let kind = &motions.walk.mechanism.part(part).kind;
    if matches!(kind, mechanism::Kind::Rack { .. }) {
        Err(fault::Fault::CannotAsk { part, what })
    } else {
        Ok(())
    }
}

fn turns(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    per: motion::Per,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    let (what, unit) = match per {
        motion::Per::Run => ("turns", ask::Unit::Turns),
        motion::Per::Minute => ("turns a minute", ask::Unit::Rpm),
    };
    must_turn(motions, part, what)?;
    let value = motions.amount(part, per)?;
    working::to_amount(motions, part, per, steps)?;
    Ok(quantity(value, unit))
}

fn direction(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    if stands_still(motions, part) {
        return Err(fault::Fault::CannotAsk {
            part,
            what: "a direction",
        });
    }
    working::to_sense(motions, part, steps)?;
    let sense = motions
        .sense(part)
        .ok_or(fault::Fault::DirectionUnknown { part })?;
    Ok(ask::Fact::Sense(sense))
}

fn stands_still(motions: &motion::Motions<'_>, part: mechanism::PartId) -> bool {
    motions.walk.at(part).ratio.is_zero() || motions.components[motions.component(part)].still
}

fn same_way(
    motions: &motion::Motions<'_>,
    one: mechanism::PartId,
    other: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    let walk = &motions.walk;
    let slides = |part| matches!(walk.mechanism.part(part).kind, mechanism::Kind::Rack { .. });
    for part in [one, other] {
        if slides(one) != slides(other) && slides(part) || stands_still(motions, part) {
            return Err(fault::Fault::CannotAsk {
                part,
                what: "a direction to compare",
            });
        }
    }
    let (first, second) = (walk.at(one), walk.at(other));
    if first.group == second.group {
        let shown = working::Shown {
            amount: None,
            power: 0,
            positive: None,
        };
        match walk.way(one, other) {
            Some(way) => {
                working::along(motions, shown, (one, &way, other), steps)?;
                steps.extend(working::count_meshes(motions, (one, &way, other)));
            }
            None => working::planets::through(motions, shown, (one, other), steps)?,
        }
        return Ok(ask::Fact::YesNo(
            first.ratio.is_negative() == second.ratio.is_negative(),
        ));
    }
    // Past a worm both directions must be given or follow on their own.
    working::to_sense(motions, one, steps)?;
    working::to_sense(motions, other, steps)?;
    Ok(ask::Fact::YesNo(motions.sense(one) == motions.sense(other)))
}

/// Returns how fast two parts turn, against each other or as given.
///
/// Source: turns go as the ratios of the walk (see `walk`).
fn speeds(
    motions: &motion::Motions<'_>,
    one: mechanism::PartId,
    other: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<(number::Value, number::Value), fault::Fault> {
    for part in [one, other] {
        must_turn(motions, part, "a speed to compare")?;
    }
    let (first, second) = (motions.walk.at(one), motions.walk.at(other));
    if motions.component(one) == motions.component(other) {
        if first.power != second.power {
            return Err(fault::Fault::NotEnoughGiven {
                what: "the missing count",
            });
        }
        let (first, second) = (first.ratio.magnitude(), second.ratio.magnitude());
        if first.is_zero() {
            return Ok((first.into(), second.into()));
        }
        working::for_one_turn(motions, (one, other), steps)?;
        return Ok((number::Value::ONE, second.divided_by(first)?.into()));
    }
    let per = if motions.scale(one, motion::Per::Minute).is_ok() {
        motion::Per::Minute
    } else {
        motion::Per::Run
    };
    let (first, second) = (motions.amount(one, per)?, motions.amount(other, per)?);
    working::to_amount(motions, one, per, steps)?;
    working::to_amount(motions, other, per, steps)?;
    Ok((first, second))
}

fn which(first: number::Value, second: number::Value) -> Result<ask::Fact, fault::Fault> {
    Ok(ask::Fact::Which(match first.compare(second)? {
        Ordering::Greater => ask::Which::First,
        Ordering::Less => ask::Which::Second,
        Ordering::Equal => ask::Which::Same,
    }))
}

/// Source: without losses turning force × turns is the same everywhere ("product of
/// force and displacement unchanged", key stage 3 science programme of study), so
/// turning forces go inversely as turns.
fn stronger(
    motions: &motion::Motions<'_>,
    one: mechanism::PartId,
    other: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    let cannot = |part| fault::Fault::CannotAsk {
        part,
        what: "a turning force to compare",
    };
    for part in [one, other] {
        must_turn(motions, part, "a turning force to compare")?;
        if motions.walk.at(part).ratio.is_zero() || motions.two_drives(part) {
            return Err(cannot(part));
        }
    }
    if motions.component(one) != motions.component(other) {
        return Err(cannot(other));
    }
    let (first, second) = speeds(motions, one, other, steps)?;
    let share = first.divided_by(second)?;
    steps.push(step::Step::Compare {
        first: one,
        second: other,
        first_moves: number::Value::ONE,
        second_moves: share,
    });
    which(number::Value::ONE, share)
}

fn turns_ratio(
    motions: &motion::Motions<'_>,
    one: mechanism::PartId,
    other: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    for part in [one, other] {
        must_turn(motions, part, "a ratio of turns")?;
        if motions.walk.at(part).ratio.is_zero() {
            return Err(fault::Fault::CannotAsk {
                part,
                what: "a ratio of turns",
            });
        }
    }
    let (first, second) = if motions.component(one) == motions.component(other) {
        let (first, second) = (motions.walk.at(one), motions.walk.at(other));
        if first.power != second.power {
            return Err(fault::Fault::NotEnoughGiven {
                what: "the missing count",
            });
        }
        (first.ratio.magnitude(), second.ratio.magnitude())
    } else {
        let (first, second) = speeds(motions, one, other, steps)?;
        let share = first
            .divided_by(second)?
            .as_number()
            .ok_or(number::NumberError::MixedPi)?;
        return whole::simplest(share, number::Number::ONE, steps);
    };
    // Of two gears in mesh the turns are as the teeth, the other way round.
    if let Some([hop]) = motions.walk.way(one, other).as_deref()
        && (hop.from, hop.to) == (one, other)
        && !motions.walk.couplings[hop.joint].rigid
    {
        let size = |part| working::part_size(motions.walk.mechanism, part).factor;
        return whole::simplest(size(other), size(one), steps);
    }
    working::for_one_turn(motions, (one, other), steps)?;
    whole::simplest(number::Number::ONE, second.divided_by(first)?, steps)
}

/// Source: rack travel = pi m z a turn (pitch diameter = m z, Wikipedia, Gear, copy of
/// 9 August 2019); a string or wheel runs pi d a turn (common practice, no source).
fn distance(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    let mechanism = motions.walk.mechanism;
    let kind = &mechanism.part(part).kind;
    if matches!(kind, mechanism::Kind::Rack { .. }) {
        if size::tooth_size(mechanism, part).is_none() {
            return Err(fault::Fault::NotEnoughGiven {
                what: "the tooth size",
            });
        }
        let length = motions.amount(part, motion::Per::Run)?;
        working::to_amount(motions, part, motion::Per::Run, steps)?;
        let length = length.times(number::Value::PI)?;
        return Ok(quantity(length, ask::Unit::Millimetres));
    }
    let Some(diameter) = givens::rolling_diameter(kind) else {
        return Err(fault::Fault::CannotAsk {
            part,
            what: "a distance",
        });
    };
    let turns = motions.amount(part, motion::Per::Run)?;
    let length = turns.times(diameter.into())?.times(number::Value::PI)?;
    let scale = motions.scale(part, motion::Per::Run)?;
    working::to_amount(motions, part, motion::Per::Run, steps)?;
    let is_given =
        scale.from == part && matches!(scale.given, Some(mechanism::Amount::Millimetres(_)));
    if !is_given {
        working::travel_on_drum(motions, part, steps)?;
    }
    Ok(quantity(length, ask::Unit::Millimetres))
}
