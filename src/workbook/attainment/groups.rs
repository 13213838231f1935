//! One table of groups with its chart: years, classes, groups, terms, skills, levels,
//! questions.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::tally;
use crate::workbook::style;
use crate::workbook::table;
use rust_xlsxwriter::Chart;
use rust_xlsxwriter::ChartDataLabel;
use rust_xlsxwriter::ChartFont;
use rust_xlsxwriter::ChartSolidFill;
use rust_xlsxwriter::ChartType;
use rust_xlsxwriter::Color;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The row of the column headings, below the title and four notes.
const HEADING_ROW: u32 = 6;
/// The columns of figures, by heading.
const FIGURES: [&str; 13] = [
    "Pupils",
    "Facility",
    INTERVAL,
    "Marks earned",
    "Marks to be had",
    "Correct",
    "Partly",
    "Wrong",
    "Blank",
    "Unreadable",
    "Not reached",
    "Absent",
    "Excused",
];
/// The heading of where a facility may as well lie.
const INTERVAL: &str = "95 % interval";
/// Where the chart's own columns stand: beside the table, off the printed page.
const CHART_COLUMN: u16 = 16;
/// The most bars of one chart; the rest stand in the table.
const MOST_BARS: u32 = 60;
/// The bars' colour, dark enough to be copied in black and white.
pub(super) const BAR: Color = Color::RGB(0x0035_5C7D);

/// Which table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// By year.
    Years,
    /// By class.
    Classes,
    /// By the roll's group labels; left out where it has none.
    Groups,
    /// By school year of the calendar; left out without one.
    SchoolYears,
    /// By term of the calendar; left out without one.
    Terms,
    /// By skill.
    Skills,
    /// By level.
    Levels,
    /// By question.
    Questions,
}

impl Kind {
    /// The worksheet's name.
    fn name(self) -> &'static str {
        match self {
            Self::Years => "Years",
            Self::Classes => "Classes",
            Self::Groups => "Groups",
            Self::SchoolYears => "School years",
            Self::Terms => "Terms",
            Self::Skills => "Skills",
            Self::Levels => "Levels",
            Self::Questions => "Questions",
        }
    }

    /// The heading of the first column.
    fn heading(self) -> &'static str {
        match self {
            Self::Years => "Year",
            Self::Classes => "Class",
            Self::Groups => "Group",
            Self::SchoolYears => "School year",
            Self::Terms => "Term",
            Self::Skills => "Skill",
            Self::Levels => "Level",
            Self::Questions => "Question (bank and template)",
        }
    }

    /// The columns before the figures: the group's name and, for questions, what
    /// it is about.
    fn names(self) -> Vec<table::Column> {
        let name = |width| table::Column::new(self.heading(), width, table::Kind::Text);
        match self {
            Self::Years
            | Self::Classes
            | Self::Groups
            | Self::SchoolYears
            | Self::Terms
            | Self::Skills
            | Self::Levels => vec![name(24)],
            Self::Questions => vec![name(38), table::Column::new("About", 27, table::Kind::Text)],
        }
    }

    /// Whether the worksheet is left out where it has no rows.
    fn is_optional(self) -> bool {
        match self {
            Self::Classes | Self::Groups | Self::SchoolYears | Self::Terms => true,
            Self::Years | Self::Skills | Self::Levels | Self::Questions => false,
        }
    }

    /// The rows of a summary.
    fn rows(self, summary: &attainment::Summary) -> &[attainment::Row] {
        match self {
            Self::Years => &summary.years,
            Self::Classes => &summary.classes,
            Self::Groups => &summary.groups,
            Self::SchoolYears => &summary.school_years,
            Self::Terms => &summary.terms,
            Self::Skills => &summary.skills,
            Self::Levels => &summary.levels,
            Self::Questions => &summary.questions,
        }
    }
}

/// Writes one table with its chart.
pub(super) fn write(
    workbook: &mut Workbook,
    about: &style::About<'_>,
    kind: Kind,
    summary: &attainment::Summary,
) -> Result<(), XlsxError> {
    let rows = kind.rows(summary);
    if kind.is_optional() && rows.is_empty() {
        return Ok(());
    }
    let mut columns = kind.names();
    columns.extend(FIGURES.map(|figure| {
        let width = if figure == INTERVAL { 13 } else { 10 };
        table::Column::new(figure, width, table::Kind::Short)
    }));
    let table = table::Table {
        columns: &columns,
        heading_row: HEADING_ROW,
    };
    let worksheet = workbook.add_worksheet();
    worksheet.set_name(kind.name())?;
    write_notes(worksheet, kind)?;
    table.write_headings(worksheet)?;
    let mut row = HEADING_ROW + 1;
    for group in rows {
        write_group(worksheet, row, &table, group, &table::Formats::rows())?;
        row += 1;
    }
    write_group(
        worksheet,
        row,
        &table,
        &summary.whole,
        &table::Formats::totals(),
    )?;
    let bars = write_bars(worksheet, rows)?;
    if bars > 0 {
        worksheet.insert_chart(row + 2, 0, &chart(kind, bars))?;
    }
    worksheet.set_print_area(0, 0, row + 2 + chart_rows(bars), last_column(&table))?;
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

/// The last column of a table.
fn last_column(table: &table::Table<'_>) -> u16 {
    u16::try_from(table.columns.len().saturating_sub(1)).unwrap_or(u16::MAX)
}

fn write_notes(worksheet: &mut Worksheet, kind: Kind) -> Result<(), XlsxError> {
    worksheet.write_string_with_format(0, 0, kind.name(), &style::title())?;
    for (row, note) in (1_u32..).zip([
        "Facility: marks earned of the marks to be had, over answers attempted or left blank. \
         Not reached, absent and excused do not count for it.",
        "95 % interval (Wilson): where the facility of many pupils like these would lie. Where two \
         of them share much, the difference may be chance.",
        "Pupils: those who handed in. Counts from Correct to Excused are answers, not pupils; they \
         stand only where no row of the table is held back.",
        "Fewer than 5 pupils: not shown, nor what they could be found from. 5 to 9 pupils: numbers \
         only, no facility.",
    ]) {
        worksheet.write_string_with_format(row, 0, note, &style::fact())?;
    }
    Ok(())
}

fn write_group(
    worksheet: &mut Worksheet,
    row: u32,
    table: &table::Table<'_>,
    group: &attainment::Row,
    formats: &table::Formats,
) -> Result<(), XlsxError> {
    let mut values = vec![table::Value::text(&group.label)];
    if table.columns.len() > FIGURES.len() + 1 {
        values.push(table::Value::text(&group.about));
    }
    let first_figure = u16::try_from(values.len()).unwrap_or(u16::MAX);
    let (told, facility, interval) = match &group.shown {
        count::Shown::InFull { figures, facility } => (
            figures,
            table::Value::percent(facility.map(tally::percent)),
            table::Value::text(figures.interval().unwrap_or_default()),
        ),
        count::Shown::CountsOnly { figures } => (
            figures,
            table::Value::text("counts only"),
            table::Value::Nothing,
        ),
        count::Shown::Hidden(why) => {
            table.write_row(worksheet, row, &values, formats)?;
            let last = last_column(table);
            worksheet.merge_range(row, first_figure, row, last, why.text(), &style::text())?;
            return Ok(());
        }
    };
    values.push(table::Value::Number(told.pupils));
    values.extend([facility, interval]);
    values.extend([told.earned, told.available].map(table::Value::Number));
    values.extend(answers(told));
    table.write_row(worksheet, row, &values, formats)
}

/// The answers by what became of them, in the order of the headings; a dash each where
/// they are not told.
fn answers(told: &count::Figures) -> Vec<table::Value> {
    let Some(tally) = &told.answers else {
        return vec![table::Value::text("–"); 8];
    };
    [
        tally.correct,
        tally.partly,
        tally.wrong,
        tally.blank,
        tally.unreadable,
        tally.not_reached,
        tally.absent,
        tally.excused,
    ]
    .map(table::Value::Number)
    .to_vec()
}

/// Writes what the chart draws, with the number of pupils in each name, and
/// returns how many bars there are.
fn write_bars(worksheet: &mut Worksheet, rows: &[attainment::Row]) -> Result<u32, XlsxError> {
    let bars: Vec<(String, u32)> = rows
        .iter()
        .filter_map(|row| match &row.shown {
            count::Shown::InFull {
                figures,
                facility: Some(facility),
            } => Some((bar_name(&row.label, figures), tally::percent(*facility))),
            count::Shown::InFull { facility: None, .. }
            | count::Shown::CountsOnly { .. }
            | count::Shown::Hidden(_) => None,
        })
        .collect();
    if bars.is_empty() {
        return Ok(0);
    }
    let heading = style::heading();
    worksheet.set_column_width(CHART_COLUMN, 34.0)?;
    worksheet.write_string_with_format(HEADING_ROW, CHART_COLUMN, "In the chart", &heading)?;
    worksheet.write_string_with_format(HEADING_ROW, CHART_COLUMN + 1, "Facility", &heading)?;
    let mut row = HEADING_ROW;
    for (name, facility) in &bars {
        row += 1;
        worksheet.write_string_with_format(row, CHART_COLUMN, name, &style::text())?;
        worksheet.write_number_with_format(
            row,
            CHART_COLUMN + 1,
            *facility,
            &style::percentage(),
        )?;
    }
    Ok((row - HEADING_ROW).min(MOST_BARS))
}

/// A group's name with its number of pupils and where its facility may as well lie.
fn bar_name(label: &str, figures: &count::Figures) -> String {
    let interval = figures.interval().unwrap_or_default();
    format!("{label} (n = {}, {interval})", figures.pupils)
}

/// A bar for each group that may have a share, the first at the top.
fn chart(kind: Kind, bars: u32) -> Chart {
    let (first, last) = (HEADING_ROW + 1, HEADING_ROW + bars);
    let mut chart = Chart::new(ChartType::Bar);
    chart
        .add_series()
        .set_name("Facility")
        .set_categories((kind.name(), first, CHART_COLUMN, last, CHART_COLUMN))
        .set_values((kind.name(), first, CHART_COLUMN + 1, last, CHART_COLUMN + 1))
        .set_format(ChartSolidFill::new().set_color(BAR))
        .set_gap(60)
        .set_data_label(ChartDataLabel::new().show_value().set_num_format("0\"%\""));
    chart
        .title()
        .set_name(&format!("Facility by {}", kind.heading().to_lowercase()))
        .set_font(ChartFont::new().set_size(12));
    chart.legend().set_hidden();
    // In a bar chart the values lie along the x axis.
    chart
        .x_axis()
        .set_min(0)
        .set_max(100)
        .set_num_format("0\"%\"");
    chart.y_axis().set_reverse();
    chart.set_width(900).set_height(90 + 26 * bars);
    chart.set_alt_text(format!(
        "Bar chart of the facility of each group; the same figures stand in the table {}.",
        kind.name()
    ));
    chart
}

/// How many rows of the worksheet the chart covers.
fn chart_rows(bars: u32) -> u32 {
    if bars == 0 {
        0
    } else {
        (90 + 26 * bars).div_ceil(20)
    }
}
