//! Second marks as another person leaves them.

use super::*;
use crate::workbook::examples;

const SEED: &str = "autumn";

/// The marked class of the examples with a whole sample of it in the record.
fn marked() -> marking::Marked {
    let mut marked = examples::marked();
    let share = second_look::Share::new(crate::number::Number::ONE).expect("a share");
    let plan = second_look::Plan {
        seed: SEED,
        share,
        date: "2026-03-09",
    };
    let look = second_look::draw(&marked, &plan).expect("answers");
    marked.second_looks = vec![look];
    marked
}

/// The row code of an answer.
fn code(marked: &marking::Marked, pupil: &str, question: &str) -> String {
    second_look::row_codes(marked, SEED)
        .into_iter()
        .find(|(_, mark)| mark.pupil_id == pupil && mark.question == question)
        .expect("the answer is there")
        .0
}

/// A file with these rows below our heading lines.
fn file(rows: &str) -> String {
    format!(
        "Second look: Gears & turns\nHomework code: QL-7F3\nSeed of the sample: {SEED}\n\
         Share of the answers: 100%\nDrawn on: 2026-03-09\n{rows}"
    )
}

fn read_on(
    date: &str,
    marked: &marking::Marked,
    text: &str,
) -> Result<Option<GivenBack>, Vec<problem::Problem>> {
    let known = Known {
        file: "second-look.xlsx",
        marked,
        date,
    };
    read(&known, text.as_bytes())
}

fn given(marked: &marking::Marked, text: &str) -> GivenBack {
    read_on("2026-03-12", marked, text)
        .expect("good marks")
        .expect("some marks")
}

fn told(marked: &marking::Marked, text: &str) -> Vec<String> {
    read_on("2026-03-12", marked, text)
        .expect_err("problems")
        .iter()
        .map(|problem| format!("{}: {}", problem.place, problem.what))
        .collect()
}

/// The answers with a second mark, as `pupil question first second`.
fn seconds(look: &second_look::Look) -> Vec<String> {
    let mut said: Vec<String> = look
        .rows
        .iter()
        .filter_map(|row| {
            let second = row.second?;
            Some(format!(
                "{} {} {} {second}",
                row.pupil_id, row.question, row.first
            ))
        })
        .collect();
    said.sort();
    said
}

#[test]
fn marks_find_their_way_back_by_the_row_code() {
    let marked = marked();
    let ann = code(&marked, "P01", "Q1");
    let ben = code(&marked, "P02", "Q3").to_lowercase();
    // Columns moved, rows sorted, the heading row repeated, an own column added.
    let text = file(&format!(
        "note,second mark,Question,Row code\nsure,0,Q3,{ben}\n,Second mark,Question,Row code\n\
         ,,Q2,R99999\n,2,Q1,{ann}\n"
    ));
    let given = given(&marked, &text);
    assert_eq!(given.origin, Origin::Record);
    assert_eq!(given.look.given_back_on, "2026-03-12");
    assert_eq!(seconds(&given.look), ["P01 Q1 2 2", "P02 Q3 1 0"]);
    // Read again later, the same marks keep their day; other marks get a new one.
    let mut later = marked.clone();
    later.second_looks = vec![given.look.clone()];
    let again = read_on("2026-04-01", &later, &text).expect("good marks");
    assert_eq!(again.expect("some marks").look, given.look);
    let other = text.replace("sure,0", "sure,2");
    let again = read_on("2026-04-01", &later, &other).expect("good marks");
    assert_eq!(again.expect("some").look.given_back_on, "2026-04-01");
}

#[test]
fn a_file_without_marks_gives_nothing_back() {
    let marked = marked();
    let text = file("Row code,Question,Second mark\nR33333,Q1,\n");
    assert_eq!(read_on("2026-03-12", &marked, &text), Ok(None));
}

#[test]
fn marks_that_cannot_be_used_are_told_all_at_once() {
    let marked = marked();
    let q1 = code(&marked, "P01", "Q1");
    let q2 = code(&marked, "P01", "Q2");
    let text = file(&format!(
        "Row code,Second mark\n{q1},3\n{q2},half\nR99999,1\n{q1},1\n{q1},2\n"
    ));
    assert_eq!(
        told(&marked, &text),
        [
            "second-look.xlsx: B7: second mark: found 3, looked for a whole number from 0 to 2"
                .to_owned(),
            "second-look.xlsx: B8: second mark: found half, looked for a whole number from 0 to 1"
                .to_owned(),
            "second-look.xlsx: A9: row code R99999 is not of this sample".to_owned(),
            format!("second-look.xlsx: B11: row code {q1} stands there twice, with 1 and with 2"),
        ]
    );
    let text = file("Row code,Second mark\n,1\n");
    assert_eq!(
        told(&marked, &text),
        ["second-look.xlsx: B7: a mark stands in a row without its Row code"]
    );
    assert_eq!(
        told(&marked, "Question,Mark\nQ1,1\n"),
        ["second-look.xlsx: found no table with the headings Row code and Second mark"]
    );
}

#[test]
fn another_homework_and_missing_lines_are_told() {
    let marked = marked();
    let q1 = code(&marked, "P01", "Q1");
    let rows = format!("Row code,Second mark\n{q1},1\n");
    let text = file(&rows).replace("QL-7F3", "QL-000");
    assert_eq!(
        told(&marked, &text),
        ["second-look.xlsx: A2: found the code QL-000, looked for QL-7F3 of this homework"]
    );
    let problems = told(&marked, &rows);
    assert_eq!(problems.len(), 4, "{problems:?}");
    assert!(
        problems[1].contains("\"Seed of the sample\""),
        "{problems:?}"
    );
}

#[test]
fn without_the_record_today_s_marks_come_first() {
    let mut marked = marked();
    let (q1, q2) = (code(&marked, "P01", "Q1"), code(&marked, "P01", "Q2"));
    marked.second_looks.clear();
    let text = file(&format!(
        "Row code,Second mark,Answer code\n{q1},0,Q1-2\n{q2},,Q2-clockwise\n"
    ));
    let given = given(&marked, &text);
    assert_eq!(given.origin, Origin::Today);
    assert_eq!(seconds(&given.look), ["P01 Q1 2 0"]);
    assert_eq!(given.look.rows.len(), 2, "the row without a mark waits");
    let bare = file(&format!("Row code,Second mark\n{q1},0\n{q2},\n"));
    assert_eq!(
        told(&marked, &bare),
        [
            "second-look.xlsx: A7: the row has no Answer code, and the record of this sample is \
             not in the folder"
        ]
    );
}
