//! The program: reads the command line and hands over to the library.

use clap::Parser;
use std::alloc::System;
use std::env;
use std::io;
use std::process::ExitCode;
use toothmark::cli;
use toothmark::commands;
use toothmark::commands::apart;
use toothmark::commands::console;
use toothmark::commands::interrupt;

/// Memory, which a process that reads a spreadsheet for another gets only so much of.
#[global_allocator]
static MEMORY: cap::Cap<System> = cap::Cap::new(System, usize::MAX);

/// Exit codes: 0 done, 1 could not be done, 2 the command line was wrong (clap's own).
fn main() -> ExitCode {
    if let Some(wanted) = apart::wanted(env::args_os().skip(1)) {
        return read_apart(wanted);
    }
    apart::offer();
    let line = cli::CommandLine::try_parse().unwrap_or_else(|error| end(&error));
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

/// Reads a spreadsheet for another process of this program.
fn read_apart(wanted: apart::Wanted) -> ExitCode {
    let most = apart::MOST_MEGABYTES * 1024 * 1024;
    if MEMORY.set_limit(most).is_err() {
        return ExitCode::FAILURE;
    }
    match apart::serve(wanted, io::stdin().lock(), io::stdout().lock()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(_) => ExitCode::FAILURE,
    }
}

/// Ends with the help asked for, or with what is wrong with the command line, in which
/// nothing that was typed works on the terminal.
fn end(error: &clap::Error) -> ! {
    let typed = env::args_os().skip(1);
    let is_plain = typed
        .map(|argument| argument.to_string_lossy().into_owned())
        .all(|argument| console::visible(&argument) == argument);
    if is_plain {
        error.exit()
    }
    let text = error.render().to_string();
    console::Console::new(console::Loudness::Usual).error(text.trim_end());
    std::process::exit(error.exit_code())
}
