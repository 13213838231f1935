//! What the finished documents hold, read back with a reader that is not ours.

use crate::gears::notation;
use crate::homework;
use crate::item;
use crate::need;
use crate::paper;
use crate::paper::examples;
use crate::paper::typeset;
use lopdf::{Dictionary, Document, Object};

mod needs;
mod snapshots;

/// Opens a file that we made.
fn open(bytes: &[u8]) -> Document {
    Document::load_mem(bytes).expect("the file is a PDF")
}

/// The text of a string: UTF-16 with a mark, else one byte a character.
fn text(object: &Object) -> String {
    let bytes = object.as_str().expect("the entry is a string");
    match bytes.strip_prefix(&[0xFE, 0xFF]) {
        Some(wide) => {
            let units: Vec<u16> = wide
                .chunks_exact(2)
                .map(|pair| u16::from_be_bytes([pair[0], pair[1]]))
                .collect();
            String::from_utf16_lossy(&units)
        }
        None => String::from_utf8_lossy(bytes).into_owned(),
    }
}

/// Every entry of this name in any dictionary of the file.
fn entries<'a>(document: &'a Document, key: &[u8]) -> Vec<&'a Object> {
    let dictionary = |object: &'a Object| -> Option<&'a Dictionary> { object.as_dict().ok() };
    document
        .objects
        .values()
        .filter_map(dictionary)
        .filter_map(|dictionary| dictionary.get(key).ok())
        .collect()
}

/// The kinds of the file's tags.
fn tags(document: &Document) -> Vec<String> {
    let mut tags: Vec<String> = entries(document, b"S")
        .into_iter()
        .filter_map(|object| object.as_name().ok())
        .map(|name| String::from_utf8_lossy(name).into_owned())
        .collect();
    tags.sort();
    tags.dedup();
    tags
}

/// Asserts what every document of ours has.
fn assert_accessible(document: &Document, title: &str) {
    let catalogue = document.catalog().expect("a PDF has a catalogue");
    let language = catalogue.get(b"Lang").expect("it has a language");
    assert_eq!(text(language), "en-GB");
    assert!(catalogue.has(b"StructTreeRoot"), "it has tags");
    let titles: Vec<String> = entries(document, b"Title").into_iter().map(text).collect();
    assert!(titles.iter().any(|found| found == title), "{titles:?}");
    let found = tags(document);
    for tag in ["Document", "H1", "H2", "P"] {
        assert!(found.iter().any(|name| name == tag), "{tag}: {found:?}");
    }
}

/// The sheets laid out for a class.
fn pages_for(homework: &homework::Homework, class: &need::Class) -> typeset::Pages {
    paper::prepare_sheets(homework, class)
        .lay_out()
        .expect("the homework can be set")
}

/// The lines of every page of the sheets.
fn sheet_lines(homework: &homework::Homework) -> Vec<Vec<String>> {
    pages_for(homework, &need::Class::default()).lines()
}

#[test]
fn sheets_are_tagged_titled_and_in_british_english() {
    let homework = examples::homework(&["Amina Cole", "Ben Hart"], 4);
    let bytes =
        paper::sheets(&homework, &need::Class::default()).expect("a plain homework can be set");
    let document = open(&bytes);
    assert_accessible(&document, "Gears: turns and ratio");
    assert_eq!(document.get_pages().len(), sheet_lines(&homework).len());
}

#[test]
fn every_question_has_its_drawing_with_a_text_alternative() {
    let homework = examples::homework(&["Amina Cole"], 4);
    let bytes =
        paper::sheets(&homework, &need::Class::default()).expect("a plain homework can be set");
    let document = open(&bytes);
    assert!(tags(&document).iter().any(|tag| tag == "Figure"));
    let alternatives: Vec<String> = entries(&document, b"Alt").into_iter().map(text).collect();
    for wanted in [
        "Drawing. Gear A with 12 teeth meshes with gear B with 36 teeth. An arrow on gear A \
         points clockwise. An arrow with two heads and a question mark stands at gear B.",
        "Drawing. Part A, a straight bar with teeth, meshes with gear B with 20 teeth. \
         Part A lies below its partner.",
        "Drawing. Gear A with an unknown number of teeth meshes with gear B with an unknown \
         number of teeth. Gear A is a plain circle, not drawn to size. Gear B is a plain \
         circle, not drawn to size.",
    ] {
        assert!(
            alternatives.iter().any(|found| found == wanted),
            "{wanted}: {alternatives:#?}"
        );
    }
    assert_eq!(
        alternatives.len(),
        5,
        "one for each question, whatever its parts"
    );
}

#[test]
fn a_question_that_is_not_drawn_stands_without() {
    let mut homework = examples::homework(&["Amina Cole"], 4);
    let lines = [
        "worm W 1 start drives gear B 40",
        "worm W 1 start, gear C 12 on one axle",
    ];
    let mechanism = notation::read(&lines).expect("well formed");
    homework.sheets[0].items[0].mechanism = mechanism;
    let bytes = paper::sheets(&homework, &need::Class::default()).expect("it can be set");
    assert_eq!(entries(&open(&bytes), b"Alt").len(), 4);
}

#[test]
fn a_sheet_prints_all_that_the_pupil_needs() {
    let homework = examples::homework(&["Amina Cole"], 4);
    let lines: Vec<String> = sheet_lines(&homework).concat();
    for wanted in [
        "Gears: turns and ratio",
        "Name: Amina Cole Class: 5 Oak out of 11",
        "Question 1",
        "Answer: turns (to 1 decimal place) (2 marks)",
        "Answer: turns (2 marks)",
        "clockwise anticlockwise",
        "turns of A : turns of B",
        "Use the smallest whole numbers.",
        "Gears in the box: 8 16 24 32 40 teeth",
        "Gear A: teeth Gear B: teeth (2 marks)",
        "rack",
    ] {
        assert!(
            lines.iter().any(|line| line.contains(wanted)),
            "{wanted}: {lines:#?}"
        );
    }
}

#[test]
fn every_pupil_s_pages_are_counted_from_one_and_carry_the_code() {
    let homework = examples::homework(&["Amina Cole", "Ben Hart", "Cai Pugh"], 4);
    let pages = sheet_lines(&homework);
    assert_eq!(pages.len() % 3, 0, "equal sheets take equal pages");
    let each = pages.len() / 3;
    for (index, page) in pages.iter().enumerate() {
        let footer = format!("page {} of {each}", index % each + 1);
        let version = (index / each + 1).to_string();
        let all = page.join("\n");
        assert!(all.contains(&footer), "{footer}: {all}");
        assert!(all.contains("Code K7Q2"), "{all}");
        assert!(all.contains(&format!("Version {version}")), "{all}");
        let name = &homework.pupils[index / each].pupil.name;
        assert!(all.contains(name.as_str()), "{all}");
    }
}

#[test]
fn no_question_is_split_over_pages() {
    for level in [1, 4, 7] {
        let pages = sheet_lines(&examples::homework(&["Amina Cole"], level));
        let place = |wanted: &str| {
            pages
                .iter()
                .position(|page| page.iter().any(|line| line.contains(wanted)))
        };
        let heading = place("Question 3");
        assert!(heading.is_some());
        assert_eq!(heading, place("Which gear turns faster?"), "level {level}");
        assert_eq!(heading, place("turns of A : turns of B"), "level {level}");
    }
}

#[test]
fn hostile_texts_are_printed_as_they_are_and_break_nothing() {
    let names = [
        "#read(\"/etc/passwd\")",
        "$x$ [y] @z *b* _i_ `c` <l>",
        "Amina\u{0}\u{7}Cole\u{202E}reversed",
        "\u{1F600}\u{FFFE}",
        "=HYPERLINK(\"x\")\\u{41}",
        "",
    ];
    let mut homework = examples::homework(&names, 4);
    homework.title = "#panic() & \"quotes\"".to_owned();
    let pages = sheet_lines(&homework);
    let all = pages.concat().join("\n");
    for wanted in [
        "#read(\"/etc/passwd\")",
        "$x$ [y] @z *b* _i_ `c` <l>",
        "AminaColereversed",
        "=HYPERLINK(\"x\")\\u{41}",
        "#panic() & \"quotes\"",
        "Name: P4",
        "Name: P6",
    ] {
        assert!(all.contains(wanted), "{wanted}");
    }
    paper::sheets(&homework, &need::Class::default())
        .expect("hostile texts do not break the export");
}

#[test]
fn the_same_homework_gives_the_same_bytes() {
    let homework = examples::homework(&["Amina Cole", "Ben Hart"], 2);
    let first = paper::sheets(&homework, &need::Class::default()).expect("it can be set");
    let second = paper::sheets(&homework, &need::Class::default()).expect("it can be set again");
    assert!(first == second, "two runs gave different files");
}

#[test]
fn the_mark_scheme_gives_answers_workings_policy_cautions_and_the_key() {
    let homework = examples::homework(&["Amina Cole", "Ben Hart"], 4);
    let (pages, _) = paper::scheme_pages(&homework).expect("the scheme can be set");
    let all = pages.lines().concat().join("\n");
    for wanted in [
        "Mark scheme: Gears: turns and ratio",
        "How marks are given",
        "Version 1 worked in full",
        "2 versions have these questions",
        "Answer\n2.3 turns",
        "7 turns × 12 ÷ 36",
        "turns the ratio upside down : turns × driven teeth ÷ drive teeth 21.0 turns 1",
        "2.5 turns or 2.2 turns",
        "Answer\n3 : 1",
        "Answer\nanticlockwise",
        "Answer\nA 8, B 24",
        "risk assessment",
        "Key to all versions, in roll order",
        "Amina Cole 1 2.3 ACW",
        "Ben Hart 2 2.3 ACW",
    ] {
        assert!(all.contains(wanted), "{wanted}: {all}");
    }
    assert!(!all.contains("Version 2 worked"), "{all}");
}

#[test]
fn the_mark_scheme_is_tagged_and_the_same_each_time() {
    let homework = examples::homework(&["Amina Cole", "Ben Hart"], 4);
    let bytes = paper::mark_scheme(&homework).expect("the scheme can be set");
    let again = paper::mark_scheme(&homework).expect("the scheme can be set again");
    assert!(bytes == again, "two runs gave different files");
    let document = open(&bytes);
    assert_accessible(&document, "Mark scheme: Gears: turns and ratio");
    assert!(tags(&document).iter().any(|tag| tag == "TH"));
}

#[test]
fn a_question_without_an_answer_is_named() {
    let mut homework = examples::homework(&["Amina Cole"], 4);
    homework.sheets[0].items[0].mechanism.givens.clear();
    match paper::mark_scheme(&homework) {
        Err(paper::PaperError::NoAnswer {
            version, question, ..
        }) => {
            assert_eq!((version.as_str(), question.as_str()), ("1", "Q1"));
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_question_longer_than_a_page_goes_on_to_the_next() {
    let mut homework = examples::homework(&["Amina Cole"], 1);
    let long = homework.sheets[0].items[2].clone();
    homework.sheets[0].items = "abcdefgh"
        .chars()
        .map(|letter| item::Item {
            number: format!("Q1{letter}"),
            working: true,
            ..long.clone()
        })
        .collect();
    let pages = sheet_lines(&homework);
    let parts = pages
        .iter()
        .flatten()
        .filter(|line| line.contains("Which gear turns faster?"))
        .count();
    assert_eq!(parts, 8, "every part is on some page");
    assert!(pages.len() >= 2, "{pages:?}");
}

mod handouts;
