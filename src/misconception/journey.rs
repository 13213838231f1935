//! A movement followed from what is given to what is asked: minutes, racks and drums
//! at its ends, and the train between.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception::circles;
use crate::misconception::path;
use crate::number;

/// What minutes do on the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Time {
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
    pub(super) time: Time,
    /// Where millimetres become turns at the start.
    pub(super) entry: Option<circles::Circle>,
    pub(super) legs: Vec<path::Leg>,
    /// Where turns become millimetres at the end.
    pub(super) exit: Option<circles::Circle>,
    pub(super) unit: ask::Unit,
}

/// Follows a movement from the first amount given that leads to the part asked.
pub(super) fn follow(
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
pub(super) fn minutes(mechanism: &mechanism::Mechanism) -> Option<number::Number> {
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
    pub(super) fn result(&self, gain: Option<number::Value>) -> Option<number::Value> {
        self.result_by(gain, circles::Circle::travel)
    }

    /// The answer with this gain and this idea of a circle's travel.
    pub(super) fn result_by(
        &self,
        gain: Option<number::Value>,
        travel: fn(circles::Circle) -> Option<number::Value>,
    ) -> Option<number::Value> {
        let turns = self.before_train(travel)?.times(gain?).ok()?;
        self.after_train(turns, travel)
    }

    /// How the first part of the train moves.
    pub(super) fn at_train(&self) -> Option<number::Value> {
        self.before_train(circles::Circle::travel)
    }

    fn before_train(
        &self,
        travel: fn(circles::Circle) -> Option<number::Value>,
    ) -> Option<number::Value> {
        let mut value = self.start;
        match self.time {
            Time::None => {}
            Time::Times(minutes) => value = value.times(minutes.into()).ok()?,
            Time::Over(minutes) => value = value.divided_by(minutes.into()).ok()?,
        }
        match self.entry {
            Some(entry) => value.divided_by(travel(entry)?).ok(),
            None => Some(value),
        }
    }

    pub(super) fn after_train(
        &self,
        turns: number::Value,
        travel: fn(circles::Circle) -> Option<number::Value>,
    ) -> Option<number::Value> {
        match self.exit {
            Some(exit) => turns.times(travel(exit)?).ok(),
            None => Some(turns),
        }
    }

    /// A difference taken off after the minutes came in, and one taken off before.
    pub(super) fn early_and_late(&self, difference: number::Value) -> Vec<number::Value> {
        let early = match self.time {
            Time::None => None,
            Time::Times(minutes) => difference.times(minutes.into()).ok(),
            Time::Over(minutes) => difference.divided_by(minutes.into()).ok(),
        };
        [Some(difference), early].into_iter().flatten().collect()
    }

    /// Without minutes.
    pub(super) fn without_time(&self) -> Self {
        Self {
            time: Time::None,
            ..self.clone()
        }
    }
}
