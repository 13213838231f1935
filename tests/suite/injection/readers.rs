//! Every kind of output opened with a reader that is not ours.

use crate::browser::Browser;
use crate::injection::ATTACKS;
use crate::program::Program;
use calamine::Reader;
use quick_xml::events::Event;
use std::collections::BTreeSet;
use std::fs;
use std::io::{Cursor, Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};

/// What a file is, by its ending.
pub(super) fn ending(name: &str) -> &str {
    name.rsplit('.').next().unwrap_or_default()
}

/// Reads XML to its end; returns the names of its elements with their attributes.
fn elements(name: &str, bytes: &[u8]) -> Vec<(String, Vec<(String, String)>)> {
    let text = std::str::from_utf8(bytes).unwrap_or_else(|error| panic!("{name}: {error}"));
    let mut reader = quick_xml::Reader::from_str(text);
    let mut found = Vec::new();
    loop {
        match reader
            .read_event()
            .unwrap_or_else(|error| panic!("{name}: {error}"))
        {
            Event::Start(element) | Event::Empty(element) => {
                let attributes = element.attributes().map(|attribute| {
                    let attribute = attribute.unwrap_or_else(|error| panic!("{name}: {error}"));
                    (
                        attribute.key.as_ref().to_owned(),
                        attribute.value.to_string(),
                    )
                });
                found.push((element.name().as_ref().to_owned(), attributes.collect()));
            }
            Event::DocType(_) => panic!("{name}: a document type"),
            Event::Eof => return found,
            Event::End(_)
            | Event::Text(_)
            | Event::CData(_)
            | Event::Comment(_)
            | Event::Decl(_)
            | Event::PI(_)
            | Event::GeneralRef(_) => {}
        }
    }
}

pub(super) fn check_workbook(name: &str, bytes: &[u8]) {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).expect(name);
    let mut cells = 0;
    for index in 0..archive.len() {
        let mut part = archive.by_index(index).expect(name);
        let part_name = format!("{name}: {}", part.name().expect("a name"));
        let lower = part_name.to_lowercase();
        for banned in [
            "externallink",
            "vbaproject",
            "embeddings",
            "activex",
            "connections",
        ] {
            assert!(!lower.contains(banned), "{part_name}");
        }
        let mut content = Vec::new();
        part.read_to_end(&mut content).expect(name);
        if !["xml", "rels"].contains(&ending(&lower)) {
            continue;
        }
        for (element, attributes) in elements(&part_name, &content) {
            assert!(
                !["script", "attacked", "b", "img", "hyperlink", "ddeLink"]
                    .contains(&element.as_str())
                    || (element == "b" && lower.contains("styles"))
                    || lower.contains("drawing")
                    || lower.contains("sharedstrings"),
                "{part_name}: <{element}>"
            );
            assert!(
                !(element == "f" && lower.contains("worksheets/")),
                "{part_name}: a formula"
            );
            if element == "c" {
                cells += 1;
                assert!(
                    !attributes
                        .iter()
                        .any(|(key, value)| key == "t" && value == "str"),
                    "{part_name}"
                );
            }
            for (key, value) in attributes {
                assert!(!(key == "TargetMode" && value == "External"), "{part_name}");
                assert!(
                    !(key == "Type" && value.ends_with("/hyperlink")),
                    "{part_name}"
                );
            }
        }
        let text = String::from_utf8(content).expect(name);
        for part in text.split("<oddHeader>").skip(1) {
            let header = part.split("</oddHeader>").next().unwrap_or_default();
            // Two ampersands stand for one; a single one begins a code.
            let codes = header.replace("&amp;&amp;", "").matches("&amp;").count();
            let ours = header.matches("&amp;L").count()
                + header.matches("&amp;R").count()
                + header.matches("&amp;C").count();
            assert!(codes <= ours, "{part_name}: {header}");
        }
    }
    assert!(cells > 0, "{name}: no cell");
}

pub(super) fn check_csv(name: &str, bytes: &[u8]) {
    let mut reader = csv::ReaderBuilder::new().from_reader(bytes);
    let width = reader.headers().expect(name).len();
    let mut count = 0;
    for row in reader.records() {
        let row = row.expect(name);
        assert_eq!(row.len(), width, "{name}: {row:?}");
        for cell in &row {
            count += 1;
            // A number below nought runs nothing.
            if is_below_nought(cell) {
                continue;
            }
            let bare =
                cell.trim_start_matches(|sign: char| sign.is_whitespace() || sign == '\u{feff}');
            assert!(
                !bare.starts_with([
                    '=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'
                ]),
                "{name}: {cell:?}"
            );
        }
    }
    assert!(count > 0, "{name}");
}

/// Whether it is a minus sign and a decimal number, and no sign more.
fn is_below_nought(cell: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|it| it.is_ascii_digit());
    let number = cell.strip_prefix('-');
    let parts = number.map(|it| it.split_once('.').unwrap_or((it, "0")));
    parts.is_some_and(|(whole, places)| digits(whole) && digits(places))
}

pub(super) fn check_pdf(name: &str, bytes: &[u8]) {
    let document = lopdf::Document::load_mem(bytes).expect(name);
    let mut pending: Vec<&lopdf::Object> = document.objects.values().collect();
    let trailer = lopdf::Object::Dictionary(document.trailer.clone());
    pending.push(&trailer);
    let mut count = 0;
    while let Some(object) = pending.pop() {
        count += 1;
        let dictionary = match object {
            lopdf::Object::Dictionary(dictionary) => dictionary,
            lopdf::Object::Stream(stream) => &stream.dict,
            lopdf::Object::Array(entries) => {
                pending.extend(entries);
                continue;
            }
            lopdf::Object::Null
            | lopdf::Object::Boolean(_)
            | lopdf::Object::Integer(_)
            | lopdf::Object::Real(_)
            | lopdf::Object::Name(_)
            | lopdf::Object::String(_, _)
            | lopdf::Object::Reference(_) => continue,
        };
        for (key, value) in dictionary {
            for banned in [
                "URI",
                "JS",
                "JavaScript",
                "Launch",
                "EmbeddedFiles",
                "EF",
                "OpenAction",
                "AA",
                "SubmitForm",
                "AcroForm",
                "RichMedia",
            ] {
                assert!(key != banned.as_bytes(), "{name}: /{banned}");
                assert!(
                    !value.as_name().is_ok_and(|name| name == banned.as_bytes()),
                    "{name}: /{banned}"
                );
            }
            pending.push(value);
        }
    }
    assert!(count > 100, "{name}: {count} objects");
}

pub(super) fn check_page(name: &str, bytes: &[u8]) {
    let page = std::str::from_utf8(bytes).expect(name);
    for raw in [
        "<script>window.attacked",
        "<img src=x",
        "<b>&Oak",
        "]]><attacked",
    ] {
        assert!(!page.contains(raw), "{name}: {raw}");
    }
    let lower = page.to_lowercase();
    for banned in [
        "href=\"javascript:",
        "href=\"http",
        "src=\"http",
        "<iframe",
        "<object",
        "<base",
    ] {
        assert!(!lower.contains(banned), "{name}: {banned}");
    }
    assert!(
        !page.contains(['\u{1b}', '\u{0}', '\u{202e}', '\u{2066}']),
        "{name}"
    );
}

pub(super) fn check_xml(name: &str, bytes: &[u8]) {
    for (element, attributes) in elements(name, bytes) {
        assert!(
            !["script", "a", "foreignObject", "image"].contains(&element.as_str()),
            "{name}: {element}"
        );
        for (key, _) in attributes {
            assert!(
                !key.starts_with("on") && !key.contains("href"),
                "{name}: {key}"
            );
        }
    }
}

/// What was typed stands in the record, in the results workbook and in the csv as it was
/// typed, but for white space around it and for the apostrophe that guards the csv.
pub(super) fn check_typed(program: &Program) {
    let record: serde_json::Value =
        serde_json::from_str(&program.read("made/marked.json")).expect("JSON");
    let mut in_record = BTreeSet::new();
    for pupil in record["pupils"].as_array().expect("pupils") {
        for mark in pupil["marks"].as_array().expect("marks") {
            in_record.insert(mark["typed"].as_str().expect("a text").to_owned());
        }
    }
    for attack in ATTACKS {
        let is_there = in_record.iter().any(|typed| typed.trim() == attack.trim());
        assert!(is_there, "{attack:?} is not among {in_record:?}");
    }
    let bytes = fs::read(program.path("made/marked.xlsx")).expect("written");
    let mut book: calamine::Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(bytes)).expect("a workbook");
    let marks = book.worksheet_range("Marks").expect("the worksheet");
    let cells: BTreeSet<String> = marks
        .used_cells()
        .map(|(_, _, cell)| cell.to_string())
        .collect();
    let csv = fs::read(program.path("made/marks.csv")).expect("written");
    let fields: BTreeSet<String> = csv::Reader::from_reader(&csv[..])
        .records()
        .flat_map(|row| {
            row.expect("a row")
                .iter()
                .map(str::to_owned)
                .collect::<Vec<_>>()
        })
        .collect();
    for typed in in_record.iter().filter(|typed| !typed.is_empty()) {
        assert!(cells.contains(typed), "{typed:?} is not in the workbook");
        let guarded = format!("'{typed}");
        assert!(
            fields.contains(typed) || fields.contains(&guarded),
            "{typed:?} is not in the csv"
        );
    }
}

/// `LibreOffice` opens every workbook and every csv, and finds neither formula nor link.
pub(super) fn check_in_a_spreadsheet_program(program: &Program, files: &[&String]) {
    let sheets = files
        .iter()
        .filter(|name| name.starts_with("made/") && ["xlsx", "csv"].contains(&ending(name)));
    for (index, name) in sheets.enumerate() {
        let out = program.path(&format!("opened/{index}"));
        let started = Command::new("soffice")
            .arg(format!(
                "-env:UserInstallation=file://{}",
                program.path("profile").display()
            ))
            .args([
                "--headless",
                "--norestore",
                "--convert-to",
                "fods",
                "--outdir",
            ])
            .arg(&out)
            .arg(program.path(name))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status();
        if started.is_err() {
            let must =
                std::env::var("TOOTHMARK_REQUIRE_LIBREOFFICE").is_ok_and(|value| value == "1");
            assert!(!must, "LibreOffice is not installed");
            let remark = "LibreOffice is not installed: its look at the attacks was left out";
            writeln!(std::io::stderr(), "{remark}").expect("the error stream can be written to");
            return;
        }
        let stem = Path::new(name)
            .file_stem()
            .expect("a name")
            .to_string_lossy();
        let opened = fs::read(out.join(format!("{stem}.fods")));
        let opened = opened.unwrap_or_else(|error| panic!("{name}: {error}"));
        for (element, attributes) in elements(name, &opened) {
            assert!(
                element != "text:a" && element != "table:dde-link",
                "{name}: <{element}>"
            );
            let formula = attributes.iter().find(|(key, _)| key == "table:formula");
            assert!(formula.is_none(), "{name}: {formula:?}");
        }
    }
}

/// Chromium opens every page, and nothing in it runs that is not ours.
pub(super) fn check_in_a_browser(program: &Program, files: &[&String]) {
    let Some(browser) = Browser::start() else {
        return;
    };
    for name in files.iter().filter(|name| ending(name) == "html") {
        browser.open(&program.path(name));
        let attacked = browser.script("return typeof window.attacked");
        assert_eq!(attacked, "undefined", "{name}");
        let links = browser.script(
            "return document.querySelectorAll('a[href^=\"http\"], a[href^=\"javascript\"], img, iframe, attacked').length",
        );
        assert_eq!(links, 0, "{name}");
        let title =
            browser.script("return document.body.textContent.includes('<script>window.attacked')");
        assert_eq!(title, true, "{name}: the title is shown as it was typed");
    }
}
