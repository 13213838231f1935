use super::*;
use crate::feedback::examples;
use crate::gears::notation;

const RIGHT: &[&str] = &["3", "20", "anticlockwise", "3:1"];
/// Takes both gears to make the same turns.
const SAME: &[&str] = &["9", "4", "anticlockwise", "3:1"];
const BLANK: &[&str] = &["", "", "", ""];

fn one(answers: &[&str]) -> Note {
    let feedback = examples::feedback(&[answers], Marks::Kept);
    feedback.notes.into_iter().next().expect("a note")
}

#[test]
fn every_kind_of_work_has_its_own_note() {
    for (answers, standing, opening) in [
        (RIGHT, Standing::AllRight, "Everything is right. You can:"),
        (SAME, Standing::Usual, "You can:"),
        (BLANK, Standing::Blank, "Your answers are still to come."),
        (&["absent"], Standing::Absent, "There is no work from you"),
        (&["excused"], Standing::Excused, "You did not need to do"),
        (
            &["3", "20", "anticlockwise", ""],
            Standing::RightSoFar,
            "All right as far as you came. You can:",
        ),
        (
            &["7", "20", "clockwise", "9:4"],
            Standing::Usual,
            "You got this right: question 2.",
        ),
        (
            &["7", "7", "clockwise", "9:4"],
            Standing::Usual,
            "You had a go.",
        ),
    ] {
        let note = one(answers);
        assert_eq!(note.standing, standing, "{answers:?}");
        assert!(note.opening.starts_with(opening), "{}", note.opening);
        let has_example = !matches!(standing, Standing::Excused);
        assert_eq!(note.example.is_some(), has_example, "{answers:?}");
        assert_eq!(note.practise.is_empty(), !has_example, "{answers:?}");
    }
}

#[test]
fn an_answer_that_waits_counts_neither_way() {
    let note = one(&["3 or 27", "", "", ""]);
    assert_eq!(note.standing, Standing::Waiting);
    assert!(note.example.is_none());
    let note = one(&["3", "20", "anticlockwise", "3:1 or 1:3"]);
    assert_eq!(note.standing, Standing::RightAndWaiting);
    assert!(
        note.opening.contains("still reading the rest"),
        "{}",
        note.opening
    );
    let feedback = examples::feedback(&[&["3 or 27", "20", "", ""]], Marks::Kept);
    assert_eq!(feedback.waiting, 1);
    assert!(feedback.classes[0].waiting.ends_with(": 1."));
    assert!(!feedback.notes[0].practise.contains("You "), "{feedback:?}");
}

#[test]
fn a_misconception_is_spoken_of_on_two_answers_not_on_one() {
    let note = one(SAME);
    assert!(
        note.practise.contains("not the same number of turns"),
        "{}",
        note.practise
    );
    let note = one(&["9", "20", "anticlockwise", "3:1"]);
    assert!(!note.practise.contains("not the same"), "{}", note.practise);
    assert!(
        note.practise.contains("which gear turns more"),
        "{}",
        note.practise
    );
}

#[test]
fn a_skill_is_named_on_two_marks_and_two_thirds() {
    assert_eq!(
        one(RIGHT).can,
        [
            "work out how many turns a gear makes",
            "work with gear ratios"
        ]
    );
    // One mark for a direction may be luck; two of four marks are too few.
    assert_eq!(
        one(&["3", "7", "anticlockwise", "3:1"]).can,
        ["work with gear ratios"]
    );
}

#[test]
fn an_example_has_numbers_that_no_pupil_had_and_the_scheme_s_steps() {
    let note = one(SAME);
    let example = note.example.expect("an example");
    let own = examples::homework(&["Amina"]);
    let mechanisms = own.sheets.iter().flat_map(|sheet| &sheet.items);
    for item in mechanisms {
        assert_ne!(example.item.mechanism, item.mechanism);
    }
    let lines = notation::write(&example.item.mechanism).join("; ");
    assert!(
        example.steps.iter().any(|step| step.contains('÷')),
        "{lines}: {:?}",
        example.steps
    );
    assert_eq!(example.answer_line, format!("Answer: {}", example.answer));
    assert!(
        example.steps.concat().contains(&example.answer),
        "{:?}",
        example.steps
    );
}

#[test]
fn marks_are_told_only_where_they_are_asked_for() {
    let kept = examples::feedback(&[RIGHT, SAME, &["absent"]], Marks::Kept);
    assert!(kept.notes.iter().all(|note| note.marks.is_empty()));
    let told = examples::feedback(&[RIGHT, SAME, &["absent"]], Marks::Told);
    let marks: Vec<&str> = told.notes.iter().map(|note| note.marks.as_str()).collect();
    assert_eq!(marks, ["Marks: 7 out of 7", "Marks: 3 out of 7", ""]);
}

#[test]
fn the_class_page_says_what_went_well_who_needs_what_and_what_to_do_together() {
    let feedback = examples::feedback(
        &[SAME, RIGHT, SAME, &["absent"], &["excused"], BLANK],
        Marks::Kept,
    );
    let [page] = feedback.classes.as_slice() else {
        panic!("{:?}", feedback.classes);
    };
    assert_eq!(page.class, "5 Oak");
    assert!(page.private.contains("own teacher only"));
    assert!(
        page.well
            .iter()
            .any(|line| line.starts_with("Direction: 3 of 3")),
        "{:?}",
        page.well
    );
    let again = &page.again[0];
    assert!(
        again.what.starts_with("Answers are consistent with"),
        "{}",
        again.what
    );
    let names: Vec<&str> = again.who.pupils.iter().map(|it| it.name.as_str()).collect();
    assert_eq!(names, ["Amina", "Cai"]);
    let together = page.together.as_ref().expect("a question");
    assert!(
        together.would_say.contains(" would say: "),
        "{}",
        together.would_say
    );
    assert!(
        !together
            .would_say
            .contains(&format!(": {}.", together.example.answer))
    );
    let asides: Vec<&str> = page
        .asides
        .iter()
        .map(|aside| aside.lead.as_str())
        .collect();
    assert_eq!(asides, ["No work from:", "Excused:", "All answers blank:"]);
}

#[test]
fn a_class_with_everything_right_has_nothing_to_teach_again() {
    let feedback = examples::feedback(&[RIGHT, RIGHT], Marks::Kept);
    let page = &feedback.classes[0];
    assert!(page.again.is_empty());
    assert!(page.together.is_some());
    assert!(page.asides.is_empty() && page.waiting.is_empty());
}

#[test]
fn notes_stand_in_roll_order_and_are_the_same_each_time() {
    let answers = [SAME, RIGHT, BLANK, &["absent"]];
    let feedback = examples::feedback(&answers, Marks::Kept);
    let names: Vec<&str> = feedback
        .notes
        .iter()
        .map(|it| it.pupil.name.as_str())
        .collect();
    assert_eq!(names, ["Amina", "Ben", "Cai", "Dilys"]);
    assert_eq!(feedback, examples::feedback(&answers, Marks::Kept));
}

#[test]
fn a_note_speaks_of_one_pupil_alone() {
    let feedback = examples::feedback(&[SAME, RIGHT, BLANK], Marks::Told);
    for note in &feedback.notes {
        let example = note.example.as_ref().expect("an example");
        let all = format!(
            "{} {:?} {} {} {:?}",
            note.opening, note.can, note.practise, example.lead, example.steps
        );
        for name in ["Amina", "Ben", "Cai"] {
            assert!(!all.contains(name), "{name}: {all}");
        }
    }
}

#[test]
fn marks_of_another_homework_are_refused() {
    let homework = examples::homework(&["Amina"]);
    let marked = examples::marked(&homework, &[RIGHT]);
    let other = crate::homework::Homework {
        code: "ZZZZ".to_owned(),
        ..homework
    };
    let problems = give(&Request {
        marked: &marked,
        homework: &other,
        words: &words::Words::default(),
        marks: Marks::Kept,
        seed: "s",
    })
    .expect_err("another homework");
    assert_eq!(problems[0].what, "the marks belong to homework K7Q2");
}
