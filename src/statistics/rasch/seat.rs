//! Pupils of one score on one sheet, put on a scale though some of the sheet's questions
//! have no place on it, and how far their place hangs on the questions' places.
//!
//! On a question on which everybody has the same a score tells what was earned, and where
//! the answers part the questions it tells what was earned on each part
//! ([`design`](crate::statistics::rasch)). So what was earned on the scale's own
//! questions is known from the score on the whole sheet. Questions that are open to one
//! side count with the marks that occur.

use crate::statistics;
use crate::statistics::interval;
use crate::statistics::rasch;
use crate::statistics::rasch::answers;
use crate::statistics::rasch::design;
use crate::statistics::rasch::pupil;

/// The questions of one sheet that are on a scale.
#[derive(Debug, Clone)]
pub struct Seated<'a> {
    logs: Vec<&'a [Option<f64>]>,
    free: Vec<&'a [Option<usize>]>,
    /// What everybody has before the first mark on these questions.
    before: u32,
    /// The fewest and the most marks on these questions that have a weight.
    marks: (u32, u32),
}

/// How places move when the free parameters of a scale do.
#[derive(Debug, Clone, PartialEq)]
pub struct Slope(Vec<f64>);

impl rasch::Scale {
    /// Returns the questions of a sheet that are on this scale.
    ///
    /// # Errors
    ///
    /// [`statistics::Meaningless::NotOnScale`] where none is, or where one was in none of
    /// the answers that the scale comes from.
    pub fn seat(&self, sheet: &[answers::Question]) -> statistics::Figure<Seated<'_>> {
        let mut seated = Seated {
            logs: Vec::new(),
            free: Vec::new(),
            before: 0,
            marks: (0, 0),
        };
        for question in sheet {
            let path = self.paths.get(question);
            let path = path.ok_or(statistics::Meaningless::NotOnScale)?;
            match design::adds(path, &self.path) {
                design::Adds::Always(marks) => seated.before += u32::from(marks),
                design::Adds::AtLeast(marks) => {
                    seated.before += u32::from(marks);
                    let logs = self.logs.get(question);
                    let free = self.free.get(question);
                    let (Some(logs), Some(free)) = (logs, free) else {
                        return Err(statistics::Meaningless::NotOnScale);
                    };
                    seated.logs.push(logs);
                    seated.free.push(free);
                    let mut weighed = (0_u32..).zip(logs).filter(|(_, log)| log.is_some());
                    let lowest = weighed.next().map_or(0, |(mark, _)| mark);
                    let highest = weighed.last().map_or(lowest, |(mark, _)| mark);
                    seated.marks = (seated.marks.0 + lowest, seated.marks.1 + highest);
                }
            }
        }
        if seated.marks.0 == seated.marks.1 {
            return Err(statistics::Meaningless::NotOnScale);
        }
        Ok(seated)
    }

    /// Returns a slope of nought.
    #[must_use]
    pub fn level(&self) -> Slope {
        Slope(vec![0.0; self.size])
    }

    /// Returns the standard error that a figure has because the questions' places are
    /// estimates themselves.
    ///
    /// Source: the usual first-order propagation of errors (delta method).
    #[must_use]
    pub fn drift(&self, slope: &Slope) -> f64 {
        libm::sqrt(self.information.spread(&slope.0).max(0.0))
    }

    /// Returns how much harder some questions are on average than others, with the error
    /// of the difference: the errors of two places hang together.
    ///
    /// # Errors
    ///
    /// [`statistics::Meaningless::NoItems`] where there are none on a side, and
    /// [`statistics::Meaningless::NotOnScale`] where one has no place.
    pub fn apart<'a>(
        &self,
        first: impl IntoIterator<Item = &'a answers::Question>,
        second: impl IntoIterator<Item = &'a answers::Question>,
    ) -> statistics::Figure<interval::Estimate> {
        let (one, mut factors) = self.mean(first)?;
        let (other, less) = self.mean(second)?;
        for (factor, less) in factors.0.iter_mut().zip(&less.0) {
            *factor -= less;
        }
        Ok(interval::Estimate {
            value: one - other,
            error: self.drift(&factors),
        })
    }

    /// The mean place of some questions with its factors, the middle of the scale left out.
    fn mean<'a>(
        &self,
        questions: impl IntoIterator<Item = &'a answers::Question>,
    ) -> statistics::Figure<(f64, Slope)> {
        let (mut sum, mut count, mut factors) = (0.0, 0.0, self.level());
        for question in questions {
            let place = self.places.get(question);
            let free = self.free.get(question);
            let (Some(place), Some(free)) = (place, free) else {
                return Err(statistics::Meaningless::NotOnScale);
            };
            sum += place.difficulty.value;
            count += 1.0;
            if let Some(Some(highest)) = free.last() {
                factors.0[*highest] -= 1.0 / f64::from(question.full);
            }
        }
        if count == 0.0 {
            return Err(statistics::Meaningless::NoItems);
        }
        for factor in &mut factors.0 {
            *factor /= count;
        }
        Ok((sum / count, factors))
    }
}

impl Seated<'_> {
    /// Returns where pupils with this score on the whole sheet stand.
    ///
    /// Units: logits.
    /// Source: Warm (1989), as in [`rasch::Scale::measures`], to which it is equal where
    /// all questions of the sheet are on the scale.
    ///
    /// # Errors
    ///
    /// [`statistics::Meaningless::NotSettled`].
    pub fn place(&self, score: u32) -> statistics::Figure<interval::Estimate> {
        let score = score.saturating_sub(self.before);
        pupil::warm(&self.logs, score.clamp(self.marks.0, self.marks.1))
    }

    /// Adds to a slope how so many pupils at this place move.
    ///
    /// Warm's correction is taken as it stands: it moves little.
    pub fn add_slope(&self, place: f64, weight: f64, slope: &mut Slope) {
        let variance = pupil::moments(&self.logs, place).variance;
        for (logs, free) in self.logs.iter().zip(&self.free) {
            let chances = pupil::chances(logs, place);
            let mean: f64 = chances.iter().map(|(mark, chance)| mark * chance).sum();
            let chances = chances.iter();
            let marks = logs.iter().zip(*free).filter(|(log, _)| log.is_some());
            for ((mark, chance), (_, free)) in chances.zip(marks) {
                if let Some(free) = free {
                    slope.0[*free] -= weight * chance * (mark - mean) / variance;
                }
            }
        }
    }
}

impl Slope {
    /// Returns this slope less another of the same scale.
    #[must_use]
    pub fn less(mut self, other: &Self) -> Self {
        for (one, less) in self.0.iter_mut().zip(&other.0) {
            *one -= less;
        }
        self
    }
}
