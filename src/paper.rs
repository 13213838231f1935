//! Sheets and mark schemes on paper, typeset with typst.
//!
//! Takes a [`homework::Homework`]; gives the bytes of a PDF. The pages are
//! described by the templates beside this file (`paper/*.typ`), which get
//! everything they print as data: nothing that a person typed ever becomes
//! part of a template. The files are tagged for screen readers (PDF/UA-1), and
//! the same homework gives the same bytes. Not here: what an answer is or what
//! earns a mark, which lower floors know.

use crate::gears::fault;
use crate::homework;
use std::fmt;

mod clean;
mod fonts;
mod key;
mod once;
mod said;
mod scheme;
mod sheet;
mod typeset;

/// Why a document could not be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PaperError {
    /// An item of the homework has no right answer, so it has no mark scheme.
    NoAnswer {
        /// The version of the sheet it stands on.
        version: String,
        /// The question's number, such as `Q3a`.
        question: String,
        /// What is wrong with its mechanism.
        faults: Vec<fault::Fault>,
    },
    /// The typesetter refused; each entry is one thing that it said.
    Typesetting(Vec<String>),
}

impl fmt::Display for PaperError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoAnswer {
                version,
                question,
                faults,
            } => write!(
                formatter,
                "version {version}, {question}: no right answer can be worked out ({faults:?})"
            ),
            Self::Typesetting(said) => {
                write!(formatter, "the pages could not be set: {}", said.join("; "))
            }
        }
    }
}

impl std::error::Error for PaperError {}

/// Returns `sheets.pdf`: every pupil's sheet, in roll order.
///
/// Each sheet begins on a new page and counts its own pages; no question is
/// split over two unless it is longer than a page.
///
/// # Errors
///
/// [`PaperError::Typesetting`] when the typesetter refuses, which no text in
/// the homework should bring about.
pub fn sheets(homework: &homework::Homework) -> Result<Vec<u8>, PaperError> {
    let (pages, stamp) = sheet_pages(homework)?;
    typeset::export(&pages, &stamp)
}

/// Returns `mark-scheme.pdf`: answers, worked solutions, what earns the marks,
/// and the usual misconceptions with the answer that each gives.
///
/// Where versions differ only in their numbers, one of them is worked in full
/// and a key gives every pupil's answers in roll order. Where pupils have other
/// questions too, every question is worked once, and the key says where.
///
/// # Errors
///
/// [`PaperError::NoAnswer`] when an item's mechanism cannot be solved;
/// [`PaperError::Typesetting`] as for [`sheets`].
pub fn mark_scheme(homework: &homework::Homework) -> Result<Vec<u8>, PaperError> {
    let (pages, stamp) = scheme_pages(homework)?;
    typeset::export(&pages, &stamp)
}

/// Lays out the pupils' sheets.
fn sheet_pages(
    homework: &homework::Homework,
) -> Result<(typeset::Pages, typeset::Stamp), PaperError> {
    let data = sheet::data(homework);
    let pages = typeset::lay_out(typeset::Template::Sheets, &data)?;
    Ok((pages, stamp(homework, "sheets")))
}

/// Lays out the mark scheme.
fn scheme_pages(
    homework: &homework::Homework,
) -> Result<(typeset::Pages, typeset::Stamp), PaperError> {
    let data = scheme::data(homework)?;
    let pages = typeset::lay_out(typeset::Template::MarkScheme, &data)?;
    Ok((pages, stamp(homework, "mark-scheme")))
}

/// What makes this document's file the same every time, and no other's.
fn stamp(homework: &homework::Homework, document: &str) -> typeset::Stamp {
    typeset::Stamp {
        ident: format!("toothmark/{}/{document}", homework.code),
        date: homework.date.clone(),
    }
}

#[cfg(test)]
mod examples;
#[cfg(test)]
mod tests;
