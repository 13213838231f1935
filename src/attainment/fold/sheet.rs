//! What a pupil scored on which questions, in as few bytes as can be.

use crate::attainment;
use crate::attainment::fold;
use crate::attainment::group;
use crate::attainment::names;
use crate::attainment::register;
use crate::attainment::tally;
use crate::statistics::rasch::answers;
use std::collections::BTreeMap;

/// The same questions done in one class and year on one day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Sheet {
    /// The class at the time.
    pub(in crate::attainment) class: names::Name,
    /// The year at the time.
    pub(in crate::attainment) year: names::Name,
    /// The date the homework was set.
    pub(in crate::attainment) set_on: names::Name,
    /// The questions, as [`text`] writes them.
    pub(in crate::attainment) questions: names::Name,
}

/// What one pupil scored on one sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Done {
    /// The questions, as [`text`] writes them.
    pub(in crate::attainment) questions: names::Name,
    /// The marks on all of them.
    pub(in crate::attainment) score: u16,
}

impl Sheet {
    pub(super) fn here(self, names: &names::Renaming) -> Self {
        Self {
            class: names.here(self.class),
            year: names.here(self.year),
            set_on: names.here(self.set_on),
            questions: names.here(self.questions),
        }
    }
}

/// Returns a pupil's marks for the statistics of questions: nought for a blank, and
/// without the questions that were not reached or not expected.
pub(in crate::attainment) fn marks(pupil: &attainment::Pupil) -> Vec<(answers::Question, u8)> {
    let mut times: BTreeMap<String, u32> = BTreeMap::new();
    let mut marks: Vec<(answers::Question, u8)> = Vec::new();
    for answer in &pupil.answers {
        let part = fold::part(&answer.question);
        let key = group::question(answer.skill, &answer.bank, &answer.template, &part);
        let time = times.entry(key.label.clone()).or_default();
        *time = time.saturating_add(1);
        // A template may stand on a sheet twice, with other numbers.
        let name = if *time > 1 {
            format!("{} ({time})", key.label)
        } else {
            key.label
        };
        if tally::counts_for_facility(answer.state) && answer.out_of > 0 {
            let full = answer.out_of;
            marks.push((answers::Question { name, full }, answer.marks));
        }
    }
    marks.sort_unstable();
    marks
}

/// Returns the score of some marks.
pub(in crate::attainment) fn score(marks: &[(answers::Question, u8)]) -> u16 {
    marks
        .iter()
        .fold(0, |sum: u16, it| sum.saturating_add(u16::from(it.1)))
}

/// Returns the questions of some marks as one text: a line for each, its worth first.
fn text(marks: &[(answers::Question, u8)]) -> String {
    let lines: Vec<String> = marks
        .iter()
        .map(|(question, _)| format!("{} {}", question.full, question.name))
        .collect();
    lines.join("\n")
}

/// Returns the questions of such a text.
pub(in crate::attainment) fn questions(text: &str) -> Vec<answers::Question> {
    let lines = text.lines().filter_map(|line| line.split_once(' '));
    lines
        .map(|(full, name)| answers::Question {
            name: name.to_owned(),
            // What is no worth is no question of any scale.
            full: full.parse().unwrap_or(0),
        })
        .collect()
}

impl fold::Fold {
    /// Counts a pupil's marks for the statistics of questions and for growth.
    pub(super) fn add_scores(
        &mut self,
        standing: fold::kept::Standing,
        pupil: &attainment::Pupil,
        set_on: names::Name,
    ) {
        let marks = marks(pupil);
        // A sheet without a question that counts fits in no table.
        if self.scores.add(&marks).is_err() {
            return;
        }
        let questions = self.names.name(&text(&marks));
        let score = score(&marks);
        let sheet = Sheet {
            class: standing.class,
            year: standing.year,
            set_on,
            questions,
        };
        let scores = self.sheets.entry(sheet).or_default();
        fold::kept::more(scores, score, 1);
        let done = Done { questions, score };
        self.done.entry(standing).or_default().push(done);
    }

    /// Adds what another fold has of sheets.
    pub(super) fn merge_sheets(
        &mut self,
        other: &Self,
        names: &names::Renaming,
        pupils: &register::Renumbering,
    ) {
        for (sheet, scores) in &other.sheets {
            let mine = self.sheets.entry(sheet.here(names)).or_default();
            for (score, count) in scores {
                fold::kept::more(mine, *score, *count);
            }
        }
        for (standing, done) in &other.done {
            let standing = standing.here(names, pupils);
            let mine = self.done.entry(standing).or_default();
            mine.extend(done.iter().map(|it| Done {
                questions: names.here(it.questions),
                score: it.score,
            }));
        }
    }
}
