//! A whole homework marked: states, decisions, records, what a person looks at.

use crate::marking as cases;
use std::collections::BTreeMap;
use toothmark::answer;
use toothmark::homework;
use toothmark::item;
use toothmark::level;
use toothmark::marking;
use toothmark::marking::decision;
use toothmark::marking::forget;
use toothmark::marking::policy;
use toothmark::marking::table;

pub(crate) fn question(number: &str, line: &str, ask: &str, form: &str, marks: &str) -> item::Item {
    cases::item(&cases::Question {
        number,
        lines: line.split(';').map(str::trim).collect(),
        ask,
        form,
        marks,
    })
}

/// Four questions: two of turns, a ratio, a direction.
fn items() -> Vec<item::Item> {
    let mut items = vec![
        question(
            "Q1",
            "gear A 12 drives gear B 36; A turns 9",
            "turns of B",
            "-",
            "2",
        ),
        question(
            "Q2",
            "gear A 40 drives gear B 16; A turns 6",
            "turns of B",
            "-",
            "2",
        ),
        question(
            "Q3",
            "gear A 12 drives gear B 36",
            "ratio of turns A : B",
            "-",
            "2",
        ),
        question(
            "Q4",
            "gear A 12 drives gear B 36; A turns clockwise",
            "direction of B",
            "-",
            "1",
        ),
    ];
    for (item, skill) in items.iter_mut().zip([
        level::Skill::Turns,
        level::Skill::Turns,
        level::Skill::Ratio,
        level::Skill::Direction,
    ]) {
        item.skill = skill;
    }
    items
}

pub(crate) fn homework(ids: &[&str]) -> homework::Homework {
    homework::Homework {
        made_by: "0.0.0".to_owned(),
        code: "K7MX".to_owned(),
        title: "Gears one".to_owned(),
        date: "2026-03-02".to_owned(),
        keep_until: None,
        banks: vec![homework::BankStamp {
            id: "tests".to_owned(),
            edition: "1".to_owned(),
            fingerprint: "00".to_owned(),
        }],
        seed: "s".to_owned(),
        sheets: vec![homework::Sheet {
            version: "A".to_owned(),
            items: items(),
        }],
        pupils: ids
            .iter()
            .map(|id| homework::Assignment {
                pupil: homework::Pupil {
                    id: (*id).to_owned(),
                    name: format!("Pupil {id}"),
                    class: "5K".to_owned(),
                    year: "5".to_owned(),
                    level: None,
                    groups: BTreeMap::from([("table".to_owned(), "red".to_owned())]),
                },
                sheet: 0,
            })
            .collect(),
    }
}

pub(crate) fn handed_in(id: &str, answers: &[&str]) -> marking::Response {
    let numbers = ["Q1", "Q2", "Q3", "Q4"];
    let pairs: Vec<(&str, &str)> = numbers.into_iter().zip(answers.iter().copied()).collect();
    marking::Response {
        pupil_id: id.to_owned(),
        ..cases::response(&pairs, &[])
    }
}

pub(crate) fn mark(
    homework: &homework::Homework,
    responses: &[marking::Response],
    decisions: &[decision::Decision],
) -> marking::Marked {
    marking::mark_homework(&marking::Batch {
        homework,
        responses,
        decisions,
        policy: &policy::Policy::default(),
        date: "2026-03-09",
    })
}

fn states(entry: &marking::MarkedPupil) -> Vec<&'static str> {
    entry.marks.iter().map(|mark| mark.state.text()).collect()
}

#[test]
fn a_part_after_two_may_follow_from_both_or_from_either() {
    let line = "gear A 12 drives gear B 36; A runs at 120 rpm; for 2 minutes";
    let mut homework = homework(&["P1"]);
    let mut last = question("Q3", line, "turns of B", "-", "2");
    last.follows = vec!["Q1".to_owned(), "Q2".to_owned()];
    homework.sheets[0].items = vec![
        question("Q1", line, "speed of B", "-", "2"),
        question("Q2", line, "turns of A", "-", "2"),
        last,
    ];
    // Right: 40, 240, 80. From 30 rpm of B follow 60 turns, from 200 turns of A 66 2/3.
    for (typed, state) in [
        ("80", "correct"),
        ("60", "correct"),
        ("66 2/3", "correct"),
        ("71", "wrong"),
    ] {
        let marked = mark(&homework, &[handed_in("P1", &["30", "200", typed])], &[]);
        assert_eq!(states(&marked.pupils[0])[2], state, "{typed}");
    }
}

#[test]
fn a_part_names_the_pupil_s_own_earlier_answer_as_they_wrote_it() {
    let line = "gear A 12 drives gear B 36; A runs at 120 rpm; for 2 minutes";
    let mut homework = homework(&["P1", "P2"]);
    let mut last = question("Q2", line, "turns of B", "-", "2");
    last.follows = vec!["Q1".to_owned()];
    homework.sheets[0].items = vec![question("Q1", line, "speed of B", "-", "2"), last];
    let rows = [
        handed_in("P1", &["30", "60"]),
        handed_in("P2", &["30 rpm", "60"]),
    ];
    let marked = mark(&homework, &rows, &[]);
    let reason = |pupil: usize| marked.pupils[pupil].marks[1].reason.clone();
    assert!(reason(0).contains("Q1 (30)"), "{}", reason(0));
    assert!(reason(1).contains("Q1 (30 rpm)"), "{}", reason(1));
}

#[test]
fn what_may_mean_two_things_is_asked_with_what_each_earns() {
    let marked = mark(
        &homework(&["P1"]),
        &[handed_in("P1", &["3", "15", "3.1"])],
        &[],
    );
    assert_eq!(
        marked.pupils[0].marks[2].check,
        "may mean 3.1 (read as 3.1 : 1) (0 marks) or 3 : 1 (a point for the sign of a ratio) \
         (2 marks)"
    );
}

#[test]
fn who_is_forgotten_goes_with_the_notes_that_name_them_and_with_no_others() {
    let homework = homework(&["P1", "P12"]);
    let mut marked = mark(
        &homework,
        &[handed_in("P1", &["3"]), handed_in("P12", &["4"])],
        &[],
    );
    let others = ["Pupil P12 handed in twice", "Kept from before: 1 pupil."];
    marked.notes = [
        "row 7: P1 stands there twice",
        "Pupil P1 is said to be away",
    ]
    .into_iter()
    .chain(others)
    .map(str::to_owned)
    .collect();
    let left = forget::without(&marked, "P1").expect("a pupil of the roll");
    assert_eq!(left.notes, others);
    let ids: Vec<&str> = left.pupils.iter().map(|it| it.pupil.id.as_str()).collect();
    assert_eq!(ids, ["P12"]);
    assert_eq!(forget::without(&marked, "P2"), None);
}

#[test]
fn blanks_at_the_end_are_told_from_blanks_between() {
    let homework = homework(&["P1", "P2", "P3", "P4", "P5"]);
    let mut absent = handed_in("P3", &[]);
    absent.attendance = marking::Attendance::Absent;
    let mut excused = handed_in("P4", &[]);
    excused.attendance = marking::Attendance::Excused;
    let marked = mark(
        &homework,
        &[
            handed_in("P1", &["3", "", "1:3", ""]),
            handed_in("P2", &["27", "don't know", "", "idk"]),
            absent,
            excused,
            handed_in("P5", &["", "", "", ""]),
        ],
        &[],
    );
    let all: Vec<Vec<&str>> = marked.pupils.iter().map(states).collect();
    assert_eq!(
        all,
        [
            ["correct", "blank", "partly", "not reached"],
            ["partly", "blank", "blank", "blank"],
            ["absent"; 4],
            ["excused"; 4],
            ["blank"; 4],
        ]
    );
    assert_eq!(marked.notes.len(), 1, "{:?}", marked.notes);
    assert!(marked.notes[0].contains("The row for Pupil P5 (P5) is empty"));
}

#[test]
fn rows_find_their_pupils() {
    let homework = homework(&["007", "P2", "P3", "P4"]);
    let marked = mark(
        &homework,
        &[
            handed_in("7", &["3", "15", "3:1", "acw"]),
            // The same row twice says nothing new.
            handed_in("007", &["3", "15", "3:1", "acw"]),
            handed_in(" p2", &["3"]),
            handed_in("P2", &[]),
            handed_in("P3", &["3"]),
            handed_in("P3", &["27"]),
            handed_in("P9", &["3"]),
        ],
        &[],
    );
    assert!(
        states(&marked.pupils[0])
            .iter()
            .all(|state| *state == "correct")
    );
    assert_eq!(marked.pupils[1].marks[0].marks, 2);
    assert_eq!(
        marked.pupils[2].marks[0].check,
        "two different rows for this pupil"
    );
    assert_eq!(states(&marked.pupils[3]), ["absent"; 4]);
    let notes = marked.notes.join("\n");
    for part in [
        "\"P9\", who is not on the roll",
        "two different rows for Pupil P3 (P3)",
        "no row for Pupil P4 (P4)",
    ] {
        assert!(notes.contains(part), "{notes}");
    }
    assert_eq!(marked.notes.len(), 3, "{notes}");
}

#[test]
fn answers_of_a_pupil_marked_absent_stand_but_are_looked_at() {
    let homework = homework(&["P1"]);
    let mut response = handed_in("P1", &["3", "", "", ""]);
    response.attendance = marking::Attendance::Absent;
    let marked = mark(&homework, &[response], &[]);
    assert_eq!(marked.pupils[0].marks[0].state, marking::State::Correct);
    assert_eq!(
        marked.pupils[0].marks[0].check,
        "answers, but marked absent"
    );
}

#[test]
fn what_a_spreadsheet_changed_is_settled_where_all_readings_earn_the_same() {
    let undone = |texts: &[&str]| answer::Typed {
        text: "03:01:00".to_owned(),
        undone: texts
            .iter()
            .map(|text| answer::Undone {
                text: (*text).to_owned(),
                why: "the cell holds the time 03:01:00".to_owned(),
            })
            .collect(),
    };
    let homework = homework(&["P1"]);
    let check = |texts: &[&str], marks: u8, looks: bool| {
        let mut response = handed_in("P1", &["3", "15"]);
        response.answers.insert("Q3".to_owned(), undone(texts));
        let marked = mark(&homework, &[response], &[]);
        let mark = &marked.pupils[0].marks[2];
        assert_eq!(
            (mark.marks, !mark.check.is_empty()),
            (marks, looks),
            "{mark:?}"
        );
    };
    check(&["3:1"], 2, false);
    check(&["5:1", "1:5"], 0, false);
    check(&["3:1", "1:3"], 2, true);
    check(&["1:3", "3:1"], 1, true);
}

#[test]
fn a_record_comes_back_as_it_was() {
    let homework = homework(&["P1", "P2"]);
    let responses = [
        handed_in("P1", &["27", "asdf", "1:3", "=1+1"]),
        handed_in("P2", &["9", "6", "3:1", "cw"]),
    ];
    let marked = mark(&homework, &responses, &[]);
    let decisions = vec![
        decision::for_equal_answers(&marked.pupils[0].marks[1], 1, "2026-03-09"),
        decision::for_pupil(&marked.pupils[1].marks[0], 1, "2026-03-09"),
    ];
    let marked = mark(&homework, &responses, &decisions);
    let text = marking::to_json(&marked);
    assert_eq!(
        text,
        marking::to_json(&mark(&homework, &responses, &decisions))
    );
    assert!(text.starts_with("{\n  \"format\": 1,"), "{text}");
    let back = marking::from_json(&text, "marked.json").expect("our own record");
    assert_eq!(back, marked);
    assert_eq!(marking::to_json(&back), text);
}

#[test]
fn a_broken_record_says_what_is_wrong_with_it() {
    let homework = homework(&["P1"]);
    let text = marking::to_json(&mark(&homework, &[handed_in("P1", &["3"])], &[]));
    let said = |text: &str| {
        let faults = marking::from_json(text, "marked.json").expect_err("it is broken");
        faults
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    };
    assert!(said("{").contains("marked.json:1:1"));
    assert!(said(&text.replace("\"format\": 1", "\"format\": 9")).contains("format 9"));
    let two = said(
        &text
            .replace("\"correct\"", "\"fine\"")
            .replace("\"ratio\"", "\"rations\""),
    );
    assert!(
        two.contains("pupil P1, Q1: found an unknown state \"fine\""),
        "{two}"
    );
    assert!(
        two.contains("pupil P1, Q3: found an unknown skill \"rations\""),
        "{two}"
    );
}

#[test]
fn rows_of_the_table_have_every_column_and_run_nowhere() {
    let homework = homework(&["P1"]);
    let marked = mark(
        &homework,
        &[handed_in("P1", &["27", "=1+1", "1:3", "cw"])],
        &[],
    );
    let rows = table::rows(&marked);
    assert_eq!(rows.len(), 4);
    assert_eq!(
        rows[0],
        [
            "K7MX",
            "P1",
            "Pupil P1",
            "5K",
            "5",
            "Q1",
            "case",
            "turns",
            "4",
            "27",
            "27",
            "3 turns",
            "1",
            "2",
            "partly",
            "turns the ratio upside down",
            "27 is consistent with someone who turns the ratio upside down, which earns 1 mark \
             for the method. Right is 3 turns.",
            "",
            "2026-08-31",
        ]
    );
    assert_eq!(rows[1][9], "'=1+1");
    assert_eq!(table::HEADINGS.len(), rows[0].len());
}

#[test]
fn a_policy_changes_what_an_answer_earns() {
    let homework = homework(&["P1"]);
    let marks = |policy: &policy::Policy, answers: &[&str]| {
        let marked = marking::mark_homework(&marking::Batch {
            homework: &homework,
            responses: &[handed_in("P1", answers)],
            decisions: &[],
            policy,
            date: "2026-03-09",
        });
        let marks: Vec<u8> = marked.pupils[0]
            .marks
            .iter()
            .map(|mark| mark.marks)
            .collect();
        marks
    };
    let answers = ["27", "15 cm", "1:3", "acw"];
    let default = policy::Policy::default();
    assert_eq!(marks(&default, &answers), [1, 1, 1, 1]);
    let strict = policy::Policy {
        misconception_credit: false,
        wrong_unit_costs: 2,
        reversed_earns: 0,
        ..default
    };
    assert_eq!(marks(&strict, &answers), [0, 0, 0, 1]);
}
