//! `toothmark set`.

use crate::cli;
use crate::commands::console;
use crate::problem;

/// Sets a homework.
///
/// # Errors
///
/// Everything that stood in the way.
pub fn run(
    arguments: &cli::SetArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let _ = (arguments, console);
    Err(vec![problem::Problem::new(
        "toothmark set",
        "this command is not built yet",
        "",
    )])
}
