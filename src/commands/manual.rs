//! `toothmark manual`: manual pages and completions for shells, from the command line's own
//! definition.

use crate::cli;
use crate::commands::console;
use crate::commands::files;
use crate::commands::lock;
use crate::commands::save;
use crate::problem;
use clap::CommandFactory;
use clap::ValueEnum;
use std::path::Path;
use std::path::PathBuf;

/// Writes a manual page for the program and for each command, and a completion for each
/// shell.
///
/// # Errors
///
/// A folder or files that cannot be written, or other files of these names.
pub fn run(
    arguments: &cli::ManualArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let mut outputs = pages(&arguments.out).map_err(|error| {
        let what = format!("the manual could not be made: {error}");
        vec![problem::Problem::new("manual", what, "")]
    })?;
    let pages = outputs.len();
    outputs.extend(completions(&arguments.out));
    let lock = lock::take(&arguments.out, console).map_err(|problem| vec![problem])?;
    save::all(&lock, &outputs, &[])?;
    console.result(format_args!(
        "Wrote {pages} manual pages and {} completions into {}",
        outputs.len() - pages,
        files::shown(&arguments.out)
    ));
    console.remark(
        "  Files that end in .1 go where your system keeps manual pages (to read one: man -l \
         toothmark.1),\n  the others where your shell keeps completions.",
    );
    Ok(())
}

/// A page for the program, and one for each command and each command's own.
fn pages(out: &Path) -> std::io::Result<Vec<save::Output>> {
    // Built, so that every page has the whole name of its command.
    let mut program = cli::CommandLine::command();
    program.build();
    let mut outputs = Vec::new();
    let mut left = vec![program];
    while let Some(command) = left.pop() {
        let own = command
            .get_subcommands()
            .filter(|it| it.get_name() != "help");
        left.extend(own.cloned());
        let page = clap_mangen::Man::new(command);
        let mut bytes = Vec::new();
        page.render(&mut bytes)?;
        outputs.push(output(out.join(page.get_filename()), bytes));
    }
    outputs.sort_by(|one, other| one.path.cmp(&other.path));
    Ok(outputs)
}

fn completions(out: &Path) -> Vec<save::Output> {
    let mut outputs = Vec::new();
    for shell in clap_complete::Shell::value_variants() {
        let mut program = cli::CommandLine::command();
        let name = program.get_name().to_owned();
        let mut bytes = Vec::new();
        clap_complete::generate(*shell, &mut program, name, &mut bytes);
        let file = format!("toothmark.{shell}");
        outputs.push(output(out.join(file), bytes));
    }
    outputs
}

fn output(path: PathBuf, bytes: Vec<u8>) -> save::Output {
    save::Output {
        path,
        bytes,
        standing: save::Standing::Replaced,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_command_has_a_page_with_its_arguments() {
        let pages = pages(Path::new("out")).expect("they are made");
        let text = |name: &str| {
            let path = Path::new("out").join(name);
            let page = pages.iter().find(|page| page.path == path).expect(name);
            String::from_utf8(page.bytes.clone()).expect("text")
        };
        let page = |command: &clap::Command| text(&format!("toothmark-{}.1", command.get_name()));
        for command in cli::CommandLine::command().get_subcommands() {
            let page = page(command);
            for argument in command.get_arguments().filter_map(clap::Arg::get_long) {
                let argument = format!("\\-\\-{}", argument.replace('-', "\\-"));
                assert!(page.contains(&argument), "{argument} in {page}");
            }
        }
        assert!(text("toothmark.1").contains("toothmark\\-mark(1)"));
        assert!(text("toothmark-bank-check.1").contains("toothmark bank check"));
    }

    #[test]
    fn every_shell_has_a_completion_with_every_command() {
        let completions = completions(Path::new("out"));
        assert_eq!(completions.len(), 5);
        for completion in completions {
            let text = String::from_utf8(completion.bytes).expect("text");
            for command in cli::CommandLine::command().get_subcommands() {
                let name = command.get_name();
                assert!(
                    text.contains(name),
                    "{name} in {}",
                    completion.path.display()
                );
            }
        }
    }
}
