//! A worksheet of figures: notes in plain words, a table, and a chart of the same figures
//! with their intervals.

use crate::attainment::figures;
use crate::workbook::attainment::groups;
use crate::workbook::style;
use crate::workbook::table;
use rust_xlsxwriter::Chart;
use rust_xlsxwriter::ChartAxisLabelPosition;
use rust_xlsxwriter::ChartErrorBars;
use rust_xlsxwriter::ChartErrorBarsType;
use rust_xlsxwriter::ChartFont;
use rust_xlsxwriter::ChartRange;
use rust_xlsxwriter::ChartSolidFill;
use rust_xlsxwriter::ChartType;
use rust_xlsxwriter::Format;
use rust_xlsxwriter::FormatAlign;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The most bars of one chart; the rest stand in the table.
const MOST_BARS: usize = 60;

/// One worksheet before it is written.
pub(super) struct Page {
    /// The worksheet's name, and its title.
    pub(super) name: &'static str,
    /// What the figures mean, a line each.
    pub(super) notes: Vec<String>,
    pub(super) columns: Vec<table::Column>,
    pub(super) rows: Vec<Vec<table::Value>>,
    /// The chart, where there is something to draw.
    pub(super) chart: Option<Bars>,
}

/// A chart of figures with their intervals.
pub(super) struct Bars {
    pub(super) title: String,
    /// What the figures are, with their unit.
    pub(super) figure: &'static str,
    pub(super) entries: Vec<Bar>,
}

/// One bar.
pub(super) struct Bar {
    /// What it is of, with the number of pupils.
    pub(super) name: String,
    pub(super) span: figures::Span,
}

/// Writes the worksheet.
pub(super) fn write(
    workbook: &mut Workbook,
    about: &style::About<'_>,
    page: &Page,
) -> Result<(), XlsxError> {
    let notes = u32::try_from(page.notes.len()).unwrap_or(0);
    let table = table::Table {
        columns: &page.columns,
        heading_row: notes + 2,
    };
    let worksheet = workbook.add_worksheet();
    worksheet.set_name(page.name)?;
    table.write_headings(worksheet)?;
    write_notes(worksheet, page, &table)?;
    let formats = table::Formats::rows();
    let mut row = table.heading_row;
    for values in &page.rows {
        row += 1;
        table.write_row(worksheet, row, values, &formats)?;
    }
    let last = u16::try_from(page.columns.len().saturating_sub(1)).unwrap_or(u16::MAX);
    let mut last_row = row;
    if let Some(bars) = page.chart.as_ref().filter(|it| !it.entries.is_empty()) {
        let chart = chart(worksheet, page.name, bars, (table.heading_row, last + 2))?;
        worksheet.insert_chart(row + 2, 0, &chart)?;
        last_row = row + 2 + height(bars).div_ceil(20);
    }
    worksheet.set_print_area(0, 0, last_row, last)?;
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: table.heading_row,
            columns: 1,
            paper: style::Paper::Across,
            pages_wide: style::pages_wide(table.width(), style::Paper::Across),
        },
    )
}

/// The title and the notes, each over all columns and as tall as it needs to be.
fn write_notes(
    worksheet: &mut Worksheet,
    page: &Page,
    table: &table::Table<'_>,
) -> Result<(), XlsxError> {
    worksheet.write_string_with_format(0, 0, page.name, &style::title())?;
    let format = style::fact().set_text_wrap().set_align(FormatAlign::Top);
    let last = u16::try_from(page.columns.len().saturating_sub(1)).unwrap_or(u16::MAX);
    let width = u16::try_from(table.width()).unwrap_or(u16::MAX);
    for (row, note) in (1_u32..).zip(&page.notes) {
        worksheet.merge_range(row, 0, row, last, note, &format)?;
        style::fit_row(worksheet, row, &[(note, width)])?;
    }
    Ok(())
}

/// Writes what the chart draws beside the table, off the printed page, and returns the
/// chart.
fn chart(
    worksheet: &mut Worksheet,
    name: &'static str,
    bars: &Bars,
    (heading_row, column): (u32, u16),
) -> Result<Chart, XlsxError> {
    let heading = style::heading();
    let headings = ["In the chart", bars.figure, "Up to", "Down to"];
    worksheet.set_column_width(column, 40.0)?;
    for (column, text) in (column..).zip(headings) {
        worksheet.write_string_with_format(heading_row, column, text, &heading)?;
    }
    let decimal = hundredths();
    let mut row = heading_row;
    for bar in bars.entries.iter().take(MOST_BARS) {
        row += 1;
        let (text, span) = (&bar.name, &bar.span);
        worksheet.write_string_with_format(row, column, text, &style::text())?;
        let figures = [span.value, span.high - span.value, span.value - span.low];
        for (column, figure) in (column + 1..).zip(figures) {
            worksheet.write_number_with_format(row, column, rounded(figure), &decimal)?;
        }
    }
    let first = heading_row + 1;
    let range = |column: u16| (name, first, column, row, column);
    let error = |column: u16| ChartRange::new_from_range(name, first, column, row, column);
    let mut error_bars = ChartErrorBars::new();
    error_bars.set_type(ChartErrorBarsType::Custom(
        error(column + 2),
        error(column + 3),
    ));
    let mut chart = Chart::new(ChartType::Bar);
    chart
        .add_series()
        .set_name(bars.figure)
        .set_categories(range(column))
        .set_values(range(column + 1))
        .set_format(
            ChartSolidFill::new()
                .set_color(groups::BAR)
                .set_transparency(40),
        )
        .set_gap(80)
        .set_x_error_bars(&error_bars);
    chart
        .title()
        .set_name(&bars.title)
        .set_font(ChartFont::new().set_size(12));
    chart.legend().set_hidden();
    // In a bar chart the values lie along the x axis.
    chart
        .x_axis()
        .set_name(&format!("{}; the line is its 95 % interval", bars.figure))
        .set_num_format("0.0");
    // Names stand beside the chart, also where a bar goes to the left.
    chart
        .y_axis()
        .set_reverse()
        .set_label_position(ChartAxisLabelPosition::Low);
    chart.set_width(900).set_height(height(bars));
    chart.set_alt_text(format!(
        "Bar chart with intervals; the same figures stand in the table {name}."
    ));
    Ok(chart)
}

/// How tall the chart is.
fn height(bars: &Bars) -> u32 {
    let count = u32::try_from(bars.entries.len().min(MOST_BARS)).unwrap_or(0);
    120 + 26 * count
}

/// A figure with two places.
fn hundredths() -> Format {
    style::number().set_num_format("0.00")
}

/// A figure as it is shown: no more than two places can be meant.
fn rounded(figure: f64) -> f64 {
    (figure * 100.0).round() / 100.0
}

/// A figure with two places, or the phrase in its place.
pub(super) fn value(told: &figures::Told<f64>) -> table::Value {
    match told {
        Ok(figure) => table::Value::text(figures::decimal(*figure)),
        Err(why) => table::Value::text(why.to_string()),
    }
}

/// A figure and its interval, in two cells; the phrase stands in the first.
pub(super) fn span(told: &figures::Told<figures::Span>) -> [table::Value; 2] {
    let range = told.map(|span| span.range()).unwrap_or_default();
    [
        value(&told.map(|span| span.value)),
        table::Value::text(range),
    ]
}

/// A share and its interval, in hundredths.
pub(super) fn share(told: &figures::Told<figures::Span>) -> [table::Value; 2] {
    match told {
        Ok(span) => [
            table::Value::text(format!("{:.0} %", 100.0 * span.value)),
            table::Value::text(format!(
                "{:.0} to {:.0} %",
                100.0 * span.low,
                100.0 * span.high
            )),
        ],
        Err(why) => [table::Value::text(why.to_string()), table::Value::Nothing],
    }
}

/// A number of pupils, or why it is not told.
pub(super) fn pupils(told: &figures::Told<u32>) -> table::Value {
    match told {
        Ok(pupils) => table::Value::Number(*pupils),
        Err(why) => table::Value::text(why.to_string()),
    }
}

/// A column of text.
pub(super) fn text(heading: &str, width: u16) -> table::Column {
    table::Column::new(heading, width, table::Kind::Text)
}

/// A column of figures.
pub(super) fn short(heading: &str, width: u16) -> table::Column {
    table::Column::new(heading, width, table::Kind::Short)
}
