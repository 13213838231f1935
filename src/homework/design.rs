//! Which questions stand on a sheet: templates, levels, stories and how hard,
//! but not yet whose numbers.

use crate::homework;
use crate::homework::separation;
use crate::homework::slot;
use crate::homework::stock;
use crate::item::pool;
use crate::level;
use crate::problem;
use crate::seed;
use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::sync::Arc;

/// The questions of a sheet, and what to know about them.
pub(super) struct Design<'p> {
    pub(super) slots: Vec<slot::Slot<'p>>,
    pub(super) notices: Vec<homework::Notice>,
}

/// Chooses the questions for these levels.
pub(super) fn design<'p>(
    plan: &'p homework::Plan,
    levels: level::Span,
) -> Result<Design<'p>, Vec<problem::Problem>> {
    let mut desk = Desk::new(plan, levels);
    if desk.candidates.is_empty() {
        return Err(vec![desk.nothing_fits()]);
    }
    let slots = match plan.questions {
        homework::Questions::All => desk.all()?,
        homework::Questions::Count(count) => desk.count(count)?,
    };
    let mut notices = desk.notices;
    notices.append(&mut desk.stock.notices);
    notices.extend(open(&slots, levels));
    Ok(Design { slots, notices })
}

/// What the questions of each skill leave open between misconceptions.
fn open(slots: &[slot::Slot], levels: level::Span) -> Vec<homework::Notice> {
    let mut skills: BTreeMap<level::Skill, separation::Separation> = BTreeMap::new();
    for slot in slots {
        let separation = skills.entry(slot.template().skill).or_default();
        for traces in slot.traces() {
            separation.add(traces.clone());
        }
    }
    let mut notices = Vec::new();
    for (skill, separation) in skills {
        for what in separation.open().said() {
            notices.push(homework::Notice {
                place: format!("{}, {}", skill.title(), said(levels)),
                what,
            });
        }
    }
    notices
}

pub(super) fn said(levels: level::Span) -> String {
    if levels.low == levels.high {
        format!("level {levels}")
    } else {
        format!("levels {levels}")
    }
}

/// Where a sheet is put together.
struct Desk<'p> {
    plan: &'p homework::Plan<'p>,
    levels: level::Span,
    candidates: Vec<stock::Candidate<'p>>,
    stock: stock::Stock<'p>,
    stream: seed::Stream,
    notices: Vec<homework::Notice>,
}

impl<'p> Desk<'p> {
    fn new(plan: &'p homework::Plan<'p>, levels: level::Span) -> Self {
        let stream = seed::Stream::named(&["questions", &plan.seed, &levels.to_string()], 0);
        Self {
            plan,
            levels,
            candidates: stock::candidates(plan, levels),
            stock: stock::Stock::new(&plan.seed),
            stream,
            notices: Vec::new(),
        }
    }

    fn nothing_fits(&self) -> problem::Problem {
        let skills: Vec<&str> = self.plan.skills.iter().map(|skill| skill.text()).collect();
        let skills = if skills.is_empty() {
            String::new()
        } else {
            format!(" of {}", skills.join(", "))
        };
        problem::Problem::new(
            said(self.levels),
            format!("the banks have no questions{skills} at this level"),
            "choose other levels or skills, or name another bank: `toothmark bank list` shows what is there",
        )
    }

    /// Takes every template that fits once, in the banks' order.
    fn all(&mut self) -> Result<Vec<slot::Slot<'p>>, Vec<problem::Problem>> {
        self.tell_left_out();
        let mut sheet = slot::Sheet::default();
        let mut problems = Vec::new();
        let mut rest = self.candidates.clone();
        while let Some(first) = rest.first().copied() {
            let (mut levels, others): (Vec<stock::Candidate>, Vec<stock::Candidate>) = rest
                .into_iter()
                .partition(|other| std::ptr::eq(other.template, first.template));
            rest = others;
            self.stream.shuffle(&mut levels);
            let slot = levels
                .into_iter()
                .find_map(|candidate| self.slot(candidate, &sheet));
            match slot {
                Some(slot) => sheet.take(slot),
                None => problems.push(problem::Problem::new(
                    first.template.place.clone(),
                    format!(
                        "\"{}\" cannot be set at {}",
                        first.template.id,
                        said(self.levels)
                    ),
                    "`toothmark bank check` says why",
                )),
            }
        }
        if problems.is_empty() {
            Ok(sheet.slots)
        } else {
            Err(problems)
        }
    }

    /// Tells how many templates the levels and skills asked for leave out.
    fn tell_left_out(&mut self) {
        let taken: BTreeSet<(&str, &str)> = self
            .candidates
            .iter()
            .map(|candidate| (candidate.bank.id.as_str(), candidate.template.id.as_str()))
            .collect();
        let there: usize = self
            .plan
            .banks
            .iter()
            .map(|bank| bank.templates.len())
            .sum();
        let left_out = there.saturating_sub(taken.len());
        if left_out > 0 {
            self.notices.push(homework::Notice {
                place: said(self.levels),
                what: format!(
                    "{} of the {there} questions are taken; the others are not for these levels or skills",
                    taken.len()
                ),
            });
        }
    }

    /// Takes so many, skill by skill in turn.
    fn count(&mut self, count: usize) -> Result<Vec<slot::Slot<'p>>, Vec<problem::Problem>> {
        let mut skills: Vec<level::Skill> = level::SKILLS
            .into_iter()
            .filter(|skill| {
                self.candidates
                    .iter()
                    .any(|candidate| candidate.template.skill == *skill)
            })
            .collect();
        self.tell_missing_skills(&skills);
        self.stream.shuffle(&mut skills);
        let mut sheet = slot::Sheet::default();
        while sheet.slots.len() < count && !skills.is_empty() {
            let mut exhausted = BTreeSet::new();
            for &skill in &skills {
                if sheet.slots.len() == count {
                    break;
                }
                match self.next_of(skill, &sheet) {
                    Some(slot) => sheet.take(slot),
                    None => {
                        exhausted.insert(skill);
                    }
                }
            }
            skills.retain(|skill| !exhausted.contains(skill));
        }
        if sheet.slots.len() < count {
            return Err(vec![problem::Problem::new(
                said(self.levels),
                format!(
                    "only {} different questions can be made of the {count} asked for",
                    sheet.slots.len()
                ),
                "ask for fewer questions, or allow more levels, skills or banks",
            )]);
        }
        self.turn_one_round(&mut sheet);
        let mut slots = sheet.slots;
        slots.sort_by_key(|slot| (slot.pool.level, slot.template().skill));
        Ok(slots)
    }

    fn tell_missing_skills(&mut self, there: &[level::Skill]) {
        for skill in &self.plan.skills {
            if !there.contains(skill) {
                self.notices.push(homework::Notice {
                    place: said(self.levels),
                    what: format!("the banks have no questions of {skill} here"),
                });
            }
        }
    }

    /// Chooses the next question of a skill: a template used least so far, then what
    /// shows most of the misconceptions not yet told apart, then the level used
    /// least, then by chance.
    fn next_of(&mut self, skill: level::Skill, sheet: &slot::Sheet<'p>) -> Option<slot::Slot<'p>> {
        let mut options: Vec<stock::Candidate> = self
            .candidates
            .iter()
            .filter(|candidate| candidate.template.skill == skill)
            .copied()
            .collect();
        self.stream.shuffle(&mut options);
        let mut scored: Vec<(usize, std::cmp::Reverse<usize>, usize, stock::Candidate)> =
            Vec::new();
        for option in options {
            let Some(sample) = self.stock.sample(option) else {
                continue;
            };
            let gain = self.best_gain(option, &sample, sheet);
            scored.push((
                sheet.uses(option.template),
                std::cmp::Reverse(gain),
                sheet.at_level(option.level),
                option,
            ));
        }
        scored.sort_by_key(|(uses, gain, at_level, _)| (*uses, *gain, *at_level));
        scored
            .into_iter()
            .find_map(|(_, _, _, option)| self.slot(option, sheet))
    }

    /// What the best kind of a template with few answers would add. Questions with
    /// many answers tell everything apart, so that there only chance chooses.
    fn best_gain(
        &mut self,
        option: stock::Candidate<'p>,
        sample: &pool::Pool,
        sheet: &slot::Sheet,
    ) -> usize {
        let few = sample
            .kinds
            .first()
            .and_then(|kind| kind.first())
            .is_some_and(slot::has_few_answers);
        if !few {
            return 0;
        }
        let Some(pool) = self.stock.pool(option) else {
            return 0;
        };
        let separation = sheet.separation(option.template.skill);
        pool.kinds
            .iter()
            .filter_map(|kind| kind.first())
            .map(|version| separation.gain(&slot::traces(version)))
            .max()
            .unwrap_or(0)
    }

    /// Returns the question with a story and kind of its own; nothing where every
    /// wording of it stands on the sheet already.
    fn slot(
        &mut self,
        candidate: stock::Candidate<'p>,
        sheet: &slot::Sheet<'p>,
    ) -> Option<slot::Slot<'p>> {
        let pool = self.stock.pool(candidate)?;
        let mut stories: Vec<usize> = (0..candidate.template.stories.len()).collect();
        self.stream.shuffle(&mut stories);
        stories.sort_by_key(|&story| sheet.repeats(candidate.template, story));
        let story = *stories.first()?;
        let repeat = sheet.repeats(candidate.template, story);
        let kinds = self.kinds(&pool, sheet);
        kinds
            .into_iter()
            .map(|kind| slot::Slot {
                bank: candidate.bank,
                pool: Arc::clone(&pool),
                kind,
                choices: (0..pool.kinds.get(kind).map_or(0, Vec::len)).collect(),
                story,
                repeat,
            })
            .find(|slot| sheet.has_room_for(slot))
    }

    /// The kinds of a pool in the order wanted: with few answers those that show
    /// most, else the larger ones in random order.
    fn kinds(&mut self, pool: &pool::Pool, sheet: &slot::Sheet) -> Vec<usize> {
        let mut kinds: Vec<usize> = (0..pool.kinds.len()).collect();
        self.stream.shuffle(&mut kinds);
        let separation = sheet.separation(pool.template.skill);
        let largest = pool.kinds.first().map_or(0, Vec::len);
        kinds.sort_by_key(|&index| {
            let kind = pool.kinds.get(index).map_or(&[][..], Vec::as_slice);
            let gain = kind
                .first()
                .filter(|version| slot::has_few_answers(version))
                .map_or(0, |version| separation.gain(&slot::traces(version)));
            (std::cmp::Reverse(gain), kind.len() * 2 < largest)
        });
        kinds
    }

    /// Sees to it that one question runs backwards, if the banks have such a one: it
    /// takes the place of another of the same skill.
    fn turn_one_round(&mut self, sheet: &mut slot::Sheet<'p>) {
        if sheet.slots.iter().any(slot::Slot::is_reversed) {
            return;
        }
        let mut options: Vec<stock::Candidate> = self
            .candidates
            .iter()
            .filter(|candidate| sheet.uses(candidate.template) == 0)
            .copied()
            .collect();
        self.stream.shuffle(&mut options);
        for option in options {
            let place = sheet
                .slots
                .iter()
                .rposition(|slot| slot.template().skill == option.template.skill);
            let Some(place) = place else { continue };
            let reversed = self.stock.sample(option).is_some_and(|sample| {
                sample
                    .kinds
                    .first()
                    .and_then(|kind| kind.first())
                    .is_some_and(slot::is_reversed)
            });
            if !reversed {
                continue;
            }
            if let Some(slot) = self.slot(option, sheet).filter(slot::Slot::is_reversed) {
                sheet.slots.remove(place);
                sheet.take(slot);
                return;
            }
        }
    }
}
