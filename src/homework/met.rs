//! What a pupil has met before: questions with their numbers, and templates.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::item;
use crate::item::pool;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// A question with its numbers, whatever its story: bank, template, and what each
/// part holds and asks.
type Question = Vec<String>;

/// What one pupil has met before.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Met {
    questions: BTreeSet<Question>,
    /// How many homeworks ago a template was last set: 1 for the last one.
    templates: BTreeMap<(String, String), u32>,
}

impl Met {
    /// Adds every question of a sheet that the pupil had; the parts of a question
    /// stand together.
    pub fn add_items<'i>(&mut self, items: impl IntoIterator<Item = &'i item::Item>) {
        let mut number = "";
        let mut question: Question = Vec::new();
        for item in items {
            let of_question = item.number.trim_end_matches(char::is_alphabetic);
            if of_question != number {
                if !question.is_empty() {
                    self.questions.insert(question);
                }
                number = of_question;
                question = vec![item.bank.clone(), item.template.clone()];
            }
            question.push(part(&item.mechanism, &item.ask));
        }
        if !question.is_empty() {
            self.questions.insert(question);
        }
    }

    /// Says how many homeworks ago a template was set; the newest time counts.
    pub fn add_template(&mut self, bank: &str, template: &str, homeworks_ago: u32) {
        let known = self
            .templates
            .entry((bank.to_owned(), template.to_owned()))
            .or_insert(homeworks_ago);
        *known = homeworks_ago.min(*known);
    }

    /// How many homeworks ago the template was last set.
    pub(super) fn homeworks_ago(&self, bank: &str, template: &str) -> Option<u32> {
        self.templates
            .get(&(bank.to_owned(), template.to_owned()))
            .copied()
    }

    /// Whether any question of the template has been met.
    pub(super) fn has_template(&self, bank: &str, template: &str) -> bool {
        let start = vec![bank.to_owned(), template.to_owned()];
        self.questions
            .range(start.clone()..)
            .next()
            .is_some_and(|question| question.starts_with(&start))
    }

    /// Whether this very question has been met, in whatever story.
    pub(super) fn has(&self, bank: &str, template: &str, version: &pool::Version) -> bool {
        let mut question = vec![bank.to_owned(), template.to_owned()];
        question.extend(version.parts.iter().map(|it| part(&it.mechanism, &it.ask)));
        self.questions.contains(&question)
    }
}

fn part(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> String {
    let mut lines = notation::write(mechanism);
    lines.push(notation::write_ask(ask, mechanism));
    lines.join("\n")
}
