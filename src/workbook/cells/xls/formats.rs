//! The number formats of the cells of an xls file, which the reader of values
//! does not give.
//!
//! Never fails: where something does not hold together the formats are not known,
//! and a number is read as the number it is.
//!
//! Source: [MS-XLS] "Excel Binary File Format (.xls) Structure", records `BoundSheet8`
//! (2.4.28), `Format` (2.4.126), `XF` (2.4.353), `Number` (2.4.180), `RK` (2.4.220),
//! `MulRk` (2.4.175), `Formula` (2.4.127); built-in codes: ECMA-376 part 1, 18.8.30.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::io::Read;

/// The codes that a file does not spell out, by number.
const BUILT_IN: [(u16, &str); 23] = [
    (1, "0"),
    (2, "0.00"),
    (3, "#,##0"),
    (4, "#,##0.00"),
    (9, "0%"),
    (10, "0.00%"),
    (11, "0.00E+00"),
    (12, "# ?/?"),
    (13, "# ??/??"),
    (14, "mm-dd-yy"),
    (15, "d-mmm-yy"),
    (16, "d-mmm"),
    (17, "mmm-yy"),
    (18, "h:mm AM/PM"),
    (19, "h:mm:ss AM/PM"),
    (20, "h:mm"),
    (21, "h:mm:ss"),
    (22, "m/d/yy h:mm"),
    (45, "mm:ss"),
    (46, "[h]:mm:ss"),
    (47, "mm:ss.0"),
    (48, "##0.0E+0"),
    (49, "@"),
];

/// The version of the record structure that is read (Excel 97 and later).
const VERSION: u16 = 0x0600;

/// The number format codes of a workbook.
#[derive(Debug, Default)]
pub(super) struct Formats {
    /// The code of each cell style, by its index.
    codes: Vec<String>,
    /// The cell style of each number, by row and column, for each worksheet in the
    /// order of the file.
    sheets: Vec<BTreeMap<(u32, u32), u16>>,
}

impl Formats {
    /// Returns the formats of an xls file; none where they cannot be told.
    pub(super) fn of(bytes: &[u8]) -> Self {
        stream(bytes)
            .and_then(|stream| read(&stream))
            .unwrap_or_default()
    }

    /// Returns the code of a cell, or an empty text where it is the usual one or not
    /// known; worksheets are counted from 0 in the order of the file.
    pub(super) fn code(&self, sheet: usize, row: u32, column: u32) -> &str {
        self.sheets
            .get(sheet)
            .and_then(|cells| cells.get(&(row, column)))
            .and_then(|style| self.codes.get(usize::from(*style)))
            .map_or("", String::as_str)
    }
}

/// Returns the stream that holds the workbook.
fn stream(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut file = cfb::CompoundFile::open(Cursor::new(bytes)).ok()?;
    let stream = file.open_stream("/Workbook").ok()?;
    let mut found = Vec::new();
    let most = u64::try_from(super::super::MOST_BYTES).ok()?;
    stream.take(most).read_to_end(&mut found).ok()?;
    Some(found)
}

/// One record: its kind and what it holds.
struct Record<'a> {
    kind: u16,
    data: &'a [u8],
}

/// The records of a stream from a byte on, as far as they hold together.
fn records(stream: &[u8], start: usize) -> impl Iterator<Item = Record<'_>> {
    let mut rest = stream.get(start..).unwrap_or_default();
    std::iter::from_fn(move || {
        let (head, after) = rest.split_at_checked(4)?;
        let length = usize::from(word(head, 2)?);
        let (data, next) = after.split_at_checked(length)?;
        rest = next;
        Some(Record {
            kind: word(head, 0)?,
            data,
        })
    })
}

fn word(data: &[u8], place: usize) -> Option<u16> {
    let two = data.get(place..place.checked_add(2)?)?;
    Some(u16::from_le_bytes(two.try_into().ok()?))
}

fn read(stream: &[u8]) -> Option<Formats> {
    let mut starts = Vec::new();
    let mut spelt: BTreeMap<u16, String> = BTreeMap::new();
    let mut styles = Vec::new();
    for record in records(stream, 0) {
        match record.kind {
            // The beginning of the part says the version.
            0x0809 if word(record.data, 0)? != VERSION => return None,
            0x0085 => {
                let four = record.data.get(..4)?;
                let start = u32::from_le_bytes(four.try_into().ok()?);
                starts.push(usize::try_from(start).ok()?);
            }
            0x041E => {
                spelt.insert(word(record.data, 0)?, text(record.data.get(2..)?)?);
            }
            0x00E0 => styles.push(word(record.data, 2)?),
            0x000A => break,
            _ => {}
        }
    }
    let code = |number: &u16| {
        let built_in = || {
            BUILT_IN
                .iter()
                .find(|(known, _)| known == number)
                .map_or("", |(_, code)| *code)
                .to_owned()
        };
        match spelt.get(number) {
            Some(code) if code == "General" => String::new(),
            Some(code) => code.clone(),
            None => built_in(),
        }
    };
    Some(Formats {
        codes: styles.iter().map(code).collect(),
        sheets: starts
            .into_iter()
            .map(|start| numbers(stream, start))
            .collect(),
    })
}

/// A text with its length before it, one or two bytes a sign.
fn text(data: &[u8]) -> Option<String> {
    let length = usize::from(word(data, 0)?);
    let is_wide = data.get(2)? & 1 == 1;
    let signs = data.get(3..)?;
    if is_wide {
        let pairs = signs.get(..length.checked_mul(2)?)?;
        let units: Vec<u16> = pairs
            .chunks_exact(2)
            .filter_map(|pair| word(pair, 0))
            .collect();
        Some(String::from_utf16_lossy(&units))
    } else {
        let bytes = signs.get(..length)?;
        Some(bytes.iter().copied().map(char::from).collect())
    }
}

/// The cell styles of the numbers of the worksheet that begins at a byte.
fn numbers(stream: &[u8], start: usize) -> BTreeMap<(u32, u32), u16> {
    let mut found = BTreeMap::new();
    // A chart inside the worksheet has a beginning and an end of its own.
    let mut depth = 0_u32;
    for record in records(stream, start) {
        match record.kind {
            0x0809 => depth = depth.saturating_add(1),
            0x000A if depth <= 1 => break,
            0x000A => depth -= 1,
            0x0203 | 0x027E | 0x0006 if depth == 1 => {
                if let (Some(row), Some(column), Some(style)) = (
                    word(record.data, 0),
                    word(record.data, 2),
                    word(record.data, 4),
                ) {
                    found.insert((u32::from(row), u32::from(column)), style);
                }
            }
            0x00BD if depth == 1 => {
                if let (Some(row), Some(first)) = (word(record.data, 0), word(record.data, 2)) {
                    // Six bytes a number, then the last column.
                    let cells = record.data.get(4..).unwrap_or_default();
                    for (column, cell) in (u32::from(first)..).zip(cells.chunks_exact(6)) {
                        if let Some(style) = word(cell, 0) {
                            found.insert((u32::from(row), column), style);
                        }
                    }
                }
            }
            _ => {}
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(kind: u16, data: &[u8]) -> Vec<u8> {
        let length = u16::try_from(data.len()).expect("short");
        [&kind.to_le_bytes()[..], &length.to_le_bytes()[..], data].concat()
    }

    fn words(words: &[u16]) -> Vec<u8> {
        words.iter().flat_map(|word| word.to_le_bytes()).collect()
    }

    /// A workbook with one worksheet of these records; the style 1 is `0.00%`, the
    /// style 2 is `# ?/?` spelt out.
    fn workbook(cells: &[u8]) -> Vec<u8> {
        let mut code = words(&[164, 5]);
        code.push(0);
        code.extend(b"# ?/?");
        let globals = |start: u32| {
            [
                record(0x0809, &words(&[VERSION, 5])),
                record(0x041E, &code),
                record(0x00E0, &words(&[0, 0])),
                record(0x00E0, &words(&[0, 10])),
                record(0x00E0, &words(&[0, 164])),
                record(0x0085, &start.to_le_bytes()),
                record(0x000A, &[]),
            ]
            .concat()
        };
        let start = u32::try_from(globals(0).len()).expect("short");
        [
            globals(start),
            record(0x0809, &words(&[VERSION, 16])),
            cells.to_vec(),
            record(0x000A, &[]),
        ]
        .concat()
    }

    #[test]
    fn numbers_of_every_record_have_their_format() {
        let number = [words(&[3, 1, 2]), vec![0; 8]].concat();
        let several = words(&[4, 2, 1, 0, 0, 0, 0, 0, 2, 0, 0, 4]);
        let chart = [
            record(0x0809, &words(&[VERSION, 32])),
            record(0x0203, &number),
            record(0x000A, &[]),
        ]
        .concat();
        let cells = [
            chart,
            record(0x0203, &number),
            record(0x00BD, &several),
            record(0x0006, &words(&[5, 0, 1])),
        ]
        .concat();
        let formats = read(&workbook(&cells)).expect("it holds together");
        let code = |row, column| formats.code(0, row, column);
        assert_eq!(code(3, 1), "# ?/?");
        assert_eq!([code(4, 2), code(4, 3), code(4, 4)], ["0.00%", "", "# ?/?"]);
        assert_eq!(code(5, 0), "0.00%");
        assert_eq!((code(9, 9), formats.code(7, 3, 1)), ("", ""));
    }

    #[test]
    fn a_stream_cut_off_anywhere_does_no_harm() {
        let whole = workbook(&record(0x0203, &words(&[0, 0, 1])));
        for length in 0..whole.len() {
            let cut = whole.get(..length).expect("shorter");
            let code = read(cut).map(|formats| formats.code(0, 0, 0).to_owned());
            assert!(matches!(code.as_deref(), None | Some("" | "0.00%")));
        }
        assert_eq!(Formats::of(b"no workbook").code(0, 0, 0), "");
    }
}
