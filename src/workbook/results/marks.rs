//! Worksheet `Marks`: every answer with its reason, and room for a changed mark.

use crate::marking;
use crate::marking::standing;
use crate::marking::table::misconception_names;
use crate::workbook::results;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;
use std::rc::Rc;

/// Returns the worksheet.
pub(super) fn page(marked: &marking::Marked) -> results::Page<'_> {
    let count = marked.pupils.iter().map(|entry| entry.marks.len()).sum();
    let columns = vec![
        Column::new(results::PUPIL_ID, 10, Kind::Text),
        Column::new("Pupil", 18, Kind::Text),
        Column::new("Class", 8, Kind::Text),
        Column::new(results::QUESTION, 9, Kind::Short),
        Column::new(results::ANSWER, 18, Kind::Text),
        Column::new("Read as", 12, Kind::Text),
        Column::new("Right answer", 14, Kind::Text),
        Column::new("Mark", 6, Kind::Short),
        Column::new(results::OUT_OF, 6, Kind::Short),
        Column::new(results::CHANGED_MARK, 9, Kind::Entry),
        Column::new(results::DECIDED_BY, 8, Kind::WordEntry),
        Column::new("State", 11, Kind::Short),
        Column::new("Reason", 34, Kind::Text),
        Column::new("Misconception", 20, Kind::Text),
        Column::new("To check", 19, Kind::Text),
        Column::new(results::DECIDED_ON, 11, Kind::Short),
        Column::new(results::PROPOSED, 9, Kind::Short),
        Column::new(results::CODE, 18, Kind::Hidden),
    ];
    let decisions = Rc::new(standing::Decisions::of(&marked.decisions));
    let rows = marked.pupils.iter().flat_map(move |entry| {
        let decisions = Rc::clone(&decisions);
        let of = move |mark| row(entry, mark, &decisions);
        entry.marks.iter().map(of)
    });
    results::Page {
        name: "Marks",
        intro: format!(
            "To change one pupil's mark, type it into {} and save this file; then mark the \
             homework again. It is kept, with its date.",
            results::CHANGED_MARK
        ),
        columns,
        rows: results::Rows::made(count, rows),
        totals: Vec::new(),
        notes: Vec::new(),
        fixed: 4,
        entry: Some(results::CHANGED_MARK),
    }
}

/// The row of one answer.
fn row(
    entry: &marking::MarkedPupil,
    mark: &marking::Mark,
    decisions: &standing::Decisions<'_>,
) -> Vec<Value> {
    let own = decisions.for_pupil(&mark.pupil_id, &mark.question, &mark.code);
    let changed = match &own {
        standing::Standing::Agreed(agreed) => Some(agreed),
        standing::Standing::Nothing | standing::Standing::Differing(_) => None,
    };
    let decided = mark.decided.as_ref();
    vec![
        Value::text(&entry.pupil.id),
        Value::text(&entry.pupil.name),
        Value::text(&entry.pupil.class),
        Value::text(&mark.question),
        Value::text(&mark.typed),
        Value::text(&mark.read_as),
        Value::text(&mark.expected),
        Value::Number(u32::from(mark.marks)),
        Value::Number(u32::from(mark.out_of)),
        changed.map_or(Value::Nothing, |agreed| {
            Value::Number(u32::from(agreed.newest.marks))
        }),
        changed.map_or(Value::Nothing, |agreed| Value::text(&agreed.by)),
        Value::text(mark.state.text()),
        Value::text(&mark.reason),
        Value::text(misconception_names(mark).join("; ")),
        Value::text(&mark.check),
        decided.map_or(Value::Nothing, |decided| Value::text(&decided.date)),
        decided.map_or(Value::Nothing, |decided| {
            Value::Number(u32::from(decided.proposed))
        }),
        Value::text(&mark.code),
    ]
}
