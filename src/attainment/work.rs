//! A marked homework without the pupils' names.

use crate::attainment;
use crate::attainment::who;
use crate::marking;

impl attainment::Work {
    /// Returns what is counted of a marked homework; names stay behind.
    #[must_use]
    pub fn of(marked: &marking::Marked) -> Self {
        Self {
            code: marked.code.clone(),
            title: marked.title.clone(),
            set_on: marked.set_on.clone(),
            marked_on: marked.marked_on.clone(),
            kept_until: marked.kept_until(),
            pupils: marked.pupils.iter().map(pupil).collect(),
        }
    }
}

fn pupil(entry: &marking::MarkedPupil) -> attainment::Pupil {
    let pupil = &entry.pupil;
    attainment::Pupil {
        who: who::Who::of(pupil),
        class: pupil.class.clone(),
        year: pupil.year.clone(),
        groups: pupil.groups.clone(),
        answers: entry.marks.iter().map(answer).collect(),
    }
}

fn answer(mark: &marking::Mark) -> attainment::Answer {
    attainment::Answer {
        question: mark.question.clone(),
        bank: mark.bank.clone(),
        template: mark.template.clone(),
        skill: mark.skill,
        level: mark.level,
        marks: mark.marks,
        out_of: mark.out_of,
        state: mark.state,
        misconceptions: mark.misconceptions.clone(),
        needs_check: !mark.check.is_empty() && mark.decided.is_none(),
    }
}
