//! A second look: a sample of answers that another person marks too, blindly.
//!
//! Takes a marked homework; gives a sample drawn by a seed ([`draw`]), the answers
//! of it without marks or names ([`blind`]), and how far the two markers agree
//! ([`report`]). What the second person gives changes no mark by itself. Not
//! here: cells, files, today.

pub mod blind;
mod draw;
pub mod report;

use crate::marking;
use crate::number;
use crate::seed;
use std::collections::BTreeMap;
use std::fmt;

/// The longest denominator of a share, so that no share of a class can overflow.
const FINEST_SHARE: u128 = 1_000_000;

/// A share of the answers: above nought, not over one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share(number::Number);

/// A sample drawn for a second marker, with what came back of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// The seed: it fixes which answers, their order and their row codes.
    pub seed: String,
    /// The share of the answers that was asked for, as text, such as `10%`.
    pub share: String,
    /// When it was drawn, ISO 8601.
    pub drawn_on: String,
    /// When the second marks that stand here came back, ISO 8601; empty before.
    pub given_back_on: String,
    /// The answers, in the order shown to the second marker.
    pub rows: Vec<Row>,
}

/// One answer of a sample.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Whose answer.
    pub pupil_id: String,
    /// To which question.
    pub question: String,
    /// Which answer it was: [`marking::Mark::code`] when the sample was drawn.
    pub code: String,
    /// The first mark, as it stood when the sample was drawn.
    pub first: u8,
    /// The reason of the first mark.
    pub reason: String,
    /// The second marker's mark, once given.
    pub second: Option<u8>,
}

/// What a sample is drawn by.
#[derive(Debug, Clone, Copy)]
pub struct Plan<'a> {
    /// The seed.
    pub seed: &'a str,
    /// The share of the attempted answers.
    pub share: Share,
    /// Today, ISO 8601.
    pub date: &'a str,
}

/// Draws a sample of the answers that were attempted; none where there are none.
///
/// Every question is in it once before any is in it twice over its share; where
/// the share gives fewer answers than there are questions, the seed says which.
/// The same seed and marks give the same sample, and a larger share the same
/// answers and more.
#[must_use]
pub fn draw(marked: &marking::Marked, plan: &Plan<'_>) -> Option<Look> {
    draw::draw(marked, plan)
}

/// Returns the row code of every answer of a homework under a seed: it tells
/// nothing of the pupil, and can be worked out again without the sample.
#[must_use]
pub fn row_codes<'a>(
    marked: &'a marking::Marked,
    seed: &str,
) -> BTreeMap<String, &'a marking::Mark> {
    let mut codes = BTreeMap::new();
    for mark in marked.pupils.iter().flat_map(|entry| &entry.marks) {
        let parts = [
            "second look, row",
            &marked.code,
            seed,
            &mark.pupil_id,
            &mark.question,
        ];
        // Two answers may draw the same signs; the later one draws again.
        let code = (0..=u64::MAX)
            .map(|turn| format!("R{}", seed::Stream::named(&parts, turn).code(5)))
            .find(|code| !codes.contains_key(code))
            .expect("there are more codes than answers");
        codes.insert(code, mark);
    }
    codes
}

/// Returns the looks with one more among them: in the place of the same sample,
/// or as the newest. A sample without marks takes the place of none.
#[must_use]
pub fn with(mut looks: Vec<Look>, look: Look) -> Vec<Look> {
    match looks.iter_mut().rev().find(|other| other.is_same(&look)) {
        Some(other) if look.has_marks() => *other = look,
        Some(_) => {}
        None => looks.push(look),
    }
    looks
}

impl Share {
    /// Returns a share; none for nought and less, for more than one, and for one
    /// finer than a millionth.
    #[must_use]
    pub fn new(share: number::Number) -> Option<Self> {
        let fits = share.is_positive()
            && share <= number::Number::ONE
            && share.denominator() <= FINEST_SHARE;
        fits.then_some(Self(share))
    }

    /// Returns how many of so many it is, rounded half up, but at least one of any.
    #[must_use]
    pub fn of(self, count: usize) -> usize {
        let all = i64::try_from(count).map_or(number::Number::ZERO, number::Number::whole);
        let share = self.0.times(all).unwrap_or(all);
        number::round_half_up(share.into(), number::Precision::Places(0))
            .ok()
            .and_then(number::Number::as_whole)
            .and_then(|whole| usize::try_from(whole).ok())
            .unwrap_or(count)
            .clamp(usize::from(count > 0), count)
    }
}

impl fmt::Display for Share {
    /// Writes `10%`, or a fraction where the percentage does not end.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let percent = self.0.times(number::Number::whole(100));
        match percent.ok().and_then(number::Number::to_decimal) {
            Some(percent) => write!(formatter, "{percent}%"),
            None => write!(formatter, "{}", self.0),
        }
    }
}

impl Look {
    /// Whether any second mark has come back.
    #[must_use]
    pub fn has_marks(&self) -> bool {
        self.rows.iter().any(|row| row.second.is_some())
    }

    /// Whether both are the same sample, whatever came back of it.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        let drawn = |look: &Self| -> Vec<(String, String, String)> {
            let row = |row: &Row| (row.pupil_id.clone(), row.question.clone(), row.code.clone());
            look.rows.iter().map(row).collect()
        };
        self.is_headed(&other.seed, &other.share, &other.drawn_on) && drawn(self) == drawn(other)
    }

    /// Whether the sample was drawn with this seed and share on this day.
    #[must_use]
    pub fn is_headed(&self, seed: &str, share: &str, drawn_on: &str) -> bool {
        self.seed == seed && self.share == share && self.drawn_on == drawn_on
    }
}

#[cfg(test)]
mod tests;
