//! What stands behind the button of a part: the answer with its working.

use crate::answer;
use crate::gears::ask;
use crate::gears::solve;
use crate::item;
use crate::item::rounding;
use crate::screen;
use crate::wording;

/// A part's answer in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Answer {
    /// The right answer.
    pub(super) fact: ask::Fact,
    /// It, as the mark scheme writes it.
    pub(super) text: String,
    /// What leads to it, line by line.
    pub(super) steps: Vec<String>,
    /// What is said before the steps.
    pub(super) heading: &'static str,
}

/// Returns the answer of an item, worked out from its mechanism.
///
/// # Errors
///
/// When there is none.
pub(super) fn answer(item: &item::Item) -> Result<Answer, screen::NoAnswer> {
    let worked = solve::answer(&item.mechanism, &item.ask).map_err(|faults| screen::NoAnswer {
        question: item.number.clone(),
        faults,
    })?;
    let (text, steps, heading) = match &item.form {
        answer::Form::Explanation(explaining) => (
            explaining.shown(&explaining.reasons.conclusion),
            explaining
                .reasons
                .key
                .iter()
                .map(|idea| idea.name().to_owned())
                .collect(),
            "Ideas that explain it",
        ),
        answer::Form::Number { .. }
        | answer::Form::Ratio { .. }
        | answer::Form::Gears { .. }
        | answer::Form::List { .. } => (
            answer::expected(&worked.fact, &item.form),
            wording::steps(&item.mechanism, &worked.steps),
            "How to work it out",
        ),
    };
    Ok(Answer {
        fact: worked.fact,
        text,
        steps,
        heading,
    })
}

/// Returns what the answer should look like; nothing where the question says it.
pub(super) fn wanted(item: &item::Item) -> String {
    match &item.form {
        answer::Form::Number {
            unit, precision, ..
        } => {
            let exactly = rounding::rounding(item, *precision);
            match (unit.text(), exactly.as_str()) {
                ("", "") => String::new(),
                ("", exactly) => format!("Answer {exactly}"),
                (unit, "") => format!("Answer in {unit}"),
                (unit, exactly) => format!("Answer in {unit}, {exactly}"),
            }
        }
        answer::Form::Ratio {
            first,
            second,
            simplest,
        } => {
            let simplest = if *simplest {
                ", in its simplest form"
            } else {
                ""
            };
            format!("{first} : {second}{simplest}")
        }
        answer::Form::List { options, .. } => options
            .iter()
            .map(|option| option.text.as_str())
            .collect::<Vec<_>>()
            .join(" \u{b7} "),
        answer::Form::Gears { from, .. } => {
            let teeth: Vec<String> = from.iter().map(ToString::to_string).collect();
            format!("In the box: gears with {} teeth", teeth.join(", "))
        }
        answer::Form::Explanation(_) => String::new(),
    }
}
