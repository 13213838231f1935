//! What was asked when: skills and curriculum statements, with how many questions.
//!
//! A question is counted once for each homework it was in and each year that did it,
//! where somebody handed in. No pupil is counted here, and what is asked is not what is
//! known.

use crate::attainment;
use crate::attainment::curriculum;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::group;
use crate::level;
use std::collections::BTreeMap;

/// What was asked, and what was not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Coverage {
    /// Each skill that was asked, in the order of the ladder.
    pub skills: Vec<SkillCovered>,
    /// Skills that no homework asked.
    pub not_asked: Vec<level::Skill>,
    /// Each curriculum with its statements, asked or not.
    pub curricula: Vec<CurriculumCovered>,
}

/// A skill with when it was asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SkillCovered {
    /// The skill.
    pub skill: level::Skill,
    /// When, in order.
    pub times: Vec<Time>,
}

/// A curriculum with what was asked on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CurriculumCovered {
    /// What it is called.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// Where its statements were read.
    pub source: String,
    /// Its statements, in the file's order.
    pub statements: Vec<StatementCovered>,
}

/// A statement with when questions on it were asked; never, where that is empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StatementCovered {
    /// The statement.
    pub statement: curriculum::Statement,
    /// When, in order.
    pub times: Vec<Time>,
}

/// So many questions of a year in a term, or on a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Time {
    /// The term where there is a calendar, else the date set.
    pub when: String,
    /// The year that was asked.
    pub year: String,
    /// How many questions: those of each homework together.
    pub questions: u32,
}

/// Returns what was asked when.
pub(super) fn of(fold: &fold::Fold, school: &attainment::School) -> Coverage {
    let asked = level::SKILLS.map(|skill| {
        let times = times(fold, school, |covered| covered.question.skill == skill);
        SkillCovered { skill, times }
    });
    let (skills, not_asked): (Vec<_>, Vec<_>) =
        asked.into_iter().partition(|skill| !skill.times.is_empty());
    Coverage {
        skills,
        not_asked: not_asked.into_iter().map(|none| none.skill).collect(),
        curricula: school
            .curricula
            .iter()
            .map(|curriculum| curriculum_covered(fold, school, curriculum))
            .collect(),
    }
}

fn curriculum_covered(
    fold: &fold::Fold,
    school: &attainment::School,
    curriculum: &curriculum::Curriculum,
) -> CurriculumCovered {
    let statements = curriculum.statements.iter().map(|statement| {
        let is_on = |covered: &kept::Covered| {
            let question = covered.question;
            let bank = fold.names.text(question.bank);
            let template = format!("{bank}: {}", fold.names.text(question.template));
            statement.is_on(question.skill, covered.level, &template)
        };
        StatementCovered {
            statement: statement.clone(),
            times: times(fold, school, is_on),
        }
    });
    CurriculumCovered {
        title: curriculum.title.clone(),
        edition: curriculum.edition.clone(),
        source: curriculum.source.clone(),
        statements: statements.collect(),
    }
}

/// When the questions that are wanted were asked.
fn times(
    fold: &fold::Fold,
    school: &attainment::School,
    is_wanted: impl Fn(&kept::Covered) -> bool,
) -> Vec<Time> {
    let mut times: BTreeMap<(group::Key, group::Key), u32> = BTreeMap::new();
    for (covered, homeworks) in &fold.coverage {
        if is_wanted(covered) {
            let when = school.when(fold.names.text(covered.set_on));
            let year = group::year(fold.names.text(covered.year));
            kept::more(&mut times, (when, year), *homeworks);
        }
    }
    times
        .into_iter()
        .map(|((when, year), questions)| Time {
            when: when.label,
            year: year.label,
            questions,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attainment::calendar;
    use crate::attainment::examples;

    const CALENDAR: &str = "[[term]]\nlabel = \"Spring 2\"\nyear = \"2025/26\"\n\
        first = \"2026-02-23\"\nlast = \"2026-03-27\"\n";

    fn fold() -> fold::Fold {
        let mut later = examples::class("5 Oak", "5", 6);
        later.code = "Later".to_owned();
        later.set_on = "2026-05-04".to_owned();
        let works = [examples::class("5 Oak", "5", 6), later];
        let mut fold = fold::Fold::default();
        for family in fold::Family::all(&works) {
            fold.add(&family).expect("each is added once");
        }
        fold
    }

    fn said(times: &[Time]) -> Vec<String> {
        times
            .iter()
            .map(|time| format!("{}, {}: {}", time.when, time.year, time.questions))
            .collect()
    }

    #[test]
    fn skills_are_covered_by_term_or_by_date() {
        let coverage = of(&fold(), &attainment::School::default());
        assert_eq!(coverage.skills[1].skill, level::Skill::Ratio);
        assert_eq!(
            said(&coverage.skills[1].times),
            ["2026-03-09, 5: 1", "2026-05-04, 5: 1"]
        );
        assert_eq!(coverage.not_asked.len(), level::SKILLS.len() - 2);
        let school = attainment::School {
            calendar: calendar::read(CALENDAR, "c.toml").ok(),
            ..attainment::School::default()
        };
        assert_eq!(
            said(&of(&fold(), &school).skills[0].times),
            [
                "2025/26 Spring 2, 5: 1",
                "outside the calendar's terms, 5: 1"
            ]
        );
    }

    #[test]
    fn statements_that_nobody_was_asked_on_stand_there_too() {
        let school = attainment::School {
            curricula: vec![curriculum::england()],
            ..attainment::School::default()
        };
        let coverage = of(&fold(), &school);
        let statements = &coverage.curricula[0].statements;
        let asked = |id: &str| {
            let found = statements.iter().find(|it| it.statement.id == id);
            found.expect("it is in the file").times.len()
        };
        assert_eq!(asked("maths-y6-missing-values"), 2);
        assert_eq!(asked("science-y5-smaller-force"), 0);
    }
}
