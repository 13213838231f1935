//! Arrows on rims and bars: the directions that are told, and a question mark where
//! one is asked.

use crate::drawing::curve;
use crate::drawing::field;
use crate::drawing::layout;
use crate::drawing::note;
use crate::drawing::paint;
use crate::drawing::plan;
use crate::drawing::shape;
use crate::gears::mechanism;
use kurbo::BezPath;
use kurbo::Point;
use kurbo::Rect;
use std::f64::consts::FRAC_PI_2;
use std::f64::consts::PI;

/// How thick an arrow's line is.
const LINE_MM: f64 = 0.55;
/// How long and how wide an arrow's head is.
const HEAD_MM: (f64, f64) = (2.3, 1.0);
/// How far an arrow stands off its rim.
const OFF_MM: f64 = 1.75;
/// How far a handle's knob reaches beyond its arm.
const KNOB_MM: f64 = 2.6;
/// How large a spot on its way must be free.
const SPOT_MM: f64 = 1.2;

/// Which ends of an arrow have heads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Heads {
    /// At its end.
    End,
    /// At its start.
    Start,
    /// At both, with a question mark.
    Asked,
}

/// Draws every arrow; returns the parts that have one.
pub(super) fn draw(
    canvas: &mut paint::Canvas<'_>,
    notes: &note::Notes,
    type_mm: f64,
) -> Vec<mechanism::PartId> {
    let mut shown = Vec::new();
    for (part, sense) in &notes.arrows {
        let heads = match sense {
            mechanism::Sense::Clockwise | mechanism::Sense::Right => Heads::End,
            mechanism::Sense::Anticlockwise | mechanism::Sense::Left => Heads::Start,
        };
        if one(canvas, *part, heads, type_mm) {
            shown.push(*part);
        }
    }
    for part in &notes.asked {
        if one(canvas, *part, Heads::Asked, type_mm) {
            shown.push(*part);
        }
    }
    shown
}

fn one(
    canvas: &mut paint::Canvas<'_>,
    part: mechanism::PartId,
    heads: Heads,
    type_mm: f64,
) -> bool {
    let plan = canvas.plan;
    if let Some(rack) = plan.racks.iter().find(|rack| rack.part == part) {
        along_bar(canvas, rack, heads, type_mm);
        return true;
    }
    let own = plan.wheels.iter().position(|wheel| wheel.part == part);
    let fitting = plan.fittings.iter().find(|it| it.part == part);
    let node = own.map(|wheel| plan.wheels[wheel].node);
    // A shaft that lies across is seen from no side on which a sense could be shown.
    let Some(node) = node.or_else(|| fitting.map(|it| it.node)) else {
        return false;
    };
    let largest = (0..plan.wheels.len())
        .filter(|&wheel| plan.wheels[wheel].node == node)
        .max_by(|&one, &other| plan.wheels[one].outer.total_cmp(&plan.wheels[other].outer));
    let mut rims: Vec<Rim> = own
        .into_iter()
        .chain(largest)
        .map(|wheel| rim(canvas, wheel))
        .collect();
    rims.extend(fitting.map(|it| way_round(canvas, it)));
    rims.iter().any(|rim| on_rim(canvas, rim, heads, type_mm))
}

/// Where an arrow may go round.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rim {
    centre: Point,
    radius: f64,
    /// Where along it is best.
    best: f64,
    seeker: field::Seeker,
}

/// The rim of a wheel; its top is best.
fn rim(canvas: &paint::Canvas<'_>, wheel: usize) -> Rim {
    let round = canvas.field.wheels[wheel];
    let is_belt = canvas.plan.edges.iter().any(|edge| {
        (edge.first == wheel || edge.second == wheel)
            && matches!(
                edge.tie,
                plan::Tie::Belt | plan::Tie::CrossedBelt | plan::Tie::Chain
            )
    });
    let belt = if is_belt { 0.7 * canvas.scale } else { 0.0 };
    Rim {
        centre: round.centre,
        radius: round.outer + OFF_MM + belt,
        best: -FRAC_PI_2,
        seeker: field::Seeker::Rim(wheel),
    }
}

/// The way of a handle's knob, and round anything else on an axle without wheels.
fn way_round(canvas: &paint::Canvas<'_>, fitting: &plan::Fitting) -> Rim {
    let at = canvas.plan.centres[fitting.node];
    let is_handle = fitting.kind == plan::FittingKind::Handle;
    let knob = if is_handle { KNOB_MM } else { 0.0 };
    Rim {
        centre: Point::new(at.x * canvas.scale, at.y * canvas.scale),
        radius: fitting.radius * canvas.scale + knob + OFF_MM,
        best: if is_handle { fitting.angle } else { -FRAC_PI_2 },
        seeker: field::Seeker::Other,
    }
}

/// Puts an arrow on a rim, on the side that is free, the best first.
fn on_rim(canvas: &mut paint::Canvas<'_>, rim: &Rim, heads: Heads, type_mm: f64) -> bool {
    let Rim { centre, radius, .. } = *rim;
    let half = (7.0 / radius).clamp(0.3, 0.95);
    for step in 0..=12_u32 {
        for way in [-1.0, 1.0] {
            let middle = rim.best + way * PI * f64::from(step) / 12.0;
            let arc = (middle - half, middle + half);
            let points = field::along_arc(centre, radius, arc.0, arc.1);
            let mark = question_mark(centre, radius + 0.9, middle, type_mm);
            let is_free = points.iter().all(|point| {
                let spot = Rect::from_center_size(*point, (SPOT_MM, SPOT_MM));
                !canvas.field.is_taken(spot, rim.seeker)
            });
            let mark_is_free = heads != Heads::Asked || !canvas.field.is_taken(mark, rim.seeker);
            if !is_free || !mark_is_free {
                continue;
            }
            curved(canvas, centre, radius, arc, heads);
            for point in &points {
                let spot = Rect::from_center_size(*point, (SPOT_MM, SPOT_MM));
                canvas.field.boxes.push(spot);
            }
            if heads == Heads::Asked {
                write_mark(canvas, mark, type_mm);
            }
            return true;
        }
    }
    false
}

fn question_mark(centre: Point, radius: f64, angle: f64, type_mm: f64) -> Rect {
    let (wide, tall) = (type_mm * 0.6, type_mm);
    let out = curve::unit(angle);
    let reach = radius + out.x.abs() * wide / 2.0 + out.y.abs() * tall / 2.0;
    Rect::from_center_size(centre + out * reach, (wide, tall))
}

fn write_mark(canvas: &mut paint::Canvas<'_>, bounds: Rect, type_mm: f64) {
    canvas.shapes.push(shape::Shape::Words {
        at: Point::new(bounds.x0, bounds.y1 - type_mm * 0.2),
        text: "?".to_owned(),
        size_mm: type_mm,
        weight: shape::Weight::Bold,
    });
    canvas.field.boxes.push(bounds);
}

fn curved(
    canvas: &mut paint::Canvas<'_>,
    centre: Point,
    radius: f64,
    (from, to): (f64, f64),
    heads: Heads,
) {
    let back = HEAD_MM.0 / radius;
    let at_start = heads != Heads::End;
    let at_end = heads != Heads::Start;
    let start = if at_start { from + back * 0.8 } else { from };
    let end = if at_end { to - back * 0.8 } else { to };
    let mut path = BezPath::new();
    curve::arc(&mut path, centre, radius, (start, end));
    let style = shape::Style::line(LINE_MM);
    canvas.shapes.push(shape::Shape::Path { path, style });
    let ends = [(at_start, from, back), (at_end, to, -back)];
    for (is_there, tip, back) in ends {
        if is_there {
            let foot = curve::polar(centre, radius, tip + back);
            head(canvas, curve::polar(centre, radius, tip), foot);
        }
    }
}

fn head(canvas: &mut paint::Canvas<'_>, tip: Point, foot: Point) {
    let along = foot - tip;
    let across = kurbo::Vec2::new(-along.y, along.x) * (HEAD_MM.1 / HEAD_MM.0);
    canvas.shapes.push(shape::Shape::Path {
        path: curve::closed(&[tip, foot + across, foot - across]),
        style: shape::Style::ink(),
    });
}

/// A straight arrow along the free edge of a rack.
fn along_bar(canvas: &mut paint::Canvas<'_>, rack: &plan::Rack, heads: Heads, type_mm: f64) {
    let bounds = layout::rack_box(canvas.plan, rack);
    let scale = canvas.scale;
    let middle = bounds.center().x * scale;
    let y = if rack.above {
        bounds.y0 * scale - 2.0
    } else {
        bounds.y1 * scale + 2.0
    };
    let half = (bounds.width() * scale / 2.0).min(7.0);
    let (left, right) = (Point::new(middle - half, y), Point::new(middle + half, y));
    let back = kurbo::Vec2::new(HEAD_MM.0, 0.0);
    let at_left = heads != Heads::End;
    let at_right = heads != Heads::Start;
    let start = if at_left { left + back * 0.8 } else { left };
    let end = if at_right { right - back * 0.8 } else { right };
    canvas.shapes.push(shape::Shape::Path {
        path: curve::line(start, end),
        style: shape::Style::line(LINE_MM),
    });
    if at_left {
        head(canvas, left, left + back);
    }
    if at_right {
        head(canvas, right, right - back);
    }
    canvas
        .field
        .boxes
        .push(Rect::new(left.x, y - 1.1, right.x, y + 1.1));
    if heads == Heads::Asked {
        let mark = Rect::new(
            right.x + 1.0,
            y - type_mm / 2.0,
            right.x + 1.0 + type_mm * 0.6,
            y + type_mm / 2.0,
        );
        write_mark(canvas, mark, type_mm);
    }
}
