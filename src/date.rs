//! Days of the calendar, read from `2026-03-02` and put in order.
//!
//! Knows the months and the leap years of the Gregorian calendar, and when an academic
//! year begins and ends where no school says otherwise; knows nothing of terms, weeks or
//! today.
//!
//! Source: ISO 8601-1:2019 for the form and the calendar.

use std::fmt;
use std::str::FromStr;

/// The month in which an academic year begins, on its first day.
///
/// Source: common practice in England's schools, no source.
const SEPTEMBER: u32 = 9;

/// The months by name, in order.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// A day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Date {
    year: u32,
    month: u32,
    day: u32,
}

/// Text that is no day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DateError {
    /// It is not written as year-month-day.
    Shape,
    /// The month has fewer days.
    TooLate {
        /// The year.
        year: u32,
        /// The month.
        month: u32,
        /// How many days the month has.
        days: u32,
    },
}

impl fmt::Display for DateError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Shape => {
                formatter.write_str("wanted a date as year-month-day, such as 2026-03-02")
            }
            Self::TooLate { year, month, days } => {
                write!(formatter, "month {month} of {year} has {days} days")
            }
        }
    }
}

impl std::error::Error for DateError {}

impl fmt::Display for Date {
    /// Writes `2026-03-02`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            formatter,
            "{:04}-{:02}-{:02}",
            self.year, self.month, self.day
        )
    }
}

impl FromStr for Date {
    type Err = DateError;

    /// Reads `2026-03-02`, every digit of it.
    fn from_str(text: &str) -> Result<Self, DateError> {
        let fields: Vec<&str> = text.split('-').collect();
        let [year, month, day] = fields.as_slice() else {
            return Err(DateError::Shape);
        };
        let number = |text: &str, length: usize| -> Option<u32> {
            let is_digits = text.len() == length && text.bytes().all(|byte| byte.is_ascii_digit());
            is_digits.then(|| text.parse().ok())?
        };
        let fields = (number(year, 4), number(month, 2), number(day, 2));
        let (Some(year), Some(month), Some(day)) = fields else {
            return Err(DateError::Shape);
        };
        let days = days(year, month).ok_or(DateError::Shape)?;
        if day == 0 {
            Err(DateError::Shape)
        } else if day > days {
            Err(DateError::TooLate { year, month, days })
        } else {
            Ok(Self { year, month, day })
        }
    }
}

impl Date {
    /// Returns the year.
    #[must_use]
    pub fn year(self) -> u32 {
        self.year
    }

    /// Returns the month, from 1 to 12.
    #[must_use]
    pub fn month(self) -> u32 {
        self.month
    }

    /// Returns the year in which the academic year of the day begins, on 1 September: 2025
    /// for 9 March 2026.
    #[must_use]
    pub fn academic_year(self) -> u32 {
        self.year - u32::from(self.month < SEPTEMBER && self.year > 0)
    }

    /// Returns the last day of the academic year of the day, a 31 August.
    #[must_use]
    pub fn end_of_academic_year(self) -> Self {
        Self {
            year: self.academic_year() + 1,
            month: SEPTEMBER - 1,
            day: 31,
        }
    }

    /// Returns the day as people write it: `31 August 2026`.
    #[must_use]
    pub fn in_words(self) -> String {
        let month = (1..).zip(MONTHS).find(|(number, _)| *number == self.month);
        let name = month.map_or("", |(_, name)| name);
        format!("{} {name} {}", self.day, self.year)
    }

    /// Returns how many days it is after 1 January 1970; less than nought before.
    #[must_use]
    pub fn days_since_1970(self) -> i32 {
        let leap_days = |year: u32| year / 4 - year / 100 + year / 400;
        let before = |year: u32| year * 365 + year.checked_sub(1).map_or(0, |it| leap_days(it) + 1);
        let in_year: u32 = (1..self.month)
            .filter_map(|month| days(self.year, month))
            .sum();
        let since_nought = before(self.year) + in_year + self.day - 1;
        let wide = i64::from(since_nought) - i64::from(before(1970));
        i32::try_from(wide).expect("ten thousand years are under four million days")
    }
}

/// Returns how many days a month has; nothing for a month that is none.
fn days(year: u32, month: u32) -> Option<u32> {
    let is_leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    match month {
        4 | 6 | 9 | 11 => Some(30),
        2 if is_leap => Some(29),
        2 => Some(28),
        1..=12 => Some(31),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_read_written_and_in_order() {
        let date = |text: &str| text.parse::<Date>();
        for text in ["2026-03-02", "2028-02-29", "2000-02-29", "0999-12-31"] {
            assert_eq!(date(text).map(|date| date.to_string()), Ok(text.to_owned()));
        }
        assert!(date("2025-12-31").ok() < date("2026-01-01").ok());
    }

    #[test]
    fn days_are_counted_from_1970() {
        for (text, days) in [
            ("1970-01-01", 0),
            ("1969-12-31", -1),
            ("1970-03-01", 59),
            ("2000-02-29", 11_016),
            ("2026-03-09", 20_521),
            ("0000-01-01", -719_528),
            ("0001-01-01", -719_162),
            ("9999-12-31", 2_932_896),
        ] {
            let date: Date = text.parse().expect(text);
            assert_eq!(date.days_since_1970(), days, "{text}");
        }
    }

    #[test]
    fn an_academic_year_ends_on_the_last_of_august() {
        for (text, end) in [
            ("2025-09-01", "31 August 2026"),
            ("2026-08-31", "31 August 2026"),
            ("2026-09-01", "31 August 2027"),
            ("1999-12-31", "31 August 2000"),
            ("0000-01-01", "31 August 1"),
            ("9999-12-31", "31 August 10000"),
        ] {
            let date: Date = text.parse().expect(text);
            assert_eq!(date.end_of_academic_year().in_words(), end, "{text}");
        }
    }

    #[test]
    fn what_is_no_day_is_told_from_a_day_too_late() {
        for text in [
            "",
            "2026",
            "2026-3-2",
            "2026-13-01",
            "2026-00-01",
            "2026-01-00",
            "26-01-01",
        ] {
            assert_eq!(text.parse::<Date>(), Err(DateError::Shape), "{text}");
        }
        for (text, said) in [
            ("2027-02-29", "month 2 of 2027 has 28 days"),
            ("1900-02-29", "month 2 of 1900 has 28 days"),
            ("2026-04-31", "month 4 of 2026 has 30 days"),
        ] {
            let error = text.parse::<Date>().expect_err(text);
            assert_eq!(error.to_string(), said);
        }
    }
}
