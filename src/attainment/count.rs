//! What may be told of a group without telling of a pupil.
//!
//! Decided for all tables of a run at once, by [`held_back`]: of one to four pupils
//! nothing is told, of five to nine numbers without a share, and more is held back where
//! it could be found by subtraction.
//!
//! How many answers were right, wrong, blank and so on is told only of ten pupils or
//! more, and only in a table no row of which is held back: these counts are sums of the
//! same groups as the marks, but no secrets of their own.

use crate::attainment::tally;
use crate::held_back;
use crate::number;
use crate::statistics;
use crate::statistics::proportion;

/// What may be told of a group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shown {
    /// Ten pupils or more: numbers and facility. Or nobody at all.
    InFull {
        /// The numbers.
        figures: Figures,
        /// Marks earned of marks to be had; none where no answer counts.
        facility: Option<number::Number>,
    },
    /// Five to nine pupils: numbers only.
    CountsOnly {
        /// The numbers.
        figures: Figures,
    },
    /// Nothing, and why.
    Hidden(held_back::Reason),
}

/// The numbers of a group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figures {
    /// Pupils who handed in.
    pub pupils: u32,
    /// Marks earned by the answers that count for facility.
    pub earned: u32,
    /// Marks to be had by the answers that count for facility.
    pub available: u32,
    /// The answers by what became of them, where that may be told.
    pub answers: Option<tally::Tally>,
}

/// A number of pupils, where it may be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Count {
    /// So many: none, or five or more.
    Pupils(u32),
    /// Not told, and why.
    Hidden(held_back::Reason),
}

/// Whether answers may be told by what became of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Answers {
    /// No row of the table is held back.
    Told,
    /// One is.
    NotTold,
}

impl Shown {
    /// Returns what is told of a group.
    pub(super) fn of(tally: &tally::Tally, told: held_back::Told, answers: Answers) -> Self {
        let figures = |answers: Option<tally::Tally>| Figures {
            pupils: tally.pupils,
            earned: tally.earned,
            available: tally.available,
            answers,
        };
        match (told, answers) {
            (held_back::Told::HeldBack(why), _) => Self::Hidden(why),
            (held_back::Told::NumbersOnly, _) => Self::CountsOnly {
                figures: figures(None),
            },
            (held_back::Told::InFull, Answers::NotTold) => Self::InFull {
                figures: figures(None),
                facility: tally.facility(),
            },
            (held_back::Told::InFull, Answers::Told) => Self::InFull {
                figures: figures(Some(tally.clone())),
                facility: tally.facility(),
            },
        }
    }

    /// Returns the numbers that are told, if any are.
    #[must_use]
    pub fn figures(&self) -> Option<&Figures> {
        match self {
            Self::InFull { figures, .. } | Self::CountsOnly { figures } => Some(figures),
            Self::Hidden(_) => None,
        }
    }
}

impl Figures {
    /// Returns where the facility of many pupils like these would lie, as text such as
    /// `43 to 61 %`; nothing where there is no facility.
    ///
    /// Source: see [`proportion::Share::interval`].
    #[must_use]
    pub fn interval(&self) -> Option<String> {
        self.share().ok().map(|share| share.interval().percent())
    }

    /// Returns the facility with what its interval hangs on.
    ///
    /// # Errors
    ///
    /// Why there is none: no marks were to be had, say.
    pub fn share(&self) -> statistics::Figure<proportion::Share> {
        let (earned, available) = (u64::from(self.earned), u64::from(self.available));
        proportion::Share::of_marks(earned, available, u64::from(self.pupils))
    }

    /// Returns how many answers were attempted or left blank, where that may be told.
    #[must_use]
    pub fn counted(&self) -> Option<u32> {
        self.answers.as_ref().map(tally::Tally::counted)
    }
}

impl Count {
    /// Returns what is told of a number of pupils.
    pub(super) fn of(pupils: u32, told: held_back::Told) -> Self {
        match told {
            held_back::Told::InFull | held_back::Told::NumbersOnly => Self::Pupils(pupils),
            held_back::Told::HeldBack(why) => Self::Hidden(why),
        }
    }

    /// Returns the number where it is told.
    #[must_use]
    pub fn pupils(self) -> Option<u32> {
        match self {
            Self::Pupils(pupils) => Some(pupils),
            Self::Hidden(_) => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_interval_goes_by_pupils_and_not_by_answers() {
        let figures = |pupils, earned, available| Figures {
            pupils,
            earned,
            available,
            answers: None,
        };
        // Wilson, 19 of 38: 0.3485 to 0.6515 (tests of a statistics package).
        let interval = figures(38, 60, 120).interval();
        assert_eq!(interval.as_deref(), Some("35 to 65 %"));
        assert_eq!(figures(0, 0, 0).interval(), None);
    }
}
