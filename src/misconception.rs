//! Wrong ways of thinking about gears, each as a wrong solver.
//!
//! A misconception takes the same mechanism and question as the right solver
//! and predicts the answer that a pupil who thinks that way would give. It
//! holds no list of wrong answers. Knows nothing of pupils, marks given or
//! pages.

mod choose;
mod circles;
mod compare;
mod direction;
mod force;
mod journey;
mod list;
mod movement;
mod path;
mod planetary;
mod racks;
mod ratio;
mod size;
mod spacing;
mod teeth;
mod train;
mod travel;
mod whole;

use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;

/// A wrong way of thinking.
#[derive(Debug, PartialEq, Eq)]
pub struct Misconception {
    /// A short id of our own for files, such as `ratio-upside-down`.
    pub id: &'static str,
    /// A name in plain words, such as `turns the ratio upside down`.
    pub name: &'static str,
    /// Who reports it, or `common practice, no source`.
    pub source: &'static str,
    /// How its answer comes about, in the trade's words, such as
    /// `turns × driven teeth ÷ drive teeth`: for the usual question of its kind.
    pub gives: &'static str,
    /// What a matching answer earns.
    pub credit: Credit,
    /// Why it earns that, in one sentence.
    pub credit_reason: &'static str,
    /// Whether it is a slip of counting, reading or rounding rather than a way
    /// of thinking. A slip is named when an answer matches it, but items need
    /// not tell it apart.
    pub slip: bool,
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

impl Credit {
    /// Returns the marks it comes to, out of so many.
    #[must_use]
    pub fn marks(self, out_of: u8) -> u8 {
        match self {
            Self::None => 0,
            Self::OneOfMore => u8::from(out_of >= 2),
            Self::OneOfThree => u8::from(out_of >= 3),
            Self::AllButOne => out_of.saturating_sub(1),
        }
    }

    /// What it comes to, in words.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::None => "nothing",
            Self::OneOfMore => "1 mark of 2 or more",
            Self::OneOfThree => "1 mark of 3 or more",
            Self::AllButOne => "all marks but 1",
        }
    }
}

/// The answer one misconception gives to one question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prediction {
    /// Which.
    pub misconception: &'static Misconception,
    /// The answer it gives, unrounded; it may be negative.
    pub fact: ask::Fact,
    /// What that answer earns; why is in [`Misconception::credit_reason`].
    pub credit: Credit,
}

/// Returns every misconception known, in the order shown to people.
#[must_use]
pub fn all() -> &'static [&'static Misconception] {
    list::ALL
}

/// Returns the misconception of this id.
#[must_use]
pub fn by_id(id: &str) -> Option<&'static Misconception> {
    list::ALL.iter().copied().find(|known| known.id == id)
}

/// Returns what each misconception that applies predicts for this question.
///
/// A misconception that does not apply to this kind of mechanism is left out, and so
/// is one that cannot show in it whatever the numbers; one that applies and happens
/// to give the right answer is kept, so that the generator can see the collision. One misconception may predict two answers
/// (a step up has two ways of adding its stages); those need not be told apart
/// from each other.
#[must_use]
pub fn predictions(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> Vec<Prediction> {
    let mut found = Found::default();
    match ask {
        ask::Ask::Turns(_) | ask::Ask::Speed(_) | ask::Ask::Distance(_) => {
            movement::predict(mechanism, ask, &mut found);
        }
        ask::Ask::Direction(part) => direction::predict(mechanism, *part, &mut found),
        ask::Ask::SameWay(first, second) => {
            direction::predict_same_way(mechanism, *first, *second, &mut found);
        }
        ask::Ask::Faster(first, second) => {
            compare::predict_faster(mechanism, *first, *second, &mut found);
        }
        ask::Ask::Stronger(first, second) => {
            compare::predict_stronger(mechanism, *first, *second, &mut found);
        }
        ask::Ask::TurnsRatio(first, second) => {
            ratio::predict_turns(mechanism, *first, *second, &mut found);
        }
        ask::Ask::TeethRatio(first, second) => {
            ratio::predict_teeth(mechanism, *first, *second, &mut found);
        }
        ask::Ask::Teeth(part) | ask::Ask::Starts(part) => {
            teeth::predict(mechanism, ask, *part, &mut found);
        }
        ask::Ask::Force(_) | ask::Ask::TurningForce(_) => {
            force::predict(mechanism, ask, &mut found);
        }
        ask::Ask::CentreDistance(..)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_) => size::predict(mechanism, ask, &mut found),
        ask::Ask::WillItTurn => compare::predict_will_it_turn(mechanism, &mut found),
        ask::Ask::Name(part) => compare::predict_name(mechanism, *part, &mut found),
        ask::Ask::Job(part) => compare::predict_job(mechanism, *part, &mut found),
        ask::Ask::Stages(total) => whole::predict_stages(mechanism, *total, &mut found),
        ask::Ask::MeetAgain(first, second) => {
            whole::predict_meet_again(mechanism, *first, *second, &mut found);
        }
        ask::Ask::Choose { parts, from } => choose::predict(mechanism, parts, from, &mut found),
        // What a wrong idea says is no answer of its own: it explains a wrong one.
        ask::Ask::Why(_) => {}
    }
    found.predictions
}

/// Predictions as they are found; a calculation that gives no number is left out.
#[derive(Default)]
struct Found {
    predictions: Vec<Prediction>,
}

impl Found {
    fn add(&mut self, misconception: &'static Misconception, fact: ask::Fact) {
        let prediction = Prediction {
            misconception,
            fact,
            credit: misconception.credit,
        };
        if !self.predictions.contains(&prediction) {
            self.predictions.push(prediction);
        }
    }

    fn quantity(
        &mut self,
        misconception: &'static Misconception,
        value: Option<number::Value>,
        unit: ask::Unit,
    ) {
        if let Some(value) = value {
            self.add(misconception, ask::Fact::Quantity { value, unit });
        }
    }
}

#[cfg(test)]
mod tests;
