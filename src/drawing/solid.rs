//! What takes up room: discs, hoops and boxes, and whether two of them overlap.

use crate::drawing::curve;
use kurbo::Point;
use kurbo::Rect;

/// Something that takes up room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Solid {
    /// A disc.
    Disc(Point, f64),
    /// A hoop: its centre, the radius of its hole, its outer radius.
    Hoop(Point, f64, f64),
    /// A box.
    Box(Rect),
}

/// How near two things may come.
const MARGIN: f64 = 0.25;

/// Returns the least distance of a point from a box; nought inside.
pub(super) fn nearest(bounds: Rect, point: Point) -> f64 {
    let across = (bounds.x0 - point.x).max(point.x - bounds.x1).max(0.0);
    let down = (bounds.y0 - point.y).max(point.y - bounds.y1).max(0.0);
    (across * across + down * down).sqrt()
}

/// Returns the greatest distance of a point from a box.
pub(super) fn farthest(bounds: Rect, point: Point) -> f64 {
    let across = (point.x - bounds.x0).abs().max((bounds.x1 - point.x).abs());
    let down = (point.y - bounds.y0).abs().max((bounds.y1 - point.y).abs());
    (across * across + down * down).sqrt()
}

/// Whether two boxes overlap.
pub(super) fn boxes_overlap(one: Rect, other: Rect) -> bool {
    one.x0 < other.x1 && other.x0 < one.x1 && one.y0 < other.y1 && other.y0 < one.y1
}

impl Solid {
    /// Returns the box around it.
    pub(super) fn bounds(self) -> Rect {
        match self {
            Self::Disc(centre, radius) | Self::Hoop(centre, _, radius) => {
                Rect::from_center_size(centre, (2.0 * radius, 2.0 * radius))
            }
            Self::Box(bounds) => bounds,
        }
    }

    /// Whether two things overlap.
    pub(super) fn overlaps(self, other: Self) -> bool {
        match (self, other) {
            (Self::Disc(one, near), Self::Disc(two, far))
            | (Self::Hoop(one, _, near), Self::Hoop(two, _, far)) => {
                curve::length(two - one) < near + far + MARGIN
            }
            (Self::Disc(disc, radius), Self::Hoop(hoop, hole, outer))
            | (Self::Hoop(hoop, hole, outer), Self::Disc(disc, radius)) => {
                let apart = curve::length(disc - hoop);
                apart + radius + MARGIN > hole && apart - radius - MARGIN < outer
            }
            (Self::Disc(centre, radius), Self::Box(bounds))
            | (Self::Box(bounds), Self::Disc(centre, radius)) => {
                nearest(bounds, centre) < radius + MARGIN
            }
            (Self::Hoop(centre, hole, outer), Self::Box(bounds))
            | (Self::Box(bounds), Self::Hoop(centre, hole, outer)) => {
                nearest(bounds, centre) < outer + MARGIN && farthest(bounds, centre) + MARGIN > hole
            }
            (Self::Box(one), Self::Box(other)) => boxes_overlap(one.inflate(MARGIN, MARGIN), other),
        }
    }
}
