//! Forces: from where one is given to where it is asked, ideal or with losses.
//!
//! A turning force is in newton centimetres. On a bar it is the bar's force in
//! newtons ÷ 20, so that turning force × moves is the same all along a path
//! without losses.

use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::size;
use crate::gears::step;
use crate::gears::walk;
use crate::number;

/// A force that is given.
#[derive(Debug, Clone, Copy)]
struct Source {
    part: mechanism::PartId,
    /// Newtons at the part's arm, or newton centimetres on its axle.
    newtons: bool,
    size: number::Number,
}

/// Returns what is wrong with the forces and losses that are given.
pub(super) fn misfits(mechanism: &mechanism::Mechanism) -> Vec<fault::Fault> {
    let mut faults = Vec::new();
    for given in &mechanism.givens {
        match given {
            mechanism::Given::Force { newtons: size, .. }
            | mechanism::Given::TurningForce {
                newton_cm: size, ..
            } => {
                if !size.is_positive() {
                    faults.push(fault::Fault::NotPositive { what: "the force" });
                }
            }
            mechanism::Given::Efficiency(share) => {
                if !share.is_positive() {
                    faults.push(fault::Fault::NotPositive {
                        what: "the efficiency",
                    });
                }
                if *share > number::Number::ONE {
                    faults.push(fault::Fault::TooEfficient { found: *share });
                }
            }
            mechanism::Given::Motion { .. }
            | mechanism::Given::Held(_)
            | mechanism::Given::Minutes(_)
            | mechanism::Given::Apart { .. }
            | mechanism::Given::TakenOut { .. } => {}
        }
    }
    faults
}

/// The share of the work that each mesh passes on: the last that is given.
fn efficiency(mechanism: &mechanism::Mechanism) -> number::Number {
    mechanism
        .givens
        .iter()
        .rev()
        .find_map(|given| match given {
            mechanism::Given::Efficiency(share) => Some(*share),
            mechanism::Given::Motion { .. }
            | mechanism::Given::Held(_)
            | mechanism::Given::Minutes(_)
            | mechanism::Given::Force { .. }
            | mechanism::Given::TurningForce { .. }
            | mechanism::Given::Apart { .. }
            | mechanism::Given::TakenOut { .. } => None,
        })
        .unwrap_or(number::Number::ONE)
}

fn sources(mechanism: &mechanism::Mechanism) -> impl Iterator<Item = Source> + use<'_> {
    mechanism.givens.iter().filter_map(|given| match given {
        mechanism::Given::Force { part, newtons } => Some(Source {
            part: *part,
            newtons: true,
            size: *newtons,
        }),
        mechanism::Given::TurningForce { part, newton_cm } => Some(Source {
            part: *part,
            newtons: false,
            size: *newton_cm,
        }),
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => None,
    })
}

/// Returns the arm at which a force in newtons acts on a part, in millimetres.
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] for a part without one,
/// [`fault::Fault::NotEnoughGiven`] for a handle whose arm is not given.
fn arm_mm(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> Result<number::Number, fault::Fault> {
    match mechanism.part(part).kind {
        mechanism::Kind::Handle { arm_mm } => arm_mm.ok_or(fault::Fault::NotEnoughGiven {
            what: "the length of the handle",
        }),
        mechanism::Kind::Drum { diameter_mm } | mechanism::Kind::Roller { diameter_mm } => {
            Ok(diameter_mm.divided_by(number::Number::whole(2))?)
        }
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => Err(fault::Fault::CannotAsk {
            part,
            what: "a force in newtons",
        }),
    }
}

/// Newtons on a bar for one newton centimetre in the solver's own count.
const BAR_NEWTONS: i64 = 20;

fn slides(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> bool {
    matches!(mechanism.part(part).kind, mechanism::Kind::Rack { .. })
}

/// Turning force of a force at an arm.
///
/// Source: turning force = force × arm (moment of a force, key stage 3 science
/// programme of study, from memory); 10 mm are 1 cm.
fn turning(
    newtons: number::Number,
    arm_mm: number::Number,
) -> Result<number::Number, fault::Fault> {
    Ok(newtons
        .times(arm_mm)?
        .divided_by(number::Number::whole(10))?)
}

fn at_arm(
    newton_cm: number::Number,
    arm_mm: number::Number,
) -> Result<number::Number, fault::Fault> {
    Ok(newton_cm
        .times(number::Number::whole(10))?
        .divided_by(arm_mm)?)
}

/// What of a force is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wanted {
    /// Newtons at the part's arm, or on the bar.
    Newtons,
    /// Newton centimetres on the part's axle.
    Turning,
}

/// Returns the force asked of a part, with the working.
///
/// # Errors
///
/// [`fault::Fault::NotEnoughGiven`] when no force is given,
/// [`fault::Fault::CannotAsk`] where a force says nothing about this part.
pub(super) fn force(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
    wanted: Wanted,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    let mechanism = motions.walk.mechanism;
    if slides(mechanism, part) && wanted == Wanted::Turning {
        return Err(fault::Fault::CannotAsk {
            part,
            what: "a turning force",
        });
    }
    if wanted == Wanted::Newtons && !slides(mechanism, part) {
        arm_mm(mechanism, part)?;
    }
    let source = sources(mechanism)
        .find(|source| motions.component(source.part) == motions.component(part))
        .ok_or(fault::Fault::NotEnoughGiven { what: "a force" })?;
    let mut count = at_source(mechanism, source, wanted, part, steps)?;
    let mut at = source.part;
    if let Some(way) = motions.walk.way(source.part, part) {
        for hop in way {
            if at != hop.from {
                steps.push(step::Step::SameAxle {
                    from: at,
                    to: hop.from,
                });
            }
            count = across(motions, hop, count, steps)?;
            at = hop.to;
        }
    } else {
        count = through_planets(motions, at, part, count, steps)?;
        at = part;
    }
    if at != part {
        steps.push(step::Step::SameAxle { from: at, to: part });
    }
    if slides(mechanism, part) {
        return Ok(count.times(number::Number::whole(BAR_NEWTONS))?);
    }
    match wanted {
        Wanted::Turning => Ok(count),
        Wanted::Newtons => {
            let arm = arm_mm(mechanism, part)?;
            let newtons = at_arm(count, arm)?;
            if source.part != part || !source.newtons {
                steps.push(step::Step::ForceTimesArm {
                    part,
                    newtons: newtons.into(),
                    arm_mm: arm.into(),
                    newton_cm: count.into(),
                });
            }
            Ok(newtons)
        }
    }
}

/// The given force as the solver counts it.
fn at_source(
    mechanism: &mechanism::Mechanism,
    source: Source,
    wanted: Wanted,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    if slides(mechanism, source.part) {
        if !source.newtons {
            return Err(fault::Fault::CannotAsk {
                part: source.part,
                what: "a turning force",
            });
        }
        return Ok(source.size.divided_by(number::Number::whole(BAR_NEWTONS))?);
    }
    if !source.newtons {
        return Ok(source.size);
    }
    let arm = arm_mm(mechanism, source.part)?;
    let newton_cm = turning(source.size, arm)?;
    if source.part != part || wanted == Wanted::Turning {
        steps.push(step::Step::ForceTimesArm {
            part: source.part,
            newtons: source.size.into(),
            arm_mm: arm.into(),
            newton_cm: newton_cm.into(),
        });
    }
    Ok(newton_cm)
}

/// Takes the force across one joint.
///
/// Source: without losses force × moves is the same on both sides ("product of
/// force and displacement unchanged", key stage 3 science programme of study);
/// n stages of share e pass on e^n (computed).
fn across(
    motions: &motion::Motions<'_>,
    hop: walk::Hop,
    count: number::Number,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    let mechanism = motions.walk.mechanism;
    let coupling = &motions.walk.couplings[hop.joint];
    if coupling.rigid {
        steps.push(step::Step::Joined {
            from: hop.from,
            to: hop.to,
        });
        return Ok(count);
    }
    let joint = &mechanism.joints[hop.joint];
    let forward = joint.first == hop.from;
    let (near, far) = if forward {
        (coupling.first_share, coupling.second_share)
    } else {
        (coupling.second_share, coupling.first_share)
    };
    if near.power != 0 || far.power != 0 {
        return Err(fault::Fault::NotEnoughGiven {
            what: "the missing count",
        });
    }
    let share = efficiency(mechanism);
    let flow = if forward {
        step::Flow::With
    } else {
        step::Flow::Against
    };
    let ideal = count.times(far.number)?.divided_by(near.number)?;
    let after = match flow {
        step::Flow::With => ideal.times(share)?,
        step::Flow::Against => ideal.divided_by(share)?,
    };
    if slides(mechanism, hop.from) || slides(mechanism, hop.to) {
        across_rack(mechanism, hop, (count, ideal, after), (share, flow), steps)?;
    } else {
        steps.push(step::Step::ForceAcross {
            from: hop.from,
            to: hop.to,
            before: count.into(),
            after: after.into(),
            from_size: near.number.into(),
            to_size: far.number.into(),
            efficiency: share,
            flow,
        });
    }
    Ok(after)
}

/// The steps between a pinion and its rack: force = turning force ÷ radius, and the
/// loss in newtons.
///
/// Source: the force acts at the pitch radius, m z / 2 (from pitch diameter = m z,
/// Wikipedia, Gear, copy of 9 August 2019).
fn across_rack(
    mechanism: &mechanism::Mechanism,
    hop: walk::Hop,
    (before, ideal, after): (number::Number, number::Number, number::Number),
    (efficiency, flow): (number::Number, step::Flow),
    steps: &mut Vec<step::Step>,
) -> Result<(), fault::Fault> {
    let bar = number::Number::whole(BAR_NEWTONS);
    let from_rack = slides(mechanism, hop.from);
    let pinion = if from_rack { hop.to } else { hop.from };
    let arm = size::diameter(mechanism, pinion, size::Circle::Pitch, steps)?
        .divided_by(number::Number::whole(2))?;
    let loss = |before: number::Number, after: number::Number| step::Step::ForceAcross {
        from: hop.from,
        to: hop.to,
        before: before.into(),
        after: after.into(),
        from_size: number::Value::ONE,
        to_size: number::Value::ONE,
        efficiency,
        flow,
    };
    let lossless = efficiency == number::Number::ONE;
    if from_rack {
        // The loss is taken in newtons, before the force acts at the radius.
        let newtons = before.times(bar)?;
        let left = at_arm(after, arm)?;
        if !lossless {
            steps.push(loss(newtons, left));
        }
        steps.push(step::Step::ForceTimesArm {
            part: pinion,
            newtons: left.into(),
            arm_mm: arm.into(),
            newton_cm: after.into(),
        });
    } else {
        let newtons = ideal.times(bar)?;
        steps.push(step::Step::ForceTimesArm {
            part: pinion,
            newtons: newtons.into(),
            arm_mm: arm.into(),
            newton_cm: before.into(),
        });
        if !lossless {
            steps.push(loss(newtons, after.times(bar)?));
        }
    }
    Ok(())
}

/// Takes the force through a planetary set with one drive and the rest held.
///
/// Source: without losses turning force × turns is the same at both ends (as in
/// `across`).
fn through_planets(
    motions: &motion::Motions<'_>,
    from: mechanism::PartId,
    to: mechanism::PartId,
    count: number::Number,
    steps: &mut Vec<step::Step>,
) -> Result<number::Number, fault::Fault> {
    let mechanism = motions.walk.mechanism;
    let lossless = efficiency(mechanism) == number::Number::ONE;
    let near = motions.walk.at(from).ratio.magnitude();
    let far = motions.walk.at(to).ratio.magnitude();
    // With losses, two drives or a part held still this is beyond a ratio of moves.
    if !lossless || near.is_zero() || far.is_zero() || motions.two_drives(from) {
        return Err(fault::Fault::CannotAsk {
            part: to,
            what: "a force through this planetary set",
        });
    }
    if slides(mechanism, from) || slides(mechanism, to) {
        let rack = if slides(mechanism, from) { from } else { to };
        size::tooth_size(mechanism, rack).ok_or(fault::Fault::NotEnoughGiven {
            what: "the tooth size",
        })?;
    }
    let after = count.times(near)?.divided_by(far)?;
    steps.push(step::Step::ForceAcross {
        from,
        to,
        before: count.into(),
        after: after.into(),
        from_size: far.into(),
        to_size: near.into(),
        efficiency: number::Number::ONE,
        flow: step::Flow::With,
    });
    Ok(after)
}
