//! The worksheet that tells the teacher why each pupil got these questions. It names
//! pupils, and is never read back.

use crate::workbook::answer_book;
use crate::workbook::style;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// The name of the worksheet.
const WORKSHEET: &str = "Why these questions";

/// What must be known to read it.
const ABOUT: &str = "For the teacher. Consistent with: two answers or more are what this way of \
    thinking gives. That is evidence, not proof. The questions on it are ones that it answers \
    wrongly, two of them, so that it can be seen to have gone.";

const HEADING_ROW: u32 = 4;
const HEADINGS: [&str; 4] = ["Pupil ID", "Pupil", "Level", "Why these questions"];

/// The widths of the columns, in characters.
const WIDTHS: [u16; 4] = [12, 24, 7, 110];

/// Writes the worksheet; `keep` says until when it is kept.
pub(super) fn write(
    worksheet: &mut Worksheet,
    about: &style::About<'_>,
    keep: &str,
    whys: &[answer_book::Why],
) -> Result<(), XlsxError> {
    worksheet.set_name(WORKSHEET)?;
    worksheet.write_string_with_format(0, 0, WORKSHEET, &style::title())?;
    for (column, width) in (0_u16..).zip(WIDTHS) {
        worksheet.set_column_width(column, width)?;
    }
    let sentence = style::fact().set_text_wrap();
    for (row, line) in [(1, ABOUT), (2, keep)] {
        worksheet.merge_range(row, 0, row, 3, line, &sentence)?;
        style::fit_row(worksheet, row, &[(line, WIDTHS.iter().sum())])?;
    }
    for (column, heading) in (0_u16..).zip(HEADINGS) {
        worksheet.write_string_with_format(HEADING_ROW, column, heading, &style::heading())?;
    }
    let text = style::text();
    let mut row = HEADING_ROW;
    for why in whys {
        row += 1;
        worksheet.write_string_with_format(row, 0, &why.pupil_id, &text)?;
        worksheet.write_string_with_format(row, 1, &why.name, &text)?;
        worksheet.write_number_with_format(row, 2, why.level, &style::number())?;
        worksheet.write_string_with_format(row, 3, &why.line, &text)?;
        let texts = [
            (why.name.as_str(), WIDTHS[1]),
            (why.line.as_str(), WIDTHS[3]),
        ];
        style::fit_row(worksheet, row, &texts)?;
    }
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: HEADING_ROW,
            columns: 2,
            paper: style::Paper::Across,
            pages_wide: 1,
        },
    )
}
