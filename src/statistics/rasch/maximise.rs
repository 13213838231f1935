//! The places under which the answers of one block are likeliest, given the pupils'
//! scores.
//!
//! The pupils fall out: given the scores, the likelihood hangs on the questions alone
//! (conditional maximum likelihood). It has one peak at most, which Newton's steps,
//! halved where they overshoot, reach to full precision.
//!
//! Source: Andersen (1972) and Glas and Verhelst (1989), as for the elementary
//! functions; Masters (1982), Psychometrika 47, 149-174 for the partial credit model
//! (all from memory).

use crate::statistics;
use crate::statistics::rasch::design;
use crate::statistics::rasch::elementary;
use crate::statistics::rasch::matrix;

/// No more steps than this; a dozen are usual.
const MOST_STEPS: usize = 100;

/// Farther apart than this (in logits) no places are believed: they run away.
const FARTHEST: f64 = 30.0;

/// What was found.
pub(super) struct Peak {
    /// For each question the logarithm of the weight of each mark given.
    pub(super) logs: Vec<Vec<Option<f64>>>,
    /// Which free parameter it is; each question's lowest mark and one highest are fixed.
    pub(super) free: Vec<Vec<Option<usize>>>,
    /// How many free parameters there are.
    pub(super) size: usize,
    /// The information of the free parameters.
    pub(super) information: matrix::Triangle,
    /// The logarithm of the likelihood, given the scores.
    pub(super) log_likelihood: f64,
}

/// Slope and curvature at a point.
struct Derivatives {
    slope: Vec<f64>,
    information: Vec<Vec<f64>>,
}

/// Returns the peak, or nothing where the answers do not settle on one.
pub(super) fn maximise(block: &design::Block) -> Option<Peak> {
    let (free, size) = parameters(block);
    let mut values = vec![0.0; size];
    let mut height = log_likelihood(block, &weights(block, &free, &values));
    for _ in 0..MOST_STEPS {
        let weights = weights(block, &free, &values);
        let derivatives = derivatives(block, &free, &weights, size);
        let triangle = matrix::decompose(&derivatives.information)?;
        let step = triangle.solve(&derivatives.slope);
        let gain: f64 = step
            .iter()
            .zip(&derivatives.slope)
            .map(|(step, slope)| step * slope)
            .sum();
        if !gain.is_finite() {
            return None;
        }
        // The places are then right to a thousand millionth of their error, and after
        // this last step to all their digits.
        if gain < 1e-18 {
            let last = values.iter().zip(&step);
            let values: Vec<f64> = last.map(|(value, step)| value + step).collect();
            return Some(Peak {
                logs: logs(block, &free, &values),
                free,
                size,
                information: triangle,
                log_likelihood: height,
            });
        }
        let (next, next_height) = climb(block, &free, (&values, height), &step)?;
        if next.iter().any(|value| value.abs() > FARTHEST) {
            return None;
        }
        (values, height) = (next, next_height);
    }
    None
}

/// Takes the step, or half of it, or a quarter and so on, so that it does not go down.
fn climb(
    block: &design::Block,
    free: &[Vec<Option<usize>>],
    (values, height): (&[f64], f64),
    step: &[f64],
) -> Option<(Vec<f64>, f64)> {
    let mut part = 1.0;
    // Near the peak the height is flat to its last digits.
    let slack = 1e-12 * height.abs();
    for _ in 0..40 {
        let next: Vec<f64> = values
            .iter()
            .zip(step)
            .map(|(value, step)| value + part * step)
            .collect();
        let next_height = log_likelihood(block, &weights(block, free, &next));
        if next_height >= height - slack {
            return Some((next, next_height));
        }
        part /= 2.0;
    }
    None
}

/// Numbers the free parameters: the weights of marks given, but the lowest of each
/// question and the highest of one.
fn parameters(block: &design::Block) -> (Vec<Vec<Option<usize>>>, usize) {
    let mut size = 0;
    let mut free = Vec::new();
    let mut is_unit_fixed = false;
    for part in &block.questions {
        let lowest = part.given().position(|given| given);
        let highest = part.given().rposition(|given| given);
        let fixes_unit = !is_unit_fixed && lowest != highest;
        is_unit_fixed |= fixes_unit;
        let numbers = part.given().enumerate().map(|(mark, given)| {
            let mark = Some(mark);
            let is_fixed = mark == lowest || (fixes_unit && mark == highest);
            if is_fixed || !given {
                return None;
            }
            size += 1;
            Some(size - 1)
        });
        free.push(numbers.collect());
    }
    (free, size)
}

/// The logarithm of each weight; none for marks that nobody who counts has.
fn logs(
    block: &design::Block,
    free: &[Vec<Option<usize>>],
    values: &[f64],
) -> Vec<Vec<Option<f64>>> {
    let questions = block.questions.iter().zip(free);
    questions
        .map(|(part, free)| {
            let marks = part.given().zip(free);
            marks
                .map(|(given, free)| given.then(|| free.map_or(0.0, |free| values[free])))
                .collect()
        })
        .collect()
}

fn weights(
    block: &design::Block,
    free: &[Vec<Option<usize>>],
    values: &[f64],
) -> Vec<elementary::Weights> {
    of_logs(&logs(block, free, values))
}

/// Returns the weights themselves.
pub(super) fn of_logs(logs: &[Vec<Option<f64>>]) -> Vec<elementary::Weights> {
    let weight = |log: &Option<f64>| log.map_or(0.0, libm::exp);
    logs.iter()
        .map(|marks| marks.iter().map(weight).collect())
        .collect()
}

/// Returns the weights of the questions that the pupils of a set did.
pub(super) fn of_members(
    weights: &[elementary::Weights],
    set: &design::Set,
) -> Vec<elementary::Weights> {
    let members = set.members.iter();
    members.map(|member| weights[*member].clone()).collect()
}

fn log_likelihood(block: &design::Block, weights: &[elementary::Weights]) -> f64 {
    let mut sum = 0.0;
    for (part, weights) in block.questions.iter().zip(weights) {
        for (count, weight) in part.counts.iter().zip(weights) {
            if *count > 0 {
                sum += statistics::real(*count) * libm::log(*weight);
            }
        }
    }
    for set in &block.sets {
        let all = elementary::symmetric(of_members(weights, set).iter());
        for (score, row) in &set.scores {
            sum -= statistics::real(row.pupils) * libm::log(all[*score]);
        }
    }
    sum
}

fn derivatives(
    block: &design::Block,
    free: &[Vec<Option<usize>>],
    weights: &[elementary::Weights],
    size: usize,
) -> Derivatives {
    let mut found = Derivatives {
        slope: vec![0.0; size],
        information: vec![vec![0.0; size]; size],
    };
    for (part, free) in block.questions.iter().zip(free) {
        for (count, free) in part.counts.iter().zip(free) {
            if let Some(free) = free {
                found.slope[*free] += statistics::real(*count);
            }
        }
    }
    for set in &block.sets {
        let weights = of_members(weights, set);
        let all = elementary::symmetric(weights.iter());
        let free: Vec<&Vec<Option<usize>>> = set.members.iter().map(|it| &free[*it]).collect();
        let chances: Vec<Vec<Vec<f64>>> = (0..weights.len())
            .map(|member| elementary::chances(&weights, &all, member))
            .collect();
        let pairs = elementary::Pairs::of(&weights);
        for member in 0..weights.len() {
            found.alone(set, &chances[member], free[member]);
            for other in member + 1..weights.len() {
                let questions = (member, other);
                let free = (free[member].as_slice(), free[other].as_slice());
                let alone = (chances[member].as_slice(), chances[other].as_slice());
                found.beside(set, free, |score, marks| {
                    let both = elementary::Both { questions, marks };
                    let together = pairs.chance(&weights, &all, &both, score);
                    together - alone.0[score][marks.0] * alone.1[score][marks.1]
                });
            }
        }
    }
    found
}

impl Derivatives {
    /// Counts in what one question expects, and how its own marks vary.
    fn alone(&mut self, set: &design::Set, chances: &[Vec<f64>], free: &[Option<usize>]) {
        for (score, row) in &set.scores {
            let pupils = statistics::real(row.pupils);
            let chances = &chances[*score];
            for (mark, chance) in chances.iter().enumerate() {
                let Some(one) = free[mark] else { continue };
                self.slope[one] -= pupils * chance;
                for (beside, other) in chances.iter().enumerate() {
                    let Some(two) = free[beside] else { continue };
                    let both = if mark == beside { *chance } else { 0.0 };
                    self.information[one][two] += pupils * (both - chance * other);
                }
            }
        }
    }

    /// Counts in how the marks of two questions vary together.
    fn beside(
        &mut self,
        set: &design::Set,
        free: (&[Option<usize>], &[Option<usize>]),
        together: impl Fn(usize, (usize, usize)) -> f64,
    ) {
        for (mark, one) in free.0.iter().enumerate() {
            let Some(one) = *one else { continue };
            for (beside, two) in free.1.iter().enumerate() {
                let Some(two) = *two else { continue };
                let scores = set.scores.iter();
                let sum: f64 = scores
                    .map(|(score, row)| {
                        statistics::real(row.pupils) * together(*score, (mark, beside))
                    })
                    .sum();
                self.information[one][two] += sum;
                self.information[two][one] += sum;
            }
        }
    }
}
