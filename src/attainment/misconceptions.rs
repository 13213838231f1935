//! Which misconceptions are about: pupils who show one again and again.
//!
//! One answer that a misconception would give may be a slip. A pupil counts for a
//! misconception when two or more of their answers are what it would give.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::group;
use crate::attainment::tally;
use crate::misconception;
use std::collections::{BTreeMap, BTreeSet};

/// How many answers make a misconception more than a slip.
pub const FEWEST_ANSWERS: usize = 2;

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
    /// Pupils who show it in two answers or more.
    pub again: count::Count,
    /// Pupils who show it in one answer only.
    pub once: count::Count,
    /// Pupils who show it in two answers or more, year by year.
    pub by_year: Vec<count::Count>,
}

/// A pupil in a year, with how many answers show the misconception.
type Shows<'a> = BTreeMap<(&'a str, String), usize>;

/// Returns the table of misconceptions.
pub(super) fn table(answers: &[&attainment::Answer]) -> Table {
    let pupils: BTreeSet<&str> = answers
        .iter()
        .filter(|answer| tally::was_handed_in(answer.state))
        .map(|answer| answer.pupil_id.as_str())
        .collect();
    let years = group::labels(answers, group::year);
    let mut shows: BTreeMap<&str, Shows<'_>> = BTreeMap::new();
    for answer in answers {
        for id in &answer.misconceptions {
            let year = group::label(group::year(answer));
            let pupil = (answer.pupil_id.as_str(), year);
            let times = shows.entry(id).or_default().entry(pupil).or_default();
            *times = times.saturating_add(1);
        }
    }
    let mut rows: Vec<Row> = shows
        .iter()
        .map(|(id, shows)| row(id, shows, &years))
        .collect();
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

fn row(id: &str, shows: &Shows<'_>, years: &[String]) -> Row {
    let mut times: BTreeMap<&str, usize> = BTreeMap::new();
    for ((pupil, _), answers) in shows {
        let sum = times.entry(pupil).or_default();
        *sum = sum.saturating_add(*answers);
    }
    let again = times
        .values()
        .filter(|answers| **answers >= FEWEST_ANSWERS)
        .count();
    let once = times.len().saturating_sub(again);
    let by_year: Vec<u32> = years
        .iter()
        .map(|year| {
            let pupils = shows
                .iter()
                .filter(|((_, of), answers)| of == year && **answers >= FEWEST_ANSWERS)
                .count();
            size(pupils)
        })
        .collect();
    let known = misconception::all().iter().find(|known| known.id == id);
    Row {
        id: id.to_owned(),
        name: known.map_or(id, |known| known.name).to_owned(),
        next: known.map_or("", |known| known.next).to_owned(),
        again: alone(size(again)),
        once: alone(size(once)),
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
    fn a_few_pupils_are_not_counted_out() {
        let answers: Vec<_> = (0..3).flat_map(|pupil| shown(pupil, "5", 2)).collect();
        let table = table(&answers.iter().collect::<Vec<_>>());
        let hidden = count::Count::Hidden(count::Hidden::TooFew);
        assert_eq!(table.rows[0].again, hidden);
        assert_eq!(table.rows[0].once, count::Count::Pupils(0));
    }
}
