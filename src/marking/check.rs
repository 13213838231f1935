//! What a person should look at: equal answers to one question in one row.

use crate::marking;
use std::collections::BTreeMap;

/// Equal answers with one proposal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The mark of the first of these pupils; the others differ in the pupil only.
    /// Where they need a look for further reasons, those stand after the first's.
    pub mark: marking::Mark,
    /// The ids of the pupils who gave this answer, in roll order.
    pub pupil_ids: Vec<String>,
}

/// Returns the answers that a person should look at, and after them those that a
/// person has decided for all equal answers.
///
/// The order is that of the questions; in a question the commonest answer first.
/// Versions differ from pupil to pupil, so only answers to equal items share a row.
#[must_use]
pub fn rows(marked: &marking::Marked) -> Vec<Row> {
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
            }),
        }
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
    let mut order = BTreeMap::new();
    for entry in &marked.pupils {
        for mark in &entry.marks {
            let next = order.len();
            order.entry(mark.question.as_str()).or_insert(next);
        }
    }
    order
}
