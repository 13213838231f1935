//! Whether some parts together are a sum or difference of rows: exact linear algebra.
//!
//! Takes rows as the parts that they are sums of, and keeps some of them as a basis; gives
//! for any set of parts the rows, added and subtracted and multiplied, that make it up.
//! Knows no numbers of the parts.
//!
//! Numbers are remainders of a prime, in place of fractions; and that a combination gives
//! a set in every part is checked by two random sums over the parts. Both can err with a
//! chance of about one in two thousand million, the second only by finding too much.

use crate::held_back;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

const PRIME: u64 = 2_147_483_647;

/// Multiples of rows that add up to something.
pub(super) type Combination = BTreeMap<usize, u64>;

/// What all combinations of some rows are.
///
/// Each row of the basis has a part, its pivot, so that for each pivot there is one
/// combination of the basis that has it once and no other pivot.
#[derive(Debug)]
pub(super) struct Span<'a> {
    rows: &'a [held_back::View],
    /// Which rows a part stands in.
    rows_of: Vec<Vec<usize>>,
    /// Whether a part counts.
    counts: Vec<bool>,
    /// Whether a part is a pivot.
    is_pivot: Vec<bool>,
    weights: Vec<[u64; 2]>,
    weights_of_rows: Vec<[u64; 2]>,
    /// For each pivot the combination that has it once and no other pivot.
    of_pivot: BTreeMap<usize, Combination>,
    /// For each row of the basis the pivots whose combination it is in.
    pivots_of: BTreeMap<usize, BTreeSet<usize>>,
    /// Rows that are combinations of the basis.
    others: BTreeMap<usize, Combination>,
    /// For each row of the basis those of the others that it is in.
    others_of: BTreeMap<usize, BTreeSet<usize>>,
}

impl<'a> Span<'a> {
    /// Returns the span of no rows; only these parts count.
    pub(super) fn new(rows: &'a [held_back::View], counts: Vec<bool>) -> Self {
        let mut rows_of = vec![Vec::new(); counts.len()];
        for (row, of) in rows.iter().enumerate() {
            for part in &of.parts {
                if let Some(rows) = rows_of.get_mut(*part) {
                    rows.push(row);
                }
            }
        }
        let weights = (0..counts.len()).map(|part| {
            let number = u64::try_from(part).unwrap_or(u64::MAX).wrapping_mul(2);
            [scattered(number), scattered(number.wrapping_add(1))]
        });
        let mut span = Self {
            rows,
            is_pivot: vec![false; counts.len()],
            weights: weights.collect(),
            rows_of,
            counts,
            weights_of_rows: Vec::new(),
            of_pivot: BTreeMap::new(),
            pivots_of: BTreeMap::new(),
            others: BTreeMap::new(),
            others_of: BTreeMap::new(),
        };
        span.weights_of_rows = rows.iter().map(|row| span.weights(&row.parts)).collect();
        span
    }

    /// Adds a row.
    pub(super) fn learn(&mut self, row: usize) {
        let parts = &self.rows[row].parts;
        let combination = self.at_pivots(parts);
        if self.is(&combination, parts) {
            for of_basis in combination.keys() {
                self.others_of.entry(*of_basis).or_default().insert(row);
            }
            self.others.insert(row, combination);
            return;
        }
        let of_others = combination.keys().flat_map(|row| &self.rows[*row].parts);
        let pivot = parts.iter().chain(of_others).find_map(|part| {
            if !self.has(*part) {
                return None;
            }
            let left = self.left(row, &combination, *part);
            (left > 0).then_some((*part, left))
        });
        let Some((pivot, left)) = pivot else { return };
        let times = inverse(left);
        let mut own: Combination = combination
            .into_iter()
            .map(|(row, by)| (row, (PRIME - by) * times % PRIME))
            .collect();
        own.insert(row, times);
        let mut at_pivot: BTreeMap<usize, u64> = BTreeMap::new();
        for row in &self.rows_of[pivot] {
            for other in self.pivots_of.get(row).into_iter().flatten() {
                let by = at_pivot.entry(*other).or_default();
                *by = (*by + self.of_pivot[other][row]) % PRIME;
            }
        }
        for (other, by) in at_pivot {
            self.add(other, PRIME - by, &own);
        }
        for row in own.keys() {
            self.pivots_of.entry(*row).or_default().insert(pivot);
        }
        self.is_pivot[pivot] = true;
        self.of_pivot.insert(pivot, own);
    }

    /// Takes a row out, if it is in.
    pub(super) fn forget(&mut self, row: usize) {
        if self.take_other(row) {
            return;
        }
        let Some(pivots) = self.pivots_of.remove(&row) else {
            return;
        };
        let Some(pivot) = pivots.iter().min_by_key(|it| self.of_pivot[it].len()) else {
            return;
        };
        let Some(own) = self.of_pivot.remove(pivot) else {
            return;
        };
        self.is_pivot[*pivot] = false;
        for row in own.keys() {
            if let Some(pivots) = self.pivots_of.get_mut(row) {
                pivots.remove(pivot);
            }
        }
        let times = inverse(own[&row]);
        for other in pivots.iter().filter(|it| *it != pivot) {
            let by = self.of_pivot[other][&row] * times % PRIME;
            self.add(*other, PRIME - by, &own);
        }
        self.pivots_of.remove(&row);
        // One of those that were combinations with it may take its place.
        let others = self.others_of.get(&row).cloned().unwrap_or_default();
        for other in &others {
            self.take_other(*other);
        }
        for other in others {
            self.learn(other);
        }
    }

    /// Takes out a row that is a combination of the basis, if it is one.
    fn take_other(&mut self, row: usize) -> bool {
        let Some(combination) = self.others.remove(&row) else {
            return false;
        };
        for of_basis in combination.keys() {
            if let Some(others) = self.others_of.get_mut(of_basis) {
                others.remove(&row);
            }
        }
        true
    }

    /// Returns the combination of rows that gives some parts, if there is one.
    pub(super) fn gives(&self, parts: &[usize]) -> Option<Combination> {
        let combination = self.at_pivots(parts);
        self.is(&combination, parts).then_some(combination)
    }

    /// Whether nothing made with a row can be made without it and these others.
    pub(super) fn hangs_on(&self, row: usize, without: &BTreeSet<usize>) -> bool {
        let mut others = self.others_of.get(&row).into_iter().flatten();
        self.pivots_of.contains_key(&row) && others.all(|other| without.contains(other))
    }

    /// Whether a part that does not count could change, with parts that count, so that no
    /// row does.
    pub(super) fn may_change(&self, part: usize) -> bool {
        // Only rows with the part in them could change.
        let rows = self.rows_of.get(part).into_iter().flatten();
        let others = rows.flat_map(|row| {
            let made_with = self.others_of.get(row).into_iter().flatten();
            std::iter::once(row).chain(made_with)
        });
        let others: BTreeSet<usize> = others.copied().collect();
        others.into_iter().all(|other| {
            let made = self.others.get(&other);
            made.is_none_or(|made| self.left(other, made, part) == 0)
        })
    }

    /// The only combination of the basis that has each pivot as often as some parts do.
    fn at_pivots(&self, parts: &[usize]) -> Combination {
        let mut sum = Combination::new();
        for pivot in parts {
            if !self.is_pivot.get(*pivot).is_some_and(|is_pivot| *is_pivot) {
                continue;
            }
            for (row, by) in self.of_pivot.get(pivot).into_iter().flatten() {
                let times = sum.entry(*row).or_default();
                *times = (*times + by) % PRIME;
            }
        }
        sum.retain(|_, by| *by > 0);
        sum
    }

    /// Whether a combination gives some parts.
    fn is(&self, combination: &Combination, parts: &[usize]) -> bool {
        let mut sums = [0, 0];
        for (row, by) in combination {
            for (sum, weight) in sums.iter_mut().zip(self.weights_of_rows[*row]) {
                *sum = (*sum + by * weight) % PRIME;
            }
        }
        sums == self.weights(parts)
    }

    /// How often a part is in a row less a combination.
    fn left(&self, row: usize, combination: &Combination, part: usize) -> u64 {
        let rows = self.rows_of.get(part).into_iter().flatten();
        let left = rows.fold(0, |left, of_part| {
            let by = combination.get(of_part).map_or(0, |by| PRIME - by);
            left + u64::from(*of_part == row) + by
        });
        left % PRIME
    }

    /// Adds a multiple of a combination to that of a pivot.
    fn add(&mut self, pivot: usize, times: u64, other: &Combination) {
        let Some(own) = self.of_pivot.get_mut(&pivot) else {
            return;
        };
        for (row, by) in other {
            let sum = own.entry(*row).or_default();
            *sum = (*sum + by * times) % PRIME;
            let pivots = self.pivots_of.entry(*row).or_default();
            if *sum == 0 {
                own.remove(row);
                pivots.remove(&pivot);
            } else {
                pivots.insert(pivot);
            }
        }
    }

    /// Whether a part counts.
    fn has(&self, part: usize) -> bool {
        self.counts.get(part).is_some_and(|counts| *counts)
    }

    /// Two random sums over parts, the same for the same parts.
    fn weights(&self, parts: &[usize]) -> [u64; 2] {
        let mut sums = [0, 0];
        for part in parts {
            if self.has(*part) {
                let [one, other] = self.weights[*part];
                sums = [sums[0] + one, sums[1] + other];
            }
        }
        sums.map(|sum| sum % PRIME)
    }
}

/// A number that looks random for each number.
///
/// Source: the output function of `SplitMix64` (Steele, Lea and Flood, "Fast splittable
/// pseudorandom number generators", 2014).
fn scattered(number: u64) -> u64 {
    let mut mixed = number.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    (mixed ^ (mixed >> 31)) % PRIME
}

/// The number that gives one when multiplied with this one, which is not nought.
fn inverse(number: u64) -> u64 {
    let (mut power, mut square, mut left) = (1, number, PRIME - 2);
    while left > 0 {
        if left % 2 == 1 {
            power = power * square % PRIME;
        }
        square = square * square % PRIME;
        left /= 2;
    }
    power
}
