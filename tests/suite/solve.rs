//! `toothmark solve` on a mechanism of every kind, from outside.
//!
//! A case is a file of `tests/cases/solve`: the arguments, one a line; a line of
//! dashes, with the exit code where it is not nought; then what is printed. Cases
//! are kept once their numbers have been worked by hand; no test rewrites them.

use crate::program;
use std::fs;

struct Case {
    arguments: Vec<String>,
    code: i32,
    printed: String,
}

fn read(text: &str) -> Option<Case> {
    let (arguments, rest) = text.split_once("\n----")?;
    let (ending, printed) = rest.split_once('\n')?;
    Some(Case {
        arguments: arguments.lines().map(str::to_owned).collect(),
        code: match ending.trim().strip_prefix("exit ") {
            Some(code) => code.parse().ok()?,
            None => 0,
        },
        printed: printed.to_owned(),
    })
}

#[test]
fn every_kind_of_mechanism_is_worked_as_written_down() {
    let folder = program::root().join("tests/cases/solve");
    let mut names: Vec<_> = fs::read_dir(folder)
        .expect("the cases are there")
        .map(|entry| entry.expect("the entry can be read").path())
        .collect();
    names.sort();
    assert!(names.len() >= 25, "cases have gone missing");
    let mut wrong = Vec::new();
    for path in names {
        let text = fs::read_to_string(&path).expect("the case can be read");
        let case = read(&text).unwrap_or_else(|| panic!("{}: no case", path.display()));
        let run = program::Program::new()
            .argument("solve")
            .arguments(&case.arguments)
            .run();
        let printed = format!("{}{}", run.stdout, run.stderr);
        if run.code != case.code || printed.trim_end() != case.printed.trim_end() {
            wrong.push(format!(
                "{}: ended with {}, wanted {}\n{}",
                path.display(),
                run.code,
                case.code,
                program::difference(case.printed.trim_end(), printed.trim_end())
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn quotes_may_be_left_out() {
    let quoted = program::Program::new()
        .arguments(["solve", "gear A 12 drives gear B 36", "A turns 9"])
        .run()
        .succeeded();
    let bare = program::Program::new()
        .arguments("solve gear A 12 drives gear B 36; A turns 9".split(' '))
        .run()
        .succeeded();
    assert_eq!(quoted.stdout, bare.stdout);
}

#[test]
fn problems_go_to_the_error_stream_only() {
    let run = program::Program::new()
        .arguments(["solve", "geer A 12"])
        .run()
        .ended_with(1);
    assert_eq!(run.stdout, "");
    assert!(
        run.stderr.contains("did you mean \"gear\"?"),
        "{}",
        run.stderr
    );
}

#[test]
fn a_closed_pipe_is_success() {
    // The reader goes away before anything is written.
    let (reader, writer) = std::io::pipe().expect("a pipe can be made");
    drop(reader);
    let status = std::process::Command::new(env!("CARGO_BIN_EXE_toothmark"))
        .args(["solve", "gear A 12 drives gear B 36"])
        .stdout(writer)
        .status()
        .expect("the program can be started");
    assert_eq!(status.code(), Some(0));
}
