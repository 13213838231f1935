//! Which decisions stand for an answer, where several were made about it.
//!
//! A decision takes the place of those that the person could see when they made
//! it, and of an earlier one from the same copy of a workbook, whose cell it was
//! typed over. What is left stands: several that agree are as good as one; where
//! they differ, the answer is not settled until somebody decides who has seen
//! them all.

use crate::marking;
use crate::marking::decision;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// A decision with its place among all.
type Numbered<'a> = (usize, &'a decision::Decision);

/// Decisions by what they are about.
#[derive(Debug, Clone, Default)]
pub struct Decisions<'a> {
    for_equal: BTreeMap<&'a str, Vec<Numbered<'a>>>,
    for_pupils: BTreeMap<&'a str, Vec<Numbered<'a>>>,
}

/// What stands of the decisions about one answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing<'a> {
    /// Nobody decided.
    Nothing,
    /// One decision, or several that agree.
    Agreed(Agreed<'a>),
    /// Two or more that differ, oldest first.
    Differing(Vec<&'a decision::Decision>),
}

/// Decisions that agree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Agreed<'a> {
    /// The newest of them.
    pub newest: &'a decision::Decision,
    /// Who made them, with commas between; may be empty.
    pub by: String,
    /// What stood before them, oldest first.
    pub before: Vec<&'a decision::Decision>,
}

impl<'a> Decisions<'a> {
    /// Returns decisions, oldest first, by what they are about.
    #[must_use]
    pub fn of(decisions: &'a [decision::Decision]) -> Self {
        let mut all = Self::default();
        for (index, decision) in decisions.iter().enumerate() {
            let list = match &decision.scope {
                decision::Scope::Equal => all.for_equal.entry(&decision.code),
                decision::Scope::Pupil { pupil_id } => all.for_pupils.entry(pupil_id),
            };
            list.or_default().push((index, decision));
        }
        all
    }

    /// Returns what stands for all answers with this code.
    #[must_use]
    pub fn for_equal_answers(&self, code: &str) -> Standing<'a> {
        self.for_equal
            .get(code)
            .map_or(Standing::Nothing, |made| standing(made))
    }

    /// Returns what stands for this pupil's answer alone.
    ///
    /// A question may have another number by now, so the answer's code counts;
    /// only of two equal answers of one pupil does the number tell which is meant.
    #[must_use]
    pub fn for_pupil(&self, pupil_id: &str, question: &str, code: &str) -> Standing<'a> {
        let of_code: Vec<Numbered<'a>> = self
            .own(pupil_id)
            .filter(|(_, decision)| decision.code == code)
            .collect();
        let of_question: Vec<Numbered<'a>> = of_code
            .iter()
            .filter(|(_, decision)| decision.question == question)
            .copied()
            .collect();
        standing(if of_question.is_empty() {
            &of_code
        } else {
            &of_question
        })
    }

    /// Returns what was last decided for this pupil's answer to the question when
    /// it was another answer; `codes` are those of all answers of the pupil.
    pub(super) fn for_another_answer(
        &self,
        mark: &marking::Mark,
        codes: &BTreeSet<String>,
    ) -> Option<&'a decision::Decision> {
        self.own(&mark.pupil_id)
            .filter(|(_, decision)| {
                decision.question == mark.question && !codes.contains(&decision.code)
            })
            .last()
            .map(|(_, decision)| decision)
    }

    /// Says whether a decision is one of those that stand for its answer; of several
    /// that agree, only the newest.
    pub(super) fn has_standing(&self, decision: &decision::Decision) -> bool {
        let standing = match &decision.scope {
            decision::Scope::Equal => self.for_equal_answers(&decision.code),
            decision::Scope::Pupil { pupil_id } => {
                self.for_pupil(pupil_id, &decision.question, &decision.code)
            }
        };
        match standing {
            Standing::Nothing => false,
            Standing::Agreed(agreed) => std::ptr::eq(agreed.newest, decision),
            Standing::Differing(differing) => {
                differing.iter().any(|one| std::ptr::eq(*one, decision))
            }
        }
    }

    fn own(&self, pupil_id: &str) -> impl Iterator<Item = Numbered<'a>> {
        self.for_pupils.get(pupil_id).into_iter().flatten().copied()
    }

    /// Says whether nobody decided anything.
    pub(super) fn is_empty(&self) -> bool {
        self.for_equal.is_empty() && self.for_pupils.is_empty()
    }
}

/// Returns what stands of decisions about one answer.
fn standing<'a>(made: &[Numbered<'a>]) -> Standing<'a> {
    let left = left_of(made);
    let Some((_, newest)) = left.last() else {
        return Standing::Nothing;
    };
    if left
        .iter()
        .any(|(_, decision)| decision.marks != newest.marks)
    {
        return Standing::Differing(left.iter().map(|(_, decision)| *decision).collect());
    }
    let mut people: Vec<&str> = Vec::new();
    for (_, decision) in &left {
        if !decision.by.is_empty() && !people.contains(&decision.by.as_str()) {
            people.push(&decision.by);
        }
    }
    let gone: Vec<Numbered<'a>> = made
        .iter()
        .filter(|(index, _)| !left.iter().any(|(standing, _)| standing == index))
        .copied()
        .collect();
    Standing::Agreed(Agreed {
        newest,
        by: people.join(", "),
        before: left_of(&gone)
            .into_iter()
            .map(|(_, decision)| decision)
            .collect(),
    })
}

/// Returns the decisions that no later one took the place of.
fn left_of<'a>(made: &[Numbered<'a>]) -> Vec<Numbered<'a>> {
    let mut left: Vec<Numbered<'a>> = Vec::new();
    for (index, decision) in made {
        left.retain(|(earlier_index, earlier)| {
            let was_seen = decision.seen.is_none_or(|seen| *earlier_index < seen);
            let same_cell = !decision.file.is_empty()
                && decision.file == earlier.file
                && decision.seen == earlier.seen;
            !was_seen && !same_cell
        });
        left.push((*index, decision));
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A decision on one answer.
    fn made(marks: u8, by: &str, file: &str, seen: Option<usize>) -> decision::Decision {
        decision::Decision {
            scope: decision::Scope::Equal,
            question: "Q1".to_owned(),
            typed: "27 no 3".to_owned(),
            code: "a".to_owned(),
            marks,
            proposed: 0,
            date: "2026-03-09".to_owned(),
            by: by.to_owned(),
            file: file.to_owned(),
            seen,
        }
    }

    /// What stands, in short: `1`, or `2 1` where they differ.
    fn short(decisions: &[decision::Decision]) -> String {
        match Decisions::of(decisions).for_equal_answers("a") {
            Standing::Nothing => String::new(),
            Standing::Agreed(agreed) => {
                let before: Vec<String> = agreed
                    .before
                    .iter()
                    .map(|decision| decision.marks.to_string())
                    .collect();
                format!(
                    "{} by [{}] before [{}]",
                    agreed.newest.marks,
                    agreed.by,
                    before.join(" ")
                )
            }
            Standing::Differing(differing) => {
                let marks: Vec<String> = differing
                    .iter()
                    .map(|decision| decision.marks.to_string())
                    .collect();
                marks.join(" or ")
            }
        }
    }

    #[test]
    fn who_saw_the_other_s_decision_takes_its_place_and_who_did_not_differs() {
        let first = || made(2, "AB", "marked.xlsx", Some(0));
        let cases: [(&str, Vec<decision::Decision>, &str); 9] = [
            ("nothing", Vec::new(), ""),
            ("one", vec![first()], "2 by [AB] before []"),
            (
                "a later one that saw it",
                vec![first(), made(1, "CD", "marked.xlsx", Some(1))],
                "1 by [CD] before [2]",
            ),
            (
                "neither knew of the other",
                vec![first(), made(1, "CD", "copy.xlsx", Some(0))],
                "2 or 1",
            ),
            (
                "neither knew, but they agree",
                vec![first(), made(2, "CD", "copy.xlsx", Some(0))],
                "2 by [AB, CD] before []",
            ),
            (
                "settled by one that saw both",
                vec![
                    first(),
                    made(1, "CD", "copy.xlsx", Some(0)),
                    made(1, "EF", "marked.xlsx", Some(2)),
                ],
                "1 by [EF] before [2 1]",
            ),
            (
                "a third that saw only the first",
                vec![
                    first(),
                    made(1, "CD", "copy.xlsx", Some(0)),
                    made(0, "EF", "third.xlsx", Some(1)),
                ],
                "1 or 0",
            ),
            (
                "the same cell typed over",
                vec![first(), made(1, "AB", "marked.xlsx", Some(0))],
                "1 by [AB] before [2]",
            ),
            (
                "made by an earlier version of the program, one after the other",
                vec![made(2, "", "", None), made(1, "", "", None)],
                "1 by [] before [2]",
            ),
        ];
        for (name, decisions, wanted) in cases {
            assert_eq!(short(&decisions), wanted, "{name}");
        }
    }

    #[test]
    fn a_workbook_s_stamp_tells_what_it_was_written_with() {
        let all = [
            made(2, "AB", "marked.xlsx", Some(0)),
            made(1, "CD", "marked.xlsx", Some(1)),
        ];
        let one = decision::stamp(&all[..1]);
        assert!(one.starts_with("1 ("), "{one}");
        assert_eq!(decision::seen(&one, &all), Some(1));
        assert_eq!(decision::seen(&decision::stamp(&all), &all), Some(2));
        assert_eq!(decision::seen(&decision::stamp(&[]), &all), Some(0));
        // Other decisions, more than there are, and no stamp at all.
        assert_eq!(decision::seen(&one, &all[1..]), None);
        assert_eq!(decision::seen(&decision::stamp(&all), &all[..1]), None);
        for text in ["", "1", "many (5f2a)", "-1 (5f2a)"] {
            assert_eq!(decision::seen(text, &all), None, "{text}");
        }
    }
}
