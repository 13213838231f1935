//! Figures of each question.

use crate::attainment::figures;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::tally;
use crate::level;
use crate::misconception;
use crate::statistics;
use crate::statistics::point_biserial;
use crate::statistics::rasch;
use crate::statistics::rasch::answers;
use crate::statistics::rasch::design;
use crate::statistics::score_table;
use crate::statistics::upper_lower;
use std::collections::BTreeMap;

/// With fewer answers a misconception is not told of a question: it could be a pupil's.
const FEWEST_DRAWN: u32 = 5;

/// Figures of one question: a part of a template.
#[derive(Debug, Clone, PartialEq)]
pub struct QuestionFigures {
    /// Its name, as in [`crate::attainment::Summary::questions`].
    pub label: String,
    /// The levels at which it was asked.
    pub levels: Vec<level::Level>,
    /// How many pupils handed it in.
    pub pupils: figures::Told<u32>,
    /// The share of its marks that was earned, from 0 to 1.
    pub facility: figures::Told<figures::Span>,
    /// How far it goes with the rest of its sheet, from -1 to 1.
    pub point_biserial: figures::Told<figures::Span>,
    /// How much better the upper 27 % of pupils did on it than the lower.
    pub upper_lower: figures::Told<f64>,
    /// How hard it is, in logits.
    pub difficulty: figures::Told<Placed>,
    /// How well its answers go with its place, those who tell most counting most; the
    /// interval is where it lies for 95 in 100 questions that go with the scale.
    pub infit: figures::Told<figures::Span>,
    /// The same, all pupils counting alike.
    pub outfit: figures::Told<figures::Span>,
    /// The misconception that most of its wrong answers are consistent with.
    pub draws_out: Option<DrawnOut>,
}

/// A place on a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// Which scale, from 1; places on two of them cannot be compared.
    pub scale: usize,
    /// Where, in logits.
    pub span: figures::Span,
}

/// A misconception that a question draws out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DrawnOut {
    /// What someone who holds it does.
    pub name: String,
    /// How many answers are consistent with it.
    pub answers: u32,
    /// How many answers were attempted and did not earn all marks.
    pub wrong: u32,
}

/// How well a question tells pupils apart, by its upper-lower index.
///
/// Source: the usual bands of the index, Ebel and Frisbie (1991), Essentials of
/// Educational Measurement, as quoted by pages on item analysis: 0.40, 0.30, 0.20.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Telling {
    /// Under 0.20.
    Poor,
    /// 0.20 to under 0.30.
    Marginal,
    /// 0.30 to under 0.40.
    Good,
    /// 0.40 and over.
    VeryGood,
}

impl Telling {
    /// Returns the band of an index.
    #[must_use]
    pub fn of(index: f64) -> Self {
        if index >= 0.4 {
            Self::VeryGood
        } else if index >= 0.3 {
            Self::Good
        } else if index >= 0.2 {
            Self::Marginal
        } else {
            Self::Poor
        }
    }

    /// Returns the usual word for it.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Poor => "poor",
            Self::Marginal => "marginal",
            Self::Good => "good",
            Self::VeryGood => "very good",
        }
    }
}

/// What is gathered of one question over all sheets.
#[derive(Default)]
struct Sheets<'a> {
    pool: point_biserial::Pool,
    tables: Vec<(&'a score_table::ScoreTable, usize)>,
    pupils: u64,
}

/// Returns the figures of each row of the summary's questions.
pub(super) fn of(basis: &figures::Basis<'_>) -> Vec<QuestionFigures> {
    let sheets = sheets(basis.fold);
    let mut asked: BTreeMap<String, (&kept::Question, &kept::Asked)> = BTreeMap::new();
    for (question, of_it) in &basis.fold.questions {
        asked.insert(basis.fold.question_key(*question).label, (question, of_it));
    }
    let rows = basis.summary.questions.iter();
    rows.map(|row| {
        let told = figures::in_full(row);
        // Where it was worth different marks, the worth that most pupils met.
        let named = sheets.range(first_of(&row.label)..);
        let named = named.take_while(|(question, _)| question.name == row.label);
        let usual = named.max_by_key(|(question, sheets)| (sheets.pupils, question.full));
        let placed = told.and_then(|_| usual.map_or(Err(none()), |it| placed(basis.scales, it.0)));
        let fit = placed.as_ref().map_err(|why| *why);
        let fit = fit.and_then(|(_, place)| Ok(place.fit?));
        let mean_square = |it: &rasch::fit::MeanSquare| figures::Span::new(it.value, it.expected());
        let asked = asked.get(&row.label);
        let tally = told.ok().and_then(|it| it.answers.as_ref());
        QuestionFigures {
            label: row.label.clone(),
            levels: asked.map_or_else(Vec::new, |it| it.1.levels.iter().copied().collect()),
            pupils: told.map(|tally| tally.pupils),
            facility: told.and_then(figures::facility),
            point_biserial: told.and_then(|_| {
                let sheets = usual.ok_or(none())?.1;
                let found = sheets.pool.correlation()?;
                Ok(figures::Span::new(found.value, found.interval))
            }),
            upper_lower: told.and_then(|_| {
                let sheets = usual.ok_or(none())?.1;
                Ok(upper_lower::pooled(&sheets.tables)?)
            }),
            infit: fit.map(|fit| mean_square(&fit.infit)),
            outfit: fit.map(|fit| mean_square(&fit.outfit)),
            difficulty: placed.map(|(scale, place)| Placed {
                scale,
                span: figures::Span::of(&place.difficulty),
            }),
            draws_out: tally
                .zip(asked)
                .and_then(|(tally, it)| drawn_out(basis.fold, tally, it.1)),
        }
    })
    .collect()
}

/// What stands where no answer counts.
fn none() -> figures::Why {
    figures::Why::Meaningless(statistics::Meaningless::NoItems)
}

/// The first question of a name, in the order of questions.
fn first_of(name: &str) -> answers::Question {
    answers::Question {
        name: name.to_owned(),
        full: 0,
    }
}

/// Every question with the sheets that it stands on.
fn sheets(fold: &fold::Fold) -> BTreeMap<answers::Question, Sheets<'_>> {
    let mut sheets: BTreeMap<answers::Question, Sheets<'_>> = BTreeMap::new();
    for (questions, table) in fold.scores().sets() {
        let pools = point_biserial::Pool::of(table);
        for ((place, question), pool) in questions.iter().enumerate().zip(&pools) {
            let of_question = sheets.entry(question.clone()).or_default();
            of_question.pool.join(pool);
            of_question.pupils = of_question.pupils.saturating_add(table.pupils());
            if table.pupils() >= upper_lower::FEWEST_OF_A_SHEET {
                of_question.tables.push((table, place));
            }
        }
    }
    sheets
}

/// A question's place with the number of its scale.
pub(super) fn placed<'a>(
    scales: &'a rasch::Scales,
    question: &answers::Question,
) -> figures::Told<(usize, &'a rasch::Place)> {
    for (number, scale) in (1..).zip(&scales.scales) {
        if let Some(place) = scale.places.get(question) {
            return Ok((number, place));
        }
    }
    let why = scales.unscaled.get(question).copied();
    Err(figures::Why::Unscaled(
        why.unwrap_or(design::Unscaled::NotLinked),
    ))
}

/// The questions by the names of the rows: each with the worth that most pupils met.
pub(super) fn usual<'a>(basis: &figures::Basis<'a>) -> BTreeMap<&'a str, &'a answers::Question> {
    let mut pupils: BTreeMap<&answers::Question, u64> = BTreeMap::new();
    for (questions, table) in basis.fold.scores().sets() {
        for question in questions {
            let count = pupils.entry(question).or_default();
            *count = count.saturating_add(table.pupils());
        }
    }
    let mut usual: BTreeMap<&str, (u64, &answers::Question)> = BTreeMap::new();
    for (question, pupils) in pupils {
        let found = usual.entry(&question.name).or_insert((pupils, question));
        if pupils >= found.0 {
            *found = (pupils, question);
        }
    }
    let usual = usual.into_iter();
    usual
        .map(|(name, (_, question))| (name, question))
        .collect()
}

/// The misconception that most wrong answers are consistent with.
fn drawn_out(fold: &fold::Fold, tally: &tally::Tally, asked: &kept::Asked) -> Option<DrawnOut> {
    let wrong = tally.wrong.saturating_add(tally.partly);
    let named = asked.misconceptions.iter();
    let most = named
        .map(|(id, answers)| (*answers, fold.names.text(*id)))
        // Of equally many the first by its id.
        .max_by(|one, other| (one.0, other.1).cmp(&(other.0, one.1)))?;
    let (answers, id) = most;
    let known = misconception::by_id(id)?;
    (answers >= FEWEST_DRAWN && answers <= wrong).then(|| DrawnOut {
        name: known.name.to_owned(),
        answers,
        wrong,
    })
}
