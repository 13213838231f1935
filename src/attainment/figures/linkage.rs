//! Which questions can be weighed against each other, and why others cannot.

use crate::statistics::rasch;
use crate::statistics::rasch::answers;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// How the questions hang together.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Linkage {
    /// For each scale how many questions stand on it and how many pupils it rests on; the
    /// one with most questions first.
    pub scales: Vec<ScaleSize>,
    /// The questions without a place, with the reason, by name.
    pub apart: Vec<Apart>,
    /// The same said in sentences.
    pub sentences: Vec<String>,
}

/// How large a scale is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ScaleSize {
    /// How many questions have a place on it.
    pub questions: usize,
    /// How many pupils' sheets it rests on.
    pub sheets: u64,
}

/// A question without a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Apart {
    /// Its name.
    pub label: String,
    /// Why it has none.
    pub why: String,
}

/// How many questions are named for each reason.
const MOST_NAMED: usize = 6;

/// Returns how the questions hang together.
pub(super) fn of(scales: &rasch::Scales) -> Linkage {
    let sizes: Vec<ScaleSize> = scales
        .scales
        .iter()
        .map(|scale| ScaleSize {
            questions: scale.places.len(),
            sheets: scale.pupils,
        })
        .collect();
    let unscaled = scales.unscaled.iter();
    let apart: Vec<Apart> = unscaled
        .map(|(question, why)| Apart {
            label: question.name.clone(),
            why: why.to_string(),
        })
        .collect();
    let mut sentences = sentences(&sizes, &scales.linked);
    let mut reasons: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for question in &apart {
        let names = reasons.entry(&question.why).or_default();
        names.insert(&question.label);
    }
    for (why, names) in reasons {
        let shown: Vec<&str> = names.iter().copied().take(MOST_NAMED).collect();
        let more = match names.len().saturating_sub(MOST_NAMED) {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        sentences.push(format!(
            "Without a place, because {why}: {}{more}.",
            shown.join("; ")
        ));
    }
    Linkage {
        scales: sizes,
        apart,
        sentences,
    }
}

/// How many scales there are, and whether pupils link all questions.
fn sentences(sizes: &[ScaleSize], linked: &[Vec<answers::Question>]) -> Vec<String> {
    let mut texts = Vec::new();
    match sizes {
        [] if linked.is_empty() => return texts,
        [] => texts.push(
            "No question has a place on a scale: too few pupils, or their answers are too much \
             alike."
                .to_owned(),
        ),
        [one] => texts.push(format!(
            "{} on one scale, from {} with some but not all marks.",
            counted(one.questions, "question stands", "questions stand"),
            sheets(one.sheets),
        )),
        [first, rest @ ..] => {
            let rest: usize = rest.iter().map(|scale| scale.questions).sum();
            texts.push(format!(
                "{} scales: places on two of them cannot be compared. {} on the largest, from \
                 {} with some but not all marks, {} on the others.",
                sizes.len(),
                counted(first.questions, "question stands", "questions stand"),
                sheets(first.sheets),
                rest,
            ));
        }
    }
    if linked.len() > 1 {
        texts.push(format!(
            "The questions fall into {} groups that no pupil did questions of two of. Put a few \
             questions of each group on one sheet to link them.",
            linked.len()
        ));
    } else {
        texts.push("Pupils link all questions: each was done beside another.".to_owned());
    }
    texts
}

fn sheets(count: u64) -> String {
    if count == 1 {
        "1 pupil's sheet".to_owned()
    } else {
        format!("{count} pupils' sheets")
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
