//! What was typed is brought back from cells that a spreadsheet program changed.

use crate::marking::{Question, item, response};
use std::fs;
use std::path::Path;
use toothmark::answer;
use toothmark::item;
use toothmark::marking;
use toothmark::workbook::cells;
use toothmark::workbook::undo;

/// What was typed, and what is had instead where the file no longer tells; it means
/// the same. (`Mar 1` answers nothing here.)
const LOST: [(&str, &str); 6] = [
    ("3 : 1", "3:1"),
    ("1,200", "1200"),
    ("+3", "3"),
    ("007", "7"),
    ("Mar 1", "1/3"),
    ("=HYPERLINK(\"x\",\"y\")", "y"),
];

/// How many answers each file holds.
const ROWS: usize = 42;

/// What one row of a reference file holds.
struct Row {
    /// Exactly what was typed.
    typed: String,
    /// What is read from the cell that the program changed.
    changed: answer::Typed,
}

/// The text that a cell must hold as it is.
fn exact(grid: &cells::Grid, row: u32, column: u32) -> Option<String> {
    match &grid.cell(row, column)?.content {
        cells::Content::Text(text) => Some(text.clone()),
        cells::Content::Number(_)
        | cells::Content::Time { .. }
        | cells::Content::Date { .. }
        | cells::Content::Truth(_)
        | cells::Content::Fault(_)
        | cells::Content::Uncalculated => None,
    }
}

/// The rows of one file.
fn rows(file: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/reference/spreadsheet-changes")
        .join(file);
    let bytes = fs::read(path).expect("the reference file is there");
    let book = cells::read(&bytes).expect("the reference file can be read");
    let grid = book.grids.first().expect("one worksheet");
    let rows: Vec<Row> = grid
        .rows
        .keys()
        .copied()
        .skip(1)
        .map(|row| {
            let typed = exact(grid, row, 6).expect("what was typed");
            assert_eq!(
                exact(grid, row, 2).as_deref(),
                Some(typed.as_str()),
                "{file}: a text cell keeps what was typed"
            );
            let cell = grid.cell(row, 1).expect("a changed cell");
            Row {
                typed,
                changed: undo::typed(cell, 2026),
            }
        })
        .collect();
    assert_eq!(rows.len(), ROWS, "{file}");
    rows
}

fn readings(typed: &answer::Typed) -> Vec<&str> {
    std::iter::once(typed.text.as_str())
        .chain(typed.undone.iter().map(|undone| undone.text.as_str()))
        .collect()
}

#[test]
fn what_was_typed_is_among_the_readings_of_every_kind_of_file() {
    for language in ["en-GB", "en-US"] {
        for kind in ["xlsx", "xls", "ods"] {
            let file = format!("typed-{language}.{kind}");
            for row in rows(&file) {
                let found = readings(&row.changed);
                let instead = LOST
                    .iter()
                    .find(|(lost, _)| *lost == row.typed)
                    .map_or(row.typed.as_str(), |(_, instead)| *instead);
                assert!(
                    found.contains(&instead),
                    "{file}: {} came back only as {found:?}",
                    row.typed
                );
            }
        }
    }
}

/// Questions of every kind, many of whose right answers are among those typed.
fn questions() -> Vec<item::Item> {
    let pair = ["gear A 12 drives gear B 36", "A turns 9"];
    let up = ["gear A 20 drives gear B 8", "A turns 1"];
    let fast = ["gear A 12 drives gear B 36", "A runs at 60 rpm"];
    let half = ["gear A 10 drives gear B 20", "A turns 1"];
    let idler = [
        "gear A 12 drives gear B 20 drives gear C 36",
        "A turns clockwise",
    ];
    let open = ["gear A ? drives gear B ?", "A turns 9", "B turns 3"];
    let many = ["gear A 60 drives gear B 12", "A turns 240"];
    let cases: [(&[&str], &str, &str); 15] = [
        (&pair, "turns of B", "working"),
        (&pair, "ratio of turns A : B", "-"),
        (&pair, "ratio of turns A : B", "simplest"),
        (&pair, "ratio of teeth A : B", "-"),
        (&pair, "faster of A, B", "-"),
        (&open, "choose A, B from 8, 12, 24, 36", "-"),
        (&fast, "speed of B", "-"),
        (&up, "turns of B", "-"),
        (&up, "ratio of turns B : A", "-"),
        (&half, "turns of B", "2 places"),
        (&half, "ratio of turns B : A", "-"),
        (&idler, "direction of B", "-"),
        (&idler, "direction of C", "-"),
        (&idler, "same way A, C", "-"),
        (&many, "turns of B", "-"),
    ];
    cases
        .into_iter()
        .map(|(lines, ask, form)| {
            item(&Question {
                number: "Q1",
                lines: lines.to_vec(),
                ask,
                form,
                marks: "2",
            })
        })
        .collect()
}

fn marks(typed: &answer::Typed, questions: &[item::Item]) -> Vec<marking::Mark> {
    let policy = marking::policy::Policy::default();
    let mut response = response(&[], &[]);
    response.answers.insert("Q1".to_owned(), typed.clone());
    questions
        .iter()
        .flat_map(|item| marking::mark_sheet(std::slice::from_ref(item), &response, &policy))
        .collect()
}

#[test]
fn the_same_answers_earn_the_same_marks_from_xlsx_xls_and_ods() {
    let questions = questions();
    for language in ["en-GB", "en-US"] {
        let [xlsx, xls, ods] =
            ["xlsx", "xls", "ods"].map(|kind| rows(&format!("typed-{language}.{kind}")));
        let mut right = 0;
        for ((xlsx, xls), ods) in xlsx.iter().zip(&xls).zip(&ods) {
            let wanted = marks(&xlsx.changed, &questions);
            right += wanted.iter().filter(|mark| mark.marks == 2).count();
            for (kind, other) in [("xls", xls), ("ods", ods)] {
                assert_eq!(xlsx.typed, other.typed);
                for (mut found, wanted) in
                    marks(&other.changed, &questions).into_iter().zip(&wanted)
                {
                    // An ods file writes a formula with semicolons.
                    found.read_as = found.read_as.replace(';', ",");
                    assert_eq!(&found, wanted, "{language}, {kind}: {}", xlsx.typed);
                }
            }
        }
        assert!(right >= 30, "{language}: only {right} right answers");
    }
}

#[test]
fn what_a_program_changed_earns_what_was_typed_or_a_person_is_asked() {
    let questions = questions();
    let mut wrong = Vec::new();
    for language in ["en-GB", "en-US"] {
        for row in rows(&format!("typed-{language}.xlsx")) {
            let typed = answer::Typed {
                text: row.typed.clone(),
                undone: Vec::new(),
            };
            let wanted = marks(&typed, &questions);
            let found = marks(&row.changed, &questions);
            for (wanted, found) in wanted.iter().zip(&found) {
                if found.marks != wanted.marks && found.check.is_empty() {
                    wrong.push(format!(
                        "{}: right is {}: {} not {}: {}",
                        row.typed, found.expected, found.marks, wanted.marks, found.reason
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What a csv file holds after a spreadsheet program has written it, and what had been
/// typed. Measured with `LibreOffice` 7.4.7; the short forms as other programs write
/// them are common practice, no source.
const IN_CSV: [(&str, &str); 30] = [
    ("03:01:00", "3:1"),
    ("03:01", "3:1"),
    ("03:01:00 AM", "3:1"),
    ("3:01:00 AM", "3:1"),
    ("3:01 AM", "3:1"),
    ("12:01:00 PM", "12:1"),
    ("12:01:00 AM", "0:1"),
    ("30:10:00", "30:10"),
    ("01:02.50", "1:2.5"),
    ("-03:01:00", "-3:1"),
    ("13:00:00", "12:60"),
    ("01/03/26", "1/3"),
    ("03/01/26", "1/3"),
    ("01/03/2026", "1/3"),
    ("2026-03-01", "1/3"),
    ("01.03.26", "1/3"),
    ("03.01.2026", "3.1"),
    ("01-Mar", "1/3"),
    ("01. Mrz", "1/3"),
    ("01-mars", "1/3"),
    ("Dec-36", "12/36"),
    ("2 1/2", "5/2"),
    ("50.00%", "50%"),
    ("1.00E+03", "1e3"),
    ("1,200.00", "1200"),
    ("TRUE", "true"),
    ("WAHR", "TRUE"),
    ("VRAI", "yes"),
    ("(3.00)", "(3)"),
    ("2.50", "2.5"),
];

#[test]
fn a_csv_file_as_a_program_writes_it_earns_what_was_typed_or_a_person_is_asked() {
    let questions = questions();
    for (written, typed) in IN_CSV {
        let book = cells::read(format!("a,b\n\"{written}\",x\n").as_bytes()).expect("a csv file");
        let cell = book.grids.first().and_then(|grid| grid.cell(1, 0));
        let changed = undo::typed(cell.expect("the cell"), 2026);
        let typed = answer::Typed {
            text: typed.to_owned(),
            undone: Vec::new(),
        };
        let (wanted, found) = (marks(&typed, &questions), marks(&changed, &questions));
        for (wanted, found) in wanted.iter().zip(&found) {
            assert!(
                found.marks == wanted.marks || !found.check.is_empty(),
                "{written} for {}: right is {}: {found:?}",
                wanted.typed,
                wanted.expected
            );
        }
    }
}

#[test]
fn the_error_values_of_every_language_are_no_answers() {
    let questions = questions();
    for fault in [
        "#DIV/0!",
        "#NAME?",
        "#N/A",
        "#NV",
        "#WERT!",
        "#¿NOMBRE?",
        "#¡VALOR!",
        "Err:509",
        "Err:522",
    ] {
        for content in [
            cells::Content::Fault(fault.to_owned()),
            cells::Content::Text(fault.to_owned()),
        ] {
            let cell = cells::Cell::plain(content);
            for mark in marks(&undo::typed(&cell, 2026), &questions) {
                assert_eq!(
                    (mark.marks, mark.state, mark.check.as_str()),
                    (0, marking::State::Unreadable, "the cell holds an error"),
                    "{fault}"
                );
            }
        }
    }
}

#[test]
fn a_nought_that_a_program_dropped_costs_no_digits() {
    // 4.997 ÷ 2 is 2.4985: to two places 2.50, of which a program makes 2.5.
    let question = item(&Question {
        number: "Q1",
        lines: vec!["gear A 12 drives gear B 24", "A turns 4.997"],
        ask: "turns of B",
        form: "2 places",
        marks: "2",
    });
    let cell = cells::Cell::plain(cells::Content::Number("2.5".to_owned()));
    let found = marks(&undo::typed(&cell, 2026), &[question]);
    let mark = found.first().expect("one mark");
    assert_eq!(
        (mark.marks, mark.check.as_str()),
        (2, ""),
        "{}",
        mark.reason
    );
}
