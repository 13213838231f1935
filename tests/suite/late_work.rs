//! Late and absent pupils, marked later into the same results.

use crate::decisions::{class, class_marked_then, mark, mark_of, marked};
use crate::person::Book;
use crate::program::{Program, Run};
use rust_xlsxwriter::{Format, Workbook};
use std::fs;
use toothmark::marking;

const HEADINGS: &str = "Pupil ID,Pupil,Attendance,Q1,Q2,Q3,Q4,Q5,Q5 working,Q6,Q6 working\n";
const P1: &str = "P1,Runa Larkmoor,,A,C,24,no,12 no 8,16 x 12 = 192; 192 / 24 = 8,9:5,\n";
const P2: &str = "P2,Milos Quenby,,A,A,24,yes,32,,1:1.8,\n";
const P3: &str = "P3,Dilys Tarnholme,,A,C,24,no,8,,9:5,\n";
const P4: &str = "P4,Oke Farrowby,,B,C,16,no,8,,9:5,\n";

/// The class's homework with these rows handed in, and marked.
fn handed_in(rows: &[&str]) -> Program {
    let program = class().file("hw/answers.csv", file(rows));
    mark(program, &["hw/answers.csv"]).0
}

fn file(rows: &[&str]) -> String {
    format!("{HEADINGS}{}", rows.concat())
}

/// Marks a late file into the same results.
fn late(program: Program, rows: &[&str]) -> (Program, Run) {
    mark(program.file("hw/late.csv", file(rows)), &["hw/late.csv"])
}

/// The marks of a pupil, with a question mark where a person should look.
fn short(found: &marking::Marked, pupil: &str) -> String {
    let entry = found.pupils.iter().find(|entry| entry.pupil.id == pupil);
    let marks = entry.expect("the pupil").marks.iter().map(|mark| {
        let look = if mark.check.is_empty() { "" } else { "?" };
        format!("{}{look}", mark.marks)
    });
    marks.collect::<Vec<_>>().join(" ")
}

fn origin<'a>(found: &'a marking::Marked, pupil: &str) -> (&'a str, &'a str) {
    let entry = found.pupils.iter().find(|entry| entry.pupil.id == pupil);
    let handed_in = entry.expect("the pupil").handed_in.as_ref();
    let origin = &handed_in.expect("something was handed in").origin;
    (&origin.file.name, &origin.first_marked)
}

#[test]
fn late_pupils_join_and_everybody_else_is_kept() {
    let program = handed_in(&[P1, P2]);
    let before = marked(&program);
    let (mut program, mut run) = late(program, &[P4]);
    let found = marked(&program);
    assert_eq!(found.pupils[0], before.pupils[0]);
    assert_eq!(found.pupils[1], before.pupils[1]);
    assert_eq!(short(&found, "P4"), "0 1 0 1 2 2");
    assert_eq!(mark_of(&found, "P3", "Q1").state, marking::State::Absent);
    let today = found.marked_on.as_str();
    assert_eq!(origin(&found, "P1"), ("answers.csv", today));
    assert_eq!(origin(&found, "P4"), ("late.csv", today));
    let told = "Added from late.csv: 1 pupil. Kept from before, and marked again: 2 pupils.";
    assert_eq!(found.notes[0], told);
    assert!(run.stdout.contains(told), "{}", run.stdout);
    // Whichever file is marked again, nobody is lost.
    for name in ["hw/answers.csv", "hw/late.csv"] {
        (program, run) = mark(program, &[name]);
        assert!(run.stdout.contains("Kept from before"), "{}", run.stdout);
        assert_eq!(marked(&program).pupils, found.pupils);
    }
}

#[test]
fn kept_pupils_are_marked_again_by_the_policy_of_the_day() {
    let program = handed_in(&[P1, P2]).file("strict.toml", "misconception_credit = false\n");
    assert_eq!(short(&marked(&program), "P2"), "1 0 1 0 1 1");
    let program = program.file("hw/late.csv", file(&[P4]));
    let (program, _) = mark(program, &["hw/late.csv", "--policy", "strict.toml"]);
    assert_eq!(short(&marked(&program), "P2"), "1 0 1 0 0 1");
}

/// An answer workbook in which a spreadsheet program made a time of a ratio.
fn with_a_time() -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Answers").expect("a name");
    for (column, heading) in (0_u16..).zip(HEADINGS.trim().split(',')) {
        sheet.write_string(0, column, heading).expect("written");
    }
    for (column, text) in [(0, "P1"), (7, "3"), (8, "16 x 12 = 192; 192 / 24 = 3")] {
        sheet.write_string(1, column, text).expect("written");
    }
    let time = Format::new().set_num_format("hh:mm:ss");
    let nine_five = (9.0 * 60.0 + 5.0) / 1440.0;
    sheet
        .write_number_with_format(1, 9, nine_five, &time)
        .expect("written");
    book.save_to_buffer().expect("a workbook")
}

#[test]
fn what_a_spreadsheet_changed_and_the_working_are_kept_too() {
    let program = class().file("hw/answers.xlsx", with_a_time());
    let (program, _) = mark(program, &["hw/answers.xlsx"]);
    let before = marked(&program);
    let ratio = mark_of(&before, "P1", "Q6");
    assert_eq!((ratio.typed.as_str(), ratio.marks), ("09:05:00", 2));
    let turns = mark_of(&before, "P1", "Q5");
    assert_eq!(turns.marks, 1, "the method mark: {turns:?}");
    let (program, _) = late(program, &[P4]);
    let found = marked(&program);
    assert_eq!(found.pupils[0], before.pupils[0]);
    // And a record comes back as it was.
    let text = program.read("hw/marked.json");
    assert_eq!(marking::to_json(&found), text);
    for part in ["\"undone\"", "\"working\"", "\"handed_in\""] {
        assert!(text.contains(part), "{part}");
    }
}

#[test]
fn an_empty_row_in_the_pupil_s_own_file_means_that_it_was_cleared() {
    let program = handed_in(&[P1, P2]);
    let (program, run) = mark(
        program.file("hw/answers.csv", file(&["P1,Runa Larkmoor\n"])),
        &["hw/answers.csv"],
    );
    let found = marked(&program);
    assert_eq!(short(&found, "P1"), "0 0 0 0 0 0");
    assert_eq!(mark_of(&found, "P2", "Q1").state, marking::State::Absent);
    let told = "Answers that stood in answers.csv at the last marking are gone from it: 2 pupils.";
    assert!(
        found.notes.iter().any(|note| note == told),
        "{:?}",
        found.notes
    );
    // What was there is kept beside it all the same.
    let date = &found.marked_on;
    for name in [format!("marked {date}.json"), format!("marked {date}.xlsx")] {
        assert!(run.stdout.contains(&name), "{}", run.stdout);
        assert!(program.path(&format!("hw/{name}")).is_file(), "{name}");
    }
}

#[test]
fn a_copy_of_the_answer_workbook_with_only_the_late_rows_is_another_file() {
    let program = handed_in(&[P1, P2]).file("late/answers.csv", file(&["P1,\n", "P2,\n", P4]));
    let arguments = [
        "late/answers.csv",
        "--homework",
        "hw/homework.json",
        "--out",
        "hw",
    ];
    let (mut program, _) = mark(program, &arguments);
    for _ in 0..2 {
        let found = marked(&program);
        assert_eq!(short(&found, "P1"), "1 1 1 1 2? 2");
        assert_eq!(short(&found, "P4"), "0 1 0 1 2 2");
        (program, _) = mark(program, &["hw/answers.csv"]);
    }
    let text = program.read("hw/marked.json");
    assert!(text.contains("\"place\": \"elsewhere "), "{text}");
}

#[test]
fn of_two_files_with_different_answers_the_later_one_counts_and_what_changed_is_shown() {
    let program = handed_in(&[P1, P2]);
    let second = "P2,Milos Quenby,,A,c,24,YES,8,,\n";
    let (mut program, run) = late(program, &[second]);
    let told = "Milos Quenby (P2) handed in other answers before, in answers.csv; those in \
                late.csv count. Look at the answers that changed.";
    assert!(run.stdout.contains(told), "{}", run.stdout);
    let found = marked(&program);
    assert_eq!(short(&found, "P2"), "1 1? 1 0 2? 0?");
    let checks = ["Q2", "Q5", "Q6"].map(|question| mark_of(&found, "P2", question).check.clone());
    assert_eq!(
        checks,
        [
            "in answers.csv the answer was \"A\"",
            "in answers.csv the answer was \"32\"",
            "in answers.csv the answer was \"1:1.8\"",
        ]
    );
    assert_eq!(
        mark_of(&found, "P1", "Q1").marks,
        1,
        "who is not in it is kept"
    );
    // Marking the first file again does not bring back what was replaced, and what
    // nobody has looked at yet is shown again.
    for name in ["hw/answers.csv", "hw/late.csv"] {
        (program, _) = mark(program, &[name]);
        assert_eq!(marked(&program).pupils[1], found.pupils[1], "{name}");
    }
    // Decided, it is settled; the others wait on.
    let book = Book::open(&fs::read(program.path("hw/marked.xlsx")).expect("a workbook"));
    let row: &[(&str, &str)] = &[("Question", "Q2"), ("Answer", "c")];
    let book = book.types("To check", row, "Your mark", "1");
    let (program, _) = mark(
        program.file("hw/marked.xlsx", book.save()),
        &["hw/late.csv"],
    );
    assert_eq!(short(&marked(&program), "P2"), "1 1 1 0 2? 0?");
    // Typed over in the first file since, that counts.
    let third = "P2,Milos Quenby,,B,A,24,yes,32,,1:1.8,\n";
    let (program, _) = mark(
        program.file("hw/answers.csv", file(&[P1, third])),
        &["hw/answers.csv"],
    );
    let found = marked(&program);
    assert_eq!(found.pupils[1].marks[0].typed, "B");
    assert_eq!(origin(&found, "P2").0, "answers.csv");
    // And typed back to what it was at first, that: a file is what it last was.
    let (program, _) = mark(
        program.file("hw/answers.csv", file(&[P1, P2])),
        &["hw/answers.csv"],
    );
    assert_eq!(marked(&program).pupils[1].marks[0].typed, "A");
}

#[test]
fn who_is_said_to_be_away_and_hands_in_later_is_marked() {
    let absent = "P4,Oke Farrowby,absent\n";
    let excused = "P3,Dilys Tarnholme,excused\n";
    let program = handed_in(&[P1, excused, absent]);
    assert_eq!(short(&marked(&program), "P4"), "0 0 0 0 0 0");
    let (program, _) = late(program, &[P4]);
    let found = marked(&program);
    assert_eq!(short(&found, "P4"), "0 1 0 1 2 2");
    assert_eq!(mark_of(&found, "P3", "Q1").state, marking::State::Excused);
    // The first file still says absent: the work counts, and that is told.
    let (program, run) = mark(program, &["hw/answers.csv"]);
    assert_eq!(short(&marked(&program), "P4"), "0 1 0 1 2 2");
    let told = "Oke Farrowby (P4) is said to be away in answers.csv, but handed in late.csv, \
                which counts.";
    assert!(run.stdout.contains(told), "{}", run.stdout);
}

#[test]
fn decisions_hold_for_late_answers_too() {
    let program = handed_in(&[P1]);
    let book = Book::open(&fs::read(program.path("hw/marked.xlsx")).expect("a workbook"));
    let row: &[(&str, &str)] = &[("Question", "Q5"), ("Answer", "12 no 8")];
    let book = book.types("To check", row, "Your mark", "1");
    let program = program.file("hw/marked.xlsx", book.save());
    let same = P4.replace(",8,,", ",12 NO  8,16 x 12 = 192; 192 / 24 = 8,");
    let (program, _) = late(program, &[&same]);
    let found = marked(&program);
    for pupil in ["P1", "P4"] {
        let mark = mark_of(&found, pupil, "Q5");
        assert_eq!((mark.marks, mark.check.as_str()), (1, ""), "{pupil}");
    }
}

#[test]
fn late_work_joins_the_record_of_an_earlier_version() {
    let program = class_marked_then();
    let before = marked(&program);
    let (program, _) = late(program, &[P3]);
    let found = marked(&program);
    let marks = |of: &marking::Marked, pupil: usize| -> Vec<u8> {
        of.pupils[pupil]
            .marks
            .iter()
            .map(|mark| mark.marks)
            .collect()
    };
    // Its answers are there without their working, which told what was decided.
    assert_eq!(marks(&found, 1), marks(&before, 1));
    assert_eq!(short(&found, "P3"), "1 1 1 1 2 2");
    assert_eq!(origin(&found, "P2"), ("", before.marked_on.as_str()));
    assert!(
        found
            .notes
            .iter()
            .any(|note| note.contains("mark their own file again")),
        "{:?}",
        found.notes
    );
    // With their own file, everything is as it was, and the late pupil is kept.
    let (program, _) = mark(program, &["hw/answers.csv"]);
    let found = marked(&program);
    assert_eq!(marks(&found, 0), marks(&before, 0));
    assert_eq!(origin(&found, "P2").0, "answers.csv");
    assert_eq!(short(&found, "P3"), "1 1 1 1 2 2");
}
