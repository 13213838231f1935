//! What each pupil's answers are consistent with: the lines that the table of
//! misconceptions counts.
//!
//! Which ways of thinking explain a pupil's answers is a search over all of them
//! ([`crate::marking::findings`]), which a query over single answers cannot say; so
//! whoever counts elsewhere is given what was found.

use crate::attainment::fold;
use crate::attainment::group;
use crate::attainment::misconceptions;
use std::collections::BTreeSet;

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
        let texts = misconceptions::texts(self);
        for (pupil, answers) in self.shown.by_pupil(&texts) {
            let years = answers.chunk_by(|one, other| one.0 == other.0);
            let years: Vec<_> = years
                .filter_map(|in_year| Some((in_year.first()?.0, in_year)))
                .map(|(year, in_year)| (group::year(self.names.text(year)).label, in_year))
                .collect();
            let whole = (None, answers.as_slice());
            let years = years
                .iter()
                .map(|(year, in_year)| (Some(year.as_str()), *in_year));
            for (year, answers) in std::iter::once(whole).chain(years) {
                let again: BTreeSet<&str> =
                    misconceptions::again(answers.iter().map(|(_, alike)| *alike));
                for (misconception, times) in misconceptions::times(answers) {
                    take(&Finding {
                        pupil,
                        year,
                        misconception,
                        answers: times,
                        again: again.contains(misconception),
                    })?;
                }
            }
        }
        Ok(())
    }
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
        let table = fold
            .summary(&attainment::School::default())
            .misconceptions;
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
