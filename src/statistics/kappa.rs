//! Agreement of two markers over the same items: raw, and beyond chance.
//!
//! Marks are ordered categories from nought. The raw agreement is high wherever
//! nearly all marks are alike; kappa takes off what chance alone would give, and
//! weighted kappa counts a miss by two marks as worse than a miss by one.

use crate::number;
use crate::statistics;
use std::collections::BTreeMap;

pub mod spread;

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
pub type Figure = statistics::Figure<number::Number>;

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
        observed(std::slice::from_ref(self))
    }

    /// Returns the share that would be the same by chance, had each marker given
    /// every mark as often as they did, but blindly.
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
        let by_chance = self.by_chance(|first, second| u32::from(first == second))?;
        Ok(by_chance.divided_by(whole(self.items())?)?)
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
        let open = number::Number::ONE.minus(expected)?;
        Ok(observed.minus(expected)?.divided_by(open)?)
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
        beyond_chance(std::slice::from_ref(self), |first, second| {
            weights.of(first, second)
        })
    }

    /// The weights of all pairs that were given, added up.
    fn given(&self, weight: impl Fn(u8, u8) -> u32) -> Result<number::Number, number::NumberError> {
        self.counts
            .iter()
            .try_fold(number::Number::ZERO, |sum, ((first, second), count)| {
                let weight = number::Number::from(weight(*first, *second));
                sum.plus(weight.times(whole(*count)?)?)
            })
    }

    /// What the weights would add up to by chance. There must be items.
    fn by_chance(
        &self,
        weight: impl Fn(u8, u8) -> u32,
    ) -> Result<number::Number, number::NumberError> {
        let mut firsts: BTreeMap<u8, u64> = BTreeMap::new();
        let mut seconds: BTreeMap<u8, u64> = BTreeMap::new();
        for ((first, second), count) in &self.counts {
            *firsts.entry(*first).or_default() += count;
            *seconds.entry(*second).or_default() += count;
        }
        let mut sum = number::Number::ZERO;
        for (first, first_count) in &firsts {
            for (second, second_count) in &seconds {
                let weight = number::Number::from(weight(*first, *second));
                let pairs = whole(*first_count)?.times(whole(*second_count)?)?;
                sum = sum.plus(weight.times(pairs)?)?;
            }
        }
        sum.divided_by(whole(self.items())?)
    }
}

/// Returns the share of all items that got the same mark from both.
///
/// Source: as [`Pairs::observed`].
///
/// # Errors
///
/// [`statistics::Meaningless::NoItems`].
pub fn observed(parts: &[Pairs]) -> Figure {
    let (mut items, mut same) = (number::Number::ZERO, number::Number::ZERO);
    for part in parts {
        items = items.plus(whole(part.items())?)?;
        same = same.plus(whole(part.same())?)?;
    }
    if items.is_zero() {
        return Err(statistics::Meaningless::NoItems);
    }
    Ok(same.divided_by(items)?)
}

/// Returns kappa over parts that have different categories, such as questions
/// worth one mark and questions worth two.
///
/// Thrown together, such parts would look better than any of them: that both gave
/// no 2 where no 2 can be had is no agreement. So chance is worked out within each.
///
/// Source: pooled kappa of De Vries, Elliott, Kanouse and Teleki (2008), Field
/// Methods 20, 272-282 (abstract read, formula from memory), each part counting by
/// its items.
///
/// # Errors
///
/// As [`Pairs::kappa`]; one category throughout means in each part.
pub fn pooled(parts: &[Pairs]) -> Figure {
    beyond_chance(parts, |first, second| u32::from(first != second))
}

/// Returns weighted kappa over parts that have different categories.
///
/// Source: as [`pooled`] and [`Pairs::weighted`].
///
/// # Errors
///
/// As [`pooled`].
pub fn pooled_weighted(parts: &[Pairs], weights: Weights) -> Figure {
    beyond_chance(parts, |first, second| weights.of(first, second))
}

/// 1 less the disagreement over that expected by chance, within each part.
fn beyond_chance(parts: &[Pairs], weight: impl Fn(u8, u8) -> u32) -> Figure {
    let (mut missed, mut by_chance) = (number::Number::ZERO, number::Number::ZERO);
    let filled: Vec<&Pairs> = parts.iter().filter(|it| !it.counts.is_empty()).collect();
    for part in &filled {
        missed = missed.plus(part.given(&weight)?)?;
        by_chance = by_chance.plus(part.by_chance(&weight)?)?;
    }
    if filled.is_empty() {
        return Err(statistics::Meaningless::NoItems);
    }
    if by_chance.is_zero() {
        return Err(statistics::Meaningless::OneCategory);
    }
    Ok(number::Number::ONE.minus(missed.divided_by(by_chance)?)?)
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

fn whole(count: u64) -> Result<number::Number, number::NumberError> {
    i64::try_from(count)
        .map(number::Number::whole)
        .map_err(|_| number::NumberError::Overflow)
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

    #[test]
    fn parts_with_other_categories_do_not_help_each_other() {
        // Worth one mark: always right, and once missed. Worth two: the same.
        let one = Pairs::of([(1, 1), (1, 1), (1, 1), (1, 0)]);
        let two = Pairs::of([(2, 2), (2, 2), (2, 2), (2, 0)]);
        assert_eq!(text(one.kappa()), "0");
        assert_eq!(text(two.kappa()), "0");
        let together = [
            (1, 1),
            (1, 1),
            (1, 1),
            (1, 0),
            (2, 2),
            (2, 2),
            (2, 2),
            (2, 0),
        ];
        assert_eq!(text(Pairs::of(together).kappa()), "3/5");
        let parts = [one, two];
        assert_eq!(text(observed(&parts)), "3/4");
        assert_eq!(text(pooled(&parts)), "0");
        assert_eq!(text(pooled_weighted(&parts, Weights::Linear)), "0");
    }

    #[test]
    fn a_part_in_which_all_marks_are_the_same_only_counts_as_agreement() {
        let parts = [Pairs::of([(1, 1); 6]), Pairs::of([(0, 0), (2, 2)])];
        assert_eq!(text(pooled(&parts)), "1");
        assert_eq!(
            pooled(&[Pairs::of([]), Pairs::of([])]),
            Err(Meaningless::NoItems)
        );
        let same = [Pairs::of([(1, 1); 6]), Pairs::of([(2, 2)])];
        assert_eq!(pooled(&same), Err(Meaningless::OneCategory));
    }

    #[test]
    fn more_than_can_be_held_exactly_is_said() {
        let parts: Vec<Pairs> = (0_u64..12)
            .map(|part| Pairs {
                counts: BTreeMap::from([((0, 1), (1 << 40) + part), ((1, 0), 1)]),
            })
            .collect();
        assert_eq!(pooled(&parts), Err(Meaningless::TooLarge));
        let one = Pairs {
            counts: BTreeMap::from([((0, 1), u64::MAX)]),
        };
        assert_eq!(one.kappa(), Err(Meaningless::TooLarge));
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
        fn one_part_or_many_alike_make_no_difference(pairs in marks(3), times in 1_usize..4) {
            let pairs = Pairs::of(pairs);
            let parts = vec![pairs.clone(); times];
            proptest::prop_assert_eq!(pooled(&parts), pairs.kappa());
            proptest::prop_assert_eq!(observed(&parts), pairs.observed());
            let linear = pairs.weighted(Weights::Linear);
            proptest::prop_assert_eq!(pooled_weighted(&parts, Weights::Linear), linear);
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
