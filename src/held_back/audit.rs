//! Whether something can be found out, told apart from how it was chosen.
//!
//! A number is safe when other numbers fit everything that a reader knows and give it
//! another value. Such numbers are looked for by changing the one a little and mending
//! each sum that no longer adds up by changing one more number not told. What is found
//! is held against everything known once more, so that a slip in the search cannot make
//! anything seem safe; and where nothing is found in so many trials the number counts as
//! found out. Either way the error is on the side of holding back.

use crate::held_back;
use crate::held_back::known;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// How far a number is moved, and how many changes are tried for each.
const FARTHEST: i128 = 4;
const MOST_TRIALS: u32 = 3_000;

/// Whether a secret is safe; adds all that the same other numbers show to be safe.
pub(super) fn is_safe(
    ledger: &held_back::Ledger,
    view: &known::View,
    cell: usize,
    safe: &mut BTreeSet<usize>,
) -> bool {
    if safe.contains(&cell) {
        return true;
    }
    let Some(numbers) = other_numbers(ledger, view, cell) else {
        return false;
    };
    for (place, (number, cell)) in numbers.iter().zip(&ledger.cells).enumerate() {
        if *number != cell.value {
            safe.insert(place);
        }
    }
    safe.contains(&cell)
}

/// Returns numbers that fit all that is known, with another value for one cell.
pub(super) fn other_numbers(
    ledger: &held_back::Ledger,
    view: &known::View,
    cell: usize,
) -> Option<Vec<u64>> {
    let mut search = Search::new(ledger, view);
    for step in 1..=FARTHEST {
        for by in [step, -step] {
            search.moved.fill(0);
            search.off.clear();
            search.trials = MOST_TRIALS;
            if search.change(cell, by)
                && let Some(numbers) = search.numbers()
                && numbers[cell] != ledger.cells[cell].value
            {
                return Some(numbers);
            }
        }
    }
    twice(ledger, view, cell)
}

/// Twice of everything not told that hangs together, which fits where nothing is told.
fn twice(ledger: &held_back::Ledger, view: &known::View, cell: usize) -> Option<Vec<u64>> {
    let reach = view.reach(ledger, cell);
    let twice = |(place, cell): (usize, &held_back::Cell)| {
        let more = if reach.contains(&place) {
            cell.value
        } else {
            0
        };
        cell.value.checked_add(more)
    };
    let numbers: Option<Vec<u64>> = ledger.cells.iter().enumerate().map(twice).collect();
    numbers
        .filter(|numbers| numbers[cell] != ledger.cells[cell].value && view.allows(ledger, numbers))
}

/// A search among the numbers not told.
struct Search<'a> {
    ledger: &'a held_back::Ledger,
    view: &'a known::View,
    bounds: Vec<(u64, u64)>,
    /// Which sums a cell stands in.
    sums: Vec<Vec<usize>>,
    /// How far each number was moved; nought: not yet.
    moved: Vec<i128>,
    /// By how much the parts of a sum fall short of its whole, where they do.
    off: BTreeMap<usize, i128>,
    trials: u32,
}

impl<'a> Search<'a> {
    fn new(ledger: &'a held_back::Ledger, view: &'a known::View) -> Self {
        let mut sums = vec![Vec::new(); ledger.cells.len()];
        for (place, sum) in ledger.sums.iter().enumerate() {
            for cell in sum.cells() {
                sums[cell].push(place);
            }
        }
        let cells = 0..ledger.cells.len();
        Self {
            ledger,
            view,
            bounds: cells.map(|cell| view.bounds(ledger, cell)).collect(),
            sums,
            moved: vec![0; ledger.cells.len()],
            off: BTreeMap::new(),
            trials: 0,
        }
    }

    /// Moves a number and mends what no longer adds up; takes it back if that fails.
    fn change(&mut self, cell: usize, by: i128) -> bool {
        if self.trials == 0 || !self.may_move(cell, by) {
            return false;
        }
        self.trials -= 1;
        self.moved[cell] = by;
        self.count(cell, by);
        if self.mend() {
            return true;
        }
        self.moved[cell] = 0;
        self.count(cell, -by);
        false
    }

    /// Counts a move in with the sums of the number.
    fn count(&mut self, cell: usize, by: i128) {
        for sum in &self.sums[cell] {
            let off = self.off.entry(*sum).or_default();
            *off += by * side(&self.ledger.sums[*sum], cell);
            if *off == 0 {
                self.off.remove(sum);
            }
        }
    }

    /// Mends the sum that leaves the fewest ways, and so on with all others.
    fn mend(&mut self) -> bool {
        if self.off.is_empty() {
            let numbers = self.numbers();
            return numbers.is_some_and(|numbers| self.view.allows(self.ledger, &numbers));
        }
        let ways = self.off.iter().map(|(sum, off)| self.ways(*sum, *off));
        let mut ways = ways.min_by_key(Vec::len).unwrap_or_default();
        // First what leaves the fewest sums to mend.
        ways.sort_by_key(|(cell, by)| (self.left_off(*cell, *by), *cell));
        ways.into_iter().any(|(cell, by)| self.change(cell, by))
    }

    /// The moves that make a sum add up again.
    fn ways(&self, sum: usize, off: i128) -> Vec<(usize, i128)> {
        let sum = &self.ledger.sums[sum];
        let each = sum.cells().map(|cell| (cell, -off * side(sum, cell)));
        each.filter(|(cell, by)| self.may_move(*cell, *by))
            .collect()
    }

    /// How many more sums would no longer add up, less those that would again.
    fn left_off(&self, cell: usize, by: i128) -> i32 {
        let sums = self.sums[cell].iter();
        sums.map(|sum| {
            let before = self.off.get(sum).copied().unwrap_or(0);
            let after = before + by * side(&self.ledger.sums[*sum], cell);
            i32::from(after != 0) - i32::from(before != 0)
        })
        .sum()
    }

    fn may_move(&self, cell: usize, by: i128) -> bool {
        let moved = i128::from(self.ledger.cells[cell].value) + by;
        let (low, high) = self.bounds[cell];
        self.moved[cell] == 0 && (i128::from(low)..=i128::from(high)).contains(&moved)
    }

    fn numbers(&self) -> Option<Vec<u64>> {
        let cells = self.ledger.cells.iter().zip(&self.moved);
        cells
            .map(|(cell, by)| u64::try_from(i128::from(cell.value) + by).ok())
            .collect()
    }
}

/// Whether a number of a sum is its whole (1) or a part (-1).
fn side(sum: &held_back::Sum, cell: usize) -> i128 {
    if sum.whole == cell { 1 } else { -1 }
}
