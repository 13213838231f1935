//! What pupils, rolls and titles hold never becomes a formula, a link, markup, a script,
//! typesetting code, a path or a terminal's escape: one list of attacks through every
//! output, each opened with a real reader.
//!
//! Every file that the commands leave is looked at by its ending, so that a new output
//! is held to this too; an ending that is not known here fails.

use crate::browser::Browser;
use crate::program::{Bounds, Program, root};
use calamine::Reader;
use quick_xml::events::Event;
use std::collections::BTreeSet;
use std::fs;
use std::io::{Cursor, Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};

const BOUNDS: Bounds = Bounds {
    seconds: 300,
    megabytes: 4_096,
};

/// What somebody may type, or call a pupil.
const ATTACKS: [&str; 43] = [
    "=HYPERLINK(\"http://example.org/?\"&A1,\"3\")",
    "=cmd|' /C calc'!A0",
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(1;1)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    " =1+1",
    "\u{feff}=1+1",
    "\u{ff1d}1+1",
    "\u{ff0b}1",
    "=DDE(\"cmd\";\"/C calc\";\"x\")",
    "=IMPORTXML(\"http://example.org\",\"//a\")",
    "{=1+1}",
    "'=1+1",
    "\";=1+1;\"",
    "\",=1+1,\"",
    "<script>window.attacked = 1</script>",
    "\"><img src=x onerror=\"window.attacked = 1\">",
    "</script><script>window.attacked = 1</script>",
    "javascript:window.attacked=1",
    "]]><attacked/>",
    "&#x3c;b&#x3e; &lt;i&gt; &amp;",
    "<!--",
    "#read(\"/etc/passwd\")",
    "#link(\"http://example.org\")[3] $x^2$ @ref *b* _i_ `c` \\ #",
    "http://example.org/3",
    "mailto:ada@example.org",
    "file:///etc/passwd",
    "\u{1b}[31mred\u{1b}[0m \u{1b}]8;;http://example.org\u{7}3\u{1b}]8;;\u{7}",
    "\u{9b}31m\u{85}\u{90}x",
    "3\u{202e}1:\u{2066}x\u{2069}\u{200f}",
    "3\u{200b}:\u{200d}1\u{2060}",
    "../../../attacked",
    "C:\\Windows\\attacked",
    "CON",
    "NUL.xlsx",
    "a\u{0}b\u{1}\u{7f}",
    "_x0041__x001B_",
    "&F &\"Arial,Bold\"&D &A {0} {name} %s %n",
    "\u{1f468}\u{200d}\u{1f467} \u{1d54f} \u{fffd}",
];

/// What a file is, by its ending.
fn ending(name: &str) -> &str {
    name.rsplit('.').next().unwrap_or_default()
}

/// Signs that steer a terminal or the direction of writing.
fn steers(sign: char) -> bool {
    (sign.is_control() && !matches!(sign, '\n' | '\t'))
        || matches!(sign, '\u{200b}' | '\u{200e}'..='\u{200f}' | '\u{202a}'..='\u{202e}')
        || matches!(sign, '\u{2060}'..='\u{2069}' | '\u{feff}')
}

/// A workbook with one worksheet of these rows, everything in it text.
fn workbook(rows: &[Vec<String>]) -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    for (row, cells) in (0..).zip(rows) {
        for (column, text) in (0..).zip(cells) {
            sheet.write_string(row, column, text).expect("in the sheet");
        }
    }
    book.save_to_buffer().expect("in memory")
}

/// The attack for a pupil and a question, each pupil another one.
fn attack(pupil: usize, question: usize) -> String {
    ATTACKS[(pupil + question * 5) % ATTACKS.len()].to_owned()
}

/// Runs the program on and checks that it says nothing that steers a terminal.
fn done(program: Program, arguments: &[&str]) -> Program {
    let program = program.anew().arguments(arguments);
    let run = program.run_within(BOUNDS).succeeded();
    for said in [&run.stdout, &run.stderr] {
        assert!(!said.contains(steers), "{arguments:?}: {said:?}");
    }
    program
}

#[allow(clippy::too_many_lines, reason = "one command after another")]
/// The whole way of a homework with attacks in every place, in the folder `made`.
fn everything_made() -> Program {
    let text = |text: &str| text.to_owned();
    let head = ["pupil id", "name", "class", "year", "table"].map(text);
    let long = "long ".repeat(1_000);
    let mut roll = vec![head.to_vec()];
    for index in 0..ATTACKS.len() {
        let name = if index == 7 {
            long.clone()
        } else {
            attack(index, 0)
        };
        let class = if index < 20 {
            "=1+1"
        } else {
            "</script>5 <b>&Oak\u{1b}[31m"
        };
        roll.push(vec![
            format!("P{index}"),
            format!("{name} {index}"),
            text(class),
            text("5"),
            attack(index, 1),
        ]);
    }
    let title =
        "=1+1 &F <script>window.attacked = 1</script> #read(\"/etc/passwd\") \u{1b}[31m\u{202e}";
    let program = Program::new().file("roll.xlsx", workbook(&roll)).file(
        "bank.toml",
        fs::read(root().join("question-banks/gears-7-11.toml")).expect("there"),
    );
    let program = done(
        program,
        &[
            "set",
            "--bank",
            "bank.toml",
            "--roll",
            "roll.xlsx",
            "--level",
            "3-5",
            "--questions",
            "5",
            "--title",
            title,
            "--seed",
            "attacks",
            "--date",
            "2026-03-02",
            "--out",
            "made",
        ],
    );
    let record: serde_json::Value =
        serde_json::from_str(&program.read("made/homework.json")).expect("JSON");
    let sheet = fs::read(program.path("made/answers.xlsx")).expect("written");
    let mut book: calamine::Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(&sheet[..])).expect("a workbook");
    let range = book.worksheet_range("Answers").expect("the worksheet");
    let headings: Vec<String> = range
        .rows()
        .find(|row| row.first().is_some_and(|cell| *cell == "Pupil ID"))
        .expect("the headings")
        .iter()
        .map(ToString::to_string)
        .filter(|heading| heading.starts_with('Q') || heading.starts_with("Pupil"))
        .collect();
    assert!(
        record["pupils"]
            .as_array()
            .is_some_and(|pupils| pupils.len() == ATTACKS.len())
    );
    let mut answers = vec![headings.clone()];
    for index in 0..ATTACKS.len() {
        let mut row = vec![format!("P{index}"), attack(index, 0)];
        row.extend((2..headings.len()).map(|question| attack(index, question)));
        answers.push(row);
    }
    fs::write(program.path("typed.xlsx"), workbook(&answers)).expect("written");
    let program = done(
        program,
        &[
            "mark",
            "typed.xlsx",
            "--homework",
            "made/homework.json",
            "--second-look",
            "20%",
            "--out",
            "made",
        ],
    );
    let program = done(program, &["feedback", "made", "--marks"]);
    let program = done(program, &["show", "made", "--out", "made/screen.html"]);
    let program = done(program, &["review", "made", "--out", "made/review"]);
    let program = done(
        program,
        &[
            "review",
            "made",
            "--for-class",
            "=1+1",
            "--out",
            "made/class",
        ],
    );
    let program = done(program, &["cards", "--level", "3", "--out", "made/cards"]);
    done(
        program,
        &[
            "solve",
            "gear A 12 drives gear B 36",
            "turns of B",
            "A turns 9 clockwise",
            "--drawing",
            "made/pair.svg",
        ],
    )
}

#[test]
fn no_attack_comes_alive_in_any_output() {
    let program = everything_made();
    let names = program.everything();
    let files: Vec<&String> = names
        .iter()
        .filter(|name| program.path(name).is_file())
        .collect();
    // No name of a file comes from what somebody typed.
    for name in &names {
        assert!(
            name.chars()
                .all(|sign| sign.is_ascii_alphanumeric() || "-./ ".contains(sign)),
            "{name:?}"
        );
        assert!(
            !name.contains("attacked") && !name.to_uppercase().contains("CON/"),
            "{name:?}"
        );
    }
    for wanted in [
        "made/answers.xlsx",
        "made/feedback.pdf",
        "made/marked.xlsx",
        "made/review/attainment.xlsx",
        "made/class/class.xlsx",
        "made/screen.html",
    ] {
        assert!(
            names.iter().any(|name| name == wanted),
            "{wanted} is not in {names:?}"
        );
    }
    for name in files.iter().filter(|name| name.starts_with("made/")) {
        let bytes = fs::read(program.path(name)).expect("it can be read");
        match ending(name) {
            "xlsx" => check_workbook(name, &bytes),
            "csv" => check_csv(name, &bytes),
            "pdf" => check_pdf(name, &bytes),
            "html" => check_page(name, &bytes),
            "svg" => check_xml(name, &bytes),
            "json" => drop(serde_json::from_slice::<serde_json::Value>(&bytes).expect(name)),
            _ => panic!("{name}: no check for this kind of output"),
        }
    }
    check_typed(&program);
    check_in_a_spreadsheet_program(&program, &files);
    check_in_a_browser(&program, &files);
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

fn check_workbook(name: &str, bytes: &[u8]) {
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

fn check_csv(name: &str, bytes: &[u8]) {
    let mut reader = csv::ReaderBuilder::new().from_reader(bytes);
    let width = reader.headers().expect(name).len();
    let mut count = 0;
    for row in reader.records() {
        let row = row.expect(name);
        assert_eq!(row.len(), width, "{name}: {row:?}");
        for cell in &row {
            count += 1;
            // A number runs nothing.
            if cell.parse::<f64>().is_ok_and(f64::is_finite) {
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

fn check_pdf(name: &str, bytes: &[u8]) {
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

fn check_page(name: &str, bytes: &[u8]) {
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

fn check_xml(name: &str, bytes: &[u8]) {
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
fn check_typed(program: &Program) {
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
fn check_in_a_spreadsheet_program(program: &Program, files: &[&String]) {
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
fn check_in_a_browser(program: &Program, files: &[&String]) {
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

#[test]
fn notation_that_attacks_is_refused_and_shown() {
    for attack in ATTACKS.iter().filter(|attack| !attack.contains('\0')) {
        let gear = format!("gear {attack} 12 drives gear B 36");
        let program =
            Program::new().arguments(["solve", &gear, "turns of B", "--drawing", "x.svg"]);
        let run = program.run_within(BOUNDS);
        assert!([1, 2].contains(&run.code), "{attack:?}: {run:?}");
        assert!(
            !run.stderr.contains(steers) && !run.stdout.contains(steers),
            "{run:?}"
        );
        assert!(program.everything().is_empty(), "{attack:?}");
    }
}
