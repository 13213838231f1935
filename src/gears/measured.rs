//! Answers that need counts and sizes only.

use crate::gears::ask;
use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::size;
use crate::gears::step;
use crate::gears::whole;
use crate::number;

/// Whether a question of this kind needs the count of a part.
pub(super) fn needs(ask: &ask::Ask, count_of: mechanism::PartId) -> bool {
    match ask {
        ask::Ask::Teeth(part)
        | ask::Ask::Starts(part)
        | ask::Ask::PitchDiameter(part)
        | ask::Ask::TipDiameter(part)
        | ask::Ask::RootDiameter(part) => *part == count_of,
        ask::Ask::TeethRatio(one, other)
        | ask::Ask::CentreDistance(one, other)
        | ask::Ask::MeetAgain(one, other) => [one, other].contains(&&count_of),
        ask::Ask::ToothSize(_)
        | ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
        | ask::Ask::Direction(_)
        | ask::Ask::SameWay(_, _)
        | ask::Ask::Faster(_, _)
        | ask::Ask::Stronger(_, _)
        | ask::Ask::TurnsRatio(_, _)
        | ask::Ask::Force(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::Distance(_)
        | ask::Ask::WillItTurn
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::Stages(_)
        | ask::Ask::Choose { .. }
        | ask::Ask::Why(_) => false,
    }
}

/// Returns the answer to a question of counts or sizes.
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] where the question does not fit the part,
/// [`fault::Fault::NotEnoughGiven`] where the answer does not follow.
pub(super) fn measure(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    match ask {
        ask::Ask::Teeth(part) => {
            let teeth = whole::teeth(mechanism, *part, "its teeth")?;
            Ok(quantity(number::Number::from(teeth), ask::Unit::Teeth))
        }
        ask::Ask::Starts(part) => {
            let kind = &mechanism.part(*part).kind;
            match (kind, coupling::count(kind)) {
                (mechanism::Kind::Worm { .. }, Some(mechanism::Count::Known(starts))) => {
                    Ok(quantity(number::Number::from(starts), ask::Unit::Starts))
                }
                (_, _) => Err(fault::Fault::CannotAsk {
                    part: *part,
                    what: "its starts",
                }),
            }
        }
        ask::Ask::TeethRatio(one, other) => {
            let first = whole::teeth(mechanism, *one, "a ratio of teeth")?;
            let second = whole::teeth(mechanism, *other, "a ratio of teeth")?;
            whole::simplest(first.into(), second.into(), steps)
        }
        ask::Ask::CentreDistance(one, other) => {
            let mm = size::centre_distance(mechanism, *one, *other, steps)?;
            Ok(quantity(mm, ask::Unit::Millimetres))
        }
        ask::Ask::PitchDiameter(part) => across(mechanism, *part, size::Circle::Pitch, steps),
        ask::Ask::TipDiameter(part) => across(mechanism, *part, size::Circle::Tip, steps),
        ask::Ask::RootDiameter(part) => across(mechanism, *part, size::Circle::Root, steps),
        ask::Ask::ToothSize(part) => {
            let size = size::find_tooth_size(mechanism, *part, steps)?;
            Ok(quantity(size, ask::Unit::Millimetres))
        }
        ask::Ask::MeetAgain(one, other) => {
            let turns = whole::meet_again(mechanism, *one, *other, steps)?;
            Ok(quantity(turns, ask::Unit::Turns))
        }
        ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
        | ask::Ask::Direction(_)
        | ask::Ask::SameWay(_, _)
        | ask::Ask::Faster(_, _)
        | ask::Ask::Stronger(_, _)
        | ask::Ask::TurnsRatio(_, _)
        | ask::Ask::Force(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::Distance(_)
        | ask::Ask::WillItTurn
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::Stages(_)
        | ask::Ask::Choose { .. }
        | ask::Ask::Why(_) => Err(fault::Fault::NotEnoughGiven {
            what: "a question of counts or sizes",
        }),
    }
}

fn quantity(value: impl Into<number::Value>, unit: ask::Unit) -> ask::Fact {
    ask::Fact::Quantity {
        value: value.into(),
        unit,
    }
}

fn across(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    circle: size::Circle,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, fault::Fault> {
    let mm = size::diameter(mechanism, part, circle, steps)?;
    Ok(quantity(mm, ask::Unit::Millimetres))
}
