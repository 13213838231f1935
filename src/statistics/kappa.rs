//! Agreement of two markers over the same items: raw, and beyond chance.
//!
//! Marks are ordered categories from nought. The raw agreement is high wherever
//! nearly all marks are alike; kappa takes off what chance alone would give, and
//! weighted kappa counts a miss by two marks as worse than a miss by one.

use crate::number;
use crate::statistics;
use std::collections::BTreeMap;

/// The marks of two markers for the same items, counted.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Pairs {
    counts: BTreeMap<(u8, u8), u64>,
}

/// How much worse a miss is the farther apart two marks lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Weights {
    /// A miss by two counts twice as much as a miss by one.
    Linear,
    /// A miss by two counts four times as much as a miss by one.
    Quadratic,
}

/// A statistic: an exact number, or why it means nothing.
pub type Figure = Result<number::Number, statistics::Meaningless>;

impl Pairs {
    /// Counts pairs of marks: the first marker's and the second's for each item.
    #[must_use]
    pub fn of(pairs: impl IntoIterator<Item = (u8, u8)>) -> Self {
        let mut counts = BTreeMap::new();
        for pair in pairs {
            *counts.entry(pair).or_default() += 1;
        }
        Self { counts }
    }

    /// How many items both marked.
    #[must_use]
    pub fn items(&self) -> u64 {
        self.counts.values().sum()
    }

    /// How many items got the same mark from both.
    #[must_use]
    pub fn same(&self) -> u64 {
        self.counts
            .iter()
            .filter(|((first, second), _)| first == second)
            .map(|(_, count)| count)
            .sum()
    }

    /// Returns the share of the items that got the same mark from both.
    ///
    /// Source: Cohen (1960), Educational and Psychological Measurement 20, 37-46
    /// (from memory): the proportion of units in which the judges agreed.
    ///
    /// # Errors
    ///
    /// [`statistics::Meaningless::NoItems`].
    pub fn observed(&self) -> Figure {
        if self.counts.is_empty() {
            return Err(statistics::Meaningless::NoItems);
        }
        Ok(quotient(whole(self.same()), whole(self.items())))
    }

    /// Returns the share that would be the same by chance, had each marker given
    /// marks as often as they did, but blindly.
    ///
    /// Source: Cohen (1960), as above: the sum over the categories of the product
    /// of both markers' proportions.
    ///
    /// # Errors
    ///
    /// [`statistics::Meaningless::NoItems`].
    pub fn expected(&self) -> Figure {
        if self.counts.is_empty() {
            return Err(statistics::Meaningless::NoItems);
        }
        let by_chance = self.by_chance(|first, second| u32::from(first == second));
        let items = whole(self.items());
        Ok(quotient(by_chance, product(items, items)))
    }

    /// Returns Cohen's kappa: how much of the agreement that chance leaves open was
    /// reached. 1 is always the same, 0 no more than chance, below 0 less than that.
    ///
    /// Source: Cohen (1960), as above: (observed - expected) / (1 - expected).
    ///
    /// # Errors
    ///
    /// [`statistics::Meaningless`] without items, and where both markers gave
    /// everything the same one mark.
    ///
    /// # Example
    ///
    /// ```
    /// use toothmark::statistics::kappa::Pairs;
    ///
    /// let pairs = Pairs::of([(1, 1), (1, 1), (0, 0), (0, 1)]);
    /// assert_eq!(pairs.kappa().expect("two categories").to_string(), "1/2");
    /// ```
    pub fn kappa(&self) -> Figure {
        let (observed, expected) = (self.observed()?, self.expected()?);
        if expected == number::Number::ONE {
            return Err(statistics::Meaningless::OneCategory);
        }
        let reached = observed.minus(expected).expect(SMALL);
        let open = number::Number::ONE.minus(expected).expect(SMALL);
        Ok(quotient(reached, open))
    }

    /// Returns weighted kappa, which counts misses by how far apart the marks lie.
    ///
    /// With two categories it is [`Self::kappa`], whatever the weights.
    ///
    /// Source: Cohen (1968), Psychological Bulletin 70, 213-220 (from memory): 1
    /// less the weighted disagreement over that expected by chance. The largest
    /// weight cancels, so that the highest mark need not be known.
    ///
    /// # Errors
    ///
    /// As [`Self::kappa`].
    pub fn weighted(&self, weights: Weights) -> Figure {
        if self.counts.is_empty() {
            return Err(statistics::Meaningless::NoItems);
        }
        let by_chance = self.by_chance(|first, second| weights.of(first, second));
        if by_chance.is_zero() {
            return Err(statistics::Meaningless::OneCategory);
        }
        let missed = self
            .counts
            .iter()
            .map(|((first, second), count)| {
                product(weights.of(*first, *second).into(), whole(*count))
            })
            .fold(number::Number::ZERO, sum);
        let share = quotient(product(missed, whole(self.items())), by_chance);
        Ok(number::Number::ONE.minus(share).expect(SMALL))
    }

    /// The sum over all pairs of categories of both markers' counts and a weight.
    fn by_chance(&self, weight: impl Fn(u8, u8) -> u32) -> number::Number {
        let mut firsts: BTreeMap<u8, u64> = BTreeMap::new();
        let mut seconds: BTreeMap<u8, u64> = BTreeMap::new();
        for ((first, second), count) in &self.counts {
            *firsts.entry(*first).or_default() += count;
            *seconds.entry(*second).or_default() += count;
        }
        let mut total = number::Number::ZERO;
        for (first, first_count) in &firsts {
            for (second, second_count) in &seconds {
                let pairs = product(whole(*first_count), whole(*second_count));
                total = sum(total, product(weight(*first, *second).into(), pairs));
            }
        }
        total
    }
}

impl Weights {
    fn of(self, first: u8, second: u8) -> u32 {
        let apart = u32::from(first.abs_diff(second));
        match self {
            Self::Linear => apart,
            Self::Quadratic => apart * apart,
        }
    }
}

/// Why no calculation here can overflow.
const SMALL: &str = "items are counted one by one, so that products of two counts fit";

fn whole(count: u64) -> number::Number {
    number::Number::whole(i64::try_from(count).expect(SMALL))
}

fn sum(one: number::Number, other: number::Number) -> number::Number {
    one.plus(other).expect(SMALL)
}

fn product(one: number::Number, other: number::Number) -> number::Number {
    one.times(other).expect(SMALL)
}

fn quotient(dividend: number::Number, divisor: number::Number) -> number::Number {
    dividend
        .divided_by(divisor)
        .expect("callers have looked for nought")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Meaningless;

    fn text(figure: Figure) -> String {
        figure.map_or_else(|why| why.to_string(), |number| number.to_string())
    }

    #[test]
    fn agreement_and_kappa_by_hand() {
        // 2 of 4 the same; by chance 2 × 2 + 1 × 2 + 1 × 0 of 16.
        let pairs = Pairs::of([(0, 0), (0, 1), (1, 1), (2, 0)]);
        assert_eq!((pairs.items(), pairs.same()), (4, 2));
        assert_eq!(text(pairs.observed()), "1/2");
        assert_eq!(text(pairs.expected()), "3/8");
        assert_eq!(text(pairs.kappa()), "1/5");
        // Missed 1 + 2, four times; by chance 2 × 2 + 1 × 2 + (1 × 2 × 2 + 1 × 2).
        assert_eq!(text(pairs.weighted(Weights::Linear)), "0");
        // Missed 1 + 4, four times; by chance 4 + 2 + (8 + 2).
        assert_eq!(text(pairs.weighted(Weights::Quadratic)), "-1/4");
    }

    #[test]
    fn nothing_to_compare_means_nothing() {
        let none = Pairs::of([]);
        for figure in [
            none.observed(),
            none.expected(),
            none.kappa(),
            none.weighted(Weights::Linear),
        ] {
            assert_eq!(figure, Err(Meaningless::NoItems));
        }
    }

    #[test]
    fn one_mark_throughout_leaves_nothing_beyond_chance() {
        let pairs = Pairs::of([(2, 2); 9]);
        assert_eq!(text(pairs.observed()), "1");
        assert_eq!(text(pairs.expected()), "1");
        for figure in [
            pairs.kappa(),
            pairs.weighted(Weights::Linear),
            pairs.weighted(Weights::Quadratic),
        ] {
            assert_eq!(figure, Err(Meaningless::OneCategory));
        }
    }

    #[test]
    fn markers_who_never_agree_fall_below_chance() {
        let pairs = Pairs::of([(0, 1), (1, 0)]);
        assert_eq!(text(pairs.kappa()), "-1");
        // One marker always gives 0, the other always 1: chance would miss as well.
        let apart = Pairs::of([(0, 1); 5]);
        assert_eq!(text(apart.kappa()), "0");
        assert_eq!(text(apart.weighted(Weights::Linear)), "0");
    }

    fn marks(highest: u8) -> impl proptest::strategy::Strategy<Value = Vec<(u8, u8)>> {
        proptest::collection::vec((0..=highest, 0..=highest), 0..60)
    }

    proptest::proptest! {
        #[test]
        fn identical_markers_reach_one_or_it_means_nothing(firsts in proptest::collection::vec(0_u8..6, 0..40)) {
            let pairs = Pairs::of(firsts.iter().map(|mark| (*mark, *mark)));
            let differ = firsts.iter().any(|mark| Some(mark) != firsts.first());
            for figure in [
                pairs.kappa(),
                pairs.weighted(Weights::Linear),
                pairs.weighted(Weights::Quadratic),
            ] {
                proptest::prop_assert_eq!(figure.is_ok(), differ);
                proptest::prop_assert!(figure.is_err() || figure == Ok(number::Number::ONE));
            }
        }

        #[test]
        fn it_matters_not_who_is_first(pairs in marks(5)) {
            let (there, back) = (
                Pairs::of(pairs.clone()),
                Pairs::of(pairs.iter().map(|(first, second)| (*second, *first))),
            );
            proptest::prop_assert_eq!(there.observed(), back.observed());
            proptest::prop_assert_eq!(there.expected(), back.expected());
            proptest::prop_assert_eq!(there.kappa(), back.kappa());
            for weights in [Weights::Linear, Weights::Quadratic] {
                proptest::prop_assert_eq!(there.weighted(weights), back.weighted(weights));
            }
        }

        #[test]
        fn with_two_categories_weights_change_nothing(pairs in marks(1)) {
            let pairs = Pairs::of(pairs);
            proptest::prop_assert_eq!(pairs.weighted(Weights::Linear), pairs.kappa());
            proptest::prop_assert_eq!(pairs.weighted(Weights::Quadratic), pairs.kappa());
        }

        #[test]
        fn kappa_is_never_above_agreement_and_agreement_never_above_one(pairs in marks(255)) {
            let pairs = Pairs::of(pairs);
            if let (Ok(observed), Ok(kappa)) = (pairs.observed(), pairs.kappa()) {
                proptest::prop_assert!(kappa <= observed && observed <= number::Number::ONE);
            }
        }
    }
}
