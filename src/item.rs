//! One question with its numbers: text, mechanism, what is asked.
//!
//! Takes a template and a level; gives a [`pool::Pool`] of versions that obey
//! the level and tell misconceptions apart, and from one of them the [`Item`]s
//! of a question. Which template, which version and for whom is decided above.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::level;

pub mod apart;
pub mod fresh;
pub mod measure;
mod obey;
pub mod pool;
pub mod question;
pub mod refusal;
pub mod rounding;
pub mod trial;

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
    /// The numbers of the earlier parts that it follows from, such as `Q3a`.
    pub follows: Vec<String>,
}

/// Returns what the numbers of questions are sorted by: `Q3b` comes after `Q3a`, and
/// `Q10` after `Q9`.
#[must_use]
pub fn order(number: &str) -> (u32, &str) {
    let bare = number.strip_prefix('Q').unwrap_or(number);
    let letter = bare.trim_start_matches(|sign: char| sign.is_ascii_digit());
    let digits = bare.strip_suffix(letter).unwrap_or(bare);
    (digits.parse().unwrap_or(u32::MAX), letter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_questions_are_sorted_as_they_stand_on_the_page() {
        let mut numbers = ["Q10", "Q2b", "Q2", "Q1", "extra", "Q2a"];
        numbers.sort_by_key(|number| order(number));
        assert_eq!(numbers, ["Q1", "Q2", "Q2a", "Q2b", "Q10", "extra"]);
    }
}
