//! How far the questions of one sheet pull together: alpha for each set of questions that
//! enough pupils did.
//!
//! Source: see [`crate::statistics::alpha`].

use crate::attainment::figures;
use crate::attainment::fold;
use crate::statistics::alpha;

/// The most sets of questions that are listed.
pub const MOST_SETS: usize = 60;

/// Alpha of each set of questions.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reliability {
    /// The sets, those of most pupils first.
    pub sheets: Vec<SheetFigures>,
    /// How many further sets ten pupils or more did.
    pub more: usize,
    /// How many sets fewer than ten pupils did.
    pub too_small: usize,
}

/// Figures of one set of questions that pupils did together.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetFigures {
    /// The names of its questions.
    pub questions: Vec<String>,
    /// The marks to be had on it.
    pub marks: u32,
    /// How many pupils did just these; one who did them twice counts twice.
    pub pupils: u64,
    /// Alpha.
    pub alpha: figures::Told<figures::Span>,
}

/// Returns alpha of each set of questions.
pub(super) fn of(fold: &fold::Fold) -> Reliability {
    let sets: Vec<_> = fold.scores().sets().collect();
    let all = sets.len();
    let enough = |pupils: u64| pupils >= u64::from(alpha::FEWEST_PUPILS);
    let mut large: Vec<_> = sets
        .into_iter()
        .filter(|(_, table)| enough(table.pupils()))
        .collect();
    let too_small = all - large.len();
    // Sets of equally many pupils stay in the order of their questions.
    large.sort_by_key(|(_, table)| std::cmp::Reverse(table.pupils()));
    let more = large.len().saturating_sub(MOST_SETS);
    let shown = large.into_iter().take(MOST_SETS);
    let sheets = shown.map(|(questions, table)| SheetFigures {
        questions: questions.iter().map(|it| it.name.clone()).collect(),
        marks: questions.iter().map(|it| u32::from(it.full)).sum(),
        pupils: table.pupils(),
        alpha: alpha::alpha(table)
            .map(|found| figures::Span::new(found.value.to_f64(), found.interval))
            .map_err(figures::Why::from),
    });
    Reliability {
        sheets: sheets.collect(),
        more,
        too_small,
    }
}
