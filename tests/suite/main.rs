//! The project from outside, linked once.

mod house_rules;
mod linear;
mod misconceptions;
mod published;
mod spreadsheet_changes;
