//! What there is to draw of a mechanism: wheels, bars, shafts that lie across, and
//! what is fixed to the axles. Sizes in tooth sizes, no places yet.

use crate::drawing::refusal;
use crate::drawing::strand;
use crate::drawing::tooth;
use crate::gears::mechanism;
use kurbo::Point;
use std::collections::BTreeSet;

/// The pitch radius of the largest pulley where no tooth size is known.
const PULLEY: f64 = 14.0;
/// The counts that stand in for the size of a wheel whose count is not known: the
/// first on an axle, and each further one. They say nothing of the count.
const STAND_INS: [u32; 2] = [26, 15];
/// The same for a ring gear.
const RING_STAND_IN: u32 = 60;
/// How thick a ring gear is outside its roots.
const RING_RIM: f64 = 2.6;

/// Everything that is to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Plan {
    /// Wheels whose axle points at the viewer.
    pub(super) wheels: Vec<Wheel>,
    /// How many axles point at the viewer.
    pub(super) node_count: usize,
    /// What joins two of the wheels.
    pub(super) edges: Vec<Edge>,
    /// Racks.
    pub(super) racks: Vec<Rack>,
    /// Worms and bevel gears on shafts that lie across.
    pub(super) shafts: Vec<Shaft>,
    /// Handles, drums, motors and so on.
    pub(super) fittings: Vec<Fitting>,
    /// Where each axle is; filled in by the layout.
    pub(super) centres: Vec<Point>,
}

/// One wheel, seen from the front.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wheel {
    /// Its part.
    pub(super) part: mechanism::PartId,
    /// Its axle.
    pub(super) node: usize,
    /// What it is.
    pub(super) form: Form,
    /// Its tooth size.
    pub(super) tooth: f64,
    /// Its pitch radius.
    pub(super) pitch: f64,
    /// The radius round everything of it.
    pub(super) outer: f64,
    /// The radius inside which nothing of it is but its hub; for a ring the radius of
    /// its tips.
    pub(super) inner: f64,
    /// Which wheels lie in one plane with it: those it drives or is driven by.
    pub(super) plane: usize,
    /// The larger, the nearer to the viewer.
    pub(super) depth: i32,
    /// The angle of a tooth's middle.
    pub(super) phase: f64,
    /// Whether its stage is taken out.
    pub(super) taken_out: bool,
}

/// What a wheel is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    /// A spur gear with so many teeth.
    Gear(u32),
    /// A ring gear with so many teeth.
    Ring(u32),
    /// A bevel gear seen from its toothed side.
    Bevel(u32),
    /// A gear whose count is not known: a plain circle.
    Plain,
    /// A ring gear whose count is not known: two plain circles.
    PlainRing,
    /// A chain sprocket with so many teeth.
    Sprocket(u32),
    /// A belt pulley.
    Pulley,
}

/// Two wheels that drive each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Edge {
    /// One wheel.
    pub(super) first: usize,
    /// The other.
    pub(super) second: usize,
    /// How.
    pub(super) tie: Tie,
    /// How far their axles are apart.
    pub(super) apart: f64,
}

/// How two wheels drive each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tie {
    /// Teeth in teeth.
    Mesh,
    /// The first runs inside the second.
    Inside,
    /// Teeth that do not fit: drawn just apart.
    Misfit,
    /// A chain.
    Chain,
    /// An open belt.
    Belt,
    /// A crossed belt.
    CrossedBelt,
}

/// A rack, with the wheel that it meshes with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rack {
    /// Its part.
    pub(super) part: mechanism::PartId,
    /// Its pinion.
    pub(super) wheel: usize,
    /// Whether it lies above.
    pub(super) above: bool,
    /// How far the middle of a tooth is right of the pinion's axle.
    pub(super) phase: f64,
}

/// A shaft that lies across, with the wheel that its worm or bevel gear meshes with.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shaft {
    /// The worm or bevel gear.
    pub(super) part: mechanism::PartId,
    /// The wheel.
    pub(super) wheel: usize,
    /// What it carries.
    pub(super) thread: Thread,
    /// Its pitch radius.
    pub(super) pitch: f64,
    /// Where it lies from the wheel's axle: an angle.
    pub(super) side: f64,
    /// For a worm, how far the middle of a thread is from the nearest point to the axle.
    pub(super) phase: f64,
    /// Motors, dynamos and handles at its end.
    pub(super) ends: Vec<mechanism::PartId>,
}

/// What a shaft that lies across carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Thread {
    /// A worm with so many starts.
    Worm(mechanism::Count),
    /// A bevel gear with so many teeth.
    Bevel(mechanism::Count),
}

impl Thread {
    /// Whether its count is to be found.
    pub(super) fn is_unknown(self) -> bool {
        let (Self::Worm(count) | Self::Bevel(count)) = self;
        count == mechanism::Count::Unknown
    }

    /// Whether it is a bevel gear.
    pub(super) fn is_bevel(self) -> bool {
        matches!(self, Self::Bevel(_))
    }
}

/// Something on an axle that is no toothed wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fitting {
    /// Its part.
    pub(super) part: mechanism::PartId,
    /// Its axle.
    pub(super) node: usize,
    /// What it is.
    pub(super) kind: FittingKind,
    /// Its radius, or the length of its arm.
    pub(super) radius: f64,
    /// Where an arm points.
    pub(super) angle: f64,
}

/// What a fitting is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FittingKind {
    /// A crank handle.
    Handle,
    /// A drum with string and load.
    Drum,
    /// A wheel on the ground.
    Roller,
    /// A motor's box.
    Motor,
    /// A dynamo's box.
    Dynamo,
    /// The arm that carries the planets whose axles these are.
    Carrier,
}

/// Returns what there is to draw.
///
/// # Errors
///
/// Why the mechanism is not drawn.
pub(super) fn plan(mechanism: &mechanism::Mechanism) -> Result<Plan, refusal::NotDrawn> {
    let mut drafter = Drafter::new(mechanism)?;
    drafter.wheels();
    drafter.joints()?;
    drafter.fittings()?;
    let mut plan = drafter.plan;
    if plan.wheels.is_empty() && plan.fittings.is_empty() {
        return Err(refusal::NotDrawn::Nothing);
    }
    planes(&mut plan);
    matched_pairs(&mut plan);
    shortened_rings(&mut plan);
    bevel_webs(&mut plan);
    depths(&mut plan);
    Ok(plan)
}

struct Drafter<'a> {
    mechanism: &'a mechanism::Mechanism,
    plan: Plan,
    /// The axle of each body; none where it lies across or slides.
    nodes: Vec<Option<usize>>,
    /// Millimetres in a tooth size.
    unit_mm: Option<f64>,
}

impl<'a> Drafter<'a> {
    fn new(mechanism: &'a mechanism::Mechanism) -> Result<Self, refusal::NotDrawn> {
        let across = across(mechanism)?;
        let mut nodes = Vec::new();
        let concentric = concentric(mechanism);
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
            .map(crate::number::Number::to_f64);
        let unit_mm = sizes.filter(|size| *size > 0.0).reduce(f64::min);
        Ok(Self {
            mechanism,
            plan: Plan {
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

    fn wheels(&mut self) {
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
                .filter(|wheel| wheel.node == node && wheel.form == Form::Plain)
                .count();
            let stand_in = STAND_INS[plain_before.min(1)];
            let (form, count) = match &part.kind {
                mechanism::Kind::Gear { teeth } => known(*teeth, Form::Gear, Form::Plain, stand_in),
                mechanism::Kind::Bevel { teeth } => {
                    known(*teeth, Form::Bevel, Form::Plain, stand_in)
                }
                mechanism::Kind::Sprocket { teeth } => {
                    known(*teeth, Form::Sprocket, Form::Plain, stand_in)
                }
                mechanism::Kind::Ring { teeth } => {
                    known(*teeth, Form::Ring, Form::PlainRing, RING_STAND_IN)
                }
                mechanism::Kind::Pulley { .. } => (Form::Pulley, 0),
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

    fn joints(&mut self) -> Result<(), refusal::NotDrawn> {
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
        let edge = match (link, one.form.role(), other.form.role()) {
            (mechanism::Link::Mesh, Role::Outside, Role::Outside) => {
                let fits = (one.tooth - other.tooth).abs() < 1e-9;
                Edge {
                    first,
                    second,
                    tie: if fits { Tie::Mesh } else { Tie::Misfit },
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
            ) => loose(first, second, Tie::Chain, one, other),
            (mechanism::Link::Belt, Role::Pulley, Role::Pulley) => {
                loose(first, second, Tie::Belt, one, other)
            }
            (mechanism::Link::CrossedBelt, Role::Pulley, Role::Pulley) => {
                loose(first, second, Tie::CrossedBelt, one, other)
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
        let toothed = matches!(self.plan.wheels[wheel].form, Form::Gear(_) | Form::Plain);
        let body = beside.body;
        let ends = || -> Vec<mechanism::PartId> {
            self.mechanism
                .numbered()
                .filter(|(id, it)| it.body == body && *id != part)
                .map(|(id, _)| id)
                .collect()
        };
        match &beside.kind {
            mechanism::Kind::Rack { above } if toothed => self.plan.racks.push(Rack {
                part,
                wheel,
                above: *above,
                phase: 0.0,
            }),
            mechanism::Kind::Worm { starts } if toothed => {
                // About nine tooth sizes across: common practice, no source.
                let shaft = Shaft {
                    part,
                    wheel,
                    thread: Thread::Worm(*starts),
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
                let shaft = Shaft {
                    part,
                    wheel,
                    thread: Thread::Bevel(*teeth),
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

    fn fittings(&mut self) -> Result<(), refusal::NotDrawn> {
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
            let units = |mm: crate::number::Number| self.unit_mm.map(|unit| mm.to_f64() / unit);
            let (kind, radius) = match &part.kind {
                mechanism::Kind::Handle { .. } => (
                    FittingKind::Handle,
                    if around > 0.0 { around + 4.5 } else { 16.0 },
                ),
                mechanism::Kind::Drum { diameter_mm } => {
                    let most = if around > 0.0 { around * 0.62 } else { 8.0 };
                    let least = (around * 0.3).max(3.0).min(most);
                    let wanted = units(*diameter_mm).map_or(most * 0.8, |it| it / 2.0);
                    (FittingKind::Drum, wanted.clamp(least, most))
                }
                mechanism::Kind::Roller { diameter_mm } => {
                    let least = (around * 1.25).max(around + 3.0).max(8.0);
                    let wanted = units(*diameter_mm).map_or(least * 1.2, |it| it / 2.0);
                    (FittingKind::Roller, wanted.clamp(least, least * 1.8))
                }
                mechanism::Kind::Motor => (FittingKind::Motor, (around + 1.8).max(6.0)),
                mechanism::Kind::Dynamo => (FittingKind::Dynamo, (around + 1.8).max(6.0)),
                mechanism::Kind::Carrier => (FittingKind::Carrier, 2.2),
                mechanism::Kind::Gear { .. }
                | mechanism::Kind::Ring { .. }
                | mechanism::Kind::Bevel { .. }
                | mechanism::Kind::Worm { .. }
                | mechanism::Kind::Rack { .. }
                | mechanism::Kind::Sprocket { .. }
                | mechanism::Kind::Pulley { .. } => continue,
            };
            self.plan.fittings.push(Fitting {
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
    form: impl Fn(u32) -> Form,
    plain: Form,
    stand_in: u32,
) -> (Form, u32) {
    match count {
        mechanism::Count::Known(count) => (form(count), count),
        mechanism::Count::Unknown => (plain, stand_in),
    }
}

fn wheel(part: mechanism::PartId, node: usize, form: Form, tooth: f64, pitch: f64) -> Wheel {
    let (outer, inner) = match form {
        Form::Gear(_) | Form::Bevel(_) => (pitch + tooth, pitch - tooth * tooth::DEDENDUM),
        Form::Ring(_) => (pitch + tooth * (tooth::DEDENDUM + RING_RIM), pitch - tooth),
        Form::PlainRing => (pitch + tooth * RING_RIM, pitch),
        Form::Plain => (pitch, pitch - 0.5),
        Form::Sprocket(_) => (pitch + 1.2, pitch - 1.0),
        Form::Pulley => (pitch + 0.9, pitch - 0.9),
    };
    Wheel {
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

impl Plan {
    /// Whether a wheel lies behind one on its axle that is as large.
    pub(super) fn is_hidden(&self, wheel: &Wheel) -> bool {
        self.wheels.iter().any(|it| {
            it.node == wheel.node
                && it.depth > wheel.depth
                && it.outer >= wheel.outer - 1e-9
                && !it.form.is_hollow()
        })
    }
}

impl Form {
    fn role(self) -> Role {
        match self {
            Self::Gear(_) | Self::Bevel(_) | Self::Plain => Role::Outside,
            Self::Ring(_) | Self::PlainRing => Role::Inside,
            Self::Sprocket(_) => Role::Sprocket,
            Self::Pulley => Role::Pulley,
        }
    }

    /// The teeth that are drawn.
    pub(super) fn teeth(self) -> Option<u32> {
        match self {
            Self::Gear(teeth) | Self::Ring(teeth) | Self::Bevel(teeth) | Self::Sprocket(teeth) => {
                Some(teeth)
            }
            Self::Plain | Self::PlainRing | Self::Pulley => None,
        }
    }

    /// Whether it is a plain circle because its count is not known.
    pub(super) fn is_plain(self) -> bool {
        matches!(self, Self::Plain | Self::PlainRing)
    }

    /// Whether one looks through it.
    pub(super) fn is_hollow(self) -> bool {
        matches!(self, Self::Ring(_) | Self::PlainRing)
    }
}

fn inside(
    gear_index: usize,
    ring_index: usize,
    gear: &Wheel,
    ring: &Wheel,
) -> Result<Edge, refusal::NotDrawn> {
    // With fewer than some eight teeth between them the tips would foul each other
    // (common practice, no source); such a pair is not made.
    if ring.pitch - gear.pitch < 3.5 {
        return Err(refusal::NotDrawn::CannotMesh);
    }
    Ok(Edge {
        first: gear_index,
        second: ring_index,
        tie: Tie::Inside,
        apart: ring.pitch - gear.pitch,
    })
}

/// A chain or belt of a sensible length; common practice, no source.
fn loose(first: usize, second: usize, tie: Tie, one: &Wheel, other: &Wheel) -> Edge {
    let sum = one.outer + other.outer;
    let wanted = sum + (sum * 0.45).max(6.0);
    let apart = if tie == Tie::Chain {
        strand::whole_links(wanted, [one.pitch, other.pitch], one.tooth)
    } else {
        wanted
    };
    Edge {
        first,
        second,
        tie,
        apart,
    }
}

/// The bodies whose axle lies across, seen from the side.
fn across(
    mechanism: &mechanism::Mechanism,
) -> Result<BTreeSet<mechanism::BodyId>, refusal::NotDrawn> {
    let mut across = BTreeSet::new();
    let joints_at = |body: mechanism::BodyId| {
        mechanism
            .joints
            .iter()
            .filter(|joint| {
                [joint.first, joint.second]
                    .iter()
                    .any(|part| mechanism.part(*part).body == body)
            })
            .count()
    };
    let can_lie = |body: mechanism::BodyId| {
        joints_at(body) == 1
            && mechanism.parts.iter().all(|part| {
                part.body != body
                    || matches!(
                        part.kind,
                        mechanism::Kind::Worm { .. }
                            | mechanism::Kind::Bevel { .. }
                            | mechanism::Kind::Motor
                            | mechanism::Kind::Dynamo
                            | mechanism::Kind::Handle { .. }
                    )
            })
    };
    for part in &mechanism.parts {
        if matches!(part.kind, mechanism::Kind::Worm { .. }) {
            if !can_lie(part.body) {
                return Err(refusal::NotDrawn::Across);
            }
            across.insert(part.body);
        }
    }
    for joint in &mechanism.joints {
        let [first, second] = [joint.first, joint.second].map(|part| mechanism.part(part));
        let both = [first, second]
            .iter()
            .all(|part| matches!(part.kind, mechanism::Kind::Bevel { .. }));
        if !both || across.contains(&first.body) || across.contains(&second.body) {
            continue;
        }
        let lying = [second.body, first.body]
            .into_iter()
            .find(|body| can_lie(*body))
            .ok_or(refusal::NotDrawn::Across)?;
        across.insert(lying);
    }
    Ok(across)
}

/// The first of the bodies that turn about the same line, for each body: a carrier
/// and the wheels that its planets mesh with.
fn concentric(mechanism: &mechanism::Mechanism) -> Vec<mechanism::BodyId> {
    let mut heads: Vec<mechanism::BodyId> =
        (0..mechanism.body_count).map(mechanism::BodyId).collect();
    for (id, part) in mechanism.numbered() {
        let Some(carrier) = part.rides_on else {
            continue;
        };
        for joint in &mechanism.joints {
            let Some(partner) = joint.partner(id) else {
                continue;
            };
            let partner = mechanism.part(partner);
            if partner.rides_on.is_some() {
                continue;
            }
            let (one, other) = (heads[carrier.index()], heads[partner.body.index()]);
            let (low, high) = (one.min(other), one.max(other));
            for head in &mut heads {
                if *head == high {
                    *head = low;
                }
            }
        }
    }
    heads
}

/// Gives wheels that drive each other one plane.
fn planes(plan: &mut Plan) {
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
fn matched_pairs(plan: &mut Plan) {
    for later in 1..plan.edges.len() {
        let edge = plan.edges[later];
        let ends = |edge: &Edge| {
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
        if edge.tie != Tie::Mesh || plane == plan.wheels[earlier.first].plane {
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
fn shortened_rings(plan: &mut Plan) {
    for edge in &plan.edges {
        let (gear, ring) = (&plan.wheels[edge.first], &plan.wheels[edge.second]);
        let (Form::Gear(gear_teeth), Form::Ring(ring_teeth)) = (gear.form, ring.form) else {
            continue;
        };
        let tip = ring.tooth * tooth::ring_tip(ring_teeth, gear_teeth);
        let ring = &mut plan.wheels[edge.second];
        ring.inner = ring.inner.max(tip);
    }
}

/// The web of a bevel gear that is seen from its toothed side ends where its teeth do.
fn bevel_webs(plan: &mut Plan) {
    for shaft in &plan.shafts {
        let wheel = &mut plan.wheels[shaft.wheel];
        if shaft.thread.is_bevel() {
            wheel.inner *= toe(wheel.pitch, shaft.pitch);
        }
    }
}

/// The share of a bevel gear's cone that has teeth, at the most, and how long the
/// teeth are at the most. Common practice: not over a third of the cone.
const FACE: (f64, f64) = (0.3, 9.0);

/// The share of a bevel gear's cone, from the apex, at which its teeth begin.
pub(super) fn toe(wheel_pitch: f64, pitch: f64) -> f64 {
    let cone = (wheel_pitch * wheel_pitch + pitch * pitch).sqrt();
    1.0 - FACE.0.min(FACE.1 / cone)
}

/// Says which planes are nearer: on one axle the smaller wheel, as far as that goes.
fn depths(plan: &mut Plan) {
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
