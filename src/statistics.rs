//! Statistics of marks: each in a file of its own, with its source and its hard
//! cases.
//!
//! Takes plain counts and categories and gives exact numbers ([`crate::number`]);
//! knows nothing of pupils, questions or files. Every statistic knows when it
//! means nothing and says why, so that no figure is printed in its place.

use crate::number;
use std::fmt;

pub mod kappa;

/// Why a statistic means nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Meaningless {
    /// There is nothing to count.
    NoItems,
    /// Both markers gave everything the same one mark: chance alone would agree
    /// as well, so there is nothing left to be better than chance at.
    OneCategory,
    /// The exact figure does not fit: there are far too many items.
    TooLarge,
}

impl fmt::Display for Meaningless {
    /// Writes a phrase that stands in the place of a figure.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::NoItems => "means nothing: nothing to compare",
            Self::OneCategory => "means nothing: all marks are the same",
            Self::TooLarge => "cannot be worked out exactly: too many to compare",
        })
    }
}

impl std::error::Error for Meaningless {}

impl From<number::NumberError> for Meaningless {
    /// Every division looks for nought before, so only the size can be at fault.
    fn from(_: number::NumberError) -> Self {
        Self::TooLarge
    }
}
