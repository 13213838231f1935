//! `toothmark bank`.

use crate::cli;
use crate::commands::console;
use crate::problem;

/// Looks at question banks.
///
/// # Errors
///
/// Everything that stood in the way.
pub fn run(
    arguments: &cli::BankArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let _ = (arguments, console);
    Err(vec![problem::Problem::new(
        "toothmark bank",
        "this command is not built yet",
        "",
    )])
}
