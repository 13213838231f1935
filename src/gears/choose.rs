//! Gears chosen from a box: every choice is put in and solved.

use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::gears::step;

/// The most choices that are tried.
const MOST_TRIED: usize = 200_000;

/// Returns every right choice: each in the order of `parts`, the choices in the order
/// of the box; the same numbers only once.
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] for a part whose count is not to be found,
/// [`fault::Fault::TooManyUnknowns`] when others are to be found too or there are too
/// many choices to try.
pub(super) fn choices(
    mechanism: &mechanism::Mechanism,
    parts: &[mechanism::PartId],
    from: &[u32],
    steps: &mut Vec<step::Step>,
) -> Result<Vec<Vec<u32>>, fault::Fault> {
    for &part in parts {
        if coupling::count(&mechanism.part(part).kind) != Some(mechanism::Count::Unknown) {
            return Err(fault::Fault::CannotAsk {
                part,
                what: "a choice of its teeth",
            });
        }
    }
    let unknown = mechanism
        .parts
        .iter()
        .filter(|part| coupling::count(&part.kind) == Some(mechanism::Count::Unknown))
        .count();
    let mut tries: usize = 1;
    for place in 0..parts.len() {
        tries = tries.saturating_mul(from.len().saturating_sub(place));
    }
    if unknown != parts.len() || tries > MOST_TRIED {
        return Err(fault::Fault::TooManyUnknowns);
    }
    let mut found = Vec::new();
    let mut filled = mechanism.clone();
    try_next(&mut filled, parts, from, &mut Vec::new(), &mut found);
    for teeth in &found {
        steps.push(step::Step::Chosen {
            parts: parts.to_vec(),
            teeth: teeth.clone(),
        });
    }
    Ok(found)
}

/// Puts every gear that is left in the box in the next place.
fn try_next(
    filled: &mut mechanism::Mechanism,
    parts: &[mechanism::PartId],
    from: &[u32],
    used: &mut Vec<usize>,
    found: &mut Vec<Vec<u32>>,
) {
    let Some(&part) = parts.get(used.len()) else {
        let teeth: Vec<u32> = used.iter().map(|&index| from[index]).collect();
        if !found.contains(&teeth) && solve::faults(filled).is_empty() {
            found.push(teeth);
        }
        return;
    };
    for (index, &teeth) in from.iter().enumerate() {
        if used.contains(&index) {
            continue;
        }
        set_count(filled, part, teeth);
        used.push(index);
        try_next(filled, parts, from, used, found);
        used.pop();
    }
}

/// Puts a count of teeth or starts in a part that has such.
pub(super) fn set_count(mechanism: &mut mechanism::Mechanism, part: mechanism::PartId, count: u32) {
    let known = mechanism::Count::Known(count);
    match &mut mechanism.parts[part.index()].kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => *teeth = known,
        mechanism::Kind::Worm { starts } => *starts = known,
        mechanism::Kind::Rack { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => {}
    }
}
