//! Wrong ways of thinking about gears, each as a wrong solver.
//!
//! A misconception takes the same mechanism and question as the right solver
//! and predicts the answer that a pupil who thinks that way would give. It
//! holds no list of wrong answers.

use crate::gears::ask;
use crate::gears::mechanism;

/// A wrong way of thinking.
#[derive(Debug, PartialEq, Eq)]
pub struct Misconception {
    /// A short id of our own for files, such as `ratio-upside-down`.
    pub id: &'static str,
    /// A name in plain words, such as `turns the ratio upside down`.
    pub name: &'static str,
    /// Who reports it, or `common practice, no source`.
    pub source: &'static str,
    /// What to say to the pupil.
    pub say: &'static str,
    /// What to try next.
    pub next: &'static str,
}

/// What a matching answer earns, out of the question's marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Credit {
    /// No marks: the idea is missing.
    None,
    /// One mark where the question has two or more, else none: a right method shows.
    OneOfMore,
    /// One mark where the question has three or more, else none.
    OneOfThree,
    /// All marks but one.
    AllButOne,
}

/// The answer one misconception gives to one question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prediction {
    /// Which.
    pub misconception: &'static Misconception,
    /// The answer it gives, unrounded; it may be negative.
    pub fact: ask::Fact,
    /// What that answer earns, with reason in [`Misconception`].
    pub credit: Credit,
}

/// Returns every misconception known, in the order shown to people.
#[must_use]
pub fn all() -> &'static [Misconception] {
    &[]
}

/// Returns what each misconception that applies predicts for this question.
///
/// A misconception that does not apply to this kind of mechanism is left out;
/// one that applies and happens to give the right answer is kept, so that the
/// generator can see the collision.
#[must_use]
pub fn predictions(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> Vec<Prediction> {
    let _ = (mechanism, ask);
    Vec::new()
}
