//! Mechanisms and questions as short lines of text, read and written.
//!
//! One notation serves banks, records and `toothmark solve`.

#![allow(clippy::missing_errors_doc, clippy::must_use_candidate)]

use crate::gears::ask;
use crate::gears::mechanism;

/// What is wrong with a line, and where in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotationError {
    /// Which line, from nought.
    pub line: usize,
    /// Where in the line, in bytes from nought, to where.
    pub span: std::ops::Range<usize>,
    /// What was found and what was looked for.
    pub what: String,
    /// What to do.
    pub hint: String,
}

/// Returns the mechanism that these lines describe, or every fault in them.
pub fn read(lines: &[&str]) -> Result<mechanism::Mechanism, Vec<NotationError>> {
    let _ = lines;
    unimplemented!()
}

/// Returns the lines of a mechanism; `read` of them gives the same mechanism.
pub fn write(mechanism: &mechanism::Mechanism) -> Vec<String> {
    let _ = mechanism;
    unimplemented!()
}

/// Returns the question that a line asks of a mechanism.
pub fn read_ask(line: &str, mechanism: &mechanism::Mechanism) -> Result<ask::Ask, NotationError> {
    let _ = (line, mechanism);
    unimplemented!()
}

/// Returns the line of a question; `read_ask` of it gives the same question.
pub fn write_ask(ask: &ask::Ask, mechanism: &mechanism::Mechanism) -> String {
    let _ = (ask, mechanism);
    unimplemented!()
}
