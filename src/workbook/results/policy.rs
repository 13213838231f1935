//! Worksheet `Policy`: every switch by which the answers were marked.

use crate::marking;
use crate::workbook::results;
use crate::workbook::table::Column;
use crate::workbook::table::Kind;
use crate::workbook::table::Value;

/// Returns the worksheet.
pub(super) fn page(marked: &marking::Marked) -> results::Page<'static> {
    let columns = vec![
        Column::new("About", 20, Kind::Text),
        Column::new("Switch", 28, Kind::Text),
        Column::new("Here", 8, Kind::Short),
        Column::new("Usually", 8, Kind::Short),
        Column::new("What it says", 60, Kind::Text),
    ];
    let settings = marked.policy.settings();
    let changed = settings
        .iter()
        .filter(|setting| setting.value != setting.usual)
        .count();
    let rows = settings
        .into_iter()
        .map(|setting| {
            vec![
                Value::text(setting.topic),
                Value::text(setting.name),
                Value::text(setting.value),
                Value::text(setting.usual),
                Value::text(setting.meaning),
            ]
        })
        .collect();
    let differs = match changed {
        0 => "with every switch as usual".to_owned(),
        1 => "with one switch changed".to_owned(),
        count => format!("with {count} switches changed"),
    };
    results::Page {
        name: "Policy",
        intro: format!(
            "Marked by the policy \"{}\", {differs}. To change it: toothmark mark --show-policy",
            marked.policy.name
        ),
        columns,
        rows: results::Rows::of(rows),
        totals: Vec::new(),
        notes: Vec::new(),
        fixed: 2,
        entry: None,
    }
}
