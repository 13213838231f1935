//! The short words of the paper: units, roundings, answers and their other forms.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::step;
use crate::level;
use crate::misconception;
use crate::number;

/// Returns a unit as printed beside an answer space.
pub(super) fn unit(unit: answer::Unit) -> &'static str {
    match unit {
        answer::Unit::Turns => "turns",
        answer::Unit::Rpm => "turns a minute",
        answer::Unit::Teeth => "teeth",
        answer::Unit::Starts => "starts",
        answer::Unit::Stages => "stages",
        answer::Unit::Millimetres => "mm",
        answer::Unit::Centimetres => "cm",
        answer::Unit::Metres => "m",
        answer::Unit::Newtons => "N",
        answer::Unit::NewtonCentimetres => "N cm",
        answer::Unit::NewtonMetres => "N m",
    }
}

/// Returns how exactly a number is wanted, in words; nothing where it goes
/// without saying or the question says it already.
pub(super) fn rounding(precision: number::Precision, question: &str) -> String {
    let question = question.to_lowercase();
    let is_said = ["nearest", "decimal", "figure", "round"]
        .iter()
        .any(|word| question.contains(word));
    if is_said {
        return String::new();
    }
    match precision {
        number::Precision::Exact | number::Precision::Places(0) => String::new(),
        number::Precision::Places(1) => "to 1 decimal place".to_owned(),
        number::Precision::Places(places) => format!("to {places} decimal places"),
        number::Precision::Figures(1) => "to 1 significant figure".to_owned(),
        number::Precision::Figures(figures) => format!("to {figures} significant figures"),
    }
}

/// Returns an answer as the form wants it written: rounded, in its unit, with
/// the words of its list.
pub(super) fn answer(
    fact: &ask::Fact,
    form: &answer::Form,
    mechanism: &mechanism::Mechanism,
) -> String {
    match fact {
        ask::Fact::Quantity { value, unit } => quantity(*value, *unit, form),
        ask::Fact::Ratio(first, second) => {
            format!("{} : {}", mixed(*first), mixed(*second))
        }
        ask::Fact::Choices(choices) => choices
            .iter()
            .map(|choice| gears(choice, form))
            .collect::<Vec<_>>()
            .join(", or "),
        ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_) => entry(fact, form).unwrap_or_else(|| plain(fact, mechanism)),
    }
}

/// One choice of gears, with the labels that the form asks for.
fn gears(choice: &[u32], form: &answer::Form) -> String {
    let labels: &[String] = match form {
        answer::Form::Gears { labels, .. } => labels,
        answer::Form::Number { .. } | answer::Form::Ratio { .. } | answer::Form::List { .. } => &[],
    };
    choice
        .iter()
        .enumerate()
        .map(|(index, teeth)| match labels.get(index) {
            Some(label) => format!("{label} {teeth}"),
            None => teeth.to_string(),
        })
        .collect::<Vec<_>>()
        .join(" and ")
}

/// The list's own words for a fact.
fn entry(fact: &ask::Fact, form: &answer::Form) -> Option<String> {
    match form {
        answer::Form::List { options } => options
            .iter()
            .find(|option| option.fact == *fact)
            .map(|option| option.text.clone()),
        answer::Form::Number { .. } | answer::Form::Ratio { .. } | answer::Form::Gears { .. } => {
            None
        }
    }
}

/// A fact that stands in no list, in plain words.
fn plain(fact: &ask::Fact, mechanism: &mechanism::Mechanism) -> String {
    match fact {
        ask::Fact::Sense(sense) => match sense {
            mechanism::Sense::Clockwise => "clockwise",
            mechanism::Sense::Anticlockwise => "anticlockwise",
            mechanism::Sense::Left => "left",
            mechanism::Sense::Right => "right",
        }
        .to_owned(),
        ask::Fact::YesNo(true) => "yes".to_owned(),
        ask::Fact::YesNo(false) => "no".to_owned(),
        ask::Fact::Which(ask::Which::First) => "the first".to_owned(),
        ask::Fact::Which(ask::Which::Second) => "the second".to_owned(),
        ask::Fact::Which(ask::Which::Same) => "both the same".to_owned(),
        ask::Fact::Name(_) | ask::Fact::Job(_) => "another name".to_owned(),
        ask::Fact::Quantity { value, unit } => format!("{value} {unit:?}"),
        ask::Fact::Ratio(first, second) => format!("{first} : {second}"),
        ask::Fact::Choices(_) => mechanism.parts.len().to_string(),
    }
}

/// A number with its unit, rounded as the form wants; the exact value beside it
/// where rounding changed it.
fn quantity(value: number::Value, exact_unit: ask::Unit, form: &answer::Form) -> String {
    let (printed, precision) = match form {
        answer::Form::Number { unit, precision } => (*unit, *precision),
        answer::Form::Ratio { .. } | answer::Form::List { .. } | answer::Form::Gears { .. } => {
            (own_unit(exact_unit), number::Precision::Exact)
        }
    };
    let Some(value) = converted(value, own_unit(exact_unit), printed) else {
        return exact(value);
    };
    let unit = unit(printed);
    match number::round_half_up(value, precision) {
        Ok(rounded) if number::Value::from(rounded) == value => {
            format!("{} {unit}", mixed(rounded))
        }
        Ok(rounded) => format!(
            "{} {unit} (before rounding {})",
            number::rounded_text(rounded, precision),
            exact(value)
        ),
        Err(_) => format!("{} {unit}", exact(value)),
    }
}

/// The printed unit that a solver's unit is by itself.
fn own_unit(unit: ask::Unit) -> answer::Unit {
    match unit {
        ask::Unit::Turns => answer::Unit::Turns,
        ask::Unit::Rpm => answer::Unit::Rpm,
        ask::Unit::Teeth => answer::Unit::Teeth,
        ask::Unit::Starts => answer::Unit::Starts,
        ask::Unit::Stages => answer::Unit::Stages,
        ask::Unit::Millimetres => answer::Unit::Millimetres,
        ask::Unit::Newtons => answer::Unit::Newtons,
        ask::Unit::NewtonCentimetres => answer::Unit::NewtonCentimetres,
    }
}

/// The value in another unit of the same kind.
fn converted(value: number::Value, from: answer::Unit, to: answer::Unit) -> Option<number::Value> {
    let divisor = match (from, to) {
        _ if from == to => 1,
        (answer::Unit::Millimetres, answer::Unit::Centimetres) => 10,
        (answer::Unit::Millimetres, answer::Unit::Metres) => 1000,
        (answer::Unit::NewtonCentimetres, answer::Unit::NewtonMetres) => 100,
        _ => return None,
    };
    value.divided_by(number::Number::whole(divisor).into()).ok()
}

/// `2.5`, or `2 2/3` where the decimals do not end.
fn mixed(number: number::Number) -> String {
    if let Some(decimal) = number.to_decimal() {
        return decimal;
    }
    let whole = number.magnitude().floor();
    let Ok(rest) = number.magnitude().minus(whole) else {
        return number.to_string();
    };
    let sign = if number.is_negative() { "−" } else { "" };
    if whole.is_zero() {
        format!("{sign}{rest}")
    } else {
        format!("{sign}{whole} {rest}")
    }
}

/// The exact value, with pi kept as a sign.
fn exact(value: number::Value) -> String {
    match value.pi_power {
        0 => mixed(value.factor),
        1 => format!("{} × π", mixed(value.factor)),
        power => format!("{} × π^{power}", mixed(value.factor)),
    }
}

/// Returns an answer without remarks, for the narrow columns of the key.
pub(super) fn short_answer(
    fact: &ask::Fact,
    form: &answer::Form,
    mechanism: &mechanism::Mechanism,
) -> String {
    let full = answer(fact, form, mechanism);
    match full.split_once(" (before rounding") {
        Some((short, _)) => short.to_owned(),
        None => full,
    }
}

/// Returns other forms in which the answer is right.
pub(super) fn accepted(fact: &ask::Fact, form: &answer::Form) -> Vec<String> {
    match form {
        answer::Form::Number { unit, precision } => number_forms(fact, *unit, *precision),
        answer::Form::Ratio { simplest, .. } => {
            if let (ask::Fact::Ratio(first, second), false) = (fact, *simplest) {
                let mut forms = vec!["any equal ratio".to_owned()];
                if *second == number::Number::ONE {
                    forms.push(format!("{} alone", mixed(*first)));
                }
                forms
            } else {
                Vec::new()
            }
        }
        answer::Form::List { .. } => {
            let forms: &[&str] = if *fact == ask::Fact::Sense(mechanism::Sense::Clockwise) {
                &["CW", "an arrow that is plain"]
            } else if *fact == ask::Fact::Sense(mechanism::Sense::Anticlockwise) {
                &["ACW", "CCW", "counterclockwise", "an arrow that is plain"]
            } else {
                &[]
            };
            forms.iter().map(|form| (*form).to_owned()).collect()
        }
        answer::Form::Gears { .. } => Vec::new(),
    }
}

/// Other writings of a number, and other units.
fn number_forms(
    fact: &ask::Fact,
    printed: answer::Unit,
    precision: number::Precision,
) -> Vec<String> {
    let ask::Fact::Quantity { value, unit } = fact else {
        return Vec::new();
    };
    let mut forms = Vec::new();
    let Some(value) = converted(*value, own_unit(*unit), printed) else {
        return forms;
    };
    if let Some(number) = value.as_number()
        && !number.is_whole()
    {
        let plain = mixed(number);
        for form in [number.to_string(), mixed_fraction(number)] {
            if form != plain && !forms.contains(&form) {
                forms.push(form);
            }
        }
    }
    if precision != number::Precision::Exact && value.as_number().is_none_or(|it| !it.is_whole()) {
        forms.push("more digits, if right".to_owned());
    }
    forms
}

/// `2 1/2`, also where `2.5` would do.
fn mixed_fraction(number: number::Number) -> String {
    let whole = number.floor();
    match number.minus(whole) {
        Ok(rest) if !whole.is_zero() && !number.is_negative() => format!("{whole} {rest}"),
        Ok(_) | Err(_) => number.to_string(),
    }
}

/// Returns the marks of a misconception's answer.
pub(super) fn credit(credit: misconception::Credit, out_of: u8) -> u8 {
    match credit {
        misconception::Credit::None => 0,
        misconception::Credit::OneOfMore => u8::from(out_of >= 2),
        misconception::Credit::OneOfThree => u8::from(out_of >= 3),
        misconception::Credit::AllButOne => out_of.saturating_sub(1),
    }
}

/// Returns the steps of a working, a sentence each.
pub(super) fn steps(steps: &[step::Step], mechanism: &mechanism::Mechanism) -> Vec<String> {
    let _ = (steps, mechanism);
    Vec::new()
}

/// Returns a skill's name in plain words.
pub(super) fn skill(skill: level::Skill) -> &'static str {
    match skill {
        level::Skill::Naming => "naming parts",
        level::Skill::Direction => "direction",
        level::Skill::FasterSlower => "faster or slower",
        level::Skill::Turns => "turns",
        level::Skill::Ratio => "ratio",
        level::Skill::Speed => "speed",
        level::Skill::TurningForce => "turning force",
        level::Skill::Distance => "distance",
        level::Skill::Gearboxes => "gearboxes",
        level::Skill::Choosing => "choosing gears",
        level::Skill::WillItWork => "will it work",
    }
}

/// Returns a level's number.
pub(super) fn level(level: level::Level) -> String {
    level.number().to_string()
}
