//! The one solver: walks a mechanism, checks it, solves it.
//!
//! Everything that is asked goes through [`answer`]; [`solve`] gives all motions at
//! once, for a teacher's own mechanism; [`with_answer`] puts an earlier answer in
//! place for a later part.

use crate::gears::ask;
use crate::gears::choose;
use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::follow;
use crate::gears::force;
use crate::gears::measured;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::moving;
use crate::gears::reasons;
use crate::gears::role;
use crate::gears::size;
use crate::gears::step;
use crate::gears::unknown;
use crate::gears::working;
use crate::number;

/// How one body moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Motion {
    /// Turns (or millimetres for a bar) for the run asked about, where they follow.
    pub turns: Option<number::Value>,
    /// Turns a minute (or millimetres a minute for a bar), where they follow.
    pub rpm: Option<number::Value>,
    /// Which way, where it follows.
    pub sense: Option<mechanism::Sense>,
    /// Turning force in newton centimetres (newtons for a bar), where it follows.
    pub force: Option<number::Value>,
}

/// Everything that follows from what is given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// One for each body.
    pub motions: Vec<Motion>,
    /// The working, in the order walked.
    pub steps: Vec<step::Step>,
}

/// A right answer with its working.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worked {
    /// The answer.
    pub fact: ask::Fact,
    /// The working that leads to it, only the steps it needs.
    pub steps: Vec<step::Step>,
}

/// Returns every fault of a mechanism: of its parts, joints, loops and givens.
///
/// # Example
///
/// ```
/// use toothmark::gears::{fault, notation, solve};
///
/// let ring = notation::read(&[
///     "gear A 12 drives gear B 12 drives gear C 12",
///     "C meshes with A",
/// ]).expect("well formed");
/// assert!(matches!(solve::faults(&ring)[..], [fault::Fault::Locked { .. }]));
/// ```
#[must_use]
pub fn faults(mechanism: &mechanism::Mechanism) -> Vec<fault::Fault> {
    let mut faults = standing_faults(mechanism);
    if let Err(fault) = motion::settle(mechanism, &mut faults) {
        faults.push(fault);
    }
    faults
}

/// What is wrong without looking at motion.
fn standing_faults(mechanism: &mechanism::Mechanism) -> Vec<fault::Fault> {
    let mut faults = coupling::part_faults(mechanism);
    if !mechanism.givens.is_empty() {
        faults.extend(size::misfits(mechanism));
        faults.extend(force::misfits(mechanism));
    }
    faults
}

/// Returns the motions, or every fault.
pub(super) fn settled(
    mechanism: &mechanism::Mechanism,
) -> Result<motion::Motions<'_>, Vec<fault::Fault>> {
    let mut faults = standing_faults(mechanism);
    match motion::settle(mechanism, &mut faults) {
        Ok(motions) if faults.is_empty() => Ok(motions),
        Ok(_) => Err(faults),
        Err(fault) => {
            faults.push(fault);
            Err(faults)
        }
    }
}

/// Returns how every body moves, with the working joint by joint.
///
/// What does not follow from what is given is left out of a [`Motion`]; a missing
/// count is found first if it can be.
///
/// # Errors
///
/// Every fault of the mechanism at once.
pub fn solve(mechanism: &mechanism::Mechanism) -> Result<Solution, Vec<fault::Fault>> {
    let missing = unknown::missing(mechanism);
    if let [part] = missing.as_slice()
        && let Some(completed) = unknown::complete(mechanism, *part)?
    {
        let mut steps = completed.steps;
        let solution = solve_complete(&completed.mechanism)?;
        steps.extend(solution.steps);
        return Ok(Solution {
            motions: solution.motions,
            steps,
        });
    }
    solve_complete(mechanism)
}

fn solve_complete(mechanism: &mechanism::Mechanism) -> Result<Solution, Vec<fault::Fault>> {
    let motions = settled(mechanism)?;
    let mut solution = Solution {
        motions: vec![Motion::default(); usize::from(mechanism.body_count)],
        steps: Vec::new(),
    };
    for (id, part) in mechanism.numbered() {
        let motion = &mut solution.motions[part.body.index()];
        if *motion != Motion::default() {
            continue;
        }
        let slides = matches!(part.kind, mechanism::Kind::Rack { .. });
        let sized = !slides || size::tooth_size(mechanism, id).is_some();
        let amount = |per| {
            let moves = motions.amount(id, per).ok().filter(|_| sized)?;
            // Source: a bar counts pi millimetres (see `coupling`).
            if slides {
                moves.times(number::Value::PI).ok()
            } else {
                Some(moves)
            }
        };
        motion.turns = amount(motion::Per::Run);
        motion.rpm = amount(motion::Per::Minute);
        motion.sense = motions.sense(id);
        let wanted = if slides {
            force::Wanted::Newtons
        } else {
            force::Wanted::Turning
        };
        motion.force = force::force(&motions, id, wanted, &mut Vec::new())
            .ok()
            .map(number::Value::from);
    }
    solution.steps = working::whole::steps(&motions).map_err(|fault| vec![fault])?;
    Ok(solution)
}

/// Returns the right answer to a question with its working.
///
/// # Errors
///
/// Every fault of the mechanism at once, or why the question has no answer.
///
/// # Example
///
/// ```
/// use toothmark::gears::{ask, notation, solve};
/// use toothmark::number;
///
/// let pair = notation::read(&["gear A 12 drives gear B 36", "A turns 9"]).expect("well formed");
/// let ask = notation::read_ask("turns of B", &pair).expect("well formed");
/// let worked = solve::answer(&pair, &ask).expect("solvable");
/// assert_eq!(
///     worked.fact,
///     ask::Fact::Quantity { value: number::Number::whole(3).into(), unit: ask::Unit::Turns }
/// );
/// ```
pub fn answer(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
) -> Result<Worked, Vec<fault::Fault>> {
    // Nearly always at the most a step for each joint and one for the axle before it.
    let mut steps = Vec::with_capacity(2 * mechanism.joints.len() + 2);
    let fact = match ask {
        ask::Ask::Name(part) => ask::Fact::Name(role::name(mechanism, *part)),
        ask::Ask::Job(part) => {
            ask::Fact::Job(role::job(mechanism, *part, &mut steps).map_err(|fault| vec![fault])?)
        }
        ask::Ask::Choose { parts, from } => ask::Fact::Choices(
            choose::choices(mechanism, parts, from, &mut steps).map_err(|fault| vec![fault])?,
        ),
        ask::Ask::WillItTurn => ask::Fact::YesNo(will_it_turn(mechanism, &mut steps)?),
        ask::Ask::Teeth(_)
        | ask::Ask::Starts(_)
        | ask::Ask::TeethRatio(_, _)
        | ask::Ask::CentreDistance(_, _)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::MeetAgain(_, _) => measured(mechanism, ask, &mut steps)?,
        ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
        | ask::Ask::Direction(_)
        | ask::Ask::SameWay(_, _)
        | ask::Ask::Faster(_, _)
        | ask::Ask::Stronger(_, _)
        | ask::Ask::TurnsRatio(_, _)
        | ask::Ask::Force(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::Distance(_)
        | ask::Ask::Stages(_) => moved(mechanism, ask, &mut steps)?,
        ask::Ask::Why(explained) => {
            let worked = answer(mechanism, &explained.ask())?;
            steps = worked.steps;
            reasons::of(mechanism, *explained, worked.fact, &steps)
                .map(ask::Fact::Reasons)
                .ok_or_else(|| {
                    vec![fault::Fault::NotEnoughGiven {
                        what: "an idea that explains the answer",
                    }]
                })?
        }
    };
    Ok(Worked { fact, steps })
}

/// Answers what needs counts and sizes only.
fn measured(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, Vec<fault::Fault>> {
    let mut faults = coupling::part_faults(mechanism);
    faults.extend(size::misfits(mechanism));
    if !faults.is_empty() {
        return Err(faults);
    }
    let missing = unknown::missing(mechanism);
    let needed: Vec<mechanism::PartId> = missing
        .iter()
        .copied()
        .filter(|&part| measured::needs(ask, part))
        .collect();
    let completed = match (needed.as_slice(), missing.as_slice()) {
        ([], _) => None,
        ([part], [_]) => Some(unknown::complete(mechanism, *part)?.ok_or_else(|| {
            vec![fault::Fault::NotEnoughGiven {
                what: "what leads to the missing count",
            }]
        })?),
        (_, _) => return Err(vec![fault::Fault::TooManyUnknowns]),
    };
    if let Some(completed) = &completed {
        steps.extend(completed.steps.iter().cloned());
    }
    let filled = completed.as_ref().map_or(mechanism, |it| &it.mechanism);
    measured::measure(filled, ask, steps).map_err(|fault| vec![fault])
}

/// Answers what needs motion.
fn moved(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Fact, Vec<fault::Fault>> {
    let missing = unknown::missing(mechanism);
    let about_sense = matches!(ask, ask::Ask::Direction(_) | ask::Ask::SameWay(_, _));
    let has_planets = mechanism.parts.iter().any(|part| part.rides_on.is_some());
    let completed = match missing.as_slice() {
        [] => None,
        // Which way things turn does not depend on a count, but among planets.
        [_, ..] if about_sense && !has_planets => None,
        [part] => unknown::complete(mechanism, *part)?,
        [_, ..] => return Err(vec![fault::Fault::TooManyUnknowns]),
    };
    let Some(completed) = completed else {
        if has_planets && !missing.is_empty() {
            return Err(vec![fault::Fault::NotEnoughGiven {
                what: "what leads to the missing count",
            }]);
        }
        let motions = settled(mechanism)?;
        return moving::answer(&motions, ask, steps).map_err(|fault| vec![fault]);
    };
    // Where the answer follows without the count, the working leaves it out.
    if !has_planets
        && let Ok(motions) = settled(mechanism)
        && let Ok(fact) = moving::answer(&motions, ask, steps)
    {
        return Ok(fact);
    }
    *steps = completed.steps;
    let motions = settled(&completed.mechanism)?;
    moving::answer(&motions, ask, steps).map_err(|fault| vec![fault])
}

/// Whether a mechanism can turn: not if a loop locks, teeth do not fit, a worm holds
/// its wheel, or it is held still.
fn will_it_turn(
    mechanism: &mechanism::Mechanism,
    steps: &mut Vec<step::Step>,
) -> Result<bool, Vec<fault::Fault>> {
    let mut faults = standing_faults(mechanism);
    let motions = match motion::settle(mechanism, &mut faults) {
        Ok(motions) => motions,
        Err(fault) => {
            faults.push(fault);
            return Err(faults);
        }
    };
    // A planetary set that leaves room for another drive turns all the same.
    faults.retain(|fault| {
        !matches!(
            fault,
            fault::Fault::NotEnoughGiven { .. } | fault::Fault::DirectionUnknown { .. }
        )
    });
    let mut reasons = Vec::new();
    for fault in &faults {
        match fault {
            fault::Fault::Locked { parts } => reasons.push(Some(step::Step::Loop {
                parts: parts.clone(),
                turns: false,
            })),
            fault::Fault::TeethDoNotFit { first, second } => {
                reasons.push(tooth_sizes(mechanism, *first, *second));
            }
            fault::Fault::WormWillNotBeDriven { worm } => reasons.push(
                mechanism
                    .joints
                    .iter()
                    .find(|joint| joint.second == *worm && joint.driver_named)
                    .map(|joint| step::Step::WormHolds {
                        worm: *worm,
                        wheel: joint.first,
                    }),
            ),
            fault::Fault::NotConnected { .. }
            | fault::Fault::DrivenTwice { .. }
            | fault::Fault::CannotMesh { .. }
            | fault::Fault::CannotShareAxle { .. }
            | fault::Fault::BadCount { .. }
            | fault::Fault::NotPositive { .. }
            | fault::Fault::TooEfficient { .. }
            | fault::Fault::DirectionUnknown { .. }
            | fault::Fault::NotEnoughGiven { .. }
            | fault::Fault::TooManyUnknowns
            | fault::Fault::NotWhole { .. }
            | fault::Fault::CannotAsk { .. }
            | fault::Fault::Number(_) => {}
        }
    }
    if reasons.len() < faults.len() {
        return Err(faults);
    }
    if !reasons.is_empty() {
        steps.extend(reasons.into_iter().flatten());
        return Ok(false);
    }
    if motions.components.iter().any(|component| component.still) {
        return Ok(false);
    }
    let loops = &motions.walk.closings;
    for closing in loops {
        steps.push(step::Step::Loop {
            parts: motions.walk.loop_parts(closing.joint),
            turns: true,
        });
    }
    if loops.is_empty() {
        steps.extend(working::whole::steps(&motions).map_err(|fault| vec![fault])?);
    }
    Ok(true)
}

fn tooth_sizes(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
) -> Option<step::Step> {
    Some(step::Step::ToothSizes {
        first,
        second,
        first_mm: mechanism.part(first).tooth_size_mm?,
        second_mm: mechanism.part(second).tooth_size_mm?,
    })
}

/// Returns the mechanism with an earlier answer put in place of what it replaces,
/// for a later part worked from a pupil's own answer (follow-through).
///
/// `fact` answers `ask`: found teeth fill a `?`; a motion of a part becomes the
/// given motion in place of all others (senses stay); likewise force, tooth size and
/// centre distance. What then no longer goes together with the answer gives way to it.
/// `None` where the answer makes no sense (nought, below nought, half a tooth) or
/// has no place in a mechanism.
///
/// # Example
///
/// ```
/// use toothmark::gears::{ask, notation, solve};
/// use toothmark::number;
///
/// let train = notation::read(&[
///     "gear A 12 drives gear B 36 drives gear C 18",
///     "A turns 9",
/// ]).expect("well formed");
/// let asked = notation::read_ask("turns of B", &train).expect("well formed");
/// let typed = ask::Fact::Quantity { value: number::Number::whole(27).into(), unit: ask::Unit::Turns };
/// let followed = solve::with_answer(&train, &asked, &typed).expect("27 turns make sense");
/// assert_eq!(
///     notation::write(&followed),
///     ["gear A 12 drives gear B 36 drives gear C 18", "B turns 27"]
/// );
/// ```
#[must_use]
pub fn with_answer(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    fact: &ask::Fact,
) -> Option<mechanism::Mechanism> {
    follow::put_in(mechanism, ask, fact)
}

#[cfg(test)]
mod tests;

#[cfg(test)]
mod laws;
