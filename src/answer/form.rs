//! What the answer to a question should look like.

use crate::answer::Form;
use crate::answer::ListOption;
use crate::answer::Unit;
use crate::answer::unit;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;

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
        Ask::Direction(part) => list_form(lists::directions(mechanism, *part), wanted),
        Ask::SameWay(..) => list_form(lists::same_way(), wanted),
        Ask::WillItTurn => list_form(lists::will_it_turn(), wanted),
        Ask::Faster(first, second) => list_form(
            lists::which_of(mechanism, (*first, *second), &lists::FASTER),
            wanted,
        ),
        Ask::Stronger(first, second) => list_form(
            lists::which_of(mechanism, (*first, *second), &lists::STRONGER),
            wanted,
        ),
        Ask::Name(part) => list_form(lists::names(mechanism, *part), wanted),
        Ask::Job(_) => list_form(lists::jobs(), wanted),
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
