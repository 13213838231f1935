//! The one solver: walks a mechanism, checks it, solves it.

#![allow(clippy::missing_errors_doc, clippy::must_use_candidate)]

use crate::gears::ask;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::step;
use crate::number;

/// How one body moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Motion {
    /// Turns (or millimetres for a bar) for the run asked about, where they follow.
    pub turns: Option<number::Value>,
    /// Turns a minute, where they follow.
    pub rpm: Option<number::Value>,
    /// Which way, where it follows.
    pub sense: Option<mechanism::Sense>,
    /// Turning force in newton centimetres (newtons for a bar), where it follows.
    pub force: Option<number::Value>,
}

/// Everything that follows from what is given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// One for each body.
    pub motions: Vec<Motion>,
    /// The working, in the order walked.
    pub steps: Vec<step::Step>,
}

/// A right answer with its working.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worked {
    /// The answer.
    pub fact: ask::Fact,
    /// The working that leads to it, only the steps it needs.
    pub steps: Vec<step::Step>,
}

/// Returns how every body moves.
pub fn solve(mechanism: &mechanism::Mechanism) -> Result<Solution, Vec<fault::Fault>> {
    let _ = mechanism;
    unimplemented!()
}

/// Returns the right answer to a question with its working.
pub fn answer(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
) -> Result<Worked, Vec<fault::Fault>> {
    let _ = (mechanism, ask);
    unimplemented!()
}

/// Returns the mechanism with an earlier answer put in place of what it replaces,
/// for a later part worked from a pupil's own answer (follow-through).
///
/// `fact` answers `ask`: found teeth fill a `?`; a motion of a part becomes the
/// given motion in place of the old one; likewise force.
pub fn with_answer(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    fact: &ask::Fact,
) -> Option<mechanism::Mechanism> {
    let _ = (mechanism, ask, fact);
    unimplemented!()
}
