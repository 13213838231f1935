//! Proportions and facilities with their intervals, and the difference of two.
//!
//! The proportion itself is exact; only its interval is floating point.

use crate::number;
use crate::statistics;
use crate::statistics::interval;

/// Marks earned of marks to be had, by so many pupils.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share {
    earned: u64,
    available: u64,
    pupils: u64,
}

/// How far one proportion lies above another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// The first less the second, from -1 to 1.
    pub value: f64,
    /// Where it may as well lie.
    pub interval: interval::Interval,
}

impl Share {
    /// Returns the proportion of pupils who have something: right answers to one
    /// question worth one mark, or a misconception.
    ///
    /// # Errors
    ///
    /// [`statistics::Meaningless::NoItems`] without pupils, and
    /// [`statistics::Meaningless::MoreThanAll`].
    ///
    /// # Example
    ///
    /// ```
    /// use toothmark::statistics::proportion::Share;
    ///
    /// let share = Share::of_pupils(3, 5).expect("there are pupils");
    /// assert_eq!(share.value().to_string(), "3/5");
    /// let interval = share.interval();
    /// assert!(interval.low > 0.23 && interval.high < 0.89);
    /// ```
    pub fn of_pupils(those: u64, all: u64) -> statistics::Figure<Self> {
        Self::of_marks(those, all, all)
    }

    /// Returns the facility: the marks earned as a share of the marks to be had,
    /// by so many different pupils.
    ///
    /// `pupils` is what the interval hangs on. The answers of one pupil are alike,
    /// so that twenty answers of five pupils say hardly more than five answers.
    ///
    /// Source: the item mean over the highest mark of classical item analysis
    /// (common practice, no source).
    ///
    /// # Errors
    ///
    /// As [`Self::of_pupils`].
    pub fn of_marks(earned: u64, available: u64, pupils: u64) -> statistics::Figure<Self> {
        if available == 0 || pupils == 0 {
            return Err(statistics::Meaningless::NoItems);
        }
        if earned > available {
            return Err(statistics::Meaningless::MoreThanAll);
        }
        // What can be held exactly, so that the value always can be told.
        statistics::exact(available)?;
        Ok(Self {
            earned,
            available,
            pupils,
        })
    }

    /// Returns the proportion, exactly.
    #[must_use]
    pub fn value(&self) -> number::Number {
        let value = statistics::fraction(i128::from(self.earned), i128::from(self.available));
        value.expect("what is to be had is not nought and was seen to fit")
    }

    /// Returns Wilson's score interval at 95 %, without continuity correction, never
    /// outside 0 to 1.
    ///
    /// For shares of marks it is taken with the number of pupils as if each were
    /// all right or all wrong. That is never too narrow: no marks from 0 to 1 with
    /// this mean spread more (Bhatia and Davis 2000, American Mathematical Monthly
    /// 107, 353-357, from memory).
    ///
    /// Source: Wilson (1927), Journal of the American Statistical Association 22,
    /// 209-212; Newcombe (1998), Statistics in Medicine 17, 857-872, method 3. His
    /// cases are among those it is checked on.
    #[must_use]
    pub fn interval(&self) -> interval::Interval {
        self.interval_at(interval::NORMAL_975)
    }

    /// The same with so many standard errors to each side.
    fn interval_at(&self, errors: f64) -> interval::Interval {
        let pupils = statistics::real(self.pupils);
        let value = self.real();
        let squared = errors * errors;
        let middle = value + squared / (2.0 * pupils);
        let within = value * (1.0 - value) / pupils + squared / (4.0 * pupils * pupils);
        let reach = errors * libm::sqrt(within);
        let scale = 1.0 + squared / pupils;
        let wilson = interval::Interval {
            low: (middle - reach) / scale,
            high: (middle + reach) / scale,
        };
        // At the ends the formula gives 0 and 1 but for its rounding.
        let low = if self.earned == 0 { 0.0 } else { wilson.low };
        let all = self.earned == self.available;
        let high = if all { 1.0 } else { wilson.high };
        interval::Interval { low, high }.clamped(0.0, 1.0)
    }

    /// Returns how many pupils it is of.
    #[must_use]
    pub fn pupils(&self) -> u64 {
        self.pupils
    }

    fn real(&self) -> f64 {
        statistics::real(self.earned) / statistics::real(self.available)
    }
}

/// Returns how far the first lies above the second, for two groups with no pupil in
/// common.
///
/// The same pupils twice are not two groups: their answers hang together, and this
/// interval would be wrong.
///
/// Source: Newcombe (1998), Interval estimation for the difference between
/// independent proportions, Statistics in Medicine 17, 873-890, method 10 (hybrid
/// score); checked on the examples of his table II (from memory).
#[must_use]
pub fn difference(first: &Share, second: &Share) -> Difference {
    difference_at(first, second, interval::NORMAL_975)
}

/// Returns the same where it is one of so many differences that are looked at together:
/// its interval is as much wider as makes 95 in 100 sets of so many intervals hold all
/// their truths.
///
/// Source: [`difference`] with Bonferroni's division of the one in twenty over the
/// comparisons (Dunn 1961, Journal of the American Statistical Association 56, 52-64,
/// from memory).
#[must_use]
pub fn difference_of_many(first: &Share, second: &Share, comparisons: usize) -> Difference {
    difference_at(first, second, interval::normal_for_many(comparisons))
}

fn difference_at(first: &Share, second: &Share, errors: f64) -> Difference {
    let (one, other) = (first.real(), second.real());
    let (around_one, around_other) = (first.interval_at(errors), second.interval_at(errors));
    let value = one - other;
    let down = libm::hypot(one - around_one.low, around_other.high - other);
    let up = libm::hypot(around_one.high - one, other - around_other.low);
    let interval = interval::Interval {
        low: value - down,
        high: value + up,
    };
    Difference {
        value,
        interval: interval.clamped(-1.0, 1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Meaningless;

    fn share(those: u64, all: u64) -> Share {
        Share::of_pupils(those, all).expect("there are pupils")
    }

    #[test]
    fn nobody_and_more_than_everybody_have_no_share() {
        assert_eq!(Share::of_pupils(0, 0), Err(Meaningless::NoItems));
        assert_eq!(Share::of_marks(0, 3, 0), Err(Meaningless::NoItems));
        assert_eq!(Share::of_pupils(6, 5), Err(Meaningless::MoreThanAll));
        let huge = Share::of_pupils(u64::MAX, u64::MAX);
        assert_eq!(huge, Err(Meaningless::TooLarge));
    }

    #[test]
    fn many_answers_of_few_pupils_do_not_make_it_surer() {
        let answers = Share::of_marks(60, 100, 5).expect("there are marks");
        assert_eq!(answers.value(), share(3, 5).value());
        assert_eq!(answers.interval(), share(3, 5).interval());
    }

    #[test]
    fn differences_have_the_published_intervals() {
        // Newcombe 1998, table II, method 10.
        for (first, second, low, high) in [
            ((56, 70), (48, 80), 0.0524, 0.3339),
            ((9, 10), (3, 10), 0.1705, 0.8090),
            ((6, 7), (2, 7), 0.0582, 0.8062),
            ((5, 56), (0, 29), -0.0381, 0.1926),
            ((0, 10), (0, 20), -0.1611, 0.2775),
            ((0, 10), (0, 10), -0.2775, 0.2775),
            ((10, 10), (0, 20), 0.6791, 1.0),
            ((10, 10), (0, 10), 0.6075, 1.0),
        ] {
            let found = difference(&share(first.0, first.1), &share(second.0, second.1));
            let close = |found: f64, wanted: f64| (found - wanted).abs() <= 0.000_05;
            assert!(
                close(found.interval.low, low) && close(found.interval.high, high),
                "{first:?} {second:?}: {found:?}"
            );
        }
    }

    proptest::proptest! {
        #[test]
        fn every_interval_holds_its_share_and_stays_within_bounds(all in 1_u64..3000, part in 0.0_f64..=1.0, more in 1_u64..3000) {
            let those = (0..=all).take_while(|it| statistics::real(*it) <= part * statistics::real(all)).count();
            let those = u64::try_from(those.saturating_sub(1)).expect("a count");
            let one = share(those, all);
            let interval = one.interval();
            proptest::prop_assert!(interval.holds(one.value().to_f64()));
            proptest::prop_assert!(0.0 <= interval.low && interval.high <= 1.0);
            // The other way round it is the mirror image.
            let mirror = share(all - those, all).interval();
            proptest::prop_assert!((mirror.low - (1.0 - interval.high)).abs() < 1e-12);
            // More pupils with the same share: never wider.
            let many = share(those * more, all * more).interval();
            proptest::prop_assert!(many.high - many.low <= interval.high - interval.low + 1e-12);
        }

        #[test]
        fn a_difference_turned_round_changes_its_sign(first in (0_u64..40, 0_u64..40), second in (0_u64..40, 0_u64..40)) {
            let one = share(first.0, first.0 + first.1 + 1);
            let other = share(second.0, second.0 + second.1 + 1);
            let (there, back) = (difference(&one, &other), difference(&other, &one));
            proptest::prop_assert!((there.value + back.value).abs() < 1e-12);
            proptest::prop_assert!((there.interval.low + back.interval.high).abs() < 1e-12);
            proptest::prop_assert!(there.interval.holds(there.value));
            proptest::prop_assert!(there.interval.low >= -1.0 && there.interval.high <= 1.0);
        }
    }
}
