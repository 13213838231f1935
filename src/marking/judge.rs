//! What one reading of an answer is worth against one right answer.

use crate::answer;
use crate::gears::ask;
use crate::item;
use crate::marking::decision;
use crate::marking::policy;
use crate::misconception;

/// What a reading is worth, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Verdict {
    pub(super) marks: u8,
    pub(super) misconceptions: Vec<&'static misconception::Misconception>,
    /// Whether the answer was recognised as something: right, nearly right, or
    /// the answer of a misconception.
    pub(super) is_recognised: bool,
    pub(super) reason: String,
    /// Empty, or why a person should look.
    pub(super) check: String,
}

/// A right answer to judge by.
pub(super) struct Key<'a> {
    pub(super) item: &'a item::Item,
    pub(super) fact: &'a ask::Fact,
    pub(super) predictions: &'a [misconception::Prediction],
    pub(super) policy: &'a policy::Policy,
}

/// Returns what an answer given is worth.
pub(super) fn judge(key: &Key<'_>, given: &answer::Given) -> Verdict {
    let form = &key.item.form;
    let agreement = answer::compare(given, key.fact, form);
    let verdict = against_right_answer(key, agreement);
    verdict.unwrap_or_else(|| against_misconceptions(key, given, agreement))
}

/// What a right or nearly right answer is worth; `None` when it is neither.
fn against_right_answer(key: &Key<'_>, agreement: answer::Agreement) -> Option<Verdict> {
    let (policy, out_of) = (key.policy, key.item.marks);
    let right = |reason: &str| Some(verdict(out_of, reason, ""));
    match agreement {
        answer::Agreement::Equal => right("Right."),
        answer::Agreement::Rounded => right("Right, and rounded well."),
        answer::Agreement::ConvertedUnit => right("Right, in another unit."),
        answer::Agreement::TooFewDigits => Some(rough(key, "rounded to fewer digits than asked")),
        answer::Agreement::CutOff => Some(rough(key, "cut off where it should be rounded")),
        answer::Agreement::PiTruncated => Some(rough(key, "with too rough a pi for these digits")),
        answer::Agreement::WrongUnit => Some(wrong_unit(key, 0)),
        answer::Agreement::WrongUnitAndDigits => Some(wrong_unit(key, policy.accuracy_costs)),
        answer::Agreement::Unsimplified => {
            let marks = out_of.saturating_sub(policy.unsimplified_costs);
            Some(verdict(
                marks,
                "The right ratio, but not in its simplest form.",
                "",
            ))
        }
        answer::Agreement::Reversed
        | answer::Agreement::ReversedUnsimplified
        | answer::Agreement::NotEqual => None,
    }
}

fn verdict(marks: u8, reason: &str, check: &str) -> Verdict {
    Verdict {
        marks,
        misconceptions: Vec::new(),
        is_recognised: true,
        reason: reason.to_owned(),
        check: check.to_owned(),
    }
}

/// The method is right, the digits are not: the accuracy mark is lost.
fn rough(key: &Key<'_>, how: &str) -> Verdict {
    let marks = key.item.marks.saturating_sub(key.policy.accuracy_costs);
    let check = if marks == 0 {
        format!("right but {how}")
    } else {
        String::new()
    };
    verdict(
        marks,
        &format!("The method is right; the answer is {how}."),
        &check,
    )
}

/// The number is right as printed, the unit written says otherwise.
fn wrong_unit(key: &Key<'_>, further_costs: u8) -> Verdict {
    let costs = key.policy.wrong_unit_costs.saturating_add(further_costs);
    let marks = key.item.marks.saturating_sub(costs);
    let check = if marks == 0 && (key.policy.wrong_unit_is_checked || further_costs > 0) {
        "the number is right, the unit written is another one"
    } else {
        ""
    };
    verdict(
        marks,
        "The number is right, but the unit written is another one.",
        check,
    )
}

/// What a wrong answer is worth: by the misconceptions that predict it, or nothing.
fn against_misconceptions(
    key: &Key<'_>,
    given: &answer::Given,
    agreement: answer::Agreement,
) -> Verdict {
    let out_of = key.item.marks;
    let found = matching(key, given);
    let credit = if key.policy.misconception_credit {
        found
            .iter()
            .map(|known| known.credit.marks(out_of))
            .max()
            .unwrap_or(0)
    } else {
        0
    };
    let reversed = matches!(
        agreement,
        answer::Agreement::Reversed | answer::Agreement::ReversedUnsimplified
    );
    let marks = if reversed {
        let earned = if out_of >= 2 {
            key.policy.reversed_earns.min(out_of - 1)
        } else {
            0
        };
        if agreement == answer::Agreement::ReversedUnsimplified {
            earned.saturating_sub(key.policy.unsimplified_costs)
        } else {
            earned
        }
    } else {
        credit.min(out_of.saturating_sub(1))
    };
    let worth = if marks == 0 {
        "which earns no marks".to_owned()
    } else {
        format!("which earns {} for the method", decision::marks_text(marks))
    };
    let reason = if reversed {
        format!("The right numbers the wrong way round, {worth}.")
    } else if found.is_empty() {
        format!(
            "The right answer is {}.",
            answer::expected(key.fact, &key.item.form)
        )
    } else {
        let names: Vec<&str> = found.iter().map(|known| known.name).collect();
        format!(
            "Consistent with someone who {}, {worth}.",
            names.join(", or who ")
        )
    };
    Verdict {
        marks,
        is_recognised: reversed || !found.is_empty(),
        misconceptions: found,
        reason,
        check: String::new(),
    }
}

/// The misconceptions that predict the answer given. Slips are named only where
/// no way of thinking predicts it, and a slip that earns nothing only where it
/// predicts the very number: among rounded answers chance would find one too often.
fn matching(key: &Key<'_>, given: &answer::Given) -> Vec<&'static misconception::Misconception> {
    let mut found: Vec<&'static misconception::Misconception> = Vec::new();
    for prediction in key.predictions {
        let known = prediction.misconception;
        let is_chancy = known.slip && known.credit == misconception::Credit::None;
        let is_same = match answer::compare(given, &prediction.fact, &key.item.form) {
            answer::Agreement::Equal => true,
            answer::Agreement::Rounded
            | answer::Agreement::ConvertedUnit
            | answer::Agreement::TooFewDigits
            | answer::Agreement::CutOff
            | answer::Agreement::PiTruncated
            | answer::Agreement::Unsimplified => !is_chancy,
            answer::Agreement::WrongUnit
            | answer::Agreement::WrongUnitAndDigits
            | answer::Agreement::Reversed
            | answer::Agreement::ReversedUnsimplified
            | answer::Agreement::NotEqual => false,
        };
        if is_same && !found.contains(&known) {
            found.push(known);
        }
    }
    if found.iter().any(|known| !known.slip) {
        found.retain(|known| !known.slip);
    }
    found
}
