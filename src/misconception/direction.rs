//! Wrong directions, and wrong answers to whether two parts turn the same way.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::planetary;
use crate::misconception::racks;

/// Adds wrong directions of one part.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let start = mechanism.givens.iter().find_map(|given| {
        let mechanism::Given::Motion {
            part,
            sense: Some(sense),
            ..
        } = given
        else {
            return None;
        };
        let legs = path::walk(mechanism, *part, asked, path::TakenOut::Respected)?;
        Some((*part, *sense, legs))
    });
    if path::has_planets(mechanism) {
        planetary::predict_direction(mechanism, found);
        return;
    }
    let Some((part, sense, legs)) = start else {
        return;
    };
    let way = racks::without_racks(mechanism, &legs);
    if way.has_racks() {
        racks::predict(mechanism, sense, &way, found);
        return;
    }
    for (misconception, turned) in ideas(mechanism, &legs, (part, asked)) {
        let fact = if turned { opposite(sense) } else { sense };
        found.add(misconception, ask::Fact::Sense(fact));
    }
}

/// Adds wrong answers to whether two parts turn the same way.
pub(super) fn predict_same_way(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    if path::has_planets(mechanism) {
        planetary::predict_same_way(found);
        return;
    }
    let Some(legs) = path::walk(mechanism, first, second, path::TakenOut::Respected) else {
        return;
    };
    for (misconception, turned) in ideas(mechanism, &legs, (first, second)) {
        found.add(misconception, ask::Fact::YesNo(!turned));
    }
}

/// What each idea says: whether the end turns the other way than the start.
pub(super) fn ideas(
    mechanism: &mechanism::Mechanism,
    legs: &[path::Leg],
    ends: (mechanism::PartId, mechanism::PartId),
) -> Vec<(&'static misconception::Misconception, bool)> {
    let turns_round = |leg: &path::Leg| turns_round(mechanism, *leg);
    let has_corner = legs
        .iter()
        .any(|leg| path::is_worm(mechanism, leg.from) || path::is_worm(mechanism, leg.to));
    let axles = path::shared_axles(mechanism, legs, ends);
    if has_corner || (legs.is_empty() && axles == 0) {
        return Vec::new();
    }
    if legs.is_empty() {
        return vec![(&list::directions::TURNS_ROUND_ON_AXLE, true)];
    }
    let is_odd = |count: usize| count % 2 == 1;
    let counted = |turns_round: &dyn Fn(&path::Leg) -> bool| {
        is_odd(legs.iter().filter(|leg| turns_round(leg)).count())
    };
    let right = counted(&turns_round);
    let mut ideas = vec![
        (&list::directions::SAME_DIRECTION, false),
        (&list::directions::ALWAYS_OPPOSITE, true),
    ];
    if axles > 0 {
        ideas.push((
            &list::directions::TURNS_ROUND_ON_AXLE,
            right != is_odd(axles),
        ));
    } else if legs.iter().all(turns_round) {
        ideas.push((&list::directions::PARITY_REVERSED, !right));
    }
    if legs
        .iter()
        .any(|leg| path::is_ring(mechanism, leg.from) || path::is_ring(mechanism, leg.to))
    {
        ideas.push((
            &list::directions::RING_TURNS_ROUND,
            counted(&|leg| leg.link == mechanism::Link::Mesh || turns_round(leg)),
        ));
    }
    if legs
        .iter()
        .any(|leg| matches!(leg.link, mechanism::Link::Chain | mechanism::Link::Belt))
    {
        ideas.push((
            &list::directions::CHAIN_TURNS_ROUND,
            counted(&|leg| leg.link != mechanism::Link::Mesh || turns_round(leg)),
        ));
    }
    if legs
        .iter()
        .any(|leg| leg.link == mechanism::Link::CrossedBelt)
    {
        ideas.push((
            &list::directions::CROSSING_OVERLOOKED,
            counted(&|leg| leg.link != mechanism::Link::CrossedBelt && turns_round(leg)),
        ));
    }
    ideas
}

/// Whether the wheels of a leg turn opposite ways.
pub(super) fn turns_round(mechanism: &mechanism::Mechanism, leg: path::Leg) -> bool {
    match leg.link {
        mechanism::Link::Mesh => {
            !(path::is_ring(mechanism, leg.from) || path::is_ring(mechanism, leg.to))
        }
        mechanism::Link::Chain | mechanism::Link::Belt => false,
        mechanism::Link::CrossedBelt => true,
    }
}

/// The other direction.
pub(super) fn opposite(sense: mechanism::Sense) -> mechanism::Sense {
    match sense {
        mechanism::Sense::Clockwise => mechanism::Sense::Anticlockwise,
        mechanism::Sense::Anticlockwise => mechanism::Sense::Clockwise,
        mechanism::Sense::Left => mechanism::Sense::Right,
        mechanism::Sense::Right => mechanism::Sense::Left,
    }
}
