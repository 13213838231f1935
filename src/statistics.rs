//! Statistics of marks: each in a file of its own, with its source and its hard
//! cases.
//!
//! Takes plain counts and categories; knows nothing of pupils, homeworks or files.
//! Every statistic knows when it means nothing and says why, so that no figure is
//! printed in its place.
//!
//! What can be exact is exact ([`crate::number`]): proportions, kappa, alpha, the
//! upper-lower index. Where a root, a logarithm or a distribution is needed it is
//! floating point. Additions then run in one fixed order and the functions come
//! from one library, but quantiles of distributions may still differ in the last
//! digits between machines: print no more than four places.
//!
//! Counts can be gathered one record at a time and added up over parts:
//! [`score_table::ScoreTable`] for the questions of one sheet, and
//! [`rasch::answers::Answers`] for sheets with different questions. Their size
//! hangs on the questions and scores, not on the pupils.

use crate::number;
use std::fmt;

pub mod alpha;
pub mod interval;
pub mod kappa;
pub mod point_biserial;
pub mod proportion;
pub mod rasch;
pub mod score_table;
pub mod upper_lower;

/// A statistic, or why it means nothing.
pub type Figure<T> = Result<T, Meaningless>;

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
    /// More was earned than there was to be had.
    MoreThanAll,
    /// There are too few items for a standard error.
    TooFewItems,
    /// There are fewer pupils than the statistic needs.
    TooFewPupils {
        /// How many it needs.
        fewest: u32,
    },
    /// It is about several questions, and there are not two.
    TooFewQuestions,
    /// All pupils have the same score.
    NoSpread,
    /// All pupils have the same mark for the question.
    NoSpreadInQuestion,
    /// There is no such question.
    NoSuchQuestion,
    /// At least one of the questions has no place on the scale.
    NotOnScale,
    /// The score is more than there was to be had.
    NoSuchScore,
    /// The calculation does not settle on one figure.
    NotSettled,
}

impl fmt::Display for Meaningless {
    /// Writes a phrase that stands in the place of a figure.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::NoItems => "means nothing: nothing to compare",
            Self::OneCategory => "means nothing: all marks are the same",
            Self::TooLarge => "cannot be worked out exactly: too many to compare",
            Self::MoreThanAll => "means nothing: more marks earned than there were",
            Self::TooFewItems => "means nothing: too few items",
            Self::TooFewPupils { fewest } => {
                return write!(formatter, "means nothing with fewer than {fewest} pupils");
            }
            Self::TooFewQuestions => "means nothing with fewer than two questions",
            Self::NoSpread => "means nothing: all pupils have the same score",
            Self::NoSpreadInQuestion => "means nothing: all pupils have the same mark for it",
            Self::NoSuchQuestion => "means nothing: there is no such question",
            Self::NotOnScale => "cannot be told: a question has no place on the scale",
            Self::NoSuchScore => "means nothing: the score is more than there was to be had",
            Self::NotSettled => "cannot be told: the answers are too few or too much alike",
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

/// A count as an exact number.
fn exact(count: u64) -> Figure<number::Number> {
    i64::try_from(count)
        .map(number::Number::whole)
        .map_err(|_| Meaningless::TooLarge)
}

/// An exact fraction of whole numbers; the lower one must not be nought.
fn fraction(upper: i128, lower: i128) -> Figure<number::Number> {
    let common = i128::try_from(common(upper.unsigned_abs(), lower.unsigned_abs()));
    let common = common.map_err(|_| Meaningless::TooLarge)?.max(1);
    let whole = |value: i128| i64::try_from(value / common).map_err(|_| Meaningless::TooLarge);
    Ok(number::Number::ratio(whole(upper)?, whole(lower)?)?)
}

/// The greatest common divisor.
///
/// Source: Euclid, Elements VII.2.
fn common(mut one: u128, mut other: u128) -> u128 {
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one
}

/// A count in floating point, for the statistics that need roots or logarithms.
#[expect(
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "counts lie far below 2^53, and no mark hangs on it"
)]
fn real(count: u64) -> f64 {
    count as f64
}

/// A whole number in floating point, for the same statistics.
#[expect(
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "sums of squares and products, whose last digits do not matter"
)]
fn real_sum(sum: i128) -> f64 {
    sum as f64
}
