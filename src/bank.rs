//! Question banks: the file's shape, and the checked bank.

use crate::gears::ask;
use crate::level;
use crate::number;

/// A checked bank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bank {
    /// Its id, such as `gears-7-11`.
    pub id: String,
    /// Its title for people.
    pub title: String,
    /// Its edition, such as `2026-1`.
    pub edition: String,
    /// SHA-256 of the file's text, in hexadecimal.
    pub fingerprint: String,
    /// Its templates, in the file's order.
    pub templates: Vec<Template>,
}

/// A question with ranges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Template {
    /// Its id, unique in the bank.
    pub id: String,
    /// The skill it exercises.
    pub skill: level::Skill,
    /// The levels it can be set at.
    pub levels: Vec<level::Level>,
    /// Settings to choose among, each with the words for its placeholders.
    pub stories: Vec<String>,
    /// Lines of the mechanism, with placeholders in braces.
    pub mechanism: Vec<String>,
    /// The numbers that fill placeholders.
    pub numbers: Vec<NumberRange>,
    /// One part or more.
    pub parts: Vec<PartTemplate>,
}

/// The values a placeholder may take.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NumberRange {
    /// The placeholder's name.
    pub name: String,
    /// Every value, in order.
    pub values: Vec<number::Number>,
}

/// One part of a question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartTemplate {
    /// Its letter where there is more than one part, such as `a`.
    pub letter: Option<char>,
    /// The wording, with placeholders.
    pub question: String,
    /// Further lines of the mechanism for this part.
    pub mechanism: Vec<String>,
    /// The line of what is asked, with placeholders.
    pub ask: String,
    /// The printed unit where it is a number.
    pub unit: Option<crate::answer::Unit>,
    /// How exactly a number is wanted.
    pub precision: number::Precision,
    /// Whether a ratio is wanted in its simplest form.
    pub simplest: bool,
    /// Marks, 1 to 5.
    pub marks: u8,
    /// Whether working earns marks.
    pub working: bool,
    /// The letter of the earlier part that this one follows from.
    pub follows: Option<char>,
}

/// What is asked, kept for its type.
pub type Ask = ask::Ask;
