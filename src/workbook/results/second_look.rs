//! Worksheet `Second look`: how far a second marker agrees, and where not.

use crate::marking;
use crate::marking::second_look::report;
use crate::marking::standing;
use crate::retention;
use crate::workbook::results;
use crate::workbook::style;
use crate::workbook::table;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The most changed answers that are named; more are counted.
const MOST_NAMED: usize = 20;

/// What the figures mean, below them.
const NOTES: [&str; 4] = [
    "Agreement is the share of the answers that got the same mark twice. Kappa takes off what \
     chance alone would give: 1 is always the same, 0 is no more than chance.",
    "In weighted kappa a difference of two marks counts twice as much as a difference of one.",
    "Where nearly all marks are alike, kappa is low although the markers agree: look at the \
     agreement too. From a few answers neither says much.",
    "The first mark is the one that stood when the sample was drawn, so a mark that is settled \
     afterwards changes nothing here. What chance would give is worked out apart for questions \
     worth 1 mark, 2 marks and so on.",
];

/// Adds the worksheet where second marks have come back.
pub(super) fn add(workbook: &mut Workbook, marked: &marking::Marked) -> Result<(), XlsxError> {
    let Some(report) = report::of(marked) else {
        return Ok(());
    };
    let worksheet = workbook.add_worksheet();
    worksheet.set_name("Second look")?;
    let row = write_heading(worksheet, marked, &report)?;
    let row = write_figures(worksheet, row, &report)?;
    write_disagreements(worksheet, row, marked, &report)?;
    let about = style::About {
        title: &marked.title,
        code: &marked.code,
        date: &marked.marked_on,
    };
    style::set_up(
        worksheet,
        &about,
        &style::Frame {
            // Two tables stand below each other, so that no heading row can stay.
            heading_row: 0,
            columns: 0,
            paper: style::Paper::Across,
            pages_wide: 1,
        },
    )
}

/// Writes the lines above the figures; returns the row of their headings.
fn write_heading(
    worksheet: &mut Worksheet,
    marked: &marking::Marked,
    report: &report::Report<'_>,
) -> Result<u32, XlsxError> {
    let look = report.look;
    worksheet.write_string_with_format(0, 0, &marked.title, &style::title())?;
    let lines = [
        format!("{}: {}", results::CODE_LABEL, marked.code),
        format!(
            "{} of the answers, drawn on {} with the seed {}, given back on {}",
            look.share, look.drawn_on, look.seed, look.given_back_on
        ),
        left_out(report),
        retention::sentence(marked.kept_until()),
    ];
    let fact = style::fact();
    for (row, line) in (1..).zip(&lines) {
        worksheet.write_string_with_format(row, 0, line, &fact)?;
    }
    Ok(results::HEADING_ROW)
}

/// Says which answers of the sample are not in the figures.
fn left_out(report: &report::Report<'_>) -> String {
    let mut said = Vec::new();
    if report.waiting > 0 {
        said.push(format!(
            "Answers of the sample without a second mark: {}.",
            report.waiting
        ));
    }
    if !report.changed.is_empty() {
        let rows: Vec<String> = report
            .changed
            .iter()
            .take(MOST_NAMED)
            .map(|row| format!("{} of {}", row.question, row.pupil_id))
            .collect();
        let more = match report.changed.len().saturating_sub(MOST_NAMED) {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        said.push(format!(
            "Left out, because the answer has changed since the sample was drawn: {}{more}.",
            rows.join(", ")
        ));
    }
    if said.is_empty() {
        "Every answer of the sample was marked twice.".to_owned()
    } else {
        said.join(" ")
    }
}

/// Writes the figures and what they mean; returns the row after them.
fn write_figures(
    worksheet: &mut Worksheet,
    heading_row: u32,
    report: &report::Report<'_>,
) -> Result<u32, XlsxError> {
    let columns = [
        Column::new("Questions", 15, Kind::Text),
        Column::new("Answers", 12, Kind::Short),
        Column::new("The same", 13, Kind::Short),
        Column::new("Agreement", 12, Kind::Short),
        Column::new("Kappa", 20, Kind::Text),
        Column::new("Weighted kappa", 20, Kind::Text),
    ];
    let table = table::Table {
        columns: &columns,
        heading_row,
    };
    table.write_headings(worksheet)?;
    let (rows, totals) = (table::Formats::rows(), table::Formats::totals());
    let mut row = heading_row;
    for line in &report.lines {
        row += 1;
        let formats = match line.group {
            report::Group::All => &totals,
            report::Group::Worth(_) | report::Group::Question(_) => &rows,
        };
        table.write_row(worksheet, row, &figures(line), formats)?;
    }
    row += 1;
    let fact = style::fact();
    for note in NOTES {
        row += 1;
        worksheet.write_string_with_format(row, 0, note, &fact)?;
    }
    Ok(row + 2)
}

fn figures(line: &report::Line<'_>) -> Vec<Value> {
    let group = match line.group {
        report::Group::All => "All questions".to_owned(),
        report::Group::Worth(1) => "Worth 1 mark".to_owned(),
        report::Group::Worth(marks) => format!("Worth {marks} marks"),
        report::Group::Question(question) => question.to_owned(),
    };
    let count = |count| Value::Number(u32::try_from(count).unwrap_or(u32::MAX));
    vec![
        Value::text(group),
        count(line.items()),
        count(line.same()),
        Value::percent(line.agreement_percent()),
        Value::text(line.kappa_text()),
        Value::text(line.weighted_kappa_text().unwrap_or_default()),
    ]
}

/// Writes the answers with two different marks.
fn write_disagreements(
    worksheet: &mut Worksheet,
    row: u32,
    marked: &marking::Marked,
    report: &report::Report<'_>,
) -> Result<(), XlsxError> {
    let intro = if report.disagreements.is_empty() {
        "No answer got two different marks."
    } else {
        "Answers with two different marks. Nothing is changed by itself: a Changed mark in the \
         worksheet Marks settles an answer."
    };
    worksheet.write_string_with_format(row, 0, intro, &style::fact())?;
    if report.disagreements.is_empty() {
        return Ok(());
    }
    // Under the figures, so the widths are theirs as far as they go.
    let columns = [
        Column::new(results::QUESTION, 15, Kind::Text),
        Column::new("First mark", 12, Kind::Short),
        Column::new("Second mark", 13, Kind::Short),
        Column::new(results::OUT_OF, 12, Kind::Short),
        Column::new(results::ANSWER, 20, Kind::Text),
        Column::new("Right answer", 20, Kind::Text),
        Column::new("Reason of the first mark", 38, Kind::Text),
        Column::new(results::PUPIL_ID, 10, Kind::Text),
        Column::new("Pupil", 20, Kind::Text),
        Column::new("Mark now", 11, Kind::Short),
        Column::new("To settle it", 32, Kind::Text),
    ];
    let table = table::Table {
        columns: &columns,
        heading_row: row + 1,
    };
    table.write_headings(worksheet)?;
    let formats = table::Formats::rows();
    let mut row = row + 1;
    for pair in &report.disagreements {
        row += 1;
        let values = [
            Value::text(&pair.row.question),
            Value::Number(u32::from(pair.row.first)),
            Value::Number(u32::from(pair.second)),
            Value::Number(u32::from(pair.mark.out_of)),
            Value::text(&pair.mark.typed),
            Value::text(&pair.mark.expected),
            Value::text(&pair.row.reason),
            Value::text(&pair.pupil.id),
            Value::text(&pair.pupil.name),
            Value::Number(u32::from(pair.mark.marks)),
            Value::text(settling(marked, report, pair)),
        ];
        table.write_row(worksheet, row, &values, &formats)?;
    }
    Ok(())
}

/// Says whether a person has settled the answer since the second mark came back.
fn settling(
    marked: &marking::Marked,
    report: &report::Report<'_>,
    pair: &report::Pair<'_>,
) -> String {
    let mark = pair.mark;
    let decisions = standing::Decisions::of(&marked.decisions);
    match decisions.for_pupil(&mark.pupil_id, &mark.question, &mark.code) {
        standing::Standing::Agreed(agreed) if agreed.newest.date >= report.look.given_back_on => {
            format!("settled by a Changed mark on {}", agreed.newest.date)
        }
        standing::Standing::Agreed(_) | standing::Standing::Nothing => {
            "open: type a Changed mark in the worksheet Marks".to_owned()
        }
        standing::Standing::Differing(_) => {
            "open: people's decisions differ, see the worksheet Marks".to_owned()
        }
    }
}
