//! What is wanted on a pupil's own sheet, and what came of it.

use crate::homework;
use crate::homework::met;
use crate::level;

/// What a question is wanted for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Aim {
    /// To show whether a way of thinking is still there: whoever thinks so gets it
    /// wrong. Several ids where it is open which of them it is; the question is then
    /// one that all of them get wrong.
    Shows(Vec<&'static str>),
    /// To come back to a question that was missed, with other numbers; else to its
    /// skill.
    Again {
        /// The bank's id.
        bank: String,
        /// The template's id.
        template: String,
        /// Its skill.
        skill: level::Skill,
    },
    /// To practise a skill.
    Skill(level::Skill),
}

/// One question wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wish {
    /// What it is for.
    pub aim: Aim,
    /// The level it should have. One near it will do, but practice is never above it
    /// while there is enough at it or below.
    pub level: level::Level,
}

/// What one pupil's sheet should be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wished {
    /// The pupil's id.
    pub pupil_id: String,
    /// The levels that it may have.
    pub levels: level::Span,
    /// The level of what is not wished for, one of `levels`.
    pub level: level::Level,
    /// What is wanted, the most wanted first; there may be more than fit.
    pub wishes: Vec<Wish>,
    /// What the pupil has met before.
    pub met: met::Met,
}

/// A question on a pupil's sheet and the wish that it meets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Granted {
    /// An index into [`Wished::wishes`]; nothing for what fills up the sheet.
    pub wish: Option<usize>,
    /// The question's number, without a part's letter, such as `Q3`.
    pub question: String,
    /// Its skill.
    pub skill: level::Skill,
    /// Its level.
    pub level: level::Level,
}

/// A homework made from wishes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fulfilled {
    /// The homework.
    pub homework: homework::Homework,
    /// For each pupil of the homework, in its order, every question of the sheet.
    pub granted: Vec<Vec<Granted>>,
    /// What the teacher should know.
    pub notices: Vec<homework::Notice>,
}
