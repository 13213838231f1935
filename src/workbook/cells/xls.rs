//! The older binary workbooks.

mod formats;

use super::Book;
use super::Cell;
use super::Content;
use super::Fault;
use super::Kind;
use super::Look;
use super::Rows;
use super::gather::Gatherer;
use super::gather::Tally;
use crate::workbook::number_format;
use calamine::Data;
use calamine::Reader;
use std::io::Cursor;

type Workbook<'a> = calamine::Xls<Cursor<&'a [u8]>>;

/// Returns the worksheets of an xls file.
pub(super) fn read(bytes: &[u8], rows: Rows) -> Result<Book, Fault> {
    if holds_name(bytes, "EncryptedPackage") {
        return Err(Fault::PasswordProtected);
    }
    if !holds_name(bytes, "Workbook") && !holds_name(bytes, "Book") {
        let seems = if holds_name(bytes, "WordDocument") {
            "a word processor document"
        } else if holds_name(bytes, "PowerPoint Document") {
            "slides"
        } else {
            return Err(Fault::Damaged {
                detail: "it has no workbook inside".to_owned(),
            });
        };
        return Err(Fault::WrongKind {
            seems: seems.to_owned(),
        });
    }
    let mut workbook = Workbook::new(Cursor::new(bytes)).map_err(|error| fault(&error))?;
    let mut tally = Tally::new(rows);
    let mut grids = Vec::new();
    let formats = formats::Formats::of(bytes);
    let sheets: Vec<calamine::Sheet> = workbook.sheets_metadata().to_vec();
    for (index, sheet) in sheets.into_iter().enumerate() {
        if sheet.typ != calamine::SheetType::WorkSheet {
            continue;
        }
        let visible = sheet.visible == calamine::SheetVisible::Visible;
        let mut gatherer = Gatherer::new(&sheet.name, visible, &mut tally);
        let values = workbook
            .worksheet_range(&sheet.name)
            .map_err(|error| fault(&error))?;
        let formulas = workbook
            .worksheet_formula(&sheet.name)
            .map_err(|error| fault(&error))?;
        let (top, left) = values.start().unwrap_or((0, 0));
        for (row, column, value) in values.used_cells() {
            let row = top + u32::try_from(row).map_err(|error| super::archive::damaged(&error))?;
            let column =
                left + u32::try_from(column).map_err(|error| super::archive::damaged(&error))?;
            let formula = formulas.get_value((row, column)).map_or("", String::as_str);
            let code = formats.code(index, row, column);
            let Some(content) = content(value, formula, code) else {
                continue;
            };
            let is_text = matches!(content, Content::Text(_));
            let look = Look {
                format: if is_text { "" } else { code }.to_owned(),
                shown: String::new(),
                formula: formula.to_owned(),
            };
            let look = (look != Look::default()).then(|| Box::new(look));
            gatherer.put(row, column, Cell { content, look })?;
        }
        grids.push(gatherer.finish());
    }
    Ok(Book {
        kind: Kind::Xls,
        grids,
    })
}

fn content(value: &Data, formula: &str, code: &str) -> Option<Content> {
    let is_formula = !formula.is_empty();
    Some(match value {
        Data::Empty => return None,
        Data::Int(0) if is_formula => Content::Uncalculated,
        Data::Float(value) if is_formula && *value == 0.0 => Content::Uncalculated,
        Data::Int(value) => Content::Number(value.to_string()),
        Data::Float(value) => Content::Number(super::number_text(*value)),
        Data::String(text) => Content::Text(text.clone()),
        Data::Bool(truth) => Content::Truth(*truth),
        Data::DateTime(moment) => super::xlsx::serial(moment, number_format::clock(code)),
        Data::DateTimeIso(text) | Data::DurationIso(text) => super::iso(text),
        Data::Error(error) => Content::Fault(error.to_string()),
    })
}

/// Says whether the directory of the file names a stream so (in UTF-16).
fn holds_name(bytes: &[u8], name: &str) -> bool {
    let wanted: Vec<u8> = name
        .encode_utf16()
        .chain([0])
        .flat_map(u16::to_le_bytes)
        .collect();
    bytes
        .windows(wanted.len())
        .any(|window| window == wanted.as_slice())
}

fn fault(error: &calamine::XlsError) -> Fault {
    if matches!(error, calamine::XlsError::Password) {
        Fault::PasswordProtected
    } else {
        super::archive::damaged(error)
    }
}
