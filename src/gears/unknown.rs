//! The missing count: found from two motions, a closed loop, a centre distance, or
//! the other gears of a planetary set.

use crate::gears::choose;
use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::planetary;
use crate::gears::size;
use crate::gears::solve;
use crate::gears::step;
use crate::gears::walk;
use crate::gears::working;
use crate::number;

/// The mechanism with its missing count filled in.
#[derive(Debug)]
pub(super) struct Completed {
    /// The mechanism, complete.
    pub(super) mechanism: mechanism::Mechanism,
    /// How it was found.
    pub(super) steps: Vec<step::Step>,
}

/// Returns the parts whose count is missing.
pub(super) fn missing(mechanism: &mechanism::Mechanism) -> Vec<mechanism::PartId> {
    mechanism
        .numbered()
        .filter(|(_, part)| coupling::count(&part.kind) == Some(mechanism::Count::Unknown))
        .map(|(id, _)| id)
        .collect()
}

/// Returns the mechanism with the one missing count found; `None` when nothing that
/// is given leads to it.
///
/// # Errors
///
/// Every fault of the mechanism; [`fault::Fault::NotWhole`] when the count would not
/// be a whole number that can be made.
pub(super) fn complete(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> Result<Option<Completed>, Vec<fault::Fault>> {
    let mut steps = Vec::new();
    let found = if let Some(found) =
        by_distance(mechanism, part, &mut steps).map_err(|fault| vec![fault])?
    {
        Some(found.into())
    } else if let Some(found) = by_planets(mechanism, part).map_err(|fault| vec![fault])? {
        Some(found.into())
    } else if mechanism.parts.iter().any(|it| it.rides_on.is_some()) {
        return Ok(by_trial(mechanism, part));
    } else {
        by_motions(mechanism, part)?
    };
    let Some(found) = found else {
        return Ok(None);
    };
    let count = whole(mechanism, part, found).map_err(|fault| vec![fault])?;
    let mut filled = mechanism.clone();
    choose::set_count(&mut filled, part, count);
    if steps.is_empty() {
        steps = working_of_motions(&filled, part, count).map_err(|fault| vec![fault])?;
    }
    Ok(Some(Completed {
        mechanism: filled,
        steps,
    }))
}

/// The count as a whole number above nought.
fn whole(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    found: number::Value,
) -> Result<u32, fault::Fault> {
    let what = if matches!(mechanism.part(part).kind, mechanism::Kind::Worm { .. }) {
        "starts"
    } else {
        "teeth"
    };
    found
        .as_number()
        .and_then(number::Number::as_whole)
        .and_then(|whole| u32::try_from(whole).ok())
        .filter(|&count| count > 0)
        .ok_or(fault::Fault::NotWhole { what, value: found })
}

/// The count from a centre distance and the tooth size.
///
/// Source: a = m (z1 + z2) / 2 (Wikipedia, Gear, copy of 9 August 2019); inside,
/// a = m (z2 - z1) / 2 (from memory).
fn by_distance(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<Option<number::Number>, fault::Fault> {
    for apart in size::apart(mechanism) {
        let partner = if apart.first == part {
            apart.second
        } else if apart.second == part {
            apart.first
        } else {
            continue;
        };
        let Some(size) = size::tooth_size(mechanism, part).filter(|size| size.is_positive()) else {
            continue;
        };
        let (Some(pair), Some(mechanism::Count::Known(partner_count))) = (
            size::pair(mechanism, partner, part),
            coupling::count(&mechanism.part(partner).kind),
        ) else {
            continue;
        };
        let sum = apart.mm.times(number::Number::whole(2))?.divided_by(size)?;
        let known = number::Number::from(partner_count);
        let found = match pair {
            size::Pair::Outside(_, _) => sum.minus(known)?,
            size::Pair::FirstInside(_, _) => sum.plus(known)?,
            size::Pair::SecondInside(_, _) => known.minus(sum)?,
        };
        steps.push(step::Step::Distance {
            first: apart.first,
            second: apart.second,
            tooth_size_mm: size,
            teeth_sum: sum,
            mm: apart.mm,
        });
        steps.push(step::Step::CountFromSum {
            part,
            partner,
            partner_count,
            sum,
            found,
        });
        return Ok(Some(found));
    }
    Ok(None)
}

/// The count from the other two gears of a planetary set: ring = sun + 2 planets.
///
/// Source: `z_planet` = (`z_ring` - `z_sun`) / 2 (Modelica Standard Library,
/// `IdealPlanetary`; an open planetary notebook, chapter 4).
fn by_planets(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> Result<Option<number::Number>, fault::Fault> {
    let (couplings, _) = coupling::couplings(mechanism);
    for set in planetary::sets(mechanism, &couplings) {
        let count = |part| match coupling::count(&mechanism.part(part).kind) {
            Some(mechanism::Count::Known(count)) => Some(number::Number::from(count)),
            Some(mechanism::Count::Unknown) | None => None,
        };
        let twice = number::Number::whole(2);
        let found = match (count(set.sun), count(set.planet), count(set.ring)) {
            (None, Some(planet), Some(ring)) if part == set.sun => {
                ring.minus(planet.times(twice)?)?
            }
            (Some(sun), None, Some(ring)) if part == set.planet => {
                ring.minus(sun)?.divided_by(twice)?
            }
            (Some(sun), Some(planet), None) if part == set.ring => {
                sun.plus(planet.times(twice)?)?
            }
            (_, _, _) => continue,
        };
        return Ok(Some(found));
    }
    Ok(None)
}

/// The most teeth that are tried in a planetary set.
const MOST_TEETH_TRIED: u32 = 400;

/// The only count with which the motions of a planetary set go together.
fn by_trial(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Option<Completed> {
    let mut filled = mechanism.clone();
    let mut fits = (1..=MOST_TEETH_TRIED).filter(|&count| {
        choose::set_count(&mut filled, part, count);
        solve::faults(&filled).is_empty()
    });
    let (found, other) = (fits.next()?, fits.next());
    drop(fits);
    choose::set_count(&mut filled, part, found);
    other.is_none().then_some(Completed {
        mechanism: filled,
        steps: Vec::new(),
    })
}

/// The count from what two motions, or a closed loop, say of it.
///
/// Source: teeth × turns is the same on both sides of a mesh (Engineering `ToolBox`,
/// gear trains), so each condition is a factor times a power of the count.
fn by_motions(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> Result<Option<number::Value>, Vec<fault::Fault>> {
    let mut faults = Vec::new();
    let motions = match motion::settle(mechanism, &mut faults) {
        Ok(motions) => motions,
        Err(fault) => {
            faults.push(fault);
            return Err(faults);
        }
    };
    if !faults.is_empty() {
        return Err(faults);
    }
    let Some(condition) = motions
        .walk
        .conditions
        .iter()
        .find(|condition| condition.power.abs() == 1)
    else {
        return Ok(None);
    };
    let found = if condition.power == 1 {
        number::Value::ONE.divided_by(condition.factor)
    } else {
        Ok(condition.factor)
    };
    match found {
        Ok(found) => {
            // The count must be one that can be made before it is put in.
            whole(mechanism, part, found).map_err(|fault| vec![fault])?;
            Ok(Some(found))
        }
        Err(error) => Err(vec![error.into()]),
    }
}

/// The steps of a count found from motions, worked on the filled mechanism: from each
/// given motion to the part's side and to its partner's side, then the relation.
fn working_of_motions(
    filled: &mechanism::Mechanism,
    part: mechanism::PartId,
    found: u32,
) -> Result<Vec<step::Step>, fault::Fault> {
    let motions = motion::settle(filled, &mut Vec::new())?;
    let moved: Vec<(mechanism::PartId, mechanism::Amount)> = filled
        .givens
        .iter()
        .filter_map(|given| match given {
            mechanism::Given::Motion {
                part,
                amount: Some(amount),
                ..
            } => Some((*part, *amount)),
            mechanism::Given::Motion { amount: None, .. }
            | mechanism::Given::Held(_)
            | mechanism::Given::Minutes(_)
            | mechanism::Given::Force { .. }
            | mechanism::Given::TurningForce { .. }
            | mechanism::Given::Efficiency(_)
            | mechanism::Given::Apart { .. }
            | mechanism::Given::TakenOut { .. } => None,
        })
        .collect();
    let mut steps = Vec::new();
    for (index, &(one, one_given)) in moved.iter().enumerate() {
        for &(other, other_given) in moved.iter().skip(index + 1) {
            let Some(way) = motions.walk.way(one, other) else {
                continue;
            };
            let Some(place) = way
                .iter()
                .position(|hop| hop.from == part || hop.to == part)
            else {
                continue;
            };
            let hop = way[place];
            let per = match (one_given, other_given) {
                (mechanism::Amount::Rpm(_), mechanism::Amount::Rpm(_)) => motion::Per::Minute,
                (
                    mechanism::Amount::Turns(_)
                    | mechanism::Amount::Rpm(_)
                    | mechanism::Amount::Millimetres(_),
                    mechanism::Amount::Turns(_)
                    | mechanism::Amount::Rpm(_)
                    | mechanism::Amount::Millimetres(_),
                ) => motion::Per::Run,
            };
            working::from_given(&motions, (one, one_given), (hop.from, per), &mut steps)?;
            working::from_given(&motions, (other, other_given), (hop.to, per), &mut steps)?;
            relation(&motions, (part, found), hop, per, &mut steps)?;
            return Ok(steps);
        }
    }
    // No two motions: a closed loop asks for the count.
    for closing in &motions.walk.closings {
        let parts = motions.walk.loop_parts(closing.joint);
        if parts.contains(&part) {
            steps.push(step::Step::Loop {
                parts,
                turns: closing.turns,
            });
        }
    }
    Ok(steps)
}

fn relation(
    motions: &motion::Motions<'_>,
    (part, found): (mechanism::PartId, u32),
    hop: walk::Hop,
    per: motion::Per,
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let filled = motions.walk.mechanism;
    let partner = if hop.from == part { hop.to } else { hop.from };
    if let Some(mechanism::Count::Known(partner_count)) =
        coupling::count(&filled.part(partner).kind)
    {
        steps.push(step::Step::MissingCount {
            part,
            partner,
            partner_count,
            partner_moves: motions.amount(partner, per)?,
            part_moves: motions.amount(part, per)?,
            found: number::Number::from(found).into(),
        });
        return Ok(());
    }
    // The partner is a rack: its distance gives the pitch diameter, that the teeth.
    let diameter = size::diameter(filled, part, size::Circle::Pitch, &mut Vec::new())?;
    let turns = motions.amount(part, per)?;
    steps.push(step::Step::Travel {
        part,
        turns,
        diameter_mm: diameter,
        distance_mm: turns.times(diameter.into())?.times(number::Value::PI)?,
    });
    size::diameter(filled, part, size::Circle::Pitch, steps)?;
    Ok(())
}
