//! What a fold keeps, and what it is kept by.

use crate::attainment::counted;
use crate::attainment::fold::place;
use crate::attainment::names;
use crate::attainment::register;
use crate::date;
use crate::level;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// What is kept of one homework.
#[derive(Debug, Clone)]
pub(in crate::attainment) struct Told {
    /// When it was last marked.
    pub(in crate::attainment) marked_on: String,
    /// The last day on which any record of it may be kept.
    pub(in crate::attainment) kept_until: Option<date::Date>,
    /// How many pupils handed it in.
    pub(in crate::attainment) pupils: u32,
    /// The most questions on a sheet.
    pub(in crate::attainment) questions: usize,
    /// The classes it was set for.
    pub(in crate::attainment) classes: BTreeSet<names::Name>,
}

/// Answers of one place, skill and day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Cell {
    /// Class, year and labels at the time.
    pub(in crate::attainment) place: place::PlaceNumber,
    /// The date the homework was set.
    pub(in crate::attainment) set_on: names::Name,
    /// The skill.
    pub(in crate::attainment) skill: level::Skill,
}

/// A part of a template.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Question {
    pub(in crate::attainment) skill: level::Skill,
    pub(in crate::attainment) bank: names::Name,
    pub(in crate::attainment) template: names::Name,
    /// Its letter; empty where the template has one part.
    pub(in crate::attainment) part: names::Name,
}

/// What is kept of a question.
#[derive(Debug, Clone, Default)]
pub(in crate::attainment) struct Asked {
    pub(in crate::attainment) counted: counted::Counted,
    pub(in crate::attainment) levels: BTreeSet<level::Level>,
    /// How many answers earned so many marks of so many, of those that count for
    /// facility.
    pub(in crate::attainment) marks: BTreeMap<(u8, u8), u32>,
    /// How many answers are consistent with each misconception.
    pub(in crate::attainment) misconceptions: BTreeMap<names::Name, u32>,
}

/// A question asked of a year at a level on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Covered {
    pub(in crate::attainment) set_on: names::Name,
    pub(in crate::attainment) year: names::Name,
    pub(in crate::attainment) level: level::Level,
    pub(in crate::attainment) question: Question,
}

/// A pupil in a year and class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Standing {
    pub(in crate::attainment) pupil: u32,
    pub(in crate::attainment) year: names::Name,
    pub(in crate::attainment) class: names::Name,
}

/// Marks earned of marks to be had, over answers that count for facility.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(in crate::attainment) struct Marks {
    pub(in crate::attainment) earned: u32,
    pub(in crate::attainment) available: u32,
    /// Whether anything was handed in there: else the pupil is no pupil of the group.
    pub(in crate::attainment) was_there: bool,
}

/// Adds to a count.
pub(in crate::attainment) fn more<K: Ord>(counts: &mut BTreeMap<K, u32>, key: K, times: u32) {
    let count = counts.entry(key).or_default();
    *count = count.saturating_add(times);
}

impl Cell {
    pub(super) fn here(self, names: &names::Renaming, places: &place::Moved) -> Self {
        Self {
            place: places.here(self.place),
            set_on: names.here(self.set_on),
            skill: self.skill,
        }
    }
}

impl Question {
    pub(super) fn here(self, names: &names::Renaming) -> Self {
        Self {
            skill: self.skill,
            bank: names.here(self.bank),
            template: names.here(self.template),
            part: names.here(self.part),
        }
    }
}

impl Covered {
    pub(super) fn here(self, names: &names::Renaming) -> Self {
        Self {
            set_on: names.here(self.set_on),
            year: names.here(self.year),
            level: self.level,
            question: self.question.here(names),
        }
    }
}

impl Standing {
    pub(super) fn here(self, names: &names::Renaming, pupils: &register::Renumbering) -> Self {
        Self {
            pupil: pupils.here(self.pupil),
            year: names.here(self.year),
            class: names.here(self.class),
        }
    }
}

impl Asked {
    pub(super) fn join_from(
        &mut self,
        other: &Self,
        names: &names::Renaming,
        pupils: &register::Renumbering,
    ) {
        self.counted.join_from(&other.counted, pupils);
        self.levels.extend(&other.levels);
        for (marks, times) in &other.marks {
            more(&mut self.marks, *marks, *times);
        }
        for (id, times) in &other.misconceptions {
            more(&mut self.misconceptions, names.here(*id), *times);
        }
    }
}

impl Marks {
    pub(in crate::attainment) fn join(&mut self, other: Self) {
        self.earned = self.earned.saturating_add(other.earned);
        self.available = self.available.saturating_add(other.available);
        self.was_there |= other.was_there;
    }
}
