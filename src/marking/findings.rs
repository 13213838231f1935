//! The fewest ways of thinking that explain a pupil's answers.
//!
//! One answer may be what several ways of thinking give. Counting each of them for a
//! pupil would tell of more wrong ideas than there are; so those come first that
//! explain most answers, and others only for what these leave over.

use crate::misconception;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// How many answers tell something of a pupil: one alone may be chance.
pub const FEWEST_ANSWERS: usize = 2;

/// Answers of one pupil that one way of thinking explains.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// The way of thinking; several where each explains these very answers, so that
    /// they leave open which it is.
    pub ideas: Vec<&'static misconception::Misconception>,
    /// How many answers, two or more, that no other finding before it explains.
    pub answers: usize,
}

impl Finding {
    /// The one way of thinking that explains the answers; `None` where there are more.
    #[must_use]
    pub fn only(&self) -> Option<&'static misconception::Misconception> {
        match self.ideas.as_slice() {
            [only] => Some(only),
            [] | [_, ..] => None,
        }
    }

    /// The names of its ideas: `takes all gears to turn alike, or turns ...`.
    #[must_use]
    pub fn names(&self) -> String {
        let names: Vec<&str> = self.ideas.iter().map(|idea| idea.name).collect();
        names.join(", or who ")
    }
}

/// Returns what a pupil's answers are consistent with, most answers first.
///
/// Each of `answers` holds the ids of the misconceptions that give it. At every step
/// the ways of thinking are taken that explain most of the answers still unexplained,
/// all of them where several explain as many; it ends where none explains two.
#[must_use]
pub fn fewest<'a>(answers: impl IntoIterator<Item = &'a [String]>) -> Vec<Finding> {
    let mut unexplained: BTreeMap<&str, BTreeSet<usize>> = BTreeMap::new();
    for (answer, ids) in answers.into_iter().enumerate() {
        for known in ids.iter().filter_map(|id| misconception::by_id(id)) {
            unexplained.entry(known.id).or_default().insert(answer);
        }
    }
    let mut findings = Vec::new();
    loop {
        let most = unexplained.values().map(BTreeSet::len).max().unwrap_or(0);
        if most < FEWEST_ANSWERS {
            return findings;
        }
        let mut explained: BTreeMap<BTreeSet<usize>, Vec<&str>> = BTreeMap::new();
        for (id, answers) in &unexplained {
            if answers.len() == most {
                explained.entry(answers.clone()).or_default().push(id);
            }
        }
        for (answers, ids) in &explained {
            let known = misconception::all().iter().copied();
            findings.push(Finding {
                ideas: known.filter(|known| ids.contains(&known.id)).collect(),
                answers: answers.len(),
            });
        }
        let all: BTreeSet<usize> = explained.into_keys().flatten().collect();
        for answers in unexplained.values_mut() {
            answers.retain(|answer| !all.contains(answer));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Checks what answers, each a list of ids with spaces between, come to: ids that
    /// explain the same answers with `|` between, and how many.
    fn check(answers: &[&str], wanted: &[(&str, usize)]) {
        let answers: Vec<Vec<String>> = answers
            .iter()
            .map(|ids| ids.split_whitespace().map(str::to_owned).collect())
            .collect();
        let found: Vec<(String, usize)> = fewest(answers.iter().map(Vec::as_slice))
            .into_iter()
            .map(|finding| {
                let ids: Vec<&str> = finding.ideas.iter().map(|idea| idea.id).collect();
                (ids.join("|"), finding.answers)
            })
            .collect();
        let wanted: Vec<(String, usize)> = wanted
            .iter()
            .map(|(ids, answers)| ((*ids).to_owned(), *answers))
            .collect();
        assert_eq!(found, wanted, "{answers:?}");
    }

    #[test]
    fn one_answer_says_nothing_of_a_pupil() {
        check(&["same-speed"], &[]);
        check(&["same-speed", "", "ratio-upside-down"], &[]);
        check(&["same-speed", "", "same-speed"], &[("same-speed", 2)]);
    }

    #[test]
    fn an_idea_that_explains_all_leaves_nothing_to_another() {
        check(
            &[
                "same-direction odd-and-even-swapped",
                "same-direction",
                "same-direction odd-and-even-swapped",
            ],
            &[("same-direction", 3)],
        );
    }

    #[test]
    fn two_ideas_are_told_where_one_does_not_do() {
        check(
            &[
                "same-speed",
                "same-speed adds-stages",
                "same-speed",
                "adds-stages",
                "adds-stages",
            ],
            &[("same-speed", 3), ("adds-stages", 3)],
        );
        check(
            &[
                "same-speed adds-stages",
                "same-speed adds-stages",
                "same-speed",
                "adds-stages",
                "adds-stages last-stage-only",
                "last-stage-only",
                "same-speed",
            ],
            // Both explain four and are told; what is left over is one answer.
            &[("same-speed", 4), ("adds-stages", 4)],
        );
    }

    #[test]
    fn what_fits_several_ideas_alike_is_told_as_one_finding() {
        check(
            &[
                "always-opposite chain-turns-round",
                "always-opposite chain-turns-round",
                "big-gear-faster",
            ],
            &[("always-opposite|chain-turns-round", 2)],
        );
    }

    #[test]
    fn an_id_of_another_edition_explains_nothing() {
        check(&["long-gone", "long-gone"], &[]);
    }
}
