//! Today's date and a seed nobody chose: the two things a clock is read for.

use crate::seed;
use time::OffsetDateTime;

/// Returns today's date, as ISO 8601 writes it; by universal time, so that it does
/// not depend on how a computer's time zone is set.
#[must_use]
pub fn today() -> String {
    OffsetDateTime::now_utc().date().to_string()
}

/// Returns what to say where the clock stands before what was done already: then it is
/// wrong, or another computer's was.
#[must_use]
pub fn doubt(today: &str, marked_on: &str) -> Option<String> {
    (today < marked_on).then(|| {
        format!(
            "this computer's clock says {today}, and the homework was marked on {marked_on} \
             before: set the clock right and mark again, for the dates of marks and decisions \
             go by it"
        )
    })
}

/// Returns a seed for a run that was given none: six letters and digits that can
/// be read aloud, from the clock's smallest ticks.
#[must_use]
pub fn chosen_seed() -> String {
    let now = OffsetDateTime::now_utc().unix_timestamp_nanos().to_string();
    seed::Stream::named(&["a seed nobody chose", &now], 0).code(6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn today_is_written_as_iso_8601_writes_it() {
        let today = today();
        let signs: Vec<char> = today.chars().collect();
        assert_eq!(signs.len(), 10, "{today}");
        assert_eq!((signs[4], signs[7]), ('-', '-'), "{today}");
    }

    #[test]
    fn a_clock_behind_what_was_done_is_doubted() {
        for (today, marked_on, is_doubted) in [
            ("2026-03-12", "2026-03-12", false),
            ("2026-03-12", "2026-03-11", false),
            ("1970-01-01", "2026-03-12", true),
            ("2026-03-12", "2099-12-31", true),
        ] {
            let said = doubt(today, marked_on);
            assert_eq!(said.is_some(), is_doubted, "{today} {marked_on}");
            assert!(said.is_none_or(|said| said.contains(marked_on)));
        }
    }

    #[test]
    fn a_chosen_seed_can_be_read_aloud() {
        assert_eq!(chosen_seed().chars().count(), 6);
    }
}
