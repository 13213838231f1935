//! Mechanisms and questions as short lines of text, read and written.
//!
//! One notation serves banks, records and `toothmark solve`. A line is one
//! statement; keywords may be written in either case; a part is named by one
//! capital letter, with digits after it if there are many.
//!
//! ```text
//! gear A 12 drives gear B 36             bevel, sprocket ... by chain, pulley ... by belt
//! gear B 36, gear C 12 on one axle       a handle, drum, roller, motor, dynamo too
//! worm W 1 start drives gear B 40
//! gear P 12 drives rack R                rack R above: the rack lies above its pinion
//! gear P 20 rides on carrier C
//! A meshes with B                        no driver named
//! A turns 9 clockwise                    A runs at 120 rpm, R moves 120 mm left, R held still
//! for 5 minutes
//! force 20 N at H                        turning force 50 N cm on A, efficiency 90 %
//! tooth size 2 mm                        tooth size 2 mm on A
//! A and B 60 mm apart
//! C, D taken out
//! ```
//!
//! Takes lines; gives a [`mechanism::Mechanism`] or an [`ask::Ask`], or every
//! fault with its place in the line. Not here: whether the mechanism can turn.
//! That is [`super::solve`]'s to say.

mod asking;
mod assemble;
mod declared;
mod part;
mod statement;
mod text;
mod writing;

use crate::gears::ask;
use crate::gears::mechanism;

/// The most parts that one mechanism may have.
pub const MOST_PARTS: usize = 60;

/// The largest count of teeth or starts that can be written.
pub const LARGEST_COUNT: u32 = 100_000;

/// What is wrong with a line, and where in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotationError {
    /// Which line, from nought.
    pub line: usize,
    /// Where in the line, in bytes from nought, to where.
    pub span: std::ops::Range<usize>,
    /// What was found and what was looked for, lower case, no full stop.
    pub what: String,
    /// What to do; may be empty.
    pub hint: String,
}

/// Returns the mechanism that these lines describe.
///
/// Parts are numbered in the order of their first mention, bodies in the order
/// of their first part. Empty lines count but say nothing.
///
/// # Errors
///
/// Every fault at once, in the order of the lines: at most one where a line
/// cannot be read on, and every part that does not agree with what was said of
/// it before.
///
/// # Example
///
/// ```
/// use toothmark::gears::notation;
///
/// let pair = notation::read(&["gear A 12 drives gear B 36", "A turns 9"]).expect("well formed");
/// assert_eq!(pair.parts.len(), 2);
/// assert_eq!(
///     notation::write(&pair),
///     ["gear A 12 drives gear B 36", "A turns 9"]
/// );
/// ```
pub fn read(lines: &[&str]) -> Result<mechanism::Mechanism, Vec<NotationError>> {
    let mut statements = Vec::new();
    let mut faults = Vec::new();
    let mut unsure_names = Vec::new();
    for (line, text) in lines.iter().enumerate() {
        match statement::read(text) {
            Ok(Some(said)) => statements.push((line, said)),
            Ok(None) => {}
            Err(fault) => {
                // What a faulty line would have declared is not held against others.
                unsure_names.extend(text::names(text));
                faults.push(fault.on_line(line));
            }
        }
    }
    let assembled = assemble::assemble(&statements, &unsure_names);
    match assembled {
        Ok(mechanism) if faults.is_empty() => Ok(mechanism),
        Ok(_) => Err(faults),
        Err(more) => {
            faults.extend(more);
            faults.sort_by_key(|fault| (fault.line, fault.span.start));
            Err(faults)
        }
    }
}

/// Returns the lines of a mechanism; [`read`] of them gives the same mechanism.
#[must_use]
pub fn write(mechanism: &mechanism::Mechanism) -> Vec<String> {
    writing::lines(mechanism)
}

/// Whether a line begins like a question rather than a statement.
#[must_use]
pub fn is_ask(line: &str) -> bool {
    asking::begins_like_one(line)
}

/// Returns the question that a line asks of a mechanism.
///
/// # Errors
///
/// What is wrong with the line; its `line` is nought.
///
/// # Example
///
/// ```
/// use toothmark::gears::ask;
/// use toothmark::gears::mechanism;
/// use toothmark::gears::notation;
///
/// let pair = notation::read(&["gear A 12 drives gear B 36"]).expect("well formed");
/// let asked = notation::read_ask("turns of B", &pair).expect("well formed");
/// assert_eq!(asked, ask::Ask::Turns(mechanism::PartId(1)));
/// assert_eq!(notation::write_ask(&asked, &pair), "turns of B");
/// ```
pub fn read_ask(line: &str, mechanism: &mechanism::Mechanism) -> Result<ask::Ask, NotationError> {
    asking::read(line, mechanism).map_err(|fault| fault.on_line(0))
}

/// Returns the line of a question; [`read_ask`] of it gives the same question.
#[must_use]
pub fn write_ask(ask: &ask::Ask, mechanism: &mechanism::Mechanism) -> String {
    asking::write(ask, mechanism)
}

#[cfg(test)]
mod laws;
#[cfg(test)]
mod tests;
