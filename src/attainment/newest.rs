//! Work that came in twice, counted once.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::tally;
use std::collections::{BTreeMap, BTreeSet};

/// What is left to count.
pub(super) struct Newest<'a> {
    /// Every homework, by date set.
    pub(super) homeworks: Vec<attainment::HomeworkLine>,
    /// Every answer that counts, with the work it stands in.
    pub(super) answers: Vec<(&'a attainment::Work, &'a attainment::Answer)>,
    /// How many times a pupil's work was left out for newer work.
    pub(super) left_out: usize,
}

/// One pupil's answers in one work.
struct HandedIn<'a> {
    work: &'a attainment::Work,
    answers: Vec<&'a attainment::Answer>,
}

impl HandedIn<'_> {
    /// Orders work for the same homework and pupil: what was handed in goes
    /// before a mere `absent`, then the later marked.
    fn rank(&self) -> (bool, &str) {
        let was_there = self
            .answers
            .iter()
            .any(|answer| tally::was_handed_in(answer.state));
        (was_there, &self.work.marked_on)
    }
}

/// Returns the newest of each pupil's work for each homework; of equally new
/// ones, the one that was given last.
pub(super) fn newest<'w>(works: impl IntoIterator<Item = &'w attainment::Work>) -> Newest<'w> {
    let works: Vec<&'w attainment::Work> = works.into_iter().collect();
    let mut chosen: BTreeMap<(&str, &str), HandedIn<'_>> = BTreeMap::new();
    let mut left_out = 0_usize;
    for work in works.iter().copied() {
        let mut pupils: BTreeMap<&str, Vec<&attainment::Answer>> = BTreeMap::new();
        for answer in &work.answers {
            pupils.entry(&answer.pupil_id).or_default().push(answer);
        }
        for (pupil, answers) in pupils {
            let one = HandedIn { work, answers };
            match chosen.get_mut(&(work.code.as_str(), pupil)) {
                Some(other) => {
                    left_out = left_out.saturating_add(1);
                    if one.rank() >= other.rank() {
                        *other = one;
                    }
                }
                None => {
                    chosen.insert((&work.code, pupil), one);
                }
            }
        }
    }
    let homeworks = homeworks(&works, &chosen);
    let answers = chosen
        .into_values()
        .flat_map(|one| {
            let work = one.work;
            one.answers.into_iter().map(move |answer| (work, answer))
        })
        .collect();
    Newest {
        homeworks,
        answers,
        left_out,
    }
}

/// One line for each homework code.
fn homeworks(
    works: &[&attainment::Work],
    chosen: &BTreeMap<(&str, &str), HandedIn<'_>>,
) -> Vec<attainment::HomeworkLine> {
    let mut newest: BTreeMap<&str, &attainment::Work> = BTreeMap::new();
    for &work in works {
        let place = newest.entry(&work.code).or_insert(work);
        if work.marked_on >= place.marked_on {
            *place = work;
        }
    }
    let mut works: Vec<&attainment::Work> = newest.into_values().collect();
    works.sort_by_key(|work| (&work.set_on, &work.code));
    let sizes: Vec<(u32, usize)> = works
        .iter()
        .map(|work| size_of(&work.code, chosen))
        .collect();
    let pupils: Vec<u32> = sizes.iter().map(|(pupils, _)| *pupils).collect();
    works
        .iter()
        .zip(count::counts(&pupils))
        .zip(&sizes)
        .map(
            |((work, pupils), (_, questions))| attainment::HomeworkLine {
                code: work.code.clone(),
                title: work.title.clone(),
                set_on: work.set_on.clone(),
                marked_on: work.marked_on.clone(),
                pupils,
                questions: *questions,
            },
        )
        .collect()
}

/// How many pupils handed a homework in, and the most questions on a sheet.
fn size_of(code: &str, chosen: &BTreeMap<(&str, &str), HandedIn<'_>>) -> (u32, usize) {
    let mut pupils = 0_u32;
    let mut questions = 0;
    for ((homework, _), one) in chosen {
        if *homework != code {
            continue;
        }
        if one.rank().0 {
            pupils = pupils.saturating_add(1);
        }
        let numbers: BTreeSet<&str> = one
            .answers
            .iter()
            .map(|answer| answer.question.as_str())
            .collect();
        questions = numbers.len().max(questions);
    }
    (pupils, questions)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attainment::examples;
    use crate::marking;

    fn work(marked_on: &str, pupil: &str, state: marking::State) -> attainment::Work {
        attainment::Work {
            marked_on: marked_on.to_owned(),
            answers: vec![attainment::Answer {
                pupil_id: pupil.to_owned(),
                state,
                ..examples::answer()
            }],
            ..examples::work()
        }
    }

    #[test]
    fn the_newest_of_the_same_work_counts_whatever_the_order() {
        let old = work("2026-03-10", "P1", marking::State::Wrong);
        let new = work("2026-03-12", "P1", marking::State::Correct);
        for works in [[old.clone(), new.clone()], [new, old]] {
            let left = newest(&works);
            assert_eq!(left.left_out, 1);
            let states: Vec<_> = left.answers.iter().map(|(_, it)| it.state).collect();
            assert_eq!(states, [marking::State::Correct]);
            assert_eq!(left.homeworks.len(), 1);
            assert_eq!(left.homeworks[0].marked_on, "2026-03-12");
        }
    }

    #[test]
    fn a_late_absence_does_not_undo_work_that_was_handed_in() {
        let works = [
            work("2026-03-10", "P1", marking::State::Correct),
            work("2026-03-12", "P1", marking::State::Absent),
        ];
        let left = newest(&works);
        assert_eq!(left.answers[0].1.state, marking::State::Correct);
    }

    #[test]
    fn different_homeworks_and_pupils_all_count() {
        let mut other = work("2026-03-10", "P1", marking::State::Wrong);
        other.code = "B2".to_owned();
        let works = [
            work("2026-03-10", "P1", marking::State::Wrong),
            work("2026-03-10", "P2", marking::State::Wrong),
            other,
        ];
        let left = newest(&works);
        assert_eq!((left.answers.len(), left.left_out), (3, 0));
        assert_eq!(left.homeworks.len(), 2);
    }
}
