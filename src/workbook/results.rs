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
use crate::retention;
use crate::workbook::cells;
use crate::workbook::style;
use crate::workbook::table;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;
use std::mem;

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

/// The most rows of a worksheet, in every spreadsheet program of today.
const MOST_ROWS: u32 = 1_048_576;
/// A worksheet with more rows than this goes through a temporary file while it is made,
/// so that memory holds one row of it; no class has so many answers.
const MANY_ROWS: usize = 20_000;

/// The rows of a worksheet, made one at a time while they are written.
struct Rows<'a> {
    count: usize,
    made: Box<dyn Iterator<Item = Vec<table::Value>> + 'a>,
}

impl<'a> Rows<'a> {
    /// Rows that are there already.
    fn of(rows: Vec<Vec<table::Value>>) -> Self {
        Self::made(rows.len(), rows.into_iter())
    }

    /// So many rows, made when they are wanted.
    fn made(count: usize, rows: impl Iterator<Item = Vec<table::Value>> + 'a) -> Self {
        Self {
            count,
            made: Box::new(rows),
        }
    }
}

/// One worksheet, before it is written.
struct Page<'a> {
    /// Its name.
    name: &'static str,
    /// What it shows and what to do, in a sentence or two.
    intro: String,
    /// Its columns.
    columns: Vec<table::Column>,
    /// Its rows.
    rows: Rows<'a>,
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
    style::finish("marked.xlsx", workbook(marked, Room::usual()))
}

/// Returns an answer on one line, as it stands in a row with others.
#[must_use]
pub fn one_line(typed: &str) -> String {
    typed.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// How much a worksheet takes.
#[derive(Debug, Clone, Copy)]
struct Room {
    /// The most rows of pupils on one worksheet.
    most: usize,
    /// More rows than this go through a temporary file.
    many: usize,
}

impl Room {
    /// Room for the lines above the table, and for a blank row and notes below.
    fn usual() -> Self {
        let most = usize::try_from(MOST_ROWS - HEADING_ROW - 1).unwrap_or(usize::MAX);
        Self {
            most: most - 1_000,
            many: MANY_ROWS,
        }
    }
}

fn workbook(marked: &marking::Marked, room: Room) -> Result<Workbook, XlsxError> {
    let overview = overview::of(marked);
    let mut workbook = style::workbook(&style::About {
        title: &marked.title,
        code: &marked.code,
        date: &marked.marked_on,
    });
    // One at a time: what a page holds is gone when the next is made.
    write_page(&mut workbook, class::page(marked, &overview), marked, room)?;
    write_page(&mut workbook, questions::page(&overview), marked, room)?;
    let misconceptions = misconceptions::page(marked, &overview);
    write_page(&mut workbook, misconceptions, marked, room)?;
    write_page(&mut workbook, pupils::page(&overview), marked, room)?;
    drop(overview);
    write_page(&mut workbook, marks::page(marked), marked, room)?;
    write_page(&mut workbook, to_check::page(marked), marked, room)?;
    write_page(&mut workbook, policy::page(marked), marked, room)?;
    second_look::add(&mut workbook, marked)?;
    style::add_marks(&mut workbook)?;
    Ok(workbook)
}

/// Adds a worksheet, through a temporary file where it will have many rows and the
/// computer has room for one.
fn add_worksheet(
    workbook: &mut Workbook,
    has_many_rows: bool,
) -> Result<&mut Worksheet, XlsxError> {
    let place = workbook.worksheets().len();
    if !has_many_rows || workbook.add_worksheet_with_low_memory().is_err() {
        workbook.add_worksheet();
    }
    workbook.worksheet_from_index(place)
}

/// Writes a page: on one worksheet, or on as many as its rows need.
fn write_page(
    workbook: &mut Workbook,
    mut page: Page<'_>,
    marked: &marking::Marked,
    room: Room,
) -> Result<(), XlsxError> {
    let rows = mem::replace(&mut page.rows, Rows::of(Vec::new()));
    let has_many_rows = rows.count > room.many;
    let sheets = rows.count.div_ceil(room.most).max(1);
    let mut made = rows.made;
    for number in 1..=sheets {
        let worksheet = add_worksheet(workbook, has_many_rows)?;
        let part = Part {
            number,
            of: sheets,
            has_many_rows,
        };
        write_part(
            worksheet,
            &page,
            part,
            made.by_ref().take(room.most),
            marked,
        )?;
    }
    Ok(())
}

/// Which worksheet of a page.
#[derive(Debug, Clone, Copy)]
struct Part {
    number: usize,
    of: usize,
    /// Whether the page has very many rows.
    has_many_rows: bool,
}

impl Part {
    /// `Marks`, `Marks 2`.
    fn name(self, page: &Page<'_>) -> String {
        if self.number == 1 {
            page.name.to_owned()
        } else {
            format!("{} {}", page.name, self.number)
        }
    }

    /// What the page says, and where it goes on.
    fn intro(self, page: &Page<'_>) -> String {
        if self.of == 1 {
            return page.intro.clone();
        }
        format!(
            "Worksheet {} of {}: there are more rows than one can hold. {}",
            self.number, self.of, page.intro
        )
    }
}

fn write_part(
    worksheet: &mut Worksheet,
    page: &Page<'_>,
    part: Part,
    made: impl Iterator<Item = Vec<table::Value>>,
    marked: &marking::Marked,
) -> Result<(), XlsxError> {
    let fact = style::fact();
    worksheet.set_name(part.name(page))?;
    worksheet.write_string_with_format(0, 0, &marked.title, &style::title())?;
    let code = format!("{CODE_LABEL}: {}", marked.code);
    let dates = format!(
        "Set on {}, marked on {}. {}",
        marked.set_on,
        marked.marked_on,
        retention::sentence(marked.kept_until())
    );
    // Where marks can be typed, reading them must know what the person could see.
    let stamp = page
        .entry
        .map(|_| format!("{STAMP_LABEL}: {}", decision::stamp(&marked.decisions)))
        .unwrap_or_default();
    for (row, line) in (1..).zip([&code, &dates, &part.intro(page), &stamp]) {
        worksheet.write_string_with_format(row, 0, line, &fact)?;
    }
    let table = table::Table {
        columns: &page.columns,
        heading_row: HEADING_ROW,
    };
    table.write_headings(worksheet)?;
    let totals = table::Formats::totals();
    let rows = if part.has_many_rows {
        let rows = table::Formats::many_rows();
        table.format_columns(worksheet, &rows)?;
        rows
    } else {
        table::Formats::rows()
    };
    let mut row = HEADING_ROW;
    // From the top down: a worksheet in a temporary file takes no row twice.
    for values in made {
        row += 1;
        table.write_row(worksheet, row, &values, &rows)?;
    }
    let last_row = row;
    if part.number == part.of {
        for values in &page.totals {
            row += 1;
            table.write_row(worksheet, row, values, &totals)?;
        }
        row += 1;
        for note in &page.notes {
            row += 1;
            worksheet.write_string_with_format(row, 0, note, &fact)?;
        }
    }
    finish_part(worksheet, page, &table, last_row, marked)
}

/// Sets up what goes over the whole table: filters, drop-downs, print-out.
fn finish_part(
    worksheet: &mut Worksheet,
    page: &Page<'_>,
    table: &table::Table<'_>,
    last_row: u32,
    marked: &marking::Marked,
) -> Result<(), XlsxError> {
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
            pages_wide: style::pages_wide(table.width(), style::Paper::Across),
        },
    )
}

/// Returns marks as a percentage, rounded half up; none where there were none to be had.
fn percent(marks: u32, out_of: u32) -> Option<u32> {
    (out_of > 0).then(|| (200 * marks + out_of) / (2 * out_of))
}

#[cfg(test)]
mod tests;
