//! Samples and what came of them, on marks made by hand.

use super::*;
use crate::answer;
use crate::answer::scene;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::homework;
use crate::item;
use crate::level;
use crate::marking::policy;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A marked class: so many pupils answer so many questions, the later pupils
/// fewer of them; questions with an even number are worth 2 marks.
fn class(pupils: usize, questions: usize) -> marking::Marked {
    marking::Marked {
        made_by: "0.0.0".to_owned(),
        code: "K7MX".to_owned(),
        title: "Gears".to_owned(),
        set_on: "2026-03-02".to_owned(),
        marked_on: "2026-03-09".to_owned(),
        keep_until: None,
        banks: Vec::new(),
        policy: policy::Policy::default(),
        pupils: (0..pupils)
            .map(|pupil| entry(pupil, pupils, questions))
            .collect(),
        decisions: Vec::new(),
        second_looks: Vec::new(),
        notes: Vec::new(),
    }
}

fn entry(pupil: usize, pupils: usize, questions: usize) -> marking::MarkedPupil {
    let id = format!("P{pupil}");
    let marks = (1..=questions)
        .map(|question| {
            let is_answered = pupil * questions <= pupils * (questions + 1 - question);
            mark(&id, question, is_answered)
        })
        .collect();
    marking::MarkedPupil {
        pupil: homework::Pupil {
            id,
            name: format!("Pupil {pupil}"),
            class: "5K".to_owned(),
            year: "5".to_owned(),
            level: None,
            groups: BTreeMap::new(),
        },
        version: "A".to_owned(),
        attendance: marking::Attendance::Present,
        marks,
        handed_in: None,
    }
}

fn mark(pupil_id: &str, question: usize, is_answered: bool) -> marking::Mark {
    marking::Mark {
        pupil_id: pupil_id.to_owned(),
        question: format!("Q{question}"),
        bank: "tests".to_owned(),
        template: "t".to_owned(),
        skill: level::Skill::Turns,
        level: "4".parse().expect("a level"),
        typed: if is_answered { "3" } else { "" }.to_owned(),
        read_as: String::new(),
        expected: "3 turns".to_owned(),
        marks: u8::from(is_answered),
        out_of: if question.is_multiple_of(2) { 2 } else { 1 },
        state: match (is_answered, question.is_multiple_of(2)) {
            (true, true) => marking::State::Partly,
            (true, false) => marking::State::Correct,
            (false, _) => marking::State::Blank,
        },
        misconceptions: Vec::new(),
        reason: "Said.".to_owned(),
        check: String::new(),
        code: format!("{question}-3"),
        like: String::new(),
        decided: None,
    }
}

fn share(text: &str) -> Share {
    Share::new(text.parse().expect("a number")).expect("a share")
}

fn drawn(marked: &marking::Marked, seed: &str, share_text: &str) -> Option<Look> {
    draw(
        marked,
        &Plan {
            seed,
            share: share(share_text),
            date: "2026-03-09",
        },
    )
}

fn answers(look: &Look) -> BTreeSet<(String, String)> {
    look.rows
        .iter()
        .map(|row| (row.pupil_id.clone(), row.question.clone()))
        .collect()
}

fn attempted(marked: &marking::Marked) -> Vec<&marking::Mark> {
    marked
        .pupils
        .iter()
        .flat_map(|entry| &entry.marks)
        .filter(|mark| mark.state != marking::State::Blank)
        .collect()
}

#[test]
fn a_share_is_above_nought_and_not_over_one() {
    for (text, count, of, shown) in [
        ("1/10", 100, 10, "10%"),
        ("0.125", 4, 1, "12.5%"),
        ("0.1", 25, 3, "10%"),
        ("1/3", 10, 3, "1/3"),
        ("0.001", 10, 1, "0.1%"),
        ("1", 7, 7, "100%"),
        ("1", 0, 0, "100%"),
    ] {
        assert_eq!(share(text).of(count), of, "{text} of {count}");
        assert_eq!(share(text).to_string(), shown);
    }
    for text in ["0", "-1/10", "1.01", "1/1000001"] {
        assert_eq!(Share::new(text.parse().expect("a number")), None, "{text}");
    }
}

#[test]
fn where_nobody_answered_there_is_nothing_to_draw() {
    let mut marked = class(4, 2);
    for mark in marked.pupils.iter_mut().flat_map(|it| &mut it.marks) {
        mark.state = marking::State::Absent;
    }
    assert_eq!(drawn(&marked, "s", "1"), None);
}

#[test]
fn row_codes_name_every_answer_and_no_pupil() {
    let marked = class(30, 20);
    let codes = row_codes(&marked, "s");
    assert_eq!(codes.len(), 600);
    assert_ne!(
        codes.keys().collect::<Vec<_>>(),
        row_codes(&marked, "t").keys().collect::<Vec<_>>()
    );
}

#[test]
fn a_sample_without_marks_takes_the_place_of_none() {
    let marked = class(6, 3);
    let blank = drawn(&marked, "s", "1/2").expect("answers");
    let other = drawn(&marked, "t", "1/2").expect("answers");
    let mut filled = blank.clone();
    filled.rows[0].second = Some(1);
    let looks = with(with(Vec::new(), blank.clone()), other.clone());
    let looks = with(looks, filled.clone());
    assert_eq!(looks, [filled.clone(), other.clone()]);
    assert_eq!(with(looks, blank), [filled, other]);
}

#[test]
fn a_sample_is_told_by_its_seed_its_share_and_its_day() {
    let look = drawn(&class(6, 3), "s", "1/2").expect("answers");
    for (seed, share, day, is_it) in [
        ("s", "50%", "2026-03-09", true),
        ("t", "50%", "2026-03-09", false),
        ("s", "10%", "2026-03-09", false),
        ("s", "50%", "2026-03-10", false),
    ] {
        assert_eq!(
            look.is_headed(seed, share, day),
            is_it,
            "{seed} {share} {day}"
        );
    }
}

#[test]
fn a_report_counts_the_same_and_lists_what_differs() {
    let mut marked = class(8, 2);
    let mut look = drawn(&marked, "s", "1").expect("answers");
    let count = look.rows.len();
    look.given_back_on = "2026-03-12".to_owned();
    for row in &mut look.rows {
        row.second = Some(row.first);
    }
    let of = |look: &Look, question: &str| {
        let mut places = (0..look.rows.len()).filter(|at| look.rows[*at].question == question);
        (places.next().expect("one"), places.next().expect("another"))
    };
    let (first, second) = of(&look, "Q2");
    let (third, fourth) = of(&look, "Q1");
    look.rows[first].second = Some(2);
    look.rows[second].second = None;
    look.rows[third].second = Some(0);
    look.rows[fourth].code = "typed otherwise".to_owned();
    assert_eq!(report::of(&marked), None);
    marked.second_looks = vec![look.clone()];
    let report = report::of(&marked).expect("marks came back");
    assert_eq!((report.waiting, report.changed.len()), (1, 1));
    let all = &report.lines[0];
    assert_eq!(all.group, report::Group::All);
    let compared = u64::try_from(count - 2).expect("few");
    assert_eq!((all.items(), all.same()), (compared, compared - 2));
    // Whoever gives all answers the same mark agrees by chance alone: kappa is nought.
    assert!(report.lines.iter().all(|line| line.kappa_text() == "0.00"));
    let groups: Vec<report::Group<'_>> = report.lines.iter().map(|line| line.group).collect();
    assert_eq!(
        groups,
        [
            report::Group::All,
            report::Group::Worth(1),
            report::Group::Worth(2),
            report::Group::Question("Q1"),
            report::Group::Question("Q2"),
        ]
    );
    let found: Vec<(&str, u8, u8)> = report
        .disagreements
        .iter()
        .map(|pair| (pair.mark.question.as_str(), pair.row.first, pair.second))
        .collect();
    assert_eq!(found, [("Q1", 1, 0), ("Q2", 1, 2)]);
    // A mark that a person changes afterwards leaves the figures as they were.
    let row = &look.rows[first];
    for mark in marked.pupils.iter_mut().flat_map(|it| &mut it.marks) {
        if mark.pupil_id == row.pupil_id && mark.question == row.question {
            mark.marks = 2;
        }
    }
    let after = report::of(&marked).expect("marks came back");
    assert_eq!(after.lines[0].same(), compared - 2);
    assert_eq!(after.disagreements[1].mark.marks, 2);
}

/// A homework of two questions, the second of which follows from the first, for
/// so many pupils.
fn homework(pupils: usize) -> homework::Homework {
    let item = |number: &str, follows: Option<&str>| item::Item {
        number: number.to_owned(),
        bank: "tests".to_owned(),
        template: "t".to_owned(),
        skill: level::Skill::Turns,
        level: "4".parse().expect("a level"),
        story: "A toy has two gears.".to_owned(),
        question: format!("What is {number}?"),
        mechanism: mechanism::Mechanism {
            parts: Vec::new(),
            body_count: 0,
            joints: Vec::new(),
            givens: Vec::new(),
        },
        ask: ask::Ask::WillItTurn,
        form: answer::Form::List {
            options: Vec::new(),
            scene: Arc::new(scene::Scene {
                about: scene::About::WillItTurn,
                parts: Vec::new(),
            }),
        },
        marks: 1,
        working: true,
        follows: follows.map(str::to_owned).into_iter().collect(),
    };
    homework::Homework {
        made_by: "0.0.0".to_owned(),
        code: "K7MX".to_owned(),
        title: "Gears".to_owned(),
        date: "2026-03-02".to_owned(),
        keep_until: None,
        banks: Vec::new(),
        seed: "s".to_owned(),
        sheets: vec![homework::Sheet {
            version: "A".to_owned(),
            items: vec![item("Q1", None), item("Q2", Some("Q1"))],
        }],
        pupils: (0..pupils)
            .map(|pupil| homework::Assignment {
                pupil: entry(pupil, pupils, 2).pupil,
                sheet: 0,
            })
            .collect(),
    }
}

fn response(pupil_id: &str, answers: &[(&str, &str)], working: &str) -> marking::Response {
    let typed = |text: &str| answer::Typed {
        text: text.to_owned(),
        undone: Vec::new(),
    };
    marking::Response {
        pupil_id: pupil_id.to_owned(),
        attendance: marking::Attendance::Present,
        answers: answers
            .iter()
            .map(|(question, text)| ((*question).to_owned(), typed(text)))
            .collect(),
        working: BTreeMap::from([("Q2".to_owned(), typed(working))]),
        origin: marking::handed_in::Origin::default(),
    }
}

#[test]
fn a_second_marker_sees_the_very_answers_that_are_marked() {
    let homework = homework(2);
    // An empty row of the same pupil counts for nothing, nor does a later one.
    let responses = [
        response("P1", &[("Q2", "later")], "2 + 1"),
        response("P0", &[("Q2", " ")], ""),
        response("p0", &[("Q1", "3"), ("Q2", "three")], "9 / 3"),
        response("P0", &[("Q2", "other")], "1"),
        response("nobody", &[("Q2", "other")], "1"),
    ];
    let marked = class(2, 2);
    let look = drawn(&marked, "s", "1").expect("answers");
    let source = blind::Source {
        homework: &homework,
        responses: &responses,
        marked: &marked,
    };
    let shown = blind::answers(&look, &source);
    assert_eq!(shown.len(), look.rows.len());
    let codes = row_codes(&marked, "s");
    for (row, answer) in look.rows.iter().zip(&shown) {
        let mark = codes[&answer.row_code];
        assert_eq!(
            (&row.pupil_id, &row.question),
            (&mark.pupil_id, &mark.question)
        );
        assert_eq!(answer.item.number, row.question);
    }
    let of_pupil = |pupil: &str, question: &str| {
        let at = look
            .rows
            .iter()
            .position(|row| row.pupil_id == pupil && row.question == question);
        &shown[at.expect("it is in the sample")]
    };
    let answer = of_pupil("P0", "Q2");
    assert_eq!(
        (answer.typed.text.as_str(), answer.working.as_str()),
        ("three", "9 / 3")
    );
    let earlier = answer.earlier.first().expect("it follows from Q1");
    assert_eq!(
        (earlier.question, earlier.typed, earlier.expected),
        ("Q1", "3", "3 turns")
    );
    assert_eq!(of_pupil("P0", "Q1").earlier, Vec::new());
}

#[test]
fn a_second_look_survives_the_record() {
    let without = marking::to_json(&class(5, 3));
    assert!(!without.contains("second_looks"));
    let mut marked = marking::from_json(&without, "m").expect("a good record");
    let mut look = drawn(&marked, "s", "1/2").expect("answers");
    look.rows[0].second = Some(1);
    look.given_back_on = "2026-03-12".to_owned();
    marked.second_looks = vec![look];
    let text = marking::to_json(&marked);
    assert_eq!(marking::from_json(&text, "m"), Ok(marked));
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(60))]

    #[test]
    fn a_sample_keeps_its_share_and_spreads_over_the_questions(
        pupils in 1_usize..30,
        questions in 1_usize..12,
        percent in 1_i64..=100,
        seed in "[a-z]{1,6}",
    ) {
        let marked = class(pupils, questions);
        let text = format!("{percent}/100");
        let look = drawn(&marked, &seed, &text).expect("everybody answers Q1");
        let attempted = attempted(&marked);
        let wanted = share(&text).of(attempted.len());
        proptest::prop_assert_eq!(look.rows.len(), wanted);
        proptest::prop_assert_eq!(answers(&look).len(), wanted, "no answer twice");
        let mut of_question: BTreeMap<&str, usize> = BTreeMap::new();
        for mark in &attempted {
            *of_question.entry(&mark.question).or_default() += 1;
        }
        let mut drawn_of: BTreeMap<&str, usize> = BTreeMap::new();
        for row in &look.rows {
            proptest::prop_assert!(attempted.iter().any(|mark| mark.pupil_id == row.pupil_id
                && mark.question == row.question));
            *drawn_of.entry(&row.question).or_default() += 1;
        }
        proptest::prop_assert!(drawn_of.len() == of_question.len().min(wanted));
        proptest::prop_assert_eq!(drawn(&marked, &seed, &text), Some(look));
    }

    #[test]
    fn a_larger_share_holds_the_smaller(
        pupils in 1_usize..30,
        questions in 1_usize..12,
        few in 1_i64..=100,
        more in 0_i64..=99,
    ) {
        let marked = class(pupils, questions);
        let more = (few + more).min(100);
        let small = drawn(&marked, "s", &format!("{few}/100")).expect("answers");
        let large = drawn(&marked, "s", &format!("{more}/100")).expect("answers");
        proptest::prop_assert!(answers(&large).is_superset(&answers(&small)));
    }
}
