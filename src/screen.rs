//! A homework for the classroom screen: one self-contained page in which each
//! question's mechanism turns.
//!
//! Takes a [`homework::Homework`] and one of its sheets; gives the text of an HTML
//! file that asks nothing of any network and names no pupil. Everything that a person
//! typed stands in it as text. The drawing says how its shapes move and `gears` how
//! much: the page's script (`screen/page.js`) only reads its clock and puts each
//! shape where these say. Not here: files, and what a right answer is.

use crate::gears::fault;
use crate::homework;
use crate::item::question;
use std::fmt;

mod answer;
mod figure;
mod motion;
mod page;
mod section;

/// Why a page could not be made: a question has no right answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoAnswer {
    /// The question's number, such as `Q3a`.
    pub question: String,
    /// What is wrong with its mechanism.
    pub faults: Vec<fault::Fault>,
}

impl fmt::Display for NoAnswer {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { question, faults } = self;
        write!(
            formatter,
            "{question}: no right answer can be worked out ({faults:?})"
        )
    }
}

impl std::error::Error for NoAnswer {}

/// Returns the page that shows a sheet of a homework, always the same for the same.
///
/// # Errors
///
/// Every question without a right answer.
pub fn page(
    homework: &homework::Homework,
    sheet: &homework::Sheet,
) -> Result<String, Vec<NoAnswer>> {
    let mut sections = Vec::new();
    let mut problems = Vec::new();
    let questions = question::questions(&sheet.items);
    for question in &questions {
        match section::section(question) {
            Ok(section) => sections.push(section),
            Err(problem) => problems.push(problem),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let numbers: Vec<&str> = questions.iter().map(|it| it.number.as_str()).collect();
    Ok(page::page(&page::Content {
        title: homework.title.trim(),
        code: &homework.code,
        version: &sheet.version,
        has_versions: homework.sheets.len() > 1,
        numbers: &numbers,
        sections: &sections,
    }))
}

#[cfg(test)]
mod tests;
