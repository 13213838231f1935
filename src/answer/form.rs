//! What the answer to a question should look like.

use crate::answer::Form;
use crate::answer::ListOption;
use crate::answer::Unit;
use crate::answer::unit;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;

/// What a question says about the answer it wants.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted {
    /// The unit named, if any.
    pub(super) unit: Option<Unit>,
    /// How exactly.
    pub(super) precision: number::Precision,
    /// Whether a ratio is wanted in its simplest form.
    pub(super) simplest: bool,
}

/// Returns the form of the answer.
pub(super) fn form_for(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    wanted: Wanted,
) -> Result<Form, String> {
    use ask::Ask;
    match ask {
        Ask::Turns(_) | Ask::MeetAgain(..) => number_form(Unit::Turns, wanted),
        Ask::Speed(_) => number_form(Unit::Rpm, wanted),
        Ask::Teeth(_) => number_form(Unit::Teeth, wanted),
        Ask::Starts(_) => number_form(Unit::Starts, wanted),
        Ask::Stages(_) => number_form(Unit::Stages, wanted),
        Ask::Force(_) => number_form(Unit::Newtons, wanted),
        Ask::TurningForce(_) => number_form(Unit::NewtonCentimetres, wanted),
        Ask::Distance(_)
        | Ask::CentreDistance(..)
        | Ask::PitchDiameter(_)
        | Ask::TipDiameter(_)
        | Ask::RootDiameter(_)
        | Ask::ToothSize(_) => number_form(Unit::Millimetres, wanted),
        Ask::TurnsRatio(first, second) => ratio_form(mechanism, "turns", (*first, *second), wanted),
        Ask::TeethRatio(first, second) => ratio_form(mechanism, "teeth", (*first, *second), wanted),
        Ask::Direction(part) => list_form(directions(mechanism, *part), wanted),
        Ask::SameWay(..) => list_form(same_way(), wanted),
        Ask::WillItTurn => list_form(will_it_turn(), wanted),
        Ask::Faster(first, second) => {
            list_form(which_of(mechanism, (*first, *second), &FASTER), wanted)
        }
        Ask::Stronger(first, second) => {
            list_form(which_of(mechanism, (*first, *second), &STRONGER), wanted)
        }
        Ask::Name(part) => list_form(names(mechanism, *part), wanted),
        Ask::Job(_) => list_form(jobs(), wanted),
        Ask::Choose { parts, from } => {
            no_number(wanted)?;
            Ok(Form::Gears {
                labels: parts.iter().map(|part| label(mechanism, *part)).collect(),
                from: from.clone(),
            })
        }
    }
}

fn number_form(usual: Unit, wanted: Wanted) -> Result<Form, String> {
    if wanted.simplest {
        return Err("simplest: found true, but only a ratio has a simplest form".to_owned());
    }
    let unit = wanted.unit.unwrap_or(usual);
    if unit::conversion(usual, unit).is_none() {
        return Err(format!(
            "unit: found \"{}\", wanted \"{}\" or another unit of that kind",
            unit.text(),
            usual.text()
        ));
    }
    Ok(Form::Number {
        unit,
        precision: wanted.precision,
    })
}

fn ratio_form(
    mechanism: &mechanism::Mechanism,
    of: &str,
    parts: (mechanism::PartId, mechanism::PartId),
    wanted: Wanted,
) -> Result<Form, String> {
    no_unit(wanted)?;
    Ok(Form::Ratio {
        first: format!("{of} of {}", label(mechanism, parts.0)),
        second: format!("{of} of {}", label(mechanism, parts.1)),
        simplest: wanted.simplest,
    })
}

fn list_form(options: Vec<ListOption>, wanted: Wanted) -> Result<Form, String> {
    no_number(wanted)?;
    Ok(Form::List { options })
}

fn no_number(wanted: Wanted) -> Result<(), String> {
    if wanted.simplest {
        return Err("simplest: found true, but only a ratio has a simplest form".to_owned());
    }
    no_unit(wanted)
}

fn no_unit(wanted: Wanted) -> Result<(), String> {
    if let Some(unit) = wanted.unit {
        return Err(format!(
            "unit: found \"{}\", but the answer is no number with a unit",
            unit.text()
        ));
    }
    if wanted.precision != number::Precision::Exact {
        return Err(format!(
            "precision: found \"{}\", but the answer is no number to round",
            precision_text(wanted.precision)
        ));
    }
    Ok(())
}

/// The part's label, such as `A`.
fn label(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> String {
    find(mechanism, part).map_or_else(|| "?".to_owned(), |part| part.name.clone())
}

fn find(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Option<&mechanism::Part> {
    mechanism.parts.get(usize::from(part.0))
}

/// What sort of thing the part is called in an answer, such as `gear`.
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

fn option(fact: ask::Fact, text: &str, also: &[&str], perhaps: &[&str]) -> ListOption {
    let owned = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect();
    ListOption {
        fact,
        text: text.to_owned(),
        also: owned(also),
        perhaps: owned(perhaps),
    }
}

const SAME_WAY: [&str; 6] = [
    "same way",
    "same",
    "same direction",
    "same as",
    "together",
    "same turn",
];
const OTHER_WAY: [&str; 14] = [
    "other way",
    "opposite",
    "opposite way",
    "opposite ways",
    "opposite direction",
    "opposite directions",
    "other direction",
    "different",
    "different way",
    "different ways",
    "different direction",
    "different directions",
    "reverse",
    "not same way",
];

fn directions(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Vec<ListOption> {
    let slides =
        find(mechanism, part).is_some_and(|part| matches!(part.kind, mechanism::Kind::Rack { .. }));
    let senses = if slides {
        [mechanism::Sense::Left, mechanism::Sense::Right]
    } else {
        [mechanism::Sense::Clockwise, mechanism::Sense::Anticlockwise]
    };
    let given = given_sense(mechanism);
    senses
        .into_iter()
        .map(|sense| {
            let text = sense_text(sense);
            let Some((told_of, other)) = given else {
                return option(ask::Fact::Sense(sense), text, &[], &[]);
            };
            let words: &[&str] = match (is_rotation(sense), is_rotation(other)) {
                (true, true) | (false, false) if sense == other => &SAME_WAY,
                (true, true) | (false, false) => &OTHER_WAY,
                (true, false) | (false, true) => &[],
            };
            // "The other way" is plain beside the part whose way is told; further
            // along it may mean: other than the gear before.
            if are_joined(mechanism, told_of, part) {
                option(ask::Fact::Sense(sense), text, words, &[])
            } else {
                option(ask::Fact::Sense(sense), text, &[], words)
            }
        })
        .collect()
}

/// The one part whose way is told, with its way.
fn given_sense(mechanism: &mechanism::Mechanism) -> Option<(mechanism::PartId, mechanism::Sense)> {
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
    let body = |part| find(mechanism, part).map(|part| part.body);
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
pub(super) fn sense_text(sense: mechanism::Sense) -> &'static str {
    match sense {
        mechanism::Sense::Clockwise => "clockwise",
        mechanism::Sense::Anticlockwise => "anticlockwise",
        mechanism::Sense::Left => "left",
        mechanism::Sense::Right => "right",
    }
}

fn same_way() -> Vec<ListOption> {
    vec![
        option(ask::Fact::YesNo(true), "yes", &SAME_WAY, &[]),
        option(ask::Fact::YesNo(false), "no", &OTHER_WAY, &[]),
    ]
}

fn will_it_turn() -> Vec<ListOption> {
    vec![
        option(
            ask::Fact::YesNo(true),
            "yes",
            &[
                "turn",
                "turns",
                "will turn",
                "can turn",
                "does turn",
                "works",
                "work",
                "will work",
                "can work",
                "moves",
                "will move",
                "can move",
                "spins",
                "will spin",
                "can spin",
            ],
            &["turn freely", "goes"],
        ),
        option(
            ask::Fact::YesNo(false),
            "no",
            &[
                "locked",
                "locks",
                "lock",
                "locks up",
                "stuck",
                "gets stuck",
                "jammed",
                "jams",
                "jam",
                "not turn",
                "will not turn",
                "cannot turn",
                "does not turn",
                "not work",
                "will not work",
                "cannot work",
                "does not work",
                "will not move",
                "cannot move",
                "does not move",
                "not move",
                "will not spin",
                "cannot spin",
                "impossible",
                "not fit",
                "does not fit",
                "will not fit",
            ],
            &["stops", "broken", "stop"],
        ),
    ]
}

/// Words that go with the one that is more, and with the one that is less.
struct Comparison {
    more: &'static [&'static str],
    less: &'static [&'static str],
}

const FASTER: Comparison = Comparison {
    more: &["faster", "fastest", "quicker", "quickest", "fast", "quick"],
    less: &["slower", "slowest", "slow"],
};
const STRONGER: Comparison = Comparison {
    more: &[
        "stronger",
        "strongest",
        "more force",
        "most force",
        "bigger force",
        "greater force",
        "larger force",
        "more turning force",
        "greater turning force",
        "bigger turning force",
    ],
    less: &[
        "weaker",
        "weakest",
        "less force",
        "smaller force",
        "least force",
        "less turning force",
        "smaller turning force",
    ],
};

fn which_of(
    mechanism: &mechanism::Mechanism,
    parts: (mechanism::PartId, mechanism::PartId),
    comparison: &Comparison,
) -> Vec<ListOption> {
    let one = |part: mechanism::PartId, other: mechanism::PartId, which: ask::Which| {
        let (name, other) = (label(mechanism, part), label(mechanism, other));
        let noun = find(mechanism, part).map_or("gear", |part| noun(&part.kind));
        let mut also = vec![name.clone(), format!("{name} is"), format!("{name} has")];
        for word in comparison.more {
            also.push(format!("{name} {word}"));
            also.push(format!("{name} {word} than {other}"));
        }
        // "B slower" says that A is the faster one.
        for word in comparison.less {
            also.push(format!("{other} {word}"));
            also.push(format!("{other} {word} than {name}"));
        }
        ListOption {
            fact: ask::Fact::Which(which),
            text: format!("{noun} {name}"),
            also,
            perhaps: Vec::new(),
        }
    };
    vec![
        one(parts.0, parts.1, ask::Which::First),
        one(parts.1, parts.0, ask::Which::Second),
        option(
            ask::Fact::Which(ask::Which::Same),
            "the same",
            &[
                "same",
                "both",
                "both same",
                "neither",
                "equal",
                "both equal",
                "same speed",
                "equal speed",
                "same force",
                "both same speed",
                "both same force",
                "none",
                "neither of them",
                "equally fast",
                "equally strong",
                "no difference",
            ],
            &[],
        ),
    ]
}

fn jobs() -> Vec<ListOption> {
    vec![
        option(
            ask::Fact::Job(ask::Job::Drive),
            "drive gear",
            &[
                "drive",
                "driver",
                "driver gear",
                "driving gear",
                "driving",
                "input",
                "input gear",
            ],
            &["drives"],
        ),
        option(
            ask::Fact::Job(ask::Job::Driven),
            "driven gear",
            &[
                "driven",
                "output",
                "output gear",
                "follower",
                "follower gear",
            ],
            &[],
        ),
        option(
            ask::Fact::Job(ask::Job::Idler),
            "idler",
            &[
                "idler gear",
                "idle gear",
                "idle",
                "idling gear",
                "intermediate gear",
            ],
            &["middle gear", "connector"],
        ),
    ]
}

/// The names to choose from: those of the same family, so that the list does not
/// give the answer away.
fn names(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Vec<ListOption> {
    use ask::PartName;
    let has_teeth = find(mechanism, part).is_none_or(|part| match part.kind {
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
    let (also, perhaps): (&[&str], &[&str]) = match name {
        PartName::SpurGear => (
            &["spur", "spur wheel", "spur cog"],
            &[
                "gear",
                "gear wheel",
                "cog",
                "cog wheel",
                "cogwheel",
                "gearwheel",
            ],
        ),
        PartName::RingGear => (
            &[
                "ring",
                "internal gear",
                "annulus",
                "ring wheel",
                "internal ring gear",
            ],
            &["inside gear"],
        ),
        PartName::BevelGear => (
            &["bevel", "bevel wheel", "mitre gear", "mitre"],
            &["cone gear"],
        ),
        PartName::Worm => (&["worm gear", "worm screw"], &["screw", "worm wheel"]),
        PartName::Rack => (
            &["gear rack", "toothed rack", "rack bar"],
            &["bar", "rack and pinion"],
        ),
        PartName::Pinion => (&["pinion gear"], &[]),
        PartName::Sprocket => (
            &[
                "chain wheel",
                "chainwheel",
                "sprocket wheel",
                "chain sprocket",
                "chain ring",
            ],
            &[],
        ),
        PartName::Pulley => (&["pulley wheel", "belt pulley", "belt wheel"], &[]),
        PartName::Handle => (&["crank", "crank handle", "winding handle"], &["lever"]),
        PartName::Drum => (
            &["winch drum", "winch", "winding drum"],
            &["barrel", "spool", "reel"],
        ),
        PartName::RoadWheel => (&["road wheel", "rolling wheel"], &["tyre"]),
        PartName::Motor => (&["electric motor"], &["engine"]),
        PartName::Dynamo => (&["generator"], &[]),
        PartName::Carrier => (&["planet carrier", "carrier arm"], &["arm"]),
    };
    option(ask::Fact::Name(name), name_text(name), also, perhaps)
}

/// A part's name as printed.
pub(super) fn name_text(name: ask::PartName) -> &'static str {
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

/// Returns a precision as banks spell it.
pub(super) fn precision_text(precision: number::Precision) -> String {
    match precision {
        number::Precision::Exact => "exact".to_owned(),
        number::Precision::Places(0) => "whole".to_owned(),
        number::Precision::Places(1) => "1 place".to_owned(),
        number::Precision::Places(places) => format!("{places} places"),
        number::Precision::Figures(1) => "1 figure".to_owned(),
        number::Precision::Figures(figures) => format!("{figures} figures"),
    }
}

/// Returns the precision that banks spell so; up to nine places or figures.
pub(super) fn parse_precision(text: &str) -> Option<number::Precision> {
    let known = |precision: &number::Precision| precision_text(*precision) == text;
    let spelt = (0..=9).flat_map(|count| {
        [
            number::Precision::Places(count),
            number::Precision::Figures(count.max(1)),
        ]
    });
    std::iter::once(number::Precision::Exact)
        .chain(spelt)
        .find(known)
}
