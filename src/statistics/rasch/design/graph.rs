//! Which questions somebody did better on than on which others, and which reach each
//! other by that.

use crate::statistics::rasch::design;
use crate::statistics::score_table;

/// No edge between so many nodes.
pub(super) fn edges(size: usize) -> Vec<Vec<bool>> {
    vec![vec![false; size]; size]
}

/// Whether some pupil did better than the least on one and worse than the best on
/// the other.
pub(super) fn beats_in(
    table: &score_table::ScoreTable,
    (one, first): (usize, &design::Node<'_>),
    (other, second): (usize, &design::Node<'_>),
) -> bool {
    (first.low..=first.high).skip(1).any(|mark| {
        (second.low..second.high).any(|beside| table.went_together((one, mark), (other, beside)))
    })
}

/// The groups of nodes that reach each other both ways, in an order in which edges
/// between groups only go forward.
///
/// Source: Kosaraju's algorithm (Sharir 1981, from memory): depth first once, then
/// against the edges in the order in which the first walk left the nodes.
pub(super) fn strong(edges: &[Vec<bool>], nodes: &[usize]) -> Vec<Vec<usize>> {
    let mut left = Vec::new();
    let mut met = vec![false; edges.len()];
    for start in nodes {
        walk(*start, nodes, &mut met, &mut left, &|from, to| {
            edges[from][to]
        });
    }
    let mut met = vec![false; edges.len()];
    let mut groups = Vec::new();
    for start in left.iter().rev() {
        let mut group = Vec::new();
        walk(*start, nodes, &mut met, &mut group, &|from, to| {
            edges[to][from]
        });
        if !group.is_empty() {
            group.sort_unstable();
            groups.push(group);
        }
    }
    groups
}

/// Walks depth first from a node and adds each newly met one when it is left.
fn walk(
    start: usize,
    nodes: &[usize],
    met: &mut [bool],
    left: &mut Vec<usize>,
    leads: &dyn Fn(usize, usize) -> bool,
) {
    if met[start] {
        return;
    }
    met[start] = true;
    let mut path = vec![(start, nodes.iter())];
    while let Some((node, rest)) = path.last_mut() {
        let from = *node;
        let next = rest.find(|to| !met[**to] && leads(from, **to));
        if let Some(next) = next {
            met[*next] = true;
            path.push((*next, nodes.iter()));
        } else {
            left.push(from);
            path.pop();
        }
    }
}
