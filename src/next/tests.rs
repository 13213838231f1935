//! The rules, each on a record that shows it.

use super::*;
use crate::next::examples;

const SKILLS: &[&str] = &["direction", "turns", "ratio", "speed"];

/// What is planned for `P1` on a day.
fn planned(records: &[Record], date: &str) -> Pupil {
    let banks = [examples::bank(SKILLS)];
    let next = plan(records, &examples::plan(&banks, date));
    next.pupils.into_iter().next().expect("a pupil")
}

/// The wishes in short: what for, and the level.
fn wishes(pupil: &Pupil) -> Vec<String> {
    pupil
        .wished
        .wishes
        .iter()
        .map(|wish| {
            let what = match &wish.aim {
                wish::Aim::Shows(ids) => ids.join("|"),
                wish::Aim::Again { template, .. } => format!("again {template}"),
                wish::Aim::Skill(skill) => skill.to_string(),
            };
            format!("{what} {}", wish.level)
        })
        .collect()
}

/// Six answers in `direction`, so many right.
fn six(right: usize, level: u8) -> Vec<String> {
    (0..6)
        .map(|index| format!("P1 direction {level} {}/1", u8::from(index < right)))
        .collect()
}

fn record(set_on: &str, answers: &[String]) -> Record {
    let answers: Vec<&str> = answers.iter().map(String::as_str).collect();
    examples::record(set_on, &answers, None)
}

#[test]
fn the_level_moves_by_one_within_the_span_and_on_enough_answers() {
    for (right, level, wanted, pace) in [
        (5, 4, 5, pace::Pace::Up(5, 6)),
        (4, 4, 4, pace::Pace::Same(4, 6)),
        (3, 4, 4, pace::Pace::Same(3, 6)),
        (2, 4, 3, pace::Pace::Down(2, 6)),
        (6, 5, 5, pace::Pace::Same(6, 6)),
        (0, 3, 3, pace::Pace::Same(0, 6)),
        // A span that the teacher has moved.
        (4, 7, 5, pace::Pace::Same(4, 6)),
        (6, 2, 3, pace::Pace::Same(6, 6)),
    ] {
        let pupil = planned(&[record("2026-10-06", &six(right, level))], "2026-10-13");
        assert_eq!(
            (pupil.level(), pupil.pace),
            (examples::level(wanted), pace),
            "{right} right at {level}"
        );
    }
    let few = planned(&[record("2026-10-06", &six(6, 4)[..5])], "2026-10-13");
    assert_eq!(
        (few.level(), few.pace),
        (examples::level(4), pace::Pace::TooFew)
    );
    // With the homework before there are enough.
    let records = [
        record("2026-09-29", &six(6, 3)[..2]),
        record("2026-10-06", &six(6, 4)[..5]),
    ];
    assert_eq!(planned(&records, "2026-10-13").pace, pace::Pace::Up(7, 7));
}

#[test]
fn answers_not_reached_or_waiting_for_a_person_say_nothing_of_a_level() {
    let mut answers = six(6, 4);
    answers[4] = "P1 direction 4 not-reached".to_owned();
    assert_eq!(
        planned(&[record("2026-10-06", &answers)], "2026-10-13").pace,
        pace::Pace::TooFew
    );
    let mut waiting = record("2026-10-06", &six(6, 4));
    waiting.work.pupils[0].answers[0].needs_check = true;
    assert_eq!(planned(&[waiting], "2026-10-13").pace, pace::Pace::TooFew);
}

#[test]
fn a_level_on_the_roll_stands() {
    let banks = [examples::bank(SKILLS)];
    let mut plan = examples::plan(&banks, "2026-10-13");
    plan.pupils[0].level = Some(examples::level(3));
    let next = super::plan(&[record("2026-10-06", &six(6, 4))], &plan);
    assert_eq!(next.pupils[0].pace, pace::Pace::OnTheRoll);
    assert_eq!(next.pupils[0].wished.levels, examples::level(3).into());
}

#[test]
fn a_pupil_of_whom_nothing_is_known_gets_a_plain_sheet_of_the_middle() {
    let pupil = planned(&[], "2026-10-13");
    assert_eq!(
        (pupil.level(), pupil.pace),
        (examples::level(4), pace::Pace::Start)
    );
    assert!(pupil.wished.wishes.is_empty());
    assert_eq!(why(&pupil, &[]), "Level 4, as nothing is known yet.");
}

#[test]
fn a_way_of_thinking_gets_two_questions_on_two_answers_and_none_on_one() {
    let once = ["P1 ratio 4 0/1 ratio-upside-down"];
    let twice = [
        "P1 ratio 4 0/1 ratio-upside-down",
        "P1 turns 4 0/1 ratio-upside-down same-speed",
    ];
    let found = planned(&[examples::record("2026-10-06", &once, None)], "2026-10-13");
    assert!(found.beliefs.is_empty());
    assert!(!wishes(&found).iter().any(|wish| wish.contains("upside")));
    let found = planned(
        &[examples::record("2026-10-06", &twice, None)],
        "2026-10-13",
    );
    assert_eq!(
        wishes(&found)[..2],
        ["ratio-upside-down 4", "ratio-upside-down 4"]
    );
    assert!(
        !wishes(&found)[2..]
            .iter()
            .any(|wish| wish.contains("upside"))
    );
    // Over two homeworks as well; but not where one of them is long ago.
    let old = examples::record("2026-09-01", &twice[..1], None);
    let new = examples::record("2026-10-06", &twice[1..], None);
    let between: Vec<Record> = ["2026-09-08", "2026-09-15"]
        .iter()
        .map(|date| record(date, &six(6, 4)))
        .collect();
    let near = [old.clone(), new.clone()];
    assert_eq!(planned(&near, "2026-10-13").beliefs.len(), 1);
    let far = [vec![old, new], between].concat();
    assert!(planned(&far, "2026-10-13").beliefs.is_empty());
}

#[test]
fn ways_of_thinking_take_half_the_sheet_at_most_and_slips_none() {
    let mut answers = Vec::new();
    for id in ["same-speed", "adds-stages", "last-stage-only"] {
        answers.extend([
            format!("P1 turns 4 0/1 {id}"),
            format!("P1 turns 4 0/1 {id}"),
        ]);
    }
    let pupil = planned(&[record("2026-10-06", &answers)], "2026-10-13");
    assert_eq!(pupil.beliefs.len(), 3);
    let shown = pupil.wished.wishes.iter();
    let shown = shown.filter(|wish| matches!(wish.aim, wish::Aim::Shows(_)));
    assert_eq!(shown.count(), 3);
    let slip = crate::misconception::all().iter().find(|known| known.slip);
    let slip = slip.expect("some misconceptions are slips").id;
    let answers = vec![format!("P1 turns 4 0/1 {slip}"); 2];
    let pupil = planned(&[record("2026-10-06", &answers)], "2026-10-13");
    assert!(pupil.beliefs.is_empty());
}

/// Whoever takes all gears to turn alike answers 9 where 3 is right.
const TELLS: &str = "gear A 12 drives gear B 36; A turns 9";
/// Here everybody is right.
const TELLS_NOTHING: &str = "gear A 12 drives gear B 12; A turns 9";

#[test]
fn a_way_of_thinking_has_gone_after_two_right_answers_that_it_gets_wrong() {
    let seen = ["P1 turns 4 0/1 same-speed", "P1 turns 4 0/1 same-speed"];
    let seen = examples::record("2026-10-06", &seen, Some(TELLS));
    let right = ["P1 turns 4 1/1", "P1 turns 4 1/1"];
    let half = ["P1 turns 4 1/1", "P1 turns 4 0/1"];
    for (answers, mechanism, is_gone) in [
        (&right, Some(TELLS), true),
        (&half, Some(TELLS), false),
        (&right, Some(TELLS_NOTHING), false),
        // What was set is not known, so nothing can be seen.
        (&right, None, false),
    ] {
        let later = examples::record("2026-10-13", answers, mechanism);
        let pupil = planned(&[later, seen.clone()], "2026-10-20");
        assert_eq!(
            pupil.gone.len(),
            usize::from(is_gone),
            "{answers:?} {mechanism:?}"
        );
        assert_eq!(
            pupil.beliefs.is_empty(),
            is_gone,
            "{answers:?} {mechanism:?}"
        );
    }
    // Seen once more after that, it is one answer, which may be chance.
    let later = examples::record("2026-10-13", &right, Some(TELLS));
    let again = ["P1 turns 4 0/1 same-speed"];
    let again = examples::record("2026-10-20", &again, Some(TELLS));
    let pupil = planned(&[seen, later, again], "2026-10-27");
    assert_eq!(pupil.beliefs.len(), 1, "what was seen before counts again");
}

#[test]
fn what_was_missed_comes_again_and_what_was_excused_does_not() {
    let absent = examples::record(
        "2026-10-13",
        &["P1 turns 4 absent", "P1 ratio 5 absent"],
        None,
    );
    let before = record("2026-10-06", &six(4, 4));
    let pupil = planned(&[before.clone(), absent.clone()], "2026-10-20");
    assert_eq!(wishes(&pupil)[..2], ["again turns-1 4", "again ratio-2 5"]);
    assert_eq!(pupil.missed, ["2026-10-13"]);
    let after = record("2026-10-20", &six(4, 4));
    let pupil = planned(&[before.clone(), absent, after], "2026-10-27");
    assert!(pupil.missed.is_empty(), "work handed in since is newer");
    let excused = examples::record("2026-10-13", &["P1 turns 4 excused"], None);
    let pupil = planned(&[before, excused], "2026-10-20");
    assert!(pupil.missed.is_empty());
    assert!(!wishes(&pupil).iter().any(|wish| wish.starts_with("again")));
}

#[test]
fn failed_skills_come_lower_and_again_then_what_is_due_new_and_on_its_way() {
    let answers = [
        "P1 turns 4 0/2",
        "P1 turns 4 0/1",
        "P1 turns 4 1/1",
        "P1 direction 4 1/1",
        "P1 direction 4 1/1",
        "P1 ratio 4 1/2",
        "P1 ratio 4 1/1",
    ];
    let records = [examples::record("2026-10-06", &answers, None)];
    let pupil = planned(&records, "2026-10-13");
    assert_eq!(
        wishes(&pupil),
        [
            "turns 3",
            "direction 4",
            "speed 4",
            "ratio 4",
            "turns 4",
            "ratio 4",
            "speed 4"
        ]
    );
    // A day too early nothing secure is due.
    let pupil = planned(&records, "2026-10-12");
    assert!(!wishes(&pupil).contains(&"direction 4".to_owned()));
}

#[test]
fn gaps_grow_with_every_success_and_the_most_overdue_comes_first() {
    let right = |skill: &str| vec![format!("P1 {skill} 4 1/1"); 2];
    let records = [
        record("2026-09-01", &[right("turns"), right("ratio")].concat()),
        record("2026-09-08", &right("ratio")),
        record("2026-09-15", &right("speed")),
    ];
    let due = |date: &str| -> Vec<String> {
        let pupil = planned(&records, date);
        let due = pupil.reasons.iter().zip(wishes(&pupil));
        due.filter(|(reason, _)| matches!(reason, Reason::Due(_)))
            .map(|(_, wish)| wish)
            .collect()
    };
    // Turns has rested 21 days of 7; ratio, right twice, 14 of 14; speed 7 of 7.
    let level = planned(&records, "2026-09-22").level();
    let wanted: Vec<String> = ["turns", "ratio", "speed"]
        .iter()
        .map(|skill| format!("{skill} {level}"))
        .collect();
    assert_eq!(due("2026-09-22"), wanted);
    assert_eq!(due("2026-09-21"), wanted[..1]);
}

#[test]
fn who_is_not_on_the_roll_or_has_another_name_is_told_by_id() {
    let banks = [examples::bank(SKILLS)];
    let mut records = [examples::record(
        "2026-10-06",
        &["P1 turns 4 1/1", "P7 turns 4 1/1"],
        None,
    )];
    let told = |records: &[Record]| -> String {
        let next = super::plan(records, &examples::plan(&banks, "2026-10-13"));
        let notices: Vec<String> = next.notices.iter().map(ToString::to_string).collect();
        notices.join("\n")
    };
    let said = told(&records);
    assert!(said.contains("get no sheet: P7"), "{said}");
    assert!(!said.contains("another name"), "{said}");
    assert!(said.contains("code 2026-10-06"), "{said}");
    records[0]
        .names
        .insert("P1".to_owned(), "Ada Quillfeather".to_owned());
    let said = told(&records);
    assert!(said.contains("another name for P1"), "{said}");
    assert!(!said.contains("Quillfeather"), "{said}");
}

#[test]
fn the_line_says_what_each_question_is_for() {
    let answers = [
        "P1 turns 4 0/2 ratio-upside-down",
        "P1 turns 4 0/1 ratio-upside-down",
        "P1 direction 4 1/1",
        "P1 direction 4 1/1",
        "P1 ratio 4 1/2",
        "P1 ratio 4 1/1",
    ];
    let pupil = planned(
        &[examples::record("2026-10-06", &answers, None)],
        "2026-11-17",
    );
    let granted: Vec<wish::Granted> = pupil
        .wished
        .wishes
        .iter()
        .enumerate()
        .take(6)
        .map(|(index, wish)| wish::Granted {
            wish: Some(index),
            question: format!("Q{}", index + 1),
            skill: match wish.aim {
                wish::Aim::Skill(skill) | wish::Aim::Again { skill, .. } => skill,
                wish::Aim::Shows(_) => level::Skill::Turns,
            },
            level: wish.level,
        })
        .collect();
    assert_eq!(
        why(&pupil, &granted),
        "Level 4 (4 of 8 marks); 2 answers consistent with someone who turns the ratio upside \
         down, so 2 questions on that (Q1, Q2); again, after few marks: turns (0 of 3) at level \
         3; back, as they hold: direction after 6 weeks; new: speed; more practice: ratio."
    );
}
