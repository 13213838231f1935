//! Feedback on paper from outside: the sample classes, the words, what is missing.

use crate::program;
use crate::program::Program;
use std::fs;

/// A program in a folder with a marked sample class.
fn marked(class: &str, answers: &str) -> Program {
    let sample = program::root().join("sample-classes").join(class);
    let read = |name: &str| fs::read(sample.join(name)).expect("a sample");
    let program = Program::new()
        .file("homework.json", read("homework.json"))
        .file(answers, read(answers))
        .arguments(["--quiet", "mark", answers]);
    program.run().succeeded();
    program.anew()
}

fn page_count(bytes: &[u8]) -> usize {
    let document = lopdf::Document::load_mem(bytes).expect("a PDF");
    document.get_pages().len()
}

#[test]
fn every_sample_class_gets_a_page_and_four_notes_a_page() {
    for (class, answers, pupils) in [
        ("2-hazel", "answers.ods", 26_usize),
        ("5-rowan", "answers.xlsx", 30),
        ("6-alder", "answers.xlsx", 24),
        ("8-linden", "answers.csv", 28),
    ] {
        let program = marked(class, answers).arguments(["feedback", "marked.json"]);
        let run = program.run().succeeded();
        assert!(
            run.stdout.contains(&format!("{pupils} notes")),
            "{}",
            run.stdout
        );
        let bytes = fs::read(program.path("feedback.pdf")).expect("it was written");
        assert_eq!(page_count(&bytes), 1 + pupils.div_ceil(4), "{class}");
    }
}

#[test]
fn feedback_is_the_same_each_time_and_a_seed_gives_other_numbers() {
    let program = marked("6-alder", "answers.xlsx");
    let mut files = Vec::new();
    for (out, more) in [
        ("one", &[][..]),
        ("two", &[]),
        ("three", &["--seed", "another"]),
        ("four", &["--marks"]),
    ] {
        let program = Program::new()
            .argument("feedback")
            // The folder of the marks stands for its marked.json.
            .argument(program.path(""))
            .arguments(["--out", out])
            .arguments(more);
        program.run().succeeded();
        files.push(fs::read(program.path(out).join("feedback.pdf")).expect(out));
    }
    assert!(files[0] == files[1], "two runs gave different files");
    assert!(files[0] != files[2], "a seed changes the numbers");
    assert!(files[0] != files[3], "the marks are told");
}

#[test]
fn words_written_out_can_be_given_back() {
    let program = marked("2-hazel", "answers.ods");
    let program = program.arguments(["feedback", "--show-words"]);
    let words = program.run().succeeded().stdout;
    let program = program.anew().file("words.toml", words);
    let program = program.arguments(["feedback", "marked.json", "--out", "usual"]);
    program.run().succeeded();
    let program = program.anew().arguments([
        "feedback",
        "marked.json",
        "--words",
        "words.toml",
        "--out",
        "given",
    ]);
    program.run().succeeded();
    let read = |out: &str| fs::read(program.path(out).join("feedback.pdf")).expect(out);
    assert!(
        read("usual") == read("given"),
        "the same words give the same pages"
    );
}

#[test]
fn every_fault_is_told_at_once() {
    let program = marked("2-hazel", "answers.ods")
        .file("words.toml", "[note]\ncann = \"x\"\nanswer = \"It is.\"\n")
        .arguments(["feedback", "gone.json", "--words", "words.toml"]);
    let run = program.run().ended_with(1);
    for told in [
        "gone.json: there is no such file",
        "words.toml:2:1: unknown key `cann`",
        "did you mean `can`?",
        "words.toml:3:10: `answer`: the place {answer} is missing",
    ] {
        assert!(run.stderr.contains(told), "{told}: {}", run.stderr);
    }
    assert!(!program.path("feedback.pdf").exists());
}

#[test]
fn a_record_that_is_missing_is_asked_for() {
    let program = marked("2-hazel", "answers.ods");
    fs::remove_file(program.path("homework.json")).expect("it was there");
    let program = program.arguments(["feedback", "marked.json"]);
    let run = program.run().ended_with(1);
    for told in [
        "homework.json",
        "which holds the questions",
        "--homework FILE",
    ] {
        assert!(run.stderr.contains(told), "{told}: {}", run.stderr);
    }
}

#[test]
fn the_record_of_another_homework_is_refused() {
    let other = program::root().join("sample-classes/6-alder/homework.json");
    let program = marked("2-hazel", "answers.ods")
        .arguments(["feedback", "marked.json", "--homework"])
        .argument(other);
    let run = program.run().ended_with(1);
    assert!(
        run.stderr.contains("the marks belong to homework"),
        "{}",
        run.stderr
    );
}

#[test]
fn a_record_of_an_earlier_version_gets_feedback_too() {
    let earlier = program::root().join("tests/cases/earlier-version");
    let program = Program::new()
        .argument("feedback")
        .argument(earlier.join("marked.json"))
        .arguments(["--out", "out"]);
    program.run().succeeded();
    let bytes = fs::read(program.path("out/feedback.pdf")).expect("it was written");
    assert!(page_count(&bytes) >= 2);
}
