//! Where pupils stand on a scale: Warm's weighted likelihood.
//!
//! A pupil's place hangs on which questions were done and on the score on them, and
//! on nothing else; so there is one small table for each set of questions. Unlike the
//! likeliest place it is finite for no marks and for all marks too, and its bias is
//! smaller.
//!
//! Source: Warm (1989), Psychometrika 54, 427-450; for more than one mark the same
//! with the third central moment (Penfield and Bergeron 2005, Applied Psychological
//! Measurement 29, 218-233; both from memory). Checked on LSAT6.

use crate::statistics;
use crate::statistics::interval;
use crate::statistics::rasch;
use crate::statistics::rasch::answers;

/// Farther out (in logits) no pupil is looked for.
const FARTHEST: f64 = 60.0;

/// How a score spreads for a pupil at one place.
pub(super) struct Moments {
    mean: f64,
    pub(super) variance: f64,
    third: f64,
}

impl rasch::Scale {
    /// Returns the place of a pupil for each score from nought to all marks on these
    /// questions, with its standard error.
    ///
    /// Shape: one estimate a score, so one more than there are marks.
    /// Units: logits, on the same line as the difficulties.
    /// Source: Warm (1989), as above.
    ///
    /// # Errors
    ///
    /// [`statistics::Meaningless::NoItems`] without questions,
    /// [`statistics::Meaningless::NotOnScale`] where one has no place, and
    /// [`statistics::Meaningless::NotSettled`].
    pub fn measures(
        &self,
        questions: &[answers::Question],
    ) -> statistics::Figure<Vec<interval::Estimate>> {
        if questions.is_empty() {
            return Err(statistics::Meaningless::NoItems);
        }
        let logs: Option<Vec<&[Option<f64>]>> = questions
            .iter()
            .map(|question| self.logs(question))
            .collect();
        let logs = logs.ok_or(statistics::Meaningless::NotOnScale)?;
        let full: u32 = questions.iter().map(|it| u32::from(it.full)).sum();
        (0..=full).map(|score| warm(&logs, score)).collect()
    }

    /// Returns the place of a pupil with this score on these questions.
    ///
    /// # Errors
    ///
    /// As [`Self::measures`], and [`statistics::Meaningless::NoSuchScore`].
    pub fn measure(
        &self,
        questions: &[answers::Question],
        score: u32,
    ) -> statistics::Figure<interval::Estimate> {
        let measures = self.measures(questions)?;
        let found = usize::try_from(score).ok().and_then(|it| measures.get(it));
        found.copied().ok_or(statistics::Meaningless::NoSuchScore)
    }
}

/// Finds by halving where score, expectation and Warm's correction balance.
pub(super) fn warm(
    questions: &[&[Option<f64>]],
    score: u32,
) -> statistics::Figure<interval::Estimate> {
    let (mut low, mut high) = (-FARTHEST, FARTHEST);
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        let moments = moments(questions, middle);
        let correction = moments.third / (2.0 * moments.variance);
        if f64::from(score) - moments.mean + correction > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let value = f64::midpoint(low, high);
    let error = 1.0 / libm::sqrt(moments(questions, value).variance);
    if error.is_finite() && value.abs() < FARTHEST - 1.0 {
        Ok(interval::Estimate { value, error })
    } else {
        Err(statistics::Meaningless::NotSettled)
    }
}

pub(super) fn moments(questions: &[&[Option<f64>]], place: f64) -> Moments {
    let mut sums = Moments {
        mean: 0.0,
        variance: 0.0,
        third: 0.0,
    };
    for logs in questions {
        let chances = chances(logs, place);
        let mean = chances
            .iter()
            .map(|(mark, chance)| mark * chance)
            .sum::<f64>();
        sums.mean += mean;
        for (mark, chance) in chances {
            let over = mark - mean;
            sums.variance += chance * over * over;
            sums.third += chance * over * over * over;
        }
    }
    sums
}

/// The chance of each mark that occurs, for a pupil at one place.
pub(super) fn chances(logs: &[Option<f64>], place: f64) -> Vec<(f64, f64)> {
    let marks = (0_u32..).zip(logs);
    let logs: Vec<(f64, f64)> = marks
        .filter_map(|(mark, log)| {
            let mark = f64::from(mark);
            Some((mark, (*log)? + mark * place))
        })
        .collect();
    let highest = logs
        .iter()
        .fold(f64::NEG_INFINITY, |most, it| most.max(it.1));
    let weights: Vec<(f64, f64)> = logs
        .iter()
        .map(|(mark, log)| (*mark, libm::exp(log - highest)))
        .collect();
    let all: f64 = weights.iter().map(|it| it.1).sum();
    let weights = weights.into_iter();
    weights.map(|(mark, weight)| (mark, weight / all)).collect()
}
