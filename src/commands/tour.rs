//! `toothmark tour`.

use crate::cli;
use crate::commands::console;
use crate::problem;

/// Runs set, mark and review on an invented class.
///
/// # Errors
///
/// Everything that stood in the way.
pub fn run(
    arguments: &cli::TourArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let _ = (arguments, console);
    Err(vec![problem::Problem::new(
        "toothmark tour",
        "this command is not built yet",
        "",
    )])
}
