//! What lies across: shafts seen from the side with what is at their ends, and bevel
//! gears.
//!
//! Of a bevel pair one gear is seen from its toothed side and the other, in front of
//! its rim, as a cone.

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
use std::f64::consts::PI;
use std::f64::consts::TAU;

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
    pub(super) fn end(&mut self, shaft: &plan::Shaft, bounds: Rect, placed: Affine) {
        let Some(&end) = shaft.ends.first() else {
            return;
        };
        let style = shape::Style::paper(self.line_mm());
        if matches!(
            self.mechanism.part(end).kind,
            mechanism::Kind::Handle { .. }
        ) {
            let (arm, knob) = layout::side_handle(bounds);
            let foot = placed * Point::new(arm.x0, 0.0);
            self.moving(mover::Mover::Crank {
                part: end,
                at: foot,
                along: curve::angle(placed * Point::new(arm.x1, 0.0) - foot),
            });
            self.path(placed * super::fitting::rounded(knob, 1.0), style);
            self.path(placed * super::fitting::rounded(arm, 0.8), style);
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
        let hub_half = (radius * 0.36).clamp(2.6, 5.0);
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
            let middle = shaft.phase + pitch * (0.5 + f64::from(tooth));
            let angle = (middle + PI).rem_euclid(TAU) - PI;
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
