//! The results workbook, written and read back.

use super::*;
use crate::marking::decision;
use crate::workbook::decisions;
use crate::workbook::examples;
use crate::workbook::headings;

/// A worksheet of our results workbook as rows of texts below the headings.
fn sheet(marked: &marking::Marked, name: &str) -> Vec<Vec<String>> {
    let book = cells::read(&write(marked).expect("a workbook")).expect("our own workbook");
    let grid = book
        .grids
        .iter()
        .find(|grid| grid.name == name)
        .expect("the worksheet is there");
    let table = headings::find(grid, &[&["outof", "answers"]]).expect("the table");
    table
        .rows()
        .into_iter()
        .map(|row| {
            table
                .headings
                .iter()
                .map(|heading| table.text(row, heading.column))
                .collect()
        })
        .collect()
}

/// A csv file with the worksheet `To check` or `Marks` as a person leaves it.
fn saved(text: &str) -> Result<Vec<decision::Decision>, Vec<problem::Problem>> {
    read(text, &[])
}

fn read(
    text: &str,
    earlier: &[decision::Decision],
) -> Result<Vec<decision::Decision>, Vec<problem::Problem>> {
    decisions::read(
        &decisions::Known {
            file: "marked.xlsx",
            homework_code: "QL-7F3",
            earlier,
            date: "2026-03-10",
        },
        text.as_bytes(),
    )
}

#[test]
fn the_class_has_a_row_a_pupil_and_signs_beside_numbers() {
    let rows = sheet(&examples::marked(), "Class");
    let wanted = [
        "P01 Ann Example Maple 2 1 2 5 5 100%",
        "P02 Ben Example Maple 0? 0? 1 1 5 20%",
        "P03 Cat Example Maple 0? 0 0 0 5 0%",
        "P04 Dan Example Maple absent absent absent   ",
        "Facility Marks earned of those to be had  33% 33% 75% 6 13 46%",
    ];
    for (row, wanted) in rows.iter().zip(wanted) {
        assert_eq!(row.join(" "), wanted);
    }
}

#[test]
fn equal_answers_stand_in_one_row_to_check() {
    let rows = sheet(&examples::marked(), "To check");
    let short: Vec<String> = rows
        .iter()
        .map(|row| row.get(..8).unwrap_or_default().join("|"))
        .collect();
    assert_eq!(
        short.get(..2).unwrap_or_default(),
        [
            "Q1|27 no 3|27 no 3|2 turns|2|0|2|",
            "Q2|=cw, I think|=cw, I think|2 turns|1|0|1|"
        ]
    );
}

#[test]
fn an_untouched_results_workbook_decides_nothing() {
    let marked = examples::marked();
    let bytes = write(&marked).expect("a workbook");
    let known = decisions::Known {
        file: "marked.xlsx",
        homework_code: "QL-7F3",
        earlier: &[],
        date: "2026-03-10",
    };
    assert_eq!(decisions::read(&known, &bytes), Ok(Vec::new()));
}

#[test]
fn a_saved_mark_is_a_decision_once() {
    let text = "Question,Answer,Proposed,Out of,Your mark,Code\n\
                Q2,\"'=cw, I think\",0,1,,b\nQ1,27 no 3,0,2,2,a\n";
    let found = saved(text).expect("good marks");
    let wanted = decision::Decision {
        scope: decision::Scope::Equal,
        question: "Q1".to_owned(),
        typed: "27 no 3".to_owned(),
        code: "a".to_owned(),
        marks: 2,
        proposed: 0,
        date: "2026-03-10".to_owned(),
    };
    assert_eq!(found, std::slice::from_ref(&wanted));
    assert_eq!(read(text, std::slice::from_ref(&wanted)), Ok(Vec::new()));
    let other = text.replace(",2,2,a", ",2,1,a");
    let changed = read(&other, &[wanted]).expect("a good mark");
    assert_eq!(changed.first().map(|decision| decision.marks), Some(1));
}

#[test]
fn a_changed_mark_is_for_one_pupil() {
    let text = "Pupil ID,Question,Answer,Mark,Out of,Changed mark,Decided on,Code\n\
                P02,Q3,1:3,1,2,0,,c\nP03,Q3,1:3,1,2,2,2026-03-01,c\n";
    let found = saved(text).expect("good marks");
    let told: Vec<String> = found
        .iter()
        .map(|decision| {
            let who = match &decision.scope {
                decision::Scope::Pupil { pupil_id } => pupil_id.as_str(),
                decision::Scope::Equal => "all",
            };
            format!(
                "{who} {} {} {}",
                decision.marks, decision.proposed, decision.date
            )
        })
        .collect();
    // The second was decided before the record was lost: it keeps its date.
    assert_eq!(told, ["P02 0 1 2026-03-10", "P03 2 1 2026-03-01"]);
}

#[test]
fn impossible_marks_are_told_all_at_once() {
    let text = "Homework code,QL-7F3\nQuestion,Answer,Out of,Your mark,Code\n\
                Q1,a,2,3,x\nQ1,b,2,1.5,y\nQ1,c,2,yes,z\nQ1,d,2,1,\n";
    let problems = saved(text).expect_err("four problems");
    let told: Vec<String> = problems
        .iter()
        .map(|problem| format!("{}: {}", problem.place, problem.what))
        .collect();
    assert_eq!(
        told,
        [
            "marked.xlsx: D3: your mark: found 3, looked for a whole number from 0 to 2",
            "marked.xlsx: D4: your mark: found 1.5, looked for a whole number from 0 to 2",
            "marked.xlsx: D5: your mark: found yes, looked for a whole number from 0 to 2",
            "marked.xlsx: D6: a mark stands in a row without its Code",
        ]
    );
    let other = text.replace("QL-7F3", "QL-000");
    let problems = saved(&other).expect_err("another homework");
    assert!(problems.first().expect("one").what.contains("QL-000"));
}

#[test]
fn a_decision_stays_in_its_row_with_its_date() {
    let mut marked = examples::marked();
    let equal = decision::Decision {
        scope: decision::Scope::Equal,
        question: "Q1".to_owned(),
        typed: "27 no 3".to_owned(),
        code: "Q1-27 no 3".to_owned(),
        marks: 2,
        proposed: 0,
        date: "2026-03-08".to_owned(),
    };
    marked.decisions = vec![equal.clone()];
    for mark in marked.pupils.iter_mut().flat_map(|entry| &mut entry.marks) {
        if mark.code == equal.code {
            mark.check = String::new();
            mark.marks = 2;
            mark.decided = Some(marking::Decided {
                date: equal.date.clone(),
                proposed: 0,
            });
        }
    }
    let rows = sheet(&marked, "To check");
    let decided = rows.get(1).expect("the decided row comes last");
    assert_eq!(decided.get(7).map(String::as_str), Some("2"));
    assert_eq!(decided.get(11).map(String::as_str), Some("2026-03-08"));
    let known = decisions::Known {
        file: "marked.xlsx",
        homework_code: "QL-7F3",
        earlier: &marked.decisions,
        date: "2026-03-10",
    };
    let bytes = write(&marked).expect("a workbook");
    assert_eq!(decisions::read(&known, &bytes), Ok(Vec::new()));
    // With the record lost, the decision comes back from the workbook as it was.
    let lost = decisions::Known {
        earlier: &[],
        ..known
    };
    assert_eq!(decisions::read(&lost, &bytes), Ok(vec![equal]));
}

#[test]
fn the_same_marks_give_the_same_bytes() {
    let marked = examples::marked();
    assert!(write(&marked).expect("once") == write(&marked).expect("twice"));
}
