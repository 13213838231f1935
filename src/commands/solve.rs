//! `toothmark solve`.

use crate::cli;
use crate::commands::console;
use crate::problem;

/// Works out a mechanism.
///
/// # Errors
///
/// Everything that stood in the way.
pub fn run(
    arguments: &cli::SolveArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let _ = (arguments, console);
    Err(vec![problem::Problem::new(
        "toothmark solve",
        "this command is not built yet",
        "",
    )])
}
