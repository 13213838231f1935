//! A class doing its homework: every answer as written, and why.

use super::because;
use super::hand;
use super::pupil;
use super::school;
use std::collections::BTreeMap;
use toothmark::gears::ask;
use toothmark::homework;
use toothmark::seed;

/// One answer as written, with the truth behind it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Written {
    /// The pupil's id.
    pub(crate) pupil_id: String,
    /// The question's number.
    pub(crate) question: String,
    /// What was written; empty for nothing.
    pub(crate) text: String,
    /// Why.
    pub(crate) truth: pupil::Truth,
}

/// A class's answers.
pub(crate) struct Classwork {
    /// Attendance by pupil id, where it is not empty.
    pub(crate) attendance: BTreeMap<String, String>,
    /// Every answer of those who were there, pupil by pupil, in the sheet's order.
    pub(crate) written: Vec<Written>,
}

/// Returns what every pupil of the class writes, the same every time; the folder tells
/// one class from another.
pub(crate) fn done_by(
    pupils: &[school::Pupil],
    homework: &homework::Homework,
    folder: &str,
) -> Classwork {
    let mut attendance = BTreeMap::new();
    let mut written = Vec::new();
    for (pupil, assignment) in pupils.iter().zip(&homework.pupils) {
        let id = pupil.on_roll.id.clone();
        if !pupil.attendance.is_empty() {
            attendance.insert(id, pupil.attendance.to_owned());
            continue;
        }
        let sheet = &homework.sheets[assignment.sheet];
        for (index, item) in sheet.items.iter().enumerate() {
            let name = [school::SCHOOL, folder, &id, &item.number];
            let mut stream = seed::Stream::named(&name, 1);
            let thought = pupil::think(&pupil.mind, item, index, &mut stream);
            let text = match (&thought.fact, &thought.truth) {
                (Some(ask::Fact::Reasons(reasons)), truth) => {
                    because::write(reasons, truth, pupil.hand, &mut stream)
                }
                (Some(fact), _) => {
                    let text = hand::write(fact, &item.form, pupil.hand, &mut stream);
                    hand::muddle(text, &item.form, &mut stream)
                }
                (None, pupil::Truth::DoesNotKnow) => {
                    let words = ["dont know", "?", "idk", "not sure"];
                    stream
                        .choose(&words)
                        .copied()
                        .unwrap_or_default()
                        .to_owned()
                }
                (None, _) => String::new(),
            };
            let (question, truth) = (item.number.clone(), thought.truth);
            written.push(Written {
                pupil_id: id.clone(),
                question,
                text,
                truth,
            });
        }
    }
    Classwork {
        attendance,
        written,
    }
}

/// The headings and rows of an answer sheet, as a person would have them.
pub(crate) fn table(homework: &homework::Homework, work: &Classwork) -> Vec<Vec<String>> {
    let mut questions: Vec<&str> = Vec::new();
    for sheet in &homework.sheets {
        for item in &sheet.items {
            if !questions.contains(&item.number.as_str()) {
                questions.push(&item.number);
            }
        }
    }
    let answers: BTreeMap<(&str, &str), &str> = work
        .written
        .iter()
        .map(|it| {
            (
                (it.pupil_id.as_str(), it.question.as_str()),
                it.text.as_str(),
            )
        })
        .collect();
    let mut headings = vec!["Pupil ID".to_owned(), "Pupil".to_owned()];
    headings.extend(questions.iter().map(|it| (*it).to_owned()));
    headings.push("Attendance".to_owned());
    let mut rows = vec![headings];
    for assignment in &homework.pupils {
        let id = assignment.pupil.id.as_str();
        let mut row = vec![id.to_owned(), assignment.pupil.name.clone()];
        for question in &questions {
            row.push(
                answers
                    .get(&(id, *question))
                    .copied()
                    .unwrap_or_default()
                    .to_owned(),
            );
        }
        row.push(work.attendance.get(id).cloned().unwrap_or_default());
        rows.push(row);
    }
    rows
}
