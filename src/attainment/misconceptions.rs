//! Which misconceptions are about: pupils with answers consistent with one again and
//! again.
//!
//! One answer that a misconception would give may be a slip. A pupil counts for a
//! misconception when two or more of their answers are what it would give, and no other
//! explains more of them.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::group;
use crate::attainment::tally;
use crate::marking::findings;
use crate::misconception;
use std::collections::{BTreeMap, BTreeSet};

/// Every misconception that any answer shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Pupils who handed in, of whom the rows count some.
    pub pupils: count::Count,
    /// The years, in order, that the rows' `by_year` stands for.
    pub years: Vec<String>,
    /// A row each, the commonest first; those that may not be told come last.
    pub rows: Vec<Row>,
}

/// One misconception.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Its id in files.
    pub id: String,
    /// Its name in plain words.
    pub name: String,
    /// What to try next.
    pub next: String,
    /// Pupils with two answers or more that are consistent with it.
    pub again: count::Count,
    /// Pupils with one such answer only, which may be chance.
    pub once: count::Count,
    /// Pupils with two such answers or more, year by year.
    pub by_year: Vec<count::Count>,
}

/// The answers of one pupil, or of one pupil in one year, that show something.
#[derive(Default)]
struct Shown<'a>(Vec<&'a [String]>);

impl<'a> Shown<'a> {
    fn add(&mut self, answer: &'a attainment::Answer) {
        if !answer.misconceptions.is_empty() {
            self.0.push(&answer.misconceptions);
        }
    }

    /// How many answers are consistent with a misconception.
    fn count(&self, id: &str) -> usize {
        let has = |ids: &&&[String]| ids.iter().any(|it| it == id);
        self.0.iter().filter(has).count()
    }

    /// The misconceptions that two answers or more are consistent with.
    fn again(&self) -> BTreeSet<&'static str> {
        findings::fewest(self.0.iter().copied())
            .into_iter()
            .flat_map(|finding| finding.ideas)
            .map(|idea| idea.id)
            .collect()
    }
}

/// What all answers say, pupil by pupil.
struct Seen<'a> {
    by_pupil: Vec<(BTreeSet<&'static str>, &'a Shown<'a>)>,
    by_year: Vec<(&'a str, BTreeSet<&'static str>)>,
}

/// Returns the table of misconceptions.
pub(super) fn table(answers: &[&attainment::Answer]) -> Table {
    let pupils: BTreeSet<&str> = answers
        .iter()
        .filter(|answer| tally::was_handed_in(answer.state))
        .map(|answer| answer.pupil_id.as_str())
        .collect();
    let years = group::labels(answers, group::year);
    let mut by_pupil: BTreeMap<&str, Shown<'_>> = BTreeMap::new();
    let mut by_year: BTreeMap<(String, &str), Shown<'_>> = BTreeMap::new();
    let mut ids: BTreeSet<&str> = BTreeSet::new();
    for answer in answers {
        let year = group::label(group::year(answer));
        let pupil = answer.pupil_id.as_str();
        by_pupil.entry(pupil).or_default().add(answer);
        by_year.entry((year, pupil)).or_default().add(answer);
        ids.extend(answer.misconceptions.iter().map(String::as_str));
    }
    let seen = Seen {
        by_pupil: by_pupil
            .values()
            .map(|shown| (shown.again(), shown))
            .collect(),
        by_year: by_year
            .iter()
            .map(|((year, _), shown)| (year.as_str(), shown.again()))
            .collect(),
    };
    let mut rows: Vec<Row> = ids.into_iter().map(|id| row(id, &seen, &years)).collect();
    rows.sort_by_key(|row| std::cmp::Reverse((told(row.again), told(row.once))));
    Table {
        pupils: count::counts(&[size(pupils.len())])
            .into_iter()
            .next()
            .expect("one size gives one count"),
        years,
        rows,
    }
}

fn row(id: &str, seen: &Seen<'_>, years: &[String]) -> Row {
    let pupils = seen.by_pupil.iter();
    let again = pupils.clone().filter(|(again, _)| again.contains(id));
    let once = pupils.filter(|(_, shown)| shown.count(id) == 1);
    let by_year: Vec<u32> = years
        .iter()
        .map(|year| {
            let in_year = seen.by_year.iter().filter(|(of, _)| of == year);
            size(in_year.filter(|(_, again)| again.contains(id)).count())
        })
        .collect();
    let known = misconception::all().iter().find(|known| known.id == id);
    Row {
        id: id.to_owned(),
        name: known.map_or(id, |known| known.name).to_owned(),
        next: known.map_or("", |known| known.next).to_owned(),
        again: alone(size(again.count())),
        once: alone(size(once.count())),
        by_year: count::counts(&by_year),
    }
}

/// A count that stands in no table of its own.
fn alone(pupils: u32) -> count::Count {
    count::counts(&[pupils])
        .into_iter()
        .next()
        .expect("one size gives one count")
}

/// The number that may be told; nought where none may.
fn told(count: count::Count) -> u32 {
    match count {
        count::Count::Pupils(pupils) => pupils,
        count::Count::Hidden(_) => 0,
    }
}

fn size(pupils: usize) -> u32 {
    u32::try_from(pupils).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attainment::examples;

    /// So many answers of one pupil that show one misconception.
    fn shown(pupil: usize, year: &str, times: usize) -> Vec<attainment::Answer> {
        vec![
            attainment::Answer {
                pupil_id: format!("P{pupil}"),
                year: year.to_owned(),
                misconceptions: vec!["same-speed".to_owned()],
                ..examples::answer()
            };
            times
        ]
    }

    #[test]
    fn one_answer_is_a_slip_and_two_are_counted() {
        let mut answers = Vec::new();
        for pupil in 0..12 {
            answers.extend(shown(pupil, "5", 2));
        }
        for pupil in 12..18 {
            answers.extend(shown(pupil, "6", 1));
        }
        for pupil in 18..20 {
            answers.extend(shown(pupil, "6", 3));
        }
        let table = table(&answers.iter().collect::<Vec<_>>());
        assert_eq!(table.pupils, count::Count::Pupils(20));
        assert_eq!(table.years, ["5", "6"]);
        let row = &table.rows[0];
        assert_eq!(row.again, count::Count::Pupils(14));
        assert_eq!(row.once, count::Count::Pupils(6));
        let (few, back) = (count::Hidden::TooFew, count::Hidden::HeldBack);
        assert_eq!(
            row.by_year,
            [count::Count::Hidden(back), count::Count::Hidden(few)]
        );
    }

    #[test]
    fn a_pupil_counts_for_what_explains_most_of_their_answers() {
        let mut answers = Vec::new();
        for pupil in 0..12 {
            answers.extend(shown(pupil, "5", 3));
            for answer in answers.iter_mut().rev().take(2) {
                answer.misconceptions.push("big-gear-faster".to_owned());
            }
        }
        let table = table(&answers.iter().collect::<Vec<_>>());
        let again: Vec<(&str, count::Count)> = table
            .rows
            .iter()
            .map(|row| (row.id.as_str(), row.again))
            .collect();
        let (all, none) = (count::Count::Pupils(12), count::Count::Pupils(0));
        assert_eq!(again, [("same-speed", all), ("big-gear-faster", none)]);
        assert_eq!(table.rows[1].once, none);
    }

    #[test]
    fn a_few_pupils_are_not_counted_out() {
        let answers: Vec<_> = (0..3).flat_map(|pupil| shown(pupil, "5", 2)).collect();
        let table = table(&answers.iter().collect::<Vec<_>>());
        let hidden = count::Count::Hidden(count::Hidden::TooFew);
        assert_eq!(table.rows[0].again, hidden);
        assert_eq!(table.rows[0].once, count::Count::Pupils(0));
    }
}
