//! How the shapes of a drawing move when its mechanism turns.
//!
//! Says what each run of shapes moves with and where its axle is; how fast and which
//! way the parts turn is not known here. Every length is in millimetres on the page,
//! and what slides does so by so much for each clockwise turn of a wheel, so that
//! teeth that mesh as drawn stay in mesh.

use crate::drawing::paint;
use crate::drawing::plan;
use crate::drawing::shape;
use crate::gears::mechanism;
use kurbo::Affine;
use kurbo::BezPath;
use kurbo::Point;
use kurbo::Rect;
use kurbo::Vec2;
use std::ops::Range;

/// Shapes that follow each other and move as one.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Which of the drawing's shapes.
    pub shapes: Range<usize>,
    /// How they move.
    pub mover: Mover,
}

/// How shapes move.
#[derive(Debug, Clone, PartialEq)]
pub enum Mover {
    /// Not at all: frames, the ground, arrows, most labels, what is taken out.
    Still,
    /// They turn about the axle of a part, as it does.
    Wheel(Axle),
    /// They go where a point is carried, upright: the label of a planet.
    Label {
        /// The part that takes the point round, and that one's centre.
        carrier: (mechanism::PartId, Point),
        /// The point.
        at: Point,
    },
    /// The line from a label to what it names; the far end goes with it.
    Leader {
        /// The part that takes it round, and that one's centre.
        carrier: (mechanism::PartId, Point),
        /// The box of the label, from whose edge it goes.
        label: Rect,
        /// Its end at what it names.
        to: Point,
    },
    /// A rack, which slides to the right.
    Rack {
        /// Its part.
        part: mechanism::PartId,
        /// How it slides.
        slide: Slide,
        /// How far it can go to either side before its last teeth leave the pinion.
        most_mm: f64,
    },
    /// The thread of a worm, whose stripes run along its shaft.
    Thread(Thread),
    /// The teeth of a bevel gear that is seen from the side.
    Cone(Cone),
    /// A chain or belt.
    Strand(Strand),
    /// The string of a drum, from its side down to the load.
    String(Hanging),
    /// The load on a string.
    Load(Hanging),
    /// The ground below a wheel, drawn in strokes.
    Ground {
        /// How it slides.
        slide: Slide,
        /// How far its strokes are apart.
        apart_mm: f64,
    },
    /// A handle that is seen from the side.
    Crank {
        /// Its part.
        part: mechanism::PartId,
        /// A point of its shaft.
        at: Point,
        /// The angle of its shaft.
        along: f64,
    },
}

/// The axle of a part that points at the viewer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axle {
    /// The part.
    pub part: mechanism::PartId,
    /// Where it is.
    pub centre: Point,
    /// The carrier that takes it round, and that one's centre.
    pub carried: Option<(mechanism::PartId, Point)>,
}

/// Something that a wheel moves along a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slide {
    /// The wheel's part.
    pub wheel: mechanism::PartId,
    /// How far it moves (right or down) for a clockwise turn of the wheel.
    pub mm_a_turn: f64,
}

/// The thread of a worm.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// The worm.
    pub part: mechanism::PartId,
    /// How it slides to the right.
    pub slide: Slide,
    /// After how far it looks as before.
    pub pitch_mm: f64,
    /// The same thread on a longer worm, to be seen through the window only.
    pub long: Vec<shape::Shape>,
    /// Where the thread is to be seen.
    pub window: Rect,
    /// Its ends at the sides of the window.
    pub ends: shape::Shape,
}

/// A bevel gear that is seen from the side: the lines of its teeth run from its heel
/// towards the apex of its cone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cone {
    /// Its part.
    pub part: mechanism::PartId,
    /// The wheel that it meshes with.
    pub wheel: mechanism::PartId,
    /// How far it turns for a turn of the wheel.
    pub turns_a_turn: f64,
    /// The apex.
    pub apex: Point,
    /// The angle of its axis.
    pub along: f64,
    /// How far its heel is from the apex, along the axis, and how wide it is there.
    pub heel: (f64, f64),
    /// Where the teeth end, as a share of the way from the apex.
    pub toe: f64,
    /// Its teeth.
    pub teeth: u32,
    /// Half the angle of a tooth at its tip.
    pub half_tooth: f64,
}

/// A loop round two wheels.
#[derive(Debug, Clone, PartialEq)]
pub struct Strand {
    /// How it runs along its path.
    pub slide: Slide,
    /// Its path, the way that a clockwise turn of the wheel takes it.
    pub path: BezPath,
    /// How long the path is.
    pub length_mm: f64,
    /// How far the rollers of a chain are apart, with their radius; none of a belt.
    pub rollers: Option<(f64, f64)>,
    /// How wide it is drawn.
    pub width_mm: f64,
}

/// What hangs from a drum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hanging {
    /// The drum.
    pub part: mechanism::PartId,
    /// How it moves down.
    pub slide: Slide,
    /// Where the string leaves the drum.
    pub top: Point,
    /// How long the string is.
    pub length_mm: f64,
    /// How far the load can be wound up or let down.
    pub most_mm: f64,
}

impl Axle {
    fn shifted(self, shift: Vec2) -> Self {
        Self {
            centre: self.centre + shift,
            carried: self.carried.map(|(part, centre)| (part, centre + shift)),
            ..self
        }
    }
}

impl Mover {
    /// The same elsewhere on the page.
    fn shifted(self, shift: Vec2) -> Self {
        match self {
            Self::Wheel(axle) => Self::Wheel(axle.shifted(shift)),
            Self::Label {
                carrier: (part, centre),
                at,
            } => Self::Label {
                carrier: (part, centre + shift),
                at: at + shift,
            },
            Self::Leader {
                carrier: (part, centre),
                label,
                to,
            } => Self::Leader {
                carrier: (part, centre + shift),
                label: label + shift,
                to: to + shift,
            },
            Self::Thread(thread) => Self::Thread(Thread {
                long: thread
                    .long
                    .into_iter()
                    .map(|shape| shape.shifted(shift))
                    .collect(),
                window: thread.window + shift,
                ends: thread.ends.shifted(shift),
                ..thread
            }),
            Self::Cone(cone) => Self::Cone(Cone {
                apex: cone.apex + shift,
                ..cone
            }),
            Self::Strand(strand) => Self::Strand(Strand {
                path: Affine::translate(shift) * strand.path,
                ..strand
            }),
            Self::String(hanging) => Self::String(hanging.shifted(shift)),
            Self::Load(hanging) => Self::Load(hanging.shifted(shift)),
            Self::Crank { part, at, along } => Self::Crank {
                part,
                at: at + shift,
                along,
            },
            Self::Still | Self::Rack { .. } | Self::Ground { .. } => self,
        }
    }
}

impl Hanging {
    fn shifted(self, shift: Vec2) -> Self {
        Self {
            top: self.top + shift,
            ..self
        }
    }
}

/// How each run of shapes moves, as a picture grows: where it begins, and how.
pub(super) type Runs = Vec<(usize, Mover)>;

/// Returns the runs as pieces that hold every one of so many shapes, moved by `shift`.
pub(super) fn pieces(runs: Runs, shape_count: usize, shift: Vec2) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::new();
    for (from, mover) in runs {
        if let Some(before) = pieces.last_mut() {
            before.shapes.end = from;
        }
        pieces.push(Piece {
            shapes: from..shape_count,
            mover: mover.shifted(shift),
        });
    }
    pieces.retain(|piece| !piece.shapes.is_empty());
    pieces
}

impl paint::Canvas<'_> {
    /// Says how what is drawn from here on moves.
    pub(super) fn moving(&mut self, mover: Mover) {
        self.runs.push((self.shapes.len(), mover));
    }

    /// The axle of a part at one of the plan's axles.
    pub(super) fn axle(&self, part: mechanism::PartId, node: usize) -> Axle {
        let on_axle = self.mechanism.part(part).body;
        let parts = || {
            self.mechanism
                .numbered()
                .filter(move |(_, it)| it.body == on_axle)
        };
        let rides_on = parts().find_map(|(_, it)| it.rides_on);
        let carried = rides_on.and_then(|body| {
            let fitting = self.plan.fittings.iter().find(|fitting| {
                fitting.kind == plan::FittingKind::Carrier
                    && self.mechanism.part(fitting.part).body == body
            })?;
            Some((fitting.part, self.on_page(self.plan.centres[fitting.node])))
        });
        Axle {
            part,
            centre: self.on_page(self.plan.centres[node]),
            carried,
        }
    }

    /// How a wheel moves what slides past it by its pitch circle, to the right at its
    /// top.
    pub(super) fn slide(&self, wheel: usize, pitch: f64) -> Slide {
        Slide {
            wheel: self.plan.wheels[wheel].part,
            mm_a_turn: std::f64::consts::TAU * pitch * self.scale,
        }
    }

    fn on_page(&self, point: Point) -> Point {
        Point::new(point.x * self.scale, point.y * self.scale)
    }
}
