//! Sentences about questions: what to mend in the bank.
//!
//! The rules, each common practice without a source unless one is named:
//!
//! | What is said | When |
//! |---|---|
//! | harder than its level says | it is harder than the mean of the next level up, and than the mean of its own level's other questions, both beyond the error of the difference (1.96 standard errors) |
//! | easier than its level says | the same downwards |
//! | does not tell pupils apart | the interval of its point-biserial lies under 0.20: the lowest band of Ebel and Frisbie (1991), as quoted by pages on item analysis |
//! | goes against the rest | that interval lies under nought |
//! | answers wilder than its place | its infit lies over its expected range and over 1.3 (Wright and Linacre 1994, Rasch Measurement Transactions 8:3, 370, from memory: 0.7 to 1.3 for run-of-the-mill tests) |
//! | draws out a misconception | a third or more of its wrong answers are consistent with it |

use crate::attainment::figures;
use crate::attainment::figures::levels;
use crate::attainment::figures::questions;
use crate::statistics::rasch::answers;

/// Under this a question tells pupils poorly apart.
///
/// Source: Ebel and Frisbie (1991), as in [`questions::Telling`].
const POOR: f64 = 0.2;
/// Over this a mean square is worth a look.
///
/// Source: as in the table of this module.
const WILD: f64 = 1.3;
/// Of so many wrong answers one has to be consistent with a misconception for it to be
/// said (common practice, no source).
const ONE_IN: u32 = 3;

/// One sentence about a question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// What kind it is.
    pub kind: Kind,
    /// The question.
    pub label: String,
    /// The sentence.
    pub text: String,
}

/// What a sentence is about; in the order in which they are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// It goes against the rest of its sheet.
    Against,
    /// It is harder than its level says.
    Harder,
    /// It is easier than its level says.
    Easier,
    /// It does not tell pupils apart.
    NotTelling,
    /// Its answers are wilder than its place lets expect.
    Wild,
    /// Its wrong answers show a misconception.
    DrawsOut,
}

impl Kind {
    /// Returns its heading.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Against => "Goes against the rest of its sheet",
            Self::Harder => "Harder than its level says",
            Self::Easier => "Easier than its level says",
            Self::NotTelling => "Does not tell pupils apart",
            Self::Wild => "Answers wilder than expected",
            Self::DrawsOut => "Draws out a misconception",
        }
    }
}

/// Returns the sentences, kind by kind, then in the order of the questions.
pub(super) fn remarks(
    basis: &figures::Basis<'_>,
    questions: &[questions::QuestionFigures],
) -> Vec<Remark> {
    let ladders = levels::ladders(basis, questions);
    let mut remarks = Vec::new();
    for question in questions.iter().filter(|it| it.pupils.is_ok()) {
        let mut say = |kind, text| {
            remarks.push(Remark {
                kind,
                label: question.label.clone(),
                text,
            });
        };
        let misplaced = ladders
            .iter()
            .find_map(|ladder| misplaced(question, ladder));
        if let Some((kind, text)) = misplaced {
            say(kind, text);
        }
        if let Ok(telling) = question.point_biserial {
            let range = telling.range();
            if telling.high < 0.0 {
                say(
                    Kind::Against,
                    format!(
                        "Pupils who do well on the rest do worse on it (point-biserial {range}). \
                         Look at its wording and its answer first."
                    ),
                );
            } else if telling.high < POOR {
                say(
                    Kind::NotTelling,
                    format!(
                        "Pupils who do well on the rest do hardly better on it (point-biserial \
                         {range}). Look whether it is read otherwise than it is meant, or \
                         guessed."
                    ),
                );
            }
        }
        if let Ok(infit) = question.infit
            && infit.value > infit.high
            && infit.value > WILD
        {
            say(
                Kind::Wild,
                format!(
                    "Infit {}, expected {}: able pupils miss it and others get it more often \
                     than its place lets expect.",
                    figures::decimal(infit.value),
                    infit.range()
                ),
            );
        }
        if let Some(drawn) = &question.draws_out
            && drawn.answers.saturating_mul(ONE_IN) >= drawn.wrong
        {
            say(
                Kind::DrawsOut,
                format!(
                    "{} of its {} wrong answers are consistent with someone who {}.",
                    drawn.answers, drawn.wrong, drawn.name
                ),
            );
        }
    }
    remarks.sort_by_key(|remark| remark.kind);
    remarks
}

/// Whether a question is harder or easier than its level says.
fn misplaced(
    question: &questions::QuestionFigures,
    ladder: &levels::Ladder<'_>,
) -> Option<(Kind, String)> {
    let levels::Ladder { scale, by_level } = ladder;
    let [level] = question.levels[..] else {
        return None;
    };
    let own = by_level.get(&level)?;
    let this = *own.iter().find(|it| it.name == question.label)?;
    let others: Vec<&answers::Question> = own.iter().copied().filter(|it| *it != this).collect();
    let against = |others: &[&answers::Question]| {
        let apart = scale.apart([this], others.iter().copied()).ok()?;
        Some(figures::Span::of(&apart))
    };
    let of_own = against(&others);
    let above = by_level.range(level..).find(|(it, _)| **it > level);
    let below = by_level.range(..level).next_back();
    for (kind, other, sign) in [(Kind::Harder, above, 1.0), (Kind::Easier, below, -1.0)] {
        let Some((other, members)) = other else {
            continue;
        };
        // Alone on its level it is held against the other level only.
        let is_so = |span: &figures::Span| span.is_beyond_error() && span.value * sign > 0.0;
        let from_own = of_own.as_ref().is_none_or(is_so);
        let Some(from_other) = against(members).filter(|span| is_so(span) && from_own) else {
            continue;
        };
        let (word, place) = match kind {
            Kind::Harder => ("harder", "over"),
            Kind::Easier | Kind::Against | Kind::NotTelling | Kind::Wild | Kind::DrawsOut => {
                ("easier", "under")
            }
        };
        let text = format!(
            "Asked at level {level}, it is {word} than the questions of level {other}: {} \
             logits {place} their middle ({}). Move it, or look what makes it {word}.",
            figures::decimal(from_other.value.abs()),
            from_other.range(),
        );
        return Some((kind, text));
    }
    None
}
