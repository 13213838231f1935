//! Tables found by the words of their heading row, wherever they stand.
//!
//! People move, insert, sort and hide columns and rows and add notes; so a
//! table is the first row that holds the wanted headings, and what is below.

use crate::workbook::cells;
use crate::workbook::undo;
use std::collections::BTreeMap;

/// A table of a worksheet.
#[derive(Debug, Clone)]
pub struct Table<'a> {
    /// The worksheet.
    pub grid: &'a cells::Grid,
    /// The heading row, from 0.
    pub row: u32,
    /// The headings that hold something, from left to right.
    pub headings: Vec<Heading>,
}

/// One heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    /// The column, from 0.
    pub column: u32,
    /// What is written there.
    pub text: String,
    /// The same as [`key`] gives it, to compare.
    pub key: String,
}

/// Returns the letters and digits of a heading in lower case, to compare by.
#[must_use]
pub fn key(text: &str) -> String {
    text.chars()
        .filter(|sign| sign.is_alphanumeric())
        .flat_map(char::to_lowercase)
        .collect()
}

/// Returns the table whose heading row holds one of the spellings of each wanted heading.
#[must_use]
pub fn find<'a>(grid: &'a cells::Grid, wanted: &[&[&str]]) -> Option<Table<'a>> {
    grid.rows
        .iter()
        .take(cells::HEADING_ROWS)
        .map(|(row, cells)| table(grid, *row, cells))
        .find(|table| {
            wanted
                .iter()
                .all(|spellings| spellings.iter().any(|key| table.has(key)))
        })
}

/// Returns the table whose heading row is the first row that holds anything.
#[must_use]
pub fn first(grid: &cells::Grid) -> Option<Table<'_>> {
    grid.rows
        .iter()
        .map(|(row, cells)| table(grid, *row, cells))
        .find(|table| !table.headings.is_empty())
}

/// Returns the entry of `known` most like `text`, where one is near.
#[must_use]
pub fn nearest<'a>(text: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let text = text.to_lowercase();
    known
        .into_iter()
        .map(|entry| (strsim::osa_distance(&text, &entry.to_lowercase()), entry))
        .filter(|(distance, entry)| *distance <= 2 && *distance < entry.chars().count())
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, entry)| entry)
}

fn table<'a>(grid: &'a cells::Grid, row: u32, cells: &BTreeMap<u32, cells::Cell>) -> Table<'a> {
    let headings = cells
        .iter()
        .map(|(column, cell)| {
            let text = undo::text(cell).trim().to_owned();
            Heading {
                column: *column,
                key: key(&text),
                text,
            }
        })
        .filter(|heading| !heading.text.is_empty())
        .collect();
    Table {
        grid,
        row,
        headings,
    }
}

impl Table<'_> {
    /// Says whether a heading is there.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.headings.iter().any(|heading| heading.key == key)
    }

    /// Returns the columns under a heading, from left to right.
    #[must_use]
    pub fn columns(&self, key: &str) -> Vec<u32> {
        self.headings
            .iter()
            .filter(|heading| heading.key == key)
            .map(|heading| heading.column)
            .collect()
    }

    /// Returns the first column under any spelling of a heading.
    #[must_use]
    pub fn column(&self, spellings: &[&str]) -> Option<u32> {
        spellings
            .iter()
            .find_map(|key| self.columns(key).first().copied())
    }

    /// Returns the rows below the heading row that hold something.
    #[must_use]
    pub fn rows(&self) -> Vec<u32> {
        self.grid
            .rows
            .range(self.row.saturating_add(1)..)
            .map(|(row, _)| *row)
            .collect()
    }

    /// Returns the text of a cell without spaces around it; empty where there is none.
    #[must_use]
    pub fn text(&self, row: u32, column: u32) -> String {
        self.grid
            .cell(row, column)
            .map(|cell| undo::text(cell).trim().to_owned())
            .unwrap_or_default()
    }

    /// Returns the text after a label in the rows above the table, with its row and column.
    ///
    /// It stands in the same cell, with or without a colon, or in the next that holds something.
    #[must_use]
    pub fn labelled(&self, label: &str) -> Option<(u32, u32, String)> {
        self.grid.rows.range(..self.row).find_map(|(row, cells)| {
            let mut texts = cells
                .iter()
                .map(|(column, cell)| (*column, undo::text(cell).trim().to_owned()))
                .filter(|(_, text)| !text.is_empty());
            let (column, after) = texts.find_map(|(column, text)| {
                let (start, rest) = text.split_at_checked(label.len())?;
                let rest = rest.trim_start_matches([' ', ':', '\u{a0}']);
                start
                    .eq_ignore_ascii_case(label)
                    .then(|| (column, rest.to_owned()))
            })?;
            if after.is_empty() {
                texts.next().map(|(column, text)| (*row, column, text))
            } else {
                Some((*row, column, after))
            }
        })
    }

    /// Returns the place of a cell in a file: `answers.xlsx: Answers!C7`.
    #[must_use]
    pub fn place(&self, file: &str, row: u32, column: u32) -> String {
        format!("{file}: {}", self.grid.place(row, column))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(text: &str) -> cells::Grid {
        cells::read(text.as_bytes())
            .expect("a csv file")
            .grids
            .remove(0)
    }

    #[test]
    fn a_table_is_found_below_notes_and_in_any_case() {
        let grid = grid("notes,,\n\n,PUPIL_ID,pupil\n,P1,Ann\n");
        let table = find(&grid, &[&["pupilid", "id"]]).expect("the table");
        assert_eq!(table.row, 2);
        assert_eq!(table.columns("pupilid"), vec![1]);
        assert_eq!(table.rows(), vec![3]);
        assert_eq!(table.text(3, 2), "Ann");
        assert_eq!(table.place("a.csv", 3, 2), "a.csv: C4");
        assert!(find(&grid, &[&["pupilid"], &["class"]]).is_none());
    }

    #[test]
    fn near_names_are_suggested_and_far_ones_are_not() {
        assert_eq!(nearest("pupil di", ["pupil id", "name"]), Some("pupil id"));
        assert_eq!(nearest("Clas", ["class", "year"]), Some("class"));
        assert_eq!(nearest("colour", ["class", "year"]), None);
    }
}
