//! When something was, in the school's own words.

use crate::attainment;
use crate::attainment::calendar;
use crate::attainment::group;

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
