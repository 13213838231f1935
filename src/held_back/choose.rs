//! Which rows more are held back.

use crate::held_back;
use crate::held_back::search;
use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::collections::VecDeque;

/// How many rows are tried before one goes without a try.
const MOST_TRIED: usize = 12;

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
    /// The small groups that each part of a system is in.
    secrets_of: Vec<BTreeMap<usize, Vec<usize>>>,
    safe: BTreeSet<Place>,
    open: VecDeque<Place>,
}

/// Returns why each row is held back, if it is.
///
/// Begins with what the rules hold back. While something can be found out, one more row
/// goes: the smallest after which it cannot, rather of the same table. Where nothing more
/// could go, even the reasons do. It ends, because each turn holds back more; and what
/// was safe stays so.
pub(super) fn choose(ledger: &held_back::Ledger) -> Vec<Option<held_back::Reason>> {
    let mut choice = Choice::new(ledger);
    choice.hold_back_by_the_rules();
    for (system, numbers) in ledger.systems.iter().enumerate() {
        for secret in 0..numbers.secrets.len() {
            // The layers have the same sums, and by sums alone it is looked for.
            choice.open.push_back((system, 0, Target::Secret(secret)));
        }
    }
    let mut unsaid = BTreeSet::new();
    while let Some(place) = choice.open.pop_front() {
        if choice.is_safe(place) {
            continue;
        }
        if let Some(entry) = choice.next(place) {
            choice.hold_back(entry, held_back::Reason::ToProtect);
            choice.open.push_front(place);
        } else if unsaid.insert(place.0) {
            choice.leave_unsaid(place.0);
            choice.open.push_front(place);
        }
        // Else nothing that is told hangs together with it.
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
        Self {
            held: vec![None; ledger.entries.len()],
            followers,
            views_of,
            boards: boards.collect(),
            secrets_of,
            safe: BTreeSet::new(),
            open: VecDeque::new(),
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

    /// Holds back a row, and all rows that go with it.
    fn hold_back(&mut self, entry: usize, why: held_back::Reason) {
        for (changed, held) in self.with_followers(entry, why) {
            self.held[changed] = Some(held);
            self.loosen(changed);
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
        for (system, view) in &self.views_of[entry] {
            let layers = self.ledger.systems[*system].layers.iter();
            for (board, layer) in self.boards[*system].iter_mut().zip(layers) {
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

    /// Puts a target of every layer on the list of what is still to be looked at.
    fn look_at(&mut self, system: usize, target: Target) {
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
        if let Target::Secret(secret) = target {
            let found = self.plainly_found(place).is_some();
            let care = self.ledger.systems[system].secrets[secret].care;
            if found || care == held_back::Care::OneTable {
                return !found;
            }
        }
        let parts = self.parts(place);
        let layers = if self.is_strict(place) {
            layer..layer + 1
        } else {
            0..self.boards[system].len()
        };
        let found = [search::FEW_TRIALS, search::MOST_TRIALS]
            .into_iter()
            .find_map(|trials| {
                if trials == search::MOST_TRIALS && self.plainly_found(place).is_some() {
                    return None;
                }
                layers.clone().find_map(|layer| {
                    let moves = self.boards[system][layer].other_numbers(parts, trials)?;
                    Some((layer, moves))
                })
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

    /// Returns the rows by which something is found at once: they are nought, so that it
    /// is; or with it they make up another row, table by table.
    fn plainly_found(&self, place: Place) -> Option<BTreeSet<usize>> {
        let (system, layer, _) = place;
        let parts = self.parts(place);
        let views = &self.ledger.systems[system].views;
        let board = &self.boards[system][layer];
        let entries = |found: &BTreeSet<usize>| -> BTreeSet<usize> {
            let entries = found.iter().filter_map(|view| views[*view].entry);
            entries.map(|entry| entry.0).collect()
        };
        let frozen = board.frozen(parts);
        if !frozen.is_empty() && self.is_strict(place) {
            return Some(entries(&frozen));
        }
        let own: BTreeSet<usize> = parts.iter().copied().collect();
        let around = board.views_of[*parts.first()?].iter();
        let mut around: Vec<usize> = around
            .copied()
            .filter(|view| board.is_told(*view))
            .collect();
        // The year of a class before the whole.
        around.sort_by_key(|view| (views[*view].parts.len(), *view));
        for whole in around {
            let all = &views[whole].parts;
            if !own.iter().all(|part| all.binary_search(part).is_ok()) {
                continue;
            }
            let Some(other) = all.iter().find(|part| !own.contains(part)) else {
                return Some(entries(&BTreeSet::from([whole])));
            };
            let mut rest: Vec<usize> = Vec::new();
            for table in self.tables_of(system, *other) {
                if self.overlaps(system, layer, (&own, all), table) {
                    continue;
                }
                if rest.is_empty() {
                    rest.extend(all.iter().filter(|it| !own.contains(it)));
                }
                if let Some(found) = self.made_up(system, layer, &rest, table) {
                    return Some(entries(&found));
                }
            }
        }
        None
    }

    /// Whether a row told of a table has the first of some parts, and a part of the
    /// whole beside them: then what is left of the whole is not made up of its rows.
    fn overlaps(
        &self,
        system: usize,
        layer: usize,
        (own, all): (&BTreeSet<usize>, &[usize]),
        table: usize,
    ) -> bool {
        let views = &self.ledger.systems[system].views;
        let board = &self.boards[system][layer];
        let first = own.first().into_iter();
        let mut around = first.flat_map(|part| board.views_of[*part].iter());
        around.any(|view| {
            let entry = views[*view].entry;
            let in_table = entry.is_some_and(|it| self.ledger.entries[it.0].table == table);
            let mut parts = views[*view].parts.iter();
            in_table
                && board.is_told(*view)
                && parts.any(|part| !own.contains(part) && all.binary_search(part).is_ok())
        })
    }

    /// The tables with a row that has a part.
    fn tables_of(&self, system: usize, part: usize) -> BTreeSet<usize> {
        let views = &self.ledger.systems[system].views;
        let around = self.boards[system][0].views_of[part].iter();
        let entries = around.filter_map(|view| views[*view].entry);
        entries
            .map(|entry| self.ledger.entries[entry.0].table)
            .collect()
    }

    /// Returns the rows told of one table that some parts are made up of, if they are.
    fn made_up(
        &self,
        system: usize,
        layer: usize,
        parts: &[usize],
        table: usize,
    ) -> Option<BTreeSet<usize>> {
        let views = &self.ledger.systems[system].views;
        let board = &self.boards[system][layer];
        let mut found: BTreeMap<usize, usize> = BTreeMap::new();
        for part in parts {
            let mut of_part = board.views_of[*part].iter();
            let view = of_part.find(|view| {
                let entry = views[**view].entry;
                let in_table = entry.is_some_and(|it| self.ledger.entries[it.0].table == table);
                in_table && board.is_told(**view)
            })?;
            *found.entry(*view).or_default() += 1;
        }
        let is_whole = |(view, parts): (&usize, &usize)| views[*view].parts.len() == *parts;
        found
            .iter()
            .all(is_whole)
            .then(|| found.into_keys().collect())
    }

    /// Returns the row told that goes next, to keep something safe: the smallest of those
    /// by which it is plainly found; else the first after which it is safe, of those in
    /// the same tables with the fewest pupils; else the first of all.
    fn next(&mut self, place: Place) -> Option<usize> {
        let (system, layer, target) = place;
        let parts = self.parts(place);
        if let Some(rows) = self.plainly_found(place) {
            let entries = &self.ledger.entries;
            let rows = rows.into_iter().filter(|row| entries[*row].pupils > 0);
            let smallest = rows.min_by_key(|row| (entries[*row].pupils, *row));
            if smallest.is_some() {
                return smallest;
            }
        }
        let numbers = &self.ledger.systems[system];
        let tables: Vec<usize> = match target {
            Target::View(view) => {
                let entry = numbers.views[view].entry.into_iter();
                entry.map(|it| self.ledger.entries[it.0].table).collect()
            }
            Target::Secret(secret) => numbers.secrets[secret].tables.clone(),
        };
        let near = self.near(place);
        let mut rows: Vec<((bool, bool, u64), usize)> = Vec::new();
        for (view, of) in numbers.views.iter().enumerate() {
            let Some(entry) = of.entry else { continue };
            let row = &self.ledger.entries[entry.0];
            if self.boards[system][layer].is_told(view) && row.pupils > 0 {
                let is_far = !of.parts.iter().any(|part| near.contains(part));
                let is_other = !tables.contains(&row.table);
                rows.push(((is_other, is_far, row.pupils), entry.0));
            }
        }
        rows.sort_unstable();
        rows.dedup();
        let helps = rows.iter().take(MOST_TRIED).map(|(_, row)| *row);
        let helps = helps.into_iter().find(|row| {
            let tried = self.with_followers(*row, held_back::Reason::ToProtect);
            for (entry, held) in &tried {
                self.held[*entry] = Some(*held);
                self.loosen(*entry);
            }
            let board = &mut self.boards[system][layer];
            let helps = board.other_numbers(parts, search::MOST_TRIALS).is_some();
            for (entry, _) in &tried {
                self.held[*entry] = None;
                self.loosen(*entry);
            }
            helps
        });
        helps.or_else(|| rows.first().map(|(_, row)| *row))
    }

    /// The parts of the smallest sum told that something is wholly in; its own parts
    /// where there is none.
    fn near(&self, place: Place) -> BTreeSet<usize> {
        let (system, layer, _) = place;
        let parts = self.parts(place);
        let own: BTreeSet<usize> = parts.iter().copied().collect();
        let board = &self.boards[system][layer];
        let views = &self.ledger.systems[system].views;
        let around = parts
            .first()
            .into_iter()
            .flat_map(|it| &board.views_of[*it]);
        let around = around.filter(|view| board.is_told(**view));
        let mut around: Vec<&held_back::View> = around.map(|view| &views[*view]).collect();
        around.sort_by_key(|view| view.parts.len());
        let around = around
            .into_iter()
            .map(|view| view.parts.iter().copied().collect::<BTreeSet<usize>>())
            .find(|all| own.is_subset(all));
        around.unwrap_or(own)
    }

    /// Says no reason for any row of a system that is held back.
    fn leave_unsaid(&mut self, system: usize) {
        let views = self.ledger.systems[system].views.iter();
        let entries: BTreeSet<usize> = views.filter_map(|view| view.entry).map(|it| it.0).collect();
        for entry in entries {
            if let Some(held) = &mut self.held[entry] {
                held.why = held_back::Reason::Unsaid;
                self.loosen(entry);
            }
        }
    }
}
