//! Hostile files through the program: each is refused with a message and exit code 1,
//! within bounds of time and memory, and leaves nothing behind.

mod build;
mod files;
mod written;

use crate::program::{Bounds, Program};
use build::{MAIN, Xlsx, noise, ods, record, words, xls, zipped};
use std::fs;

/// Seconds for the whole run in a build without optimisation on a busy computer, and
/// address space for each of its processes: the cap on the reading one is 1,536 MB.
pub(crate) const BOUNDS: Bounds = Bounds {
    seconds: 150,
    megabytes: 4_096,
};

/// A hostile file of answers: its name, what is in it, and a part of the message.
struct Case {
    name: &'static str,
    bytes: Vec<u8>,
    says: &'static str,
}

fn case(name: &'static str, bytes: Vec<u8>, says: &'static str) -> Case {
    Case { name, bytes, says }
}

/// Runs `mark` on each file of answers, and checks what holds for every refusal.
fn refused(cases: &[Case]) {
    let sample = crate::program::root().join("sample-classes/6-alder/homework.json");
    let record = fs::read(sample).expect("the sample is there");
    let mut wrong = Vec::new();
    for case in cases {
        let program = Program::new()
            .file(case.name, &case.bytes)
            .file("homework.json", &record)
            .arguments(["mark", case.name, "--out", "out"]);
        let before = program.everything();
        let run = program.run_within(BOUNDS);
        let is_refused = run.code == 1
            && run.stdout.is_empty()
            && run.stderr.starts_with(&format!("problem: {}", case.name))
            && run.stderr.contains(case.says)
            && run.stderr.len() < 20_000
            && !run.stderr.contains("panicked")
            && program.everything() == before;
        if !is_refused {
            wrong.push(format!("{}: wanted {:?}: {run:?}", case.name, case.says));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

const BILLION_LAUGHS: &str = "<!DOCTYPE lolz [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">\
     <!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;\"><!ENTITY d \"&c;&c;&c;&c;&c;&c;&c;&c;\">]>";
const OUTSIDE: &str = "<!DOCTYPE x [<!ENTITY a SYSTEM \"file:///etc/passwd\">]>";

/// What is asked of a file that is no more than empty of answers.
const NO_HEADINGS: &str = "no worksheet has";

#[test]
fn hostile_zip_files_are_refused_with_the_limit() {
    let zeros = vec![b'0'; 4 * 1024 * 1024];
    let many: Vec<(String, Vec<u8>)> = (0..70_000)
        .map(|index| (format!("xl/{index}"), Vec::new()))
        .collect();
    let many = Xlsx {
        more: many,
        ..Xlsx::default()
    };
    // The directory says that the part is small and it is not, or the other way round.
    let inside = [&zeros[..], &zeros[..4_321]].concat();
    let lying = |names: &[&str], told: u32| {
        let parts: Vec<(&str, &[u8])> = names.iter().map(|name| (*name, &inside[..])).collect();
        let mut file = zipped(&parts);
        let size = u32::try_from(inside.len()).expect("small").to_le_bytes();
        let places: Vec<usize> = file
            .windows(4)
            .enumerate()
            .filter(|(_, four)| *four == size)
            .map(|(place, _)| place)
            .collect();
        assert_eq!(
            places.len(),
            2 * names.len(),
            "the size stands before the part and in the directory"
        );
        for place in places {
            file[place..place + 4].copy_from_slice(&told.to_le_bytes());
        }
        file
    };
    let nested = zipped(&[(
        "inner.zip",
        &zipped(&[("inner.zip", &zipped(&[("a", b"x")]))]),
    )]);
    let whole = Xlsx::default().bytes();
    let cut = |share: usize| whole[..whole.len() * share / 10].to_vec();
    refused(&[
        case(
            "bomb.xlsx",
            Xlsx::of_sheet(&zeros),
            "times its size, more than the limit of 200 times",
        ),
        case(
            "large.xlsx",
            lying(&["xl/workbook.xml"], 1_030 * 1024 * 1024),
            "unpacks to 1030 MB, more than the limit of 1024 MB",
        ),
        case(
            "together.xlsx",
            lying(&["xl/workbook.xml", "a", "b"], 700 * 1024 * 1024),
            "its parts unpack to 2100 MB together, more than the limit of 2048 MB",
        ),
        case(
            "parts.xlsx",
            many.bytes(),
            "more than the limit of 10000 parts",
        ),
        case("lying.xlsx", lying(&["xl/workbook.xml"], 100), "damaged"),
        case("nested.xlsx", nested, "found a zip file"),
        case("cut.xlsx", cut(9), "damaged"),
        case("shorter.xlsx", cut(3), "damaged"),
        case("mark.xlsx", b"PK\x03\x04".to_vec(), "damaged"),
        case(
            "noise.xlsx",
            [b"PK\x03\x04", noise(100_000).as_bytes()].concat(),
            "damaged",
        ),
    ]);
}

#[allow(clippy::too_many_lines, reason = "a list of cases")]
#[test]
fn hostile_workbooks_are_refused_with_the_limit() {
    let cell = |place: &str| {
        format!(
            "<sheetData><row><c r=\"{place}\" t=\"inlineStr\"><is><t>x</t></is></c></row></sheetData>"
        )
    };
    let text = |text: &str| {
        format!(
            "<sheetData><row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>{text}</t></is></c></row></sheetData>"
        )
    };
    let styles = Xlsx {
        styles: format!(
            "<styleSheet {MAIN}><!--{}--><cellXfs count=\"1\">{}</cellXfs></styleSheet>",
            noise(400_000),
            "<xf/>".repeat(1_000_000)
        )
        .into_bytes(),
        ..Xlsx::default()
    };
    let laughing = Xlsx {
        before: BILLION_LAUGHS.to_owned(),
        ..Xlsx::default()
    };
    // One long text, shown in very many cells.
    let long = noise(32_000);
    let repeated: String = (1..=20_000)
        .map(|row| format!("<row r=\"{row}\"><c r=\"A{row}\" t=\"s\"><v>0</v></c></row>"))
        .collect::<Vec<String>>()
        .concat();
    let repeated = Xlsx {
        sheet: format!("<sheetData>{repeated}</sheetData>").into_bytes(),
        texts: format!("<sst {MAIN} count=\"1\" uniqueCount=\"1\"><si><t>{long}</t></si></sst>")
            .into_bytes(),
        ..Xlsx::default()
    };
    let announced =
        format!("<sst {MAIN} count=\"9\" uniqueCount=\"99999999999\"><si><t>x</t></si></sst>");
    let announced_oddly = format!(
        "<!--{}--><sst {MAIN} uniqueCount = \n \"99999999999\"><si><t>x</t></si></sst>",
        noise(70_000)
    );
    let deep = format!("<!--{}-->{}", noise(60_000), "<a>".repeat(1_000_000));
    refused(&[
        case(
            "declared.xlsx",
            Xlsx::of_sheet("<dimension ref=\"A1:XFD1048576\"/><sheetData/>"),
            NO_HEADINGS,
        ),
        case(
            "far.xlsx",
            Xlsx::of_sheet(cell("XFD1048576")),
            "cell Answers!XFD1048576 holds something, more than the limit of 200000 rows",
        ),
        // More letters than the reading library can count: it panics, in its own process.
        case(
            "letters.xlsx",
            Xlsx::of_sheet(cell("MIIIIIIIIIIIIIII1")),
            "the file is damaged",
        ),
        case(
            "wide.xlsx",
            Xlsx::of_sheet(cell("XFD1")),
            "more than the limit of 2000 columns",
        ),
        case(
            "beyond.xlsx",
            Xlsx::of_sheet(cell("ZZZZZZZ99999999999")),
            "damaged",
        ),
        case(
            "long.xlsx",
            Xlsx::of_sheet(text(&"x".repeat(32_768))),
            "cell Answers!A1 holds a long text, more than the limit of 32767 characters in a cell",
        ),
        case(
            "longest.xlsx",
            Xlsx::of_sheet(text(&"x".repeat(32_767))),
            NO_HEADINGS,
        ),
        case(
            "texts.xlsx",
            Xlsx::of_texts(announced),
            "announces 99999999999 texts, more than the limit of 10000000 texts",
        ),
        case(
            "odd-texts.xlsx",
            Xlsx::of_texts(announced_oddly),
            "more than the limit of",
        ),
        case("styles.xlsx", styles.bytes(), NO_HEADINGS),
        case(
            "repeated.xlsx",
            repeated.bytes(),
            "very much text, more than the limit of 256 MB of text",
        ),
        case("laughs.xlsx", laughing.bytes(), "declares a document type"),
        case(
            "laughs-in-texts.xlsx",
            Xlsx::of_texts(format!(
                "{BILLION_LAUGHS}<sst {MAIN}><si><t>&d;</t></si></sst>"
            )),
            "declares a document type",
        ),
        case(
            "outside.xlsx",
            Xlsx::of_texts(format!("{OUTSIDE}<sst {MAIN}><si><t>&a;</t></si></sst>")),
            "declares a document type",
        ),
        case("deep.xlsx", Xlsx::of_sheet(&deep), "damaged"),
        case("deep-texts.xlsx", Xlsx::of_texts(&deep), "damaged"),
        case(
            "broken.xlsx",
            Xlsx::of_sheet("<sheetData><row><c r=\"A1\""),
            "damaged",
        ),
        case(
            "crossed.xlsx",
            Xlsx::of_sheet("<sheetData><row></sheetData></row>"),
            NO_HEADINGS,
        ),
        case(
            "bytes.xlsx",
            Xlsx::of_sheet(b"<sheetData>\xFF\xFE\0</sheetData>"),
            "damaged",
        ),
        case(
            "no-text.xlsx",
            Xlsx::of_sheet(
                "<sheetData><row><c r=\"A1\" t=\"s\"><v>99999999</v></c></row></sheetData>",
            ),
            "damaged",
        ),
    ]);
}

#[test]
fn hostile_open_documents_are_refused_with_the_limit() {
    let cell =
        "<table:table-cell office:value-type=\"string\"><text:p>x</text:p></table:table-cell>";
    let row = |row: &str, cell: &str| format!("<table:table-row {row}>{cell}</table:table-row>");
    let wide = cell.replace(
        "<table:table-cell",
        "<table:table-cell table:number-columns-repeated=\"4000000000\"",
    );
    let nothing = "<table:table-cell table:number-columns-repeated=\"4000000000\"/>";
    let billions = "table:number-rows-repeated=\"4000000000\"";
    let spaces = "<text:s text:c=\"4000000000\"/>".repeat(20_000);
    let spaces = format!(
        "<table:table-cell office:value-type=\"string\"><text:p>{spaces}</text:p></table:table-cell>"
    );
    let deep = format!("<!--{}-->{}", noise(60_000), "<a>".repeat(1_000_000));
    let encrypted = "<manifest:manifest><manifest:file-entry><manifest:encryption-data/></manifest:file-entry></manifest:manifest>";
    let text = |text: &str| row("", &cell.replace('x', text));
    refused(&[
        case(
            "tall.ods",
            ods("", &row(billions, cell), ""),
            "more than the limit of 200000 rows",
        ),
        case(
            "wide.ods",
            ods("", &row("", &wide), ""),
            "more than the limit of 2000 columns",
        ),
        case(
            "huge.ods",
            ods("", &row(billions, &wide), ""),
            "more than the limit of 2000 columns",
        ),
        case(
            "nothing.ods",
            ods("", &row(billions, nothing).repeat(1_000), ""),
            NO_HEADINGS,
        ),
        case(
            "spaces.ods",
            ods("", &row("", &spaces), ""),
            "more than the limit of 32767 characters in a cell",
        ),
        case(
            "protected.ods",
            ods("", "", encrypted),
            "protected with a password",
        ),
        case(
            "laughs.ods",
            ods(BILLION_LAUGHS, &text("&d;"), ""),
            "declares a document type",
        ),
        case(
            "outside.ods",
            ods(OUTSIDE, &text("&a;"), ""),
            "declares a document type",
        ),
        case(
            "cut.ods",
            ods("", "<table:table-row><table:table-cell>", ""),
            "damaged",
        ),
        case("deep.ods", ods("", &deep, ""), "damaged"),
        case(
            "number.ods",
            ods(
                "",
                &text("x").replace("\"string\"", "\"float\" office:value=\"1e99999x\""),
                "",
            ),
            "damaged",
        ),
    ]);
}

#[test]
fn hostile_binary_workbooks_are_refused() {
    let good = xls(&[], &[]);
    let with = |place: usize, bytes: &[u8]| {
        let mut file = good.clone();
        file[place..place + bytes.len()].copy_from_slice(bytes);
        file
    };
    let dimensions = |first: u32, last: u32, left: u16, right: u16| {
        let data = [
            first.to_le_bytes().to_vec(),
            last.to_le_bytes().to_vec(),
            words(&[left, right, 0]),
        ]
        .concat();
        xls(&[], &record(0x0200, &data))
    };
    // Texts by the million, announced and not there.
    let texts = record(
        0x00FC,
        &[0xFF, 0xFF, 0xFF, 0x7F, 0xFF, 0xFF, 0xFF, 0x7F, 0, 0],
    );
    let label = record(0x00FD, &[words(&[0, 0, 0]), vec![0xFF; 4]].concat());
    let formula = |tokens: &[u8]| {
        let length = u16::try_from(tokens.len()).expect("short");
        let head = [
            words(&[0, 0, 0]),
            vec![0; 8],
            words(&[0, 0, 0]),
            words(&[length]),
        ]
        .concat();
        xls(&[], &record(0x0006, &[head, tokens.to_vec()].concat()))
    };
    let encrypted = build::compound(&[
        ("/EncryptionInfo", &[4, 0, 4, 0]),
        ("/EncryptedPackage", &[0; 9_000]),
    ]);
    // The first sector that follows the header holds which sector follows which: all lead back.
    let looped = {
        let mut file = good.clone();
        let version: usize = if file[26] == 4 { 4096 } else { 512 };
        let table = u32::from_le_bytes(file[76..80].try_into().expect("four"));
        let start = version * (usize::try_from(table).expect("small") + 1);
        for entry in file[start..start + 512].chunks_exact_mut(4).skip(2) {
            entry.copy_from_slice(&3_u32.to_le_bytes());
        }
        file
    };
    refused(&[
        case("protected.xlsx", encrypted, "protected with a password"),
        case(
            "locked.xls",
            xls(&record(0x002F, &words(&[1, 1, 1])), &[]),
            "protected with a password",
        ),
        case("mark.xls", good[..512].to_vec(), "damaged"),
        case("cut.xls", good[..good.len() / 2].to_vec(), "damaged"),
        case("shift.xls", with(30, &[0xFF, 0xFF]), "damaged"),
        case("folder.xls", with(48, &[0xF0, 0xFF, 0xFF, 0x7F]), "damaged"),
        case("looped.xls", looped, NO_HEADINGS),
        case("reversed.xls", dimensions(u32::MAX, 0, 9, 3), NO_HEADINGS),
        case(
            "huge.xls",
            dimensions(0, u32::MAX, 0, u16::MAX),
            "memory, more than the limit of 1536 MB of memory",
        ),
        case("texts.xls", xls(&texts, &label), "damaged"),
        case("formula.xls", formula(&[0x41; 8_000]), NO_HEADINGS),
        case(
            "unary.xls",
            formula(&[&[0x1E, 1, 0][..], &[0x12; 8_000]].concat()),
            "no worksheet",
        ),
        case(
            "letters.xls",
            build::compound(&[("/WordDocument", &[0; 9_000])]),
            "found a word processor document",
        ),
    ]);
}

#[test]
fn hostile_csv_files_are_refused_with_the_limit() {
    let open = format!("id,Q1\nP1,\"3\n{}", "P2,4\n".repeat(200_000));
    let columns = ",".repeat(3_000_000) + "x";
    let rows = "\n".repeat(1_000_000) + "x\n";
    let zeros = [vec![0; 1_000_000], b"id,Q1\n".to_vec()].concat();
    refused(&[
        case(
            "line.csv",
            vec![b'x'; 20_000_000],
            "more than the limit of 32767 characters in a cell",
        ),
        case(
            "columns.csv",
            columns.into_bytes(),
            "more than the limit of 2000 columns",
        ),
        case(
            "rows.csv",
            rows.into_bytes(),
            "more than the limit of 200000 rows",
        ),
        case(
            "quotation.csv",
            open.into_bytes(),
            "a quotation mark opened in line 2 is not closed",
        ),
        case("zeros.csv", zeros, "looked for a spreadsheet"),
        case(
            "one-zero.csv",
            b"Pupil ID,Q1\nP1,\0\n".to_vec(),
            "looked for a spreadsheet",
        ),
        case(
            "picture.xlsx",
            b"\x89PNG\r\n\x1a\n".to_vec(),
            "found a picture",
        ),
        case("pdf.ods", b"%PDF-1.7\n".to_vec(), "found a PDF file"),
        case(
            "page.xls",
            b"<html><table></table></html>".to_vec(),
            "found a web page",
        ),
        case("empty.xlsx", Vec::new(), "the file is empty"),
        case(
            "plain.xlsx",
            b"\x01toothmark cells 1\n\0\0\xFF\xFF\xFF\xFF".to_vec(),
            "damaged",
        ),
    ]);
}

#[test]
fn a_file_beyond_the_limit_of_bytes_is_refused_unread() {
    let program = Program::new()
        .file("homework.json", "")
        .arguments(["set", "--bank", "a.toml", "--roll", "roll.csv"])
        .arguments(["--level", "1", "--questions", "1", "--out", "out"]);
    for (name, megabytes) in [("roll.csv", 201), ("a.toml", 3)] {
        let file = fs::File::create(program.path(name)).expect("a file");
        // Nothing of it stands on the disk.
        file.set_len(megabytes * 1024 * 1024).expect("long");
    }
    let run = program.run_within(BOUNDS).ended_with(1);
    for says in [
        "roll.csv: the file has more bytes than the limit of 200 MB",
        "a.toml: the file has more bytes than the limit of 2 MB",
    ] {
        assert!(run.stderr.contains(says), "{}", run.stderr);
    }
}

#[test]
fn binary_workbooks_changed_anywhere_are_read_or_refused() {
    let good = fs::read(crate::program::root().join("tests/reference/filled-answers/filled.xls"));
    let good = good.expect("the file is there");
    let record = crate::program::root().join("sample-classes/6-alder/homework.json");
    let mut state: u64 = 0x9E37_79B9_7F4A_7C15;
    let mut below = |end: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        usize::try_from(state % u64::try_from(end).expect("it fits")).expect("it is smaller")
    };
    // `TOOTHMARK_CHANGED_WORKBOOKS=2000` tries so many.
    let count = std::env::var("TOOTHMARK_CHANGED_WORKBOOKS").ok();
    let count = count.and_then(|text| text.parse().ok()).unwrap_or(25);
    for _ in 0..count {
        let mut bytes = good.clone();
        for _ in 0..=below(12) {
            let place = below(bytes.len());
            bytes[place] = [0, 1, 0x7F, 0xFF, 0xFE, 9][below(6)];
        }
        let program = Program::new()
            .file("a.xls", &bytes)
            .file(
                "homework.json",
                fs::read(&record).expect("the sample is there"),
            )
            .arguments(["mark", "a.xls", "--out", "out"]);
        let run = program.run_within(BOUNDS);
        assert!([0, 1].contains(&run.code), "{run:?}");
        assert_eq!(
            run.code == 1,
            run.stderr.contains("problem: a.xls"),
            "{run:?}"
        );
        assert!(!run.stderr.contains("panicked"), "{run:?}");
    }
}
