//! Skills and levels, and what each level allows.
//!
//! The ladder is a proposal of ours, not a standard: it follows the order in
//! which children are reported to learn about gears (direction before speed,
//! whole numbers before awkward ones, one step before several) and the years in
//! which the arithmetic is taught in England. No published difficulties of gear
//! questions at these ages were found; a school's own results should correct it.

use std::fmt;
use std::str::FromStr;

pub mod feature;
pub mod rule;

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

/// Every skill, in the order of the ladder.
pub const SKILLS: [Skill; 11] = [
    Skill::Naming,
    Skill::Direction,
    Skill::FasterSlower,
    Skill::Turns,
    Skill::Ratio,
    Skill::Speed,
    Skill::TurningForce,
    Skill::Distance,
    Skill::Gearboxes,
    Skill::Choosing,
    Skill::WillItWork,
];

impl Skill {
    /// Its word in files and on the command line, such as `faster-slower`.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Naming => "naming",
            Self::Direction => "direction",
            Self::FasterSlower => "faster-slower",
            Self::Turns => "turns",
            Self::Ratio => "ratio",
            Self::Speed => "speed",
            Self::TurningForce => "turning-force",
            Self::Distance => "distance",
            Self::Gearboxes => "gearboxes",
            Self::Choosing => "choosing",
            Self::WillItWork => "will-it-work",
        }
    }

    /// Its heading for people, such as `Faster or slower`.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Naming => "Naming parts",
            Self::Direction => "Direction",
            Self::FasterSlower => "Faster or slower",
            Self::Turns => "Turns",
            Self::Ratio => "Ratio",
            Self::Speed => "Speed",
            Self::TurningForce => "Turning force",
            Self::Distance => "Distance",
            Self::Gearboxes => "Gearboxes",
            Self::Choosing => "Choosing gears",
            Self::WillItWork => "Will it work",
        }
    }
}

impl fmt::Display for Skill {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.text())
    }
}

/// Text that names no skill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownSkill {
    /// What was found.
    pub found: String,
}

impl fmt::Display for UnknownSkill {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words: Vec<&str> = SKILLS.iter().map(|skill| skill.text()).collect();
        write!(
            formatter,
            "found \"{}\", wanted one of {}",
            self.found,
            words.join(", ")
        )
    }
}

impl std::error::Error for UnknownSkill {}

impl FromStr for Skill {
    type Err = UnknownSkill;

    /// Reads the word of [`Skill::text`], capital or small.
    fn from_str(text: &str) -> Result<Self, UnknownSkill> {
        SKILLS
            .into_iter()
            .find(|skill| skill.text().eq_ignore_ascii_case(text.trim()))
            .ok_or_else(|| UnknownSkill {
                found: text.to_owned(),
            })
    }
}

/// A level from 1 to 8.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Level(u8);

impl Level {
    /// The lowest level.
    pub const LOWEST: Self = Self(1);
    /// The highest level.
    pub const HIGHEST: Self = Self(8);

    /// Returns the level of this number, if it is from 1 to 8.
    #[must_use]
    pub fn new(number: u8) -> Option<Self> {
        let level = Self(number);
        (Self::LOWEST..=Self::HIGHEST)
            .contains(&level)
            .then_some(level)
    }

    /// Its number, from 1 to 8.
    #[must_use]
    pub fn number(self) -> u8 {
        self.0
    }

    /// What it allows.
    #[must_use]
    pub fn rule(self) -> &'static rule::Rule {
        rule::of(self)
    }

    /// Every level, from the lowest.
    pub fn all() -> impl Iterator<Item = Self> {
        Span::ALL.levels()
    }
}

impl fmt::Display for Level {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}", self.0)
    }
}

/// Text that is no level and no span of levels.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownLevel {
    /// What was found.
    pub found: String,
}

impl fmt::Display for UnknownLevel {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            formatter,
            "found \"{}\", wanted a level from 1 to 8, or a span such as 3-5",
            self.found
        )
    }
}

impl std::error::Error for UnknownLevel {}

impl FromStr for Level {
    type Err = UnknownLevel;

    /// Reads `3`.
    fn from_str(text: &str) -> Result<Self, UnknownLevel> {
        text.trim()
            .parse()
            .ok()
            .and_then(Self::new)
            .ok_or_else(|| UnknownLevel {
                found: text.to_owned(),
            })
    }
}

/// One level, or several on end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// The lowest of them.
    pub low: Level,
    /// The highest of them, not below `low`.
    pub high: Level,
}

impl Span {
    /// All eight levels.
    pub const ALL: Self = Self {
        low: Level::LOWEST,
        high: Level::HIGHEST,
    };

    /// Its levels, from the lowest.
    pub fn levels(self) -> impl Iterator<Item = Level> {
        (self.low.0..=self.high.0).map(Level)
    }

    /// The level in the middle, the lower of two.
    #[must_use]
    pub fn middle(self) -> Level {
        Level(self.low.0.midpoint(self.high.0))
    }

    /// The level of this span that is nearest to one.
    #[must_use]
    pub fn nearest(self, level: Level) -> Level {
        level.clamp(self.low, self.high)
    }

    /// Whether the level is one of them.
    #[must_use]
    pub fn contains(self, level: Level) -> bool {
        (self.low..=self.high).contains(&level)
    }
}

impl From<Level> for Span {
    fn from(level: Level) -> Self {
        Self {
            low: level,
            high: level,
        }
    }
}

impl fmt::Display for Span {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.low == self.high {
            write!(formatter, "{}", self.low)
        } else {
            write!(formatter, "{}-{}", self.low, self.high)
        }
    }
}

impl FromStr for Span {
    type Err = UnknownLevel;

    /// Reads `3` or `3-5`.
    fn from_str(text: &str) -> Result<Self, UnknownLevel> {
        let wrong = || UnknownLevel {
            found: text.to_owned(),
        };
        let (low, high) = text.split_once(['-', '–']).unwrap_or((text, text));
        let low: Level = low.parse().map_err(|_| wrong())?;
        let high: Level = high.parse().map_err(|_| wrong())?;
        if low <= high {
            Ok(Self { low, high })
        } else {
            Err(wrong())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_skill_is_read_back_from_its_word() {
        for skill in SKILLS {
            assert_eq!(skill.text().parse(), Ok(skill));
        }
        assert_eq!("Faster-Slower".parse(), Ok(Skill::FasterSlower));
        assert!("cooking".parse::<Skill>().is_err());
    }

    #[test]
    fn levels_and_spans_are_read() {
        let span = |text: &str| text.parse::<Span>().map(|span| span.to_string());
        for (text, read) in [("3", "3"), ("3-5", "3-5"), ("1 - 8", "1-8"), ("4-4", "4")] {
            assert_eq!(span(text).expect(text), read);
        }
        for text in ["", "0", "9", "5-3", "3-", "-3", "3-9", "three", "1-2-3"] {
            assert!(span(text).is_err(), "{text}");
        }
        assert_eq!(Level::all().count(), 8);
        for (text, middle) in [("3", 3), ("3-5", 4), ("3-4", 3), ("1-8", 4)] {
            let span: Span = text.parse().expect("a span");
            assert_eq!(span.middle().number(), middle, "{text}");
        }
        assert_eq!(Level::new(9), None);
        assert_eq!(Level::new(0), None);
    }
}
