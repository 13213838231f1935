//! `toothmark mark`.

use crate::cli;
use crate::commands::console;
use crate::problem;

/// Marks a filled-in answer workbook.
///
/// # Errors
///
/// Everything that stood in the way.
pub fn run(
    arguments: &cli::MarkArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let _ = (arguments, console);
    Err(vec![problem::Problem::new(
        "toothmark mark",
        "this command is not built yet",
        "",
    )])
}
