//! Numbers and units as people write them.
//!
//! Source: SI Brochure, 9th edition (2019), table 7: 10 mm are 1 cm.

use crate::answer;
use crate::gears::ask;
use crate::number;

/// The most decimal places before a fraction reads better.
const MOST_PLACES: usize = 3;

/// Returns a number for people, pi as a sign.
pub(crate) fn value(value: number::Value) -> String {
    let factor = plain(value.factor);
    let is_one = value.factor == number::Number::ONE;
    let is_fraction = factor.contains('/');
    match value.pi_power {
        0 => factor,
        1 if is_one => "π".to_owned(),
        1 if is_fraction => format!("{factor} × π"),
        1 => format!("{factor}π"),
        -1 if is_fraction => format!("({factor}) ÷ π"),
        -1 => format!("{factor} ÷ π"),
        power => format!("{factor} × π^{power}"),
    }
}

/// Returns a number without pi: whole, a short decimal, or a mixed fraction.
pub(crate) fn plain(number: number::Number) -> String {
    let decimal = number.to_decimal().filter(|text| {
        text.split_once('.')
            .is_none_or(|(_, places)| places.len() <= MOST_PLACES)
    });
    decimal.unwrap_or_else(|| mixed(number))
}

fn mixed(number: number::Number) -> String {
    let (top, bottom) = (number.numerator(), number.denominator());
    let sign = if number.is_negative() { "-" } else { "" };
    let (whole, rest) = (top / bottom, top % bottom);
    match (whole, rest) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{rest}/{bottom}"),
        (_, _) => format!("{sign}{whole} {rest}/{bottom}"),
    }
}

/// Returns a number with its unit; a value with pi also as a decimal.
pub(crate) fn amount(exact: number::Value, unit: ask::Unit) -> String {
    let text = with_unit(exact, unit);
    match about(exact) {
        Some(about) => format!("{text} (about {about} {})", self::unit(unit)),
        None => text,
    }
}

/// Returns a number with its unit, pi as a sign only.
pub(crate) fn with_unit(exact: number::Value, unit: ask::Unit) -> String {
    let number = value(exact);
    let (one, more) = nouns(unit);
    let plain = exact.as_number();
    if plain == Some(number::Number::ONE) {
        return format!("{number} {one}");
    }
    // "1/3 of a turn" reads; "1/3 turns" does not.
    let is_part = plain.is_some_and(|it| it.is_positive() && it < number::Number::ONE);
    if is_part && number.contains('/') && one != more {
        return format!("{number} of a {one}");
    }
    format!("{number} {more}")
}

/// Returns a value with pi as a rounded decimal; nothing for one without.
///
/// Four figures, or one decimal place where that says more.
pub(crate) fn about(value: number::Value) -> Option<String> {
    if value.pi_power == 0 {
        return None;
    }
    let is_large = value
        .magnitude()
        .compare(number::Number::whole(1000).into())
        .is_ok_and(std::cmp::Ordering::is_ge);
    let precision = if is_large {
        number::Precision::Places(1)
    } else {
        number::Precision::Figures(4)
    };
    let rounded = number::round_half_up(value, precision).ok()?;
    Some(number::rounded_text(rounded, precision))
}

/// Returns a unit as it stands after a number.
pub(crate) fn unit(unit: ask::Unit) -> &'static str {
    nouns(unit).1
}

/// The unit after 1 and after any other number.
fn nouns(unit: ask::Unit) -> (&'static str, &'static str) {
    match unit {
        ask::Unit::Turns => ("turn", "turns"),
        ask::Unit::Rpm => ("turn a minute", "turns a minute"),
        ask::Unit::Teeth => ("tooth", "teeth"),
        ask::Unit::Starts => ("start", "starts"),
        ask::Unit::Stages => ("stage", "stages"),
        ask::Unit::Millimetres => ("mm", "mm"),
        ask::Unit::Newtons => ("N", "N"),
        ask::Unit::NewtonCentimetres => ("N cm", "N cm"),
    }
}

/// Returns a printed unit as it stands after a number.
pub(crate) fn answer_unit(unit: answer::Unit) -> &'static str {
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

/// Returns a length in millimetres as centimetres, for turning forces.
pub(crate) fn in_cm(mm: number::Value) -> String {
    let ten = number::Value::from(number::Number::whole(10));
    match mm.divided_by(ten) {
        Ok(cm) => format!("{} cm", value(cm)),
        Err(_) => format!("{} mm", value(mm)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(text: &str) -> number::Value {
        text.parse::<number::Number>()
            .expect("the test's own")
            .into()
    }

    #[test]
    fn numbers_read_as_people_write_them() {
        for (text, said) in [
            ("3", "3"),
            ("5/2", "2.5"),
            ("1/8", "0.125"),
            ("1/16", "1/16"),
            ("5/3", "1 2/3"),
            ("-5/3", "-1 2/3"),
            ("-1/3", "-1/3"),
            ("0", "0"),
        ] {
            assert_eq!(value(exact(text)), said, "{text}");
        }
    }

    #[test]
    fn units_agree_with_their_number() {
        for (text, unit, said) in [
            ("1", ask::Unit::Turns, "1 turn"),
            ("3", ask::Unit::Turns, "3 turns"),
            ("1/3", ask::Unit::Turns, "1/3 of a turn"),
            ("1/2", ask::Unit::Turns, "0.5 turns"),
            ("4/3", ask::Unit::Turns, "1 1/3 turns"),
            ("1", ask::Unit::Teeth, "1 tooth"),
            ("1/3", ask::Unit::Millimetres, "1/3 mm"),
            ("120", ask::Unit::Rpm, "120 turns a minute"),
        ] {
            assert_eq!(amount(exact(text), unit), said);
        }
    }

    #[test]
    fn pi_is_a_sign_with_a_rounded_value_beside_it() {
        let with_pi = |text: &str, power| number::Value {
            factor: text.parse().expect("the test's own"),
            pi_power: power,
        };
        for (value, said) in [
            (with_pi("80", 1), "80π mm (about 251.3 mm)"),
            (with_pi("1", 1), "π mm (about 3.142 mm)"),
            (with_pi("2/3", 1), "2/3 × π mm (about 2.094 mm)"),
            (with_pi("4000", 1), "4000π mm (about 12566.4 mm)"),
            (with_pi("5", -1), "5 ÷ π mm (about 1.592 mm)"),
        ] {
            assert_eq!(amount(value, ask::Unit::Millimetres), said);
        }
        assert_eq!(in_cm(exact("305")), "30.5 cm");
    }
}
