//! Builds hostile spreadsheet files, small programs in the place of big files.

use std::fmt::Write as _;
use std::io::{Cursor, Write as _};

/// A zip file of these parts.
pub(crate) fn zipped(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default()
        .compression_method(zip::CompressionMethod::Deflated);
    for (name, content) in parts {
        writer.start_file(*name, options).expect("a part");
        writer.write_all(content).expect("in memory");
    }
    writer.finish().expect("a zip file").into_inner()
}

/// The parts of a workbook that a hostile one changes.
#[derive(Clone)]
pub(crate) struct Xlsx {
    /// The inside of the worksheet element.
    pub(crate) sheet: Vec<u8>,
    /// The whole part of shared texts.
    pub(crate) texts: Vec<u8>,
    /// The whole part of styles.
    pub(crate) styles: Vec<u8>,
    /// The beginning of the workbook part, before its root element.
    pub(crate) before: String,
    /// Further parts.
    pub(crate) more: Vec<(String, Vec<u8>)>,
}

impl Default for Xlsx {
    fn default() -> Self {
        Self {
            sheet: b"<sheetData><row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>x</t></is></c></row></sheetData>"
                .to_vec(),
            texts: format!("<sst {MAIN} count=\"1\" uniqueCount=\"1\"><si><t>x</t></si></sst>")
                .into_bytes(),
            styles: format!(
                "<styleSheet {MAIN}><cellXfs count=\"1\"><xf numFmtId=\"0\"/></cellXfs></styleSheet>"
            )
            .into_bytes(),
            before: String::new(),
            more: Vec::new(),
        }
    }
}

/// The name space of a workbook's parts.
pub(crate) const MAIN: &str = "xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"";
const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

impl Xlsx {
    /// The file.
    pub(crate) fn bytes(&self) -> Vec<u8> {
        let before = &self.before;
        let workbook = format!(
            "{before}<workbook {MAIN} xmlns:r=\"{OFFICE}\"><sheets>\
             <sheet name=\"Answers\" sheetId=\"1\" r:id=\"rId1\"/></sheets></workbook>"
        );
        let relations = format!(
            "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
             <Relationship Id=\"rId1\" Type=\"{OFFICE}/worksheet\" Target=\"worksheets/sheet1.xml\"/>\
             <Relationship Id=\"rId2\" Type=\"{OFFICE}/sharedStrings\" Target=\"sharedStrings.xml\"/>\
             <Relationship Id=\"rId3\" Type=\"{OFFICE}/styles\" Target=\"styles.xml\"/></Relationships>"
        );
        let root = format!(
            "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
             <Relationship Id=\"rId1\" Type=\"{OFFICE}/officeDocument\" Target=\"xl/workbook.xml\"/>\
             </Relationships>"
        );
        let sheet = [
            format!("<worksheet {MAIN}>").as_bytes(),
            &self.sheet,
            b"</worksheet>",
        ]
        .concat();
        let mut parts: Vec<(&str, &[u8])> = vec![
            ("[Content_Types].xml", b"<Types/>"),
            ("_rels/.rels", root.as_bytes()),
            ("xl/workbook.xml", workbook.as_bytes()),
            ("xl/_rels/workbook.xml.rels", relations.as_bytes()),
            ("xl/sharedStrings.xml", &self.texts),
            ("xl/styles.xml", &self.styles),
            ("xl/worksheets/sheet1.xml", &sheet),
        ];
        for (name, content) in &self.more {
            parts.push((name, content));
        }
        zipped(&parts)
    }

    /// A file whose worksheet has this inside.
    pub(crate) fn of_sheet(inside: impl AsRef<[u8]>) -> Vec<u8> {
        Self {
            sheet: inside.as_ref().to_vec(),
            ..Self::default()
        }
        .bytes()
    }

    /// A file with these shared texts.
    pub(crate) fn of_texts(texts: impl AsRef<[u8]>) -> Vec<u8> {
        Self {
            sheet: b"<sheetData><row r=\"1\"><c r=\"A1\" t=\"s\"><v>0</v></c></row></sheetData>"
                .to_vec(),
            texts: texts.as_ref().to_vec(),
            ..Self::default()
        }
        .bytes()
    }
}

/// An Open Document spreadsheet with one table of these rows, and more parts.
pub(crate) fn ods(before: &str, rows: &str, manifest: &str) -> Vec<u8> {
    let content = format!(
        "{before}<office:document-content \
         xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\">\
         <office:body><office:spreadsheet><table:table table:name=\"Answers\">{rows}\
         </table:table></office:spreadsheet></office:body></office:document-content>"
    );
    zipped(&[
        (
            "mimetype",
            b"application/vnd.oasis.opendocument.spreadsheet",
        ),
        ("META-INF/manifest.xml", manifest.as_bytes()),
        ("content.xml", content.as_bytes()),
    ])
}

/// A text of hexadecimal digits that does not pack, always the same.
pub(crate) fn noise(length: usize) -> String {
    let mut state: u64 = 0x9E37_79B9_7F4A_7C15;
    let mut digits = String::with_capacity(length + 16);
    while digits.len() < length {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        write!(digits, "{state:016x}").expect("a text takes everything");
    }
    digits.truncate(length);
    digits
}

/// A compound file with these streams.
pub(crate) fn compound(streams: &[(&str, &[u8])]) -> Vec<u8> {
    let mut file = {
        // As spreadsheet programs write them: sectors of 512 bytes.
        let version = cfb::Version::V3;
        cfb::CompoundFile::create_with_version(version, Cursor::new(Vec::new())).expect("in memory")
    };
    for (name, content) in streams {
        let mut stream = file.create_stream(name).expect("a stream");
        stream.write_all(content).expect("in memory");
    }
    file.flush().expect("in memory");
    file.into_inner().into_inner()
}

/// A record of the older binary workbooks.
pub(crate) fn record(kind: u16, data: &[u8]) -> Vec<u8> {
    let length = u16::try_from(data.len()).expect("a short record");
    [&kind.to_le_bytes()[..], &length.to_le_bytes()[..], data].concat()
}

/// Sixteen-bit numbers as they stand in a record.
pub(crate) fn words(words: &[u16]) -> Vec<u8> {
    words.iter().flat_map(|word| word.to_le_bytes()).collect()
}

/// An older binary workbook with one worksheet of these records, after these global ones.
pub(crate) fn xls(globals: &[u8], cells: &[u8]) -> Vec<u8> {
    let head = |start: u32| {
        let mut sheet = start.to_le_bytes().to_vec();
        sheet.extend([0, 0, 7, 0]);
        sheet.extend(b"Answers");
        [
            record(0x0809, &words(&[0x0600, 5, 0, 0])),
            globals.to_vec(),
            record(0x0085, &sheet),
            record(0x000A, &[]),
        ]
        .concat()
    };
    let start = u32::try_from(head(0).len()).expect("short");
    let mut stream = [
        head(start),
        record(0x0809, &words(&[0x0600, 16, 0, 0])),
        cells.to_vec(),
        record(0x000A, &[]),
    ]
    .concat();
    // Short streams stand elsewhere in the file; a workbook is none.
    stream.resize(stream.len().max(5_000), 0);
    compound(&[("/Workbook", &stream)])
}
