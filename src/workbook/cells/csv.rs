//! Text with delimiters: encodings and delimiters as found in schools.

use super::Book;
use super::Cell;
use super::Content;
use super::Fault;
use super::Kind;
use super::Rows;
use super::gather::Gatherer;
use super::gather::Tally;
use crate::marking::table;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The delimiters tried, in this order.
const DELIMITERS: [u8; 4] = [b',', b';', b'\t', b'|'];
/// How many lines are looked at to choose a delimiter.
const LINES_TRIED: usize = 200;

/// Returns the one worksheet of a csv file.
pub(super) fn read(bytes: &[u8], rows: Rows) -> Result<Book, Fault> {
    let text = decode(bytes)?;
    let (announced, body) = announced_delimiter(&text);
    let delimiter = announced.unwrap_or_else(|| likeliest_delimiter(body));
    let lines_before = u64::from(announced.is_some());
    let mut tally = Tally::new(rows);
    let mut gatherer = Gatherer::new("", true, &mut tally);
    for record in reader(delimiter, body).into_records() {
        let record = record.map_err(|error| super::archive::damaged(&error))?;
        let line = line_of(&record, body).saturating_add(lines_before);
        let row = u32::try_from(line.saturating_sub(1)).unwrap_or(u32::MAX);
        for (column, field) in record.iter().enumerate() {
            if field.len() > super::MOST_CHARACTERS && field.contains('\n') {
                return Err(Fault::Damaged {
                    detail: format!("a quotation mark opened in line {line} is not closed"),
                });
            }
            let column = u32::try_from(column).unwrap_or(u32::MAX);
            let content = Content::Text(without_guard(field).to_owned());
            gatherer.put(row, column, Cell::plain(content))?;
        }
    }
    Ok(Book {
        kind: Kind::Csv,
        grids: vec![gatherer.finish()],
    })
}

fn reader(delimiter: u8, body: &str) -> csv::Reader<&[u8]> {
    csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .has_headers(false)
        .flexible(true)
        .from_reader(body.as_bytes())
}

/// Returns the line, counted from 1, in which a record begins.
///
/// The reader's own position is that of the empty lines it passed over before.
fn line_of(record: &csv::StringRecord, body: &str) -> u64 {
    let Some(position) = record.position() else {
        return 1;
    };
    let start = usize::try_from(position.byte()).unwrap_or(usize::MAX);
    let empty = body
        .get(start..)
        .unwrap_or_default()
        .chars()
        .take_while(|sign| matches!(sign, '\r' | '\n'))
        .filter(|sign| *sign == '\n')
        .count();
    position
        .line()
        .saturating_add(u64::try_from(empty).unwrap_or(0))
}

/// Returns the text of the file: by its mark, else UTF-8, else UTF-16, else Windows-1252.
fn decode(bytes: &[u8]) -> Result<Cow<'_, str>, Fault> {
    if let Some((encoding, mark)) = encoding_rs::Encoding::for_bom(bytes) {
        let (_, body) = bytes.split_at(mark);
        return Ok(encoding.decode_without_bom_handling(body).0);
    }
    if let Ok(text) = std::str::from_utf8(bytes)
        && !text.contains('\0')
    {
        return Ok(Cow::Borrowed(text));
    }
    let zeros = |first: usize| {
        bytes
            .iter()
            .skip(first)
            .step_by(2)
            .filter(|b| **b == 0)
            .count()
    };
    let (even, odd) = (zeros(0), zeros(1));
    let most = bytes.len() / 4;
    if odd > most && odd > even {
        return Ok(encoding_rs::UTF_16LE.decode_without_bom_handling(bytes).0);
    }
    if even > most && even > odd {
        return Ok(encoding_rs::UTF_16BE.decode_without_bom_handling(bytes).0);
    }
    if even + odd > 0 {
        return Err(Fault::WrongKind {
            seems: "a file of another program".to_owned(),
        });
    }
    Ok(encoding_rs::WINDOWS_1252
        .decode_without_bom_handling(bytes)
        .0)
}

/// Returns the delimiter that a first line `sep=;` announces, and the text after that line.
fn announced_delimiter(text: &str) -> (Option<u8>, &str) {
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    let announced = first
        .trim_end_matches('\r')
        .trim_matches('"')
        .to_ascii_lowercase()
        .strip_prefix("sep=")
        .and_then(|delimiter| match delimiter.as_bytes() {
            [one] if one.is_ascii() => Some(*one),
            _ => None,
        });
    if announced.is_some() {
        (announced, rest)
    } else {
        (None, text)
    }
}

/// Returns the delimiter whose numbers of fields agree most from line to line.
fn likeliest_delimiter(body: &str) -> u8 {
    let mut best = (0, 0, b',');
    for delimiter in DELIMITERS {
        let mut widths: BTreeMap<usize, usize> = BTreeMap::new();
        for record in reader(delimiter, body).into_records().take(LINES_TRIED) {
            let width = record.map_or(1, |record| record.len());
            if width > 1 {
                *widths.entry(width).or_default() += 1;
            }
        }
        let agreeing = widths
            .into_iter()
            .map(|(width, lines)| (lines, width, delimiter))
            .max()
            .unwrap_or((0, 0, delimiter));
        if (agreeing.0, agreeing.1) > (best.0, best.1) {
            best = agreeing;
        }
    }
    best.2
}

/// Returns a field without the apostrophe that guards a text which a spreadsheet would run.
fn without_guard(field: &str) -> &str {
    match field.strip_prefix('\'') {
        Some(rest) if table::may_run(rest) => rest,
        Some(_) | None => field,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The fields of each line.
    fn fields(bytes: &[u8]) -> Vec<Vec<String>> {
        let book = read(bytes, Rows::All).expect("a csv file");
        book.grids
            .iter()
            .flat_map(|grid| grid.rows.values())
            .map(|row| {
                row.values()
                    .map(|cell| match &cell.content {
                        Content::Text(text) => text.clone(),
                        Content::Number(_)
                        | Content::Time { .. }
                        | Content::Date { .. }
                        | Content::Truth(_)
                        | Content::Fault(_)
                        | Content::Uncalculated => "no text".to_owned(),
                    })
                    .collect()
            })
            .collect()
    }

    #[test]
    fn every_encoding_found_in_schools_is_read() {
        let wanted = vec![vec!["id".to_owned(), "½ £".to_owned()]];
        let utf16: Vec<u8> = "id,½ £\n"
            .encode_utf16()
            .flat_map(u16::to_le_bytes)
            .collect();
        let utf16_big: Vec<u8> = "id,½ £\n"
            .encode_utf16()
            .flat_map(u16::to_be_bytes)
            .collect();
        let mut marked = vec![0xFF, 0xFE];
        marked.extend(&utf16);
        let cases: [&[u8]; 6] = [
            "id,½ £\n".as_bytes(),
            "\u{feff}id,½ £\r\n".as_bytes(),
            b"id,\xBD \xA3\n",
            &utf16,
            &utf16_big,
            &marked,
        ];
        for bytes in cases {
            assert_eq!(fields(bytes), wanted, "{bytes:?}");
        }
    }

    #[test]
    fn the_delimiter_is_the_one_that_agrees() {
        let wanted = vec![
            vec!["id".to_owned(), "Q1".to_owned(), "Q2".to_owned()],
            vec!["P1".to_owned(), "2,5".to_owned(), "3".to_owned()],
            vec!["P2".to_owned(), "1,5".to_owned(), "7".to_owned()],
        ];
        for text in [
            "id;Q1;Q2\nP1;2,5;3\nP2;1,5;7\n",
            "id\tQ1\tQ2\nP1\t2,5\t3\nP2\t1,5\t7\n",
            "id|Q1|Q2\nP1|2,5|3\nP2|1,5|7\n",
            "id,Q1,Q2\nP1,\"2,5\",3\nP2,\"1,5\",7\n",
            "sep=;\nid;Q1;Q2\nP1;2,5;3\nP2;1,5;7\n",
            "\"sep=;\"\r\nid;Q1;Q2\r\nP1;2,5;3\r\nP2;1,5;7\r\n",
        ] {
            assert_eq!(fields(text.as_bytes()), wanted, "{text}");
        }
    }

    #[test]
    fn a_guarding_apostrophe_is_undone_and_no_other() {
        assert_eq!(
            fields(b"'=60/3,'tis,'-3,'\n"),
            vec![vec!["=60/3", "'tis", "-3", "'"]]
        );
    }

    #[test]
    fn rows_are_counted_by_line_so_that_places_are_right() {
        let book = read(b"sep=,\nid,Q1\n\nP1,3\n", Rows::All).expect("a csv file");
        let grid = book.grids.first().expect("one grid");
        assert_eq!(grid.rows.keys().copied().collect::<Vec<_>>(), vec![1, 3]);
        assert_eq!(grid.place(3, 1), "B4");
    }

    #[test]
    fn an_open_quotation_mark_is_told_with_its_line() {
        let text = format!("id,Q1\nP1,\"3\n{}", "P2,4\n".repeat(20_000));
        let fault = read(text.as_bytes(), Rows::All).expect_err("an open quotation mark");
        assert!(fault.to_string().contains("opened in line 2"), "{fault}");
    }
}
