//! The numbers of each level: teeth, steps, answers, reading load.

use crate::level;
use crate::number;

/// How awkward a number is to work with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Awkwardness {
    /// A whole number.
    Whole,
    /// A half.
    Half,
    /// A quarter.
    Quarter,
    /// One decimal place, or a fraction with a denominator up to 10.
    Simple,
    /// Anything else.
    Awkward,
}

impl Awkwardness {
    /// Returns how awkward this number is.
    #[must_use]
    pub fn of(number: number::Number) -> Self {
        match number.denominator() {
            1 => Self::Whole,
            2 => Self::Half,
            4 => Self::Quarter,
            3 | 5..=10 => Self::Simple,
            _ => Self::Awkward,
        }
    }

    /// What it is called in a message.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Whole => "whole numbers",
            Self::Half => "whole numbers and halves",
            Self::Quarter => "whole numbers, halves and quarters",
            Self::Simple => "fractions with a denominator up to 10, or one decimal place",
            Self::Awkward => "any number",
        }
    }
}

/// Which ratios a level allows between what is given and what is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ratios {
    /// Only more, by one of these.
    MoreBy(&'static [u32]),
    /// More or less, by a whole number up to this.
    WholeUpTo(u32),
    /// More or less, with neither number of the ratio above this.
    TermsUpTo(u32),
    /// Any.
    Any,
}

impl Ratios {
    /// Whether `answer : given` is a ratio that is allowed.
    #[must_use]
    pub fn allow(self, ratio: number::Number) -> bool {
        let (more, less) = (ratio.numerator(), ratio.denominator());
        match self {
            Self::MoreBy(list) => less == 1 && list.iter().any(|&by| u128::from(by) == more),
            Self::WholeUpTo(most) => more.min(less) == 1 && more.max(less) <= u128::from(most),
            Self::TermsUpTo(most) => more.max(less) <= u128::from(most),
            Self::Any => true,
        }
    }

    /// What is allowed, for a message.
    #[must_use]
    pub fn text(self) -> String {
        match self {
            Self::MoreBy(list) => {
                let list: Vec<String> = list.iter().map(ToString::to_string).collect();
                format!("more turns by a factor of {}", list.join(", "))
            }
            Self::WholeUpTo(most) => format!("a whole ratio up to {most}, either way"),
            Self::TermsUpTo(most) => format!("a ratio with numbers up to {most}, either way"),
            Self::Any => "any ratio".to_owned(),
        }
    }
}

/// What a level allows; the generator and `bank check` enforce it.
///
/// Which mechanisms and questions belong to it is told by
/// [`super::feature::Feature::first_level`] and
/// [`super::feature::first_level_of`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rule {
    /// Fewest and most teeth of a gear.
    pub teeth: (u32, u32),
    /// Most gears, sprockets and pulleys in the picture.
    pub most_gears: usize,
    /// Most steps of a calculation: joints on the way, and each further one.
    pub most_steps: usize,
    /// The largest answer to a number question.
    pub largest_answer: u32,
    /// The most awkward exact answer.
    pub awkwardness: Awkwardness,
    /// Ratios between what is given and what is asked.
    pub ratios: Ratios,
    /// Most decimal places an answer may be rounded to; `None`: exact answers only.
    pub rounding: Option<u8>,
    /// Whether an answer may hold pi, or be asked to significant figures.
    pub pi: bool,
    /// Most words in a sentence.
    pub words_a_sentence: usize,
    /// Most words in a story with its question.
    pub words_in_all: usize,
}

/// Returns what the level allows.
pub(super) fn of(level: level::Level) -> &'static Rule {
    RULES
        .get(usize::from(level.number()) - 1)
        .expect("there is a rule for each of the eight levels")
}

/// The eight levels. Source: our own proposal. Numbers follow the years in which
/// England's mathematics programme teaches them (tables of 2, 5, 10 before 3, 4, 8;
/// ratio with whole numbers before fractions; compound units, rounding and pi from
/// the age of eleven); sentences grow by about two words a level.
const RULES: [Rule; 8] = [
    // 1: naming, what touches what, half and quarter turns.
    Rule {
        teeth: (4, 12),
        most_gears: 3,
        most_steps: 1,
        largest_answer: 4,
        awkwardness: Awkwardness::Quarter,
        ratios: Ratios::MoreBy(&[2]),
        rounding: None,
        pi: false,
        words_a_sentence: 10,
        words_in_all: 35,
    },
    // 2: direction in a pair and in a short row, which turns faster.
    Rule {
        teeth: (4, 24),
        most_gears: 4,
        most_steps: 1,
        largest_answer: 8,
        awkwardness: Awkwardness::Quarter,
        ratios: Ratios::MoreBy(&[2]),
        rounding: None,
        pi: false,
        words_a_sentence: 11,
        words_in_all: 40,
    },
    // 3: whole turns of a pair by the first tables, direction in a row of six.
    Rule {
        teeth: (6, 60),
        most_gears: 6,
        most_steps: 1,
        largest_answer: 100,
        awkwardness: Awkwardness::Whole,
        ratios: Ratios::MoreBy(&[2, 3, 4, 5, 10]),
        rounding: None,
        pi: false,
        words_a_sentence: 12,
        words_in_all: 50,
    },
    // 4: more and less, idlers, small force and big effect.
    Rule {
        teeth: (6, 72),
        most_gears: 6,
        most_steps: 3,
        largest_answer: 144,
        awkwardness: Awkwardness::Whole,
        ratios: Ratios::WholeUpTo(12),
        rounding: None,
        pi: false,
        words_a_sentence: 14,
        words_in_all: 60,
    },
    // 5: simplest ratios, missing teeth, halves, marks that meet again.
    Rule {
        teeth: (6, 100),
        most_gears: 6,
        most_steps: 3,
        largest_answer: 500,
        awkwardness: Awkwardness::Half,
        ratios: Ratios::TermsUpTo(12),
        rounding: None,
        pi: false,
        words_a_sentence: 16,
        words_in_all: 70,
    },
    // 6: turns a minute, two stages, worm, centre distance.
    Rule {
        teeth: (6, 120),
        most_gears: 8,
        most_steps: 4,
        largest_answer: 6_000,
        awkwardness: Awkwardness::Simple,
        ratios: Ratios::Any,
        rounding: Some(1),
        pi: false,
        words_a_sentence: 18,
        words_in_all: 85,
    },
    // 7: rack, bevel, winch and load, internal mesh; pi, rounding and units.
    Rule {
        teeth: (6, 160),
        most_gears: 8,
        most_steps: 6,
        largest_answer: 20_000,
        awkwardness: Awkwardness::Awkward,
        ratios: Ratios::Any,
        rounding: Some(2),
        pi: true,
        words_a_sentence: 20,
        words_in_all: 100,
    },
    // 8: three stages, efficiency, design to a target, planetary sets.
    Rule {
        teeth: (6, 200),
        most_gears: 12,
        most_steps: 10,
        largest_answer: 200_000,
        awkwardness: Awkwardness::Awkward,
        ratios: Ratios::Any,
        rounding: Some(3),
        pi: true,
        words_a_sentence: 22,
        words_in_all: 120,
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    fn number(text: &str) -> number::Number {
        text.parse().expect("the test's own number")
    }

    #[test]
    fn ratios_are_kept_to_the_level() {
        for (level, ratio, allowed) in [
            (1, "2", true),
            (1, "1/2", false),
            (3, "10", true),
            (3, "6", false),
            (3, "1/3", false),
            (4, "1/3", true),
            (4, "6", true),
            (4, "3/2", false),
            (5, "3/2", true),
            (5, "13/2", false),
            (6, "13/2", true),
        ] {
            let level = level::Level::new(level).expect("a level");
            assert_eq!(
                level.rule().ratios.allow(number(ratio)),
                allowed,
                "level {level}, {ratio}"
            );
        }
    }

    #[test]
    fn numbers_grow_with_the_level() {
        let rules: Vec<&Rule> = level::Level::all().map(level::Level::rule).collect();
        for pair in rules.windows(2) {
            let [lower, higher] = pair else {
                continue;
            };
            assert!(lower.teeth.1 <= higher.teeth.1);
            assert!(lower.most_gears <= higher.most_gears);
            assert!(lower.most_steps <= higher.most_steps);
            assert!(lower.largest_answer <= higher.largest_answer);
            assert!(lower.words_a_sentence < higher.words_a_sentence);
            assert!(lower.words_in_all < higher.words_in_all);
        }
    }

    #[test]
    fn awkwardness_goes_by_the_denominator() {
        for (text, awkwardness) in [
            ("12", Awkwardness::Whole),
            ("5/2", Awkwardness::Half),
            ("3/4", Awkwardness::Quarter),
            ("4/3", Awkwardness::Simple),
            ("2.7", Awkwardness::Simple),
            ("25/11", Awkwardness::Awkward),
        ] {
            assert_eq!(Awkwardness::of(number(text)), awkwardness, "{text}");
        }
    }
}
