//! How pupils with each score did on each question: all that the statistics of one
//! sheet need.
//!
//! Takes one pupil's marks at a time and keeps none of them: only, for each score
//! in all, how many pupils gave each mark on each question, and which marks of two
//! questions ever went together. The size hangs on the questions. Tables of the same
//! questions add up ([`ScoreTable::merge`]): the parts together give the whole.
//!
//! A pupil is in it only with a mark for each of its questions. Whether a blank is
//! nought or leaves the pupil out is for the one who adds; the usual thing is nought
//! for a blank, and leaving out those who were absent or did not get so far.

use std::collections::BTreeMap;
use std::fmt;
use std::ops::RangeInclusive;

/// The most marks, noughts included, that a table has columns for.
const MOST_COLUMNS: usize = 4096;

/// How often each mark was given on each question, by score.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ScoreTable {
    full: Vec<u8>,
    rows: BTreeMap<u32, Row>,
    /// For each column the columns that ever went with it, a bit each.
    together: Vec<Vec<u64>>,
}

/// The pupils of one score.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Row {
    pupils: u64,
    /// How many of them gave each mark of each question: the marks from nought of
    /// the first question, then of the second, and so on.
    columns: Vec<u64>,
}

/// Why marks were not added.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unfit {
    /// There are more or fewer marks than questions, or the questions differ.
    OtherQuestions,
    /// A mark is higher than there was to be had.
    MoreThanAll,
    /// A question comes twice.
    Twice,
    /// There are too many questions for one table.
    TooMany,
    /// There is no question at all.
    None,
}

impl fmt::Display for Unfit {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::OtherQuestions => "the questions are not those of the table",
            Self::MoreThanAll => "a mark is higher than the question is worth",
            Self::Twice => "a question comes twice",
            Self::TooMany => "there are too many questions for one table",
            Self::None => "there is no question",
        })
    }
}

impl std::error::Error for Unfit {}

/// Sums over the pupils, for variances and correlations.
pub(super) struct Sums {
    /// How many pupils.
    pub(super) pupils: i128,
    /// Of their scores.
    pub(super) score: i128,
    /// Of the squares of their scores.
    pub(super) score_squared: i128,
    /// For each question.
    pub(super) questions: Vec<QuestionSums>,
}

/// Sums of one question over the pupils.
#[derive(Default)]
pub(super) struct QuestionSums {
    /// Of the marks.
    pub(super) mark: i128,
    /// Of the squares of the marks.
    pub(super) mark_squared: i128,
    /// Of the marks times the scores.
    pub(super) with_score: i128,
}

impl ScoreTable {
    /// Returns an empty table for questions worth so many marks each.
    ///
    /// # Errors
    ///
    /// [`Unfit::None`] and [`Unfit::TooMany`].
    ///
    /// # Example
    ///
    /// ```
    /// use toothmark::statistics::score_table::ScoreTable;
    ///
    /// let mut table = ScoreTable::new(&[1, 1, 2]).expect("three questions");
    /// table.add(&[1, 0, 2]).expect("a mark for each");
    /// assert_eq!(table.pupils(), 1);
    /// assert!(table.add(&[1, 0, 3]).is_err());
    /// ```
    pub fn new(full: &[u8]) -> Result<Self, Unfit> {
        if full.is_empty() {
            return Err(Unfit::None);
        }
        let columns: usize = full.iter().map(|full| usize::from(*full) + 1).sum();
        if columns > MOST_COLUMNS {
            return Err(Unfit::TooMany);
        }
        Ok(Self {
            full: full.to_vec(),
            rows: BTreeMap::new(),
            together: vec![vec![0; columns.div_ceil(64)]; columns],
        })
    }

    /// Adds one pupil's marks, in the order of the questions.
    ///
    /// # Errors
    ///
    /// [`Unfit`]; then nothing is added.
    pub fn add(&mut self, marks: &[u8]) -> Result<(), Unfit> {
        if marks.len() != self.full.len() {
            return Err(Unfit::OtherQuestions);
        }
        if marks.iter().zip(&self.full).any(|(mark, full)| mark > full) {
            return Err(Unfit::MoreThanAll);
        }
        let score: u32 = marks.iter().map(|mark| u32::from(*mark)).sum();
        let width = self.together.len();
        let row = self.rows.entry(score).or_insert_with(|| Row {
            pupils: 0,
            columns: vec![0; width],
        });
        row.pupils = row.pupils.saturating_add(1);
        let mut first = 0;
        let mut given = Vec::with_capacity(marks.len());
        let mut bits = vec![0_u64; width.div_ceil(64)];
        for (mark, full) in marks.iter().zip(&self.full) {
            let column = first + usize::from(*mark);
            row.columns[column] = row.columns[column].saturating_add(1);
            bits[column / 64] |= 1 << (column % 64);
            given.push(column);
            first += usize::from(*full) + 1;
        }
        for column in given {
            for (word, more) in self.together[column].iter_mut().zip(&bits) {
                *word |= more;
            }
        }
        Ok(())
    }

    /// Adds all pupils of another table of the same questions.
    ///
    /// # Errors
    ///
    /// [`Unfit::OtherQuestions`]; then nothing is added.
    pub fn merge(&mut self, other: &Self) -> Result<(), Unfit> {
        if self.full != other.full {
            return Err(Unfit::OtherQuestions);
        }
        for (score, more) in &other.rows {
            let row = self.rows.entry(*score).or_insert_with(|| Row {
                pupils: 0,
                columns: vec![0; more.columns.len()],
            });
            row.pupils = row.pupils.saturating_add(more.pupils);
            for (count, more) in row.columns.iter_mut().zip(&more.columns) {
                *count = count.saturating_add(*more);
            }
        }
        for (row, more) in self.together.iter_mut().zip(&other.together) {
            for (word, more) in row.iter_mut().zip(more) {
                *word |= more;
            }
        }
        Ok(())
    }

    /// Returns how many pupils are in it.
    #[must_use]
    pub fn pupils(&self) -> u64 {
        self.rows.values().map(|row| row.pupils).sum()
    }

    /// Returns how many questions it has.
    #[must_use]
    pub fn questions(&self) -> usize {
        self.full.len()
    }

    /// Returns how many marks a question is worth.
    #[must_use]
    pub fn full(&self, question: usize) -> Option<u8> {
        self.full.get(question).copied()
    }

    /// Returns each score that occurs with the number of its pupils, lowest first.
    #[must_use]
    pub fn scores(&self) -> impl DoubleEndedIterator<Item = (u32, u64)> {
        self.rows.iter().map(|(score, row)| (*score, row.pupils))
    }

    /// Returns how many pupils of a score have each mark from nought on a question.
    #[must_use]
    pub fn marks(&self, score: u32, question: usize) -> &[u64] {
        let columns = self.columns(question);
        self.rows
            .get(&score)
            .and_then(|row| row.columns.get(columns))
            .unwrap_or_default()
    }

    /// Whether some pupil has the one mark on the one question and the other on the
    /// other.
    #[must_use]
    pub(super) fn went_together(&self, one: (usize, u8), other: (usize, u8)) -> bool {
        let column = self.columns(other.0).start + usize::from(other.1);
        self.together
            .get(self.columns(one.0).start + usize::from(one.1))
            .and_then(|row| row.get(column / 64))
            .is_some_and(|word| word >> (column % 64) & 1 == 1)
    }

    /// Returns the same with marks outside the range of their question moved to its end.
    ///
    /// All pupils of a score must move alike, since they are not told apart.
    pub(super) fn clipped(&self, between: &[RangeInclusive<u8>]) -> Self {
        // Where each column goes, and by how many marks.
        let mut to: Vec<(usize, i64)> = Vec::with_capacity(self.together.len());
        for (full, range) in self.full.iter().zip(between) {
            let first = to.len();
            for mark in 0..=*full {
                let new = mark.clamp(*range.start(), *range.end());
                to.push((first + usize::from(new), i64::from(new) - i64::from(mark)));
            }
        }
        let mut rows: BTreeMap<u32, Row> = BTreeMap::new();
        for (score, row) in &self.rows {
            let mut columns = vec![0; row.columns.len()];
            let mut moved = 0_i128;
            for (count, (to, by)) in row.columns.iter().zip(&to) {
                columns[*to] += count;
                moved += i128::from(*count) * i128::from(*by);
            }
            let score = i128::from(*score) + moved / i128::from(row.pupils.max(1));
            let score = u32::try_from(score).unwrap_or(0);
            let new = rows.entry(score).or_insert_with(|| Row {
                pupils: 0,
                columns: vec![0; columns.len()],
            });
            new.pupils = new.pupils.saturating_add(row.pupils);
            for (count, more) in new.columns.iter_mut().zip(columns) {
                *count = count.saturating_add(more);
            }
        }
        let words = self.together.len().div_ceil(64);
        let mut together = vec![vec![0; words]; self.together.len()];
        for (one, bits) in self.together.iter().enumerate() {
            for (other, (to_other, _)) in to.iter().enumerate() {
                if bits[other / 64] >> (other % 64) & 1 == 1 {
                    together[to[one].0][to_other / 64] |= 1 << (to_other % 64);
                }
            }
        }
        Self {
            full: self.full.clone(),
            rows,
            together,
        }
    }

    /// Where the marks of a question stand in a row.
    fn columns(&self, question: usize) -> std::ops::Range<usize> {
        let width = |full: &u8| usize::from(*full) + 1;
        let first: usize = self.full.iter().take(question).map(width).sum();
        first..first + self.full.get(question).map_or(0, width)
    }

    /// Returns the sums that variances and correlations come from.
    pub(super) fn sums(&self) -> Sums {
        let mut sums = Sums {
            pupils: 0,
            score: 0,
            score_squared: 0,
            questions: self.full.iter().map(|_| QuestionSums::default()).collect(),
        };
        for (score, row) in &self.rows {
            let (score, pupils) = (i128::from(*score), i128::from(row.pupils));
            sums.pupils += pupils;
            sums.score += score * pupils;
            sums.score_squared += score * score * pupils;
            let mut counts = row.columns.iter();
            for (full, question) in self.full.iter().zip(&mut sums.questions) {
                for (mark, count) in (0..=*full).zip(&mut counts) {
                    let (mark, count) = (i128::from(mark), i128::from(*count));
                    question.mark += mark * count;
                    question.mark_squared += mark * mark * count;
                    question.with_score += mark * score * count;
                }
            }
        }
        sums
    }
}

impl Sums {
    /// The variance of the scores times the square of the number of pupils.
    pub(super) fn score_spread(&self) -> i128 {
        self.pupils * self.score_squared - self.score * self.score
    }

    /// The variance of a question's marks times the square of the number of pupils.
    pub(super) fn spread(&self, question: &QuestionSums) -> i128 {
        self.pupils * question.mark_squared - question.mark * question.mark
    }

    /// The covariance of a question with the score, times the same.
    pub(super) fn with_score(&self, question: &QuestionSums) -> i128 {
        self.pupils * question.with_score - question.mark * self.score
    }

    /// The variance of the score without the question, times the same.
    pub(super) fn rest_spread(&self, question: &QuestionSums) -> i128 {
        self.score_spread() + self.spread(question) - 2 * self.with_score(question)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::strategy::Strategy;

    fn table(full: &[u8], pupils: &[Vec<u8>]) -> ScoreTable {
        let mut table = ScoreTable::new(full).expect("there are questions");
        for marks in pupils {
            table.add(marks).expect("they fit");
        }
        table
    }

    #[test]
    fn what_does_not_fit_is_said_and_not_added() {
        let mut one = table(&[1, 2], &[vec![1, 2]]);
        let before = one.clone();
        assert_eq!(one.add(&[1]), Err(Unfit::OtherQuestions));
        assert_eq!(one.add(&[2, 0]), Err(Unfit::MoreThanAll));
        let other = table(&[2, 1], &[]);
        assert_eq!(one.merge(&other), Err(Unfit::OtherQuestions));
        assert_eq!(one, before);
        assert_eq!(ScoreTable::new(&[]), Err(Unfit::None));
        assert_eq!(ScoreTable::new(&[255; 17]), Err(Unfit::TooMany));
    }

    #[test]
    fn marks_are_counted_by_score_and_by_what_went_with_them() {
        let one = table(&[1, 2], &[vec![1, 0], vec![0, 1], vec![1, 2]]);
        assert_eq!(one.scores().collect::<Vec<_>>(), [(1, 2), (3, 1)]);
        assert_eq!(one.marks(1, 1), [1, 1, 0]);
        assert_eq!(one.marks(3, 1), [0, 0, 1]);
        assert!(one.marks(2, 1).is_empty() && one.marks(1, 2).is_empty());
        assert!(one.went_together((0, 1), (1, 2)));
        assert!(!one.went_together((0, 0), (1, 2)));
    }

    proptest::proptest! {
        #[test]
        fn the_parts_together_give_the_whole(
            pupils in proptest::collection::vec((0_u8..=1, 0_u8..=3, 0_u8..=2).prop_map(|(a, b, c)| vec![a, b, c]), 0..40),
            cut in 0_usize..40,
        ) {
            let full = [1, 3, 2];
            let whole = table(&full, &pupils);
            let (first, second) = pupils.split_at(cut.min(pupils.len()));
            let mut parts = table(&full, second);
            parts.merge(&table(&full, first)).expect("the same questions");
            proptest::prop_assert_eq!(&parts, &whole);
            let mut turned = pupils.clone();
            turned.reverse();
            proptest::prop_assert_eq!(table(&full, &turned), whole);
        }
    }
}
