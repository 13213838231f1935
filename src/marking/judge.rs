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
    /// The step that leads to it, in words; may be empty.
    pub(super) because: &'a str,
    pub(super) predictions: &'a [misconception::Prediction],
    pub(super) policy: &'a policy::Policy,
}

impl Key<'_> {
    /// The right answer as shown to people.
    fn expected(&self) -> String {
        answer::expected(self.fact, &self.item.form)
    }

    /// The right answer, and where it comes from.
    fn right_is(&self) -> String {
        let expected = self.expected();
        let because = self.because.trim_end_matches('.');
        if because.is_empty() || because.len() > LONGEST {
            format!("Right is {expected}.")
        } else {
            format!("Right is {expected} ({because}).")
        }
    }
}

/// The longest step that is told beside a right answer: a cell is small.
const LONGEST: usize = 110;

/// Returns what an answer given is worth; `said` is how it was read.
pub(super) fn judge(key: &Key<'_>, given: &answer::Given, said: &str) -> Verdict {
    let form = &key.item.form;
    let agreement = answer::compare(given, key.fact, form);
    let Some(mut verdict) = against_right_answer(key, agreement, said) else {
        return against_misconceptions(key, given, agreement, said);
    };
    // Digits left off may be a way of thinking: whole turns only.
    if matches!(
        agreement,
        answer::Agreement::TooFewDigits | answer::Agreement::CutOff
    ) {
        verdict.misconceptions = key
            .predictions
            .iter()
            .filter(|prediction| {
                prediction.misconception.credit != misconception::Credit::None
                    && answer::compare(given, &prediction.fact, form) == answer::Agreement::Equal
            })
            .map(|prediction| prediction.misconception)
            .collect();
    }
    without_unit(key, given, verdict)
}

/// Takes off what a missing unit costs.
fn without_unit(key: &Key<'_>, given: &answer::Given, mut verdict: Verdict) -> Verdict {
    let costs = key.policy.missing_unit_costs.min(verdict.marks);
    let is_missing = match given {
        answer::Given::Quantity { unit, .. } => unit.is_none(),
        answer::Given::Ratio(..)
        | answer::Given::Entry(_)
        | answer::Given::Gears(_)
        | answer::Given::Explanation(_) => false,
    };
    if is_missing && costs > 0 {
        verdict.marks -= costs;
        verdict.reason.push_str(" The unit is missing.");
    }
    verdict
}

/// What a right or nearly right answer is worth; `None` when it is neither.
fn against_right_answer(
    key: &Key<'_>,
    agreement: answer::Agreement,
    said: &str,
) -> Option<Verdict> {
    let (policy, out_of) = (key.policy, key.item.marks);
    let expected = key.expected();
    let right = |reason: String| Some(verdict(out_of, reason, ""));
    match agreement {
        answer::Agreement::Equal => right(format!("Right: {expected}.")),
        answer::Agreement::Rounded => right(format!("Right, and rounded well: {said}.")),
        answer::Agreement::ConvertedUnit if !policy.other_units_are_converted => {
            let marks = out_of.saturating_sub(policy.wrong_unit_costs);
            let reason =
                format!("Right, but in another unit than asked: {said}. Wanted is {expected}.");
            Some(verdict(marks, reason, ""))
        }
        answer::Agreement::ConvertedUnit => {
            right(format!("Right, in another unit: {said} is {expected}."))
        }
        answer::Agreement::TooFewDigits => Some(rough(
            key,
            said,
            "has fewer digits than asked",
            policy.accuracy_costs,
        )),
        answer::Agreement::CutOff => Some(rough(
            key,
            said,
            "is cut off where it should be rounded",
            policy.accuracy_costs,
        )),
        answer::Agreement::PiTruncated => Some(rough(
            key,
            said,
            "has too rough a pi for these digits",
            policy.rough_pi_costs,
        )),
        answer::Agreement::WrongUnit => Some(wrong_unit(key, said, 0)),
        answer::Agreement::WrongUnitAndDigits => Some(wrong_unit(key, said, policy.accuracy_costs)),
        answer::Agreement::Unsimplified => {
            let marks = out_of.saturating_sub(policy.unsimplified_costs);
            let reason =
                format!("{said} is the right ratio; in its simplest form it is {expected}.");
            Some(verdict(marks, reason, ""))
        }
        answer::Agreement::Reversed
        | answer::Agreement::ReversedUnsimplified
        | answer::Agreement::NotEqual => None,
    }
}

fn verdict(marks: u8, reason: String, check: &str) -> Verdict {
    Verdict {
        marks,
        misconceptions: Vec::new(),
        is_recognised: true,
        reason,
        check: check.to_owned(),
    }
}

/// The method is right, the digits are not: the accuracy mark is lost.
fn rough(key: &Key<'_>, said: &str, how: &str, costs: u8) -> Verdict {
    let marks = key.item.marks.saturating_sub(costs);
    let check = if marks == 0 {
        format!("right, but it {how}")
    } else {
        String::new()
    };
    verdict(
        marks,
        format!(
            "The method is right; {said} {how}. Wanted is {}.",
            key.expected()
        ),
        &check,
    )
}

/// The number is right as printed, the unit written says otherwise.
fn wrong_unit(key: &Key<'_>, said: &str, further_costs: u8) -> Verdict {
    let costs = key.policy.wrong_unit_costs.saturating_add(further_costs);
    let marks = key.item.marks.saturating_sub(costs);
    let check = if marks == 0 && (key.policy.wrong_unit_is_checked || further_costs > 0) {
        "the number is right, the unit written is another one"
    } else {
        ""
    };
    verdict(
        marks,
        format!(
            "Read as {said}: the number is right, the unit is not. Wanted is {}.",
            key.expected()
        ),
        check,
    )
}

/// What a wrong answer is worth: by the misconceptions that predict it, or nothing.
fn against_misconceptions(
    key: &Key<'_>,
    given: &answer::Given,
    agreement: answer::Agreement,
    said: &str,
) -> Verdict {
    let out_of = key.item.marks;
    let (found, is_met_well) = matching(key, given);
    let credit = if key.policy.misconception_credit && is_met_well {
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
        String::new()
    } else {
        format!(
            ", which earns {} for the method",
            decision::marks_text(marks)
        )
    };
    let reason = if reversed {
        format!("{said} is the wrong way round{worth}. {}", key.right_is())
    } else if found.is_empty() {
        format!("Read as {said}. {}", key.right_is())
    } else {
        let names: Vec<&str> = found.iter().map(|known| known.name).collect();
        format!(
            "{said} is consistent with someone who {}{worth}. Right is {}.",
            names.join(", or who "),
            key.expected()
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

/// The misconceptions that predict the answer given. A prediction rounded more roughly
/// than asked counts only where none is met well. Slips are named only where no way of
/// thinking predicts it, and a slip that earns nothing only where it predicts the very
/// number: among rounded answers chance would find one too often.
///
/// Also returns whether they are met well enough to earn marks.
fn matching(
    key: &Key<'_>,
    given: &answer::Given,
) -> (Vec<&'static misconception::Misconception>, bool) {
    let mut well: Vec<&'static misconception::Misconception> = Vec::new();
    let mut roughly: Vec<&'static misconception::Misconception> = Vec::new();
    for prediction in key.predictions {
        let known = prediction.misconception;
        let is_chancy = known.slip && known.credit == misconception::Credit::None;
        let found = match answer::compare(given, &prediction.fact, &key.item.form) {
            answer::Agreement::Equal => &mut well,
            answer::Agreement::Rounded
            | answer::Agreement::ConvertedUnit
            | answer::Agreement::PiTruncated
            | answer::Agreement::Unsimplified
                if !is_chancy =>
            {
                &mut well
            }
            answer::Agreement::TooFewDigits | answer::Agreement::CutOff if !is_chancy => {
                &mut roughly
            }
            answer::Agreement::Rounded
            | answer::Agreement::ConvertedUnit
            | answer::Agreement::PiTruncated
            | answer::Agreement::Unsimplified
            | answer::Agreement::TooFewDigits
            | answer::Agreement::CutOff
            | answer::Agreement::WrongUnit
            | answer::Agreement::WrongUnitAndDigits
            | answer::Agreement::Reversed
            | answer::Agreement::ReversedUnsimplified
            | answer::Agreement::NotEqual => continue,
        };
        if !found.contains(&known) {
            found.push(known);
        }
    }
    let (mut found, is_met_well) = if !well.is_empty() {
        (well, true)
    } else if answer::has_two_figures(given) {
        (roughly, true)
    } else if key.fact.is_whole() {
        // Where the right answer is whole, a child rounds any other to a whole one; a
        // single figure is too little to earn marks by.
        (roughly, false)
    } else {
        (Vec::new(), false)
    };
    if found.iter().any(|known| !known.slip) {
        found.retain(|known| !known.slip);
    }
    // A slip that shows a method is likelier than one that shows none.
    let shows = |known: &&misconception::Misconception| {
        known.credit != misconception::Credit::None || !known.slip
    };
    if found.iter().any(shows) {
        found.retain(shows);
    }
    (found, is_met_well)
}
