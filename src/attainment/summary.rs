//! A fold told as a summary: what may be told, in the order of the tables.

use crate::attainment;
use crate::attainment::bands;
use crate::attainment::care;
use crate::attainment::count;
use crate::attainment::counted;
use crate::attainment::coverage;
use crate::attainment::figures;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::group;
use crate::attainment::misconceptions;
use crate::attainment::names;
use crate::attainment::overview;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

impl fold::Fold {
    /// Returns what may be told of everything that was added, in the words of a school.
    #[must_use]
    pub fn summary(&self, school: &attainment::School) -> attainment::Summary {
        let mut whole = counted::Counted::default();
        for counted in self.cells.values() {
            whole.join(counted);
        }
        let whole = whole.tally();
        let scales = self.scales();
        let mut summary = attainment::Summary {
            homeworks: self.homework_lines(),
            misconceptions: misconceptions::table(self, whole.pupils),
            whole: all(whole),
            years: rows(self.cells_by(|cell| group::year(self.names.text(cell.year)))),
            classes: rows(self.cells_by(|cell| group::class(self.names.text(cell.class)))),
            groups: self.label_rows(),
            skills: rows(self.cells_by(|cell| group::skill(cell.skill))),
            levels: rows_of(&self.levels, |level| group::level(*level)),
            questions: self.question_rows(),
            school_years: self.by_time(school, attainment::School::school_year),
            terms: self.by_time(school, attainment::School::when),
            bands: school
                .bands
                .as_ref()
                .map(|it| bands::table(self, it, &scales)),
            coverage: coverage::of(self, school),
            overview: Vec::new(),
            figures: figures::Figures::default(),
        };
        summary.figures = figures::of(&figures::Basis {
            fold: self,
            school,
            summary: &summary,
            scales: &scales,
        });
        summary.overview = overview::remarks(&summary, &care::of(self, school));
        summary
    }

    /// A row for each time of the school's calendar; none without a calendar.
    fn by_time(
        &self,
        school: &attainment::School,
        time: impl Fn(&attainment::School, &str) -> group::Key,
    ) -> Vec<attainment::Row> {
        if school.calendar.is_none() {
            return Vec::new();
        }
        rows(self.cells_by(|cell| time(school, self.names.text(cell.set_on))))
    }

    /// One line for each homework.
    fn homework_lines(&self) -> Vec<attainment::HomeworkLine> {
        let pupils: Vec<u32> = self.homeworks.values().map(|told| told.pupils).collect();
        self.homeworks
            .iter()
            .zip(count::counts(&pupils))
            .map(|((homework, told), pupils)| attainment::HomeworkLine {
                code: homework.code.clone(),
                title: homework.title.clone(),
                set_on: homework.set_on.clone(),
                marked_on: told.marked_on.clone(),
                pupils,
                questions: told.questions,
            })
            .collect()
    }

    /// A row for each group label, heading by heading: the groups of one heading are
    /// one table, those of another stand beside it.
    fn label_rows(&self) -> Vec<attainment::Row> {
        let headings: BTreeSet<(&str, names::Name)> = self
            .labels
            .keys()
            .map(|label| (self.names.text(label.heading), label.heading))
            .collect();
        headings
            .into_iter()
            .flat_map(|(text, heading)| {
                let mut groups: BTreeMap<group::Key, counted::Counted> = BTreeMap::new();
                for (label, counted) in &self.labels {
                    let name = self.names.text(label.label);
                    if label.heading == heading && !name.is_empty() {
                        groups.insert(group::label(text, name), counted.clone());
                    }
                }
                for (headings, counted) in &self.labelled {
                    if !headings.contains(&heading) {
                        let none = groups.entry(group::label(text, "")).or_default();
                        none.join(counted);
                    }
                }
                rows(groups)
            })
            .collect()
    }

    fn question_rows(&self) -> Vec<attainment::Row> {
        let groups = self
            .questions
            .iter()
            .map(|(question, asked)| {
                let about: Vec<String> = asked
                    .levels
                    .iter()
                    .map(|level| format!("{}, level {level}", question.skill.title()))
                    .collect();
                let group = group::Group {
                    about: about.join("; "),
                    tally: asked.counted.tally(),
                };
                (self.question_key(*question), group)
            })
            .collect();
        group::rows(groups)
    }

    /// What a question is called.
    pub(super) fn question_key(&self, question: kept::Question) -> group::Key {
        group::question(
            question.skill,
            self.names.text(question.bank),
            self.names.text(question.template),
            self.names.text(question.part),
        )
    }
}

/// The row of everything together.
fn all(tally: attainment::tally::Tally) -> attainment::Row {
    let shown = count::shown(vec![tally]);
    attainment::Row {
        label: "All".to_owned(),
        about: String::new(),
        shown: shown.into_iter().next().expect("one tally gives one entry"),
    }
}

/// The rows of one table.
pub(super) fn rows(groups: BTreeMap<group::Key, counted::Counted>) -> Vec<attainment::Row> {
    let groups = groups.into_iter().map(|(key, counted)| {
        let group = group::Group {
            about: String::new(),
            tally: counted.tally(),
        };
        (key, group)
    });
    group::rows(groups.collect())
}

fn rows_of<K>(
    groups: &BTreeMap<K, counted::Counted>,
    key: impl Fn(&K) -> group::Key,
) -> Vec<attainment::Row> {
    let groups = groups.iter();
    rows(
        groups
            .map(|(name, counted)| (key(name), counted.clone()))
            .collect(),
    )
}
