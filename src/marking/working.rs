//! Working: what its chain of calculations shows, and what that earns.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::marking::method;
use crate::misconception;
use crate::number;

/// What working shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Shown {
    /// A right method with one slip, said shortly.
    OneSlip(String),
    /// A right method without a slip: the answer was copied wrongly, or left out.
    NoSlip {
        /// What the working ends in, as written.
        ends_in: String,
    },
    /// A right method with more slips than one; the first is said.
    Slips(String),
    /// Right as far as it goes.
    Unfinished,
    /// Right as far as it goes but for a slip, said shortly.
    UnfinishedWithSlip(String),
    /// A step that leads away, as written, where it can be told.
    Astray {
        /// The first such step.
        step: Option<String>,
        /// The ways of thinking that the whole chain follows.
        misconceptions: Vec<&'static misconception::Misconception>,
    },
    /// Nothing that could be read.
    Unread,
}

/// What working is judged by.
pub(super) struct Asked<'a> {
    pub(super) mechanism: &'a mechanism::Mechanism,
    pub(super) ask: &'a ask::Ask,
    pub(super) predictions: &'a [misconception::Prediction],
    /// The pupil's answer in the base unit, where one could be read.
    pub(super) given: Option<number::Value>,
}

/// Returns what working shows.
pub(super) fn shown(working: &answer::Typed, asked: &Asked<'_>) -> Shown {
    let chain = answer::read_working(working);
    if chain.is_empty() {
        return Shown::Unread;
    }
    let Some(method) = method::Method::of(asked.mechanism, asked.ask) else {
        return Shown::Unread;
    };
    match method.follow(&chain, asked.given) {
        method::Chain::Right { slips, ends_in } => match slips.as_slice() {
            [] => Shown::NoSlip {
                ends_in: ends_in.map(answer::number_text).unwrap_or_default(),
            },
            [only] => Shown::OneSlip(only.clone()),
            [first, ..] => Shown::Slips(first.clone()),
        },
        method::Chain::Unfinished { slip: None } => Shown::Unfinished,
        method::Chain::Unfinished { slip: Some(slip) } => Shown::UnfinishedWithSlip(slip),
        method::Chain::Astray { step, ends_in } => Shown::Astray {
            step,
            misconceptions: thought(asked.predictions, ends_in),
        },
    }
}

/// The ways of thinking that predict what a chain ends in.
fn thought(
    predictions: &[misconception::Prediction],
    ends_in: Option<number::Value>,
) -> Vec<&'static misconception::Misconception> {
    let mut found: Vec<&'static misconception::Misconception> = Vec::new();
    for prediction in predictions {
        let is_same = match &prediction.fact {
            ask::Fact::Quantity { value, .. } => ends_in == Some(*value),
            ask::Fact::Ratio(..)
            | ask::Fact::Sense(_)
            | ask::Fact::YesNo(_)
            | ask::Fact::Which(_)
            | ask::Fact::Name(_)
            | ask::Fact::Job(_)
            | ask::Fact::Choices(_)
            | ask::Fact::Reasons(_) => false,
        };
        let known = prediction.misconception;
        if is_same && !known.slip && !found.contains(&known) {
            found.push(known);
        }
    }
    found
}
