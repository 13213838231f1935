//! A mechanism as shapes: teeth that mesh, axles, arrows, labels.
//!
//! Takes a [`mechanism::Mechanism`] and what is asked of it; gives a [`Drawing`] in
//! millimetres, with a text alternative, or says why there is none. Teeth are true
//! involutes in their true number, at their true distances. What is asked is not
//! given away: a wheel whose teeth are asked is a plain circle, and arrows stand only
//! where a direction is told. Not here: pages, files, what is right.

use crate::gears::ask;
use crate::gears::mechanism;
use kurbo::Point;
use kurbo::Rect;

mod arrow;
mod curve;
mod cut;
mod field;
mod footnote;
mod label;
mod layout;
pub mod mover;
mod note;
mod paint;
mod phase;
mod plan;
pub mod refusal;
mod ring;
pub mod shape;
mod solid;
mod spot;
mod strand;
pub mod svg;
mod told;
mod tooth;

/// What is to be drawn, and how large.
#[derive(Debug, Clone, PartialEq)]
pub struct Wish<'a> {
    /// The mechanism.
    pub mechanism: &'a mechanism::Mechanism,
    /// What is asked of it, so that it is not given away.
    pub asks: &'a [ask::Ask],
    /// The most that it may be wide.
    pub width_mm: f64,
    /// The most that it may be high.
    pub height_mm: f64,
    /// The size of its type.
    pub type_mm: f64,
}

/// A drawing, in millimetres; the y axis points down.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// How wide it is.
    pub width_mm: f64,
    /// How high it is.
    pub height_mm: f64,
    /// What it is made of, the farthest first.
    pub shapes: Vec<shape::Shape>,
    /// What of it moves together, and how; every shape is in one.
    pub pieces: Vec<mover::Piece>,
    /// What a child would see, in words.
    pub text: String,
    /// Its wheels.
    pub wheels: Vec<Wheel>,
    /// Where two wheels touch.
    pub contacts: Vec<Contact>,
    /// Its labels.
    pub labels: Vec<Label>,
}

/// A wheel of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Wheel {
    /// Its part.
    pub part: mechanism::PartId,
    /// Its teeth; none on a pulley and where they are not known.
    pub teeth: Option<u32>,
    /// Its centre.
    pub centre: Point,
    /// Its tooth size.
    pub tooth_mm: f64,
    /// The radius of its pitch circle.
    pub pitch_mm: f64,
    /// The radius over everything of it.
    pub outer_mm: f64,
    /// The radius within which there is nothing of it but its hub; a ring's tips.
    pub inner_mm: f64,
    /// Whether it is a ring, with its teeth inside.
    pub is_ring: bool,
    /// The angle of the middle of one of its teeth, clockwise from the right.
    pub phase: f64,
    /// Wheels with one depth lie in one plane; the larger, the nearer.
    pub depth: i32,
    /// Which of the shapes is its outline.
    pub outline: usize,
}

/// Where the teeth of two things meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Contact {
    /// One wheel, by its place in [`Drawing::wheels`].
    pub first: usize,
    /// What it meets.
    pub second: Partner,
}

/// What a wheel's teeth meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Partner {
    /// Another wheel, by its place in [`Drawing::wheels`].
    Wheel(usize),
    /// A rack or a worm.
    Bar {
        /// Its part.
        part: mechanism::PartId,
        /// Which of the shapes is its outline.
        outline: usize,
    },
}

/// A label of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The part that it names.
    pub part: mechanism::PartId,
    /// The box around it.
    pub bounds: Rect,
}

/// The most that a tooth size is drawn with, in type sizes.
const LARGEST_TOOTH: f64 = 0.55;
/// The least that a tooth size is drawn with, if breaking large wheels off helps.
const LEAST_TOOTH_MM: f64 = 0.42;
/// How much paper there is round the ink.
const EDGE_MM: f64 = 0.6;
/// How rows of wheels may zigzag, in 24ths of half a turn.
const BENDS: [f64; 7] = [0.0, 2.0, 4.0, 6.0, 8.0, -4.0, -8.0];
/// How much larger a zigzag must come out than a straight row.
const WORTH: f64 = 1.12;

/// Returns the drawing of a mechanism.
///
/// # Errors
///
/// [`refusal::NotDrawn`] when there is none.
///
/// # Example
///
/// ```
/// use toothmark::drawing;
/// use toothmark::gears::notation;
///
/// let pair = notation::read(&["gear A 12 drives gear B 36"]).expect("well formed");
/// let wish = drawing::Wish {
///     mechanism: &pair,
///     asks: &[],
///     width_mm: 160.0,
///     height_mm: 50.0,
///     type_mm: 3.8,
/// };
/// let drawn = drawing::draw(&wish).expect("a pair can be drawn");
/// assert_eq!(drawn.text, "Drawing. Gear A with 12 teeth meshes with gear B with 36 teeth.");
/// assert!(drawn.height_mm <= 50.0);
/// ```
pub fn draw(wish: &Wish<'_>) -> Result<Drawing, refusal::NotDrawn> {
    let plan = plan::plan(wish.mechanism)?;
    let notes = note::notes(wish.mechanism, wish.asks);
    let mut layouts = Vec::new();
    let mut refused = refusal::NotDrawn::Crowded;
    for bend in BENDS {
        match layout::lay_out(&plan, bend * std::f64::consts::PI / 24.0) {
            Ok(placed) => {
                let scale = fitting_scale(&placed, wish);
                let worth = if bend == 0.0 { scale * WORTH } else { scale };
                layouts.push((worth, scale, placed));
            }
            Err(refusal) => refused = refusal,
        }
        // More than one axle on another is what a bend can change.
        if plan.node_count < 3 && !layouts.is_empty() {
            break;
        }
    }
    layouts.sort_by(|one, other| other.0.total_cmp(&one.0));
    for (_, scale, placed) in &layouts {
        if let Some(drawing) = drawn(wish, placed, &notes, *scale) {
            return Ok(drawing);
        }
    }
    Err(refused)
}

/// The box around everything that takes up room, in tooth sizes.
fn extent(plan: &plan::Plan) -> Rect {
    let wheels = (0..plan.node_count)
        .flat_map(|node| layout::items(plan, node))
        .map(|item| item.solid.bounds());
    let fittings = plan.fittings.iter().map(|fitting| {
        let reach = match fitting.kind {
            plan::FittingKind::Handle => fitting.radius + 2.0,
            plan::FittingKind::Drum
            | plan::FittingKind::Roller
            | plan::FittingKind::Motor
            | plan::FittingKind::Dynamo
            | plan::FittingKind::Carrier => fitting.radius,
        };
        Rect::from_center_size(plan.centres[fitting.node], (2.0 * reach, 2.0 * reach))
    });
    wheels
        .chain(fittings)
        .reduce(|one, other| one.union(other))
        .unwrap_or(Rect::ZERO)
}

/// About how many millimetres a tooth size may have.
fn fitting_scale(plan: &plan::Plan, wish: &Wish<'_>) -> f64 {
    let extent = extent(plan);
    let across = (wish.width_mm - 2.0 * EDGE_MM) / extent.width().max(1.0);
    let down = (wish.height_mm - 2.0 * EDGE_MM) / extent.height().max(1.0);
    across.min(down).min(LARGEST_TOOTH * wish.type_mm)
}

/// Paints it at the largest scale at which it fits with its labels.
fn drawn(
    wish: &Wish<'_>,
    plan: &plan::Plan,
    notes: &note::Notes,
    mut scale: f64,
) -> Option<Drawing> {
    let mut band = None;
    if scale < LEAST_TOOTH_MM && cut::can_be(plan) {
        let across = (wish.width_mm - 2.0 * EDGE_MM) / extent(plan).width().max(1.0);
        scale = across.min(LEAST_TOOTH_MM);
        band = Some(wish.height_mm - 2.0 * EDGE_MM - wish.type_mm);
    }
    for _ in 0..14 {
        let mut canvas = paint::Canvas::painted(wish.mechanism, plan, scale);
        let broken_off = band.map_or(Vec::new(), |band| cut::cut(&mut canvas, band));
        let wheels_end = canvas.shapes.len();
        let arrows = arrow::draw(&mut canvas, notes, wish.type_mm);
        let labels = label::write(&mut canvas, notes, wish.type_mm);
        let Some(labels) = labels else {
            scale *= 0.93;
            continue;
        };
        footnote::write(&mut canvas, wish.type_mm, wish.width_mm - 2.0 * EDGE_MM);
        let whole = |shapes: &[shape::Shape]| {
            let boxes = shapes.iter().map(shape::Shape::bounds);
            boxes.reduce(|one, other| one.union(other))
        };
        let (wheels, notes_of_it) = canvas.shapes.split_at(wheels_end);
        let wheels = cut::left(whole(wheels)?, band, &broken_off);
        let bounds = whole(notes_of_it).map_or(wheels, |it| it.union(wheels));
        let bounds = bounds.inflate(EDGE_MM, EDGE_MM);
        let (across, down) = (
            wish.width_mm / bounds.width(),
            wish.height_mm / bounds.height(),
        );
        if across.min(down) >= 1.0 {
            let shown = told::Shown { arrows, broken_off };
            let text = told::told(wish.mechanism, plan, notes, &shown);
            return Some(finished(canvas, labels, bounds, text));
        }
        match band {
            // What is cut off need not be small as well.
            Some(height) if across >= 1.0 && !broken_off.is_empty() => {
                band = Some(height - (bounds.height() - wish.height_mm) - 0.1);
            }
            Some(_) | None => scale *= (across.min(down) * 0.99).max(0.6),
        }
    }
    None
}

/// Moves everything so that the page begins at the drawing's corner.
fn finished(
    canvas: paint::Canvas<'_>,
    labels: Vec<label::Label>,
    bounds: Rect,
    text: String,
) -> Drawing {
    let shift = Point::ORIGIN - bounds.origin();
    let (plan, scale) = (canvas.plan, canvas.scale);
    let outlines = canvas.outlines;
    let pieces = mover::pieces(canvas.runs, canvas.shapes.len(), shift);
    let shapes = canvas
        .shapes
        .into_iter()
        .map(|shape| shape.shifted(shift))
        .collect();
    let wheels = plan
        .wheels
        .iter()
        .zip(&outlines.wheels)
        .map(|(wheel, &outline)| {
            let at = plan.centres[wheel.node];
            Wheel {
                part: wheel.part,
                teeth: wheel.form.teeth(),
                centre: Point::new(at.x * scale, at.y * scale) + shift,
                tooth_mm: wheel.tooth * scale,
                pitch_mm: wheel.pitch * scale,
                outer_mm: wheel.outer * scale,
                inner_mm: wheel.inner * scale,
                is_ring: wheel.form.is_hollow(),
                phase: wheel.phase,
                depth: wheel.depth,
                outline,
            }
        })
        .collect();
    let meshes = plan
        .edges
        .iter()
        .filter(|edge| matches!(edge.tie, plan::Tie::Mesh | plan::Tie::Inside))
        .map(|edge| Contact {
            first: edge.first,
            second: Partner::Wheel(edge.second),
        });
    let racks = plan.racks.iter().zip(&outlines.racks);
    let racks = racks.map(|(rack, &outline)| (rack.wheel, rack.part, outline));
    let worms = plan.shafts.iter().zip(&outlines.shafts);
    let worms = worms
        .filter(|(shaft, _)| !shaft.thread.is_bevel())
        .map(|(shaft, &outline)| (shaft.wheel, shaft.part, outline));
    let bars = racks.chain(worms).map(|(first, part, outline)| Contact {
        first,
        second: Partner::Bar { part, outline },
    });
    let contacts = meshes.chain(bars).collect();
    Drawing {
        width_mm: bounds.width(),
        height_mm: bounds.height(),
        shapes,
        pieces,
        text,
        wheels,
        contacts,
        labels: labels
            .into_iter()
            .map(|label| Label {
                part: label.part,
                bounds: label.bounds + shift,
            })
            .collect(),
    }
}
