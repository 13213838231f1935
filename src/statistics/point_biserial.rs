//! The corrected point-biserial correlation: how far a question goes with the rest
//! of its sheet.
//!
//! Corrected means that the question is not in the score it is held against; with
//! it in, every question seems to go with itself. For questions of more than one
//! mark it is the ordinary correlation of mark and rest.

use crate::statistics;
use crate::statistics::interval;
use crate::statistics::score_table;

/// With fewer pupils it is not told (common practice, no source).
pub const FEWEST_PUPILS: u32 = 10;

/// A correlation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correlation {
    /// From -1 to 1.
    pub value: f64,
    /// Where it may as well lie, at 95 %.
    pub interval: interval::Interval,
}

/// Returns the correlation of a question with the score on all others.
///
/// Source: corrected item-total correlation (common practice; among others
/// Henrysson 1963, Psychometrika 28, 211-218, from memory). Interval by Fisher's
/// transformation (Fisher 1921, Metron 1, 3-32, from memory), an approximation
/// here. Checked on LSAT6 and LSAT7.
///
/// # Errors
///
/// [`statistics::Meaningless`] with fewer than two questions or
/// [`FEWEST_PUPILS`], and where the question or the rest has no spread.
pub fn corrected(
    table: &score_table::ScoreTable,
    question: usize,
) -> statistics::Figure<Correlation> {
    if table.questions() < 2 {
        return Err(statistics::Meaningless::TooFewQuestions);
    }
    if table.pupils() < u64::from(FEWEST_PUPILS) {
        return Err(statistics::Meaningless::TooFewPupils {
            fewest: FEWEST_PUPILS,
        });
    }
    let sums = table.sums();
    let Some(of_question) = sums.questions.get(question) else {
        return Err(statistics::Meaningless::NoSuchQuestion);
    };
    let spread = sums.spread(of_question);
    let rest = sums.rest_spread(of_question);
    if spread == 0 {
        return Err(statistics::Meaningless::NoSpreadInQuestion);
    }
    if rest == 0 {
        return Err(statistics::Meaningless::NoSpread);
    }
    let both = statistics::real_sum(sums.with_score(of_question) - spread);
    let each = libm::sqrt(statistics::real_sum(spread)) * libm::sqrt(statistics::real_sum(rest));
    let value = (both / each).clamp(-1.0, 1.0);
    Ok(Correlation {
        value,
        interval: fisher(value, statistics::real(table.pupils())),
    })
}

/// The correlation of one question with the rest of its sheet, over several sheets.
///
/// Pupils are only held against pupils who did the very same questions: marks and rests
/// count as they lie over or under the middle of their sheet.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pool {
    /// Sums of squares and products over all sheets, each within its sheet.
    question: f64,
    rest: f64,
    both: f64,
    /// Pupils less one for each sheet.
    beside: u64,
    /// Whether some sheet had another question.
    had_rest: bool,
}

impl Pool {
    /// Adds a sheet, which gives a pool for each of its questions.
    #[must_use]
    pub fn of(table: &score_table::ScoreTable) -> Vec<Self> {
        let sums = table.sums();
        let pupils = statistics::real(table.pupils().max(1));
        let within = |spread: i128| statistics::real_sum(spread) / pupils;
        let questions = sums.questions.iter();
        questions
            .map(|question| Self {
                question: within(sums.spread(question)),
                rest: within(sums.rest_spread(question)),
                both: within(sums.with_score(question) - sums.spread(question)),
                beside: table.pupils().saturating_sub(1),
                had_rest: table.questions() > 1,
            })
            .filter(|_| table.pupils() > 0)
            .collect()
    }

    /// Adds another sheet's pool of the same question.
    pub fn join(&mut self, other: &Self) {
        if !other.had_rest {
            return;
        }
        self.question += other.question;
        self.rest += other.rest;
        self.both += other.both;
        self.beside = self.beside.saturating_add(other.beside);
        self.had_rest = true;
    }

    /// Returns the correlation within sheets; with one sheet it is [`corrected`].
    ///
    /// Source: pooled correlation within groups of the analysis of covariance (common
    /// practice; among others Snedecor and Cochran, Statistical Methods, from memory);
    /// Fisher's interval with the pupils less one for each sheet but the first.
    ///
    /// # Errors
    ///
    /// As [`corrected`]: [`statistics::Meaningless::TooFewPupils`] also where too few
    /// pupils did the same questions as another.
    pub fn correlation(&self) -> statistics::Figure<Correlation> {
        if !self.had_rest {
            return Err(statistics::Meaningless::TooFewQuestions);
        }
        let pupils = self.beside.saturating_add(1);
        if pupils < u64::from(FEWEST_PUPILS) {
            return Err(statistics::Meaningless::TooFewPupils {
                fewest: FEWEST_PUPILS,
            });
        }
        if self.question <= 0.0 {
            return Err(statistics::Meaningless::NoSpreadInQuestion);
        }
        if self.rest <= 0.0 {
            return Err(statistics::Meaningless::NoSpread);
        }
        let each = libm::sqrt(self.question) * libm::sqrt(self.rest);
        let value = (self.both / each).clamp(-1.0, 1.0);
        Ok(Correlation {
            value,
            interval: fisher(value, statistics::real(pupils)),
        })
    }
}

/// Fisher's interval; with every point on a line it is that line.
fn fisher(value: f64, pupils: f64) -> interval::Interval {
    let middle = libm::atanh(value);
    let reach = interval::NORMAL_975 / libm::sqrt(pupils - 3.0);
    interval::Interval {
        low: libm::tanh(middle - reach),
        high: libm::tanh(middle + reach),
    }
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
    fn a_question_that_always_goes_with_the_rest_correlates_fully() {
        let together = table(&[1, 2], &[(6, &[1, 2]), (6, &[0, 0])]);
        let found = corrected(&together, 0).expect("a spread");
        assert!((found.value - 1.0).abs() < 1e-12 && found.interval.holds(1.0));
        let against = table(&[1, 2], &[(6, &[1, 0]), (6, &[0, 2])]);
        let found = corrected(&against, 0).expect("a spread");
        assert!((found.value + 1.0).abs() < 1e-12 && found.interval.holds(-1.0));
    }

    #[test]
    fn the_correlation_says_when_it_means_nothing() {
        let right = table(&[1, 1], &[(6, &[1, 1]), (6, &[1, 0])]);
        let no_spread = Err(Meaningless::NoSpreadInQuestion);
        assert_eq!(corrected(&right, 0), no_spread);
        assert_eq!(corrected(&right, 1), Err(Meaningless::NoSpread));
        assert_eq!(corrected(&right, 2), Err(Meaningless::NoSuchQuestion));
        let few = table(&[1, 1], &[(9, &[1, 0])]);
        let fewest = FEWEST_PUPILS;
        assert_eq!(
            corrected(&few, 0),
            Err(Meaningless::TooFewPupils { fewest })
        );
        let alone = table(&[1], &[(20, &[1])]);
        assert_eq!(corrected(&alone, 0), Err(Meaningless::TooFewQuestions));
    }

    /// All sheets of a question pooled.
    fn pooled(tables: &[&ScoreTable]) -> statistics::Figure<Correlation> {
        let mut pool = Pool::default();
        for table in tables {
            pool.join(&Pool::of(table)[0]);
        }
        pool.correlation()
    }

    #[test]
    fn sheets_are_pooled_within_and_not_across() {
        // Within either sheet mark and rest are unrelated; across them the harder sheet
        // would make them seem to go together.
        let easy = table(
            &[1, 1],
            &[(9, &[1, 1]), (3, &[0, 1]), (3, &[1, 0]), (1, &[0, 0])],
        );
        let hard = table(
            &[1, 1],
            &[(1, &[1, 1]), (3, &[0, 1]), (3, &[1, 0]), (9, &[0, 0])],
        );
        let found = pooled(&[&easy, &hard]).expect("a spread");
        assert!(found.value.abs() < 1e-12, "{found:?}");
        let one = pooled(&[&easy]).expect("a spread");
        let wanted = corrected(&easy, 0).expect("a spread");
        assert!((one.value - wanted.value).abs() < 1e-12);
        assert!((one.interval.low - wanted.interval.low).abs() < 1e-12);
    }

    #[test]
    fn sheets_of_one_pupil_each_tell_nothing() {
        let sheets: Vec<ScoreTable> = (0..40).map(|_| table(&[1, 1], &[(1, &[1, 0])])).collect();
        let fewest = FEWEST_PUPILS;
        let found = pooled(&sheets.iter().collect::<Vec<_>>());
        assert_eq!(found, Err(Meaningless::TooFewPupils { fewest }));
        let alone = table(&[1], &[(20, &[1])]);
        assert_eq!(pooled(&[&alone]), Err(Meaningless::TooFewQuestions));
    }

    proptest::proptest! {
        #[test]
        fn the_correlation_stays_in_its_bounds_in_any_order(pupils in proptest::collection::vec((0_u8..=1, 0_u8..=3, 0_u8..=2), 0..40)) {
            let mut table = ScoreTable::new(&[1, 3, 2]).expect("there are questions");
            let mut turned = ScoreTable::new(&[2, 1, 3]).expect("there are questions");
            for (a, b, c) in &pupils {
                table.add(&[*a, *b, *c]).expect("they fit");
                turned.add(&[*c, *a, *b]).expect("they fit");
            }
            for question in 0..3 {
                let found = corrected(&table, question);
                proptest::prop_assert_eq!(corrected(&turned, (question + 1) % 3), found);
                if let Ok(found) = found {
                    proptest::prop_assert!((-1.0..=1.0).contains(&found.value));
                    proptest::prop_assert!(found.interval.low <= found.value + 1e-12);
                    proptest::prop_assert!(found.value <= found.interval.high + 1e-12);
                }
            }
        }
    }
}
