//! `toothmark review`.

use crate::cli;
use crate::commands::console;
use crate::problem;

/// Reviews marked homeworks.
///
/// # Errors
///
/// Everything that stood in the way.
pub fn run(
    arguments: &cli::ReviewArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let _ = (arguments, console);
    Err(vec![problem::Problem::new(
        "toothmark review",
        "this command is not built yet",
        "",
    )])
}
