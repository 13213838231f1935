//! Whether answers tell ways of thinking apart.

use crate::answer;
use crate::gears::ask;
use crate::item::refusal;
use crate::misconception;
use crate::number;
use std::collections::BTreeMap;

/// Most entries of a short list with which no single question can tell every
/// misconception apart; the sheet as a whole does it.
const FEW: usize = 3;

/// What one question shows of each misconception that applies to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Traces {
    right: ask::Fact,
    predicted: BTreeMap<&'static str, Vec<ask::Fact>>,
}

impl Traces {
    /// The ids of the misconceptions that apply.
    pub fn ids(&self) -> impl Iterator<Item = &'static str> {
        self.predicted.keys().copied()
    }

    /// The answers that someone who thinks so would give; one to whom the question
    /// offers nothing to go wrong gives the right one.
    #[must_use]
    pub fn answers(&self, id: &str) -> &[ask::Fact] {
        self.predicted
            .get(id)
            .map_or(std::slice::from_ref(&self.right), Vec::as_slice)
    }

    /// Whether someone who thinks so gets it wrong.
    #[must_use]
    pub fn fails(&self, id: &str) -> bool {
        !self.answers(id).contains(&self.right)
    }
}

/// Whether the answer is one of so few that one question cannot tell every
/// misconception apart.
#[must_use]
pub fn has_few_answers(form: &answer::Form) -> bool {
    match form {
        answer::Form::List { options, .. } => options.len() <= FEW,
        answer::Form::Number { .. }
        | answer::Form::Ratio { .. }
        | answer::Form::Gears { .. }
        | answer::Form::Explanation(_) => false,
    }
}

/// Returns what the question shows of each misconception.
#[must_use]
pub fn traces(right: &ask::Fact, predictions: &[misconception::Prediction]) -> Traces {
    let mut predicted: BTreeMap<&'static str, Vec<ask::Fact>> = BTreeMap::new();
    for prediction in ways_of_thinking(predictions) {
        predicted
            .entry(prediction.misconception.id)
            .or_default()
            .push(prediction.fact.clone());
    }
    Traces {
        right: right.clone(),
        predicted,
    }
}

/// Returns the first two ways of thinking that lead to the same answer, once
/// rounded as asked; nothing where all are told apart.
#[must_use]
pub fn collision(
    right: &ask::Fact,
    predictions: &[misconception::Prediction],
    form: &answer::Form,
) -> Option<refusal::Refusal> {
    let mut told: Vec<(&str, &str, ask::Fact)> =
        vec![("", "the right answer", settled(right, form))];
    for prediction in ways_of_thinking(predictions) {
        let id = prediction.misconception.id;
        let fact = settled(&prediction.fact, form);
        let same = told
            .iter()
            .find(|(other, _, earlier)| *other != id && are_same(earlier, &fact));
        if let Some((_, name, _)) = same {
            let said = format!(
                "{name} and \"{}\" both give {}",
                prediction.misconception.name,
                answer::expected(&prediction.fact, form)
            );
            let other = prediction.misconception.name.to_owned();
            return Some(refusal::Refusal::new(
                refusal::Cause::Collision((*name).to_owned(), other),
                said,
            ));
        }
        told.push((id, prediction.misconception.name, fact));
    }
    None
}

/// The predictions without mere slips of counting or rounding, which need not be
/// told apart.
fn ways_of_thinking(
    predictions: &[misconception::Prediction],
) -> impl Iterator<Item = &misconception::Prediction> {
    predictions
        .iter()
        .filter(|prediction| !prediction.misconception.slip)
}

/// Returns the answer as it would be written down: in the printed unit, rounded
/// as asked. Where no rounding is asked and the number does not end within two
/// decimal places, three significant figures, which is what such an answer may
/// be rounded to.
pub(super) fn settled(fact: &ask::Fact, form: &answer::Form) -> ask::Fact {
    let ask::Fact::Quantity { value, unit } = fact else {
        return fact.clone();
    };
    let rounded = match form {
        answer::Form::Number {
            unit: printed,
            precision,
            ..
        } => rounded(*value, *printed, *precision),
        answer::Form::Ratio { .. }
        | answer::Form::List { .. }
        | answer::Form::Gears { .. }
        | answer::Form::Explanation(_) => None,
    };
    ask::Fact::Quantity {
        value: rounded.map_or(*value, number::Value::from),
        unit: *unit,
    }
}

fn rounded(
    value: number::Value,
    unit: answer::Unit,
    precision: number::Precision,
) -> Option<number::Number> {
    let (_, scale) = unit.in_base();
    let printed = value.divided_by(scale.into()).ok()?;
    if precision != number::Precision::Exact {
        return number::round_half_up(printed, precision).ok();
    }
    let two_places = number::round_half_up(printed, number::Precision::Places(2)).ok()?;
    if printed.as_number() == Some(two_places) {
        Some(two_places)
    } else {
        number::round_half_up(printed, number::Precision::Figures(3)).ok()
    }
}

/// Choices collide where one is common to both; anything else where it is equal.
fn are_same(one: &ask::Fact, other: &ask::Fact) -> bool {
    if let (ask::Fact::Choices(some), ask::Fact::Choices(others)) = (one, other) {
        some.iter().any(|choice| others.contains(choice))
    } else {
        one == other
    }
}
