//! Cells as plain bytes: what a reader that runs apart hands back.
//!
//! Not a file of anybody's: written by [`write`] and read again by the same version of
//! the program. Yet it is trusted no further than any file: every limit holds here too.

use super::Book;
use super::Cell;
use super::Content;
use super::Fault;
use super::Kind;
use super::Look;
use super::Rows;
use super::gather::Gatherer;
use super::gather::Tally;
use std::collections::BTreeMap;

/// What the bytes begin with; no kind of spreadsheet file begins so.
pub(super) const MARK: &[u8] = b"\x01toothmark cells 1\n";

const A_BOOK: u8 = 0;
const EMPTY: u8 = 1;
const PASSWORD_PROTECTED: u8 = 2;
const WRONG_KIND: u8 = 3;
const DAMAGED: u8 = 4;
const TOO_LARGE: u8 = 5;

/// Returns what reading a file gave, as bytes.
pub(super) fn write(found: &Result<Book, Fault>) -> Vec<u8> {
    let mut bytes = MARK.to_vec();
    match found {
        Ok(book) => {
            bytes.push(A_BOOK);
            put_book(&mut bytes, book);
        }
        Err(Fault::Empty) => bytes.push(EMPTY),
        Err(Fault::PasswordProtected) => bytes.push(PASSWORD_PROTECTED),
        Err(Fault::WrongKind { seems }) => {
            bytes.push(WRONG_KIND);
            put_text(&mut bytes, seems);
        }
        Err(Fault::Damaged { detail }) => {
            bytes.push(DAMAGED);
            put_text(&mut bytes, detail);
        }
        Err(Fault::TooLarge { what, limit }) => {
            bytes.push(TOO_LARGE);
            put_text(&mut bytes, what);
            put_text(&mut bytes, limit);
        }
    }
    bytes
}

/// Returns what was written.
pub(super) fn read(bytes: &[u8], rows: Rows) -> Result<Book, Fault> {
    let mut rest = Rest {
        bytes: bytes.strip_prefix(MARK).ok_or_else(broken)?,
    };
    Err(match rest.byte()? {
        A_BOOK => return rest.book(rows),
        EMPTY => Fault::Empty,
        PASSWORD_PROTECTED => Fault::PasswordProtected,
        WRONG_KIND => Fault::WrongKind {
            seems: rest.text()?,
        },
        DAMAGED => Fault::Damaged {
            detail: rest.text()?,
        },
        TOO_LARGE => Fault::TooLarge {
            what: rest.text()?,
            limit: rest.text()?,
        },
        _ => broken(),
    })
}

fn broken() -> Fault {
    Fault::Damaged {
        detail: "its cells do not hold together".to_owned(),
    }
}

fn put_book(bytes: &mut Vec<u8>, book: &Book) {
    bytes.push(match book.kind {
        Kind::Xlsx => 0,
        Kind::Xls => 1,
        Kind::Ods => 2,
        Kind::Csv => 3,
    });
    put_count(bytes, book.grids.len());
    for grid in &book.grids {
        put_text(bytes, &grid.name);
        bytes.push(u8::from(grid.visible));
        put_count(bytes, grid.rows.values().map(BTreeMap::len).sum());
        for (row, cells) in &grid.rows {
            for (column, cell) in cells {
                bytes.extend(row.to_le_bytes());
                bytes.extend(column.to_le_bytes());
                put_content(bytes, &cell.content);
                bytes.push(u8::from(cell.look.is_some()));
                if let Some(look) = &cell.look {
                    put_text(bytes, &look.format);
                    put_text(bytes, &look.shown);
                    put_text(bytes, &look.formula);
                }
            }
        }
    }
}

fn put_content(bytes: &mut Vec<u8>, content: &Content) {
    let (kind, text) = match content {
        Content::Text(text) => (0, text),
        Content::Number(text) => (1, text),
        Content::Fault(text) => (2, text),
        Content::Time { milliseconds } => {
            bytes.push(3);
            bytes.extend(milliseconds.to_le_bytes());
            return;
        }
        Content::Date { year, month, day } => {
            bytes.push(4);
            bytes.extend(year.to_le_bytes());
            bytes.extend(month.to_le_bytes());
            bytes.extend(day.to_le_bytes());
            return;
        }
        Content::Truth(truth) => {
            bytes.extend([5, u8::from(*truth)]);
            return;
        }
        Content::Uncalculated => {
            bytes.push(6);
            return;
        }
    };
    bytes.push(kind);
    put_text(bytes, text);
}

fn put_text(bytes: &mut Vec<u8>, text: &str) {
    put_count(bytes, text.len());
    bytes.extend(text.as_bytes());
}

fn put_count(bytes: &mut Vec<u8>, count: usize) {
    let count = u32::try_from(count).expect("the limits of a file are far below this");
    bytes.extend(count.to_le_bytes());
}

/// What is still to be read.
struct Rest<'a> {
    bytes: &'a [u8],
}

impl Rest<'_> {
    fn book(&mut self, rows: Rows) -> Result<Book, Fault> {
        let kind = match self.byte()? {
            0 => Kind::Xlsx,
            1 => Kind::Xls,
            2 => Kind::Ods,
            3 => Kind::Csv,
            _ => return Err(broken()),
        };
        let mut tally = Tally::new(rows);
        let mut grids = Vec::new();
        for _ in 0..self.count()? {
            let name = self.text()?;
            let visible = self.byte()? == 1;
            let mut gatherer = Gatherer::new(&name, visible, &mut tally);
            for _ in 0..self.count()? {
                let row = self.count()?;
                let column = self.count()?;
                let content = self.content()?;
                let look = if self.byte()? == 1 {
                    Some(Box::new(Look {
                        format: self.text()?,
                        shown: self.text()?,
                        formula: self.text()?,
                    }))
                } else {
                    None
                };
                gatherer.put(row, column, Cell { content, look })?;
            }
            grids.push(gatherer.finish());
        }
        if self.bytes.is_empty() {
            Ok(Book { kind, grids })
        } else {
            Err(broken())
        }
    }

    fn content(&mut self) -> Result<Content, Fault> {
        Ok(match self.byte()? {
            0 => Content::Text(self.text()?),
            1 => Content::Number(self.text()?),
            2 => Content::Fault(self.text()?),
            3 => Content::Time {
                milliseconds: i64::from_le_bytes(self.some()?),
            },
            4 => Content::Date {
                year: i32::from_le_bytes(self.some()?),
                month: self.count()?,
                day: self.count()?,
            },
            5 => Content::Truth(self.byte()? == 1),
            6 => Content::Uncalculated,
            _ => return Err(broken()),
        })
    }

    fn text(&mut self) -> Result<String, Fault> {
        let length = usize::try_from(self.count()?).map_err(|_| broken())?;
        let (text, rest) = self.bytes.split_at_checked(length).ok_or_else(broken)?;
        self.bytes = rest;
        String::from_utf8(text.to_vec()).map_err(|_| broken())
    }

    fn count(&mut self) -> Result<u32, Fault> {
        self.some().map(u32::from_le_bytes)
    }

    fn byte(&mut self) -> Result<u8, Fault> {
        self.some().map(|[byte]| byte)
    }

    fn some<const N: usize>(&mut self) -> Result<[u8; N], Fault> {
        let (some, rest) = self.bytes.split_first_chunk().ok_or_else(broken)?;
        self.bytes = rest;
        Ok(*some)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A book with a cell of every kind.
    fn book() -> Book {
        let contents = [
            Content::Text("½ \u{1f600}".to_owned()),
            Content::Number("2.5".to_owned()),
            Content::Time { milliseconds: -1 },
            Content::Date {
                year: -4,
                month: 3,
                day: 31,
            },
            Content::Truth(true),
            Content::Fault("#DIV/0!".to_owned()),
            Content::Uncalculated,
        ];
        let cells = (1..).zip(contents).map(|(column, content)| {
            let look = (column % 2 == 0).then(|| {
                Box::new(Look {
                    format: "# ?/?".to_owned(),
                    shown: "2 1/2".to_owned(),
                    formula: "60/3".to_owned(),
                })
            });
            (column, Cell { content, look })
        });
        Book {
            kind: Kind::Ods,
            grids: vec![super::super::Grid {
                name: "Answers".to_owned(),
                visible: true,
                rows: BTreeMap::from([(7, cells.collect())]),
            }],
        }
    }

    #[test]
    fn what_is_written_is_read_again() {
        let text = || "x".to_owned();
        let faults = [
            Fault::Empty,
            Fault::PasswordProtected,
            Fault::WrongKind { seems: text() },
            Fault::Damaged { detail: text() },
            Fault::TooLarge {
                what: text(),
                limit: "y".to_owned(),
            },
        ];
        for found in faults.map(Err).into_iter().chain([Ok(book())]) {
            assert_eq!(super::super::read(&write(&found)), found);
        }
    }

    #[test]
    fn bytes_cut_off_or_changed_anywhere_are_a_fault_or_other_cells() {
        let whole = write(&Ok(book()));
        let read = |bytes: &[u8]| read(bytes, Rows::All);
        for length in MARK.len()..whole.len() {
            let cut = whole.get(..length).expect("shorter");
            assert_eq!(read(cut), Err(broken()), "{length}");
            let mut changed = whole.clone();
            changed[length] ^= 0xFF;
            drop(read(&changed));
        }
    }
}
