//! Spreadsheets in and out.
//!
//! Works on bytes only: what opens or saves a file is `commands`. In:
//! [`cells`] turns any spreadsheet file into plain cells; [`undo`] says what
//! may have been typed where a spreadsheet program changed it; [`roll`] and
//! [`answers`] read class lists and answer workbooks by their headings. Out:
//! [`answer_book`] writes the answer workbook, [`attainment`] what marks say by groups.

pub mod answer_book;
pub mod answers;
pub mod attainment;
pub mod cells;
#[cfg(test)]
mod examples;
pub mod headings;
pub mod number_format;
pub mod roll;
pub mod style;
pub mod table;
pub mod undo;
