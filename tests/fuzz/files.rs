//! What must hold for any file at all that a person hands in: it is read or refused with
//! a problem, the same twice, soon, and without a panic.
//!
//! An input is a byte that chooses the reader, and then the file.

use crate::target;
use std::io::{Cursor, Write};
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use toothmark::attainment::{bands, calendar, curriculum};
use toothmark::feedback::words;
use toothmark::marking::policy;
use toothmark::problem::Problem;
use toothmark::workbook::{answers, cells, roll};
use toothmark::{bank, homework, marking, practical};

/// The longest that a file of a few kilobytes may take, on a slow computer that has other
/// work, in a build without optimisation.
const LONGEST: Duration = Duration::from_secs(20);

/// Every target.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) const TARGETS: [target::Target; 5] = [
    target::Target {
        name: "banks",
        body: banks,
        seeds: seeds_of_banks,
    },
    target::Target {
        name: "rolls",
        body: rolls,
        seeds: seeds_of_rolls,
    },
    target::Target {
        name: "records",
        body: records,
        seeds: seeds_of_records,
    },
    target::Target {
        name: "policies",
        body: policies,
        seeds: seeds_of_policies,
    },
    target::Target {
        name: "workbooks",
        body: workbooks,
        seeds: seeds_of_workbooks,
    },
];

const BANKS: [&str; 3] = [
    include_str!("../../question-banks/gears-5-7.toml"),
    include_str!("../../question-banks/gears-7-11.toml"),
    include_str!("../../question-banks/gears-11-14.toml"),
];
const HOMEWORKS: [&str; 3] = [
    include_str!("../../sample-classes/2-hazel/homework.json"),
    include_str!("../../sample-classes/6-alder/homework.json"),
    include_str!("../cases/earlier-version/homework.json"),
];
const MARKED: &str = include_str!("../cases/earlier-version/marked.json");
const ROLLS: [&[u8]; 4] = [
    include_bytes!("../../sample-classes/2-hazel/roll.csv"),
    include_bytes!("../../sample-classes/5-rowan/roll.csv"),
    include_bytes!("../../sample-classes/6-alder/roll.csv"),
    include_bytes!("../../sample-classes/8-linden/roll.csv"),
];
const BOOKS: [&[u8]; 5] = [
    include_bytes!("../../sample-classes/8-linden/answers.csv"),
    include_bytes!("../reference/filled-answers/filled.xlsx"),
    include_bytes!("../reference/filled-answers/filled.ods"),
    include_bytes!("../reference/spreadsheet-changes/typed-en-GB.xlsx"),
    include_bytes!("../reference/spreadsheet-changes/typed-en-GB.ods"),
];

static HOMEWORK: LazyLock<homework::Homework> = LazyLock::new(|| {
    homework::from_json(HOMEWORKS[1], "homework.json").expect("the sample's record is sound")
});

/// Checks what reading gave: done soon, and where it failed, with something to say.
fn told<T>(read: impl FnOnce() -> Result<T, Vec<Problem>>) -> Option<T> {
    let begun = Instant::now();
    let found = read();
    let taken = begun.elapsed();
    assert!(taken < LONGEST, "it took {taken:?}");
    match found {
        Ok(value) => Some(value),
        Err(problems) => {
            assert!(!problems.is_empty());
            for problem in problems {
                assert!(problem.place.starts_with("file"), "{problem}");
                assert!(!problem.what.is_empty(), "{problem}");
            }
            None
        }
    }
}

/// A bank is read or refused; the choice byte is left out.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn banks(data: &[u8]) {
    let text = String::from_utf8_lossy(data.get(1..).unwrap_or_default());
    let found = told(|| bank::read(&text, "file"));
    assert_eq!(found, bank::read(&text, "file").ok());
}

/// A roll of any kind is read or refused.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn rolls(data: &[u8]) {
    let bytes = data.get(1..).unwrap_or_default();
    if is_for_another_process(bytes) {
        return;
    }
    if let Some(found) = told(|| roll::read("file", bytes)) {
        assert!(!found.pupils.is_empty());
    }
}

/// A record is read or refused; what is read and written again is the same.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn records(data: &[u8]) {
    let Some((choice, bytes)) = data.split_first() else {
        return;
    };
    let text = String::from_utf8_lossy(bytes);
    match choice % 3 {
        0 => {
            if let Some(found) = told(|| homework::from_json(&text, "file")) {
                let written = homework::to_json(&found);
                assert_eq!(homework::from_json(&written, "file"), Ok(found));
            }
        }
        1 => {
            if let Some(found) = told(|| marking::from_json(&text, "file")) {
                let written = marking::to_json(&found);
                assert_eq!(marking::from_json(&written, "file"), Ok(found));
            }
        }
        _ => drop(told(|| {
            marking::head_of_json(&text, "file").map_err(|problem| vec![problem])
        })),
    }
}

/// A policy, and every other file that a school writes, is read or refused.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn policies(data: &[u8]) {
    let Some((choice, bytes)) = data.split_first() else {
        return;
    };
    let text = String::from_utf8_lossy(bytes);
    match choice % 6 {
        0 => {
            if let Some(found) = told(|| policy::read(&text, "file")) {
                let written = policy::write(&found);
                assert_eq!(policy::read(&written, "file"), Ok(found));
            }
        }
        1 => drop(told(|| bands::read(&text, "file"))),
        2 => drop(told(|| calendar::read(&text, "file"))),
        3 => drop(told(|| curriculum::read(&text, "file"))),
        4 => drop(told(|| words::read(&text, "file"))),
        _ => drop(told(|| practical::read(&text, "file"))),
    }
}

/// A workbook is read or refused: a whole file, or one whose worksheet, texts, styles or
/// content the input is.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn workbooks(data: &[u8]) {
    let Some((choice, bytes)) = data.split_first() else {
        return;
    };
    let file = match choice % 5 {
        0 => bytes.to_vec(),
        1 => with_part(BOOKS[1], "xl/worksheets/sheet1.xml", bytes),
        2 => with_part(BOOKS[1], "xl/sharedStrings.xml", bytes),
        3 => with_part(BOOKS[1], "xl/styles.xml", bytes),
        _ => with_part(BOOKS[2], "content.xml", bytes),
    };
    if is_for_another_process(&file) {
        return;
    }
    let begun = Instant::now();
    let found = cells::read(&file);
    assert!(begun.elapsed() < LONGEST);
    assert_eq!(cells::read(&cells::to_plain(&found)), found);
    drop(told(|| answers::read("file", &file, &HOMEWORK)));
}

/// Whether a file is an old binary workbook, whose reader may panic or abort: the program
/// reads it in another process, and the tests of the program change such files.
fn is_for_another_process(bytes: &[u8]) -> bool {
    bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0])
}

/// The parts of a zip file, by name.
fn parts(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).expect("a zip file");
    (0..archive.len())
        .map(|index| {
            let mut part = archive.by_index(index).expect("a part");
            let mut content = Vec::new();
            std::io::copy(&mut part, &mut content).expect("it unpacks");
            (part.name().expect("a name").to_string(), content)
        })
        .collect()
}

/// A zip file with one part of it in other words.
fn with_part(bytes: &[u8], name: &str, content: &[u8]) -> Vec<u8> {
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options =
        zip::write::SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    for (known, old) in parts(bytes) {
        writer.start_file(known.as_str(), options).expect("a part");
        let new = if known == name { content } else { &old };
        writer.write_all(new).expect("in memory");
    }
    writer.finish().expect("a zip file").into_inner()
}

fn seed(choice: u8, bytes: &[u8]) -> Vec<u8> {
    [&[choice], bytes].concat()
}

/// Each question of the banks in a bank of its own, and each bank's beginning.
fn seeds_of_banks() -> Vec<Vec<u8>> {
    let mut seeds = Vec::new();
    for text in BANKS {
        let mut pieces = text.split("[[template]]");
        let head = pieces.next().unwrap_or_default();
        seeds.push(seed(0, head.as_bytes()));
        seeds.extend(pieces.map(|piece| seed(0, format!("{head}[[template]]{piece}").as_bytes())));
    }
    seeds
}

fn seeds_of_rolls() -> Vec<Vec<u8>> {
    let mut seeds: Vec<Vec<u8>> = ROLLS.map(|roll| seed(0, roll)).to_vec();
    let other = "sep=;\r\npupil id;name;class;year;level;print size;spacing;tint;word card\r\n\
                 P1;\"Ada \"\"A\"\" L\";5 Oak;5;3-4;24;wide;cream;yes\r\n";
    seeds.push(seed(0, other.as_bytes()));
    let wide: Vec<u8> = other.encode_utf16().flat_map(u16::to_le_bytes).collect();
    seeds.push(seed(0, &wide));
    seeds
}

fn seeds_of_records() -> Vec<Vec<u8>> {
    let mut seeds: Vec<Vec<u8>> = HOMEWORKS.map(|text| seed(0, text.as_bytes())).to_vec();
    seeds.push(seed(1, MARKED.as_bytes()));
    seeds.push(seed(2, MARKED.as_bytes()));
    seeds
}

fn seeds_of_policies() -> Vec<Vec<u8>> {
    let tasks = include_str!("../../question-banks/tasks/gears.toml");
    let texts: [(u8, String); 7] = [
        (0, policy::write(&policy::Policy::default())),
        (
            0,
            include_str!("../../sample-classes/marking-policy.toml").to_owned(),
        ),
        (
            1,
            include_str!("../../sample-classes/bands.toml").to_owned(),
        ),
        (
            2,
            include_str!("../../sample-classes/terms.toml").to_owned(),
        ),
        (
            3,
            include_str!("../../question-banks/curricula/england.toml").to_owned(),
        ),
        (4, words::write(&words::Words::default())),
        (5, tasks.to_owned()),
    ];
    texts
        .map(|(choice, text)| seed(choice, text.as_bytes()))
        .to_vec()
}

fn seeds_of_workbooks() -> Vec<Vec<u8>> {
    let mut seeds: Vec<Vec<u8>> = BOOKS.map(|book| seed(0, book)).to_vec();
    for (book, name, choice) in [
        (1, "xl/worksheets/sheet1.xml", 1),
        (3, "xl/worksheets/sheet1.xml", 1),
        (1, "xl/sharedStrings.xml", 2),
        (3, "xl/sharedStrings.xml", 2),
        (1, "xl/styles.xml", 3),
        (3, "xl/styles.xml", 3),
        (2, "content.xml", 4),
        (4, "content.xml", 4),
    ] {
        let parts = parts(BOOKS[book]);
        let part = parts.iter().find(|(known, _)| known == name);
        seeds.extend(part.map(|(_, content)| seed(choice, content)));
    }
    // The program's own plain form of cells.
    let book = cells::read(BOOKS[0]);
    seeds.push(seed(0, &cells::to_plain(&book)));
    seeds
}
