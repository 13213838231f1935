//! What people decided, applied to marks: settled, or shown to a person again.

use crate::marking;
use crate::marking::decision;
use crate::marking::standing;
use std::collections::BTreeSet;

/// Applies what people decided to the marks of one pupil.
///
/// A decision for the pupil goes before one for all equal answers. One for the
/// pupil whose answer has changed since is not applied, but shown again; so are
/// two that differ.
pub(super) fn apply(marks: &mut [marking::Mark], decisions: &standing::Decisions<'_>) {
    if decisions.is_empty() {
        return;
    }
    let codes: BTreeSet<String> = marks.iter().map(|mark| mark.code.clone()).collect();
    for mark in marks {
        match found(mark, &codes, decisions) {
            Found::Nothing => {}
            Found::Settled(agreed) => settle(mark, &agreed),
            Found::Differing(differing) => {
                let said: Vec<String> = differing
                    .iter()
                    .map(|decision| marks_with_source(decision, mark.out_of))
                    .collect();
                look_first(
                    mark,
                    &format!("two decisions differ: {}", said.join(" and ")),
                );
            }
            Found::Changed(own) => {
                let why = format!(
                    "the answer has changed since {} was decided for \"{}\" on {}",
                    decision::marks_text(own.marks),
                    own.typed,
                    own.date
                );
                look_first(mark, &why);
            }
        }
    }
}

/// What people decided about one mark.
enum Found<'a> {
    Nothing,
    Settled(standing::Agreed<'a>),
    Differing(Vec<&'a decision::Decision>),
    /// Decided for the pupil when the answer was another.
    Changed(&'a decision::Decision),
}

fn found<'a>(
    mark: &marking::Mark,
    codes: &BTreeSet<String>,
    decisions: &standing::Decisions<'a>,
) -> Found<'a> {
    match decisions.for_pupil(&mark.pupil_id, &mark.question, &mark.code) {
        standing::Standing::Agreed(agreed) => return Found::Settled(agreed),
        standing::Standing::Differing(differing) => return Found::Differing(differing),
        standing::Standing::Nothing => {}
    }
    if let Some(own) = decisions.for_another_answer(mark, codes) {
        return Found::Changed(own);
    }
    match decisions.for_equal_answers(&mark.code) {
        standing::Standing::Agreed(agreed) => Found::Settled(agreed),
        standing::Standing::Differing(differing) => Found::Differing(differing),
        standing::Standing::Nothing => Found::Nothing,
    }
}

/// Puts a reason to look before what the answer's own reading asks for.
fn look_first(mark: &mut marking::Mark, why: &str) {
    mark.check = if mark.check.is_empty() {
        why.to_owned()
    } else {
        format!("{why}; {}", mark.check)
    };
}

fn settle(mark: &mut marking::Mark, agreed: &standing::Agreed<'_>) {
    let marks = agreed.newest.marks.min(mark.out_of);
    let by = if agreed.by.is_empty() {
        String::new()
    } else {
        format!(" by {}", agreed.by)
    };
    let before: Vec<String> = agreed
        .before
        .iter()
        .map(|decision| marks_with_source(decision, mark.out_of))
        .collect();
    let before = if before.is_empty() {
        String::new()
    } else {
        format!(", before that {}", before.join(" and "))
    };
    mark.reason = format!(
        "Decided by hand on {}{by}: {}{before} (proposed was {}: {})",
        agreed.newest.date,
        decision::marks_text(marks),
        mark.marks,
        mark.reason.trim_end_matches('.')
    );
    mark.decided = Some(marking::Decided {
        date: agreed.newest.date.clone(),
        proposed: mark.marks,
        by: agreed.by.clone(),
    });
    mark.marks = marks;
    mark.check = String::new();
    mark.state = match mark.state {
        marking::State::Absent | marking::State::Excused if marks == 0 => mark.state,
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Wrong
        | marking::State::Blank
        | marking::State::NotReached
        | marking::State::Unreadable
        | marking::State::Absent
        | marking::State::Excused => marking::one::state(marks, mark.out_of),
    };
}

/// `2 marks (AB, marked.xlsx, 2026-03-09)`.
fn marks_with_source(decision: &decision::Decision, out_of: u8) -> String {
    let source = [&decision.by, &decision.file, &decision.date];
    let source: Vec<&str> = source
        .into_iter()
        .map(String::as_str)
        .filter(|text| !text.is_empty())
        .collect();
    format!(
        "{} ({})",
        decision::marks_text(decision.marks.min(out_of)),
        source.join(", ")
    )
}

/// Returns new decisions for single pupils that follow from new ones for all equal
/// answers.
///
/// A row of the results workbook may wait for a look only because of what was
/// decided for one of its pupils alone (and the answer has changed since, or two
/// people differ). The mark given in that row is then meant for that pupil too.
/// `marked` is the homework as the workbook showed it.
#[must_use]
pub fn meant_for_pupils(
    new: &[decision::Decision],
    marked: &marking::Marked,
) -> Vec<decision::Decision> {
    let earlier = standing::Decisions::of(&marked.decisions);
    let mut found_for_pupils = Vec::new();
    for decision in new {
        let is_of_this_workbook = decision.seen == Some(marked.decisions.len());
        if !is_of_this_workbook || decision.scope != decision::Scope::Equal {
            continue;
        }
        for entry in &marked.pupils {
            let codes: BTreeSet<String> =
                entry.marks.iter().map(|mark| mark.code.clone()).collect();
            let waiting = entry.marks.iter().filter(|mark| {
                mark.code == decision.code
                    && match found(mark, &codes, &earlier) {
                        Found::Changed(_) => true,
                        Found::Differing(differing) => differing
                            .iter()
                            .any(|one| one.scope != decision::Scope::Equal),
                        Found::Nothing | Found::Settled(_) => false,
                    }
            });
            found_for_pupils.extend(waiting.map(|mark| decision::Decision {
                scope: decision::Scope::Pupil {
                    pupil_id: mark.pupil_id.clone(),
                },
                question: mark.question.clone(),
                typed: mark.typed.clone(),
                proposed: mark.marks,
                ..decision.clone()
            }));
        }
    }
    found_for_pupils
}

/// Returns on how many different answers people's decisions differ.
#[must_use]
pub fn count_differing(marked: &marking::Marked) -> usize {
    let decisions = standing::Decisions::of(&marked.decisions);
    if decisions.is_empty() {
        return 0;
    }
    let mut answers: BTreeSet<(Option<&str>, &str)> = BTreeSet::new();
    for entry in &marked.pupils {
        let codes: BTreeSet<String> = entry.marks.iter().map(|mark| mark.code.clone()).collect();
        for mark in &entry.marks {
            match found(mark, &codes, &decisions) {
                Found::Differing(differing) => {
                    let is_own = differing
                        .iter()
                        .any(|one| one.scope != decision::Scope::Equal);
                    answers.insert((is_own.then_some(mark.pupil_id.as_str()), &mark.code));
                }
                Found::Nothing | Found::Settled(_) | Found::Changed(_) => {}
            }
        }
    }
    answers.len()
}

/// Returns a sentence for every standing decision that fits no answer: the answer
/// was changed, or the pupil or the question is no longer there.
///
/// One for a pupil whose answer to that question is another now is shown beside
/// that answer, and not told here.
pub(super) fn without_answer(
    pupils: &[marking::MarkedPupil],
    made: &[decision::Decision],
) -> Vec<String> {
    let mut codes: BTreeSet<&str> = BTreeSet::new();
    let mut own_codes: BTreeSet<(&str, &str)> = BTreeSet::new();
    let mut own_questions: BTreeSet<(&str, &str)> = BTreeSet::new();
    for mark in pupils.iter().flat_map(|entry| &entry.marks) {
        codes.insert(&mark.code);
        own_codes.insert((&mark.pupil_id, &mark.code));
        own_questions.insert((&mark.pupil_id, &mark.question));
    }
    let lost = |decision: &&decision::Decision| match &decision.scope {
        decision::Scope::Equal => !codes.contains(decision.code.as_str()),
        decision::Scope::Pupil { pupil_id } => {
            !own_codes.contains(&(pupil_id, &decision.code))
                && !own_questions.contains(&(pupil_id, &decision.question))
        }
    };
    let all = standing::Decisions::of(made);
    made.iter()
        .filter(lost)
        .filter(|decision| all.has_standing(decision))
        .map(|decision| {
            let whose = match &decision.scope {
                decision::Scope::Equal => String::new(),
                decision::Scope::Pupil { pupil_id } => format!("{pupil_id}, "),
            };
            format!(
                "A decision fits no answer now; it is kept: {whose}{}, \"{}\", {}.",
                decision.question,
                decision.typed,
                marks_with_source(decision, u8::MAX)
            )
        })
        .collect()
}
