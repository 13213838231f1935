//! The ladder of levels against what pupils did: how hard the questions of each level
//! are, and whether each level is harder than the one before.
//!
//! The levels of questions are a proposal; what pupils did corrects it. The mean place of
//! a level is of these questions, with the error of their places: another choice of
//! questions of the level could lie elsewhere, which the lowest and highest place show.
//!
//! Source: a mean of Rasch places with the error of a sum of them
//! ([`crate::statistics::rasch`]); to hold intended levels against found difficulty is common
//! practice, no source.

use crate::attainment::figures;
use crate::attainment::figures::questions;
use crate::attainment::group;
use crate::level;
use crate::statistics::rasch;
use crate::statistics::rasch::answers;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Figures of one level.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelFigures {
    /// Which.
    pub level: level::Level,
    /// Its name, as in [`crate::attainment::Summary::levels`].
    pub label: String,
    /// How many of its questions are on its scale.
    pub questions: usize,
    /// The scale that most of its questions stand on, from 1, where there are several;
    /// levels on two scales cannot be compared.
    pub scale: Option<usize>,
    /// How many pupils handed in questions of it.
    pub pupils: figures::Told<u32>,
    /// The share of the marks that was earned, from 0 to 1.
    pub facility: figures::Told<figures::Span>,
    /// The mean place of its questions, in logits.
    pub difficulty: figures::Told<figures::Span>,
    /// The lowest and the highest place of its questions.
    pub places: Option<(f64, f64)>,
    /// How much harder its questions are on average than those of the nearest level
    /// below with questions on the scale.
    pub step: figures::Told<figures::Span>,
    /// The same said.
    pub text: String,
}

/// The questions of each level on one scale: those asked at one level only, and told.
pub(super) struct Ladder<'a> {
    pub(super) scale: &'a rasch::Scale,
    pub(super) by_level: BTreeMap<level::Level, Vec<&'a answers::Question>>,
}

/// Returns the ladder of each scale, that of the most questions first.
pub(super) fn ladders<'a>(
    basis: &figures::Basis<'a>,
    questions: &[questions::QuestionFigures],
) -> Vec<Ladder<'a>> {
    let usual = questions::usual(basis);
    let ladder = |scale: &'a rasch::Scale| {
        let mut by_level: BTreeMap<level::Level, Vec<&answers::Question>> = BTreeMap::new();
        for question in questions.iter().filter(|it| it.pupils.is_ok()) {
            let placed = usual.get(question.label.as_str());
            let placed = placed.and_then(|it| scale.places.get_key_value(*it));
            if let ([level], Some((found, _))) = (&question.levels[..], placed) {
                by_level.entry(*level).or_default().push(found);
            }
        }
        Ladder { scale, by_level }
    };
    basis.scales.scales.iter().map(ladder).collect()
}

/// Returns the figures of each level that was asked.
pub(super) fn of(
    basis: &figures::Basis<'_>,
    questions: &[questions::QuestionFigures],
) -> Vec<LevelFigures> {
    let ladders = ladders(basis, questions);
    let mut found = Vec::new();
    for level in basis.fold.levels.keys() {
        let label = group::level(*level).label;
        let rows = basis.summary.levels.iter();
        let row = rows.into_iter().find(|row| row.label == label);
        let Some(told) = row.map(figures::in_full) else {
            continue;
        };
        let count = |ladder: &Ladder<'_>| ladder.by_level.get(level).map_or(0, Vec::len);
        // Of scales with equally many the larger.
        let numbered: Vec<(usize, &Ladder<'_>)> = (1..).zip(&ladders).collect();
        let best = numbered.iter().rev().max_by_key(|it| count(it.1));
        let best = best.copied();
        let members = best.and_then(|(_, ladder)| ladder.by_level.get(level));
        let ladder = best.map(|it| it.1).filter(|_| members.is_some());
        let below = ladder.and_then(|it| it.by_level.range(..*level).next_back());
        let scale = ladder.map(|it| it.scale);
        let mut figures = LevelFigures {
            level: *level,
            label,
            questions: members.map_or(0, Vec::len),
            scale: best.filter(|_| members.is_some()).map(|it| it.0),
            pupils: told.map(|tally| tally.pupils),
            facility: told.and_then(figures::facility),
            difficulty: told.and_then(|_| mean(scale, members)),
            places: told.ok().and_then(|_| places(scale, members)),
            step: told.and_then(|_| step(scale, members, below.map(|it| it.1))),
            text: String::new(),
        };
        figures.text = text(&figures, below.map(|it| *it.0));
        found.push(figures);
    }
    let used: BTreeSet<Option<usize>> = found.iter().map(|it| it.scale).collect();
    if used.iter().flatten().count() < 2 {
        for figures in &mut found {
            figures.scale = None;
        }
    }
    found
}

impl LevelFigures {
    /// Returns its name, with its scale where levels stand on several.
    #[must_use]
    pub fn shown(&self) -> String {
        figures::on_scale(&self.label, self.scale)
    }
}

/// The mean place of some questions.
fn mean(
    scale: Option<&rasch::Scale>,
    members: Option<&Vec<&answers::Question>>,
) -> figures::Told<figures::Span> {
    let (Some(scale), Some(members)) = (scale, members) else {
        return Err(figures::Why::NoneOnScale);
    };
    // All places together add up to nought.
    let found = scale.apart(members.iter().copied(), scale.places.keys())?;
    Ok(figures::Span::of(&found))
}

fn places(
    scale: Option<&rasch::Scale>,
    members: Option<&Vec<&answers::Question>>,
) -> Option<(f64, f64)> {
    let places = members?.iter();
    let places: Vec<f64> = places
        .filter_map(|it| Some(scale?.places.get(*it)?.difficulty.value))
        .collect();
    let lowest = places.iter().copied().reduce(f64::min)?;
    let highest = places.iter().copied().reduce(f64::max)?;
    Some((lowest, highest))
}

fn step(
    scale: Option<&rasch::Scale>,
    members: Option<&Vec<&answers::Question>>,
    below: Option<&Vec<&answers::Question>>,
) -> figures::Told<figures::Span> {
    let (Some(scale), Some(members)) = (scale, members) else {
        return Err(figures::Why::NoneOnScale);
    };
    let below = below.ok_or(figures::Why::NothingBefore)?;
    let found = scale.apart(members.iter().copied(), below.iter().copied())?;
    Ok(figures::Span::of(&found))
}

fn text(figures: &LevelFigures, below: Option<level::Level>) -> String {
    let (Ok(step), Some(below)) = (figures.step, below) else {
        return String::new();
    };
    let verdict = if step.low > 0.0 {
        "harder, beyond its error"
    } else if step.high < 0.0 {
        "easier, beyond its error: the ladder is the wrong way round here"
    } else {
        "no harder or easier that these answers could tell"
    };
    format!(
        "Level {} against level {below}: {verdict} ({}, {}).",
        figures.level,
        figures::decimal(step.value),
        step.range(),
    )
}
