//! Pupils' lives as they are, through `review` from outside: moves, two homeworks a day,
//! work that comes twice, absence, mixed ages, ids that collide, terms, bands, and one
//! class for its own teacher.

use crate::program;
use calamine::Reader;
use std::collections::BTreeMap;
use std::io::Cursor;
use toothmark::attainment::bands;
use toothmark::attainment::calendar;
use toothmark::homework;
use toothmark::level;
use toothmark::marking;
use toothmark::marking::policy;

/// One record of one homework, made by hand.
struct Record(marking::Marked);

impl Record {
    /// A homework of this code, set on a date and marked three days later or so.
    fn new(code: &str, set_on: &str) -> Self {
        Self(marking::Marked {
            made_by: "0.1.0".to_owned(),
            code: code.to_owned(),
            title: "Gears".to_owned(),
            set_on: set_on.to_owned(),
            marked_on: set_on.to_owned(),
            keep_until: None,
            banks: Vec::new(),
            policy: policy::Policy::default(),
            pupils: Vec::new(),
            decisions: Vec::new(),
            second_looks: Vec::new(),
            notes: Vec::new(),
        })
    }

    fn marked_on(mut self, date: &str) -> Self {
        date.clone_into(&mut self.0.marked_on);
        self
    }

    /// Adds a pupil called `Name` and the id who has so many of two marks.
    fn pupil(self, id: &str, class: &str, year: &str, marks: u8) -> Self {
        let name = format!("Name {id}");
        self.named(id, &name, class, year, marks)
    }

    fn named(mut self, id: &str, name: &str, class: &str, year: &str, marks: u8) -> Self {
        let pupil = homework::Pupil {
            id: id.to_owned(),
            name: name.to_owned(),
            class: class.to_owned(),
            year: year.to_owned(),
            level: None,
            groups: BTreeMap::new(),
        };
        let state = match marks {
            0 => marking::State::Wrong,
            1 => marking::State::Partly,
            _ => marking::State::Correct,
        };
        self.0.pupils.push(marking::MarkedPupil {
            version: "A".to_owned(),
            attendance: marking::Attendance::Present,
            marks: vec![mark(&pupil.id, marks, state)],
            handed_in: None,
            pupil,
        });
        self
    }

    /// Adds so many pupils, `a0`, `a1` and so on, each with all marks.
    fn class(self, prefix: &str, pupils: usize, class: &str, year: &str) -> Self {
        (0..pupils).fold(self, |record, number| {
            record.pupil(&format!("{prefix}{number}"), class, year, 2)
        })
    }

    /// Makes every pupil so far absent.
    fn absent(mut self) -> Self {
        for entry in &mut self.0.pupils {
            entry.attendance = marking::Attendance::Absent;
            for mark in &mut entry.marks {
                mark.marks = 0;
                mark.state = marking::State::Absent;
            }
        }
        self
    }

    /// Gives every pupil so far a label.
    fn label(mut self, heading: &str, label: &str) -> Self {
        for entry in &mut self.0.pupils {
            let groups = &mut entry.pupil.groups;
            groups.insert(heading.to_owned(), label.to_owned());
        }
        self
    }

    /// Lets every pupil so far think that all gears turn alike.
    fn same_speed(mut self) -> Self {
        for mark in self.0.pupils.iter_mut().flat_map(|it| &mut it.marks) {
            mark.misconceptions = vec!["same-speed".to_owned()];
        }
        self
    }

    fn json(&self) -> String {
        marking::to_json(&self.0)
    }
}

fn mark(pupil_id: &str, marks: u8, state: marking::State) -> marking::Mark {
    marking::Mark {
        pupil_id: pupil_id.to_owned(),
        question: "Q1".to_owned(),
        bank: "gears-7-11".to_owned(),
        template: "turns-pair-down".to_owned(),
        skill: level::Skill::Turns,
        level: level::Level::new(4).expect("4 is a level"),
        typed: "4".to_owned(),
        read_as: "4".to_owned(),
        expected: "4".to_owned(),
        marks,
        out_of: 2,
        state,
        misconceptions: Vec::new(),
        reason: "made by hand".to_owned(),
        check: String::new(),
        code: "A1".to_owned(),
        like: String::new(),
        decided: None,
    }
}

/// A school with these records.
fn school(records: &[Record]) -> program::Program {
    let school = program::Program::new();
    records
        .iter()
        .enumerate()
        .fold(school, |school, (number, record)| {
            school.file(&format!("year/{number:02}/marked.json"), record.json())
        })
}

/// Every worksheet of the workbook that a review wrote, as text.
struct Workbook(BTreeMap<String, String>);

impl Workbook {
    fn of(school: &program::Program, path: &str) -> Self {
        let bytes = std::fs::read(school.path(path)).expect("the workbook is there");
        let mut book: calamine::Xlsx<_> =
            calamine::open_workbook_from_rs(Cursor::new(bytes)).expect("it is a workbook");
        let sheets = book.worksheets().into_iter().map(|(name, range)| {
            let rows: Vec<String> = range
                .rows()
                .map(|row| {
                    let cells: Vec<String> = row.iter().map(calamine::Data::to_string).collect();
                    cells.join("|")
                })
                .collect();
            (name, rows.join("\n"))
        });
        Self(sheets.collect())
    }

    fn has(&self, sheet: &str, wanted: &str) {
        let text = self.0.get(sheet).expect(sheet);
        assert!(text.contains(wanted), "{sheet}: {wanted}:\n{text}");
    }

    fn lacks(&self, unwanted: &str) {
        for (sheet, text) in &self.0 {
            assert!(!text.contains(unwanted), "{sheet}: {unwanted}:\n{text}");
        }
    }
}

/// Reviews records and returns what came out.
fn reviewed(records: &[Record]) -> Workbook {
    let school = school(records).arguments(["review", "year", "--out", "out"]);
    school.run().succeeded();
    Workbook::of(&school, "out/attainment.xlsx")
}

#[test]
fn a_pupil_who_moves_counts_where_they_were_and_once_in_all() {
    let book = reviewed(&[
        Record::new("K1", "2026-03-09").class("a", 12, "5 Oak", "5"),
        Record::new("K2", "2026-05-11").class("a", 12, "5 Elm", "5"),
        Record::new("K3", "2026-09-14").class("a", 12, "6 Ash", "6"),
    ]);
    book.has("Overview", "3 homeworks, 12 pupils, 36 answers");
    for class in ["5 Oak|12|100", "5 Elm|12|100", "6 Ash|12|100"] {
        book.has("Classes", class);
    }
    book.has("Years", "5|12|100|76 to 100 %|48|48|24");
    book.has("Overview", "12 pupils stand in more than one class");
    book.has("Overview", "12 pupils stand in more than one year");
}

#[test]
fn a_few_pupils_who_move_are_told_as_a_few() {
    let book = reviewed(&[
        Record::new("K1", "2026-03-09").class("a", 12, "5 Oak", "5"),
        Record::new("K2", "2026-05-11").class("a", 2, "5 Elm", "5"),
    ]);
    book.has(
        "Overview",
        "A few pupils (fewer than 5) stand in more than one class",
    );
}

#[test]
fn two_homeworks_on_one_day_both_count() {
    let book = reviewed(&[
        Record::new("K1", "2026-03-09").class("a", 12, "5 Oak", "5"),
        Record::new("K2", "2026-03-09").class("a", 12, "5 Oak", "5"),
    ]);
    book.has("Overview", "2 homeworks, 12 pupils, 24 answers");
    book.has(
        "Overview",
        "more than one homework on the same day (once): all of them count",
    );
}

#[test]
fn work_that_comes_twice_counts_once_and_the_newer_marking_of_it() {
    let class = |date: &str, marks| {
        (0..12).fold(
            Record::new("K1", "2026-03-09").marked_on(date),
            |record, number| record.pupil(&format!("a{number}"), "5 Oak", "5", marks),
        )
    };
    let newer = class("2026-03-20", 2);
    let older = class("2026-03-10", 0);
    // Copies of a folder are no second homework.
    let copy = class("2026-03-20", 2);
    let absent = class("2026-03-25", 0).absent();
    let book = reviewed(&[newer, older, copy, absent]);
    book.has("Overview", "1 homework, 12 pupils, 12 answers");
    book.has("Classes", "5 Oak|12|100|76 to 100 %|24|24|12");
    book.has(
        "Overview",
        "more than once for 36 pupils and homeworks; the newest was counted",
    );
}

#[test]
fn a_pupil_absent_throughout_is_no_pupil_of_any_row() {
    let book = reviewed(&[Record::new("K1", "2026-03-09")
        .class("b", 6, "5 Oak", "5")
        .absent()
        .class("a", 12, "5 Oak", "5")]);
    book.has("Classes", "5 Oak|12|100|76 to 100 %|24|24|12|0|0|0|0|0|6|0");
    book.has("Overview", "6 pupils handed in nothing at all");
}

#[test]
fn a_mixed_age_class_counts_together_and_each_year_for_itself() {
    let book = reviewed(&[Record::new("K1", "2026-03-09")
        .class("a", 11, "3/4 Elm", "3")
        .class("b", 13, "3/4 Elm", "4")]);
    book.has("Classes", "3/4 Elm|24|100");
    book.has("Years", "3|11|100");
    book.has("Years", "4|13|100");
    book.has(
        "Overview",
        "Pupils of more than one year in one class (3/4 Elm)",
    );
}

#[test]
fn one_id_with_two_names_is_two_pupils_and_is_told() {
    let hill = Record::new("K1", "2026-03-09").class("a", 12, "5 Oak", "5");
    let dale = (0..12).fold(Record::new("K2", "2026-03-09"), |record, number| {
        record.named(
            &format!("a{number}"),
            &format!("Other {number}"),
            "5 Oak",
            "5",
            2,
        )
    });
    let book = reviewed(&[hill, dale]);
    book.has("Overview", "2 homeworks, 24 pupils");
    book.has("Overview", "24 pupils share a pupil id with another name");
    // The same name typed otherwise is no other name.
    let typed = (0..12).fold(Record::new("K2", "2026-03-16"), |record, number| {
        record.named(
            &format!("a{number}"),
            &format!("NAME  a{number}"),
            "5 Oak",
            "5",
            2,
        )
    });
    let hill = Record::new("K1", "2026-03-09").class("a", 12, "5 Oak", "5");
    reviewed(&[hill, typed]).has("Overview", "2 homeworks, 12 pupils");
}

#[test]
fn a_column_school_tells_pupils_and_classes_apart() {
    let of = |code: &str, school: &str| {
        let class = Record::new(code, "2026-03-09").class("a", 12, "5 Oak", "5");
        class.label("school", school)
    };
    let book = reviewed(&[of("K1", "Hill"), of("K2", "Dale")]);
    book.has("Overview", "2 homeworks, 24 pupils");
    book.has("Classes", "5 Oak (Hill)|12|100");
    book.has("Classes", "5 Oak (Dale)|12|100");
    book.has("Groups", "school: Dale|12|");
    book.lacks("share a pupil id");
}

#[test]
fn records_of_earlier_versions_are_read_and_other_formats_refused() {
    let school = program::Program::new()
        .file(
            "old/marked.json",
            include_str!("../cases/earlier-version/marked.json"),
        )
        .arguments(["review", "old", "--out", "out"]);
    school.run().succeeded();
    let school = school
        .file("old/a/marked.json", "{\"format\": 0}")
        .file("old/b/marked.json", "{\"format\": 2, \"anything\": []}");
    let run = school.run().ended_with(1);
    for wanted in ["found a record of format 0", "found a record of format 2"] {
        assert!(run.stderr.contains(wanted), "{wanted}: {}", run.stderr);
    }
}

const CALENDAR: &str = r#"
[[term]]
label = "Spring 2"
year = "2025/26"
first = "2026-02-23"
last = "2026-03-27"

[[term]]
label = "Autumn 1"
year = "2026/27"
first = "2026-09-02"
last = "2026-10-23"
"#;

#[test]
fn terms_are_the_schools_and_none_are_claimed_without_its_calendar() {
    let records = || {
        [
            Record::new("K1", "2026-03-09").class("a", 12, "5 Oak", "5"),
            Record::new("K2", "2026-09-14").class("b", 10, "5 Oak", "5"),
            Record::new("K3", "2026-07-25").class("c", 11, "5 Oak", "5"),
        ]
    };
    let school = school(&records()).file("terms.toml", CALENDAR).arguments([
        "review",
        "year",
        "--calendar",
        "terms.toml",
        "--out",
        "out",
    ]);
    school.run().succeeded();
    let book = Workbook::of(&school, "out/attainment.xlsx");
    book.has("Terms", "2025/26 Spring 2|12|100");
    book.has("Terms", "2026/27 Autumn 1|10|100");
    book.has("Terms", "outside the calendar's terms|11|100");
    book.has("School years", "2026/27|10|100");
    book.has("Coverage", "Skill|Turns|2025/26 Spring 2|5|1");
    book.has("Overview", "1 homework was set on a day that is in no term");
    let book = reviewed(&records());
    assert!(!book.0.contains_key("Terms"), "no term is claimed");
    book.has("Coverage", "Skill|Turns|2026-03-09|5|1");
    book.has("Coverage", "Skill|Ratio|not asked||0");
    book.has("Coverage", "Mathematics, ratio and proportion, Year 6|");
}

const BANDS: &str = r#"
name = "Our bands"

[[band]]
label = "Building"
from = 0

[[band]]
label = "Secure"
from = 60
"#;

#[test]
fn bands_are_the_schools_own_and_count_no_small_group() {
    let records = [
        (0..9).fold(
            Record::new("K1", "2026-03-09").class("a", 12, "5 Oak", "5"),
            |record, number| record.pupil(&format!("b{number}"), "5 Oak", "5", 1),
        ),
        (0..12).fold(
            Record::new("K2", "2026-03-09").class("c", 12, "6 Ash", "6"),
            |record, number| record.pupil(&format!("d{number}"), "6 Ash", "6", 1),
        ),
        Record::new("K3", "2026-03-09").class("e", 3, "6 Fir", "6"),
    ];
    let plain = school(&records).arguments(["review", "year", "--out", "out"]);
    plain.run().succeeded();
    let book = Workbook::of(&plain, "out/attainment.xlsx");
    assert!(!book.0.contains_key("Bands"), "no band is built in");
    let school = school(&records).file("bands.toml", BANDS).arguments([
        "review",
        "year",
        "--bands",
        "bands.toml",
        "--out",
        "out",
    ]);
    school.run().succeeded();
    let book = Workbook::of(&school, "out/attainment.xlsx");
    book.has("Bands", "Our bands");
    book.has("Bands", "Building (from 0 %)|Secure (from 60 %)");
    book.has("Bands", "All|All|21|27|0");
    book.has(
        "Bands",
        "Class|6 Fir|fewer than 5 pupils|fewer than 5 pupils",
    );
    book.has("Bands", "Class|5 Oak|9|12|0");
    book.has("Bands", "Class|6 Ash|not shown");
}

#[test]
fn every_fault_of_the_schools_files_is_told_at_once() {
    let school = school(&[Record::new("K1", "2026-03-09").class("a", 12, "5 Oak", "5")])
        .file("terms.toml", "[[term]]\nlabel = \"Autumn\"\n")
        .file(
            "bands.toml",
            "[[band]]\nlabel = \"Greater depth\"\nfrom = 10\n",
        )
        .file("statements.toml", "title = 5\n")
        .arguments(["review", "year", "--calendar", "terms.toml"])
        .arguments(["--bands", "bands.toml", "--curriculum", "statements.toml"])
        .arguments(["--out", "out"]);
    let run = school.run().ended_with(1);
    for wanted in [
        "terms.toml:1:1: `year` is missing",
        "terms.toml:1:1: `first` is missing",
        "bands.toml:2:9: found \"Greater depth\", which belongs to a statutory judgement",
        "bands.toml:3:8: the lowest band begins at 10",
        "statements.toml:1:9: `title`",
        "statements.toml:1:1: `source` is missing",
    ] {
        assert!(run.stderr.contains(wanted), "{wanted}: {}", run.stderr);
    }
    assert!(!school.path("out").exists(), "nothing is written");
}

#[test]
fn a_class_is_told_by_name_to_its_own_teacher_only() {
    let oak = |code: &str, set_on: &str| {
        Record::new(code, set_on)
            .pupil("a1", "5 Oak", "5", 0)
            .same_speed()
            .class("b", 3, "5 Oak", "5")
    };
    let school = school(&[
        oak("K1", "2026-03-09"),
        oak("K2", "2026-03-16"),
        Record::new("K3", "2026-03-23").pupil("a1", "5 Elm", "5", 2),
        Record::new("K4", "2026-03-23").class("s", 12, "6 Ash", "6"),
    ]);
    let school = school.arguments(["review", "year", "--for-class", "5 Oak", "--out", "out"]);
    let run = school.run().succeeded();
    assert!(run.stdout.contains("own teacher only"), "{}", run.stdout);
    assert!(!run.stdout.contains("Name a1"), "{}", run.stdout);
    assert!(
        !school.path("out/attainment.xlsx").exists(),
        "another audience"
    );
    let book = Workbook::of(&school, "out/class.xlsx");
    for sheet in ["Pupils", "Skills", "Homeworks"] {
        book.has(sheet, "It is for the teacher of this class only");
    }
    // What was done in 5 Elm is not counted here.
    book.has("Pupils", "a1|Name a1|5|2|2|0|4|0|");
    book.has("Pupils", "(2 answers)");
    book.has("Pupils", "Turns (0 of 4 marks): ");
    book.has("Skills", "b0|Name b0|Turns|2|0|0|4|4");
    book.lacks("Name s0");
    book.lacks("2026-03-23");

    let school = school.anew();
    let school = school.arguments(["review", "year", "--for-class", "5 Oka", "--out", "out"]);
    let run = school.run().ended_with(1);
    assert!(run.stderr.contains("is it \"5 Oak\"?"), "{}", run.stderr);
}

#[test]
fn the_calendar_and_bands_of_the_invented_school_are_sound() {
    let calendar = calendar::read(
        include_str!("../../sample-classes/terms.toml"),
        "terms.toml",
    );
    let calendar = calendar.expect("it is sound");
    assert_eq!(calendar.terms().len(), 6);
    assert!(
        calendar.term("2025-10-07").is_some(),
        "the day of the tour's homework"
    );
    let bands = bands::read(
        include_str!("../../sample-classes/bands.toml"),
        "bands.toml",
    );
    assert_eq!(bands.expect("they are sound").bands.len(), 3);
}
