//! A later part worked from the pupil's own earlier answer.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::gears::solve;
use crate::item;
use crate::misconception;
use crate::number;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

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

/// What would be right after the pupil's own earlier answers.
pub(super) struct Followed {
    /// The earlier answers put in, for people: `Q3a (27 turns)`.
    pub(super) from: String,
    /// The mechanism with the pupil's own answer in it.
    pub(super) mechanism: mechanism::Mechanism,
    pub(super) fact: ask::Fact,
    pub(super) predictions: Vec<misconception::Prediction>,
    /// Whether the slip left less to do than was asked.
    pub(super) is_easier: bool,
}

/// Returns the earlier answers, not exactly right, that an item may have been worked
/// from, in the sheet's order: those of the parts that it follows from, and where one
/// of these was left out, of the parts that it follows from in turn.
pub(super) fn premises<'e, 'a>(
    item: &item::Item,
    items: &[item::Item],
    answered: &'e BTreeMap<&str, Earlier<'a>>,
) -> Vec<&'e Earlier<'a>> {
    let mut wanted: Vec<&str> = item.follows.iter().map(String::as_str).collect();
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let mut found: Vec<&Earlier<'_>> = Vec::new();
    while let Some(number) = wanted.pop() {
        let Some(before) = items.iter().find(|before| before.number == number) else {
            continue;
        };
        if !seen.insert(&before.number) {
            continue;
        }
        match answered.get(number) {
            Some(earlier) if earlier.own == earlier.right => {}
            Some(earlier) => found.push(earlier),
            None => wanted.extend(before.follows.iter().map(String::as_str)),
        }
    }
    found.sort_by_key(|earlier| {
        items
            .iter()
            .position(|one| one.number == earlier.item.number)
    });
    found
}

/// Returns what would be right after the pupil's own earlier answers: after all of
/// them first, then after each alone, because a pupil may have had the others right by
/// then. Where nothing can be worked out from them it is left out.
pub(super) fn follow(
    item: &item::Item,
    right: &ask::Fact,
    premises: &[&Earlier<'_>],
) -> Vec<Followed> {
    let mut worlds: Vec<Vec<&Earlier<'_>>> = vec![premises.to_vec()];
    if premises.len() > 1 {
        worlds.extend(premises.iter().map(|one| vec![*one]));
    }
    worlds
        .iter()
        .filter_map(|world| followed(item, right, world))
        .collect()
}

fn followed(item: &item::Item, right: &ask::Fact, premises: &[&Earlier<'_>]) -> Option<Followed> {
    let mut mechanism = item.mechanism.clone();
    premises.first()?;
    for earlier in premises {
        // The two parts may have named their mechanism's parts in another order.
        let line = notation::write_ask(&earlier.item.ask, &earlier.item.mechanism);
        let ask = notation::read_ask(&line, &mechanism).ok()?;
        mechanism = solve::with_answer(&mechanism, &ask, &earlier.own)?;
    }
    let fact = solve::answer(&mechanism, &item.ask).ok()?.fact;
    let predictions = misconception::predictions(&mechanism, &item.ask);
    let is_easier = premises
        .iter()
        .any(|earlier| is_easier(&fact, right, earlier));
    let from: Vec<String> = premises
        .iter()
        .map(|earlier| format!("{} ({})", earlier.item.number, earlier.said))
        .collect();
    Some(Followed {
        from: from.join(" and "),
        mechanism,
        fact,
        predictions,
        is_easier,
    })
}

/// Whether nothing was left to work out: the answer is the earlier answer again,
/// or nought, or a ratio of one to one, where the right one is not.
fn is_easier(fact: &ask::Fact, right: &ask::Fact, earlier: &Earlier<'_>) -> bool {
    if let (Some(value), Some(right)) = (fact.quantity(), right.quantity()) {
        let same_again = Some(value) == earlier.own.quantity();
        let right_same_again = Some(right) == earlier.right.quantity();
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

/// Returns what an answer says, as a fact in the base unit.
pub(super) fn fact_of(given: &answer::Given, form: &answer::Form) -> Option<ask::Fact> {
    match given {
        answer::Given::Quantity { value, unit, .. } => {
            let answer::Form::Number { unit: printed, .. } = form else {
                return None;
            };
            let (wanted, _) = printed.in_base();
            let written = unit.as_ref().and_then(|unit| unit.means).and_then(|means| {
                let (base, scale) = means.unit.in_base();
                Some((base, scale.times(means.scale).ok()?))
            });
            let (base, scale) = written
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
        answer::Given::Explanation(_) => None,
    }
}
