//! A fold told as a summary: what may be told, in the order of the tables.

use crate::attainment;
use crate::attainment::care;
use crate::attainment::count;
use crate::attainment::coverage;
use crate::attainment::figures;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::group;
use crate::attainment::overview;
use crate::attainment::told;
use crate::date;

impl attainment::Summary {
    /// Returns the last day on which anything that it was made from may be kept, where that
    /// is known.
    #[must_use]
    pub fn kept_until(&self) -> Option<date::Date> {
        self.homeworks.iter().filter_map(|it| it.kept_until).max()
    }
}

impl fold::Fold {
    /// Returns what may be told of everything that was added, in the words of a school.
    #[must_use]
    pub fn summary(&self, school: &attainment::School) -> attainment::Summary {
        let scales = self.scales();
        let told = told::of(self, school, &scales);
        let mut summary = attainment::Summary {
            homeworks: self.homework_lines(&told.homeworks),
            whole: told.whole,
            years: told.years,
            classes: told.classes,
            groups: told.groups,
            skills: told.skills,
            levels: told.levels,
            questions: told.questions,
            school_years: told.school_years,
            terms: told.terms,
            skills_by_year: told.skills_by_year,
            skills_by_class: told.skills_by_class,
            classes_left_out: told.classes_left_out,
            bands: told.bands,
            coverage: coverage::of(self, school),
            misconceptions: told.misconceptions,
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

    /// One line for each homework.
    fn homework_lines(&self, pupils: &[count::Count]) -> Vec<attainment::HomeworkLine> {
        let homeworks = self.homeworks.iter().zip(pupils);
        homeworks
            .map(|((homework, told), pupils)| attainment::HomeworkLine {
                code: homework.code.clone(),
                title: homework.title.clone(),
                set_on: homework.set_on.clone(),
                marked_on: told.marked_on.clone(),
                kept_until: told.kept_until,
                pupils: *pupils,
                questions: told.questions,
            })
            .collect()
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
