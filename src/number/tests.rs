//! Facts and laws of exact numbers.

use super::*;

fn number(text: &str) -> Number {
    text.parse().expect("the test's own number")
}

#[test]
fn exact_writings_are_read_and_written_back() {
    for (text, written) in [
        ("5", "5"),
        ("-2.50", "-5/2"),
        ("10/4", "5/2"),
        ("007", "7"),
        ("0", "0"),
        ("-0", "0"),
        ("0.125", "1/8"),
        ("-3/9", "-1/3"),
    ] {
        assert_eq!(number(text).to_string(), written, "{text}");
    }
    for text in [
        "", "1/0", "1,5", ".5", "2.", " 1", "a", "1/2/3", "--1", "1e3",
    ] {
        assert!(text.parse::<Number>().is_err(), "{text}");
    }
}

#[test]
fn signs_are_kept_apart_from_sizes() {
    let half = Number::ratio(-1, 2).expect("fits");
    assert!(half.is_negative());
    assert_eq!(half, number("-1/2"));
    assert!(half < Number::ZERO);
    assert_eq!(half.floor(), number("-1"));
    assert_eq!(half.plus(number("1/2")).expect("fits"), Number::ZERO);
    assert!(!half.plus(number("1/2")).expect("fits").is_negative());
}

#[test]
fn what_does_not_fit_is_an_error() {
    let huge = number("170141183460469231731687303715884105727");
    assert_eq!(huge.times(huge), Err(NumberError::Overflow));
    assert_eq!(
        huge.times(number("2")).and_then(|it| it.plus(huge)),
        Err(NumberError::Overflow)
    );
    assert_eq!(
        Number::ONE.divided_by(Number::ZERO),
        Err(NumberError::DivisionByZero)
    );
    assert_eq!(
        "340282366920938463463374607431768211456".parse::<Number>(),
        Err(NumberError::Overflow)
    );
}

#[test]
fn order_never_overflows() {
    let huge = number("340282366920938463463374607431768211455");
    let near =
        number("340282366920938463463374607431768211455/340282366920938463463374607431768211454");
    let nearer =
        number("340282366920938463463374607431768211454/340282366920938463463374607431768211453");
    assert!(near < nearer);
    assert!(near < huge);
    assert!(huge.negated() < near.negated());
    assert_eq!(near.cmp(&near), Ordering::Equal);
}

#[test]
fn halves_round_up_and_away_from_nought() {
    for (text, precision, rounded) in [
        ("2.675", Precision::Places(2), "2.68"),
        ("0.125", Precision::Places(2), "0.13"),
        ("2.5", Precision::Places(0), "3"),
        ("-2.5", Precision::Places(0), "-3"),
        ("1234.5", Precision::Figures(3), "1230"),
        ("0.0012345", Precision::Figures(3), "0.00123"),
        ("9.996", Precision::Figures(3), "10"),
        ("7/3", Precision::Figures(3), "2.33"),
        ("100", Precision::Figures(1), "100"),
    ] {
        let result = round_half_up(number(text).into(), precision).expect("fits");
        assert_eq!(rounded_text(result, precision), rounded, "{text}");
    }
    assert_eq!(rounded_text(number("5/2"), Precision::Places(2)), "2.50");
    assert_eq!(rounded_text(number("3"), Precision::Places(1)), "3.0");
}

#[test]
fn pi_is_a_factor_until_the_rounding() {
    // Source: 40 teeth of module 2 mm give a rack travel of 80 pi mm a turn,
    // 251.327 mm (computed here from the formula pi m z).
    let travel = Value::PI.times(number("80").into()).expect("fits");
    assert_eq!(travel.to_string(), "80 pi");
    assert_eq!(
        round_half_up(travel, Precision::Places(3)),
        Ok(number("251.327"))
    );
    assert_eq!(travel.plus(Value::ONE), Err(NumberError::MixedPi));
    assert_eq!(travel.plus(Value::ZERO), Ok(travel));
    assert_eq!(
        travel.divided_by(Value::PI).expect("fits").as_number(),
        Some(number("80"))
    );
    assert_eq!(
        round_half_up(travel, Precision::Exact),
        Err(NumberError::Overflow)
    );
    let inverse = Value::ONE.divided_by(Value::PI).expect("fits");
    assert_eq!(
        round_half_up(inverse, Precision::Figures(6)),
        Ok(number("0.318310"))
    );
}

#[test]
fn pi_lies_between_the_old_bounds() {
    // Source: Archimedes, Measurement of a Circle: 223/71 < pi < 22/7.
    let (low, high) = Value::PI.bounds().expect("fits");
    assert!(number("223/71") < low && high < number("22/7"));
    assert!((low.to_f64() - std::f64::consts::PI).abs() < 1e-15);
    assert_eq!(Value::PI.compare(number("22/7").into()), Ok(Ordering::Less));
}

#[test]
fn endless_decimals_have_no_decimal_writing() {
    assert_eq!(number("1/3").to_decimal(), None);
    assert_eq!(number("-5/8").to_decimal(), Some("-0.625".to_owned()));
    assert_eq!(number("7/20").to_decimal(), Some("0.35".to_owned()));
}

proptest::proptest! {
    #[test]
    fn taking_away_undoes_adding(a in -9999_i64..9999, b in 1_i64..999, c in -9999_i64..9999, d in 1_i64..999) {
        let (x, y) = (Number::ratio(a, b).expect("fits"), Number::ratio(c, d).expect("fits"));
        proptest::prop_assert_eq!(x.plus(y).and_then(|sum| sum.minus(y)), Ok(x));
        let ordered = (i128::from(a) * i128::from(d)).cmp(&(i128::from(c) * i128::from(b)));
        proptest::prop_assert_eq!(x.cmp(&y), ordered);
        proptest::prop_assert_eq!(x.to_string().parse::<Number>(), Ok(x));
    }
}

proptest::proptest! {
    #[test]
    fn sixty_four_bits_and_a_hundred_and_twenty_eight_calculate_alike(
        one in (proptest::prelude::any::<i64>(), 1..=i64::MAX, 0_u32..64),
        other in (proptest::prelude::any::<i64>(), 1..=i64::MAX, 0_u32..64),
    ) {
        // Sizes of every length in bits: most calculations fit, and some do not.
        let of = |(top, bottom, shift): (i64, i64, u32)| {
            Number::ratio(top >> shift, (bottom >> shift).max(1)).expect("not over nought")
        };
        let (one, other) = (of(one), of(other));
        let (a, b) = (one.to_wide(), other.to_wide());
        proptest::prop_assert_eq!(one.plus(other), Number::finite(a.checked_add(&b)));
        proptest::prop_assert_eq!(one.minus(other), Number::finite(a.checked_sub(&b)));
        proptest::prop_assert_eq!(one.times(other), Number::finite(a.checked_mul(&b)));
        if !other.is_zero() {
            proptest::prop_assert_eq!(one.divided_by(other), Number::finite(a.checked_div(&b)));
        }
    }
}
