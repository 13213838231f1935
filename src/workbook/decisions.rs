//! What people decided in a saved results workbook.
//!
//! Goes by the headings of [`results`]; rows may have been sorted or hidden,
//! columns moved, the file saved in another format. Gives only what is new: a
//! mark that stands there as it was decided before is no new decision.

use crate::marking::decision;
use crate::problem;
use crate::workbook::cells;
use crate::workbook::headings;
use crate::workbook::results;
use crate::workbook::undo;

/// What is known when a results workbook is read.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// The file's name, for places.
    pub file: &'a str,
    /// The code of the homework being marked.
    pub homework_code: &'a str,
    /// Decisions of the record, oldest first.
    pub earlier: &'a [decision::Decision],
    /// Today, ISO 8601.
    pub date: &'a str,
}

/// Returns the decisions of a results workbook that are not among the earlier ones.
///
/// # Errors
///
/// Every problem at once: a mark that cannot be given, a row without its code,
/// another homework's workbook.
pub fn read(
    known: &Known<'_>,
    bytes: &[u8],
) -> Result<Vec<decision::Decision>, Vec<problem::Problem>> {
    let book = cells::read(bytes).map_err(|fault| vec![fault.to_problem(known.file)])?;
    let mut decisions = Vec::new();
    let mut problems = Vec::new();
    for (heading, owner) in [
        (results::YOUR_MARK, None),
        (results::CHANGED_MARK, Some(results::PUPIL_ID)),
    ] {
        let heading_key = headings::key(heading);
        let question_key = headings::key(results::QUESTION);
        for grid in &book.grids {
            let wanted: [&[&str]; 2] = [&[&heading_key], &[&question_key]];
            let Some(table) = headings::find(grid, &wanted) else {
                continue;
            };
            if let Some(problem) = other_code(known, &table) {
                return Err(vec![problem]);
            }
            for row in table.rows() {
                let reading = RowReading {
                    known,
                    table: &table,
                    row,
                };
                match reading.decision(heading, owner) {
                    Ok(Some(decision)) => decisions.push(decision),
                    Ok(None) => {}
                    Err(problem) => problems.push(problem),
                }
            }
        }
    }
    if problems.is_empty() {
        Ok(decisions)
    } else {
        Err(problems)
    }
}

/// One row that may hold a decision.
struct RowReading<'a> {
    known: &'a Known<'a>,
    table: &'a headings::Table<'a>,
    row: u32,
}

impl RowReading<'_> {
    /// Returns the new decision of the row, if it holds one.
    fn decision(
        &self,
        heading: &str,
        owner: Option<&str>,
    ) -> Result<Option<decision::Decision>, problem::Problem> {
        let typed_mark = self.text(heading);
        if typed_mark.is_empty() || headings::key(&typed_mark) == headings::key(heading) {
            return Ok(None);
        }
        let out_of = self.text(results::OUT_OF);
        let most: u8 = out_of.parse().map_err(|_| {
            self.problem(
                heading,
                format!("the row has no marks in {}", results::OUT_OF),
                "mark the homework again and decide in the new file",
            )
        })?;
        let marks = typed_mark
            .parse::<u8>()
            .ok()
            .filter(|marks| *marks <= most)
            .ok_or_else(|| {
                self.problem(
                    heading,
                    format!(
                        "{}: found {typed_mark}, looked for a whole number from 0 to {most}",
                        heading.to_lowercase()
                    ),
                    "type a whole number of marks, or clear the cell",
                )
            })?;
        let code = self.text(results::CODE);
        if code.is_empty() {
            return Err(self.problem(
                heading,
                format!("a mark stands in a row without its {}", results::CODE),
                "mark the homework again and decide in the new file",
            ));
        }
        let scope = owner.map_or(decision::Scope::Equal, |owner| decision::Scope::Pupil {
            pupil_id: self.text(owner),
        });
        let question = self.text(results::QUESTION);
        let standing = self.known.earlier.iter().rev().find(|earlier| {
            earlier.scope == scope
                && earlier.code == code
                && (earlier.question == question || scope == decision::Scope::Equal)
        });
        if standing.is_some_and(|standing| standing.marks == marks) {
            return Ok(None);
        }
        let proposed = [results::PROPOSED, "Mark"]
            .into_iter()
            .find_map(|heading| self.text(heading).parse().ok())
            .unwrap_or(0);
        // Without the record that held it, a decision keeps the date beside it.
        let date_beside = self.text(results::DECIDED_ON);
        let date = if standing.is_none() && !date_beside.is_empty() {
            date_beside
        } else {
            self.known.date.to_owned()
        };
        Ok(Some(decision::Decision {
            scope,
            question,
            typed: self.raw(results::ANSWER),
            code,
            marks,
            proposed,
            date,
        }))
    }

    /// Returns the text under a heading without spaces around it.
    fn text(&self, heading: &str) -> String {
        self.raw(heading).trim().to_owned()
    }

    /// Returns the text under a heading as it stands.
    fn raw(&self, heading: &str) -> String {
        self.table
            .column(&[&headings::key(heading)])
            .and_then(|column| self.table.grid.cell(self.row, column))
            .map(undo::text)
            .unwrap_or_default()
    }

    fn problem(&self, heading: &str, what: String, hint: &str) -> problem::Problem {
        let column = self
            .table
            .column(&[&headings::key(heading)])
            .unwrap_or_default();
        let place = self.table.place(self.known.file, self.row, column);
        problem::Problem::new(place, what, hint)
    }
}

/// Returns the problem when the code above a table is that of another homework.
fn other_code(known: &Known<'_>, table: &headings::Table<'_>) -> Option<problem::Problem> {
    let (row, column, found) = table.labelled(results::CODE_LABEL)?;
    let is_same = found.eq_ignore_ascii_case(known.homework_code);
    (!is_same).then(|| {
        problem::Problem::new(
            table.place(known.file, row, column),
            format!(
                "found the code {found}, looked for {} of this homework",
                known.homework_code
            ),
            "move the results workbook of the other homework to another folder",
        )
    })
}
