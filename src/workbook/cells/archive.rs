//! The directory of a zip file, looked at before anything is unpacked.

use super::Fault;
use std::io::Cursor;
use std::io::Read;

/// What a zip file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Inside {
    /// An Office Open XML workbook.
    Xlsx,
    /// An Open Document spreadsheet.
    Ods,
}

/// The most bytes that one part may unpack to: a worksheet is read as it unpacks, and one
/// full of answers has 625 MB.
const MOST_PART_BYTES: u64 = 1024 * MEGABYTE;
/// The most bytes that all parts together may unpack to.
const MOST_ALL_BYTES: u64 = 2 * MOST_PART_BYTES;
const MEGABYTE: u64 = 1024 * 1024;
/// The most parts of a file.
const MOST_PARTS: usize = 10_000;
/// How many times its packed size a large part may unpack to.
const MOST_RATIO: u64 = 200;
/// Parts below this size are let through whatever their ratio.
const SMALL_PART_BYTES: u64 = MEGABYTE;
/// The most different texts that a workbook may announce.
const MOST_SHARED_TEXTS: u64 = 10_000_000;

/// A zip archive held in memory.
pub(super) type Archive<'a> = zip::ZipArchive<Cursor<&'a [u8]>>;

/// Returns the archive of a file that begins like a zip file.
pub(super) fn open(bytes: &[u8]) -> Result<Archive<'_>, Fault> {
    zip::ZipArchive::new(Cursor::new(bytes)).map_err(|error| damaged(&error))
}

/// Returns what kind of workbook a zip file holds, when it is one and safe to unpack.
pub(super) fn kind(bytes: &[u8]) -> Result<Inside, Fault> {
    let mut archive = open(bytes)?;
    if archive.len() > MOST_PARTS {
        return Err(Fault::TooLarge {
            what: format!("the file has {} parts", archive.len()),
            limit: format!("{MOST_PARTS} parts"),
        });
    }
    let mut names = Vec::new();
    let mut spelt = Vec::new();
    let mut total: u64 = 0;
    let mut blown_up = None;
    for index in 0..archive.len() {
        let part = archive
            .by_index_raw(index)
            .map_err(|error| damaged(&error))?;
        let as_spelt = part.name().map_err(|error| damaged(&error))?.to_string();
        let name = as_spelt.to_lowercase();
        if part.encrypted() {
            return Err(Fault::PasswordProtected);
        }
        total = total.saturating_add(part.size());
        let ratio = part.size() / part.compressed_size().max(1);
        if part.size() > MOST_PART_BYTES {
            return Err(Fault::TooLarge {
                what: format!("{name} unpacks to {} MB", part.size() / MEGABYTE),
                limit: format!("{} MB", MOST_PART_BYTES / MEGABYTE),
            });
        }
        if part.size() > SMALL_PART_BYTES && ratio > MOST_RATIO {
            blown_up.get_or_insert(Fault::TooLarge {
                what: format!("{name} unpacks to {ratio} times its size"),
                limit: format!("{MOST_RATIO} times"),
            });
        }
        names.push(name);
        spelt.push(as_spelt);
    }
    if total > MOST_ALL_BYTES {
        return Err(Fault::TooLarge {
            what: format!("its parts unpack to {} MB together", total / MEGABYTE),
            limit: format!("{} MB", MOST_ALL_BYTES / MEGABYTE),
        });
    }
    if let Some(fault) = blown_up {
        return Err(fault);
    }
    let has = |wanted: &str| names.iter().any(|name| name == wanted);
    let has_under = |folder: &str| names.iter().any(|name| name.starts_with(folder));
    if has("xl/workbook.xml") {
        no_document_type(&mut archive, &spelt)?;
        announced_texts(&mut archive)?;
        return Ok(Inside::Xlsx);
    }
    let kind_text = part_start(&mut archive, "mimetype", 128);
    if has("content.xml") && kind_text.contains("opendocument.spreadsheet") {
        let manifest = part_start(&mut archive, "META-INF/manifest.xml", 1024 * 1024);
        if manifest.contains("encryption-data") {
            return Err(Fault::PasswordProtected);
        }
        return Ok(Inside::Ods);
    }
    let seems = if has_under("word/") || kind_text.contains("opendocument.text") {
        "a word processor document"
    } else if has_under("ppt/") || kind_text.contains("opendocument.presentation") {
        "slides"
    } else if has("xl/workbook.bin") {
        "a binary workbook (xlsb)"
    } else if has("content.xml") || has("[content_types].xml") {
        "another office document"
    } else {
        "a zip file"
    };
    Err(Fault::WrongKind {
        seems: seems.to_owned(),
    })
}

/// Returns the fault for an error of a reader, which may quote the file at length.
pub(super) fn damaged(error: &dyn std::fmt::Display) -> Fault {
    Fault::Damaged {
        detail: error.to_string().chars().take(200).collect(),
    }
}

/// Refuses a workbook that announces absurdly many texts, for which a reader would make room.
fn announced_texts(archive: &mut Archive<'_>) -> Result<(), Fault> {
    let start = part_start(archive, "xl/sharedStrings.xml", 64 * 1024);
    let Some((_, element)) = start.split_once("<sst") else {
        return Ok(());
    };
    let (element, _) = element.split_once('>').unwrap_or((element, ""));
    // Beside it stands how often all of them are used: of two million answers that is much.
    for piece in element.split("uniqueCount").skip(1) {
        let digits: String = piece
            .chars()
            .skip_while(|sign| sign.is_whitespace() || matches!(sign, '=' | '"' | '\''))
            .take_while(char::is_ascii_digit)
            .collect();
        // More digits than fit are absurd too.
        if !digits.is_empty() && digits.parse().unwrap_or(u64::MAX) > MOST_SHARED_TEXTS {
            return Err(Fault::TooLarge {
                what: format!("the file announces {digits} texts"),
                limit: format!("{MOST_SHARED_TEXTS} texts"),
            });
        }
    }
    Ok(())
}

fn is_xml(name: &str) -> bool {
    let (_, ending) = name.rsplit_once('.').unwrap_or_default();
    ending.eq_ignore_ascii_case("xml") || ending.eq_ignore_ascii_case("rels")
}

/// Refuses a part that declares a document type, in which its words could be given other
/// meanings; no spreadsheet program writes one.
fn no_document_type(archive: &mut Archive<'_>, names: &[String]) -> Result<(), Fault> {
    for name in names.iter().filter(|name| is_xml(name)) {
        if part_start(archive, name, 4 * 1024).contains("<!DOCTYPE") {
            return Err(Fault::Damaged {
                detail: format!("{name} declares a document type"),
            });
        }
    }
    Ok(())
}

/// Returns the first bytes of a part as text, or an empty text when there is none.
fn part_start(archive: &mut Archive<'_>, name: &str, most: u64) -> String {
    let mut start = Vec::new();
    if let Ok(part) = archive.by_name(name) {
        // A part that breaks off is found by the reader that needs it.
        drop(part.take(most).read_to_end(&mut start));
    }
    String::from_utf8_lossy(&start).into_owned()
}
