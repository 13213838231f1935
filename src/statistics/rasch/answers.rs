//! What the scale needs of the answers: counts, gathered one pupil at a time.
//!
//! Conditional likelihood needs no more of the pupils who did the same questions
//! than how often each mark was given on each question, score by score. So for each
//! set of questions that some pupil did there is one
//! [`ScoreTable`](crate::statistics::score_table::ScoreTable), and no pupil is kept.
//! Parts add up ([`Answers::merge`]).

use crate::statistics::score_table;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// What is given a place on the scale: a template, or one part of it.
///
/// All versions of a template are one question here, however their numbers were
/// drawn: that they are equally hard is a premise.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Question {
    /// Its name.
    pub name: String,
    /// The marks it is worth; the same name worth another number is another question.
    pub full: u8,
}

/// Counts of any number of pupils who each did some of the questions.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Answers {
    sets: BTreeMap<Vec<Question>, score_table::ScoreTable>,
}

impl Answers {
    /// Adds one pupil's marks on the questions this pupil did, in any order.
    ///
    /// Questions left out by design, or by being absent, are simply not there. A
    /// question worth nothing has no place on a scale and is left out.
    ///
    /// # Errors
    ///
    /// [`score_table::Unfit`]; then nothing is added.
    ///
    /// # Example
    ///
    /// ```
    /// use toothmark::statistics::rasch::answers::Answers;
    /// use toothmark::statistics::rasch::answers::Question;
    ///
    /// let question = |name: &str| Question { name: name.to_owned(), full: 1 };
    /// let mut answers = Answers::default();
    /// answers.add(&[(question("idler"), 1), (question("ratio"), 0)]).expect("they fit");
    /// assert_eq!(answers.pupils(), 1);
    /// ```
    pub fn add(&mut self, marks: &[(Question, u8)]) -> Result<(), score_table::Unfit> {
        let mut marks: Vec<&(Question, u8)> = marks.iter().filter(|it| it.0.full > 0).collect();
        marks.sort_unstable();
        if marks.windows(2).any(|two| two[0].0 == two[1].0) {
            return Err(score_table::Unfit::Twice);
        }
        let questions: Vec<Question> = marks.iter().map(|it| it.0.clone()).collect();
        let marks: Vec<u8> = marks.iter().map(|it| it.1).collect();
        if let Some(table) = self.sets.get_mut(&questions) {
            return table.add(&marks);
        }
        let full: Vec<u8> = questions.iter().map(|it| it.full).collect();
        let mut table = score_table::ScoreTable::new(&full)?;
        table.add(&marks)?;
        self.sets.insert(questions, table);
        Ok(())
    }

    /// Adds all pupils of another part.
    ///
    /// # Errors
    ///
    /// None with tables made here: the same questions have the same table.
    pub fn merge(&mut self, other: &Self) -> Result<(), score_table::Unfit> {
        for (questions, more) in &other.sets {
            match self.sets.get_mut(questions) {
                Some(table) => table.merge(more)?,
                None => {
                    self.sets.insert(questions.clone(), more.clone());
                }
            }
        }
        Ok(())
    }

    /// Returns the same with marks outside the range of their question moved to its end,
    /// where all pupils of a score on the same questions move alike.
    pub(super) fn clipped(&self, between: &BTreeMap<Question, RangeInclusive<u8>>) -> Self {
        let sets = self.sets.iter().map(|(questions, table)| {
            let ranges = questions.iter();
            let ranges = ranges.map(|it| between.get(it).cloned().unwrap_or(0..=it.full));
            (
                questions.clone(),
                table.clipped(&ranges.collect::<Vec<_>>()),
            )
        });
        Self {
            sets: sets.collect(),
        }
    }

    /// Returns how many pupils' marks were added; one who did two homeworks counts
    /// twice.
    #[must_use]
    pub fn pupils(&self) -> u64 {
        let tables = self.sets.values();
        tables.map(score_table::ScoreTable::pupils).sum()
    }

    /// Returns each set of questions, sorted, with its counts.
    pub fn sets(&self) -> impl Iterator<Item = (&[Question], &score_table::ScoreTable)> {
        let sets = self.sets.iter();
        sets.map(|(questions, table)| (questions.as_slice(), table))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn question(name: &str, full: u8) -> Question {
        Question {
            name: name.to_owned(),
            full,
        }
    }

    #[test]
    fn the_order_of_the_questions_does_not_matter() {
        let (one, two) = (question("one", 1), question("two", 2));
        let mut there = Answers::default();
        there
            .add(&[(one.clone(), 1), (two.clone(), 0)])
            .expect("fits");
        let mut back = Answers::default();
        back.add(&[(two, 0), (one, 1)]).expect("fits");
        assert_eq!(there, back);
    }

    #[test]
    fn what_does_not_fit_is_not_added() {
        let mut answers = Answers::default();
        let one = question("one", 1);
        let twice = [(one.clone(), 1), (one.clone(), 0)];
        assert_eq!(answers.add(&twice), Err(score_table::Unfit::Twice));
        let more = answers.add(&[(one, 2)]);
        assert_eq!(more, Err(score_table::Unfit::MoreThanAll));
        assert_eq!(answers.add(&[]), Err(score_table::Unfit::None));
        let worthless = answers.add(&[(question("nothing", 0), 0)]);
        assert_eq!(worthless, Err(score_table::Unfit::None));
        assert_eq!(answers, Answers::default());
    }

    proptest::proptest! {
        #[test]
        fn the_parts_together_give_the_whole(
            pupils in proptest::collection::vec(proptest::collection::vec(proptest::option::of(0_u8..=2), 4), 0..30),
            cut in 0_usize..30,
        ) {
            let names = ["a", "b", "c", "d"];
            let fold = |pupils: &[Vec<Option<u8>>]| {
                let mut answers = Answers::default();
                for marks in pupils {
                    let marks: Vec<(Question, u8)> = names
                        .iter()
                        .zip(marks)
                        .filter_map(|(name, mark)| Some((question(name, 2), (*mark)?)))
                        .collect();
                    if !marks.is_empty() {
                        answers.add(&marks).expect("they fit");
                    }
                }
                answers
            };
            let (first, second) = pupils.split_at(cut.min(pupils.len()));
            let mut parts = fold(second);
            parts.merge(&fold(first)).expect("the same questions");
            proptest::prop_assert_eq!(parts, fold(&pupils));
        }
    }
}
