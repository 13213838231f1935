//! The worksheet `Coverage`: which skills and statements were asked, and when.

use crate::attainment::coverage;
use crate::workbook::style;
use crate::workbook::table;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The row of the column headings.
const HEADING_ROW: u32 = 5;
/// What stands where nothing was asked.
const NEVER: &str = "not asked";

/// Writes the worksheet.
pub(super) fn write(
    workbook: &mut Workbook,
    about: &style::About<'_>,
    coverage: &coverage::Coverage,
) -> Result<(), XlsxError> {
    let columns = [
        table::Column::new("Part", 22, table::Kind::Text),
        table::Column::new("Skill or statement", 60, table::Kind::Text),
        table::Column::new("Asked in", 24, table::Kind::Text),
        table::Column::new("Year", 12, table::Kind::Short),
        table::Column::new("Questions", 11, table::Kind::Short),
    ];
    let table = table::Table {
        columns: &columns,
        heading_row: HEADING_ROW,
    };
    let worksheet = workbook.add_worksheet();
    worksheet.set_name("Coverage")?;
    write_notes(worksheet)?;
    table.write_headings(worksheet)?;
    let formats = table::Formats::rows();
    for (row, values) in (HEADING_ROW + 1..).zip(rows(coverage)) {
        table.write_row(worksheet, row, &values, &formats)?;
    }
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: 2,
            paper: style::Paper::Across,
            pages_wide: 1,
        },
    )
}

fn write_notes(worksheet: &mut Worksheet) -> Result<(), XlsxError> {
    worksheet.write_string_with_format(0, 0, "Coverage", &style::title())?;
    for (row, note) in (1_u32..).zip([
        "What was asked, not what is known. A question counts once for each homework and year.",
        "Which questions are on a statement is a judgement: the curriculum's file says which \
         skills and levels were taken for it.",
        "Statements are quoted from where the last lines say; compare with the publisher's own \
         page before you quote them.",
    ]) {
        worksheet.write_string_with_format(row, 0, note, &style::fact())?;
    }
    Ok(())
}

fn rows(coverage: &coverage::Coverage) -> Vec<Vec<table::Value>> {
    let mut rows = Vec::new();
    for skill in &coverage.skills {
        add(&mut rows, "Skill", skill.skill.title(), &skill.times);
    }
    for skill in &coverage.not_asked {
        add(&mut rows, "Skill", skill.title(), &[]);
    }
    for curriculum in &coverage.curricula {
        for covered in &curriculum.statements {
            let statement = &covered.statement;
            let part = format!("{}, {}", statement.subject, statement.stage);
            add(&mut rows, &part, &statement.text, &covered.times);
        }
    }
    for curriculum in &coverage.curricula {
        let edition = format!(
            "{}. {}. {}.",
            curriculum.title, curriculum.edition, curriculum.source
        );
        rows.push(vec![
            table::Value::text("Source"),
            table::Value::text(edition),
        ]);
    }
    rows
}

/// Adds a row for each time; one that says so where there is none.
fn add(rows: &mut Vec<Vec<table::Value>>, part: &str, what: &str, times: &[coverage::Time]) {
    let named = |when: table::Value, year, questions| {
        vec![
            table::Value::text(part),
            table::Value::text(what),
            when,
            year,
            questions,
        ]
    };
    for time in times {
        rows.push(named(
            table::Value::text(&time.when),
            table::Value::text(&time.year),
            table::Value::Number(time.questions),
        ));
    }
    if times.is_empty() {
        let none = table::Value::Nothing;
        rows.push(named(
            table::Value::text(NEVER),
            none,
            table::Value::Number(0),
        ));
    }
}
