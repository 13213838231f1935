//! A class with a homework.

use std::collections::BTreeMap;
use std::fs;
use toothmark::bank;
use toothmark::homework;
use toothmark::level;

/// Returns a homework of these questions, levels 3 to 5, for so many pupils in classes of
/// thirty.
pub(crate) fn homework(
    pupils: usize,
    questions: homework::Questions,
    versions: homework::Versions,
) -> homework::Homework {
    let path = "question-banks/gears-7-11.toml";
    let text = fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR")))
        .expect("the bank is there");
    let banks = [bank::read(&text, path).expect("the bank is sound")];
    let pupil = |number: usize| homework::Pupil {
        id: format!("P{number}"),
        name: format!("Pupil {number}"),
        class: format!("Class {}", number / 30),
        year: "5".to_owned(),
        level: None,
        groups: BTreeMap::new(),
    };
    let plan = homework::Plan {
        banks: &banks,
        pupils: (0..pupils).map(pupil).collect(),
        year: None,
        levels: "3-5".parse::<level::Span>().expect("a span"),
        skills: Vec::new(),
        questions,
        versions,
        seed: "bench".to_owned(),
        title: "Bench".to_owned(),
        date: "2026-03-09".to_owned(),
        keep_until: None,
    };
    homework::set(&plan).expect("it can be set").0
}
