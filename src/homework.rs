//! A homework: items for pupils, and its record `homework.json`.
//!
//! Takes banks and a [`Plan`]; gives a [`Homework`] with what the teacher should
//! know about it. The record holds the drawn numbers and no answers, so that work
//! can be marked years later whatever became of the bank or of this program.

use crate::bank;
use crate::date;
use crate::item;
use crate::level;
use crate::problem;
use crate::retention;
use std::collections::BTreeMap;
use std::fmt;

mod design;
pub mod fingerprint;
mod fit;
pub mod forget;
mod hand_out;
pub mod met;
mod order;
mod record;
mod separation;
mod slot;
mod stock;
pub mod wish;
mod wished;

/// A pupil as the roll has them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pupil {
    /// The school's own id.
    pub id: String,
    /// The name.
    pub name: String,
    /// The class.
    pub class: String,
    /// The year.
    pub year: String,
    /// A level of their own.
    pub level: Option<level::Level>,
    /// Group labels by column heading.
    pub groups: BTreeMap<String, String>,
}

/// Which bank made it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BankStamp {
    /// Its id.
    pub id: String,
    /// Its edition.
    pub edition: String,
    /// SHA-256 of its text, in hexadecimal.
    pub fingerprint: String,
}

/// One set of questions; several pupils may share it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// The version printed on the page, such as `A` or `7KD`.
    pub version: String,
    /// The items, in order.
    pub items: Vec<item::Item>,
}

/// A pupil with the index of their sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assignment {
    /// The pupil.
    pub pupil: Pupil,
    /// An index into [`Homework::sheets`].
    pub sheet: usize,
}

/// Everything that was set: enough to print and mark it years later.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Homework {
    /// The version of the program that made it.
    pub made_by: String,
    /// A short code, printed on every page.
    pub code: String,
    /// The title.
    pub title: String,
    /// The date set, ISO 8601.
    pub date: String,
    /// The last day on which it may be kept, where the school chose one.
    pub keep_until: Option<date::Date>,
    /// The banks.
    pub banks: Vec<BankStamp>,
    /// The seed.
    pub seed: String,
    /// The sheets.
    pub sheets: Vec<Sheet>,
    /// The pupils in roll order.
    pub pupils: Vec<Assignment>,
}

impl Homework {
    /// Returns the last day on which it may be kept, chosen or not.
    #[must_use]
    pub fn kept_until(&self) -> Option<date::Date> {
        retention::until(&self.date, self.keep_until)
    }
}

/// How many questions a sheet has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Questions {
    /// So many.
    Count(usize),
    /// Every template that fits once, in the banks' order.
    All,
}

/// Whether pupils get the same numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Versions {
    /// One sheet for all (one for each level where pupils have their own).
    Same,
    /// The same questions, each pupil with numbers of their own, equally hard.
    Each,
}

/// What to set.
#[derive(Debug, Clone)]
pub struct Plan<'p> {
    /// The banks, in the order named.
    pub banks: &'p [bank::Bank],
    /// The roll.
    pub pupils: Vec<Pupil>,
    /// Only pupils of this year, where said.
    pub year: Option<String>,
    /// The levels, for pupils without a level of their own.
    pub levels: level::Span,
    /// The skills; empty for all.
    pub skills: Vec<level::Skill>,
    /// How many questions.
    pub questions: Questions,
    /// Whether pupils get the same numbers.
    pub versions: Versions,
    /// The seed: the same text gives the same homework.
    pub seed: String,
    /// The title.
    pub title: String,
    /// The date set, ISO 8601.
    pub date: String,
    /// The last day on which it may be kept, where the school chose one.
    pub keep_until: Option<date::Date>,
}

/// Something the teacher should know; nothing is wrong.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Notice {
    /// What it is about, such as `direction, level 3`.
    pub place: String,
    /// What to know, lower case, no full stop.
    pub what: String,
}

impl fmt::Display for Notice {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}: {}", self.place, self.what)
    }
}

/// Chooses questions and draws numbers for every pupil.
///
/// The skills are covered evenly and the levels spread over the span, with a
/// question that runs backwards where there is one. The same plan gives the same
/// homework on every machine, and a pupil more on the roll changes nobody else's
/// numbers.
///
/// # Errors
///
/// Every reason why it cannot be set: no pupils, too few questions.
pub fn set(plan: &Plan) -> Result<(Homework, Vec<Notice>), Vec<problem::Problem>> {
    hand_out::set(plan)
}

/// Sets a homework in which every pupil has a sheet of their own, made from wishes.
///
/// Everybody gets the same number of questions and, where the banks can, of marks:
/// the number nearest to that of a plain sheet of the middle level. Wishes that no
/// question can meet are passed over; what is left is filled up with practice at the
/// pupil's level, skill by skill. Nobody gets a question that they have met before.
/// A pupil of the plan for whom nothing is wished gets a plain sheet of the middle
/// level.
///
/// # Errors
///
/// As for [`set`]; and where all questions of the banks are asked for, which leaves
/// nothing to choose.
pub fn set_wished(
    plan: &Plan,
    wished: &[wish::Wished],
) -> Result<wish::Fulfilled, Vec<problem::Problem>> {
    wished::set(plan, wished)
}

/// Returns the record of a homework as text, always the same for the same homework.
#[must_use]
pub fn to_json(homework: &Homework) -> String {
    record::write(homework)
}

/// Returns the homework of a record; `file` is how messages name it.
///
/// # Errors
///
/// Everything in it that is no homework, at once where the file can be read on.
pub fn from_json(text: &str, file: &str) -> Result<Homework, Vec<problem::Problem>> {
    record::read(text, file)
}
