//! Decimal digits said in other ways, without any rounding by floats.

/// Returns a decimal number as sign, all its digits as one whole number, and how many are places.
fn decimal(digits: &str) -> Option<(&'static str, u128, usize)> {
    let (sign, bare) = match digits.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", digits),
    };
    let (whole, places) = bare.split_once('.').unwrap_or((bare, ""));
    let together = format!("{whole}{places}").parse().ok()?;
    (places.len() <= 20).then_some((sign, together, places.len()))
}

/// Returns a number without the digits beyond the fifteenth, which spreadsheet
/// programs do not keep but some files hold.
pub(super) fn without_noise(digits: &str) -> String {
    const KEPT: usize = 15;
    let plain = || digits.to_owned();
    let Some((sign, together, places)) = decimal(digits) else {
        return plain();
    };
    let significant = together.to_string().len();
    let Some(extra) = significant.checked_sub(KEPT).filter(|extra| *extra > 0) else {
        return plain();
    };
    if extra > places {
        return plain();
    }
    let Some(unit) = u32::try_from(extra)
        .ok()
        .and_then(|extra| 10_u128.checked_pow(extra))
    else {
        return plain();
    };
    let rounded = (together + unit / 2) / unit;
    let places = places - extra;
    let padded = format!("{rounded:0>width$}", width = places + 1);
    let (whole, part) = padded.split_at(padded.len() - places);
    let part = part.trim_end_matches('0');
    let point = if part.is_empty() { "" } else { "." };
    format!("{sign}{whole}{point}{part}")
}

/// Returns a hundred times a number, in decimal digits.
pub(super) fn moved_two_places(digits: &str) -> Option<String> {
    let (sign, together, places) = decimal(digits)?;
    if places <= 2 {
        let missing = u32::try_from(2 - places).expect("at most two");
        return Some(format!(
            "{sign}{}",
            together.checked_mul(10_u128.pow(missing))?
        ));
    }
    let places = places - 2;
    let padded = format!("{together:0>width$}", width = places + 1);
    let (whole, part) = padded.split_at(padded.len() - places);
    let part = part.trim_end_matches('0');
    let point = if part.is_empty() { "" } else { "." };
    Some(format!("{sign}{whole}{point}{part}"))
}

/// Returns a number as a power of ten, such as `1e3`.
pub(super) fn scientific(digits: &str) -> Option<String> {
    let (sign, together, places) = decimal(digits)?;
    let all = together.to_string();
    let significant = all.trim_end_matches('0');
    if significant.is_empty() {
        return None;
    }
    let exponent = i64::try_from(all.len()).ok()? - 1 - i64::try_from(places).ok()?;
    let (first, rest) = significant.split_at(1);
    let point = if rest.is_empty() { "" } else { "." };
    Some(format!("{sign}{first}{point}{rest}e{exponent}"))
}

/// Returns a number as a mixed number and as an improper fraction: (`2 1/2`, `5/2`).
///
/// None where no denominator up to the largest gives the number to the digits
/// that a spreadsheet program keeps, so that it was not typed as a fraction.
pub(super) fn fraction(digits: &str, largest: u32) -> Option<(String, String)> {
    let (sign, together, places) = decimal(digits)?;
    let unit = 10_u128.checked_pow(u32::try_from(places).ok()?)?;
    for below in 1..=u128::from(largest) {
        let scaled = together.checked_mul(below)?;
        let above = (scaled.checked_add(unit / 2)?) / unit;
        let difference = scaled.abs_diff(above.checked_mul(unit)?);
        // Fifteen significant digits: the last one may be off by one in each part.
        let is_same = if places < 12 {
            difference == 0
        } else {
            difference <= below * 2
        };
        if !is_same {
            continue;
        }
        let (whole, left) = (above / below, above % below);
        let mixed = match (whole, left) {
            (whole, 0) => format!("{sign}{whole}"),
            (0, left) => format!("{sign}{left}/{below}"),
            (whole, left) => format!("{sign}{whole} {left}/{below}"),
        };
        return Some((mixed, format!("{sign}{above}/{below}")));
    }
    None
}

/// Returns a number of days as whole minutes in milliseconds.
///
/// None where it is none, and for a number of few places, which is more likely
/// to be just that: 2.5 and not 60 hours.
pub(super) fn milliseconds(days: &str) -> Option<i64> {
    const MILLISECONDS_A_DAY: u128 = 86_400_000;
    const FEWEST_PLACES: usize = 6;
    const MILLISECONDS_A_MINUTE: u128 = 60_000;
    let (sign, together, places) = decimal(days)?;
    let unit = 10_u128.checked_pow(u32::try_from(places).ok()?)?;
    let exact = together.checked_mul(MILLISECONDS_A_DAY)?;
    let rounded = exact.checked_add(unit / 2)? / unit;
    let is_whole = rounded % MILLISECONDS_A_MINUTE == 0;
    (sign.is_empty() && is_whole && places >= FEWEST_PLACES).then(|| i64::try_from(rounded).ok())?
}
