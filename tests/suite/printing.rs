//! Sheets as pupils need them, from the roll or for the class, and what of it is kept.

use crate::program::Program;
use lopdf::{Document, Object};
use std::collections::BTreeMap;
use std::fs;
use toothmark::bank;
use toothmark::homework;
use toothmark::level;
use toothmark::need;
use toothmark::paper;

const ROLL: &str = "pupil id,name,class,year,table,print size,spacing,tint,word card\n\
                    P1,Ann Example,5 Oak,5,red,24,,cream,\n\
                    P2,Ben Example,5 Oak,5,red,,,,yes\n\
                    P3,Cat Example,5 Oak,5,blue,usual,usual,none,no\n";

/// The program, about to set a homework from this bank for this roll.
fn set(bank: &str, roll: &str) -> Program {
    let bank = format!("{}/question-banks/{bank}.toml", env!("CARGO_MANIFEST_DIR"));
    Program::new()
        .file("roll.csv", roll)
        .argument("set")
        .argument("--bank")
        .argument(bank)
        .arguments(["--roll", "roll.csv", "--seed", "s", "--date", "2026-03-09"])
        .arguments(["--out", "out"])
}

fn sheets(program: &Program) -> Document {
    let bytes = fs::read(program.path("out/sheets.pdf")).expect("the sheets are there");
    Document::load_mem(&bytes).expect("they are a PDF")
}

/// How many drawings have a text alternative.
fn drawings(document: &Document) -> usize {
    let dictionaries = document.objects.values().filter_map(|it| it.as_dict().ok());
    dictionaries.filter(|it| it.has(b"Alt")).count()
}

/// The widths of the pages, in points.
fn widths(document: &Document) -> Vec<i64> {
    let number = |object: &Object| -> i64 {
        object
            .as_i64()
            .or_else(|_| {
                object
                    .as_float()
                    .map(|it| format!("{it:.0}").parse().unwrap_or(0))
            })
            .unwrap_or(0)
    };
    document
        .get_pages()
        .values()
        .map(|page| {
            let page = document.get_dictionary(*page).expect("a page");
            let media = page.get(b"MediaBox").and_then(Object::as_array);
            media.map_or(0, |sides| sides.get(2).map_or(0, number))
        })
        .collect()
}

#[test]
fn needs_of_the_roll_are_met_and_kept_nowhere() {
    let program = set("gears-7-11", ROLL).arguments(["--level", "3", "--questions", "3"]);
    program.run().succeeded();
    let record = program.read("out/homework.json");
    assert!(record.contains("\"table\""), "a group is kept");
    for need in [
        "print size",
        "spacing",
        "tint",
        "cream",
        "word card",
        "wide",
    ] {
        assert!(!record.contains(&format!("\"{need}\"")), "{need} is kept");
    }
    let usual = set(
        "gears-7-11",
        "pupil id,name,class,year,table\n\
                    P1,Ann Example,5 Oak,5,red\nP2,Ben Example,5 Oak,5,red\n\
                    P3,Cat Example,5 Oak,5,blue\n",
    )
    .arguments(["--level", "3", "--questions", "3"]);
    usual.run().succeeded();
    assert_eq!(
        record,
        usual.read("out/homework.json"),
        "needs change no question"
    );
    assert!(
        drawings(&sheets(&program)) > drawings(&sheets(&usual)),
        "a word card has drawings"
    );
}

#[test]
fn what_holds_for_the_class_gives_way_to_the_roll() {
    let program = set("gears-7-11", ROLL)
        .arguments(["--level", "3", "--questions", "3"])
        .arguments(["--print-size", "36", "--questions-a-page", "1"]);
    program.run().succeeded();
    let widths = widths(&sheets(&program));
    // A4 is 595 points wide and A3 842: first Ann in 24 point, then Ben as the class has
    // it, then Cat as usual.
    let mut runs = widths.clone();
    runs.dedup();
    assert_eq!(runs, [595, 842, 595], "{widths:?}");
}

#[test]
fn needs_that_cannot_be_met_are_told_at_once_and_nothing_is_written() {
    let roll = "pupil id,name,class,year,print size,tint\n\
                P1,Ann,Oak,5,20,cream\nP2,Ben,Oak,5,18,plaid\n";
    let program = set("gears-7-11", roll).arguments(["--level", "3", "--questions", "3"]);
    let run = program.run().ended_with(1);
    for told in [
        "roll.csv: E2: print size: found 20, looked for 18, 24, 36 or usual",
        "roll.csv: F3: tint: found plaid",
        "leave the cell empty",
    ] {
        assert!(run.stderr.contains(told), "{told}: {}", run.stderr);
    }
    assert!(!program.path("out").exists());
}

#[test]
fn an_option_that_is_none_is_refused_with_what_there_is() {
    let program = set("gears-7-11", ROLL)
        .arguments(["--level", "3", "--questions", "3"])
        .arguments(["--tint", "plaid"]);
    let run = program.run().ended_with(2);
    assert!(run.stderr.contains("cream"), "{}", run.stderr);
}

#[test]
fn every_question_that_is_drawn_is_drawn_in_large_print() {
    for bank in ["gears-5-7", "gears-7-11", "gears-11-14"] {
        let homework = every_question(bank);
        let count = |print_size| {
            let class = need::Class {
                usual: need::Needs {
                    print_size,
                    ..need::Needs::default()
                },
                ..need::Class::default()
            };
            let bytes = paper::sheets(&homework, &class).expect("it can be set");
            drawings(&Document::load_mem(&bytes).expect("it is a PDF"))
        };
        // A question that goes on to a second page has its drawing there too.
        let (usual, large) = (
            count(need::PrintSize::Usual),
            count(need::PrintSize::Point24),
        );
        assert!(usual > 10 && large >= usual, "{bank}: {usual}, {large}");
    }
}

/// A homework of one pupil with every question of a shipped bank.
fn every_question(name: &str) -> homework::Homework {
    let path = format!("{}/question-banks/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(path).expect("the bank is there");
    let bank = bank::read(&text, name).expect("the bank is sound");
    let level = |number| level::Level::new(number).expect("there is this level");
    let pupil = homework::Pupil {
        id: "P1".to_owned(),
        name: "Ann Example".to_owned(),
        class: "5 Oak".to_owned(),
        year: "5".to_owned(),
        level: None,
        groups: BTreeMap::new(),
    };
    let plan = homework::Plan {
        banks: std::slice::from_ref(&bank),
        pupils: vec![pupil],
        year: None,
        levels: level::Span {
            low: level(1),
            high: level(8),
        },
        skills: Vec::new(),
        questions: homework::Questions::All,
        versions: homework::Versions::Same,
        seed: "s".to_owned(),
        title: "Gears homework".to_owned(),
        date: "2026-03-09".to_owned(),
        keep_until: None,
    };
    homework::set(&plan).expect("the bank can be set").0
}
