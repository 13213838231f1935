//! A worm, seen from the side.
//!
//! Its middle section is a rack that its wheel's teeth fit.

use crate::drawing::curve;
use crate::drawing::layout;
use crate::drawing::mover;
use crate::drawing::paint;
use crate::drawing::plan;
use crate::drawing::shape;
use crate::drawing::tooth;
use crate::gears::mechanism;
use kurbo::Affine;
use kurbo::BezPath;
use kurbo::CubicBez;
use kurbo::ParamCurve;
use kurbo::Point;
use kurbo::Rect;
use std::f64::consts::FRAC_PI_4;
use std::f64::consts::PI;

impl paint::Canvas<'_> {
    /// Draws a worm's shaft; returns which shape is the outline of the worm.
    pub(super) fn worm(&mut self, shaft: &plan::Shaft, starts: mechanism::Count) -> usize {
        let wheel = &self.plan.wheels[shaft.wheel];
        let centre = self.plan.centres[wheel.node];
        let size = wheel.tooth;
        let flip = if shaft.side > 0.0 { -1.0 } else { 1.0 };
        // In tooth sizes; the wheel lies below, the worm's axis on y = 0.
        let placed = Affine::scale(self.scale)
            * Affine::translate((centre.x, centre.y - flip * (wheel.pitch + shaft.pitch)))
            * Affine::scale_non_uniform(size, flip * size);
        let radius = shaft.pitch / size;
        let half = layout::WORM_HALF;
        let line = shape::Style::paper(self.line_mm());
        let rod_end = half + layout::SHAFT_END;
        let rod = Rect::new(-rod_end, -1.7, rod_end, 1.7);
        self.path(placed * super::fitting::rounded(rod, 0.3), line);
        let box_half = layout::MOTOR_BOX / 2.0;
        self.end(
            shaft,
            Rect::new(
                rod_end - 0.5,
                -box_half,
                rod_end + 2.0 * box_half - 0.5,
                box_half,
            ),
            placed,
        );
        let place = self.shapes.len();
        let mechanism::Count::Known(starts) = starts else {
            let blank = Rect::new(-half, 1.05 - radius, half, radius - 1.05);
            let style = line.dashed(shape::Dash::Broken);
            self.path(placed * super::fitting::rounded(blank, 0.6), style);
            return place;
        };
        let thread = Thread {
            half,
            phase: (shaft.phase / size).rem_euclid(PI),
            lean: PI * f64::from(starts) / 2.0,
            root: radius - tooth::DEDENDUM,
            tip: radius + tooth::ADDENDUM,
        };
        let stripes = shape::Style::line(self.line_mm());
        let shapes = |thread: Thread| {
            [(thread.outline(), line), (thread.crests(), stripes)].map(|(path, style)| {
                shape::Shape::Path {
                    path: placed * path,
                    style,
                }
            })
        };
        let mut slide = self.slide(shaft.wheel, wheel.pitch);
        if shaft.side > 0.0 {
            slide.mm_a_turn = -slide.mm_a_turn;
        }
        let mut ends = BezPath::new();
        for end in [-half, half] {
            let (top, bottom) = (Point::new(end, -thread.root), Point::new(end, thread.root));
            ends.extend(curve::line(top, bottom));
        }
        // Longer by more than one thread on either side.
        let longer = Thread {
            half: half + 2.0 * PI,
            ..thread
        };
        let reach = radius + 2.0;
        self.moving(mover::Mover::Thread(mover::Thread {
            part: shaft.part,
            slide,
            pitch_mm: PI * size * self.scale,
            long: shapes(longer).to_vec(),
            window: Rect::from_points(
                placed * Point::new(-half, -reach),
                placed * Point::new(half, reach),
            ),
            ends: shape::Shape::Path {
                path: placed * ends,
                style: stripes,
            },
        }));
        self.shapes.extend(shapes(thread));
        self.moving(mover::Mover::Still);
        place
    }
}

/// The thread of a worm, in tooth sizes from the middle of its axis.
///
/// Threads at the bottom stand like the teeth of a rack; at the top they have gone
/// half a turn further. A right-hand thread leans to the left.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Thread {
    /// How long it is to either side.
    half: f64,
    /// Where the middle of a thread stands at the bottom.
    phase: f64,
    /// How far a thread goes along in half a turn.
    lean: f64,
    /// The radius at the bottom of the thread.
    root: f64,
    /// The radius over the thread.
    tip: f64,
}

/// Half the width of a thread at its crest and at its root.
fn half_widths() -> (f64, f64) {
    let slope = libm::tan(tooth::PRESSURE);
    (
        FRAC_PI_4 - tooth::ADDENDUM * slope,
        FRAC_PI_4 + tooth::DEDENDUM * slope,
    )
}

impl Thread {
    /// Whether there is room for the whole of a thread whose middle is there.
    fn fits(&self, middle: f64) -> bool {
        let (_, reach) = half_widths();
        middle.abs() + reach <= self.half
    }

    /// The threads that are seen from their ends, with the middle of the first at `phase`.
    fn profile(&self, phase: f64) -> Vec<Point> {
        let (crest, reach) = half_widths();
        let middles = (-6..=6_i32).map(|step| phase + PI * f64::from(step));
        middles
            .filter(|middle| self.fits(*middle))
            .flat_map(|middle| {
                [
                    Point::new(middle - reach, self.root),
                    Point::new(middle - crest, self.tip),
                    Point::new(middle + crest, self.tip),
                    Point::new(middle + reach, self.root),
                ]
            })
            .collect()
    }

    fn outline(&self) -> BezPath {
        let (half, root) = (self.half, self.root);
        let top = self.profile((self.phase - self.lean).rem_euclid(PI));
        let top = top.iter().rev().map(|point| Point::new(point.x, -point.y));
        let mut outline = vec![Point::new(-half, root)];
        outline.extend(self.profile(self.phase));
        outline.extend([Point::new(half, root), Point::new(half, -root)]);
        outline.extend(top);
        outline.push(Point::new(-half, -root));
        curve::closed(&outline)
    }

    /// The crests across the front: half a turn of a screw line, as far as the thread
    /// goes.
    fn crests(&self) -> BezPath {
        let (crest, _) = half_widths();
        let mut lines = BezPath::new();
        for step in -14..=14_i32 {
            let middle = self.phase + PI * f64::from(step);
            for side in [-crest, crest] {
                if let Some(seen) = self.crest(middle, side) {
                    lines.move_to(seen.p0);
                    lines.curve_to(seen.p1, seen.p2, seen.p3);
                }
            }
        }
        lines
    }

    /// What is seen of one edge of a thread.
    fn crest(&self, middle: f64, side: f64) -> Option<CubicBez> {
        let (start, end, bend) = (middle + side, middle + side - self.lean, self.lean / 3.0);
        let line = CubicBez::new(
            (start, self.tip),
            (start - bend, self.tip),
            (end + bend, -self.tip),
            (end, -self.tip),
        );
        let is_on = |place: f64| {
            let point = line.eval(place);
            point.x.abs() < self.half && point.y.abs() < self.root
        };
        let from = if self.fits(middle) {
            0.0
        } else {
            first(is_on)?
        };
        let to = if self.fits(middle - self.lean) {
            1.0
        } else {
            1.0 - first(|place| is_on(1.0 - place))?
        };
        (from < to).then(|| line.subsegment(from..to))
    }
}

/// The first place along a line, in 64ths, where something holds.
fn first(holds: impl Fn(f64) -> bool) -> Option<f64> {
    (0..=64_u32)
        .map(|step| f64::from(step) / 64.0)
        .find(|place| holds(*place))
}
