//! One cell of a table while it is filled: counts of answers, and which pupils.

use crate::attainment::register;
use crate::attainment::tally;
use roaring::RoaringBitmap;

/// So many pupils are few.
const FEW: u64 = 256;

/// Answers counted, and the pupils who handed them in.
///
/// The pupils are a compressed set of their numbers, so that each counts once however
/// many homeworks they did, and two sets can be joined.
#[derive(Debug, Clone, Default)]
pub(super) struct Counted {
    answers: tally::Tally,
    pupils: RoaringBitmap,
}

impl Counted {
    /// Adds the answers of one pupil.
    pub(super) fn add(&mut self, pupil: u32, answers: &tally::Tally) {
        self.answers.join(answers);
        if answers.handed_in() > 0 {
            self.pupils.insert(pupil);
        }
    }

    /// Adds another cell of the same fold.
    pub(super) fn join(&mut self, other: &Self) {
        self.answers.join(&other.answers);
        // A union makes the whole set anew; a class more is sooner put in one by one.
        if other.pupils.len() < FEW {
            self.pupils.extend(&other.pupils);
        } else {
            self.pupils |= &other.pupils;
        }
    }

    /// Adds a cell of another fold.
    pub(super) fn join_from(&mut self, other: &Self, pupils: &register::Renumbering) {
        self.answers.join(&other.answers);
        self.pupils
            .extend(other.pupils.iter().map(|pupil| pupils.here(pupil)));
    }

    /// Returns the pupils who handed in.
    pub(super) fn pupils(&self) -> &RoaringBitmap {
        &self.pupils
    }

    /// Returns marks earned and marks lost.
    pub(super) fn marks(&self) -> (u64, u64) {
        let (earned, available) = (self.answers.earned, self.answers.available);
        (
            u64::from(earned),
            u64::from(available.saturating_sub(earned)),
        )
    }

    /// Returns the counts with the number of pupils.
    pub(super) fn tally(&self) -> tally::Tally {
        tally::Tally {
            pupils: u32::try_from(self.pupils.len()).unwrap_or(u32::MAX),
            ..self.answers.clone()
        }
    }
}
