//! What one pupil did, homework by homework.

use crate::attainment;
use crate::attainment::who;
use crate::homework::met;
use crate::item;
use crate::level;
use crate::marking;
use crate::next;
use std::collections::BTreeMap;

/// One answer with the question it answers, where that is known.
#[derive(Debug, Clone, Copy)]
pub(super) struct Answered<'r> {
    pub(super) answer: &'r attainment::Answer,
    pub(super) item: Option<&'r item::Item>,
}

impl Answered<'_> {
    /// Whether the marks say something: attempted or left blank, and not waiting for
    /// a person.
    pub(super) fn counts(&self) -> bool {
        !self.answer.needs_check
            && match self.answer.state {
                marking::State::Correct
                | marking::State::Partly
                | marking::State::Wrong
                | marking::State::Blank
                | marking::State::Unreadable => true,
                marking::State::NotReached | marking::State::Absent | marking::State::Excused => {
                    false
                }
            }
    }
}

/// Whether a homework was handed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Presence {
    HandedIn,
    Absent,
    Excused,
}

/// One homework of one pupil.
#[derive(Debug, Clone)]
pub(super) struct Past<'r> {
    pub(super) set_on: &'r str,
    pub(super) presence: Presence,
    /// In the order of the sheet.
    pub(super) answers: Vec<Answered<'r>>,
}

impl Past<'_> {
    /// Marks earned and to be had in the answers that count, of one skill or of all.
    pub(super) fn share(&self, skill: Option<level::Skill>) -> Share {
        let mut share = Share::default();
        for answered in &self.answers {
            let asked = skill.is_none_or(|skill| answered.answer.skill == skill);
            if asked && answered.counts() {
                share.answers += 1;
                share.earned += u32::from(answered.answer.marks);
                share.out_of += u32::from(answered.answer.out_of);
            }
        }
        share
    }
}

/// Marks earned, of how many, with how many answers.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Share {
    pub(super) answers: usize,
    pub(super) earned: u32,
    pub(super) out_of: u32,
}

impl Share {
    pub(super) fn and(self, other: Self) -> Self {
        Self {
            answers: self.answers + other.answers,
            earned: self.earned + other.earned,
            out_of: self.out_of + other.out_of,
        }
    }

    /// Four fifths of the marks, or more.
    pub(super) fn is_high(self) -> bool {
        self.out_of > 0 && 5 * self.earned >= 4 * self.out_of
    }

    /// Below half of the marks.
    pub(super) fn is_low(self) -> bool {
        self.out_of > 0 && 2 * self.earned < self.out_of
    }
}

/// What one pupil did so far.
#[derive(Debug, Clone, Default)]
pub(super) struct History<'r> {
    /// The newest first.
    pub(super) pasts: Vec<Past<'r>>,
}

impl<'r> History<'r> {
    /// The homeworks handed in, the newest first.
    pub(super) fn handed_in(&self) -> impl Iterator<Item = &Past<'r>> {
        self.pasts
            .iter()
            .filter(|past| past.presence == Presence::HandedIn)
    }

    /// What the pupil has met: every question that was set, also of work that was
    /// missed, whose answers are out by now; and how long ago each template was
    /// answered.
    pub(super) fn met(&self) -> met::Met {
        let mut met = met::Met::default();
        for (past, ago) in self.handed_in().zip(1_u32..) {
            for answered in &past.answers {
                let answer = answered.answer;
                met.add_template(&answer.bank, &answer.template, ago);
            }
        }
        for past in &self.pasts {
            met.add_items(past.answers.iter().filter_map(|answered| answered.item));
        }
        met
    }
}

fn presence(state: marking::State) -> Presence {
    match state {
        marking::State::Absent => Presence::Absent,
        marking::State::Excused => Presence::Excused,
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Wrong
        | marking::State::Blank
        | marking::State::NotReached
        | marking::State::Unreadable => Presence::HandedIn,
    }
}

/// Returns every pupil's history.
pub(super) fn histories(records: &[next::Record]) -> BTreeMap<&str, History<'_>> {
    let mut items: BTreeMap<(&str, &str, &str), &item::Item> = BTreeMap::new();
    for homework in records.iter().filter_map(|record| record.homework.as_ref()) {
        for assignment in &homework.pupils {
            let sheet = homework.sheets.get(assignment.sheet);
            for item in sheet.iter().flat_map(|sheet| &sheet.items) {
                let key = (
                    homework.code.as_str(),
                    assignment.pupil.id.as_str(),
                    item.number.as_str(),
                );
                items.insert(key, item);
            }
        }
    }
    let ids: BTreeMap<who::Who, &str> = records
        .iter()
        .flat_map(|record| &record.ids)
        .map(|(who, id)| (*who, id.as_str()))
        .collect();
    let works = records.iter().map(|record| &record.work);
    let mut pasts: BTreeMap<(&str, &str), Past<'_>> = BTreeMap::new();
    for (work, pupil) in attainment::counted(works) {
        let Some(&id) = ids.get(&pupil.who) else {
            continue;
        };
        let code = work.code.as_str();
        let past = pasts.entry((id, code)).or_insert_with(|| Past {
            set_on: &work.set_on,
            presence: Presence::HandedIn,
            answers: Vec::new(),
        });
        for answer in &pupil.answers {
            past.presence = presence(answer.state);
            past.answers.push(Answered {
                answer,
                item: items.get(&(code, id, answer.question.as_str())).copied(),
            });
        }
    }
    let mut histories: BTreeMap<&str, History<'_>> = BTreeMap::new();
    for ((pupil, _), past) in pasts {
        histories.entry(pupil).or_default().pasts.push(past);
    }
    for history in histories.values_mut() {
        history
            .pasts
            .sort_by_key(|past| std::cmp::Reverse(past.set_on));
    }
    histories
}
