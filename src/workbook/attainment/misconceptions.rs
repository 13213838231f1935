//! The worksheet `Misconceptions`: how many pupils show each again and again.

use crate::attainment::count;
use crate::attainment::misconceptions;
use crate::workbook::attainment::groups;
use crate::workbook::attainment::overview;
use crate::workbook::style;
use rust_xlsxwriter::Chart;
use rust_xlsxwriter::ChartDataLabel;
use rust_xlsxwriter::ChartFont;
use rust_xlsxwriter::ChartSolidFill;
use rust_xlsxwriter::ChartType;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The worksheet's name.
const NAME: &str = "Misconceptions";
/// The row of the column headings.
const HEADING_ROW: u32 = 5;
/// The column of the counts that the chart draws.
const AGAIN: u16 = 1;
/// The first of the years' columns.
const FIRST_YEAR: u16 = 3;
/// The most years that have a column.
const MOST_YEARS: usize = 20;

/// How wide the columns are, in characters.
const NAME_WIDTH: u16 = 40;
const COUNT_WIDTH: u16 = 20;
const NEXT_WIDTH: u16 = 50;

/// Writes the worksheet.
pub(super) fn write(
    workbook: &mut Workbook,
    about: &style::About<'_>,
    table: &misconceptions::Table,
) -> Result<(), XlsxError> {
    let worksheet = workbook.add_worksheet();
    worksheet.set_name(NAME)?;
    let years = table.years.len().min(MOST_YEARS);
    let next_column = FIRST_YEAR + u16::try_from(years).unwrap_or(0);
    write_notes(worksheet, table)?;
    write_headings(worksheet, table, next_column)?;
    let mut row = HEADING_ROW;
    for entry in &table.rows {
        row += 1;
        worksheet.write_string_with_format(row, 0, &entry.name, &style::text())?;
        overview::write_count(worksheet, row, AGAIN, entry.again)?;
        overview::write_count(worksheet, row, AGAIN + 1, entry.once)?;
        for (column, pupils) in (FIRST_YEAR..next_column).zip(&entry.by_year) {
            overview::write_count(worksheet, row, column, *pupils)?;
        }
        worksheet.write_string_with_format(row, next_column, &entry.next, &style::text())?;
        let mut texts = vec![
            (entry.name.as_str(), NAME_WIDTH),
            (entry.next.as_str(), NEXT_WIDTH),
        ];
        texts.extend(hidden_texts(entry).map(|text| (text, COUNT_WIDTH)));
        style::fit_row(worksheet, row, &texts)?;
    }
    let bars = bars(&table.rows);
    if bars > 0 {
        worksheet.insert_chart(row + 2, 0, &chart(bars))?;
    }
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: 1,
            paper: style::Paper::Across,
            pages_wide: 1,
        },
    )
}

fn write_notes(worksheet: &mut Worksheet, table: &misconceptions::Table) -> Result<(), XlsxError> {
    worksheet.write_string_with_format(0, 0, NAME, &style::title())?;
    let pupils = match table.pupils {
        count::Count::Pupils(pupils) => format!("Of {pupils} pupils who handed in."),
        count::Count::Hidden(why) => format!("Of {} who handed in.", why.text()),
    };
    for (row, note) in (1_u32..).zip([
        "A pupil counts when two or more of their answers are consistent with someone who thinks \
         so: one answer may be a slip.",
        "An answer can fit several ways of thinking. A pupil counts for the fewest that explain \
         their answers, and for each where several explain as many.",
        &pupils,
    ]) {
        worksheet.write_string_with_format(row, 0, note, &style::fact())?;
    }
    Ok(())
}

fn write_headings(
    worksheet: &mut Worksheet,
    table: &misconceptions::Table,
    next_column: u16,
) -> Result<(), XlsxError> {
    let heading = style::heading();
    let number = style::number_heading();
    worksheet.set_column_width(0, NAME_WIDTH)?;
    worksheet.write_string_with_format(HEADING_ROW, 0, "Consistent with someone who", &heading)?;
    worksheet.set_column_width(AGAIN, COUNT_WIDTH)?;
    let again = "Pupils, two answers or more";
    worksheet.write_string_with_format(HEADING_ROW, AGAIN, again, &number)?;
    worksheet.set_column_width(AGAIN + 1, COUNT_WIDTH)?;
    let once = "Pupils, one answer only: may be chance";
    worksheet.write_string_with_format(HEADING_ROW, AGAIN + 1, once, &number)?;
    for (column, year) in (FIRST_YEAR..next_column).zip(&table.years) {
        worksheet.set_column_width(column, COUNT_WIDTH)?;
        let year = format!("Year {year}: two or more");
        worksheet.write_string_with_format(HEADING_ROW, column, &year, &number)?;
    }
    worksheet.set_column_width(next_column, NEXT_WIDTH)?;
    worksheet.write_string_with_format(HEADING_ROW, next_column, "Try next", &heading)?;
    worksheet.set_row_height(HEADING_ROW, 32.0)?;
    Ok(())
}

/// The remarks that stand in place of numbers.
fn hidden_texts(row: &misconceptions::Row) -> impl Iterator<Item = &'static str> {
    [&row.again, &row.once]
        .into_iter()
        .chain(&row.by_year)
        .filter_map(|count| match count {
            count::Count::Pupils(_) => None,
            count::Count::Hidden(why) => Some(why.text()),
        })
}

/// How many rows from the top have a number to draw.
fn bars(rows: &[misconceptions::Row]) -> u32 {
    let drawn = rows
        .iter()
        .take_while(|row| match row.again {
            count::Count::Pupils(pupils) => pupils > 0,
            count::Count::Hidden(_) => false,
        })
        .count();
    u32::try_from(drawn).unwrap_or(0)
}

fn chart(bars: u32) -> Chart {
    let (first, last) = (HEADING_ROW + 1, HEADING_ROW + bars);
    let mut chart = Chart::new(ChartType::Bar);
    chart
        .add_series()
        .set_name("Pupils")
        .set_categories((NAME, first, 0, last, 0))
        .set_values((NAME, first, AGAIN, last, AGAIN))
        .set_format(ChartSolidFill::new().set_color(groups::BAR))
        .set_gap(60)
        .set_data_label(ChartDataLabel::new().show_value());
    chart
        .title()
        .set_name("Pupils with two answers or more consistent with someone who ...")
        .set_font(ChartFont::new().set_size(12));
    chart.legend().set_hidden();
    // In a bar chart the values lie along the x axis.
    chart.x_axis().set_min(0).set_num_format("0");
    chart.y_axis().set_reverse();
    chart.set_width(900).set_height(90 + 26 * bars);
    chart.set_alt_text("Bar chart of the column Pupils, two answers or more, of this table.");
    chart
}
