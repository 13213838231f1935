//! The homework of a class of the invented school.

use super::school;
use std::fs;
use std::path::Path;
use toothmark::bank;
use toothmark::homework;
use toothmark::level;

/// Returns the homework this class was set, from the shipped bank.
pub(crate) fn of(class: &school::Class, pupils: &[school::Pupil]) -> homework::Homework {
    let (low, high) = class.levels;
    set(&homework::Plan {
        banks: &[bank(class.bank)],
        pupils: pupils.iter().map(|pupil| pupil.on_roll.clone()).collect(),
        year: None,
        levels: span(low, high),
        skills: Vec::new(),
        questions: homework::Questions::Count(class.question_count),
        versions: if class.each {
            homework::Versions::Each
        } else {
            homework::Versions::Same
        },
        seed: class.seed.to_owned(),
        title: class.title.to_owned(),
        date: class.date.to_owned(),
        keep_until: None,
    })
}

/// Returns a homework with every question of a shipped bank, the same for all.
pub(crate) fn whole_bank(
    file: &str,
    (low, high): (u8, u8),
    pupils: &[school::Pupil],
) -> homework::Homework {
    set(&homework::Plan {
        banks: &[bank(file)],
        pupils: pupils.iter().map(|pupil| pupil.on_roll.clone()).collect(),
        year: None,
        levels: span(low, high),
        skills: Vec::new(),
        questions: homework::Questions::All,
        versions: homework::Versions::Same,
        seed: "every-question-d".to_owned(),
        title: "Every question".to_owned(),
        date: "2025-10-10".to_owned(),
        keep_until: None,
    })
}

fn bank(file: &str) -> bank::Bank {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("question-banks")
        .join(file);
    let text = fs::read_to_string(&path).expect("the shipped bank is there");
    bank::read(&text, file).expect("the shipped bank has no faults")
}

fn span(low: u8, high: u8) -> level::Span {
    format!("{low}-{high}").parse().expect("a span of levels")
}

fn set(plan: &homework::Plan<'_>) -> homework::Homework {
    let (homework, _notices) = homework::set(plan).expect("the class can be set its homework");
    homework
}
