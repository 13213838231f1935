//! The way from one part of a mechanism to another: which joints are walked,
//! in which order, and how they group into stages.
//!
//! The wrong solvers only need to know what stands on the way; whether the
//! mechanism is sound is the right solver's work.

use crate::gears::mechanism;
use crate::number;
use std::collections::BTreeMap;
use std::collections::VecDeque;

/// One joint, walked from the side that is known to the side that is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Leg {
    /// The part on the known side.
    pub(super) from: mechanism::PartId,
    /// The part on the asked side.
    pub(super) to: mechanism::PartId,
    /// How they touch.
    pub(super) link: mechanism::Link,
    /// Whether the walk goes against the drive.
    pub(super) backwards: bool,
}

/// Whether stages that are taken out count as taken out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum TakenOut {
    /// As they should.
    Respected,
    /// As if every stage were still in.
    Forgotten,
}

/// The part, if there is one of this id.
pub(super) fn part(
    mechanism: &mechanism::Mechanism,
    id: mechanism::PartId,
) -> Option<&mechanism::Part> {
    mechanism.parts.get(usize::from(id.0))
}

/// Teeth, starts, or a pulley's diameter: what divides and multiplies turns.
pub(super) fn size(
    mechanism: &mechanism::Mechanism,
    id: mechanism::PartId,
) -> Option<number::Number> {
    match &part(mechanism, id)?.kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => known(*teeth),
        mechanism::Kind::Worm { starts } => known(*starts),
        mechanism::Kind::Pulley { diameter_mm } => Some(*diameter_mm),
        mechanism::Kind::Rack { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => None,
    }
}

fn known(count: mechanism::Count) -> Option<number::Number> {
    match count {
        mechanism::Count::Known(count) => Some(count.into()),
        mechanism::Count::Unknown => None,
    }
}

/// The mechanism with a count of teeth or starts put in.
pub(super) fn with_count(
    mechanism: &mechanism::Mechanism,
    id: mechanism::PartId,
    count: u32,
) -> mechanism::Mechanism {
    let mut filled = mechanism.clone();
    if let Some(part) = filled.parts.get_mut(usize::from(id.0))
        && let mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth }
        | mechanism::Kind::Worm { starts: teeth } = &mut part.kind
    {
        *teeth = mechanism::Count::Known(count);
    }
    filled
}

/// Whether a part is a wheel that drives another at its rim.
pub(super) fn is_wheel(mechanism: &mechanism::Mechanism, id: mechanism::PartId) -> bool {
    part(mechanism, id).is_some_and(|it| {
        matches!(
            it.kind,
            mechanism::Kind::Gear { .. }
                | mechanism::Kind::Ring { .. }
                | mechanism::Kind::Bevel { .. }
                | mechanism::Kind::Sprocket { .. }
                | mechanism::Kind::Pulley { .. }
        )
    })
}

/// Whether a part is a worm.
pub(super) fn is_worm(mechanism: &mechanism::Mechanism, id: mechanism::PartId) -> bool {
    part(mechanism, id).is_some_and(|it| matches!(it.kind, mechanism::Kind::Worm { .. }))
}

/// Whether a part is a rack.
pub(super) fn is_rack(mechanism: &mechanism::Mechanism, id: mechanism::PartId) -> bool {
    part(mechanism, id).is_some_and(|it| matches!(it.kind, mechanism::Kind::Rack { .. }))
}

/// Whether a part is a ring gear.
pub(super) fn is_ring(mechanism: &mechanism::Mechanism, id: mechanism::PartId) -> bool {
    part(mechanism, id).is_some_and(|it| matches!(it.kind, mechanism::Kind::Ring { .. }))
}

/// Whether gears ride on a carrier somewhere, so that turns cannot be followed
/// from mesh to mesh.
pub(super) fn has_planets(mechanism: &mechanism::Mechanism) -> bool {
    mechanism.parts.iter().any(|part| part.rides_on.is_some())
}

/// Whether two parts turn as one.
pub(super) fn on_one_axle(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
) -> bool {
    match (part(mechanism, first), part(mechanism, second)) {
        (Some(first), Some(second)) => first.body == second.body,
        (None, _) | (_, None) => false,
    }
}

/// Returns the shortest way from one part to another; `None` when there is none
/// or when planets stand in the mechanism.
pub(super) fn walk(
    mechanism: &mechanism::Mechanism,
    from: mechanism::PartId,
    to: mechanism::PartId,
    taken_out: TakenOut,
) -> Option<Vec<Leg>> {
    if has_planets(mechanism) {
        return None;
    }
    let axles = Axles::of(mechanism, taken_out);
    let (start, end) = (axles.axle(mechanism, from)?, axles.axle(mechanism, to)?);
    let mut reached_by: BTreeMap<mechanism::BodyId, Option<(mechanism::BodyId, Leg)>> =
        BTreeMap::from([(start, None)]);
    let mut waiting = VecDeque::from([start]);
    while let Some(here) = waiting.pop_front() {
        for joint in &mechanism.joints {
            for (near, far, backwards) in [
                (joint.first, joint.second, false),
                (joint.second, joint.first, true),
            ] {
                let (near_axle, far_axle) =
                    (axles.axle(mechanism, near)?, axles.axle(mechanism, far)?);
                if near_axle == here && !reached_by.contains_key(&far_axle) {
                    let leg = Leg {
                        from: near,
                        to: far,
                        link: joint.link,
                        backwards,
                    };
                    reached_by.insert(far_axle, Some((here, leg)));
                    waiting.push_back(far_axle);
                }
            }
        }
    }
    let mut legs = Vec::new();
    let mut here = end;
    while let Some((before, leg)) = reached_by.get(&here)?.as_ref() {
        legs.push(*leg);
        here = *before;
    }
    legs.reverse();
    Some(legs)
}

/// Which bodies are one axle once stages are taken out.
struct Axles(BTreeMap<mechanism::BodyId, mechanism::BodyId>);

impl Axles {
    fn of(mechanism: &mechanism::Mechanism, taken_out: TakenOut) -> Self {
        let mut axles: BTreeMap<_, _> = mechanism
            .parts
            .iter()
            .map(|part| (part.body, part.body))
            .collect();
        if taken_out == TakenOut::Respected {
            for given in &mechanism.givens {
                let mechanism::Given::TakenOut { first, second } = given else {
                    continue;
                };
                let (Some(first), Some(second)) =
                    (part(mechanism, *first), part(mechanism, *second))
                else {
                    continue;
                };
                let (Some(&kept), Some(&gone)) = (axles.get(&first.body), axles.get(&second.body))
                else {
                    continue;
                };
                for axle in axles.values_mut().filter(|axle| **axle == gone) {
                    *axle = kept;
                }
            }
        }
        Self(axles)
    }

    fn axle(
        &self,
        mechanism: &mechanism::Mechanism,
        id: mechanism::PartId,
    ) -> Option<mechanism::BodyId> {
        self.0.get(&part(mechanism, id)?.body).copied()
    }
}

/// Legs in a row in which every middle gear is an idler: the next leg starts at
/// the very gear at which the last one ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Stage(pub(super) Vec<Leg>);

/// Returns the stages of a way.
pub(super) fn stages(legs: &[Leg]) -> Vec<Stage> {
    let mut stages: Vec<Stage> = Vec::new();
    for leg in legs {
        match stages.last_mut() {
            Some(Stage(row)) if row.last().is_some_and(|last| last.to == leg.from) => {
                row.push(*leg);
            }
            Some(_) | None => stages.push(Stage(vec![*leg])),
        }
    }
    stages
}

/// How many axles along the way carry two wheels of which the way takes one to the
/// other; also at its ends.
pub(super) fn shared_axles(
    mechanism: &mechanism::Mechanism,
    legs: &[Leg],
    (from, to): (mechanism::PartId, mechanism::PartId),
) -> usize {
    let (first, last) = match (legs.first(), legs.last()) {
        (Some(first), Some(last)) => (first.from, last.to),
        (None, _) | (_, None) => (to, to),
    };
    let between = stages(legs).len().saturating_sub(1);
    let at_ends = [(from, first), (last, to)]
        .into_iter()
        .filter(|(one, other)| {
            one != other && is_wheel(mechanism, *one) && is_wheel(mechanism, *other)
        })
        .count();
    between + at_ends
}

/// Returns turns at the end for one turn at the start of some legs.
pub(super) fn gain(mechanism: &mechanism::Mechanism, legs: &[Leg]) -> Option<number::Value> {
    legs.iter().try_fold(number::Value::ONE, |gain, leg| {
        let from = size(mechanism, leg.from)?;
        let to = size(mechanism, leg.to)?;
        gain.times(from.divided_by(to).ok()?.into()).ok()
    })
}

/// One divided by a value.
pub(super) fn upside_down(value: number::Value) -> Option<number::Value> {
    number::Value::ONE.divided_by(value).ok()
}
