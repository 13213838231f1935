//! A movement supposed where none is given: the drive turns once.

use crate::gears::mechanism;
use crate::number;

/// A mechanism with a movement that was not given.
pub(super) struct Supposed {
    pub(super) mechanism: mechanism::Mechanism,
    /// The movement supposed.
    pub(super) given: mechanism::Given,
}

/// How far a rack that drives is supposed to move.
const RACK_MM: i64 = 100;

/// Returns the mechanism with its drive turning once; nothing where a movement is
/// given already or a count is still to be found from one.
pub(super) fn with_movement(mechanism: &mechanism::Mechanism) -> Option<Supposed> {
    let moves = mechanism.givens.iter().any(|given| match given {
        mechanism::Given::Motion { amount, .. } => amount.is_some(),
        mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => false,
    });
    if moves || mechanism.parts.iter().any(is_unknown) {
        return None;
    }
    let (part, slides) = drive(mechanism)?;
    let amount = if slides {
        mechanism::Amount::Millimetres(number::Number::whole(RACK_MM).into())
    } else {
        mechanism::Amount::Turns(number::Number::ONE)
    };
    let given = mechanism::Given::Motion {
        part,
        amount: Some(amount),
        sense: None,
    };
    let mut mechanism = mechanism.clone();
    mechanism.givens.push(given.clone());
    Some(Supposed { mechanism, given })
}

/// The part that drives and whether it slides: on the first body that drives and is
/// not driven or held, the handle, motor or whatever comes first.
fn drive(mechanism: &mechanism::Mechanism) -> Option<(mechanism::PartId, bool)> {
    let body = |part: mechanism::PartId| {
        let part = mechanism.parts.get(usize::from(part.0));
        part.map(|part| part.body)
    };
    let held: Vec<Option<mechanism::BodyId>> = mechanism
        .givens
        .iter()
        .filter_map(|given| match given {
            mechanism::Given::Held(part) => Some(body(*part)),
            mechanism::Given::Motion { .. }
            | mechanism::Given::Minutes(_)
            | mechanism::Given::Force { .. }
            | mechanism::Given::TurningForce { .. }
            | mechanism::Given::Efficiency(_)
            | mechanism::Given::Apart { .. }
            | mechanism::Given::TakenOut { .. } => None,
        })
        .collect();
    let driven: Vec<Option<mechanism::BodyId>> = mechanism
        .joints
        .iter()
        .map(|joint| body(joint.second))
        .chain(held)
        .collect();
    let driving = mechanism
        .joints
        .iter()
        .map(|joint| body(joint.first))
        .find(|body| !driven.contains(body))
        .or_else(|| mechanism.joints.first().map(|joint| body(joint.first)))
        .unwrap_or_else(|| mechanism.parts.first().map(|part| part.body))?;
    let members = || {
        mechanism
            .parts
            .iter()
            .enumerate()
            .filter(move |(_, part)| part.body == driving)
    };
    let (index, part) = members()
        .find(|(_, part)| is_drive(&part.kind))
        .or_else(|| members().next())?;
    let slides = match part.kind {
        mechanism::Kind::Rack { .. } => true,
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => false,
    };
    Some((mechanism::PartId(u16::try_from(index).ok()?), slides))
}

/// Whether a hand or a motor turns this kind of part.
fn is_drive(kind: &mechanism::Kind) -> bool {
    match kind {
        mechanism::Kind::Handle { .. } | mechanism::Kind::Motor => true,
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => false,
    }
}

/// Whether a part has a count that is still to be found.
pub(super) fn is_unknown(part: &mechanism::Part) -> bool {
    match part.kind {
        mechanism::Kind::Gear { teeth: count }
        | mechanism::Kind::Ring { teeth: count }
        | mechanism::Kind::Bevel { teeth: count }
        | mechanism::Kind::Sprocket { teeth: count }
        | mechanism::Kind::Worm { starts: count } => count == mechanism::Count::Unknown,
        mechanism::Kind::Rack { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    #[test]
    fn the_drive_turns_once_where_nothing_is_said() {
        for (lines, drive) in [
            (&["gear A 12 drives gear B 36"][..], Some("A turns 1")),
            (
                &["gear A 12 drives gear B 36", "B turns clockwise"],
                Some("A turns 1"),
            ),
            (
                &["gear A 12, handle H on one axle", "A drives gear B 36"],
                Some("H turns 1"),
            ),
            (&["rack R drives gear B 36"], Some("R moves 100 mm")),
            (
                &[
                    "ring R 60 drives gear P 12 drives gear S 30",
                    "R held still",
                ],
                Some("R turns 1"),
            ),
            (&["gear A 12 drives gear B 36", "A runs at 20 rpm"], None),
            (&["gear A 12 drives gear B ?"], None),
        ] {
            let mechanism = notation::read(lines).expect("well formed");
            let supposed = with_movement(&mechanism);
            let line = supposed.and_then(|it| notation::write(&it.mechanism).pop());
            assert_eq!(line.as_deref(), drive, "{lines:?}");
        }
    }
}
