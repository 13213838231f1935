//! What there is to draw of a mechanism: wheels, bars, shafts that lie across, and
//! what is fixed to the axles. Sizes in tooth sizes, no places yet.

mod axles;
mod drafter;
mod planes;

use crate::drawing::refusal;
use crate::gears::mechanism;
use kurbo::Point;
use std::f64::consts::PI;

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
    /// For a worm, how far the middle of a thread is from the nearest point to the axle;
    /// for a bevel gear, the angle of the middle of a gap, nought facing the viewer.
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
    let mut drafter = drafter::Drafter::new(mechanism)?;
    drafter.wheels();
    drafter.joints()?;
    drafter.fittings()?;
    let mut plan = drafter.plan;
    if plan.wheels.is_empty() && plan.fittings.is_empty() {
        return Err(refusal::NotDrawn::Nothing);
    }
    planes::planes(&mut plan);
    planes::matched_pairs(&mut plan);
    planes::shortened_rings(&mut plan);
    planes::bevel_webs(&mut plan);
    planes::depths(&mut plan);
    Ok(plan)
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

    /// Whether the teeth of a wheel show in the gaps of those before it on its axle.
    pub(super) fn is_seen_in_gaps(&self, wheel: &Wheel) -> bool {
        let before = |it: &&Wheel| it.node == wheel.node && it.depth > wheel.depth;
        self.wheels.iter().filter(before).all(|it| {
            let pitch = wheel.tooth * PI / wheel.pitch;
            let apart = ((it.phase - wheel.phase) / pitch).rem_euclid(1.0);
            let is_equal = it.form.teeth().is_some() && it.form.teeth() == wheel.form.teeth();
            it.outer < wheel.outer || (is_equal && (apart - 0.5).abs() < 0.2)
        })
    }
}

impl Form {
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

/// The share of a bevel gear's cone that has teeth, at the most, and how long the
/// teeth are at the most. Common practice: not over a third of the cone.
const FACE: (f64, f64) = (0.3, 9.0);

/// The share of a bevel gear's cone, from the apex, at which its teeth begin.
pub(super) fn toe(wheel_pitch: f64, pitch: f64) -> f64 {
    let cone = (wheel_pitch * wheel_pitch + pitch * pitch).sqrt();
    1.0 - FACE.0.min(FACE.1 / cone)
}
