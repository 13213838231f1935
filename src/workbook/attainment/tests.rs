//! The workbook read back with a reader that is not ours.

use crate::attainment;
use crate::attainment::who;
use crate::homework;
use crate::level;
use crate::marking;
use crate::workbook::attainment as report;
use calamine::Data;
use calamine::Reader;
use std::collections::BTreeMap;
use std::io::Cursor;

/// A class of which every third pupil has the ratio upside down.
fn class(name: &str, year: &str, pupils: usize) -> attainment::Work {
    attainment::Work {
        code: format!("H{name}"),
        title: "Gears & ratio".to_owned(),
        set_on: "2026-03-09".to_owned(),
        marked_on: "2026-03-12".to_owned(),
        kept_until: None,
        pupils: (0..pupils)
            .map(|number| pupil(name, year, number))
            .collect(),
    }
}

fn pupil(class: &str, year: &str, number: usize) -> attainment::Pupil {
    let groups: BTreeMap<String, String> = [("reading".to_owned(), "blue".to_owned())].into();
    let roll = homework::Pupil {
        id: format!("{class}-{number}"),
        name: format!("{class}-{number}"),
        class: class.to_owned(),
        year: year.to_owned(),
        level: None,
        groups: groups.clone(),
    };
    let answers = (1..=6).zip(level::SKILLS).map(|(question, skill)| {
        let slips = number.is_multiple_of(3) && question > 3;
        attainment::Answer {
            question: format!("Q{question}"),
            bank: "gears-7-11".to_owned(),
            template: format!("{skill}-pair"),
            skill,
            level: level::Level::new(4).expect("4 is a level"),
            marks: if slips { 0 } else { 2 },
            out_of: 2,
            state: if slips {
                marking::State::Wrong
            } else {
                marking::State::Correct
            },
            misconceptions: if slips {
                vec!["ratio-upside-down".to_owned()]
            } else {
                Vec::new()
            },
            needs_check: false,
        }
    });
    attainment::Pupil {
        who: who::Who::of(&roll),
        class: roll.class,
        year: roll.year,
        groups,
        answers: answers.collect(),
    }
}

fn summary() -> attainment::Summary {
    attainment::summarise(&[
        class("5 Oak", "5", 28),
        class("5 Elm", "5", 12),
        class("6 Ash", "6", 25),
        class("6 Fir", "6", 3),
    ])
}

/// Every cell of a worksheet as text, a line a row.
fn text_of(bytes: &[u8], name: &str) -> String {
    let mut book: calamine::Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(bytes.to_vec())).expect("it is a workbook");
    let range = book.worksheet_range(name).expect(name);
    let rows: Vec<String> = range
        .rows()
        .map(|row| {
            let cells: Vec<String> = row.iter().map(Data::to_string).collect();
            cells.join("|")
        })
        .collect();
    rows.join("\n")
}

#[test]
fn every_worksheet_is_there_with_its_figures() {
    let bytes = report::book(&summary()).expect("the workbook can be made");
    for (name, wanted) in [
        ("Overview", "What holds, and what does not?"),
        ("Overview", "4 homeworks, 68 pupils"),
        ("Years", "5|40|"),
        ("Classes", "5 Oak|28|82"),
        ("Classes", "6 Fir|fewer than 5 pupils"),
        ("Classes", "6 Ash|not shown, to protect a smaller group"),
        ("Skills", "Turns|68|"),
        ("Groups", "reading: blue|68|"),
        ("Levels", "Level 4|68|"),
        ("Questions", "gears-7-11: turns-pair|Turns, level 4|68|"),
        ("Skills by year", " %, n = 40 ("),
        ("Skills by class", "fewer than 5 pupils"),
        ("Misconceptions", "turns the ratio upside down|"),
        ("Question figures", "gears-7-11: turns-pair|4|68|"),
        (
            "About questions",
            "are consistent with someone who turns the ratio upside down",
        ),
        ("Levels and results", "Level 4|68|"),
        ("Growth", "the questions stand on no scale"),
        ("Reliability", "Set 1|68|6|12|"),
    ] {
        let text = text_of(&bytes, name);
        assert!(text.contains(wanted), "{name}: {wanted}:\n{text}");
    }
}

#[test]
fn no_pupil_is_named_and_the_bytes_are_the_same_each_time() {
    let first = report::book(&summary()).expect("the workbook can be made");
    let second = report::book(&summary()).expect("the workbook can be made again");
    assert!(first == second, "two runs gave different files");
    for name in ["Overview", "Classes", "Questions", "Misconceptions"] {
        let text = text_of(&first, name);
        assert!(!text.contains("Oak-0"), "{name}: {text}");
    }
}

#[test]
fn an_empty_summary_still_makes_a_workbook() {
    let bytes = report::book(&attainment::summarise(&[])).expect("the workbook can be made");
    assert!(text_of(&bytes, "Overview").contains("too few to report"));
}
