//! Right answers as a mark scheme writes them.

use crate::answer::Form;
use crate::answer::Unit;
use crate::answer::form::lists;
use crate::gears::ask;
use crate::number;

/// How many other right choices a mark scheme names.
const CHOICES_SHOWN: usize = 6;

/// Returns the answer as written on a mark scheme.
pub(super) fn expected(fact: &ask::Fact, form: &Form) -> String {
    match fact {
        ask::Fact::Quantity { value, .. } => match form {
            Form::Number {
                unit, precision, ..
            } => quantity(in_unit(*value, *unit), *unit, *precision),
            Form::Ratio { .. } | Form::List { .. } | Form::Gears { .. } | Form::Explanation(_) => {
                value.to_string()
            }
        },
        ask::Fact::Ratio(first, second) => {
            format!("{} : {}", number_text(*first), number_text(*second))
        }
        ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_) => entry(fact, form),
        ask::Fact::Choices(choices) => choices
            .first()
            .map_or_else(|| "no choice".to_owned(), |choice| gears(choice, form)),
        ask::Fact::Reasons(_) => match form {
            Form::Explanation(explaining) => explaining.expected(),
            Form::Number { .. } | Form::Ratio { .. } | Form::List { .. } | Form::Gears { .. } => {
                String::new()
            }
        },
    }
}

/// Returns a few other writings that earn the same.
pub(super) fn accepted(fact: &ask::Fact, form: &Form) -> Vec<String> {
    let mut texts = match (fact, form) {
        (
            ask::Fact::Quantity { value, .. },
            Form::Number {
                unit, precision, ..
            },
        ) => other_numbers(in_unit(*value, *unit), *unit, *precision),
        (ask::Fact::Ratio(first, second), Form::Ratio { simplest, .. }) => {
            let (first, second) = (number_text(*first), number_text(*second));
            let mut texts = vec![format!("{first} to {second}"), format!("{first}/{second}")];
            if second == "1" && !*simplest {
                texts.push(first);
            }
            texts
        }
        (ask::Fact::Choices(choices), Form::Gears { .. }) => choices
            .iter()
            .skip(1)
            .take(CHOICES_SHOWN)
            .map(|choice| gears(choice, form))
            .collect(),
        (
            ask::Fact::Quantity { .. }
            | ask::Fact::Ratio(..)
            | ask::Fact::Sense(_)
            | ask::Fact::YesNo(_)
            | ask::Fact::Which(_)
            | ask::Fact::Name(_)
            | ask::Fact::Job(_)
            | ask::Fact::Choices(_)
            | ask::Fact::Reasons(_),
            Form::Number { .. }
            | Form::Ratio { .. }
            | Form::List { .. }
            | Form::Gears { .. }
            | Form::Explanation(_),
        ) => Vec::new(),
    };
    let shown = expected(fact, form);
    let mut seen = vec![shown];
    texts.retain(|text| {
        let new = !seen.contains(text);
        seen.push(text.clone());
        new
    });
    texts
}

fn in_unit(value: number::Value, unit: Unit) -> number::Value {
    let (_, scale) = unit.in_base();
    value.divided_by(scale.into()).unwrap_or(value)
}

fn quantity(value: number::Value, unit: Unit, precision: number::Precision) -> String {
    let text = value_text(value, precision);
    let unit = if text == "1" {
        unit.text_for_one()
    } else {
        unit.text()
    };
    format!("{text} {unit}")
}

fn value_text(value: number::Value, precision: number::Precision) -> String {
    let rounding = match (precision, value.as_number()) {
        (number::Precision::Exact, Some(number)) => return number_text(number),
        // With pi no writing is exact; two places are what the policy takes.
        (number::Precision::Exact, None) => number::Precision::Places(2),
        (number::Precision::Places(_) | number::Precision::Figures(_), _) => precision,
    };
    number::round_half_up(value, rounding).map_or_else(
        |_| exact_text(value),
        |rounded| number::rounded_text(rounded, rounding),
    )
}

/// An exact value as people write it: `2.5`, `80π`.
pub(super) fn exact_text(value: number::Value) -> String {
    match value.as_number() {
        Some(number) => number_text(number),
        None if value.pi_power == 1 && value.factor == number::Number::ONE => "π".to_owned(),
        None if value.pi_power == 1 => format!("{}π", number_text(value.factor)),
        None => value.to_string(),
    }
}

/// A number as people write it: `2.5`, and `2 1/3` where the decimal is long.
pub(super) fn number_text(number: number::Number) -> String {
    match number.to_decimal() {
        Some(text) if text.split_once('.').is_none_or(|(_, part)| part.len() <= 2) => text,
        Some(_) | None => mixed(number),
    }
}

fn mixed(number: number::Number) -> String {
    let (top, bottom) = (number.numerator(), number.denominator());
    let sign = if number.is_negative() { "-" } else { "" };
    if bottom == 1 || top < bottom {
        return number.to_string();
    }
    format!("{sign}{} {}/{bottom}", top / bottom, top % bottom)
}

fn other_numbers(value: number::Value, unit: Unit, precision: number::Precision) -> Vec<String> {
    let mut texts = vec![value_text(value, precision)];
    if let Some(number) = value.as_number() {
        if let Some(decimal) = number.to_decimal().filter(|text| text.len() <= 8) {
            texts.push(decimal);
        }
        if !number.is_whole() {
            texts.push(mixed(number));
        }
    } else if value.pi_power == 1 {
        texts.push(exact_text(value));
    }
    if precision == number::Precision::Exact && !unit.is_count() {
        let is_long = value
            .as_number()
            .and_then(number::Number::to_decimal)
            .is_none();
        for rounding in [number::Precision::Places(2), number::Precision::Figures(3)] {
            if is_long {
                texts.push(value_text(value, rounding));
            }
        }
    }
    texts
}

fn entry(fact: &ask::Fact, form: &Form) -> String {
    let printed = match form {
        Form::List { options, .. } => options
            .iter()
            .find(|option| option.fact == *fact)
            .map(|option| option.text.clone()),
        Form::Explanation(explaining) => {
            let shown = explaining.shown(fact);
            (!shown.is_empty()).then_some(shown)
        }
        Form::Number { .. } | Form::Ratio { .. } | Form::Gears { .. } => None,
    };
    printed.unwrap_or_else(|| match fact {
        ask::Fact::Sense(sense) => lists::sense_text(*sense).to_owned(),
        ask::Fact::YesNo(true) => "yes".to_owned(),
        ask::Fact::YesNo(false) => "no".to_owned(),
        ask::Fact::Which(ask::Which::First) => "the first".to_owned(),
        ask::Fact::Which(ask::Which::Second) => "the second".to_owned(),
        ask::Fact::Which(ask::Which::Same) => "the same".to_owned(),
        ask::Fact::Name(name) => lists::name_text(*name).to_owned(),
        ask::Fact::Job(ask::Job::Drive) => "drive gear".to_owned(),
        ask::Fact::Job(ask::Job::Driven) => "driven gear".to_owned(),
        ask::Fact::Job(ask::Job::Idler) => "idler".to_owned(),
        ask::Fact::Quantity { .. }
        | ask::Fact::Ratio(..)
        | ask::Fact::Choices(_)
        | ask::Fact::Reasons(_) => String::new(),
    })
}

/// Chosen gears with their labels: `A 12, B 36`.
pub(super) fn gears(choice: &[u32], form: &Form) -> String {
    let labels: &[String] = match form {
        Form::Gears { labels, .. } => labels,
        Form::Number { .. } | Form::Ratio { .. } | Form::List { .. } | Form::Explanation(_) => &[],
    };
    let texts: Vec<String> = choice
        .iter()
        .enumerate()
        .map(|(index, teeth)| match labels.get(index) {
            Some(label) => format!("{label} {teeth}"),
            None => teeth.to_string(),
        })
        .collect();
    texts.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form(unit: Unit, precision: number::Precision) -> Form {
        Form::Number {
            unit,
            precision,
            labels: Vec::new(),
        }
    }

    fn fact(text: &str, pi_power: i8, unit: ask::Unit) -> ask::Fact {
        let factor = text.parse().expect("the test's own number");
        ask::Fact::Quantity {
            value: number::Value { factor, pi_power },
            unit,
        }
    }

    #[test]
    fn numbers_are_written_in_the_unit_and_precision_asked() {
        use number::Precision;
        for (value, pi_power, unit, precision, written) in [
            ("3", 0, Unit::Turns, Precision::Exact, "3 turns"),
            ("1", 0, Unit::Turns, Precision::Exact, "1 turn"),
            ("5/2", 0, Unit::Turns, Precision::Exact, "2.5 turns"),
            ("7/3", 0, Unit::Turns, Precision::Exact, "2 1/3 turns"),
            ("1/3", 0, Unit::Turns, Precision::Exact, "1/3 turns"),
            ("7/3", 0, Unit::Turns, Precision::Places(2), "2.33 turns"),
            ("5/2", 0, Unit::Turns, Precision::Places(0), "3 turns"),
            ("180", 0, Unit::Centimetres, Precision::Exact, "18 cm"),
            ("80", 1, Unit::Millimetres, Precision::Exact, "251.33 mm"),
            ("80", 1, Unit::Centimetres, Precision::Places(1), "25.1 cm"),
            ("80", 1, Unit::Millimetres, Precision::Figures(2), "250 mm"),
            ("150", 0, Unit::NewtonMetres, Precision::Exact, "1.5 N m"),
            ("-12", 0, Unit::Turns, Precision::Exact, "-12 turns"),
        ] {
            let (base, _) = unit.in_base();
            let text = expected(&fact(value, pi_power, base), &form(unit, precision));
            assert_eq!(text, written, "{value} {precision:?}");
        }
    }

    #[test]
    fn other_writings_that_earn_the_same_are_told() {
        let check = |value: &str, pi_power: i8, precision: number::Precision| {
            let fact = fact(value, pi_power, ask::Unit::Millimetres);
            accepted(&fact, &form(Unit::Millimetres, precision)).join("|")
        };
        assert_eq!(check("5/2", 0, number::Precision::Exact), "2.5|2 1/2");
        assert_eq!(check("7/3", 0, number::Precision::Exact), "2 1/3|2.33");
        assert_eq!(check("3", 0, number::Precision::Exact), "3");
        assert_eq!(check("80", 1, number::Precision::Places(1)), "251.3|80π");
        let ratio = ask::Fact::Ratio(number::Number::whole(3), number::Number::ONE);
        let asked = |simplest| Form::Ratio {
            first: "turns of A".to_owned(),
            second: "turns of B".to_owned(),
            simplest,
        };
        assert_eq!(accepted(&ratio, &asked(false)).join("|"), "3 to 1|3/1|3");
        assert_eq!(accepted(&ratio, &asked(true)).join("|"), "3 to 1|3/1");
        let choices = ask::Fact::Choices(vec![vec![12, 36], vec![8, 24]]);
        let gears = Form::Gears {
            labels: vec!["A".to_owned(), "B".to_owned()],
            from: vec![8, 12, 24, 36],
            in_drive_order: true,
        };
        assert_eq!(expected(&choices, &gears), "A 12, B 36");
        assert_eq!(accepted(&choices, &gears), ["A 8, B 24"]);
    }
}
