//! Spreadsheets in and out.
//!
//! Works on bytes only: what opens or saves a file is `commands`. In:
//! [`cells`] turns any spreadsheet file into plain cells; [`undo`] says what
//! may have been typed where a spreadsheet program changed it; [`roll`] and
//! [`answers`] read class lists and answer workbooks by their headings, and
//! [`decisions`] what people decided in a results workbook, [`second_marks`] what
//! a second marker gave. Out: [`answer_book`], [`results`], [`marks_csv`],
//! [`second_look`], [`attainment`] and [`class_view`] write what the contract with people and
//! scripts names; [`style`] and [`table`] make all worksheets alike.

pub mod answer_book;
pub mod answers;
pub mod attainment;
pub mod cells;
pub mod class_view;
pub mod decisions;
#[cfg(test)]
mod examples;
pub mod headings;
pub mod marks_csv;
pub mod number_format;
pub mod results;
pub mod roll;
pub mod second_look;
pub mod second_marks;
pub mod style;
pub mod table;
pub mod undo;
