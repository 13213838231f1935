//! The short words of the paper that no lower floor has.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::item;
use crate::wording;

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
