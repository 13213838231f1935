//! Today's date and a seed nobody chose: the two things a clock is read for.

use crate::seed;
use time::OffsetDateTime;

/// Returns today's date, as ISO 8601 writes it; by universal time, so that it does
/// not depend on how a computer's time zone is set.
#[must_use]
pub fn today() -> String {
    OffsetDateTime::now_utc().date().to_string()
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
    fn a_chosen_seed_can_be_read_aloud() {
        assert_eq!(chosen_seed().chars().count(), 6);
    }
}
