//! The rows that ask a person, and what was decided in them.

use crate::marked_homework::{handed_in, homework, mark, question};
use crate::marking as cases;
use toothmark::marking;
use toothmark::marking::check;
use toothmark::marking::decision;

#[test]
fn the_rows_to_check_come_in_the_order_of_the_questions_on_any_sheet() {
    let mut homework = homework(&["P1", "P2"]);
    let mut fewer = homework.sheets[0].clone();
    fewer.version = "B".to_owned();
    fewer.items = vec![question(
        "Q10",
        "gear A 12 drives gear B 36; A turns 6",
        "turns of B",
        "-",
        "2",
    )];
    homework.sheets[0].items.truncate(1);
    homework.sheets.push(fewer);
    homework.pupils[1].sheet = 1;
    let mut second = handed_in("P2", &[]);
    second.answers = cases::response(&[("Q10", "3 or 9")], &[]).answers;
    let marked = mark(&homework, &[handed_in("P1", &["3 or 9"]), second], &[]);
    let numbers: Vec<String> = check::rows(&marked)
        .iter()
        .map(|row| row.mark.question.clone())
        .collect();
    assert_eq!(numbers, ["Q1", "Q10"]);
}

#[test]
fn equal_answers_stand_in_one_row_to_check() {
    let homework = homework(&["P1", "P2", "P3", "P4"]);
    let marked = mark(
        &homework,
        &[
            handed_in("P1", &["27 no 3", "asdf", "3:1", "acw"]),
            handed_in("P2", &["27  NO 3", "15", "3:1", "acw"]),
            handed_in("P3", &["3", "asdf", "3:1", "acw"]),
            handed_in("P4", &["3", "Asdf", "3:1", "acw"]),
        ],
        &[],
    );
    let rows = check::rows(&marked);
    let shown: Vec<(&str, usize, u8)> = rows
        .iter()
        .map(|row| {
            (
                row.mark.question.as_str(),
                row.pupil_ids.len(),
                row.mark.marks,
            )
        })
        .collect();
    assert_eq!(shown, [("Q1", 2, 2), ("Q2", 3, 0)]);
}

#[test]
fn a_row_to_check_tells_every_reason_of_its_pupils_once() {
    let homework = homework(&["P1", "P2", "P3"]);
    let mut away = handed_in("P2", &["27 no 3", "15", "3:1", "acw"]);
    away.attendance = marking::Attendance::Absent;
    let marked = mark(
        &homework,
        &[
            handed_in("P1", &["27 no 3", "15", "3:1", "acw"]),
            away,
            handed_in("P3", &["27 no 3", "15", "3:1", "acw"]),
        ],
        &[],
    );
    let rows = check::rows(&marked);
    assert_eq!(rows[0].pupil_ids, ["P1", "P2", "P3"]);
    let reason = &marked.pupils[0].marks[0].check;
    assert_eq!(
        rows[0].mark.check,
        format!("{reason}; answers, but marked absent")
    );
}

#[test]
fn a_decision_holds_for_equal_answers_and_is_kept() {
    let homework = homework(&["P1", "P2"]);
    let first = [
        handed_in("P1", &["27 no 3", "15", "3:1", "acw"]),
        handed_in("P2", &["3", "asdf", "3:1", "acw"]),
    ];
    let marked = mark(&homework, &first, &[]);
    let rows = check::rows(&marked);
    let decisions = vec![
        decision::for_equal_answers(&rows[0].mark, 1, "2026-03-09"),
        decision::for_pupil(&marked.pupils[1].marks[2], 0, "2026-03-10"),
    ];
    // Marked again, now with a second pupil who wrote the same.
    let again = [
        handed_in("P1", &["27 no 3", "15", "3:1", "acw"]),
        handed_in("P2", &["27 No 3", "asdf", "3:1", "acw"]),
    ];
    let marked = mark(&homework, &again, &decisions);
    for entry in &marked.pupils {
        let mark = &entry.marks[0];
        assert_eq!((mark.marks, mark.state), (1, marking::State::Partly));
        assert_eq!(mark.check, "");
        assert!(
            mark.reason
                .starts_with("Decided by hand on 2026-03-09: 1 mark (proposed was 2:")
        );
    }
    assert_eq!(marked.pupils[0].marks[2].marks, 2);
    assert_eq!(marked.pupils[1].marks[2].marks, 0);
    assert_eq!(marked.decisions, decisions);
    let decided: Vec<bool> = check::rows(&marked)
        .iter()
        .map(|row| row.mark.decided.is_some())
        .collect();
    assert_eq!(
        decided,
        [false, true, true],
        "open rows first, then decided ones"
    );
    // The pupil's answer changes: the decision is shown again, not applied.
    let changed = [
        handed_in("P1", &["3", "15", "3:1", "acw"]),
        handed_in("P2", &["3", "15", "1:3", "acw"]),
    ];
    let marked = mark(&homework, &changed, &decisions);
    let mark = &marked.pupils[1].marks[2];
    assert_eq!(mark.marks, 1);
    assert!(
        mark.check
            .contains("has changed since 0 marks was decided for \"3:1\""),
        "{mark:?}"
    );
    assert_eq!(marked.pupils[0].marks[0].decided, None);
}

#[test]
fn of_several_answers_that_changed_each_is_shown_with_its_own_decision() {
    let homework = homework(&["P1"]);
    let first = mark(
        &homework,
        &[handed_in("P1", &["asdf", "qwer", "3:1", "acw"])],
        &[],
    );
    let marks = &first.pupils[0].marks;
    let decisions = [
        decision::for_pupil(&marks[0], 2, "2026-03-09"),
        decision::for_pupil(&marks[1], 1, "2026-03-10"),
    ];
    let changed = [handed_in("P1", &["asdg", "qwet", "3:1", "acw"])];
    let marked = mark(&homework, &changed, &decisions);
    let check = |index: usize| marked.pupils[0].marks[index].check.clone();
    assert!(
        check(0).contains("2 marks was decided for \"asdf\""),
        "{}",
        check(0)
    );
    assert!(
        check(1).contains("1 mark was decided for \"qwer\""),
        "{}",
        check(1)
    );
    assert_eq!(check(2), "");
}

#[test]
fn a_later_decision_overrides_and_a_pupil_s_own_comes_first() {
    let homework = homework(&["P1", "P2"]);
    let responses = [
        handed_in("P1", &["asdf", "15"]),
        handed_in("P2", &["asdf", "15"]),
    ];
    let marked = mark(&homework, &responses, &[]);
    let mark_one = &marked.pupils[0].marks[0];
    let decisions = [
        decision::for_pupil(mark_one, 2, "2026-03-09"),
        decision::for_equal_answers(mark_one, 0, "2026-03-10"),
        decision::for_equal_answers(mark_one, 1, "2026-03-11"),
    ];
    let marked = mark(&homework, &responses, &decisions);
    assert_eq!(marked.pupils[0].marks[0].marks, 2);
    assert_eq!(marked.pupils[1].marks[0].marks, 1);
}
