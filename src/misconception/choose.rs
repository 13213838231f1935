//! Wrong choices of gears from a box.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::train;
use crate::number;

/// More arrangements than this are not looked through: no box is that large.
const MOST_ARRANGEMENTS: usize = 20_000;

/// Adds the choices that wrong ways of thinking would make.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    parts: &[mechanism::PartId],
    from: &[u32],
    found: &mut misconception::Found,
) {
    let Some((start, end)) = two_movements(mechanism) else {
        return;
    };
    let Some(legs) = path::walk(mechanism, start.0, end.0, path::TakenOut::Respected) else {
        return;
    };
    let Ok(gain) = end.1.divided_by(start.1) else {
        return;
    };
    let is_pair = path::stages(&legs).len() == 1;
    let mut thought: Vec<(&'static misconception::Misconception, Vec<Vec<u32>>)> = Vec::new();
    for choice in arrangements(from, parts.len()) {
        let filled = filled(mechanism, parts, &choice);
        let train = train::Train::new(&filled, &legs);
        let mut add = |misconception| {
            let known = thought
                .iter_mut()
                .find(|(known, _)| *known == misconception);
            match known {
                Some((_, choices)) if choices.last() == Some(&choice) => {}
                Some((_, choices)) => choices.push(choice.clone()),
                None => thought.push((misconception, vec![choice.clone()])),
            }
        };
        if train.upside_down() == Some(gain.into()) {
            add(&list::trains::RATIO_UPSIDE_DOWN);
        }
        if is_pair && fits_by_difference(&train, start.1, end.1) {
            add(&list::trains::TAKES_TEETH_AWAY);
        }
        for (misconception, thought) in train.thoughts() {
            if thought == gain.into() {
                add(misconception);
            }
        }
    }
    for (misconception, choices) in thought {
        found.add(misconception, ask::Fact::Choices(choices));
    }
}

/// The teeth differ by as much as the turns do.
fn fits_by_difference(
    train: &train::Train<'_>,
    start: number::Number,
    end: number::Number,
) -> bool {
    train.ends().is_some_and(|(first, last)| {
        last.minus(first).ok() == start.minus(end).ok() && first != last
    })
}

type Movement = (mechanism::PartId, number::Number);

/// The first two movements given in the same unit.
fn two_movements(mechanism: &mechanism::Mechanism) -> Option<(Movement, Movement)> {
    let with_unit: Vec<(Movement, bool)> = mechanism
        .givens
        .iter()
        .filter_map(|given| {
            let mechanism::Given::Motion {
                part,
                amount: Some(amount),
                ..
            } = given
            else {
                return None;
            };
            match amount {
                mechanism::Amount::Turns(turns) => Some(((*part, *turns), false)),
                mechanism::Amount::Rpm(rpm) => Some(((*part, *rpm), true)),
                mechanism::Amount::Millimetres(_) => None,
            }
        })
        .collect();
    let (first, rest) = with_unit.split_first()?;
    let second = rest.iter().find(|other| other.1 == first.1)?;
    Some((first.0, second.0))
}

/// The mechanism with the choice put in.
fn filled(
    mechanism: &mechanism::Mechanism,
    parts: &[mechanism::PartId],
    choice: &[u32],
) -> mechanism::Mechanism {
    let mut filled = mechanism.clone();
    for (id, &count) in parts.iter().zip(choice) {
        filled = path::with_count(&filled, *id, count);
    }
    filled
}

/// Every different way of taking so many gears from the box, in order.
fn arrangements(from: &[u32], length: usize) -> Vec<Vec<u32>> {
    let mut rows: Vec<(Vec<u32>, Vec<u32>)> = vec![(Vec::new(), from.to_vec())];
    for _ in 0..length {
        let mut longer = Vec::new();
        for (taken, left) in &rows {
            for (index, &gear) in left.iter().enumerate() {
                if left.iter().take(index).any(|earlier| *earlier == gear) {
                    continue;
                }
                let mut taken = taken.clone();
                taken.push(gear);
                let mut left = left.clone();
                left.remove(index);
                longer.push((taken, left));
            }
        }
        if longer.len() > MOST_ARRANGEMENTS {
            return Vec::new();
        }
        rows = longer;
    }
    rows.into_iter().map(|(taken, _)| taken).collect()
}
