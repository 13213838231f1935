//! The entries of short lists of answers, with the wordings that mean them.
//!
//! Wordings are given without articles, pronouns and helping words: the reader
//! leaves those out of an answer before it compares.

use crate::answer::ListOption;
use crate::gears::ask;
use crate::gears::mechanism;

fn option(fact: ask::Fact, text: &str, also: &str, perhaps: &str) -> ListOption {
    ListOption {
        fact,
        text: text.to_owned(),
        also: listed(also),
        perhaps: listed(perhaps),
    }
}

/// The wordings between the commas.
fn listed(text: &str) -> Vec<String> {
    text.split(", ")
        .filter(|wording| !wording.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The label of a part with what sort of thing it is, such as `gear A`.
fn noun(kind: &mechanism::Kind) -> &'static str {
    match kind {
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. } => "gear",
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

/// The two ways that a part can move.
pub(in crate::answer) fn directions(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> Vec<ListOption> {
    let slides = super::find(mechanism, part)
        .is_some_and(|part| matches!(part.kind, mechanism::Kind::Rack { .. }));
    let senses = if slides {
        [mechanism::Sense::Left, mechanism::Sense::Right]
    } else {
        [mechanism::Sense::Clockwise, mechanism::Sense::Anticlockwise]
    };
    senses
        .into_iter()
        .map(|sense| option(ask::Fact::Sense(sense), sense_text(sense), "", ""))
        .collect()
}

/// A direction as printed.
pub(in crate::answer) fn sense_text(sense: mechanism::Sense) -> &'static str {
    match sense {
        mechanism::Sense::Clockwise => "clockwise",
        mechanism::Sense::Anticlockwise => "anticlockwise",
        mechanism::Sense::Left => "left",
        mechanism::Sense::Right => "right",
    }
}

/// Yes, or no.
pub(in crate::answer) fn yes_no() -> Vec<ListOption> {
    vec![
        option(ask::Fact::YesNo(true), "yes", "", ""),
        option(ask::Fact::YesNo(false), "no", "", ""),
    ]
}

/// One of two parts, or neither.
pub(in crate::answer) fn which_of(
    mechanism: &mechanism::Mechanism,
    parts: (mechanism::PartId, mechanism::PartId),
) -> Vec<ListOption> {
    let named = |part: mechanism::PartId| {
        let name = super::label(mechanism, part);
        match super::find(mechanism, part) {
            Some(part) => format!("{} {name}", noun(&part.kind)),
            None => name,
        }
    };
    vec![
        option(ask::Fact::Which(ask::Which::First), &named(parts.0), "", ""),
        option(
            ask::Fact::Which(ask::Which::Second),
            &named(parts.1),
            "",
            "",
        ),
        option(ask::Fact::Which(ask::Which::Same), "the same", "", ""),
    ]
}

/// What a gear does in a train.
pub(super) fn jobs() -> Vec<ListOption> {
    vec![
        option(
            ask::Fact::Job(ask::Job::Drive),
            "drive gear",
            "drive, driver, driver gear, driving gear, driving, input, input gear",
            "drives, first gear, drive wheel, motor",
        ),
        option(
            ask::Fact::Job(ask::Job::Driven),
            "driven gear",
            "driven, output, output gear, follower, follower gear, driven wheel",
            "last gear, following gear",
        ),
        option(
            ask::Fact::Job(ask::Job::Idler),
            "idler",
            "idler gear, idle gear, idle, idling gear, idling, intermediate gear, intermediate, \
             idler wheel",
            "idol, middle gear, middle, connector, changes direction, change direction, connects, \
             drives and is driven, is driven and drives",
        ),
    ]
}

/// The names to choose from: those of the same family, so that the list does not
/// give the answer away.
pub(super) fn names(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Vec<ListOption> {
    use ask::PartName;
    let has_teeth = super::find(mechanism, part).is_none_or(|part| match part.kind {
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. } => true,
        mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => false,
    });
    let family: &[PartName] = if has_teeth {
        &[
            PartName::SpurGear,
            PartName::RingGear,
            PartName::BevelGear,
            PartName::Worm,
            PartName::Rack,
            PartName::Pinion,
            PartName::Sprocket,
            PartName::Pulley,
        ]
    } else {
        &[
            PartName::Handle,
            PartName::Drum,
            PartName::RoadWheel,
            PartName::Motor,
            PartName::Dynamo,
            PartName::Carrier,
            PartName::Pulley,
        ]
    };
    let mut options: Vec<ListOption> = family.iter().map(|name| name_option(*name)).collect();
    // A planet gear is a spur gear by its teeth, and a planet by what it does.
    let is_planet = super::find(mechanism, part).is_some_and(|part| part.rides_on.is_some());
    for option in &mut options {
        if is_planet && option.fact == ask::Fact::Name(PartName::SpurGear) {
            option
                .also
                .extend(listed("planet, planet gear, planetary gear, planet wheel"));
        }
    }
    options
}

fn name_option(name: ask::PartName) -> ListOption {
    use ask::PartName;
    let (also, perhaps) = match name {
        PartName::SpurGear => (
            "spur, spur wheel, spur cog",
            "gear, gear wheel, cog, cog wheel, cogwheel, gearwheel",
        ),
        PartName::RingGear => (
            "ring, internal gear, annulus, ring wheel, internal ring gear, internal ring",
            "inside gear, internal",
        ),
        PartName::BevelGear => (
            "bevel, bevel wheel, mitre gear, mitre, bevelled gear, beveled gear, bevelled, bevil gear, bevil, bevel cog",
            "cone gear, conical gear",
        ),
        PartName::Worm => ("worm gear, worm screw", ""),
        PartName::Rack => (
            "gear rack, toothed rack, rack bar, rak, wrack, rackk, rack gear",
            "bar, rack and pinion",
        ),
        PartName::Pinion => ("pinion gear, pinion wheel", ""),
        PartName::Sprocket => (
            "chain wheel, chainwheel, sprocket wheel, chain sprocket, chain ring, sprocket gear",
            "chain gear",
        ),
        PartName::Pulley => (
            "pulley wheel, belt pulley, belt wheel, pulie, puly, pully, puley, pullie",
            "",
        ),
        PartName::Handle => ("crank, crank handle, winding handle", "lever"),
        PartName::Drum => ("winch drum, winch, winding drum", "barrel, spool, reel"),
        PartName::RoadWheel => ("road wheel, rolling wheel", "tyre"),
        PartName::Motor => ("electric motor", "engine"),
        PartName::Dynamo => ("generator", ""),
        PartName::Carrier => ("planet carrier, carrier arm", "arm"),
    };
    option(ask::Fact::Name(name), name_text(name), also, perhaps)
}

/// A part's name as printed.
pub(in crate::answer) fn name_text(name: ask::PartName) -> &'static str {
    use ask::PartName;
    match name {
        PartName::SpurGear => "spur gear",
        PartName::RingGear => "ring gear",
        PartName::BevelGear => "bevel gear",
        PartName::Worm => "worm",
        PartName::Rack => "rack",
        PartName::Pinion => "pinion",
        PartName::Sprocket => "sprocket",
        PartName::Pulley => "pulley",
        PartName::Handle => "handle",
        PartName::Drum => "drum",
        PartName::RoadWheel => "wheel",
        PartName::Motor => "motor",
        PartName::Dynamo => "dynamo",
        PartName::Carrier => "carrier",
    }
}
