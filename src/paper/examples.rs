//! Homework values made by hand for the tests of this folder.

use crate::answer;
use crate::gears::notation;
use crate::homework;
use crate::item;
use crate::level;
use crate::number;
use std::collections::BTreeMap;

/// One question of the example sheet.
struct Question<'a> {
    number: &'a str,
    text: &'a str,
    mechanism: &'a [&'a str],
    ask: &'a str,
    precision: number::Precision,
    marks: u8,
}

const PAIR: &str = "gear A 12 drives gear B 36";

/// Every form of answer, and a question with three parts.
const QUESTIONS: &[Question<'_>] = &[
    Question {
        number: "Q1",
        text: "Gear A makes 7 full turns. How many turns does gear B make?",
        mechanism: &[PAIR, "A turns 7"],
        ask: "turns of B",
        precision: number::Precision::Places(1),
        marks: 2,
    },
    Question {
        number: "Q2",
        text: "Gear A turns clockwise. Which way does gear B turn?",
        mechanism: &[PAIR, "A turns clockwise"],
        ask: "direction of B",
        precision: number::Precision::Exact,
        marks: 1,
    },
    Question {
        number: "Q3a",
        text: "Which gear turns faster?",
        mechanism: &[PAIR, "A turns 6"],
        ask: "faster of A, B",
        precision: number::Precision::Exact,
        marks: 1,
    },
    Question {
        number: "Q3b",
        text: "What is the ratio of the turns of A to the turns of B?",
        mechanism: &[PAIR],
        ask: "ratio of turns A : B",
        precision: number::Precision::Exact,
        marks: 2,
    },
    Question {
        number: "Q3c",
        text: "Gear A makes 6 full turns. How many turns does gear B make?",
        mechanism: &[PAIR, "A turns 6"],
        ask: "turns of B",
        precision: number::Precision::Places(1),
        marks: 2,
    },
    Question {
        number: "Q4",
        text: "What is part A called?",
        mechanism: &["rack A drives gear B 20"],
        ask: "name of A",
        precision: number::Precision::Exact,
        marks: 1,
    },
    Question {
        number: "Q5",
        text: "Choose gears so that gear A makes 3 turns while gear B makes 1 turn.",
        mechanism: &["gear A ? drives gear B ?", "A turns 3", "B turns 1"],
        ask: "choose A, B from 8, 16, 24, 32, 40",
        precision: number::Precision::Exact,
        marks: 2,
    },
];

/// A sheet of the example questions, all of one level.
fn sheet(version: &str, level: level::Level) -> homework::Sheet {
    homework::Sheet {
        version: version.to_owned(),
        items: QUESTIONS
            .iter()
            .map(|question| item(question, level))
            .collect(),
    }
}

fn item(question: &Question<'_>, level: level::Level) -> item::Item {
    let mechanism = notation::read(question.mechanism).expect("the test's own mechanism");
    let ask = notation::read_ask(question.ask, &mechanism).expect("the test's own question");
    let form = answer::form_for(
        &mechanism,
        &ask,
        None,
        question.precision,
        question.ask.starts_with("ratio"),
    )
    .expect("the test's own form");
    item::Item {
        number: question.number.to_owned(),
        bank: "test-bank".to_owned(),
        template: question.number.to_lowercase(),
        skill: level::Skill::Turns,
        level,
        story: "A toy crane has two gears that touch. Gear A has 12 teeth. Gear B has 36 teeth."
            .to_owned(),
        question: question.text.to_owned(),
        mechanism,
        ask,
        form,
        marks: question.marks,
        working: question.marks > 1,
        follows: Vec::new(),
    }
}

/// A pupil of the invented school.
pub(super) fn pupil(id: &str, name: &str) -> homework::Pupil {
    homework::Pupil {
        id: id.to_owned(),
        name: name.to_owned(),
        class: "5 Oak".to_owned(),
        year: "5".to_owned(),
        level: None,
        groups: BTreeMap::new(),
    }
}

/// A homework in which every pupil has a sheet of their own.
pub(super) fn homework(names: &[&str], level: u8) -> homework::Homework {
    let level = level::Level::new(level).expect("the test's own level");
    let number = |index: usize| (index + 1).to_string();
    homework::Homework {
        made_by: "0.1.0".to_owned(),
        code: "K7Q2".to_owned(),
        title: "Gears: turns and ratio".to_owned(),
        date: "2026-03-09".to_owned(),
        keep_until: None,
        banks: Vec::new(),
        seed: "test".to_owned(),
        sheets: (0..names.len())
            .map(|index| sheet(&number(index), level))
            .collect(),
        pupils: names
            .iter()
            .enumerate()
            .map(|(index, name)| homework::Assignment {
                pupil: pupil(&format!("P{}", number(index)), name),
                sheet: index,
            })
            .collect(),
    }
}
