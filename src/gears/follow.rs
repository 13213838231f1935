//! An earlier answer put in place, for a part that follows from it.

use crate::gears::ask;
use crate::gears::choose;
use crate::gears::coupling;
use crate::gears::givens;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::size;
use crate::gears::solve;
use crate::number;

/// Returns the mechanism with an answer put in place of what it replaces; `None`
/// where it makes no sense or has no place.
pub(super) fn put_in(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    fact: &ask::Fact,
) -> Option<mechanism::Mechanism> {
    let amount = |wanted| amount(fact, wanted);
    let number = |wanted| amount(wanted)?.as_number();
    match ask {
        ask::Ask::Turns(part) => {
            let turns = number(ask::Unit::Turns)?;
            moved(mechanism, *part, mechanism::Amount::Turns(turns))
        }
        ask::Ask::Speed(part) => {
            let rpm = number(ask::Unit::Rpm)?;
            moved(mechanism, *part, mechanism::Amount::Rpm(rpm))
        }
        ask::Ask::Distance(part) => {
            let length = amount(ask::Unit::Millimetres)?;
            moved(mechanism, *part, mechanism::Amount::Millimetres(length))
        }
        ask::Ask::Direction(part) => turned(mechanism, *part, sense(fact)?),
        ask::Ask::Teeth(part) => {
            let teeth = whole(number(ask::Unit::Teeth)?)?;
            counted(mechanism, &[*part], &[teeth])
        }
        ask::Ask::Starts(part) => {
            let starts = whole(number(ask::Unit::Starts)?)?;
            counted(mechanism, &[*part], &[starts])
        }
        ask::Ask::Choose { parts, .. } => counted(mechanism, parts, only_choice(fact)?),
        ask::Ask::Force(part) => {
            let (part, newtons) = (*part, number(ask::Unit::Newtons)?);
            pushed(mechanism, mechanism::Given::Force { part, newtons })
        }
        ask::Ask::TurningForce(part) => {
            let (part, newton_cm) = (*part, number(ask::Unit::NewtonCentimetres)?);
            pushed(
                mechanism,
                mechanism::Given::TurningForce { part, newton_cm },
            )
        }
        ask::Ask::ToothSize(part) => sized(mechanism, *part, number(ask::Unit::Millimetres)?),
        ask::Ask::PitchDiameter(part) => wide(mechanism, *part, number(ask::Unit::Millimetres)?),
        ask::Ask::CentreDistance(first, second) => {
            let mm = number(ask::Unit::Millimetres)?;
            apart(mechanism, *first, *second, mm)
        }
        ask::Ask::TurnsRatio(first, second) => geared(mechanism, (*first, *second), ratio(fact)?),
        ask::Ask::TeethRatio(first, second) => {
            // Turns go the other way round than teeth, but only of gears in mesh.
            let (one, other) = ratio(fact)?;
            mechanism
                .joints
                .iter()
                .any(|joint| joint.joins(*first, *second))
                .then(|| geared(mechanism, (*first, *second), (other, one)))?
        }
        ask::Ask::SameWay(_, _)
        | ask::Ask::Faster(_, _)
        | ask::Ask::Stronger(_, _)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::WillItTurn
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::Stages(_)
        | ask::Ask::MeetAgain(_, _)
        | ask::Ask::Why(_) => None,
    }
}

/// A quantity above nought in the unit wanted.
fn amount(fact: &ask::Fact, wanted: ask::Unit) -> Option<number::Value> {
    if let ask::Fact::Quantity { value, unit } = fact {
        (*unit == wanted && value.factor.is_positive()).then_some(*value)
    } else {
        None
    }
}

fn sense(fact: &ask::Fact) -> Option<mechanism::Sense> {
    if let ask::Fact::Sense(sense) = fact {
        Some(*sense)
    } else {
        None
    }
}

fn ratio(fact: &ask::Fact) -> Option<(number::Number, number::Number)> {
    if let ask::Fact::Ratio(first, second) = fact {
        (first.is_positive() && second.is_positive()).then_some((*first, *second))
    } else {
        None
    }
}

fn only_choice(fact: &ask::Fact) -> Option<&[u32]> {
    if let ask::Fact::Choices(choices) = fact
        && let [only] = choices.as_slice()
    {
        Some(only)
    } else {
        None
    }
}

fn whole(number: number::Number) -> Option<u32> {
    u32::try_from(number.as_whole()?).ok()
}

/// Gives back what is sound, or was as unsound before.
fn checked(
    before: &mechanism::Mechanism,
    after: mechanism::Mechanism,
) -> Option<mechanism::Mechanism> {
    let sound = solve::faults(&after);
    (sound.is_empty() || !solve::faults(before).is_empty()).then_some(after)
}

/// One motion in place of all others; the senses stay.
fn moved(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    amount: mechanism::Amount,
) -> Option<mechanism::Mechanism> {
    let mut after = mechanism.clone();
    let mut sense_here = None;
    for given in &mut after.givens {
        if let mechanism::Given::Motion {
            part: of,
            amount,
            sense,
        } = given
        {
            *amount = amount.filter(|amount| givens::is_nought(*amount));
            if *of == part {
                sense_here = sense.take();
            }
        }
    }
    after.givens.retain(|given| {
        !matches!(
            given,
            mechanism::Given::Motion {
                amount: None,
                sense: None,
                ..
            }
        )
    });
    after.givens.push(mechanism::Given::Motion {
        part,
        amount: Some(amount),
        sense: sense_here,
    });
    checked(mechanism, after)
}

/// One direction in place of all others.
fn turned(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    sense: mechanism::Sense,
) -> Option<mechanism::Mechanism> {
    let mut after = mechanism.clone();
    for given in &mut after.givens {
        if let mechanism::Given::Motion { sense, .. } = given {
            *sense = None;
        }
    }
    after.givens.retain(|given| {
        !matches!(
            given,
            mechanism::Given::Motion {
                amount: None,
                sense: None,
                ..
            }
        )
    });
    after.givens.push(mechanism::Given::Motion {
        part,
        amount: None,
        sense: Some(sense),
    });
    checked(mechanism, after)
}

/// Counts in place of those asked. What was given to find them gives way where it no
/// longer agrees: later motions, then the centre distances of the parts.
fn counted(
    mechanism: &mechanism::Mechanism,
    parts: &[mechanism::PartId],
    counts: &[u32],
) -> Option<mechanism::Mechanism> {
    if parts.len() != counts.len() {
        return None;
    }
    let mut after = mechanism.clone();
    for (&part, &count) in parts.iter().zip(counts) {
        coupling::count(&mechanism.part(part).kind)?;
        choose::set_count(&mut after, part, count);
    }
    let disagrees = |after: &mechanism::Mechanism| !solve::faults(after).is_empty();
    if disagrees(&after) {
        drop_apart(&mut after, parts);
    }
    if disagrees(&after) {
        let mut first_amount = true;
        for given in &mut after.givens {
            if let mechanism::Given::Motion { amount, .. } = given
                && amount.is_some()
            {
                if !first_amount {
                    *amount = None;
                }
                first_amount = false;
            }
        }
        after.givens.retain(|given| {
            !matches!(
                given,
                mechanism::Given::Motion {
                    amount: None,
                    sense: None,
                    ..
                }
            )
        });
    }
    checked(mechanism, after)
}

fn drop_apart(mechanism: &mut mechanism::Mechanism, parts: &[mechanism::PartId]) {
    mechanism.givens.retain(|given| match given {
        mechanism::Given::Apart { first, second, .. } => {
            !parts.contains(first) && !parts.contains(second)
        }
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::TakenOut { .. } => true,
    });
}

/// One force in place of all others.
fn pushed(
    mechanism: &mechanism::Mechanism,
    force: mechanism::Given,
) -> Option<mechanism::Mechanism> {
    let mut after = mechanism.clone();
    after.givens.retain(|given| {
        !matches!(
            given,
            mechanism::Given::Force { .. } | mechanism::Given::TurningForce { .. }
        )
    });
    after.givens.push(force);
    checked(mechanism, after)
}

/// A tooth size for all teeth that run in each other; centre distances give way.
fn sized(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    tooth_size_mm: number::Number,
) -> Option<mechanism::Mechanism> {
    let mut after = mechanism.clone();
    let reach = size::meshing(mechanism, part);
    for &it in &reach {
        after.parts[it.index()].tooth_size_mm = Some(tooth_size_mm);
    }
    if !solve::faults(&after).is_empty() {
        drop_apart(&mut after, &reach);
    }
    checked(mechanism, after)
}

/// A pinion's pitch diameter, as the tooth size that makes it so wide: the rack's
/// travel follows from it. Elsewhere other sizes would change with it.
///
/// Source: pitch diameter = m z (Wikipedia, Gear, copy of 9 August 2019).
fn wide(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    diameter: number::Number,
) -> Option<mechanism::Mechanism> {
    let on_rack = mechanism
        .joints
        .iter()
        .filter_map(|joint| joint.partner(part))
        .any(|it| matches!(mechanism.part(it).kind, mechanism::Kind::Rack { .. }));
    let Some(mechanism::Count::Known(teeth)) = coupling::count(&mechanism.part(part).kind) else {
        return None;
    };
    if !on_rack {
        return None;
    }
    let tooth_size_mm = diameter.divided_by(number::Number::from(teeth)).ok()?;
    sized(mechanism, part, tooth_size_mm)
}

/// A centre distance in place of an earlier one; tooth sizes that do not agree give
/// way.
fn apart(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    mm: number::Number,
) -> Option<mechanism::Mechanism> {
    let mut after = mechanism.clone();
    after.givens.retain(|given| match given {
        mechanism::Given::Apart {
            first: one,
            second: other,
            ..
        } => (*one, *other) != (first, second) && (*other, *one) != (first, second),
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::TakenOut { .. } => true,
    });
    after
        .givens
        .push(mechanism::Given::Apart { first, second, mm });
    if !solve::faults(&after).is_empty() {
        for it in size::meshing(mechanism, first) {
            after.parts[it.index()].tooth_size_mm = None;
        }
    }
    checked(mechanism, after)
}

/// A ratio of turns in place of what the parts say, as a belt over two pulleys of
/// such diameters; the sense stays. One joint on the way takes it all, if its two
/// parts touch nothing else.
///
/// Source: turns go inversely as diameters (see `walk`).
fn geared(
    mechanism: &mechanism::Mechanism,
    (first, second): (mechanism::PartId, mechanism::PartId),
    (first_turns, second_turns): (number::Number, number::Number),
) -> Option<mechanism::Mechanism> {
    let motions = motion::settle(mechanism, &mut Vec::new()).ok()?;
    let way = motions.walk.way(first, second)?;
    let touches_once = |part: mechanism::PartId| {
        mechanism
            .joints
            .iter()
            .filter(|joint| joint.partner(part).is_some())
            .count()
            == 1
    };
    let hop = way.iter().find(|hop| {
        touches_once(hop.from)
            && touches_once(hop.to)
            && motions.walk.couplings[hop.joint].turning != coupling::Turning::Unseen
            && !motions.walk.couplings[hop.joint].rigid
            && [hop.from, hop.to]
                .iter()
                .all(|&part| !matches!(mechanism.part(part).kind, mechanism::Kind::Rack { .. }))
    })?;
    let (near, far) = (motions.walk.at(hop.from), motions.walk.at(hop.to));
    let (start, end) = (motions.walk.at(first), motions.walk.at(second));
    if [near, far, start, end]
        .iter()
        .any(|it| it.power != start.power)
    {
        return None;
    }
    // from's turns : to's turns on this joint, so that the whole way is as answered.
    let share = |one: number::Number, other: number::Number| {
        one.magnitude().divided_by(other.magnitude()).ok()
    };
    let whole_way = share(start.ratio, end.ratio)?;
    let joint = share(near.ratio, far.ratio)?;
    let wanted = share(first_turns, second_turns)?;
    let here = joint.times(wanted.divided_by(whole_way).ok()?).ok()?;
    let mut after = mechanism.clone();
    for (part, diameter_mm) in [(hop.from, number::Number::ONE), (hop.to, here)] {
        let part = &mut after.parts[part.index()];
        part.kind = mechanism::Kind::Pulley { diameter_mm };
        part.tooth_size_mm = None;
    }
    after.joints[hop.joint].link =
        if motions.walk.couplings[hop.joint].turning == coupling::Turning::Opposite {
            mechanism::Link::CrossedBelt
        } else {
            mechanism::Link::Belt
        };
    let parts = [hop.from, hop.to];
    drop_apart(&mut after, &parts);

    checked(mechanism, after)
}
