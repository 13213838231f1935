//! A table on a worksheet of ours: headings, widths, rows, heights.
//!
//! Takes rows of plain values and writes them with the formats of
//! [`style`]; every worksheet of results is made of one such table.

use crate::workbook::style;
use rust_xlsxwriter::Format;
use rust_xlsxwriter::Worksheet;
use rust_xlsxwriter::XlsxError;

/// A column of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Its heading.
    pub heading: String,
    /// Its width in characters.
    pub width: u16,
    /// What its cells are.
    pub kind: Kind,
}

/// What the cells of a column are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// Wrapped text.
    Text,
    /// A short word or a number in the middle.
    Short,
    /// A number to be typed in.
    Entry,
    /// A word to be typed in.
    WordEntry,
    /// Text that only the program needs: the column is hidden and takes no room.
    Hidden,
}

impl Kind {
    /// Whether something can be typed in.
    fn is_entry(self) -> bool {
        match self {
            Self::Entry | Self::WordEntry => true,
            Self::Text | Self::Short | Self::Hidden => false,
        }
    }
}

/// What one cell shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value {
    /// Nothing.
    Nothing,
    /// Text.
    Text(String),
    /// A whole number.
    Number(u32),
    /// A whole number of hundredths, shown with a percent sign.
    Percent(u32),
    /// A number with a sign that a spreadsheet program shows but does not count.
    Signed(u32, Sign),
}

/// A sign beside a number, or in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sign {
    /// `1?`: a person should look.
    ToCheck,
    /// `1*`: a person decided.
    Decided,
    /// `–`: nothing was written.
    Blank,
    /// `…`: not reached.
    NotReached,
}

/// A table with its place.
#[derive(Debug)]
pub struct Table<'a> {
    /// Its columns.
    pub columns: &'a [Column],
    /// The heading row, from 0.
    pub heading_row: u32,
}

impl Column {
    /// Returns a column.
    #[must_use]
    pub fn new(heading: impl Into<String>, width: u16, kind: Kind) -> Self {
        Self {
            heading: heading.into(),
            width,
            kind,
        }
    }
}

impl Value {
    /// Returns a text, or nothing when it is empty.
    #[must_use]
    pub fn text(text: impl Into<String>) -> Self {
        let text = text.into();
        if text.is_empty() {
            Self::Nothing
        } else {
            Self::Text(text)
        }
    }

    /// Returns a count; one that no worksheet could hold is shown as the largest.
    #[must_use]
    pub fn count(count: usize) -> Self {
        Self::Number(u32::try_from(count).unwrap_or(u32::MAX))
    }

    /// Returns a percentage, or nothing.
    #[must_use]
    pub fn percent(percent: Option<u32>) -> Self {
        percent.map_or(Self::Nothing, Self::Percent)
    }
}

impl Table<'_> {
    /// Returns the column under a heading.
    #[must_use]
    pub fn column(&self, heading: &str) -> Option<u16> {
        (0_u16..)
            .zip(self.columns)
            .find(|(_, column)| column.heading == heading)
            .map(|(index, _)| index)
    }

    /// Returns how wide all columns that are seen are together, in characters.
    #[must_use]
    pub fn width(&self) -> u32 {
        self.columns
            .iter()
            .filter(|column| column.kind != Kind::Hidden)
            .map(|column| u32::from(column.width))
            .sum()
    }

    /// Writes the heading row, sets the widths, and hides what nobody is to see.
    ///
    /// # Errors
    ///
    /// When something does not fit into a worksheet.
    pub fn write_headings(&self, worksheet: &mut Worksheet) -> Result<(), XlsxError> {
        let (left, middle) = (style::heading(), style::number_heading());
        for (index, column) in (0_u16..).zip(self.columns) {
            let format = match column.kind {
                Kind::Text | Kind::Hidden => &left,
                Kind::Short | Kind::Entry | Kind::WordEntry => &middle,
            };
            worksheet
                .set_column_width(index, column.width)?
                .write_string_with_format(self.heading_row, index, &column.heading, format)?;
            // It goes with its row when people sort.
            if column.kind == Kind::Hidden {
                worksheet.set_column_hidden(index)?;
            }
        }
        let texts: Vec<(&str, u16)> = self
            .columns
            .iter()
            .filter(|column| column.kind != Kind::Hidden)
            .map(|column| (column.heading.as_str(), column.width))
            .collect();
        style::fit_row(worksheet, self.heading_row, &texts)
    }

    /// Gives the columns the look of their texts, for [`Formats::many_rows`].
    ///
    /// # Errors
    ///
    /// When something does not fit into a worksheet.
    pub fn format_columns(
        &self,
        worksheet: &mut Worksheet,
        formats: &Formats,
    ) -> Result<(), XlsxError> {
        for (index, column) in (0_u16..).zip(self.columns) {
            if !column.kind.is_entry() {
                worksheet.set_column_format(index, formats.plain(column.kind))?;
            }
        }
        Ok(())
    }

    /// Writes one row; `row` counts from 0 over the whole worksheet.
    ///
    /// # Errors
    ///
    /// When something does not fit into a worksheet.
    pub fn write_row(
        &self,
        worksheet: &mut Worksheet,
        row: u32,
        values: &[Value],
        formats: &Formats,
    ) -> Result<(), XlsxError> {
        let mut texts = Vec::with_capacity(values.len());
        for ((index, column), value) in (0_u16..).zip(self.columns).zip(values) {
            match value {
                Value::Nothing => {
                    if !formats.are_of_columns || column.kind.is_entry() {
                        worksheet.write_blank(row, index, formats.plain(column.kind))?;
                    }
                }
                Value::Text(text) => {
                    if formats.are_of_columns && !column.kind.is_entry() {
                        worksheet.write_string(row, index, text)?;
                    } else {
                        let format = formats.plain(column.kind);
                        worksheet.write_string_with_format(row, index, text, format)?;
                    }
                    if column.kind != Kind::Hidden {
                        texts.push((text.as_str(), column.width));
                    }
                }
                Value::Number(number) => {
                    let format = match column.kind {
                        Kind::Text | Kind::Short | Kind::WordEntry | Kind::Hidden => {
                            &formats.number
                        }
                        Kind::Entry => &formats.entry,
                    };
                    worksheet.write_number_with_format(row, index, *number, format)?;
                }
                Value::Percent(percent) => {
                    worksheet.write_number_with_format(row, index, *percent, &formats.percent)?;
                }
                Value::Signed(number, sign) => {
                    worksheet.write_number_with_format(row, index, *number, formats.sign(*sign))?;
                }
            }
        }
        style::fit_row(worksheet, row, &texts)
    }
}

/// The formats of a table's cells, made once.
#[derive(Debug)]
pub struct Formats {
    text: Format,
    short: Format,
    entry: Format,
    word_entry: Format,
    number: Format,
    percent: Format,
    to_check: Format,
    decided: Format,
    blank: Format,
    not_reached: Format,
    /// Whether texts look as their column says, and cells that hold nothing are left out.
    are_of_columns: bool,
}

impl Formats {
    /// Returns the formats of ordinary rows.
    #[must_use]
    pub fn rows() -> Self {
        let number = style::number();
        Self {
            text: style::text(),
            short: style::centred(),
            entry: style::number_entry(),
            word_entry: style::entry(),
            percent: style::percentage(),
            to_check: style::look_here(number.clone().set_num_format("0\"?\"")),
            decided: number.clone().set_num_format("0\"*\""),
            blank: number.clone().set_num_format("\"–\";\"–\";\"–\""),
            not_reached: number.clone().set_num_format("\"…\";\"…\";\"…\""),
            number,
            are_of_columns: false,
        }
    }

    /// Returns the formats of rows of which there are very many, without lines: a text has
    /// the format of its column ([`Table::format_columns`]), and what holds nothing and is
    /// not to be filled in is left out. The file is smaller and sooner there, since looking
    /// up a format for each cell takes longer than writing it.
    #[must_use]
    pub fn many_rows() -> Self {
        let rows = Self::rows();
        Self {
            entry: rows.entry.clone(),
            word_entry: rows.word_entry.clone(),
            are_of_columns: true,
            ..rows.each(style::without_lines)
        }
    }

    /// Returns the formats of a row of totals.
    #[must_use]
    pub fn totals() -> Self {
        Self::rows().each(style::as_total)
    }

    /// Returns the same formats, each changed.
    fn each(self, change: impl Fn(Format) -> Format) -> Self {
        Self {
            text: change(self.text),
            short: change(self.short),
            entry: change(self.entry),
            word_entry: change(self.word_entry),
            number: change(self.number),
            percent: change(self.percent),
            to_check: change(self.to_check),
            decided: change(self.decided),
            blank: change(self.blank),
            not_reached: change(self.not_reached),
            are_of_columns: self.are_of_columns,
        }
    }

    fn plain(&self, kind: Kind) -> &Format {
        match kind {
            Kind::Text | Kind::Hidden => &self.text,
            Kind::Short => &self.short,
            Kind::Entry => &self.entry,
            Kind::WordEntry => &self.word_entry,
        }
    }

    fn sign(&self, sign: Sign) -> &Format {
        match sign {
            Sign::ToCheck => &self.to_check,
            Sign::Decided => &self.decided,
            Sign::Blank => &self.blank,
            Sign::NotReached => &self.not_reached,
        }
    }
}
