//! Records written by hand for the tests of this folder.

use crate::attainment;
use crate::attainment::who;
use crate::bank;
use crate::gears::notation;
use crate::homework;
use crate::item;
use crate::level;
use crate::marking;
use crate::next;
use std::collections::BTreeMap;

/// Returns the record of a homework set on a day; one line an answer: pupil, skill,
/// level, marks `earned/out of` (or a state), and the ids of misconceptions.
///
/// Every answer is to `turns of B` of the pair `mechanism`, where one is given.
pub(super) fn record(set_on: &str, answers: &[&str], mechanism: Option<&str>) -> next::Record {
    let mut pupils: BTreeMap<String, Vec<attainment::Answer>> = BTreeMap::new();
    for (line, number) in answers.iter().zip(1..) {
        let (id, answer) = answer(line, number);
        pupils.entry(id).or_default().push(answer);
    }
    let code = format!("code {set_on}");
    let homework = mechanism.map(|mechanism| homework(&code, set_on, &pupils, mechanism));
    next::Record {
        names: pupils
            .keys()
            .map(|id| (id.clone(), format!("Pupil {id}")))
            .collect(),
        ids: pupils
            .keys()
            .map(|id| (who::Who::of(&pupil(id)), id.clone()))
            .collect(),
        work: attainment::Work {
            code,
            title: "Gears".to_owned(),
            set_on: set_on.to_owned(),
            marked_on: set_on.to_owned(),
            kept_until: None,
            pupils: pupils
                .into_iter()
                .map(|(id, answers)| attainment::Pupil {
                    who: who::Who::of(&pupil(&id)),
                    class: "5 Oak".to_owned(),
                    year: "5".to_owned(),
                    groups: BTreeMap::new(),
                    answers,
                })
                .collect(),
        },
        homework,
    }
}

/// The pupil's id and the answer.
fn answer(line: &str, number: usize) -> (String, attainment::Answer) {
    let mut words = line.split(' ');
    let mut word = || words.next().expect("pupil, skill, level, marks");
    let (pupil, skill, level, marks) = (word(), word(), word(), word());
    let (marks, out_of, state) = match marks.split_once('/') {
        Some((marks, out_of)) => {
            let marks: u8 = marks.parse().expect("marks");
            let out_of: u8 = out_of.parse().expect("marks");
            let state = if marks == out_of {
                marking::State::Correct
            } else {
                marking::State::Wrong
            };
            (marks, out_of, state)
        }
        None => (
            0,
            1,
            marking::State::parse(&marks.replace('-', " ")).expect("a state"),
        ),
    };
    let answer = attainment::Answer {
        question: format!("Q{number}"),
        bank: "bank".to_owned(),
        template: format!("{skill}-{number}"),
        skill: skill.parse().expect("a skill"),
        level: level.parse().expect("a level"),
        marks,
        out_of,
        state,
        misconceptions: words.map(str::to_owned).collect(),
        needs_check: false,
    };
    (pupil.to_owned(), answer)
}

/// One sheet for all, with every question of the answers.
fn homework(
    code: &str,
    date: &str,
    pupils: &BTreeMap<String, Vec<attainment::Answer>>,
    mechanism: &str,
) -> homework::Homework {
    let lines: Vec<&str> = mechanism.split("; ").collect();
    let mechanism = notation::read(&lines).expect("the test's own mechanism");
    let ask = notation::read_ask("turns of B", &mechanism).expect("B is there");
    let precision = crate::number::Precision::Exact;
    let form = crate::answer::form_for(&mechanism, &ask, None, precision, false).expect("a form");
    let items = pupils
        .values()
        .flatten()
        .map(|answer| item::Item {
            number: answer.question.clone(),
            bank: answer.bank.clone(),
            template: answer.template.clone(),
            skill: answer.skill,
            level: answer.level,
            story: String::new(),
            question: "How many turns does B make?".to_owned(),
            mechanism: mechanism.clone(),
            ask: ask.clone(),
            form: form.clone(),
            marks: answer.out_of,
            working: false,
            follows: Vec::new(),
        })
        .collect();
    homework::Homework {
        made_by: String::new(),
        code: code.to_owned(),
        title: "Gears".to_owned(),
        date: date.to_owned(),
        keep_until: None,
        banks: Vec::new(),
        seed: String::new(),
        sheets: vec![homework::Sheet {
            version: "A".to_owned(),
            items,
        }],
        pupils: pupils
            .keys()
            .map(|id| homework::Assignment {
                pupil: pupil(id),
                sheet: 0,
            })
            .collect(),
    }
}

/// A pupil of the roll.
pub(super) fn pupil(id: &str) -> homework::Pupil {
    homework::Pupil {
        id: id.to_owned(),
        name: format!("Pupil {id}"),
        class: "5 Oak".to_owned(),
        year: "5".to_owned(),
        level: None,
        groups: BTreeMap::new(),
    }
}

/// A bank with templates of these skills.
pub(super) fn bank(skills: &[&str]) -> bank::Bank {
    let templates: Vec<String> = skills
        .iter()
        .map(|skill| {
            format!(
                "[[template]]\nid = \"{skill}\"\nskill = \"{skill}\"\nlevels = [3, 4, 5]\n\
                 stories = [\"A toy for {skill} has two gears.\"]\n\
                 mechanism = [\"gear A 12 drives gear B 36\", \"A turns {{n}}\"]\n\
                 question = \"A makes {{n}} turns. How many does B make?\"\nask = \"turns of B\"\n\
                 marks = 1\nnumbers = {{ n = [3, 6] }}\n"
            )
        })
        .collect();
    let text = format!(
        "format = 1\n[bank]\nid = \"bank\"\ntitle = \"Bank\"\nedition = \"1\"\n{}",
        templates.concat()
    );
    bank::read(&text, "bank.toml").expect("the test's own bank")
}

/// A plan of six questions for one pupil at levels 3 to 5.
pub(super) fn plan<'b>(banks: &'b [bank::Bank], date: &str) -> homework::Plan<'b> {
    homework::Plan {
        banks,
        pupils: vec![pupil("P1")],
        year: None,
        levels: "3-5".parse().expect("a span"),
        skills: Vec::new(),
        questions: homework::Questions::Count(6),
        versions: homework::Versions::Each,
        seed: "seed".to_owned(),
        title: "Next".to_owned(),
        date: date.to_owned(),
        keep_until: None,
    }
}

/// A level.
pub(super) fn level(number: u8) -> level::Level {
    level::Level::new(number).expect("a level")
}
