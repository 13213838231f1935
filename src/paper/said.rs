//! The short words of the paper that no lower floor has.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::item;
use crate::number;
use crate::wording;

/// Returns how exactly a number is wanted, in words; nothing where the right
/// answer needs no rounding or the question says it already.
pub(super) fn rounding(item: &item::Item, precision: number::Precision) -> String {
    let question = item.question.to_lowercase();
    let is_said = ["nearest", "decimal", "figure", "round"]
        .iter()
        .any(|word| question.contains(word));
    if is_said || !needs_rounding(item, precision) {
        return String::new();
    }
    match precision {
        number::Precision::Exact => String::new(),
        number::Precision::Places(0) => "to the nearest whole number".to_owned(),
        number::Precision::Places(1) => "to 1 decimal place".to_owned(),
        number::Precision::Places(places) => format!("to {places} decimal places"),
        number::Precision::Figures(1) => "to 1 significant figure".to_owned(),
        number::Precision::Figures(figures) => format!("to {figures} significant figures"),
    }
}

/// Whether rounding changes the right answer, in the unit that is printed.
fn needs_rounding(item: &item::Item, precision: number::Precision) -> bool {
    let Ok(worked) = solve::answer(&item.mechanism, &item.ask) else {
        return true;
    };
    let (ask::Fact::Quantity { value, .. }, answer::Form::Number { unit, .. }) =
        (&worked.fact, &item.form)
    else {
        return true;
    };
    let (_, scale) = unit.in_base();
    let Ok(value) = value.divided_by(scale.into()) else {
        return true;
    };
    number::round_half_up(value, precision)
        .map_or(true, |rounded| number::Value::from(rounded) != value)
}

/// Returns what each gear to choose is called, such as `Gear A`.
pub(super) fn choice_labels(item: &item::Item, labels: &[String]) -> Vec<String> {
    match &item.ask {
        ask::Ask::Choose { parts, .. } => parts
            .iter()
            .map(|part| capital(&wording::part_name(&item.mechanism, *part)))
            .collect(),
        ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
        | ask::Ask::Direction(_)
        | ask::Ask::SameWay(..)
        | ask::Ask::Faster(..)
        | ask::Ask::Stronger(..)
        | ask::Ask::TurnsRatio(..)
        | ask::Ask::TeethRatio(..)
        | ask::Ask::Teeth(_)
        | ask::Ask::Starts(_)
        | ask::Ask::Force(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::Distance(_)
        | ask::Ask::CentreDistance(..)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::WillItTurn
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::Stages(_)
        | ask::Ask::MeetAgain(..)
        | ask::Ask::Why(_) => labels.to_vec(),
    }
}

/// The text with a capital at its start.
fn capital(text: &str) -> String {
    let mut signs = text.chars();
    match signs.next() {
        Some(first) => first.to_uppercase().chain(signs).collect(),
        None => String::new(),
    }
}

/// Returns other writings in which the answer is right.
pub(super) fn accepted(fact: &ask::Fact, form: &answer::Form) -> Vec<String> {
    let mut writings = answer::accepted(fact, form);
    // The bare number needs no saying: a missing unit costs nothing.
    let expected = answer::expected(fact, form);
    writings.retain(|writing| !expected.starts_with(&format!("{writing} ")));
    let short: &[&str] = if *fact == ask::Fact::Sense(mechanism::Sense::Clockwise) {
        &["CW", "an arrow that is plain"]
    } else if *fact == ask::Fact::Sense(mechanism::Sense::Anticlockwise) {
        &["ACW", "CCW", "counterclockwise", "an arrow that is plain"]
    } else {
        &[]
    };
    writings.extend(short.iter().map(|writing| (*writing).to_owned()));
    if let (
        ask::Fact::Ratio(..),
        answer::Form::Ratio {
            simplest: false, ..
        },
    ) = (fact, form)
    {
        writings.push("any equal ratio".to_owned());
    }
    writings
}
