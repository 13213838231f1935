//! What people decided in a saved results workbook.
//!
//! Goes by the headings of [`results`]; rows may have been sorted, filtered or
//! hidden, columns moved, the file saved in another format. Gives only what is
//! new: a mark that stands there as it was decided before is no new decision, and
//! a copy that is read a second time says nothing new.

use crate::marking::decision;
use crate::marking::standing;
use crate::problem;
use crate::workbook::cells;
use crate::workbook::headings;
use crate::workbook::results;
use crate::workbook::undo;
use std::collections::BTreeMap;

/// The headings under which people type marks, for all equal answers or for one pupil, and
/// then the heading of whose.
const ENTRIES: [(&str, Option<&str>); 2] = [
    (results::YOUR_MARK, None),
    (results::CHANGED_MARK, Some(results::PUPIL_ID)),
];

/// What is known when a results workbook is read.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// The file's name, for places.
    pub file: &'a str,
    /// The file's name as decisions keep it: the same each time.
    pub name: &'a str,
    /// Whose workbook it is.
    pub copy: Copied,
    /// The code of the homework being marked.
    pub homework_code: &'a str,
    /// Decisions so far, oldest first.
    pub earlier: &'a [decision::Decision],
    /// Today, ISO 8601.
    pub date: &'a str,
}

/// Whose workbook it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Copied {
    /// The one that the earlier marking wrote.
    No,
    /// Another person's copy.
    Yes,
}

/// Returns the decisions of a results workbook that are not among the earlier ones.
///
/// # Errors
///
/// Every problem at once: a mark that cannot be given, a row without its code, one
/// answer with two marks, another homework's workbook, no results workbook at all.
pub fn read(
    known: &Known<'_>,
    bytes: &[u8],
) -> Result<Vec<decision::Decision>, Vec<problem::Problem>> {
    let book = book(bytes).map_err(|fault| vec![fault.to_problem(known.file)])?;
    let mut reading = Reading {
        known,
        found: Vec::new(),
        places: BTreeMap::new(),
        problems: Vec::new(),
    };
    let mut table_count = 0;
    for (heading, owner) in ENTRIES {
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
            table_count += 1;
            reading.table(&table, heading, owner);
        }
    }
    if table_count == 0 && known.copy == Copied::Yes {
        reading.problems.push(problem::Problem::new(
            known.file,
            format!(
                "no worksheet has a column {} or {}",
                results::YOUR_MARK,
                results::CHANGED_MARK
            ),
            "name a saved copy of marked.xlsx",
        ));
    }
    if reading.problems.is_empty() {
        Ok(reading.found)
    } else {
        Err(reading.problems)
    }
}

/// Returns of a results workbook the rows in which something may be decided: of two million
/// answers not all can be kept.
///
/// # Errors
///
/// As [`cells::read`].
pub fn book(bytes: &[u8]) -> Result<cells::Book, cells::Fault> {
    let is_heading = |text: &str| {
        let key = headings::key(text);
        ENTRIES.iter().any(|(entry, _)| headings::key(entry) == key)
    };
    cells::read_rows(bytes, cells::Rows::WithEntry { is_heading })
}

/// Which decisions the person could see in the workbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Seen {
    /// So many of the earlier ones, from the oldest.
    Earliest(usize),
    /// None of the earlier ones: it was written with others.
    Others,
    /// The workbook does not say; the dates beside the marks may.
    Untold,
}

/// The work of reading one workbook.
struct Reading<'a> {
    known: &'a Known<'a>,
    found: Vec<decision::Decision>,
    /// Where each answer was decided, and with how many marks.
    places: BTreeMap<(String, String), (String, u8)>,
    problems: Vec<problem::Problem>,
}

impl Reading<'_> {
    fn table(&mut self, table: &headings::Table<'_>, heading: &str, owner: Option<&str>) {
        let known = self.known;
        let seen = match table.labelled(results::STAMP_LABEL) {
            Some((_, _, stamp)) => {
                decision::seen(&stamp, known.earlier).map_or(Seen::Others, Seen::Earliest)
            }
            None => match known.copy {
                Copied::No => Seen::Untold,
                Copied::Yes => Seen::Others,
            },
        };
        let seen_decisions = match seen {
            Seen::Earliest(count) => known.earlier.get(..count).unwrap_or_default(),
            Seen::Others => &[],
            Seen::Untold => known.earlier,
        };
        let shown = standing::Decisions::of(seen_decisions);
        for row in table.rows() {
            let cells = Row {
                known,
                table,
                index: row,
            };
            match cells.typed(heading, owner) {
                Ok(all) => {
                    for typed in all {
                        if let Some(decision) = self.new_decision(&typed, seen, &shown) {
                            self.add(&cells.place(heading), decision);
                        }
                    }
                }
                Err(problem) => self.problems.push(problem),
            }
        }
    }

    /// Keeps a decision; of the same answer there is one in a workbook.
    fn add(&mut self, place: &str, decision: decision::Decision) {
        let whose = match &decision.scope {
            decision::Scope::Equal => String::new(),
            decision::Scope::Pupil { pupil_id } => format!("{pupil_id} {}", decision.question),
        };
        let answer = (whose, decision.code.clone());
        match self.places.get(&answer) {
            None => {
                self.places
                    .insert(answer, (place.to_owned(), decision.marks));
                self.found.push(decision);
            }
            Some((_, marks)) if *marks == decision.marks => {}
            Some((first, marks)) => self.problems.push(problem::Problem::new(
                place,
                format!(
                    "found {} for an answer that has {marks} in {first}",
                    decision.marks
                ),
                "give the answer one mark, and clear the other cell",
            )),
        }
    }

    /// Returns what a row with a mark decides anew, if anything.
    fn new_decision(
        &self,
        typed: &Typed,
        seen: Seen,
        shown: &standing::Decisions<'_>,
    ) -> Option<decision::Decision> {
        let says_the_same =
            |marks: u8, by: &str| marks == typed.marks && (typed.by.is_empty() || typed.by == by);
        let stood = of_row(shown, typed);
        // How many of the earlier decisions the person could see; none where the
        // workbook was written with others. Without its stamp, the dates tell.
        let could_see = match seen {
            Seen::Earliest(count) => Some(count),
            Seen::Untold if is_dated(&stood, &typed.date_beside) => Some(self.known.earlier.len()),
            Seen::Others | Seen::Untold => None,
        };
        if could_see.is_some()
            && let standing::Standing::Agreed(agreed) = &stood
            && says_the_same(agreed.newest.marks, &agreed.by)
        {
            return None;
        }
        let seen_count = could_see.unwrap_or(0);
        let about_it = || {
            self.known.earlier.iter().filter(|earlier| {
                earlier.scope == typed.scope
                    && earlier.code == typed.code
                    && (earlier.question == typed.question
                        || earlier.scope == decision::Scope::Equal)
            })
        };
        let from_this_cell = about_it()
            .rfind(|earlier| earlier.file == self.known.name && earlier.seen == Some(seen_count));
        let is_old = match from_this_cell {
            Some(earlier) => says_the_same(earlier.marks, &earlier.by),
            None => about_it().any(|earlier| {
                let is_same_time = match could_see {
                    Some(count) => earlier.seen == Some(count),
                    None => typed.date_beside.is_empty() || typed.date_beside == earlier.date,
                };
                earlier.marks == typed.marks && earlier.by == typed.by && is_same_time
            }),
        };
        if is_old {
            return None;
        }
        // Without the record that held it, a decision keeps the date beside it.
        let keeps_date = could_see.is_none() && is_iso_date(&typed.date_beside);
        Some(decision::Decision {
            scope: typed.scope.clone(),
            question: typed.question.clone(),
            typed: typed.answer.clone(),
            code: typed.code.clone(),
            marks: typed.marks,
            proposed: typed.proposed,
            date: if keeps_date {
                typed.date_beside.clone()
            } else {
                self.known.date.to_owned()
            },
            by: typed.by.clone(),
            file: self.known.name.to_owned(),
            seen: Some(seen_count),
        })
    }
}

/// Returns what stands for the answer of a row.
fn of_row<'a>(decisions: &standing::Decisions<'a>, typed: &Typed) -> standing::Standing<'a> {
    match &typed.scope {
        decision::Scope::Equal => decisions.for_equal_answers(&typed.code),
        decision::Scope::Pupil { pupil_id } => {
            decisions.for_pupil(pupil_id, &typed.question, &typed.code)
        }
    }
}

/// Says whether the date beside a mark is that of what stands.
fn is_dated(stood: &standing::Standing<'_>, date_beside: &str) -> bool {
    match stood {
        standing::Standing::Nothing => false,
        standing::Standing::Agreed(agreed) => agreed.newest.date == date_beside,
        standing::Standing::Differing(differing) => {
            differing.iter().any(|one| one.date == date_beside)
        }
    }
}

fn is_iso_date(text: &str) -> bool {
    text.len() == 10
        && text.bytes().enumerate().all(|(index, byte)| match index {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        })
}

/// Returns a whole number of marks, however a spreadsheet program writes it.
fn whole(text: &str) -> Option<u8> {
    let text = text.trim();
    let digits = match text.split_once(['.', ',']) {
        Some((digits, noughts)) => noughts.bytes().all(|byte| byte == b'0').then_some(digits)?,
        None => text,
    };
    digits
        .bytes()
        .all(|byte| byte.is_ascii_digit())
        .then(|| digits.parse().ok())?
}

/// What a person typed into a row, with what stands beside it.
#[derive(Clone)]
struct Typed {
    scope: decision::Scope,
    question: String,
    answer: String,
    code: String,
    marks: u8,
    by: String,
    proposed: u8,
    date_beside: String,
}

impl Typed {
    /// A row of like explanations holds an answer a line, and their codes in the same
    /// order: what was decided holds for each of them, and for no other.
    fn each(self) -> Vec<Self> {
        let answers: Vec<&str> = self.code.split(results::BETWEEN_CODES.trim()).collect();
        let lines: Vec<&str> = self.answer.lines().collect();
        let are_lined_up = answers.len() > 1 && lines.len() == answers.len();
        let mut each = Vec::new();
        for (place, codes) in answers.iter().enumerate() {
            let answer = lines.get(place).filter(|_| are_lined_up);
            for code in codes.split(results::BETWEEN_VERSIONS) {
                each.push(Self {
                    code: code.trim().to_owned(),
                    answer: answer.map_or_else(|| self.answer.clone(), |line| (*line).to_owned()),
                    ..self.clone()
                });
            }
        }
        each
    }
}

/// One row that may hold a decision.
struct Row<'a> {
    known: &'a Known<'a>,
    table: &'a headings::Table<'a>,
    index: u32,
}

impl Row<'_> {
    /// Returns what was typed into the row for each of its answers, if it has a mark.
    fn typed(&self, heading: &str, owner: Option<&str>) -> Result<Vec<Typed>, problem::Problem> {
        let typed_mark = self.text(heading);
        if typed_mark.is_empty() || headings::key(&typed_mark) == headings::key(heading) {
            return Ok(Vec::new());
        }
        let most = whole(&self.text(results::OUT_OF)).ok_or_else(|| {
            self.problem(
                heading,
                format!("the row has no marks in {}", results::OUT_OF),
                "mark the homework again and decide in the new file",
            )
        })?;
        let marks = whole(&typed_mark)
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
        let whole = Typed {
            scope: owner.map_or(decision::Scope::Equal, |owner| decision::Scope::Pupil {
                pupil_id: self.text(owner),
            }),
            question: self.text(results::QUESTION),
            answer: self.raw(results::ANSWER),
            code,
            marks,
            by: self.text(results::DECIDED_BY),
            proposed: [results::PROPOSED, "Mark"]
                .into_iter()
                .find_map(|heading| whole(&self.text(heading)))
                .unwrap_or(0),
            date_beside: self.text(results::DECIDED_ON),
        };
        Ok(whole.each())
    }

    /// Returns the text under a heading without spaces around it.
    fn text(&self, heading: &str) -> String {
        self.raw(heading).trim().to_owned()
    }

    /// Returns the text under a heading as it stands.
    fn raw(&self, heading: &str) -> String {
        self.table
            .column(&[&headings::key(heading)])
            .and_then(|column| self.table.grid.cell(self.index, column))
            .map(undo::text)
            .unwrap_or_default()
    }

    /// Returns the place of the cell under a heading.
    fn place(&self, heading: &str) -> String {
        let column = self
            .table
            .column(&[&headings::key(heading)])
            .unwrap_or_default();
        self.table.place(self.known.file, self.index, column)
    }

    fn problem(&self, heading: &str, what: String, hint: &str) -> problem::Problem {
        problem::Problem::new(self.place(heading), what, hint)
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
            match known.copy {
                Copied::No => "move the results workbook of the other homework to another folder",
                Copied::Yes => "name a copy of this homework's marked.xlsx",
            },
        )
    })
}
