//! Explanations through the whole program: set, marked, gathered in `To check` by the
//! ideas in them, decided, and asked about again where the words are new.

use crate::decisions::{mark, mark_of, marked};
use crate::person::Book;
use crate::program::Program;
use std::fs;
use toothmark::marking;

const BANK: &str = r#"
format = 1

[bank]
id = "why"
title = "Why"
edition = "1"

[[template]]
id = "faster-why"
skill = "faster-slower"
levels = [3]
stories = ["A toy snail has two gears. Gear A has 8 teeth. Gear B has 16 teeth. Gear A drives gear B."]
mechanism = ["gear A 8 drives gear B 16"]

[[template.part]]
question = "Which gear turns faster?"
ask = "faster of A, B"

[[template.part]]
question = "How do you know?"
ask = "why faster of A, B"
"#;

const ROLL: &str = "pupil id,name,class,year\n\
    P1,Ann Example,4X,4\nP2,Ben Example,4X,4\nP3,Cat Example,4X,4\nP4,Dan Example,4X,4\n\
    P5,Eve Example,4X,4\nP6,Fay Example,4X,4\nP7,Gus Example,4X,4\n";

const HEADINGS: &str = "Pupil ID,Pupil,Q1a,Q1b,Attendance\n";

/// Ann, Ben, Cat and Dan have one idea in three texts; Eve has it the wrong way round,
/// Fay says nothing of it, Gus left it out.
const ANSWERS: &str = "P1,,gear A,it is smaller,\nP2,,gear A,It is  smaller,\n\
    P3,,gear A,coz its littler so it gos round more times,\nP4,,gear A,A has fewer teeth,\n\
    P5,,gear B,because it is bigger,\nP6,,gear A,i just no it,\nP7,,gear A,,\n";

const LIKE: &[(&str, &str)] = &[("Question", "Q1b"), ("Pupils", "4")];

fn set() -> Program {
    let program = Program::new()
        .file("why.toml", BANK)
        .file("roll.csv", ROLL)
        .arguments([
            "set", "--bank", "why.toml", "--roll", "roll.csv", "--level", "3",
        ])
        .arguments([
            "--questions",
            "all",
            "--seed",
            "snail",
            "--date",
            "2026-10-06",
        ])
        .arguments(["--out", "hw"]);
    program.run().succeeded();
    program
}

fn answered(answers: &str) -> (Program, marking::Marked) {
    let program = set().file("hw/answers.csv", format!("{HEADINGS}{answers}"));
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let found = marked(&program);
    (program, found)
}

fn results(program: &Program) -> Book {
    Book::open(&fs::read(program.path("hw/marked.xlsx")).expect("a workbook"))
}

#[test]
fn the_record_of_a_homework_holds_the_question_and_no_idea() {
    let program = set();
    let record = program.read("hw/homework.json");
    assert!(record.contains("\"why faster of A, B\""), "{record}");
    assert!(record.contains("\"format\": 1"), "{record}");
    assert!(!record.contains("smaller"), "{record}");
}

#[test]
fn like_explanations_stand_in_one_row_with_every_text_that_a_mark_would_hold_for() {
    let (program, found) = answered(ANSWERS);
    for (pupil, marks) in [
        ("P1", 1),
        ("P2", 1),
        ("P3", 1),
        ("P4", 1),
        ("P5", 0),
        ("P6", 0),
    ] {
        let mark = mark_of(&found, pupil, "Q1b");
        assert_eq!(mark.marks, marks, "{pupil}: {}", mark.reason);
        assert!(!mark.check.is_empty(), "{pupil} is settled");
    }
    let blank = mark_of(&found, "P7", "Q1b");
    assert_eq!(
        (blank.state, blank.check.as_str()),
        (marking::State::NotReached, "")
    );
    let wrong = mark_of(&found, "P5", "Q1b");
    assert_eq!(wrong.misconceptions, ["big-gear-faster"]);
    let book = results(&program);
    assert_eq!(book.row_count("To check"), 3);
    let texts = book.text("To check", LIKE, "Answer");
    let mut lines: Vec<&str> = texts.lines().collect();
    lines.sort_unstable();
    assert_eq!(
        lines,
        [
            "A has fewer teeth",
            "coz its littler so it gos round more times",
            "it is smaller"
        ]
    );
    assert_eq!(book.text("To check", LIKE, "Proposed"), "1");
    let reason = book.text("To check", LIKE, "Reason for the proposal");
    assert!(
        reason.starts_with("Found: the smaller one, with fewer teeth, turns faster."),
        "{reason}"
    );
}

#[test]
fn a_mark_holds_for_the_texts_of_its_row_and_other_words_are_asked_about() {
    let (program, _) = answered(ANSWERS);
    let book = results(&program)
        .types("To check", LIKE, "Your mark", "0")
        .types("To check", LIKE, "Decided by", "AB");
    let mut program = program.file("hw/marked.xlsx", book.save());
    // The second time nothing is new.
    for _ in 0..2 {
        (program, _) = mark(program, &["hw/answers.csv"]);
        let found = marked(&program);
        assert_eq!(found.decisions.len(), 3, "a decision for each text");
        let mut typed: Vec<&str> = found.decisions.iter().map(|it| it.typed.as_str()).collect();
        typed.sort_unstable();
        assert_eq!(typed[2], "it is smaller");
        for pupil in ["P1", "P2", "P3", "P4"] {
            let mark = mark_of(&found, pupil, "Q1b");
            assert_eq!((mark.marks, mark.check.as_str()), (0, ""), "{pupil}");
            assert!(mark.decided.is_some());
        }
        let book = results(&program);
        assert_eq!(book.text("To check", LIKE, "Your mark"), "0");
    }
    // Gus hands in late: the same idea in words that nobody has seen.
    let late = format!("{HEADINGS}P7,,gear A,the small gear goes faster,\n");
    let (program, _) = mark(program.file("hw/late.csv", late), &["hw/late.csv"]);
    let found = marked(&program);
    let gus = mark_of(&found, "P7", "Q1b");
    assert_eq!(gus.marks, 1, "what is proposed: {}", gus.reason);
    assert!(!gus.check.is_empty() && gus.decided.is_none());
    assert_eq!(gus.like, mark_of(&found, "P1", "Q1b").like);
    assert_ne!(gus.code, mark_of(&found, "P1", "Q1b").code);
    let own: &[(&str, &str)] = &[
        ("Question", "Q1b"),
        ("Answer", "the small gear goes faster"),
    ];
    let book = results(&program);
    let why = book.text("To check", own, "Why look");
    assert!(
        why.ends_with("like answers in other words were given 0"),
        "{why}"
    );
    assert_eq!(book.text("To check", LIKE, "Your mark"), "0");
}

#[test]
fn one_pupil_s_mark_can_be_changed_apart_from_the_row() {
    let (program, _) = answered(ANSWERS);
    let cat: &[(&str, &str)] = &[("Pupil ID", "P3"), ("Question", "Q1b")];
    let book = results(&program)
        .types("To check", LIKE, "Your mark", "1")
        .types("Marks", cat, "Changed mark", "0");
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/answers.csv"],
    );
    let found = marked(&program);
    assert_eq!(mark_of(&found, "P3", "Q1b").marks, 0);
    assert_eq!(mark_of(&found, "P4", "Q1b").marks, 1);
    assert!(
        found
            .pupils
            .iter()
            .flat_map(|entry| &entry.marks)
            .all(|mark| {
                mark.check.is_empty() || ["P5", "P6"].contains(&mark.pupil_id.as_str())
            })
    );
}

#[test]
fn it_is_what_the_pupil_answered_before() {
    // Ann took the big gear for the faster one: "it is bigger" and "B is bigger" are of
    // one mind; for Ben, who was right, the second is true.
    let (_, found) =
        answered("P1,,gear B,B is bigger,\nP2,,gear A,B is bigger,\nP3,,gear B,it is smaller,\n");
    let ann = mark_of(&found, "P1", "Q1b");
    assert_eq!(
        (ann.marks, ann.misconceptions.len()),
        (0, 1),
        "{}",
        ann.reason
    );
    assert!(
        ann.reason
            .ends_with("Before, the pupil answered Q1a gear B."),
        "{}",
        ann.reason
    );
    assert_eq!(mark_of(&found, "P2", "Q1b").marks, 1);
    let cat = mark_of(&found, "P3", "Q1b");
    assert_eq!(
        (cat.marks, cat.misconceptions.len()),
        (0, 0),
        "{}",
        cat.reason
    );
    assert_ne!(ann.code, mark_of(&found, "P2", "Q1b").code);
}

#[test]
fn a_large_group_stands_in_rows_that_can_be_read() {
    let words = [
        "is", "was", "looks", "seems", "feels", "is much", "is so", "is very", "is a bit",
    ];
    let roll: Vec<String> = (0..18)
        .map(|index| format!("P{index},Pupil {index},4X,4\n"))
        .collect();
    let answers: Vec<String> = (0..18)
        .map(|index| {
            let word = words[index / 2];
            let end = if index % 2 == 0 {
                "smaller"
            } else {
                "smaller than B"
            };
            format!("P{index},,gear A,it {word} {end},\n")
        })
        .collect();
    let program = set()
        .file(
            "roll.csv",
            format!("pupil id,name,class,year\n{}", roll.concat()),
        )
        .anew()
        .arguments([
            "set", "--bank", "why.toml", "--roll", "roll.csv", "--level", "3",
        ])
        .arguments([
            "--questions",
            "all",
            "--seed",
            "snail",
            "--date",
            "2026-10-06",
        ])
        .arguments(["--out", "all"]);
    program.run().succeeded();
    let program = program.file("all/answers.csv", format!("{HEADINGS}{}", answers.concat()));
    let (program, _) = mark(program, &["all/answers.csv"]);
    let book = Book::open(&fs::read(program.path("all/marked.xlsx")).expect("a workbook"));
    assert_eq!(book.row_count("To check"), 3, "eight, eight and two texts");
}
