//! What the marks say of the questions, and how sure of all it one may be.
//!
//! Figures of questions, sheets, levels, growth and comparisons of groups. Each is a
//! number with where it may as well lie, or a phrase that says why there is none
//! ([`Why`]). Nothing here is of fewer than ten pupils. Not here: the statistics
//! themselves; they are [`crate::statistics`].
//!
//! Source: each statistic's own file names its source; nothing is worked out here.

use crate::attainment;
use crate::attainment::comparisons;
use crate::attainment::count;
use crate::attainment::fold;
use crate::attainment::growth;
use crate::held_back;
use crate::statistics;
use crate::statistics::interval;
use crate::statistics::rasch;
use crate::statistics::rasch::design;
use std::fmt;

pub mod about;
pub mod levels;
pub mod linkage;
pub mod questions;
pub mod reliability;

/// A figure, or what stands in its place.
pub type Told<T> = Result<T, Why>;

/// Why a figure is not told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Why {
    /// It means nothing.
    Meaningless(statistics::Meaningless),
    /// The question has no place on a scale.
    Unscaled(design::Unscaled),
    /// Nothing is told of the group.
    Hidden(held_back::Reason),
    /// The group has fewer than ten pupils.
    CountsOnly,
    /// No question of it has a place on the scale.
    NoneOnScale,
    /// Fewer than 4 in 5 of the sheets have a question on the scale.
    FewMeasured,
    /// Largely other pupils did the work at the two times.
    OtherPupils,
    /// A level below has to be there to compare with.
    NothingBefore,
}

/// A figure with where it may as well lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// The figure.
    pub value: f64,
    /// The lower end of its interval at 95 %.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

/// All figures of a summary.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Figures {
    /// Which questions can be weighed against each other, said in sentences.
    pub linkage: linkage::Linkage,
    /// For each row of [`attainment::Summary::questions`], in the same order.
    pub questions: Vec<questions::QuestionFigures>,
    /// For each set of questions on a sheet, those of most pupils first.
    pub reliability: reliability::Reliability,
    /// What to mend in the bank.
    pub about: Vec<about::Remark>,
    /// The ladder of levels against what pupils did.
    pub levels: Vec<levels::LevelFigures>,
    /// How groups stand from time to time.
    pub growth: growth::Growth,
    /// The labels of a heading of the roll held against each other.
    pub comparisons: comparisons::Comparisons,
}

/// What is told of a summary, and the scales that its figures stand on.
pub(super) struct Basis<'a> {
    pub(super) fold: &'a fold::Fold,
    pub(super) school: &'a attainment::School,
    pub(super) summary: &'a attainment::Summary,
    pub(super) scales: &'a rasch::Scales,
}

/// Returns all figures.
pub(super) fn of(basis: &Basis<'_>) -> Figures {
    let questions = questions::of(basis);
    let levels = levels::of(basis, &questions);
    Figures {
        linkage: linkage::of(basis.scales),
        reliability: reliability::of(basis.fold),
        about: about::remarks(basis, &questions),
        levels,
        growth: growth::of(basis),
        comparisons: comparisons::of(basis),
        questions,
    }
}

impl fmt::Display for Why {
    /// Writes a phrase that stands in the place of a figure.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Meaningless(why) => why.fmt(formatter),
            Self::Unscaled(why) => why.fmt(formatter),
            Self::Hidden(why) => formatter.write_str(why.text()),
            Self::CountsOnly => formatter.write_str("not told of fewer than 10 pupils"),
            Self::NoneOnScale => formatter.write_str("no question of it is on the scale"),
            Self::FewMeasured => formatter.write_str("too few of the sheets are on the scale"),
            Self::OtherPupils => formatter.write_str("largely other pupils: not growth"),
            Self::NothingBefore => formatter.write_str("no level below to compare with"),
        }
    }
}

impl From<statistics::Meaningless> for Why {
    fn from(why: statistics::Meaningless) -> Self {
        Self::Meaningless(why)
    }
}

impl Span {
    /// Returns a figure in an interval.
    #[must_use]
    pub fn new(value: f64, interval: interval::Interval) -> Self {
        Self {
            value,
            low: interval.low,
            high: interval.high,
        }
    }

    /// Returns an estimate with 1.96 standard errors on each side.
    #[must_use]
    pub fn of(estimate: &interval::Estimate) -> Self {
        Self::new(estimate.value, estimate.interval())
    }

    /// Whether all of it lies above nought, or all of it below.
    #[must_use]
    pub fn is_beyond_error(&self) -> bool {
        self.low > 0.0 || self.high < 0.0
    }

    /// Returns where it may as well lie, such as `0.12 to 0.48`.
    #[must_use]
    pub fn range(&self) -> String {
        format!("{} to {}", decimal(self.low), decimal(self.high))
    }
}

/// Returns a name with its scale, where there are several: `8 (scale 2)`.
pub(super) fn on_scale(name: &str, scale: Option<usize>) -> String {
    scale.map_or_else(
        || name.to_owned(),
        |scale| format!("{name} (scale {scale})"),
    )
}

/// Returns a share in whole hundredths with a true minus.
#[must_use]
pub fn percent(share: f64) -> String {
    with_true_minus(&format!("{:.0} %", 100.0 * share))
}

/// Returns a figure with two places and a true minus.
#[must_use]
pub fn decimal(value: f64) -> String {
    with_true_minus(&format!("{value:.2}"))
}

/// Nought has no sign.
fn with_true_minus(number: &str) -> String {
    let Some(size) = number.strip_prefix('-') else {
        return number.to_owned();
    };
    let is_nought = !size.contains(|sign: char| ('1'..='9').contains(&sign));
    if is_nought {
        size.to_owned()
    } else {
        format!("\u{2212}{size}")
    }
}

/// The counts of a row that is told in full.
pub(super) fn in_full(row: &attainment::Row) -> Told<&count::Figures> {
    match &row.shown {
        count::Shown::InFull { figures, .. } => Ok(figures),
        count::Shown::CountsOnly { .. } => Err(Why::CountsOnly),
        count::Shown::Hidden(why) => Err(Why::Hidden(*why)),
    }
}

/// The facility of some counts with Wilson's interval.
pub(super) fn facility(figures: &count::Figures) -> Told<Span> {
    let share = figures.share()?;
    Ok(Span::new(share.value().to_f64(), share.interval()))
}

#[cfg(test)]
mod simulation;
