//! The steps through a planetary set.

use crate::gears::ask;
use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::planetary;
use crate::gears::step;
use crate::gears::working;
use crate::number;

/// What else is given of the planetary set: parts held still or driven as well.
pub(in crate::gears) fn other_drives(
    motions: &motion::Motions<'_>,
    from: mechanism::PartId,
) -> Vec<(mechanism::PartId, step::Movement)> {
    let mut others = Vec::new();
    for given in &motions.walk.mechanism.givens {
        let nought = step::Movement {
            value: number::Value::ZERO,
            unit: ask::Unit::Turns,
        };
        let (part, movement) = match given {
            mechanism::Given::Held(part) => (*part, nought),
            mechanism::Given::Motion {
                part,
                amount: Some(amount),
                ..
            } => {
                let (value, unit) = match amount {
                    mechanism::Amount::Turns(number) => ((*number).into(), ask::Unit::Turns),
                    mechanism::Amount::Rpm(number) => ((*number).into(), ask::Unit::Rpm),
                    mechanism::Amount::Millimetres(value) => (*value, ask::Unit::Millimetres),
                };
                (*part, step::Movement { value, unit })
            }
            mechanism::Given::Motion { amount: None, .. }
            | mechanism::Given::Minutes(_)
            | mechanism::Given::Force { .. }
            | mechanism::Given::TurningForce { .. }
            | mechanism::Given::Efficiency(_)
            | mechanism::Given::Apart { .. }
            | mechanism::Given::TakenOut { .. } => continue,
        };
        if part != from && motions.component(part) == motions.component(from) {
            others.push((part, movement));
        }
    }
    others
}

/// Adds the steps between two parts with a planetary set between.
///
/// Source: Willis's relation (see `planetary`).
pub(in crate::gears) fn through(
    motions: &motion::Motions<'_>,
    shown: working::Shown,
    (from, to): (mechanism::PartId, mechanism::PartId),
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let walk = &motions.walk;
    let in_component = |part| motions.component(part) == motions.component(from);
    let set = planetary::sets(walk.mechanism, &walk.couplings)
        .into_iter()
        .find(|set| in_component(set.sun));
    let mut members: Vec<mechanism::PartId> = Vec::new();
    if let Some(set) = set {
        members.push(set.sun);
        members.push(set.ring);
        members.extend(carrier_part(walk.mechanism, set.carrier));
        members.push(set.planet);
    }
    for (joint, coupling) in walk.mechanism.joints.iter().zip(&walk.couplings) {
        if let (Some(carrier), true) = (coupling.carrier, in_component(joint.first)) {
            members.extend([joint.first, joint.second]);
            members.extend(carrier_part(walk.mechanism, carrier));
        }
    }
    let touching = |part: mechanism::PartId| {
        members
            .iter()
            .copied()
            .find(|&it| walk.at(it).cluster == walk.at(part).cluster)
            .unwrap_or(part)
    };
    let (near, far) = (touching(from), touching(to));
    let way = walk.way(from, near).unwrap_or_default();
    working::along(motions, shown, (from, &way, near), steps)?;
    let scale = shown.amount.map_or(number::Value::ONE, |(scale, _)| scale);
    // Without any sense given one is supposed.
    let positive = shown
        .positive
        .or_else(|| motions.senses[walk.at(near).group].map(|(positive, _)| positive))
        .unwrap_or(true);
    let signed = |part: mechanism::PartId| -> Result<number::Value, fault::Fault> {
        let value = scale.times(walk.at(part).ratio.into())?;
        Ok(if positive { value } else { value.negated() })
    };
    let mut shown_all = false;
    if let Some(set) = set
        && let Some(carrier) = carrier_part(walk.mechanism, set.carrier)
        && let (Some(mechanism::Count::Known(sun_teeth)), Some(mechanism::Count::Known(ring_teeth))) = (
            coupling::count(&walk.mechanism.part(set.sun).kind),
            coupling::count(&walk.mechanism.part(set.ring).kind),
        )
    {
        steps.push(step::Step::Planetary {
            sun: set.sun,
            ring: set.ring,
            carrier,
            sun_teeth,
            ring_teeth,
            sun_moves: signed(set.sun)?,
            ring_moves: signed(set.ring)?,
            carrier_moves: signed(carrier)?,
        });
        shown_all = [near, far]
            .iter()
            .all(|part| [set.sun, set.ring, carrier].contains(part));
    }
    if !shown_all {
        on_carriers(motions, set, (near, far), &signed, steps)?;
    }
    let way = walk.way(far, to).unwrap_or_default();
    working::along(motions, shown, (far, &way, to), steps)
}

/// The meshes as seen from the carrier: with a sun and a ring only the planet's own,
/// else all.
fn on_carriers(
    motions: &motion::Motions<'_>,
    set: Option<planetary::Set>,
    (near, far): (mechanism::PartId, mechanism::PartId),
    signed: &dyn Fn(mechanism::PartId) -> Result<number::Value, fault::Fault>,
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let walk = &motions.walk;
    for (joint, coupling) in walk.mechanism.joints.iter().zip(&walk.couplings) {
        let Some(carrier) = coupling
            .carrier
            .and_then(|body| carrier_part(walk.mechanism, body))
        else {
            continue;
        };
        let wanted = match set {
            Some(set) => {
                let planet = if [set.sun, set.ring, carrier].contains(&far) {
                    near
                } else {
                    far
                };
                joint.joins(set.sun, planet)
            }
            None => motions.component(joint.first) == motions.component(near),
        };
        if !wanted {
            continue;
        }
        let (from, to) = if joint.first == far || joint.second == near {
            (joint.second, joint.first)
        } else {
            (joint.first, joint.second)
        };
        steps.push(step::Step::OnCarrier {
            carrier,
            from,
            to,
            from_size: working::part_size(walk.mechanism, from),
            to_size: working::part_size(walk.mechanism, to),
            carrier_moves: signed(carrier)?,
            from_moves: signed(from)?,
            to_moves: signed(to)?,
        });
    }
    Ok(())
}

/// The part that is the carrier on this body.
fn carrier_part(
    mechanism: &mechanism::Mechanism,
    body: mechanism::BodyId,
) -> Option<mechanism::PartId> {
    let on_body = || mechanism.numbered().filter(|(_, part)| part.body == body);
    on_body()
        .find(|(_, part)| matches!(part.kind, mechanism::Kind::Carrier))
        .or_else(|| on_body().next())
        .map(|(id, _)| id)
}
