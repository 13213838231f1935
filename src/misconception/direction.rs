//! Wrong directions, and wrong answers to whether two parts turn the same way.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;

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
        Some((*sense, legs))
    });
    let Some((sense, legs)) = start else { return };
    let slides = legs
        .iter()
        .any(|leg| path::is_rack(mechanism, leg.from) || path::is_rack(mechanism, leg.to));
    if slides {
        predict_at_rack(mechanism, sense, &legs, found);
        return;
    }
    for (misconception, turned) in ideas(mechanism, &legs) {
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
    let Some(legs) = path::walk(mechanism, first, second, path::TakenOut::Respected) else {
        return;
    };
    for (misconception, turned) in ideas(mechanism, &legs) {
        found.add(misconception, ask::Fact::YesNo(!turned));
    }
}

/// What each idea says: whether the end turns the other way than the start.
fn ideas(
    mechanism: &mechanism::Mechanism,
    legs: &[path::Leg],
) -> Vec<(&'static misconception::Misconception, bool)> {
    let turns_round = |leg: &path::Leg| match leg.link {
        mechanism::Link::Mesh => {
            !(path::is_ring(mechanism, leg.from) || path::is_ring(mechanism, leg.to))
        }
        mechanism::Link::Chain | mechanism::Link::Belt => false,
        mechanism::Link::CrossedBelt => true,
    };
    let has_corner = legs
        .iter()
        .any(|leg| path::is_worm(mechanism, leg.from) || path::is_worm(mechanism, leg.to));
    if has_corner || legs.is_empty() {
        return Vec::new();
    }
    let is_odd = |count: usize| count % 2 == 1;
    let counted = |turns_round: &dyn Fn(&path::Leg) -> bool| {
        is_odd(legs.iter().filter(|leg| turns_round(leg)).count())
    };
    let right = counted(&turns_round);
    let shared_axles = path::stages(legs).len() - 1;
    let mut ideas = vec![
        (&list::directions::SAME_DIRECTION, false),
        (&list::directions::ALWAYS_OPPOSITE, true),
    ];
    if shared_axles > 0 {
        ideas.push((
            &list::directions::TURNS_ROUND_ON_AXLE,
            right != is_odd(shared_axles),
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

/// A rack taken for one on the other side of its pinion. Only for the simplest
/// way, one pinion and its rack, where the idea is plain.
fn predict_at_rack(
    mechanism: &mechanism::Mechanism,
    sense: mechanism::Sense,
    legs: &[path::Leg],
    found: &mut misconception::Found,
) {
    let Some((leg, [])) = legs.split_first() else {
        return;
    };
    let (rack, to_rack) = if path::is_rack(mechanism, leg.to) {
        (leg.to, true)
    } else {
        (leg.from, false)
    };
    let Some(mechanism::Kind::Rack { above }) =
        path::part(mechanism, rack).map(|part| part.kind.clone())
    else {
        return;
    };
    // On top of a wheel that turns clockwise a bar moves to the right; below, to
    // the left. The wrong idea has it on the other side.
    let wrong_above = !above;
    let fact = if to_rack {
        let clockwise = sense == mechanism::Sense::Clockwise;
        if clockwise == wrong_above {
            mechanism::Sense::Right
        } else {
            mechanism::Sense::Left
        }
    } else {
        let right = sense == mechanism::Sense::Right;
        if right == wrong_above {
            mechanism::Sense::Clockwise
        } else {
            mechanism::Sense::Anticlockwise
        }
    };
    found.add(
        &list::directions::RACK_ON_OTHER_SIDE,
        ask::Fact::Sense(fact),
    );
}

fn opposite(sense: mechanism::Sense) -> mechanism::Sense {
    match sense {
        mechanism::Sense::Clockwise => mechanism::Sense::Anticlockwise,
        mechanism::Sense::Anticlockwise => mechanism::Sense::Clockwise,
        mechanism::Sense::Left => mechanism::Sense::Right,
        mechanism::Sense::Right => mechanism::Sense::Left,
    }
}
