//! Wrong answers to how many turns, how fast and how far.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::circles;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::planetary;
use crate::number;

/// What minutes do on the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Time {
    /// Nothing.
    None,
    /// Turns come from a speed: times the minutes.
    Times(number::Number),
    /// A speed comes from turns: divided by the minutes.
    Over(number::Number),
}

/// A movement followed from what is given to what is asked.
#[derive(Debug, Clone)]
pub(super) struct Journey {
    /// What is given: turns, turns a minute or millimetres.
    start: number::Value,
    time: Time,
    /// Where millimetres become turns at the start.
    entry: Option<circles::Circle>,
    pub(super) legs: Vec<path::Leg>,
    /// Where turns become millimetres at the end.
    exit: Option<circles::Circle>,
    unit: ask::Unit,
}

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
    let Some(journey) = journey(mechanism, ask, asked, path::TakenOut::Respected) else {
        return;
    };
    let train = path::Train::new(mechanism, &journey.legs);
    if train.is_empty() {
        predict_one_axle(mechanism, ask, &journey, found);
    } else {
        predict_train(mechanism, &journey, &train, found);
    }
    predict_time(&journey, &train, found);
    predict_circles(&journey, &train, found);
    if let Some(still_in) = self::journey(mechanism, ask, asked, path::TakenOut::Forgotten)
        && still_in.legs != journey.legs
    {
        let train = path::Train::new(mechanism, &still_in.legs);
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

/// Follows a movement from the first amount given that leads to the part asked.
fn journey(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    asked: mechanism::PartId,
    taken_out: path::TakenOut,
) -> Option<Journey> {
    let minutes = minutes(mechanism);
    mechanism.givens.iter().find_map(|given| {
        let mechanism::Given::Motion {
            part,
            amount: Some(amount),
            ..
        } = given
        else {
            return None;
        };
        let mut legs = path::walk(mechanism, *part, asked, taken_out)?;
        let (start, speed_given) = match amount {
            mechanism::Amount::Turns(turns) => ((*turns).into(), false),
            mechanism::Amount::Rpm(rpm) => ((*rpm).into(), true),
            mechanism::Amount::Millimetres(length) => (*length, false),
        };
        let entry = if matches!(amount, mechanism::Amount::Millimetres(_)) {
            Some(entry(mechanism, *part, &mut legs)?)
        } else {
            None
        };
        let speed_asked = matches!(ask, ask::Ask::Speed(_));
        let (exit, unit) = if matches!(ask, ask::Ask::Distance(_)) {
            let exit = exit(mechanism, asked, &mut legs)?;
            (Some(exit), ask::Unit::Millimetres)
        } else if speed_asked {
            (None, ask::Unit::Rpm)
        } else {
            (None, ask::Unit::Turns)
        };
        let time = match (speed_given, speed_asked) {
            (true, false) => Time::Times(minutes?),
            (false, true) => Time::Over(minutes?),
            (true, true) | (false, false) => Time::None,
        };
        Some(Journey {
            start,
            time,
            entry,
            legs,
            exit,
            unit,
        })
    })
}

/// The minutes that the mechanism runs for, where said.
fn minutes(mechanism: &mechanism::Mechanism) -> Option<number::Number> {
    mechanism.givens.iter().find_map(|given| match given {
        mechanism::Given::Minutes(minutes) => Some(*minutes),
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => None,
    })
}

/// Where millimetres become turns: at a drum or wheel, or over the first leg
/// off a rack, which is then no leg of the train any more.
fn entry(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    legs: &mut Vec<path::Leg>,
) -> Option<circles::Circle> {
    if path::is_rack(mechanism, part) {
        let first = *legs.first()?;
        legs.remove(0);
        circles::Circle::of_leg(mechanism, first)
    } else {
        circles::Circle::of_part(mechanism, part)
    }
}

/// Where turns become millimetres, likewise.
fn exit(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    legs: &mut Vec<path::Leg>,
) -> Option<circles::Circle> {
    if path::is_rack(mechanism, part) {
        circles::Circle::of_leg(mechanism, legs.pop()?)
    } else {
        circles::Circle::of_part(mechanism, part)
    }
}

impl Journey {
    /// The answer with this gain in place of the right one.
    fn result(&self, gain: Option<number::Value>) -> Option<number::Value> {
        self.result_by(gain, circles::Circle::travel)
    }

    /// The answer with this gain and this idea of a circle's travel.
    fn result_by(
        &self,
        gain: Option<number::Value>,
        travel: fn(circles::Circle) -> Option<number::Value>,
    ) -> Option<number::Value> {
        let mut value = self.start;
        match self.time {
            Time::None => {}
            Time::Times(minutes) => value = value.times(minutes.into()).ok()?,
            Time::Over(minutes) => value = value.divided_by(minutes.into()).ok()?,
        }
        if let Some(entry) = self.entry {
            value = value.divided_by(travel(entry)?).ok()?;
        }
        value = value.times(gain?).ok()?;
        if let Some(exit) = self.exit {
            value = value.times(travel(exit)?).ok()?;
        }
        Some(value)
    }

    /// Without minutes.
    fn without_time(&self) -> Self {
        Self {
            time: Time::None,
            ..self.clone()
        }
    }
}

/// Two parts on one axle, taken for a pair that meshes.
fn predict_one_axle(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    journey: &Journey,
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
    journey: &Journey,
    train: &path::Train<'_>,
    found: &mut misconception::Found,
) {
    let unit = journey.unit;
    let mut add = |misconception, gain| {
        found.quantity(misconception, journey.result(gain), unit);
    };
    add(&list::trains::RATIO_UPSIDE_DOWN, train.upside_down());
    let one = Some(number::Value::ONE);
    if train.has_worm() && train.is_pair() {
        add(&list::trains::WORM_AS_EQUAL, one);
    } else if journey.exit.is_some() {
        add(&list::circles::DRUM_TURNS_AS_HANDLE, one);
    } else {
        add(&list::trains::SAME_SPEED, one);
    }
    if train.is_compound() {
        add(&list::trains::FIRST_STAGE_ONLY, train.first_stage());
        add(&list::trains::LAST_STAGE_ONLY, train.last_stage());
        for sum in train.sums_of_stages() {
            add(&list::trains::ADDS_STAGES, Some(sum));
        }
        add(&list::trains::COMPOUND_AS_SIMPLE, train.as_simple_train());
        add(
            &list::trains::SECOND_STAGE_UPSIDE_DOWN,
            train.second_stage_upside_down(),
        );
    }
    if train.has_idlers_only() {
        add(&list::trains::STOPS_AT_IDLER, train.first_leg());
        add(&list::trains::STARTS_AT_IDLER, train.last_leg());
        add(&list::trains::FRESH_RATIO_EACH, train.fresh_ratio_each());
        add(&list::trains::ADDS_MESHES, train.sum_of_meshes());
    }
    if let Some((driving, driven)) = train.starts()
        && (driving != number::Value::ONE || driven != number::Value::ONE)
        && let Some(right) = train.right()
    {
        let ignored = right
            .divided_by(driving)
            .and_then(|gain| gain.times(driven))
            .ok();
        let multiplied = ignored.and_then(|gain| {
            gain.divided_by(driving)
                .and_then(|gain| gain.times(driven))
                .ok()
        });
        add(&list::trains::STARTS_IGNORED, ignored);
        add(&list::trains::STARTS_MULTIPLY, multiplied);
    }
    if !train.is_compound()
        && !train.has_worm()
        && journey.entry.is_none()
        && journey.exit.is_none()
    {
        predict_additive(journey, train, found);
    }
    if train.is_pair() && !train.has_worm() {
        predict_pair_slips(mechanism, journey, train, found);
    }
}

/// Teeth added and taken away instead of compared by multiplying.
fn predict_additive(journey: &Journey, train: &path::Train<'_>, found: &mut misconception::Found) {
    let Some((first, last)) = train.ends() else {
        return;
    };
    let difference = last.minus(first).ok().map(number::Value::from);
    let start = journey.result(Some(number::Value::ONE));
    let Some((start, difference)) = start.zip(difference) else {
        return;
    };
    found.quantity(
        &list::trains::TAKES_TEETH_AWAY,
        start.minus(difference).ok(),
        journey.unit,
    );
    found.quantity(
        &list::trains::ADDS_TEETH,
        start.plus(difference).ok(),
        journey.unit,
    );
}

fn predict_pair_slips(
    mechanism: &mechanism::Mechanism,
    journey: &Journey,
    train: &path::Train<'_>,
    found: &mut misconception::Found,
) {
    let (Some(right), Some((first, last))) = (train.right(), train.ends()) else {
        return;
    };
    let unit = journey.unit;
    found.quantity(
        &list::trains::SQUARED,
        journey.result(right.times(right).ok()),
        unit,
    );
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

fn predict_time(journey: &Journey, train: &path::Train<'_>, found: &mut misconception::Found) {
    if journey.time == Time::None {
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

fn predict_circles(journey: &Journey, train: &path::Train<'_>, found: &mut misconception::Found) {
    if journey.entry.is_none() && journey.exit.is_none() {
        return;
    }
    let unit = journey.unit;
    let mut add = |misconception, travel| {
        found.quantity(
            misconception,
            journey.result_by(train.right(), travel),
            unit,
        );
    };
    add(
        &list::circles::RADIUS_FOR_DIAMETER,
        circles::Circle::travel_by_radius,
    );
    add(
        &list::circles::PI_FORGOTTEN,
        circles::Circle::travel_without_pi,
    );
    add(
        &list::circles::OUTSIDE_DIAMETER,
        circles::Circle::travel_over_tips,
    );
    if let Some(exit) = journey.exit {
        found.quantity(&list::circles::ONE_TURN_ONLY, exit.travel(), unit);
    }
}

/// The movement of another part than the one asked about, where no other
/// misconception already stops there.
fn predict_other_parts(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    asked: mechanism::PartId,
    journey: &Journey,
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
        if let Some(journey) = self::journey(mechanism, ask, other, path::TakenOut::Respected) {
            let train = path::Train::new(mechanism, &journey.legs);
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
    journey: &Journey,
    train: &path::Train<'_>,
    found: &mut misconception::Found,
) {
    let right = journey
        .result(train.right())
        .and_then(number::Value::as_number);
    if let (ask::Unit::Turns, Some(right)) = (journey.unit, right)
        && !right.is_whole()
    {
        found.quantity(
            &list::circles::WHOLE_TURNS_ONLY,
            Some(right.floor().into()),
            journey.unit,
        );
    }
}
