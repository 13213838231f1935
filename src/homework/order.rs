//! One pupil's wishes and the templates that can meet them.

use crate::bank;
use crate::homework;
use crate::homework::fit;
use crate::homework::met;
use crate::homework::slot;
use crate::homework::stock;
use crate::homework::wish;
use crate::item::pool;
use crate::level;
use crate::seed;
use std::collections::BTreeMap;

/// What counts against a template is counted in steps; chance, which decides between
/// equals, never comes to one. The numbers are ours: only their order matters.
const STEP: u32 = 100;
/// A level lower than wanted.
const LOWER: u32 = 2;
/// A level higher than wanted, which is worse.
const HIGHER: u32 = 3;
/// Another question than the one that was missed: a last resort.
const ANOTHER: u32 = 12;
/// A template that the pupil had last time.
const SET_LAST: u32 = 2;
/// A template that the pupil had before that.
const SET_BEFORE: u32 = 1;
/// Two or three answers, which show a way of thinking less surely.
const FEW_ANSWERS: u32 = 3;
/// A template that stands on the sheet already.
const REPEATED: u32 = 8;

/// How often a template may be used for one way of thinking, with other numbers.
const SHOWN_TWICE: usize = 2;

/// What is allowed so that enough questions come together.
#[derive(Debug, Clone, Copy)]
struct Room {
    /// How often a template may stand on the sheet.
    uses: usize,
    /// Whether practice may be above the level.
    above: bool,
}

/// Wishes of the same kind, within one skill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Kind {
    pub(super) aim: wish::Aim,
    level: level::Level,
}

/// A template on the shelf.
struct Shelved<'p> {
    bank: &'p bank::Bank,
    template: &'p bank::Template,
    levels: Vec<level::Level>,
    chance: u32,
}

/// One use of a template: which on the shelf, and for each kind the level.
struct Use {
    shelved: usize,
    levels: Vec<Option<level::Level>>,
}

/// Everything of one skill.
struct Group<'p> {
    skill: level::Skill,
    shelf: Vec<Shelved<'p>>,
    kinds: Vec<Kind>,
    /// For each kind the wishes to be met; `None` for what fills up.
    wishes: Vec<Vec<Option<usize>>>,
    uses: Vec<Use>,
    sums: BTreeMap<u32, fit::Best>,
}

/// A question decided on: what it is drawn from, and what for.
pub(super) struct Chosen<'p> {
    pub(super) candidate: stock::Candidate<'p>,
    pub(super) aim: wish::Aim,
    pub(super) wish: Option<usize>,
}

/// One pupil's order: the wishes that can be met, and the marks they can come to.
pub(super) struct Order<'p> {
    groups: Vec<Group<'p>>,
    /// Every number of marks that the sheet can have.
    pub(super) totals: BTreeMap<u32, fit::Total>,
    /// How many questions there are; fewer than asked for where no more can be made.
    pub(super) count: usize,
}

impl<'p> Order<'p> {
    /// The questions of the sheet with so many marks, which it must be able to have.
    pub(super) fn chosen(&self, total: &fit::Total) -> Vec<Chosen<'p>> {
        let mut chosen = Vec::new();
        for (group, sum) in self.groups.iter().zip(&total.sums) {
            let mut wishes = group.wishes.clone();
            let Some(best) = group.sums.get(sum) else {
                continue;
            };
            for (index, kind_index) in best.taken() {
                let found = (|| {
                    let taken = group.uses.get(index)?;
                    let level = (*taken.levels.get(kind_index)?)?;
                    let shelved = group.shelf.get(taken.shelved)?;
                    let kind = group.kinds.get(kind_index)?;
                    Some((shelved, level, kind))
                })();
                let Some((shelved, level, kind)) = found else {
                    continue;
                };
                let wish = wishes.get_mut(kind_index).filter(|left| !left.is_empty());
                chosen.push(Chosen {
                    candidate: stock::Candidate {
                        bank: shelved.bank,
                        template: shelved.template,
                        level,
                    },
                    aim: kind.aim.clone(),
                    wish: wish.and_then(|left| left.remove(0)),
                });
            }
        }
        chosen
    }
}

/// Takes the wishes that can be met, the most wanted first, and fills up.
pub(super) fn take<'p>(
    plan: &homework::Plan<'p>,
    stock: &mut stock::Stock<'p>,
    wished: &wish::Wished,
    count: usize,
) -> Order<'p> {
    let mut clerk = Clerk::new(plan, stock, wished);
    for (index, wish) in wished.wishes.iter().enumerate() {
        if clerk.taken == count {
            break;
        }
        clerk.take(index, wish);
    }
    clerk.fill(count);
    let groups: Vec<Group> = clerk
        .groups
        .into_iter()
        .filter(|group| !group.kinds.is_empty())
        .collect();
    let sums: Vec<&BTreeMap<u32, fit::Best>> = groups.iter().map(|group| &group.sums).collect();
    let totals = fit::totals(&sums);
    Order {
        totals,
        count: clerk.taken,
        groups,
    }
}

/// Who takes one pupil's order.
struct Clerk<'p, 'o> {
    stock: &'o mut stock::Stock<'p>,
    wished: &'o wish::Wished,
    /// In an order of chance, in which they are filled up.
    groups: Vec<Group<'p>>,
    room: Room,
    taken: usize,
}

impl<'p, 'o> Clerk<'p, 'o> {
    fn new(
        plan: &homework::Plan<'p>,
        stock: &'o mut stock::Stock<'p>,
        wished: &'o wish::Wished,
    ) -> Self {
        let name = ["wishes", &plan.seed, &wished.pupil_id];
        let mut stream = seed::Stream::named(&name, 0);
        let mut groups: Vec<Group<'p>> = Vec::new();
        for candidate in stock::candidates(plan, wished.levels) {
            let skill = candidate.template.skill;
            let place = groups.iter().position(|group| group.skill == skill);
            let place = place.unwrap_or_else(|| {
                groups.push(Group {
                    skill,
                    shelf: Vec::new(),
                    kinds: Vec::new(),
                    wishes: Vec::new(),
                    uses: Vec::new(),
                    sums: BTreeMap::new(),
                });
                groups.len() - 1
            });
            let Some(group) = groups.get_mut(place) else {
                continue;
            };
            match group.shelf.last_mut() {
                Some(last) if std::ptr::eq(last.template, candidate.template) => {
                    last.levels.push(candidate.level);
                }
                Some(_) | None => group.shelf.push(Shelved {
                    bank: candidate.bank,
                    template: candidate.template,
                    levels: vec![candidate.level],
                    chance: u32::try_from(stream.below(u64::from(STEP) / 2)).unwrap_or(0),
                }),
            }
        }
        stream.shuffle(&mut groups);
        Self {
            stock,
            wished,
            groups,
            room: Room {
                uses: 1,
                above: false,
            },
            taken: 0,
        }
    }

    /// Takes a wish, if a question can meet it.
    fn take(&mut self, index: usize, wish: &wish::Wish) {
        let kind = Kind {
            aim: wish.aim.clone(),
            level: wish.level,
        };
        match &wish.aim {
            wish::Aim::Skill(skill) | wish::Aim::Again { skill, .. } => {
                let place = self.groups.iter().position(|group| group.skill == *skill);
                if let Some(place) = place {
                    self.add(place, kind, Some(index));
                }
            }
            wish::Aim::Shows(_) => {
                // What shows a way of thinking best, then the next best, and only
                // then the same again.
                for place in self.places_to_show(&kind) {
                    if self.add(place, kind.clone(), Some(index)) {
                        return;
                    }
                }
            }
        }
    }

    /// The groups with a template that shows it, the best first: by the best template
    /// not counted yet for the wishes of this kind that were taken before.
    fn places_to_show(&mut self, kind: &Kind) -> Vec<usize> {
        let mut found: Vec<(u32, usize)> = Vec::new();
        let groups = std::mem::take(&mut self.groups);
        for (place, group) in groups.iter().enumerate() {
            let known = group.kinds.iter().position(|known| known == kind);
            let before = known
                .and_then(|known| group.wishes.get(known))
                .map_or(0, Vec::len);
            let mut costs: Vec<u32> = group
                .shelf
                .iter()
                .filter_map(|shelved| self.cost(shelved, kind, 0))
                .map(|(cost, _)| cost)
                .collect();
            costs.sort_unstable();
            if let Some(last) = costs.last().copied() {
                let again = last.saturating_add(STEP * REPEATED);
                found.push((costs.get(before).copied().unwrap_or(again), place));
            }
        }
        self.groups = groups;
        found.sort_unstable();
        found.into_iter().map(|(_, place)| place).collect()
    }

    /// Fills up skill by skill, those with the fewest questions first. Where that is
    /// not enough, templates come twice, then levels above the pupil's, then templates
    /// again and again.
    fn fill(&mut self, count: usize) {
        let rooms = [(1, false), (2, false), (2, true)]
            .into_iter()
            .chain((3..=count).map(|uses| (uses, true)));
        for (uses, above) in rooms {
            if self.taken == count {
                return;
            }
            self.room = Room { uses, above };
            let before = self.taken;
            let mut open: Vec<usize> = (0..self.groups.len()).collect();
            while self.taken < count {
                let next = open
                    .iter()
                    .copied()
                    .min_by_key(|&place| self.groups.get(place).map_or(0, Group::question_count));
                let Some(place) = next else { break };
                let Some(skill) = self.groups.get(place).map(|group| group.skill) else {
                    break;
                };
                let kind = Kind {
                    aim: wish::Aim::Skill(skill),
                    level: self.wished.level,
                };
                if !self.add(place, kind, None) {
                    open.retain(|other| *other != place);
                }
            }
            if uses > 2 && self.taken == before {
                return;
            }
        }
    }

    /// Adds a wish to a group, if all of the group's wishes can then be met.
    fn add(&mut self, place: usize, kind: Kind, wish: Option<usize>) -> bool {
        let mut groups = std::mem::take(&mut self.groups);
        let is_added = groups
            .get_mut(place)
            .is_some_and(|group| self.add_to(group, kind, wish));
        self.groups = groups;
        self.taken += usize::from(is_added);
        is_added
    }

    fn add_to(&mut self, group: &mut Group<'p>, kind: Kind, wish: Option<usize>) -> bool {
        let known = group.kinds.iter().position(|known| *known == kind);
        let mut kinds = group.kinds.clone();
        let mut wishes = group.wishes.clone();
        if let Some(list) = known.and_then(|known| wishes.get_mut(known)) {
            list.push(wish);
        } else {
            kinds.push(kind);
            wishes.push(vec![wish]);
        }
        let (uses, pieces) = self.all_uses(&group.shelf, &kinds);
        let wanted: Vec<usize> = wishes.iter().map(Vec::len).collect();
        let sums = fit::sums(&pieces, &wanted);
        if sums.is_empty() {
            return false;
        }
        group.kinds = kinds;
        group.wishes = wishes;
        group.uses = uses;
        group.sums = sums;
        true
    }

    /// Every use of every template for these kinds, with what it costs.
    fn all_uses(
        &mut self,
        on_shelf: &[Shelved<'p>],
        kinds: &[Kind],
    ) -> (Vec<Use>, Vec<fit::Piece>) {
        let mut uses = Vec::new();
        let mut pieces = Vec::new();
        for (index, shelved) in on_shelf.iter().enumerate() {
            for repeat in 0..self.room.uses.max(SHOWN_TWICE) {
                let found: Vec<Option<(u32, level::Level)>> = kinds
                    .iter()
                    .map(|kind| self.cost(shelved, kind, repeat))
                    .collect();
                if found.iter().all(Option::is_none) {
                    break;
                }
                uses.push(Use {
                    shelved: index,
                    levels: found.iter().map(|it| it.map(|(_, level)| level)).collect(),
                });
                pieces.push(fit::Piece {
                    marks: marks(shelved.template),
                    costs: found
                        .into_iter()
                        .map(|it| it.map(|(cost, _)| cost))
                        .collect(),
                });
            }
        }
        (uses, pieces)
    }

    /// What it costs to take a template for a wish, at which of its levels; `None`
    /// where it will not do.
    fn cost(
        &mut self,
        shelved: &Shelved<'p>,
        kind: &Kind,
        repeat: usize,
    ) -> Option<(u32, level::Level)> {
        let most = match &kind.aim {
            wish::Aim::Shows(_) => self.room.uses.max(SHOWN_TWICE),
            wish::Aim::Again { .. } | wish::Aim::Skill(_) => self.room.uses,
        };
        if repeat >= most {
            return None;
        }
        let mut best: Option<(u32, level::Level)> = None;
        for &level in &shelved.levels {
            let candidate = stock::Candidate {
                bank: shelved.bank,
                template: shelved.template,
                level,
            };
            let Some(steps) = self.steps(candidate, kind, repeat) else {
                continue;
            };
            let cost = steps * STEP + shelved.chance;
            if best.is_none_or(|(known, _)| cost < known) {
                best = Some((cost, level));
            }
        }
        best
    }

    fn steps(
        &mut self,
        candidate: stock::Candidate<'p>,
        kind: &Kind,
        repeat: usize,
    ) -> Option<u32> {
        let (bank, template) = (&candidate.bank.id, &candidate.template.id);
        let set = match self.wished.met.homeworks_ago(bank, template) {
            Some(0 | 1) => SET_LAST,
            Some(_) => SET_BEFORE,
            None => 0,
        };
        let (is_practice, more) = match &kind.aim {
            wish::Aim::Shows(_) => (false, set),
            wish::Aim::Again {
                bank: wanted_bank,
                template: wanted,
                ..
            } => {
                let is_it = (bank, template) == (wanted_bank, wanted);
                (!is_it, if is_it { 0 } else { ANOTHER + set })
            }
            wish::Aim::Skill(_) => (true, set),
        };
        let (wanted, level) = (kind.level.number(), candidate.level.number());
        if is_practice && level > wanted && !self.room.above {
            return None;
        }
        let away = if level > wanted { HIGHER } else { LOWER };
        let distance = away * u32::from(level.abs_diff(wanted));
        let unsure = self.supply(candidate, &kind.aim, repeat)?;
        let repeats = u32::try_from(repeat).unwrap_or(u32::MAX);
        Some(distance + more + unsure + REPEATED.saturating_mul(repeats))
    }

    /// Sees whether the candidate has one more version that will do; what counts
    /// against it for being unsure.
    fn supply(
        &mut self,
        candidate: stock::Candidate<'p>,
        aim: &wish::Aim,
        repeat: usize,
    ) -> Option<u32> {
        let sample = self.stock.sample(candidate)?;
        let version = sample.kinds.first().and_then(|kind| kind.first())?;
        let few = slot::has_few_answers(version);
        let (bank, template) = (&candidate.bank.id, &candidate.template.id);
        let (shows, unsure) = match aim {
            wish::Aim::Shows(_) => (does(version, aim), if few { FEW_ANSWERS } else { 0 }),
            wish::Aim::Again { .. } | wish::Aim::Skill(_) => (true, 0),
        };
        let is_met = self.wished.met.has_template(bank, template);
        if !is_met && repeat == 0 && (shows || !few) {
            return shows.then_some(unsure);
        }
        let pool = self.stock.pool(candidate)?;
        let most = pool
            .kinds
            .iter()
            .map(|kind| left(kind, candidate, aim, &self.wished.met).len())
            .max();
        (most > Some(repeat)).then_some(unsure)
    }
}

impl Group<'_> {
    fn question_count(&self) -> usize {
        self.wishes.iter().map(Vec::len).sum()
    }
}

/// The versions of a kind that will do and that the pupil has not met.
pub(super) fn left(
    kind: &[pool::Version],
    candidate: stock::Candidate<'_>,
    aim: &wish::Aim,
    met: &met::Met,
) -> Vec<usize> {
    let (bank, template) = (&candidate.bank.id, &candidate.template.id);
    kind.iter()
        .enumerate()
        .filter(|(_, version)| does(version, aim) && !met.has(bank, template, version))
        .map(|(index, _)| index)
        .collect()
}

/// Whether a version does what it is for.
fn does(version: &pool::Version, aim: &wish::Aim) -> bool {
    match aim {
        wish::Aim::Shows(ids) => ids
            .iter()
            .all(|id| version.parts.iter().any(|part| part.traces.fails(id))),
        wish::Aim::Again { .. } | wish::Aim::Skill(_) => true,
    }
}

/// The marks of a template.
fn marks(template: &bank::Template) -> u32 {
    template
        .parts
        .iter()
        .map(|part| u32::from(part.marks))
        .sum()
}
