//! What marks say of years, classes, skills, levels, questions and misconceptions.
//!
//! Takes any number of marked homeworks as [`Work`], which has no pupil's name in
//! it; gives a [`Summary`], which has no pupil in it at all: groups under five
//! pupils are not reported, groups of five to nine by numbers only, and nothing that
//! these could be found from by subtraction. Pure. Not
//! here: marking, and how a summary looks in a workbook.
//!
//! Different questions need different denominators:
//! - *pupils*: those who handed the work in (not absent, not excused);
//! - *facility*: marks earned of marks to be had, over answers attempted or left
//!   blank; a question that was not reached says nothing of the question;
//! - *absent* and *excused* are counted apart and never turned into nought.

use crate::date;
use crate::level;
use crate::marking;
use std::collections::BTreeMap;

pub mod bands;
pub mod calendar;
mod care;
pub mod class_view;
pub mod comparisons;
pub mod count;
mod counted;
pub mod coverage;
pub mod curriculum;
pub mod figures;
pub mod fold;
pub mod grid;
mod group;
pub mod growth;
pub mod line;
pub mod misconceptions;
mod names;
mod newest;
pub mod overview;
mod register;
mod school;
mod summary;
pub mod tally;
mod told;
pub mod who;
mod work;

/// One marked homework, without the pupils' names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Work {
    /// The homework's code.
    pub code: String,
    /// Its title.
    pub title: String,
    /// The date it was set, ISO 8601.
    pub set_on: String,
    /// The date it was marked, ISO 8601.
    pub marked_on: String,
    /// The last day on which it may be kept, where that is known.
    pub kept_until: Option<date::Date>,
    /// The pupils with their marks.
    pub pupils: Vec<Pupil>,
}

/// One pupil's marks in one homework, with what they are counted by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pupil {
    /// Who it is, without name or id.
    pub who: who::Who,
    /// The pupil's class at the time.
    pub class: String,
    /// The pupil's year at the time.
    pub year: String,
    /// The pupil's group labels, by the roll's column heading.
    pub groups: BTreeMap<String, String>,
    /// A mark for each question of the sheet.
    pub answers: Vec<Answer>,
}

/// One mark.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Answer {
    /// The question's number on the sheet, such as `Q3a`.
    pub question: String,
    /// The bank's id.
    pub bank: String,
    /// The template's id.
    pub template: String,
    /// The skill.
    pub skill: level::Skill,
    /// The level.
    pub level: level::Level,
    /// Marks earned.
    pub marks: u8,
    /// Marks to be had.
    pub out_of: u8,
    /// What became of it.
    pub state: marking::State,
    /// Ids of the misconceptions whose answer it is.
    pub misconceptions: Vec<String>,
    /// Whether a person still has to look.
    pub needs_check: bool,
}

/// What a school says of itself, so that a review can put it in its words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct School {
    /// Its terms; none are claimed without.
    pub calendar: Option<calendar::Calendar>,
    /// Its bands; none are told without.
    pub bands: Option<bands::Bands>,
    /// The curricula whose statements are looked for.
    pub curricula: Vec<curriculum::Curriculum>,
}

/// What the marks say, with no pupil in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Summary {
    /// Each homework, by date set.
    pub homeworks: Vec<HomeworkLine>,
    /// All of it together.
    pub whole: Row,
    /// By year.
    pub years: Vec<Row>,
    /// By class.
    pub classes: Vec<Row>,
    /// By the roll's group labels, such as `reading: blue`; empty where it has none.
    pub groups: Vec<Row>,
    /// By skill, in the order of the ladder.
    pub skills: Vec<Row>,
    /// By level.
    pub levels: Vec<Row>,
    /// By question: each part of each template.
    pub questions: Vec<Row>,
    /// By school year of the calendar; empty without one.
    pub school_years: Vec<Row>,
    /// By term of the calendar; empty without one.
    pub terms: Vec<Row>,
    /// Each skill by year.
    pub skills_by_year: grid::Grid,
    /// Each skill by class.
    pub skills_by_class: grid::Grid,
    /// How many classes there are, where they are too many to be told one by one; then
    /// [`Summary::classes`] and [`Summary::skills_by_class`] are empty.
    pub classes_left_out: Option<usize>,
    /// Pupils by the school's bands; none without its file.
    pub bands: Option<bands::Table>,
    /// What was asked when.
    pub coverage: coverage::Coverage,
    /// By misconception, the commonest first.
    pub misconceptions: misconceptions::Table,
    /// What holds, what does not, what to do next, in sentences.
    pub overview: Vec<overview::Remark>,
    /// Figures of questions, sheets, levels, growth and comparisons.
    pub figures: figures::Figures,
}

/// One homework that was counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HomeworkLine {
    /// Its code.
    pub code: String,
    /// Its title.
    pub title: String,
    /// The date set.
    pub set_on: String,
    /// The date last marked.
    pub marked_on: String,
    /// The last day on which it may be kept, where that is known.
    pub kept_until: Option<date::Date>,
    /// How many pupils handed it in.
    pub pupils: count::Count,
    /// How many of its questions there are on a sheet, at most.
    pub questions: usize,
}

/// One group with what may be told of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Its name, such as `Year 5` or `Ratio`.
    pub label: String,
    /// More about it, such as a question's skill and levels; may be empty.
    pub about: String,
    /// What may be told.
    pub shown: count::Shown,
}

/// Returns every pupil's work that counts, with the homework it stands in: of work that
/// was handed in or marked more than once the newest that is not merely `absent`.
#[must_use]
pub fn counted<'w>(works: impl IntoIterator<Item = &'w Work>) -> Vec<(&'w Work, &'w Pupil)> {
    let mut homeworks: BTreeMap<(&str, &str, &str), Vec<&Work>> = BTreeMap::new();
    for work in works {
        let homework = (
            work.set_on.as_str(),
            work.code.as_str(),
            work.title.as_str(),
        );
        homeworks.entry(homework).or_default().push(work);
    }
    homeworks
        .into_values()
        .flat_map(|works| {
            let pupils = newest::newest(&works).pupils;
            let work = works[0];
            pupils.into_iter().map(move |pupil| (work, pupil))
        })
        .collect()
}

/// Returns what any number of marked homeworks say, without anything of the school's
/// own: [`fold::Fold`] at once.
///
/// Work that was handed in or marked more than once (the same homework and
/// pupil) is counted once: the newest that is not merely `absent`.
#[must_use]
pub fn summarise(works: &[Work]) -> Summary {
    let mut fold = fold::Fold::default();
    for family in fold::Family::all(works) {
        fold.add(&family)
            .expect("all records of a homework are one family");
    }
    fold.summary(&School::default())
}

/// Returns what a year is called: `Year 5`; one that is no number stands as it is.
#[must_use]
pub fn said_year(label: &str) -> String {
    if label.starts_with(|sign: char| sign.is_ascii_digit()) {
        format!("Year {label}")
    } else {
        label.to_owned()
    }
}

#[cfg(test)]
mod examples;
#[cfg(test)]
mod tests;
