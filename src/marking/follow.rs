//! A later part worked from the pupil's own earlier answer.

use crate::answer;
use crate::gears::ask;
use crate::gears::solve;
use crate::item;
use crate::misconception;
use crate::number;

/// An earlier answer that a later part may have been worked from.
#[derive(Debug, Clone)]
pub(super) struct Earlier<'a> {
    /// The item it answers.
    pub(super) item: &'a item::Item,
    /// What the pupil's answer says.
    pub(super) own: ask::Fact,
    /// What would have been right.
    pub(super) right: ask::Fact,
    /// The pupil's answer as read, for people.
    pub(super) said: String,
}

/// What would be right after the pupil's own earlier answer.
pub(super) struct Followed {
    pub(super) fact: ask::Fact,
    pub(super) predictions: Vec<misconception::Prediction>,
    /// Whether the slip left less to do than was asked.
    pub(super) is_easier: bool,
}

/// Returns what would be right after the pupil's own earlier answer; `None` where
/// that answer was exactly right or nothing can be worked out from it.
pub(super) fn follow(
    item: &item::Item,
    right: &ask::Fact,
    earlier: &Earlier<'_>,
) -> Option<Followed> {
    if earlier.own == earlier.right {
        return None;
    }
    let mechanism = solve::with_answer(&item.mechanism, &earlier.item.ask, &earlier.own)?;
    let fact = solve::answer(&mechanism, &item.ask).ok()?.fact;
    let predictions = misconception::predictions(&mechanism, &item.ask);
    let is_easier = is_easier(&fact, right, earlier);
    Some(Followed {
        fact,
        predictions,
        is_easier,
    })
}

/// Whether nothing was left to work out: the answer is the earlier answer again,
/// or nought, or a ratio of one to one, where the right one is not.
fn is_easier(fact: &ask::Fact, right: &ask::Fact, earlier: &Earlier<'_>) -> bool {
    if let (Some(value), Some(right)) = (quantity(fact), quantity(right)) {
        let same_again = Some(value) == quantity(&earlier.own);
        let right_same_again = Some(right) == quantity(&earlier.right);
        return (same_again && !right_same_again)
            || (value.factor.is_zero() && !right.factor.is_zero());
    }
    if let (ask::Fact::Ratio(first, second), ask::Fact::Ratio(right_first, right_second)) =
        (fact, right)
    {
        return first == second && right_first != right_second;
    }
    false
}

fn quantity(fact: &ask::Fact) -> Option<number::Value> {
    if let ask::Fact::Quantity { value, .. } = fact {
        Some(*value)
    } else {
        None
    }
}

/// Returns what an answer says, as a fact in the base unit.
pub(super) fn fact_of(given: &answer::Given, form: &answer::Form) -> Option<ask::Fact> {
    match given {
        answer::Given::Quantity { value, unit, .. } => {
            let answer::Form::Number { unit: printed, .. } = form else {
                return None;
            };
            let (wanted, _) = printed.in_base();
            let (base, scale) = unit
                .map(answer::Unit::in_base)
                .filter(|(base, _)| *base == wanted)
                .unwrap_or_else(|| printed.in_base());
            let value = value.times(scale.into()).ok()?;
            Some(ask::Fact::Quantity { value, unit: base })
        }
        answer::Given::Ratio(first, second) => {
            if !first.is_positive() || !second.is_positive() {
                return None;
            }
            let quotient = first.divided_by(*second).ok()?;
            let whole = |count: u128| i64::try_from(count).ok().map(number::Number::whole);
            Some(ask::Fact::Ratio(
                whole(quotient.numerator())?,
                whole(quotient.denominator())?,
            ))
        }
        answer::Given::Entry(fact) => Some(fact.clone()),
        answer::Given::Gears(gears) => Some(ask::Fact::Choices(vec![gears.clone()])),
    }
}
