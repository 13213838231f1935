//! Wrong answers about a sun gear, planets and a ring gear.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::number;

/// The teeth of a planetary set with the axles of its sun and its carrier.
struct Set {
    sun: mechanism::BodyId,
    carrier: mechanism::BodyId,
    sun_teeth: number::Number,
    planet_teeth: number::Number,
    ring_teeth: number::Number,
}

impl Set {
    /// Finds the gear and the ring that mesh with a planet.
    fn of(mechanism: &mechanism::Mechanism) -> Option<Self> {
        let planet_index = mechanism
            .parts
            .iter()
            .position(|part| part.rides_on.is_some())?;
        let planet = mechanism::PartId(u16::try_from(planet_index).ok()?);
        let partners = || {
            mechanism.joints.iter().filter_map(move |joint| {
                if joint.first == planet {
                    Some(joint.second)
                } else if joint.second == planet {
                    Some(joint.first)
                } else {
                    None
                }
            })
        };
        let ring = partners().find(|id| path::is_ring(mechanism, *id))?;
        let sun = partners().find(|id| !path::is_ring(mechanism, *id))?;
        Some(Self {
            sun: path::part(mechanism, sun)?.body,
            carrier: path::part(mechanism, planet)?.rides_on?,
            sun_teeth: path::size(mechanism, sun)?,
            planet_teeth: path::size(mechanism, planet)?,
            ring_teeth: path::size(mechanism, ring)?,
        })
    }
}

/// Adds wrong answers where the ring is held and sun or carrier drive each other.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    found: &mut misconception::Found,
) {
    let (asked, unit) = if let ask::Ask::Turns(part) = ask {
        (*part, ask::Unit::Turns)
    } else if let ask::Ask::Speed(part) = ask {
        (*part, ask::Unit::Rpm)
    } else {
        return;
    };
    let Some(set) = Set::of(mechanism) else {
        return;
    };
    let Some(asked) = path::part(mechanism, asked).map(|part| part.body) else {
        return;
    };
    for given in &mechanism.givens {
        let mechanism::Given::Motion {
            part,
            amount: Some(amount),
            ..
        } = given
        else {
            continue;
        };
        let start: number::Number = match (amount, unit) {
            (mechanism::Amount::Turns(turns), ask::Unit::Turns) => *turns,
            (mechanism::Amount::Rpm(rpm), ask::Unit::Rpm) => *rpm,
            (
                mechanism::Amount::Turns(_)
                | mechanism::Amount::Rpm(_)
                | mechanism::Amount::Millimetres(_),
                _,
            ) => continue,
        };
        let Some(from) = path::part(mechanism, *part).map(|part| part.body) else {
            continue;
        };
        let reduces = if from == set.sun && asked == set.carrier {
            true
        } else if from == set.carrier && asked == set.sun {
            false
        } else {
            continue;
        };
        let with = |divisor: number::Number| {
            let gain = set.sun_teeth.divided_by(divisor).ok()?;
            let value = if reduces {
                start.times(gain)
            } else {
                start.divided_by(gain)
            };
            value.ok().map(number::Value::from)
        };
        let upside_down = set
            .sun_teeth
            .plus(set.ring_teeth)
            .and_then(|sum| sum.divided_by(set.sun_teeth))
            .and_then(|ratio| {
                if reduces {
                    start.times(ratio)
                } else {
                    start.divided_by(ratio)
                }
            })
            .ok()
            .map(number::Value::from);
        found.quantity(&list::trains::RATIO_UPSIDE_DOWN, upside_down, unit);
        found.quantity(&list::trains::SAME_SPEED, Some(start.into()), unit);
        found.quantity(&list::trains::CARRIER_FORGOTTEN, with(set.ring_teeth), unit);
        found.quantity(&list::trains::PLANET_AS_LAST, with(set.planet_teeth), unit);
    }
}
