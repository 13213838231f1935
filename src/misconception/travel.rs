//! Wrong teeth and tooth sizes of a pinion, from how far it moves its rack.
//!
//! The right one is distance ÷ (pi × turns × what is known of the two).

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::number;

/// A pinion whose turns and whose rack's distance are given.
struct Pinion {
    distance: number::Value,
    turns: number::Number,
    tooth_size: Option<number::Number>,
    teeth: Option<number::Number>,
}

impl Pinion {
    fn of(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Option<Self> {
        let rack = mechanism
            .joints
            .iter()
            .filter_map(|joint| joint.partner(part))
            .find(|id| path::is_rack(mechanism, *id))?;
        let amount = |of: mechanism::PartId| {
            mechanism.givens.iter().filter_map(move |given| {
                if let mechanism::Given::Motion { part, amount, .. } = given
                    && path::on_one_axle(mechanism, *part, of)
                {
                    *amount
                } else {
                    None
                }
            })
        };
        let distance = amount(rack).find_map(|it| match it {
            mechanism::Amount::Millimetres(distance) => Some(distance),
            mechanism::Amount::Turns(_) | mechanism::Amount::Rpm(_) => None,
        })?;
        let turns = amount(part).find_map(|it| match it {
            mechanism::Amount::Turns(turns) => Some(turns),
            mechanism::Amount::Rpm(_) | mechanism::Amount::Millimetres(_) => None,
        })?;
        Some(Self {
            distance,
            turns,
            tooth_size: [part, rack]
                .into_iter()
                .find_map(|id| path::part(mechanism, id)?.tooth_size_mm),
            teeth: path::size(mechanism, part),
        })
    }

    /// What is missing of teeth and tooth size, from the other of the two.
    fn missing(&self, known: number::Number) -> Option<number::Value> {
        let without_pi = self.without_pi(known)?;
        without_pi.divided_by(number::Value::PI).ok()
    }

    fn without_pi(&self, known: number::Number) -> Option<number::Value> {
        let below = self.turns.times(known).ok()?;
        self.distance.divided_by(below.into()).ok()
    }
}

/// Adds wrong counts of a pinion's teeth.
pub(super) fn predict_count(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    unit: ask::Unit,
    found: &mut misconception::Found,
) {
    let Some(pinion) = Pinion::of(mechanism, asked) else {
        return;
    };
    let Some(tooth_size) = pinion.tooth_size else {
        return;
    };
    predict(&pinion, tooth_size, unit, found);
    let tips = pinion
        .missing(tooth_size)
        .and_then(|teeth| teeth.minus(number::Number::whole(2).into()).ok());
    found.quantity(&list::circles::OUTSIDE_DIAMETER, tips, unit);
}

/// Adds wrong tooth sizes of a pinion.
pub(super) fn predict_tooth_size(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let Some(pinion) = Pinion::of(mechanism, part) else {
        return;
    };
    let Some(teeth) = pinion.teeth else { return };
    let unit = ask::Unit::Millimetres;
    predict(&pinion, teeth, unit, found);
    let over_tips = teeth
        .plus(number::Number::whole(2))
        .ok()
        .and_then(|teeth| pinion.missing(teeth));
    found.quantity(&list::circles::OUTSIDE_DIAMETER, over_tips, unit);
}

fn predict(
    pinion: &Pinion,
    known: number::Number,
    unit: ask::Unit,
    found: &mut misconception::Found,
) {
    let two = number::Number::whole(2).into();
    let right = pinion.missing(known);
    for wrong in [
        right.and_then(|right| right.times(two).ok()),
        right.and_then(|right| right.divided_by(two).ok()),
    ] {
        found.quantity(&list::circles::RADIUS_FOR_DIAMETER, wrong, unit);
    }
    found.quantity(&list::circles::PI_FORGOTTEN, pinion.without_pi(known), unit);
}
