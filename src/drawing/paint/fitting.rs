//! Handles, drums, wheels on the ground, motors, dynamos and planet carriers.

use crate::drawing::curve;
use crate::drawing::mover;
use crate::drawing::paint;
use crate::drawing::plan;
use crate::drawing::shape;
use kurbo::BezPath;
use kurbo::Point;
use kurbo::Rect;
use kurbo::Vec2;
use std::f64::consts::FRAC_PI_2;
use std::f64::consts::PI;

impl paint::Canvas<'_> {
    /// What lies behind the wheels.
    pub(super) fn fittings_behind(&mut self) {
        for fitting in &self.plan.fittings {
            match fitting.kind {
                plan::FittingKind::Roller => self.roller(fitting),
                plan::FittingKind::Motor | plan::FittingKind::Dynamo => self.motor(fitting),
                plan::FittingKind::Handle
                | plan::FittingKind::Drum
                | plan::FittingKind::Carrier => {}
            }
        }
    }

    /// What lies before the wheels: drums, then arms.
    pub(super) fn fittings_before(&mut self) {
        for fitting in &self.plan.fittings {
            if fitting.kind == plan::FittingKind::Drum {
                self.drum(fitting);
            }
        }
        for fitting in &self.plan.fittings {
            match fitting.kind {
                plan::FittingKind::Handle => self.handle(fitting),
                plan::FittingKind::Carrier => self.carrier(fitting),
                plan::FittingKind::Roller
                | plan::FittingKind::Motor
                | plan::FittingKind::Dynamo
                | plan::FittingKind::Drum => {}
            }
        }
    }

    fn roller(&mut self, fitting: &plan::Fitting) {
        let centre = self.at(self.plan.centres[fitting.node]);
        let radius = fitting.radius * self.scale;
        let tyre = (1.6 * self.scale).max(1.0);
        let line = self.line_mm();
        self.moving(mover::Mover::Wheel(self.axle(fitting.part, fitting.node)));
        self.circle(centre, radius, shape::Style::paper(line * 1.6));
        self.circle(centre, radius - tyre, shape::Style::line(self.thin_mm()));
        self.field.add_circle(centre, radius - tyre / 2.0, tyre);
        // The ground: a line, hatched below as the trade does.
        let (ground, half) = (centre.y + radius, radius * 0.8 + 3.0);
        let hatch = 1.4;
        let left = Point::new(centre.x - half, ground);
        let right = Point::new(centre.x + half, ground);
        self.moving(mover::Mover::Still);
        self.path(curve::line(left, right), shape::Style::line(line * 1.2));
        let mut strokes = BezPath::new();
        let mut x = left.x + hatch;
        while x <= right.x {
            strokes.move_to((x, ground));
            strokes.line_to((x - hatch, ground + hatch));
            x += hatch * 1.3;
        }
        // The top of a wheel that rolls to the right goes to the right, and the ground
        // below it to the left.
        self.moving(mover::Mover::Ground {
            slide: mover::Slide {
                wheel: fitting.part,
                mm_a_turn: -2.0 * PI * radius,
            },
            apart_mm: hatch * 1.3,
        });
        self.path(strokes, shape::Style::line(self.thin_mm()));
        self.moving(mover::Mover::Still);
        self.field
            .boxes
            .push(Rect::new(left.x, ground - 0.2, right.x, ground + hatch));
    }

    fn motor(&mut self, fitting: &plan::Fitting) {
        let centre = self.at(self.plan.centres[fitting.node]);
        let half = fitting.radius * self.scale;
        let line = self.line_mm();
        let feet = (half * 0.16).max(0.8);
        let bounds = Rect::from_center_size(centre, (2.0 * half, 2.0 * half));
        let foot = Rect::new(
            bounds.x0 - feet,
            bounds.y1 - feet,
            bounds.x1 + feet,
            bounds.y1,
        );
        self.path(rounded(foot, feet * 0.3), shape::Style::paper(line));
        self.path(rounded(bounds, half * 0.25), shape::Style::paper(line));
        // Cooling fins tell a motor's box from a plain plate.
        let mut fins = BezPath::new();
        for step in [-0.6, -0.2, 0.2, 0.6] {
            for (from, to) in [(-0.97, -0.8), (0.8, 0.97)] {
                fins.move_to((centre.x + from * half, centre.y + step * half));
                fins.line_to((centre.x + to * half, centre.y + step * half));
            }
        }
        self.path(fins, shape::Style::line(self.thin_mm()));
        self.field.boxes.push(bounds.union(foot));
    }

    fn drum(&mut self, fitting: &plan::Fitting) {
        let node = fitting.node;
        let centre = self.at(self.plan.centres[node]);
        let radius = fitting.radius * self.scale;
        let line = self.line_mm();
        self.moving(mover::Mover::Wheel(self.axle(fitting.part, node)));
        self.circle(centre, radius, shape::Style::paper(line * 1.5));
        // Turns of string on it.
        for share in [0.9, 0.8] {
            self.circle(centre, radius * share, shape::Style::line(self.thin_mm()));
        }
        let axle = (0.9 * self.scale).clamp(0.55, 1.5).min(radius * 0.4);
        self.circle(centre, axle, shape::Style::ink());
        self.field.discs.push((centre, radius));
        let around = self
            .plan
            .wheels
            .iter()
            .filter(|wheel| wheel.node == node)
            .map(|wheel| wheel.outer * self.scale)
            .fold(radius, f64::max);
        let (x, bottom) = (centre.x + radius, centre.y + around + 3.5);
        let string = (Point::new(x, centre.y), Point::new(x, bottom));
        let hanging = mover::Hanging {
            part: fitting.part,
            slide: mover::Slide {
                wheel: fitting.part,
                mm_a_turn: 2.0 * PI * radius,
            },
            top: string.0,
            length_mm: bottom - centre.y,
            most_mm: (bottom - centre.y - 3.0).max(2.0),
        };
        self.moving(mover::Mover::String(hanging));
        self.path(
            curve::line(string.0, string.1),
            shape::Style::line(line * 1.3),
        );
        self.field.lines.push((string.0, string.1, line * 2.0));
        self.moving(mover::Mover::Load(hanging));
        let (wide, tall) = (4.4, 4.0);
        let load = [
            Point::new(x - wide * 0.36, bottom + 1.0),
            Point::new(x + wide * 0.36, bottom + 1.0),
            Point::new(x + wide / 2.0, bottom + 1.0 + tall),
            Point::new(x - wide / 2.0, bottom + 1.0 + tall),
        ];
        self.circle(Point::new(x, bottom + 0.4), 0.75, shape::Style::line(line));
        self.path(curve::closed(&load), shape::Style::ink());
        self.field.boxes.push(Rect::new(
            x - wide / 2.0,
            bottom,
            x + wide / 2.0,
            bottom + 1.0 + tall,
        ));
    }

    fn handle(&mut self, fitting: &plan::Fitting) {
        let centre = self.at(self.plan.centres[fitting.node]);
        let knob = self.at(curve::polar(
            self.plan.centres[fitting.node],
            fitting.radius,
            fitting.angle,
        ));
        let width = (2.0 * self.scale).clamp(1.4, 3.0);
        let line = self.line_mm();
        self.moving(mover::Mover::Wheel(self.axle(fitting.part, fitting.node)));
        self.path(
            capsule(centre, knob, width / 2.0),
            shape::Style::paper(line),
        );
        self.circle(knob, width * 0.85, shape::Style::paper(line * 1.3));
        self.circle(knob, width * 0.3, shape::Style::ink());
        self.circle(centre, width * 0.28, shape::Style::ink());
        self.field.lines.push((centre, knob, width));
        self.field.discs.push((knob, width));
    }

    fn carrier(&mut self, fitting: &plan::Fitting) {
        let centre = self.plan.centres[fitting.node];
        let body = self.mechanism.part(fitting.part).body;
        let width = (fitting.radius * self.scale).clamp(1.4, 3.2);
        let line = self.line_mm();
        self.moving(mover::Mover::Wheel(self.axle(fitting.part, fitting.node)));
        let mut ends: Vec<Point> = self
            .plan
            .wheels
            .iter()
            .filter(|wheel| self.mechanism.part(wheel.part).rides_on == Some(body))
            .map(|wheel| self.plan.centres[wheel.node])
            .collect();
        if ends.is_empty() {
            ends.push(centre + Vec2::new(8.0, 0.0));
        }
        for end in ends {
            let (from, to) = (self.at(centre), self.at(end));
            self.path(
                capsule(from, to, width / 2.0),
                shape::Style::paper(line * 1.3),
            );
            for point in [from, to] {
                self.circle(point, width * 0.28, shape::Style::ink());
            }
            self.field.lines.push((from, to, width));
        }
    }
}

/// Returns a bar with round ends.
pub(super) fn capsule(from: Point, to: Point, half_width: f64) -> BezPath {
    let along = curve::angle(to - from);
    let mut path = BezPath::new();
    curve::arc(
        &mut path,
        to,
        half_width,
        (along - FRAC_PI_2, along + FRAC_PI_2),
    );
    path.line_to(curve::polar(from, half_width, along + FRAC_PI_2));
    curve::arc(
        &mut path,
        from,
        half_width,
        (along + FRAC_PI_2, along + PI + FRAC_PI_2),
    );
    path.close_path();
    path
}

/// Returns a box with round corners.
pub(super) fn rounded(bounds: Rect, radius: f64) -> BezPath {
    let mut path = BezPath::new();
    for (x, y, from) in [
        (bounds.x1 - radius, bounds.y1 - radius, 0.0),
        (bounds.x0 + radius, bounds.y1 - radius, FRAC_PI_2),
        (bounds.x0 + radius, bounds.y0 + radius, PI),
        (bounds.x1 - radius, bounds.y0 + radius, PI + FRAC_PI_2),
    ] {
        let centre = Point::new(x, y);
        if !path.elements().is_empty() {
            path.line_to(curve::polar(centre, radius, from));
        }
        curve::arc(&mut path, centre, radius, (from, from + FRAC_PI_2));
    }
    path.close_path();
    path
}
