//! Homework values made by hand for the tests of this folder.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::homework;
use crate::item;
use crate::level;
use crate::number;
use std::collections::BTreeMap;

/// A spur gear on its own axle.
fn gear(name: &str, body: u16, teeth: u32) -> mechanism::Part {
    mechanism::Part {
        name: name.to_owned(),
        kind: mechanism::Kind::Gear {
            teeth: mechanism::Count::Known(teeth),
        },
        body: mechanism::BodyId(body),
        tooth_size_mm: None,
        rides_on: None,
    }
}

/// A pair of gears of which the first makes so many turns clockwise.
pub(super) fn pair(first: u32, second: u32, turns: i64) -> mechanism::Mechanism {
    let (a, b) = (mechanism::PartId(0), mechanism::PartId(1));
    mechanism::Mechanism {
        parts: vec![gear("A", 0, first), gear("B", 1, second)],
        body_count: 2,
        joints: vec![mechanism::Joint {
            first: a,
            second: b,
            link: mechanism::Link::Mesh,
            driver_named: true,
        }],
        givens: vec![mechanism::Given::Motion {
            part: a,
            amount: Some(mechanism::Amount::Turns(number::Number::whole(turns))),
            sense: Some(mechanism::Sense::Clockwise),
        }],
    }
}

/// The words of a list of answers.
fn list(entries: &[(ask::Fact, &str)]) -> answer::Form {
    answer::Form::List {
        options: entries
            .iter()
            .map(|(fact, text)| answer::ListOption {
                fact: fact.clone(),
                text: (*text).to_owned(),
                also: Vec::new(),
                perhaps: Vec::new(),
            })
            .collect(),
    }
}

/// An item about a pair.
fn about(
    number: &str,
    question: &str,
    asked: ask::Ask,
    form: answer::Form,
    marks: u8,
) -> item::Item {
    item::Item {
        number: number.to_owned(),
        bank: "test-bank".to_owned(),
        template: number.to_lowercase(),
        skill: level::Skill::Turns,
        level: level::Level::new(4).expect("4 is a level"),
        story: "A toy crane has two gears that touch. Gear A has 12 teeth. Gear B has 36 teeth."
            .to_owned(),
        question: question.to_owned(),
        mechanism: pair(12, 36, 6),
        ask: asked,
        form,
        marks,
        working: marks > 1,
        follows: None,
    }
}

/// A sheet with every form of answer, and a question with three parts.
pub(super) fn sheet(version: &str, level: u8) -> homework::Sheet {
    let (a, b) = (mechanism::PartId(0), mechanism::PartId(1));
    let turns = answer::Form::Number {
        unit: answer::Unit::Turns,
        precision: number::Precision::Places(1),
    };
    let ways = list(&[
        (ask::Fact::Sense(mechanism::Sense::Clockwise), "clockwise"),
        (
            ask::Fact::Sense(mechanism::Sense::Anticlockwise),
            "anticlockwise",
        ),
    ]);
    let faster = list(&[
        (ask::Fact::Which(ask::Which::First), "gear A"),
        (ask::Fact::Which(ask::Which::Second), "gear B"),
        (ask::Fact::Which(ask::Which::Same), "both the same"),
    ]);
    let names: Vec<(ask::Fact, &str)> = [
        (ask::PartName::SpurGear, "spur gear"),
        (ask::PartName::RingGear, "ring gear"),
        (ask::PartName::BevelGear, "bevel gear"),
        (ask::PartName::Worm, "worm"),
        (ask::PartName::Rack, "rack"),
        (ask::PartName::Pinion, "pinion"),
        (ask::PartName::Sprocket, "sprocket"),
        (ask::PartName::Pulley, "pulley"),
    ]
    .into_iter()
    .map(|(name, text)| (ask::Fact::Name(name), text))
    .collect();
    let ratio = answer::Form::Ratio {
        first: "turns of A".to_owned(),
        second: "turns of B".to_owned(),
        simplest: true,
    };
    let choice = answer::Form::Gears {
        labels: vec!["Gear A".to_owned(), "Gear B".to_owned()],
        from: vec![8, 16, 24, 32, 40],
    };
    let mut items = vec![
        about(
            "Q1",
            "Gear A makes 6 full turns. How many turns does gear B make?",
            ask::Ask::Turns(b),
            turns.clone(),
            2,
        ),
        about(
            "Q2",
            "Which way does gear B turn? Look from the front.",
            ask::Ask::Direction(b),
            ways,
            1,
        ),
        about(
            "Q3a",
            "Which gear turns faster?",
            ask::Ask::Faster(a, b),
            faster,
            1,
        ),
        about(
            "Q3b",
            "What is the ratio of the turns of A to the turns of B?",
            ask::Ask::TurnsRatio(a, b),
            ratio,
            2,
        ),
        about(
            "Q3c",
            "Gear A makes 6 full turns. How many turns does gear B make?",
            ask::Ask::Turns(b),
            turns,
            2,
        ),
        about(
            "Q4",
            "What is part A called?",
            ask::Ask::Name(a),
            list(&names),
            1,
        ),
        about(
            "Q5",
            "Choose gears so that gear A makes 3 turns for 1 turn of gear B.",
            ask::Ask::Choose {
                parts: vec![a, b],
                from: vec![8, 16, 24, 32, 40],
            },
            choice,
            2,
        ),
    ];
    for item in &mut items {
        item.level = level::Level::new(level).expect("the test's own level");
    }
    homework::Sheet {
        version: version.to_owned(),
        items,
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
    let number = |index: usize| (index + 1).to_string();
    homework::Homework {
        made_by: "0.1.0".to_owned(),
        code: "K7Q2".to_owned(),
        title: "Gears: turns and ratio".to_owned(),
        date: "2026-03-09".to_owned(),
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
