//! Two people at one folder: two runs at once, and results that somebody has open.

use crate::decisions::{class, mark_of, marked};
use crate::faults::{decided, files};
use crate::program::Program;
use std::fs;
use std::process::Stdio;
use std::time::{Duration, SystemTime};
use toothmark::marking;

/// How often two run at once.
const ROUNDS: usize = 25;

const HEADINGS: &str = "Pupil ID,Pupil,Attendance,Q1,Q2,Q3,Q4,Q5,Q5 working,Q6,Q6 working\n";
const P1: &str = "P1,Runa Larkmoor,,A,C,24,no,8,,9:5,\n";
const P4: &str = "P4,Oke Farrowby,,B,C,16,no,8,,9:5,\n";

#[test]
fn two_who_mark_into_one_folder_at_once_both_find_their_marks_there() {
    for round in 0..ROUNDS {
        let mut program = class()
            .file("hw/answers.csv", format!("{HEADINGS}{P1}"))
            .file("hw/late.csv", format!("{HEADINGS}{P4}"));
        // Into a folder that is there, and into one that both make.
        let out = if round % 2 == 0 { "hw" } else { "hw/results" };
        let mut runs = Vec::new();
        for answers in ["hw/answers.csv", "hw/late.csv"] {
            program = program.anew().arguments(["mark", answers, "--out", out]);
            let mut command = program.command();
            command.stdout(Stdio::piped()).stderr(Stdio::piped());
            runs.push(command.spawn().expect("it can be started"));
        }
        for run in runs {
            let output = run.wait_with_output().expect("it has ended");
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            assert!(output.status.success(), "{said}");
        }
        let record = program.read(&format!("{out}/marked.json"));
        let found = marking::from_json(&record, "marked.json").expect("a record");
        for pupil in ["P1", "P4"] {
            let state = mark_of(&found, pupil, "Q4").state;
            assert_eq!(state, marking::State::Correct, "round {round}: {pupil}");
        }
        let left = files(&program.path(out))
            .into_keys()
            .find(|name| name.starts_with('.'));
        assert_eq!(left, None);
    }
}

#[test]
fn who_finds_the_folder_held_for_long_is_told_and_nothing_changes() {
    let program = decided();
    let lock = fs::File::create(program.path("hw/.toothmark-lock")).expect("made");
    lock.lock().expect("it is held");
    fs::write(program.path("hw/.toothmark-lock"), "ann, process 7\n").expect("written");
    let before = files(&program.path("hw"));
    let run = program.run().ended_with(1);
    for said in [
        "warning: hw: waiting for another run",
        "(ann, process 7, for ",
        "problem: hw: another run of the program is still writing into this folder",
        "nothing was changed",
    ] {
        assert!(run.stderr.contains(said), "{said}: {}", run.stderr);
    }
    assert!(files(&program.path("hw")) == before);
    // The file alone holds nobody up.
    drop(lock);
    program.run().succeeded();
    assert_eq!(marked(&program).decisions.len(), 2);
    assert!(!program.path("hw/.toothmark-lock").exists() || cfg!(windows));
}

/// The file that a spreadsheet program puts beside a workbook that it has open.
fn open_in_libreoffice(program: Program, name: &str) -> Program {
    program.file(
        &format!("hw/.~lock.{name}#"),
        ",ann,office-pc,25.11.2026 20:57,file:///home/ann/.config/libreoffice/4;",
    )
}

#[test]
fn results_that_somebody_has_open_are_not_overwritten() {
    let program = open_in_libreoffice(decided(), "marked.xlsx");
    let before = files(&program.path("hw"));
    let run = program.run().ended_with(1);
    for said in [
        "marked.xlsx: is open in LibreOffice (by ann on office-pc since 25.11.2026 20:57)",
        "save and close it there",
    ] {
        assert!(run.stderr.contains(said), "{said}: {}", run.stderr);
    }
    assert!(files(&program.path("hw")) == before);
    // One that was left over is said to be, and holds nobody up.
    let lock = program.path("hw/.~lock.marked.xlsx#");
    let file = fs::File::options().write(true).open(&lock).expect("there");
    let long_ago = SystemTime::now() - Duration::from_hours(72);
    file.set_modified(long_ago).expect("the time can be set");
    let run = program.run().succeeded();
    assert!(run.stderr.contains("taken to be closed"), "{}", run.stderr);
    assert_eq!(marked(&program).decisions.len(), 2);
}

#[test]
fn answers_that_somebody_has_open_are_marked_as_they_were_saved() {
    let program = open_in_libreoffice(decided(), "answers.csv");
    let run = program.run().succeeded();
    assert!(
        run.stderr
            .contains("answers.csv: may be open in LibreOffice")
            && run.stderr.contains("last saved is not marked"),
        "{}",
        run.stderr
    );
}
