//! Days between two dates.

/// Returns how many days after one date another is; nothing where one of them is no
/// date of the calendar.
///
/// Source: the proleptic Gregorian calendar of ISO 8601-1:2019; the days before a
/// month, counted from March, are 153 for every five months (common practice, no
/// source).
pub(super) fn days_between(earlier: &str, later: &str) -> Option<i64> {
    Some(day(later)? - day(earlier)?)
}

/// The number of a date's day, from a day nobody needs to know.
fn day(date: &str) -> Option<i64> {
    let mut fields = date.get(..10)?.split('-');
    let mut field = || fields.next()?.parse::<i64>().ok();
    let (year, month, day) = (field()?, field()?, field()?);
    if !(1..=12).contains(&month) || !(1..=31).contains(&day) {
        return None;
    }
    // January and February count to the year before, so that a leap day comes last.
    let (year, month) = if month > 2 {
        (year, month - 3)
    } else {
        (year - 1, month + 9)
    };
    let leap_days = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
    Some(365 * year + leap_days + (153 * month + 2) / 5 + day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_counted_over_months_and_leap_years() {
        for (earlier, later, days) in [
            ("2026-10-06", "2026-10-06", Some(0)),
            ("2026-10-06", "2026-10-13", Some(7)),
            ("2026-12-31", "2027-01-01", Some(1)),
            ("2028-02-28", "2028-03-01", Some(2)),
            ("2027-02-28", "2027-03-01", Some(1)),
            ("2000-02-28", "2000-03-01", Some(2)),
            ("2026-01-01", "2027-01-01", Some(365)),
            ("2026-10-13", "2026-10-06", Some(-7)),
            ("last week", "2026-10-06", None),
            ("2026-13-01", "2026-10-06", None),
            ("", "2026-10-06", None),
        ] {
            assert_eq!(days_between(earlier, later), days, "{earlier} {later}");
        }
    }
}
