//! Marks as a data set that query engines read: Apache Parquet, in folders named by
//! academic year and year group.
//!
//! Takes the lines of a review ([`attainment::line`](crate::attainment::line)) and
//! writes them to whatever it is given to write to, so many rows at a time; opens no
//! file itself. Beside the answers stand two small tables that a query over answers
//! cannot find by itself: what each pupil's answers are consistent with
//! ([`findings`]), and what of the review's tables may be told ([`told`]). The
//! statements that give the review's own figures are in [`sql`].
//!
//! It is about single pupils, though without names and ids, and small groups can be
//! found in it: it is for the school's or trust's own warehouse and for nobody else.
//!
//! Source: the Apache Parquet format, its logical types and the layout of nested
//! columns (definition and repetition levels), as the library writes them; folders
//! named `key=value` are common practice of Hive and its followers, no source.

pub mod answers;
mod columns;
pub mod file;
pub mod findings;
pub mod partition;
pub mod sql;
pub mod told;

/// The number of the data set's shape. It goes up when a column changes its meaning,
/// its type or its name, or goes; not when one is added.
pub const FORMAT: u32 = 1;

/// The folder, inside the data set, of the tables beside the answers. Engines that read
/// partitions leave out names that begin with an underscore.
pub const BESIDE: &str = "_beside";
/// The name of the table of findings in [`BESIDE`].
pub const FINDINGS: &str = "findings.parquet";
/// The name of the table of what may be told in [`BESIDE`].
pub const TOLD: &str = "told.parquet";

#[cfg(test)]
mod tests;
