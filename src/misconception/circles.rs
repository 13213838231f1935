//! Where turning becomes sliding or rolling: racks, drums and rolling wheels,
//! right and wrong travel for one turn.

use crate::gears::mechanism;
use crate::misconception::path;
use crate::number;

/// What stands where turning becomes sliding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Circle {
    /// A pinion on a rack, or a rack under a pinion.
    Pinion {
        /// The tooth size in millimetres.
        tooth_size_mm: number::Number,
        /// The pinion's teeth.
        teeth: number::Number,
    },
    /// A drum with its string, or a wheel that rolls.
    Round {
        /// The diameter in millimetres.
        diameter_mm: number::Number,
    },
}

impl Circle {
    /// The circle of a drum or rolling wheel.
    pub(super) fn of_part(mechanism: &mechanism::Mechanism, id: mechanism::PartId) -> Option<Self> {
        match path::part(mechanism, id)?.kind {
            mechanism::Kind::Drum { diameter_mm } | mechanism::Kind::Roller { diameter_mm } => {
                Some(Self::Round { diameter_mm })
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

    /// The circle of the pinion of a mesh between a rack and a gear.
    pub(super) fn of_leg(mechanism: &mechanism::Mechanism, leg: path::Leg) -> Option<Self> {
        let pinion = if path::is_rack(mechanism, leg.from) {
            leg.to
        } else {
            leg.from
        };
        let tooth_size_mm = [leg.from, leg.to]
            .into_iter()
            .find_map(|id| path::part(mechanism, id)?.tooth_size_mm)?;
        Some(Self::Pinion {
            tooth_size_mm,
            teeth: path::size(mechanism, pinion)?,
        })
    }

    /// The diameter that counts.
    pub(super) fn diameter(self) -> Option<number::Number> {
        match self {
            Self::Pinion {
                tooth_size_mm,
                teeth,
            } => tooth_size_mm.times(teeth).ok(),
            Self::Round { diameter_mm } => Some(diameter_mm),
        }
    }

    /// Millimetres a turn: pi × diameter.
    pub(super) fn travel(self) -> Option<number::Value> {
        number::Value::PI.times(self.diameter()?.into()).ok()
    }

    /// Pi × radius instead.
    pub(super) fn travel_by_radius(self) -> Option<number::Value> {
        self.travel()?
            .divided_by(number::Number::whole(2).into())
            .ok()
    }

    /// Twice pi × diameter instead: the diameter taken for a radius.
    pub(super) fn travel_twice_over(self) -> Option<number::Value> {
        self.travel()?.times(number::Number::whole(2).into()).ok()
    }

    /// Diameter without pi instead.
    pub(super) fn travel_without_pi(self) -> Option<number::Value> {
        Some(self.diameter()?.into())
    }

    /// Whether it has teeth with tips.
    pub(super) fn has_tips(self) -> bool {
        match self {
            Self::Pinion { .. } => true,
            Self::Round { .. } => false,
        }
    }

    /// Pi × the diameter over the tips instead; without tips, as it should be.
    pub(super) fn travel_over_tips(self) -> Option<number::Value> {
        match self {
            Self::Pinion {
                tooth_size_mm,
                teeth,
            } => {
                let teeth = teeth.plus(number::Number::whole(2)).ok()?;
                let diameter = tooth_size_mm.times(teeth).ok()?;
                number::Value::PI.times(diameter.into()).ok()
            }
            Self::Round { .. } => self.travel(),
        }
    }
}
