//! `review` from outside: marked homeworks in; page, workbook and tidy table out.

use crate::program;
use calamine::Reader;
use std::collections::BTreeMap;
use std::io::Cursor;
use toothmark::answer;
use toothmark::bank;
use toothmark::gears::solve;
use toothmark::homework;
use toothmark::item;
use toothmark::level;
use toothmark::marking;
use toothmark::marking::policy;
use toothmark::misconception;

/// The homework of a class of so many pupils.
fn homework(class: &str, year: &str, pupils: usize) -> homework::Homework {
    let path = "question-banks/gears-7-11.toml";
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let text = std::fs::read_to_string(file).expect("the bank is there");
    let banks = [bank::read(&text, path).expect("the bank is sound")];
    let plan = homework::Plan {
        banks: &banks,
        pupils: (0..pupils)
            .map(|number| pupil(class, year, number))
            .collect(),
        year: None,
        levels: "3-5".parse::<level::Span>().expect("a span"),
        skills: vec![level::Skill::Turns, level::Skill::Ratio],
        questions: homework::Questions::Count(6),
        versions: homework::Versions::Same,
        seed: format!("review {class}"),
        title: format!("Gears, {class}"),
        date: "2026-03-09".to_owned(),
        keep_until: None,
    };
    homework::set(&plan).expect("it can be set").0
}

fn pupil(class: &str, year: &str, number: usize) -> homework::Pupil {
    homework::Pupil {
        id: format!("{class}-{number}"),
        name: format!("Secretname{number} Of{class}"),
        class: class.to_owned(),
        year: year.to_owned(),
        level: None,
        groups: BTreeMap::new(),
    }
}

/// What the class typed: every second pupil answers each question in the way of
/// the first misconception that applies; the last one was absent.
fn responses(homework: &homework::Homework) -> Vec<marking::Response> {
    let last = homework.pupils.len() - 1;
    homework
        .pupils
        .iter()
        .enumerate()
        .map(|(number, assignment)| {
            let is_absent = number == last;
            let items = &homework.sheets[assignment.sheet].items;
            marking::Response {
                pupil_id: assignment.pupil.id.clone(),
                attendance: if is_absent {
                    marking::Attendance::Absent
                } else {
                    marking::Attendance::Present
                },
                answers: items
                    .iter()
                    .filter(|_| !is_absent)
                    .map(|item| (item.number.clone(), typed(item, number % 2 == 1)))
                    .collect(),
                working: BTreeMap::new(),
                origin: marking::handed_in::Origin::default(),
            }
        })
        .collect()
}

/// The right answer, or that of the first misconception that applies.
fn typed(item: &item::Item, slips: bool) -> answer::Typed {
    let right = solve::answer(&item.mechanism, &item.ask).expect("it has one");
    let wrong = misconception::predictions(&item.mechanism, &item.ask);
    let fact = match wrong.first() {
        Some(slip) if slips => &slip.fact,
        Some(_) | None => &right.fact,
    };
    answer::Typed {
        text: answer::expected(fact, &item.form),
        undone: Vec::new(),
    }
}

/// The record of a class, marked by default on a date.
pub(crate) fn record(class: &str, year: &str, pupils: usize, date: &str) -> String {
    let homework = homework(class, year, pupils);
    let marked = marking::mark_homework(&marking::Batch {
        homework: &homework,
        responses: &responses(&homework),
        decisions: &[],
        policy: &policy::Policy::default(),
        date,
    });
    marking::to_json(&marked)
}

/// A school year of four classes, one of them very small.
fn school() -> program::Program {
    program::Program::new()
        .file(
            "year/5-oak/marked.json",
            record("5 Oak", "5", 25, "2026-03-12"),
        )
        .file(
            "year/5-elm/marked.json",
            record("5 Elm", "5", 21, "2026-03-12"),
        )
        .file(
            "year/6/ash/marked.json",
            record("6 Ash", "6", 30, "2026-03-13"),
        )
        .file(
            "year/6/fir/marked.json",
            record("6 Fir", "6", 4, "2026-03-13"),
        )
}

/// Every cell of a worksheet, a line a row.
fn text_of(bytes: &[u8], name: &str) -> String {
    let mut book: calamine::Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(bytes.to_vec())).expect("it is a workbook");
    let range = book.worksheet_range(name).expect(name);
    let rows: Vec<String> = range
        .rows()
        .map(|row| {
            let cells: Vec<String> = row.iter().map(calamine::Data::to_string).collect();
            cells.join("|")
        })
        .collect();
    rows.join("\n")
}

#[test]
fn a_year_of_marked_homeworks_becomes_one_workbook() {
    let school = school().arguments(["review", "year", "--out", "report"]);
    let run = school.run().succeeded();
    for file in ["attainment.html", "attainment.xlsx", "attainment.csv"] {
        assert!(run.stdout.contains(file), "{}", run.stdout);
        assert!(school.path("report").join(file).is_file(), "{file}");
    }
    for file in ["report/attainment.html", "report/attainment.csv"] {
        assert!(!school.read(file).contains("Secretname"), "{file}");
    }
    let path = school.path("report/attainment.xlsx");
    let bytes = std::fs::read(&path).expect("the workbook is there");
    for (name, wanted) in [
        ("Overview", "4 homeworks, 76 pupils"),
        ("Years", "5|44|"),
        ("Classes", "5 Oak|24|"),
        ("Classes", "6 Fir|fewer than 5 pupils"),
        ("Classes", "6 Ash|not shown, to protect a smaller group"),
        ("Skills", "Turns|76|"),
        ("Questions", "gears-7-11: "),
        ("Misconceptions", "upside down"),
    ] {
        let text = text_of(&bytes, name);
        assert!(text.contains(wanted), "{name}: {wanted}:\n{text}");
        assert!(!text.contains("Secretname"), "{name}: {text}");
    }
    school.run().succeeded();
    let again = std::fs::read(&path).expect("the workbook is still there");
    assert!(bytes == again, "two runs gave different files");
}

#[test]
fn every_problem_is_told_and_nothing_is_written() {
    let school = school()
        .file("broken/marked.json", "{\"format\": 1,")
        .file("empty/homework.json", "{}")
        .arguments([
            "review", "year", "broken", "nowhere", "empty", "--out", "report",
        ]);
    let run = school.run().ended_with(1);
    for place in ["broken", "nowhere", "empty"] {
        assert!(run.stderr.contains(place), "{place}: {}", run.stderr);
    }
    assert!(!school.path("report").exists(), "nothing is written");
}

#[test]
fn a_report_that_is_there_already_is_kept() {
    let school = school().arguments(["review", "year", "--out", "report"]);
    school.run().succeeded();
    let school = school
        .file(
            "year/new/marked.json",
            record("4 Yew", "4", 20, "2026-04-20"),
        )
        .anew()
        .arguments(["review", "year", "--out", "report"]);
    let run = school.run().succeeded();
    assert!(run.stdout.contains("Kept"), "{}", run.stdout);
    let files = std::fs::read_dir(school.path("report")).expect("it is there");
    assert_eq!(files.count(), 6, "the new ones and the dated copies");
}
