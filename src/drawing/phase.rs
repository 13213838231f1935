//! How far each wheel is turned, so that a tooth meets a gap at every contact.

use crate::drawing::curve;
use crate::drawing::plan;
use crate::drawing::strand;
use std::f64::consts::FRAC_PI_2;
use std::f64::consts::PI;
use std::f64::consts::TAU;

/// Where a tooth's middle of the other wheel stands, if one of this wheel's stands at
/// `phase`.
///
/// Source: on the rolling pitch circles a tooth of one lies half a pitch from those of
/// the other (any handbook of gears, from memory).
pub(super) fn across(plan: &plan::Plan, edge: &plan::Edge, from_first: bool, phase: f64) -> f64 {
    let (here, there) = if from_first {
        (edge.first, edge.second)
    } else {
        (edge.second, edge.first)
    };
    let (here, there) = (&plan.wheels[here], &plan.wheels[there]);
    let towards = curve::angle(plan.centres[there.node] - plan.centres[here.node]);
    let half_pitch = here.tooth * FRAC_PI_2;
    match edge.tie {
        plan::Tie::Inside => {
            // The gear lies on the side of the ring on which they touch.
            let contact = if here.form.is_hollow() {
                towards
            } else {
                towards + PI
            };
            contact + (here.pitch * (phase - contact) + half_pitch) / there.pitch
        }
        plan::Tie::Mesh
        | plan::Tie::Misfit
        | plan::Tie::Chain
        | plan::Tie::Belt
        | plan::Tie::CrossedBelt => {
            towards + PI - (here.pitch * (phase - towards) + half_pitch) / there.pitch
        }
    }
}

/// How far a ring of wheels is from meeting itself, in teeth from -1/2 to 1/2; and the
/// turn of its first wheel with which it does, where that depends on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Closure {
    /// By how much of a tooth the last contact is out.
    pub(super) gap: f64,
    /// Whether that depends on where the axles are.
    pub(super) is_decided_by_places: bool,
    /// How the first wheel must stand.
    pub(super) phase: f64,
}

/// Returns how a closed ring of meshing wheels meets itself; the edges are in order
/// round the ring, each with whether it is walked from its first wheel.
///
/// With an odd number of outside meshes the ring can always be put together (and then
/// locks); with an even number it depends on where the axles are.
pub(super) fn closure(plan: &plan::Plan, ring: &[(usize, bool)]) -> Closure {
    let start = ring.first().map_or(0, |&(edge, from_first)| {
        let edge = &plan.edges[edge];
        if from_first { edge.first } else { edge.second }
    });
    let mut phase = 0.0;
    let mut outside = 0_u32;
    for &(edge, from_first) in ring {
        let edge = &plan.edges[edge];
        phase = across(plan, edge, from_first, phase);
        if edge.tie != plan::Tie::Inside {
            outside += 1;
        }
    }
    let pitch = plan.wheels[start].tooth * PI / plan.wheels[start].pitch;
    if outside % 2 == 1 {
        return Closure {
            gap: 0.0,
            is_decided_by_places: false,
            phase: phase / 2.0,
        };
    }
    let teeth = phase / pitch;
    Closure {
        gap: teeth - teeth.round(),
        is_decided_by_places: true,
        phase: 0.0,
    }
}

/// Turns every wheel, rack and worm so that teeth meet gaps; the first wheel of a
/// closed ring stands as `fixed` says.
pub(super) fn set(plan: &mut plan::Plan, fixed: Option<(usize, f64)>) {
    let mut known = vec![false; plan.wheels.len()];
    let mut fixed = fixed;
    while let Some((start, phase)) = fixed
        .take()
        .or_else(|| between_teeth(plan, &known))
        .or_else(|| {
            let start = known.iter().position(|known| !known)?;
            Some((start, towards_first_partner(plan, start)))
        })
    {
        known[start] = true;
        plan.wheels[start].phase = phase;
        let mut queue = vec![start];
        while let Some(here) = queue.pop() {
            for index in 0..plan.edges.len() {
                let edge = plan.edges[index];
                let (there, from_first) = if edge.first == here {
                    (edge.second, true)
                } else if edge.second == here {
                    (edge.first, false)
                } else {
                    continue;
                };
                let meshes = matches!(edge.tie, plan::Tie::Mesh | plan::Tie::Inside);
                if known[there] || !meshes {
                    continue;
                }
                let phase = across(plan, &edge, from_first, plan.wheels[here].phase);
                plan.wheels[there].phase = phase.rem_euclid(TAU);
                known[there] = true;
                queue.push(there);
            }
        }
    }
    for index in 0..plan.edges.len() {
        let edge = plan.edges[index];
        if edge.tie == plan::Tie::Chain {
            let chain = strand::Strand::of(plan, &edge);
            for (wheel, gap) in [(edge.first, chain.gaps().0), (edge.second, chain.gaps().1)] {
                let wheel = &mut plan.wheels[wheel];
                wheel.phase = gap + wheel.tooth * FRAC_PI_2 / wheel.pitch;
            }
        }
    }
    for index in 0..plan.racks.len() {
        let rack = plan.racks[index];
        let wheel = &plan.wheels[rack.wheel];
        plan.racks[index].phase = bar(wheel, rack.above);
    }
    for index in 0..plan.shafts.len() {
        let shaft = &plan.shafts[index];
        let wheel = &plan.wheels[shaft.wheel];
        plan.shafts[index].phase = match shaft.thread {
            plan::Thread::Worm(_) => bar(wheel, shaft.side < 0.0),
            plan::Thread::Bevel(_) => at_the_back(wheel, shaft),
        };
    }
}

/// A wheel before or behind an equal one that stands already, and how it must stand so
/// that the teeth of both are seen.
fn between_teeth(plan: &plan::Plan, known: &[bool]) -> Option<(usize, f64)> {
    let are_equal = |one: &plan::Wheel, other: &plan::Wheel| {
        one.node == other.node
            && one.form.teeth() == other.form.teeth()
            && (one.outer - other.outer).abs() < 1e-9
    };
    (0..plan.wheels.len())
        .filter(|&wheel| !known[wheel])
        .find_map(|wheel| {
            let stands = (0..plan.wheels.len())
                .filter(|&it| known[it])
                .map(|it| &plan.wheels[it])
                .find(|it| are_equal(it, &plan.wheels[wheel]))?;
            let half_pitch = stands.tooth * FRAC_PI_2 / stands.pitch;
            Some((wheel, stands.phase + half_pitch))
        })
}

/// Where a gap of a bevel gear that lies across stands: on the side away from the
/// viewer, where it meets its wheel, one takes up the wheel's tooth.
fn at_the_back(wheel: &plan::Wheel, shaft: &plan::Shaft) -> f64 {
    let past = (wheel.phase - shaft.side) * wheel.pitch;
    PI - past / shaft.pitch
}

/// How far right of a wheel's axle a tooth of a straight bar above or below it stands.
fn bar(wheel: &plan::Wheel, above: bool) -> f64 {
    let half_pitch = wheel.tooth * FRAC_PI_2;
    if above {
        wheel.pitch * (wheel.phase + FRAC_PI_2) + half_pitch
    } else {
        -(wheel.pitch * (wheel.phase - FRAC_PI_2) + half_pitch)
    }
}

fn towards_first_partner(plan: &plan::Plan, wheel: usize) -> f64 {
    let centre = plan.centres[plan.wheels[wheel].node];
    plan.edges
        .iter()
        .find_map(|edge| {
            let partner = if edge.first == wheel {
                edge.second
            } else if edge.second == wheel {
                edge.first
            } else {
                return None;
            };
            Some(curve::angle(
                plan.centres[plan.wheels[partner].node] - centre,
            ))
        })
        .unwrap_or(-FRAC_PI_2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::layout;
    use crate::gears::notation;

    /// How far a bevel gear's tooth stands past its wheel's, along the pitch circles
    /// where they meet, in teeth.
    #[test]
    fn a_bevel_pair_has_a_tooth_in_a_gap_on_the_side_away_from_the_viewer() {
        for (wheel, gear) in [(16, 32), (18, 14), (21, 13), (20, 20), (37, 15)] {
            let line = format!("bevel A {wheel} drives bevel B {gear}");
            let mechanism = notation::read(&[&line]).expect("well formed");
            let plan = plan::plan(&mechanism).expect("a pair can be drawn");
            let plan = layout::lay_out(&plan, 0.0).expect("there is room");
            let shaft = &plan.shafts[0];
            let wheel = &plan.wheels[shaft.wheel];
            let past = (wheel.phase - shaft.side) * wheel.pitch;
            // Nought is towards the viewer, half a turn away from him.
            let tooth = shaft.phase + wheel.tooth * FRAC_PI_2 / shaft.pitch;
            let gear_past = (PI - tooth) * shaft.pitch;
            let apart = ((past - gear_past) / (wheel.tooth * PI)).rem_euclid(1.0);
            assert!((apart - 0.5).abs() < 1e-9, "{line}: {apart}");
        }
    }
}
