//! The whole working of a mechanism: its movement joint by joint, then what the
//! solver needs for time, force, travel and planets.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::gears::step;
use crate::wording;
use std::collections::BTreeSet;

/// Returns the working, each step said once.
pub(super) fn lines(mechanism: &mechanism::Mechanism, solution: &solve::Solution) -> Vec<String> {
    let mut lines = Vec::new();
    let steps: Vec<step::Step> = solution
        .steps
        .iter()
        .filter(|step| !is_mere_result(mechanism, step))
        .cloned()
        .collect();
    add_new(&mut lines, wording::steps(mechanism, &steps));
    for asked in further(mechanism, solution) {
        if let Ok(worked) = solve::answer(mechanism, &asked) {
            add_new(&mut lines, wording::steps(mechanism, &worked.steps));
        }
    }
    lines
}

/// The questions at a part where the mechanism meets the world, with what a line of
/// the report calls the answer; a rack's stand in the table already.
pub(super) fn at_the_end(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> Vec<(ask::Ask, &'static str)> {
    let Some(found) = mechanism.parts.get(usize::from(part.0)) else {
        return Vec::new();
    };
    let force = (ask::Ask::Force(part), "Force at");
    match found.kind {
        mechanism::Kind::Drum { .. } => {
            vec![force, (ask::Ask::Distance(part), "Length of string at")]
        }
        mechanism::Kind::Roller { .. } => {
            vec![force, (ask::Ask::Distance(part), "Distance rolled by")]
        }
        mechanism::Kind::Handle { .. } => vec![force],
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => Vec::new(),
    }
}

/// What else to work out: time and planets, then lengths, then forces.
fn further(mechanism: &mechanism::Mechanism, solution: &solve::Solution) -> Vec<ask::Ask> {
    let has_riders = mechanism.parts.iter().any(|part| part.rides_on.is_some());
    let mut bodies_seen = BTreeSet::new();
    let (mut movements, mut lengths, mut forces) = (Vec::new(), Vec::new(), Vec::new());
    for (id, part) in mechanism.numbered() {
        let motion = solution.motions.get(usize::from(part.body.0));
        let is_timed = motion.is_some_and(|motion| motion.turns.is_some() && motion.rpm.is_some());
        if bodies_seen.insert(part.body) && (has_riders || is_timed) {
            movements.extend([ask::Ask::Turns(id), ask::Ask::Speed(id)]);
        }
        if motion.is_some_and(|motion| motion.force.is_some()) {
            forces.extend([ask::Ask::TurningForce(id), ask::Ask::Force(id)]);
        }
        lengths.push(ask::Ask::Distance(id));
    }
    movements.extend(lengths);
    movements.extend(forces);
    movements
}

/// Whether a step tells the movement of a part that is not given: a result without
/// its working.
fn is_mere_result(mechanism: &mechanism::Mechanism, step: &step::Step) -> bool {
    let step::Step::Start { part, .. } = step else {
        return false;
    };
    !mechanism.givens.iter().any(|given| match given {
        mechanism::Given::Motion { part: given, .. } | mechanism::Given::Held(given) => {
            given == part
        }
        mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => false,
    })
}

/// Adds what no line says yet, unless its end is said already.
fn add_new(lines: &mut Vec<String>, more: Vec<String>) {
    // A line may say more than another (the direction as well): then it begins with it.
    let is_said = |lines: &[String], line: &str| {
        let start = line.trim_end_matches('.');
        lines.iter().any(|said| said.starts_with(start))
    };
    if more.last().is_none_or(|end| is_said(lines, end)) {
        return;
    }
    for line in more {
        if !is_said(lines, &line) {
            lines.push(line);
        }
    }
}
