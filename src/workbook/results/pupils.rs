//! Worksheet `Pupils`: what holds, and the next step.

use crate::marking::findings;
use crate::marking::overview;
use crate::workbook::results;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;

/// Returns the worksheet.
pub(super) fn page(overview: &overview::Overview) -> results::Page<'_> {
    let columns = vec![
        Column::new(results::PUPIL_ID, 10, Kind::Text),
        Column::new("Pupil", 24, Kind::Text),
        Column::new("Class", 10, Kind::Text),
        Column::new("Total", 8, Kind::Short),
        Column::new(results::OUT_OF, 8, Kind::Short),
        Column::new("Percent", 9, Kind::Short),
        Column::new("To check", 8, Kind::Short),
        Column::new("Every answer right in", 26, Kind::Text),
        Column::new("Consistent with someone who", 34, Kind::Text),
        Column::new("Next step", 52, Kind::Text),
    ];
    let rows = overview.pupils.iter().map(|pupil| {
        let strengths: Vec<&str> = pupil.strengths.iter().map(|skill| skill.title()).collect();
        let consistent: Vec<String> = pupil.consistent_with.iter().map(said).collect();
        let (total, out_of) = if pupil.out_of == 0 {
            (Value::text("away"), Value::Nothing)
        } else {
            (Value::Number(pupil.marks), Value::Number(pupil.out_of))
        };
        vec![
            Value::text(&pupil.pupil_id),
            Value::text(&pupil.name),
            Value::text(&pupil.class),
            total,
            out_of,
            Value::percent(results::percent(pupil.marks, pupil.out_of)),
            Value::count(pupil.counts.to_check),
            Value::text(strengths.join(", ")),
            Value::text(consistent.join("; ")),
            Value::text(&pupil.next),
        ]
    });
    results::Page {
        name: "Pupils",
        intro:
            "From this homework only. Consistent with: two answers or more are what this way of \
                thinking gives. That is evidence, not proof."
                .to_owned(),
        columns,
        rows: results::Rows::made(overview.pupils.len(), rows),
        totals: Vec::new(),
        notes: Vec::new(),
        fixed: 2,
        entry: None,
    }
}

/// `turns the ratio upside down (3 answers)`.
fn said(finding: &findings::Finding) -> String {
    format!("{} ({} answers)", finding.names(), finding.answers)
}
