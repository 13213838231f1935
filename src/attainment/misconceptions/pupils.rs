//! What each pupil's answers are consistent with: the lines that the table of
//! misconceptions counts.
//!
//! Which ways of thinking explain a pupil's answers is a search over all of them
//! ([`crate::marking::findings`]), which a query over single answers cannot say; so
//! whoever counts elsewhere is given what was found.

use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::group;
use crate::attainment::misconceptions;
use crate::attainment::names;
use std::collections::BTreeMap;

/// One misconception that some answers of a pupil are consistent with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Finding<'a> {
    /// The pupil's number, as in [`crate::attainment::line::Line`].
    pub pupil: u32,
    /// The year at the time of the answers; nothing for all years together.
    pub year: Option<&'a str>,
    /// The misconception's id.
    pub misconception: &'a str,
    /// How many answers are consistent with it.
    pub answers: u32,
    /// Whether the pupil counts for it: two answers or more, and no other explains more
    /// of them.
    pub again: bool,
}

impl fold::Fold {
    /// Hands over what each pupil's answers are consistent with, in all years together
    /// and year by year.
    ///
    /// # Errors
    ///
    /// The first that `take` gives.
    pub fn findings<E>(
        &self,
        mut take: impl FnMut(&Finding<'_>) -> Result<(), E>,
    ) -> Result<(), E> {
        let answers: Vec<(&misconceptions::Answers, &u32)> = self.shown.0.iter().collect();
        let mut texts = BTreeMap::new();
        for (one, _) in &answers {
            texts.entry(one.ids).or_insert_with(|| ids(self, one.ids));
        }
        // The answers of one pupil stand side by side, and in these those of one year.
        for of_pupil in answers.chunk_by(|one, other| one.0.pupil == other.0.pupil) {
            take_alike(None, of_pupil, &texts, &mut take)?;
            for in_year in of_pupil.chunk_by(|one, other| one.0.year == other.0.year) {
                let year = in_year.first().map(|(one, _)| self.names.text(one.year));
                let year = year.map(|year| group::year(year).label);
                take_alike(year.as_deref(), in_year, &texts, &mut take)?;
            }
        }
        Ok(())
    }
}

/// The ids that a name joins.
fn ids(fold: &fold::Fold, joined: names::Name) -> Vec<String> {
    let ids = fold.names.text(joined).split(misconceptions::BETWEEN);
    ids.map(str::to_owned).collect()
}

/// Hands over the findings in some answers of one pupil.
fn take_alike<E>(
    year: Option<&str>,
    answers: &[(&misconceptions::Answers, &u32)],
    texts: &BTreeMap<names::Name, Vec<String>>,
    take: &mut impl FnMut(&Finding<'_>) -> Result<(), E>,
) -> Result<(), E> {
    let alike = answers
        .iter()
        .filter_map(|(one, times)| Some((one, texts.get(&one.ids)?.as_slice(), **times)));
    let again = misconceptions::again(alike.clone().map(|(_, ids, times)| (ids, times)));
    let mut counted: BTreeMap<(u32, &str), u32> = BTreeMap::new();
    for (one, ids, times) in alike {
        for id in ids {
            kept::more(&mut counted, (one.pupil, id.as_str()), times);
        }
    }
    for ((pupil, misconception), answers) in counted {
        take(&Finding {
            pupil,
            year,
            misconception,
            answers,
            again: again.contains(misconception),
        })?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attainment;
    use crate::attainment::count;
    use crate::attainment::examples;
    use std::convert::Infallible;

    #[test]
    fn the_findings_add_up_to_the_table() {
        let works = [
            examples::class("5 Oak", "5", 14),
            examples::class("6 Elm", "6", 20),
        ];
        let mut fold = fold::Fold::default();
        for family in fold::Family::all(&works) {
            fold.add(&family).expect("each is added once");
        }
        let mut found: Vec<(Option<String>, u32, bool)> = Vec::new();
        let taken = fold.findings(|finding| {
            let year = finding.year.map(str::to_owned);
            found.push((year, finding.answers, finding.again));
            Ok::<(), Infallible>(())
        });
        assert_eq!(taken, Ok(()));
        let table = fold.summary(&attainment::School::default()).misconceptions;
        let count = |year: Option<&str>| {
            let counted = found
                .iter()
                .filter(|it| it.0.as_deref() == year && it.2)
                .count();
            count::Count::Pupils(u32::try_from(counted).expect("few"))
        };
        assert_eq!(table.rows[0].again, count(None));
        assert_eq!(table.rows[0].by_year, [count(Some("5")), count(Some("6"))]);
        assert!(found.iter().all(|it| it.1 == 2), "two answers each");
    }
}
