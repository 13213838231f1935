//! The working of an answer: the steps along the way from what is given to what
//! is asked.

pub(super) mod planets;
pub(super) mod whole;

use crate::gears::ask;
use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::givens;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::size;
use crate::gears::step;
use crate::gears::walk;
use crate::number;

/// What the steps of one working show.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shown {
    /// How much one unit of ratio is, and in what it is counted.
    pub(super) amount: Option<(number::Value, motion::Per)>,
    /// The power of a count still unknown with which amounts are right.
    pub(super) power: i8,
    /// Whether senses are shown: `Some` of whether the first body of the group moves
    /// with positive sign.
    pub(super) positive: Option<bool>,
}

/// Returns how much a part moves when one unit of ratio is `scale`.
///
/// Source: a bar counts pi millimetres (see `coupling`).
pub(super) fn movement(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    (scale, per): (number::Value, motion::Per),
) -> Result<step::Movement, fault::Fault> {
    let unit = motions.unit(part, per);
    let moves = scale.times(motions.walk.at(part).ratio.magnitude().into())?;
    let value = if unit == ask::Unit::Millimetres {
        moves.times(number::Value::PI)?
    } else {
        moves
    };
    Ok(step::Movement { value, unit })
}

/// Whether a part is a rack.
fn slides(motions: &motion::Motions<'_>, part: mechanism::PartId) -> bool {
    matches!(
        motions.walk.mechanism.part(part).kind,
        mechanism::Kind::Rack { .. }
    )
}

/// Adds the steps along a way, joint by joint.
///
/// # Errors
///
/// [`fault::Fault::Number`] when a number does not fit.
pub(super) fn along(
    motions: &motion::Motions<'_>,
    shown: Shown,
    (from, way, to): (mechanism::PartId, &[walk::Hop], mechanism::PartId),
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let mut at = from;
    let mut before = moved(motions, shown, from)?;
    for (index, hop) in way.iter().enumerate() {
        if at != hop.from {
            steps.push(step::Step::SameAxle {
                from: at,
                to: hop.from,
            });
        }
        at = hop.to;
        let coupling = &motions.walk.couplings[hop.joint];
        // A rack at an end of the way moves a distance; one in between passes on teeth.
        let at_end = (index == 0 && slides(motions, hop.from))
            || (index + 1 == way.len() && slides(motions, hop.to));
        if coupling.rigid {
            steps.push(step::Step::Joined {
                from: hop.from,
                to: hop.to,
            });
        } else if let (true, Some(amount)) = (at_end, shown.amount) {
            travel_on_rack(motions, *hop, amount, steps)?;
            before = moved(motions, shown, hop.to)?;
        } else {
            let after = moved(motions, shown, hop.to)?;
            steps.push(drive(motions, shown, *hop, (before, after)));
            before = after;
        }
    }
    if at != to {
        steps.push(step::Step::SameAxle { from: at, to });
    }
    Ok(())
}

/// How much a part moves, where that is shown; the same for all parts of one axle.
fn moved(
    motions: &motion::Motions<'_>,
    shown: Shown,
    part: mechanism::PartId,
) -> Result<Option<step::Movement>, fault::Fault> {
    match shown.amount {
        Some(amount) if !slides(motions, part) && motions.walk.at(part).power == shown.power => {
            movement(motions, part, amount).map(Some)
        }
        Some(_) | None => Ok(None),
    }
}

fn drive(
    motions: &motion::Motions<'_>,
    shown: Shown,
    hop: walk::Hop,
    (before, after): (Option<step::Movement>, Option<step::Movement>),
) -> step::Step {
    let joint = &motions.walk.mechanism.joints[hop.joint];
    let sense = |part: mechanism::PartId| {
        (!motions.walk.at(part).ratio.is_zero())
            .then_some(shown.positive)
            .flatten()
            .map(|positive| motions.walk.sense(part, positive))
    };
    // Past a worm the sense is another group's.
    let seen = motions.walk.at(hop.from).group == motions.walk.at(hop.to).group;
    step::Step::Drive {
        from: hop.from,
        to: hop.to,
        link: joint.link,
        from_size: part_size(motions.walk.mechanism, hop.from),
        to_size: part_size(motions.walk.mechanism, hop.to),
        before,
        after,
        sense_before: sense(hop.from),
        sense_after: sense(hop.to).filter(|_| seen),
    }
}

/// Teeth, starts or diameter of a part; nought for one without, or not known yet.
pub(super) fn part_size(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> number::Value {
    let kind = &mechanism.part(part).kind;
    if let mechanism::Kind::Pulley { diameter_mm } = kind {
        return (*diameter_mm).into();
    }
    match coupling::count(kind) {
        Some(mechanism::Count::Known(count)) => number::Number::from(count).into(),
        Some(mechanism::Count::Unknown) | None => number::Value::ZERO,
    }
}

/// The steps between a pinion's turns and its rack's distance.
fn travel_on_rack(
    motions: &motion::Motions<'_>,
    hop: walk::Hop,
    amount: (number::Value, motion::Per),
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let (pinion, rack) = if slides(motions, hop.from) {
        (hop.to, hop.from)
    } else {
        (hop.from, hop.to)
    };
    let diameter_mm = size::diameter(motions.walk.mechanism, pinion, size::Circle::Pitch, steps)?;
    steps.push(step::Step::Travel {
        part: pinion,
        turns: movement(motions, pinion, amount)?.value,
        diameter_mm,
        distance_mm: movement(motions, rack, amount)?.value,
    });
    Ok(())
}

/// Returns the steps that lead to how much a part moves, over the run or in a minute,
/// as turns (or a bar's distance).
///
/// # Errors
///
/// [`fault::Fault::NotEnoughGiven`] when it does not follow.
pub(super) fn to_amount(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    wanted: motion::Per,
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let scale = motions.scale(part, wanted)?;
    match scale.given {
        Some(given) => from_given(motions, (scale.from, given), (part, wanted), steps),
        None => Ok(()),
    }
}

/// Returns the steps from one given motion to how much a part moves.
///
/// # Errors
///
/// [`fault::Fault::NotEnoughGiven`] when it does not follow.
pub(super) fn from_given(
    motions: &motion::Motions<'_>,
    (from, given): (mechanism::PartId, mechanism::Amount),
    (part, wanted): (mechanism::PartId, motion::Per),
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let mut per = match given {
        mechanism::Amount::Turns(_) | mechanism::Amount::Millimetres(_) => motion::Per::Run,
        mechanism::Amount::Rpm(_) => motion::Per::Minute,
    };
    start(motions, from, given, steps)?;
    // A bar's distance is of the run: turns a minute become turns before it.
    let bar_at_end = slides(motions, part) && part != from;
    if bar_at_end && per == motion::Per::Minute {
        let way = motions.walk.way(from, part);
        let before = way
            .as_ref()
            .and_then(|way| way.last())
            .map_or(from, |hop| hop.from);
        walk_to(motions, (from, before), per, steps)?;
        over_time(motions, before, steps)?;
        per = motion::Per::Run;
        walk_to(motions, (before, part), per, steps)?;
    } else {
        walk_to(motions, (from, part), per, steps)?;
    }
    if per != wanted {
        over_time(motions, part, steps)?;
    }
    Ok(())
}

/// The first line: what is given. A drum's or rolling wheel's distance is brought to
/// turns at once.
fn start(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    given: mechanism::Amount,
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let movement = match given {
        mechanism::Amount::Turns(number) => step::Movement {
            value: number.into(),
            unit: ask::Unit::Turns,
        },
        mechanism::Amount::Rpm(number) => step::Movement {
            value: number.into(),
            unit: ask::Unit::Rpm,
        },
        mechanism::Amount::Millimetres(value) => step::Movement {
            value,
            unit: ask::Unit::Millimetres,
        },
    };
    steps.push(step::Step::Start {
        part,
        movement: Some(movement),
        sense: None,
    });
    if movement.unit == ask::Unit::Millimetres {
        travel_on_drum(motions, part, steps)?;
    }
    Ok(())
}

/// The step between a drum's or rolling wheel's turns and its distance.
///
/// Source: a string or wheel runs along its circumference, pi d a turn (common
/// practice, no source).
pub(super) fn travel_on_drum(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<Option<number::Value>, fault::Fault> {
    let Some(diameter_mm) = givens::rolling_diameter(&motions.walk.mechanism.part(part).kind)
    else {
        return Ok(None);
    };
    let turns = motions.amount(part, motion::Per::Run)?;
    let distance_mm = turns.times(diameter_mm.into())?.times(number::Value::PI)?;
    steps.push(step::Step::Travel {
        part,
        turns,
        diameter_mm,
        distance_mm,
    });
    Ok(Some(distance_mm))
}

fn over_time(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    steps.push(step::Step::OverTime {
        part,
        rpm: motions.amount(part, motion::Per::Minute)?,
        minutes: motions.minutes.ok_or(fault::Fault::NotEnoughGiven {
            what: "how many minutes it runs",
        })?,
        turns: motions.amount(part, motion::Per::Run)?,
    });
    Ok(())
}

/// Adds the steps from one part to another with amounts, through planets if need be.
fn walk_to(
    motions: &motion::Motions<'_>,
    (from, to): (mechanism::PartId, mechanism::PartId),
    per: motion::Per,
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let scale = motions.scale(to, per)?.value;
    let shown = Shown {
        amount: Some((scale, per)),
        power: motions.walk.at(to).power,
        positive: None,
    };
    if let Some(way) = motions.walk.way(from, to) {
        along(motions, shown, (from, &way, to), steps)
    } else {
        let others = planets::other_drives(motions, from);
        for (part, movement) in others {
            steps.push(step::Step::Start {
                part,
                movement: Some(movement),
                sense: None,
            });
        }
        planets::through(motions, shown, (from, to), steps)
    }
}

/// Adds the steps that lead to which way a part moves.
///
/// # Errors
///
/// [`fault::Fault::DirectionUnknown`] past a worm, [`fault::Fault::NotEnoughGiven`]
/// when no direction is given.
pub(super) fn to_sense(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let reached = motions.walk.at(part);
    let Some((positive, from)) = motions.senses[reached.group] else {
        let known_elsewhere = motions.walk.mechanism.numbered().any(|(id, _)| {
            motions.component(id) == motions.component(part)
                && motions.senses[motions.walk.at(id).group].is_some()
        });
        return Err(if known_elsewhere {
            fault::Fault::DirectionUnknown { part }
        } else {
            fault::Fault::NotEnoughGiven {
                what: "which way one of the parts turns",
            }
        });
    };
    steps.push(step::Step::Start {
        part: from,
        movement: None,
        sense: Some(motions.walk.sense(from, positive)),
    });
    let shown = Shown {
        amount: None,
        power: 0,
        positive: Some(positive),
    };
    if let Some(way) = motions.walk.way(from, part) {
        along(motions, shown, (from, &way, part), steps)?;
        steps.extend(count_meshes(motions, (from, &way, part)));
    } else {
        planets::through(motions, shown, (from, part), steps)?;
    }
    Ok(())
}

/// The step that counts what turns the sense round, where there is more than one mesh
/// and no rack on the way.
pub(super) fn count_meshes(
    motions: &motion::Motions<'_>,
    (from, way, to): (mechanism::PartId, &[walk::Hop], mechanism::PartId),
) -> Option<step::Step> {
    let racks = way
        .iter()
        .any(|hop| slides(motions, hop.from) || slides(motions, hop.to));
    if racks || way.len() < 2 {
        return None;
    }
    let meshes = way
        .iter()
        .filter(|hop| motions.walk.couplings[hop.joint].turning == coupling::Turning::Opposite)
        .count();
    Some(step::Step::CountMeshes {
        from,
        to,
        meshes: u32::try_from(meshes).ok()?,
    })
}

/// Adds the steps from one part to another, if the first is supposed to make one turn.
///
/// # Errors
///
/// [`fault::Fault::Number`] when a number does not fit.
pub(super) fn for_one_turn(
    motions: &motion::Motions<'_>,
    (from, to): (mechanism::PartId, mechanism::PartId),
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let unit = number::Value::ONE.divided_by(motions.walk.at(from).ratio.magnitude().into())?;
    let shown = Shown {
        amount: Some((unit, motion::Per::Run)),
        power: motions.walk.at(from).power,
        positive: None,
    };
    steps.push(step::Step::Start {
        part: from,
        movement: Some(movement(motions, from, (unit, motion::Per::Run))?),
        sense: None,
    });
    match motions.walk.way(from, to) {
        Some(way) => along(motions, shown, (from, &way, to), steps),
        None => planets::through(motions, shown, (from, to), steps),
    }
}
