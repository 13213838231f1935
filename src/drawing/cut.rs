//! Wheels that are too large for their teeth to be seen: broken off above and below,
//! with a wavy line, as the trade does.

use crate::drawing::paint;
use crate::drawing::plan;
use crate::drawing::shape;
use crate::gears::mechanism;
use kurbo::BezPath;
use kurbo::Point;
use kurbo::Rect;

/// How far a wavy line goes up and down, and how long its waves are.
const WAVE_MM: (f64, f64) = (0.7, 6.0);

/// Whether a drawing can be cut above and below: a plain row of wheels.
pub(super) fn can_be(plan: &plan::Plan) -> bool {
    plan.racks.is_empty()
        && plan.shafts.is_empty()
        && plan.fittings.is_empty()
        && plan.centres.iter().all(|centre| centre.y.abs() < 1e-9)
        && plan.wheels.iter().all(|wheel| !wheel.form.is_hollow())
}

/// Covers what is higher or lower than a band round the axles, and returns the parts
/// that it breaks off.
pub(super) fn cut(canvas: &mut paint::Canvas<'_>, height: f64) -> Vec<mechanism::PartId> {
    let edge = height / 2.0;
    let mut broken_off = Vec::new();
    let rounds = canvas.field.wheels.clone();
    for (round, wheel) in rounds.iter().zip(&canvas.plan.wheels) {
        if round.outer <= edge {
            continue;
        }
        broken_off.push(wheel.part);
        let reach = round.outer + 1.0;
        let half = (round.outer * round.outer - edge * edge).sqrt() + 0.6;
        for side in [-1.0_f64, 1.0] {
            let cover = Rect::from_points(
                (round.centre.x - reach, side * edge),
                (round.centre.x + reach, side * reach),
            );
            let (left, right) = (round.centre.x - half, round.centre.x + half);
            let mut path = wave(left, right, side * edge);
            let line = path.clone();
            path.line_to((cover.x1, side * edge));
            path.line_to((cover.x1, side * reach));
            path.line_to((cover.x0, side * reach));
            path.line_to((cover.x0, side * edge));
            path.close_path();
            let style = shape::Style {
                line_mm: 0.0,
                ..shape::Style::paper(0.0)
            };
            canvas.shapes.push(shape::Shape::Path { path, style });
            canvas.shapes.push(shape::Shape::Path {
                path: line,
                style: shape::Style::line(0.25),
            });
            canvas.field.boxes.push(cover.inflate(0.0, WAVE_MM.0));
        }
    }
    broken_off
}

/// What is left of the page when the band is cut out.
pub(super) fn left(bounds: Rect, band: Option<f64>, broken_off: &[mechanism::PartId]) -> Rect {
    match band {
        Some(height) if !broken_off.is_empty() => {
            let edge = height / 2.0 + WAVE_MM.0;
            Rect::new(
                bounds.x0,
                bounds.y0.max(-edge),
                bounds.x1,
                bounds.y1.min(edge),
            )
        }
        Some(_) | None => bounds,
    }
}

fn wave(left: f64, right: f64, y: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to((left, y));
    let mut x = left;
    let mut way = 1.0;
    while x < right {
        let next = (x + WAVE_MM.1 / 2.0).min(right);
        let bend = Point::new(f64::midpoint(x, next), y + way * WAVE_MM.0 * 2.0);
        path.quad_to(bend, Point::new(next, y));
        x = next;
        way = -way;
    }
    path
}
