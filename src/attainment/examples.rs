//! Marked work made by hand for the tests of this folder.

use crate::attainment;
use crate::attainment::who;
use crate::homework;
use crate::level;
use crate::marking;
use std::collections::BTreeMap;

/// One right answer.
pub(super) fn answer() -> attainment::Answer {
    attainment::Answer {
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

/// A pupil of 5 Oak, named as their id.
pub(super) fn pupil(id: &str, answers: Vec<attainment::Answer>) -> attainment::Pupil {
    attainment::Pupil {
        who: who(id, id),
        class: "5 Oak".to_owned(),
        year: "5".to_owned(),
        groups: BTreeMap::new(),
        answers,
    }
}

/// Who a pupil with this id and name is.
pub(super) fn who(id: &str, name: &str) -> who::Who {
    who::Who::of(&homework::Pupil {
        id: id.to_owned(),
        name: name.to_owned(),
        class: String::new(),
        year: String::new(),
        level: None,
        groups: BTreeMap::new(),
    })
}

/// One homework without pupils.
pub(super) fn work() -> attainment::Work {
    attainment::Work {
        code: "K7Q2".to_owned(),
        title: "Gears: turns and ratio".to_owned(),
        set_on: "2026-03-09".to_owned(),
        marked_on: "2026-03-12".to_owned(),
        kept_until: None,
        pupils: Vec::new(),
    }
}

/// A class that answers three questions: turns right, ratio wrong for every
/// second pupil in the way of a misconception.
pub(super) fn class(name: &str, year: &str, pupils: usize) -> attainment::Work {
    let pupils = (0..pupils).map(|pupil| {
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
            ..answer()
        };
        let third = attainment::Answer {
            question: "Q3".to_owned(),
            ..second.clone()
        };
        attainment::Pupil {
            class: name.to_owned(),
            year: year.to_owned(),
            ..self::pupil(&format!("{name}-{pupil}"), vec![answer(), second, third])
        }
    });
    attainment::Work {
        code: format!("C{name}"),
        pupils: pupils.collect(),
        ..work()
    }
}
