//! Wrong counts of teeth and starts that two movements tell.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::journey;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::spacing;
use crate::misconception::train;
use crate::misconception::travel;
use crate::number;

/// Adds wrong counts of teeth or starts of a part whose count is missing.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    asked: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let unit = if matches!(ask, ask::Ask::Starts(_)) {
        ask::Unit::Starts
    } else {
        ask::Unit::Teeth
    };
    predict_from_motion(mechanism, asked, unit, found);
    spacing::predict_count(mechanism, asked, unit, found);
    travel::predict_count(mechanism, asked, unit, found);
}

/// What two movements say of the missing count: it is
/// `known × moves of known ÷ moves of missing`, by the stage it stands in.
struct Missing {
    /// The other end of the stage that the missing gear stands in.
    partner: number::Value,
    /// How the movements of missing and partner compare by the whole mechanism.
    partner_moves: number::Value,
    asked_moves: number::Value,
    /// Turns across the other stages, for one turn of the partner's side.
    other_stages: number::Value,
    is_pair: bool,
    /// The counts that make wrong ways of thinking about the train fit.
    thoughts: Vec<train::Thought>,
    /// The count of someone who takes turns a minute for turns; `None` where all
    /// movements are of one kind.
    without_minutes: Option<number::Value>,
}

impl Missing {
    /// Partner × (partner's moves ÷ asked's moves) × other stages.
    fn right(&self) -> Option<number::Value> {
        let moves = self.partner_moves.divided_by(self.asked_moves).ok()?;
        let teeth = self.partner.times(moves).ok()?;
        teeth.times(self.other_stages).ok()
    }

    /// The two movements, and the other stages, the other way up.
    fn upside_down(&self) -> Option<number::Value> {
        let moves = self.asked_moves.divided_by(self.partner_moves).ok()?;
        let teeth = self.partner.times(moves).ok()?;
        teeth.divided_by(self.other_stages).ok()
    }
}

fn predict_from_motion(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    unit: ask::Unit,
    found: &mut misconception::Found,
) {
    let Some(missing) = missing(mechanism, asked) else {
        return;
    };
    let partner = missing.partner;
    let upside_down = missing.upside_down();
    found.quantity(&list::trains::RATIO_UPSIDE_DOWN, upside_down, unit);
    found.quantity(&list::trains::SAME_SPEED, Some(partner), unit);
    let without_minutes = missing.without_minutes;
    found.quantity(&list::circles::MINUTES_FORGOTTEN, without_minutes, unit);
    if missing.is_pair && unit == ask::Unit::Teeth {
        let difference = missing.partner_moves.minus(missing.asked_moves).ok();
        found.quantity(
            &list::trains::TAKES_TEETH_AWAY,
            difference.and_then(|difference| partner.plus(difference).ok()),
            unit,
        );
        found.quantity(
            &list::trains::ADDS_TEETH,
            difference.and_then(|difference| partner.minus(difference).ok()),
            unit,
        );
    }
    for (misconception, count) in missing.thoughts {
        found.quantity(misconception, Some(count), unit);
    }
}

/// A movement that is given.
#[derive(Debug, Clone, Copy)]
struct Movement {
    part: mechanism::PartId,
    /// Turns, or turns a minute.
    amount: number::Value,
    is_a_minute: bool,
}

impl Movement {
    /// The turns in so many minutes.
    fn over(self, minutes: number::Number) -> Option<number::Value> {
        if self.is_a_minute {
            self.amount.times(minutes.into()).ok()
        } else {
            Some(self.amount)
        }
    }
}

fn movements(mechanism: &mechanism::Mechanism) -> Vec<Movement> {
    mechanism
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
            let (amount, is_a_minute) = match amount {
                mechanism::Amount::Turns(turns) => (*turns, false),
                mechanism::Amount::Rpm(rpm) => (*rpm, true),
                mechanism::Amount::Millimetres(_) => return None,
            };
            Some(Movement {
                part: *part,
                amount: amount.into(),
                is_a_minute,
            })
        })
        .collect()
}

fn missing(mechanism: &mechanism::Mechanism, asked: mechanism::PartId) -> Option<Missing> {
    let known = movements(mechanism);
    for (index, first) in known.iter().enumerate() {
        for second in known.get(index + 1..)? {
            let Some(legs) = path::walk(
                mechanism,
                first.part,
                second.part,
                path::TakenOut::Respected,
            ) else {
                continue;
            };
            let plain = missing_on(mechanism, asked, &legs, (first.amount, second.amount));
            if first.is_a_minute == second.is_a_minute {
                if plain.is_some() {
                    return plain;
                }
                continue;
            }
            let in_all = journey::minutes(mechanism).and_then(|minutes| {
                let moves = (first.over(minutes)?, second.over(minutes)?);
                missing_on(mechanism, asked, &legs, moves)
            });
            if let Some(in_all) = in_all {
                return Some(Missing {
                    without_minutes: plain.and_then(|plain| plain.right()),
                    ..in_all
                });
            }
        }
    }
    None
}

fn missing_on(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    legs: &[path::Leg],
    (start_moves, end_moves): (number::Value, number::Value),
) -> Option<Missing> {
    let stages = path::stages(legs);
    let place = stages.iter().position(|path::Stage(row)| {
        row.first().is_some_and(|leg| leg.from == asked)
            || row.last().is_some_and(|leg| leg.to == asked)
    })?;
    let row = &stages.get(place)?.0;
    let at_start = row.first()?.from == asked;
    let partner = if at_start {
        row.last()?.to
    } else {
        row.first()?.from
    };
    let mut others = number::Value::ONE;
    for (index, path::Stage(row)) in stages.iter().enumerate() {
        if index != place {
            others = others.times(path::gain(mechanism, row)?).ok()?;
        }
    }
    // Turns: end = start × others × from ÷ to, so to = from × start ÷ end × others
    // and from = to × end ÷ start ÷ others.
    let (partner_moves, asked_moves, other_stages) = if at_start {
        (end_moves, start_moves, path::upside_down(others)?)
    } else {
        (start_moves, end_moves, others)
    };
    Some(Missing {
        partner: path::size(mechanism, partner)?.into(),
        partner_moves,
        asked_moves,
        other_stages,
        is_pair: stages.len() == 1,
        thoughts: thoughts(
            mechanism,
            asked,
            legs,
            end_moves.divided_by(start_moves).ok()?,
        ),
        without_minutes: None,
    })
}

/// The counts with which ways of thinking about a train take its gain to be the one
/// that was seen.
///
/// A count stands in a gain, or in a sum of gains, once: as a factor or a divisor. So
/// what a way of thinking makes of three counts tells what it makes of every count.
fn thoughts(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    legs: &[path::Leg],
    seen: number::Value,
) -> Vec<train::Thought> {
    let [one, two, three] = [1, 2, 3].map(|count| {
        let filled = path::with_count(mechanism, asked, count);
        train::Train::new(&filled, legs).thoughts()
    });
    let mut fitting = Vec::new();
    for (index, (known, gain)) in one.iter().enumerate() {
        // A way of thinking may take the gain to be several things.
        let earlier = one.iter().take(index).filter(|it| it.0 == *known).count();
        let same = |thoughts: &[train::Thought]| {
            let mut same = thoughts.iter().filter(|it| it.0 == *known);
            same.nth(earlier).map(|it| it.1)
        };
        let count = same(&two)
            .zip(same(&three))
            .and_then(|(second, third)| count_for([*gain, second, third], seen))
            .filter(|count| count.factor.is_positive());
        fitting.extend(count.map(|count| (*known, count)));
    }
    fitting
}

/// The count at which a gain, known for the counts one, two and three, is the one
/// seen: where the gain or its inverse grows evenly with the count or its inverse.
fn count_for(gains: [number::Value; 3], seen: number::Value) -> Option<number::Value> {
    let [one, two, three] = gains;
    let inverse = path::upside_down;
    let inverses = [inverse(one)?, inverse(two)?, inverse(three)?];
    let evenly = |[one, two, three]: [number::Value; 3], seen: number::Value| {
        let step = two.minus(one).ok()?;
        if step.factor.is_zero() || three.minus(two).ok()? != step {
            return None;
        }
        let further = seen.minus(one).ok()?.divided_by(step).ok()?;
        further.plus(number::Value::ONE).ok()
    };
    let falling = |[one, two, three]: [number::Value; 3], seen: number::Value| {
        // a + b ÷ 1, a + b ÷ 2, a + b ÷ 3: the first step is three times the second.
        let step = one.minus(two).ok()?;
        let next = two.minus(three).ok()?;
        if step.factor.is_zero() || next.times(number::Number::whole(3).into()).ok()? != step {
            return None;
        }
        let slope = step.times(number::Number::whole(2).into()).ok()?;
        let rest = one.minus(slope).ok()?;
        slope.divided_by(seen.minus(rest).ok()?).ok()
    };
    evenly(gains, seen)
        .or_else(|| falling(gains, seen))
        .or_else(|| evenly(inverses, inverse(seen)?))
        .or_else(|| falling(inverses, inverse(seen)?))
}
