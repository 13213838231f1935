//! Worksheet `Misconceptions`: which are about, in which questions, with whom, how
//! their answers come about and what they earn.

use crate::marking;
use crate::marking::overview;
use crate::workbook::results;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;

/// Returns the worksheet.
pub(super) fn page(
    marked: &marking::Marked,
    overview: &overview::Overview,
) -> results::Page<'static> {
    let columns = vec![
        Column::new("Consistent with someone who", 27, Kind::Text),
        Column::new("Answers", 8, Kind::Short),
        Column::new("Questions", 12, Kind::Text),
        Column::new("Pupils with two or more", 25, Kind::Text),
        Column::new("What to say", 30, Kind::Text),
        Column::new("What to try next", 28, Kind::Text),
        Column::new("How the answer comes about", 26, Kind::Text),
        Column::new("Earns", 11, Kind::Text),
        Column::new("Why", 27, Kind::Text),
        Column::new("Who reports it", 26, Kind::Text),
    ];
    let rows = overview
        .misconceptions
        .iter()
        .map(|met| {
            let pupils: Vec<String> = met.pupils.iter().map(holder).collect();
            let known = met.misconception;
            vec![
                Value::text(known.name),
                Value::count(met.answers),
                Value::text(met.questions.join(", ")),
                Value::text(pupils.join(", ")),
                Value::text(known.say),
                Value::text(known.next),
                Value::text(known.gives),
                Value::text(known.credit.text()),
                Value::text(known.credit_reason),
                Value::text(known.source),
            ]
        })
        .collect::<Vec<_>>();
    let mut notes = Vec::new();
    if rows.is_empty() {
        notes.push("No answer is that of a known misconception.".to_owned());
    } else if !marked.policy.misconception_credit {
        notes.push("Your marking policy gives no credit for misconceptions.".to_owned());
    }
    results::Page {
        name: "Misconceptions",
        intro: "Answers consistent with a way of thinking: one alone may be chance. A pupil \
                stands with the fewest that explain two answers or more; \"or another\": \
                another one fits as well."
            .to_owned(),
        columns,
        rows: results::Rows::of(rows),
        totals: Vec::new(),
        notes,
        fixed: 1,
        entry: None,
    }
}

/// `Ann Example (3)`, `Ben Example (2, or another)`.
fn holder(holder: &overview::Holder) -> String {
    let or_another = if holder.or_another {
        ", or another"
    } else {
        ""
    };
    format!("{} ({}{or_another})", holder.name, holder.answers)
}
