//! What can be wrong with a mechanism, in the trade's words.

use crate::gears::mechanism;
use crate::number;

/// One thing that is wrong with a mechanism or a question about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// Nothing joins this part to the part that is driven.
    NotConnected {
        /// The part that stands apart.
        part: mechanism::PartId,
    },
    /// A closed loop that cannot turn: these parts stand in it.
    Locked {
        /// The parts round the loop, in mesh order.
        parts: Vec<mechanism::PartId>,
    },
    /// Two givens say different things about the motion of one part.
    DrivenTwice {
        /// The part of which the later given does not agree.
        part: mechanism::PartId,
    },
    /// Two meshing gears have different tooth sizes.
    TeethDoNotFit {
        /// The one.
        first: mechanism::PartId,
        /// The other.
        second: mechanism::PartId,
    },
    /// A ring gear is not larger than the gear inside it, or parts that cannot mesh.
    CannotMesh {
        /// The one.
        first: mechanism::PartId,
        /// The other.
        second: mechanism::PartId,
    },
    /// A rack slides, so it cannot be fixed to an axle with a part that turns.
    CannotShareAxle {
        /// The rack.
        first: mechanism::PartId,
        /// The part that turns.
        second: mechanism::PartId,
    },
    /// A worm wheel is asked to drive a single-start worm.
    WormWillNotBeDriven {
        /// The worm.
        worm: mechanism::PartId,
    },
    /// A count of teeth or starts is outside what can be made.
    BadCount {
        /// The part.
        part: mechanism::PartId,
        /// The count found.
        found: u32,
    },
    /// A size, force, time or share that must be above nought is not.
    NotPositive {
        /// What it is.
        what: &'static str,
    },
    /// A mesh cannot pass on more than the whole of the work.
    TooEfficient {
        /// The share found, above 1.
        found: number::Number,
    },
    /// The direction past a corner (worm) depends on the view and is not given.
    DirectionUnknown {
        /// The part whose direction does not follow.
        part: mechanism::PartId,
    },
    /// Too little is given to answer.
    NotEnoughGiven {
        /// What would have to be given.
        what: &'static str,
    },
    /// More than one thing is unknown where one may be.
    TooManyUnknowns,
    /// The answer would not be a whole number of teeth, starts or stages.
    NotWhole {
        /// Teeth, starts or stages.
        what: &'static str,
        /// What it would be; for stages, the total that no number of them gives.
        value: number::Value,
    },
    /// The question does not fit this kind of part.
    CannotAsk {
        /// The part.
        part: mechanism::PartId,
        /// What was asked (or given) of it.
        what: &'static str,
    },
    /// The exact numbers are too large to hold.
    Number(number::NumberError),
}
