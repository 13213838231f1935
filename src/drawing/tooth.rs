//! The outlines of toothed wheels, of tooth size 1: involute flanks, true roots.
//!
//! Every outline is what the standard rack cuts, so that any two of them mesh.
//!
//! Source: ISO 53:1998, basic rack profile A: pressure angle 20°, addendum 1 m,
//! dedendum 1.25 m, root fillet 0.38 m (from memory; addendum and dedendum agree
//! with tip = d + 2 m and root = d - 2.5 m, Drivetrain Hub, Spur Gears). Involute:
//! `inv α = tan α - α`, base circle `r cos α`, tooth thickness `π m / 2` on the pitch
//! circle (any handbook of gears, from memory).

use crate::drawing::curve;
use kurbo::BezPath;
use kurbo::Point;
use std::f64::consts::FRAC_PI_4;
use std::f64::consts::PI;
use std::f64::consts::TAU;

/// The pressure angle: 20°.
pub(super) const PRESSURE: f64 = PI / 9.0;
/// How far a tooth stands out over the pitch circle.
pub(super) const ADDENDUM: f64 = 1.0;
/// How deep a gap goes below the pitch circle.
pub(super) const DEDENDUM: f64 = 1.25;
/// The rounding of the cutting rack's tips.
const FILLET: f64 = 0.38;
/// How far the centre of that rounding lies below the pitch line.
const FILLET_DEPTH: f64 = DEDENDUM - FILLET;

/// A tooth of an outside gear, as the rack cuts it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tooth {
    teeth: u32,
    /// The pitch radius.
    pitch: f64,
    /// The base radius.
    base: f64,
    /// Half a tooth's angle where its flanks would meet the base circle.
    base_half: f64,
    /// Where the root curve ends and the involute begins, on the root curve.
    joint: f64,
}

/// Returns `tan α - α` of an involute's roll.
fn involute(roll: f64) -> f64 {
    roll - libm::atan(roll)
}

/// Returns how wide the rack's rounding lies from the middle of its tooth.
fn fillet_offset() -> f64 {
    FRAC_PI_4 - FILLET_DEPTH * libm::tan(PRESSURE) - FILLET / libm::cos(PRESSURE)
}

/// Returns where something stops holding that holds at the start.
fn crossing((mut inside, mut outside): (f64, f64), holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..60 {
        let middle = f64::midpoint(inside, outside);
        if holds(middle) {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    outside
}

impl Tooth {
    /// Returns the tooth of a gear with so many.
    pub(super) fn new(teeth: u32) -> Self {
        let pitch = f64::from(teeth) / 2.0;
        let mut tooth = Self {
            teeth,
            pitch,
            base: pitch * libm::cos(PRESSURE),
            base_half: PI / (2.0 * f64::from(teeth)) + involute(libm::tan(PRESSURE)),
            joint: FILLET_DEPTH / libm::tan(PRESSURE),
        };
        tooth.joint = tooth.find_joint();
        tooth
    }

    /// The radius over the tips.
    pub(super) fn tip(&self) -> f64 {
        self.pitch + ADDENDUM
    }

    /// The roll of the involute at a radius; nought on and below the base circle.
    fn roll(&self, radius: f64) -> f64 {
        ((radius / self.base) * (radius / self.base) - 1.0)
            .max(0.0)
            .sqrt()
    }

    /// Returns half the angle of a tooth at a radius on its involute.
    pub(super) fn half_angle(&self, radius: f64) -> f64 {
        self.base_half - involute(self.roll(radius))
    }

    /// Returns a point of the root curve: its radius and its angle from the middle of
    /// the gap. `slide` is how far the rounding's centre has passed the pitch point.
    ///
    /// Source: the normal at a cutting point goes through the pitch point, so the
    /// point lies beyond the rounding's centre, seen from there (law of gearing).
    fn root(&self, slide: f64) -> (f64, f64) {
        let far = (slide * slide + FILLET_DEPTH * FILLET_DEPTH).sqrt();
        let reach = 1.0 + FILLET / far;
        let across = slide * reach;
        let up = self.pitch - FILLET_DEPTH * reach;
        let rolled = (slide - fillet_offset()) / self.pitch;
        (
            (across * across + up * up).sqrt(),
            libm::atan2(across, up) - rolled,
        )
    }

    /// Where the root curve gives way to the involute: at its end, or where it cuts
    /// into the flank of a small gear (undercut).
    fn find_joint(&self) -> f64 {
        let end = FILLET_DEPTH / libm::tan(PRESSURE);
        if !self.is_undercut() {
            return end;
        }
        // From the base circle on, the root curve first lies within the tooth.
        let base = crossing((0.0, end), |slide| self.root(slide).0 < self.base);
        crossing((base, end), |slide| {
            let (radius, angle) = self.root(slide);
            angle > PI / f64::from(self.teeth) - self.half_angle(radius)
        })
    }

    /// Whether the root curve cuts into the involute: the rack's flank then reaches
    /// beyond the point where the line of action touches the base circle.
    ///
    /// Source: `z_min = 2 / sin² α` (Drivetrain Hub, Spur Gears), 17.1 for 20°.
    fn is_undercut(&self) -> bool {
        let flank_end = FILLET_DEPTH / libm::sin(PRESSURE) + FILLET;
        flank_end > self.pitch * libm::sin(PRESSURE)
    }

    /// Returns the outline; a tooth stands at the angle `phase`.
    pub(super) fn outline(&self, phase: f64) -> BezPath {
        let mut path = BezPath::new();
        let half_pitch = PI / f64::from(self.teeth);
        let start = self.roll(self.root(self.joint).0);
        let end = self.roll(self.tip());
        let tip_half = self.half_angle(self.tip());
        let turn = |radius: f64, angle: f64| curve::polar(Point::ORIGIN, radius, angle);
        for tooth in 0..self.teeth {
            let middle = phase + TAU * f64::from(tooth) / f64::from(self.teeth);
            let root = |side: f64| {
                move |slide: f64| {
                    let (radius, angle) = self.root(slide);
                    turn(radius, middle + side * (half_pitch - angle))
                }
            };
            let flank = |side: f64| {
                move |roll: f64| {
                    let radius = self.base * (1.0 + roll * roll).sqrt();
                    turn(radius, middle + side * (self.base_half - involute(roll)))
                }
            };
            let foot = root(-1.0)(0.0);
            if tooth == 0 {
                path.move_to(foot);
            } else {
                path.line_to(foot);
            }
            let bend = self.joint * 0.35;
            curve::trace(&mut path, root(-1.0), (0.0, bend), 1);
            curve::trace(&mut path, root(-1.0), (bend, self.joint), 1);
            curve::trace(&mut path, flank(-1.0), (start, end), 1);
            curve::arc(
                &mut path,
                Point::ORIGIN,
                self.tip(),
                (middle - tip_half, middle + tip_half),
            );
            curve::trace(&mut path, flank(1.0), (end, start), 1);
            curve::trace(&mut path, root(1.0), (self.joint, bend), 1);
            curve::trace(&mut path, root(1.0), (bend, 0.0), 1);
        }
        path.close_path();
        path
    }
}

/// Returns the inside of a ring gear; a tooth stands at the angle `phase`, and the
/// teeth end at the radius `tip`.
///
/// Its gaps have the flanks of an outside gear's teeth.
pub(super) fn ring_outline(teeth: u32, tip: f64, phase: f64) -> BezPath {
    let gear = Tooth::new(teeth);
    let half_pitch = PI / f64::from(teeth);
    let root = gear.pitch + DEDENDUM;
    let flank_end = root - FILLET * 0.6;
    let half = |radius: f64| half_pitch - gear.half_angle(radius);
    let mut path = BezPath::new();
    let turn = |radius: f64, angle: f64| curve::polar(Point::ORIGIN, radius, angle);
    for tooth in 0..teeth {
        let middle = phase + TAU * f64::from(tooth) / f64::from(teeth);
        let flank = |side: f64| move |radius: f64| turn(radius, middle + side * half(radius));
        let gap_half = half_pitch - half(root);
        let root_at = |side: f64| turn(root, middle + side * (half_pitch - gap_half * 0.55));
        let corner = |side: f64| turn(root, middle + side * (half_pitch - gap_half * 0.95));
        if tooth == 0 {
            path.move_to(root_at(-1.0));
        } else {
            let next = middle - half_pitch;
            curve::arc(
                &mut path,
                Point::ORIGIN,
                root,
                (next - gap_half * 0.55, next + gap_half * 0.55),
            );
        }
        path.quad_to(corner(-1.0), flank(-1.0)(flank_end));
        curve::trace(&mut path, flank(-1.0), (flank_end, tip), 1);
        let tip_half = half(tip);
        curve::arc(
            &mut path,
            Point::ORIGIN,
            tip,
            (middle - tip_half, middle + tip_half),
        );
        curve::trace(&mut path, flank(1.0), (tip, flank_end), 1);
        path.quad_to(corner(1.0), root_at(1.0));
    }
    path.close_path();
    path
}

/// Returns the least radius at which a ring gear's teeth may end so that they do
/// not dig into the roots of a gear that runs in it.
///
/// Source: a ring's tip must lie beyond the point where the line of action touches
/// the gear's base circle: `r² = (R cos α)² + (a sin α)²` (any handbook of gears, from
/// memory).
pub(super) fn ring_tip(ring_teeth: u32, gear_teeth: u32) -> f64 {
    let pitch = f64::from(ring_teeth) / 2.0;
    let apart = pitch - f64::from(gear_teeth) / 2.0;
    let base = pitch * libm::cos(PRESSURE);
    let sideways = apart * libm::sin(PRESSURE);
    (base * base + sideways * sideways)
        .sqrt()
        .max(pitch - ADDENDUM)
}

/// Returns the toothed edge of a rack along y = 0, teeth upwards, from the first
/// point to the last; the middle of a tooth stands at `phase`, a whole number of
/// teeth from it the others, from `first` on.
pub(super) fn rack_edge(phase: f64, first: i32, teeth: u32) -> Vec<Point> {
    let slope = libm::tan(PRESSURE);
    let (tip_half, root_half) = (FRAC_PI_4 - ADDENDUM * slope, FRAC_PI_4 + DEDENDUM * slope);
    let mut points = Vec::new();
    for tooth in 0..teeth {
        let middle = phase + PI * (f64::from(first) + f64::from(tooth));
        points.extend([
            Point::new(middle - root_half, DEDENDUM),
            Point::new(middle - tip_half, -ADDENDUM),
            Point::new(middle + tip_half, -ADDENDUM),
            Point::new(middle + root_half, DEDENDUM),
        ]);
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tooth_has_the_handbook_s_proportions() {
        for teeth in [4, 8, 12, 17, 20, 36, 100] {
            let tooth = Tooth::new(teeth);
            let pitch = f64::from(teeth) / 2.0;
            // Tooth thickness on the pitch circle is pi m / 2.
            let thickness = 2.0 * pitch * tooth.half_angle(pitch);
            assert!((thickness - PI / 2.0).abs() < 1e-12, "{teeth}: {thickness}");
            // Root diameter d - 2.5 m: the lowest point of the root curve.
            let (root, _) = tooth.root(0.0);
            assert!((root - (pitch - 1.25)).abs() < 1e-12, "{teeth}: {root}");
        }
    }

    /// inv 20° = 0.014904 (the table in any handbook of gears; from memory).
    #[test]
    fn the_involute_function_is_the_table_s() {
        let found = involute(libm::tan(PRESSURE));
        assert!((found - 0.014_904).abs() < 5e-7, "{found}");
    }

    /// 17.1 teeth are the limit at 20°: `2 / sin² α` (Drivetrain Hub, Spur Gears).
    #[test]
    fn gears_of_seventeen_teeth_or_fewer_are_undercut() {
        for teeth in 4..60 {
            let tooth = Tooth::new(teeth);
            assert_eq!(tooth.is_undercut(), teeth < 18, "{teeth}");
            let (radius, _) = tooth.root(tooth.joint);
            let whole = FILLET_DEPTH / libm::tan(PRESSURE);
            assert_eq!(tooth.joint < whole, teeth < 18, "{teeth}");
            assert!(radius > tooth.base, "{teeth}");
        }
    }

    #[test]
    fn the_root_meets_the_flank_without_a_step() {
        for teeth in 3..80 {
            let tooth = Tooth::new(teeth);
            let (radius, angle) = tooth.root(tooth.joint);
            let flank = PI / f64::from(teeth) - tooth.half_angle(radius);
            assert!((angle - flank).abs() * radius < 1e-6, "{teeth}");
            assert!(radius >= tooth.base, "{teeth}");
            assert!(
                tooth.half_angle(tooth.tip()) > 0.0,
                "{teeth}: the tip is sharp"
            );
        }
    }

    /// One cubic a flank, two a root: how far from the formula's points.
    #[test]
    fn the_curves_lie_on_their_formulas() {
        use kurbo::ParamCurveNearest;
        for teeth in [6, 8, 12, 17, 30, 90] {
            let tooth = Tooth::new(teeth);
            let path = tooth.outline(0.0);
            let near = |point: Point| {
                path.segments()
                    .map(|segment| segment.nearest(point, 1e-9).distance_sq.sqrt())
                    .fold(f64::INFINITY, f64::min)
            };
            let start = tooth.root(tooth.joint).0;
            for step in 0..=20 {
                let share = f64::from(step) / 20.0;
                let radius = start + (tooth.tip() - start) * share;
                let flank = curve::polar(Point::ORIGIN, radius, tooth.half_angle(radius));
                assert!(near(flank) < 0.004, "{teeth}: {}", near(flank));
                let (radius, angle) = tooth.root(tooth.joint * share);
                let angle = PI / f64::from(teeth) - angle;
                let root = curve::polar(Point::ORIGIN, radius, angle);
                assert!(near(root) < 0.01, "{teeth}, {share}: {}", near(root));
            }
        }
    }
}
