//! The worksheets `Skills by year` and `Skills by class`.

use crate::attainment::count;
use crate::attainment::grid;
use crate::attainment::tally;
use crate::workbook::style;
use crate::workbook::table;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::XlsxError;

/// The row of the column headings, below the title and three notes.
const HEADING_ROW: u32 = 5;

/// Writes one of the worksheets; it is left out where there is nothing to tell.
pub(super) fn write(
    workbook: &mut Workbook,
    about: &style::About<'_>,
    name: &str,
    grid: &grid::Grid,
) -> Result<(), XlsxError> {
    if grid.rows.is_empty() || grid.columns.is_empty() {
        return Ok(());
    }
    let mut columns = vec![table::Column::new("Skill", 22, table::Kind::Text)];
    let groups = grid.columns.iter();
    columns.extend(groups.map(|group| table::Column::new(group, 17, table::Kind::Text)));
    let table = table::Table {
        columns: &columns,
        heading_row: HEADING_ROW,
    };
    let worksheet = workbook.add_worksheet();
    worksheet.set_name(name)?;
    worksheet.write_string_with_format(0, 0, name, &style::title())?;
    for (row, note) in (1_u32..).zip([
        "Facility, pupils who handed in (n) and 95 % interval. Where two intervals share much, \
         the difference may be chance; different groups may have had other questions.",
        "Fewer than 5 pupils: not shown, nor what they could be found from. 5 to 9 pupils: \
         marks only, no facility.",
        "A dash: the group was not asked, or nobody's answer counts.",
    ]) {
        worksheet.write_string_with_format(row, 0, note, &style::fact())?;
    }
    table.write_headings(worksheet)?;
    let formats = table::Formats::rows();
    for (row, skill) in (HEADING_ROW + 1..).zip(&grid.rows) {
        let mut values = vec![table::Value::text(&skill.label)];
        let cells = skill.cells.iter();
        values.extend(cells.map(|cell| table::Value::text(text(cell.as_ref()))));
        table.write_row(worksheet, row, &values, &formats)?;
    }
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: 1,
            paper: style::Paper::Across,
            pages_wide: style::pages_wide(table.width(), style::Paper::Across),
        },
    )
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
