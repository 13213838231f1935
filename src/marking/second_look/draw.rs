//! The draw: which answers, in which order.

use crate::marking;
use crate::marking::second_look;
use crate::seed;
use std::cmp::Ordering;
use std::collections::BTreeMap;

/// See [`second_look::draw`].
pub(super) fn draw(
    marked: &marking::Marked,
    plan: &second_look::Plan<'_>,
) -> Option<second_look::Look> {
    let mut queue = queue(marked, plan.seed);
    if queue.is_empty() {
        return None;
    }
    queue.truncate(plan.share.of(queue.len()));
    // Shown in another order than drawn, so that questions are mixed.
    stream(marked, plan.seed, "order").shuffle(&mut queue);
    Some(second_look::Look {
        seed: plan.seed.to_owned(),
        share: plan.share.to_string(),
        drawn_on: plan.date.to_owned(),
        given_back_on: String::new(),
        rows: queue.iter().map(|candidate| row(candidate.mark)).collect(),
    })
}

/// An answer that may be drawn.
struct Candidate<'a> {
    mark: &'a marking::Mark,
    /// Its place among the answers to its question, in a random order, from 0.
    place: u64,
    /// How many answers to its question there are.
    of: u64,
    /// The place of its question, in a random order.
    rank: usize,
}

impl Candidate<'_> {
    /// Which is drawn first: one of every question, then the rest so that each
    /// question keeps its share of them.
    ///
    /// Source: seats given one by one to the highest quotient by 1, 3, 5 ...
    /// (the divisor method of Webster and of Sainte-Laguë, from memory).
    fn order(&self, other: &Self) -> Ordering {
        let quotient = |one: &Self, other: &Self| (2 * one.place + 1) * other.of;
        (self.place > 0)
            .cmp(&(other.place > 0))
            .then_with(|| match (self.place, other.place) {
                (0, 0) => Ordering::Equal,
                (_, _) => quotient(self, other).cmp(&quotient(other, self)),
            })
            .then(self.rank.cmp(&other.rank))
            .then(self.place.cmp(&other.place))
    }
}

/// All answers that were attempted, in the order in which a sample takes them.
fn queue<'a>(marked: &'a marking::Marked, seed: &str) -> Vec<Candidate<'a>> {
    let mut questions: BTreeMap<&str, Vec<&marking::Mark>> = BTreeMap::new();
    for mark in marked.pupils.iter().flat_map(|entry| &entry.marks) {
        if was_attempted(mark.state) {
            questions.entry(&mark.question).or_default().push(mark);
        }
    }
    let mut ranked: Vec<(&str, Vec<&marking::Mark>)> = questions.into_iter().collect();
    stream(marked, seed, "questions").shuffle(&mut ranked);
    let mut queue = Vec::new();
    for (rank, (question, mut marks)) in ranked.into_iter().enumerate() {
        stream(marked, seed, &format!("answers to {question}")).shuffle(&mut marks);
        let of = u64::try_from(marks.len()).expect("a class is smaller than 2^64");
        for (place, mark) in (0..).zip(marks) {
            queue.push(Candidate {
                mark,
                place,
                of,
                rank,
            });
        }
    }
    queue.sort_by(Candidate::order);
    queue
}

fn stream(marked: &marking::Marked, seed: &str, purpose: &str) -> seed::Stream {
    seed::Stream::named(&["second look", &marked.code, seed, purpose], 0)
}

fn row(mark: &marking::Mark) -> second_look::Row {
    second_look::Row {
        pupil_id: mark.pupil_id.clone(),
        question: mark.question.clone(),
        code: mark.code.clone(),
        first: mark.marks,
        reason: mark.reason.clone(),
        second: None,
    }
}

/// Whether there is something for a second person to mark.
fn was_attempted(state: marking::State) -> bool {
    match state {
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Wrong
        | marking::State::Unreadable => true,
        marking::State::Blank
        | marking::State::NotReached
        | marking::State::Absent
        | marking::State::Excused => false,
    }
}
