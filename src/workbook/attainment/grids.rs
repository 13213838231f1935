//! The worksheets `Skills by year` and `Skills by class`.

use crate::attainment::count;
use crate::attainment::grid;
use crate::attainment::tally;
use crate::workbook::attainment::page;
use crate::workbook::table;

/// Returns one of the worksheets; none where there is nothing to tell.
pub(super) fn of(name: &'static str, grid: &grid::Grid) -> Option<page::Page> {
    if grid.rows.is_empty() || grid.columns.is_empty() {
        return None;
    }
    let groups = grid.columns.iter().map(|group| page::text(group, 17));
    let rows = grid.rows.iter().map(|skill| {
        let cells = skill.cells.iter();
        let cells = cells.map(|cell| table::Value::text(text(cell.as_ref())));
        std::iter::once(table::Value::text(&skill.label))
            .chain(cells)
            .collect()
    });
    Some(page::Page {
        name,
        notes: [
            "Facility, pupils who handed in (n) and 95 % interval. Where two intervals share \
             much, the difference may be chance; different groups may have had other questions.",
            "Fewer than 5 pupils: not shown, nor what they could be found from. 5 to 9 pupils: \
             marks only, no facility.",
            "A dash: the group was not asked, or nobody's answer counts.",
        ]
        .map(str::to_owned)
        .to_vec(),
        columns: std::iter::once(page::text("Skill", 22))
            .chain(groups)
            .collect(),
        rows: rows.collect(),
        chart: None,
    })
}

/// `43 %, n = 28 (35 to 52 %)`.
fn text(cell: Option<&count::Shown>) -> String {
    match cell {
        Some(count::Shown::InFull {
            figures,
            facility: Some(facility),
        }) => format!(
            "{} %, n = {} ({})",
            tally::percent(*facility),
            figures.pupils,
            figures.interval().unwrap_or_default()
        ),
        Some(count::Shown::CountsOnly { figures }) if figures.pupils > 0 => format!(
            "{} of {} marks, n = {}",
            figures.earned, figures.available, figures.pupils
        ),
        Some(count::Shown::Hidden(why)) => why.text().to_owned(),
        Some(count::Shown::InFull { facility: None, .. } | count::Shown::CountsOnly { .. })
        | None => "–".to_owned(),
    }
}
