//! The compact key: every pupil's answers in roll order, to mark a pile by.
//!
//! A class of thirty with twenty questions stands on one page across: units stand in
//! the headings, directions are shortened, and the type is as large as the page lets it.

use crate::answer;
use crate::gears::solve;
use crate::homework;
use crate::item;
use crate::paper::once;
use crate::paper::scheme;
use crate::paper::sheet;
use serde::Serialize;
use std::collections::BTreeMap;

/// The key in tables that fit the page; empty where all pupils share a sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Key {
    tables: Vec<Table>,
    /// The size of its type.
    point: f64,
    /// What its short signs mean; empty where it has none.
    signs: String,
}

/// Some of the questions for all pupils.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Table {
    columns: Vec<Column>,
    rows: Vec<Row>,
}

/// One column.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Column {
    heading: String,
    /// The unit of all its answers.
    unit: String,
    width: f64,
}

/// One pupil's answers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Row {
    pupil: String,
    version: String,
    answers: Vec<String>,
}

/// What stands over a question's answers.
struct Heading {
    number: String,
    unit: String,
}

/// The sizes of type that are tried, the most readable first.
const POINTS: [f64; 6] = [9.5, 9.0, 8.5, 8.0, 7.5, 7.0];
/// The type where even the smallest is too wide, and the questions are parted.
const PARTED_POINT: f64 = 8.5;
/// The room on a page across, in millimetres.
const WIDTH: f64 = 273.0;
const HEIGHT: f64 = 158.0;
/// About how wide a sign and how high a row is, in millimetres for a point of type; and
/// what the cell adds.
const SIGN: f64 = 0.2;
const CELL_WIDTH: f64 = 2.0;
const LINE: f64 = 0.37;
const CELL_HEIGHT: f64 = 1.7;
/// Longer texts are broken into lines.
const LONGEST: f64 = 14.0;
const LONGEST_NAME: f64 = 24.0;
/// Headings are bold, units under them small.
const BOLD: f64 = 1.12;
const UNIT: f64 = 0.85;

/// Returns the key to a homework whose answers have been worked; with the number of
/// the worked example in brackets where questions are worked once for all sheets.
pub(super) fn key(
    homework: &homework::Homework,
    answers: &scheme::Answers,
    examples: Option<&once::Examples>,
) -> Key {
    if homework.sheets.len() < 2 {
        return Key {
            tables: Vec::new(),
            point: PARTED_POINT,
            signs: String::new(),
        };
    }
    let units = units(homework);
    let said: Vec<BTreeMap<&str, String>> = homework
        .sheets
        .iter()
        .zip(answers)
        .map(|(sheet, answers)| {
            let worked = sheet.items.iter().zip(answers);
            worked
                .map(|(item, worked)| {
                    let text = short(item, worked, &units);
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
    let numbers = numbers(homework);
    let rows = rows(homework, &said, &numbers);
    let headings: Vec<Heading> = numbers
        .into_iter()
        .map(|number| Heading {
            unit: units.get(&number).map_or("", |unit| unit.text()).to_owned(),
            number,
        })
        .collect();
    let (point, parts) = fitted(&headings, &rows);
    let tables = parts
        .iter()
        .map(|part| table(&headings, &rows, part, point))
        .collect();
    let uses = |sign: &str| {
        rows.iter()
            .flat_map(|row| &row.answers)
            .any(|answer| answer.split(' ').any(|word| word == sign))
    };
    let signs = if uses("CW") || uses("ACW") {
        "CW clockwise, ACW anticlockwise.".to_owned()
    } else {
        String::new()
    };
    Key {
        tables,
        point,
        signs,
    }
}

/// The unit of each question that all its answers have.
fn units(homework: &homework::Homework) -> BTreeMap<String, answer::Unit> {
    let mut units: BTreeMap<String, Option<answer::Unit>> = BTreeMap::new();
    for item in homework.sheets.iter().flat_map(|sheet| &sheet.items) {
        let unit = match &item.form {
            answer::Form::Number { unit, .. } => Some(*unit),
            answer::Form::Ratio { .. }
            | answer::Form::List { .. }
            | answer::Form::Gears { .. }
            | answer::Form::Explanation(_) => None,
        };
        units
            .entry(item.number.clone())
            .and_modify(|known| {
                if *known != unit {
                    *known = None;
                }
            })
            .or_insert(unit);
    }
    units
        .into_iter()
        .filter_map(|(number, unit)| Some((number, unit?)))
        .collect()
}

/// The answer as the key has room for it: without the unit that stands in the heading,
/// and of an explanation only what is explained.
fn short(
    item: &item::Item,
    worked: &solve::Worked,
    units: &BTreeMap<String, answer::Unit>,
) -> String {
    let expected = answer::expected(&worked.fact, &item.form);
    match &item.form {
        answer::Form::Explanation(explaining) => {
            let shown = explaining.shown(&explaining.reasons.conclusion);
            format!("why {}", shortened(&shown))
        }
        answer::Form::Number { .. } => match units.get(&item.number) {
            Some(unit) => {
                let bare = [unit.text(), unit.text_for_one()]
                    .iter()
                    .find_map(|unit| expected.strip_suffix(unit));
                bare.map_or(expected.clone(), |bare| bare.trim_end().to_owned())
            }
            None => expected,
        },
        answer::Form::Ratio { .. } => expected.replace(" : ", ":"),
        answer::Form::List { .. } => shortened(&expected),
        answer::Form::Gears { .. } => expected,
    }
}

/// A direction by its initials, and `A` for `gear A`.
fn shortened(text: &str) -> String {
    match text {
        "clockwise" => return "CW".to_owned(),
        "anticlockwise" => return "ACW".to_owned(),
        _ => {}
    }
    match text.split_once(' ') {
        Some((_, label)) if label.chars().count() == 1 => label.to_owned(),
        Some(_) | None => text.to_owned(),
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

/// How many signs wide a column is: its longest text, where that is not broken.
fn signs<'a>(texts: impl Iterator<Item = &'a String>, most: f64) -> f64 {
    let wide = texts.map(|text| text.chars().map(sign_width).sum::<f64>());
    wide.fold(2.0, f64::max).min(most)
}

/// How wide a sign is, against the average of small letters and digits.
fn sign_width(sign: char) -> f64 {
    match sign {
        'W' | 'M' | 'w' | 'm' => 1.7,
        'i' | 'l' | 'j' | ' ' | ':' | '.' | ',' => 0.6,
        _ if sign.is_uppercase() => 1.25,
        _ => 1.0,
    }
}

fn width(signs: f64, point: f64) -> f64 {
    signs * SIGN * point + CELL_WIDTH
}

/// How many signs wide the columns of the questions are, and those before them.
fn all_signs(headings: &[Heading], rows: &[Row]) -> (f64, Vec<f64>) {
    let before = signs(rows.iter().map(|row| &row.pupil), LONGEST_NAME)
        + signs(rows.iter().map(|row| &row.version), LONGEST).max(7.0);
    let each = headings.iter().enumerate().map(|(index, heading)| {
        let answers = rows.iter().filter_map(|row| row.answers.get(index));
        signs(answers, LONGEST)
            .max(BOLD * signs([&heading.number].into_iter(), LONGEST))
            .max(UNIT * signs([&heading.unit].into_iter(), LONGEST))
    });
    (before, each.collect())
}

/// The largest type in which all questions stand side by side on a page, or a plain one
/// with the questions dealt out to several tables.
fn fitted(headings: &[Heading], rows: &[Row]) -> (f64, Vec<Vec<usize>>) {
    let (before, each) = all_signs(headings, rows);
    let row_count = f64::from(u32::try_from(rows.len() + 2).unwrap_or(u32::MAX));
    let wide = |point: f64| {
        let before = before * SIGN * point + 2.0 * CELL_WIDTH;
        each.iter()
            .fold(before, |sum, signs| sum + width(*signs, point))
    };
    let side_by_side: Vec<f64> = POINTS
        .into_iter()
        .filter(|point| wide(*point) <= WIDTH)
        .collect();
    let on_a_page = |point: &&f64| row_count * (LINE * **point + CELL_HEIGHT) <= HEIGHT;
    // A class too large for one page in any type is read more easily in the largest.
    let chosen = side_by_side.iter().find(on_a_page).or(side_by_side.first());
    if let Some(point) = chosen {
        return (*point, vec![(0..headings.len()).collect()]);
    }
    let left = WIDTH - before * SIGN * PARTED_POINT - 2.0 * CELL_WIDTH;
    let mut parts = Vec::new();
    let mut part = Vec::new();
    let mut taken = 0.0;
    for (index, signs) in each.iter().enumerate() {
        let more = width(*signs, PARTED_POINT);
        if taken + more > left && !part.is_empty() {
            parts.push(std::mem::take(&mut part));
            taken = 0.0;
        }
        part.push(index);
        taken += more;
    }
    parts.push(part);
    (PARTED_POINT, parts)
}

fn table(headings: &[Heading], rows: &[Row], part: &[usize], point: f64) -> Table {
    let (_, each) = all_signs(headings, rows);
    let pupil = signs(rows.iter().map(|row| &row.pupil), LONGEST_NAME);
    let version = signs(rows.iter().map(|row| &row.version), LONGEST).max(7.0);
    let column = |heading: &str, unit: &str, signs: f64| Column {
        heading: heading.to_owned(),
        unit: unit.to_owned(),
        width: width(signs, point),
    };
    let mut columns = vec![column("Pupil", "", pupil), column("Version", "", version)];
    for index in part {
        if let (Some(heading), Some(signs)) = (headings.get(*index), each.get(*index)) {
            columns.push(column(&heading.number, &heading.unit, *signs));
        }
    }
    let rows = rows
        .iter()
        .map(|row| Row {
            answers: part
                .iter()
                .filter_map(|index| row.answers.get(*index).cloned())
                .collect(),
            ..row.clone()
        })
        .collect();
    Table { columns, rows }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(count: usize, answers: &[&str]) -> (Vec<Heading>, Vec<Row>) {
        let headings = (1..=answers.len()).map(|number| Heading {
            number: format!("Q{number}"),
            unit: "turns".to_owned(),
        });
        let row = |index: usize| Row {
            pupil: format!("Pupil Surname {index}"),
            version: "K7Q".to_owned(),
            answers: answers.iter().map(|answer| (*answer).to_owned()).collect(),
        };
        (headings.collect(), (0..count).map(row).collect())
    }

    #[test]
    fn thirty_pupils_and_twenty_questions_stand_side_by_side() {
        let (headings, rows) = rows(30, &["0.75", "3:1", "ACW", "idler", "B 24"].repeat(4));
        let (point, parts) = fitted(&headings, &rows);
        assert!(point >= 7.5, "{point}");
        assert_eq!(parts.len(), 1);
    }

    #[test]
    fn few_questions_are_set_larger_and_too_many_are_parted() {
        let (headings, few) = rows(10, &["12", "ACW"]);
        assert_eq!(fitted(&headings, &few), (9.5, vec![vec![0, 1]]));
        let (headings, many) = rows(30, &["anticlockwise"; 40]);
        let (point, parts) = fitted(&headings, &many);
        assert_eq!(point.total_cmp(&PARTED_POINT), std::cmp::Ordering::Equal);
        let all: Vec<usize> = parts.concat();
        assert_eq!(all, (0..40).collect::<Vec<_>>());
        assert!(parts.len() > 1);
    }
}
