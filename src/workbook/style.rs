//! How our workbooks look on the screen and on paper.
//!
//! One place for formats, page set-up and saving, so that every workbook of
//! the program looks alike and gives the same bytes each time. Colour is never
//! the only sign of anything.

use crate::problem;
use rust_xlsxwriter::Color;
use rust_xlsxwriter::DataValidation;
use rust_xlsxwriter::DocProperties;
use rust_xlsxwriter::ExcelDateTime;
use rust_xlsxwriter::Format;
use rust_xlsxwriter::FormatAlign;
use rust_xlsxwriter::FormatBorder;
use rust_xlsxwriter::FormatPattern;
use rust_xlsxwriter::Formula;
use rust_xlsxwriter::Workbook;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;
use std::collections::BTreeMap;

/// The longest list that a drop-down may hold in itself, in characters with commas.
const LONGEST_LIST: usize = 255;
/// The name of the hidden worksheet of long lists.
const LISTS: &str = "Lists";
/// The name of the hidden worksheet of marks.
const MARKS: &str = "MarkList";
/// The height of a line in points.
const LINE_POINTS: u32 = 15;
/// The most lines of a row, which cannot be higher than 409 points.
const MOST_LINES: u16 = 27;
/// The ground of cells to be typed in.
const ENTRY: Color = Color::RGB(0x00FF_FDF2);
/// A4 in the numbering of paper sizes.
const A4: u8 = 9;
/// The most characters of a title in a page header, which holds 255 in all.
const LONGEST_HEADER_TITLE: usize = 100;

/// What a workbook says of itself.
#[derive(Debug, Clone, Copy)]
pub struct About<'a> {
    /// Its title.
    pub title: &'a str,
    /// The homework's code, or another short mark for every page; may be empty.
    pub code: &'a str,
    /// The date it is made for, ISO 8601; fixes the bytes.
    pub date: &'a str,
}

/// The way a worksheet is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// The long side down.
    Upright,
    /// The long side across.
    Across,
}

/// What stays in sight: the heading row and the first columns.
#[derive(Debug, Clone, Copy)]
pub struct Frame {
    /// The heading row, from 0.
    pub heading_row: u32,
    /// How many columns from the left stay.
    pub columns: u16,
    /// The way it is printed.
    pub paper: Paper,
    /// How many pages wide it is printed.
    pub pages_wide: u16,
}

/// The title of a worksheet.
#[must_use]
pub fn title() -> Format {
    Format::new().set_bold().set_font_size(14)
}

/// A fact or sentence of the heading lines, as text.
#[must_use]
pub fn fact() -> Format {
    Format::new()
        .set_num_format("@")
        .set_align(FormatAlign::Left)
}

/// A heading of a column.
#[must_use]
pub fn heading() -> Format {
    boxed()
        .set_bold()
        .set_text_wrap()
        .set_align(FormatAlign::VerticalCenter)
        .set_background_color(Color::RGB(0x00DD_E6EE))
        .set_border_bottom(FormatBorder::Medium)
}

/// A heading of a column of numbers.
#[must_use]
pub fn number_heading() -> Format {
    heading().set_align(FormatAlign::Center)
}

/// Text in a table, wrapped.
#[must_use]
pub fn text() -> Format {
    boxed().set_num_format("@").set_text_wrap()
}

/// A cell to be typed in: text, so that a spreadsheet program leaves `3:1` alone.
#[must_use]
pub fn entry() -> Format {
    text().set_background_color(ENTRY)
}

/// A cell where nothing is asked: hatched (or shaded, where a program shows no hatching).
#[must_use]
pub fn not_asked() -> Format {
    text()
        .set_pattern(FormatPattern::LightUp)
        .set_foreground_color(Color::RGB(0x00B0_B8C0))
}

/// A whole number in a table.
#[must_use]
pub fn number() -> Format {
    boxed().set_num_format("0").set_align(FormatAlign::Center)
}

/// A cell for a whole number to be typed in.
#[must_use]
pub fn number_entry() -> Format {
    number().set_background_color(ENTRY)
}

/// A whole number of hundredths in a table, with a percent sign.
#[must_use]
pub fn percentage() -> Format {
    number().set_num_format("0\"%\"")
}

/// Makes a format ask for a look; the cell's text must say so too.
#[must_use]
pub fn look_here(format: Format) -> Format {
    format
        .set_bold()
        .set_background_color(Color::RGB(0x00FF_E8B0))
}

/// A short word or sign in the middle of its cell.
#[must_use]
pub fn centred() -> Format {
    boxed()
        .set_num_format("@")
        .set_align(FormatAlign::Center)
        .set_text_wrap()
}

/// Makes a format stand out as a total.
#[must_use]
pub fn as_total(format: Format) -> Format {
    format.set_bold().set_border_top(FormatBorder::Medium)
}

/// Makes a format go without lines around its cells.
#[must_use]
pub fn without_lines(format: Format) -> Format {
    format.set_border(FormatBorder::None)
}

fn boxed() -> Format {
    Format::new()
        .set_border(FormatBorder::Thin)
        .set_border_color(Color::RGB(0x00B0_B8C0))
        .set_align(FormatAlign::Top)
}

/// Returns a new workbook that names itself and its fixed date.
#[must_use]
pub fn workbook(about: &About<'_>) -> Workbook {
    let mut workbook = Workbook::new();
    let day = about.date.chars().take(10).collect::<String>();
    let fixed = ExcelDateTime::parse_from_str(&day)
        .or_else(|_| ExcelDateTime::parse_from_str("2000-01-01"));
    let mut properties = DocProperties::new()
        .set_title(about.title)
        .set_subject(about.code)
        .set_author("Toothmark");
    if let Ok(fixed) = fixed {
        properties = properties.set_creation_datetime(&fixed);
    }
    workbook.set_properties(&properties);
    workbook
}

/// Freezes the headings of a worksheet and sets it up for printing.
///
/// # Errors
///
/// When a row or column lies outside what a worksheet can hold.
pub fn set_up(
    worksheet: &mut Worksheet,
    about: &About<'_>,
    frame: &Frame,
) -> Result<(), XlsxError> {
    let row = frame.heading_row;
    worksheet
        .set_freeze_panes(row + 1, frame.columns)?
        .set_repeat_rows(row, row)?;
    if frame.columns > 0 && frame.pages_wide != 1 {
        worksheet.set_repeat_columns(0, frame.columns - 1)?;
    }
    match frame.paper {
        Paper::Upright => worksheet.set_portrait(),
        Paper::Across => worksheet.set_landscape(),
    };
    // An ampersand begins a code in headers and footers; two stand for one.
    let title: String = about.title.chars().take(LONGEST_HEADER_TITLE).collect();
    let title = title.replace('&', "&&");
    let code = about.code.replace('&', "&&");
    worksheet
        .set_paper_size(A4)
        .set_print_fit_to_pages(frame.pages_wide, 0)
        .set_margins(0.4, 0.4, 0.6, 0.6, 0.3, 0.3)
        .set_header(format!("&L{title}&R{code}"))
        .set_footer("&L&A&RPage &P of &N");
    Ok(())
}

/// Returns on how many pages side by side columns of these widths can be read.
///
/// Units: characters. A page across holds about 135 at full size; text at six
/// tenths of that is still readable.
#[must_use]
pub fn pages_wide(width: u32, paper: Paper) -> u16 {
    let readable = match paper {
        Paper::Upright => 130,
        Paper::Across => 222,
    };
    u16::try_from(width.div_ceil(readable).max(1)).unwrap_or(0)
}

/// Makes a row as high as its wrapped texts need.
///
/// `texts` are the texts with the widths of their columns in characters.
/// Programs differ in whether they make room by themselves.
///
/// # Errors
///
/// When the row lies outside what a worksheet can hold.
pub fn fit_row(
    worksheet: &mut Worksheet,
    row: u32,
    texts: &[(&str, u16)],
) -> Result<(), XlsxError> {
    let lines = texts
        .iter()
        // A character of a word is narrower than a digit, by which widths are told.
        .map(|(text, width)| lines(text, usize::from((*width).max(1)) * 10 / 9))
        .max()
        .unwrap_or(1);
    let most = u16::try_from(lines).unwrap_or(u16::MAX).min(MOST_LINES);
    if most > 1 {
        worksheet.set_row_height(row, u32::from(most) * LINE_POINTS)?;
    }
    Ok(())
}

/// Returns on how many lines a text is wrapped, word by word.
fn lines(text: &str, width: usize) -> usize {
    // Most texts are short: no more bytes than there is room for characters.
    if text.len() <= width && !text.contains('\n') {
        return 1;
    }
    text.lines()
        .map(|line| {
            let mut lines = 1;
            let mut used = 0;
            for word in line.split(' ') {
                let length = word.chars().count();
                if used > 0 && used + 1 + length > width {
                    lines += 1;
                    used = 0;
                }
                used += length + usize::from(used > 0);
                lines += used.saturating_sub(1) / width;
                used = if used > width { used % width } else { used };
            }
            lines
        })
        .sum::<usize>()
        .max(1)
}

/// Returns the bytes of a workbook.
///
/// # Errors
///
/// A problem at `place` when something does not fit into a workbook.
pub fn finish(
    place: &str,
    written: Result<Workbook, XlsxError>,
) -> Result<Vec<u8>, problem::Problem> {
    written
        .and_then(|mut workbook| workbook.save_to_buffer())
        .map_err(|error| {
            problem::Problem::new(
                place,
                format!("the workbook could not be made: {error}"),
                "use fewer pupils at a time, or shorter texts",
            )
        })
}

/// Returns the drop-down of the marks from 0 to what stands in a cell of the same row.
///
/// `out_of` is that cell in the first row, such as `$H5`; the rule goes on down
/// the column, and stays right when people sort the rows.
///
/// # Errors
///
/// When a text does not fit.
pub fn marks_validation(out_of: &str) -> Result<DataValidation, XlsxError> {
    DataValidation::new()
        .allow_list_formula(Formula::new(format!(
            "=OFFSET({MARKS}!$A$1,0,0,{out_of}+1,1)"
        )))
        .set_error_title("Not a mark for this question")?
        .set_error_message(
            "Choose a whole number from 0 to the marks in the column Out of, or leave the cell empty.",
        )
}

/// Adds the hidden worksheet that [`marks_validation`] takes its marks from.
///
/// # Errors
///
/// When it does not fit into the workbook.
pub fn add_marks(workbook: &mut Workbook) -> Result<(), XlsxError> {
    let worksheet = workbook.add_worksheet();
    worksheet.set_name(MARKS)?.set_hidden(true);
    for mark in 0..=u32::from(u8::MAX) {
        worksheet.write_number(mark, 0, mark)?;
    }
    Ok(())
}

/// Drop-downs, with a hidden worksheet for lists that are too long for one.
#[derive(Debug, Default)]
pub struct DropDowns {
    columns: BTreeMap<Vec<String>, u16>,
}

/// What may stand in a cell with a drop-down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strictness {
    /// Any other text too.
    OtherTextToo,
    /// Only the entries, or nothing.
    OnlyEntries,
}

impl DropDowns {
    /// Returns the drop-down with these entries.
    ///
    /// # Errors
    ///
    /// When an entry does not fit into a workbook.
    pub fn validation(
        &mut self,
        entries: &[String],
        strictness: Strictness,
    ) -> Result<DataValidation, XlsxError> {
        let length = entries
            .iter()
            .map(|entry| entry.encode_utf16().count() + 1)
            .sum::<usize>();
        let fits = length <= LONGEST_LIST && !entries.iter().any(|entry| entry.contains(','));
        let list = if fits {
            DataValidation::new().allow_list_strings(entries)?
        } else {
            let next = u16::try_from(self.columns.len()).unwrap_or(u16::MAX);
            let column = *self.columns.entry(entries.to_vec()).or_insert(next);
            let letters = crate::workbook::cells::column_letters(u32::from(column));
            DataValidation::new().allow_list_formula(Formula::new(format!(
                "={LISTS}!${letters}$1:${letters}${}",
                entries.len().max(1)
            )))
        };
        Ok(match strictness {
            Strictness::OtherTextToo => list.show_error_message(false),
            Strictness::OnlyEntries => list
                .set_error_title("Not in the list")?
                .set_error_message("Choose an entry of the list, or leave the cell empty.")?,
        })
    }

    /// Adds the hidden worksheet of long lists where one is needed.
    ///
    /// # Errors
    ///
    /// When a list does not fit into a worksheet.
    pub fn add_lists(&self, workbook: &mut Workbook) -> Result<(), XlsxError> {
        if self.columns.is_empty() {
            return Ok(());
        }
        let worksheet = workbook.add_worksheet();
        worksheet.set_name(LISTS)?.set_hidden(true);
        let text = fact();
        for (entries, column) in &self.columns {
            for (row, entry) in (0_u32..).zip(entries) {
                worksheet.write_string_with_format(row, *column, entry, &text)?;
            }
        }
        Ok(())
    }
}
