//! What a subject lead reads and hands on: the summary as one page in the browser
//! ([`page`]) and as a tidy table for other programs ([`csv`]).
//!
//! Takes an [`attainment::Summary`], which has no pupil in it, and turns it into general
//! tables of figures (`table`); the page and the csv show the same tables, and a chart
//! draws cells of its table, so that no number can differ between them. The page is one
//! file without a script that asks nothing of any network, and its markup is well-formed
//! XML besides. Not here: what may be told (that is decided in `attainment`), and files.

use crate::attainment;
use crate::retention;

mod axis;
mod chart;
mod csv;
mod front;
mod groups;
mod measures;
mod page;
mod palette;
mod table;
mod tables;

/// Returns the text of the page, always the same for the same summary.
#[must_use]
pub fn page(summary: &attainment::Summary) -> String {
    page::page(summary, &tables::tables(summary))
}

/// Returns the bytes of the tidy table: UTF-8, commas, one row a figure.
///
/// Text that a spreadsheet program could run begins with an apostrophe, as in
/// `marks.csv`.
#[must_use]
pub fn csv(summary: &attainment::Summary) -> Vec<u8> {
    let keep_until = retention::cell(summary.kept_until());
    csv::write(&tables::tables(summary), &keep_until)
}
