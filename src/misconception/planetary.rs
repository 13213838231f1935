//! Wrong answers about a sun gear, planets and a ring gear.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::direction;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::ratio;
use crate::misconception::train;
use crate::number;

/// One of the two gears round the planets.
struct Outer {
    axle: mechanism::BodyId,
    teeth: number::Number,
}

/// A planetary set: what drives or is driven beside the carrier, and what is held.
struct Set {
    sun: Outer,
    ring: Outer,
    carrier: mechanism::BodyId,
    planet_teeth: number::Number,
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
            let joints = mechanism.joints.iter();
            joints.filter_map(move |joint| joint.partner(planet))
        };
        let outer = |id| {
            Some(Outer {
                axle: path::part(mechanism, id)?.body,
                teeth: path::size(mechanism, id)?,
            })
        };
        let ring = partners().find(|id| path::is_ring(mechanism, *id))?;
        let sun = partners().find(|id| !path::is_ring(mechanism, *id))?;
        Some(Self {
            sun: outer(sun)?,
            ring: outer(ring)?,
            carrier: path::part(mechanism, planet)?.rides_on?,
            planet_teeth: path::size(mechanism, planet)?,
        })
    }

    /// The outer gear on this axle, and the other one.
    fn outer(&self, axle: mechanism::BodyId) -> Option<(&Outer, &Outer)> {
        if axle == self.sun.axle {
            Some((&self.sun, &self.ring))
        } else if axle == self.ring.axle {
            Some((&self.ring, &self.sun))
        } else {
            None
        }
    }

    /// What ways of thinking take the gain from one axle to the other to be, where
    /// one of the two is the carrier and the outer gear that is neither is held.
    fn thoughts(&self, from: mechanism::BodyId, to: mechanism::BodyId) -> Vec<train::Thought> {
        let (outer, is_walked_back) = if to == self.carrier {
            (self.outer(from), false)
        } else if from == self.carrier {
            (self.outer(to), true)
        } else {
            (None, false)
        };
        let Some((moving, held)) = outer else {
            return Vec::new();
        };
        let over = |divisor: number::Number| moving.teeth.divided_by(divisor).ok();
        let right = moving.teeth.plus(held.teeth).ok().and_then(over);
        let upside_down = right.and_then(|right| number::Number::ONE.divided_by(right).ok());
        let thoughts = [
            (&list::trains::RATIO_UPSIDE_DOWN, upside_down),
            (&list::trains::SAME_SPEED, Some(number::Number::ONE)),
            (&list::trains::CARRIER_FORGOTTEN, over(held.teeth)),
            (&list::trains::PLANET_AS_LAST, over(self.planet_teeth)),
        ];
        let along = |gain: number::Number| {
            if is_walked_back {
                path::upside_down(gain.into())
            } else {
                Some(gain.into())
            }
        };
        thoughts
            .into_iter()
            .filter_map(|(misconception, gain)| Some((misconception, along(gain?)?)))
            .collect()
    }
}

/// Adds wrong turns and speeds where one gear is held and another and the carrier
/// drive each other.
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
    for given in &mechanism.givens {
        let mechanism::Given::Motion {
            part,
            amount: Some(amount),
            ..
        } = given
        else {
            continue;
        };
        let start: number::Value = match (amount, unit) {
            (mechanism::Amount::Turns(turns), ask::Unit::Turns) => (*turns).into(),
            (mechanism::Amount::Rpm(rpm), ask::Unit::Rpm) => (*rpm).into(),
            (
                mechanism::Amount::Turns(_)
                | mechanism::Amount::Rpm(_)
                | mechanism::Amount::Millimetres(_),
                _,
            ) => continue,
        };
        for (misconception, gain) in thoughts(mechanism, *part, asked) {
            found.quantity(misconception, start.times(gain).ok(), unit);
        }
    }
}

/// What ways of thinking take the gain from one part to the other to be.
fn thoughts(
    mechanism: &mechanism::Mechanism,
    from: mechanism::PartId,
    to: mechanism::PartId,
) -> Vec<train::Thought> {
    let axles = path::part(mechanism, from).zip(path::part(mechanism, to));
    match (Set::of(mechanism), axles) {
        (Some(set), Some((from, to))) => set.thoughts(from.body, to.body),
        (None, _) | (_, None) => Vec::new(),
    }
}

/// Adds wrong ratios of turns of the first to turns of the second.
pub(super) fn predict_ratio(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    for (misconception, gain) in thoughts(mechanism, first, second) {
        let misconception = if misconception == &list::trains::RATIO_UPSIDE_DOWN {
            &list::trains::RATIO_ORDER_SWAPPED
        } else {
            misconception
        };
        if let Some(ratio) = ratio::ratio_of_gain(gain) {
            found.add(misconception, ratio);
        }
    }
}

/// Adds wrong turning forces, where nothing is lost.
pub(super) fn predict_force(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let given = mechanism.givens.iter().find_map(|given| {
        if let mechanism::Given::TurningForce { part, newton_cm } = given {
            Some((*part, number::Value::from(*newton_cm)))
        } else {
            None
        }
    });
    let Some((part, start)) = given else { return };
    for (misconception, gain) in thoughts(mechanism, part, asked) {
        let misconception = if misconception == &list::trains::RATIO_UPSIDE_DOWN {
            &list::forces::FORCE_UPSIDE_DOWN
        } else if misconception == &list::trains::SAME_SPEED {
            &list::forces::SAME_FORCE
        } else {
            misconception
        };
        let value = start.divided_by(gain).ok();
        found.quantity(misconception, value, ask::Unit::NewtonCentimetres);
    }
}

/// Adds the directions of those who look at no mesh.
pub(super) fn predict_direction(
    mechanism: &mechanism::Mechanism,
    found: &mut misconception::Found,
) {
    let start = mechanism.givens.iter().find_map(|given| {
        if let mechanism::Given::Motion { sense, .. } = given {
            *sense
        } else {
            None
        }
    });
    if let Some(sense) = start {
        let opposite = direction::opposite(sense);
        found.add(&list::directions::SAME_DIRECTION, ask::Fact::Sense(sense));
        found.add(
            &list::directions::ALWAYS_OPPOSITE,
            ask::Fact::Sense(opposite),
        );
    }
}

/// Adds the answers of those who look at no mesh.
pub(super) fn predict_same_way(found: &mut misconception::Found) {
    found.add(&list::directions::SAME_DIRECTION, ask::Fact::YesNo(true));
    found.add(&list::directions::ALWAYS_OPPOSITE, ask::Fact::YesNo(false));
}
