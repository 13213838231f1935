//! Templates fitted to wishes so that the marks come out: an exact search.
//!
//! A question of one skill never takes the place of one of another, so each skill
//! is searched alone: template after template, which wish it is for, if any. What is
//! kept is the best way to every sum of marks; the skills' sums then add up in the
//! same manner. Every sum that can be had is found, with the least cost at which it
//! can be had.

use std::collections::BTreeMap;
use std::rc::Rc;

/// A template as the search sees it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Piece {
    /// Its marks.
    pub(super) marks: u32,
    /// For each kind of wish what it costs to be taken for it; `None` where it
    /// cannot be.
    pub(super) costs: Vec<Option<u32>>,
}

/// Which pieces are taken, each with the kind of wish that it is for; newest first.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Taken {
    piece: usize,
    kind: usize,
    before: Way,
}

/// A way to a sum, from its last piece back.
type Way = Option<Rc<Taken>>;

/// The cheapest way to a sum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Best {
    pub(super) cost: u32,
    way: Way,
}

impl Best {
    /// The pieces taken, each with the kind of wish that it is for.
    pub(super) fn taken(&self) -> Vec<(usize, usize)> {
        let mut taken = Vec::new();
        let mut way = &self.way;
        while let Some(last) = way {
            taken.push((last.piece, last.kind));
            way = &last.before;
        }
        taken.reverse();
        taken
    }
}

/// Returns the cheapest way to every sum of marks with which so many wishes of each
/// kind are met, no piece taken twice; empty where they cannot all be met.
pub(super) fn sums(pieces: &[Piece], wanted: &[usize]) -> BTreeMap<u32, Best> {
    let start = (wanted.to_vec(), 0_u32);
    let mut found: BTreeMap<(Vec<usize>, u32), Best> = BTreeMap::new();
    found.insert(start, Best { cost: 0, way: None });
    for (index, piece) in pieces.iter().enumerate() {
        let mut with: Vec<((Vec<usize>, u32), Best)> = Vec::new();
        for ((left, sum), best) in &found {
            for (kind, cost) in piece.costs.iter().enumerate() {
                let (Some(cost), Some(&count)) = (cost, left.get(kind)) else {
                    continue;
                };
                if count == 0 {
                    continue;
                }
                let mut left = left.clone();
                if let Some(count) = left.get_mut(kind) {
                    *count -= 1;
                }
                let taken = Taken {
                    piece: index,
                    kind,
                    before: best.way.clone(),
                };
                let better = Best {
                    cost: best.cost.saturating_add(*cost),
                    way: Some(Rc::new(taken)),
                };
                with.push(((left, sum.saturating_add(piece.marks)), better));
            }
        }
        for (state, best) in with {
            keep(&mut found, state, best);
        }
    }
    found
        .into_iter()
        .filter(|((left, _), _)| left.iter().all(|count| *count == 0))
        .map(|((_, sum), best)| (sum, best))
        .collect()
}

/// The cheapest way to a total: each group's sum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Total {
    pub(super) cost: u32,
    pub(super) sums: Vec<u32>,
}

/// Returns every total that one sum of each group gives, the cheapest way to each.
pub(super) fn totals(groups: &[&BTreeMap<u32, Best>]) -> BTreeMap<u32, Total> {
    let none = Total {
        cost: 0,
        sums: Vec::new(),
    };
    let mut found = BTreeMap::from([(0_u32, none)]);
    for group in groups {
        let mut with: BTreeMap<u32, Total> = BTreeMap::new();
        for (total, before) in &found {
            for (sum, best) in *group {
                let cost = before.cost.saturating_add(best.cost);
                let total = total.saturating_add(*sum);
                if with.get(&total).is_some_and(|known| known.cost <= cost) {
                    continue;
                }
                let mut sums = before.sums.clone();
                sums.push(*sum);
                with.insert(total, Total { cost, sums });
            }
        }
        found = with;
    }
    found
}

/// Keeps the cheaper of two ways; of equal ones the first.
fn keep<K: Ord>(found: &mut BTreeMap<K, Best>, state: K, best: Best) {
    match found.get_mut(&state) {
        Some(known) if known.cost <= best.cost => {}
        Some(known) => *known = best,
        None => {
            found.insert(state, best);
        }
    }
}

/// Returns the number of marks that everybody can have and that is nearest to the one
/// wanted, the lower of two; where there is none, the one that most can have.
pub(super) fn common(reachable: &[&BTreeMap<u32, Total>], wanted: u32) -> Option<u32> {
    let mut counts: BTreeMap<u32, usize> = BTreeMap::new();
    for totals in reachable {
        for total in totals.keys() {
            *counts.entry(*total).or_default() += 1;
        }
    }
    counts
        .into_iter()
        .min_by_key(|(total, count)| (std::cmp::Reverse(*count), total.abs_diff(wanted), *total))
        .map(|(total, _)| total)
}

/// Returns the total that is nearest to the one wanted, the lower of two.
pub(super) fn nearest(totals: &BTreeMap<u32, Total>, wanted: u32) -> Option<(u32, &Total)> {
    totals
        .iter()
        .min_by_key(|(total, _)| (total.abs_diff(wanted), **total))
        .map(|(total, found)| (*total, found))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seed;

    /// Every way to take pieces for wishes, tried one by one.
    fn all_ways(pieces: &[Piece], wanted: &[usize]) -> BTreeMap<u32, u32> {
        let Some((piece, rest)) = pieces.split_first() else {
            return if wanted.iter().all(|count| *count == 0) {
                BTreeMap::from([(0, 0)])
            } else {
                BTreeMap::new()
            };
        };
        let mut found = all_ways(rest, wanted);
        for (kind, cost) in piece.costs.iter().enumerate() {
            let (Some(cost), true) = (cost, wanted[kind] > 0) else {
                continue;
            };
            let mut left = wanted.to_vec();
            left[kind] -= 1;
            for (sum, more) in all_ways(rest, &left) {
                let known = found.entry(sum + piece.marks).or_insert(u32::MAX);
                *known = (*known).min(more + cost);
            }
        }
        found
    }

    #[test]
    fn the_search_finds_what_trying_every_way_finds() {
        for number in 0..200 {
            let mut stream = seed::Stream::named(&["fit"], number);
            let mut small = |limit: u64| u32::try_from(stream.below(limit)).expect("small");
            let pieces: Vec<Piece> = (0..=small(6))
                .map(|_| Piece {
                    marks: 1 + small(4),
                    costs: (0..2)
                        .map(|_| Some(small(9)).filter(|cost| *cost > 2))
                        .collect(),
                })
                .collect();
            let wanted = [small(3), small(3)].map(|count| usize::try_from(count).expect("small"));
            let found = sums(&pieces, &wanted);
            let costs: BTreeMap<u32, u32> =
                found.iter().map(|(sum, best)| (*sum, best.cost)).collect();
            assert_eq!(costs, all_ways(&pieces, &wanted), "{pieces:?} {wanted:?}");
            for (sum, best) in &found {
                let taken = best.taken();
                let marks: u32 = taken.iter().map(|(piece, _)| pieces[*piece].marks).sum();
                assert_eq!(marks, *sum);
                assert!(
                    taken.is_sorted_by(|one, other| one.0 < other.0),
                    "{taken:?}"
                );
                for (kind, count) in wanted.iter().enumerate() {
                    let met = taken.iter().filter(|(_, it)| *it == kind).count();
                    assert_eq!(met, *count);
                }
            }
        }
    }

    fn only(sums: &[u32]) -> BTreeMap<u32, Total> {
        let total = |sum: &u32| Total {
            cost: 0,
            sums: vec![*sum],
        };
        sums.iter().map(|sum| (*sum, total(sum))).collect()
    }

    #[test]
    fn everybody_gets_the_marks_nearest_to_those_wanted_that_all_can_have() {
        for (reachable, wanted, found) in [
            (vec![vec![9, 10, 12], vec![8, 9, 12]], 10, 9),
            (vec![vec![9, 10, 12], vec![8, 9, 12]], 11, 12),
            (vec![vec![9, 11], vec![9, 11]], 10, 9),
            // Nobody's is everybody's: the one that most can have.
            (vec![vec![5, 6], vec![6, 7], vec![9]], 9, 6),
        ] {
            let reachable: Vec<BTreeMap<u32, Total>> =
                reachable.iter().map(|sums| only(sums)).collect();
            let all: Vec<&BTreeMap<u32, Total>> = reachable.iter().collect();
            assert_eq!(common(&all, wanted), Some(found));
        }
        let totals = only(&[4, 8]);
        assert_eq!(nearest(&totals, 6).map(|(total, _)| total), Some(4));
        assert_eq!(common(&[], 6), None);
    }
}
