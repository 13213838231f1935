//! A response against an item: marks, reason, misconceptions, decisions.
//!
//! Takes a homework, what pupils handed in, a policy and what people decided;
//! gives a [`Marked`] homework. Every right answer is worked out anew from the
//! item's mechanism. A pupil's odd answer is a value here, never an error, and
//! what is not sure asks for a person's look. Pure; not here: cells, pages,
//! files.

pub mod check;
pub mod decision;
mod explained;
pub mod findings;
mod follow;
pub mod forget;
pub mod handed_in;
mod judge;
mod method;
mod one;
pub mod overview;
pub mod owners;
pub mod policy;
mod record;
mod roll;
pub mod second_look;
pub mod settle;
mod sheet;
pub mod standing;
pub mod table;
mod working;

use crate::answer;
use crate::date;
use crate::homework;
use crate::item;
use crate::level;
use crate::problem;
use crate::retention;
use std::collections::BTreeMap;

/// What one pupil handed in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Response {
    /// The pupil's id as typed.
    pub pupil_id: String,
    /// `absent`, `excused` or neither.
    pub attendance: Attendance,
    /// Typed answers by question number (`Q3a`).
    pub answers: BTreeMap<String, answer::Typed>,
    /// Typed working by question number.
    pub working: BTreeMap<String, answer::Typed>,
    /// Which file it came from, and what it took the place of.
    pub origin: handed_in::Origin,
}

/// Whether the pupil was there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Attendance {
    /// There.
    Present,
    /// Absent: set, but not answered.
    Absent,
    /// Excused: not expected to answer.
    Excused,
}

/// The state of a mark, as written in `marks.csv`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum State {
    /// All marks.
    Correct,
    /// Some marks.
    Partly,
    /// An attempt that earned nothing.
    Wrong,
    /// Nothing typed, or don't-know.
    Blank,
    /// Blank after the last attempted question.
    NotReached,
    /// Something typed that gives no answer.
    Unreadable,
    /// The pupil was absent.
    Absent,
    /// The pupil was excused.
    Excused,
}

impl State {
    /// Every state, in the order shown to people.
    pub const ALL: [Self; 8] = [
        Self::Correct,
        Self::Partly,
        Self::Wrong,
        Self::Blank,
        Self::NotReached,
        Self::Unreadable,
        Self::Absent,
        Self::Excused,
    ];

    /// Its words in files.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Correct => "correct",
            Self::Partly => "partly",
            Self::Wrong => "wrong",
            Self::Blank => "blank",
            Self::NotReached => "not reached",
            Self::Unreadable => "unreadable",
            Self::Absent => "absent",
            Self::Excused => "excused",
        }
    }

    /// Returns the state that files write so.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|state| state.text() == text)
    }
}

/// One mark with its reason.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// The pupil's id.
    pub pupil_id: String,
    /// The question's number.
    pub question: String,
    /// The bank's id.
    pub bank: String,
    /// The template's id.
    pub template: String,
    /// The skill.
    pub skill: level::Skill,
    /// The level.
    pub level: level::Level,
    /// What was typed.
    pub typed: String,
    /// What it was read as; empty where nothing could be read.
    pub read_as: String,
    /// The right answer, as shown to people.
    pub expected: String,
    /// Marks earned.
    pub marks: u8,
    /// Marks to be had.
    pub out_of: u8,
    /// The state.
    pub state: State,
    /// Ids of the misconceptions whose answer this is.
    pub misconceptions: Vec<String>,
    /// Why, in one sentence.
    pub reason: String,
    /// Empty, or why a person should look.
    pub check: String,
    /// The same for equal answers to equal items, and only for those: what a
    /// decision goes by.
    pub code: String,
    /// The same for like explanations of one question, whatever its numbers: those in
    /// which the same ideas were found; empty for every other answer.
    pub like: String,
    /// What a person decided, where one did; `marks` is then theirs.
    pub decided: Option<Decided>,
}

/// That a person decided a mark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decided {
    /// When, ISO 8601.
    pub date: String,
    /// What had been proposed.
    pub proposed: u8,
    /// Who, as they wrote it; may be empty.
    pub by: String,
}

/// One pupil of a marked homework.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkedPupil {
    /// The pupil as the roll has them.
    pub pupil: homework::Pupil,
    /// The version of the sheet.
    pub version: String,
    /// Whether they were there.
    pub attendance: Attendance,
    /// A mark for each item of the sheet, in its order.
    pub marks: Vec<Mark>,
    /// What they handed in, as far as the sheet asked for it, so that they can be
    /// marked again without their file; none where there was nothing.
    pub handed_in: Option<Response>,
}

/// A marked homework: what `marked.json` holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Marked {
    /// The version of the program that marked it.
    pub made_by: String,
    /// The homework's code.
    pub code: String,
    /// Its title.
    pub title: String,
    /// The date it was set, ISO 8601.
    pub set_on: String,
    /// The date it was marked, ISO 8601.
    pub marked_on: String,
    /// The last day on which it may be kept, where the school chose one.
    pub keep_until: Option<date::Date>,
    /// The banks it came from.
    pub banks: Vec<homework::BankStamp>,
    /// How it was marked.
    pub policy: policy::Policy,
    /// The pupils in roll order.
    pub pupils: Vec<MarkedPupil>,
    /// What people decided, oldest first.
    pub decisions: Vec<decision::Decision>,
    /// Samples drawn for a second marker, oldest first, with what came back.
    pub second_looks: Vec<second_look::Look>,
    /// What the person who marks should know of the answers as a whole: rows of
    /// nobody, two rows of one pupil, pupils without a row.
    pub notes: Vec<String>,
}

impl Marked {
    /// Returns the last day on which it may be kept, chosen or not.
    #[must_use]
    pub fn kept_until(&self) -> Option<date::Date> {
        retention::until(&self.set_on, self.keep_until)
    }
}

/// Which homework a record is of, and when it was marked.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Head {
    /// The homework's code.
    pub code: String,
    /// Its title.
    pub title: String,
    /// The date it was set, ISO 8601.
    pub set_on: String,
    /// The date it was marked, ISO 8601.
    pub marked_on: String,
    /// The last day on which it may be kept, chosen or not; none where nothing is known.
    pub kept_until: Option<date::Date>,
}

/// Everything that marking a homework needs.
#[derive(Debug, Clone, Copy)]
pub struct Batch<'a> {
    /// The homework.
    pub homework: &'a homework::Homework,
    /// What was handed in.
    pub responses: &'a [Response],
    /// What people decided so far, oldest first.
    pub decisions: &'a [decision::Decision],
    /// How to mark.
    pub policy: &'a policy::Policy,
    /// Today, ISO 8601.
    pub date: &'a str,
}

/// Returns a mark for each item of a sheet, in its order, without decisions.
#[must_use]
pub fn mark_sheet(items: &[item::Item], response: &Response, policy: &policy::Policy) -> Vec<Mark> {
    sheet::mark(items, response, policy, &mut sheet::Known::default())
}

/// Returns a whole homework marked, with decisions applied.
#[must_use]
pub fn mark_homework(batch: &Batch<'_>) -> Marked {
    roll::mark(batch)
}

/// Returns the record `marked.json`: the same bytes for the same marks.
#[must_use]
pub fn to_json(marked: &Marked) -> String {
    record::to_json(marked)
}

/// Returns the marked homework that a record holds; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the record: not JSON, another format, words that are unknown.
pub fn from_json(text: &str, file: &str) -> Result<Marked, Vec<problem::Problem>> {
    record::from_json(text, file)
}

/// Returns the head of a record, without reading its pupils.
///
/// # Errors
///
/// When it is no record of this format.
pub fn head_of_json(text: &str, file: &str) -> Result<Head, problem::Problem> {
    record::head::from_json(text, file)
}
