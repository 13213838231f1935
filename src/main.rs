//! The program: reads the command line and hands over to the library.

use clap::Parser;
use std::process::ExitCode;
use toothmark::cli;
use toothmark::commands;
use toothmark::commands::console;
use toothmark::commands::interrupt;

/// Exit codes: 0 done, 1 could not be done, 2 the command line was wrong (clap's own).
fn main() -> ExitCode {
    let line = cli::CommandLine::parse();
    interrupt::watch();
    let loudness = if line.quiet {
        console::Loudness::Quiet
    } else {
        console::Loudness::Usual
    };
    let mut console = console::Console::new(loudness);
    let outcome = commands::run(&line, &mut console);
    if let Err(problems) = &outcome {
        console.problems(problems);
    }
    match console.finish() {
        Ok(()) if outcome.is_ok() => ExitCode::SUCCESS,
        Ok(()) => ExitCode::FAILURE,
        Err(problem) => {
            console::Console::new(loudness).problems(&[problem]);
            ExitCode::FAILURE
        }
    }
}
