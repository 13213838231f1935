//! A marked homework made by hand for the tests of this folder.

use crate::answer;
use crate::feedback;
use crate::feedback::words;
use crate::gears::notation;
use crate::homework;
use crate::item;
use crate::level;
use crate::marking;
use crate::marking::policy;
use crate::number;
use std::collections::BTreeMap;

/// The questions: number, skill, mechanism, what is asked, marks.
const QUESTIONS: [(&str, level::Skill, &[&str], &str, u8); 4] = [
    (
        "Q1",
        level::Skill::Turns,
        &["gear A 12 drives gear B 36", "A turns 9"],
        "turns of B",
        2,
    ),
    (
        "Q2",
        level::Skill::Turns,
        &["gear A 40 drives gear B 8", "A turns 4"],
        "turns of B",
        2,
    ),
    (
        "Q3",
        level::Skill::Direction,
        &["gear A 12 drives gear B 36", "A turns clockwise"],
        "direction of B",
        1,
    ),
    (
        "Q4",
        level::Skill::Ratio,
        &["gear A 12 drives gear B 36"],
        "ratio of turns A : B",
        2,
    ),
];

fn item(place: usize) -> item::Item {
    let (number, skill, lines, asked, marks) = QUESTIONS[place];
    let mechanism = notation::read(lines).expect("well formed");
    let ask = notation::read_ask(asked, &mechanism).expect("well formed");
    let form = answer::form_for(&mechanism, &ask, None, number::Precision::Exact, false);
    item::Item {
        number: number.to_owned(),
        bank: "b".to_owned(),
        template: format!("t-{place}"),
        skill,
        level: level::Level::new(5).expect("a level"),
        story: "A crane has two gears.".to_owned(),
        question: "What happens?".to_owned(),
        form: form.expect("a form"),
        mechanism,
        ask,
        marks,
        working: false,
        follows: Vec::new(),
    }
}

/// A homework for these pupils; all have one sheet.
pub(super) fn homework(names: &[&str]) -> homework::Homework {
    homework::Homework {
        made_by: "0".to_owned(),
        code: "K7Q2".to_owned(),
        title: "Turns".to_owned(),
        date: "2026-03-09".to_owned(),
        keep_until: None,
        banks: Vec::new(),
        seed: "s".to_owned(),
        sheets: vec![homework::Sheet {
            version: "A".to_owned(),
            items: (0..QUESTIONS.len()).map(item).collect(),
        }],
        pupils: names
            .iter()
            .enumerate()
            .map(|(index, name)| homework::Assignment {
                pupil: homework::Pupil {
                    id: format!("P{}", index + 1),
                    name: (*name).to_owned(),
                    class: "5 Oak".to_owned(),
                    year: "5".to_owned(),
                    level: None,
                    groups: BTreeMap::new(),
                },
                sheet: 0,
            })
            .collect(),
    }
}

/// Marks a homework in which each pupil answered so: `absent`, `excused`, or what stands
/// under each question, in order.
pub(super) fn marked(homework: &homework::Homework, answers: &[&[&str]]) -> marking::Marked {
    let responses: Vec<marking::Response> = homework
        .pupils
        .iter()
        .zip(answers)
        .map(|(assignment, answers)| marking::Response {
            pupil_id: assignment.pupil.id.clone(),
            attendance: match *answers {
                ["absent"] => marking::Attendance::Absent,
                ["excused"] => marking::Attendance::Excused,
                _ => marking::Attendance::Present,
            },
            answers: QUESTIONS
                .iter()
                .zip(*answers)
                .map(|((number, ..), text)| {
                    let typed = answer::Typed {
                        text: (*text).to_owned(),
                        undone: Vec::new(),
                    };
                    ((*number).to_owned(), typed)
                })
                .collect(),
            working: BTreeMap::new(),
            origin: marking::handed_in::Origin::default(),
        })
        .collect();
    marking::mark_homework(&marking::Batch {
        homework,
        responses: &responses,
        decisions: &[],
        policy: &policy::Policy::default(),
        date: "2026-03-12",
    })
}

/// What is said to pupils who answered so, with the usual words.
pub(super) fn feedback(answers: &[&[&str]], marks: feedback::Marks) -> feedback::Feedback {
    let names: Vec<&str> = ["Amina", "Ben", "Cai", "Dilys", "Eve", "Finn", "Gwen"]
        .into_iter()
        .take(answers.len())
        .collect();
    let homework = homework(&names);
    let marked = marked(&homework, answers);
    feedback::give(&feedback::Request {
        marked: &marked,
        homework: &homework,
        words: &words::Words::default(),
        marks,
        seed: "s",
    })
    .expect("the marks belong to the homework")
}
