//! A response against an item: marks, reason, misconceptions, decisions.

use crate::answer;

/// What one pupil handed in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Response {
    /// The pupil's id as typed.
    pub pupil_id: String,
    /// `absent`, `excused` or neither.
    pub attendance: Attendance,
    /// Typed answers by question number (`Q3a`).
    pub answers: std::collections::BTreeMap<String, answer::Typed>,
    /// Typed working by question number.
    pub working: std::collections::BTreeMap<String, answer::Typed>,
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

/// One mark with its reason.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// The pupil's id.
    pub pupil_id: String,
    /// The question's number.
    pub question: String,
    /// What was typed.
    pub typed: String,
    /// What it was read as.
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
}
