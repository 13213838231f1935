//! The labels of one heading of the roll held against each other, with care.
//!
//! Only labels whose own rows are told in full, and from what those rows tell. A
//! difference is said only where it exceeds its error after a correction for how many
//! comparisons were made. Schools are not held against each other: a review is no league
//! table.
//!
//! Source: see [`crate::statistics::proportion::difference_of_many`].

use crate::attainment::count;
use crate::attainment::figures;
use crate::attainment::group;
use crate::attainment::who;
use crate::statistics::proportion;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// With more labels under a heading their pairs are not compared (common practice, no
/// source): with so many, differences beyond error are chance or known beforehand.
const MOST_LABELS: usize = 8;

/// All comparisons.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Comparisons {
    /// Each pair of labels of one heading.
    pub rows: Vec<Comparison>,
    /// What was found, and how many comparisons it is one of.
    pub sentences: Vec<String>,
}

/// Two labels of one heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The heading.
    pub heading: String,
    /// The first label.
    pub first: Side,
    /// The second.
    pub second: Side,
    /// The facility of the first less that of the second, with Newcombe's interval.
    pub difference: figures::Span,
    /// The same interval, corrected for the number of comparisons.
    pub corrected: figures::Span,
}

/// One label.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// The label.
    pub label: String,
    /// How many pupils have it.
    pub pupils: u32,
    /// The share of the marks they earned, from 0 to 1.
    pub facility: figures::Span,
}

impl Comparison {
    /// Whether the difference exceeds its error after the correction.
    #[must_use]
    pub fn is_beyond_error(&self) -> bool {
        self.corrected.is_beyond_error()
    }

    /// Returns what was found, as a sentence.
    #[must_use]
    pub fn text(&self) -> String {
        let (first, second) = (&self.first, &self.second);
        if !self.is_beyond_error() {
            return format!(
                "{}: {} and {} differ no more than chance may do.",
                self.heading, first.label, second.label
            );
        }
        let (more, less) = if self.difference.value > 0.0 {
            (first, second)
        } else {
            (second, first)
        };
        format!(
            "{}: {} earned {} of the marks, {} {} ({} and {} pupils). Look first whether they \
             had the same questions.",
            self.heading,
            more.label,
            figures::percent(more.facility.value),
            less.label,
            figures::percent(less.facility.value),
            more.pupils,
            less.pupils,
        )
    }
}

/// A label before it is compared.
struct Labelled {
    side: Side,
    share: proportion::Share,
}

/// Returns all comparisons of a summary.
pub(super) fn of(basis: &figures::Basis<'_>) -> Comparisons {
    let mut sentences = Vec::new();
    let mut pairs: Vec<(String, Labelled, Labelled)> = Vec::new();
    for (heading, labels) in headings(basis) {
        if heading.trim().eq_ignore_ascii_case(who::SCHOOL) {
            continue;
        }
        let told: Vec<&Row<'_>> = labels.iter().filter_map(|it| it.as_ref()).collect();
        if told.len() > MOST_LABELS {
            sentences.push(format!(
                "{heading}: {} labels, too many to hold each against each.",
                told.len()
            ));
            continue;
        }
        for (place, one) in told.iter().enumerate() {
            for other in told.iter().skip(place + 1) {
                if let (Some(first), Some(second)) = (one.labelled(), other.labelled()) {
                    pairs.push((heading.to_owned(), first, second));
                }
            }
        }
    }
    let made = pairs.len();
    let rows: Vec<Comparison> = pairs
        .into_iter()
        .map(|(heading, first, second)| {
            let plain = proportion::difference(&first.share, &second.share);
            let wider = proportion::difference_of_many(&first.share, &second.share, made);
            Comparison {
                heading,
                first: first.side,
                second: second.side,
                difference: figures::Span::new(plain.value, plain.interval),
                corrected: figures::Span::new(wider.value, wider.interval),
            }
        })
        .collect();
    let beyond: Vec<String> = rows
        .iter()
        .filter(|row| row.is_beyond_error())
        .map(Comparison::text)
        .collect();
    if made > 0 {
        sentences.insert(0, counted(made, beyond.len()));
    }
    sentences.extend(beyond);
    Comparisons { rows, sentences }
}

/// A label with what its row tells.
struct Row<'a> {
    label: &'a str,
    figures: &'a count::Figures,
}

impl Row<'_> {
    fn labelled(&self) -> Option<Labelled> {
        Some(Labelled {
            side: Side {
                label: self.label.to_owned(),
                pupils: self.figures.pupils,
                facility: figures::facility(self.figures).ok()?,
            },
            share: self.figures.share().ok()?,
        })
    }
}

/// The labels of each heading, in order; nothing in the place of one that is not told.
fn headings<'a>(basis: &figures::Basis<'a>) -> BTreeMap<&'a str, Vec<Option<Row<'a>>>> {
    let names = &basis.fold.names;
    let mut labels: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    let places = basis.fold.places.all().flat_map(|(_, it)| &it.labels);
    for label in places {
        let text = names.text(label.label);
        if !text.is_empty() {
            let heading = labels.entry(names.text(label.heading)).or_default();
            heading.insert(text);
        }
    }
    let row = |heading: &str, label: &'a str| {
        let name = group::label(heading, label).label;
        let row = basis.summary.groups.iter().find(|row| row.label == name)?;
        let figures = figures::in_full(row).ok()?;
        Some(Row { label, figures })
    };
    labels
        .into_iter()
        .map(|(heading, labels)| {
            let labels = labels.into_iter().map(|label| row(heading, label));
            (heading, labels.collect())
        })
        .collect()
}

fn counted(made: usize, beyond: usize) -> String {
    let made = if made == 1 {
        "1 comparison was made".to_owned()
    } else {
        format!("{made} comparisons were made")
    };
    let found = match beyond {
        0 => "no difference exceeds its error".to_owned(),
        1 => "1 difference exceeds its error".to_owned(),
        more => format!("{more} differences exceed their errors"),
    };
    format!(
        "{made}; {found}. The error is widened for their number (Bonferroni), so that all \
         together are wrong in about one review of twenty."
    )
}
