//! How well a question goes with the scale it stands on.
//!
//! Mean squares of what pupils earned over or under what their score lets expect:
//! about 1 where the question goes with the others, above where answers are wilder,
//! below where they are tamer than the model says. *Outfit* gives all pupils the same
//! say, *infit* those who tell most.
//!
//! What is expected comes from the chances given the score, so that no pupil's place
//! has to be estimated, and 1 is exactly what is expected.
//!
//! Source: Wright and Masters (1982), Rating Scale Analysis, chapter 5, with the
//! conditional expectations of Christensen, Kreiner and Mesbah (2013), Rasch Models
//! in Health, chapter 5 (both from memory). That the places were estimated from the
//! same answers is left out of the spread, which is a little too wide for it.

use crate::statistics;
use crate::statistics::interval;
use crate::statistics::rasch::design;
use crate::statistics::rasch::elementary;
use crate::statistics::rasch::maximise;

/// With fewer pupils fit is not told (common practice, no source).
pub const FEWEST_PUPILS: u32 = 100;

/// Fit of one question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// Weighted by how much a pupil tells of the question.
    pub infit: MeanSquare,
    /// All pupils alike.
    pub outfit: MeanSquare,
}

/// A mean square, 1 where all is as expected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanSquare {
    /// The mean square.
    pub value: f64,
    /// Its standard deviation where the question goes with the scale.
    pub spread: f64,
}

impl MeanSquare {
    /// Returns where it lies in 95 of 100 questions that go with the scale: one in
    /// twenty lies outside by chance.
    #[must_use]
    pub fn expected(&self) -> interval::Interval {
        let expected = interval::Estimate {
            value: 1.0,
            error: self.spread,
        };
        expected.interval()
    }
}

/// Sums over the pupils who tell something of a question.
#[derive(Default, Clone)]
struct Sums {
    pupils: u64,
    squares: f64,
    scaled: f64,
    variance: f64,
    squares_spread: f64,
    scaled_spread: f64,
}

/// Returns the fit of each question of a block.
pub(super) fn fits(block: &design::Block, peak: &maximise::Peak) -> Vec<statistics::Figure<Fit>> {
    let weights = maximise::of_logs(&peak.logs);
    let mut sums = vec![Sums::default(); block.questions.len()];
    for set in &block.sets {
        let weights = maximise::of_members(&weights, set);
        let all = elementary::symmetric(weights.iter());
        for (place, member) in set.members.iter().enumerate() {
            let chances = elementary::chances(&weights, &all, place);
            for (score, row) in &set.scores {
                sums[*member].add(&chances[*score], &row.marks[place]);
            }
        }
    }
    sums.iter().map(Sums::fit).collect()
}

impl Sums {
    /// Adds the pupils of one score.
    fn add(&mut self, chances: &[f64], counts: &[u64]) {
        let moment = |power: i32, middle: f64| -> f64 {
            let marks = (0_u32..).zip(chances);
            marks
                .map(|(mark, chance)| chance * (f64::from(mark) - middle).powi(power))
                .sum()
        };
        let expected = moment(1, 0.0);
        let (variance, fourth) = (moment(2, expected), moment(4, expected));
        let pupils: u64 = counts.iter().sum();
        // At some scores the mark is as good as settled; they tell nothing.
        if variance < 1e-9 || pupils == 0 {
            return;
        }
        let squares: f64 = (0_u32..)
            .zip(counts)
            .map(|(mark, count)| {
                let over = f64::from(mark) - expected;
                statistics::real(*count) * over * over
            })
            .sum();
        let weight = statistics::real(pupils);
        self.pupils += pupils;
        self.squares += squares;
        self.scaled += squares / variance;
        self.variance += weight * variance;
        self.squares_spread += weight * (fourth - variance * variance);
        self.scaled_spread += weight * (fourth / (variance * variance) - 1.0);
    }

    fn fit(&self) -> statistics::Figure<Fit> {
        if self.pupils < u64::from(FEWEST_PUPILS) {
            return Err(statistics::Meaningless::TooFewPupils {
                fewest: FEWEST_PUPILS,
            });
        }
        let pupils = statistics::real(self.pupils);
        let root = |spread: f64| libm::sqrt(spread.max(0.0));
        let fit = Fit {
            infit: MeanSquare {
                value: self.squares / self.variance,
                spread: root(self.squares_spread) / self.variance,
            },
            outfit: MeanSquare {
                value: self.scaled / pupils,
                spread: root(self.scaled_spread) / pupils,
            },
        };
        let all = [fit.infit.value, fit.infit.spread, fit.outfit.value];
        if all.iter().all(|it| it.is_finite()) && fit.outfit.spread.is_finite() {
            Ok(fit)
        } else {
            Err(statistics::Meaningless::NotSettled)
        }
    }
}
