//! Answers in whole numbers: ratios in simplest form, stages, teeth that meet again.

use crate::gears::ask;
use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::step;
use crate::number;

/// Returns a ratio in simplest form, with the step if that changes the numbers.
///
/// Source: both numbers of a ratio may be multiplied or divided by the same number
/// (England, key stage 3 mathematics: "use ratio notation, including reduction to
/// simplest form").
///
/// # Errors
///
/// [`fault::Fault::Number`] when a number does not fit or both are nought.
pub(super) fn simplest(
    first: number::Number,
    second: number::Number,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    let (to_first, to_second) = if second.is_zero() {
        (first.divided_by(first)?, second)
    } else {
        let share = first.divided_by(second)?;
        let below = whole(share.denominator())?;
        (share.times(below)?, below)
    };
    if (to_first, to_second) != (first, second) {
        steps.push(step::Step::Simplify {
            first,
            second,
            to_first,
            to_second,
        });
    }
    Ok(ask::Fact::Ratio(to_first, to_second))
}

/// A whole number as a fraction.
fn whole(value: u128) -> Result<number::Number, fault::Fault> {
    let value = i64::try_from(value).map_err(|_| number::NumberError::Overflow)?;
    Ok(number::Number::whole(value))
}

/// Returns the teeth of a part that has teeth, as far as they are known.
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] for a part without teeth, or a worm;
/// [`fault::Fault::NotEnoughGiven`] while they are unknown.
pub(super) fn teeth(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    what: &'static str,
) -> Result<u32, fault::Fault> {
    let kind = &mechanism.part(part).kind;
    match coupling::count(kind) {
        Some(_) if matches!(kind, mechanism::Kind::Worm { .. }) => {
            Err(fault::Fault::CannotAsk { part, what })
        }
        Some(mechanism::Count::Known(teeth)) => Ok(teeth),
        Some(mechanism::Count::Unknown) => Err(fault::Fault::NotEnoughGiven {
            what: "the missing count",
        }),
        None => Err(fault::Fault::CannotAsk { part, what }),
    }
}

/// Returns how many of the mechanism's one stage in a row give the total ratio.
///
/// Source: the ratios of stages multiply (J. Rose, Modern Machine-Shop Practice,
/// 1887, on compound change wheels).
///
/// # Errors
///
/// [`fault::Fault::NotWhole`] when no number of stages gives it,
/// [`fault::Fault::NotEnoughGiven`] for a mechanism without a stage.
pub(super) fn stages(
    motions: &motion::Motions<'_>,
    total: number::Number,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    let joint = motions
        .walk
        .mechanism
        .joints
        .first()
        .ok_or(fault::Fault::NotEnoughGiven { what: "a stage" })?;
    let (first, second) = (motions.walk.at(joint.first), motions.walk.at(joint.second));
    if first.power != second.power {
        return Err(fault::Fault::NotEnoughGiven {
            what: "the missing count",
        });
    }
    let ratio = first
        .ratio
        .magnitude()
        .divided_by(second.ratio.magnitude())?;
    // Stages up and stages down are both counted by their larger ratio.
    let up = |number: number::Number| {
        if number < number::Number::ONE && number.is_positive() {
            number::Number::ONE.divided_by(number)
        } else {
            Ok(number)
        }
    };
    let same_way = (ratio < number::Number::ONE) == (total < number::Number::ONE)
        || total > number::Number::ONE;
    let (stage_ratio, wanted) = (up(ratio)?, up(total)?);
    let not_whole = fault::Fault::NotWhole {
        what: "stages",
        value: total.into(),
    };
    if !same_way || stage_ratio <= number::Number::ONE || wanted <= number::Number::ONE {
        return Err(not_whole);
    }
    let (mut product, mut count) = (stage_ratio, 1);
    let mut found = vec![stage(count, stage_ratio, product)];
    while product < wanted {
        product = product.times(stage_ratio)?;
        count += 1;
        found.push(stage(count, stage_ratio, product));
    }
    if product != wanted {
        return Err(not_whole);
    }
    steps.extend(found);
    Ok(number::Number::from(count))
}

fn stage(stages: u32, stage_ratio: number::Number, total: number::Number) -> step::Step {
    step::Step::Stage {
        stages,
        stage_ratio,
        total,
    }
}

/// Returns the turns of the first gear until the same two teeth meet again.
///
/// Source: the marks meet after lcm(z1, z2) / z1 turns of gear 1 (a model engineers'
/// forum gives 288, 9 and 4 for 32 and 72 teeth).
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] for parts whose teeth do not run in each other.
pub(super) fn meet_again(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    const WHAT: &str = "when the same teeth meet again";
    let meshing = mechanism
        .joints
        .iter()
        .any(|joint| joint.joins(first, second) && joint.link == mechanism::Link::Mesh);
    if !meshing {
        return Err(fault::Fault::CannotAsk {
            part: second,
            what: WHAT,
        });
    }
    let first_teeth = teeth(mechanism, first, WHAT)?;
    let second_teeth = teeth(mechanism, second, WHAT)?;
    let (one, other) = (u64::from(first_teeth), u64::from(second_teeth));
    let turns = other / common_divisor(one, other).max(1);
    steps.push(step::Step::CommonMultiple {
        first,
        second,
        first_teeth,
        second_teeth,
        common: one * turns,
        turns,
    });
    whole(u128::from(turns))
}

/// Source: Euclid, Elements VII, proposition 2.
fn common_divisor(mut one: u64, mut other: u64) -> u64 {
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one
}
