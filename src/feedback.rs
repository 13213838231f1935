//! What to say to a class and to each pupil about a marked homework.
//!
//! Takes marks, the homework they belong to and the school's [`words`]; gives a page
//! for each class and a note for each pupil. A note compares a pupil with nobody: it
//! says what they can do and one thing to practise, with an example worked in other
//! numbers. An answer that waits for a person's look counts neither way. Pure; not
//! here: what is right, pages.

pub mod class;
mod example;
mod line;
mod note;
pub mod words;

use crate::date;
use crate::homework;
use crate::item;
use crate::marking;
use crate::marking::findings;
use crate::misconception;
use crate::problem;

/// What feedback is made of.
#[derive(Debug, Clone, Copy)]
pub struct Request<'a> {
    /// The marks.
    pub marked: &'a marking::Marked,
    /// The homework they belong to.
    pub homework: &'a homework::Homework,
    /// The school's words.
    pub words: &'a words::Words,
    /// Whether notes tell the marks.
    pub marks: Marks,
    /// Fixes the numbers of examples.
    pub seed: &'a str,
}

/// Whether notes tell the marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Marks {
    /// They do.
    Told,
    /// They do not.
    Kept,
}

/// What to say about a marked homework.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Feedback {
    /// The homework's code.
    pub code: String,
    /// Its title.
    pub title: String,
    /// The date of marking, ISO 8601.
    pub marked_on: String,
    /// The last day on which it may be kept, where that is known.
    pub kept_until: Option<date::Date>,
    /// A page for each class, in the order of the roll.
    pub classes: Vec<class::Page>,
    /// A note for each pupil, in the order of the roll.
    pub notes: Vec<Note>,
    /// How many answers wait for a person's look.
    pub waiting: usize,
}

/// What to say to one pupil.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// The pupil.
    pub pupil: homework::Pupil,
    /// How the pupil's work stands.
    pub standing: Standing,
    /// What stands first: what they can do, or what there is to say instead.
    pub opening: String,
    /// What they can do, each a few words that follow the opening.
    pub can: Vec<String>,
    /// The marks, where they are told.
    pub marks: String,
    /// What stands above what to practise.
    pub heading: String,
    /// What to practise, in a sentence or two; nothing for who was excused.
    pub practise: String,
    /// A question worked.
    pub example: Option<Example>,
}

/// How a pupil's work stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Standing {
    /// There is no work.
    Absent,
    /// There need not be any.
    Excused,
    /// Every answer is blank.
    Blank,
    /// Every answer waits for a person's look.
    Waiting,
    /// Every question is answered and right.
    AllRight,
    /// What is answered and settled is right, and some questions were not reached.
    RightSoFar,
    /// What is settled is right, and the rest waits for a person's look.
    RightAndWaiting,
    /// Something is not right.
    Usual,
}

/// A question worked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Example {
    /// What stands above it.
    pub lead: String,
    /// The question, in other numbers where there are some that fit.
    pub item: item::Item,
    /// The steps of the mark scheme, in words.
    pub steps: Vec<String>,
    /// The answer as it is written down.
    pub answer: String,
    /// The answer with the words around it.
    pub answer_line: String,
}

/// Returns what to say about a marked homework.
///
/// # Errors
///
/// Marks that belong to another homework than the record given.
pub fn give(request: &Request<'_>) -> Result<Feedback, Vec<problem::Problem>> {
    let (marked, homework) = (request.marked, request.homework);
    if marked.code != homework.code {
        return Err(vec![problem::Problem::new(
            format!("homework {}", homework.code),
            format!("the marks belong to homework {}", marked.code),
            "name the homework.json that the marks came from with --homework FILE",
        )]);
    }
    let examples = example::Examples::new(request);
    let notes = marked
        .pupils
        .iter()
        .map(|entry| note::note(request, &examples, entry))
        .collect();
    let marks = marked.pupils.iter().flat_map(|entry| &entry.marks);
    Ok(Feedback {
        code: marked.code.clone(),
        title: marked.title.clone(),
        marked_on: marked.marked_on.clone(),
        kept_until: marked.kept_until(),
        classes: class::pages(request, &examples),
        notes,
        waiting: marks.filter(|mark| !mark.check.is_empty()).count(),
    })
}

/// What a pupil's settled answers are consistent with: the rule of [`findings`].
fn consistent_with(entry: &marking::MarkedPupil) -> Vec<findings::Finding> {
    let settled = entry.marks.iter().filter(|mark| is_evidence(mark));
    findings::fewest(settled.map(|mark| mark.misconceptions.as_slice()))
}

/// Whether an answer is one that a misconception gives.
fn shows(mark: &marking::Mark, ideas: &[&misconception::Misconception]) -> bool {
    let mut ids = mark.misconceptions.iter();
    is_evidence(mark) && ids.any(|id| ideas.iter().any(|idea| idea.id == *id))
}

/// Whether an answer counts: it is settled, and was within the pupil's reach.
fn is_evidence(mark: &marking::Mark) -> bool {
    let reached = match mark.state {
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Wrong
        | marking::State::Blank
        | marking::State::Unreadable => true,
        marking::State::NotReached | marking::State::Absent | marking::State::Excused => false,
    };
    reached && mark.check.is_empty()
}

#[cfg(test)]
mod examples;
#[cfg(test)]
mod tests;
