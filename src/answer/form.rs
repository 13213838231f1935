//! What the answer to a question should look like.

use crate::answer::Form;
use crate::answer::ListOption;
use crate::answer::Unit;
use crate::answer::explaining;
use crate::answer::scene;
use crate::answer::unit;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;
use std::sync::Arc;

pub(super) mod lists;

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
    let named = |part: &mechanism::PartId| vec![label(mechanism, *part)];
    let listed = |options: Vec<ListOption>| {
        no_number(wanted)?;
        Ok(Form::List {
            options,
            scene: Arc::new(scene::Scene::of(mechanism, ask)),
        })
    };
    match ask {
        Ask::Turns(part) => number_form(Unit::Turns, on_axle(mechanism, *part), wanted),
        Ask::MeetAgain(part, _) => number_form(Unit::Turns, named(part), wanted),
        Ask::Speed(part) => number_form(Unit::Rpm, on_axle(mechanism, *part), wanted),
        Ask::Teeth(part) => number_form(Unit::Teeth, named(part), wanted),
        Ask::Starts(part) => number_form(Unit::Starts, named(part), wanted),
        Ask::Stages(_) => number_form(Unit::Stages, Vec::new(), wanted),
        Ask::Force(part) => number_form(Unit::Newtons, named(part), wanted),
        Ask::TurningForce(part) => number_form(Unit::NewtonCentimetres, named(part), wanted),
        Ask::Distance(part)
        | Ask::PitchDiameter(part)
        | Ask::TipDiameter(part)
        | Ask::RootDiameter(part)
        | Ask::ToothSize(part) => number_form(Unit::Millimetres, named(part), wanted),
        Ask::CentreDistance(..) => number_form(Unit::Millimetres, Vec::new(), wanted),
        Ask::TurnsRatio(first, second) => ratio_form(mechanism, "turns", (*first, *second), wanted),
        Ask::TeethRatio(first, second) => ratio_form(mechanism, "teeth", (*first, *second), wanted),
        Ask::Direction(part) => listed(lists::directions(mechanism, *part)),
        Ask::SameWay(..) | Ask::WillItTurn => listed(lists::yes_no()),
        Ask::Faster(first, second) | Ask::Stronger(first, second) => {
            listed(lists::which_of(mechanism, (*first, *second)))
        }
        Ask::Name(part) => listed(lists::names(mechanism, *part)),
        Ask::Job(_) => listed(lists::jobs()),
        Ask::Choose { parts, from } => {
            no_number(wanted)?;
            Ok(Form::Gears {
                labels: parts.iter().map(|part| label(mechanism, *part)).collect(),
                from: from.clone(),
                in_drive_order: parts.windows(2).all(|pair| match pair {
                    [one, next] => mechanism.joints.iter().any(|joint| {
                        joint.driver_named && joint.first == *one && joint.second == *next
                    }),
                    _ => true,
                }),
            })
        }
        Ask::Why(explained) => {
            no_number(wanted)?;
            let explaining = explaining::Explaining::of(mechanism, *explained);
            Ok(Form::Explanation(Box::new(explaining)))
        }
    }
}

fn number_form(usual: Unit, labels: Vec<String>, wanted: Wanted) -> Result<Form, String> {
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
        labels,
    })
}

/// The labels of a part and of all that turns with it.
fn on_axle(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Vec<String> {
    let body = find(mechanism, part).map(|part| part.body);
    mechanism
        .parts
        .iter()
        .filter(|other| Some(other.body) == body)
        .map(|other| other.name.clone())
        .collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    fn check(lines: &[&str], ask: &str, wanted: Wanted) -> Result<Form, String> {
        let mechanism = notation::read(lines).expect("well formed");
        let ask = notation::read_ask(ask, &mechanism).expect("well formed");
        form_for(&mechanism, &ask, wanted)
    }

    const PLAIN: Wanted = Wanted {
        unit: None,
        precision: number::Precision::Exact,
        simplest: false,
    };
    const PAIR: [&str; 2] = ["gear A 12 drives gear B 36", "A turns clockwise"];

    fn texts(form: &Form) -> Vec<String> {
        match form {
            Form::List { options, .. } => options.iter().map(|one| one.text.clone()).collect(),
            Form::Number { unit, .. } => vec![unit.text().to_owned()],
            Form::Ratio { first, second, .. } => vec![first.clone(), second.clone()],
            Form::Gears { labels, .. } => labels.clone(),
            Form::Explanation(explaining) => vec![explaining.expected()],
        }
    }

    #[test]
    fn every_question_has_its_usual_form() {
        for (ask, shown) in [
            ("turns of B", "turns"),
            ("speed of B", "rpm"),
            ("force at B", "N"),
            ("turning force of B", "N cm"),
            ("centre distance of A, B", "mm"),
            ("stages for 27", "stages"),
            ("meet again A, B", "turns"),
            ("ratio of turns A : B", "turns of A|turns of B"),
            ("ratio of teeth B : A", "teeth of B|teeth of A"),
            ("direction of B", "clockwise|anticlockwise"),
            ("same way A, B", "yes|no"),
            ("will it turn", "yes|no"),
            ("faster of A, B", "gear A|gear B|the same"),
            ("stronger of B, A", "gear B|gear A|the same"),
            ("job of B", "drive gear|driven gear|idler"),
        ] {
            let form = check(&PAIR, ask, PLAIN).expect("fits");
            assert_eq!(texts(&form).join("|"), shown, "{ask}");
        }
        let rack = check(&["gear P 12 drives rack R"], "direction of R", PLAIN);
        assert_eq!(
            rack.map(|form| texts(&form).join("|")),
            Ok("left|right".to_owned())
        );
    }

    #[test]
    fn a_unit_of_another_kind_is_refused() {
        let with = |unit| Wanted {
            unit: Some(unit),
            ..PLAIN
        };
        let lift = ["handle H 300 mm, drum D 80 mm on one axle"];
        assert!(check(&lift, "distance of D", with(Unit::Metres)).is_ok());
        assert_eq!(
            check(&PAIR, "turns of B", with(Unit::Metres)),
            Err("unit: found \"m\", wanted \"turns\" or another unit of that kind".to_owned())
        );
        assert_eq!(
            check(&PAIR, "direction of B", with(Unit::Turns)),
            Err("unit: found \"turns\", but the answer is no number with a unit".to_owned())
        );
        let rounded = Wanted {
            precision: number::Precision::Places(1),
            ..PLAIN
        };
        assert_eq!(
            check(&PAIR, "ratio of turns A : B", rounded),
            Err("precision: found \"1 place\", but the answer is no number to round".to_owned())
        );
        let simplest = Wanted {
            simplest: true,
            ..PLAIN
        };
        assert!(check(&PAIR, "ratio of turns A : B", simplest).is_ok());
        assert!(check(&PAIR, "turns of B", simplest).is_err());
    }

    #[test]
    fn precisions_are_read_back_as_they_are_written() {
        for text in [
            "exact",
            "whole",
            "1 place",
            "2 places",
            "3 places",
            "1 figure",
            "3 figures",
        ] {
            let read = parse_precision(text).map(precision_text);
            assert_eq!(read.as_deref(), Some(text));
        }
        for text in ["", "1 places", "0 figures", "rough", "Exact"] {
            assert_eq!(parse_precision(text), None, "{text}");
        }
    }
}
