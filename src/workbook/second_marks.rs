//! What another person gave in a saved `second-look.xlsx`.
//!
//! Goes by the headings of [`crate::workbook::second_look`]; rows may have been
//! sorted, hidden or deleted, columns moved, the file saved in another format.

use crate::marking;
use crate::marking::second_look;
use crate::problem;
use crate::workbook::cells;
use crate::workbook::headings;
use crate::workbook::results;
use crate::workbook::second_look as sheet;
use crate::workbook::undo;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// What is known when second marks are read.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// The file's name, for places.
    pub file: &'a str,
    /// The homework marked, with the samples drawn so far.
    pub marked: &'a marking::Marked,
    /// Today, ISO 8601.
    pub date: &'a str,
}

/// What came back in one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenBack {
    /// The sample with the second marks in it.
    pub look: second_look::Look,
    /// Where the first marks come from.
    pub origin: Origin,
}

/// Where the first marks of a sample come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// From the record of the sample, as they stood when it was drawn.
    Record,
    /// From today's marks: the record of the sample is lost.
    Today,
}

/// Returns the sample with the marks of the file; none where no mark was given.
///
/// # Errors
///
/// Every problem at once: a file without the table of a second look, another
/// homework's, a mark that cannot be given, a row that is not of the sample or
/// stands there twice with different marks.
pub fn read(known: &Known<'_>, bytes: &[u8]) -> Result<Option<GivenBack>, Vec<problem::Problem>> {
    let book = cells::read(bytes).map_err(|fault| vec![fault.to_problem(known.file)])?;
    let (code_key, mark_key) = (
        headings::key(sheet::ROW_CODE),
        headings::key(sheet::SECOND_MARK),
    );
    let table = book
        .grids
        .iter()
        .find_map(|grid| headings::find(grid, &[&[&code_key], &[&mark_key]]));
    let Some(table) = table else {
        return Err(vec![problem::Problem::new(
            known.file,
            format!(
                "found no table with the headings {} and {}",
                sheet::ROW_CODE,
                sheet::SECOND_MARK
            ),
            "use the file that --second-look wrote, with its heading row",
        )]);
    };
    let reading = Reading {
        known,
        table: &table,
    };
    let rows = reading.rows()?;
    if rows.iter().all(|row| row.mark.is_empty()) {
        return Ok(None);
    }
    reading.matched(&rows).map(Some)
}

/// A table that second marks are read from.
struct Reading<'a> {
    known: &'a Known<'a>,
    table: &'a headings::Table<'a>,
}

/// A row as it stands in the file.
struct Row {
    number: u32,
    code: String,
    answer_code: String,
    /// The second mark as typed; empty where none was given.
    mark: String,
}

impl Reading<'_> {
    /// Returns the rows with a row code.
    fn rows(&self) -> Result<Vec<Row>, Vec<problem::Problem>> {
        let mut rows = Vec::new();
        let mut problems = Vec::new();
        for row in self.table.rows() {
            let mark = self.text(row, sheet::SECOND_MARK);
            // The heading row may stand there again, as on every printed page.
            if headings::key(&mark) == headings::key(sheet::SECOND_MARK) {
                continue;
            }
            let row_code = self.text(row, sheet::ROW_CODE).to_uppercase();
            if !row_code.is_empty() {
                rows.push(Row {
                    number: row,
                    code: row_code,
                    answer_code: self.text(row, sheet::ANSWER_CODE),
                    mark,
                });
            } else if !mark.is_empty() {
                problems.push(self.problem(
                    row,
                    sheet::SECOND_MARK,
                    format!("a mark stands in a row without its {}", sheet::ROW_CODE),
                    "put the mark into its row of the file that was written, or clear it",
                ));
            }
        }
        if problems.is_empty() {
            Ok(rows)
        } else {
            Err(problems)
        }
    }

    /// Returns the sample with these marks in it.
    fn matched(&self, rows: &[Row]) -> Result<GivenBack, Vec<problem::Problem>> {
        let marked = self.known.marked;
        let [seed, share, drawn_on] = self.heading()?;
        let codes = second_look::row_codes(marked, &seed);
        let recorded = marked
            .second_looks
            .iter()
            .rev()
            .find(|look| look.is_headed(&seed, &share, &drawn_on));
        let (mut look, origin) = match recorded {
            Some(look) => (look.clone(), Origin::Record),
            None => (
                self.without_record(rows, &codes, [seed, share, drawn_on])?,
                Origin::Today,
            ),
        };
        let seconds = self.seconds(rows, &codes, &look)?;
        for row in &mut look.rows {
            row.second = seconds
                .get(&(row.pupil_id.as_str(), row.question.as_str()))
                .copied();
        }
        // Read again, the same marks keep the day on which they came back.
        if recorded.is_none_or(|recorded| recorded.rows != look.rows) {
            self.known.date.clone_into(&mut look.given_back_on);
        }
        Ok(GivenBack { look, origin })
    }

    /// Returns the second mark of each answer.
    fn seconds<'m>(
        &self,
        rows: &[Row],
        codes: &BTreeMap<String, &'m marking::Mark>,
        look: &second_look::Look,
    ) -> Result<BTreeMap<(&'m str, &'m str), u8>, Vec<problem::Problem>> {
        let sample: BTreeSet<(&str, &str)> = look
            .rows
            .iter()
            .map(|row| (row.pupil_id.as_str(), row.question.as_str()))
            .collect();
        let mut seconds: BTreeMap<(&str, &str), u8> = BTreeMap::new();
        let mut problems = Vec::new();
        for given in rows.iter().filter(|row| !row.mark.is_empty()) {
            let mark = codes.get(&given.code);
            let Some(mark) = mark.filter(|mark| sample.contains(&key(mark))) else {
                problems.push(self.problem(
                    given.number,
                    sheet::ROW_CODE,
                    format!("row code {} is not of this sample", given.code),
                    "take the row code from the file as it was written",
                ));
                continue;
            };
            let second = given.mark.parse().ok().filter(|it| *it <= mark.out_of);
            let Some(second) = second else {
                problems.push(self.problem(
                    given.number,
                    sheet::SECOND_MARK,
                    format!(
                        "second mark: found {}, looked for a whole number from 0 to {}",
                        given.mark, mark.out_of
                    ),
                    "type a whole number of marks, or clear the cell",
                ));
                continue;
            };
            if let Some(other) = seconds.insert(key(mark), second)
                && other != second
            {
                problems.push(self.problem(
                    given.number,
                    sheet::SECOND_MARK,
                    format!(
                        "row code {} stands there twice, with {other} and with {second}",
                        given.code
                    ),
                    "keep one of the rows, or give both the same mark",
                ));
            }
        }
        if problems.is_empty() {
            Ok(seconds)
        } else {
            Err(problems)
        }
    }

    /// Returns a sample made of the rows of the file, with today's marks as the
    /// first; `heading` is seed, share and date.
    fn without_record(
        &self,
        given: &[Row],
        codes: &BTreeMap<String, &marking::Mark>,
        heading: [String; 3],
    ) -> Result<second_look::Look, Vec<problem::Problem>> {
        let mut problems = Vec::new();
        let mut rows: Vec<second_look::Row> = Vec::new();
        let mut taken = BTreeSet::new();
        for given in given {
            // A code that is not known is told with the marks.
            let Some(mark) = codes.get(&given.code) else {
                continue;
            };
            if given.answer_code.is_empty() && given.mark.is_empty() {
                continue;
            }
            if given.answer_code.is_empty() {
                problems.push(self.problem(
                    given.number,
                    sheet::ROW_CODE,
                    format!(
                        "the row has no {}, and the record of this sample is not in the folder",
                        sheet::ANSWER_CODE
                    ),
                    "use the file that --second-look wrote, or put marked.json back",
                ));
                continue;
            }
            if taken.insert(key(mark)) {
                rows.push(second_look::Row {
                    pupil_id: mark.pupil_id.clone(),
                    question: mark.question.clone(),
                    code: given.answer_code.clone(),
                    first: mark.marks,
                    reason: mark.reason.clone(),
                    second: None,
                });
            }
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        let [seed, share, drawn_on] = heading;
        Ok(second_look::Look {
            seed,
            share,
            drawn_on,
            given_back_on: String::new(),
            rows,
        })
    }

    /// Returns seed, share and date from the lines above the table.
    fn heading(&self) -> Result<[String; 3], Vec<problem::Problem>> {
        let mut problems = Vec::new();
        let mut found = |label: &str| {
            let found = self.table.labelled(label);
            if found.is_none() {
                problems.push(problem::Problem::new(
                    self.table.place(self.known.file, self.table.row, 0),
                    format!("found no line \"{label}\" above the table"),
                    "use the file that --second-look wrote, with its heading lines",
                ));
            }
            found
        };
        let homework = found(results::CODE_LABEL);
        let texts = [sheet::SEED_LABEL, sheet::SHARE_LABEL, sheet::DRAWN_LABEL]
            .map(|label| found(label).map_or_else(String::new, |(_, _, text)| text));
        let wanted = &self.known.marked.code;
        if let Some((row, column, code)) = homework
            && !code.eq_ignore_ascii_case(wanted)
        {
            problems.push(problem::Problem::new(
                self.table.place(self.known.file, row, column),
                format!("found the code {code}, looked for {wanted} of this homework"),
                "move the second look of the other homework to another folder",
            ));
        }
        if problems.is_empty() {
            Ok(texts)
        } else {
            Err(problems)
        }
    }

    /// Returns the text under a heading without spaces around it.
    fn text(&self, row: u32, heading: &str) -> String {
        self.table
            .column(&[&headings::key(heading)])
            .and_then(|column| self.table.grid.cell(row, column))
            .map(|cell| undo::text(cell).trim().to_owned())
            .unwrap_or_default()
    }

    fn problem(&self, row: u32, heading: &str, what: String, hint: &str) -> problem::Problem {
        let column = self
            .table
            .column(&[&headings::key(heading)])
            .unwrap_or_default();
        let place = self.table.place(self.known.file, row, column);
        problem::Problem::new(place, what, hint)
    }
}

/// What tells one answer of a homework from all others.
fn key(mark: &marking::Mark) -> (&str, &str) {
    (&mark.pupil_id, &mark.question)
}

#[cfg(test)]
mod tests;
