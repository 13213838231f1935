//! Elementary symmetric functions by the summation algorithm, and the chances that
//! come from them.
//!
//! Given a pupil's score on some questions, the chance of each mark on each question
//! hangs on the questions alone. It is a quotient of such functions. They are only
//! added and multiplied here, never subtracted, so that no digits are lost.
//!
//! Source: Andersen (1972), Journal of the Royal Statistical Society B 34, 42-54;
//! Gustafsson (1980), British Journal of Mathematical and Statistical Psychology 33,
//! 205-233; for marks above one Glas and Verhelst (1989), Psychometrika 54, 635-659
//! (all from memory). Checked against counting all patterns one by one.

/// A question: the weight of each mark from nought; nought for a mark that nobody
/// has.
pub(super) type Weights = Vec<f64>;

/// Returns the sums, over all patterns with each score, of the products of their
/// weights: the entry at `r` is for the score `r`.
pub(super) fn symmetric<'a>(questions: impl Iterator<Item = &'a Weights>) -> Vec<f64> {
    questions.fold(vec![1.0], |sums, weights| product(&sums, weights))
}

/// Returns the chance of each mark on a question, given the score on all.
///
/// The outer index is the score, the inner one the mark; `all` are the sums over all of
/// the questions.
pub(super) fn chances(questions: &[Weights], all: &[f64], question: usize) -> Vec<Vec<f64>> {
    let others = symmetric(without(questions, question));
    let weights = &questions[question];
    let chance = |score: usize, mark: usize| -> f64 {
        let rest = score.checked_sub(mark).and_then(|rest| others.get(rest));
        rest.map_or(0.0, |rest| weights[mark] * rest / all[score])
    };
    (0..all.len())
        .map(|score| (0..weights.len()).map(|mark| chance(score, mark)).collect())
        .collect()
}

/// The sums over all questions but two, for each two of them.
pub(super) struct Pairs {
    sums: Vec<Vec<Vec<f64>>>,
}

/// Two marks on two questions, the first before the second, with their weights.
pub(super) struct Both {
    /// The places of the questions.
    pub(super) questions: (usize, usize),
    /// The marks.
    pub(super) marks: (usize, usize),
}

impl Pairs {
    /// Works the sums out from those over the questions before the first, between the
    /// two, and after the second, which each pair shares with others.
    pub(super) fn of(questions: &[Weights]) -> Self {
        let mut after = vec![vec![1.0]];
        for weights in questions.iter().rev() {
            let next = product(after.last().map_or(&[], Vec::as_slice), weights);
            after.push(next);
        }
        after.reverse();
        let mut before = vec![1.0];
        let mut sums = Vec::with_capacity(questions.len());
        for (one, weights) in questions.iter().enumerate() {
            let mut others = before.clone();
            let mut row = Vec::with_capacity(questions.len() - one);
            for (other, weights) in questions.iter().enumerate().skip(one + 1) {
                row.push(product(&others, &after[other + 1]));
                others = product(&others, weights);
            }
            sums.push(row);
            before = product(&before, weights);
        }
        Self { sums }
    }

    /// Returns the chance of two marks on two questions, given the score on all.
    pub(super) fn chance(
        &self,
        questions: &[Weights],
        all: &[f64],
        both: &Both,
        score: usize,
    ) -> f64 {
        let ((one, other), (mark, beside)) = (both.questions, both.marks);
        let others = &self.sums[one][other - one - 1];
        let rest = score.checked_sub(mark + beside);
        let rest = rest.and_then(|rest| others.get(rest));
        let weight = questions[one][mark] * questions[other][beside];
        rest.map_or(0.0, |rest| weight * rest / all[score])
    }
}

/// The sums of products of two lists, by the sum of their places.
fn product(one: &[f64], other: &[f64]) -> Vec<f64> {
    let mut sums = vec![0.0; (one.len() + other.len()).saturating_sub(1)];
    for (start, first) in one.iter().enumerate() {
        for (sum, second) in sums.iter_mut().skip(start).zip(other) {
            *sum += first * second;
        }
    }
    sums
}

fn without(questions: &[Weights], left_out: usize) -> impl Iterator<Item = &Weights> {
    let each = questions.iter().enumerate();
    each.filter(move |(index, _)| *index != left_out)
        .map(|(_, weights)| weights)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every pattern of marks with its weight.
    fn patterns(questions: &[Weights]) -> Vec<(Vec<usize>, f64)> {
        let mut patterns = vec![(Vec::new(), 1.0)];
        for weights in questions {
            let longer = patterns.iter().flat_map(|(marks, product)| {
                let each = weights.iter().enumerate();
                each.map(move |(mark, weight)| {
                    let mut marks = marks.clone();
                    marks.push(mark);
                    (marks, product * weight)
                })
            });
            patterns = longer.collect();
        }
        patterns
    }

    #[test]
    fn chances_are_those_of_counting_all_patterns() {
        let questions = [
            vec![1.0, 0.7],
            vec![1.0, 2.0, 0.3],
            vec![1.0, 0.0, 1.1, 0.4],
            vec![1.0, 1.9],
        ];
        let patterns = patterns(&questions);
        let (all, pairs) = (symmetric(questions.iter()), Pairs::of(&questions));
        assert_eq!(all.len(), 8);
        let total = |wanted: &dyn Fn(&[usize]) -> bool| -> f64 {
            let those = patterns.iter().filter(|(marks, _)| wanted(marks));
            those.map(|(_, weight)| weight).sum()
        };
        let close = |found: f64, wanted: f64| (found - wanted).abs() < 1e-14;
        for (score, sum) in all.iter().enumerate() {
            let with_score = |marks: &[usize]| marks.iter().sum::<usize>() == score;
            assert!(close(*sum, total(&with_score)));
            for one in 0..4 {
                for (mark, chance) in chances(&questions, &all, one)[score].iter().enumerate() {
                    let both = total(&|marks| with_score(marks) && marks[one] == mark);
                    assert!(close(*chance, both / sum));
                }
                for other in one + 1..4 {
                    for mark in 0..questions[one].len() {
                        for beside in 0..questions[other].len() {
                            let both = Both {
                                questions: (one, other),
                                marks: (mark, beside),
                            };
                            let chance = pairs.chance(&questions, &all, &both, score);
                            let wanted = total(&|marks| {
                                with_score(marks) && marks[one] == mark && marks[other] == beside
                            });
                            assert!(close(chance, wanted / sum));
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn equal_questions_have_binomial_numbers() {
        let questions = vec![vec![1.0, 1.0]; 6];
        let wanted = vec![1.0, 6.0, 15.0, 20.0, 15.0, 6.0, 1.0];
        assert_eq!(symmetric(questions.iter()), wanted);
    }
}
