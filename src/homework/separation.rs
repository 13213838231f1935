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
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Open {
    /// This misconception gives the right answer to each question.
    NeverFails(&'static str),
    /// These two give the same answer to each question.
    SameAnswers(&'static str, &'static str),
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
    pub(super) fn open(&self) -> Vec<Open> {
        let ids = self.ids();
        let mut open: Vec<Open> = ids
            .iter()
            .filter(|id| !self.has_failure(id))
            .map(|id| Open::NeverFails(id))
            .collect();
        for (first, second) in pairs(&ids) {
            // Two that never fail are told already.
            if self.has_failure(first) && !self.are_apart(first, second) {
                open.push(Open::SameAnswers(first, second));
            }
        }
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
    /// What is open, in words.
    pub(super) fn said(&self) -> String {
        let name =
            |id: &str| misconception::by_id(id).map_or(id.to_owned(), |it| it.name.to_owned());
        match self {
            Self::NeverFails(id) => {
                format!("a pupil who {} gets all of these questions right", name(id))
            }
            Self::SameAnswers(first, second) => format!(
                "a pupil who {} and one who {} give the same answers to these questions",
                name(first),
                name(second)
            ),
        }
    }
}

fn pairs<'i>(ids: &'i [&'static str]) -> impl Iterator<Item = (&'static str, &'static str)> + 'i {
    ids.iter().enumerate().flat_map(move |(index, first)| {
        ids.iter()
            .skip(index + 1)
            .map(move |second| (*first, *second))
    })
}
