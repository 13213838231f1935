//! Files good, odd and hostile, as plain cells.

use super::*;

#[test]
fn numbers_are_written_as_a_spreadsheet_keeps_them() {
    let cases = [
        (20.0, "20"),
        (2.5, "2.5"),
        (-3.0, "-3"),
        (0.0, "0"),
        (0.332_999_999_999_999_96, "0.333"),
        (0.1, "0.1"),
        (1200.0, "1200"),
        (0.000_05, "0.00005"),
        (123_456.789, "123456.789"),
        (1e15, "1000000000000000"),
        (1e30, "1E30"),
        (7.0 / 3.0, "2.33333333333333"),
    ];
    for (value, text) in cases {
        assert_eq!(number_text(value), text);
    }
}

#[test]
fn columns_are_lettered_as_in_a_spreadsheet() {
    for (column, letters) in [(0, "A"), (25, "Z"), (26, "AA"), (701, "ZZ"), (702, "AAA")] {
        assert_eq!(column_letters(column), letters);
    }
}

#[test]
fn iso_texts_become_times_and_dates() {
    let time = |milliseconds| Content::Time { milliseconds };
    assert_eq!(iso("PT03H01M00S"), time(10_860_000));
    assert_eq!(iso("PT30H10M00S"), time(108_600_000));
    assert_eq!(iso("PT00H01M02.5S"), time(62_500));
    assert_eq!(iso("-PT03H01M00S"), time(-10_860_000));
    assert_eq!(
        iso("2026-03-01"),
        Content::Date {
            year: 2026,
            month: 3,
            day: 1
        }
    );
    assert_eq!(
        iso("2026-03-01T00:00:00"),
        Content::Date {
            year: 2026,
            month: 3,
            day: 1
        }
    );
    assert_eq!(iso("PT3X"), Content::Text("PT3X".to_owned()));
}

#[test]
fn other_files_are_named_for_what_they_are() {
    let told = |bytes: &[u8]| read(bytes).expect_err("no spreadsheet").to_string();
    assert_eq!(told(b""), "the file is empty");
    assert_eq!(told(b" \r\n"), "the file is empty");
    assert_eq!(
        told(b"%PDF-1.7 ..."),
        "found a PDF file, looked for a spreadsheet"
    );
    assert_eq!(
        told(b"<!DOCTYPE html><p>"),
        "found a web page, looked for a spreadsheet"
    );
    assert!(told(b"PK\x03\x04 cut off").starts_with("the file is damaged"));
    assert!(told(&[0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, 0]).contains("damaged"));
}

/// A zip file with these parts.
fn zipped(parts: &[(&str, &str)]) -> Vec<u8> {
    let mut writer = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    for (name, text) in parts {
        let options = zip::write::SimpleFileOptions::default();
        writer.start_file(*name, options).expect("a new part");
        std::io::Write::write_all(&mut writer, text.as_bytes()).expect("memory");
    }
    writer.finish().expect("memory").into_inner()
}

/// An ods file with this content of its one worksheet.
fn ods_with(table: &str) -> Vec<u8> {
    let content = format!(
        "<office:document-content xmlns:office=\"o\" xmlns:table=\"t\" xmlns:text=\"x\">\
         <office:body><office:spreadsheet><table:table table:name=\"S\">{table}"
    );
    zipped(&[
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("META-INF/manifest.xml", "<manifest:manifest/>"),
        ("content.xml", &content),
    ])
}

const ODS_END: &str = "</table:table></office:spreadsheet></office:body></office:document-content>";

fn told(bytes: &[u8]) -> String {
    read(bytes).expect_err("a fault").to_string()
}

#[test]
fn zip_files_of_other_programs_are_named() {
    assert_eq!(
        told(&zipped(&[
            ("[Content_Types].xml", ""),
            ("word/document.xml", "")
        ])),
        "found a word processor document, looked for a spreadsheet"
    );
    assert_eq!(
        told(&zipped(&[("notes.txt", "")])),
        "found a zip file, looked for a spreadsheet"
    );
    assert_eq!(
        told(&zipped(&[("xl/workbook.bin", "")])),
        "found a binary workbook (xlsb), looked for a spreadsheet"
    );
}

#[test]
fn a_protected_file_is_told_as_such() {
    let mut bytes = vec![0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];
    bytes.extend(
        "EncryptedPackage\0"
            .encode_utf16()
            .flat_map(u16::to_le_bytes),
    );
    assert_eq!(told(&bytes), "the file is protected with a password");
    let ods = zipped(&[
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("META-INF/manifest.xml", "<manifest:encryption-data/>"),
        ("content.xml", "x"),
    ]);
    assert_eq!(told(&ods), "the file is protected with a password");
}

#[test]
fn a_part_that_unpacks_to_very_much_is_refused_before_it_is_unpacked() {
    let zeros = "0".repeat(4 * 1024 * 1024);
    let bytes = zipped(&[("xl/workbook.xml", &zeros)]);
    assert!(
        told(&bytes).starts_with("xl/workbook.xml unpacks to"),
        "{}",
        told(&bytes)
    );
    let texts = "<sst uniqueCount=\"99999999999\">";
    let bytes = zipped(&[("xl/workbook.xml", ""), ("xl/sharedStrings.xml", texts)]);
    assert!(told(&bytes).starts_with("the file announces"));
}

#[test]
fn a_cell_beyond_the_limits_is_told_with_its_place() {
    let mut workbook = rust_xlsxwriter::Workbook::new();
    let worksheet = workbook.add_worksheet();
    worksheet
        .write_string(1_048_575, 16_383, "far away")
        .expect("the last cell");
    let bytes = workbook.save_to_buffer().expect("a workbook");
    assert_eq!(
        told(&bytes),
        "cell Sheet1!XFD1048576 holds something, more than the limit of 200000 rows"
    );
    let row = "<table:table-row table:number-rows-repeated=\"90000000\">\
               <table:table-cell office:value-type=\"string\"><text:p>x</text:p>\
               </table:table-cell></table:table-row>";
    assert_eq!(
        told(&ods_with(&format!("{row}{ODS_END}"))),
        "cell S!A200001 holds something, more than the limit of 200000 rows"
    );
    let row = row.replace("number-rows-repeated", "x").replace(
        "office:value-type",
        "table:number-columns-repeated=\"90000000\" office:value-type",
    );
    assert_eq!(
        told(&ods_with(&format!("{row}{ODS_END}"))),
        "cell S!BXY1 holds something, more than the limit of 2000 columns"
    );
}

#[test]
fn an_ods_file_that_breaks_off_is_damaged_and_not_endless() {
    let row = "<table:table-row><table:table-cell>";
    assert!(told(&ods_with(row)).starts_with("the file is damaged"));
    assert!(told(&ods_with("")).starts_with("the file is damaged"));
}

#[test]
fn an_ods_cell_keeps_spaces_paragraphs_and_what_is_on_the_screen() {
    let rows = "<table:table-row table:number-rows-repeated=\"2\"/>\
                <table:table-row><table:table-cell table:number-columns-repeated=\"2\"/>\
                <table:table-cell office:value-type=\"string\">\
                <office:annotation><text:p>a note</text:p></office:annotation>\
                <text:p>a<text:s text:c=\"2\"/>b &amp; &#189;</text:p><text:p>c</text:p></table:table-cell>\
                <table:table-cell office:value-type=\"float\" office:value=\"2.5\">\
                <text:p>2 1/2</text:p></table:table-cell></table:table-row>";
    let book = read(&ods_with(&format!("{rows}{ODS_END}"))).expect("a good file");
    let grid = book.grids.first().expect("one worksheet");
    assert_eq!(
        grid.cell(2, 2).map(|cell| &cell.content),
        Some(&Content::Text("a  b & ½\nc".to_owned()))
    );
    let number = grid.cell(2, 3).expect("a number");
    assert_eq!(number.content, Content::Number("2.5".to_owned()));
    assert_eq!(number.shown(), "2 1/2");
}

#[test]
fn a_formula_that_was_never_calculated_is_told_apart() {
    let mut workbook = rust_xlsxwriter::Workbook::new();
    let worksheet = workbook.add_worksheet();
    worksheet.write_formula(0, 0, "=60/3").expect("a formula");
    let bytes = workbook.save_to_buffer().expect("a workbook");
    let book = read(&bytes).expect("our own workbook");
    let cell = book
        .grids
        .first()
        .and_then(|grid| grid.cell(0, 0))
        .expect("a cell");
    assert_eq!(cell.content, Content::Uncalculated);
    assert_eq!(cell.formula(), "60/3");
}
