//! `forget` from outside: a pupil goes from records and results, and from nothing else.

use crate::decisions;
use crate::person;
use crate::program;
use crate::program::Program;
use std::fs;

/// The folder of a homework that is set, marked and given feedback on.
fn marked() -> Program {
    let sample = program::root().join("sample-classes/6-alder");
    let read = |name: &str| fs::read(sample.join(name)).expect("a sample file");
    let program = Program::new()
        .file("hw/homework.json", read("homework.json"))
        .file("hw/answers.xlsx", read("answers.xlsx"));
    let (program, run) = run(program, &["mark", "hw/answers.xlsx"]);
    run.succeeded();
    let (program, run) = self::run(program, &["feedback", "hw"]);
    run.succeeded();
    program
}

fn run(program: Program, arguments: &[&str]) -> (Program, program::Run) {
    let program = program.anew().arguments(arguments.iter().copied());
    let run = program.run();
    (program, run)
}

#[test]
fn a_pupil_is_taken_out_of_records_and_results() {
    let program = marked();
    let before = program.read("hw/marks.csv");
    assert!(before.contains("6A103") && before.contains("Milos Oxlade-Fenn"));
    let (program, run) = run(program, &["forget", "6A103", "hw"]);
    let run = run.succeeded();
    for file in ["hw/homework.json", "hw/marked.json", "hw/marks.csv"] {
        let text = program.read(file);
        assert!(!text.contains("6A103") && !text.contains("Milos"), "{file}");
        assert!(run.stdout.contains(file), "{file} is told:\n{}", run.stdout);
    }
    // Everybody else's marks are what they were.
    let kept: Vec<&str> = before.lines().filter(|it| !it.contains("6A103")).collect();
    let after = program.read("hw/marks.csv");
    assert_eq!(after.lines().collect::<Vec<_>>(), kept);
    // What the school made itself is told with its place, and left alone.
    let told = run.stdout.split("by hand:").nth(1).expect("it is told");
    assert!(told.contains("hw/answers.xlsx (answers!A4)"), "{told}");
}

#[test]
fn the_results_are_those_of_a_class_without_the_pupil() {
    let (program, run) = run(marked(), &["forget", "6A103", "hw"]);
    run.succeeded();
    let record = program.read("hw/marked.json");
    let marked = toothmark::marking::from_json(&record, "marked.json").expect("a record");
    assert_eq!(marked.pupils.len(), 23);
    let book = toothmark::workbook::results::write(&marked).expect("results");
    let stands = fs::read(program.path("hw/marked.xlsx")).expect("results");
    assert!(book == stands, "marked.xlsx is what the record says");
    // Whoever marks again with the pupil's row still there is told of it.
    let (program, run) = self::run(program, &["mark", "hw/answers.xlsx"]);
    let run = run.ended_with(1);
    let told = "answers!A4: 6A103 is no pupil id of this homework";
    assert!(run.stderr.contains(told), "{}", run.stderr);
    assert_eq!(program.read("hw/marked.json"), record);
}

#[test]
fn a_dry_run_says_the_same_and_writes_nothing() {
    let program = marked();
    let files = ["hw/homework.json", "hw/marked.json", "hw/marks.csv"];
    let before = files.map(|file| program.read(file));
    let (program, run) = run(
        program,
        &["forget", "6A103", "hw", "--dry-run", "--delete-too"],
    );
    let run = run.succeeded();
    assert!(run.stdout.contains("Would take 6A103"), "{}", run.stdout);
    assert!(run.stdout.contains("Would delete"), "{}", run.stdout);
    assert_eq!(files.map(|file| program.read(file)), before);
    assert!(program.path("hw/feedback.pdf").is_file());
}

#[test]
fn pages_and_copies_that_name_the_pupil_go_with_delete_too_only() {
    let program = marked();
    let copy = program.path("hw/marks 2026-03-02.csv");
    fs::copy(program.path("hw/marks.csv"), &copy).expect("copied");
    // What the school called alike is the school's own.
    let own = ["hw/class list.csv", "hw/marks of mine.csv", "hw/notes.json"];
    for name in own {
        fs::write(program.path(name), "\"6A104\"\n").expect("written");
    }
    fs::write(program.path("hw/feedback for parents.pdf"), "%PDF-1.7").expect("written");
    let (program, run) = run(program, &["forget", "6A103", "hw"]);
    let run = run.succeeded();
    let told = run.stdout.contains("--delete-too deletes them");
    assert!(told, "{}", run.stdout);
    assert!(copy.is_file() && program.path("hw/feedback.pdf").is_file());
    let (program, run) = self::run(program, &["forget", "6A104", "hw", "--delete-too"]);
    let run = run.succeeded();
    assert!(run.stdout.contains("Deleted"), "{}", run.stdout);
    assert!(!copy.exists() && !program.path("hw/feedback.pdf").exists());
    assert!(
        program.path("hw/answers.xlsx").is_file(),
        "what people typed stays"
    );
}

#[test]
fn what_stands_in_the_way_is_told_and_nothing_is_written() {
    let program = marked();
    let before = program.read("hw/marked.json");
    let mut program = program;
    for (arguments, told) in [
        (
            vec!["forget", "6A103", "hw", "lost"],
            "there is no such file or folder",
        ),
        (vec!["forget", "6A1O3", "hw"], "is it \"6A103\"?"),
        (
            vec!["forget", "6A103", "hw", "--name", "Somebody Else"],
            "\"6A103\" is the id of \"Milos Oxlade-Fenn\"",
        ),
    ] {
        let (same, run) = run(program, &arguments);
        program = same;
        let run = run.ended_with(1);
        assert!(run.stderr.contains(told), "{told}:\n{}", run.stderr);
        assert_eq!(program.read("hw/marked.json"), before);
    }
}

#[test]
fn marks_typed_since_the_marking_are_never_lost_and_those_kept_go_on_counting() {
    let answers = ["hw/answers.csv"];
    let (program, _) = decisions::mark(decisions::class(), &answers);
    let results = fs::read(program.path("hw/marked.xlsx")).expect("results");
    let row = [("Pupil ID", "P1"), ("Question", "Q5")];
    let typed = person::Book::open(&results).types("Marks", &row, "Changed mark", "1");
    let program = program.file("hw/marked.xlsx", typed.save());
    let (program, run) = self::run(program, &["forget", "P2", "hw"]);
    let run = run.ended_with(1);
    let told = "1 mark was typed into it since it was marked";
    assert!(run.stderr.contains(told), "{}", run.stderr);
    let (program, _) = decisions::mark(program, &answers);
    let before = decisions::marked(&program).decisions;
    let (program, run) = self::run(program, &["forget", "P2", "hw"]);
    run.succeeded();
    let marked = decisions::marked(&program);
    assert_eq!(marked.decisions, before);
    assert_eq!(decisions::mark_of(&marked, "P1", "Q5").marks, 1);
    // The decision about P1 alone goes with P1.
    let (program, run) = self::run(program, &["forget", "P1", "hw"]);
    run.succeeded();
    assert_eq!(decisions::marked(&program).decisions, []);
}
