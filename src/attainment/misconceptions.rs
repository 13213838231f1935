//! Which misconceptions are about: pupils with answers consistent with one again and
//! again.
//!
//! One answer that a misconception would give may be a slip. A pupil counts for a
//! misconception when two or more of their answers are what it would give, and no other
//! explains more of them.

use crate::attainment::count;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::group;
use crate::attainment::names;
use crate::attainment::register;
use crate::attainment::told;
use crate::held_back;
use crate::marking::findings;
use crate::misconception;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

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

/// Which misconceptions pupils' answers are consistent with: how many answers of a
/// pupil in a year have the same ids.
#[derive(Debug, Clone, Default)]
pub(super) struct Shown(BTreeMap<Answers, u32>);

/// Answers of one pupil in one year with the same ids.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Answers {
    pupil: u32,
    year: names::Name,
    /// The ids, [`joined`].
    ids: names::Name,
}

/// What stands between joined ids.
const BETWEEN: char = '\n';

/// Returns the ids of one answer as one text, each once, in order.
pub(super) fn joined(ids: &[String]) -> String {
    let ids: BTreeSet<&str> = ids.iter().map(String::as_str).collect();
    let ids: Vec<&str> = ids.into_iter().collect();
    ids.join(&BETWEEN.to_string())
}

impl Shown {
    /// Adds one answer.
    pub(super) fn add(&mut self, pupil: u32, year: names::Name, ids: names::Name) {
        kept::more(&mut self.0, Answers { pupil, year, ids }, 1);
    }

    /// Adds what another fold counted.
    pub(super) fn join_from(
        &mut self,
        other: &Self,
        names: &names::Renaming,
        pupils: &register::Renumbering,
    ) {
        for (answers, times) in &other.0 {
            let here = Answers {
                pupil: pupils.here(answers.pupil),
                year: names.here(answers.year),
                ids: names.here(answers.ids),
            };
            kept::more(&mut self.0, here, *times);
        }
    }
}

/// How many pupils show each misconception.
#[derive(Debug, Default)]
pub(super) struct Pupils {
    /// With two answers or more, as far as no other explains more of them.
    again: BTreeMap<String, u32>,
    /// With one answer only.
    once: BTreeMap<String, u32>,
    /// As `again`, year by year.
    by_year: BTreeMap<(names::Name, String), u32>,
    /// Every id that any answer shows.
    ids: BTreeSet<String>,
}

/// Answers with the same ids: the ids, and how many answers.
type Alike<'a> = (&'a [String], u32);

impl Pupils {
    /// Counts one pupil's answers, each with its year.
    fn add(&mut self, answers: &[(names::Name, Alike<'_>)]) {
        for id in again(answers.iter().map(|(_, alike)| *alike)) {
            kept::more(&mut self.again, id.to_owned(), 1);
        }
        let mut times: BTreeMap<&str, u32> = BTreeMap::new();
        for (_, (ids, answers)) in answers {
            for id in *ids {
                kept::more(&mut times, id.as_str(), *answers);
            }
        }
        for (id, times) in times {
            self.ids.insert(id.to_owned());
            if times == 1 {
                kept::more(&mut self.once, id.to_owned(), 1);
            }
        }
        // The years of one pupil stand side by side.
        for in_year in answers.chunk_by(|one, other| one.0 == other.0) {
            if let Some((year, _)) = in_year.first() {
                for id in again(in_year.iter().map(|(_, alike)| *alike)) {
                    kept::more(&mut self.by_year, (*year, id.to_owned()), 1);
                }
            }
        }
    }
}

/// The misconceptions that two answers or more are consistent with, as far as no
/// other explains more of them.
fn again<'a>(answers: impl Iterator<Item = Alike<'a>>) -> BTreeSet<&'static str> {
    let answers = answers.flat_map(|(ids, times)| {
        std::iter::repeat_n(ids, usize::try_from(times).unwrap_or(usize::MAX))
    });
    findings::fewest(answers)
        .into_iter()
        .flat_map(|finding| finding.ideas)
        .map(|idea| idea.id)
        .collect()
}

/// The entries of one misconception in the ledger of a run.
#[derive(Debug)]
pub(super) struct Entries {
    again: held_back::EntryId,
    once: held_back::EntryId,
    by_year: Vec<held_back::EntryId>,
}

impl Pupils {
    /// Returns how many pupils of a fold show each misconception.
    pub(super) fn of(fold: &fold::Fold) -> Self {
        let texts: BTreeMap<names::Name, Vec<String>> = fold
            .shown
            .0
            .keys()
            .map(|answers| answers.ids)
            .collect::<BTreeSet<_>>()
            .into_iter()
            .map(|ids| {
                let text = fold.names.text(ids);
                (ids, text.split(BETWEEN).map(str::to_owned).collect())
            })
            .collect();
        let answers: Vec<(&Answers, &u32)> = fold.shown.0.iter().collect();
        let mut counted = Self::default();
        // The answers of one pupil stand side by side.
        for of_pupil in answers.chunk_by(|(one, _), (other, _)| one.pupil == other.pupil) {
            let of_pupil: Vec<(names::Name, Alike<'_>)> = of_pupil
                .iter()
                .filter_map(|(answers, times)| {
                    let ids = texts.get(&answers.ids)?;
                    Some((answers.year, (ids.as_slice(), **times)))
                })
                .collect();
            counted.add(&of_pupil);
        }
        counted
    }

    /// Enters the numbers of each misconception: they are some of the pupils of the whole
    /// and of the years.
    pub(super) fn enter(
        &self,
        fold: &fold::Fold,
        groups: &told::Groups,
        ledger: &mut held_back::Ledger,
    ) -> BTreeMap<String, Entries> {
        let table = told::Table::Misconceptions.number();
        let mut enter = |pupils: u32, (group, all): (held_back::EntryId, u64)| {
            ledger.enter(held_back::Entry {
                with: vec![group],
                ..held_back::Entry::some_of(table, pupils.into(), all)
            })
        };
        let mut all = BTreeMap::new();
        let mut systems = Vec::new();
        for id in &self.ids {
            let by_year: Vec<u32> = self.by_year(fold, groups, id);
            let years = groups.years.values().zip(&by_year);
            let entries = Entries {
                again: enter(self.again(id), groups.whole),
                once: enter(self.once(id), groups.whole),
                by_year: years.map(|(year, pupils)| enter(*pupils, *year)).collect(),
            };
            let mut system = held_back::System::default();
            let numbers = by_year.iter().map(|pupils| u64::from(*pupils));
            system.layer(held_back::Quantity::Pupils, numbers.collect());
            system.view(Some(entries.again), (0..by_year.len()).collect());
            for (place, entry) in entries.by_year.iter().enumerate() {
                system.view(Some(*entry), vec![place]);
            }
            systems.push(system);
            all.insert(id.clone(), entries);
        }
        for system in systems {
            ledger.add(system);
        }
        all
    }

    /// Returns the table, with what may be told.
    pub(super) fn table(
        &self,
        fold: &fold::Fold,
        groups: &told::Groups,
        entries: &BTreeMap<String, Entries>,
        told: &held_back::Protected,
    ) -> Table {
        let mut rows: Vec<Row> = entries
            .iter()
            .map(|(id, entries)| {
                let known = misconception::all().iter().find(|known| known.id == id);
                let by_year = self.by_year(fold, groups, id).into_iter();
                let by_year = by_year.zip(&entries.by_year);
                Row {
                    id: id.clone(),
                    name: known.map_or(id.as_str(), |known| known.name).to_owned(),
                    next: known.map_or("", |known| known.next).to_owned(),
                    again: count::Count::of(self.again(id), told.of(entries.again)),
                    once: count::Count::of(self.once(id), told.of(entries.once)),
                    by_year: by_year
                        .map(|(pupils, entry)| count::Count::of(pupils, told.of(*entry)))
                        .collect(),
                }
            })
            .collect();
        let pupils = |count: count::Count| count.pupils().unwrap_or(0);
        rows.sort_by_key(|row| std::cmp::Reverse((pupils(row.again), pupils(row.once))));
        let (whole, pupils) = groups.whole;
        let pupils = u32::try_from(pupils).unwrap_or(u32::MAX);
        Table {
            pupils: count::Count::of(pupils, told.of(whole)),
            years: groups.years.keys().map(|key| key.label.clone()).collect(),
            rows,
        }
    }

    fn again(&self, id: &str) -> u32 {
        self.again.get(id).copied().unwrap_or(0)
    }

    fn once(&self, id: &str) -> u32 {
        self.once.get(id).copied().unwrap_or(0)
    }

    fn by_year(&self, fold: &fold::Fold, groups: &told::Groups, id: &str) -> Vec<u32> {
        let mut by_year: BTreeMap<group::Key, u32> = BTreeMap::new();
        for ((year, other), pupils) in &self.by_year {
            if other == id {
                kept::more(&mut by_year, group::year(fold.names.text(*year)), *pupils);
            }
        }
        let years = groups.years.keys();
        years
            .map(|year| by_year.get(year).copied().unwrap_or(0))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attainment;
    use crate::attainment::examples;

    /// A pupil with so many answers that show one misconception.
    fn shown(pupil: usize, year: &str, times: usize) -> attainment::Pupil {
        let answer = attainment::Answer {
            misconceptions: vec!["same-speed".to_owned()],
            ..examples::answer()
        };
        attainment::Pupil {
            year: year.to_owned(),
            ..examples::pupil(&format!("P{pupil}"), vec![answer; times])
        }
    }

    fn table(pupils: Vec<attainment::Pupil>) -> Table {
        let work = attainment::Work {
            pupils,
            ..examples::work()
        };
        attainment::summarise(&[work]).misconceptions
    }

    #[test]
    fn one_answer_is_a_slip_and_two_are_counted() {
        let mut pupils: Vec<_> = (0..12).map(|pupil| shown(pupil, "5", 2)).collect();
        pupils.extend((12..18).map(|pupil| shown(pupil, "6", 1)));
        pupils.extend((18..20).map(|pupil| shown(pupil, "6", 3)));
        let table = table(pupils);
        assert_eq!(table.pupils, count::Count::Pupils(20));
        assert_eq!(table.years, ["5", "6"]);
        let row = &table.rows[0];
        assert_eq!(row.again, count::Count::Pupils(14));
        assert_eq!(row.once, count::Count::Pupils(6));
        // Year 6 has eight pupils only: the two could be found from the twelve.
        let (few, back) = (held_back::Reason::SmallGroup, held_back::Reason::ToProtect);
        assert_eq!(
            row.by_year,
            [count::Count::Hidden(back), count::Count::Hidden(few)]
        );
    }

    #[test]
    fn answers_of_several_homeworks_count_together() {
        let works: Vec<_> = ["2026-03-09", "2026-03-16"]
            .map(|set_on| attainment::Work {
                set_on: set_on.to_owned(),
                pupils: (0..12).map(|pupil| shown(pupil, "5", 1)).collect(),
                ..examples::work()
            })
            .to_vec();
        let table = attainment::summarise(&works).misconceptions;
        assert_eq!(table.rows[0].again, count::Count::Pupils(12));
        assert_eq!(table.rows[0].once, count::Count::Pupils(0));
    }

    #[test]
    fn a_pupil_counts_for_what_explains_most_of_their_answers() {
        let pupils = (0..12).map(|pupil| {
            let mut pupil = shown(pupil, "5", 3);
            for answer in pupil.answers.iter_mut().take(2) {
                answer.misconceptions.push("big-gear-faster".to_owned());
            }
            pupil
        });
        let table = table(pupils.collect());
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
        let table = table((0..3).map(|pupil| shown(pupil, "5", 2)).collect());
        let hidden = count::Count::Hidden(held_back::Reason::TooFew);
        assert_eq!(table.rows[0].again, hidden);
        assert_eq!(table.rows[0].once, hidden);
    }
}
