//! The answer workbook read back: what pupils typed, found by its headings.
//!
//! Columns and rows may have been moved, inserted, sorted or hidden, notes and
//! worksheets added; the file may be xlsx, xlsm, xls, ods, a csv with the same
//! headings, or a form's export with the questions behind their numbers.

use crate::homework;
use crate::marking;
use crate::marking::handed_in;
use crate::marking::owners;
use crate::problem;
use crate::workbook::answer_book;
use crate::workbook::cells;
use crate::workbook::headings;
use crate::workbook::undo;
use std::collections::BTreeMap;

mod columns;

/// The spellings of the heading that a table of answers must have.
const PUPIL_ID: &[&str] = &["pupilid"];

/// Everything that was typed, with what to tell the person.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answers {
    /// One for each pupil with a row, in the order of the homework.
    pub responses: Vec<marking::Response>,
    /// What was left out or filled in, and where; nothing that stops the marking.
    pub notices: Vec<problem::Problem>,
}

/// Returns what pupils typed into an answer workbook.
///
/// `file` is the file's name, for places.
///
/// # Errors
///
/// Every problem of the file at once: no table of answers, another homework's
/// code, missing or repeated columns, unknown or repeated pupil ids, an
/// attendance that is none.
pub fn read(
    file: &str,
    bytes: &[u8],
    homework: &homework::Homework,
) -> Result<Answers, Vec<problem::Problem>> {
    let book = cells::read(bytes).map_err(|fault| vec![fault.to_problem(file)])?;
    let mut notices = Vec::new();
    let table = table(file, &book, homework, &mut notices)?;
    if let Some(problem) = other_code(file, &table, homework) {
        return Err(vec![problem]);
    }
    let mut problems = Vec::new();
    let columns = columns::find(file, &table, homework, &mut problems, &mut notices);
    let year = homework.date.split('-').next().unwrap_or_default();
    let mut reading = Reading {
        file,
        homework,
        table: &table,
        columns,
        owners: owners::Owners::of(homework),
        names: by_name(homework),
        year_set: year.parse().unwrap_or(0),
        problems,
        notices,
    };
    let responses = reading.responses();
    if reading.problems.is_empty() {
        Ok(Answers {
            responses,
            notices: reading.notices,
        })
    } else {
        Err(reading.problems)
    }
}

/// Returns the table of answers of a workbook.
fn table<'a>(
    file: &str,
    book: &'a cells::Book,
    homework: &homework::Homework,
    notices: &mut Vec<problem::Problem>,
) -> Result<headings::Table<'a>, Vec<problem::Problem>> {
    let mut tables: Vec<headings::Table<'a>> = book
        .grids
        .iter()
        .filter_map(|grid| headings::find(grid, &[PUPIL_ID]))
        .filter(|table| {
            table
                .headings
                .iter()
                .any(|heading| columns::meaning(heading, homework).is_some())
        })
        .collect();
    // Our own worksheet comes first, then those in sight.
    tables.sort_by_key(|table| {
        let is_ours = table
            .grid
            .name
            .trim()
            .eq_ignore_ascii_case(answer_book::WORKSHEET);
        (!is_ours, !table.grid.visible)
    });
    let mut others = tables.into_iter();
    let Some(chosen) = others.next() else {
        return Err(vec![without_table(file, book)]);
    };
    for other in others {
        let is_rival = chosen
            .grid
            .name
            .trim()
            .eq_ignore_ascii_case(answer_book::WORKSHEET)
            || chosen.grid.visible != other.grid.visible;
        let place = format!("{file}: {}", other.grid.name);
        if is_rival {
            notices.push(problem::Problem::new(
                place,
                format!(
                    "this worksheet has answers too; only {} is marked",
                    chosen.grid.name
                ),
                "",
            ));
        } else {
            return Err(vec![problem::Problem::new(
                place,
                format!("this worksheet and {} both have answers", chosen.grid.name),
                "name the one to be marked Answers, or delete the other",
            )]);
        }
    }
    Ok(chosen)
}

/// Returns the problem for a workbook without a table of answers, with the nearest miss.
fn without_table(file: &str, book: &cells::Book) -> problem::Problem {
    let near = book.grids.iter().find_map(|grid| {
        grid.rows.keys().take(20).find_map(|row| {
            let cells = grid.rows.get(row)?;
            cells.iter().find_map(|(column, cell)| {
                let text = undo::text(cell);
                let is_near = headings::nearest(text.trim(), ["pupil id", "id", "pupil"]).is_some();
                is_near.then(|| (grid.place(*row, *column), text.trim().to_owned()))
            })
        })
    });
    let hint = match near {
        Some((place, text)) => format!(
            "found {text} in {place}: the heading row needs Pupil ID and the questions, Q1, Q2 and so on"
        ),
        None => "the heading row needs Pupil ID and the questions, Q1, Q2 and so on".to_owned(),
    };
    problem::Problem::new(file, "no worksheet has a table of answers", hint)
}

/// Returns the places on the roll by what is left of a name to compare.
fn by_name(homework: &homework::Homework) -> BTreeMap<String, Option<usize>> {
    let mut names = BTreeMap::new();
    for (place, assignment) in homework.pupils.iter().enumerate() {
        let name = headings::key(&assignment.pupil.name);
        if !name.is_empty() {
            names
                .entry(name)
                .and_modify(|only| *only = None)
                .or_insert(Some(place));
        }
    }
    names
}

/// The work of reading one table.
struct Reading<'a> {
    file: &'a str,
    homework: &'a homework::Homework,
    table: &'a headings::Table<'a>,
    columns: columns::Columns,
    owners: owners::Owners<'a>,
    /// Places on the roll by name; none where several have it.
    names: BTreeMap<String, Option<usize>>,
    year_set: i32,
    problems: Vec<problem::Problem>,
    notices: Vec<problem::Problem>,
}

impl<'a> Reading<'a> {
    /// Returns the responses in the order of the homework.
    fn responses(&mut self) -> Vec<marking::Response> {
        let mut found: BTreeMap<&'a str, marking::Response> = BTreeMap::new();
        let mut rows: BTreeMap<&'a str, u32> = BTreeMap::new();
        for row in self.table.rows() {
            let Some(assignment) = self.pupil_of(row) else {
                continue;
            };
            let id = assignment.pupil.id.as_str();
            // Of two rows an empty one does not count.
            let first = rows
                .get(id)
                .copied()
                .filter(|first| self.is_typed_in(*first));
            if let Some(first) = first {
                if self.is_typed_in(row) {
                    let first = self.table.grid.place(first, self.columns.id);
                    self.problem(
                        row,
                        self.columns.id,
                        format!("found the pupil id {id} a second time, first in {first}"),
                        "keep the row that counts and delete the other",
                    );
                }
                continue;
            }
            rows.insert(id, row);
            let response = self.response(row, assignment);
            found.insert(id, response);
        }
        let homework = self.homework;
        homework
            .pupils
            .iter()
            .filter_map(|assignment| found.remove(assignment.pupil.id.as_str()))
            .collect()
    }

    /// Says whether anything was typed into the row of a pupil.
    fn is_typed_in(&self, row: u32) -> bool {
        self.columns
            .typed_in()
            .any(|column| !self.table.text(row, column).is_empty())
    }

    /// Returns whose row it is; none for notes and empty rows.
    fn pupil_of(&mut self, row: u32) -> Option<&'a homework::Assignment> {
        let id = self.table.text(row, self.columns.id);
        let is_typed_in = self.is_typed_in(row);
        let name = self
            .columns
            .name
            .map_or_else(String::new, |column| self.table.text(row, column));
        let named = self.pupil_at(self.names.get(&headings::key(&name)).copied().flatten());
        if id.is_empty() {
            if is_typed_in {
                let hint = named.map_or_else(
                    || "type the pupil's id, or clear the row".to_owned(),
                    |other| format!("{name} has the pupil id {}: type it here", other.pupil.id),
                );
                self.problem(
                    row,
                    self.columns.id,
                    "found answers in a row without a pupil id".to_owned(),
                    &hint,
                );
            }
            return None;
        }
        // A heading row pasted a second time.
        if PUPIL_ID.contains(&headings::key(&id).as_str()) {
            return None;
        }
        let Some(assignment) = self.pupil_at(self.owners.owner(&id)) else {
            let what = format!("{id} is no pupil id of this homework");
            if is_typed_in {
                let ids = self
                    .homework
                    .pupils
                    .iter()
                    .map(|other| other.pupil.id.as_str());
                let near = named
                    .map(|other| other.pupil.id.as_str())
                    .or_else(|| headings::nearest(&id, ids));
                let hint = near.map_or_else(
                    || "type the id as the roll has it, or delete the row".to_owned(),
                    |near| format!("is it {near}? type the id as the roll has it"),
                );
                self.problem(row, self.columns.id, what, &hint);
            } else {
                self.notice(
                    row,
                    self.columns.id,
                    format!("{what}; the row has no answers"),
                );
            }
            return None;
        };
        // One column sorted without the others gives answers to the wrong pupil.
        if let Some(other) = named
            && other.pupil.id != assignment.pupil.id
            && headings::key(&name) != headings::key(&assignment.pupil.name)
        {
            self.problem(
                row,
                self.columns.id,
                format!(
                    "the pupil id {} belongs to {}, but the row says {name}",
                    assignment.pupil.id, assignment.pupil.name
                ),
                "were some columns sorted without the others? put ids and names together again",
            );
        }
        Some(assignment)
    }

    /// Returns the pupil at a place of the roll.
    fn pupil_at(&self, place: Option<usize>) -> Option<&'a homework::Assignment> {
        self.homework.pupils.get(place?)
    }

    fn response(&mut self, row: u32, assignment: &homework::Assignment) -> marking::Response {
        let mut response = marking::Response {
            pupil_id: assignment.pupil.id.clone(),
            attendance: self.attendance(row),
            answers: BTreeMap::new(),
            working: BTreeMap::new(),
            origin: handed_in::Origin::default(),
        };
        let table = self.table;
        let year_set = self.year_set;
        let typed = |column: u32| {
            table
                .grid
                .cell(row, column)
                .map(|cell| undo::typed(cell, year_set))
                .filter(|typed| !typed.text.trim().is_empty())
        };
        let mut not_asked = Vec::new();
        for (number, column) in &self.columns.answers {
            let Some(typed) = typed(*column) else {
                continue;
            };
            if answer_book::item_of(self.homework, assignment, number).is_some() {
                response.answers.insert(number.clone(), typed);
            } else {
                not_asked.push((*column, number.clone()));
            }
        }
        for (number, column) in &self.columns.working {
            if let Some(typed) = typed(*column)
                && answer_book::item_of(self.homework, assignment, number).is_some()
            {
                response.working.insert(number.clone(), typed);
            }
        }
        for (column, number) in not_asked {
            self.notice(
                row,
                column,
                format!("{number} is not on this pupil's sheet; the answer is left out"),
            );
        }
        let is_away = response.attendance != marking::Attendance::Present;
        if is_away && !response.answers.is_empty() {
            self.problem(
                row,
                self.columns.attendance.unwrap_or(self.columns.id),
                format!(
                    "the pupil {} is said to be away, but has answers",
                    assignment.pupil.id
                ),
                "clear the attendance or the answers",
            );
        }
        response
    }

    fn attendance(&mut self, row: u32) -> marking::Attendance {
        let Some(column) = self.columns.attendance else {
            return marking::Attendance::Present;
        };
        let text = self.table.text(row, column);
        match headings::key(&text).as_str() {
            "" | "present" | "p" | "here" | "yes" => marking::Attendance::Present,
            "absent" | "a" | "abs" | "away" => marking::Attendance::Absent,
            "excused" | "e" | "exc" | "exempt" => marking::Attendance::Excused,
            _ => {
                self.problem(
                    row,
                    column,
                    format!("attendance: found {text}, looked for absent or excused"),
                    "type absent or excused, or leave the cell empty",
                );
                marking::Attendance::Present
            }
        }
    }

    fn problem(&mut self, row: u32, column: u32, what: String, hint: &str) {
        let place = self.table.place(self.file, row, column);
        self.problems.push(problem::Problem::new(place, what, hint));
    }

    fn notice(&mut self, row: u32, column: u32, what: String) {
        let place = self.table.place(self.file, row, column);
        self.notices.push(problem::Problem::new(place, what, ""));
    }
}

/// Returns the problem when the code above a table is that of another homework.
fn other_code(
    file: &str,
    table: &headings::Table<'_>,
    homework: &homework::Homework,
) -> Option<problem::Problem> {
    let (row, column, found) = table.labelled(answer_book::CODE_LABEL)?;
    let is_same = found.eq_ignore_ascii_case(&homework.code);
    (!is_same).then(|| {
        problem::Problem::new(
            table.place(file, row, column),
            format!(
                "found the code {found}, looked for {} of this homework",
                homework.code
            ),
            "mark these answers with the homework.json of their own homework",
        )
    })
}

#[cfg(test)]
mod tests;
