//! Worksheet `Misconceptions`: which are about, in which questions, with whom.

use crate::marking::overview;
use crate::workbook::results;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;

/// Returns the worksheet.
pub(super) fn page(overview: &overview::Overview) -> results::Page {
    let columns = vec![
        Column::new("Misconception", 30, Kind::Text),
        Column::new("Answers", 9, Kind::Short),
        Column::new("Questions", 16, Kind::Text),
        Column::new("Pupils with two such answers or more", 34, Kind::Text),
        Column::new("What to say", 42, Kind::Text),
        Column::new("What to try next", 42, Kind::Text),
    ];
    let rows = overview
        .misconceptions
        .iter()
        .map(|met| {
            let pupils: Vec<String> = met
                .pupils
                .iter()
                .map(|holder| format!("{} ({})", holder.name, holder.answers))
                .collect();
            vec![
                Value::text(met.misconception.name),
                Value::count(met.answers),
                Value::text(met.questions.join(", ")),
                Value::text(pupils.join(", ")),
                Value::text(met.misconception.say),
                Value::text(met.misconception.next),
            ]
        })
        .collect::<Vec<_>>();
    let notes = if rows.is_empty() {
        vec!["No answer is that of a known misconception.".to_owned()]
    } else {
        Vec::new()
    };
    results::Page {
        name: "Misconceptions",
        intro: "Answers that are exactly what a pupil who thinks so would write. One answer alone \
                may be chance and says nothing of a pupil."
            .to_owned(),
        columns,
        rows,
        totals: Vec::new(),
        notes,
        fixed: 1,
        entry: None,
    }
}
