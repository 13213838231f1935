//! Steps that give a reason rather than a number.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::step;
use crate::wording::numbers;
use crate::wording::parts;
use crate::wording::step::Known;

/// Changes of direction between two parts.
pub(super) fn count_meshes(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::CountMeshes { from, to, meshes } = step else {
        return String::new();
    };
    let (from, to) = (parts::name(mechanism, *from), parts::name(mechanism, *to));
    let times = match meshes {
        0 => {
            return format!(
                "From {from} to {to} the direction never changes: both turn the same way."
            );
        }
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        more => format!("{more} times"),
    };
    let (parity, way) = if meshes.is_multiple_of(2) {
        ("even", "the same way")
    } else {
        ("odd", "opposite ways")
    };
    format!(
        "From {from} to {to} the direction changes {times}, an {parity} number: they turn {way}."
    )
}

/// A closed loop that can turn, or not.
pub(super) fn closed_loop(
    mechanism: &mechanism::Mechanism,
    loop_parts: &[mechanism::PartId],
    turns: bool,
) -> String {
    let names = parts::capital(&parts::names(mechanism, loop_parts));
    if turns {
        format!("{names} form a closed loop; all round it the movements agree, so it can turn.")
    } else {
        format!("{names} form a closed loop; round it the movements do not agree, so it is locked.")
    }
}

/// Two parts compared.
pub(super) fn compare(
    mechanism: &mechanism::Mechanism,
    step: &step::Step,
    known: &Known,
) -> String {
    let by_force = known.compares_force(step);
    let step::Step::Compare {
        first,
        second,
        first_moves,
        second_moves,
    } = step
    else {
        return String::new();
    };
    let (first, second) = (
        parts::name(mechanism, *first),
        parts::name(mechanism, *second),
    );
    if first_moves == second_moves {
        return format!("{} and {second} come out the same.", parts::capital(&first));
    }
    let (unit, verb) = match (by_force, known.movement) {
        (true, _) => (ask::Unit::NewtonCentimetres, ""),
        (false, ask::Unit::Millimetres) => (ask::Unit::Millimetres, "moves"),
        (false, unit) => (unit, "makes"),
    };
    let (one, two) = (
        numbers::with_unit(*first_moves, unit),
        numbers::with_unit(*second_moves, unit),
    );
    if by_force {
        format!(
            "The slower turns with more force: for {one} at {first} there are {two} at {second}."
        )
    } else {
        format!("While {first} {verb} {one}, {second} {verb} {two}.")
    }
}

/// What a part does: who drives it and whom it drives.
pub(super) fn role(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    driven_by: Option<mechanism::PartId>,
    drives: Option<mechanism::PartId>,
) -> String {
    let name = parts::capital_name(mechanism, part);
    let other = |part: mechanism::PartId| parts::name(mechanism, part);
    match (driven_by, drives) {
        (None, None) => format!("Look closely at {}.", other(part)),
        (None, Some(next)) => {
            format!("{name} drives {} and no other part drives it.", other(next))
        }
        (Some(before), None) => {
            format!(
                "{name} is driven by {} and drives no other part.",
                other(before)
            )
        }
        (Some(before), Some(next)) => {
            format!(
                "{name} is driven by {} and drives {}.",
                other(before),
                other(next)
            )
        }
    }
}
