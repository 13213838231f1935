//! The Rasch model: questions and pupils on one scale, though not all pupils did the
//! same questions.
//!
//! For questions of more than one mark it is the partial credit model. The places of
//! the questions come from conditional maximum likelihood, pupils' places from Warm's
//! weighted likelihood. Units: logits. On one scale the places of its questions add up
//! to nought.
//!
//! Takes [`answers::Answers`], which are counts; gives [`Scales`]. A question that has
//! no place has the reason instead ([`design::Unscaled`]).
//!
//! Premises, to be said wherever the figures are shown: the questions ask for one
//! ability; versions of a template are equally hard; a pupil who did two homeworks
//! counts as two. With a class of thirty the errors are near half a logit, so that to
//! call one question harder than another is usually unsupported: show the intervals.

use crate::statistics;
use crate::statistics::interval;
use std::collections::BTreeMap;

pub mod answers;
pub mod design;
mod elementary;
pub mod fit;
mod matrix;
mod maximise;
mod pupil;
pub mod seat;

/// With fewer pupils who say something there is no scale (common practice, no
/// source): the errors would span the whole of it.
pub const FEWEST_PUPILS: u32 = 30;

/// What of the answers could be put on scales.
#[derive(Debug, Clone, PartialEq)]
pub struct Scales {
    /// The scales, the one with most questions first. Places on two of them cannot
    /// be compared.
    pub scales: Vec<Scale>,
    /// Why questions have no place.
    pub unscaled: BTreeMap<answers::Question, design::Unscaled>,
    /// All questions in groups that pupils link, by name. More than one group: no
    /// pupil did questions of both.
    pub linked: Vec<Vec<answers::Question>>,
}

/// One scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// The questions with their places.
    pub places: BTreeMap<answers::Question, Place>,
    /// How many pupils it rests on: those with some but not all marks.
    pub pupils: u64,
    /// The logarithm of the likelihood of the answers given the scores.
    pub log_likelihood: f64,
    /// The logarithms of the weights of the marks that occur, from the lowest, for every
    /// question that was weighed, with a place or open to one side.
    logs: BTreeMap<answers::Question, Vec<Option<f64>>>,
    /// Which free parameters these are.
    free: BTreeMap<answers::Question, Vec<Option<usize>>>,
    /// What the answers tell of the free parameters.
    information: matrix::Triangle,
    /// How many free parameters there are.
    size: usize,
    /// Where its questions stand among those that the answers part.
    path: design::Path,
    /// Where every question of the answers does.
    paths: design::Paths,
}

/// A question's place.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// How hard it is: where no mark and all marks are equally likely.
    pub difficulty: interval::Estimate,
    /// For each mark where it and the one before are equally likely; none where
    /// somewhere between a mark is never given.
    pub thresholds: Option<Vec<interval::Estimate>>,
    /// How well it goes with the others.
    pub fit: statistics::Figure<fit::Fit>,
}

/// Returns the scales of some answers.
///
/// Source: Rasch (1960), Masters (1982), Andersen (1972), as named in the files of
/// this module; checked on the published LSAT6 and LSAT7 tables, and for more than one
/// mark, where we know no published table, by counting all patterns of small designs
/// and by simulation.
///
/// # Example
///
/// ```
/// use toothmark::statistics::rasch;
/// use toothmark::statistics::rasch::answers::Answers;
/// use toothmark::statistics::rasch::answers::Question;
///
/// let question = |name: &str| Question { name: name.to_owned(), full: 1 };
/// let (easy, hard) = (question("direction"), question("gearbox"));
/// let mut answers = Answers::default();
/// for (times, marks) in [(30, (1, 0)), (10, (0, 1))] {
///     for _ in 0..times {
///         let record = [(easy.clone(), marks.0), (hard.clone(), marks.1)];
///         answers.add(&record).expect("they fit");
///     }
/// }
/// let scales = rasch::scales(&answers);
/// let apart = scales.scales[0].places[&hard].difficulty.value
///     - scales.scales[0].places[&easy].difficulty.value;
/// assert!((apart - 3.0_f64.ln()).abs() < 1e-9);
/// ```
#[must_use]
pub fn scales(answers: &answers::Answers) -> Scales {
    scales_of(answers, FEWEST_PUPILS)
}

/// The same with another lower limit.
fn scales_of(answers: &answers::Answers, fewest: u32) -> Scales {
    let design = design::design(answers);
    let mut found = Scales {
        scales: Vec::new(),
        unscaled: design.unscaled,
        linked: design.linked,
    };
    for block in &design.blocks {
        let estimated = if block.pupils() < u64::from(fewest) {
            Err(design::Unscaled::TooFewPupils { fewest })
        } else {
            scale(block, &design.paths).ok_or(design::Unscaled::NotSettled)
        };
        let whole = |part: &&design::Part| part.open.is_none();
        let placed = block.questions.iter().filter(whole).count();
        for part in &block.questions {
            let why = match (&estimated, part.open) {
                (Err(why), None | Some(_)) => Some(*why),
                (Ok(_), Some(why)) => Some(why),
                (Ok(_), None) => (placed < 2).then_some(design::Unscaled::NotLinked),
            };
            if let Some(why) = why {
                found.unscaled.insert(part.question.clone(), why);
            }
        }
        if let Ok(scale) = estimated
            && placed >= 2
        {
            found.scales.push(scale);
        }
    }
    found
        .scales
        .sort_by_key(|scale| std::cmp::Reverse(scale.places.len()));
    found
}

/// Puts one block on a scale.
fn scale(block: &design::Block, paths: &design::Paths) -> Option<Scale> {
    let peak = maximise::maximise(block)?;
    let fits = fit::fits(block, &peak);
    let whole: Vec<usize> = (0..block.questions.len())
        .filter(|place| block.questions[*place].open.is_none())
        .collect();
    let hardness: Vec<Linear> = whole
        .iter()
        .map(|place| difficulty(&peak, *place))
        .collect();
    let middle = Linear::mean(&hardness, peak.size);
    let own = block.questions.first();
    let own = own.and_then(|part| paths.get(&part.question));
    let mut scale = Scale {
        places: BTreeMap::new(),
        pupils: block.pupils(),
        log_likelihood: peak.log_likelihood,
        logs: BTreeMap::new(),
        free: BTreeMap::new(),
        information: peak.information.clone(),
        size: peak.size,
        path: own.cloned().unwrap_or_default(),
        paths: paths.clone(),
    };
    for (place, part) in block.questions.iter().enumerate() {
        let logs = (0_u32..).zip(&peak.logs[place]);
        let logs = logs.map(|(mark, log)| log.map(|log| log + f64::from(mark) * middle.value));
        scale.logs.insert(part.question.clone(), logs.collect());
        let free = peak.free[place].clone();
        scale.free.insert(part.question.clone(), free);
    }
    for (place, hardness) in whole.iter().zip(&hardness) {
        let question = &block.questions[*place].question;
        let marks = 1..peak.logs[*place].len();
        let thresholds: Option<Vec<Linear>> =
            marks.map(|mark| threshold(&peak, *place, mark)).collect();
        let found = Place {
            difficulty: hardness.less(&middle).estimate(&peak),
            thresholds: thresholds.map(|all| {
                all.iter()
                    .map(|it| it.less(&middle).estimate(&peak))
                    .collect()
            }),
            fit: fits[*place],
        };
        let finite = |it: &interval::Estimate| it.value.is_finite() && it.error.is_finite();
        if !finite(&found.difficulty) || !found.thresholds.iter().flatten().all(finite) {
            return None;
        }
        scale.places.insert(question.clone(), found);
    }
    Some(scale)
}

impl Scale {
    /// The logarithms of a question's weights, if it has a place.
    fn logs(&self, question: &answers::Question) -> Option<&[Option<f64>]> {
        let logs = self.logs.get(question).map(Vec::as_slice);
        logs.filter(|_| self.places.contains_key(question))
    }
}

/// A sum of the estimated parameters, each with its factor.
struct Linear {
    value: f64,
    factors: Vec<f64>,
}

impl Linear {
    /// The logarithm of one mark's weight.
    fn log(peak: &maximise::Peak, place: usize, mark: usize) -> Option<Self> {
        let mut factors = vec![0.0; peak.size];
        if let Some(free) = peak.free[place][mark] {
            factors[free] = 1.0;
        }
        let value = peak.logs[place][mark]?;
        Some(Self { value, factors })
    }

    fn less(&self, other: &Self) -> Self {
        let pairs = self.factors.iter().zip(&other.factors);
        Self {
            value: self.value - other.value,
            factors: pairs.map(|(one, other)| one - other).collect(),
        }
    }

    fn times(&self, factor: f64) -> Self {
        Self {
            value: self.value * factor,
            factors: self.factors.iter().map(|it| it * factor).collect(),
        }
    }

    fn mean(all: &[Self], size: usize) -> Self {
        let mut sum = Self {
            value: 0.0,
            factors: vec![0.0; size],
        };
        for one in all {
            sum = sum.less(&one.times(-1.0));
        }
        let count = all.iter().fold(0.0, |count, _| count + 1.0);
        if all.is_empty() {
            sum
        } else {
            sum.times(1.0 / count)
        }
    }

    fn estimate(&self, peak: &maximise::Peak) -> interval::Estimate {
        interval::Estimate {
            value: self.value,
            error: libm::sqrt(peak.information.spread(&self.factors)),
        }
    }
}

/// Where no mark and all marks are equally likely.
fn difficulty(peak: &maximise::Peak, place: usize) -> Linear {
    let marks = peak.logs[place].len() - 1;
    let log = Linear::log(peak, place, marks).expect("somebody has all marks on it");
    log.times(-1.0 / f64::from(u32::try_from(marks).expect("a mark is small")))
}

/// Where a mark and the one before are equally likely.
fn threshold(peak: &maximise::Peak, place: usize, mark: usize) -> Option<Linear> {
    let before = Linear::log(peak, place, mark - 1)?;
    Some(before.less(&Linear::log(peak, place, mark)?))
}

#[cfg(test)]
mod tests;
