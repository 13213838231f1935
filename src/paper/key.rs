//! The compact key: every pupil's answers in roll order, to mark a pile by.

use crate::answer;
use crate::gears::solve;
use crate::homework;
use crate::item;
use crate::paper::once;
use crate::paper::scheme;
use crate::paper::sheet;
use serde::Serialize;
use std::collections::BTreeMap;

/// How many questions stand side by side on a page.
const COLUMNS: usize = 8;

/// The key in tables that fit the page; empty where all pupils share a sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Key {
    tables: Vec<Table>,
}

/// Some of the questions for all pupils.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Table {
    questions: Vec<String>,
    rows: Vec<Row>,
}

/// One pupil's answers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Row {
    pupil: String,
    version: String,
    answers: Vec<String>,
}

/// Returns the key to a homework whose answers have been worked; with the number of
/// the worked example in brackets where questions are worked once for all sheets.
pub(super) fn key(
    homework: &homework::Homework,
    answers: &scheme::Answers,
    examples: Option<&once::Examples>,
) -> Key {
    if homework.sheets.len() < 2 {
        return Key { tables: Vec::new() };
    }
    let said: Vec<BTreeMap<&str, String>> = homework
        .sheets
        .iter()
        .zip(answers)
        .map(|(sheet, answers)| {
            sheet
                .items
                .iter()
                .zip(answers)
                .map(|(item, worked)| {
                    let text = short(item, worked);
                    let example = examples.and_then(|examples| examples.number(item));
                    let text = match example {
                        Some(number) => format!("{text} [{number}]"),
                        None => text,
                    };
                    (item.number.as_str(), text)
                })
                .collect()
        })
        .collect();
    let tables = numbers(homework)
        .chunks(COLUMNS)
        .map(|questions| Table {
            questions: questions.to_vec(),
            rows: rows(homework, &said, questions),
        })
        .collect();
    Key { tables }
}

/// The answer as the key has room for it: of an explanation only what is explained.
fn short(item: &item::Item, worked: &solve::Worked) -> String {
    match &item.form {
        answer::Form::Explanation(explaining) => {
            let shown = explaining.shown(&explaining.reasons.conclusion);
            format!("why {shown}")
        }
        answer::Form::Number { .. }
        | answer::Form::Ratio { .. }
        | answer::Form::List { .. }
        | answer::Form::Gears { .. } => answer::expected(&worked.fact, &item.form),
    }
}

/// Every question's number that stands on any sheet, in order.
fn numbers(homework: &homework::Homework) -> Vec<String> {
    let mut numbers: Vec<String> = Vec::new();
    for sheet in &homework.sheets {
        for item in &sheet.items {
            if !numbers.contains(&item.number) {
                numbers.push(item.number.clone());
            }
        }
    }
    numbers.sort_by(|one, other| item::order(one).cmp(&item::order(other)));
    numbers
}

fn rows(
    homework: &homework::Homework,
    said: &[BTreeMap<&str, String>],
    questions: &[String],
) -> Vec<Row> {
    homework
        .pupils
        .iter()
        .filter_map(|assignment| {
            let sheet = homework.sheets.get(assignment.sheet)?;
            let answers = said.get(assignment.sheet)?;
            Some(Row {
                pupil: sheet::name(&assignment.pupil),
                version: sheet.version.clone(),
                answers: questions
                    .iter()
                    .map(|number| answers.get(number.as_str()).cloned().unwrap_or_default())
                    .collect(),
            })
        })
        .collect()
}
