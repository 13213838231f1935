//! A pupil made up: what they know, what they believe, how they write.

use toothmark::gears::ask;
use toothmark::gears::idea;
use toothmark::gears::solve;
use toothmark::item;
use toothmark::misconception;
use toothmark::seed;

/// A pupil's way of working.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Mind {
    /// Ids of the misconceptions this pupil holds, strongest first.
    pub(crate) believes: Vec<String>,
    /// How many answers in a hundred follow a belief where one applies.
    pub(crate) steadiness: u64,
    /// How many answers in a hundred go wrong by a slip of arithmetic.
    pub(crate) slips: u64,
    /// How many questions in a hundred are left out.
    pub(crate) leaves_out: u64,
    /// How many questions are reached before time runs out; all if `None`.
    pub(crate) reaches: Option<usize>,
}

/// Why a pupil wrote what they wrote: the truth that a marker should find.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Truth {
    /// Solved rightly.
    Right,
    /// Solved as this misconception says, and wrongly.
    Believed(String),
    /// A slip of arithmetic.
    Slipped,
    /// Left out.
    LeftOut,
    /// Said they do not know.
    DoesNotKnow,
    /// Time ran out before.
    NotReached,
}

impl Truth {
    /// The word for the file of truths.
    pub(crate) fn text(&self) -> String {
        match self {
            Self::Right => "right".to_owned(),
            Self::Believed(id) => format!("believed {id}"),
            Self::Slipped => "slipped".to_owned(),
            Self::LeftOut => "left out".to_owned(),
            Self::DoesNotKnow => "does not know".to_owned(),
            Self::NotReached => "not reached".to_owned(),
        }
    }
}

/// What a pupil means to answer, before they write it down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Thought {
    /// The answer, unless there is none.
    pub(crate) fact: Option<ask::Fact>,
    /// Why.
    pub(crate) truth: Truth,
}

/// Returns what this pupil thinks the answer to the item is.
pub(crate) fn think(
    mind: &Mind,
    item: &item::Item,
    index: usize,
    stream: &mut seed::Stream,
) -> Thought {
    // Every draw is made whatever comes of it, so that one pupil's change of mind
    // does not shift the rest of their sheet.
    let follows_belief = stream.below(100) < mind.steadiness;
    let slips = stream.below(100) < mind.slips;
    let leaves_out = stream.below(100) < mind.leaves_out;
    let says_so = stream.below(3) == 0;
    let by = stream.below(3);
    if mind.reaches.is_some_and(|reached| index >= reached) {
        return Thought {
            fact: None,
            truth: Truth::NotReached,
        };
    }
    if leaves_out {
        let truth = if says_so {
            Truth::DoesNotKnow
        } else {
            Truth::LeftOut
        };
        return Thought { fact: None, truth };
    }
    let right = solve::answer(&item.mechanism, &item.ask)
        .expect("a set item solves")
        .fact;
    if follows_belief && let Some(thought) = believed(mind, item, &right) {
        return thought;
    }
    if slips && let Some(fact) = slipped(&right, by) {
        return Thought {
            fact: Some(fact),
            truth: Truth::Slipped,
        };
    }
    Thought {
        fact: Some(right),
        truth: Truth::Right,
    }
}

/// What the first belief that applies, and shows, makes of the item.
fn believed(mind: &Mind, item: &item::Item, right: &ask::Fact) -> Option<Thought> {
    if let (ask::Ask::Why(explained), ask::Fact::Reasons(reasons)) = (&item.ask, right) {
        return explained_by_belief(mind, item, *explained, reasons);
    }
    let predictions = misconception::predictions(&item.mechanism, &item.ask);
    for belief in &mind.believes {
        let Some(prediction) = predictions.iter().find(|it| it.misconception.id == belief) else {
            continue;
        };
        if prediction.fact != *right && writable(&prediction.fact) {
            let truth = Truth::Believed(belief.clone());
            return Some(Thought {
                fact: Some(prediction.fact.clone()),
                truth,
            });
        }
    }
    None
}

/// What the first belief that leads to another answer makes of an explanation.
fn explained_by_belief(
    mind: &Mind,
    item: &item::Item,
    explained: ask::Explained,
    reasons: &idea::Reasons,
) -> Option<Thought> {
    let predictions = misconception::predictions(&item.mechanism, &explained.ask());
    for belief in &mind.believes {
        let prediction = predictions
            .iter()
            .find(|it| it.misconception.id == belief && it.fact != *reasons.conclusion);
        if let Some(prediction) = prediction {
            let believed = idea::Reasons {
                conclusion: Box::new(prediction.fact.clone()),
                ..reasons.clone()
            };
            return Some(Thought {
                fact: Some(ask::Fact::Reasons(believed)),
                truth: Truth::Believed(belief.clone()),
            });
        }
    }
    None
}

/// Whether a pupil would write it: nothing below nought.
pub(crate) fn writable(fact: &ask::Fact) -> bool {
    match fact {
        ask::Fact::Quantity { value, .. } => value.factor.is_positive(),
        ask::Fact::Ratio(first, second) => first.is_positive() && second.is_positive(),
        ask::Fact::Choices(choices) => !choices.is_empty(),
        ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Reasons(_) => true,
    }
}

/// A number a little off; lists of words are not slipped.
fn slipped(right: &ask::Fact, by: u64) -> Option<ask::Fact> {
    let ask::Fact::Quantity { value, unit } = right else {
        return None;
    };
    let off = toothmark::number::Number::whole(i64::try_from(by).ok()? + 1);
    let factor = value.factor.plus(off).ok()?;
    let value = toothmark::number::Value {
        factor,
        pi_power: value.pi_power,
    };
    Some(ask::Fact::Quantity { value, unit: *unit })
}
