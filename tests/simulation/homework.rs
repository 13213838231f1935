//! The homework of a class of the invented school.

use super::school;
use std::fs;
use std::path::Path;
use toothmark::bank;
use toothmark::homework;
use toothmark::level;

/// Returns the homework this class was set, from the shipped bank.
pub(crate) fn of(class: &school::Class, pupils: &[school::Pupil]) -> homework::Homework {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("question-banks")
        .join(class.bank);
    let text = fs::read_to_string(&path).expect("the shipped bank is there");
    let bank = bank::read(&text, class.bank).expect("the shipped bank has no faults");
    let (low, high) = class.levels;
    let plan = homework::Plan {
        banks: &[bank],
        pupils: pupils.iter().map(|pupil| pupil.on_roll.clone()).collect(),
        year: None,
        levels: format!("{low}-{high}")
            .parse::<level::Span>()
            .expect("a span of levels"),
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
    };
    let (homework, _notices) = homework::set(&plan).expect("the class can be set its homework");
    homework
}
