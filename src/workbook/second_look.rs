//! The workbook `second-look.xlsx`: a sample of answers for another person to mark.
//!
//! One row an answer, with everything that is needed to mark it and nothing that
//! tells the first mark or the pupil. What the other person gives is read back by
//! [`second_marks`], by the headings here.
//!
//! [`second_marks`]: crate::workbook::second_marks

use crate::answer;
use crate::homework;
use crate::item;
use crate::marking::second_look;
use crate::marking::second_look::blind;
use crate::number;
use crate::problem;
use crate::retention;
use crate::workbook::cells;
use crate::workbook::results;
use crate::workbook::style;
use crate::workbook::table;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The label before the seed, by which reading knows it.
pub const SEED_LABEL: &str = "Seed of the sample";
/// The label before the share.
pub const SHARE_LABEL: &str = "Share of the answers";
/// The label before the date.
pub const DRAWN_LABEL: &str = "Drawn on";
/// The heading of the codes by which marks find their way back.
pub const ROW_CODE: &str = "Row code";
/// The heading of the marks to be given.
pub const SECOND_MARK: &str = "Second mark";
/// The heading of what equal answers have in common.
pub const ANSWER_CODE: &str = "Answer code";

/// The name of the worksheet.
const WORKSHEET: &str = "Second look";
/// The most characters of a text that is put into a cell with others; two of them
/// fit, of whatever signs.
const LONGEST_TEXT: usize = 8_000;
/// The row of headings, from 0.
const HEADING_ROW: u32 = 7;

/// What stands above the answers.
#[derive(Debug, Clone, Copy)]
pub struct Heading<'a> {
    /// The homework.
    pub homework: &'a homework::Homework,
    /// The sample.
    pub look: &'a second_look::Look,
}

/// Returns the bytes of the workbook: the same for the same sample.
///
/// # Errors
///
/// A problem when something does not fit into a workbook.
pub fn write(
    heading: &Heading<'_>,
    answers: &[blind::Answer<'_>],
) -> Result<Vec<u8>, problem::Problem> {
    style::finish("second-look.xlsx", workbook(heading, answers))
}

fn workbook(heading: &Heading<'_>, answers: &[blind::Answer<'_>]) -> Result<Workbook, XlsxError> {
    let about = style::About {
        title: &heading.homework.title,
        code: &heading.homework.code,
        date: &heading.look.drawn_on,
    };
    let mut workbook = style::workbook(&about);
    let worksheet = workbook.add_worksheet();
    worksheet.set_name(WORKSHEET)?;
    write_heading(worksheet, heading, answers.len())?;
    let columns = columns();
    let table = table::Table {
        columns: &columns,
        heading_row: HEADING_ROW,
    };
    table.write_headings(worksheet)?;
    let formats = table::Formats::rows();
    let mut row = HEADING_ROW;
    for answer in answers {
        row += 1;
        table.write_row(worksheet, row, &values(answer), &formats)?;
    }
    finish_table(worksheet, &table, row)?;
    style::set_up(
        worksheet,
        &about,
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: 2,
            paper: style::Paper::Across,
            pages_wide: style::pages_wide(table.width(), style::Paper::Across),
        },
    )?;
    style::add_marks(&mut workbook)?;
    Ok(workbook)
}

fn write_heading(
    worksheet: &mut Worksheet,
    heading: &Heading<'_>,
    answers: usize,
) -> Result<(), XlsxError> {
    let (homework, look) = (heading.homework, heading.look);
    let title = format!("Second look: {}", homework.title);
    worksheet.write_string_with_format(0, 0, title, &style::title())?;
    let lines = [
        format!("{}: {}", results::CODE_LABEL, homework.code),
        format!("{SEED_LABEL}: {}", look.seed),
        format!("{SHARE_LABEL}: {}", look.share),
        format!("{DRAWN_LABEL}: {}", look.drawn_on),
        format!(
            "These {answers} answers are marked already; you do not see how, so that your marks \
             are your own."
        ),
        format!(
            "Choose a mark for each answer under {SECOND_MARK}, save this file, and give it back. \
             Where you are unsure, leave the cell empty. {}",
            retention::sentence(homework.kept_until())
        ),
    ];
    let fact = style::fact();
    for (row, line) in (1..).zip(&lines) {
        worksheet.write_string_with_format(row, 0, line, &fact)?;
    }
    Ok(())
}

fn columns() -> Vec<Column> {
    vec![
        Column::new(ROW_CODE, 10, Kind::Short),
        Column::new(results::QUESTION, 9, Kind::Short),
        Column::new("Story", 34, Kind::Text),
        Column::new("What is asked", 30, Kind::Text),
        Column::new("Answer space", 18, Kind::Text),
        Column::new("Follows from", 20, Kind::Text),
        Column::new(results::ANSWER, 18, Kind::Text),
        Column::new("Working", 22, Kind::Text),
        Column::new("Right answer", 16, Kind::Text),
        Column::new(results::OUT_OF, 7, Kind::Short),
        Column::new(SECOND_MARK, 9, Kind::Entry),
        Column::new(ANSWER_CODE, 18, Kind::Hidden),
    ]
}

fn values(answer: &blind::Answer<'_>) -> Vec<Value> {
    let item = answer.item;
    let earlier: Vec<String> = answer
        .earlier
        .iter()
        .map(|earlier| {
            let typed = if earlier.typed.trim().is_empty() {
                "nothing typed".to_owned()
            } else {
                fitting(earlier.typed)
            };
            format!(
                "{}: {typed} (right is {})",
                earlier.question, earlier.expected
            )
        })
        .collect();
    vec![
        Value::text(&answer.row_code),
        Value::text(&item.number),
        Value::text(&item.story),
        Value::text(&item.question),
        Value::text(answer_space(item)),
        Value::text(earlier.join("\n")),
        Value::text(typed_text(&answer.typed)),
        Value::text(&answer.working),
        Value::text(answer.expected),
        Value::Number(u32::from(item.marks)),
        Value::Nothing,
        Value::text(answer.code),
    ]
}

/// Adds filters and drop-downs, and hides what only the program needs.
fn finish_table(
    worksheet: &mut Worksheet,
    table: &table::Table<'_>,
    last_row: u32,
) -> Result<(), XlsxError> {
    let first = HEADING_ROW + 1;
    if let (Some(entry), Some(out_of)) = (table.column(SECOND_MARK), table.column(results::OUT_OF))
        && last_row >= first
    {
        let letters = cells::column_letters(u32::from(out_of));
        let validation = style::marks_validation(&format!("${letters}{}", first + 1))?;
        worksheet.add_data_validation(first, entry, last_row, entry, &validation)?;
    }
    if let Some(code) = table.column(ANSWER_CODE) {
        worksheet.autofilter(HEADING_ROW, 0, last_row, code)?;
    }
    Ok(())
}

/// What the sheet prints in the answer space: unit, order, entries, the box of gears.
fn answer_space(item: &item::Item) -> String {
    match &item.form {
        answer::Form::Number {
            unit, precision, ..
        } => match rounding(*precision) {
            Some(rounding) => format!("{}, {rounding}", unit.text()),
            None => unit.text().to_owned(),
        },
        answer::Form::Ratio {
            first,
            second,
            simplest,
        } => {
            let simplest = if *simplest { ", simplest form" } else { "" };
            format!("{first} : {second}{simplest}")
        }
        answer::Form::List { options, .. } => {
            let entries: Vec<&str> = options.iter().map(|it| it.text.as_str()).collect();
            entries.join(" / ")
        }
        answer::Form::Gears { labels, from, .. } => {
            let teeth: Vec<String> = from.iter().map(u32::to_string).collect();
            format!("{} from {}", labels.join(", "), teeth.join(", "))
        }
        answer::Form::Explanation(_) => "in the pupil's own words".to_owned(),
    }
}

fn rounding(precision: number::Precision) -> Option<String> {
    match precision {
        number::Precision::Exact => None,
        number::Precision::Places(0) => Some("to the nearest whole number".to_owned()),
        number::Precision::Places(1) => Some("to 1 decimal place".to_owned()),
        number::Precision::Places(places) => Some(format!("to {places} decimal places")),
        number::Precision::Figures(1) => Some("to 1 significant figure".to_owned()),
        number::Precision::Figures(figures) => Some(format!("to {figures} significant figures")),
    }
}

/// A text cut off where it would not fit into a cell with what is put beside it.
fn fitting(text: &str) -> String {
    text.chars().take(LONGEST_TEXT).collect()
}

/// What was typed, with what it may have been before a spreadsheet program changed it.
fn typed_text(typed: &answer::Typed) -> String {
    let mut perhaps: Vec<&str> = Vec::new();
    for undone in &typed.undone {
        if undone.text != typed.text && !perhaps.contains(&undone.text.as_str()) {
            perhaps.push(&undone.text);
        }
    }
    if perhaps.is_empty() {
        return typed.text.clone();
    }
    format!(
        "{} (changed by the spreadsheet program; typed was perhaps {})",
        fitting(&typed.text),
        fitting(&perhaps.join(" or "))
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workbook::examples;
    use crate::workbook::headings;

    fn look() -> second_look::Look {
        second_look::Look {
            seed: "autumn".to_owned(),
            share: "10%".to_owned(),
            drawn_on: "2026-03-09".to_owned(),
            given_back_on: String::new(),
            rows: Vec::new(),
        }
    }

    fn blind<'a>(item: &'a item::Item, typed: &str) -> blind::Answer<'a> {
        blind::Answer {
            row_code: format!("R-{}", item.number),
            item,
            typed: answer::Typed {
                text: typed.to_owned(),
                undone: Vec::new(),
            },
            working: "6 × 2".to_owned(),
            expected: "12 turns",
            earlier: Vec::new(),
            code: "c0de",
        }
    }

    #[test]
    fn everything_to_mark_by_is_there_and_the_mark_is_not() {
        let homework = examples::homework();
        let sheet = homework.sheets.first().expect("a sheet");
        let mut answers: Vec<blind::Answer<'_>> =
            sheet.items.iter().map(|item| blind(item, "3:1")).collect();
        answers[0].typed.text = "03:01:00".to_owned();
        answers[0].typed.undone = vec![answer::Undone {
            text: "3:1".to_owned(),
            why: "the cell holds a time".to_owned(),
        }];
        answers[1].earlier = vec![blind::Earlier {
            question: "Q1",
            typed: "7",
            expected: "12 turns",
        }];
        let look = look();
        let heading = Heading {
            homework: &homework,
            look: &look,
        };
        let bytes = write(&heading, &answers).expect("a workbook");
        assert!(bytes == write(&heading, &answers).expect("the same workbook"));
        let book = cells::read(&bytes).expect("our own workbook");
        let grid = book.grids.first().expect("a worksheet");
        let table = headings::find(grid, &[&["rowcode"]]).expect("the table");
        let label = |label: &str| table.labelled(label).expect("the line is there").2;
        assert_eq!(label(results::CODE_LABEL), "QL-7F3");
        assert_eq!(label(SEED_LABEL), "autumn");
        assert_eq!(label(SHARE_LABEL), "10%");
        assert_eq!(label(DRAWN_LABEL), "2026-03-09");
        let under = |heading: &str| -> Vec<String> {
            let column = table.column(&[&headings::key(heading)]).expect("a column");
            let rows = table.rows().into_iter();
            rows.map(|row| table.text(row, column)).collect()
        };
        assert_eq!(
            under("Answer space"),
            [
                "turns",
                "clockwise / anticlockwise",
                "turns of A : turns of B, simplest form",
                "the drive gear, which turns first / an idler",
                "A, B from 8, 16, 24",
            ]
        );
        assert_eq!(under("Follows from")[1], "Q1: 7 (right is 12 turns)");
        assert_eq!(
            under("Answer")[0],
            "03:01:00 (changed by the spreadsheet program; typed was perhaps 3:1)"
        );
        assert_eq!(under("Working")[0], "6 × 2");
        assert_eq!(under("Out of"), ["2", "1", "2", "1", "1"]);
        assert_eq!(under("Second mark"), [""; 5]);
        for name in ["Mark", "Reason", "Pupil", "Pupil ID", "Class"] {
            assert!(!table.has(&headings::key(name)), "{name}");
        }
    }
}
