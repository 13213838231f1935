//! The results workbook, written and read back.

use super::*;
use crate::marking::standing;
use crate::workbook::decisions;
use crate::workbook::examples;
use crate::workbook::headings;
use std::fmt::Write;

/// A worksheet of our results workbook as rows of texts below the headings.
fn sheet(marked: &marking::Marked, name: &str) -> Vec<Vec<String>> {
    let book = cells::read(&write(marked).expect("a workbook")).expect("our own workbook");
    let grid = book
        .grids
        .iter()
        .find(|grid| grid.name == name)
        .expect("the worksheet is there");
    rows_of(grid)
}

fn rows_of(grid: &cells::Grid) -> Vec<Vec<String>> {
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

/// What is known of our own workbook, with these decisions before it.
fn known(earlier: &[decision::Decision]) -> decisions::Known<'_> {
    decisions::Known {
        file: "week/marked.xlsx",
        name: "marked.xlsx",
        copy: decisions::Copied::No,
        homework_code: "QL-7F3",
        earlier,
        date: "2026-03-10",
    }
}

fn read(
    text: &str,
    earlier: &[decision::Decision],
) -> Result<Vec<decision::Decision>, Vec<problem::Problem>> {
    decisions::read(&known(earlier), text.as_bytes())
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
fn more_rows_than_a_worksheet_holds_go_on_in_the_next() {
    let marked = examples::marked();
    let room = Room { most: 5, many: 0 };
    let bytes = style::finish("marked.xlsx", workbook(&marked, room)).expect("a workbook");
    let book = cells::read(&bytes).expect("our own workbook");
    let parts: Vec<&cells::Grid> = book
        .grids
        .iter()
        .filter(|grid| grid.name.starts_with("Marks"))
        .collect();
    let names: Vec<&str> = parts.iter().map(|grid| grid.name.as_str()).collect();
    assert_eq!(names, ["Marks", "Marks 2", "Marks 3"]);
    let rows: Vec<Vec<String>> = parts.iter().flat_map(|grid| rows_of(grid)).collect();
    assert_eq!(rows, sheet(&marked, "Marks"));
    for part in parts {
        let found = headings::find(part, &[&["changedmark"], &["pupilid"]]);
        assert!(found.is_some(), "marks can be changed in {}", part.name);
    }
    assert_eq!(decisions::read(&known(&[]), &bytes), Ok(Vec::new()));
}

#[test]
fn a_worksheet_made_through_a_temporary_file_is_the_same() {
    let marked = examples::marked();
    let room = Room {
        many: 0,
        ..Room::usual()
    };
    let bytes = style::finish("marked.xlsx", workbook(&marked, room)).expect("a workbook");
    let usual = write(&marked).expect("a workbook");
    assert_eq!(cells::read(&bytes), cells::read(&usual));
}

#[test]
fn an_untouched_results_workbook_decides_nothing() {
    let marked = examples::marked();
    let bytes = write(&marked).expect("a workbook");
    assert_eq!(decisions::read(&known(&[]), &bytes), Ok(Vec::new()));
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
        by: String::new(),
        file: "marked.xlsx".to_owned(),
        seen: Some(0),
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
fn a_mark_far_below_what_other_worksheets_may_hold_is_found() {
    let mut text = "Pupil ID,Question,Answer,Mark,Out of,Changed mark,Code\n".to_owned();
    for row in 0..cells::MOST_ROWS + 50_000 {
        let mark = if row == 249_000 { "0" } else { "" };
        writeln!(text, "P{row},Q3,1:3,1,2,{mark},c").expect("a text takes everything");
    }
    let found = saved(&text).expect("a good mark");
    let pupils: Vec<&decision::Scope> = found.iter().map(|decision| &decision.scope).collect();
    let pupil_id = "P249000".to_owned();
    assert_eq!(pupils, [&decision::Scope::Pupil { pupil_id }]);
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
            "week/marked.xlsx: D3: your mark: found 3, looked for a whole number from 0 to 2",
            "week/marked.xlsx: D4: your mark: found 1.5, looked for a whole number from 0 to 2",
            "week/marked.xlsx: D5: your mark: found yes, looked for a whole number from 0 to 2",
            "week/marked.xlsx: D6: a mark stands in a row without its Code",
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
        by: "AB".to_owned(),
        file: "marked.xlsx".to_owned(),
        seen: Some(0),
    };
    marked.decisions = vec![equal.clone()];
    for mark in marked.pupils.iter_mut().flat_map(|entry| &mut entry.marks) {
        if mark.code == equal.code {
            mark.check = String::new();
            mark.marks = 2;
            mark.decided = Some(marking::Decided {
                date: equal.date.clone(),
                proposed: 0,
                by: equal.by.clone(),
            });
        }
    }
    let rows = sheet(&marked, "To check");
    let decided = rows.get(1).expect("the decided row comes last");
    assert_eq!(decided.get(7).map(String::as_str), Some("2"));
    assert_eq!(decided.get(8).map(String::as_str), Some("AB"));
    assert_eq!(decided.get(12).map(String::as_str), Some("2026-03-08"));
    let bytes = write(&marked).expect("a workbook");
    let again = decisions::read(&known(&marked.decisions), &bytes);
    assert_eq!(again, Ok(Vec::new()));
    // With the record lost, the decision comes back from the workbook as it was.
    let lost = decisions::read(&known(&[]), &bytes);
    assert_eq!(lost, Ok(vec![equal]));
}

#[test]
fn marks_are_whole_numbers_however_a_program_writes_them() {
    let text = "Question,Out of,Your mark,Decided by,Code\n\
                Q1,2.0, 2 ,AB,a\nQ2,2,2.0,,b\nQ3,2,\"1,0\",\" C D \",c\nQ4,2,0,,d\n";
    let found = saved(text).expect("good marks");
    let told: Vec<(u8, &str)> = found
        .iter()
        .map(|decision| (decision.marks, decision.by.as_str()))
        .collect();
    assert_eq!(told, [(2, "AB"), (2, ""), (1, "C D"), (0, "")]);
    for wrong in ["-1", "+1", "1e0", "2/2", "two", "1.5", ".", "99999999999"] {
        let text = format!("Question,Out of,Your mark,Code\nQ1,2,{wrong},a\n");
        assert!(saved(&text).is_err(), "{wrong}");
    }
}

#[test]
fn an_answer_with_two_marks_in_one_workbook_is_a_problem() {
    let text = "Question,Out of,Your mark,Code\nQ1,2,1,a\nQ1,2,1,a\nQ1,2,2,a\n";
    let problems = saved(text).expect_err("two marks");
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "week/marked.xlsx: C4: found 2 for an answer that has 1 in week/marked.xlsx: C2\n  \
          hint: give the answer one mark, and clear the other cell"
        ]
    );
}

#[test]
fn initials_written_beside_a_decision_are_kept() {
    let mut marked = examples::marked();
    let text = "Homework code,QL-7F3\nDecisions so far: {stamp}\n\
                Question,Answer,Proposed,Out of,Your mark,Decided by,Code\nQ1,27 no 3,0,2,1,{by},a\n";
    let with = |by: &str, earlier: &[decision::Decision]| {
        let text = text
            .replace("{stamp}", &decision::stamp(earlier))
            .replace("{by}", by);
        read(&text, earlier).expect("good marks")
    };
    marked.decisions = with("", &[]);
    assert_eq!(with("", &marked.decisions), []);
    let signed = with("AB", &marked.decisions);
    marked.decisions.extend(signed);
    assert_eq!(with("AB", &marked.decisions), []);
    let told: Vec<(&str, Option<usize>)> = marked
        .decisions
        .iter()
        .map(|decision| (decision.by.as_str(), decision.seen))
        .collect();
    assert_eq!(told, [("", Some(0)), ("AB", Some(1))]);
}

#[test]
fn a_cell_typed_over_again_and_again_holds_what_stands_in_it() {
    // A copy keeps its stamp, whatever was decided in other copies meanwhile.
    let text = |mark: u8| {
        format!(
            "Decisions so far: {}\nQuestion,Out of,Your mark,Code\nQ1,2,{mark},a\n",
            decision::stamp(&[])
        )
    };
    let mut decisions = Vec::new();
    for mark in [2, 1, 1, 2, 2] {
        let new = read(&text(mark), &decisions).expect("a good mark");
        decisions.extend(new);
        assert_eq!(agreed_marks(&decisions), Some(mark));
    }
    assert_eq!(decisions.len(), 3);
}

/// What stands for the one answer of the texts here: marks that agree, or none.
fn agreed_marks(decisions: &[decision::Decision]) -> Option<u8> {
    match standing::Decisions::of(decisions).for_equal_answers("a") {
        standing::Standing::Agreed(agreed) => Some(agreed.newest.marks),
        standing::Standing::Nothing | standing::Standing::Differing(_) => None,
    }
}

proptest::proptest! {
    #[test]
    fn a_copy_read_again_says_nothing_new_and_who_saw_everything_settles_it(
        // Who types, how many of the decisions so far they see, and what.
        typed in proptest::collection::vec((0_usize..3, 0_usize..6, 0_u8..3, "|AB|CD"), 1..8),
    ) {
        let mut decisions: Vec<decision::Decision> = Vec::new();
        for (person, seen, mark, by) in typed {
            let seen = seen.min(decisions.len());
            let stamp = decision::stamp(decisions.get(..seen).unwrap_or_default());
            let text = format!(
                "Decisions so far: {stamp}\nQuestion,Out of,Your mark,Decided by,Code\n\
                 Q1,2,{mark},{by},a\n"
            );
            let name = format!("copy {person}.xlsx");
            let reading = |earlier: &[decision::Decision]| {
                let known = decisions::Known { name: &name, ..known(earlier) };
                decisions::read(&known, text.as_bytes()).expect("a good mark")
            };
            let saw_everything = seen == decisions.len();
            let new = reading(&decisions);
            decisions.extend(new);
            proptest::prop_assert_eq!(reading(&decisions), Vec::new());
            if saw_everything {
                proptest::prop_assert_eq!(agreed_marks(&decisions), Some(mark));
            }
        }
    }
}

#[test]
fn the_same_marks_give_the_same_bytes() {
    let marked = examples::marked();
    assert!(write(&marked).expect("once") == write(&marked).expect("twice"));
}
