//! A question of the homework, worked in other numbers.

use crate::answer;
use crate::feedback;
use crate::feedback::line;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::homework;
use crate::item;
use crate::item::fresh;
use crate::misconception;
use crate::seed;
use crate::wording;
use std::collections::BTreeMap;

/// Where examples come from: the pupils' own questions.
pub(super) struct Examples<'a> {
    request: &'a feedback::Request<'a>,
    sheets: BTreeMap<&'a str, &'a homework::Sheet>,
}

impl<'a> Examples<'a> {
    /// Returns the questions of a homework by pupil.
    pub(super) fn new(request: &'a feedback::Request<'a>) -> Self {
        let homework = request.homework;
        let sheets = homework.pupils.iter().filter_map(|assignment| {
            let sheet = homework.sheets.get(assignment.sheet)?;
            Some((assignment.pupil.id.as_str(), sheet))
        });
        Self {
            request,
            sheets: sheets.collect(),
        }
    }

    /// The questions of a pupil.
    pub(super) fn items(&self, pupil_id: &str) -> &'a [item::Item] {
        self.sheets
            .get(pupil_id)
            .map_or(&[], |sheet| sheet.items.as_slice())
    }

    /// One question of a pupil.
    pub(super) fn item(&self, pupil_id: &str, question: &str) -> Option<&'a item::Item> {
        self.items(pupil_id)
            .iter()
            .find(|item| item.number == question)
    }

    /// Returns a question worked in other numbers than any pupil has, or in its own
    /// where no others fit; nothing where it has no answer.
    pub(super) fn of(&self, item: &item::Item) -> Option<feedback::Example> {
        let words = self.request.words;
        let name = ["feedback", self.request.seed, &item.bank, &item.template];
        let number = u64::from(item.level.number());
        let mut stream = seed::Stream::named(&name, number);
        let fresh = fresh::like(item, &self.taken(item), &mut stream);
        let (lead, item) = if let Some(fresh) = fresh {
            (words.line(line::Line::Example, &[]), fresh)
        } else {
            let places = [("question", bare_number(&item.number))];
            let lead = words.line(line::Line::ExampleSame, &places);
            (lead, item.clone())
        };
        let worked = solve::answer(&item.mechanism, &item.ask).ok()?;
        let answer = said(&worked.fact, &item);
        let places = [("answer", answer.as_str())];
        Some(feedback::Example {
            lead,
            steps: wording::steps(&item.mechanism, &worked.steps),
            answer_line: words.line(line::Line::Answer, &places),
            answer,
            item,
        })
    }

    /// The mechanisms that pupils have in this place.
    fn taken(&self, item: &item::Item) -> Vec<&'a mechanism::Mechanism> {
        self.request
            .homework
            .sheets
            .iter()
            .flat_map(|sheet| &sheet.items)
            .filter(|other| (&other.bank, &other.template) == (&item.bank, &item.template))
            .map(|other| &other.mechanism)
            .collect()
    }
}

/// Returns the answer that an idea leads to, as it is written down; nothing where it
/// leads to the right one or does not apply.
pub(super) fn wrong_answer(
    example: &feedback::Example,
    ideas: &[&'static misconception::Misconception],
) -> Option<(&'static misconception::Misconception, String)> {
    let item = &example.item;
    misconception::predictions(&item.mechanism, &item.ask)
        .into_iter()
        .filter(|prediction| ideas.contains(&prediction.misconception))
        .map(|prediction| (prediction.misconception, said(&prediction.fact, item)))
        .find(|(_, answer)| *answer != example.answer)
}

/// The number of a question without its letter Q.
pub(super) fn bare_number(number: &str) -> &str {
    number.strip_prefix('Q').unwrap_or(number)
}

/// An answer as it is written down; of an explanation what is explained, with one
/// reason.
fn said(fact: &ask::Fact, item: &item::Item) -> String {
    let expected = answer::expected(fact, &item.form);
    match (&item.form, fact) {
        (answer::Form::Explanation(explaining), ask::Fact::Reasons(reasons)) => {
            let shown = explaining.shown(&reasons.conclusion);
            match reasons.key.first() {
                Some(idea) => format!("{shown}, because {}", idea.name()),
                None => shown,
            }
        }
        // A child reads "turns a minute" where a teacher's list has "rpm".
        (answer::Form::Number { unit, .. }, _) => match expected.strip_suffix(unit.text()) {
            Some(number) => format!("{number}{}", wording::answer_unit(*unit)),
            None => expected,
        },
        (
            answer::Form::Explanation(_)
            | answer::Form::Ratio { .. }
            | answer::Form::List { .. }
            | answer::Form::Gears { .. },
            _,
        ) => expected,
    }
}
