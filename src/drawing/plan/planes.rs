//! Which wheels lie in one plane, which plane is nearer, and what that changes.

use crate::drawing::plan;
use crate::drawing::tooth;

/// Gives wheels that drive each other one plane.
pub(super) fn planes(plan: &mut plan::Plan) {
    for (index, wheel) in plan.wheels.iter_mut().enumerate() {
        wheel.plane = index;
    }
    for edge in &plan.edges {
        let (one, other) = (
            plan.wheels[edge.first].plane,
            plan.wheels[edge.second].plane,
        );
        let (low, high) = (one.min(other), one.max(other));
        for wheel in &mut plan.wheels {
            if wheel.plane == high {
                wheel.plane = low;
            }
        }
    }
}

/// Two axles that two pairs of wheels join: the second pair's teeth are drawn larger
/// or smaller, so that the axles are as far apart.
pub(super) fn matched_pairs(plan: &mut plan::Plan) {
    for later in 1..plan.edges.len() {
        let edge = plan.edges[later];
        let ends = |edge: &plan::Edge| {
            let (one, other) = (plan.wheels[edge.first].node, plan.wheels[edge.second].node);
            (one.min(other), one.max(other))
        };
        let Some(earlier) = (0..later)
            .map(|it| &plan.edges[it])
            .find(|it| ends(it) == ends(&edge))
        else {
            continue;
        };
        let share = earlier.apart / edge.apart;
        let plane = plan.wheels[edge.first].plane;
        if edge.tie != plan::Tie::Mesh || plane == plan.wheels[earlier.first].plane {
            continue;
        }
        for wheel in plan.wheels.iter_mut().filter(|it| it.plane == plane) {
            wheel.tooth *= share;
            wheel.pitch *= share;
            wheel.outer *= share;
            wheel.inner *= share;
        }
        for index in 0..plan.edges.len() {
            if plan.wheels[plan.edges[index].first].plane == plane {
                plan.edges[index].apart *= share;
            }
        }
    }
}

/// Ends a ring gear's teeth where they would dig into the roots of a small gear.
pub(super) fn shortened_rings(plan: &mut plan::Plan) {
    for edge in &plan.edges {
        let (gear, ring) = (&plan.wheels[edge.first], &plan.wheels[edge.second]);
        let (plan::Form::Gear(gear_teeth), plan::Form::Ring(ring_teeth)) = (gear.form, ring.form)
        else {
            continue;
        };
        let tip = ring.tooth * tooth::ring_tip(ring_teeth, gear_teeth);
        let ring = &mut plan.wheels[edge.second];
        ring.inner = ring.inner.max(tip);
    }
}

/// The web of a bevel gear that is seen from its toothed side ends where its teeth do.
pub(super) fn bevel_webs(plan: &mut plan::Plan) {
    for shaft in &plan.shafts {
        let wheel = &mut plan.wheels[shaft.wheel];
        if shaft.thread.is_bevel() {
            wheel.inner *= plan::toe(wheel.pitch, shaft.pitch);
        }
    }
}

/// Says which planes are nearer: on one axle the smaller wheel, as far as that goes.
pub(super) fn depths(plan: &mut plan::Plan) {
    let count = plan.wheels.len();
    let mut depth_of_plane: Vec<Option<i32>> = vec![None; count];
    for start in 0..count {
        let plane = plan.wheels[start].plane;
        if depth_of_plane[plane].is_some() {
            continue;
        }
        depth_of_plane[plane] = Some(free_depth(&depth_of_plane, 0, 1));
        let mut queue = vec![plane];
        while let Some(here) = queue.pop() {
            let depth = depth_of_plane[here].unwrap_or(0);
            for wheel in plan.wheels.iter().filter(|it| it.plane == here) {
                let mates = plan
                    .wheels
                    .iter()
                    .filter(|it| it.node == wheel.node && it.plane != here);
                for mate in mates {
                    if depth_of_plane[mate.plane].is_some() {
                        continue;
                    }
                    let step = if mate.outer <= wheel.outer && !mate.form.is_hollow() {
                        1
                    } else {
                        -1
                    };
                    depth_of_plane[mate.plane] =
                        Some(free_depth(&depth_of_plane, depth + step, step));
                    queue.push(mate.plane);
                }
            }
        }
    }
    for wheel in &mut plan.wheels {
        wheel.depth = depth_of_plane[wheel.plane].unwrap_or(0);
    }
}

fn free_depth(taken: &[Option<i32>], wanted: i32, step: i32) -> i32 {
    let mut depth = wanted;
    while taken.contains(&Some(depth)) {
        depth += step;
    }
    depth
}
