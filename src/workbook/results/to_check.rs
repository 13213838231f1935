//! Worksheet `To check`: equal answers in one row, like explanations too, and room for
//! your mark.

use crate::marking;
use crate::marking::check;
use crate::marking::standing;
use crate::workbook::results;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;
use std::collections::BTreeMap;

/// The most names in a row; more are counted.
const NAMES: usize = 5;

/// Returns the worksheet.
pub(super) fn page(marked: &marking::Marked) -> results::Page<'static> {
    let columns = vec![
        Column::new(results::QUESTION, 9, Kind::Short),
        Column::new(results::ANSWER, 22, Kind::Text),
        Column::new("Read as", 14, Kind::Text),
        Column::new("Right answer", 24, Kind::Text),
        Column::new("Pupils", 8, Kind::Short),
        Column::new(results::PROPOSED, 10, Kind::Short),
        Column::new(results::OUT_OF, 7, Kind::Short),
        Column::new(results::YOUR_MARK, 10, Kind::Entry),
        Column::new(results::DECIDED_BY, 11, Kind::WordEntry),
        Column::new("Why look", 24, Kind::Text),
        Column::new("Reason for the proposal", 38, Kind::Text),
        Column::new("Who", 30, Kind::Text),
        Column::new(results::DECIDED_ON, 11, Kind::Short),
        Column::new(results::CODE, 18, Kind::Hidden),
    ];
    let names: BTreeMap<&str, &str> = marked
        .pupils
        .iter()
        .map(|entry| (entry.pupil.id.as_str(), entry.pupil.name.as_str()))
        .collect();
    let decisions = standing::Decisions::of(&marked.decisions);
    let mut rows = Vec::new();
    let mut open = 0;
    let mut has_groups = false;
    for row in check::rows(marked) {
        has_groups |= !row.mark.like.is_empty();
        let mark = &row.mark;
        let decision = match decisions.for_equal_answers(&mark.code) {
            standing::Standing::Agreed(agreed) => Some(agreed),
            standing::Standing::Nothing | standing::Standing::Differing(_) => None,
        };
        // Decided for single pupils only: that stands in Marks.
        if mark.check.is_empty() && decision.is_none() {
            continue;
        }
        open += usize::from(!mark.check.is_empty());
        let proposed = mark
            .decided
            .as_ref()
            .map_or(mark.marks, |decided| decided.proposed);
        let who: Vec<&str> = row
            .pupil_ids
            .iter()
            .take(NAMES)
            .map(|id| names.get(id.as_str()).copied().unwrap_or(id))
            .collect();
        let more = row.pupil_ids.len().saturating_sub(NAMES);
        let and_more = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        rows.push(vec![
            Value::text(&mark.question),
            Value::text(answers(&row.answers)),
            Value::text(&mark.read_as),
            Value::text(&mark.expected),
            Value::count(row.pupil_ids.len()),
            Value::Number(u32::from(proposed)),
            Value::Number(u32::from(mark.out_of)),
            decision.as_ref().map_or(Value::Nothing, |agreed| {
                Value::Number(u32::from(agreed.newest.marks))
            }),
            decision
                .as_ref()
                .map_or(Value::Nothing, |agreed| Value::text(&agreed.by)),
            Value::text(why(&row)),
            Value::text(&mark.reason),
            Value::text(format!("{}{and_more}", who.join(", "))),
            decision
                .as_ref()
                .map_or(Value::Nothing, |agreed| Value::text(&agreed.newest.date)),
            Value::text(codes(&row.answers)),
        ]);
    }
    results::Page {
        name: "To check",
        intro: intro(open),
        columns,
        rows: results::Rows::of(rows),
        totals: Vec::new(),
        notes: vec![
            "Decided rows stay here with their date. To take a decision back, choose the \
             proposed mark."
                .to_owned(),
            format!(
                "{} is for your initials, if more than one person decides.",
                results::DECIDED_BY
            ),
        ]
        .into_iter()
        .chain(has_groups.then(|| {
            "Explanations with the same ideas in them stand in one row, each in a line of its \
             own. A mark holds for those that you see; one in other words is shown again."
                .to_owned()
        }))
        .collect(),
        fixed: 2,
        entry: Some(results::YOUR_MARK),
    }
}

/// The answers of a row, a line each where there are several.
fn answers(answers: &[check::Answer]) -> String {
    if let [one] = answers {
        return one.typed.clone();
    }
    let lines: Vec<String> = answers
        .iter()
        .map(|answer| results::one_line(&answer.typed))
        .collect();
    lines.join("\n")
}

/// The codes of a row's answers, in the same order.
fn codes(answers: &[check::Answer]) -> String {
    let codes: Vec<String> = answers
        .iter()
        .map(|answer| answer.codes.join(results::BETWEEN_VERSIONS))
        .collect();
    codes.join(results::BETWEEN_CODES)
}

/// Why to look, and what was decided about like answers.
fn why(row: &check::Row) -> String {
    let marks: Vec<String> = row.like_decided.iter().map(u8::to_string).collect();
    if marks.is_empty() {
        return row.mark.check.clone();
    }
    format!(
        "{}; like answers in other words were given {}",
        row.mark.check,
        marks.join(" and ")
    )
}

fn intro(open: usize) -> String {
    if open == 0 {
        return "Nothing is waiting for a look.".to_owned();
    }
    format!(
        "Put the mark you give into {} and save this file; then mark the homework again. It holds \
         for every pupil with this answer, and is kept with its date.",
        results::YOUR_MARK
    )
}
