//! Ways of thinking that a pupil's answers are consistent with, and those that have
//! gone.

use crate::gears::solve;
use crate::item;
use crate::item::apart;
use crate::marking;
use crate::marking::findings;
use crate::misconception;
use crate::next;
use crate::next::history;
use std::collections::BTreeSet;

/// How many right answers show that a way of thinking has gone: as many as it takes to
/// say that it is there.
pub const TO_BE_GONE: usize = findings::FEWEST_ANSWERS;

/// A way of thinking; several where the answers leave open which it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Belief {
    /// Which.
    pub ideas: Vec<&'static misconception::Misconception>,
    /// How many answers are consistent with it.
    pub answers: usize,
}

impl Belief {
    /// Its ids.
    #[must_use]
    pub fn ids(&self) -> Vec<&'static str> {
        self.ideas.iter().map(|idea| idea.id).collect()
    }

    /// What someone who thinks so does, such as `turns the ratio upside down`.
    #[must_use]
    pub fn name(&self) -> String {
        let names: Vec<&str> = self.ideas.iter().map(|idea| idea.name).collect();
        names.join(", or who ")
    }
}

/// Returns what the last homeworks handed in are consistent with, most answers first;
/// and apart from it what was seen there, and has gone.
///
/// Slips of counting, reading and rounding are no way of thinking: no question is made
/// to show them.
pub(super) fn beliefs(history: &history::History<'_>) -> (Vec<Belief>, Vec<Belief>) {
    let recent: Vec<&history::Past<'_>> = history.handed_in().take(next::RECENT).collect();
    let gone: BTreeSet<&str> = seen(&recent)
        .into_iter()
        .filter(|id| has_gone(id, &recent))
        .collect();
    let found = |wanted: &dyn Fn(&str) -> bool| -> Vec<Belief> {
        let ids: Vec<Vec<String>> = recent
            .iter()
            .flat_map(|past| &past.answers)
            .map(|answered| {
                let ids = answered.answer.misconceptions.iter();
                ids.filter(|id| wanted(id)).cloned().collect()
            })
            .collect();
        findings::fewest(ids.iter().map(Vec::as_slice))
            .into_iter()
            .filter(|finding| !finding.ideas.iter().any(|idea| idea.slip))
            .map(|finding| Belief {
                ideas: finding.ideas,
                answers: finding.answers,
            })
            .collect()
    };
    let all = found(&|_| true);
    let open = found(&|id| !gone.contains(id));
    let gone = all
        .into_iter()
        .filter(|belief| belief.ideas.iter().all(|idea| gone.contains(idea.id)))
        .collect();
    (open, gone)
}

/// Every id that an answer shows.
fn seen<'r>(recent: &[&history::Past<'r>]) -> BTreeSet<&'r str> {
    recent
        .iter()
        .flat_map(|past| &past.answers)
        .flat_map(|answered| &answered.answer.misconceptions)
        .map(String::as_str)
        .collect()
}

/// Whether, in homeworks after the last in which it was seen, enough questions that it
/// answers wrongly were answered rightly.
fn has_gone(id: &str, recent: &[&history::Past<'_>]) -> bool {
    let since = recent.iter().take_while(|past| {
        let mut answers = past.answers.iter();
        !answers.any(|it| it.answer.misconceptions.iter().any(|shown| shown == id))
    });
    let right = since
        .flat_map(|past| &past.answers)
        .filter(|answered| answered.answer.state == marking::State::Correct)
        .filter(|answered| answered.item.is_some_and(|item| is_wrong_by(item, id)))
        .count();
    right >= TO_BE_GONE
}

/// Whether someone who thinks so gets the question wrong.
fn is_wrong_by(item: &item::Item, id: &str) -> bool {
    let Ok(worked) = solve::answer(&item.mechanism, &item.ask) else {
        return false;
    };
    let predictions = misconception::predictions(&item.mechanism, &item.ask);
    apart::traces(&worked.fact, &predictions).fails(id)
}
