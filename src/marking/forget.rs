//! A marked homework without one of its pupils.

use crate::homework;
use crate::marking;
use crate::marking::decision;
use std::collections::BTreeSet;

/// Returns the marked homework as if the pupil had never been on its roll; none where
/// they are not.
///
/// With the pupil go their answers and marks, what was decided about their answers alone
/// (also about an answer that nobody else gave), their rows of a second look, and notes
/// that name them. What was decided about an answer that others gave too holds for them
/// as before.
#[must_use]
pub fn without(marked: &marking::Marked, pupil_id: &str) -> Option<marking::Marked> {
    let (gone, pupils): (Vec<_>, Vec<_>) = marked
        .pupils
        .iter()
        .cloned()
        .partition(|entry| entry.pupil.id == pupil_id);
    if gone.is_empty() {
        return None;
    }
    let codes = |entries: &[marking::MarkedPupil]| -> BTreeSet<String> {
        let marks = entries.iter().flat_map(|entry| &entry.marks);
        let both = marks.flat_map(|mark| [mark.code.clone(), mark.like.clone()]);
        both.filter(|code| !code.is_empty()).collect()
    };
    let (theirs, others) = (codes(&gone), codes(&pupils));
    let is_kept = |it: &decision::Decision| match &it.scope {
        decision::Scope::Pupil { pupil_id: id } => id != pupil_id,
        decision::Scope::Equal => others.contains(&it.code) || !theirs.contains(&it.code),
    };
    let second_looks = marked.second_looks.iter().cloned().map(|mut look| {
        look.rows.retain(|row| row.pupil_id != pupil_id);
        look
    });
    let names_them = |note: &String| gone.iter().any(|entry| is_named(note, &entry.pupil));
    Some(marking::Marked {
        pupils,
        decisions: kept_decisions(&marked.decisions, is_kept),
        second_looks: second_looks.filter(|look| !look.rows.is_empty()).collect(),
        notes: marked
            .notes
            .iter()
            .filter(|it| !names_them(it))
            .cloned()
            .collect(),
        ..marked.clone()
    })
}

/// Returns the decisions that are kept. How many of those before it each had seen is
/// counted among those kept.
fn kept_decisions(
    decisions: &[decision::Decision],
    is_kept: impl Fn(&decision::Decision) -> bool,
) -> Vec<decision::Decision> {
    let kept: Vec<bool> = decisions.iter().map(is_kept).collect();
    let seen = |count: usize| kept.iter().take(count).filter(|it| **it).count();
    decisions
        .iter()
        .zip(&kept)
        .filter(|(_, is_kept)| **is_kept)
        .map(|(it, _)| decision::Decision {
            seen: it.seen.map(seen),
            ..it.clone()
        })
        .collect()
}

/// Whether a text has the pupil's id or name in it as words of their own.
fn is_named(text: &str, pupil: &homework::Pupil) -> bool {
    [&pupil.id, &pupil.name]
        .into_iter()
        .any(|it| has_word(text, it.trim()))
}

/// Whether a text has a word, or some words, in it that are not part of longer ones.
#[must_use]
pub fn has_word(text: &str, word: &str) -> bool {
    !word.is_empty()
        && text.match_indices(word).any(|(start, _)| {
            let before = text.get(..start).and_then(|it| it.chars().next_back());
            let after = text
                .get(start + word.len()..)
                .and_then(|it| it.chars().next());
            ![before, after]
                .into_iter()
                .flatten()
                .any(char::is_alphanumeric)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_not_part_of_a_longer_one() {
        assert!(has_word("answers of \"P1\", who", "P1"));
        assert!(has_word("P1", "P1") && has_word("Zoë Hall (P1)", "Zoë Hall"));
        assert!(!has_word("answers of P12 and XP1", "P1"));
        assert!(!has_word("anything", ""));
    }

    #[test]
    fn what_a_decision_had_seen_is_counted_among_those_that_are_kept() {
        let decision = |code: &str, seen| decision::Decision {
            scope: decision::Scope::Equal,
            question: "Q1".to_owned(),
            typed: "3".to_owned(),
            code: code.to_owned(),
            marks: 1,
            proposed: 0,
            date: "2026-03-09".to_owned(),
            by: String::new(),
            file: String::new(),
            seen,
        };
        let all = [
            decision("gone", None),
            decision("a", Some(1)),
            decision("gone", Some(1)),
            decision("b", Some(3)),
        ];
        let kept = kept_decisions(&all, |it| it.code != "gone");
        assert_eq!(kept, [decision("a", Some(0)), decision("b", Some(1))]);
    }
}
