//! What is wrong with a mechanism, in the trade's words.

use crate::gears::fault;
use crate::gears::mechanism;
use crate::wording::numbers;
use crate::wording::parts;

/// Returns one fault, lower case, no full stop.
pub(crate) fn said(mechanism: &mechanism::Mechanism, fault: &fault::Fault) -> String {
    let name = |part: mechanism::PartId| parts::name(mechanism, part);
    match fault {
        fault::Fault::NotConnected { part } => {
            format!("nothing joins {} to the part that is driven", name(*part))
        }
        fault::Fault::Locked { parts } => format!(
            "{} form a closed loop that is locked: it cannot turn",
            parts::names(mechanism, parts)
        ),
        fault::Fault::DrivenTwice { part } => format!(
            "{} is driven twice, and not in the same way: the two do not agree",
            name(*part)
        ),
        fault::Fault::TeethDoNotFit { first, second } => format!(
            "the teeth of {} and {} do not fit: their tooth sizes differ",
            name(*first),
            name(*second)
        ),
        fault::Fault::CannotMesh { first, second } => cannot_mesh(mechanism, *first, *second),
        fault::Fault::CannotShareAxle { first, second } => format!(
            "{} slides and cannot be on one axle with {}",
            name(*first),
            name(*second)
        ),
        fault::Fault::WormWillNotBeDriven { worm } => format!(
            "{} has a single start: the gear it meshes with cannot drive it",
            name(*worm)
        ),
        fault::Fault::BadCount { part, found } => {
            format!("{} cannot be made: found a count of {found}", name(*part))
        }
        fault::Fault::NotPositive { what } => format!("{what}: wanted more than nought"),
        fault::Fault::TooEfficient { found } => format!(
            "found an efficiency of {}: no mesh passes on more than the whole of the work",
            numbers::plain(*found)
        ),
        fault::Fault::DirectionUnknown { part } => format!(
            "the direction of {} is not known: past a worm it depends on the side it is seen from",
            name(*part)
        ),
        fault::Fault::NotEnoughGiven { what } => format!("not enough is given: wanted {what}"),
        fault::Fault::TooManyUnknowns => "more than one count is unknown".to_owned(),
        fault::Fault::NotWhole { what, value } => format!(
            "found {} {what}, wanted a whole number",
            numbers::value(*value)
        ),
        fault::Fault::CannotAsk { part, what } => {
            format!("{what} does not fit {}", name(*part))
        }
        fault::Fault::Number(error) => error.to_string(),
    }
}

/// Returns what to do about one fault; empty where that goes without saying.
pub(crate) fn hint(fault: &fault::Fault) -> &'static str {
    match fault {
        fault::Fault::NotConnected { .. } => {
            "say what drives it, or put it on one axle with another part"
        }
        fault::Fault::Locked { .. } => {
            "take one mesh out of the loop, or put one more gear into it"
        }
        fault::Fault::DrivenTwice { .. } => "leave one of the movements out",
        fault::Fault::TeethDoNotFit { .. } => "give both the same tooth size",
        fault::Fault::CannotMesh { .. } => "check the kinds of the two parts and their sizes",
        fault::Fault::CannotShareAxle { .. } => "let the rack mesh with a gear instead",
        fault::Fault::WormWillNotBeDriven { .. } => {
            "let the worm drive the gear, or give the worm more starts"
        }
        fault::Fault::BadCount { .. } => "use a number of teeth or starts that can be made",
        fault::Fault::DirectionUnknown { .. } => {
            "ask for turns or speed instead, or give the direction of a part past the worm"
        }
        fault::Fault::TooManyUnknowns => {
            "write all but one of the ? as numbers, or give a box to choose from"
        }
        fault::Fault::NotWhole { .. } => "change a given number so that it comes out whole",
        fault::Fault::CannotAsk { .. } => "ask about another part, or ask something else of it",
        fault::Fault::Number(_) => "use smaller numbers",
        fault::Fault::NotPositive { .. }
        | fault::Fault::TooEfficient { .. }
        | fault::Fault::NotEnoughGiven { .. } => "",
    }
}

fn cannot_mesh(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
) -> String {
    let is_ring = |part: mechanism::PartId| match mechanism.parts.get(usize::from(part.0)) {
        Some(mechanism::Part {
            kind: mechanism::Kind::Ring { .. },
            ..
        }) => true,
        Some(_) | None => false,
    };
    let (first_name, second_name) = (
        parts::name(mechanism, first),
        parts::name(mechanism, second),
    );
    let does_not_fit = |inner: &str, ring: &str| {
        format!(
            "{inner} does not fit inside {ring}: a ring gear needs more teeth than the gear in it"
        )
    };
    match (is_ring(first), is_ring(second)) {
        (true, false) => does_not_fit(&second_name, &first_name),
        (false, true) => does_not_fit(&first_name, &second_name),
        (true, true) | (false, false) => {
            format!("{first_name} and {second_name} cannot mesh")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    #[test]
    fn faults_name_the_parts() {
        let mechanism =
            notation::read(&["gear A 12 drives ring R 10", "worm W 1 start"]).expect("well formed");
        let part = mechanism::PartId;
        for (fault, text) in [
            (
                fault::Fault::NotConnected { part: part(2) },
                "nothing joins worm W to the part that is driven",
            ),
            (
                fault::Fault::Locked {
                    parts: vec![part(0), part(1), part(2)],
                },
                "gear A, ring gear R and worm W form a closed loop that is locked: it cannot turn",
            ),
            (
                fault::Fault::CannotMesh {
                    first: part(0),
                    second: part(1),
                },
                "gear A does not fit inside ring gear R: a ring gear needs more teeth than the gear in it",
            ),
            (
                fault::Fault::CannotMesh {
                    first: part(0),
                    second: part(2),
                },
                "gear A and worm W cannot mesh",
            ),
        ] {
            assert_eq!(said(&mechanism, &fault), text);
        }
    }
}
