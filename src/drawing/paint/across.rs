//! Worms and bevel gears whose shaft lies across: seen from the side.
//!
//! A worm's middle section is a rack that its wheel's teeth fit. Of a bevel pair one
//! gear is seen from its toothed side and the other, in front of its rim, as a cone.

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
use kurbo::Point;
use kurbo::Rect;
use std::f64::consts::FRAC_PI_2;
use std::f64::consts::FRAC_PI_4;
use std::f64::consts::PI;
use std::f64::consts::TAU;

/// A worm in tooth sizes, its axis on y = 0 and its wheel below.
struct Screw {
    radius: f64,
    starts: u32,
    /// Where the middle of a thread is at the bottom.
    phase: f64,
}

impl Screw {
    /// The outline of a worm so long to either side, and the crests across its front.
    ///
    /// Threads at the bottom stand like the teeth of a rack; at the top they have gone
    /// half a turn further. A right-hand thread leans to the left.
    fn thread(&self, half: f64) -> (BezPath, BezPath) {
        let lean = PI * f64::from(self.starts) / 2.0;
        let (root, tip) = (self.radius - tooth::DEDENDUM, self.radius + tooth::ADDENDUM);
        let slope = libm::tan(tooth::PRESSURE);
        let crest = FRAC_PI_4 - tooth::ADDENDUM * slope;
        let reach = FRAC_PI_4 + tooth::DEDENDUM * slope;
        let profile = |phase: f64| -> Vec<Point> {
            let mut points = Vec::new();
            for step in -6..=6_i32 {
                let middle = phase + PI * f64::from(step);
                if middle - reach < -half || middle + reach > half {
                    continue;
                }
                points.extend([
                    Point::new(middle - reach, root),
                    Point::new(middle - crest, tip),
                    Point::new(middle + crest, tip),
                    Point::new(middle + reach, root),
                ]);
            }
            points
        };
        let top: Vec<Point> = profile((self.phase - lean).rem_euclid(PI))
            .iter()
            .rev()
            .map(|point| Point::new(point.x, -point.y))
            .collect();
        let mut outline = vec![Point::new(-half, root)];
        outline.extend(profile(self.phase));
        outline.extend([Point::new(half, root), Point::new(half, -root)]);
        outline.extend(&top);
        outline.push(Point::new(-half, -root));
        // Half a turn of a screw line.
        let mut lines = BezPath::new();
        for step in -14..=14_i32 {
            for side in [-crest, crest] {
                let x = self.phase + PI * f64::from(step) + side;
                let (end_x, bend) = (x - lean, lean / 3.0);
                let reach = reach - side.abs();
                let fits =
                    |x: f64| x - reach - 2.0 * crest > -half && x + reach + 2.0 * crest < half;
                if fits(x) && fits(end_x) {
                    lines.move_to((x, tip));
                    lines.curve_to((x - bend, tip), (end_x + bend, -tip), (end_x, -tip));
                }
            }
        }
        (curve::closed(&outline), lines)
    }
}

impl paint::Canvas<'_> {
    /// Draws a shaft; returns which shape is the outline of its worm or bevel gear.
    pub(super) fn shaft(&mut self, shaft: &plan::Shaft) -> usize {
        self.moving(mover::Mover::Still);
        let outline = match shaft.thread {
            plan::Thread::Worm(starts) => self.worm(shaft, starts),
            plan::Thread::Bevel(teeth) => self.bevel_side(shaft, teeth),
        };
        let bounds = layout::shaft_box(self.plan, shaft);
        self.field.boxes.push(paint::scaled(bounds, self.scale));
        outline
    }

    /// Whether a motor, dynamo or handle is at its end.
    fn end(&mut self, shaft: &plan::Shaft, bounds: Rect, placed: Affine) {
        let Some(&end) = shaft.ends.first() else {
            return;
        };
        let style = shape::Style::paper(self.line_mm());
        if matches!(
            self.mechanism.part(end).kind,
            mechanism::Kind::Handle { .. }
        ) {
            let arm = Rect::new(
                bounds.x0 + 1.0,
                bounds.y0,
                bounds.x0 + 2.6,
                bounds.y0 + bounds.height() * 0.62,
            );
            let knob = Rect::new(arm.x0, arm.y0, arm.x1 + 4.5, arm.y0 + 2.0);
            let foot = placed * Point::new(arm.x0, 0.0);
            self.moving(mover::Mover::Crank {
                part: end,
                at: foot,
                along: curve::angle(placed * Point::new(arm.x1, 0.0) - foot),
            });
            self.path(placed * super::fitting::rounded(arm, 0.5), style);
            self.path(placed * super::fitting::rounded(knob, 0.8), style);
            self.moving(mover::Mover::Still);
        } else {
            self.path(placed * super::fitting::rounded(bounds, 1.2), style);
            let mut fins = BezPath::new();
            for step in 1..=5_u32 {
                let y = bounds.y0 + bounds.height() * f64::from(step) / 6.0;
                fins.move_to((bounds.x0 + 2.0, y));
                fins.line_to((bounds.x1 - 1.5, y));
            }
            let thin = shape::Style::line(self.thin_mm());
            self.path(placed * fins, thin);
        }
    }

    fn worm(&mut self, shaft: &plan::Shaft, starts: mechanism::Count) -> usize {
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
        let screw = Screw {
            radius,
            starts,
            phase: (shaft.phase / size).rem_euclid(PI),
        };
        let shapes = |half: f64, line_mm: f64| {
            let (outline, crests) = screw.thread(half);
            [
                (outline, shape::Style::paper(line_mm)),
                (crests, shape::Style::line(line_mm)),
            ]
            .map(|(path, style)| shape::Shape::Path {
                path: placed * path,
                style,
            })
        };
        let mut slide = self.slide(shaft.wheel, wheel.pitch);
        if shaft.side > 0.0 {
            slide.mm_a_turn = -slide.mm_a_turn;
        }
        let reach = radius + 2.0;
        let root = radius - tooth::DEDENDUM;
        let mut ends = BezPath::new();
        for end in [-half, half] {
            ends.extend(curve::line(Point::new(end, -root), Point::new(end, root)));
        }
        self.moving(mover::Mover::Thread(mover::Thread {
            part: shaft.part,
            slide,
            pitch_mm: PI * size * self.scale,
            // Longer by more than one thread on either side.
            long: shapes(half + 2.0 * PI, self.line_mm()).to_vec(),
            window: Rect::from_points(
                placed * Point::new(-half, -reach),
                placed * Point::new(half, reach),
            ),
            ends: shape::Shape::Path {
                path: placed * ends,
                style: shape::Style::line(self.line_mm()),
            },
        }));
        let place = self.shapes.len();
        self.shapes.extend(shapes(half, self.line_mm()));
        self.moving(mover::Mover::Still);
        place
    }

    pub(super) fn bevel_face(&mut self, index: usize, teeth: u32, style: shape::Style) {
        let wheel = &self.plan.wheels[index];
        let centre = self.at(self.plan.centres[wheel.node]);
        let size = self.scale * wheel.tooth;
        let placed = Affine::translate(centre.to_vec2()) * Affine::scale(size);
        let other = self
            .plan
            .shafts
            .iter()
            .find(|shaft| shaft.wheel == index)
            .map_or(wheel.pitch, |shaft| shaft.pitch);
        let toe = plan::toe(wheel.pitch, other);
        let gear = tooth::Tooth::new(teeth);
        let outline = gear.outline(wheel.phase);
        self.path(placed * outline.clone(), style);
        let thin = shape::Style::line(self.thin_mm());
        let mut crests = BezPath::new();
        let (tip, half) = (gear.tip(), gear.half_angle(gear.tip()));
        for tooth in 0..teeth {
            let middle = wheel.phase + TAU * f64::from(tooth) / f64::from(teeth);
            for side in [-half, half] {
                crests.move_to(curve::polar(Point::ORIGIN, tip, middle + side));
                crests.line_to(curve::polar(Point::ORIGIN, tip * toe, middle + side));
            }
        }
        self.path(placed * crests, thin);
        self.path(placed * Affine::scale(toe) * outline, thin);
    }

    fn bevel_side(&mut self, shaft: &plan::Shaft, teeth: mechanism::Count) -> usize {
        let wheel = &self.plan.wheels[shaft.wheel];
        let size = wheel.tooth;
        let (heel, radius) = (wheel.pitch / size, shaft.pitch / size);
        let toe = plan::toe(wheel.pitch, shaft.pitch);
        let cone = (heel * heel + radius * radius).sqrt();
        // The cone's flank goes from the apex (on the wheel's axle) along (lean, rise).
        let (lean, rise) = (heel / cone, radius / cone);
        let placed = Affine::translate(self.at(self.plan.centres[wheel.node]).to_vec2())
            * Affine::rotate(shaft.side)
            * Affine::scale(self.scale * size);
        let line = shape::Style::paper(self.line_mm());
        let end = heel + layout::BEVEL_BACK;
        let box_half = layout::MOTOR_BOX / 2.0;
        self.end(
            shaft,
            Rect::new(end - 0.5, -box_half, end + 2.0 * box_half - 0.5, box_half),
            placed,
        );
        let rod = Rect::new(heel, -1.7, end, 1.7);
        self.path(placed * super::fitting::rounded(rod, 0.3), line);
        let hub_half = (radius * 0.5).max(2.6);
        let hub = Rect::new(heel, -hub_half, heel + 6.0, hub_half);
        self.path(placed * super::fitting::rounded(hub, 0.5), line);
        let heel_tip = Point::new(heel - rise, radius + lean);
        let heel_root = Point::new(heel + 1.25 * rise, radius - 1.25 * lean);
        let mirrored = |point: Point| Point::new(point.x, -point.y);
        let small = |point: Point| Point::new(point.x * toe, point.y * toe);
        let body = [
            small(heel_tip),
            heel_tip,
            heel_root,
            Point::new(heel + 2.6, heel_root.y * 0.8),
            mirrored(Point::new(heel + 2.6, heel_root.y * 0.8)),
            mirrored(heel_root),
            mirrored(heel_tip),
            small(mirrored(heel_tip)),
        ];
        let place = self.shapes.len();
        let mechanism::Count::Known(teeth) = teeth else {
            let style = line.dashed(shape::Dash::Broken);
            self.path(placed * curve::closed(&body), style);
            return place;
        };
        self.path(placed * curve::closed(&body), line);
        // The crests of the teeth on the near side, all running to the apex.
        let half = tooth::Tooth::new(teeth).half_angle(radius + 1.0);
        let pitch = TAU / f64::from(teeth);
        let mut crests = BezPath::new();
        for tooth in 0..teeth {
            // A gap lies at the back, where the wheel's tooth is.
            let middle = -FRAC_PI_2 - PI + pitch / 2.0 + pitch * f64::from(tooth);
            let angle = (middle + FRAC_PI_2).rem_euclid(TAU) - FRAC_PI_2;
            for side in [-half, half] {
                let at = angle + side;
                if at.abs() < FRAC_PI_2 - 0.02 {
                    let y = heel_tip.y * libm::sin(at);
                    crests.move_to((heel_tip.x, y));
                    crests.line_to((heel_tip.x * toe, y * toe));
                }
            }
        }
        let heel_line = curve::line(heel_tip, mirrored(heel_tip));
        let style = shape::Style::line(self.line_mm());
        let millimetres = self.scale * size;
        self.moving(mover::Mover::Cone(mover::Cone {
            part: shaft.part,
            wheel: wheel.part,
            // Its far side meshes with the wheel's rim and goes the rim's way, so that
            // its near side goes the other.
            turns_a_turn: -wheel.pitch / shaft.pitch,
            apex: placed * Point::ORIGIN,
            along: shaft.side,
            heel: (heel_tip.x * millimetres, heel_tip.y * millimetres),
            toe,
            teeth,
            half_tooth: half,
        }));
        self.path(placed * crests, shape::Style::line(self.thin_mm() * 1.2));
        self.moving(mover::Mover::Still);
        self.path(placed * heel_line, style);
        place
    }
}
