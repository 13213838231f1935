//! Homework values made by hand for the tests of this folder.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::homework;
use crate::item;
use crate::level;
use crate::number;
use std::collections::BTreeMap;

fn item(number: &str, form: answer::Form, marks: u8) -> item::Item {
    item::Item {
        number: number.to_owned(),
        bank: "test-bank".to_owned(),
        template: format!("template-{}", number.to_lowercase()),
        skill: level::Skill::Turns,
        level: level::Level::new(4).expect("4 is a level"),
        story: "A toy crane has two gears that touch.".to_owned(),
        question: "Gear A makes 6 full turns. How many turns does gear B make?".to_owned(),
        mechanism: mechanism::Mechanism {
            parts: Vec::new(),
            body_count: 0,
            joints: Vec::new(),
            givens: Vec::new(),
        },
        ask: ask::Ask::WillItTurn,
        form,
        marks,
        working: marks > 1,
        follows: None,
    }
}

fn number() -> answer::Form {
    answer::Form::Number {
        unit: answer::Unit::Turns,
        precision: number::Precision::Exact,
    }
}

fn list(entries: &[&str]) -> answer::Form {
    answer::Form::List {
        options: entries
            .iter()
            .map(|text| answer::ListOption {
                fact: ask::Fact::YesNo(true),
                text: (*text).to_owned(),
                also: Vec::new(),
                perhaps: Vec::new(),
            })
            .collect(),
    }
}

/// A pupil of the invented school.
pub(super) fn pupil(id: &str, name: &str) -> homework::Pupil {
    homework::Pupil {
        id: id.to_owned(),
        name: name.to_owned(),
        class: "Maple".to_owned(),
        year: "5".to_owned(),
        level: None,
        groups: BTreeMap::new(),
    }
}

/// A sheet with a number, a direction, a ratio, a name from a long list and a choice.
pub(super) fn sheet(version: &str) -> homework::Sheet {
    let ratio = answer::Form::Ratio {
        first: "turns of A".to_owned(),
        second: "turns of B".to_owned(),
        simplest: true,
    };
    let gears = answer::Form::Gears {
        labels: vec!["A".to_owned(), "B".to_owned()],
        from: vec![8, 16, 24],
    };
    homework::Sheet {
        version: version.to_owned(),
        items: vec![
            item("Q1", number(), 2),
            item("Q2", list(&["clockwise", "anticlockwise"]), 1),
            item("Q3a", ratio, 2),
            item(
                "Q3b",
                list(&["the drive gear, which turns first", "an idler"]),
                1,
            ),
            item("Q4", gears, 1),
        ],
    }
}

/// A homework for three pupils with a sheet each; the last sheet has no `Q4`.
pub(super) fn homework() -> homework::Homework {
    let mut short = sheet("C");
    short.items.truncate(4);
    homework::Homework {
        made_by: "0.1.0".to_owned(),
        code: "QL-7F3".to_owned(),
        title: "Gears & turns".to_owned(),
        date: "2026-03-02".to_owned(),
        banks: Vec::new(),
        seed: "example".to_owned(),
        sheets: vec![sheet("A"), sheet("B"), short],
        pupils: [
            ("P01", "Ann Example"),
            ("P02", "Ben Example"),
            ("P03", "Cat Example"),
        ]
        .into_iter()
        .zip(0..)
        .map(|((id, name), sheet)| homework::Assignment {
            pupil: pupil(id, name),
            sheet,
        })
        .collect(),
    }
}
