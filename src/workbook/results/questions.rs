//! Worksheet `Questions`: how hard each was, and what went wrong.

use crate::marking::overview;
use crate::workbook::results;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;

/// Returns the worksheet.
pub(super) fn page(overview: &overview::Overview) -> results::Page<'static> {
    let mut columns = vec![
        Column::new(results::QUESTION, 10, Kind::Short),
        Column::new("Skill", 18, Kind::Text),
        Column::new("Template", 20, Kind::Text),
        Column::new(results::OUT_OF, 8, Kind::Short),
        Column::new("Facility", 9, Kind::Short),
    ];
    for heading in [
        "Correct",
        "Partly",
        "Wrong",
        "Blank",
        "Not reached",
        "Un-readable",
        "Away",
        "To check",
    ] {
        columns.push(Column::new(heading, 9, Kind::Short));
    }
    columns.push(Column::new(
        "What went wrong (with how many pupils)",
        50,
        Kind::Text,
    ));
    let rows = overview
        .questions
        .iter()
        .map(|question| {
            let counts = &question.counts;
            let went_wrong: Vec<String> = question
                .misconceptions
                .iter()
                .map(|(met, count)| format!("{} ({count})", met.name))
                .collect();
            vec![
                Value::text(&question.question),
                Value::text(question.skill.title()),
                Value::text(&question.template),
                Value::Number(u32::from(question.out_of)),
                Value::percent(counts.facility_percent()),
                Value::count(counts.correct),
                Value::count(counts.partly),
                Value::count(counts.wrong),
                Value::count(counts.blank),
                Value::count(counts.not_reached),
                Value::count(counts.unreadable),
                Value::count(counts.absent + counts.excused),
                Value::count(counts.to_check),
                Value::text(went_wrong.join("; ")),
            ]
        })
        .collect();
    results::Page {
        name: "Questions",
        intro: "Facility is the share of the marks to be had that was earned, by pupils who were \
                there and reached the question."
            .to_owned(),
        columns,
        rows: results::Rows::of(rows),
        totals: Vec::new(),
        notes: Vec::new(),
        fixed: 1,
        entry: None,
    }
}
