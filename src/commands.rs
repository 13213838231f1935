//! One file a command: open, call, save, say.
//!
//! The only place that opens files, reads the clock or prints. Takes what was
//! typed; gives nothing, or every [`problem::Problem`] at once.

mod after;
pub mod apart;
pub mod bank;
pub mod cards;
pub mod clock;
pub mod console;
pub mod earlier;
pub mod feedback;
pub mod files;
pub mod forget;
pub mod interrupt;
pub mod lock;
pub mod manual;
pub mod mark;
pub mod open_elsewhere;
pub mod overdue;
pub mod records;
pub mod review;
pub mod save;
mod second_look;
pub mod set;
pub mod show;
pub mod solve;
pub mod tour;

use crate::cli;
use crate::problem;

/// Does what was typed.
///
/// # Errors
///
/// Everything that stood in the way, for a person to mend.
pub fn run(
    line: &cli::CommandLine,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    match &line.command {
        cli::Command::Set(arguments) => set::run(arguments, console),
        cli::Command::Mark(arguments) => mark::run(arguments, console),
        cli::Command::Review(arguments) => review::run(arguments, console),
        cli::Command::Feedback(arguments) => feedback::run(arguments, console),
        cli::Command::Cards(arguments) => cards::run(arguments, console),
        cli::Command::Bank(arguments) => bank::run(arguments, console),
        cli::Command::Solve(arguments) => solve::run(arguments, console),
        cli::Command::Show(arguments) => show::run(arguments, console),
        cli::Command::Forget(arguments) => forget::run(arguments, console),
        cli::Command::Tour(arguments) => tour::run(arguments, console),
        cli::Command::Manual(arguments) => manual::run(arguments, console),
    }
}
