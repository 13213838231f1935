//! Questions worked once for all sheets, where every pupil has other questions.

use crate::gears::solve;
use crate::homework;
use crate::item;
use crate::item::question;
use crate::level;
use crate::paper::scheme;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Up to so many different sheets are each worked in full, question by question as
/// they stand; more would be a book.
const MOST_IN_FULL: usize = 4;

/// What makes questions the same but for their numbers: level, skill, bank, template.
type Key = (level::Level, level::Skill, String, String);

/// One example of every question on any sheet.
pub(super) struct Examples {
    numbers: BTreeMap<Key, usize>,
    /// The examples as a sheet of their own.
    pub(super) sheet: homework::Sheet,
    /// Their answers, item by item.
    pub(super) answers: Vec<solve::Worked>,
}

impl Examples {
    /// The number of the example that an item is like, with its part's letter.
    pub(super) fn number(&self, item: &item::Item) -> Option<String> {
        let number = self.numbers.get(&key(item))?;
        let (_, letter) = question::number_and_letter(&item.number);
        Some(format!("{number}{letter}"))
    }
}

/// Returns the examples of a homework with many different sheets, the easiest first;
/// nothing where there are few, which are worked in full.
pub(super) fn examples(
    homework: &homework::Homework,
    answers: &scheme::Answers,
) -> Option<Examples> {
    let kinds: BTreeSet<String> = homework.sheets.iter().map(scheme::kind).collect();
    if kinds.len() <= MOST_IN_FULL {
        return None;
    }
    let mut found: BTreeMap<Key, Vec<(&item::Item, &solve::Worked)>> = BTreeMap::new();
    for (sheet, answers) in homework.sheets.iter().zip(answers) {
        let mut questions: BTreeMap<String, Vec<(&item::Item, &solve::Worked)>> = BTreeMap::new();
        for (item, worked) in sheet.items.iter().zip(answers) {
            let (number, _) = question::number_and_letter(&item.number);
            questions.entry(number).or_default().push((item, worked));
        }
        for parts in questions.into_values() {
            if let Some((first, _)) = parts.first() {
                found.entry(key(first)).or_insert(parts);
            }
        }
    }
    let mut examples = Examples {
        numbers: BTreeMap::new(),
        sheet: homework::Sheet {
            version: String::new(),
            items: Vec::new(),
        },
        answers: Vec::new(),
    };
    for ((key, parts), number) in found.into_iter().zip(1..) {
        for (item, worked) in parts {
            examples.sheet.items.push(renumbered(item, number));
            examples.answers.push(worked.clone());
        }
        examples.numbers.insert(key, number);
    }
    Some(examples)
}

fn key(item: &item::Item) -> Key {
    (
        item.level,
        item.skill,
        item.bank.clone(),
        item.template.clone(),
    )
}

/// The item as a part of a question with another number.
fn renumbered(item: &item::Item, number: usize) -> item::Item {
    let other = |old: &str| {
        let (_, letter) = question::number_and_letter(old);
        format!("Q{number}{letter}")
    };
    item::Item {
        number: other(&item.number),
        follows: item.follows.iter().map(|earlier| other(earlier)).collect(),
        ..item.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::examples;

    /// A homework in which every pupil has other questions: each sheet has one left out.
    fn many_sheets() -> homework::Homework {
        let mut homework = examples::homework(&["Ada"], 4);
        let mut whole = homework.sheets.first().expect("a sheet").items.clone();
        for item in &mut whole {
            let (question, _) = question::number_and_letter(&item.number);
            item.template = format!("template-{question}");
        }
        homework.sheets = (0..6)
            .map(|left_out| {
                let left = whole.iter().enumerate();
                let items = left.filter(|(index, _)| *index != left_out);
                homework::Sheet {
                    version: format!("V{left_out}"),
                    items: items.map(|(_, item)| item.clone()).collect(),
                }
            })
            .collect();
        homework
    }

    fn worked(homework: &homework::Homework) -> scheme::Answers {
        scheme::answers(homework).expect("every item can be solved")
    }

    #[test]
    fn few_sheets_are_worked_in_full() {
        let homework = examples::homework(&["Ada"], 4);
        assert!(examples(&homework, &worked(&homework)).is_none());
    }

    #[test]
    fn every_question_of_many_sheets_is_worked_once_and_found() {
        let homework = many_sheets();
        let found = examples(&homework, &worked(&homework)).expect("many sheets");
        assert_eq!(found.sheet.items.len(), found.answers.len());
        let mut shown = BTreeSet::new();
        for item in &found.sheet.items {
            assert!(shown.insert(item.number.clone()), "{} twice", item.number);
        }
        for item in homework.sheets.iter().flat_map(|sheet| &sheet.items) {
            let number = found.number(item).expect("every item has its example");
            let example = found
                .sheet
                .items
                .iter()
                .find(|it| it.number == format!("Q{number}"));
            let example = example.expect("the example is worked");
            assert_eq!(example.template, item.template);
        }
    }
}
