//! One question of a sheet, and a sheet in the making.

use crate::bank;
use crate::homework::separation;
use crate::item::apart;
use crate::item::pool;
use crate::level;
use std::collections::BTreeSet;
use std::sync::Arc;

/// One question of a sheet.
#[derive(Clone)]
pub(super) struct Slot<'p> {
    pub(super) bank: &'p bank::Bank,
    pub(super) pool: Arc<pool::Pool<'p>>,
    /// Which of the pool's kinds.
    pub(super) kind: usize,
    /// Which versions of that kind may be chosen.
    pub(super) choices: Vec<usize>,
    /// Which of the template's stories.
    pub(super) story: usize,
    /// How many earlier questions of the sheet have this template and story.
    pub(super) repeat: usize,
}

impl<'p> Slot<'p> {
    /// The versions to choose among.
    pub(super) fn versions(&self) -> Vec<&pool::Version> {
        let kind = self.pool.kinds.get(self.kind);
        kind.map_or(Vec::new(), |kind| {
            self.choices
                .iter()
                .filter_map(|&index| kind.get(index))
                .collect()
        })
    }

    pub(super) fn template(&self) -> &'p bank::Template {
        self.pool.template
    }

    /// What any of its versions shows: they all leave the same traces.
    pub(super) fn traces(&self) -> Vec<&apart::Traces> {
        self.versions()
            .first()
            .map_or(Vec::new(), |version| traces(version))
    }

    pub(super) fn is_reversed(&self) -> bool {
        self.versions()
            .first()
            .is_some_and(|version| is_reversed(version))
    }

    /// How many different wordings its versions have with this story.
    fn wordings(&self) -> usize {
        let wordings: BTreeSet<String> = self
            .versions()
            .into_iter()
            .map(|version| self.wording(version))
            .collect();
        wordings.len()
    }

    /// The story and the questions of a version.
    pub(super) fn wording(&self, version: &pool::Version) -> String {
        self.pool.wording(version, self.story)
    }
}

/// What the parts of a version show.
pub(super) fn traces(version: &pool::Version) -> Vec<&apart::Traces> {
    version.parts.iter().map(|part| &part.traces).collect()
}

/// Whether a part of the version runs backwards.
pub(super) fn is_reversed(version: &pool::Version) -> bool {
    version.parts.iter().any(|part| part.measure.reversed)
}

/// Whether a part of the version has one of two or three answers.
pub(super) fn has_few_answers(version: &pool::Version) -> bool {
    version
        .parts
        .iter()
        .any(|part| apart::has_few_answers(&part.form))
}

/// A sheet in the making.
#[derive(Default)]
pub(super) struct Sheet<'p> {
    pub(super) slots: Vec<Slot<'p>>,
}

impl<'p> Sheet<'p> {
    pub(super) fn take(&mut self, slot: Slot<'p>) {
        self.slots.push(slot);
    }

    pub(super) fn uses(&self, template: &bank::Template) -> usize {
        self.slots
            .iter()
            .filter(|slot| std::ptr::eq(slot.template(), template))
            .count()
    }

    pub(super) fn repeats(&self, template: &bank::Template, story: usize) -> usize {
        self.slots
            .iter()
            .filter(|slot| std::ptr::eq(slot.template(), template) && slot.story == story)
            .count()
    }

    pub(super) fn at_level(&self, level: level::Level) -> usize {
        self.slots
            .iter()
            .filter(|slot| slot.pool.level == level)
            .count()
    }

    pub(super) fn separation(&self, skill: level::Skill) -> separation::Separation {
        let mut separation = separation::Separation::default();
        for slot in self
            .slots
            .iter()
            .filter(|slot| slot.template().skill == skill)
        {
            for traces in slot.traces() {
                separation.add(traces.clone());
            }
        }
        separation
    }

    /// Whether a question can stand on the sheet with a wording of its own: a story
    /// told before needs numbers of the same level that are not used up.
    pub(super) fn has_room_for(&self, slot: &Slot) -> bool {
        let told: Vec<&Slot> = self
            .slots
            .iter()
            .filter(|other| {
                std::ptr::eq(other.template(), slot.template()) && other.story == slot.story
            })
            .collect();
        told.iter()
            .all(|other| other.pool.level == slot.pool.level && other.kind == slot.kind)
            && if told.is_empty() {
                !slot.versions().is_empty()
            } else {
                told.len() < slot.wordings()
            }
    }
}
