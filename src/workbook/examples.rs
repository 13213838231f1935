//! Homework values made by hand for the tests of this folder.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::homework;
use crate::item;
use crate::level;
use crate::marking;
use crate::number;
use std::collections::BTreeMap;
use std::sync::Arc;

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
        follows: Vec::new(),
    }
}

fn number() -> answer::Form {
    answer::Form::Number {
        unit: answer::Unit::Turns,
        precision: number::Precision::Exact,
        labels: Vec::new(),
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
        scene: Arc::new(answer::scene::Scene {
            about: answer::scene::About::Word,
            parts: Vec::new(),
        }),
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
        in_drive_order: true,
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
        keep_until: None,
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

/// A mark of one of the example pupils.
fn mark(pupil_id: &str, question: &str, typed: &str, marks: u8, out_of: u8) -> marking::Mark {
    marking::Mark {
        pupil_id: pupil_id.to_owned(),
        question: question.to_owned(),
        bank: "test-bank".to_owned(),
        template: format!("template-{}", question.to_lowercase()),
        skill: level::Skill::Turns,
        level: level::Level::new(4).expect("4 is a level"),
        typed: typed.to_owned(),
        read_as: typed.to_owned(),
        expected: "2 turns".to_owned(),
        marks,
        out_of,
        state: if marks == out_of {
            marking::State::Correct
        } else {
            marking::State::Wrong
        },
        misconceptions: Vec::new(),
        reason: "Said in one sentence of the length that such sentences have.".to_owned(),
        check: String::new(),
        code: format!("{question}-{typed}"),
        like: String::new(),
        decided: None,
    }
}

/// A marked homework: Ann all right, Ben with two answers to look at, Cat with the
/// same answer as Ben once and a blank, Dan away.
pub(super) fn marked() -> marking::Marked {
    let mut ben = vec![
        mark("P02", "Q1", "27 no 3", 0, 2),
        mark("P02", "Q2", "=cw, I think", 0, 1),
        mark("P02", "Q3", "1:3", 1, 2),
    ];
    let mut cat = vec![
        mark("P03", "Q1", "27 no 3", 0, 2),
        mark("P03", "Q2", "", 0, 1),
        mark("P03", "Q3", "", 0, 2),
    ];
    let mut dan = vec![
        mark("P04", "Q1", "", 0, 2),
        mark("P04", "Q2", "", 0, 1),
        mark("P04", "Q3", "", 0, 2),
    ];
    for mark in ben.iter_mut().take(2).chain(cat.iter_mut().take(1)) {
        mark.check = "two answers; the last was taken".to_owned();
    }
    for mark in ben.iter_mut().skip(2) {
        mark.state = marking::State::Partly;
        mark.misconceptions = vec!["ratio-upside-down".to_owned()];
    }
    for (mark, state) in cat
        .iter_mut()
        .skip(1)
        .zip([marking::State::Blank, marking::State::NotReached])
    {
        mark.state = state;
    }
    for mark in &mut dan {
        mark.state = marking::State::Absent;
    }
    let ann = vec![
        mark("P01", "Q1", "2", 2, 2),
        mark("P01", "Q2", "clockwise", 1, 1),
        mark("P01", "Q3", "3:1", 2, 2),
    ];
    let present = marking::Attendance::Present;
    let entry = |(id, name, attendance, marks): (&str, &str, _, _)| marking::MarkedPupil {
        pupil: pupil(id, name),
        version: "A".to_owned(),
        attendance,
        marks,
        handed_in: None,
    };
    marking::Marked {
        made_by: "0.1.0".to_owned(),
        code: "QL-7F3".to_owned(),
        title: "Gears & turns".to_owned(),
        set_on: "2026-03-02".to_owned(),
        marked_on: "2026-03-09".to_owned(),
        keep_until: None,
        banks: Vec::new(),
        policy: marking::policy::Policy::default(),
        pupils: [
            ("P01", "Ann Example", present, ann),
            ("P02", "Ben Example", present, ben),
            ("P03", "Cat Example", present, cat),
            ("P04", "Dan Example", marking::Attendance::Absent, dan),
        ]
        .map(entry)
        .to_vec(),
        decisions: Vec::new(),
        second_looks: Vec::new(),
        notes: vec!["There is no row for Dan Example (P04); counted as absent.".to_owned()],
    }
}
