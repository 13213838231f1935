//! Sizes: tooth size, diameters, centre distance, and what does not go together.

use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::step;
use crate::number;

/// Which diameter of a gear.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Circle {
    /// Where the teeth touch.
    Pitch,
    /// Over the tips of the teeth.
    Tip,
    /// At the roots of the teeth.
    Root,
}

/// Returns a part's tooth size in millimetres, as far as it is given: of the part
/// itself, of one whose teeth it runs in, or by a centre distance.
pub(super) fn tooth_size(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> Option<number::Number> {
    if let Some(size) = mechanism.part(part).tooth_size_mm {
        return Some(size);
    }
    let reach = meshing(mechanism, part);
    reach
        .iter()
        .find_map(|&it| mechanism.part(it).tooth_size_mm)
        .or_else(|| {
            let apart = apart(mechanism).find(|apart| reach.contains(&apart.first))?;
            by_distance(mechanism, apart)
        })
}

/// Every part whose teeth run in this one's, through others or at once; itself first.
pub(super) fn meshing(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> Vec<mechanism::PartId> {
    let mut reach = vec![part];
    let mut done = 0;
    while let Some(&here) = reach.get(done) {
        done += 1;
        for joint in &mechanism.joints {
            if let (mechanism::Link::Mesh, Some(partner)) = (joint.link, joint.partner(here))
                && !reach.contains(&partner)
            {
                reach.push(partner);
            }
        }
    }
    reach
}

/// A centre distance that is given.
#[derive(Debug, Clone, Copy)]
pub(super) struct Apart {
    /// One gear.
    pub(super) first: mechanism::PartId,
    /// The other.
    pub(super) second: mechanism::PartId,
    /// The distance.
    pub(super) mm: number::Number,
}

/// Returns every centre distance that is given.
pub(super) fn apart(mechanism: &mechanism::Mechanism) -> impl Iterator<Item = Apart> + use<'_> {
    mechanism.givens.iter().filter_map(|given| match given {
        mechanism::Given::Apart { first, second, mm } => Some(Apart {
            first: *first,
            second: *second,
            mm: *mm,
        }),
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::TakenOut { .. } => None,
    })
}

/// Two counts of teeth, as they go into a centre distance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pair {
    /// Two outside gears: their sum counts.
    Outside(mechanism::Count, mechanism::Count),
    /// The first runs inside the second: the difference counts.
    FirstInside(mechanism::Count, mechanism::Count),
    /// The second runs inside the first.
    SecondInside(mechanism::Count, mechanism::Count),
}

/// Returns the counts of two meshing spur or ring gears; `None` for others.
pub(super) fn pair(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
) -> Option<Pair> {
    mechanism
        .joints
        .iter()
        .any(|joint| joint.joins(first, second) && joint.link == mechanism::Link::Mesh)
        .then_some(())?;
    let kinds = (&mechanism.part(first).kind, &mechanism.part(second).kind);
    if let (mechanism::Kind::Gear { teeth: one }, mechanism::Kind::Gear { teeth: other }) = kinds {
        Some(Pair::Outside(*one, *other))
    } else if let (mechanism::Kind::Gear { teeth: one }, mechanism::Kind::Ring { teeth: other }) =
        kinds
    {
        Some(Pair::FirstInside(*one, *other))
    } else if let (mechanism::Kind::Ring { teeth: one }, mechanism::Kind::Gear { teeth: other }) =
        kinds
    {
        Some(Pair::SecondInside(*one, *other))
    } else {
        None
    }
}

impl Pair {
    /// The teeth that count: the sum, or ring less gear; `None` while one is unknown.
    fn sum(self) -> Option<number::Number> {
        let (larger, smaller, inside) = match self {
            Self::Outside(one, other) => (one, other, false),
            Self::FirstInside(gear, ring) | Self::SecondInside(ring, gear) => (ring, gear, true),
        };
        let (mechanism::Count::Known(larger), mechanism::Count::Known(smaller)) = (larger, smaller)
        else {
            return None;
        };
        let smaller = number::Number::from(smaller);
        number::Number::from(larger)
            .plus(if inside { smaller.negated() } else { smaller })
            .ok()
            .filter(|sum| sum.is_positive())
    }
}

/// The tooth size that a centre distance asks for.
///
/// Source: a = m (z1 + z2) / 2 (Wikipedia, Gear, copy of 9 August 2019); inside,
/// a = m (z2 - z1) / 2 (from memory).
fn by_distance(mechanism: &mechanism::Mechanism, apart: Apart) -> Option<number::Number> {
    let sum = pair(mechanism, apart.first, apart.second)?.sum()?;
    apart
        .mm
        .times(number::Number::whole(2))
        .and_then(|twice| twice.divided_by(sum))
        .ok()
}

/// Returns what is wrong with the sizes that are given.
pub(super) fn misfits(mechanism: &mechanism::Mechanism) -> Vec<fault::Fault> {
    let mut faults = Vec::new();
    for given in apart(mechanism) {
        let (first, second) = (given.first, given.second);
        if !given.mm.is_positive() {
            faults.push(fault::Fault::NotPositive {
                what: "the centre distance",
            });
            continue;
        }
        let joined = mechanism
            .joints
            .iter()
            .any(|joint| joint.joins(first, second));
        if !joined {
            faults.push(fault::Fault::CannotAsk {
                part: second,
                what: "a centre distance",
            });
            continue;
        }
        if let (Some(wanted), Some(size)) =
            (by_distance(mechanism, given), tooth_size(mechanism, first))
            && wanted != size
        {
            faults.push(fault::Fault::TeethDoNotFit { first, second });
        }
    }
    faults
}

/// Returns the tooth size with the working, if it takes any.
///
/// # Errors
///
/// [`fault::Fault::NotEnoughGiven`] when it does not follow,
/// [`fault::Fault::CannotAsk`] for a part without such teeth.
pub(super) fn find_tooth_size(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<number::Value, fault::Fault> {
    match mechanism.part(part).kind {
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. } => {}
        mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => {
            return Err(fault::Fault::CannotAsk {
                part,
                what: "the tooth size",
            });
        }
    }
    let reach = meshing(mechanism, part);
    if let Some(size) = reach
        .iter()
        .find_map(|&it| mechanism.part(it).tooth_size_mm)
    {
        return Ok(size.into());
    }
    let by_centres = apart(mechanism)
        .filter(|apart| reach.contains(&apart.first))
        .find_map(|apart| Some((apart, by_distance(mechanism, apart)?)));
    if let Some((apart, size)) = by_centres {
        let sum = pair(mechanism, apart.first, apart.second)
            .and_then(Pair::sum)
            .expect("the size was found from it");
        steps.push(step::Step::Distance {
            first: apart.first,
            second: apart.second,
            tooth_size_mm: size,
            teeth_sum: sum,
            mm: apart.mm,
        });
        return Ok(size.into());
    }
    by_travel(mechanism, &reach, steps)?.ok_or(fault::Fault::NotEnoughGiven {
        what: "the tooth size",
    })
}

/// The tooth size from a rack's distance and the turns of what drives it.
///
/// Source: rack travel = pi m z a turn, from pitch diameter = m z (Wikipedia, Gear,
/// copy of 9 August 2019).
fn by_travel(
    mechanism: &mechanism::Mechanism,
    reach: &[mechanism::PartId],
    steps: &mut Vec<step::Step>,
) -> Result<Option<number::Value>, fault::Fault> {
    let moved = |wanted: mechanism::PartId| {
        mechanism.givens.iter().find_map(|given| match given {
            mechanism::Given::Motion {
                part,
                amount: Some(mechanism::Amount::Millimetres(distance)),
                ..
            } => (*part == wanted).then_some(*distance),
            mechanism::Given::Motion { .. }
            | mechanism::Given::Held(_)
            | mechanism::Given::Minutes(_)
            | mechanism::Given::Force { .. }
            | mechanism::Given::TurningForce { .. }
            | mechanism::Given::Efficiency(_)
            | mechanism::Given::Apart { .. }
            | mechanism::Given::TakenOut { .. } => None,
        })
    };
    for joint in &mechanism.joints {
        for (pinion, rack) in [(joint.first, joint.second), (joint.second, joint.first)] {
            let mechanism::Kind::Gear {
                teeth: mechanism::Count::Known(teeth),
            } = mechanism.part(pinion).kind
            else {
                continue;
            };
            let (true, true, Some(distance)) = (
                joint.link == mechanism::Link::Mesh,
                reach.contains(&rack),
                moved(rack),
            ) else {
                continue;
            };
            // The pinion's turns follow without the rack.
            let mut rest = mechanism.clone();
            rest.givens.retain(|given| {
                !matches!(given, mechanism::Given::Motion { part, amount: Some(_), .. } if *part == rack)
            });
            let motions = motion::settle(&rest, &mut Vec::new())?;
            let Ok(turns) = motions.amount(pinion, motion::Per::Run) else {
                continue;
            };
            if turns.factor.is_zero() {
                continue;
            }
            let diameter = distance.divided_by(number::Value::PI)?.divided_by(turns)?;
            let size = diameter.divided_by(number::Number::from(teeth).into())?;
            if let (Some(diameter_mm), Some(tooth_size_mm)) =
                (diameter.as_number(), size.as_number())
            {
                steps.push(step::Step::Travel {
                    part: pinion,
                    turns,
                    diameter_mm,
                    distance_mm: distance,
                });
                steps.push(step::Step::Diameter {
                    part: pinion,
                    tooth_size_mm,
                    teeth,
                    extra_tooth_sizes: number::Number::ZERO,
                    mm: diameter_mm,
                });
            }
            return Ok(Some(size));
        }
    }
    Ok(None)
}

/// Returns a tooth size that must be a plain number, with its working.
fn plain_tooth_size(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    find_tooth_size(mechanism, part, steps)?
        .as_number()
        .ok_or(fault::Fault::NotEnoughGiven {
            what: "the tooth size",
        })
}

/// Returns a diameter of a gear in millimetres, with the working.
///
/// Source: pitch m z (Wikipedia, Gear, copy of 9 August 2019); tip d + 2 m, root
/// d - 2.5 m (an open notebook on spur gears; ISO 53 profile A: addendum 1 m,
/// dedendum 1.25 m, from memory); a ring's teeth point inwards, so the signs turn
/// (from memory).
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] for a part without such a diameter,
/// [`fault::Fault::NotEnoughGiven`] when tooth size or teeth do not follow.
pub(super) fn diameter(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    circle: Circle,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    let kind = &mechanism.part(part).kind;
    let what = match circle {
        Circle::Pitch => "the pitch diameter",
        Circle::Tip => "the tip diameter",
        Circle::Root => "the root diameter",
    };
    let inside = match kind {
        mechanism::Kind::Gear { .. } => false,
        mechanism::Kind::Ring { .. } => true,
        // The tips of a bevel gear lie on a cone.
        mechanism::Kind::Bevel { .. } if circle == Circle::Pitch => false,
        mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => return Err(fault::Fault::CannotAsk { part, what }),
    };
    let Some(mechanism::Count::Known(teeth)) = coupling::count(kind) else {
        return Err(fault::Fault::NotEnoughGiven {
            what: "the missing count",
        });
    };
    let size = plain_tooth_size(mechanism, part, steps)?;
    let extra = match circle {
        Circle::Pitch => number::Number::ZERO,
        Circle::Tip => number::Number::whole(2),
        Circle::Root => number::Number::ratio(-5, 2)?,
    };
    let extra = if inside { extra.negated() } else { extra };
    let mm = number::Number::from(teeth).plus(extra)?.times(size)?;
    steps.push(step::Step::Diameter {
        part,
        tooth_size_mm: size,
        teeth,
        extra_tooth_sizes: extra,
        mm,
    });
    Ok(mm)
}

/// Returns how far apart two axles are in millimetres, with the working.
///
/// Source: a = m (z1 + z2) / 2 (Wikipedia, Gear, copy of 9 August 2019); inside,
/// a = m (z2 - z1) / 2 (from memory).
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] for parts that do not mesh side by side,
/// [`fault::Fault::NotEnoughGiven`] when tooth size or teeth do not follow.
pub(super) fn centre_distance(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    let given = apart(mechanism).find(|apart| {
        (apart.first, apart.second) == (first, second)
            || (apart.second, apart.first) == (first, second)
    });
    if let Some(given) = given {
        return Ok(given.mm);
    }
    let pair = pair(mechanism, first, second).ok_or(fault::Fault::CannotAsk {
        part: second,
        what: "a centre distance",
    })?;
    let sum = pair.sum().ok_or(fault::Fault::NotEnoughGiven {
        what: "the missing count",
    })?;
    let size = plain_tooth_size(mechanism, first, steps)?;
    let mm = sum.times(size)?.divided_by(number::Number::whole(2))?;
    steps.push(step::Step::Distance {
        first,
        second,
        tooth_size_mm: size,
        teeth_sum: sum,
        mm,
    });
    Ok(mm)
}
