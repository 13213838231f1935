//! Spreadsheet files read into plain cells.
//!
//! Takes the bytes of an xlsx, xlsm, xls, ods or csv file and gives a [`Book`]
//! of [`Grid`]s. Knows nothing of answers or pupils. What a file is, its first
//! bytes say, never its name. Limits are stated here and named when reached.

mod archive;
mod csv;
mod gather;
mod ods;
mod plain;
mod xls;
mod xlsx;

use crate::problem;
use std::collections::BTreeMap;
use std::fmt;

/// The most rows of a worksheet that are read.
pub const MOST_ROWS: u32 = 200_000;
/// The most rows of a worksheet that are looked through for those with an entry: as many
/// as a spreadsheet program has.
pub const MOST_ROWS_SEEN: u32 = 1_048_576;
/// How many rows from the top, of those that hold something, a heading row is among.
pub const HEADING_ROWS: usize = 200;
/// The most columns of a worksheet that are read.
pub const MOST_COLUMNS: u32 = 2_000;
/// The most characters of one cell.
pub const MOST_CHARACTERS: usize = 32_767;
/// The most cells of a whole file that hold something.
pub const MOST_CELLS: usize = 6_000_000;
/// The most bytes of the texts of all cells together.
pub const MOST_TEXT_BYTES: usize = 256 * 1024 * 1024;
/// The most worksheets of a file.
pub const MOST_WORKSHEETS: usize = 1_000;
/// The largest file, in bytes.
pub const MOST_BYTES: usize = 200 * 1024 * 1024;

/// Which rows of the worksheets are wanted.
#[derive(Debug, Clone, Copy)]
pub enum Rows {
    /// All of them.
    All,
    /// The first [`HEADING_ROWS`], and of those below the ones that hold something in a
    /// column that has such a heading there: so that entries are found in a worksheet
    /// much larger than could be kept.
    WithEntry {
        /// Says whether a text is the heading of a column of entries.
        is_heading: fn(&str) -> bool,
    },
}

/// A spreadsheet file as plain cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Book {
    /// What kind of file it was.
    pub kind: Kind,
    /// Its worksheets, in order.
    pub grids: Vec<Grid>,
}

/// A kind of spreadsheet file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Office Open XML: xlsx and xlsm.
    Xlsx,
    /// The older binary workbook.
    Xls,
    /// Open Document spreadsheet.
    Ods,
    /// Text with delimiters.
    Csv,
}

/// One worksheet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Grid {
    /// Its name; empty for a csv file.
    pub name: String,
    /// Whether it is shown.
    pub visible: bool,
    /// Cells that hold something, by row and then column, both counted from 0.
    pub rows: BTreeMap<u32, BTreeMap<u32, Cell>>,
}

/// One cell that holds something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// What it holds.
    pub content: Content,
    /// How it looks and how it was made, where the file tells.
    pub look: Option<Box<Look>>,
}

/// How a cell looks and how it was made; texts are empty where not known.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Look {
    /// The number format code, such as `# ?/?` (not ods).
    pub format: String,
    /// The text on the screen, such as `2 1/2` (ods only).
    pub shown: String,
    /// The formula, without `=`.
    pub formula: String,
}

/// What a cell holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Content {
    /// Text, exactly.
    Text(String),
    /// A number, in decimal digits as a spreadsheet program keeps them (15 at most): `2.5`, `-3`.
    Number(String),
    /// A time of day or a length of time, from midnight; 24 hours or more are possible.
    Time {
        /// Milliseconds.
        milliseconds: i64,
    },
    /// A date.
    Date {
        /// The year.
        year: i32,
        /// The month, from 1.
        month: u32,
        /// The day of the month, from 1.
        day: u32,
    },
    /// True or false.
    Truth(bool),
    /// An error value, such as `#DIV/0!`.
    Fault(String),
    /// A formula whose result is not in the file.
    Uncalculated,
}

/// Why a file could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// Nothing in the file.
    Empty,
    /// Encrypted.
    PasswordProtected,
    /// Another kind of file.
    WrongKind {
        /// What it seems to be, such as `a PDF file`.
        seems: String,
    },
    /// The file does not hold together.
    Damaged {
        /// What the reader stumbled on.
        detail: String,
    },
    /// A stated limit is passed.
    TooLarge {
        /// What there is too much of, and where.
        what: String,
        /// The limit, in words.
        limit: String,
    },
}

/// Returns the worksheets of a spreadsheet file.
///
/// # Errors
///
/// A [`Fault`] when the file is empty, encrypted, of another kind, damaged or
/// larger than the limits of this module.
pub fn read(bytes: &[u8]) -> Result<Book, Fault> {
    read_rows(bytes, Rows::All)
}

/// Returns the worksheets of a spreadsheet file with the wanted rows, of which alone the
/// limits of cells and text hold.
///
/// # Errors
///
/// As [`read`].
pub fn read_rows(bytes: &[u8], rows: Rows) -> Result<Book, Fault> {
    if bytes.starts_with(plain::MARK) {
        return plain::read(bytes, rows);
    }
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Err(Fault::Empty);
    }
    if bytes.len() > MOST_BYTES {
        return Err(Fault::TooLarge {
            what: format!("the file has {} MB", bytes.len() / (1024 * 1024)),
            limit: format!("{} MB", MOST_BYTES / (1024 * 1024)),
        });
    }
    if bytes.starts_with(b"PK") {
        return match archive::kind(bytes)? {
            archive::Inside::Xlsx => xlsx::read(bytes, rows),
            archive::Inside::Ods => ods::read(bytes, rows),
        };
    }
    if bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        return xls::read(bytes, rows);
    }
    if let Some(seems) = other_kind(bytes) {
        return Err(Fault::WrongKind {
            seems: seems.to_owned(),
        });
    }
    csv::read(bytes, rows)
}

/// Returns what reading a file gave as plain bytes, which [`read`] takes like a file: so
/// that a file can be read apart, where it can do no harm.
#[must_use]
pub fn to_plain(found: &Result<Book, Fault>) -> Vec<u8> {
    plain::write(found)
}

impl Grid {
    /// Returns the cell at a row and column counted from 0.
    #[must_use]
    pub fn cell(&self, row: u32, column: u32) -> Option<&Cell> {
        self.rows.get(&row)?.get(&column)
    }

    /// Returns where a cell is, in the words of a spreadsheet: `Answers!C7`.
    #[must_use]
    pub fn place(&self, row: u32, column: u32) -> String {
        let cell = format!("{}{}", column_letters(column), u64::from(row) + 1);
        if self.name.is_empty() {
            cell
        } else {
            format!("{}!{cell}", self.name)
        }
    }
}

impl Cell {
    /// Returns a cell with nothing known of its look.
    #[must_use]
    pub fn plain(content: Content) -> Self {
        Self {
            content,
            look: None,
        }
    }

    /// Returns the number format code, or an empty text.
    #[must_use]
    pub fn format(&self) -> &str {
        self.look.as_ref().map_or("", |look| look.format.as_str())
    }

    /// Returns the text on the screen where the file holds it, or an empty text.
    #[must_use]
    pub fn shown(&self) -> &str {
        self.look.as_ref().map_or("", |look| look.shown.as_str())
    }

    /// Returns the formula without `=`, or an empty text.
    #[must_use]
    pub fn formula(&self) -> &str {
        self.look.as_ref().map_or("", |look| look.formula.as_str())
    }
}

impl Fault {
    /// Returns the problem to tell, for a file at `place`.
    #[must_use]
    pub fn to_problem(&self, place: &str) -> problem::Problem {
        let (what, hint) = match self {
            Self::Empty => ("the file is empty".to_owned(), "check that it was saved"),
            Self::PasswordProtected => (
                "the file is protected with a password".to_owned(),
                "open it, save it without a password, and try again",
            ),
            Self::WrongKind { seems } => (
                format!("found {seems}, looked for a spreadsheet"),
                "use an xlsx, xlsm, xls, ods or csv file",
            ),
            Self::Damaged { detail } => (
                format!("the file is damaged: {detail}"),
                "open it in a spreadsheet program and save it again, or take another copy",
            ),
            Self::TooLarge { what, limit } => (
                format!("{what}, more than the limit of {limit}"),
                "delete what does not belong there, or use a smaller file",
            ),
        };
        problem::Problem::new(place, what, hint)
    }
}

impl fmt::Display for Fault {
    /// Writes what is wrong, without a place.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}", self.to_problem("file").what)
    }
}

/// Returns the letters of a column counted from 0: `A`, `Z`, `AA`.
#[must_use]
pub fn column_letters(column: u32) -> String {
    let mut letters = Vec::new();
    let mut rest = u64::from(column) + 1;
    while rest > 0 {
        let digit = u8::try_from((rest - 1) % 26).expect("a remainder of 26 fits");
        letters.push(char::from(b'A' + digit));
        rest = (rest - 1) / 26;
    }
    letters.iter().rev().collect()
}

/// Returns a number as a spreadsheet program keeps it: 15 significant digits, no needless zeros.
fn number_text(value: f64) -> String {
    if !value.is_finite() {
        return "#NUM!".to_owned();
    }
    let scientific = format!("{value:.14e}");
    let (mantissa, exponent) = scientific
        .split_once('e')
        .expect("scientific form has an exponent");
    let exponent: i32 = exponent.parse().expect("an exponent is a whole number");
    let (sign, mantissa) = match mantissa.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", mantissa),
    };
    let digits: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    let digits = digits.trim_end_matches('0');
    if digits.is_empty() {
        return "0".to_owned();
    }
    if !(-20..=20).contains(&exponent) {
        let (first, rest) = digits.split_at(1);
        let point = if rest.is_empty() { "" } else { "." };
        return format!("{sign}{first}{point}{rest}E{exponent}");
    }
    let width = usize::try_from(exponent.unsigned_abs()).expect("at most 20");
    if exponent < 0 {
        return format!("{sign}0.{}{digits}", "0".repeat(width - 1));
    }
    if digits.len() <= width + 1 {
        return format!("{sign}{digits}{}", "0".repeat(width + 1 - digits.len()));
    }
    let (whole, rest) = digits.split_at(width + 1);
    format!("{sign}{whole}.{rest}")
}

/// Returns the whole milliseconds of a number of days.
fn milliseconds(days: f64) -> i64 {
    // Written and read as text: a float that does not fit becomes 0 and not a wrong number.
    format!("{:.0}", days * 86_400_000.0).parse().unwrap_or(0)
}

/// Returns the content for an ISO 8601 date, date with time, or length of time.
fn iso(text: &str) -> Content {
    iso_duration(text)
        .or_else(|| iso_date(text))
        .unwrap_or_else(|| Content::Text(text.to_owned()))
}

fn iso_duration(text: &str) -> Option<Content> {
    let (bare, factor) = match text.strip_prefix('-') {
        Some(rest) => (rest, -1),
        None => (text, 1),
    };
    let mut total: i64 = 0;
    let mut number = String::new();
    for sign in bare.strip_prefix("PT")?.chars() {
        if sign.is_ascii_digit() || sign == '.' || sign == ',' {
            number.push(if sign == ',' { '.' } else { sign });
            continue;
        }
        let (whole, part) = number.split_once('.').unwrap_or((number.as_str(), ""));
        let unit: i64 = match sign {
            'H' => 3_600_000,
            'M' => 60_000,
            'S' => 1_000,
            _ => return None,
        };
        total = total.checked_add(whole.parse::<i64>().ok()?.checked_mul(unit)?)?;
        if sign == 'S' && !part.is_empty() {
            let thousandths: String = part.chars().chain("000".chars()).take(3).collect();
            total = total.checked_add(thousandths.parse().ok()?)?;
        }
        number.clear();
    }
    number.is_empty().then_some(Content::Time {
        milliseconds: total * factor,
    })
}

fn iso_date(text: &str) -> Option<Content> {
    let day = text.split('T').next()?;
    let mut parts = day.split('-');
    let year = parts.next()?.parse().ok()?;
    let month = parts.next()?.parse().ok()?;
    let day = parts.next()?.parse().ok()?;
    let whole = parts.next().is_none() && (1..=12).contains(&month) && (1..=31).contains(&day);
    whole.then_some(Content::Date { year, month, day })
}

/// Returns what the first bytes say where they belong to a known other kind of file.
fn other_kind(bytes: &[u8]) -> Option<&'static str> {
    let start: String = bytes
        .iter()
        .copied()
        .take(64)
        .map(char::from)
        .collect::<String>()
        .trim_start_matches(['\u{ef}', '\u{bb}', '\u{bf}'])
        .trim_start()
        .to_ascii_lowercase();
    let known = [
        ("%pdf", "a PDF file"),
        ("<!doctype", "a web page"),
        ("<html", "a web page"),
        ("<table", "a web page"),
        ("<?xml", "an XML file"),
        ("{\\rtf", "a word processor document"),
        ("\u{89}png", "a picture"),
        ("\u{ff}\u{d8}\u{ff}", "a picture"),
        ("gif8", "a picture"),
        ("rar!", "an archive"),
        ("7z\u{bc}\u{af}", "an archive"),
        ("\u{1f}\u{8b}", "an archive"),
    ];
    known
        .iter()
        .find(|(mark, _)| start.starts_with(mark))
        .map(|(_, seems)| *seems)
}

#[cfg(test)]
mod tests;
