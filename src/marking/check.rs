//! What a person should look at: equal answers to one question in one row, and like
//! explanations too.

use crate::item;
use crate::marking;
use crate::marking::standing;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// The most different texts in one row: a person decides about what they can read.
const MOST_TEXTS: usize = 8;

/// Equal or like answers with one proposal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The mark of the first of these pupils; the others differ in the pupil only, or
    /// in their words.
    /// Where they need a look for further reasons, those stand after the first's.
    pub mark: marking::Mark,
    /// The ids of the pupils who gave this answer, in roll order.
    pub pupil_ids: Vec<String>,
    /// The different answers in the row, the commonest first; one where all are equal.
    pub answers: Vec<Answer>,
    /// The marks that were decided for like answers that stand in other rows, each once.
    pub like_decided: Vec<u8>,
}

/// One of the answers of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// Its code, by which a decision about it is kept; a code for each version where
    /// the same was typed to other numbers.
    pub codes: Vec<String>,
    /// What was typed, by the first who did.
    pub typed: String,
}

/// Returns the answers that a person should look at, and after them those that a
/// person has decided for all equal answers.
///
/// The order is that of the questions; in a question the commonest answer first.
/// Versions differ from pupil to pupil, so only answers to equal items share a row.
/// Explanations with the same ideas in them share one too, a few texts to a row, also
/// where the numbers of the versions differ: the ideas were held against each one's own.
#[must_use]
pub fn rows(marked: &marking::Marked) -> Vec<Row> {
    let (open, decided) = equal_rows(marked);
    let decisions = standing::Decisions::of(&marked.decisions);
    let places = roll_places(marked);
    let mut open = gathered(open, &decisions, &places);
    let mut decided = gathered(decided, &decisions, &places);
    for row in &mut open {
        let mut marks: Vec<u8> = decided
            .iter()
            .filter(|other| !row.mark.like.is_empty() && other.mark.like == row.mark.like)
            .map(|other| other.mark.marks)
            .collect();
        marks.sort_unstable();
        marks.dedup();
        row.like_decided = marks;
    }
    let order = question_order(marked);
    for rows in [&mut open, &mut decided] {
        rows.sort_by_key(|row| {
            let question = order.get(row.mark.question.as_str()).copied();
            (question, std::cmp::Reverse(row.pupil_ids.len()))
        });
    }
    open.append(&mut decided);
    open
}

/// The rows of equal answers: those that are open, and those that are decided.
fn equal_rows(marked: &marking::Marked) -> (Vec<Row>, Vec<Row>) {
    let mut open: Vec<Row> = Vec::new();
    let mut decided: Vec<Row> = Vec::new();
    let mut place: BTreeMap<(bool, &str), usize> = BTreeMap::new();
    for mark in marked.pupils.iter().flat_map(|entry| &entry.marks) {
        let is_open = !mark.check.is_empty();
        if !is_open && mark.decided.is_none() {
            continue;
        }
        let rows = if is_open { &mut open } else { &mut decided };
        let index = *place.entry((is_open, &mark.code)).or_insert(rows.len());
        match rows.get_mut(index) {
            Some(row) => {
                row.pupil_ids.push(mark.pupil_id.clone());
                add_checks(row, &mark.check);
            }
            None => rows.push(Row {
                mark: mark.clone(),
                pupil_ids: vec![mark.pupil_id.clone()],
                answers: vec![Answer {
                    codes: vec![mark.code.clone()],
                    typed: mark.typed.clone(),
                }],
                like_decided: Vec::new(),
            }),
        }
    }
    (open, decided)
}

/// What rows must have in common to be one: like answers, looked at for the same
/// reasons, with the same proposal and the same decision.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Kind {
    like: String,
    check: String,
    marks: u8,
    decided: Option<(u8, String, String)>,
}

/// Gathers the rows of like answers, the commonest texts first.
fn gathered(
    mut rows: Vec<Row>,
    decisions: &standing::Decisions<'_>,
    places: &BTreeMap<String, usize>,
) -> Vec<Row> {
    rows.sort_by_key(|row| std::cmp::Reverse(row.pupil_ids.len()));
    let mut found: Vec<Row> = Vec::new();
    let mut last: BTreeMap<Kind, usize> = BTreeMap::new();
    for row in rows {
        if row.mark.like.is_empty() {
            found.push(row);
            continue;
        }
        let kind = Kind {
            like: row.mark.like.clone(),
            check: row.mark.check.clone(),
            marks: row.mark.marks,
            decided: match decisions.for_equal_answers(&row.mark.code) {
                standing::Standing::Agreed(agreed) => {
                    Some((agreed.newest.marks, agreed.newest.date.clone(), agreed.by))
                }
                standing::Standing::Nothing | standing::Standing::Differing(_) => None,
            },
        };
        let known = last
            .get(&kind)
            .and_then(|place| found.get_mut(*place))
            .filter(|known| has_room(known, &row));
        if let Some(known) = known {
            known.pupil_ids.extend(row.pupil_ids);
            for answer in row.answers {
                add_answer(known, answer);
            }
            known.pupil_ids.sort_by_key(|id| places.get(id).copied());
        } else {
            last.insert(kind, found.len());
            found.push(row);
        }
    }
    found
}

/// Whether a row has room for the answers of another.
fn has_room(row: &Row, other: &Row) -> bool {
    row.answers.len() < MOST_TEXTS
        || other
            .answers
            .iter()
            .all(|answer| row.answers.iter().any(|known| is_same(known, answer)))
}

/// Adds an answer, or its codes to one with the same text.
fn add_answer(row: &mut Row, answer: Answer) {
    match row.answers.iter_mut().find(|known| is_same(known, &answer)) {
        Some(known) => known.codes.extend(answer.codes),
        None => row.answers.push(answer),
    }
}

/// Whether two answers differ at most in capitals and white space.
fn is_same(one: &Answer, other: &Answer) -> bool {
    let words = |answer: &Answer| -> Vec<String> {
        let words = answer.typed.split_whitespace();
        words.map(str::to_lowercase).collect()
    };
    words(one) == words(other)
}

/// The place of each pupil on the roll.
fn roll_places(marked: &marking::Marked) -> BTreeMap<String, usize> {
    marked
        .pupils
        .iter()
        .enumerate()
        .map(|(place, entry)| (entry.pupil.id.clone(), place))
        .collect()
}

/// Adds the reasons to look that a row does not have yet.
fn add_checks(row: &mut Row, check: &str) {
    for one in check.split("; ").filter(|one| !one.is_empty()) {
        if !row.mark.check.split("; ").any(|known| known == one) {
            row.mark.check.push_str("; ");
            row.mark.check.push_str(one);
        }
    }
}

/// The place of each question, as the sheets have it.
pub(super) fn question_order(marked: &marking::Marked) -> BTreeMap<&str, usize> {
    let mut numbers: BTreeSet<&str> = BTreeSet::new();
    let mut before: &[marking::Mark] = &[];
    for entry in &marked.pupils {
        // Most pupils have the questions of the pupil before.
        let is_as_before = entry.marks.len() == before.len()
            && (entry.marks.iter().zip(before)).all(|(one, other)| one.question == other.question);
        if !is_as_before {
            numbers.extend(entry.marks.iter().map(|mark| mark.question.as_str()));
            before = &entry.marks;
        }
    }
    let mut numbers: Vec<&str> = numbers.into_iter().collect();
    numbers.sort_by_key(|number| item::order(number));
    numbers.into_iter().zip(0..).collect()
}
