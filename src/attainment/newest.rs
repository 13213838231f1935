//! Work that came in twice, counted once.
//!
//! Looks at all records of one homework together. For one pupil, work with a question
//! in common is the same work, of which one counts:
//! 1. what was handed in goes before a mere `absent` or `excused`;
//! 2. then the later marked;
//! 3. then the one with fewer answers that a person still has to look at;
//! 4. then one that is fixed by what is in it, whatever the order of the files.
//!
//! Work without a question in common is different work under one code (the same seed,
//! title and day, other questions), and each of it counts.

use crate::attainment;
use crate::attainment::tally;
use crate::attainment::who;
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// What is left of one homework's records to count.
pub(super) struct Newest<'a> {
    /// Each pupil's work that counts.
    pub(super) pupils: Vec<&'a attainment::Pupil>,
    /// How many times a pupil's work was left out for newer work.
    pub(super) left_out: u64,
}

/// One pupil's work with the date of its marking.
struct HandedIn<'a> {
    marked_on: &'a str,
    pupil: &'a attainment::Pupil,
}

impl<'a> HandedIn<'a> {
    fn rank(&self) -> impl Ord {
        let answers = &self.pupil.answers;
        let was_there = answers
            .iter()
            .any(|answer| tally::was_handed_in(answer.state));
        let to_check = answers.iter().filter(|answer| answer.needs_check).count();
        (was_there, self.marked_on, Reverse(to_check), self.pupil)
    }

    fn questions(&self) -> BTreeSet<(&'a str, &'a str, &'a str)> {
        let answers = self.pupil.answers.iter();
        answers
            .map(|answer| {
                let (bank, template) = (answer.bank.as_str(), answer.template.as_str());
                (answer.question.as_str(), bank, template)
            })
            .collect()
    }
}

/// Returns the work that counts of all records of one homework.
pub(super) fn newest<'a>(works: &[&'a attainment::Work]) -> Newest<'a> {
    let mut by_pupil: BTreeMap<who::Who, Vec<HandedIn<'a>>> = BTreeMap::new();
    for work in works {
        for pupil in &work.pupils {
            by_pupil.entry(pupil.who).or_default().push(HandedIn {
                marked_on: &work.marked_on,
                pupil,
            });
        }
    }
    let mut newest = Newest {
        pupils: Vec::new(),
        left_out: 0,
    };
    for mut works in by_pupil.into_values() {
        if let [only] = works.as_slice() {
            newest.pupils.push(only.pupil);
            continue;
        }
        works.sort_by(|one, other| other.rank().cmp(&one.rank()));
        let mut counted = BTreeSet::new();
        for work in works {
            let questions = work.questions();
            if !questions.is_disjoint(&counted) {
                newest.left_out = newest.left_out.saturating_add(1);
                continue;
            }
            counted.extend(questions);
            newest.pupils.push(work.pupil);
        }
    }
    newest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attainment::examples;
    use crate::marking;

    fn work(marked_on: &str, state: marking::State) -> attainment::Work {
        let answer = attainment::Answer {
            state,
            ..examples::answer()
        };
        attainment::Work {
            marked_on: marked_on.to_owned(),
            kept_until: None,
            pupils: vec![examples::pupil("P1", vec![answer])],
            ..examples::work()
        }
    }

    /// Checks which states are counted of two works, in both orders.
    fn check(works: &[attainment::Work; 2], wanted: &[marking::State]) {
        let [one, other] = works;
        for works in [[one, other], [other, one]] {
            let newest = newest(&works);
            let states: Vec<_> = newest
                .pupils
                .iter()
                .flat_map(|pupil| pupil.answers.iter().map(|answer| answer.state))
                .collect();
            assert_eq!(states, wanted);
            assert_eq!(newest.left_out, u64::from(wanted.len() < 2));
        }
    }

    #[test]
    fn the_newest_of_the_same_work_counts_whatever_the_order() {
        let old = work("2026-03-10", marking::State::Wrong);
        let new = work("2026-03-12", marking::State::Correct);
        check(&[old, new], &[marking::State::Correct]);
    }

    #[test]
    fn a_late_absence_does_not_undo_work_that_was_handed_in() {
        let there = work("2026-03-10", marking::State::Correct);
        for state in [marking::State::Absent, marking::State::Excused] {
            check(
                &[there.clone(), work("2026-03-12", state)],
                &[marking::State::Correct],
            );
        }
    }

    #[test]
    fn of_two_markings_of_one_day_the_settled_one_counts() {
        let settled = work("2026-03-10", marking::State::Correct);
        let mut open = work("2026-03-10", marking::State::Wrong);
        open.pupils[0].answers[0].needs_check = true;
        check(&[settled, open], &[marking::State::Correct]);
    }

    #[test]
    fn of_two_equally_new_ones_the_same_counts_in_either_order() {
        let (one, other) = (marking::State::Wrong, marking::State::Correct);
        check(
            &[work("2026-03-10", one), work("2026-03-10", other)],
            &[one],
        );
    }

    #[test]
    fn other_questions_under_the_same_code_are_other_work() {
        let one = work("2026-03-10", marking::State::Correct);
        let mut other = work("2026-03-12", marking::State::Correct);
        other.pupils[0].answers[0].template = "ratio-pair".to_owned();
        check(
            &[one, other],
            &[marking::State::Correct, marking::State::Correct],
        );
    }
}
