//! Office Open XML workbooks, streamed cell by cell.

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
use calamine::DataRef;
use calamine::Reader;
use calamine::XlsxFormulaMetadata;
use std::collections::BTreeMap;
use std::io::Cursor;

type Workbook<'a> = calamine::Xlsx<Cursor<&'a [u8]>>;

/// Returns the worksheets of an xlsx or xlsm file.
pub(super) fn read(bytes: &[u8], rows: Rows) -> Result<Book, Fault> {
    let mut workbook = Workbook::new(Cursor::new(bytes)).map_err(|error| fault(&error))?;
    let mut tally = Tally::new(rows);
    let mut grids = Vec::new();
    let sheets: Vec<calamine::Sheet> = workbook.sheets_metadata().to_vec();
    for sheet in sheets {
        if sheet.typ != calamine::SheetType::WorkSheet {
            continue;
        }
        let visible = sheet.visible == calamine::SheetVisible::Visible;
        let mut gatherer = Gatherer::new(&sheet.name, visible, &mut tally);
        let formulas = formulas(&mut workbook, &sheet.name)?;
        read_cells(&mut workbook, &sheet.name, &formulas, &mut gatherer)?;
        grids.push(gatherer.finish());
    }
    Ok(Book {
        kind: Kind::Xlsx,
        grids,
    })
}

/// A formula with whether its result is in the file.
struct Formula {
    text: String,
    calculated: bool,
}

/// Returns the formulas of a worksheet by row and column.
fn formulas(
    workbook: &mut Workbook<'_>,
    name: &str,
) -> Result<BTreeMap<(u32, u32), Formula>, Fault> {
    let mut found = BTreeMap::new();
    let mut reader = workbook
        .worksheet_cells_reader(name)
        .map_err(|error| fault(&error))?;
    while let Some(record) = reader
        .next_cell_with_formula_metadata()
        .map_err(|error| fault(&error))?
    {
        let text = match record.formula {
            None => continue,
            Some(
                XlsxFormulaMetadata::Normal { formula }
                | XlsxFormulaMetadata::Shared { formula, .. },
            ) => formula,
            // Filled down from another cell, whose text would have to be moved; or of a
            // kind that the crate learns of later.
            Some(_) => String::new(),
        };
        // A writer that does not calculate leaves the result out or puts 0.
        let calculated = match record.value {
            DataRef::Empty => false,
            DataRef::Float(value) => value != 0.0,
            DataRef::Int(value) => value != 0,
            DataRef::String(_)
            | DataRef::SharedString(_)
            | DataRef::Bool(_)
            | DataRef::DateTime(_)
            | DataRef::DateTimeIso(_)
            | DataRef::DurationIso(_)
            | DataRef::Error(_) => true,
        };
        found.insert(record.pos, Formula { text, calculated });
        if found.len() > super::MOST_CELLS {
            return Err(Fault::TooLarge {
                what: format!("worksheet {name} holds very many formulas"),
                limit: format!("{} cells", super::MOST_CELLS),
            });
        }
    }
    Ok(found)
}

fn read_cells(
    workbook: &mut Workbook<'_>,
    name: &str,
    formulas: &BTreeMap<(u32, u32), Formula>,
    gatherer: &mut Gatherer<'_>,
) -> Result<(), Fault> {
    let mut reader = workbook
        .worksheet_cells_reader(name)
        .map_err(|error| fault(&error))?;
    while let Some((cell, style)) = reader
        .next_cell_with_style_id()
        .map_err(|error| fault(&error))?
    {
        let (row, column) = cell.get_position();
        let formula = formulas.get(&(row, column));
        let code = reader
            .styles()
            .get(style)
            .and_then(|style| style.number_format.as_ref())
            .map_or("", |format| format.format_code.as_str());
        let content = match (formula, content(cell.get_value(), code)) {
            (Some(formula), _) if !formula.calculated => Content::Uncalculated,
            (_, Some(content)) => content,
            (_, None) => continue,
        };
        let is_text = matches!(content, Content::Text(_));
        let look = Look {
            format: if is_text || code == "General" {
                String::new()
            } else {
                code.to_owned()
            },
            shown: String::new(),
            formula: formula.map_or_else(String::new, |formula| formula.text.clone()),
        };
        let look = (look != Look::default()).then(|| Box::new(look));
        gatherer.put(row, column, Cell { content, look })?;
    }
    Ok(())
}

fn content(value: &DataRef<'_>, code: &str) -> Option<Content> {
    Some(match value {
        DataRef::Empty => return None,
        DataRef::Int(value) => Content::Number(value.to_string()),
        DataRef::Float(value) => Content::Number(super::number_text(*value)),
        DataRef::String(text) => Content::Text(text.clone()),
        DataRef::SharedString(text) => Content::Text((*text).to_owned()),
        DataRef::Bool(truth) => Content::Truth(*truth),
        DataRef::DateTime(moment) => serial(moment, number_format::clock(code)),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => super::iso(text),
        DataRef::Error(error) => Content::Fault(error.to_string()),
    })
}

/// Returns a serial day number as a time or date.
///
/// Where the format does not tell, a number of days below that of the longest
/// time that can be typed (10,000 hours) is a time.
pub(super) fn serial(moment: &calamine::ExcelDateTime, clock: number_format::Clock) -> Content {
    const LONGEST_TIME_DAYS: f64 = 417.0;
    let days = moment.as_f64();
    let is_time = moment.is_duration()
        || match clock {
            number_format::Clock::Time => true,
            number_format::Clock::Date => false,
            number_format::Clock::Unknown => days < LONGEST_TIME_DAYS,
        };
    if is_time {
        return Content::Time {
            milliseconds: super::milliseconds(days),
        };
    }
    let (year, month, day, ..) = moment.to_ymd_hms_milli();
    Content::Date {
        year: i32::from(year),
        month: u32::from(month),
        day: u32::from(day),
    }
}

fn fault(error: &calamine::XlsxError) -> Fault {
    if matches!(error, calamine::XlsxError::Password) {
        Fault::PasswordProtected
    } else {
        super::archive::damaged(error)
    }
}
