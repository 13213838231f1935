//! Marked work made by hand for the tests of this folder.

use crate::attainment;
use crate::level;
use crate::marking;
use std::collections::BTreeMap;

/// One right answer.
pub(super) fn answer() -> attainment::Answer {
    attainment::Answer {
        pupil_id: "P1".to_owned(),
        class: "5 Oak".to_owned(),
        year: "5".to_owned(),
        groups: BTreeMap::new(),
        question: "Q1".to_owned(),
        bank: "gears-7-11".to_owned(),
        template: "turns-pair-down".to_owned(),
        skill: level::Skill::Turns,
        level: level::Level::new(4).expect("4 is a level"),
        marks: 2,
        out_of: 2,
        state: marking::State::Correct,
        misconceptions: Vec::new(),
        needs_check: false,
    }
}

/// One homework without answers.
pub(super) fn work() -> attainment::Work {
    attainment::Work {
        code: "K7Q2".to_owned(),
        title: "Gears: turns and ratio".to_owned(),
        set_on: "2026-03-09".to_owned(),
        marked_on: "2026-03-12".to_owned(),
        answers: Vec::new(),
    }
}

/// A class that answers two questions: turns right, ratio wrong for every
/// second pupil in the way of a misconception.
pub(super) fn class(name: &str, year: &str, pupils: usize) -> attainment::Work {
    let mut answers = Vec::new();
    for pupil in 0..pupils {
        let right = attainment::Answer {
            pupil_id: format!("{name}-{pupil}"),
            class: name.to_owned(),
            year: year.to_owned(),
            ..answer()
        };
        let slips = pupil % 2 == 1;
        let second = attainment::Answer {
            question: "Q2".to_owned(),
            template: "ratio-pair".to_owned(),
            skill: level::Skill::Ratio,
            marks: if slips { 0 } else { 2 },
            state: if slips {
                marking::State::Wrong
            } else {
                marking::State::Correct
            },
            misconceptions: if slips {
                vec!["ratio-upside-down".to_owned()]
            } else {
                Vec::new()
            },
            ..right.clone()
        };
        let third = attainment::Answer {
            question: "Q3".to_owned(),
            ..second.clone()
        };
        answers.extend([right, second, third]);
    }
    attainment::Work {
        code: format!("C{name}"),
        answers,
        ..work()
    }
}
