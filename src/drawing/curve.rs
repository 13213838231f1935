//! Angles, points round a centre, and curves traced through a formula.
//!
//! The trigonometry is the same on every machine: the platform's own is not.

use kurbo::BezPath;
use kurbo::Point;
use kurbo::Vec2;

/// Returns the unit vector at an angle.
pub(super) fn unit(angle: f64) -> Vec2 {
    Vec2::new(libm::cos(angle), libm::sin(angle))
}

/// Returns the point so far from a centre at an angle.
pub(super) fn polar(centre: Point, radius: f64, angle: f64) -> Point {
    centre + unit(angle) * radius
}

/// Returns the angle of a vector.
pub(super) fn angle(vector: Vec2) -> f64 {
    libm::atan2(vector.y, vector.x)
}

/// Returns the length of a vector.
pub(super) fn length(vector: Vec2) -> f64 {
    vector.hypot2().sqrt()
}

/// Goes on along a curve, with so many cubics that have its points and slopes.
///
/// Source: Hermite's interpolation, any textbook of numerical mathematics (from
/// memory).
pub(super) fn trace(
    path: &mut BezPath,
    curve: impl Fn(f64) -> Point,
    (from, to): (f64, f64),
    pieces: u32,
) {
    let step = (to - from) / f64::from(pieces);
    let nudge = step * 1e-4;
    let slope = |place: f64| (curve(place + nudge) - curve(place - nudge)) / (2.0 * nudge);
    for piece in 0..pieces {
        let start = from + step * f64::from(piece);
        let end = start + step;
        path.curve_to(
            curve(start) + slope(start) * (step / 3.0),
            curve(end) - slope(end) * (step / 3.0),
            curve(end),
        );
    }
}

/// Goes on along an arc; the path must stand at its start or be empty.
///
/// Source: handles of 4/3 tan(a / 4) for an arc of angle a (any textbook of computer
/// graphics, from memory).
pub(super) fn arc(path: &mut BezPath, centre: Point, radius: f64, (from, to): (f64, f64)) {
    if path.elements().is_empty() {
        path.move_to(polar(centre, radius, from));
    }
    // A cubic over a sixth of a turn is within 1/100 000 of the radius.
    let mut pieces = 1_u32;
    while (to - from).abs() / f64::from(pieces) > 1.05 {
        pieces += 1;
    }
    let step = (to - from) / f64::from(pieces);
    let reach = 4.0 / 3.0 * libm::tan(step / 4.0) * radius;
    let across = |angle: f64| Vec2::new(-libm::sin(angle), libm::cos(angle));
    for piece in 0..pieces {
        let start = from + step * f64::from(piece);
        let end = start + step;
        path.curve_to(
            polar(centre, radius, start) + across(start) * reach,
            polar(centre, radius, end) - across(end) * reach,
            polar(centre, radius, end),
        );
    }
}

/// Returns a straight line.
pub(super) fn line(from: Point, to: Point) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    path
}

/// Returns the outline through these points, closed.
pub(super) fn closed(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (index, point) in points.iter().enumerate() {
        if index == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    path.close_path();
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape as _;

    #[test]
    fn a_traced_circle_is_round() {
        let mut path = BezPath::new();
        arc(&mut path, Point::ORIGIN, 10.0, (0.0, std::f64::consts::TAU));
        for segment in path.segments() {
            for place in [0.0, 0.1, 0.37, 0.5, 0.83, 1.0] {
                let point = kurbo::ParamCurve::eval(&segment, place);
                assert!((length(point.to_vec2()) - 10.0).abs() < 1e-3);
            }
        }
        let area = path.area().abs();
        assert!((area - 314.159).abs() < 0.01, "{area}");
    }
}
