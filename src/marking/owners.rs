//! Which pupil of a roll an id means, as people and spreadsheet programs write ids.

use crate::homework;
use std::collections::BTreeMap;

/// The pupils of a homework by their ids.
#[derive(Debug)]
pub struct Owners<'a> {
    exact: BTreeMap<&'a str, usize>,
    /// By what is left of an id; none where several have it alike.
    loose: BTreeMap<String, Option<usize>>,
}

impl<'a> Owners<'a> {
    /// Returns the pupils of a homework.
    #[must_use]
    pub fn of(homework: &'a homework::Homework) -> Self {
        let mut owners = Self {
            exact: BTreeMap::new(),
            loose: BTreeMap::new(),
        };
        for (index, assigned) in homework.pupils.iter().enumerate() {
            let id = assigned.pupil.id.as_str();
            owners.exact.entry(id).or_insert(index);
            owners
                .loose
                .entry(loosened(id))
                .and_modify(|only| *only = None)
                .or_insert(Some(index));
        }
        owners
    }

    /// Returns the place on the roll of the pupil whom a typed id means: the same text, else
    /// the only one that differs in capitals, white space or leading noughts alone
    /// (spreadsheet programs turn `007` into `7`).
    #[must_use]
    pub fn owner(&self, typed: &str) -> Option<usize> {
        let typed = typed.trim();
        if let Some(index) = self.exact.get(typed) {
            return Some(*index);
        }
        let loose = loosened(typed);
        if loose.is_empty() {
            return None;
        }
        self.loose.get(&loose).copied().flatten()
    }
}

fn loosened(id: &str) -> String {
    let id: String = id
        .chars()
        .filter(|sign| !sign.is_whitespace())
        .flat_map(char::to_lowercase)
        .collect();
    id.trim_start_matches('0').to_owned()
}
