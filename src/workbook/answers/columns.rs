//! What each column of a table of answers is for, told from its heading.

use crate::homework;
use crate::problem;
use crate::workbook::answer_book;
use crate::workbook::headings;
use std::collections::BTreeMap;

/// First words after a question's number that make a column a person's own notes.
const NOTES: [&str; 8] = [
    "note", "comment", "mark", "score", "check", "teacher", "feedback", "points",
];

/// Where each thing stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Columns {
    /// The pupil ids.
    pub(super) id: u32,
    /// The names.
    pub(super) name: Option<u32>,
    /// `absent` or `excused`.
    pub(super) attendance: Option<u32>,
    /// Answers by question number.
    pub(super) answers: BTreeMap<String, u32>,
    /// Working by question number.
    pub(super) working: BTreeMap<String, u32>,
}

/// What a heading names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Meaning {
    /// The question's number as the homework spells it.
    number: String,
    /// Whether it is the working.
    is_working: bool,
    /// Whether nothing else stands in the heading.
    is_exact: bool,
}

/// How a question begins in a heading.
struct Start {
    /// Digits and letter, in lower case: `3a`.
    number: String,
    /// What follows.
    rest: String,
}

/// Returns what a heading names of the homework's questions.
pub(super) fn meaning(
    heading: &headings::Heading,
    homework: &homework::Homework,
) -> Option<Meaning> {
    let start = start(&heading.text)?;
    let number = answer_book::question_numbers(homework)
        .into_iter()
        .find(|number| number.to_lowercase() == format!("q{}", start.number))?;
    let rest = headings::key(&start.rest);
    if NOTES.iter().any(|note| rest.starts_with(note)) {
        return None;
    }
    let after_working = rest.strip_prefix("working");
    Some(Meaning {
        number: number.to_owned(),
        is_working: after_working.is_some(),
        is_exact: after_working.unwrap_or(&rest).is_empty(),
    })
}

/// Returns where each thing stands, and adds what is missing or there twice.
pub(super) fn find(
    file: &str,
    table: &headings::Table<'_>,
    homework: &homework::Homework,
    problems: &mut Vec<problem::Problem>,
    notices: &mut Vec<problem::Problem>,
) -> Columns {
    let mut columns = Columns {
        id: 0,
        name: table.column(&["pupil", "pupilname", "name"]),
        attendance: table.column(&["attendance"]),
        answers: BTreeMap::new(),
        working: BTreeMap::new(),
    };
    columns.id = one(file, table, "pupilid", problems);
    let mut candidates: BTreeMap<(String, bool), Vec<(bool, u32)>> = BTreeMap::new();
    for heading in &table.headings {
        match meaning(heading, homework) {
            Some(meaning) => candidates
                .entry((meaning.number, meaning.is_working))
                .or_default()
                .push((!meaning.is_exact, heading.column)),
            None if is_unknown_question(heading) => notices.push(problem::Problem::new(
                table.place(file, table.row, heading.column),
                format!(
                    "{} is no question of this homework; it is not marked",
                    heading.text
                ),
                "",
            )),
            None => {}
        }
    }
    for ((number, is_working), mut found) in candidates {
        found.sort_unstable();
        let exact: Vec<u32> = found
            .iter()
            .filter(|(is_longer, _)| !is_longer)
            .map(|(_, column)| *column)
            .collect();
        let all: Vec<u32> = found.iter().map(|(_, column)| *column).collect();
        let rivals = if exact.is_empty() { all } else { exact };
        let chosen = choose(file, table, &rivals, problems);
        let columns = if is_working {
            &mut columns.working
        } else {
            &mut columns.answers
        };
        columns.insert(number, chosen);
    }
    let missing: Vec<&str> = answer_book::question_numbers(homework)
        .into_iter()
        .filter(|number| !columns.answers.contains_key(*number))
        .collect();
    if !missing.is_empty() {
        problems.push(problem::Problem::new(
            table.place(file, table.row, columns.id),
            format!("no column has the heading {}", missing.join(", ")),
            "put the headings back as set wrote them; an empty column is fine",
        ));
    }
    columns
}

impl Columns {
    /// Returns the columns that are typed into.
    pub(super) fn typed_in(&self) -> impl Iterator<Item = u32> + '_ {
        self.answers
            .values()
            .chain(self.working.values())
            .copied()
            .chain(self.attendance)
    }
}

/// Returns the one column under a heading that the table is known to have.
fn one(
    file: &str,
    table: &headings::Table<'_>,
    key: &str,
    problems: &mut Vec<problem::Problem>,
) -> u32 {
    choose(file, table, &table.columns(key), problems)
}

/// Returns the only column that holds something below its heading; more are a problem.
fn choose(
    file: &str,
    table: &headings::Table<'_>,
    rivals: &[u32],
    problems: &mut Vec<problem::Problem>,
) -> u32 {
    let mut filled = rivals.iter().copied().filter(|column| {
        table
            .rows()
            .into_iter()
            .any(|row| !table.text(row, *column).is_empty())
    });
    let first = filled.next();
    if let (Some(first), Some(second)) = (first, filled.next()) {
        let heading = table
            .headings
            .iter()
            .find(|heading| heading.column == second)
            .map_or("", |heading| heading.text.as_str());
        problems.push(problem::Problem::new(
            table.place(file, table.row, second),
            format!(
                "found the heading {heading} a second time, first in {}",
                table.grid.place(table.row, first)
            ),
            "keep one of the two columns, or rename the other",
        ));
    }
    first.or_else(|| rivals.first().copied()).unwrap_or(0)
}

/// Says whether a heading looks like a question that the homework does not have.
fn is_unknown_question(heading: &headings::Heading) -> bool {
    start(&heading.text).is_some_and(|start| headings::key(&start.rest).is_empty())
}

/// Returns the number that a heading begins with: `Q3a`, `question 3 (a)`, `q3a. How many …`.
fn start(text: &str) -> Option<Start> {
    let lower = text.trim().to_lowercase();
    let rest = lower
        .strip_prefix("question")
        .or_else(|| lower.strip_prefix('q'))?
        .trim_start();
    let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
    if digits.is_empty() {
        return None;
    }
    let rest = rest.strip_prefix(digits.as_str())?;
    let bare = rest.trim_start().trim_start_matches('(');
    let mut signs = bare.chars();
    let letter = signs.next().filter(char::is_ascii_lowercase);
    let is_bracketed = bare.len() < rest.trim_start().len();
    let is_adjacent = bare.len() == rest.len();
    let ends = signs.next().is_none_or(|sign| !sign.is_alphanumeric());
    match letter {
        Some(letter) if ends && (is_adjacent || is_bracketed) => {
            let rest = bare.strip_prefix(letter).unwrap_or_default();
            let rest = if is_bracketed {
                rest.trim_start_matches(')')
            } else {
                rest
            };
            Some(Start {
                number: format!("{digits}{letter}"),
                rest: rest.to_owned(),
            })
        }
        Some(_) | None => Some(Start {
            number: digits,
            rest: rest.to_owned(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_of_questions_are_read_in_many_spellings() {
        let cases = [
            ("Q1", Some(("1", ""))),
            ("q3a", Some(("3a", ""))),
            ("Q3 (a)", Some(("3a", ""))),
            ("Question 3a", Some(("3a", ""))),
            ("Q5 working", Some(("5", " working"))),
            ("Q3a working", Some(("3a", " working"))),
            ("Q1. How many turns?", Some(("1", ". how many turns?"))),
            ("Q2 A gear turns", Some(("2", " a gear turns"))),
            ("Quarry", None),
            ("Questions", None),
            ("Pupil", None),
        ];
        for (text, wanted) in cases {
            let found = start(text);
            assert_eq!(
                found
                    .as_ref()
                    .map(|start| (start.number.as_str(), start.rest.as_str())),
                wanted,
                "{text}"
            );
        }
    }
}
