//! Why numbers that were drawn will not do.

use std::fmt;

/// What kind of reason it is, so that equal ones can be counted.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// The mechanism cannot be solved with these numbers.
    Unsolved,
    /// The answer is nought or below.
    NotPositive,
    /// The answer is a number that is told already.
    Told,
    /// The answer is larger than the level allows.
    TooLarge,
    /// The answer is more awkward than the level allows.
    TooAwkward,
    /// The ratio is not one that the level allows.
    Ratio,
    /// The working has more steps than the level allows.
    TooManySteps,
    /// Two ways of thinking lead to the same answer; their names.
    Collision(String, String),
    /// A later part cannot be worked from the earlier answer.
    DoesNotFollow,
}

/// One reason.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// What kind.
    pub cause: Cause,
    /// The reason said with its numbers, lower case, no full stop.
    pub said: String,
}

impl Refusal {
    /// Returns a reason from its kind and its words.
    pub(super) fn new(cause: Cause, said: impl Into<String>) -> Self {
        Self {
            cause,
            said: said.into(),
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.said)
    }
}
