//! Sheets, mark schemes, feedback and task cards on paper, typeset with typst.
//!
//! Takes a [`homework::Homework`] or what is to be said; gives the bytes of a PDF. The pages are
//! described by the templates beside this file (`paper/*.typ`), which get
//! everything they print as data: nothing that a person typed ever becomes
//! part of a template. The files are tagged for screen readers (PDF/UA-1), and
//! the same homework gives the same bytes. Not here: what an answer is or what
//! earns a mark, which lower floors know.

use crate::drawing;
use crate::feedback;
use crate::gears::fault;
use crate::homework;
use crate::need;
use crate::practical::card;
use std::fmt;

mod album;
mod cards;
mod clean;
mod fonts;
mod key;
mod look;
mod notes;
mod once;
mod picture;
mod said;
mod scheme;
mod sheet;
mod typeset;
mod word_card;

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

/// Returns `sheets.pdf`: every pupil's sheet, in roll order, as the pupil needs it.
///
/// Each sheet begins on a new page and counts its own pages; no question is
/// split over two pages. A question with parts that is longer than a page goes on with
/// its story and drawing on the next.
///
/// # Errors
///
/// [`PaperError::Typesetting`] when the typesetter refuses, which no text in
/// the homework should bring about.
pub fn sheets(homework: &homework::Homework, class: &need::Class) -> Result<Vec<u8>, PaperError> {
    prepare_sheets(homework, class).typeset()
}

/// Sheets ready for the typesetter: their texts, sizes and drawings.
pub struct Sheets {
    data: sheet::Data,
    drawings: Vec<u8>,
    stamp: typeset::Stamp,
}

/// Returns the sheets as far as they are ours; [`Sheets::typeset`] does the rest.
#[must_use]
pub fn prepare_sheets(homework: &homework::Homework, class: &need::Class) -> Sheets {
    let (data, drawings) = sheet::data(homework, class);
    Sheets {
        data,
        drawings,
        stamp: stamp(homework, "sheets"),
    }
}

impl Sheets {
    /// Returns `sheets.pdf`.
    ///
    /// # Errors
    ///
    /// As for [`sheets`].
    pub fn typeset(self) -> Result<Vec<u8>, PaperError> {
        let stamp = self.stamp.clone();
        typeset::export(&self.lay_out()?, &stamp)
    }

    /// Lays out the pages.
    fn lay_out(self) -> Result<typeset::Pages, PaperError> {
        typeset::lay_out(typeset::Template::Sheets, &self.data, self.drawings)
    }
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

/// Returns `feedback.pdf`: a page for each class's own teacher, then a note for each
/// pupil to cut out, in roll order.
///
/// # Errors
///
/// [`PaperError::Typesetting`] as for [`sheets`].
pub fn feedback(feedback: &feedback::Feedback) -> Result<Vec<u8>, PaperError> {
    let (pages, stamp) = feedback_pages(feedback)?;
    typeset::export(&pages, &stamp)
}

/// Task cards to print.
#[derive(Debug, Clone, Copy)]
pub struct Cards<'a> {
    /// The title of the tasks.
    pub title: &'a str,
    /// Their edition.
    pub edition: &'a str,
    /// The cards, in the order of printing.
    pub cards: &'a [card::Card<'a>],
}

/// Returns `cards.pdf`: a card a page for pupils, without answers.
///
/// # Errors
///
/// [`PaperError::Typesetting`] as for [`sheets`].
pub fn cards(cards: &Cards<'_>) -> Result<Vec<u8>, PaperError> {
    let (pages, stamp) = card_pages(cards, cards::Side::Pupils)?;
    typeset::export(&pages, &stamp)
}

/// Returns `cards-for-the-teacher.pdf`: the answers, worked, what pupils may predict
/// instead, and every caution.
///
/// # Errors
///
/// [`PaperError::Typesetting`] as for [`sheets`].
pub fn teacher_cards(cards: &Cards<'_>) -> Result<Vec<u8>, PaperError> {
    let (pages, stamp) = card_pages(cards, cards::Side::Teacher)?;
    typeset::export(&pages, &stamp)
}

/// Returns a drawing as a PNG picture, 300 dots to an inch.
///
/// # Errors
///
/// [`PaperError::Typesetting`] when it is too large for a picture.
pub fn png(drawing: &drawing::Drawing) -> Result<Vec<u8>, PaperError> {
    picture::png(drawing)
}

/// Returns a drawing as a PDF with a page of its size, tagged as the others are.
///
/// # Errors
///
/// [`PaperError::Typesetting`] as for [`sheets`].
pub fn pdf(drawing: &drawing::Drawing) -> Result<Vec<u8>, PaperError> {
    picture::pdf(drawing)
}

/// Lays out the mark scheme.
fn scheme_pages(
    homework: &homework::Homework,
) -> Result<(typeset::Pages, typeset::Stamp), PaperError> {
    let (data, drawings) = scheme::data(homework)?;
    let pages = typeset::lay_out(typeset::Template::MarkScheme, &data, drawings)?;
    Ok((pages, stamp(homework, "mark-scheme")))
}

/// Lays out feedback.
fn feedback_pages(
    feedback: &feedback::Feedback,
) -> Result<(typeset::Pages, typeset::Stamp), PaperError> {
    let (data, drawings) = notes::data(feedback);
    let pages = typeset::lay_out(typeset::Template::Feedback, &data, drawings)?;
    let stamp = typeset::Stamp {
        ident: format!("toothmark/{}/feedback", feedback.code),
        date: feedback.marked_on.clone(),
    };
    Ok((pages, stamp))
}

/// Lays out task cards.
fn card_pages(
    cards: &Cards<'_>,
    side: cards::Side,
) -> Result<(typeset::Pages, typeset::Stamp), PaperError> {
    let (data, drawings) = cards::data(cards, side);
    let (template, name) = match side {
        cards::Side::Pupils => (typeset::Template::Cards, "cards"),
        cards::Side::Teacher => (typeset::Template::TeacherCards, "cards-for-the-teacher"),
    };
    let pages = typeset::lay_out(template, &data, drawings)?;
    let ids: Vec<&str> = cards.cards.iter().map(|it| it.task.id.as_str()).collect();
    let stamp = typeset::Stamp {
        ident: format!("toothmark/{}/{name}/{}", cards.edition, ids.join("/")),
        date: String::new(),
    };
    Ok((pages, stamp))
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
