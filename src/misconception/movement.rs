//! Wrong answers to how many turns, how fast and how far.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::circles;
use crate::misconception::journey;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::planetary;
use crate::misconception::train;
use crate::number;
use std::cmp::Ordering;

/// Adds every wrong answer to a question of turns, speed or distance.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    found: &mut misconception::Found,
) {
    if path::has_planets(mechanism) {
        planetary::predict(mechanism, ask, found);
        return;
    }
    let Some(asked) = asked(ask) else { return };
    let Some(journey) = journey::follow(mechanism, ask, asked, path::TakenOut::Respected) else {
        return;
    };
    let train = train::Train::new(mechanism, &journey.legs);
    if train.is_empty() {
        predict_one_axle(mechanism, ask, &journey, found);
    } else {
        predict_train(mechanism, &journey, &train, found);
    }
    predict_time(&journey, &train, found);
    predict_circles(&journey, &train, found);
    if let Some(still_in) = journey::follow(mechanism, ask, asked, path::TakenOut::Forgotten)
        && still_in.legs != journey.legs
    {
        let train = train::Train::new(mechanism, &still_in.legs);
        found.quantity(
            &list::trains::STAGE_STILL_IN,
            still_in.result(train.right()),
            still_in.unit,
        );
    }
    predict_other_parts(mechanism, ask, asked, &journey, found);
    predict_whole_turns(&journey, &train, found);
}

fn asked(ask: &ask::Ask) -> Option<mechanism::PartId> {
    if let ask::Ask::Turns(part) | ask::Ask::Speed(part) | ask::Ask::Distance(part) = ask {
        Some(*part)
    } else {
        None
    }
}

/// Two parts on one axle, taken for a pair that meshes.
fn predict_one_axle(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    journey: &journey::Journey,
    found: &mut misconception::Found,
) {
    let given = mechanism.givens.iter().find_map(|given| {
        if let mechanism::Given::Motion {
            part,
            amount: Some(_),
            ..
        } = given
        {
            Some(*part)
        } else {
            None
        }
    });
    let sizes = given.zip(asked(ask)).and_then(|(from, to)| {
        let from = path::size(mechanism, from)?;
        Some((from, path::size(mechanism, to)?))
    });
    if let Some((from, to)) = sizes {
        let gain = from.divided_by(to).ok().map(number::Value::from);
        found.quantity(
            &list::trains::COMPOUND_AS_SIMPLE,
            journey.result(gain),
            journey.unit,
        );
    }
}

fn predict_train(
    mechanism: &mechanism::Mechanism,
    journey: &journey::Journey,
    train: &train::Train<'_>,
    found: &mut misconception::Found,
) {
    let unit = journey.unit;
    let mut add = |misconception, gain| {
        found.quantity(misconception, journey.result(gain), unit);
    };
    add(&list::trains::RATIO_UPSIDE_DOWN, train.upside_down());
    let one = Some(number::Value::ONE);
    if journey.exit.is_some() || journey.entry.is_some() {
        add(&list::circles::DRUM_TURNS_AS_HANDLE, one);
    } else if train.has_worm() && train.is_pair() {
        add(&list::trains::WORM_AS_EQUAL, one);
    } else {
        add(&list::trains::SAME_SPEED, one);
    }
    for (misconception, gain) in train.thoughts() {
        add(misconception, Some(gain));
    }
    predict_additive(journey, train, found);
    if train.is_pair() && !train.has_worm() {
        predict_pair_slips(mechanism, journey, train, found);
    }
}

/// Teeth added and taken away instead of compared by multiplying. Where minutes
/// stand on the way, a pupil may bring them in before or after.
fn predict_additive(
    journey: &journey::Journey,
    train: &train::Train<'_>,
    found: &mut misconception::Found,
) {
    let Some(difference) = train.difference().map(number::Value::from) else {
        return;
    };
    for difference in journey.early_and_late(difference) {
        for (misconception, difference) in [
            (&list::trains::TAKES_TEETH_AWAY, difference),
            (&list::trains::ADDS_TEETH, difference.negated()),
        ] {
            let turns = journey.at_train().and_then(|it| it.minus(difference).ok());
            let value = turns.and_then(|turns| journey.after_train(turns, circles::Circle::travel));
            found.quantity(misconception, value, journey.unit);
        }
    }
}

fn predict_pair_slips(
    mechanism: &mechanism::Mechanism,
    journey: &journey::Journey,
    train: &train::Train<'_>,
    found: &mut misconception::Found,
) {
    let (Some(right), Some((first, last))) = (train.right(), train.ends()) else {
        return;
    };
    let unit = journey.unit;
    let two = number::Number::whole(2).into();
    for gain in [right.divided_by(two).ok(), right.times(two).ok()] {
        found.quantity(&list::trains::HALF_OR_DOUBLE, journey.result(gain), unit);
    }
    let is_pulley = journey.legs.first().is_none_or(|leg| {
        path::part(mechanism, leg.from)
            .is_none_or(|part| matches!(part.kind, mechanism::Kind::Pulley { .. }))
    });
    if is_pulley {
        return;
    }
    let step = |size: number::Number, by: i64| size.plus(number::Number::whole(by)).ok();
    for (first_by, last_by) in [(1, 1), (1, 0), (0, 1), (-1, -1), (-1, 0), (0, -1)] {
        let gain = step(first, first_by)
            .zip(step(last, last_by))
            .and_then(|(first, last)| first.divided_by(last).ok())
            .map(number::Value::from);
        found.quantity(&list::trains::MISCOUNTS, journey.result(gain), unit);
    }
}

fn predict_time(
    journey: &journey::Journey,
    train: &train::Train<'_>,
    found: &mut misconception::Found,
) {
    if journey.time == journey::Time::None {
        return;
    }
    let unit = journey.unit;
    let forgotten = journey.without_time().result(train.right());
    found.quantity(&list::circles::MINUTES_FORGOTTEN, forgotten, unit);
    let sixty = number::Number::whole(60).into();
    let right = journey.result(train.right());
    for value in [
        right.and_then(|value| value.times(sixty).ok()),
        right.and_then(|value| value.divided_by(sixty).ok()),
    ] {
        found.quantity(&list::circles::MINUTES_AND_SECONDS, value, unit);
    }
}

/// Wrong ideas of how far one turn goes. A pupil has one idea for every circle,
/// so that where one movement of a rack or string becomes another, a radius or a
/// forgotten pi drops out again and cannot show.
fn predict_circles(
    journey: &journey::Journey,
    train: &train::Train<'_>,
    found: &mut misconception::Found,
) {
    let unit = journey.unit;
    let mut add = |misconception, travel| {
        found.quantity(
            misconception,
            journey.result_by(train.right(), travel),
            unit,
        );
    };
    if journey.entry.is_some() != journey.exit.is_some() {
        add(
            &list::circles::RADIUS_FOR_DIAMETER,
            circles::Circle::travel_by_radius,
        );
        add(
            &list::circles::RADIUS_FOR_DIAMETER,
            circles::Circle::travel_twice_over,
        );
        add(
            &list::circles::PI_FORGOTTEN,
            circles::Circle::travel_without_pi,
        );
    }
    let circles = [journey.entry, journey.exit];
    let has_tips = circles.into_iter().flatten().any(circles::Circle::has_tips);
    if has_tips && journey.entry != journey.exit {
        add(
            &list::circles::OUTSIDE_DIAMETER,
            circles::Circle::travel_over_tips,
        );
    }
    if journey.entry.is_none()
        && let Some(exit) = journey.exit
    {
        found.quantity(&list::circles::ONE_TURN_ONLY, exit.travel(), unit);
    }
}

/// The movement of another part than the one asked about, where no other
/// misconception already stops there.
fn predict_other_parts(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    asked: mechanism::PartId,
    journey: &journey::Journey,
    found: &mut misconception::Found,
) {
    if journey.exit.is_some() || journey.entry.is_some() {
        return;
    }
    let Some(start) = journey.legs.first().map(|leg| leg.from) else {
        return;
    };
    let passed = journey.legs.first().map(|leg| leg.to);
    let ids = (0_u16..).take(mechanism.parts.len()).map(mechanism::PartId);
    for other in ids {
        let is_told = [Some(asked), Some(start), passed]
            .into_iter()
            .flatten()
            .any(|told| path::on_one_axle(mechanism, other, told));
        if is_told {
            continue;
        }
        if let Some(journey) = journey::follow(mechanism, ask, other, path::TakenOut::Respected) {
            let train = train::Train::new(mechanism, &journey.legs);
            found.quantity(
                &list::trains::OTHER_GEAR,
                journey.result(train.right()),
                journey.unit,
            );
        }
    }
}

/// Parts of a turn left off.
fn predict_whole_turns(
    journey: &journey::Journey,
    train: &train::Train<'_>,
    found: &mut misconception::Found,
) {
    if journey.unit != ask::Unit::Turns {
        return;
    }
    let whole = journey.result(train.right()).and_then(whole_part);
    found.quantity(
        &list::circles::WHOLE_TURNS_ONLY,
        whole.map(number::Value::from),
        journey.unit,
    );
}

/// The whole turns of what is not whole; `None` of what is.
fn whole_part(turns: number::Value) -> Option<number::Number> {
    let nearest = number::round_half_up(turns, number::Precision::Places(0)).ok()?;
    match turns.compare(nearest.into()).ok()? {
        Ordering::Equal => None,
        Ordering::Greater => Some(nearest),
        Ordering::Less => nearest.minus(number::Number::ONE).ok(),
    }
}
