//! The worksheet `Bands`: how many pupils are in each of the school's own bands.

use crate::attainment::bands;
use crate::attainment::count;
use crate::workbook::style;
use crate::workbook::table;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The row of the column headings.
const HEADING_ROW: u32 = 5;

/// Writes the worksheet.
pub(super) fn write(
    workbook: &mut Workbook,
    about: &style::About<'_>,
    bands: &bands::Table,
) -> Result<(), XlsxError> {
    let mut columns = vec![
        table::Column::new("Group", 10, table::Kind::Text),
        table::Column::new("Name", 24, table::Kind::Text),
    ];
    let of_bands = bands.columns.iter();
    columns.extend(of_bands.map(|band| table::Column::new(band, 18, table::Kind::Short)));
    let table = table::Table {
        columns: &columns,
        heading_row: HEADING_ROW,
    };
    let worksheet = workbook.add_worksheet();
    worksheet.set_name("Bands")?;
    write_notes(worksheet, bands)?;
    table.write_headings(worksheet)?;
    let formats = table::Formats::rows();
    for (row, group) in (HEADING_ROW + 1..).zip(&bands.rows) {
        let kind = match group.kind {
            bands::Kind::All => "All",
            bands::Kind::Year => "Year",
            bands::Kind::Class => "Class",
        };
        let mut values = vec![table::Value::text(kind), table::Value::text(&group.label)];
        values.extend(group.pupils.iter().map(|count| match count {
            count::Count::Pupils(pupils) => table::Value::Number(*pupils),
            count::Count::Hidden(why) => table::Value::text(why.text()),
        }));
        table.write_row(worksheet, row, &values, &formats)?;
    }
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: 2,
            paper: style::Paper::Across,
            pages_wide: style::pages_wide(table.width(), style::Paper::Across),
        },
    )
}

fn write_notes(worksheet: &mut Worksheet, bands: &bands::Table) -> Result<(), XlsxError> {
    let title = if bands.name.is_empty() {
        "Bands"
    } else {
        bands.name.as_str()
    };
    worksheet.write_string_with_format(0, 0, title, &style::title())?;
    let not_shown = bands.not_shown.as_deref().unwrap_or(
        "Fewer than 5 pupils are not shown, nor what they could be found from; of groups of fewer \
         than 10 nothing is.",
    );
    for (row, note) in (1_u32..).zip([
        "The bands and where they begin are the school's own. They say how much of these \
         homeworks was earned, and are no statutory judgement.",
        "Numbers of pupils. A pupil of several years or classes counts in each by what they did \
         there, and in All by everything.",
        not_shown,
    ]) {
        worksheet.write_string_with_format(row, 0, note, &style::fact())?;
    }
    Ok(())
}
