//! Whether the questions of one skill on one sheet tell misconceptions apart.
//!
//! Where an answer is one of two or three, no single question can do it; the
//! sheet does: over its questions every misconception fails at least once, and
//! no two leave the same answers.

use crate::item::apart;
use crate::misconception;
use std::collections::BTreeSet;

/// What the questions of one skill show so far.
#[derive(Debug, Clone, Default)]
pub(super) struct Separation {
    questions: Vec<apart::Traces>,
}

/// What the questions of one skill leave open.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Open {
    /// These misconceptions give the right answer to each question.
    never_fail: Vec<&'static str>,
    /// Each of these groups gives the same answers to all questions.
    same_answers: Vec<Vec<&'static str>>,
}

impl Separation {
    /// Adds a question.
    pub(super) fn add(&mut self, traces: apart::Traces) {
        self.questions.push(traces);
    }

    /// How much these parts would add: misconceptions that fail for the first time,
    /// and pairs told apart for the first time.
    pub(super) fn gain(&self, traces: &[&apart::Traces]) -> usize {
        let mut with = self.clone();
        for part in traces {
            with.add((*part).clone());
        }
        // Both are counted over the same misconceptions, so that a question does not
        // lose by bringing in one more.
        let ids = with.ids();
        with.shown(&ids).saturating_sub(self.shown(&ids))
    }

    /// Returns what is open, over every misconception that applies to a question.
    pub(super) fn open(&self) -> Open {
        let mut open = Open::default();
        for id in self.ids() {
            if !self.has_failure(id) {
                open.never_fail.push(id);
                continue;
            }
            let alike = open.same_answers.iter_mut().find(|group| {
                group
                    .first()
                    .is_some_and(|first| !self.are_apart(first, id))
            });
            match alike {
                Some(group) => group.push(id),
                None => open.same_answers.push(vec![id]),
            }
        }
        open.same_answers.retain(|group| group.len() > 1);
        open
    }

    fn ids(&self) -> Vec<&'static str> {
        let ids: BTreeSet<&'static str> =
            self.questions.iter().flat_map(apart::Traces::ids).collect();
        ids.into_iter().collect()
    }

    fn shown(&self, ids: &[&'static str]) -> usize {
        let failing = ids.iter().filter(|id| self.has_failure(id)).count();
        let apart = pairs(ids)
            .filter(|(first, second)| self.are_apart(first, second))
            .count();
        failing + apart
    }

    fn has_failure(&self, id: &str) -> bool {
        self.questions.iter().any(|traces| traces.fails(id))
    }

    fn are_apart(&self, first: &str, second: &str) -> bool {
        self.questions
            .iter()
            .any(|traces| traces.answers(first) != traces.answers(second))
    }
}

impl Open {
    /// What is open, a sentence for each thing.
    pub(super) fn said(&self) -> Vec<String> {
        let mut said = Vec::new();
        if !self.never_fail.is_empty() {
            said.push(format!(
                "these questions are all answered rightly by {}",
                pupils(&self.never_fail)
            ));
        }
        for group in &self.same_answers {
            said.push(format!(
                "these questions are all answered alike by {}",
                pupils(group)
            ));
        }
        said
    }
}

/// `a pupil who takes ..., one who leaves ...`.
fn pupils(ids: &[&'static str]) -> String {
    let names: Vec<&str> = ids
        .iter()
        .map(|id| misconception::by_id(id).map_or(*id, |known| known.name))
        .collect();
    match names.as_slice() {
        [first, middle @ .., last] => {
            let middle: Vec<String> = middle
                .iter()
                .map(|name| format!(", one who {name}"))
                .collect();
            format!("a pupil who {first}{} and one who {last}", middle.concat())
        }
        [only] => format!("a pupil who {only}"),
        [] => String::new(),
    }
}

fn pairs<'i>(ids: &'i [&'static str]) -> impl Iterator<Item = (&'static str, &'static str)> + 'i {
    ids.iter().enumerate().flat_map(move |(index, first)| {
        ids.iter()
            .skip(index + 1)
            .map(move |second| (*first, *second))
    })
}
