//! When something was, in the school's own words.

use crate::attainment;
use crate::attainment::calendar;
use crate::attainment::group;
use crate::date;

/// What is called so where the calendar has no term for a day.
const OUTSIDE: &str = "outside the calendar's terms";

impl attainment::School {
    /// Returns the term of a day; without a calendar the day itself.
    pub(super) fn when(&self, set_on: &str) -> group::Key {
        self.time(set_on, calendar::Term::to_string)
    }

    /// Returns the school year of a day; without a calendar the day itself.
    pub(super) fn school_year(&self, set_on: &str) -> group::Key {
        self.time(set_on, |term| term.year.clone())
    }

    /// Whether there is a calendar, and the day lies in none of its terms.
    pub(super) fn is_outside(&self, set_on: &str) -> bool {
        let calendar = self.calendar.as_ref();
        calendar.is_some_and(|calendar| calendar.term(set_on).is_none())
    }

    /// Returns the academic year of a day: the calendar's, as it is called there; where
    /// the calendar has no term for the day, or there is no calendar, the year from
    /// 1 September to 31 August, such as `2025-26`.
    #[must_use]
    pub fn academic_year(&self, set_on: &str) -> String {
        let term = self.calendar.as_ref().and_then(|it| it.term(set_on));
        if let Some(term) = term {
            return term.year.clone();
        }
        match set_on.parse::<date::Date>() {
            Ok(day) => {
                let first = day.academic_year();
                format!("{first:04}-{:02}", (first + 1) % 100)
            }
            Err(_) => "no date".to_owned(),
        }
    }

    fn time(&self, set_on: &str, name: impl Fn(&calendar::Term) -> String) -> group::Key {
        let Some(calendar) = &self.calendar else {
            return group::placed(0, set_on.to_owned());
        };
        let Some(term) = calendar.term(set_on) else {
            return group::placed(usize::MAX, OUTSIDE.to_owned());
        };
        let label = name(term);
        // All days of one name stand where the first of its terms stands.
        let place = calendar.terms().iter().position(|term| name(term) == label);
        group::placed(place.unwrap_or(usize::MAX), label)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_academic_year_is_the_calendars_or_begins_in_september() {
        let plain = attainment::School::default();
        for (day, year) in [
            ("2025-09-01", "2025-26"),
            ("2026-08-31", "2025-26"),
            ("2026-09-01", "2026-27"),
            ("1999-10-01", "1999-00"),
            ("0000-01-01", "0000-01"),
            ("soon", "no date"),
        ] {
            assert_eq!(plain.academic_year(day), year, "{day}");
        }
        let text = "[[term]]\nlabel = \"Term 1\"\nyear = \"2026/27\"\n\
            first = \"2026-08-17\"\nlast = \"2026-10-09\"\n";
        let school = attainment::School {
            calendar: calendar::read(text, "c.toml").ok(),
            ..plain
        };
        assert_eq!(school.academic_year("2026-08-17"), "2026/27");
        assert_eq!(school.academic_year("2026-08-16"), "2025-26");
    }
}
