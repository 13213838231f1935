//! Which rows more are held back.

use crate::held_back;
use crate::held_back::search;
use crate::held_back::span;
use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::collections::VecDeque;

mod next;

/// Why a row is not told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Held {
    why: held_back::Reason,
    /// Whether it is so for another row, and says nothing of its own numbers.
    with_another: bool,
}

/// What must not be found out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Target {
    /// A row held back, by its view.
    View(usize),
    /// A small group in no table.
    Secret(usize),
}

/// A target in a layer of a system.
type Place = (usize, usize, Target);

/// A ledger while it is decided what is held back.
struct Choice<'a> {
    ledger: &'a held_back::Ledger,
    held: Vec<Option<Held>>,
    /// The rows that are held back with a row.
    followers: Vec<Vec<usize>>,
    /// Where the views of a row are: system and view.
    views_of: Vec<Vec<(usize, usize)>>,
    boards: Vec<Vec<search::Board<'a>>>,
    /// What can be made of the rows told of each system.
    told: Vec<span::Span<'a>>,
    /// The same for each layer of a system, where a reader knows of all parts that are
    /// nought that they are, and of all rows held back that are as large or as small as
    /// their reasons allow how large they are.
    settled: Vec<Vec<span::Span<'a>>>,
    /// The small groups that each part of a system is in.
    secrets_of: Vec<BTreeMap<usize, Vec<usize>>>,
    safe: BTreeSet<Place>,
    open: VecDeque<Place>,
    /// Rows further down are not told yet, and nothing is known of them.
    depth: u8,
    /// The systems whose rows held back at this depth have no reasons any more.
    unsaid: BTreeSet<usize>,
}

/// Returns why each row is held back, if it is.
///
/// Begins with what the rules hold back. Then the rows furthest up are told, and so on
/// down, and each time, while something can be found out, one more row goes: the smallest
/// of those by which it is found. Where nothing more could go, even the reasons do. It
/// ends, because each turn holds back more; and what was safe stays so while no more rows
/// are told.
pub(super) fn choose(ledger: &held_back::Ledger) -> Vec<Option<held_back::Reason>> {
    let mut choice = Choice::new(ledger);
    choice.hold_back_by_the_rules();
    let depths: BTreeSet<u8> = ledger.entries.iter().map(|entry| entry.depth).collect();
    for depth in depths {
        choice.go_down_to(depth);
        while let Some(place) = choice.open.pop_front() {
            if choice.is_safe(place) {
                continue;
            }
            if let Some(entry) = choice.next(place) {
                choice.hold_back(entry, held_back::Reason::ToProtect);
                choice.open.push_front(place);
            } else if choice.unsaid.insert(place.0) {
                choice.leave_unsaid(place.0);
                choice.open.push_front(place);
            }
            // Else nothing that is told hangs together with it.
        }
    }
    let held = choice.held.into_iter();
    held.map(|held| held.map(|held| held.why)).collect()
}

impl<'a> Choice<'a> {
    fn new(ledger: &'a held_back::Ledger) -> Self {
        let mut followers = vec![Vec::new(); ledger.entries.len()];
        for (place, entry) in ledger.entries.iter().enumerate() {
            for other in &entry.with {
                followers[other.0].push(place);
            }
        }
        let mut views_of = vec![Vec::new(); ledger.entries.len()];
        let mut secrets_of = Vec::new();
        for (system, numbers) in ledger.systems.iter().enumerate() {
            for (view, of) in numbers.views.iter().enumerate() {
                if let Some(entry) = of.entry {
                    views_of[entry.0].push((system, view));
                }
            }
            let mut secrets: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
            for (secret, of) in numbers.secrets.iter().enumerate() {
                for part in &of.parts {
                    secrets.entry(*part).or_default().push(secret);
                }
            }
            secrets_of.push(secrets);
        }
        let boards = ledger.systems.iter().map(|system| {
            let layers = system.layers.iter();
            layers
                .map(|layer| search::Board::new(system, layer))
                .collect()
        });
        let told = ledger.systems.iter().map(|system| {
            let parts = system.layers.first().map_or(0, |it| it.values.len());
            span::Span::new(&system.views, vec![true; parts])
        });
        let settled = ledger.systems.iter().map(|system| {
            let layers = system.layers.iter();
            let there = layers.map(|it| it.values.iter().map(|value| *value > 0).collect());
            there
                .map(|there| span::Span::new(&system.views, there))
                .collect()
        });
        Self {
            told: told.collect(),
            settled: settled.collect(),
            held: vec![None; ledger.entries.len()],
            followers,
            views_of,
            boards: boards.collect(),
            secrets_of,
            safe: BTreeSet::new(),
            open: VecDeque::new(),
            depth: 0,
            unsaid: BTreeSet::new(),
            ledger,
        }
    }

    fn hold_back_by_the_rules(&mut self) {
        for (place, entry) in self.ledger.entries.iter().enumerate() {
            if let Some(why) = entry.reason() {
                self.held[place] = Some(Held {
                    why,
                    with_another: false,
                });
            }
            if entry.depth > 0 {
                self.loosen(place);
            }
        }
        for place in 0..self.held.len() {
            if let Some(Held {
                why,
                with_another: false,
            }) = self.held[place]
            {
                self.hold_back(place, why);
            }
        }
    }

    /// Tells the rows of a depth, the first or the next after the last, as far as they are
    /// not held back, and puts on the list all that may now be found out.
    fn go_down_to(&mut self, depth: u8) {
        self.depth = depth;
        self.unsaid.clear();
        let of_depth = |view: &held_back::View| self.depth_of(view) == depth;
        let systems = self.ledger.systems.iter().enumerate();
        let systems = systems.filter(|(_, numbers)| numbers.views.iter().any(of_depth));
        let systems: BTreeSet<usize> = systems.map(|(system, _)| system).collect();
        self.safe.retain(|(system, _, _)| !systems.contains(system));
        for entry in 0..self.held.len() {
            if self.ledger.entries[entry].depth == depth {
                self.loosen(entry);
            }
        }
        for system in systems {
            self.learn(system);
            // Those furthest up are on the list since the rules held them back.
            for view in (0..self.ledger.systems[system].views.len()).filter(|_| depth > 0) {
                if !self.is_told(system, view) {
                    self.look_at(system, Target::View(view));
                }
            }
            for secret in 0..self.ledger.systems[system].secrets.len() {
                // The layers have the same sums, and by sums alone it is looked for.
                self.open.push_back((system, 0, Target::Secret(secret)));
            }
        }
    }

    /// How far down the row of a view stands; a sum that everybody knows stands above all.
    fn depth_of(&self, view: &held_back::View) -> u8 {
        let entry = view.entry.and_then(|it| self.ledger.entries.get(it.0));
        entry.map_or(0, |entry| entry.depth)
    }

    /// Learns all rows of this depth that are told; first those with which others go, since
    /// these go first, and of them the small ones, so that what is found is found from few.
    fn learn(&mut self, system: usize) {
        let numbers = &self.ledger.systems[system];
        let mut views: Vec<(bool, usize, usize)> = Vec::new();
        for (view, of) in numbers.views.iter().enumerate() {
            if self.depth_of(of) == self.depth {
                let entry = of.entry.and_then(|it| self.ledger.entries.get(it.0));
                let goes_with = entry.is_some_and(|it| !it.with.is_empty());
                views.push((goes_with, of.parts.len(), view));
            }
        }
        views.sort_unstable();
        for (_, _, view) in views {
            if self.is_told(system, view) {
                self.told[system].learn(view);
            }
            for layer in 0..numbers.layers.len() {
                if self.boards[system][layer].is_settled(view) {
                    self.settled[system][layer].learn(view);
                }
            }
        }
    }

    /// Whether the row of a view is told.
    fn is_told(&self, system: usize, view: usize) -> bool {
        let entry = self.ledger.systems[system].views[view].entry;
        entry.is_none_or(|entry| self.held[entry.0].is_none())
    }

    /// Holds back a row, and all rows that go with it.
    fn hold_back(&mut self, entry: usize, why: held_back::Reason) {
        for (changed, held) in self.with_followers(entry, why) {
            self.held[changed] = Some(held);
            self.loosen(changed);
            self.forget(changed);
            for place in 0..self.views_of[changed].len() {
                let (system, view) = self.views_of[changed][place];
                self.look_at(system, Target::View(view));
            }
        }
    }

    /// The row itself and those told that go with it, with what becomes of them.
    fn with_followers(&self, entry: usize, why: held_back::Reason) -> Vec<(usize, Held)> {
        let own = Held {
            why,
            with_another: false,
        };
        let others = self.followers[entry].iter();
        let others = others.filter(|other| self.held[**other].is_none());
        let others = others.map(|other| {
            let held = Held {
                why,
                with_another: true,
            };
            (*other, held)
        });
        std::iter::once((entry, own)).chain(others).collect()
    }

    /// Lets the sums of a row move as far as what a reader sees in its place allows.
    fn loosen(&mut self, entry: usize) {
        let of = &self.ledger.entries[entry];
        let is_known = of.depth <= self.depth;
        for (system, view) in &self.views_of[entry] {
            let layers = self.ledger.systems[*system].layers.iter();
            for (board, layer) in self.boards[*system].iter_mut().zip(layers) {
                if !is_known {
                    board.loosen(*view, Some((-i64::MAX / 2, i64::MAX / 2)));
                    continue;
                }
                let by = self.held[entry].map(|held| {
                    let number = of.number(layer.quantity);
                    let bounds = if held.with_another {
                        0..=u64::MAX
                    } else {
                        of.bounds(layer.quantity, held.why)
                    };
                    let below = number.saturating_sub(*bounds.start());
                    let above = bounds.end().saturating_sub(number);
                    let far = |by: u64| i64::try_from(by).unwrap_or(i64::MAX / 2);
                    (-far(below), far(above).min(i64::MAX / 2))
                });
                board.loosen(*view, by);
            }
        }
    }

    /// Takes a row held back out of what a reader knows.
    fn forget(&mut self, entry: usize) {
        for (system, view) in &self.views_of[entry] {
            self.told[*system].forget(*view);
            let boards = self.boards[*system].iter();
            for (board, settled) in boards.zip(&mut self.settled[*system]) {
                if !board.is_settled(*view) {
                    settled.forget(*view);
                }
            }
        }
    }

    /// Puts a target of every layer on the list of what is still to be looked at; rows
    /// further down come later.
    fn look_at(&mut self, system: usize, target: Target) {
        if let Target::View(view) = target
            && self.depth_of(&self.ledger.systems[system].views[view]) > self.depth
        {
            return;
        }
        for layer in 0..self.ledger.systems[system].layers.len() {
            self.open.push_back((system, layer, target));
        }
    }

    fn parts(&self, (system, _, target): Place) -> &'a [usize] {
        let system = &self.ledger.systems[system];
        match target {
            Target::View(view) => &system.views[view].parts,
            Target::Secret(secret) => &system.secrets[secret].parts,
        }
    }

    /// Whether something cannot be found out; notes all that the same other numbers
    /// show to be safe.
    fn is_safe(&mut self, place: Place) -> bool {
        if self.safe.contains(&place) {
            return true;
        }
        let (system, layer, target) = place;
        let parts = self.parts(place);
        if self.told[system].gives(parts).is_some() {
            return false;
        }
        if let Target::Secret(secret) = target {
            let care = self.ledger.systems[system].secrets[secret].care;
            if care == held_back::Care::Sums {
                return self.boards[system][layer].frozen(parts).is_empty();
            }
        }
        let layers = if self.is_strict(place) {
            layer..layer + 1
        } else {
            0..self.boards[system].len()
        };
        if layers
            .clone()
            .any(|layer| !self.may_be_settled(place, layer))
        {
            self.safe.insert(place);
            return true;
        }
        let found = layers.into_iter().find_map(|layer| {
            let moves = self.boards[system][layer].other_numbers(parts, search::TRIALS)?;
            Some((layer, moves))
        });
        let Some((layer, moves)) = found else {
            return false;
        };
        let mut by: BTreeMap<Target, i64> = BTreeMap::new();
        for (part, moved) in moves {
            let views = self.boards[system][layer].views_of[part].iter();
            for view in views {
                *by.entry(Target::View(*view)).or_default() += moved;
            }
            for secret in self.secrets_of[system].get(&part).into_iter().flatten() {
                *by.entry(Target::Secret(*secret)).or_default() += moved;
            }
        }
        let safe = by.into_iter().filter(|(_, moved)| *moved != 0);
        self.safe
            .extend(safe.map(|(target, _)| (system, layer, target)));
        true
    }

    /// Whether every number of a target must be safe.
    fn is_strict(&self, (system, layer, target): Place) -> bool {
        let numbers = &self.ledger.systems[system];
        if numbers.layers[layer].quantity == held_back::Quantity::Lost {
            return false;
        }
        let Target::View(view) = target else {
            return true;
        };
        let pupils = numbers.views[view]
            .entry
            .map(|entry| self.ledger.entries[entry.0].pupils);
        numbers.layers.len() < 2 || pupils.is_none_or(held_back::is_small)
    }

    /// Whether what a reader knows for sure of single parts may give something away in a
    /// layer. Where it does not, there are other numbers, a little more and a little less.
    fn may_be_settled(&self, (system, _, target): Place, layer: usize) -> bool {
        let parts = self.parts((system, layer, target));
        let settled = &self.settled[system][layer];
        let values = &self.ledger.systems[system].layers[layer].values;
        if parts.iter().all(|part| values[*part] == 0) {
            return !parts.iter().any(|part| settled.may_change(*part));
        }
        let hangs_alone = match target {
            // It is at an end of its own bounds, and may move the other way.
            Target::View(view) => settled.hangs_on(view, &BTreeSet::new()),
            Target::Secret(_) => false,
        };
        !hangs_alone && settled.gives(parts).is_some()
    }

    /// Says no reason for any row of a system that is held back, down from the first if
    /// this depth is the first, else down from the second.
    fn leave_unsaid(&mut self, system: usize) {
        let views = self.ledger.systems[system].views.iter();
        let views = views.filter(|view| self.depth == 0 || self.depth_of(view) > 0);
        let entries: BTreeSet<usize> = views.filter_map(|view| view.entry).map(|it| it.0).collect();
        for entry in entries {
            if let Some(held) = &mut self.held[entry] {
                held.why = held_back::Reason::Unsaid;
                self.loosen(entry);
                self.forget(entry);
            }
        }
    }
}
