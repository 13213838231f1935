//! Wrong counts: missing teeth and starts, stages, teeth that meet again.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
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
    predict_from_distance(mechanism, asked, unit, found);
}

/// What two movements say of the missing count: it is
/// `known × moves of known ÷ moves of missing`, by the stage it stands in.
struct Missing {
    /// The other end of the stage that the missing gear stands in.
    partner: number::Number,
    /// How the movements of missing and partner compare by the whole mechanism.
    partner_moves: number::Value,
    asked_moves: number::Value,
    /// Turns across the other stages, for one turn of the partner's side.
    other_stages: number::Value,
    /// Whether the missing gear stands in the first stage; there are several.
    stage: Option<usize>,
    is_pair: bool,
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
    let partner: number::Value = missing.partner.into();
    // teeth of asked = partner × (partner's moves ÷ asked's moves) × other stages.
    let with = |above: number::Value, below: number::Value, others: number::Value| {
        partner
            .times(above)
            .and_then(|value| value.divided_by(below))
            .and_then(|value| value.times(others))
            .ok()
    };
    let others = missing.other_stages;
    let (partner_moves, asked_moves) = (missing.partner_moves, missing.asked_moves);
    found.quantity(
        &list::trains::RATIO_UPSIDE_DOWN,
        path::upside_down(others).and_then(|others| with(asked_moves, partner_moves, others)),
        unit,
    );
    found.quantity(&list::trains::SAME_SPEED, Some(partner), unit);
    if missing.is_pair && unit == ask::Unit::Teeth {
        let difference = partner_moves.minus(asked_moves).ok();
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
    if let Some(stage) = missing.stage {
        let misconception = if stage == 0 {
            &list::trains::FIRST_STAGE_ONLY
        } else {
            &list::trains::LAST_STAGE_ONLY
        };
        let alone = with(partner_moves, asked_moves, number::Value::ONE);
        found.quantity(misconception, alone, unit);
        let upside_down = path::upside_down(others);
        found.quantity(
            &list::trains::SECOND_STAGE_UPSIDE_DOWN,
            upside_down.and_then(|others| with(partner_moves, asked_moves, others)),
            unit,
        );
    }
}

/// Every movement given with an amount of the same kind, as turns.
fn movements(
    mechanism: &mechanism::Mechanism,
) -> Vec<(mechanism::PartId, number::Value, ask::Unit)> {
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
            match amount {
                mechanism::Amount::Turns(turns) => Some((*part, (*turns).into(), ask::Unit::Turns)),
                mechanism::Amount::Rpm(rpm) => Some((*part, (*rpm).into(), ask::Unit::Rpm)),
                mechanism::Amount::Millimetres(_) => None,
            }
        })
        .collect()
}

fn missing(mechanism: &mechanism::Mechanism, asked: mechanism::PartId) -> Option<Missing> {
    let known = movements(mechanism);
    for (index, first) in known.iter().enumerate() {
        for second in known.get(index + 1..)? {
            if first.2 != second.2 {
                continue;
            }
            let Some(legs) = path::walk(mechanism, first.0, second.0, path::TakenOut::Respected)
            else {
                continue;
            };
            let found = missing_on(mechanism, asked, &legs, first.1, second.1);
            if found.is_some() {
                return found;
            }
        }
    }
    None
}

fn missing_on(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    legs: &[path::Leg],
    start_moves: number::Value,
    end_moves: number::Value,
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
        partner: path::size(mechanism, partner)?,
        partner_moves,
        asked_moves,
        other_stages,
        stage: (stages.len() > 1).then_some(place),
        is_pair: stages.len() == 1,
    })
}

/// Teeth from the distance of two axles: 2 × distance ÷ tooth size - partner.
fn predict_from_distance(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    unit: ask::Unit,
    found: &mut misconception::Found,
) {
    for given in &mechanism.givens {
        let mechanism::Given::Apart { first, second, mm } = given else {
            continue;
        };
        let partner = if *first == asked {
            *second
        } else if *second == asked {
            *first
        } else {
            continue;
        };
        let tooth_size = [*first, *second]
            .into_iter()
            .find_map(|id| path::part(mechanism, id)?.tooth_size_mm);
        let (Some(tooth_size), Some(partner)) = (tooth_size, path::size(mechanism, partner)) else {
            continue;
        };
        let sum = mm.divided_by(tooth_size);
        let value = |count: Result<number::Number, number::NumberError>| {
            count.ok().map(number::Value::from)
        };
        found.quantity(
            &list::other::HALF_FORGOTTEN,
            value(sum.and_then(|sum| sum.minus(partner))),
            unit,
        );
        let whole_sum = mm
            .times(number::Number::whole(2))
            .and_then(|double| double.divided_by(tooth_size));
        found.quantity(&list::other::PARTNER_NOT_TAKEN_OFF, value(whole_sum), unit);
        let unsized_sum = mm
            .times(number::Number::whole(2))
            .and_then(|double| double.minus(partner));
        found.quantity(&list::other::TOOTH_SIZE_FORGOTTEN, value(unsized_sum), unit);
    }
}

/// Adds wrong numbers of equal stages that give a total ratio.
pub(super) fn predict_stages(
    mechanism: &mechanism::Mechanism,
    total: number::Number,
    found: &mut misconception::Found,
) {
    let Some(joint) = mechanism.joints.first() else {
        return;
    };
    let leg = path::Leg {
        from: joint.first,
        to: joint.second,
        link: joint.link,
        backwards: false,
    };
    let ratio = path::gain(mechanism, &[leg])
        .and_then(number::Value::as_number)
        .and_then(|gain| {
            if gain < number::Number::ONE {
                number::Number::ONE.divided_by(gain).ok()
            } else {
                Some(gain)
            }
        });
    let Some(ratio) = ratio else { return };
    found.quantity(
        &list::trains::ADDS_STAGES,
        total.divided_by(ratio).ok().map(number::Value::from),
        ask::Unit::Stages,
    );
}

/// Adds wrong numbers of turns until the same teeth meet again.
pub(super) fn predict_meet_again(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let sizes = path::size(mechanism, first).zip(path::size(mechanism, second));
    let Some((first, second)) = sizes else { return };
    let Ok(ratio) = second.divided_by(first) else {
        return;
    };
    let whole = |count: u128| i64::try_from(count).ok().map(number::Number::whole);
    // The right count is the numerator of second ÷ first in lowest terms.
    let (right, other) = (whole(ratio.numerator()), whole(ratio.denominator()));
    let unit = ask::Unit::Turns;
    let value = |number: Option<number::Number>| number.map(number::Value::from);
    found.quantity(
        &list::other::PRODUCT_FOR_MULTIPLE,
        value(Some(second)),
        unit,
    );
    found.quantity(&list::other::TURNS_OF_THE_OTHER, value(other), unit);
    found.quantity(
        &list::other::TEETH_FOR_TURNS,
        value(right.and_then(|turns| turns.times(first).ok())),
        unit,
    );
}
