//! Answers marked by hand by the default policy, as data (`tests/cases/by-hand`): what
//! was typed, in what kind of cell, what it earns, whether a person should look, and
//! what the reason must mention.

use crate::marking::{Question, item, response};
use std::collections::{BTreeMap, BTreeSet};
use toothmark::answer;
use toothmark::item;
use toothmark::marking;
use toothmark::workbook::{cells, undo};

const FILES: [(&str, &str); 5] = [
    ("numbers.tsv", include_str!("../cases/by-hand/numbers.tsv")),
    ("words.tsv", include_str!("../cases/by-hand/words.tsv")),
    (
        "cells-and-working.tsv",
        include_str!("../cases/by-hand/cells-and-working.tsv"),
    ),
    (
        "class-work.tsv",
        include_str!("../cases/by-hand/class-work.tsv"),
    ),
    (
        "every-kind.tsv",
        include_str!("../cases/by-hand/every-kind.tsv"),
    ),
];
const FOLLOWING: (&str, &str) = (
    "following.tsv",
    include_str!("../cases/by-hand/following.tsv"),
);

/// The year in which the homeworks of the cases were set.
const YEAR_SET: i32 = 2026;

/// What a person says of an answer.
struct Wanted<'a> {
    marks: &'a str,
    state: &'a str,
    misconceptions: &'a str,
    check: &'a str,
    reason: &'a str,
}

/// The questions and the cases of a file.
struct Cases<'a> {
    questions: BTreeMap<&'a str, Vec<&'a str>>,
    rows: Vec<(usize, Vec<&'a str>)>,
}

fn cases<'a>(name: &str, text: &'a str) -> Cases<'a> {
    let mut found = Cases {
        questions: BTreeMap::new(),
        rows: Vec::new(),
    };
    for (index, line) in text.lines().enumerate() {
        if line.starts_with('#') || line.trim().is_empty() {
            continue;
        }
        if let Some(line) = line.strip_prefix('@') {
            let (question, rest) = line.split_once('\t').expect("a name and a question");
            let cells: Vec<&str> = rest.split('\t').collect();
            assert_eq!(cells.len(), 4, "{name}:{}", index + 1);
            found.questions.insert(question, cells);
        } else {
            let cells: Vec<&str> = line.split('\t').collect();
            assert_eq!(cells.len(), 9, "{name}:{}: {line}", index + 1);
            found.rows.push((index + 1, cells));
        }
    }
    found
}

pub(crate) fn question(cells: &[&str], number: &str) -> item::Item {
    let [mechanism, ask, form, marks] = cells else {
        panic!("a question has four cells: {cells:?}");
    };
    item(&Question {
        number,
        lines: mechanism.split(';').map(str::trim).collect(),
        ask,
        form,
        marks,
    })
}

/// What stands in the cell, as the reader of workbooks gives it.
pub(crate) fn typed(text: &str, cell: &str) -> answer::Typed {
    let text = text.replace("\\n", "\n").replace("\\t", "\t");
    let (kind, rest) = cell.split_once(' ').unwrap_or((cell, ""));
    let format = if rest == "General" { "" } else { rest };
    let mut look = cells::Look {
        format: format.to_owned(),
        ..cells::Look::default()
    };
    let content = match kind {
        "text" => cells::Content::Text(text),
        "number" => cells::Content::Number(text),
        "time" => cells::Content::Time {
            milliseconds: milliseconds(&text),
        },
        "date" => {
            let parts: Vec<&str> = text.split('-').collect();
            let [year, month, day] = parts[..] else {
                panic!("a date: {text}");
            };
            cells::Content::Date {
                year: year.parse().expect("a year"),
                month: month.parse().expect("a month"),
                day: day.parse().expect("a day"),
            }
        }
        "truth" => cells::Content::Truth(text.eq_ignore_ascii_case("true")),
        "formula" => {
            look = cells::Look {
                formula: rest.to_owned(),
                ..cells::Look::default()
            };
            match text.parse::<f64>() {
                Ok(_) => cells::Content::Number(text),
                Err(_) => cells::Content::Text(text),
            }
        }
        other => panic!("a kind of cell not known: {other}"),
    };
    let cell = cells::Cell {
        content,
        look: Some(Box::new(look)),
    };
    undo::typed(&cell, YEAR_SET)
}

fn milliseconds(text: &str) -> i64 {
    let parts: Vec<&str> = text.split(':').collect();
    let [hours, minutes, seconds] = parts[..] else {
        panic!("a time: {text}");
    };
    let (whole, part) = seconds.split_once('.').unwrap_or((seconds, "0"));
    let number = |text: &str| text.parse::<i64>().expect("digits");
    let thousandths = number(&format!("{part:0<3}"));
    ((number(hours) * 60 + number(minutes)) * 60 + number(whole)) * 1000 + thousandths
}

/// What does not fit, in a few words; nothing where all does.
fn misfits(mark: &marking::Mark, wanted: &Wanted<'_>) -> Vec<String> {
    let mut misfits = Vec::new();
    if wanted.marks != "?" && mark.marks.to_string() != wanted.marks {
        misfits.push(format!("marks {} not {}", mark.marks, wanted.marks));
    }
    if wanted.state != "?" && mark.state.text() != wanted.state {
        misfits.push(format!("state {} not {}", mark.state.text(), wanted.state));
    }
    let check = if mark.check.is_empty() { "no" } else { "yes" };
    if wanted.check != "?" && check != wanted.check {
        misfits.push(format!("check {check} not {}", wanted.check));
    }
    if wanted.misconceptions != "?" {
        let told: BTreeSet<&str> = mark.misconceptions.iter().map(String::as_str).collect();
        let wanted: BTreeSet<&str> = wanted
            .misconceptions
            .split(", ")
            .filter(|id| *id != "-")
            .collect();
        if told != wanted {
            misfits.push(format!("misconceptions {told:?} not {wanted:?}"));
        }
    }
    // 3:1 and 3 : 1 are one writing.
    let reason = mark.reason.to_lowercase().replace(" : ", ":");
    for fragment in wanted.reason.split(" | ").filter(|it| *it != "-") {
        if !reason.contains(&fragment.to_lowercase()) {
            misfits.push(format!("no \"{fragment}\" in the reason"));
        }
    }
    misfits
}

fn told(place: &str, typed: &str, mark: &marking::Mark, misfits: &[String]) -> String {
    format!(
        "{place} \"{typed}\" (right is {}): {}; read as {:?}; {} [{}]",
        mark.expected,
        misfits.join(", "),
        mark.read_as,
        mark.reason,
        mark.check
    )
}

#[test]
fn answers_are_marked_as_by_hand() {
    let mut wrong = Vec::new();
    let (mut count, mut open) = (0, 0);
    for (name, text) in FILES {
        let cases = cases(name, text);
        for (line, row) in &cases.rows {
            let [
                asked,
                text,
                cell,
                work,
                marks,
                state,
                misconceptions,
                check,
                reason,
            ] = row[..]
            else {
                panic!("nine cells");
            };
            let place = format!("{name}:{line}: {asked}");
            let asked = cases
                .questions
                .get(asked)
                .unwrap_or_else(|| panic!("{place}"));
            let item = question(asked, "Q1");
            let mut response = response(&[], &[("Q1", &work.replace("\\n", "\n"))]);
            response.answers.insert("Q1".to_owned(), typed(text, cell));
            let marked =
                marking::mark_sheet(&[item], &response, &marking::policy::Policy::default());
            let mark = marked.first().expect("one item, one mark");
            let wanted = Wanted {
                marks,
                state,
                misconceptions,
                check,
                reason,
            };
            let misfits = misfits(mark, &wanted);
            count += 1;
            open += usize::from(!mark.check.is_empty());
            if !misfits.is_empty() {
                wrong.push(told(&place, text, mark, &misfits));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {count} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(count >= 3_000, "only {count} cases");
    // A table of odd answers: one in ten needs a person; in a class it is fewer.
    assert!(
        open * 10 <= count,
        "a person is asked about {open} of {count}"
    );
}

#[test]
fn later_parts_are_marked_as_by_hand() {
    let (name, text) = FOLLOWING;
    let cases = cases(name, text);
    let mut wrong = Vec::new();
    for (line, row) in &cases.rows {
        let [
            first,
            first_text,
            second,
            text,
            marks,
            state,
            misconceptions,
            check,
            reason,
        ] = row[..]
        else {
            panic!("nine cells");
        };
        let place = format!("{name}:{line}: {first} \"{first_text}\", {second}");
        let first = question(&cases.questions[first], "Q1a");
        let mut second = question(&cases.questions[second], "Q1b");
        second.follows = vec!["Q1a".to_owned()];
        let response = response(&[("Q1a", first_text), ("Q1b", text)], &[]);
        let marked = marking::mark_sheet(
            &[first, second],
            &response,
            &marking::policy::Policy::default(),
        );
        let mark = marked.get(1).expect("two items, two marks");
        let wanted = Wanted {
            marks,
            state,
            misconceptions,
            check,
            reason,
        };
        let misfits = misfits(mark, &wanted);
        if !misfits.is_empty() {
            wrong.push(told(&place, text, mark, &misfits));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {} wrong:\n{}",
        wrong.len(),
        cases.rows.len(),
        wrong.join("\n")
    );
}
