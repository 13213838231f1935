//! What was typed is brought back from cells that a spreadsheet program changed.

use std::fs;
use std::path::Path;
use toothmark::workbook::cells;
use toothmark::workbook::undo;

/// What was typed, and what is had instead where the file no longer tells.
///
/// A dash makes the same date as a slash; a plus sign, leading zeros and a
/// thousands comma make the same number as without; an xls file tells no
/// number formats.
const LOST: [(&str, &str); 13] = [
    ("3-1", "3/1"),
    ("1-3", "1/3"),
    ("Mar 1", "1/3"),
    ("3 : 1", "3:1"),
    ("1,200", "1200"),
    ("+3", "3"),
    ("007", "7"),
    ("2 1/2", "2.5"),
    ("50%", "0.5"),
    ("33.3%", "0.333"),
    ("1e3", "1000"),
    ("£5", "5"),
    ("=HYPERLINK(\"x\",\"y\")", "y"),
];

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

/// Checks one file; returns what came back only as something else.
fn check(file: &str) -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/reference/spreadsheet-changes")
        .join(file);
    let bytes = fs::read(path).expect("the reference file is there");
    let book = cells::read(&bytes).expect("the reference file can be read");
    let grid = book.grids.first().expect("one worksheet");
    let mut lost = Vec::new();
    let mut rows = 0;
    for row in grid.rows.keys().copied().skip(1) {
        let typed = exact(grid, row, 6).expect("what was typed");
        rows += 1;
        assert_eq!(
            exact(grid, row, 2).as_deref(),
            Some(typed.as_str()),
            "{file}: a text cell keeps what was typed"
        );
        let found = undo::typed(grid.cell(row, 1).expect("a changed cell"), 2026);
        let readings: Vec<&str> = std::iter::once(found.text.as_str())
            .chain(found.undone.iter().map(|undone| undone.text.as_str()))
            .collect();
        if readings.contains(&typed.as_str()) {
            continue;
        }
        let instead = LOST
            .iter()
            .find(|(lost, _)| *lost == typed)
            .map(|(_, instead)| *instead);
        assert!(
            instead.is_some_and(|instead| readings.contains(&instead)),
            "{file}: {typed} came back only as {readings:?}"
        );
        lost.push(typed);
    }
    assert_eq!(rows, 42, "{file}");
    lost
}

#[test]
fn what_was_typed_is_among_the_readings() {
    let same_everywhere = [
        "3 : 1",
        "3-1",
        "1-3",
        "1,200",
        "+3",
        "Mar 1",
        "007",
        "=HYPERLINK(\"x\",\"y\")",
    ];
    for file in [
        "typed-en-GB.xlsx",
        "typed-en-GB.ods",
        "typed-en-US.xlsx",
        "typed-en-US.ods",
    ] {
        for lost in check(file) {
            assert!(
                same_everywhere.contains(&lost.as_str()),
                "{file}: {lost} should have come back"
            );
        }
    }
}

#[test]
fn an_xls_file_gives_back_equal_values() {
    for file in ["typed-en-GB.xls", "typed-en-US.xls"] {
        let lost = check(file);
        for kept in ["3:1", "30:10", "1:2.5", "1/3", "25/10", "=60/3"] {
            assert!(!lost.iter().any(|typed| typed == kept), "{file}: {kept}");
        }
    }
}
