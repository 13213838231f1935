//! The worksheet that says in plain words how answers are typed.

use crate::workbook::style;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// What the pupil wrote, what to type, and what does as well.
const EXAMPLES: [[&str; 3]; 15] = [
    ["A number", "12", "12 turns, 12.0, twelve"],
    ["A decimal", "2.5", "2.50"],
    ["A fraction or mixed number", "2 1/2", "2½, 5/2"],
    ["A number with a unit", "180 mm", "18 cm"],
    ["A ratio", "3:1", "3 : 1, 3 to 1, 3/1"],
    [
        "A direction",
        "clockwise",
        "cw, anticlockwise, acw; or take it from the list in the cell",
    ],
    [
        "An answer from a short list",
        "yes",
        "take it from the list in the cell, or type the pupil's own words",
    ],
    [
        "Gears chosen from a box",
        "A 12, B 36",
        "12 and 36, in the order asked",
    ],
    [
        "An explanation",
        "coz its littler",
        "the pupil's own words, as they are spelt; you decide every mark",
    ],
    ["A calculation as the answer", "36 ÷ 12 = 3", "36/12 = 3"],
    [
        "An answer that the pupil put right",
        "27 no 3",
        "type both; the program takes the last and asks you to look",
    ],
    ["Nothing", "", "leave the cell empty"],
    ["Don't know", "don't know", "?"],
    [
        "Something nobody can read",
        "unreadable",
        "type what you can make out",
    ],
    [
        "Working, where there is a column for it",
        "36 ÷ 12 = 3",
        "the main line of it is enough; leave it empty if there is none",
    ],
];

const RULES: [&str; 7] = [
    "Type what the pupil wrote, right or wrong. Do not tidy it, work it out or put it right.",
    "You need not type the unit that is printed beside the answer space.",
    "In the column Attendance, type absent for a pupil who was away, and excused for one who did not have to do it.",
    "You may move, hide, insert and sort columns and rows, add notes and add worksheets. Keep the heading row and the Pupil ID column.",
    "The answer cells are set to text, so that 3:1 stays 3:1 and does not become a time of day. If you paste, paste values only.",
    "A spelling mistake costs nothing while the meaning is plain.",
    "Save the file where it is, with homework.json beside it, and run: toothmark mark answers.xlsx",
];

/// The widths of the three columns, in characters.
const WIDTHS: [u16; 3] = [34, 18, 44];

/// Writes the worksheet.
pub(super) fn write(worksheet: &mut Worksheet, about: &style::About<'_>) -> Result<(), XlsxError> {
    worksheet.set_name("How to type answers")?;
    worksheet.write_string_with_format(0, 0, "How to type answers", &style::title())?;
    for (column, width) in (0_u16..).zip(WIDTHS) {
        worksheet.set_column_width(column, width)?;
    }
    let heading = style::heading();
    let headings = ["What the pupil wrote", "Type", "Does as well"];
    for (column, text) in (0_u16..).zip(headings) {
        worksheet.write_string_with_format(2, column, text, &heading)?;
    }
    let text = style::text();
    let mut row = 2;
    for example in EXAMPLES {
        row += 1;
        for (column, words) in (0_u16..).zip(example) {
            worksheet.write_string_with_format(row, column, words, &text)?;
        }
        let texts: Vec<(&str, u16)> = example.into_iter().zip(WIDTHS).collect();
        style::fit_row(worksheet, row, &texts)?;
    }
    row += 1;
    let sentence = style::fact().set_text_wrap();
    for rule in RULES {
        row += 1;
        worksheet.merge_range(row, 0, row, 2, rule, &sentence)?;
        style::fit_row(worksheet, row, &[(rule, WIDTHS.iter().sum())])?;
    }
    style::set_up(
        worksheet,
        about,
        &style::Frame {
            heading_row: 2,
            columns: 0,
            paper: style::Paper::Upright,
            pages_wide: 1,
        },
    )
}
