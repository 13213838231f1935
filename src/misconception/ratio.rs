//! Wrong ratios of turns and of teeth.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::planetary;
use crate::misconception::train;
use crate::number;

/// Adds wrong ratios of turns of the first to turns of the second.
pub(super) fn predict_turns(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    if path::has_planets(mechanism) {
        planetary::predict_ratio(mechanism, first, second, found);
        return;
    }
    let Some(legs) = path::walk(mechanism, first, second, path::TakenOut::Respected) else {
        return;
    };
    let train = train::Train::new(mechanism, &legs);
    let mut add = |misconception, gain: Option<number::Value>| {
        if let Some(ratio) = gain.and_then(ratio_of_gain) {
            found.add(misconception, ratio);
        }
    };
    add(&list::trains::RATIO_ORDER_SWAPPED, train.upside_down());
    let one = Some(number::Value::ONE);
    if train.has_worm() && train.is_pair() {
        add(&list::trains::WORM_AS_EQUAL, one);
    } else if !train.is_empty() {
        add(&list::trains::SAME_SPEED, one);
    }
    for (misconception, gain) in train.thoughts() {
        add(misconception, Some(gain));
    }
    if let Some(still_in) = path::walk(mechanism, first, second, path::TakenOut::Forgotten)
        && still_in != legs
    {
        let train = train::Train::new(mechanism, &still_in);
        add(&list::trains::STAGE_STILL_IN, train.right());
    }
    if train.is_empty() {
        let sizes = path::size(mechanism, first).zip(path::size(mechanism, second));
        let gain = sizes.and_then(|(first, second)| first.divided_by(second).ok());
        add(
            &list::trains::COMPOUND_AS_SIMPLE,
            gain.map(number::Value::from),
        );
    }
}

/// Adds wrong ratios of teeth of the first to teeth of the second.
pub(super) fn predict_teeth(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let sizes = path::size(mechanism, first).zip(path::size(mechanism, second));
    let Some((first, second)) = sizes else { return };
    let mut add = |misconception: &'static misconception::Misconception, first, second| {
        if let Some(ratio) = simplest(first, second) {
            found.add(misconception, ratio);
        }
    };
    add(&list::trains::RATIO_ORDER_SWAPPED, second, first);
    add(
        &list::trains::SAME_SPEED,
        number::Number::ONE,
        number::Number::ONE,
    );
}

/// Turns of the first to turns of the second, from turns of the second for one
/// turn of the first.
pub(super) fn ratio_of_gain(gain: number::Value) -> Option<ask::Fact> {
    simplest(number::Number::ONE, gain.as_number()?)
}

/// The ratio of two numbers in whole numbers without a common divisor.
pub(super) fn simplest(first: number::Number, second: number::Number) -> Option<ask::Fact> {
    let quotient = first.divided_by(second).ok()?;
    if !quotient.is_positive() {
        return None;
    }
    let whole = |count: u128| i64::try_from(count).ok().map(number::Number::whole);
    Some(ask::Fact::Ratio(
        whole(quotient.numerator())?,
        whole(quotient.denominator())?,
    ))
}
