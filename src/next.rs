//! What each pupil should get next: marks and past homeworks in, wishes out.
//!
//! Takes marked homeworks ([`Record`]), the roll and the plan of the next homework;
//! gives for each pupil what to wish for ([`wish::Wished`]) and why. Which questions
//! can meet the wishes, with which numbers and so that everybody gets the same marks,
//! is decided below ([`homework::set_wished`]). Pure. Every rule is a few fixed
//! numbers that a teacher can be told:
//!
//! - **What counts.** Of work marked more than once the newest, as in the review.
//!   Answers that wait for a person's look say nothing yet of a level or a skill.
//! - **A way of thinking** ([`belief`]) that two answers or more of the last
//!   [`RECENT`] homeworks handed in are consistent with, as the results workbook tells
//!   it, gets two questions that it answers wrongly: two, because one right answer may
//!   be chance too. It is gone once, in later homeworks, two questions that it answers
//!   wrongly are answered rightly. Ways of thinking take at most half the sheet.
//! - **Missed work.** Whoever was absent gets the questions that were missed, with
//!   other numbers. Excused pupils do not.
//! - **The level** ([`pace`]) moves by one within the teacher's span: up when four
//!   fifths of the marks of the last homework or more were earned, down below half, on
//!   six answers or more. A level on the roll is the teacher's word and stands.
//! - **A skill** ([`skill`]) has *failed* below half the marks of the last two
//!   homeworks that asked it and is *secure* from four fifths, on two answers or more.
//!   A failed skill comes one level lower, then at the level. A secure skill comes
//!   back after one week, then two, four, eight and sixteen, as long as it holds; what
//!   is most overdue comes first. Skills never answered come in the order of the
//!   ladder.
//!
//! Two answers, the half and the four fifths are common practice, no source; four
//! fifths is near the usual mark of mastery learning (Bloom 1968, from memory).
//! Gaps that grow with every success go back to the spacing effect (Cepeda and others
//! 2006, Psychological Bulletin 132(3), from memory); doubling is the simplest such
//! rule and no more.

use crate::attainment;
use crate::attainment::who;
use crate::homework;
use crate::homework::wish;
use crate::level;
use crate::marking;
use std::collections::BTreeMap;

pub mod belief;
mod day;
mod history;
mod line;
pub mod pace;
mod planner;
pub mod skill;

/// How many homeworks back a pupil's thinking is looked at: what was thought a term
/// ago says little of today.
pub const RECENT: usize = 3;

/// A marked homework, and what was set where its record lies beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Record {
    work: attainment::Work,
    /// The names that pupils had then, by id.
    names: BTreeMap<String, String>,
    /// Their ids.
    ids: BTreeMap<who::Who, String>,
    homework: Option<homework::Homework>,
}

impl Record {
    /// Returns what planning needs of a marked homework; `homework` is left out where
    /// it is another one.
    #[must_use]
    pub fn new(marked: &marking::Marked, homework: Option<homework::Homework>) -> Self {
        Self {
            work: attainment::Work::of(marked),
            names: marked
                .pupils
                .iter()
                .map(|entry| (entry.pupil.id.clone(), entry.pupil.name.clone()))
                .collect(),
            ids: marked
                .pupils
                .iter()
                .map(|entry| (who::Who::of(&entry.pupil), entry.pupil.id.clone()))
                .collect(),
            homework: homework.filter(|homework| homework.code == marked.code),
        }
    }

    /// Whether the homework that was set is known: without it, numbers may come again,
    /// and no right answer shows that a way of thinking has gone.
    #[must_use]
    pub fn has_homework(&self) -> bool {
        self.homework.is_some()
    }
}

/// Why a question is wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// A way of thinking, by its place in [`Pupil::beliefs`].
    Belief(usize),
    /// It was missed.
    Missed,
    /// The skill has failed: marks earned, of how many.
    Failed(u32, u32),
    /// The skill is secure and due again; days since it was last asked, where the
    /// dates can be read.
    Due(Option<i64>),
    /// The skill was never answered.
    NotYet,
    /// The skill is on its way: neither failed nor secure.
    OnItsWay,
}

/// What is planned for one pupil, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pupil {
    /// What to wish for; one wish for each of `reasons`.
    pub wished: wish::Wished,
    /// Why, wish by wish.
    pub reasons: Vec<Reason>,
    /// How the level came about.
    pub pace: pace::Pace,
    /// Ways of thinking that the answers are consistent with.
    pub beliefs: Vec<belief::Belief>,
    /// Ways of thinking that have gone.
    pub gone: Vec<belief::Belief>,
    /// The dates of the homeworks missed, the newest first.
    pub missed: Vec<String>,
}

/// What is planned for everybody.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Next {
    /// The pupils of the roll, in its order.
    pub pupils: Vec<Pupil>,
    /// What the teacher should know; by ids, without names.
    pub notices: Vec<homework::Notice>,
}

/// Returns what to wish for each pupil of the plan.
#[must_use]
pub fn plan(records: &[Record], plan: &homework::Plan<'_>) -> Next {
    planner::plan(records, plan)
}

/// Returns one line for the teacher: why a pupil got these questions.
#[must_use]
pub fn why(pupil: &Pupil, granted: &[wish::Granted]) -> String {
    line::why(pupil, granted)
}

impl Pupil {
    /// The level of the pupil's sheet, but for questions that come one lower.
    #[must_use]
    pub fn level(&self) -> level::Level {
        self.wished.level
    }
}

#[cfg(test)]
mod examples;
#[cfg(test)]
mod tests;
