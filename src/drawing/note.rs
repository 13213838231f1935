//! What is written and shown beside the parts: labels, and arrows where a direction
//! is told or asked. Never what the answer is.

use crate::gears::ask;
use crate::gears::mechanism;

/// What is shown of a mechanism about which something is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Notes {
    /// Each part's label: its name, and what stands beside it.
    pub(super) labels: Vec<(mechanism::PartId, String, String)>,
    /// The directions that are told.
    pub(super) arrows: Vec<(mechanism::PartId, mechanism::Sense)>,
    /// The parts whose direction is asked.
    pub(super) asked: Vec<mechanism::PartId>,
    /// The parts whose name is asked: what they are is not said.
    pub(super) unnamed: Vec<mechanism::PartId>,
}

/// Returns what to show.
pub(super) fn notes(mechanism: &mechanism::Mechanism, asks: &[ask::Ask]) -> Notes {
    let unnamed: Vec<mechanism::PartId> = asks.iter().filter_map(name_asked).collect();
    let told = told(mechanism);
    let asked: Vec<mechanism::PartId> = asks
        .iter()
        .filter_map(direction_asked)
        .filter(|part| told.iter().all(|(told, _)| told != part))
        .collect();
    let labels = mechanism
        .numbered()
        .map(|(id, part)| {
            let size = if unnamed.contains(&id) {
                String::new()
            } else {
                detail(&part.kind)
            };
            let is_held = mechanism.givens.contains(&mechanism::Given::Held(id));
            let held = if is_held { "held still" } else { "" };
            let comma = if is_held && !size.is_empty() {
                ", "
            } else {
                ""
            };
            let detail = format!("{size}{comma}{held}");
            (id, part.name.clone(), detail)
        })
        .collect();
    Notes {
        labels,
        arrows: told,
        asked,
        unnamed,
    }
}

/// The directions that are told, one a part; none for a part told both ways, as two
/// parts of one question may.
fn told(mechanism: &mechanism::Mechanism) -> Vec<(mechanism::PartId, mechanism::Sense)> {
    let mut told: Vec<(mechanism::PartId, mechanism::Sense)> = Vec::new();
    let mut both = Vec::new();
    for given in &mechanism.givens {
        if let mechanism::Given::Motion {
            part,
            sense: Some(sense),
            ..
        } = given
        {
            match told.iter().find(|(it, _)| it == part) {
                Some((_, before)) if before != sense => both.push(*part),
                Some(_) => {}
                None => told.push((*part, *sense)),
            }
        }
    }
    told.retain(|(part, _)| !both.contains(part));
    told
}

fn name_asked(ask: &ask::Ask) -> Option<mechanism::PartId> {
    if let ask::Ask::Name(part) = ask {
        Some(*part)
    } else {
        None
    }
}

fn direction_asked(ask: &ask::Ask) -> Option<mechanism::PartId> {
    if let ask::Ask::Direction(part) = ask {
        Some(*part)
    } else {
        None
    }
}

/// What stands beside a part's name.
fn detail(kind: &mechanism::Kind) -> String {
    let counted = |count: mechanism::Count, one: &str, many: &str| match count {
        mechanism::Count::Known(1) => format!("1 {one}"),
        mechanism::Count::Known(count) => format!("{count} {many}"),
        mechanism::Count::Unknown => format!("? {many}"),
    };
    let length = |mm: crate::number::Number| format!("{} mm", crate::wording::number(mm.into()));
    match kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => counted(*teeth, "tooth", "teeth"),
        mechanism::Kind::Worm { starts } => counted(*starts, "start", "starts"),
        mechanism::Kind::Pulley { diameter_mm }
        | mechanism::Kind::Drum { diameter_mm }
        | mechanism::Kind::Roller { diameter_mm } => length(*diameter_mm),
        mechanism::Kind::Handle { arm_mm } => arm_mm.map(length).unwrap_or_default(),
        mechanism::Kind::Motor => "motor".to_owned(),
        mechanism::Kind::Dynamo => "dynamo".to_owned(),
        mechanism::Kind::Rack { .. } | mechanism::Kind::Carrier => String::new(),
    }
}
