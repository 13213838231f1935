//! Whether something can be found out: other numbers that give all that is told.
//!
//! Looked for by moving one part of what must not be found out by one, and mending each
//! sum told that no longer adds up by moving one more part, until all add up again.

use crate::held_back;
use std::collections::BTreeSet;

/// How many parts of a number are moved first.
const MOST_FIRST: usize = 4;
/// How many moves are tried from each.
pub(super) const TRIALS: u32 = 24;
/// How many parts of a sum are looked at to mend it, and how many of them are tried.
const MOST_LOOKED_AT: usize = 600;
const MOST_TRIED: usize = 6;

/// A move of a part by one, up or down.
pub(super) type Move = (usize, i64);

/// One layer of a system, laid out to move its numbers.
#[derive(Debug)]
pub(super) struct Board<'a> {
    views: &'a [held_back::View],
    values: &'a [u64],
    /// Which views a part stands in.
    pub(super) views_of: Vec<Vec<usize>>,
    /// By how much the sum of a view may go down and up; nothing where it is told.
    loose: Vec<Option<(i64, i64)>>,
    /// By how much the sum of a view is moved.
    off: Vec<i64>,
    /// The views told that do not add up.
    wrong: BTreeSet<(usize, usize)>,
    moves: Vec<Move>,
    moved: Vec<bool>,
    /// What must not be found out, and which way it is moved.
    is_target: Vec<bool>,
    way: i64,
    trials: u32,
}

impl<'a> Board<'a> {
    /// Lays out a layer with every view told.
    pub(super) fn new(system: &'a held_back::System, layer: &'a held_back::Layer) -> Self {
        let parts = layer.values.len();
        let mut views_of = vec![Vec::new(); parts];
        for (place, view) in system.views.iter().enumerate() {
            for part in &view.parts {
                if let Some(views) = views_of.get_mut(*part) {
                    views.push(place);
                }
            }
        }
        Self {
            views: &system.views,
            values: &layer.values,
            views_of,
            loose: vec![None; system.views.len()],
            off: vec![0; system.views.len()],
            wrong: BTreeSet::new(),
            moves: Vec::new(),
            moved: vec![false; parts],
            is_target: vec![false; parts],
            way: 1,
            trials: 0,
        }
    }

    /// Says how far the sum of a view may move; nothing: not at all.
    pub(super) fn loosen(&mut self, view: usize, by: Option<(i64, i64)>) {
        self.loose[view] = by;
    }

    /// Whether a view is told.
    pub(super) fn is_told(&self, view: usize) -> bool {
        self.loose[view].is_none()
    }

    /// Whether the sum of a view is known, or as small or as large as is known that it may
    /// be.
    pub(super) fn is_settled(&self, view: usize) -> bool {
        self.loose[view].is_none_or(|(low, high)| low == 0 || high == 0)
    }

    /// Returns moves after which all that is told is as before, and these parts together
    /// are not; nothing where none were found.
    pub(super) fn other_numbers(&mut self, target: &[usize], trials: u32) -> Option<Vec<Move>> {
        for part in target {
            self.is_target[*part] = true;
        }
        let step = target.len().div_ceil(MOST_FIRST).max(1);
        let firsts = target.iter().step_by(step);
        let found = firsts
            .flat_map(|part| [(*part, 1), (*part, -1)])
            .find_map(|(part, by)| self.moves_from(part, by, trials));
        for part in target {
            self.is_target[*part] = false;
        }
        found
    }

    /// Returns the views told because of which no part of a number that is nought can be
    /// more: their sums are nought. None where some part can.
    pub(super) fn frozen(&self, target: &[usize]) -> BTreeSet<usize> {
        let mut frozen = BTreeSet::new();
        for part in target {
            let views = self.views_of[*part].iter().copied();
            let nought = |view: &usize| {
                let mut parts = self.views[*view].parts.iter();
                self.is_told(*view) && parts.all(|part| self.values[*part] == 0)
            };
            let before = frozen.len();
            frozen.extend(views.filter(nought));
            if frozen.len() == before && !self.views_of[*part].iter().any(|it| frozen.contains(it))
            {
                return BTreeSet::new();
            }
        }
        frozen
    }

    fn moves_from(&mut self, part: usize, by: i64, trials: u32) -> Option<Vec<Move>> {
        self.trials = trials;
        self.way = by;
        let found = self.change(part, by).then(|| self.moves.clone());
        while !self.moves.is_empty() {
            self.take_back();
        }
        found
    }

    /// Moves a part and mends what no longer adds up; takes it back if that fails.
    fn change(&mut self, part: usize, by: i64) -> bool {
        if self.trials == 0 || !self.may_move(part, by) {
            return false;
        }
        self.trials -= 1;
        self.moves.push((part, by));
        self.moved[part] = true;
        self.count(part, by);
        if self.mend() {
            return true;
        }
        self.take_back();
        false
    }

    fn take_back(&mut self) {
        if let Some((part, by)) = self.moves.pop() {
            self.moved[part] = false;
            self.count(part, -by);
        }
    }

    /// Counts a move in with the sums of the part.
    fn count(&mut self, part: usize, by: i64) {
        for place in 0..self.views_of[part].len() {
            let view = self.views_of[part][place];
            self.off[view] += by;
            if self.loose[view].is_none() {
                let key = (self.views[view].parts.len(), view);
                if self.off[view] == 0 {
                    self.wrong.remove(&key);
                } else {
                    self.wrong.insert(key);
                }
            }
        }
    }

    /// Mends the smallest sum, and so on with all others.
    fn mend(&mut self) -> bool {
        let Some((length, view)) = self.wrong.first().copied() else {
            return true;
        };
        let by = -self.off[view].signum();
        let step = length.div_ceil(MOST_LOOKED_AT).max(1);
        let parts = self.views[view].parts.iter().step_by(step);
        let mut ways: Vec<(i64, usize)> = parts
            .filter(|part| self.may_move(**part, by))
            .map(|part| (self.left_off(*part, by), *part))
            .collect();
        // First what leaves the fewest sums to mend.
        ways.sort_unstable();
        ways.truncate(MOST_TRIED);
        ways.into_iter().any(|(_, part)| self.change(part, by))
    }

    /// How many more sums would no longer add up, less those that would again.
    fn left_off(&self, part: usize, by: i64) -> i64 {
        let told = self.views_of[part].iter();
        let told = told.filter(|view| self.loose[**view].is_none());
        told.map(|view| {
            let before = self.off[*view];
            i64::from(before + by != 0) - i64::from(before != 0)
        })
        .sum()
    }

    fn may_move(&self, part: usize, by: i64) -> bool {
        let is_there = by > 0 || self.values[part] > 0;
        let undoes = self.is_target[part] && by != self.way;
        is_there
            && !undoes
            && !self.moved[part]
            && self.views_of[part].iter().all(|view| {
                self.loose[*view]
                    .is_none_or(|(low, high)| (low..=high).contains(&(self.off[*view] + by)))
            })
    }
}
