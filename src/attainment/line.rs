//! Answers that count, one line each, for whoever counts them elsewhere.
//!
//! A line says of an answer what a [`Summary`](attainment::Summary) is counted from, in
//! the words of its tables, so that the same rows can be found again. It holds no name
//! and no id, but it is about one pupil: lines are for the school's or trust's own
//! people only.

use crate::attainment;
use crate::attainment::fold;
use crate::attainment::group;
use crate::date;
use crate::marking;
use std::collections::BTreeMap;

/// One answer that counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line<'a> {
    /// The homework's code.
    pub homework: &'a str,
    /// The homework's title.
    pub title: &'a str,
    /// The day it was set, as the record has it.
    pub set_on: &'a str,
    /// The same as a day, where it is one.
    pub day: Option<date::Date>,
    /// The last day on which it may be kept, where that is known.
    pub kept_until: Option<date::Date>,
    /// The academic year: see [`attainment::School::academic_year`].
    pub academic_year: &'a str,
    /// When it was asked, as the coverage tells it.
    pub asked_when: &'a str,
    /// The term, where the calendar has one for the day.
    pub term: Option<&'a str>,
    /// The calendar's own name of the academic year, where it has a term for the day.
    pub school_year: Option<&'a str>,
    /// The pupil's number in this run of the program. Another run gives other numbers.
    pub pupil: u32,
    /// The class at the time.
    pub class: &'a str,
    /// The year at the time.
    pub year: &'a str,
    /// The group labels, by the roll's headings.
    pub groups: &'a BTreeMap<String, String>,
    /// The question's number on the sheet.
    pub question: &'a str,
    /// The bank's id.
    pub bank: &'a str,
    /// The template's id.
    pub template: &'a str,
    /// The part's letter; empty where the question has one part.
    pub part: &'a str,
    /// The skill, as people read it.
    pub skill: &'static str,
    /// The level.
    pub level: u8,
    /// Marks earned.
    pub marks: u8,
    /// Marks to be had.
    pub out_of: u8,
    /// What became of it.
    pub state: marking::State,
    /// Ids of the misconceptions whose answer it is.
    pub misconceptions: &'a [String],
    /// Whether a person still has to look.
    pub needs_check: bool,
}

impl fold::Fold {
    /// Hands over a line for every answer that counts of a family that was added.
    ///
    /// # Errors
    ///
    /// The first that `take` gives.
    pub fn lines<E>(
        &self,
        family: &fold::Family<'_>,
        school: &attainment::School,
        mut take: impl FnMut(&Line<'_>) -> Result<(), E>,
    ) -> Result<(), E> {
        let set_on = &family.homework.set_on;
        let academic_year = school.academic_year(set_on);
        let asked_when = school.when(set_on).label;
        let term = school.calendar.as_ref().and_then(|it| it.term(set_on));
        let school_year = term.map(|term| term.year.as_str());
        let term = term.map(|term| term.label.as_str());
        let day = set_on.parse().ok();
        let kept_until = family.kept_until();
        for pupil in attainment::newest::newest(&family.works).pupils {
            // Whoever was not added stands in no line.
            let Some(number) = self.pupils.known(pupil.who) else {
                continue;
            };
            let class = group::class(&fold::class(pupil)).label;
            let year = group::year(&pupil.year).label;
            for answer in &pupil.answers {
                let part = fold::part(&answer.question);
                take(&Line {
                    homework: &family.homework.code,
                    title: &family.homework.title,
                    set_on,
                    day,
                    kept_until,
                    academic_year: &academic_year,
                    asked_when: &asked_when,
                    term,
                    school_year,
                    pupil: number,
                    class: &class,
                    year: &year,
                    groups: &pupil.groups,
                    question: &answer.question,
                    bank: &answer.bank,
                    template: &answer.template,
                    part: &part,
                    skill: answer.skill.title(),
                    level: answer.level.number(),
                    marks: answer.marks,
                    out_of: answer.out_of,
                    state: answer.state,
                    misconceptions: &answer.misconceptions,
                    needs_check: answer.needs_check,
                })?;
            }
        }
        Ok(())
    }
}
