//! Skills and levels, and what each level allows.

use crate::number;

/// A skill that a question exercises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Skill {
    /// Naming parts and kinds of gear (`naming`).
    Naming,
    /// Direction (`direction`).
    Direction,
    /// Faster or slower (`faster-slower`).
    FasterSlower,
    /// Turns (`turns`).
    Turns,
    /// Ratio (`ratio`).
    Ratio,
    /// Speed (`speed`).
    Speed,
    /// Turning force (`turning-force`).
    TurningForce,
    /// Distance: rack, winch (`distance`).
    Distance,
    /// Gearboxes (`gearboxes`).
    Gearboxes,
    /// Choosing gears (`choosing`).
    Choosing,
    /// Will it work (`will-it-work`).
    WillItWork,
}

/// A level from 1 to 8.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Level(u8);

/// How awkward a ratio or answer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Awkwardness {
    /// No calculation.
    None,
    /// A whole number.
    Whole,
    /// Halves.
    Half,
    /// A simple fraction or one decimal.
    Simple,
    /// Anything else.
    Awkward,
}

/// What a level allows; the generator and `bank check` enforce it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rule {
    /// Fewest and most teeth of a gear.
    pub teeth: (u32, u32),
    /// Most steps (joints on the way) in a question.
    pub most_steps: u32,
    /// The largest answer to a number question.
    pub largest_answer: number::Number,
    /// The most awkward answer allowed.
    pub awkwardness: Awkwardness,
    /// Most words in a sentence.
    pub words_a_sentence: u32,
    /// Most words in a question with its story.
    pub words_in_all: u32,
}

impl Level {
    /// Returns the level of this number, or nothing where it is not 1 to 8.
    #[must_use]
    pub fn new(number: u8) -> Option<Self> {
        (1..=8).contains(&number).then_some(Self(number))
    }

    /// Returns its number.
    #[must_use]
    pub fn number(self) -> u8 {
        self.0
    }
}
