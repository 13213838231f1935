//! A closed ring of wheels: where its axles stand so that every side has its length
//! and all teeth meet.

use crate::drawing::curve;
use crate::drawing::phase;
use crate::drawing::plan;
use crate::drawing::refusal;
use kurbo::Point;
use std::f64::consts::PI;

/// A closed ring: its axles in order, and its edges, each with whether it is walked
/// from its first wheel.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ring {
    /// The axles.
    pub(super) nodes: Vec<usize>,
    /// The edge from each axle to the next.
    pub(super) edges: Vec<(usize, bool)>,
}

/// Returns the edges without those that tell nothing new of where axles are (a planet
/// between sun and ring; two pairs on two axles), or why that does not go.
///
/// # Errors
///
/// [`refusal::NotDrawn::CannotMesh`] where two such edges want different distances.
pub(super) fn telling_edges(plan: &plan::Plan) -> Result<Vec<usize>, refusal::NotDrawn> {
    let mut telling: Vec<usize> = Vec::new();
    for (index, edge) in plan.edges.iter().enumerate() {
        let same = telling.iter().find(|&&other| {
            let other = &plan.edges[other];
            let (one, two) = (ends(plan, edge), ends(plan, other));
            one == two || one == (two.1, two.0)
        });
        match same {
            None => telling.push(index),
            Some(&other) if (plan.edges[other].apart - edge.apart).abs() < 1e-9 => {}
            Some(_) => return Err(refusal::NotDrawn::CannotMesh),
        }
    }
    Ok(telling)
}

fn ends(plan: &plan::Plan, edge: &plan::Edge) -> (usize, usize) {
    (plan.wheels[edge.first].node, plan.wheels[edge.second].node)
}

/// Returns the closed ring that these edges make, if they make one.
///
/// # Errors
///
/// [`refusal::NotDrawn::Rings`] when there are more.
pub(super) fn find(
    plan: &plan::Plan,
    telling: &[usize],
) -> Result<Option<Ring>, refusal::NotDrawn> {
    let mut left: Vec<usize> = telling.to_vec();
    loop {
        let degree = |node: usize, left: &[usize]| {
            left.iter()
                .filter(|&&edge| {
                    let (one, other) = ends(plan, &plan.edges[edge]);
                    one == node || other == node
                })
                .count()
        };
        let before = left.len();
        let now = left.clone();
        left.retain(|&edge| {
            let (one, other) = ends(plan, &plan.edges[edge]);
            degree(one, &now) > 1 && degree(other, &now) > 1
        });
        if left.len() == before {
            break;
        }
    }
    let Some(&first) = left.first() else {
        return Ok(None);
    };
    let (start, mut here) = ends(plan, &plan.edges[first]);
    let mut ring = Ring {
        nodes: vec![start],
        edges: vec![(first, true)],
    };
    left.retain(|&edge| edge != first);
    while here != start {
        ring.nodes.push(here);
        let next = left.iter().copied().find_map(|edge| {
            let (one, other) = ends(plan, &plan.edges[edge]);
            if one == here {
                Some((edge, true, other))
            } else if other == here {
                Some((edge, false, one))
            } else {
                None
            }
        });
        let Some((edge, from_first, there)) = next else {
            return Err(refusal::NotDrawn::Rings);
        };
        left.retain(|&it| it != edge);
        ring.edges.push((edge, from_first));
        here = there;
    }
    if left.is_empty() {
        Ok(Some(ring))
    } else {
        Err(refusal::NotDrawn::Rings)
    }
}

/// Puts the ring's axles in their places, and returns how its first wheel must stand,
/// where the ring decides that.
///
/// # Errors
///
/// [`refusal::NotDrawn::Crowded`] where its sides do not make a ring.
pub(super) fn place(
    plan: &mut plan::Plan,
    ring: &Ring,
) -> Result<Option<(usize, f64)>, refusal::NotDrawn> {
    let sides: Vec<f64> = ring
        .edges
        .iter()
        .map(|&(edge, _)| plan.edges[edge].apart)
        .collect();
    let round = inscribed(&sides).ok_or(refusal::NotDrawn::Crowded)?;
    put(plan, ring, &round);
    if !is_one_row_of_teeth(plan, ring) {
        return Ok(None);
    }
    let first = ring.edges.first().map_or(0, |&(edge, from_first)| {
        let edge = &plan.edges[edge];
        if from_first { edge.first } else { edge.second }
    });
    let closure = phase::closure(plan, &ring.edges);
    let can_bend = ring.nodes.len() > 3 && closure.is_decided_by_places;
    if closure.gap.abs() > 1e-12 || (can_bend && crowds(plan, ring)) {
        meet(plan, ring, &sides, curve::length(round[2] - round[0]))?;
    }
    Ok(Some((first, phase::closure(plan, &ring.edges).phase)))
}

/// Whether every wheel of the ring meshes with both its neighbours, so that their
/// teeth must meet all round.
fn is_one_row_of_teeth(plan: &plan::Plan, ring: &Ring) -> bool {
    let walked = |&(edge, from_first): &(usize, bool)| {
        let edge = &plan.edges[edge];
        if from_first {
            (edge.first, edge.second)
        } else {
            (edge.second, edge.first)
        }
    };
    let all_mesh = ring
        .edges
        .iter()
        .all(|(edge, _)| matches!(plan.edges[*edge].tie, plan::Tie::Mesh | plan::Tie::Inside));
    let next = ring.edges.iter().cycle().skip(1);
    all_mesh
        && ring
            .edges
            .iter()
            .zip(next)
            .all(|(one, other)| walked(one).1 == walked(other).0)
        && ring
            .edges
            .iter()
            .all(|it| plan.wheels[walked(it).0].form.teeth().is_some())
}

fn put(plan: &mut plan::Plan, ring: &Ring, points: &[Point]) {
    for (&node, &point) in ring.nodes.iter().zip(points) {
        plan.centres[node] = point;
    }
}

/// Moves the axles until the last contact has its tooth in a gap, as little as does.
fn meet(
    plan: &mut plan::Plan,
    ring: &Ring,
    sides: &[f64],
    across: f64,
) -> Result<(), refusal::NotDrawn> {
    const STEPS: u32 = 400;
    const STEP: f64 = 0.001;
    let gap_at = |plan: &mut plan::Plan, share: f64| -> Option<f64> {
        let points = bent(sides, across * share)?;
        put(plan, ring, &points);
        (!crowds(plan, ring)).then(|| phase::closure(plan, &ring.edges).gap)
    };
    for step in 0..STEPS {
        for way in [1.0, -1.0] {
            let near = 1.0 + way * STEP * f64::from(step);
            let far = near + way * STEP;
            let (Some(one), Some(other)) = (gap_at(plan, near), gap_at(plan, far)) else {
                continue;
            };
            // A change of sign by less than half a tooth is a crossing, not a jump.
            if one * other > 0.0 || (one - other).abs() > 0.5 {
                continue;
            }
            let (mut low, mut high) = (near, far);
            for _ in 0..70 {
                let middle = f64::midpoint(low, high);
                let gap = gap_at(plan, middle).unwrap_or(other);
                if gap * one > 0.0 {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            return gap_at(plan, f64::midpoint(low, high))
                .map(|_| ())
                .ok_or(refusal::NotDrawn::Crowded);
        }
    }
    Err(refusal::NotDrawn::Crowded)
}

/// Whether wheels of the ring that do not mesh lie over each other.
fn crowds(plan: &plan::Plan, ring: &Ring) -> bool {
    let count = ring.edges.len();
    let wheel = |place: usize| {
        let (edge, from_first) = ring.edges[place];
        let edge = &plan.edges[edge];
        &plan.wheels[if from_first { edge.first } else { edge.second }]
    };
    (0..count).any(|one| {
        (one + 2..count).any(|other| {
            let is_neighbour = one == 0 && other == count - 1;
            let (one, other) = (wheel(one), wheel(other));
            let apart = curve::length(plan.centres[one.node] - plan.centres[other.node]);
            !is_neighbour && !other.form.is_hollow() && apart < one.outer + other.outer + 0.5
        })
    })
}

/// Returns corners so that the sides have these lengths and the first and third corner
/// are so far apart: a triangle, and the rest on a circle.
fn bent(sides: &[f64], across: f64) -> Option<Vec<Point>> {
    let rest: Vec<f64> = std::iter::once(across)
        .chain(sides.iter().skip(2).copied())
        .collect();
    let triangle = inscribed(&[across, *sides.get(1)?, *sides.first()?])?;
    let others = inscribed(&rest)?;
    // Both have their side `across` from the first corner to the second.
    let along = |points: &[Point], mirrored: bool| -> Vec<Point> {
        let start = points[0];
        let axis = curve::unit(-curve::angle(points[1] - start));
        points
            .iter()
            .map(|point| {
                let it = *point - start;
                let x = it.x * axis.x - it.y * axis.y;
                let y = it.x * axis.y + it.y * axis.x;
                Point::new(x, if mirrored { -y } else { y })
            })
            .collect()
    };
    let triangle = along(&triangle, true);
    let others = along(&others, false);
    let mut corners = vec![triangle[0], triangle[2], triangle[1]];
    corners.extend(others.iter().skip(2));
    Some(corners)
}

/// Returns the corners of the polygon with these sides whose corners lie on a circle.
///
/// Source: each side is the chord of an angle of 2 asin(side / 2 r), and they make a
/// whole turn (any textbook of geometry, from memory).
pub(super) fn inscribed(sides: &[f64]) -> Option<Vec<Point>> {
    let longest = sides.iter().copied().fold(0.0, f64::max);
    let sum: f64 = sides.iter().sum();
    if sides.len() < 3 || longest >= sum - longest - 1e-9 {
        return None;
    }
    let angle = |side: f64, radius: f64| 2.0 * libm::asin((side / (2.0 * radius)).min(1.0));
    let least = longest / 2.0;
    let turn_at_least: f64 = sides.iter().map(|side| angle(*side, least)).sum();
    let centre_is_inside = turn_at_least >= 2.0 * PI;
    // Positive while the circle is too small.
    let excess = |radius: f64| {
        let all: f64 = sides.iter().map(|side| angle(*side, radius)).sum();
        if centre_is_inside {
            all - 2.0 * PI
        } else {
            2.0 * angle(longest, radius) - all
        }
    };
    let (mut low, mut high) = (least, sum);
    while (excess(high) > 0.0) && high < sum * 1e9 {
        high *= 2.0;
    }
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if excess(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let radius = f64::midpoint(low, high);
    let mut corners = Vec::new();
    let mut at = 0.0;
    let mut longest_is_placed = false;
    for side in sides {
        corners.push(curve::polar(Point::ORIGIN, radius, at));
        let step = angle(*side, radius);
        if !centre_is_inside && !longest_is_placed && (*side - longest).abs() < 1e-12 {
            longest_is_placed = true;
            at -= step;
        } else {
            at += step;
        }
    }
    Some(corners)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inscribed_polygon_has_its_sides() {
        for sides in [
            &[3.0, 4.0, 5.0][..],
            &[9.0, 9.0, 11.0],
            &[2.0, 2.0, 3.9],
            &[9.0, 10.0, 9.0, 10.0],
            &[1.0, 1.0, 1.0, 2.9],
            &[12.0, 12.0, 12.0, 12.0, 12.0, 12.0, 12.0],
        ] {
            let corners = inscribed(sides).expect("the sides make a polygon");
            for (index, side) in sides.iter().enumerate() {
                let next = corners[(index + 1) % corners.len()];
                let found = curve::length(next - corners[index]);
                assert!((found - side).abs() < 1e-9, "{sides:?}: {found}, {side}");
            }
        }
        assert_eq!(inscribed(&[1.0, 1.0, 2.5]), None);
    }

    #[test]
    fn a_bent_polygon_keeps_its_sides() {
        let sides = [9.0, 10.0, 9.0, 10.0, 8.0];
        let corners = bent(&sides, 14.0).expect("it can be bent so");
        for (index, side) in sides.iter().enumerate() {
            let next = corners[(index + 1) % corners.len()];
            let found = curve::length(next - corners[index]);
            assert!((found - side).abs() < 1e-9, "{found}, {side}");
        }
        assert!((curve::length(corners[2] - corners[0]) - 14.0).abs() < 1e-9);
    }
}
