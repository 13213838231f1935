//! Which row goes next: one of those that stand furthest down.

use crate::held_back;
use crate::held_back::choose::Choice;
use crate::held_back::choose::Place;
use crate::held_back::choose::Target;
use crate::held_back::search;
use crate::held_back::span;
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// In which order rows are tried: those furthest down, of the same tables, near, small.
type Order = (Reverse<u8>, bool, bool, u64);

/// How many rows are tried before one goes without a try.
const MOST_TRIED: usize = 12;

impl Choice<'_> {
    /// Returns the row told that goes next, to keep something safe.
    pub(super) fn next(&mut self, place: Place) -> Option<usize> {
        let (system, layer, _) = place;
        let parts = self.parts(place);
        if let Some(found) = self.told[system].gives(parts) {
            return self.of_combination(system, &self.told[system], &found);
        }
        let frozen = self.boards[system][layer].frozen(parts);
        let views = &self.ledger.systems[system].views;
        let frozen = frozen.iter().filter_map(|view| views[*view].entry);
        let entries = &self.ledger.entries;
        let frozen = frozen.filter(|entry| entries[entry.0].pupils > 0);
        let smallest = frozen.min_by_key(|entry| {
            let row = &entries[entry.0];
            (Reverse(row.depth), row.pupils, entry.0)
        });
        if let Some(smallest) = smallest.filter(|_| self.is_strict(place)) {
            return Some(smallest.0);
        }
        let settled = &self.settled[system][layer];
        let found = settled.gives(parts).unwrap_or_default();
        let next = self.of_combination(system, settled, &found);
        // Before a row of the first depth goes for bounds only, reasons do.
        let may_go = |entry: &usize| {
            let is_below = self.ledger.entries[*entry].depth > 0;
            is_below || self.depth == 0 || self.unsaid.contains(&system)
        };
        next.filter(may_go).or_else(|| self.nearest(place))
    }

    /// Returns the smallest row of a combination without which it can no longer be made;
    /// the smallest of all where each could be made in another way. Of those furthest down,
    /// and of the first depth only while there is no other.
    fn of_combination(
        &self,
        system: usize,
        span: &span::Span<'_>,
        found: &span::Combination,
    ) -> Option<usize> {
        let views = &self.ledger.systems[system].views;
        let mut rows: Vec<(u64, usize, usize)> = Vec::new();
        for view in found.keys() {
            let Some(entry) = views[*view].entry else {
                continue;
            };
            let pupils = self.ledger.entries[entry.0].pupils;
            if pupils > 0 && self.held[entry.0].is_none() {
                rows.push((pupils, entry.0, *view));
            }
        }
        rows.sort_unstable();
        let depth = |row: &(u64, usize, usize)| self.ledger.entries[row.1].depth;
        let furthest = rows.iter().map(depth).max();
        rows.retain(|row| Some(depth(row)) == furthest);
        let helps = rows.iter().find(|(_, entry, view)| {
            let followers = self.followers[*entry].iter();
            let followers = followers.flat_map(|it| &self.views_of[*it]);
            let of_system = followers.filter(|(of, _)| *of == system);
            let without: BTreeSet<usize> = of_system.map(|(_, view)| *view).collect();
            span.hangs_on(*view, &without)
        });
        helps.or(rows.first()).map(|(_, entry, _)| *entry)
    }

    /// Returns the first row told after which something is safe, of those in the same
    /// tables with the fewest pupils; else the first of all.
    fn nearest(&mut self, place: Place) -> Option<usize> {
        let (system, layer, target) = place;
        let parts = self.parts(place);
        let numbers = &self.ledger.systems[system];
        let tables: Vec<usize> = match target {
            Target::View(view) => {
                let entry = numbers.views[view].entry.into_iter();
                entry.map(|it| self.ledger.entries[it.0].table).collect()
            }
            Target::Secret(secret) => numbers.secrets[secret].tables.clone(),
        };
        let near = self.near(place);
        let mut rows: Vec<(Order, usize)> = Vec::new();
        for (view, of) in numbers.views.iter().enumerate() {
            let Some(entry) = of.entry else { continue };
            let row = &self.ledger.entries[entry.0];
            if self.boards[system][layer].is_told(view) && row.pupils > 0 {
                let is_far = !of.parts.iter().any(|part| near.contains(part));
                let is_other = !tables.contains(&row.table);
                let depth = Reverse(row.depth);
                rows.push(((depth, is_other, is_far, row.pupils), entry.0));
            }
        }
        rows.sort_unstable();
        rows.dedup();
        // Those further up, and further down those far off, only when nothing else is left.
        if self.depth > 0 && !self.unsaid.contains(&system) {
            rows.retain(|(key, _)| key.0 == Reverse(self.depth) && !key.2);
        }
        let furthest = rows.first().map(|(key, _)| key.0);
        rows.retain(|(key, _)| Some(key.0) == furthest);
        let helps = rows.iter().take(MOST_TRIED).map(|(_, row)| *row);
        let helps = helps.into_iter().find(|row| {
            let tried = self.with_followers(*row, held_back::Reason::ToProtect);
            for (entry, held) in &tried {
                self.held[*entry] = Some(*held);
                self.loosen(*entry);
            }
            let board = &mut self.boards[system][layer];
            let helps = board.other_numbers(parts, search::TRIALS).is_some();
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
}
