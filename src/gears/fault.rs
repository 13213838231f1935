//! What can be wrong with a mechanism, in the trade's words.

#![allow(missing_docs)]

use crate::gears::mechanism;
use crate::number;

/// One thing that is wrong with a mechanism or a question about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// Nothing joins this part to the part that is driven.
    NotConnected { part: mechanism::PartId },
    /// A closed loop that cannot turn: these parts stand in it.
    Locked { parts: Vec<mechanism::PartId> },
    /// Two givens say different things about the motion of one part.
    DrivenTwice { part: mechanism::PartId },
    /// Two meshing gears have different tooth sizes.
    TeethDoNotFit {
        first: mechanism::PartId,
        second: mechanism::PartId,
    },
    /// A ring gear is not larger than the gear inside it, or parts that cannot mesh.
    CannotMesh {
        first: mechanism::PartId,
        second: mechanism::PartId,
    },
    /// A worm wheel is asked to drive a single-start worm.
    WormWillNotBeDriven { worm: mechanism::PartId },
    /// A count of teeth or starts is outside what can be made.
    BadCount { part: mechanism::PartId, found: u32 },
    /// A size, force, time or share that must be above nought is not.
    NotPositive { what: &'static str },
    /// The direction past a corner (worm) depends on the view and is not given.
    DirectionUnknown { part: mechanism::PartId },
    /// Too little is given to answer.
    NotEnoughGiven { what: &'static str },
    /// More than one thing is unknown where one may be.
    TooManyUnknowns,
    /// The answer would not be a whole number of teeth, starts or stages.
    NotWhole {
        what: &'static str,
        value: number::Value,
    },
    /// The question does not fit this kind of part.
    CannotAsk {
        part: mechanism::PartId,
        what: &'static str,
    },
    /// The exact numbers are too large to hold.
    Number(number::NumberError),
}
