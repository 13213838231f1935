//! The working of an answer: the steps along the way from what is given to what
//! is asked.

use crate::gears::ask;
use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::planetary;
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
            steps.push(travel_on_rack(motions, *hop, amount)?);
        } else {
            steps.push(drive(motions, shown, *hop)?);
        }
    }
    if at != to {
        steps.push(step::Step::SameAxle { from: at, to });
    }
    Ok(())
}

fn drive(
    motions: &motion::Motions<'_>,
    shown: Shown,
    hop: walk::Hop,
) -> Result<step::Step, fault::Fault> {
    let joint = &motions.walk.mechanism.joints[hop.joint];
    let moved = |part| match shown.amount {
        Some(amount) if !slides(motions, part) && motions.walk.at(part).power == shown.power => {
            movement(motions, part, amount).map(Some)
        }
        Some(_) | None => Ok(None),
    };
    let sense = |part: mechanism::PartId| {
        (!motions.walk.at(part).ratio.is_zero())
            .then_some(shown.positive)
            .flatten()
            .map(|positive| motions.walk.sense(part, positive))
    };
    // Past a worm the sense is another group's.
    let seen = motions.walk.at(hop.from).group == motions.walk.at(hop.to).group;
    Ok(step::Step::Drive {
        from: hop.from,
        to: hop.to,
        link: joint.link,
        from_size: part_size(motions.walk.mechanism, hop.from),
        to_size: part_size(motions.walk.mechanism, hop.to),
        before: moved(hop.from)?,
        after: moved(hop.to)?,
        sense_before: sense(hop.from),
        sense_after: sense(hop.to).filter(|_| seen),
    })
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

fn travel_on_rack(
    motions: &motion::Motions<'_>,
    hop: walk::Hop,
    amount: (number::Value, motion::Per),
) -> Result<step::Step, fault::Fault> {
    let (pinion, rack) = if slides(motions, hop.from) {
        (hop.to, hop.from)
    } else {
        (hop.from, hop.to)
    };
    let diameter_mm = size::diameter(
        motions.walk.mechanism,
        pinion,
        size::Circle::Pitch,
        &mut Vec::new(),
    )?;
    Ok(step::Step::Travel {
        part: pinion,
        turns: movement(motions, pinion, amount)?.value,
        diameter_mm,
        distance_mm: movement(motions, rack, amount)?.value,
    })
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
    let Some(diameter_mm) = motion::rolling_diameter(&motions.walk.mechanism.part(part).kind)
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
        let others = other_drives(motions, from);
        for (part, movement) in others {
            steps.push(step::Step::Start {
                part,
                movement: Some(movement),
                sense: None,
            });
        }
        through_planets(motions, shown, (from, to), steps)
    }
}

/// What else is given of the planetary set: parts held still or driven as well.
fn other_drives(
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
pub(super) fn through_planets(
    motions: &motion::Motions<'_>,
    shown: Shown,
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
    along(motions, shown, (from, &way, near), steps)?;
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
    along(motions, shown, (far, &way, to), steps)
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
            from_size: part_size(walk.mechanism, from),
            to_size: part_size(walk.mechanism, to),
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
        through_planets(motions, shown, (from, part), steps)?;
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
        None => through_planets(motions, shown, (from, to), steps),
    }
}

/// Returns the steps of the whole walk: every start, every joint, every planetary set,
/// with amounts and senses as far as they follow.
///
/// # Errors
///
/// [`fault::Fault::Number`] when a number does not fit.
pub(super) fn whole_walk(motions: &motion::Motions<'_>) -> Result<Vec<step::Step>, fault::Fault> {
    let walk = &motions.walk;
    let mut steps = Vec::new();
    // The part by which the walk came to each body.
    let mut entered: Vec<Option<mechanism::PartId>> = vec![None; walk.bodies.len()];
    for &body in &walk.order {
        let reached = &walk.bodies[body.index()];
        let Some(hop) = walk.hop_to(body) else {
            entered[body.index()] = first_line(motions, body, &mut steps)?;
            continue;
        };
        let before = walk.mechanism.part(hop.from).body;
        if let Some(at) = entered[before.index()]
            && at != hop.from
        {
            steps.push(step::Step::SameAxle {
                from: at,
                to: hop.from,
            });
        }
        entered[body.index()] = Some(hop.to);
        let shown = Shown {
            amount: shown_amount(motions, hop.to),
            power: reached.power,
            positive: motions.senses[reached.group].map(|(positive, _)| positive),
        };
        let racks = slides(motions, hop.from) || slides(motions, hop.to);
        match shown.amount {
            Some(amount @ (_, motion::Per::Run))
                if racks && size::tooth_size(walk.mechanism, hop.to).is_some() =>
            {
                steps.push(travel_on_rack(motions, hop, amount)?);
            }
            Some(_) | None if walk.couplings[hop.joint].rigid => {
                steps.push(step::Step::Joined {
                    from: hop.from,
                    to: hop.to,
                });
            }
            Some(_) | None => steps.push(drive(motions, shown, hop)?),
        }
    }
    for (id, _) in walk.mechanism.numbered() {
        if motions.amount(id, motion::Per::Run).is_ok() {
            travel_on_drum(motions, id, &mut steps)?;
        }
    }
    Ok(steps)
}

/// The scale to show a part's moves by: over the run if that is given.
fn shown_amount(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
) -> Option<(number::Value, motion::Per)> {
    let component = &motions.components[motions.component(part)];
    component
        .run
        .map(|scale| (scale.value, motion::Per::Run))
        .or_else(|| {
            component
                .minute
                .map(|scale| (scale.value, motion::Per::Minute))
        })
}

/// The first line of a cluster: the part that is given, else the first on the body.
fn first_line(
    motions: &motion::Motions<'_>,
    body: mechanism::BodyId,
    steps: &mut Vec<step::Step>,
) -> Result<Option<mechanism::PartId>, fault::Fault> {
    let mechanism = motions.walk.mechanism;
    let first = mechanism
        .numbered()
        .find(|(_, part)| part.body == body)
        .map(|(id, _)| id);
    let Some(first) = first else {
        return Ok(None);
    };
    let component = &motions.components[motions.component(first)];
    let given = component
        .run
        .or(component.minute)
        .map(|scale| scale.from)
        .or_else(|| motions.senses[motions.walk.at(first).group].map(|(_, part)| part))
        .filter(|&part| mechanism.part(part).body == body);
    let part = given.unwrap_or(first);
    let shown = match shown_amount(motions, part) {
        Some(amount) => Some(movement(motions, part, amount)?),
        None => None,
    };
    steps.push(step::Step::Start {
        part,
        movement: shown,
        sense: motions.sense(part),
    });
    Ok(Some(part))
}
