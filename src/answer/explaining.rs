//! What an explanation may say of one mechanism, and what one said.

use crate::answer::ListOption;
use crate::answer::form::lists;
use crate::answer::scene;
use crate::gears::ask;
use crate::gears::idea;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::number;
use std::sync::Arc;

/// Why every explanation asks for a look.
pub const WHY_LOOK: &str = "an explanation";

/// What is explained, and what an explanation may speak of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explaining {
    /// The question whose answer is explained.
    pub explained: ask::Explained,
    /// What explains it; the ideas may be none where the question cannot be answered.
    pub reasons: idea::Reasons,
    /// The answers to that question, as lists show them.
    pub options: Vec<ListOption>,
    /// The parts by their names; shared, for they are many.
    pub scene: Arc<scene::Scene>,
    /// Teeth, or a diameter in millimetres, of each part in the scene's order.
    pub sizes: Vec<Option<number::Number>>,
    /// What the pupil answered to that question before, where it is known and was not
    /// right: then "it" is that one.
    pub concluded: Option<ask::Fact>,
}

/// Whether an idea that was found agrees with the mechanism.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Polarity {
    /// It is true here.
    True,
    /// It goes against this mechanism.
    Against,
    /// It is touched, but what is meant cannot be told.
    Unclear,
}

/// An idea that was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Found {
    /// The idea.
    pub idea: idea::Idea,
    /// Whether it agrees.
    pub polarity: Polarity,
}

/// What an explanation says.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Explanation {
    /// The answer itself, where the explanation says it.
    pub conclusion: Option<ask::Fact>,
    /// The ideas in it, each once, in the order of [`idea::Idea`].
    pub ideas: Vec<Found>,
}

impl Explaining {
    /// Returns what an explanation may speak of; without ideas where the question
    /// cannot be explained, which the solver tells.
    pub(super) fn of(mechanism: &mechanism::Mechanism, explained: ask::Explained) -> Self {
        let ask = explained.ask();
        let reasons = match solve::answer(mechanism, &ask::Ask::Why(explained)) {
            Ok(solve::Worked {
                fact: ask::Fact::Reasons(reasons),
                ..
            }) => reasons,
            Ok(_) | Err(_) => idea::Reasons {
                conclusion: Box::new(ask::Fact::YesNo(false)),
                key: Vec::new(),
                beside: Vec::new(),
                ground: idea::Ground::default(),
            },
        };
        let options = match explained {
            ask::Explained::Direction(part) => lists::directions(mechanism, part),
            ask::Explained::SameWay(..) | ask::Explained::WillItTurn => lists::yes_no(),
            ask::Explained::Faster(first, second) | ask::Explained::Stronger(first, second) => {
                lists::which_of(mechanism, (first, second))
            }
        };
        Self {
            explained,
            reasons,
            options,
            scene: Arc::new(scene::Scene::of(mechanism, &ask)),
            sizes: mechanism
                .parts
                .iter()
                .map(|part| scene::size(&part.kind))
                .collect(),
            concluded: None,
        }
    }

    /// Returns an answer to the question that is explained, as lists show it.
    #[must_use]
    pub fn shown(&self, fact: &ask::Fact) -> String {
        self.options
            .iter()
            .find(|option| option.fact == *fact)
            .map(|option| option.text.clone())
            .unwrap_or_default()
    }

    /// Returns the answer with the ideas that explain it, as a mark scheme writes it.
    #[must_use]
    pub fn expected(&self) -> String {
        let ideas: Vec<&str> = self.reasons.key.iter().map(|idea| idea.name()).collect();
        format!(
            "{}: {}",
            self.shown(&self.reasons.conclusion),
            ideas.join("; or ")
        )
    }
}

impl Explanation {
    /// Returns the ideas that were found so.
    pub fn with(&self, polarity: Polarity) -> impl Iterator<Item = idea::Idea> + '_ {
        self.ideas
            .iter()
            .filter(move |found| found.polarity == polarity)
            .map(|found| found.idea)
    }
}
