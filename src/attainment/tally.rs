//! Answers counted by state, and the share of marks earned.

use crate::attainment;
use crate::marking;
use crate::number;

/// Answers of one group, counted.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Tally {
    /// Pupils who handed in: at least one answer is neither absent nor excused.
    pub pupils: u32,
    /// Answers with all marks.
    pub correct: u32,
    /// Answers with some marks.
    pub partly: u32,
    /// Attempts that earned nothing.
    pub wrong: u32,
    /// Left blank, or don't-know.
    pub blank: u32,
    /// Blank after the last attempted question.
    pub not_reached: u32,
    /// Something typed that gives no answer.
    pub unreadable: u32,
    /// The pupil was absent.
    pub absent: u32,
    /// The pupil was excused.
    pub excused: u32,
    /// Marks earned by the answers that count for facility.
    pub earned: u32,
    /// Marks to be had by the answers that count for facility.
    pub available: u32,
}

impl Tally {
    /// Counts one answer. Pupils are counted apart: one may give many answers.
    pub fn count(&mut self, answer: &attainment::Answer) {
        let state = match answer.state {
            marking::State::Correct => &mut self.correct,
            marking::State::Partly => &mut self.partly,
            marking::State::Wrong => &mut self.wrong,
            marking::State::Blank => &mut self.blank,
            marking::State::NotReached => &mut self.not_reached,
            marking::State::Unreadable => &mut self.unreadable,
            marking::State::Absent => &mut self.absent,
            marking::State::Excused => &mut self.excused,
        };
        *state = state.saturating_add(1);
        if counts_for_facility(answer.state) {
            self.earned = self.earned.saturating_add(u32::from(answer.marks));
            self.available = self.available.saturating_add(u32::from(answer.out_of));
        }
    }

    /// Adds all counts of another, except pupils: the same may be in both.
    pub fn join(&mut self, other: &Self) {
        for (count, more) in [
            (&mut self.correct, other.correct),
            (&mut self.partly, other.partly),
            (&mut self.wrong, other.wrong),
            (&mut self.blank, other.blank),
            (&mut self.not_reached, other.not_reached),
            (&mut self.unreadable, other.unreadable),
            (&mut self.absent, other.absent),
            (&mut self.excused, other.excused),
            (&mut self.earned, other.earned),
            (&mut self.available, other.available),
        ] {
            *count = count.saturating_add(more);
        }
    }

    /// Returns how many answers were handed in: neither absent nor excused.
    #[must_use]
    pub fn handed_in(&self) -> u32 {
        self.counted().saturating_add(self.not_reached)
    }

    /// Returns how many answers count for facility: attempted or left blank.
    #[must_use]
    pub fn counted(&self) -> u32 {
        [
            self.correct,
            self.partly,
            self.wrong,
            self.unreadable,
            self.blank,
        ]
        .into_iter()
        .fold(0, u32::saturating_add)
    }

    /// Returns the facility: marks earned as a share of the marks to be had, over
    /// answers attempted or left blank; nothing where there are none.
    ///
    /// Units: a share from 0 to 1.
    /// Source: the item mean over the highest mark of classical item analysis
    /// (common practice, no source); checked on the facilities of the LSAT6 and
    /// LSAT7 items, which are published with several statistics packages.
    #[must_use]
    pub fn facility(&self) -> Option<number::Number> {
        number::Number::from(self.earned)
            .divided_by(number::Number::from(self.available))
            .ok()
    }
}

/// Returns a share in whole hundredths, rounded half up.
///
/// Source: the rounding of every facility here, common practice.
#[must_use]
pub fn percent(share: number::Number) -> u32 {
    share
        .times(number::Number::whole(100))
        .and_then(|value| number::round_half_up(value.into(), number::Precision::Places(0)))
        .ok()
        .and_then(number::Number::as_whole)
        .and_then(|percent| u32::try_from(percent).ok())
        .unwrap_or(0)
}

/// Whether the pupil was there and the answer was expected.
pub(super) fn was_handed_in(state: marking::State) -> bool {
    match state {
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Wrong
        | marking::State::Blank
        | marking::State::NotReached
        | marking::State::Unreadable => true,
        marking::State::Absent | marking::State::Excused => false,
    }
}

/// Whether the answer says something of the question.
pub(super) fn counts_for_facility(state: marking::State) -> bool {
    match state {
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Wrong
        | marking::State::Blank
        | marking::State::Unreadable => true,
        marking::State::NotReached | marking::State::Absent | marking::State::Excused => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attainment::examples;

    #[test]
    fn every_state_has_its_own_count_and_only_some_count_for_facility() {
        let states = [
            (marking::State::Correct, 2),
            (marking::State::Partly, 1),
            (marking::State::Wrong, 0),
            (marking::State::Blank, 0),
            (marking::State::NotReached, 0),
            (marking::State::Unreadable, 0),
            (marking::State::Absent, 0),
            (marking::State::Excused, 0),
        ];
        let mut tally = Tally::default();
        for (state, marks) in states {
            tally.count(&attainment::Answer {
                state,
                marks,
                out_of: 2,
                ..examples::answer()
            });
        }
        let one_each = Tally {
            pupils: 0,
            correct: 1,
            partly: 1,
            wrong: 1,
            blank: 1,
            not_reached: 1,
            unreadable: 1,
            absent: 1,
            excused: 1,
            earned: 3,
            available: 10,
        };
        assert_eq!(tally, one_each);
        assert_eq!((tally.counted(), tally.handed_in()), (5, 6));
        let mut twice = tally.clone();
        twice.join(&tally);
        assert_eq!((twice.counted(), twice.earned), (10, 6));
        assert_eq!(tally.facility(), number::Number::ratio(3, 10).ok());
        assert_eq!(Tally::default().facility(), None);
    }

    #[test]
    fn facility_is_the_published_one_for_the_law_school_test() {
        // LSAT6, 1000 people: right answers to items 1 to 5.
        for (right, facility) in [
            (924, "0.924"),
            (709, "0.709"),
            (553, "0.553"),
            (763, "0.763"),
            (870, "0.87"),
        ] {
            let tally = Tally {
                earned: right,
                available: 1000,
                ..Tally::default()
            };
            assert_eq!(tally.facility(), facility.parse().ok());
        }
    }
}
