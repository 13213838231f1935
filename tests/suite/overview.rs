//! What the marks of one homework say of its pupils, questions and misconceptions.

use crate::marked_homework::{handed_in, homework, mark};
use toothmark::level;
use toothmark::marking::overview;
use toothmark::misconception;

#[test]
fn a_pupil_stands_with_the_fewest_ideas_that_explain_their_answers() {
    let homework = homework(&["P1", "P2"]);
    let right = ["3", "15", "3:1", "acw"];
    let mut marked = mark(
        &homework,
        &[handed_in("P1", &right), handed_in("P2", &right)],
        &[],
    );
    // Two answers of P1 fit a second idea as well, two of P2 fit two ideas alike.
    let fits: [[&[&str]; 4]; 2] = [
        [
            &["same-direction", "odd-and-even-swapped"],
            &["same-direction", "odd-and-even-swapped"],
            &["same-direction"],
            &[],
        ],
        [
            &["always-opposite", "chain-turns-round"],
            &[],
            &["always-opposite", "chain-turns-round"],
            &["same-direction"],
        ],
    ];
    for (entry, fits) in marked.pupils.iter_mut().zip(fits) {
        for (mark, ids) in entry.marks.iter_mut().zip(fits) {
            mark.misconceptions = ids.iter().map(|id| (*id).to_owned()).collect();
        }
    }
    let overview = overview::of(&marked);
    let told: Vec<Vec<(String, usize)>> = overview
        .pupils
        .iter()
        .map(|pupil| {
            let findings = pupil.consistent_with.iter();
            findings.map(|it| (it.names(), it.answers)).collect()
        })
        .collect();
    let name = |id: &str| misconception::by_id(id).expect("it is known").name;
    let either = format!(
        "{}, or who {}",
        name("always-opposite"),
        name("chain-turns-round")
    );
    assert_eq!(
        told,
        [
            vec![(name("same-direction").to_owned(), 3)],
            vec![(either, 2)]
        ]
    );
    let holders: Vec<(&str, &str, usize, bool)> = overview
        .misconceptions
        .iter()
        .flat_map(|met| {
            met.pupils.iter().map(|holder| {
                let id = met.misconception.id;
                (
                    id,
                    holder.pupil_id.as_str(),
                    holder.answers,
                    holder.or_another,
                )
            })
        })
        .collect();
    assert_eq!(
        holders,
        [
            ("same-direction", "P1", 3, false),
            ("always-opposite", "P2", 2, true),
            ("chain-turns-round", "P2", 2, true),
        ]
    );
    assert!(overview.pupils[1].next.starts_with("Say aloud"));
}

#[test]
fn the_overview_names_a_misconception_of_a_pupil_only_on_two_answers() {
    let homework = homework(&["P1", "P2", "P3"]);
    let marked = mark(
        &homework,
        &[
            // Twice upside down; once only.
            handed_in("P1", &["27", "12/5", "3:1", "acw"]),
            handed_in("P2", &["27", "15", "3:1", "acw"]),
            handed_in("P3", &["3", "15", "3:1", ""]),
        ],
        &[],
    );
    let overview = overview::of(&marked);
    let met = &overview.misconceptions[0];
    assert_eq!(met.misconception.id, "ratio-upside-down");
    assert_eq!((met.answers, met.questions.len()), (3, 2));
    let holders: Vec<&str> = met
        .pupils
        .iter()
        .map(|holder| holder.pupil_id.as_str())
        .collect();
    assert_eq!(holders, ["P1"]);
    let first = &overview.pupils[0];
    assert_eq!((first.marks, first.out_of), (5, 7));
    assert_eq!(
        first.strengths,
        [level::Skill::Ratio, level::Skill::Direction]
    );
    assert_eq!(
        first.next,
        format!("{} {}", met.misconception.say, met.misconception.next)
    );
    assert!(overview.pupils[1].consistent_with.is_empty());
    let question = &overview.questions[0];
    assert_eq!(question.question, "Q1");
    assert_eq!((question.counts.correct, question.counts.partly), (1, 2));
    // 1 + 1 + 2 of 6.
    assert_eq!(question.counts.facility_percent(), Some(67));
    let last = &overview.questions[3];
    assert_eq!(last.counts.not_reached, 1);
    assert_eq!(last.counts.facility_percent(), Some(100));
}

#[test]
fn who_tried_is_told_a_next_step_and_who_did_not_to_begin_together() {
    let homework = homework(&["P1", "P2", "P3", "P4"]);
    let marked = mark(
        &homework,
        &[
            handed_in("P1", &["50", "50", "7:9", ""]),
            handed_in("P2", &["3", "15", "3:1", "acw"]),
            handed_in("P3", &["", "", "", ""]),
            handed_in("P4", &["qwx", "", "", ""]),
        ],
        &[],
    );
    let overview = overview::of(&marked);
    let next: Vec<&str> = overview.pupils.iter().map(|it| it.next.as_str()).collect();
    assert_eq!(
        next,
        [
            overview::skill_step(level::Skill::Turns),
            "All right. Try a question one level up.",
            "Try one question together and say aloud what happens first.",
            overview::skill_step(level::Skill::Turns),
        ]
    );
}
