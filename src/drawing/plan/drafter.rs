//! The parts of a mechanism as wheels, bars, shafts and fittings with their sizes.

use crate::drawing::plan;
use crate::drawing::plan::axles;
use crate::drawing::refusal;
use crate::drawing::strand;
use crate::drawing::tooth;
use crate::gears::mechanism;
use crate::number;
use kurbo::Point;

/// The pitch radius of the largest pulley where no tooth size is known.
const PULLEY: f64 = 14.0;
/// The counts that stand in for the size of a wheel whose count is not known: the
/// first on an axle, and each further one. They say nothing of the count.
const STAND_INS: [u32; 2] = [26, 15];
/// The same for a ring gear.
const RING_STAND_IN: u32 = 60;
/// How thick a ring gear is outside its roots.
const RING_RIM: f64 = 2.6;

/// A plan as it grows.
pub(super) struct Drafter<'a> {
    mechanism: &'a mechanism::Mechanism,
    pub(super) plan: plan::Plan,
    /// The axle of each body; none where it lies across or slides.
    nodes: Vec<Option<usize>>,
    /// Millimetres in a tooth size.
    unit_mm: Option<f64>,
}

impl<'a> Drafter<'a> {
    pub(super) fn new(mechanism: &'a mechanism::Mechanism) -> Result<Self, refusal::NotDrawn> {
        let across = axles::across(mechanism)?;
        let mut nodes = Vec::new();
        let concentric = axles::concentric(mechanism);
        let mut node_count = 0;
        for body in 0..mechanism.body_count {
            let id = mechanism::BodyId(body);
            let slides = mechanism
                .parts
                .iter()
                .any(|part| part.body == id && matches!(part.kind, mechanism::Kind::Rack { .. }));
            let head = concentric[usize::from(body)];
            let node = if slides || across.contains(&id) {
                None
            } else if head == id {
                node_count += 1;
                Some(node_count - 1)
            } else {
                nodes[head.index()]
            };
            nodes.push(node);
        }
        let sizes = mechanism
            .parts
            .iter()
            .filter_map(|part| part.tooth_size_mm)
            .map(number::Number::to_f64);
        let unit_mm = sizes.filter(|size| *size > 0.0).reduce(f64::min);
        Ok(Self {
            mechanism,
            plan: plan::Plan {
                wheels: Vec::new(),
                node_count,
                edges: Vec::new(),
                racks: Vec::new(),
                shafts: Vec::new(),
                fittings: Vec::new(),
                centres: vec![Point::ORIGIN; node_count],
            },
            nodes,
            unit_mm,
        })
    }

    fn tooth(&self, part: &mechanism::Part) -> f64 {
        match (part.tooth_size_mm, self.unit_mm) {
            (Some(size), Some(unit)) if size.is_positive() => size.to_f64() / unit,
            (Some(_) | None, Some(_) | None) => 1.0,
        }
    }

    pub(super) fn wheels(&mut self) {
        let widest = self
            .mechanism
            .parts
            .iter()
            .filter_map(|part| match part.kind {
                mechanism::Kind::Pulley { diameter_mm } => Some(diameter_mm.to_f64()),
                mechanism::Kind::Gear { .. }
                | mechanism::Kind::Ring { .. }
                | mechanism::Kind::Bevel { .. }
                | mechanism::Kind::Worm { .. }
                | mechanism::Kind::Rack { .. }
                | mechanism::Kind::Sprocket { .. }
                | mechanism::Kind::Handle { .. }
                | mechanism::Kind::Drum { .. }
                | mechanism::Kind::Roller { .. }
                | mechanism::Kind::Motor
                | mechanism::Kind::Dynamo
                | mechanism::Kind::Carrier => None,
            })
            .fold(f64::MIN_POSITIVE, f64::max);
        for (id, part) in self.mechanism.numbered() {
            let Some(node) = self.nodes[part.body.index()] else {
                continue;
            };
            let plain_before = self
                .plan
                .wheels
                .iter()
                .filter(|wheel| wheel.node == node && wheel.form == plan::Form::Plain)
                .count();
            let stand_in = STAND_INS[plain_before.min(1)];
            let (form, count) = match &part.kind {
                mechanism::Kind::Gear { teeth } => {
                    known(*teeth, plan::Form::Gear, plan::Form::Plain, stand_in)
                }
                mechanism::Kind::Bevel { teeth } => {
                    known(*teeth, plan::Form::Bevel, plan::Form::Plain, stand_in)
                }
                mechanism::Kind::Sprocket { teeth } => {
                    known(*teeth, plan::Form::Sprocket, plan::Form::Plain, stand_in)
                }
                mechanism::Kind::Ring { teeth } => known(
                    *teeth,
                    plan::Form::Ring,
                    plan::Form::PlainRing,
                    RING_STAND_IN,
                ),
                mechanism::Kind::Pulley { .. } => (plan::Form::Pulley, 0),
                mechanism::Kind::Worm { .. }
                | mechanism::Kind::Rack { .. }
                | mechanism::Kind::Handle { .. }
                | mechanism::Kind::Drum { .. }
                | mechanism::Kind::Roller { .. }
                | mechanism::Kind::Motor
                | mechanism::Kind::Dynamo
                | mechanism::Kind::Carrier => continue,
            };
            let tooth = self.tooth(part);
            let pitch = if let mechanism::Kind::Pulley { diameter_mm } = part.kind {
                (PULLEY * diameter_mm.to_f64() / widest).max(1.5)
            } else {
                tooth * f64::from(count) / 2.0
            };
            self.plan.wheels.push(wheel(id, node, form, tooth, pitch));
        }
        for given in &self.mechanism.givens {
            if let mechanism::Given::TakenOut { first, second } = given {
                for wheel in &mut self.plan.wheels {
                    if wheel.part == *first || wheel.part == *second {
                        wheel.taken_out = true;
                    }
                }
            }
        }
    }

    fn wheel_of(&self, part: mechanism::PartId) -> Option<usize> {
        self.plan.wheels.iter().position(|wheel| wheel.part == part)
    }

    pub(super) fn joints(&mut self) -> Result<(), refusal::NotDrawn> {
        for joint in &self.mechanism.joints {
            let parts = [joint.first, joint.second];
            match parts.map(|part| self.wheel_of(part)) {
                [Some(first), Some(second)] => self.tie(joint.link, first, second)?,
                [Some(wheel), None] => self.beside(joint.second, wheel)?,
                [None, Some(wheel)] => self.beside(joint.first, wheel)?,
                [None, None] => return Err(refusal::NotDrawn::Across),
            }
        }
        let racks = self
            .mechanism
            .parts
            .iter()
            .filter(|part| matches!(part.kind, mechanism::Kind::Rack { .. }));
        if racks.count() != self.plan.racks.len() {
            return Err(refusal::NotDrawn::Rack);
        }
        for (index, rack) in self.plan.racks.iter().enumerate() {
            let again = self.plan.racks[..index]
                .iter()
                .any(|other| (other.wheel, other.above) == (rack.wheel, rack.above));
            if again
                || self.plan.racks[..index]
                    .iter()
                    .any(|other| other.part == rack.part)
            {
                return Err(refusal::NotDrawn::Rack);
            }
        }
        for (index, shaft) in self.plan.shafts.iter().enumerate() {
            if self.plan.shafts[..index]
                .iter()
                .any(|other| other.part == shaft.part)
            {
                return Err(refusal::NotDrawn::Across);
            }
        }
        Ok(())
    }

    /// Ties two wheels that lie in one plane.
    fn tie(
        &mut self,
        link: mechanism::Link,
        first: usize,
        second: usize,
    ) -> Result<(), refusal::NotDrawn> {
        let (one, other) = (&self.plan.wheels[first], &self.plan.wheels[second]);
        if one.node == other.node {
            return Err(refusal::NotDrawn::CannotMesh);
        }
        let edge = match (link, role(one.form), role(other.form)) {
            (mechanism::Link::Mesh, Role::Outside, Role::Outside) => {
                let fits = (one.tooth - other.tooth).abs() < 1e-9;
                plan::Edge {
                    first,
                    second,
                    tie: if fits {
                        plan::Tie::Mesh
                    } else {
                        plan::Tie::Misfit
                    },
                    apart: if fits {
                        one.pitch + other.pitch
                    } else {
                        one.outer + other.outer + 0.4
                    },
                }
            }
            (mechanism::Link::Mesh, Role::Outside, Role::Inside) => {
                inside(first, second, one, other)?
            }
            (mechanism::Link::Mesh, Role::Inside, Role::Outside) => {
                inside(second, first, other, one)?
            }
            (
                mechanism::Link::Chain,
                Role::Sprocket | Role::Outside,
                Role::Sprocket | Role::Outside,
            ) => loose(first, second, plan::Tie::Chain, one, other),
            (mechanism::Link::Belt, Role::Pulley, Role::Pulley) => {
                loose(first, second, plan::Tie::Belt, one, other)
            }
            (mechanism::Link::CrossedBelt, Role::Pulley, Role::Pulley) => {
                loose(first, second, plan::Tie::CrossedBelt, one, other)
            }
            (
                mechanism::Link::Mesh
                | mechanism::Link::Chain
                | mechanism::Link::Belt
                | mechanism::Link::CrossedBelt,
                Role::Outside | Role::Inside | Role::Sprocket | Role::Pulley,
                Role::Outside | Role::Inside | Role::Sprocket | Role::Pulley,
            ) => return Err(refusal::NotDrawn::CannotMesh),
        };
        self.plan.edges.push(edge);
        Ok(())
    }

    /// Puts a rack, a worm or a bevel gear that is seen from the side to its wheel.
    fn beside(&mut self, part: mechanism::PartId, wheel: usize) -> Result<(), refusal::NotDrawn> {
        let beside = self.mechanism.part(part);
        let toothed = matches!(
            self.plan.wheels[wheel].form,
            plan::Form::Gear(_) | plan::Form::Plain
        );
        let body = beside.body;
        let ends = || -> Vec<mechanism::PartId> {
            self.mechanism
                .numbered()
                .filter(|(id, it)| it.body == body && *id != part)
                .map(|(id, _)| id)
                .collect()
        };
        match &beside.kind {
            mechanism::Kind::Rack { above } if toothed => self.plan.racks.push(plan::Rack {
                part,
                wheel,
                above: *above,
                phase: 0.0,
            }),
            mechanism::Kind::Worm { starts } if toothed => {
                // About nine tooth sizes across: common practice, no source.
                let shaft = plan::Shaft {
                    part,
                    wheel,
                    thread: plan::Thread::Worm(*starts),
                    pitch: 4.5 * self.plan.wheels[wheel].tooth,
                    side: -std::f64::consts::FRAC_PI_2,
                    phase: 0.0,
                    ends: ends(),
                };
                self.plan.shafts.push(shaft);
            }
            mechanism::Kind::Bevel { teeth } => {
                let count = match teeth {
                    mechanism::Count::Known(count) => *count,
                    mechanism::Count::Unknown => STAND_INS[0],
                };
                let shaft = plan::Shaft {
                    part,
                    wheel,
                    thread: plan::Thread::Bevel(*teeth),
                    pitch: self.plan.wheels[wheel].tooth * f64::from(count) / 2.0,
                    side: 0.0,
                    phase: 0.0,
                    ends: ends(),
                };
                self.plan.shafts.push(shaft);
            }
            mechanism::Kind::Rack { .. }
            | mechanism::Kind::Worm { .. }
            | mechanism::Kind::Gear { .. }
            | mechanism::Kind::Ring { .. }
            | mechanism::Kind::Sprocket { .. }
            | mechanism::Kind::Pulley { .. }
            | mechanism::Kind::Handle { .. }
            | mechanism::Kind::Drum { .. }
            | mechanism::Kind::Roller { .. }
            | mechanism::Kind::Motor
            | mechanism::Kind::Dynamo
            | mechanism::Kind::Carrier => return Err(refusal::NotDrawn::CannotMesh),
        }
        Ok(())
    }

    pub(super) fn fittings(&mut self) -> Result<(), refusal::NotDrawn> {
        for (id, part) in self.mechanism.numbered() {
            let Some(node) = self.nodes[part.body.index()] else {
                let on_shaft = self
                    .plan
                    .shafts
                    .iter()
                    .any(|shaft| shaft.part == id || shaft.ends.contains(&id));
                let is_rack = matches!(part.kind, mechanism::Kind::Rack { .. });
                if !on_shaft && !is_rack {
                    return Err(refusal::NotDrawn::Across);
                }
                continue;
            };
            let around = self
                .plan
                .wheels
                .iter()
                .filter(|wheel| wheel.node == node)
                .map(|wheel| wheel.outer)
                .fold(0.0, f64::max);
            let units = |mm: number::Number| self.unit_mm.map(|unit| mm.to_f64() / unit);
            let (kind, radius) = match &part.kind {
                mechanism::Kind::Handle { .. } => (
                    plan::FittingKind::Handle,
                    if around > 0.0 { around + 4.5 } else { 16.0 },
                ),
                mechanism::Kind::Drum { diameter_mm } => {
                    let most = if around > 0.0 { around * 0.62 } else { 8.0 };
                    let least = (around * 0.3).max(3.0).min(most);
                    let wanted = units(*diameter_mm).map_or(most * 0.8, |it| it / 2.0);
                    (plan::FittingKind::Drum, wanted.clamp(least, most))
                }
                mechanism::Kind::Roller { diameter_mm } => {
                    let least = (around * 1.25).max(around + 3.0).max(8.0);
                    let wanted = units(*diameter_mm).map_or(least * 1.2, |it| it / 2.0);
                    (plan::FittingKind::Roller, wanted.clamp(least, least * 1.8))
                }
                mechanism::Kind::Motor => (plan::FittingKind::Motor, (around + 1.8).max(6.0)),
                mechanism::Kind::Dynamo => (plan::FittingKind::Dynamo, (around + 1.8).max(6.0)),
                mechanism::Kind::Carrier => (plan::FittingKind::Carrier, 2.2),
                mechanism::Kind::Gear { .. }
                | mechanism::Kind::Ring { .. }
                | mechanism::Kind::Bevel { .. }
                | mechanism::Kind::Worm { .. }
                | mechanism::Kind::Rack { .. }
                | mechanism::Kind::Sprocket { .. }
                | mechanism::Kind::Pulley { .. } => continue,
            };
            self.plan.fittings.push(plan::Fitting {
                part: id,
                node,
                kind,
                radius,
                angle: 0.0,
            });
        }
        Ok(())
    }
}

fn known(
    count: mechanism::Count,
    form: impl Fn(u32) -> plan::Form,
    plain: plan::Form,
    stand_in: u32,
) -> (plan::Form, u32) {
    match count {
        mechanism::Count::Known(count) => (form(count), count),
        mechanism::Count::Unknown => (plain, stand_in),
    }
}

fn wheel(
    part: mechanism::PartId,
    node: usize,
    form: plan::Form,
    tooth: f64,
    pitch: f64,
) -> plan::Wheel {
    let (outer, inner) = match form {
        plan::Form::Gear(_) | plan::Form::Bevel(_) => {
            (pitch + tooth, pitch - tooth * tooth::DEDENDUM)
        }
        plan::Form::Ring(_) => (pitch + tooth * (tooth::DEDENDUM + RING_RIM), pitch - tooth),
        plan::Form::PlainRing => (pitch + tooth * RING_RIM, pitch),
        // The teeth of what meshes with it reach into it.
        plan::Form::Plain => (pitch, pitch - 1.5 * tooth),
        plan::Form::Sprocket(_) => (pitch + 1.2, pitch - 1.0),
        plan::Form::Pulley => (pitch + 0.9, pitch - 0.9),
    };
    plan::Wheel {
        part,
        node,
        form,
        tooth,
        pitch,
        outer,
        inner,
        plane: 0,
        depth: 0,
        phase: 0.0,
        taken_out: false,
    }
}

/// What a form can be joined to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    Outside,
    Inside,
    Sprocket,
    Pulley,
}

fn role(form: plan::Form) -> Role {
    match form {
        plan::Form::Gear(_) | plan::Form::Bevel(_) | plan::Form::Plain => Role::Outside,
        plan::Form::Ring(_) | plan::Form::PlainRing => Role::Inside,
        plan::Form::Sprocket(_) => Role::Sprocket,
        plan::Form::Pulley => Role::Pulley,
    }
}

fn inside(
    gear_index: usize,
    ring_index: usize,
    gear: &plan::Wheel,
    ring: &plan::Wheel,
) -> Result<plan::Edge, refusal::NotDrawn> {
    // With fewer than some eight teeth between them the tips would foul each other
    // (common practice, no source); such a pair is not made.
    if ring.pitch - gear.pitch < 3.5 {
        return Err(refusal::NotDrawn::CannotMesh);
    }
    Ok(plan::Edge {
        first: gear_index,
        second: ring_index,
        tie: plan::Tie::Inside,
        apart: ring.pitch - gear.pitch,
    })
}

/// A chain or belt of a sensible length; common practice, no source.
fn loose(
    first: usize,
    second: usize,
    tie: plan::Tie,
    one: &plan::Wheel,
    other: &plan::Wheel,
) -> plan::Edge {
    let sum = one.outer + other.outer;
    let wanted = sum + (sum * 0.45).max(6.0);
    let apart = if tie == plan::Tie::Chain {
        strand::whole_links(wanted, [one.pitch, other.pitch], one.tooth)
    } else {
        wanted
    };
    plan::Edge {
        first,
        second,
        tie,
        apart,
    }
}
