//! A chain or belt round two wheels: where it runs, how long it is, where the rollers
//! of a chain are.

use crate::drawing::curve;
use crate::drawing::plan;
use kurbo::BezPath;
use kurbo::Point;
use std::f64::consts::PI;

/// A loop round two circles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Strand {
    centres: [Point; 2],
    radii: [f64; 2],
    /// The angle from the first centre to the second.
    towards: f64,
    /// How far from that the first circle's touching points are.
    spread: f64,
    crossed: bool,
    /// The tooth size of a chain's sprockets.
    tooth: f64,
}

/// Returns the length of an open loop.
///
/// Source: two arcs and two common tangents (any handbook of belts, from memory).
fn open_length(apart: f64, radii: [f64; 2]) -> f64 {
    let step = radii[0] - radii[1];
    let spread = libm::acos((step / apart).clamp(-1.0, 1.0));
    radii[0] * (2.0 * PI - 2.0 * spread)
        + radii[1] * 2.0 * spread
        + 2.0 * (apart * apart - step * step).max(0.0).sqrt()
}

/// Returns the distance, at least the one wanted, at which a chain has a whole and even
/// number of links.
pub(super) fn whole_links(wanted: f64, radii: [f64; 2], tooth: f64) -> f64 {
    let link_pair = 2.0 * PI * tooth;
    let length = (open_length(wanted, radii) / link_pair).ceil() * link_pair;
    let (mut low, mut high) = (wanted, wanted + link_pair);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if open_length(middle, radii) < length {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

impl Strand {
    /// Returns the chain or belt over an edge's two wheels.
    pub(super) fn of(plan: &plan::Plan, edge: &plan::Edge) -> Self {
        let (first, second) = (&plan.wheels[edge.first], &plan.wheels[edge.second]);
        let centres = [plan.centres[first.node], plan.centres[second.node]];
        let crossed = edge.tie == plan::Tie::CrossedBelt;
        let reach = if edge.tie == plan::Tie::Chain {
            0.0
        } else {
            0.5
        };
        let radii = [first.pitch + reach, second.pitch + reach];
        let apart = curve::length(centres[1] - centres[0]).max(f64::MIN_POSITIVE);
        let sum = if crossed {
            radii[0] + radii[1]
        } else {
            radii[0] - radii[1]
        };
        Self {
            centres,
            radii,
            towards: curve::angle(centres[1] - centres[0]),
            spread: libm::acos((sum / apart).clamp(-1.0, 1.0)),
            crossed,
            tooth: first.tooth,
        }
    }

    /// The loop, as two strands each with the arc before it.
    pub(super) fn halves(&self) -> [BezPath; 2] {
        let (start, end) = (
            self.towards + self.spread,
            self.towards - self.spread + 2.0 * PI,
        );
        let mut first = BezPath::new();
        curve::arc(&mut first, self.centres[0], self.radii[0], (start, end));
        let mut second = BezPath::new();
        let (from, to) = self.second_arc();
        first.line_to(curve::polar(self.centres[1], self.radii[1], from));
        curve::arc(&mut second, self.centres[1], self.radii[1], (from, to));
        second.line_to(curve::polar(self.centres[0], self.radii[0], start));
        [first, second]
    }

    /// The loop in one.
    pub(super) fn whole(&self) -> BezPath {
        let [mut whole, second] = self.halves();
        // Where the second begins, the first has ended.
        whole.extend(second.elements().iter().skip(1).copied());
        whole
    }

    /// How long it is.
    pub(super) fn length(&self) -> f64 {
        self.lengths().iter().sum()
    }

    /// The radius at which it runs round the first wheel.
    pub(super) fn first_radius(&self) -> f64 {
        self.radii[0]
    }

    /// The straight runs.
    pub(super) fn runs(&self) -> [(Point, Point); 2] {
        let (from, to) = self.second_arc();
        let on =
            |wheel: usize, angle: f64| curve::polar(self.centres[wheel], self.radii[wheel], angle);
        [
            (on(0, self.towards - self.spread), on(1, from)),
            (on(1, to), on(0, self.towards + self.spread)),
        ]
    }

    /// The arc on the second circle, in the way the loop runs.
    fn second_arc(&self) -> (f64, f64) {
        if self.crossed {
            let back = self.towards + PI;
            (back - self.spread + 2.0 * PI, back + self.spread)
        } else {
            (self.towards - self.spread, self.towards + self.spread)
        }
    }

    /// The lengths of the first arc, the run after it, the second arc and the run back.
    fn lengths(&self) -> [f64; 4] {
        let (from, to) = self.second_arc();
        let [(start, end), _] = self.runs();
        let run = curve::length(end - start);
        [
            self.radii[0] * (2.0 * PI - 2.0 * self.spread),
            run,
            self.radii[1] * (to - from).abs(),
            run,
        ]
    }

    /// The angles at which a roller lies in a gap of each sprocket.
    pub(super) fn gaps(&self) -> (f64, f64) {
        let lengths = self.lengths();
        let link = PI * self.tooth;
        let before = lengths[0] + lengths[1];
        let over = (before / link).ceil() * link - before;
        (
            self.towards + self.spread,
            self.towards - self.spread + over / self.radii[1],
        )
    }

    /// The middles of a chain's rollers.
    pub(super) fn rollers(&self) -> Vec<Point> {
        let lengths = self.lengths();
        let link = PI * self.tooth;
        let whole: f64 = lengths.iter().sum();
        let runs = self.runs();
        let mut rollers = Vec::new();
        let mut place = 0.0;
        while place < whole - link / 2.0 {
            rollers.push(self.at(place, lengths, runs));
            place += link;
        }
        rollers
    }

    fn at(&self, place: f64, lengths: [f64; 4], runs: [(Point, Point); 2]) -> Point {
        let [arc, run, second_arc, _] = lengths;
        if place <= arc {
            let angle = self.towards + self.spread + place / self.radii[0];
            curve::polar(self.centres[0], self.radii[0], angle)
        } else if place <= arc + run {
            runs[0].0.lerp(runs[0].1, (place - arc) / run)
        } else if place <= arc + run + second_arc {
            let angle = self.second_arc().0 + (place - arc - run) / self.radii[1];
            curve::polar(self.centres[1], self.radii[1], angle)
        } else {
            runs[1]
                .0
                .lerp(runs[1].1, (place - arc - run - second_arc) / run)
        }
    }
}

/// Returns the outline of a sprocket of tooth size 1; a tooth stands at `phase`.
///
/// Round seats for the rollers and slender teeth between, as in the trade's pictures;
/// common practice, no source.
pub(super) fn sprocket(teeth: u32, phase: f64) -> BezPath {
    const SEAT: f64 = 0.85;
    const HEIGHT: f64 = 1.15;
    let pitch = f64::from(teeth) / 2.0;
    let half = PI / f64::from(teeth);
    let mut path = BezPath::new();
    for tooth in 0..teeth {
        let middle = phase + 2.0 * half * f64::from(tooth);
        let seat = curve::polar(Point::ORIGIN, pitch, middle - half);
        // The seat goes round the roller from one side to the other.
        let inward = middle - half + PI;
        let (from, to) = (inward + 1.25, inward - 1.25);
        if tooth == 0 {
            path.move_to(curve::polar(seat, SEAT, from));
        } else {
            path.line_to(curve::polar(seat, SEAT, from));
        }
        curve::arc(&mut path, seat, SEAT, (from, to));
        let tip =
            |side: f64| curve::polar(Point::ORIGIN, pitch + HEIGHT, middle + side * 0.28 / pitch);
        let flank = curve::polar(
            Point::ORIGIN,
            pitch + 0.45,
            middle - (PI / 2.0 - SEAT) / pitch,
        );
        path.quad_to(flank, tip(-1.0));
        path.line_to(tip(1.0));
        let next = curve::polar(Point::ORIGIN, pitch, middle + half);
        let flank = curve::polar(
            Point::ORIGIN,
            pitch + 0.45,
            middle + (PI / 2.0 - SEAT) / pitch,
        );
        path.quad_to(flank, curve::polar(next, SEAT, middle + half + PI + 1.25));
    }
    path.close_path();
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_has_a_whole_and_even_number_of_links() {
        for (one, other) in [(12, 8), (44, 11), (20, 20), (9, 30)] {
            let radii = [f64::from(one) / 2.0, f64::from(other) / 2.0];
            let apart = whole_links(radii[0] + radii[1] + 10.0, radii, 1.0);
            let pairs = open_length(apart, radii) / (2.0 * PI);
            assert!((pairs - pairs.round()).abs() < 1e-9, "{pairs}");
            assert!(apart >= radii[0] + radii[1] + 10.0);
        }
    }
}
