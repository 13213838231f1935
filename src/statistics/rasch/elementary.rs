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
    let mut sums = vec![1.0];
    for weights in questions {
        let mut next = vec![0.0; sums.len() + weights.len() - 1];
        for (score, sum) in sums.iter().enumerate() {
            for (mark, weight) in weights.iter().enumerate() {
                next[score + mark] += sum * weight;
            }
        }
        sums = next;
    }
    sums
}

/// Returns the chance of each mark on a question, given the score on all.
///
/// The outer index is the score, the inner one the mark; `all` are the sums over all of
/// the questions.
pub(super) fn chances(questions: &[Weights], all: &[f64], question: usize) -> Vec<Vec<f64>> {
    let others = symmetric(without(questions, &[question]));
    let weights = &questions[question];
    let chance = |score: usize, mark: usize| -> f64 {
        let rest = score.checked_sub(mark).and_then(|rest| others.get(rest));
        rest.map_or(0.0, |rest| weights[mark] * rest / all[score])
    };
    (0..all.len())
        .map(|score| (0..weights.len()).map(|mark| chance(score, mark)).collect())
        .collect()
}

/// Returns the chance of a mark on one question and a mark on another, given the
/// score on all: for each score, one row of the second's marks for each of the first.
pub(super) fn pair_chances(
    questions: &[Weights],
    all: &[f64],
    (one, other): (usize, usize),
) -> Vec<Vec<Vec<f64>>> {
    let others = symmetric(without(questions, &[one, other]));
    let (first, second) = (&questions[one], &questions[other]);
    let chance = |score: usize, mark: usize, beside: usize| -> f64 {
        let rest = score.checked_sub(mark + beside);
        let rest = rest.and_then(|rest| others.get(rest));
        rest.map_or(0.0, |rest| first[mark] * second[beside] * rest / all[score])
    };
    (0..all.len())
        .map(|score| {
            let row = |mark: usize| -> Vec<f64> {
                let beside = 0..second.len();
                beside.map(|beside| chance(score, mark, beside)).collect()
            };
            (0..first.len()).map(row).collect()
        })
        .collect()
}

fn without<'a>(
    questions: &'a [Weights],
    left_out: &'a [usize],
) -> impl Iterator<Item = &'a Weights> {
    let each = questions.iter().enumerate();
    each.filter(|(index, _)| !left_out.contains(index))
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
        let all = symmetric(questions.iter());
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
                for other in (0..4).filter(|other| *other != one) {
                    let pairs = &pair_chances(&questions, &all, (one, other))[score];
                    for (mark, row) in pairs.iter().enumerate() {
                        for (beside, chance) in row.iter().enumerate() {
                            let all = total(&|marks| {
                                with_score(marks) && marks[one] == mark && marks[other] == beside
                            });
                            assert!(close(*chance, all / sum));
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
