//! Wrong whole numbers: how many stages, and when teeth meet again.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::number;

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
