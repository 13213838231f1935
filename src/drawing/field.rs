//! What is on the page already, so that labels and arrows keep clear of it.

use crate::drawing::curve;
use crate::drawing::solid;
use kurbo::Point;
use kurbo::Rect;
use std::f64::consts::FRAC_PI_2;
use std::f64::consts::PI;

/// How near a label may come to a line, in millimetres.
const CLEAR: f64 = 0.55;

/// One wheel, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Round {
    /// Its centre.
    pub(super) centre: Point,
    /// Where its rim begins.
    pub(super) inner: f64,
    /// Where its rim ends.
    pub(super) outer: f64,
    /// Whether one looks through it.
    pub(super) hollow: bool,
    /// Its axle.
    pub(super) node: usize,
    /// The larger, the nearer.
    pub(super) depth: i32,
}

/// What is on the page.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Field {
    /// The wheels, by their place in the plan.
    pub(super) wheels: Vec<Round>,
    /// Hubs, knobs and drums.
    pub(super) discs: Vec<(Point, f64)>,
    /// Lines with their width.
    pub(super) lines: Vec<(Point, Point, f64)>,
    /// Boxes that are full.
    pub(super) boxes: Vec<Rect>,
    /// Those of them that are labels.
    pub(super) labels: Vec<Rect>,
}

/// For whom room is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seeker {
    /// A label or an arrow of a wheel.
    Wheel(usize),
    /// An arrow on the rim of a wheel, which may lie over wheels behind it.
    Rim(usize),
    /// Anything else.
    Other,
}

impl Field {
    /// Whether a box there would lie over something.
    pub(super) fn is_taken(&self, bounds: Rect, seeker: Seeker) -> bool {
        let wide = bounds.inflate(CLEAR, CLEAR);
        self.boxes.iter().any(|it| solid::boxes_overlap(*it, wide))
            || self
                .discs
                .iter()
                .any(|(centre, radius)| solid::nearest(wide, *centre) < *radius)
            || self.lines.iter().any(|(from, to, width)| {
                is_crossed(wide.inflate(width / 2.0, width / 2.0), *from, *to)
            })
            || self.is_on_a_wheel(wide, seeker)
    }

    fn is_on_a_wheel(&self, wide: Rect, seeker: Seeker) -> bool {
        let own = match seeker {
            Seeker::Wheel(own) | Seeker::Rim(own) => Some(own),
            Seeker::Other => None,
        };
        let own_wheel = own.map(|own| self.wheels[own]);
        self.wheels.iter().enumerate().any(|(index, wheel)| {
            let (near, far) = (
                solid::nearest(wide, wheel.centre),
                solid::farthest(wide, wheel.centre),
            );
            if near > wheel.outer {
                return false;
            }
            let on_rim = far > wheel.inner;
            if wheel.hollow || own == Some(index) {
                return on_rim;
            }
            let Some(own) = own_wheel else {
                return true;
            };
            // On one's own web one lies before what is behind it.
            let is_on_own = solid::farthest(wide, own.centre) < own.inner && !own.hollow;
            if is_on_own && own.depth > wheel.depth {
                return false;
            }
            let may_lie_over = matches!(seeker, Seeker::Rim(_))
                && own.node == wheel.node
                && own.depth > wheel.depth;
            if may_lie_over { on_rim } else { true }
        })
    }

    /// Whether a line there would lie over a label.
    pub(super) fn crosses_labels(&self, from: Point, to: Point) -> bool {
        self.labels
            .iter()
            .any(|it| is_crossed(it.inflate(CLEAR, CLEAR), from, to))
    }

    /// Whether a line leads from inside a ring gear out of it.
    pub(super) fn crosses_a_ring(&self, from: Point, to: Point) -> bool {
        self.wheels.iter().filter(|it| it.hollow).any(|ring| {
            let is_inside = |point: Point| curve::length(point - ring.centre) < ring.inner;
            is_inside(from) != is_inside(to)
        })
    }

    /// Adds a line of several points.
    fn add_line(&mut self, points: &[Point], width: f64) {
        for (from, to) in points.iter().zip(points.iter().skip(1)) {
            self.lines.push((*from, *to, width));
        }
    }

    /// Adds a circular line.
    pub(super) fn add_circle(&mut self, centre: Point, radius: f64, width: f64) {
        for quarter in [0.0, FRAC_PI_2, PI, PI + FRAC_PI_2] {
            let points = along_arc(centre, radius, quarter, quarter + FRAC_PI_2);
            self.add_line(&points, width);
        }
    }
}

/// Whether a line goes through a box.
///
/// Source: clipping by the four edges, Liang and Barsky (any textbook of computer
/// graphics, from memory).
pub(super) fn is_crossed(bounds: Rect, from: Point, to: Point) -> bool {
    let step = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (slope, room) in [
        (-step.x, from.x - bounds.x0),
        (step.x, bounds.x1 - from.x),
        (-step.y, from.y - bounds.y0),
        (step.y, bounds.y1 - from.y),
    ] {
        if slope.abs() < 1e-12 {
            if room < 0.0 {
                return false;
            }
        } else if slope < 0.0 {
            enter = enter.max(room / slope);
        } else {
            leave = leave.min(room / slope);
        }
    }
    enter <= leave
}

/// Returns points along an arc.
pub(super) fn along_arc(centre: Point, radius: f64, from: f64, to: f64) -> Vec<Point> {
    (0..=8_u32)
        .map(|step| {
            let angle = from + (to - from) * f64::from(step) / 8.0;
            curve::polar(centre, radius, angle)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_crosses_a_box_or_passes_it() {
        let bounds = Rect::new(0.0, 0.0, 2.0, 1.0);
        for (from, to, crosses) in [
            ((-1.0, 0.5), (3.0, 0.5), true),
            ((0.5, 0.5), (0.6, 0.6), true),
            ((-1.0, 2.0), (3.0, 2.0), false),
            ((-1.0, 0.0), (0.5, 3.0), false),
            ((1.0, -1.0), (1.0, -0.1), false),
        ] {
            assert_eq!(
                is_crossed(bounds, from.into(), to.into()),
                crosses,
                "{from:?}"
            );
        }
    }

    #[test]
    fn a_label_may_lie_on_its_own_web_and_on_no_other() {
        let wheel = |x: f64, depth: i32| Round {
            centre: Point::new(x, 0.0),
            inner: 8.0,
            outer: 10.0,
            hollow: false,
            node: 0,
            depth,
        };
        let field = Field {
            wheels: vec![wheel(0.0, 0), wheel(30.0, 0)],
            ..Field::default()
        };
        let small = Rect::new(-2.0, -2.0, 2.0, 2.0);
        assert!(!field.is_taken(small, Seeker::Wheel(0)));
        assert!(field.is_taken(small, Seeker::Wheel(1)));
        assert!(field.is_taken(small, Seeker::Other));
        let on_rim = Rect::new(7.0, -1.0, 9.0, 1.0);
        assert!(field.is_taken(on_rim, Seeker::Wheel(0)));
        let beside = Rect::new(12.0, -1.0, 16.0, 1.0);
        assert!(!field.is_taken(beside, Seeker::Wheel(0)));
    }
}
