//! Toothmark sets, marks and reviews pupils' work on gears.
//!
//! The way of the data: a [`bank`] file becomes a `Bank`, its templates become
//! [`item`]s with their numbers drawn, items for pupils a [`homework`]; what
//! pupils typed becomes a `Response`, against the item a `Mark` ([`marking`]),
//! and marks become an [`attainment`] summary. Everything between the ends is
//! pure; only [`commands`] opens files, reads the clock or prints.

// First, for its macro.
#[macro_use]
mod html;

mod cores;

pub mod answer;
pub mod attainment;
pub mod bank;
pub mod cli;
pub mod commands;
pub mod date;
pub mod drawing;
pub mod feedback;
pub mod gears;
pub mod held_back;
pub mod homework;
pub mod item;
pub mod level;
pub mod marking;
pub mod misconception;
pub mod need;
pub mod next;
pub mod number;
pub mod paper;
pub mod practical;
pub mod problem;
pub mod report;
pub mod retention;
pub mod screen;
pub mod seed;
pub mod statistics;
pub mod table;
pub mod warehouse;
pub mod wording;
pub mod workbook;
