//! Where each axle is: wheels that mesh at their true distance, nothing over
//! anything else in its plane.

use crate::drawing::curve;
use crate::drawing::phase;
use crate::drawing::plan;
use crate::drawing::refusal;
use crate::drawing::ring;
use crate::drawing::solid;
use kurbo::Point;
use kurbo::Rect;
use std::f64::consts::FRAC_PI_2;
use std::f64::consts::PI;

/// How long a worm's thread is to either side, in tooth sizes.
pub(super) const WORM_HALF: f64 = 2.75 * PI;
/// How far a shaft sticks out beyond its worm.
pub(super) const SHAFT_END: f64 = 4.5;
/// How large a motor at the end of a shaft is.
pub(super) const MOTOR_BOX: f64 = 9.0;
/// How thick a rack is below the roots of its teeth.
pub(super) const BAR: f64 = 2.4;
/// How far a bevel gear's hub and shaft stick out behind its teeth.
pub(super) const BEVEL_BACK: f64 = 11.0;

/// Returns the plan with every axle in its place and every wheel turned so that it
/// meshes. Rows of wheels zigzag by `bend`, an angle.
///
/// # Errors
///
/// [`refusal::NotDrawn`] when no places are found.
pub(super) fn lay_out(plan: &plan::Plan, bend: f64) -> Result<plan::Plan, refusal::NotDrawn> {
    let mut placer = Placer {
        plan: plan.clone(),
        edges: ring::telling_edges(plan)?,
        placed: vec![false; plan.node_count],
        room: Vec::new(),
        bend,
    };
    let mut fixed = None;
    if let Some(ring) = ring::find(plan, &placer.edges)? {
        fixed = ring::place(&mut placer.plan, &ring)?;
        turned_flat(&mut placer.plan, &ring.nodes, &mut fixed);
        for &node in &ring.nodes {
            placer.settle(node)?;
        }
        for &node in &ring.nodes {
            placer.grow(node, 0)?;
        }
    }
    for node in placer.starts() {
        if !placer.placed[node] {
            let right = placer.room.iter().map(|it| it.solid.bounds().x1);
            let right = right.fold(f64::NEG_INFINITY, f64::max);
            placer.plan.centres[node] = Point::ORIGIN;
            if right.is_finite() {
                let own = placer.items(node);
                let left = own.iter().map(|it| it.solid.bounds().x0);
                let left = left.fold(0.0, f64::min);
                placer.plan.centres[node] = Point::new(right + 6.0 - left, 0.0);
            }
            placer.settle(node)?;
            placer.grow(node, 0)?;
        }
    }
    let mut plan = placer.plan;
    phase::set(&mut plan, fixed);
    handles(&mut plan);
    Ok(plan)
}

/// Turns a ring of axles so that it is as low as it can be; the first wheel turns
/// with it.
fn turned_flat(plan: &mut plan::Plan, nodes: &[usize], fixed: &mut Option<(usize, f64)>) {
    const WAYS: u32 = 48;
    let reach = |plan: &plan::Plan, node: usize| {
        let wheels = plan.wheels.iter().filter(|it| it.node == node);
        wheels.map(|it| it.outer).fold(0.0, f64::max)
    };
    let height = |angle: f64| {
        let turn = curve::unit(angle);
        let ends = nodes.iter().map(|&node| {
            let at = plan.centres[node];
            let y = at.x * turn.y + at.y * turn.x;
            (y - reach(plan, node), y + reach(plan, node))
        });
        let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| {
            (low.min(it.0), high.max(it.1))
        });
        high - low
    };
    let mut best = (f64::INFINITY, 0.0);
    for way in 0..WAYS {
        let angle = 2.0 * PI * f64::from(way) / f64::from(WAYS);
        // Among equals the one that begins at the left and goes over the top.
        let first = plan.centres[nodes[0]];
        let turn = curve::unit(angle);
        let x = first.x * turn.x - first.y * turn.y;
        let cost = height(angle) + 0.02 * x;
        if cost < best.0 - 1e-9 {
            best = (cost, angle);
        }
    }
    let turn = curve::unit(best.1);
    for &node in nodes {
        let at = plan.centres[node];
        plan.centres[node] =
            Point::new(at.x * turn.x - at.y * turn.y, at.x * turn.y + at.y * turn.x);
    }
    if let Some((_, phase)) = fixed {
        // A turn of the whole picture turns the wheel too.
        *phase += best.1;
    }
}

/// Something that takes up room, and whose it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Item {
    /// Where.
    pub(super) solid: solid::Solid,
    /// The plane; none where it lies behind or before everything.
    pub(super) plane: Option<usize>,
    /// The axle it belongs to.
    pub(super) node: usize,
    /// The wheel that it is, or that it belongs to.
    pub(super) wheel: Option<usize>,
}

struct Placer {
    plan: plan::Plan,
    /// The edges to go along.
    edges: Vec<usize>,
    placed: Vec<bool>,
    room: Vec<Item>,
    bend: f64,
}

impl Placer {
    /// The axles to begin with: the first driver's, then the rest.
    fn starts(&self) -> Vec<usize> {
        let first = self
            .plan
            .edges
            .iter()
            .map(|edge| self.plan.wheels[edge.first].node);
        first.chain(0..self.plan.node_count).collect()
    }

    fn items(&self, node: usize) -> Vec<Item> {
        items(&self.plan, node)
    }

    /// Takes the room of an axle that has its place; first its worms and bevel gears
    /// find a side.
    fn settle(&mut self, node: usize) -> Result<(), refusal::NotDrawn> {
        self.placed[node] = true;
        for index in 0..self.plan.shafts.len() {
            let shaft = &self.plan.shafts[index];
            if self.plan.wheels[shaft.wheel].node != node {
                continue;
            }
            let sides: &[f64] = match shaft.thread {
                plan::Thread::Worm(_) => &[-FRAC_PI_2, FRAC_PI_2],
                plan::Thread::Bevel(_) => &[0.0, PI, -FRAC_PI_2, FRAC_PI_2],
            };
            let taken: Vec<f64> = self
                .plan
                .shafts
                .iter()
                .take(index)
                .filter(|it| self.plan.wheels[it.wheel].node == node)
                .map(|it| it.side)
                .collect();
            let free = sides.iter().copied().find(|side| {
                let mut trial = self.plan.shafts[index].clone();
                trial.side = *side;
                let solid = solid::Solid::Box(shaft_box(&self.plan, &trial));
                let is_free = self
                    .room
                    .iter()
                    .all(|it| it.node == node || !it.solid.overlaps(solid));
                is_free && !taken.iter().any(|it| (it - side).abs() < 1e-9)
            });
            self.plan.shafts[index].side = free.ok_or(refusal::NotDrawn::Crowded)?;
        }
        let items = self.items(node);
        if self.clashes(&items).is_none() {
            return Err(refusal::NotDrawn::Crowded);
        }
        self.room.extend(items);
        Ok(())
    }

    /// How often these would lie over others in other planes; none if any would lie over
    /// another in its own plane.
    fn clashes(&self, items: &[Item]) -> Option<u32> {
        let mut soft = 0;
        for item in items {
            for other in self.room.iter().filter(|it| it.node != item.node) {
                if self.is_tied(item.wheel, other.wheel) || !item.solid.overlaps(other.solid) {
                    continue;
                }
                if item.plane.is_some() && item.plane == other.plane {
                    return None;
                }
                soft += 1;
            }
        }
        Some(soft)
    }

    fn is_tied(&self, one: Option<usize>, other: Option<usize>) -> bool {
        let (Some(one), Some(other)) = (one, other) else {
            return false;
        };
        self.plan.edges.iter().any(|edge| {
            (edge.first, edge.second) == (one, other) || (edge.second, edge.first) == (one, other)
        })
    }

    /// Places everything that hangs on an axle, nearest first.
    fn grow(&mut self, from: usize, depth: u32) -> Result<(), refusal::NotDrawn> {
        for index in 0..self.edges.len() {
            let edge = self.plan.edges[self.edges[index]];
            let (one, other) = (
                self.plan.wheels[edge.first].node,
                self.plan.wheels[edge.second].node,
            );
            let to = if one == from {
                other
            } else if other == from {
                one
            } else {
                continue;
            };
            if self.placed[to] {
                continue;
            }
            self.find_place(from, to, edge.apart, depth)?;
            self.settle(to)?;
            self.grow(to, depth + 1)?;
        }
        Ok(())
    }

    fn find_place(
        &mut self,
        from: usize,
        to: usize,
        apart: f64,
        depth: u32,
    ) -> Result<(), refusal::NotDrawn> {
        let heading = if depth.is_multiple_of(2) {
            self.bend
        } else {
            -self.bend
        };
        let mut best: Option<(u32, Point)> = None;
        let centre = self.plan.centres[from];
        for step in 0..=24_u32 {
            for way in [1.0, -1.0] {
                let angle = heading + way * f64::from(step) * PI / 24.0;
                let place = curve::polar(centre, apart, angle);
                self.plan.centres[to] = place;
                let Some(soft) = self.clashes(&self.items(to)) else {
                    continue;
                };
                if best.is_none_or(|(least, _)| soft < least) {
                    best = Some((soft, place));
                }
            }
            // A straight row is worth a little overlap less than a detour is.
            if best.is_some_and(|(soft, _)| soft == 0) {
                break;
            }
        }
        let (_, place) = best.ok_or(refusal::NotDrawn::Crowded)?;
        self.plan.centres[to] = place;
        Ok(())
    }
}

/// Returns what takes up room at an axle.
pub(super) fn items(plan: &plan::Plan, node: usize) -> Vec<Item> {
    let centre = plan.centres[node];
    let mut items = Vec::new();
    for (index, wheel) in plan.wheels.iter().enumerate() {
        if wheel.node != node {
            continue;
        }
        let own = |solid| Item {
            solid,
            plane: Some(wheel.plane),
            node,
            wheel: Some(index),
        };
        items.push(own(if wheel.form.is_hollow() {
            solid::Solid::Hoop(centre, wheel.inner, wheel.outer)
        } else {
            solid::Solid::Disc(centre, wheel.outer)
        }));
        for rack in plan.racks.iter().filter(|rack| rack.wheel == index) {
            items.push(own(solid::Solid::Box(rack_box(plan, rack))));
        }
        for shaft in plan.shafts.iter().filter(|shaft| shaft.wheel == index) {
            items.push(own(solid::Solid::Box(shaft_box(plan, shaft))));
        }
    }
    for fitting in plan.fittings.iter().filter(|it| it.node == node) {
        let behind = match fitting.kind {
            plan::FittingKind::Roller => fitting.radius,
            plan::FittingKind::Motor | plan::FittingKind::Dynamo => fitting.radius * 1.2,
            plan::FittingKind::Handle | plan::FittingKind::Drum | plan::FittingKind::Carrier => {
                continue;
            }
        };
        items.push(Item {
            solid: solid::Solid::Disc(centre, behind),
            plane: None,
            node,
            wheel: None,
        });
    }
    items
}

/// How long a rack is to either side of its pinion.
pub(super) fn rack_half(wheel: &plan::Wheel) -> f64 {
    (wheel.pitch * FRAC_PI_2)
        .min(wheel.outer + 9.0)
        .max(wheel.outer + 3.0)
}

/// Returns the box around a rack.
pub(super) fn rack_box(plan: &plan::Plan, rack: &plan::Rack) -> Rect {
    let wheel = &plan.wheels[rack.wheel];
    let centre = plan.centres[wheel.node];
    let half = rack_half(wheel);
    let (near, far) = (
        wheel.pitch - wheel.tooth,
        wheel.pitch + wheel.tooth * (1.25 + BAR),
    );
    if rack.above {
        Rect::new(
            centre.x - half,
            centre.y - far,
            centre.x + half,
            centre.y - near,
        )
    } else {
        Rect::new(
            centre.x - half,
            centre.y + near,
            centre.x + half,
            centre.y + far,
        )
    }
}

/// Returns the box around a shaft that lies across, with all that it carries.
pub(super) fn shaft_box(plan: &plan::Plan, shaft: &plan::Shaft) -> Rect {
    let wheel = &plan.wheels[shaft.wheel];
    let centre = plan.centres[wheel.node];
    let end = if shaft.ends.is_empty() {
        0.0
    } else {
        MOTOR_BOX
    };
    match shaft.thread {
        plan::Thread::Worm(_) => {
            let unit = wheel.tooth;
            let half = (WORM_HALF + SHAFT_END) * unit;
            let (near, far) = (wheel.pitch - unit, wheel.pitch + 2.0 * shaft.pitch + unit);
            let (top, bottom) = if shaft.side < 0.0 {
                (centre.y - far, centre.y - near)
            } else {
                (centre.y + near, centre.y + far)
            };
            Rect::new(centre.x - half, top, centre.x + half + end, bottom)
        }
        plan::Thread::Bevel(_) => {
            let near = wheel.pitch * plan::toe(wheel.pitch, shaft.pitch);
            let far = wheel.pitch + BEVEL_BACK + end;
            let half = shaft.pitch + wheel.tooth;
            let along = curve::unit(shaft.side);
            let side = kurbo::Vec2::new(-along.y, along.x);
            let corner = centre + along * near + side * half;
            let opposite = centre + along * far - side * half;
            Rect::from_points(corner, opposite)
        }
    }
}

/// The arm and the knob of a handle at the end of a shaft that lies across, in the box
/// that there is for it.
pub(super) fn side_handle(bounds: Rect) -> (Rect, Rect) {
    let arm = Rect::new(
        bounds.x0 + 0.2,
        bounds.y0,
        bounds.x0 + 2.4,
        bounds.center().y + 2.2,
    );
    let knob = Rect::new(arm.x1 - 0.4, arm.y0 + 0.3, bounds.x1 - 0.6, arm.y0 + 2.9);
    (arm, knob)
}

/// Points every handle where it lies over the fewest other things.
fn handles(plan: &mut plan::Plan) {
    for index in 0..plan.fittings.len() {
        let handle = plan.fittings[index];
        if handle.kind != plan::FittingKind::Handle {
            continue;
        }
        let centre = plan.centres[handle.node];
        let others: Vec<Item> = (0..plan.node_count)
            .filter(|&node| node != handle.node)
            .flat_map(|node| items(plan, node))
            .collect();
        // Up and to the left first, as a hand would hold it.
        let angles = [-2.4, -0.7, -FRAC_PI_2, PI, 2.4, FRAC_PI_2, 0.7, 0.0];
        let best = angles.into_iter().min_by_key(|&angle| {
            let knob = solid::Solid::Disc(curve::polar(centre, handle.radius, angle), 2.5);
            others.iter().filter(|it| it.solid.overlaps(knob)).count()
        });
        plan.fittings[index].angle = best.unwrap_or(-2.4);
    }
}
