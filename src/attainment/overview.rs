//! What holds, what does not, and what to do next, in sentences.
//!
//! No band and no threshold is built in: skills are only put in order, and the
//! school says what is good enough.

use crate::attainment;
use crate::attainment::care;
use crate::attainment::count;
use crate::level;
use crate::number;

/// How many skills and misconceptions are named in each list.
const MOST_NAMED: usize = 3;

/// Under this many pupils small differences say nothing.
///
/// Source: the usual floor for reporting survey results (base under 30 not
/// shown, Sport England children's survey); with 30 pupils and half of them
/// right, the share in a larger group lies anywhere from about 33 to 67 in 100.
const FEWEST_TO_COMPARE: u32 = 30;

/// What a sentence is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Theme {
    /// What the numbers cover.
    Covers,
    /// What holds best.
    Holds,
    /// What holds least.
    DoesNotHold,
    /// What to do next.
    Next,
    /// What to bear in mind.
    Care,
}

/// One sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// What it is about.
    pub theme: Theme,
    /// The sentence.
    pub text: String,
}

impl Theme {
    /// Returns its heading.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Covers => "What this covers",
            Self::Holds => "What holds best",
            Self::DoesNotHold => "What holds least",
            Self::Next => "What to do next",
            Self::Care => "Please bear in mind",
        }
    }
}

/// Returns the sentences about a summary, in the order of their themes.
pub(super) fn remarks(summary: &attainment::Summary, care: &care::Care) -> Vec<Remark> {
    let mut remarks = Vec::new();
    let mut say = |theme, texts: Vec<String>| {
        remarks.extend(texts.into_iter().map(|text| Remark { theme, text }));
    };
    let ranked = ranked(&summary.skills);
    let (best, least) = halves(&ranked);
    say(Theme::Covers, covers(summary));
    say(
        Theme::Holds,
        best.iter().map(|skill| skill.text()).collect(),
    );
    say(
        Theme::DoesNotHold,
        least.iter().map(|skill| skill.text()).collect(),
    );
    say(Theme::Next, next(summary, &least));
    say(Theme::Care, cares(summary, care));
    remarks
}

/// A skill whose facility may be told.
struct Ranked<'a> {
    label: &'a str,
    facility: number::Number,
    figures: &'a count::Figures,
}

impl Ranked<'_> {
    /// `Ratio: 43 in 100 marks earned (61 pupils, 122 answers).`
    fn text(&self) -> String {
        format!(
            "{}: {} of the marks earned ({}).",
            self.label,
            percent(self.facility),
            pupils_and_answers(self.figures, ""),
        )
    }
}

/// The skills that may be ranked, the best first.
fn ranked(rows: &[attainment::Row]) -> Vec<Ranked<'_>> {
    let mut ranked: Vec<Ranked<'_>> = rows
        .iter()
        .filter_map(|row| match &row.shown {
            count::Shown::InFull {
                figures,
                facility: Some(facility),
            } => Some(Ranked {
                label: &row.label,
                facility: *facility,
                figures,
            }),
            count::Shown::InFull { facility: None, .. }
            | count::Shown::CountsOnly { .. }
            | count::Shown::Hidden(_) => None,
        })
        .collect();
    ranked.sort_by(|one, other| {
        (other.facility.cmp(&one.facility)).then_with(|| one.label.cmp(other.label))
    });
    ranked
}

/// The best few and the least few, the least first; no skill is in both.
fn halves<'a, 'b>(ranked: &'a [Ranked<'b>]) -> (Vec<&'a Ranked<'b>>, Vec<&'a Ranked<'b>>) {
    let named = (ranked.len() / 2).min(MOST_NAMED);
    let best = ranked.iter().take(named).collect();
    let least = ranked.iter().rev().take(named).collect();
    (best, least)
}

fn covers(summary: &attainment::Summary) -> Vec<String> {
    let homeworks = u32::try_from(summary.homeworks.len()).unwrap_or(u32::MAX);
    match &summary.whole.shown {
        count::Shown::Hidden(_) => vec![format!(
            "{}, handed in by fewer than 5 pupils: too few to report.",
            said(homeworks, "homework")
        )],
        count::Shown::CountsOnly { figures } if figures.pupils == 0 => vec![format!(
            "{}, handed in by nobody: too few to report.",
            said(homeworks, "homework")
        )],
        count::Shown::CountsOnly { figures } | count::Shown::InFull { figures, .. } => {
            vec![format!(
                "{}, {}.",
                said(homeworks, "homework"),
                pupils_and_answers(figures, " attempted or left blank"),
            )]
        }
    }
}

/// What to do: the commonest misconceptions, then what was not asked at all.
fn next(summary: &attainment::Summary, least: &[&Ranked<'_>]) -> Vec<String> {
    let mut texts = Vec::new();
    for row in summary.misconceptions.rows.iter().take(MOST_NAMED) {
        let (count::Count::Pupils(again), count::Count::Pupils(pupils)) =
            (row.again, summary.misconceptions.pupils)
        else {
            continue;
        };
        if again > 0 {
            let mut text = format!(
                "{again} of {pupils} pupils gave two answers or more that are consistent with \
                 someone who {}.",
                row.name
            );
            if !row.next.is_empty() {
                text.push_str(" Try next: ");
                text.push_str(&row.next);
            }
            texts.push(text);
        }
    }
    if let Some(skill) = least.first() {
        texts.push(format!(
            "Look first at {}: it stands lowest. The worksheet Questions shows where.",
            skill.label.to_lowercase()
        ));
    }
    let is_asked =
        |skill: &level::Skill| summary.skills.iter().any(|row| row.label == skill.title());
    let missing: Vec<String> = level::SKILLS
        .iter()
        .filter(|skill| !is_asked(skill))
        .map(|skill| skill.title().to_lowercase())
        .collect();
    if !missing.is_empty() {
        texts.push(format!(
            "Not asked in any of these homeworks: {}.",
            missing.join(", ")
        ));
    }
    texts
}

fn cares(summary: &attainment::Summary, care: &care::Care) -> Vec<String> {
    let mut texts = care.sentences();
    match &summary.whole.shown {
        count::Shown::CountsOnly { figures } | count::Shown::InFull { figures, .. } => {
            if figures.pupils < FEWEST_TO_COMPARE {
                texts.push(format!(
                    "Only {} pupils: small differences between skills or groups may be chance.",
                    figures.pupils
                ));
            }
            let not_reached = figures.answers.as_ref().map_or(0, |it| it.not_reached);
            if not_reached > 0 {
                texts.push(format!(
                    "{} not reached before the pupil stopped; they count for no question.",
                    was_or_were(not_reached, "answer")
                ));
            }
        }
        count::Shown::Hidden(_) => {}
    }
    if has_hidden(summary) {
        texts.push(
            "Groups of fewer than 5 pupils are not shown, nor what they could be found from by \
             adding and subtracting any tables of this report. Groups of 5 to 9 are shown by \
             numbers only."
                .to_owned(),
        );
    }
    if let Some(classes) = summary.classes_left_out {
        texts.push(format!(
            "There are {classes} classes: too many to be told one by one."
        ));
    }
    texts.push(
        "These are results of these homeworks only. Different pupils answered different \
         questions, so a difference between groups is not progress."
            .to_owned(),
    );
    texts
}

/// Whether any group is hidden or shown by counts only.
fn has_hidden(summary: &attainment::Summary) -> bool {
    [
        &summary.years,
        &summary.classes,
        &summary.groups,
        &summary.skills,
        &summary.levels,
        &summary.questions,
        &summary.school_years,
        &summary.terms,
    ]
    .into_iter()
    .flatten()
    .map(|row| &row.shown)
    .chain(summary.skills_by_year.shown())
    .chain(summary.skills_by_class.shown())
    .any(|shown| match shown {
        count::Shown::Hidden(_) | count::Shown::CountsOnly { .. } => true,
        count::Shown::InFull { .. } => false,
    })
}

/// `61 pupils, 122 answers`; the answers only where they may be told.
fn pupils_and_answers(figures: &count::Figures, which: &str) -> String {
    let pupils = said(figures.pupils, "pupil");
    match figures.counted() {
        Some(answers) => format!("{pupils}, {}{which}", said(answers, "answer")),
        None => pupils,
    }
}

/// `43 %`, rounded half up.
fn percent(share: number::Number) -> String {
    let hundred = number::Number::whole(100);
    share
        .times(hundred)
        .and_then(|value| number::round_half_up(value.into(), number::Precision::Places(0)))
        .map_or_else(
            |_| "an unknown share".to_owned(),
            |value| format!("{value} %"),
        )
}

/// `1 pupil`, `2 pupils`.
fn said(count: u32, thing: &str) -> String {
    if count == 1 {
        format!("1 {thing}")
    } else {
        format!("{count} {thing}s")
    }
}

/// `1 answer was`, `2 answers were`.
fn was_or_were(count: u32, thing: &str) -> String {
    if count == 1 {
        format!("1 {thing} was")
    } else {
        format!("{count} {thing}s were")
    }
}
