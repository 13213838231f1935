//! The answer workbook `answers.xlsx`: a row a pupil, a column a question.

use crate::answer;
use crate::homework;
use crate::item;
use crate::problem;
use crate::retention;
use crate::workbook::style;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

mod how_to;
mod why;

/// Why a pupil got the questions of a sheet, for the teacher.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Why {
    /// The pupil's id.
    pub pupil_id: String,
    /// The name.
    pub name: String,
    /// The level of the sheet.
    pub level: u8,
    /// Why, in one line.
    pub line: String,
}

/// The name of the worksheet that is typed into.
pub const WORKSHEET: &str = "Answers";
/// The label before the homework's code, by which reading knows it.
pub const CODE_LABEL: &str = "Homework code";
/// The heading of the column for `absent` and `excused`.
pub const ATTENDANCE: &str = "Attendance";

const HEADING_ROW: u32 = 4;
const FIRST_QUESTION: u16 = 2;

/// Returns the bytes of the answer workbook of a homework.
///
/// # Errors
///
/// A problem when something does not fit into a workbook.
pub fn write(homework: &homework::Homework) -> Result<Vec<u8>, problem::Problem> {
    write_explained(homework, &[])
}

/// Returns the bytes of the answer workbook with a worksheet that says why each pupil
/// got the questions of the sheet; none where there is nothing to say.
///
/// # Errors
///
/// As for [`write()`].
pub fn write_explained(
    homework: &homework::Homework,
    whys: &[Why],
) -> Result<Vec<u8>, problem::Problem> {
    style::finish("answers.xlsx", workbook(homework, whys))
}

/// Returns the numbers of all questions over all sheets, in the order of the pages;
/// sheets may differ in their questions.
#[must_use]
pub fn question_numbers(homework: &homework::Homework) -> Vec<&str> {
    let mut numbers: Vec<&str> = Vec::new();
    for sheet in &homework.sheets {
        for item in &sheet.items {
            if !numbers.contains(&item.number.as_str()) {
                numbers.push(&item.number);
            }
        }
    }
    numbers.sort_by_key(|number| item::order(number));
    numbers
}

/// Returns the item with a number on a pupil's sheet.
#[must_use]
pub fn item_of<'a>(
    homework: &'a homework::Homework,
    assignment: &homework::Assignment,
    number: &str,
) -> Option<&'a item::Item> {
    homework
        .sheets
        .get(assignment.sheet)?
        .items
        .iter()
        .find(|item| item.number == number)
}

/// What a column after the first two is for.
enum Column<'a> {
    Answer(&'a str),
    Explanation(&'a str),
    Working(&'a str),
    Attendance,
    Sheet,
}

impl Column<'_> {
    /// Its width in characters.
    fn width(&self) -> u16 {
        match self {
            Self::Answer(_) => 14,
            Self::Explanation(_) => 40,
            Self::Working(_) => 24,
            Self::Attendance => 13,
            Self::Sheet => 8,
        }
    }
}

fn columns(homework: &homework::Homework) -> Vec<Column<'_>> {
    let has_working = |number: &str| {
        homework
            .sheets
            .iter()
            .flat_map(|sheet| &sheet.items)
            .any(|item| item.number == number && item.working)
    };
    let is_explained = |number: &str| {
        homework
            .sheets
            .iter()
            .flat_map(|sheet| &sheet.items)
            .any(|item| item.number == number && matches!(item.form, answer::Form::Explanation(_)))
    };
    let mut columns = Vec::new();
    for number in question_numbers(homework) {
        columns.push(if is_explained(number) {
            Column::Explanation(number)
        } else {
            Column::Answer(number)
        });
        if has_working(number) {
            columns.push(Column::Working(number));
        }
    }
    columns.push(Column::Attendance);
    if homework.sheets.len() > 1 {
        columns.push(Column::Sheet);
    }
    columns
}

fn workbook(homework: &homework::Homework, whys: &[Why]) -> Result<Workbook, XlsxError> {
    let about = style::About {
        title: &homework.title,
        code: &homework.code,
        date: &homework.date,
    };
    let mut workbook = style::workbook(&about);
    let mut drop_downs = style::DropDowns::default();
    let worksheet = workbook.add_worksheet();
    answers(worksheet, homework, &mut drop_downs)?;
    let widths: u32 = columns(homework)
        .iter()
        .map(|column| u32::from(column.width()))
        .sum();
    style::set_up(
        worksheet,
        &about,
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: FIRST_QUESTION,
            paper: style::Paper::Across,
            pages_wide: style::pages_wide(widths, style::Paper::Across),
        },
    )?;
    how_to::write(workbook.add_worksheet(), &about)?;
    if !whys.is_empty() {
        let keep = retention::sentence(homework.kept_until());
        why::write(workbook.add_worksheet(), &about, &keep, whys)?;
    }
    drop_downs.add_lists(&mut workbook)?;
    Ok(workbook)
}

fn answers(
    worksheet: &mut Worksheet,
    homework: &homework::Homework,
    drop_downs: &mut style::DropDowns,
) -> Result<(), XlsxError> {
    let fact = style::fact();
    worksheet.set_name(WORKSHEET)?;
    worksheet.write_string_with_format(0, 0, &homework.title, &style::title())?;
    let lines = [
        format!("{CODE_LABEL}: {}", homework.code),
        format!(
            "Set on {}. {}",
            homework.date,
            retention::sentence(homework.kept_until())
        ),
        format!(
            "Type each answer as the pupil wrote it. The worksheet How to type answers has \
             examples.{}",
            if sheets_differ(homework) {
                " Shaded cells are not on that pupil's sheet."
            } else {
                ""
            }
        ),
    ];
    for (row, line) in (1..).zip(&lines) {
        worksheet.write_string_with_format(row, 0, line, &fact)?;
    }
    worksheet.set_column_width(0, 15)?.set_column_width(1, 24)?;
    let heading = style::heading();
    worksheet.write_string_with_format(HEADING_ROW, 0, "Pupil ID", &heading)?;
    worksheet.write_string_with_format(HEADING_ROW, 1, "Pupil", &heading)?;
    let text = style::text();
    let mut row = HEADING_ROW;
    for assignment in &homework.pupils {
        row += 1;
        worksheet.write_string_with_format(row, 0, &assignment.pupil.id, &text)?;
        worksheet.write_string_with_format(row, 1, &assignment.pupil.name, &text)?;
    }
    for (column, what) in (FIRST_QUESTION..).zip(columns(homework)) {
        write_column(worksheet, column, &what, homework)?;
        add_drop_downs(worksheet, column, &what, homework, drop_downs)?;
    }
    Ok(())
}

/// Whether a sheet has a question, or working, where another has none.
fn sheets_differ(homework: &homework::Homework) -> bool {
    let columns = |sheet: &homework::Sheet| -> BTreeSet<(String, bool)> {
        let items = sheet.items.iter();
        items
            .map(|item| (item.number.clone(), item.working))
            .collect()
    };
    let mut sheets = homework.sheets.iter().map(columns);
    let first = sheets.next();
    sheets.any(|other| Some(&other) != first.as_ref())
}

fn write_column(
    worksheet: &mut Worksheet,
    column: u16,
    what: &Column<'_>,
    homework: &homework::Homework,
) -> Result<(), XlsxError> {
    let heading = match what {
        Column::Answer(number) | Column::Explanation(number) => (*number).to_owned(),
        Column::Working(number) => format!("{number} working"),
        Column::Attendance => ATTENDANCE.to_owned(),
        Column::Sheet => "Sheet".to_owned(),
    };
    worksheet.set_column_width(column, what.width())?;
    // The whole column is text, so that rows added below keep what is typed too.
    worksheet.set_column_format(column, &style::fact())?;
    worksheet.write_string_with_format(HEADING_ROW, column, heading, &style::heading())?;
    let entry = style::entry();
    let not_asked = style::not_asked();
    let text = style::text();
    let mut row = HEADING_ROW;
    for assignment in &homework.pupils {
        row += 1;
        let is_asked = match what {
            Column::Answer(number) | Column::Explanation(number) => {
                item_of(homework, assignment, number).is_some()
            }
            Column::Working(number) => {
                item_of(homework, assignment, number).is_some_and(|item| item.working)
            }
            Column::Attendance => true,
            Column::Sheet => {
                let version = homework
                    .sheets
                    .get(assignment.sheet)
                    .map_or("", |sheet| sheet.version.as_str());
                worksheet.write_string_with_format(row, column, version, &text)?;
                continue;
            }
        };
        let format = if is_asked { &entry } else { &not_asked };
        worksheet.write_blank(row, column, format)?;
    }
    Ok(())
}

/// Adds one drop-down for each run of pupils with the same list.
fn add_drop_downs(
    worksheet: &mut Worksheet,
    column: u16,
    what: &Column<'_>,
    homework: &homework::Homework,
    drop_downs: &mut style::DropDowns,
) -> Result<(), XlsxError> {
    let entries = |assignment: &homework::Assignment| -> Vec<String> {
        match what {
            Column::Answer(number) | Column::Explanation(number) => {
                item_of(homework, assignment, number).map_or_else(Vec::new, list_entries)
            }
            Column::Attendance => vec!["absent".to_owned(), "excused".to_owned()],
            Column::Working(_) | Column::Sheet => Vec::new(),
        }
    };
    let mut runs: BTreeMap<u32, (u32, Vec<String>)> = BTreeMap::new();
    let mut row = HEADING_ROW;
    for assignment in &homework.pupils {
        row += 1;
        let entries = entries(assignment);
        match runs.last_entry() {
            Some(mut run) if run.get().1 == entries => run.get_mut().0 = row,
            Some(_) | None => {
                runs.insert(row, (row, entries));
            }
        }
    }
    for (first, (last, entries)) in runs {
        if !entries.is_empty() {
            let validation = drop_downs.validation(&entries, style::Strictness::OtherTextToo)?;
            worksheet.add_data_validation(first, column, last, column, &validation)?;
        }
    }
    Ok(())
}

fn list_entries(item: &item::Item) -> Vec<String> {
    match &item.form {
        answer::Form::List { options, .. } => {
            options.iter().map(|option| option.text.clone()).collect()
        }
        answer::Form::Number { .. }
        | answer::Form::Ratio { .. }
        | answer::Form::Gears { .. }
        | answer::Form::Explanation(_) => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workbook::answers;
    use crate::workbook::cells;
    use crate::workbook::examples;

    /// The text of a cell.
    fn text(grid: &cells::Grid, row: u32, column: u32) -> String {
        grid.cell(row, column)
            .map(crate::workbook::undo::text)
            .unwrap_or_default()
    }

    #[test]
    fn the_answer_workbook_has_the_headings_of_the_contract() {
        let bytes = write(&examples::homework()).expect("a workbook");
        let book = cells::read(&bytes).expect("our own workbook");
        let grid = book.grids.first().expect("a worksheet");
        assert_eq!(grid.name, "Answers");
        let headings: Vec<String> = (0..11)
            .map(|column| text(grid, HEADING_ROW, column))
            .collect();
        assert_eq!(
            headings,
            [
                "Pupil ID",
                "Pupil",
                "Q1",
                "Q1 working",
                "Q2",
                "Q3a",
                "Q3a working",
                "Q3b",
                "Q4",
                "Attendance",
                "Sheet"
            ]
        );
        assert_eq!(text(grid, HEADING_ROW + 2, 0), "P02");
        assert_eq!(text(grid, HEADING_ROW + 2, 10), "B");
        let names: Vec<(&str, bool)> = book
            .grids
            .iter()
            .map(|grid| (grid.name.as_str(), grid.visible))
            .collect();
        assert_eq!(
            names,
            [
                ("Answers", true),
                ("How to type answers", true),
                ("Lists", false)
            ]
        );
    }

    #[test]
    fn an_untouched_answer_workbook_reads_back_as_nothing_typed() {
        let homework = examples::homework();
        let bytes = write(&homework).expect("a workbook");
        let found = answers::read("answers.xlsx", &bytes, &homework).expect("our own workbook");
        assert_eq!(found.responses.len(), 3);
        assert!(
            found
                .responses
                .iter()
                .all(|response| response.answers.is_empty())
        );
        assert!(found.notices.is_empty());
    }

    #[test]
    fn the_same_homework_gives_the_same_bytes() {
        let homework = examples::homework();
        assert!(write(&homework).expect("once") == write(&homework).expect("twice"));
    }

    #[test]
    fn questions_that_only_some_sheets_have_stand_in_their_place() {
        let mut homework = examples::homework();
        let sheet = homework.sheets.first_mut().expect("a sheet");
        sheet.items.retain(|item| item.number != "Q3a");
        sheet.items.reverse();
        assert_eq!(
            question_numbers(&homework),
            ["Q1", "Q2", "Q3a", "Q3b", "Q4"]
        );
    }
}
