//! Wrong directions where a rack moves at the start or the end of the way.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::direction;
use crate::misconception::list;
use crate::misconception::path;

/// A way with the racks at its ends taken off: what is left turns.
pub(super) struct Way<'l> {
    /// The rack that moves, where the way starts at one.
    entry: Option<mechanism::PartId>,
    turning: &'l [path::Leg],
    /// The rack asked about, where the way ends at one.
    exit: Option<mechanism::PartId>,
}

impl Way<'_> {
    /// Whether a rack stands at either end.
    pub(super) fn has_racks(&self) -> bool {
        self.entry.is_some() || self.exit.is_some()
    }
}

/// Takes the racks at the ends of a way off.
pub(super) fn without_racks<'l>(
    mechanism: &mechanism::Mechanism,
    legs: &'l [path::Leg],
) -> Way<'l> {
    let mut turning = legs;
    let mut entry = None;
    if let Some((first, rest)) = turning.split_first()
        && path::is_rack(mechanism, first.from)
    {
        entry = Some(first.from);
        turning = rest;
    }
    let mut exit = None;
    if let Some((last, rest)) = turning.split_last()
        && path::is_rack(mechanism, last.to)
    {
        exit = Some(last.to);
        turning = rest;
    }
    Way {
        entry,
        turning,
        exit,
    }
}

/// Adds wrong directions: of the gears with the rack right, and of the rack with
/// the gears right.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    sense: mechanism::Sense,
    way: &Way<'_>,
    found: &mut misconception::Found,
) {
    // From rack to rack a pupil sees two bars slide, and the wheels hardly.
    if let (Some(_), Some(_)) = (way.entry, way.exit) {
        for (misconception, end) in [
            (&list::directions::SAME_DIRECTION, sense),
            (
                &list::directions::ALWAYS_OPPOSITE,
                direction::opposite(sense),
            ),
        ] {
            found.add(misconception, ask::Fact::Sense(end));
        }
        return;
    }
    let ends = way.turning.first().zip(way.turning.last());
    let ideas = ends.map_or(Vec::new(), |(first, last)| {
        direction::ideas(mechanism, way.turning, (first.from, last.to))
    });
    for (misconception, turned) in ideas {
        if let Some(end) = followed(mechanism, sense, way, turned) {
            found.add(misconception, ask::Fact::Sense(end));
        }
    }
    let right = turned(mechanism, way.turning)
        .and_then(|turned| followed(mechanism, sense, way, turned))
        .map(direction::opposite);
    if let Some(wrong) = right {
        found.add(
            &list::directions::RACK_ON_OTHER_SIDE,
            ask::Fact::Sense(wrong),
        );
    }
}

/// Whether the end of a way turns the other way than its start; `None` past a worm.
fn turned(mechanism: &mechanism::Mechanism, legs: &[path::Leg]) -> Option<bool> {
    let has_corner = legs
        .iter()
        .any(|leg| path::is_worm(mechanism, leg.from) || path::is_worm(mechanism, leg.to));
    let rounds = legs
        .iter()
        .filter(|leg| direction::turns_round(mechanism, **leg));
    (!has_corner).then(|| rounds.count() % 2 == 1)
}

/// The direction at the end, where the turning parts between do or do not reverse it.
fn followed(
    mechanism: &mechanism::Mechanism,
    sense: mechanism::Sense,
    way: &Way<'_>,
    turned: bool,
) -> Option<mechanism::Sense> {
    let first = match way.entry {
        Some(rack) => across_rack(mechanism, rack, sense)?,
        None => sense,
    };
    let last = if turned {
        direction::opposite(first)
    } else {
        first
    };
    match way.exit {
        Some(rack) => across_rack(mechanism, rack, last),
        None => Some(last),
    }
}

/// The direction of a pinion from that of its rack, or of the rack from the pinion's.
fn across_rack(
    mechanism: &mechanism::Mechanism,
    rack: mechanism::PartId,
    sense: mechanism::Sense,
) -> Option<mechanism::Sense> {
    let mechanism::Kind::Rack { above } = path::part(mechanism, rack)?.kind else {
        return None;
    };
    // On top of a wheel that turns clockwise a bar moves to the right; below, to
    // the left.
    let below = match sense {
        mechanism::Sense::Clockwise => mechanism::Sense::Left,
        mechanism::Sense::Anticlockwise => mechanism::Sense::Right,
        mechanism::Sense::Left => mechanism::Sense::Clockwise,
        mechanism::Sense::Right => mechanism::Sense::Anticlockwise,
    };
    Some(if above {
        direction::opposite(below)
    } else {
        below
    })
}
