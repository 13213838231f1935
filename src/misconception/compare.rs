//! Wrong answers to questions with few answers: faster, stronger, will it turn,
//! names and jobs.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// Adds wrong answers to which of two parts turns faster.
pub(super) fn predict_faster(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let mut add = |misconception, which| found.add(misconception, ask::Fact::Which(which));
    if path::has_planets(mechanism) {
        add(&list::trains::SAME_SPEED, ask::Which::Same);
        return;
    }
    let Some(legs) = path::walk(mechanism, first, second, path::TakenOut::Respected) else {
        return;
    };
    if let Some(sizes) = sizes(mechanism, &legs, (first, second)) {
        let bigger = match sizes {
            Ordering::Greater => Some(ask::Which::First),
            Ordering::Less => Some(ask::Which::Second),
            Ordering::Equal => None,
        };
        if let Some(bigger) = bigger {
            add(&list::directions::BIG_GEAR_FASTER, bigger);
        }
        if let (Some(bigger), true) = (bigger, legs.is_empty()) {
            add(
                &list::directions::SMALL_FASTER_ON_AXLE,
                other_of_two(bigger),
            );
        }
        if has_shared_axle(mechanism, &legs, (first, second)) {
            let smaller = bigger.map_or(ask::Which::Same, other_of_two);
            add(&list::trains::COMPOUND_AS_SIMPLE, smaller);
        }
    }
    if !legs.is_empty() {
        add(&list::trains::SAME_SPEED, ask::Which::Same);
        if let Some(nearer) = nearer_the_drive(&legs) {
            add(&list::directions::MOVEMENT_FADES, nearer);
        }
    }
}

/// How the first part's size compares with the second's.
fn sizes(
    mechanism: &mechanism::Mechanism,
    legs: &[path::Leg],
    (first, second): (mechanism::PartId, mechanism::PartId),
) -> Option<Ordering> {
    // A handle or a motor has no size: the gear on its axle has.
    let size = |part, wheel: Option<mechanism::PartId>| {
        path::size(mechanism, part).or_else(|| path::size(mechanism, wheel?))
    };
    let one = size(first, legs.first().map(|leg| leg.from))?;
    let other = size(second, legs.last().map(|leg| leg.to))?;
    Some(one.cmp(&other))
}

/// Whether two wheels on one axle stand on the way, at its ends too.
fn has_shared_axle(
    mechanism: &mechanism::Mechanism,
    legs: &[path::Leg],
    ends: (mechanism::PartId, mechanism::PartId),
) -> bool {
    !legs.is_empty() && path::shared_axles(mechanism, legs, ends) > 0
}

/// Which end of a way is nearer to what drives it, where every joint agrees.
fn nearer_the_drive(legs: &[path::Leg]) -> Option<ask::Which> {
    if legs.iter().all(|leg| !leg.backwards) {
        Some(ask::Which::First)
    } else if legs.iter().all(|leg| leg.backwards) {
        Some(ask::Which::Second)
    } else {
        None
    }
}

fn other_of_two(which: ask::Which) -> ask::Which {
    match which {
        ask::Which::First => ask::Which::Second,
        ask::Which::Second => ask::Which::First,
        ask::Which::Same => ask::Which::Same,
    }
}

/// Adds wrong answers to which of two parts has the greater turning force.
pub(super) fn predict_stronger(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let mut add = |misconception, which| found.add(misconception, ask::Fact::Which(which));
    if path::has_planets(mechanism) {
        add(&list::forces::SAME_FORCE, ask::Which::Same);
        return;
    }
    let Some(legs) = path::walk(mechanism, first, second, path::TakenOut::Respected) else {
        return;
    };
    if legs.is_empty() {
        return;
    }
    let gain = path::gain(mechanism, &legs).map(|gain| gain.factor);
    let faster = gain.map(|gain| match gain.cmp(&crate::number::Number::ONE) {
        Ordering::Greater => ask::Which::Second,
        Ordering::Less => ask::Which::First,
        Ordering::Equal => ask::Which::Same,
    });
    if let Some(faster) = faster {
        add(&list::forces::FORCE_AND_SPEED_BOTH, faster);
    }
    add(&list::forces::SAME_FORCE, ask::Which::Same);
    if has_shared_axle(mechanism, &legs, (first, second))
        && let Some(sizes) = sizes(mechanism, &legs, (first, second))
    {
        let bigger = match sizes {
            Ordering::Greater => ask::Which::First,
            Ordering::Less => ask::Which::Second,
            Ordering::Equal => ask::Which::Same,
        };
        add(&list::trains::COMPOUND_AS_SIMPLE, bigger);
    }
    if let Some(nearer) = nearer_the_drive(&legs) {
        add(&list::directions::MOVEMENT_FADES, nearer);
    }
}

/// Adds wrong answers to whether a mechanism can turn.
pub(super) fn predict_will_it_turn(
    mechanism: &mechanism::Mechanism,
    found: &mut misconception::Found,
) {
    let mut add = |misconception, yes| found.add(misconception, ask::Fact::YesNo(yes));
    if path::has_planets(mechanism) {
        return;
    }
    let has_loop = has_loop(mechanism);
    if has_loop {
        add(&list::directions::LOOP_TURNS, true);
        add(&list::directions::LOOP_JAMS, false);
    }
    if mechanism.joints.iter().any(|joint| {
        let sizes = [joint.first, joint.second]
            .map(|id| path::part(mechanism, id).and_then(|part| part.tooth_size_mm));
        matches!(sizes, [Some(one), Some(other)] if one != other)
    }) {
        add(&list::directions::TOOTH_SIZE_NO_MATTER, true);
    }
    if mechanism
        .joints
        .iter()
        .any(|joint| joint.driver_named && path::is_worm(mechanism, joint.second))
    {
        add(&list::directions::WORM_DRIVEN_BACK, true);
    }
    let meshes = mechanism
        .joints
        .iter()
        .filter(|joint| joint.link == mechanism::Link::Mesh)
        .count();
    if !has_loop && meshes >= 2 {
        add(&list::directions::ROW_JAMS, false);
    }
}

/// Whether the joints close a loop.
fn has_loop(mechanism: &mechanism::Mechanism) -> bool {
    let mut groups: Vec<BTreeSet<mechanism::BodyId>> = Vec::new();
    for joint in &mechanism.joints {
        let (Some(first), Some(second)) = (
            path::part(mechanism, joint.first),
            path::part(mechanism, joint.second),
        ) else {
            continue;
        };
        let mut joined = BTreeSet::from([first.body, second.body]);
        if groups
            .iter()
            .any(|group| group.contains(&first.body) && group.contains(&second.body))
        {
            return true;
        }
        let (touched, apart) = groups
            .into_iter()
            .partition::<Vec<_>, _>(|group| !group.is_disjoint(&joined));
        joined.extend(touched.into_iter().flatten());
        groups = apart;
        groups.push(joined);
    }
    false
}

/// Adds names that the part is mixed up with.
pub(super) fn predict_name(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let Some(part) = path::part(mechanism, asked) else {
        return;
    };
    let on_rack = mechanism.joints.iter().any(|joint| {
        (joint.first == asked && path::is_rack(mechanism, joint.second))
            || (joint.second == asked && path::is_rack(mechanism, joint.first))
    });
    let mut mixed = |name| found.add(&list::other::NAMES_MIXED, ask::Fact::Name(name));
    let is_toothed_wheel = match part.kind {
        mechanism::Kind::Gear { .. } => {
            if on_rack {
                mixed(ask::PartName::Rack);
            }
            on_rack
        }
        mechanism::Kind::Ring { .. } => true,
        mechanism::Kind::Bevel { .. } => {
            mixed(ask::PartName::Worm);
            true
        }
        mechanism::Kind::Worm { .. } => {
            mixed(ask::PartName::Rack);
            mixed(ask::PartName::BevelGear);
            false
        }
        mechanism::Kind::Rack { .. } => {
            mixed(ask::PartName::Worm);
            mixed(ask::PartName::Pinion);
            false
        }
        mechanism::Kind::Sprocket { .. } => {
            mixed(ask::PartName::Pulley);
            true
        }
        mechanism::Kind::Pulley { .. } => {
            mixed(ask::PartName::Sprocket);
            false
        }
        mechanism::Kind::Drum { .. } => {
            mixed(ask::PartName::Pulley);
            false
        }
        mechanism::Kind::Motor => {
            mixed(ask::PartName::Dynamo);
            false
        }
        mechanism::Kind::Dynamo => {
            mixed(ask::PartName::Motor);
            false
        }
        mechanism::Kind::Handle { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Carrier => false,
    };
    if is_toothed_wheel {
        found.add(
            &list::other::ALL_WHEELS_ALIKE,
            ask::Fact::Name(ask::PartName::SpurGear),
        );
    }
}

/// Adds jobs that the part is mixed up with.
pub(super) fn predict_job(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let named = || mechanism.joints.iter().filter(|joint| joint.driver_named);
    let has_driven = named().any(|joint| joint.first == asked);
    let is_pushed = named().any(|joint| joint.second == asked);
    match (has_driven, is_pushed) {
        (true, true) => {
            for job in [ask::Job::Driven, ask::Job::Drive] {
                found.add(&list::other::IDLER_OVERLOOKED, ask::Fact::Job(job));
            }
        }
        (true, false) => found.add(&list::other::JOBS_SWAPPED, ask::Fact::Job(ask::Job::Driven)),
        (false, true) => found.add(&list::other::JOBS_SWAPPED, ask::Fact::Job(ask::Job::Drive)),
        (false, false) => {}
    }
}
