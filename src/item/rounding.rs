//! How exactly a number is wanted, as it stands beside the answer space.

use crate::answer;
use crate::gears::ask;
use crate::gears::solve;
use crate::item;
use crate::number;

/// Returns how exactly a number is wanted, in words; nothing where the right
/// answer needs no rounding or the question says it already.
#[must_use]
pub fn rounding(item: &item::Item, precision: number::Precision) -> String {
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
