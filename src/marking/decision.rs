//! What a person decided about a mark, and to which answers it holds.
//!
//! Decisions are kept in the order in which they were read, and none is ever
//! taken out. Which of them stand, [`standing`] says.
//!
//! [`standing`]: crate::marking::standing

use crate::answer;
use crate::gears::notation;
use crate::item;
use crate::marking;
use crate::wording;
use sha2::Digest;
use sha2::Sha256;

/// To whose answer a decision holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Scope {
    /// To every equal answer to an equal item.
    Equal,
    /// To this pupil's answer to this question only.
    Pupil {
        /// The pupil's id.
        pupil_id: String,
    },
}

/// One mark that a person gave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decision {
    /// To whose answer it holds.
    pub scope: Scope,
    /// The question's number, as the person saw it.
    pub question: String,
    /// What was typed, as the person saw it.
    pub typed: String,
    /// Which answer it is: [`marking::Mark::code`].
    pub code: String,
    /// The marks given.
    pub marks: u8,
    /// What had been proposed.
    pub proposed: u8,
    /// When, ISO 8601.
    pub date: String,
    /// Who, as they wrote it: initials or a name; may be empty.
    pub by: String,
    /// The results workbook that it was read from; may be empty.
    pub file: String,
    /// How many of the decisions before it, from the oldest, the person could see
    /// when they made it; all of them where nothing is said.
    pub seen: Option<usize>,
}

/// What one answer is judged by, besides the policy.
pub(super) struct Answered<'a> {
    pub(super) item: &'a item::Item,
    pub(super) typed: &'a answer::Typed,
    pub(super) working: &'a answer::Typed,
    /// The earlier answer that this one was worked from, where that counts.
    pub(super) earlier: &'a str,
}

/// Returns the code of an answer: equal for equal answers to equal items.
///
/// Items are equal when mechanism, question, form and marks are. Answers are
/// equal when they differ only in capitals and in white space; where working
/// earns marks it must be equal too, and where the answer was worked from an
/// earlier one, so must that be.
pub(super) fn code(answered: &Answered<'_>, expected: &str) -> String {
    let item = answered.item;
    let mut parts = notation::write(&item.mechanism);
    parts.push(notation::write_ask(&item.ask, &item.mechanism));
    parts.push(expected.to_owned());
    parts.push(item.marks.to_string());
    parts.push(form_text(&item.form));
    parts.push(plain(answered.typed));
    parts.push(if item.working {
        plain(answered.working)
    } else {
        String::new()
    });
    parts.push(answered.earlier.to_owned());
    short_hash(&parts)
}

/// Returns sixteen hexadecimal digits that differ where any of the texts does.
pub(super) fn short_hash(parts: &[String]) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        let length = u64::try_from(part.len()).expect("a text is shorter than 2^64 bytes");
        hash.update(length.to_le_bytes());
        hash.update(part.as_bytes());
    }
    let bytes = hash.finalize();
    let head: Vec<String> = bytes
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect();
    head.concat()
}

/// What a form asks for besides the kind of answer.
fn form_text(form: &answer::Form) -> String {
    match form {
        answer::Form::Number {
            unit, precision, ..
        } => {
            format!("{}, {}", unit.text(), answer::precision_text(*precision))
        }
        answer::Form::Ratio { simplest: true, .. } => "simplest".to_owned(),
        answer::Form::Ratio {
            simplest: false, ..
        }
        | answer::Form::List { .. }
        | answer::Form::Gears { .. }
        | answer::Form::Explanation(_) => String::new(),
    }
}

/// A text without what makes no difference between equal answers.
pub(super) fn plain(typed: &answer::Typed) -> String {
    let mut words: Vec<String> = typed
        .text
        .split_whitespace()
        .map(str::to_lowercase)
        .collect();
    words.extend(
        typed
            .undone
            .iter()
            .map(|undone| format!("|{}", undone.text)),
    );
    words.join(" ")
}

/// `1 mark`, `2 marks`.
pub(super) fn marks_text(marks: u8) -> String {
    wording::counted(marks, "mark")
}

/// Returns a decision for every answer equal to this one, made by somebody who
/// knows of all decisions before it.
#[must_use]
pub fn for_equal_answers(mark: &marking::Mark, marks: u8, date: &str) -> Decision {
    Decision {
        scope: Scope::Equal,
        ..for_pupil(mark, marks, date)
    }
}

/// Returns a decision for this pupil's answer alone, made by somebody who knows of
/// all decisions before it.
#[must_use]
pub fn for_pupil(mark: &marking::Mark, marks: u8, date: &str) -> Decision {
    Decision {
        scope: Scope::Pupil {
            pupil_id: mark.pupil_id.clone(),
        },
        question: mark.question.clone(),
        typed: mark.typed.clone(),
        code: mark.code.clone(),
        marks,
        proposed: mark
            .decided
            .as_ref()
            .map_or(mark.marks, |decided| decided.proposed),
        date: date.to_owned(),
        by: String::new(),
        file: String::new(),
        seen: None,
    }
}

/// Returns what a results workbook says of the decisions it was written with, such
/// as `12 (5f2a9c0141d07b3e)`: how many, and a hash of them.
#[must_use]
pub fn stamp(decisions: &[Decision]) -> String {
    let parts: Vec<String> = decisions.iter().flat_map(parts).collect();
    format!("{} ({})", decisions.len(), short_hash(&parts))
}

/// Returns how many of these decisions a workbook with this stamp was written
/// with; none where it was written with others.
#[must_use]
pub fn seen(stamp_text: &str, decisions: &[Decision]) -> Option<usize> {
    let count: usize = stamp_text.split_whitespace().next()?.parse().ok()?;
    let first = decisions.get(..count)?;
    (stamp(first) == stamp_text.trim()).then_some(count)
}

/// Everything that tells one decision from another.
fn parts(decision: &Decision) -> [String; 9] {
    let pupil = match &decision.scope {
        Scope::Equal => String::new(),
        Scope::Pupil { pupil_id } => format!("pupil {pupil_id}"),
    };
    [
        pupil,
        decision.question.clone(),
        decision.typed.clone(),
        decision.code.clone(),
        decision.marks.to_string(),
        decision.date.clone(),
        decision.by.clone(),
        decision.file.clone(),
        decision
            .seen
            .map_or_else(String::new, |seen| seen.to_string()),
    ]
}
