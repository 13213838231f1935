//! One question with its numbers: text, mechanism, what is asked.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::level;

/// One question, or one part of one, with its numbers drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// `Q1`, or `Q3a` where the question has parts.
    pub number: String,
    /// The bank's id.
    pub bank: String,
    /// The template's id.
    pub template: String,
    /// The skill.
    pub skill: level::Skill,
    /// The level it was drawn at.
    pub level: level::Level,
    /// The story, the same for every part of a question.
    pub story: String,
    /// The question, one sentence.
    pub question: String,
    /// The mechanism.
    pub mechanism: mechanism::Mechanism,
    /// What is asked of it.
    pub ask: ask::Ask,
    /// What the answer should look like.
    pub form: answer::Form,
    /// Marks.
    pub marks: u8,
    /// Whether working earns marks, so that it has a working column.
    pub working: bool,
    /// The number of the earlier part that it follows from, such as `Q3a`.
    pub follows: Option<String>,
}
