//! Answer workbooks as real people leave them.

use super::*;
use crate::workbook::examples;

const HEADINGS: &str = "Pupil ID,Pupil,Q1,Q1 working,Q2,Q3a,Q3b,Q4,Attendance\n";

/// The answers of a csv file with our headings.
fn answers(rows: &str) -> Result<Answers, Vec<problem::Problem>> {
    let text = format!("{HEADINGS}{rows}");
    read("answers.csv", text.as_bytes(), &examples::homework())
}

/// What was typed, as `id: number text`, and what was told.
fn typed(answers: &Answers) -> Vec<String> {
    answers
        .responses
        .iter()
        .flat_map(|response| {
            response
                .answers
                .iter()
                .map(|(number, typed)| format!("{}: {number} {}", response.pupil_id, typed.text))
        })
        .collect()
}

fn told(problems: &[problem::Problem]) -> Vec<String> {
    problems
        .iter()
        .map(|problem| format!("{}: {}", problem.place, problem.what))
        .collect()
}

#[test]
fn answers_are_found_by_their_headings() {
    let found = answers("P02,Ben Example,2,6/3=2,clockwise,3:1,an idler,\"8, 16\",\nP01,,7,,,,,,\nP03,,,,,,,,absent\n")
        .expect("good answers");
    assert_eq!(
        typed(&found),
        [
            "P01: Q1 7",
            "P02: Q1 2",
            "P02: Q2 clockwise",
            "P02: Q3a 3:1",
            "P02: Q3b an idler",
            "P02: Q4 8, 16"
        ]
    );
    let ben = found.responses.get(1).expect("three pupils");
    assert_eq!(
        ben.working.get("Q1").map(|typed| typed.text.as_str()),
        Some("6/3=2")
    );
    let cat = found.responses.get(2).expect("three pupils");
    assert_eq!(cat.attendance, marking::Attendance::Absent);
    assert!(found.notices.is_empty());
}

#[test]
fn columns_may_be_moved_renamed_in_case_and_surrounded_by_notes() {
    let text = "Ashwhistle School\nHomework code,ql-7f3\n\n\
                notes,q4,Q3 (b),q3A,question 2,Q2 notes,Q1 working,Q1,pupil_id\n\
                left early,,an idler,3:1,cw,check this,,2,p01\n\nAverage,,,,,,,,\n";
    let found = read("a.csv", text.as_bytes(), &examples::homework()).expect("good answers");
    assert_eq!(
        typed(&found),
        [
            "P01: Q1 2",
            "P01: Q2 cw",
            "P01: Q3a 3:1",
            "P01: Q3b an idler"
        ]
    );
    assert!(found.notices.is_empty());
}

#[test]
fn a_form_export_has_its_questions_behind_their_numbers() {
    let text = "Timestamp,Pupil ID,Q1. How many turns?,\"Q1 working, if any\",Q2: Which way?,Q3a The ratio,Q3b,Q4,Q7\n\
                2026-03-04 09:00,P03,4,12/3,acw,1:3,,,\n";
    let found = read("form.csv", text.as_bytes(), &examples::homework()).expect("good answers");
    assert_eq!(typed(&found), ["P03: Q1 4", "P03: Q2 acw", "P03: Q3a 1:3"]);
    assert_eq!(
        told(&found.notices).first().map(String::as_str),
        Some("form.csv: I1: Q7 is no question of this homework; it is not marked")
    );
}

#[test]
fn every_problem_is_told_at_once_with_its_cell() {
    let problems = answers(
        "P01,Ann Example,2,,,,,,ill\n\
         P01,,3,,,,,,\n\
         P09,,3,,,,,,\n\
         ,Cat Example,3,,,,,,\n\
         P02,Cat Example,3,,,,,,\n\
         P03,,3,,,,,,absent\n",
    )
    .expect_err("six problems");
    assert_eq!(
        told(&problems),
        [
            "answers.csv: I2: attendance: found ill, looked for absent or excused",
            "answers.csv: A3: found the pupil id P01 a second time, first in A2",
            "answers.csv: A4: P09 is no pupil id of this homework",
            "answers.csv: A5: found answers in a row without a pupil id",
            "answers.csv: A6: the pupil id P02 belongs to Ben Example, but the row says Cat Example",
            "answers.csv: I7: the pupil P03 is said to be away, but has answers",
        ]
    );
    assert_eq!(
        problems.get(3).expect("six").hint,
        "Cat Example has the pupil id P03: type it here"
    );
}

#[test]
fn missing_and_repeated_columns_are_told() {
    let text = "Pupil ID,Q1,Q1,Q2,Q3b\nP01,2,3,cw,\n";
    let problems = read("a.csv", text.as_bytes(), &examples::homework()).expect_err("two problems");
    assert_eq!(
        told(&problems),
        [
            "a.csv: C1: found the heading Q1 a second time, first in B1",
            "a.csv: A1: no column has the heading Q3a, Q4"
        ]
    );
    let text = "Pupil ID,Q1,Q1,Q2,Q3a,Q3b,Q4\nP01,,3,cw,,,\n";
    let found = read("a.csv", text.as_bytes(), &examples::homework()).expect("one Q1 is empty");
    assert_eq!(typed(&found), ["P01: Q1 3", "P01: Q2 cw"]);
}

#[test]
fn answers_of_another_homework_and_other_files_are_refused() {
    let text = format!("Homework code,QL-000\n{HEADINGS}P01,,2,,,,,,\n");
    let problems = read("a.csv", text.as_bytes(), &examples::homework()).expect_err("other code");
    assert_eq!(
        told(&problems),
        ["a.csv: B1: found the code QL-000, looked for QL-7F3 of this homework"]
    );
    let problems = read("a.csv", b"Pupil,Mark\nAnn,3\n", &examples::homework())
        .expect_err("no table of answers");
    assert_eq!(
        told(&problems),
        ["a.csv: no worksheet has a table of answers"]
    );
    assert!(
        problems
            .first()
            .expect("one")
            .hint
            .starts_with("found Pupil in A1")
    );
}

#[test]
fn an_answer_to_a_question_not_on_the_sheet_is_left_out_and_told() {
    let found = answers("P03,,,,,,,\"8, 16\",\n").expect("good answers");
    assert!(typed(&found).is_empty());
    assert_eq!(
        told(&found.notices).first().map(String::as_str),
        Some("answers.csv: H2: Q4 is not on this pupil's sheet; the answer is left out")
    );
}

#[test]
fn lost_leading_zeros_of_an_id_are_forgiven() {
    let mut homework = examples::homework();
    for (assignment, id) in homework.pupils.iter_mut().zip(["007", "008", "009"]) {
        assignment.pupil.id = id.to_owned();
    }
    let text = format!("{HEADINGS}7,,2,,,,,,\n");
    let found = read("a.csv", text.as_bytes(), &homework).expect("good answers");
    assert_eq!(typed(&found), ["007: Q1 2"]);
}

/// What was typed into a filled workbook, by number, with every reading.
fn readings(file: &str) -> Vec<String> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/reference/filled-answers")
        .join(file);
    let bytes = std::fs::read(path).expect("the reference file is there");
    let found = read(file, &bytes, &examples::homework()).expect("a good workbook");
    assert!(found.notices.is_empty(), "{file}");
    let away = found.responses.get(2).expect("three pupils").attendance;
    assert_eq!(away, marking::Attendance::Absent, "{file}");
    found
        .responses
        .iter()
        .flat_map(|response| response.answers.iter().chain(&response.working))
        .map(|(number, typed)| {
            let undone: Vec<&str> = typed
                .undone
                .iter()
                .map(|undone| undone.text.as_str())
                .collect();
            format!("{number} {} {}", typed.text, undone.join(" or "))
        })
        .collect()
}

#[test]
fn a_workbook_filled_and_saved_by_a_spreadsheet_program_gives_back_what_was_typed() {
    let wanted = [
        "Q1 2 ",
        "Q2 clockwise ",
        "Q3a 3:1 ",
        "Q3b an idler ",
        "Q4 8, 16 ",
        "Q1 36/12=3 ",
        "Q1 2 1/2 2 1/2 or 5/2 or 2.5",
        "Q2 the other way ",
        "Q3a 3 January 2026 1/3 or 3/1 or 1-3 or 3-1",
        "Q3b no idea ",
        "Q4 16 and 24 ",
        "Q3a 03:01:00 3:1",
    ];
    // The last has its rows sorted, a column hidden, and rows and columns inserted.
    for file in [
        "filled.xlsx",
        "filled.xlsm",
        "filled.xls",
        "filled.ods",
        "moved.xlsx",
    ] {
        assert_eq!(readings(file), wanted, "{file}");
    }
}

#[test]
fn of_two_rows_of_one_pupil_an_empty_one_does_not_count() {
    let found = answers("P01,,,,,,,,\nP01,,7,,,,,,\nP01,,,,,,,,\n").expect("good answers");
    assert_eq!(typed(&found), ["P01: Q1 7"]);
}
