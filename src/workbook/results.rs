//! The results workbook `marked.xlsx`.
//!
//! Takes a marked homework and gives the bytes of a workbook with a worksheet
//! for each thing a teacher wants to see, and two in which marks can be
//! decided. The headings here are those that [`decisions`] reads back.
//!
//! [`decisions`]: crate::workbook::decisions

mod class;
mod marks;
mod misconceptions;
mod policy;
mod pupils;
mod questions;
mod second_look;
mod to_check;

use crate::marking;
use crate::marking::decision;
use crate::marking::overview;
use crate::problem;
use crate::workbook::cells;
use crate::workbook::style;
use crate::workbook::table;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The label before the homework's code, by which reading knows it.
pub const CODE_LABEL: &str = "Homework code";
/// The heading of the marks decided for all equal answers.
pub const YOUR_MARK: &str = "Your mark";
/// The heading of the mark decided for one pupil.
pub const CHANGED_MARK: &str = "Changed mark";
/// The heading of what equal answers have in common.
pub const CODE: &str = "Code";
/// What stands between the codes of a row with several answers.
pub const BETWEEN_CODES: &str = ", ";
/// What stands between the codes of one answer that was given to several versions.
pub const BETWEEN_VERSIONS: &str = "+";
/// The heading of question numbers.
pub const QUESTION: &str = "Question";
/// The heading of what was typed.
pub const ANSWER: &str = "Answer";
/// The heading of the marks to be had.
pub const OUT_OF: &str = "Out of";
/// The heading of the mark that the program proposes.
pub const PROPOSED: &str = "Proposed";
/// The heading of the date of a decision.
pub const DECIDED_ON: &str = "Decided on";
/// The heading of who decided.
pub const DECIDED_BY: &str = "Decided by";
/// The label before what tells which decisions a workbook was written with.
pub const STAMP_LABEL: &str = "Decisions so far";
/// The heading of pupils' ids.
pub const PUPIL_ID: &str = "Pupil ID";

/// The row of headings on every worksheet, from 0.
const HEADING_ROW: u32 = 5;

/// One worksheet, before it is written.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Page {
    /// Its name.
    name: &'static str,
    /// What it shows and what to do, in a sentence or two.
    intro: String,
    /// Its columns.
    columns: Vec<table::Column>,
    /// Its rows.
    rows: Vec<Vec<table::Value>>,
    /// Rows below that belong to no pupil.
    totals: Vec<Vec<table::Value>>,
    /// Sentences below the table.
    notes: Vec<String>,
    /// How many columns stay in sight.
    fixed: u16,
    /// The heading of the column in which marks can be typed.
    entry: Option<&'static str>,
}

/// Returns the bytes of the results workbook.
///
/// # Errors
///
/// A problem when something does not fit into a workbook.
pub fn write(marked: &marking::Marked) -> Result<Vec<u8>, problem::Problem> {
    style::finish("marked.xlsx", workbook(marked))
}

/// Returns an answer on one line, as it stands in a row with others.
#[must_use]
pub fn one_line(typed: &str) -> String {
    typed.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn workbook(marked: &marking::Marked) -> Result<Workbook, XlsxError> {
    let overview = overview::of(marked);
    let mut workbook = style::workbook(&style::About {
        title: &marked.title,
        code: &marked.code,
        date: &marked.marked_on,
    });
    let pages = [
        class::page(marked, &overview),
        questions::page(&overview),
        misconceptions::page(marked, &overview),
        pupils::page(&overview),
        marks::page(marked),
        to_check::page(marked),
        policy::page(marked),
    ];
    for page in pages {
        write_page(workbook.add_worksheet(), &page, marked)?;
    }
    second_look::add(&mut workbook, marked)?;
    style::add_marks(&mut workbook)?;
    Ok(workbook)
}

fn write_page(
    worksheet: &mut Worksheet,
    page: &Page,
    marked: &marking::Marked,
) -> Result<(), XlsxError> {
    let fact = style::fact();
    worksheet.set_name(page.name)?;
    worksheet.write_string_with_format(0, 0, &marked.title, &style::title())?;
    let code = format!("{CODE_LABEL}: {}", marked.code);
    let dates = format!("Set on {}, marked on {}", marked.set_on, marked.marked_on);
    // Where marks can be typed, reading them must know what the person could see.
    let stamp = page
        .entry
        .map(|_| format!("{STAMP_LABEL}: {}", decision::stamp(&marked.decisions)))
        .unwrap_or_default();
    for (row, line) in (1..).zip([&code, &dates, &page.intro, &stamp]) {
        worksheet.write_string_with_format(row, 0, line, &fact)?;
    }
    let table = table::Table {
        columns: &page.columns,
        heading_row: HEADING_ROW,
    };
    table.write_headings(worksheet)?;
    let (rows, totals) = (table::Formats::rows(), table::Formats::totals());
    let mut row = HEADING_ROW;
    for values in &page.rows {
        row += 1;
        table.write_row(worksheet, row, values, &rows)?;
    }
    let last_row = row;
    for values in &page.totals {
        row += 1;
        table.write_row(worksheet, row, values, &totals)?;
    }
    row += 1;
    for note in &page.notes {
        row += 1;
        worksheet.write_string_with_format(row, 0, note, &fact)?;
    }
    let last_column = u16::try_from(page.columns.len().saturating_sub(1)).unwrap_or(u16::MAX);
    if page.totals.is_empty() && last_row > HEADING_ROW {
        worksheet.autofilter(HEADING_ROW, 0, last_row, last_column)?;
    }
    if let (Some(entry), Some(out_of)) = (
        page.entry.and_then(|heading| table.column(heading)),
        table.column(OUT_OF),
    ) && last_row > HEADING_ROW
    {
        let letters = cells::column_letters(u32::from(out_of));
        let first = HEADING_ROW + 1;
        let validation = style::marks_validation(&format!("${letters}{}", first + 1))?;
        worksheet.add_data_validation(first, entry, last_row, entry, &validation)?;
    }
    // Only the program needs it; it goes with its row when people sort.
    if let Some(code) = table.column(CODE) {
        worksheet.set_column_hidden(code)?;
    }
    style::set_up(
        worksheet,
        &style::About {
            title: &marked.title,
            code: &marked.code,
            date: &marked.marked_on,
        },
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: page.fixed,
            paper: style::Paper::Across,
            pages_wide: style::pages_wide(table.width(CODE), style::Paper::Across),
        },
    )
}

/// Returns marks as a percentage, rounded half up; none where there were none to be had.
fn percent(marks: u32, out_of: u32) -> Option<u32> {
    (out_of > 0).then(|| (200 * marks + out_of) / (2 * out_of))
}

#[cfg(test)]
mod tests;
