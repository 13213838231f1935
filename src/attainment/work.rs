//! A marked homework without the pupils' names.

use crate::attainment;
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
            answers: marked
                .pupils
                .iter()
                .flat_map(|pupil| pupil.marks.iter().map(|mark| answer(pupil, mark)))
                .collect(),
        }
    }
}

fn answer(pupil: &marking::MarkedPupil, mark: &marking::Mark) -> attainment::Answer {
    attainment::Answer {
        pupil_id: pupil.pupil.id.clone(),
        class: pupil.pupil.class.clone(),
        year: pupil.pupil.year.clone(),
        groups: pupil.pupil.groups.clone(),
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
