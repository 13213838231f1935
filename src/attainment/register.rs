//! A number for each pupil, so that sets of pupils are sets of small numbers.

use crate::attainment::who;
use std::collections::BTreeMap;

/// Every pupil once, numbered as they came.
#[derive(Debug, Clone, Default)]
pub(super) struct Register {
    numbers: BTreeMap<who::Who, u32>,
}

/// How the pupils of another [`Register`] are numbered here.
#[derive(Debug)]
pub(super) struct Renumbering(Vec<u32>);

impl Register {
    /// Returns the number of a pupil.
    pub(super) fn number(&mut self, who: who::Who) -> u32 {
        let next = u32::try_from(self.numbers.len());
        let next = next.expect("memory ends before there are four thousand million pupils");
        *self.numbers.entry(who).or_insert(next)
    }

    /// Returns the number of a pupil who has one.
    pub(super) fn known(&self, who: who::Who) -> Option<u32> {
        self.numbers.get(&who).copied()
    }

    /// Returns how many pupils there are.
    pub(super) fn pupils(&self) -> usize {
        self.numbers.len()
    }

    /// Returns how many pupils share their id with one of another name.
    pub(super) fn namesakes(&self) -> usize {
        let pupils: Vec<&who::Who> = self.numbers.keys().collect();
        // Equal ids stand side by side.
        let is_namesake = |one: usize, other: usize| match (pupils.get(one), pupils.get(other)) {
            (Some(one), Some(other)) => one.is_namesake(**other),
            (None, _) | (_, None) => false,
        };
        (0..pupils.len())
            .filter(|place| {
                is_namesake(*place, place + 1)
                    || place
                        .checked_sub(1)
                        .is_some_and(|before| is_namesake(before, *place))
            })
            .count()
    }

    /// Takes up all pupils of another.
    pub(super) fn join(&mut self, other: &Self) -> Renumbering {
        let mut numbers = vec![0; other.numbers.len()];
        for (who, number) in &other.numbers {
            numbers[place(*number)] = self.number(*who);
        }
        Renumbering(numbers)
    }
}

impl Renumbering {
    /// Returns how a number of the other stands here.
    pub(super) fn here(&self, number: u32) -> u32 {
        self.0[place(number)]
    }
}

/// A number as a place in a list.
fn place(number: u32) -> usize {
    usize::try_from(number).expect("lists of this length fit into memory")
}
