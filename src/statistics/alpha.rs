//! Cronbach's alpha: how far the questions of one sheet pull together.
//!
//! With one mark a question it is KR-20. It may be negative: then the questions pull
//! against each other.

use crate::number;
use crate::statistics;
use crate::statistics::interval;
use crate::statistics::score_table;
use statrs::distribution::ContinuousCDF;
use statrs::distribution::FisherSnedecor;

/// With fewer pupils alpha is not told (common practice, no source): its interval
/// would span nearly everything.
pub const FEWEST_PUPILS: u32 = 10;

/// Alpha with all that is told beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Alpha {
    /// Alpha, exactly; at most 1.
    pub value: number::Number,
    /// Where it may as well lie, at 95 %.
    pub interval: interval::Interval,
    /// What it would be without each question.
    pub without: Vec<statistics::Figure<number::Number>>,
}

/// Returns alpha of the questions of one sheet.
///
/// All variances are of the same kind, over the pupils as they are; a mixture of
/// sample and population variances would give another figure.
///
/// Source: Cronbach (1951), Psychometrika 16, 297-334 (from memory): k / (k - 1)
/// times one less the sum of the variances over the variance of the sum. Interval:
/// Feldt (1965), Psychometrika 30, 357-370 (from memory), exact for normal scores
/// that are alike, a good approximation else. Checked on LSAT6 and LSAT7.
///
/// # Errors
///
/// [`statistics::Meaningless`] with fewer than two questions or
/// [`FEWEST_PUPILS`], and where all scores are the same.
pub fn alpha(table: &score_table::ScoreTable) -> statistics::Figure<Alpha> {
    if table.questions() < 2 {
        return Err(statistics::Meaningless::TooFewQuestions);
    }
    if table.pupils() < u64::from(FEWEST_PUPILS) {
        return Err(statistics::Meaningless::TooFewPupils {
            fewest: FEWEST_PUPILS,
        });
    }
    let sums = table.sums();
    let parts: i128 = sums.questions.iter().map(|it| sums.spread(it)).sum();
    let value = of_spreads(table.questions(), parts, sums.score_spread())?;
    let without = sums.questions.iter().map(|question| {
        let rest = parts - sums.spread(question);
        of_spreads(table.questions() - 1, rest, sums.rest_spread(question))
    });
    Ok(Alpha {
        value,
        interval: feldt(value.to_f64(), table.pupils(), table.questions())?,
        without: without.collect(),
    })
}

/// Alpha of so many questions, from the sum of their spreads and the spread of their
/// sum.
fn of_spreads(questions: usize, parts: i128, whole: i128) -> statistics::Figure<number::Number> {
    let questions = i128::try_from(questions).map_err(|_| statistics::Meaningless::TooLarge)?;
    if questions < 2 {
        return Err(statistics::Meaningless::TooFewQuestions);
    }
    if whole == 0 {
        return Err(statistics::Meaningless::NoSpread);
    }
    let steps = statistics::fraction(questions, questions - 1)?;
    let apart = statistics::fraction(whole - parts, whole)?;
    Ok(steps.times(apart)?)
}

/// Feldt's interval.
fn feldt(alpha: f64, pupils: u64, questions: usize) -> statistics::Figure<interval::Interval> {
    let questions = u64::try_from(questions).map_err(|_| statistics::Meaningless::TooLarge)?;
    let upper = statistics::real(pupils - 1);
    let lower = upper * statistics::real(questions - 1);
    let ratio = FisherSnedecor::new(upper, lower).map_err(|_| statistics::Meaningless::TooLarge)?;
    let end = |below: f64| 1.0 - (1.0 - alpha) * quantile(&ratio, below);
    Ok(interval::Interval {
        low: end(0.975),
        high: end(0.025),
    })
}

/// The point below which so much of the distribution lies, by halving: that ends for
/// every distribution, which iterations by tangents need not.
fn quantile(ratio: &FisherSnedecor, below: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    while ratio.cdf(high) < below && high < 1e12 {
        high *= 2.0;
    }
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if ratio.cdf(middle) < below {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Meaningless;
    use crate::statistics::score_table::ScoreTable;

    fn table(full: &[u8], pupils: &[(u64, &[u8])]) -> ScoreTable {
        let mut table = ScoreTable::new(full).expect("there are questions");
        for (times, marks) in pupils {
            for _ in 0..*times {
                table.add(marks).expect("they fit");
            }
        }
        table
    }

    #[test]
    fn questions_that_always_go_together_have_alpha_one() {
        let found = alpha(&table(&[1, 1], &[(6, &[1, 1]), (6, &[0, 0])])).expect("a spread");
        assert_eq!(found.value, number::Number::ONE);
        assert_eq!(found.interval.low.to_string(), "1");
        assert_eq!(found.without[0], Err(Meaningless::TooFewQuestions));
    }

    #[test]
    fn questions_that_pull_against_each_other_have_a_negative_alpha() {
        let pupils: [(u64, &[u8]); 4] = [(5, &[1, 0]), (5, &[0, 1]), (1, &[1, 1]), (1, &[0, 0])];
        let found = alpha(&table(&[1, 1], &pupils)).expect("a spread");
        assert_eq!(found.value, number::Number::whole(-4));
    }

    #[test]
    fn alpha_says_when_it_means_nothing() {
        let few = TooFew::pupils();
        assert_eq!(alpha(&table(&[1, 1], &[(9, &[1, 0])])), few);
        assert_eq!(alpha(&table(&[1, 1], &[])), few);
        let one = alpha(&table(&[4], &[(20, &[3])]));
        assert_eq!(one, Err(Meaningless::TooFewQuestions));
        // Half have the one right and half the other: the same score throughout.
        let same = alpha(&table(&[1, 1], &[(9, &[1, 0]), (9, &[0, 1])]));
        assert_eq!(same, Err(Meaningless::NoSpread));
    }

    struct TooFew;

    impl TooFew {
        fn pupils() -> statistics::Figure<Alpha> {
            Err(Meaningless::TooFewPupils {
                fewest: FEWEST_PUPILS,
            })
        }
    }

    proptest::proptest! {
        #[test]
        fn alpha_is_at_most_one_and_finite_or_says_why(pupils in proptest::collection::vec((0_u8..=1, 0_u8..=3, 0_u8..=2), 0..40)) {
            let mut table = ScoreTable::new(&[1, 3, 2]).expect("there are questions");
            let mut turned = ScoreTable::new(&[2, 1, 3]).expect("there are questions");
            for (a, b, c) in &pupils {
                table.add(&[*a, *b, *c]).expect("they fit");
                turned.add(&[*c, *a, *b]).expect("they fit");
            }
            let found = alpha(&table);
            if let Ok(found) = &found {
                proptest::prop_assert!(found.value <= number::Number::ONE);
                proptest::prop_assert!(found.interval.low.is_finite() && found.interval.high <= 1.0);
                proptest::prop_assert!(found.interval.low <= found.interval.high);
            }
            let value = |found: statistics::Figure<Alpha>| found.map(|found| found.value);
            proptest::prop_assert_eq!(value(alpha(&turned)), value(found));
        }
    }
}
