//! The worksheet `Overview`: sentences, then the homeworks that were counted.

use crate::attainment;
use crate::attainment::count;
use crate::retention;
use crate::workbook::style;
use rust_xlsxwriter::Format;
use rust_xlsxwriter::FormatAlign;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The columns of the list of homeworks, with their widths.
const COLUMNS: [(&str, u16); 6] = [
    ("Homework", 14),
    ("Title", 34),
    ("Set on", 12),
    ("Marked on", 12),
    ("Pupils", 38),
    ("Questions on a sheet", 20),
];

/// Writes the worksheet.
pub(super) fn write(
    workbook: &mut Workbook,
    about: &style::About<'_>,
    summary: &attainment::Summary,
) -> Result<(), XlsxError> {
    let worksheet = workbook.add_worksheet();
    worksheet.set_name("Overview")?;
    for (column, (_, width)) in (0_u16..).zip(COLUMNS) {
        worksheet.set_column_width(column, width)?;
    }
    worksheet.write_string_with_format(0, 0, about.title, &style::title())?;
    let keep = retention::sentence(summary.kept_until());
    worksheet.write_string_with_format(1, 0, keep, &style::fact())?;
    let mut row = 3;
    let mut theme = None;
    for remark in &summary.overview {
        if theme != Some(remark.theme) {
            if theme.is_some() {
                row += 1;
            }
            theme = Some(remark.theme);
            worksheet.write_string_with_format(row, 0, remark.theme.title(), &section())?;
            row += 1;
        }
        write_sentence(worksheet, row, &remark.text)?;
        row += 1;
    }
    let heading_row = row + 2;
    worksheet.write_string_with_format(row + 1, 0, "Homeworks counted", &section())?;
    write_homeworks(worksheet, heading_row, &summary.homeworks)?;
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: 0,
            columns: 0,
            paper: style::Paper::Across,
            pages_wide: 1,
        },
    )
}

/// The heading of a few sentences.
fn section() -> Format {
    style::fact().set_bold()
}

/// Writes a sentence over all columns, as tall as it needs to be.
fn write_sentence(worksheet: &mut Worksheet, row: u32, text: &str) -> Result<(), XlsxError> {
    let format = Format::new()
        .set_text_wrap()
        .set_num_format("@")
        .set_align(FormatAlign::Top);
    let last = u16::try_from(COLUMNS.len() - 1).unwrap_or(0);
    worksheet.merge_range(row, 0, row, last, text, &format)?;
    let width = COLUMNS.iter().map(|(_, width)| width).sum();
    style::fit_row(worksheet, row, &[(text, width)])
}

fn write_homeworks(
    worksheet: &mut Worksheet,
    heading_row: u32,
    homeworks: &[attainment::HomeworkLine],
) -> Result<(), XlsxError> {
    for (column, (heading, _)) in (0_u16..).zip(COLUMNS) {
        worksheet.write_string_with_format(heading_row, column, heading, &style::heading())?;
    }
    let text = style::text();
    for (row, homework) in (heading_row + 1..).zip(homeworks) {
        worksheet.write_string_with_format(row, 0, &homework.code, &text)?;
        worksheet.write_string_with_format(row, 1, &homework.title, &text)?;
        worksheet.write_string_with_format(row, 2, &homework.set_on, &text)?;
        worksheet.write_string_with_format(row, 3, &homework.marked_on, &text)?;
        write_count(worksheet, row, 4, homework.pupils)?;
        style::fit_row(worksheet, row, &[(&homework.title, COLUMNS[1].1)])?;
        let questions = u32::try_from(homework.questions).unwrap_or(u32::MAX);
        worksheet.write_number_with_format(row, 5, questions, &style::number())?;
    }
    Ok(())
}

/// Writes a number of pupils, or why it is not told.
pub(super) fn write_count(
    worksheet: &mut Worksheet,
    row: u32,
    column: u16,
    count: count::Count,
) -> Result<(), XlsxError> {
    match count {
        count::Count::Pupils(pupils) => {
            worksheet.write_number_with_format(row, column, pupils, &style::number())?;
        }
        count::Count::Hidden(why) => {
            worksheet.write_string_with_format(row, column, why.text(), &style::text())?;
        }
    }
    Ok(())
}
