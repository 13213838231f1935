//! How sure Cohen's kappa is.

use crate::statistics;
use crate::statistics::interval;
use crate::statistics::kappa;
use std::collections::BTreeMap;

/// With fewer items the standard error is not told (common practice, no source): it is
/// a large-sample formula.
pub const FEWEST_ITEMS: u64 = 10;

impl kappa::Pairs {
    /// Returns Cohen's kappa with its standard error for items drawn at random.
    ///
    /// Source: Fleiss, Cohen and Everitt (1969), Psychological Bulletin 72, 323-327
    /// (from memory); checked on a worked example of another statistics package, which
    /// stands in the tests.
    ///
    /// # Errors
    ///
    /// As [`Self::kappa`], and with fewer than ten items.
    ///
    /// # Example
    ///
    /// ```
    /// use toothmark::statistics::kappa::Pairs;
    ///
    /// let pairs = Pairs::of([(1, 1), (1, 1), (0, 0), (0, 1)].repeat(9));
    /// let interval = pairs.kappa_with_error().expect("two categories").interval();
    /// assert!(interval.low > 0.2 && interval.high < 0.8);
    /// ```
    pub fn kappa_with_error(&self) -> statistics::Figure<interval::Estimate> {
        let kappa = self.kappa()?.to_f64();
        let by_chance = self.expected()?.to_f64();
        if self.items() < FEWEST_ITEMS {
            return Err(statistics::Meaningless::TooFewItems);
        }
        let items = statistics::real(self.items());
        let (mut firsts, mut seconds) = (BTreeMap::new(), BTreeMap::new());
        for ((first, second), count) in &self.counts {
            let share = statistics::real(*count) / items;
            *firsts.entry(*first).or_insert(0.0) += share;
            *seconds.entry(*second).or_insert(0.0) += share;
        }
        let of = |shares: &BTreeMap<u8, f64>, mark: u8| shares.get(&mark).copied().unwrap_or(0.0);
        let mut spread = 0.0;
        for ((first, second), count) in &self.counts {
            let share = statistics::real(*count) / items;
            let both = of(&seconds, *first) + of(&firsts, *second);
            let own = if first == second {
                1.0 - both * (1.0 - kappa)
            } else {
                both * (1.0 - kappa)
            };
            spread += share * own * own;
        }
        let middle = kappa - by_chance * (1.0 - kappa);
        spread -= middle * middle;
        let error = libm::sqrt(spread.max(0.0) / items) / (1.0 - by_chance);
        Ok(interval::Estimate {
            value: kappa,
            error,
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::Meaningless;
    use crate::statistics::kappa::Pairs;

    #[test]
    fn the_error_is_that_of_the_worked_example() {
        // Rows 0 4 1 / 0 8 0 / 0 1 5: kappa .4842, error .1380, .2137 to .7547, printed
        // with the tests of statsmodels 0.15.0 as computed by SAS.
        let table = [
            ((0, 1), 4),
            ((0, 2), 1),
            ((1, 1), 8),
            ((2, 1), 1),
            ((2, 2), 5),
        ];
        let pairs = table.iter().flat_map(|(pair, count)| vec![*pair; *count]);
        let found = Pairs::of(pairs).kappa_with_error().expect("enough items");
        let interval = found.interval();
        for (found, wanted) in [
            (found.value, 0.4842),
            (found.error, 0.1380),
            (interval.low, 0.2137),
            (interval.high, 0.7547),
        ] {
            assert!((found - wanted).abs() <= 0.000_05, "{found} for {wanted}");
        }
    }

    #[test]
    fn the_error_says_when_it_means_nothing() {
        let few = Pairs::of([(0, 1), (1, 1)]);
        assert_eq!(few.kappa_with_error(), Err(Meaningless::TooFewItems));
        let same = Pairs::of([(1, 1); 40]);
        assert_eq!(same.kappa_with_error(), Err(Meaningless::OneCategory));
        let always = Pairs::of([(1, 1), (0, 0)].repeat(9)).kappa_with_error();
        let always = always.expect("two categories");
        assert!((always.value - 1.0).abs() < 1e-12 && always.error < 1e-7);
    }

    proptest::proptest! {
        #[test]
        fn the_error_is_finite_whoever_is_first(pairs in proptest::collection::vec((0_u8..4, 0_u8..4), 0..50)) {
            let turned = pairs.iter().map(|(first, second)| (*second, *first));
            let (there, back) = (Pairs::of(pairs.clone()), Pairs::of(turned));
            match (there.kappa_with_error(), back.kappa_with_error()) {
                (Ok(there), Ok(back)) => {
                    proptest::prop_assert!(there.error.is_finite() && there.error >= 0.0);
                    proptest::prop_assert!((there.error - back.error).abs() < 1e-7);
                }
                (there, back) => proptest::prop_assert_eq!(there, back),
            }
        }
    }
}
