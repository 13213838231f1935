//! Parts, kinds, jobs and directions by name.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::wording::numbers;

/// Returns a part's kind and name: `gear B`.
pub(crate) fn name(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> String {
    match mechanism.parts.get(usize::from(part.0)) {
        Some(part) => format!("{} {}", kind(&part.kind), part.name),
        None => "a part that is not there".to_owned(),
    }
}

/// Returns a part's kind and name at the start of a sentence: `Gear B`.
pub(crate) fn capital_name(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> String {
    capital(&name(mechanism, part))
}

/// Returns a text with its first letter as a capital.
pub(crate) fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(signs).collect()
    })
}

/// Returns a list said with `and`: `A, B and C`.
pub(crate) fn list(names: &[String]) -> String {
    match names.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

/// Returns several parts said with `and`: `gear A, gear B and gear C`.
pub(crate) fn names(mechanism: &mechanism::Mechanism, parts: &[mechanism::PartId]) -> String {
    let names: Vec<String> = parts.iter().map(|part| name(mechanism, *part)).collect();
    list(&names)
}

/// Returns a part with its size: `gear B with 36 teeth`.
pub(crate) fn with_size(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> String {
    let name = name(mechanism, part);
    let Some(part) = mechanism.parts.get(usize::from(part.0)) else {
        return name;
    };
    match &part.kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => match teeth {
            mechanism::Count::Known(1) => format!("{name} with 1 tooth"),
            mechanism::Count::Known(count) => format!("{name} with {count} teeth"),
            mechanism::Count::Unknown => format!("{name} with an unknown number of teeth"),
        },
        mechanism::Kind::Worm { starts } => match starts {
            mechanism::Count::Known(1) => format!("{name} with 1 start"),
            mechanism::Count::Known(count) => format!("{name} with {count} starts"),
            mechanism::Count::Unknown => format!("{name} with an unknown number of starts"),
        },
        mechanism::Kind::Pulley { diameter_mm }
        | mechanism::Kind::Drum { diameter_mm }
        | mechanism::Kind::Roller { diameter_mm } => {
            format!("{name} ({} mm across)", numbers::plain(*diameter_mm))
        }
        mechanism::Kind::Handle { arm_mm: Some(arm) } => {
            format!("{name} ({} mm long)", numbers::plain(*arm))
        }
        mechanism::Kind::Handle { arm_mm: None }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => name,
    }
}

/// Returns the word for a kind of part.
pub(crate) fn kind(kind: &mechanism::Kind) -> &'static str {
    match kind {
        mechanism::Kind::Gear { .. } => "gear",
        mechanism::Kind::Ring { .. } => "ring gear",
        mechanism::Kind::Bevel { .. } => "bevel gear",
        mechanism::Kind::Worm { .. } => "worm",
        mechanism::Kind::Rack { .. } => "rack",
        mechanism::Kind::Sprocket { .. } => "sprocket",
        mechanism::Kind::Pulley { .. } => "pulley",
        mechanism::Kind::Handle { .. } => "handle",
        mechanism::Kind::Drum { .. } => "drum",
        mechanism::Kind::Roller { .. } => "wheel",
        mechanism::Kind::Motor => "motor",
        mechanism::Kind::Dynamo => "dynamo",
        mechanism::Kind::Carrier => "carrier",
    }
}

/// Returns the trade's name of a part.
pub(crate) fn trade_name(name: ask::PartName) -> &'static str {
    match name {
        ask::PartName::SpurGear => "spur gear",
        ask::PartName::RingGear => "ring gear",
        ask::PartName::BevelGear => "bevel gear",
        ask::PartName::Worm => "worm",
        ask::PartName::Rack => "rack",
        ask::PartName::Pinion => "pinion",
        ask::PartName::Sprocket => "sprocket",
        ask::PartName::Pulley => "pulley",
        ask::PartName::Handle => "handle",
        ask::PartName::Drum => "drum",
        ask::PartName::RoadWheel => "wheel",
        ask::PartName::Motor => "motor",
        ask::PartName::Dynamo => "dynamo",
        ask::PartName::Carrier => "carrier",
    }
}

/// Returns the job of a gear.
pub(crate) fn job(job: ask::Job) -> &'static str {
    match job {
        ask::Job::Drive => "drive gear",
        ask::Job::Driven => "driven gear",
        ask::Job::Idler => "idler",
    }
}

/// Returns a direction.
pub(crate) fn sense(sense: mechanism::Sense) -> &'static str {
    match sense {
        mechanism::Sense::Clockwise => "clockwise",
        mechanism::Sense::Anticlockwise => "anticlockwise",
        mechanism::Sense::Left => "left",
        mechanism::Sense::Right => "right",
    }
}

/// Returns a direction as it stands after a verb: `clockwise`, `to the left`.
pub(crate) fn way(sense: mechanism::Sense) -> &'static str {
    match sense {
        mechanism::Sense::Clockwise => "clockwise",
        mechanism::Sense::Anticlockwise => "anticlockwise",
        mechanism::Sense::Left => "to the left",
        mechanism::Sense::Right => "to the right",
    }
}

/// Whether a part slides.
pub(crate) fn slides(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> bool {
    mechanism
        .parts
        .get(usize::from(part.0))
        .is_some_and(|part| kind(&part.kind) == "rack")
}
