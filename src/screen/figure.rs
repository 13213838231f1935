//! A drawing as part of the page: each run of shapes with what the script needs to
//! move it.
//!
//! The attributes are the whole agreement with `page.js`: `data-move` says how a group
//! moves, the other `data-` attributes how much for one turn of the drive. Lengths are
//! in hundredths of a millimetre, as everywhere in a drawing's SVG.

use crate::drawing;
use crate::drawing::mover;
use crate::drawing::shape;
use crate::drawing::svg;
use crate::gears::mechanism;
use crate::html;
use crate::screen::motion;
use kurbo::BezPath;
use kurbo::Point;
use kurbo::Rect;
use kurbo::Shape as _;

/// How many colours the bodies share.
const TINTS: u16 = 6;

/// Something to draw on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Picture<'a> {
    /// What is drawn.
    pub(super) mechanism: &'a mechanism::Mechanism,
    /// Its drawing.
    pub(super) drawn: &'a drawing::Drawing,
    /// How it moves; none where it stands still for good.
    pub(super) motion: Option<&'a motion::Motion>,
    /// Begins the names of what must have one.
    pub(super) id: &'a str,
}

/// Returns the drawing as SVG.
pub(super) fn figure(picture: &Picture<'_>) -> String {
    let drawn = picture.drawn;
    let bounds = room(picture);
    let mut text = format!(
        "<svg viewBox=\"{:.0} {:.0} {:.0} {:.0}\" role=\"img\" aria-label=\"{}\"",
        bounds.x0 * 100.0,
        bounds.y0 * 100.0,
        bounds.width() * 100.0,
        bounds.height() * 100.0,
        html::text(&drawn.text),
    );
    if let Some(motion) = picture.motion {
        add!(text, " data-speed=\"{:.5}\"", motion.turns_a_second);
        if let Some((back, forth)) = motion.stroke {
            add!(text, " data-back=\"{back:.5}\" data-forth=\"{forth:.5}\"");
        }
    }
    text.push_str("><g stroke-linejoin=\"round\" fill-rule=\"evenodd\">");
    for (index, piece) in drawn.pieces.iter().enumerate() {
        let shapes = &drawn.shapes[piece.shapes.clone()];
        push(&mut text, picture, index, shapes, &piece.mover);
    }
    text.push_str("</g></svg>");
    text
}

fn push(
    text: &mut String,
    picture: &Picture<'_>,
    index: usize,
    shapes: &[shape::Shape],
    mover: &mover::Mover,
) {
    if let mover::Mover::Wheel(axle) = mover {
        wheel(text, picture, axle, shapes);
        return;
    }
    let Some(motion) = picture.motion else {
        all(text, shapes);
        return;
    };
    match mover {
        mover::Mover::Still => all(text, shapes),
        mover::Mover::Wheel(_) => {}
        mover::Mover::Label { carrier, at } => {
            let (x, y) = hundredths(*at);
            add!(text, "<g data-move=\"label\" data-x=\"{x}\" data-y=\"{y}\"");
            carried(text, motion, carrier.0, carrier.1);
            text.push('>');
            all(text, shapes);
            text.push_str("</g>");
        }
        mover::Mover::Leader { carrier, label, to } => {
            leader(text, motion, *carrier, *label, *to);
        }
        mover::Mover::Rack { part, slide, .. } => {
            let slides = motion.slides_mm(*slide);
            add!(
                text,
                "<g class=\"{}\" data-part=\"{}\" data-move=\"slide\" data-right=\"{:.4}\">",
                tint(picture, *part),
                name(picture, *part),
                slides * 100.0
            );
            all(text, shapes);
            text.push_str("</g>");
        }
        mover::Mover::Ground { slide, apart_mm } => {
            add!(
                text,
                "<g data-move=\"slide\" data-right=\"{:.4}\" data-every=\"{:.4}\">",
                motion.slides_mm(*slide) * 100.0,
                apart_mm * 100.0
            );
            all(text, shapes);
            text.push_str("</g>");
        }
        mover::Mover::Thread(thread) => worm(text, picture, index, thread, motion),
        mover::Mover::Cone(cone) => bevel(text, cone, shapes, motion),
        mover::Mover::Strand(strand) => run(text, strand, shapes, motion),
        mover::Mover::String(hanging) => {
            add!(
                text,
                "<g data-move=\"string\" data-y=\"{:.0}\" data-long=\"{:.2}\" data-down=\"{:.4}\">",
                hanging.top.y * 100.0,
                hanging.length_mm * 100.0,
                motion.slides_mm(hanging.slide) * 100.0
            );
            all(text, shapes);
            text.push_str("</g>");
        }
        mover::Mover::Load(hanging) => {
            add!(
                text,
                "<g data-load=\"{}\" data-move=\"slide\" data-down=\"{:.4}\">",
                name(picture, hanging.part),
                motion.slides_mm(hanging.slide) * 100.0
            );
            all(text, shapes);
            text.push_str("</g>");
        }
        mover::Mover::Crank { part, at, along } => {
            let (x, y) = hundredths(*at);
            add!(
                text,
                "<g data-move=\"crank\" data-turns=\"{}\" data-x=\"{x}\" data-y=\"{y}\" \
                 data-along=\"{:.4}\">",
                motion.turns_text(*part),
                along.to_degrees()
            );
            all(text, shapes);
            text.push_str("</g>");
        }
    }
}

/// A wheel, or whatever turns about its axle.
fn wheel(text: &mut String, picture: &Picture<'_>, axle: &mover::Axle, shapes: &[shape::Shape]) {
    add!(
        text,
        "<g class=\"{}\" data-part=\"{}\"",
        tint(picture, axle.part),
        name(picture, axle.part)
    );
    if let Some(motion) = picture.motion {
        let (x, y) = hundredths(axle.centre);
        let turns = motion.turns_text(axle.part);
        add!(
            text,
            " data-move=\"wheel\" data-turns=\"{turns}\" data-x=\"{x}\" data-y=\"{y}\""
        );
        if let Some((carrier, centre)) = axle.carried {
            carried(text, motion, carrier, centre);
        }
    }
    text.push('>');
    all(text, shapes);
    mark(text, picture, axle, shapes);
    text.push_str("</g>");
}

/// The line from a label to what is carried round.
fn leader(
    text: &mut String,
    motion: &motion::Motion,
    carrier: (mechanism::PartId, Point),
    label: Rect,
    to: Point,
) {
    let (x, y) = hundredths(to);
    let (left, top) = hundredths(label.origin());
    let (right, bottom) = hundredths(Point::new(label.x1, label.y1));
    add!(
        text,
        "<g data-move=\"leader\" data-x=\"{x}\" data-y=\"{y}\" \
         data-label=\"{left} {top} {right} {bottom}\""
    );
    carried(text, motion, carrier.0, carrier.1);
    add!(
        text,
        "><line x1=\"{x}\" y1=\"{y}\" x2=\"{x}\" y2=\"{y}\" stroke=\"#000\" \
         stroke-width=\"20\"/><circle cx=\"{x}\" cy=\"{y}\" r=\"45\"/></g>"
    );
}

/// A part's name as text.
fn name(picture: &Picture<'_>, part: mechanism::PartId) -> String {
    html::text(&picture.mechanism.part(part).name)
}

/// The class that colours a part's body.
fn tint(picture: &Picture<'_>, part: mechanism::PartId) -> String {
    format!("t{}", picture.mechanism.part(part).body.0 % TINTS)
}

/// A worm's thread runs behind a window as long as the worm.
fn worm(
    text: &mut String,
    picture: &Picture<'_>,
    index: usize,
    thread: &mover::Thread,
    motion: &motion::Motion,
) {
    let window = thread.window;
    let name = format!("{}-window-{index}", picture.id);
    add!(
        text,
        "<clipPath id=\"{name}\"><rect x=\"{:.0}\" y=\"{:.0}\" width=\"{:.0}\" \
         height=\"{:.0}\"/></clipPath><g class=\"{}\" clip-path=\"url(#{name})\"><g data-move=\"slide\" \
         data-right=\"{:.4}\" data-every=\"{:.4}\">",
        window.x0 * 100.0,
        window.y0 * 100.0,
        window.width() * 100.0,
        window.height() * 100.0,
        tint(picture, thread.part),
        motion.slides_mm(thread.slide) * 100.0,
        thread.pitch_mm * 100.0
    );
    all(text, &thread.long);
    text.push_str("</g></g>");
    svg::push(text, &thread.ends, svg::WHITE);
}

/// A bevel gear's teeth from the side: the script draws their lines anew.
fn bevel(text: &mut String, cone: &mover::Cone, shapes: &[shape::Shape], motion: &motion::Motion) {
    let (x, y) = hundredths(cone.apex);
    add!(
        text,
        "<g data-move=\"cone\" data-turns=\"{:.6}\" data-x=\"{x}\" data-y=\"{y}\" \
         data-along=\"{:.4}\" data-heel=\"{:.1} {:.1}\" data-toe=\"{:.5}\" data-teeth=\"{}\" \
         data-half=\"{:.6}\">",
        motion.turns(cone.wheel) * cone.turns_a_turn,
        cone.along.to_degrees(),
        cone.heel.0 * 100.0,
        cone.heel.1 * 100.0,
        cone.toe,
        cone.teeth,
        cone.half_tooth
    );
    all(text, shapes);
    text.push_str("</g>");
}

/// A chain's rollers, or marks on a belt, run along its path as the dashes of a line.
fn run(
    text: &mut String,
    strand: &mover::Strand,
    shapes: &[shape::Shape],
    motion: &motion::Motion,
) {
    let lines = shapes
        .iter()
        .filter(|shape| matches!(shape, shape::Shape::Path { .. }));
    for line in lines {
        svg::push(text, line, svg::WHITE);
    }
    let mut path = String::new();
    svg::outline(&mut path, &strand.path);
    let length = strand.length_mm * 100.0;
    add!(
        text,
        "<g data-move=\"strand\" data-run=\"{:.4}\" fill=\"none\">",
        motion.slides_mm(strand.slide) * 100.0
    );
    let mut dashes = |look: &str, dash: &str, width: f64| {
        add!(
            text,
            "<path d=\"{path}\" pathLength=\"{length:.3}\" fill=\"none\" {look} \
             stroke-width=\"{width:.0}\" \
             stroke-dasharray=\"{dash}\"/>"
        );
    };
    if let Some((apart, radius)) = strand.rollers {
        let dash = format!("0 {:.4}", apart * 100.0);
        let width = 200.0 * radius;
        let line = width * 0.24;
        let round = |colour: &str| format!("stroke=\"{colour}\" stroke-linecap=\"round\"");
        dashes(&round("#000"), &dash, width + line / 2.0);
        dashes(&round("#fff"), &dash, width - line);
    } else {
        let marks = (strand.length_mm / 9.0).round().max(2.0);
        let apart = length / marks;
        let dash = format!("{:.3} {:.3}", apart * 0.22, apart * 0.78);
        dashes("class=\"mark-line\"", &dash, strand.width_mm * 55.0);
    }
    text.push_str("</g>");
}

/// A dot by which the turns of a wheel can be counted, in its widest free band.
fn mark(text: &mut String, picture: &Picture<'_>, axle: &mover::Axle, shapes: &[shape::Shape]) {
    let wheels = &picture.drawn.wheels;
    let own = wheels.iter().find(|wheel| wheel.part == axle.part);
    let body = |part| picture.mechanism.part(part).body;
    let is_marked = wheels.iter().any(|it| body(it.part) == body(axle.part));
    let band = match (own, shapes.first()) {
        (Some(ring), _) if ring.is_ring => {
            let root = ring.pitch_mm + 1.3 * ring.tooth_mm;
            Some((root, ring.outer_mm))
        }
        (Some(wheel), _) => {
            let before = wheels.iter().filter(|it| {
                (it.centre - wheel.centre).hypot() < 0.1 && it.depth > wheel.depth && !it.is_ring
            });
            let hub = wheel.inner_mm * 0.3;
            Some((
                before.map(|it| it.outer_mm).fold(hub, f64::max),
                wheel.inner_mm,
            ))
        }
        (
            None,
            Some(shape::Shape::Circle {
                centre, radius_mm, ..
            }),
        ) if (*centre - axle.centre).hypot() < 0.1 && !is_marked => {
            Some((radius_mm * 0.3, radius_mm * 0.8))
        }
        (None, Some(_) | None) => None,
    };
    let Some((from, to)) = band.filter(|(from, to)| to - from > 0.7) else {
        return;
    };
    let radius = ((to - from) * 0.3).min(1.3);
    let (x, y) = hundredths(axle.centre);
    add!(
        text,
        "<circle class=\"mark\" cx=\"{x}\" cy=\"{:.0}\" r=\"{:.0}\"/>",
        y - (from + (to - from) * 0.55) * 100.0,
        radius * 100.0
    );
}

fn carried(text: &mut String, motion: &motion::Motion, carrier: mechanism::PartId, centre: Point) {
    let (x, y) = hundredths(centre);
    add!(
        text,
        " data-round=\"{}\" data-round-x=\"{x}\" data-round-y=\"{y}\"",
        motion.turns_text(carrier)
    );
}

fn all(text: &mut String, shapes: &[shape::Shape]) {
    for shape in shapes {
        svg::push(text, shape, svg::WHITE);
    }
}

/// A place in whole hundredths of a millimetre, never "-0".
fn hundredths(point: Point) -> (f64, f64) {
    let whole = |it: f64| (it * 100.0).round() + 0.0;
    (whole(point.x), whole(point.y))
}

/// The drawing's own room with that in which its shapes move.
fn room(picture: &Picture<'_>) -> Rect {
    let drawn = picture.drawn;
    let mut room = Rect::new(0.0, 0.0, drawn.width_mm, drawn.height_mm);
    let Some(motion) = picture.motion else {
        return room;
    };
    let (back, forth) = motion.stroke.unwrap_or_default();
    for piece in &drawn.pieces {
        let shapes = &drawn.shapes[piece.shapes.clone()];
        let Some(bounds) = shapes
            .iter()
            .map(shape::Shape::bounds)
            .reduce(|one, other| one.union(other))
        else {
            continue;
        };
        match &piece.mover {
            mover::Mover::Wheel(axle) => {
                let is_wheel = drawn.wheels.iter().any(|it| it.part == axle.part);
                let around = if is_wheel && axle.carried.is_none() {
                    // A wheel keeps to its place; wheels that are broken off are larger
                    // than the drawing.
                    continue;
                } else if let (true, Some((_, centre))) = (is_wheel, axle.carried) {
                    let reach = (axle.centre - centre).hypot() + bounds.width() / 2.0;
                    Rect::from_center_size(centre, (2.0 * reach, 2.0 * reach))
                } else {
                    let reach = shapes
                        .iter()
                        .map(|shape| farthest(shape, axle.centre))
                        .fold(0.0, f64::max);
                    Rect::from_center_size(axle.centre, (2.0 * reach, 2.0 * reach))
                };
                room = room.union(around.inflate(0.6, 0.6));
            }
            mover::Mover::Rack { slide, .. } => {
                let way = motion.slides_mm(*slide);
                for turns in [forth, -back] {
                    room = room.union(bounds + kurbo::Vec2::new(way * turns, 0.0));
                }
            }
            mover::Mover::Load(hanging) => {
                let way = motion.slides_mm(hanging.slide);
                room = room.union(bounds + kurbo::Vec2::new(0.0, way * forth));
            }
            mover::Mover::Still
            | mover::Mover::Label { .. }
            | mover::Mover::Leader { .. }
            | mover::Mover::Thread(_)
            | mover::Mover::Cone(_)
            | mover::Mover::Strand(_)
            | mover::Mover::String(_)
            | mover::Mover::Ground { .. }
            | mover::Mover::Crank { .. } => {}
        }
    }
    room
}

/// How far a shape reaches from a point.
fn farthest(shape: &shape::Shape, from: Point) -> f64 {
    let path: BezPath = match shape {
        shape::Shape::Path { path, .. } => path.clone(),
        shape::Shape::Circle {
            centre, radius_mm, ..
        } => return (*centre - from).hypot() + radius_mm,
        shape::Shape::Words { .. } => shape.bounds().to_path(0.1),
    };
    path.elements()
        .iter()
        .filter_map(kurbo::PathEl::end_point)
        .map(|point| (point - from).hypot())
        .fold(0.0, f64::max)
}
