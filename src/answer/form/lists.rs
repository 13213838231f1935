//! The entries of short lists of answers, with the wordings that mean them.
//!
//! Wordings are given without articles, pronouns and helping words: the reader
//! leaves those out of an answer before it compares.

use crate::answer::ListOption;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;

/// Words that go with the one that is more, and with the one that is less.
pub(super) struct Comparison {
    more: &'static str,
    less: &'static str,
}

/// Which turns faster.
pub(super) const FASTER: Comparison = Comparison {
    more: "faster, fastest, quicker, quickest, fast, quick, more, most, more speed, most speed, \
           higher speed, highest speed, speedier",
    less: "slower, slowest, slow, fewer, less, least, fewest, less speed, lower speed",
};
/// Which has the greater turning force.
pub(super) const STRONGER: Comparison = Comparison {
    more: "stronger, strongest, more force, most force, bigger force, biggest force, \
           greater force, greatest force, larger force, more turning force, most turning force, \
           greater turning force, greatest turning force, bigger turning force, more torque, \
           more power, more powerful",
    less: "weaker, weakest, less force, least force, smaller force, smallest force, \
           less turning force, smaller turning force, least turning force, less torque",
};

const SAME_WAY: &str = "same way, same, same direction, same ways, same directions, together, \
                        alike, equal";
const OTHER_WAY: &str = "other way, opposite, opposite way, opposite ways, opposite direction, \
                         opposite directions, other direction, different, different way, \
                         different ways, different direction, different directions, reverse, \
                         reversed, reverse way, reverse direction, not same way, not same, \
                         not same direction, opposites, other way round, other way around, \
                         against each other";

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
///
/// Where one part's way is told, "the same way" and "the other way" are read: as
/// plain beside that part; further along "the other way" may mean "other than the
/// gear before", so there a person looks.
pub(super) fn directions(
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
    let told = told_sense(mechanism);
    senses
        .into_iter()
        .map(|sense| {
            let text = sense_text(sense);
            let Some((told_of, other)) = told else {
                return option(ask::Fact::Sense(sense), text, "", "");
            };
            let words = match (is_rotation(sense), is_rotation(other)) {
                (true, true) | (false, false) if sense == other => SAME_WAY,
                (true, true) | (false, false) => OTHER_WAY,
                (true, false) | (false, true) => "",
            };
            if are_joined(mechanism, told_of, part) {
                option(ask::Fact::Sense(sense), text, words, "")
            } else {
                option(ask::Fact::Sense(sense), text, "", words)
            }
        })
        .collect()
}

/// The one part whose way is told, with its way.
fn told_sense(mechanism: &mechanism::Mechanism) -> Option<(mechanism::PartId, mechanism::Sense)> {
    let mut told = mechanism.givens.iter().filter_map(|given| match given {
        mechanism::Given::Motion {
            part,
            sense: Some(sense),
            ..
        } => Some((*part, *sense)),
        mechanism::Given::Motion { sense: None, .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => None,
    });
    let first = told.next()?;
    told.next().is_none().then_some(first)
}

fn are_joined(
    mechanism: &mechanism::Mechanism,
    one: mechanism::PartId,
    other: mechanism::PartId,
) -> bool {
    let body = |part| super::find(mechanism, part).map(|part| part.body);
    let (one, other) = (body(one), body(other));
    mechanism.joints.iter().any(|joint| {
        let (first, second) = (body(joint.first), body(joint.second));
        (first == one && second == other) || (first == other && second == one)
    })
}

fn is_rotation(sense: mechanism::Sense) -> bool {
    match sense {
        mechanism::Sense::Clockwise | mechanism::Sense::Anticlockwise => true,
        mechanism::Sense::Left | mechanism::Sense::Right => false,
    }
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

/// Whether two parts turn the same way.
pub(super) fn same_way() -> Vec<ListOption> {
    vec![
        option(
            ask::Fact::YesNo(true),
            "yes",
            &format!("{SAME_WAY}, both clockwise, both anticlockwise"),
            "",
        ),
        option(ask::Fact::YesNo(false), "no", OTHER_WAY, ""),
    ]
}

/// Whether it can turn at all.
pub(super) fn will_it_turn() -> Vec<ListOption> {
    vec![
        option(
            ask::Fact::YesNo(true),
            "yes",
            "turn, turns, works, work, moves, move, spin, spins, rotate, rotates, possible",
            "turn freely, goes, free",
        ),
        option(
            ask::Fact::YesNo(false),
            "no",
            "locked, locks, lock, locks up, lock up, locked up, stuck, gets stuck, get stuck, \
             jammed, jams, jam, jam up, jams up, not turn, not turns, not work, not works, \
             not working, not move, not moves, not spin, not rotate, not fit, not possible, \
             impossible, not turning, not moving",
            "stops, broken, stop, breaks, blocked",
        ),
    ]
}

/// One of two parts, or neither.
pub(super) fn which_of(
    mechanism: &mechanism::Mechanism,
    parts: (mechanism::PartId, mechanism::PartId),
    comparison: &Comparison,
) -> Vec<ListOption> {
    vec![
        one_of_two(mechanism, parts, ask::Which::First, comparison),
        one_of_two(
            mechanism,
            (parts.1, parts.0),
            ask::Which::Second,
            comparison,
        ),
        ListOption {
            also: same_wordings(mechanism, parts),
            ..option(ask::Fact::Which(ask::Which::Same), "the same", "", "")
        },
    ]
}

/// Wordings that say that the two are equal.
fn same_wordings(
    mechanism: &mechanism::Mechanism,
    parts: (mechanism::PartId, mechanism::PartId),
) -> Vec<String> {
    let mut wordings = listed(
        "same, both, both same, neither, equal, both equal, same speed, both same speed, \
         equal speed, same force, both same force, none, neither of them, equally fast, \
         equally strong, no difference, equally, not either, both fast, both strong",
    );
    let (one, other) = (
        super::label(mechanism, parts.0),
        super::label(mechanism, parts.1),
    );
    for said in ["same", "equal", "same speed", "same force", "equal speed"] {
        for (one, other) in [(&one, &other), (&other, &one)] {
            wordings.push(format!("{one} {other} {said}"));
            wordings.push(format!("{one} {said} {other}"));
            wordings.push(format!("both {one} {other} {said}"));
        }
    }
    wordings
}

fn one_of_two(
    mechanism: &mechanism::Mechanism,
    (part, other_part): (mechanism::PartId, mechanism::PartId),
    which: ask::Which,
    comparison: &Comparison,
) -> ListOption {
    let (name, other) = (
        super::label(mechanism, part),
        super::label(mechanism, other_part),
    );
    let mut also = vec![name.clone()];
    for word in listed(comparison.more) {
        also.push(format!("{name} {word}"));
        also.push(format!("{name} {word} {other}"));
    }
    // "B is slower" says that A is the faster one.
    for word in listed(comparison.less) {
        also.push(format!("{other} {word}"));
        also.push(format!("{other} {word} {name}"));
    }
    also.extend(by_size(mechanism, part, other_part));
    ListOption {
        fact: ask::Fact::Which(which),
        text: match super::find(mechanism, part) {
            Some(part) => format!("{} {name}", noun(&part.kind)),
            None => name,
        },
        also,
        perhaps: Vec::new(),
    }
}

/// Wordings that name a part by its size, where the two differ.
fn by_size(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    other: mechanism::PartId,
) -> Vec<String> {
    let sizes = (size(mechanism, part), size(mechanism, other));
    let (Some(mine), Some(others)) = sizes else {
        return Vec::new();
    };
    let words = match mine.cmp(&others) {
        std::cmp::Ordering::Less => {
            "small, smaller, smallest, little, littler, littlest, tiny, small one, smaller one, \
             smallest one, little one, less teeth, fewer teeth, least teeth, fewest teeth"
        }
        std::cmp::Ordering::Greater => {
            "big, bigger, biggest, large, larger, largest, big one, bigger one, biggest one, \
             large one, larger one, largest one, more teeth, most teeth"
        }
        std::cmp::Ordering::Equal => return Vec::new(),
    };
    let mut wordings = listed(words);
    wordings.push(mine.to_string());
    wordings.push(format!("{mine} teeth"));
    // "A, it has less teeth" is not "A less".
    let name = super::label(mechanism, part);
    let named: Vec<String> = wordings
        .iter()
        .map(|words| format!("{name} {words}"))
        .collect();
    wordings.extend(named);
    wordings
}

/// Teeth, or a diameter in millimetres.
fn size(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Option<number::Number> {
    let count = |count: mechanism::Count| match count {
        mechanism::Count::Known(teeth) => Some(number::Number::from(teeth)),
        mechanism::Count::Unknown => None,
    };
    match &super::find(mechanism, part)?.kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => count(*teeth),
        mechanism::Kind::Pulley { diameter_mm }
        | mechanism::Kind::Drum { diameter_mm }
        | mechanism::Kind::Roller { diameter_mm } => Some(*diameter_mm),
        mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => None,
    }
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
            "middle gear, middle, connector, changes direction, change direction, connects",
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
    family.iter().map(|name| name_option(*name)).collect()
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
        PartName::BevelGear => ("bevel, bevel wheel, mitre gear, mitre", "cone gear"),
        PartName::Worm => ("worm gear, worm screw", "screw, worm wheel"),
        PartName::Rack => ("gear rack, toothed rack, rack bar", "bar, rack and pinion"),
        PartName::Pinion => ("pinion gear, pinion wheel", ""),
        PartName::Sprocket => (
            "chain wheel, chainwheel, sprocket wheel, chain sprocket, chain ring, sprocket gear",
            "chain gear",
        ),
        PartName::Pulley => ("pulley wheel, belt pulley, belt wheel", ""),
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
