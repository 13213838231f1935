//! How far two markers agree on a sample, and where they do not.

use crate::homework;
use crate::marking;
use crate::marking::check;
use crate::marking::second_look;
use crate::number;
use crate::statistics::kappa;
use std::collections::BTreeMap;

/// What came of a second look.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report<'a> {
    /// The sample.
    pub look: &'a second_look::Look,
    /// Agreement over all answers first, then by what questions are worth where
    /// that differs, then question by question.
    pub lines: Vec<Line<'a>>,
    /// The answers with two different marks, in the order of the questions.
    pub disagreements: Vec<Pair<'a>>,
    /// Answers that were typed anew since the sample was drawn, and so are left out.
    pub changed: Vec<&'a second_look::Row>,
    /// How many answers of the sample have no second mark yet.
    pub waiting: usize,
}

/// Agreement over some of the answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line<'a> {
    /// Which.
    pub group: Group<'a>,
    /// The marks of both, apart for each number of marks a question is worth.
    pub by_worth: BTreeMap<u8, kappa::Pairs>,
}

/// Some of the answers of a sample.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group<'a> {
    /// All of them.
    All,
    /// Those to questions worth so many marks.
    Worth(u8),
    /// Those to one question.
    Question(&'a str),
}

/// One answer with both marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pair<'a> {
    /// The answer in the sample, with the first mark.
    pub row: &'a second_look::Row,
    /// The second mark.
    pub second: u8,
    /// The mark as it is now; a person may have changed it since.
    pub mark: &'a marking::Mark,
    /// Whose answer.
    pub pupil: &'a homework::Pupil,
}

/// Returns what came of the second look whose marks came back last; none where
/// none have.
#[must_use]
pub fn of(marked: &marking::Marked) -> Option<Report<'_>> {
    let look = marked
        .second_looks
        .iter()
        .filter(|look| look.has_marks())
        .max_by_key(|look| &look.given_back_on)?;
    let mut answers: BTreeMap<(&str, &str), (&homework::Pupil, &marking::Mark)> = BTreeMap::new();
    for entry in &marked.pupils {
        for mark in &entry.marks {
            let key = (entry.pupil.id.as_str(), mark.question.as_str());
            answers.insert(key, (&entry.pupil, mark));
        }
    }
    let mut pairs: Vec<Pair<'_>> = Vec::new();
    let mut changed = Vec::new();
    let mut waiting = 0;
    for row in &look.rows {
        let now = answers.get(&(row.pupil_id.as_str(), row.question.as_str()));
        match (now, row.second) {
            (Some((pupil, mark)), Some(second)) if mark.code == row.code => pairs.push(Pair {
                row,
                second,
                mark,
                pupil,
            }),
            (Some((_, mark)), None) if mark.code == row.code => waiting += 1,
            (Some(_) | None, Some(_) | None) => changed.push(row),
        }
    }
    let order = check::question_order(marked);
    pairs.sort_by_key(|pair| order.get(pair.row.question.as_str()).copied());
    Some(Report {
        look,
        lines: lines(&pairs),
        disagreements: pairs
            .iter()
            .filter(|pair| pair.row.first != pair.second)
            .copied()
            .collect(),
        changed,
        waiting,
    })
}

fn lines<'a>(pairs: &[Pair<'a>]) -> Vec<Line<'a>> {
    let mut worths: Vec<u8> = pairs.iter().map(|pair| pair.mark.out_of).collect();
    worths.sort_unstable();
    worths.dedup();
    let mut questions: Vec<&str> = Vec::new();
    for pair in pairs {
        if !questions.contains(&pair.row.question.as_str()) {
            questions.push(&pair.row.question);
        }
    }
    let mut groups = vec![Group::All];
    if worths.len() > 1 {
        groups.extend(worths.into_iter().map(Group::Worth));
    }
    groups.extend(questions.into_iter().map(Group::Question));
    groups
        .into_iter()
        .map(|group| {
            let mut marks: BTreeMap<u8, Vec<(u8, u8)>> = BTreeMap::new();
            for pair in pairs.iter().filter(|pair| group.holds(pair)) {
                let marks = marks.entry(pair.mark.out_of).or_default();
                marks.push((pair.row.first, pair.second));
            }
            let by_worth = marks.into_iter();
            Line {
                group,
                by_worth: by_worth
                    .map(|(worth, marks)| (worth, kappa::Pairs::of(marks)))
                    .collect(),
            }
        })
        .collect()
}

impl Line<'_> {
    /// How many answers both marked.
    #[must_use]
    pub fn items(&self) -> u64 {
        self.by_worth.values().map(kappa::Pairs::items).sum()
    }

    /// How many answers got the same mark twice.
    #[must_use]
    pub fn same(&self) -> u64 {
        self.by_worth.values().map(kappa::Pairs::same).sum()
    }

    /// Returns the raw agreement in percent, rounded half up; none without answers.
    #[must_use]
    pub fn agreement_percent(&self) -> Option<u32> {
        let observed = kappa::observed(&self.parts()).ok()?;
        let percent = observed.times(number::Number::whole(100)).ok()?;
        let rounded = number::round_half_up(percent.into(), number::Precision::Places(0)).ok()?;
        u32::try_from(rounded.as_whole()?).ok()
    }

    /// Returns kappa to two decimal places, or why it means nothing.
    #[must_use]
    pub fn kappa_text(&self) -> String {
        figure_text(kappa::pooled(&self.parts()))
    }

    /// Returns kappa weighted by how many marks apart, to two decimal places, or why
    /// it means nothing; none where no question is worth more than one mark.
    #[must_use]
    pub fn weighted_kappa_text(&self) -> Option<String> {
        let is_worth_more = self.by_worth.keys().any(|worth| *worth > 1);
        let weighted = || kappa::pooled_weighted(&self.parts(), kappa::Weights::Linear);
        is_worth_more.then(|| figure_text(weighted()))
    }

    fn parts(&self) -> Vec<kappa::Pairs> {
        self.by_worth.values().cloned().collect()
    }
}

fn figure_text(figure: kappa::Figure) -> String {
    let places = number::Precision::Places(2);
    match figure.map(|figure| number::round_half_up(figure.into(), places)) {
        Ok(Ok(rounded)) => number::rounded_text(rounded, places),
        Ok(Err(error)) => error.to_string(),
        Err(why) => why.to_string(),
    }
}

impl Group<'_> {
    fn holds(&self, pair: &Pair<'_>) -> bool {
        match self {
            Self::All => true,
            Self::Worth(marks) => pair.mark.out_of == *marks,
            Self::Question(question) => pair.row.question == *question,
        }
    }
}
