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

/// What stands on the way of a train, ready for the wrong solvers: each gives
/// turns at the end for one turn at the start.
pub(super) struct Train<'m> {
    mechanism: &'m mechanism::Mechanism,
    legs: &'m [Leg],
    stages: Vec<Stage>,
}

impl<'m> Train<'m> {
    /// Takes the legs of one way.
    pub(super) fn new(mechanism: &'m mechanism::Mechanism, legs: &'m [Leg]) -> Self {
        Self {
            mechanism,
            legs,
            stages: stages(legs),
        }
    }

    /// Whether nothing stands on the way.
    pub(super) fn is_empty(&self) -> bool {
        self.legs.is_empty()
    }

    /// Whether it is one mesh, chain or belt.
    pub(super) fn is_pair(&self) -> bool {
        self.legs.len() == 1
    }

    /// Whether it has shared axles on the way.
    pub(super) fn is_compound(&self) -> bool {
        self.stages.len() > 1
    }

    /// Whether it is one row of gears with idlers between.
    pub(super) fn has_idlers_only(&self) -> bool {
        self.stages.len() == 1 && self.legs.len() > 1
    }

    /// Whether a worm stands on the way.
    pub(super) fn has_worm(&self) -> bool {
        self.legs
            .iter()
            .any(|leg| is_worm(self.mechanism, leg.from) || is_worm(self.mechanism, leg.to))
    }

    /// The first and last part of the way with their sizes.
    pub(super) fn ends(&self) -> Option<(number::Number, number::Number)> {
        let first = size(self.mechanism, self.legs.first()?.from)?;
        let last = size(self.mechanism, self.legs.last()?.to)?;
        Some((first, last))
    }

    /// The right gain.
    pub(super) fn right(&self) -> Option<number::Value> {
        gain(self.mechanism, self.legs)
    }

    /// Every stage upside down.
    pub(super) fn upside_down(&self) -> Option<number::Value> {
        upside_down(self.right()?)
    }

    /// The first stage alone.
    pub(super) fn first_stage(&self) -> Option<number::Value> {
        gain(self.mechanism, &self.stages.first()?.0)
    }

    /// The last stage alone.
    pub(super) fn last_stage(&self) -> Option<number::Value> {
        gain(self.mechanism, &self.stages.last()?.0)
    }

    /// The second stage upside down, the others right.
    pub(super) fn second_stage_upside_down(&self) -> Option<number::Value> {
        let second = gain(self.mechanism, &self.stages.get(1)?.0)?;
        self.right()?.divided_by(second.times(second).ok()?).ok()
    }

    /// First gear over last gear, as if nothing but idlers stood between.
    pub(super) fn as_simple_train(&self) -> Option<number::Value> {
        let (first, last) = self.ends()?;
        Some(first.divided_by(last).ok()?.into())
    }

    /// The first mesh alone, where an idler follows.
    pub(super) fn first_leg(&self) -> Option<number::Value> {
        gain(self.mechanism, self.legs.get(..1)?)
    }

    /// The last mesh alone.
    pub(super) fn last_leg(&self) -> Option<number::Value> {
        gain(self.mechanism, self.legs.last().map(std::slice::from_ref)?)
    }

    /// The first gear over each later gear, multiplied.
    pub(super) fn fresh_ratio_each(&self) -> Option<number::Value> {
        let first = size(self.mechanism, self.legs.first()?.from)?;
        self.legs.iter().try_fold(number::Value::ONE, |gain, leg| {
            let to = size(self.mechanism, leg.to)?;
            gain.times(first.divided_by(to).ok()?.into()).ok()
        })
    }

    /// The ratios of the meshes added instead of multiplied.
    pub(super) fn sum_of_meshes(&self) -> Option<number::Value> {
        let pieces: Vec<&[Leg]> = self.legs.iter().map(std::slice::from_ref).collect();
        self.sum(&pieces)
    }

    /// The ratios of the stages added instead of multiplied: always as drive
    /// turns for one turn out, and where every stage steps up also the other
    /// way round, as a pupil who says "times 4 and times 3" would.
    pub(super) fn sums_of_stages(&self) -> Vec<number::Value> {
        let pieces: Vec<&[Leg]> = self.stages.iter().map(|stage| stage.0.as_slice()).collect();
        let mut sums: Vec<number::Value> = self.sum(&pieces).into_iter().collect();
        let gains: Option<Vec<number::Value>> = pieces
            .iter()
            .map(|legs| {
                let gain = gain(self.mechanism, legs)?;
                let drive = self.drive_gain(gain)?;
                (drive.factor > number::Number::ONE).then_some(drive)
            })
            .collect();
        if let Some(gains) = gains {
            let sum = gains
                .into_iter()
                .try_fold(number::Value::ZERO, |sum, gain| sum.plus(gain).ok());
            sums.extend(sum.and_then(|sum| self.drive_gain(sum)));
        }
        sums
    }

    /// A gain seen in the sense of the drive, or back again.
    fn drive_gain(&self, gain: number::Value) -> Option<number::Value> {
        if self.legs.first()?.backwards {
            upside_down(gain)
        } else {
            Some(gain)
        }
    }

    fn sum(&self, pieces: &[&[Leg]]) -> Option<number::Value> {
        let sum = pieces.iter().try_fold(number::Value::ZERO, |sum, legs| {
            let drive = self.drive_gain(gain(self.mechanism, legs)?)?;
            sum.plus(upside_down(drive)?).ok()
        })?;
        self.drive_gain(upside_down(sum)?)
    }

    /// The product of the starts of worms that drive, and of those walked back.
    pub(super) fn starts(&self) -> Option<(number::Value, number::Value)> {
        let product = |side: fn(&Leg) -> mechanism::PartId| {
            self.legs
                .iter()
                .map(side)
                .filter(|id| is_worm(self.mechanism, *id))
                .try_fold(number::Value::ONE, |product, id| {
                    product.times(size(self.mechanism, id)?.into()).ok()
                })
        };
        Some((product(|leg| leg.from)?, product(|leg| leg.to)?))
    }
}
