//! Where a label may go, the best place first.

use crate::drawing::curve;
use crate::drawing::paint;
use kurbo::Point;
use kurbo::Rect;
use kurbo::Size;
use kurbo::Vec2;
use std::f64::consts::FRAC_PI_2;
use std::f64::consts::PI;

/// How far a label stands off what it names, in millimetres.
const OFF: f64 = 0.9;

/// How a label is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Setting {
    /// Name and count one above the other.
    Stacked,
    /// Both on one line.
    Row,
}

/// What a label belongs to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Owner {
    /// A wheel, by its place in the plan.
    Wheel(usize),
    /// Something full, with the box around it and a point in it to lead to.
    Thing(Rect, Point),
}

/// Where a label is to go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    /// The box that it fills.
    pub(super) bounds: Rect,
    /// How it is written.
    pub(super) setting: Setting,
    /// The line from it to its owner.
    pub(super) leader: Option<(Point, Point)>,
}

/// Returns the places for a label, which takes so much room in each setting.
pub(super) fn spots(
    canvas: &paint::Canvas<'_>,
    owner: Owner,
    stacked: Size,
    row: Size,
) -> Vec<Spot> {
    let mut finder = Finder {
        stacked,
        row,
        spots: Vec::new(),
    };
    match owner {
        Owner::Wheel(wheel) => {
            // What lies behind an equal wheel can only be pointed at.
            if !canvas.plan.is_hidden(&canvas.plan.wheels[wheel]) {
                finder.inside(canvas, wheel);
                finder.beside(canvas, wheel);
            }
            finder.led_to_wheel(canvas, wheel);
        }
        Owner::Thing(bounds, at) => finder.beside_thing(bounds, at),
    }
    finder.spots
}

struct Finder {
    stacked: Size,
    row: Size,
    spots: Vec<Spot>,
}

impl Finder {
    fn room(&self, setting: Setting) -> Size {
        match setting {
            Setting::Stacked => self.stacked,
            Setting::Row => self.row,
        }
    }

    fn add(&mut self, centre: Point, setting: Setting, leader: Option<(Point, Point)>) {
        self.spots.push(Spot {
            bounds: Rect::from_center_size(centre, self.room(setting)),
            setting,
            leader,
        });
    }

    /// On the wheel's web, beyond the hub or the wheel in front.
    fn inside(&mut self, canvas: &paint::Canvas<'_>, wheel: usize) {
        let round = canvas.field.wheels[wheel];
        if round.hollow {
            return;
        }
        let in_front = canvas
            .field
            .wheels
            .iter()
            .filter(|it| it.node == round.node && it.depth > round.depth)
            .map(|it| it.outer)
            .fold(0.0, f64::max);
        let hub = canvas
            .field
            .discs
            .iter()
            .filter(|(at, _)| curve::length(*at - round.centre) < 1e-6)
            .map(|(_, radius)| *radius)
            .fold(in_front, f64::max);
        for setting in [Setting::Stacked, Setting::Row] {
            let room = self.room(setting);
            let (down, across) = (room.height / 2.0, room.width / 2.0);
            for (x, y, half) in [
                (0.0, 1.0, down),
                (0.0, -1.0, down),
                (-1.0, 0.0, across),
                (1.0, 0.0, across),
            ] {
                let reach = hub + 0.7 + half;
                let spare = (round.inner - reach).max(0.0) * 0.2;
                for far in [reach + spare, reach] {
                    self.add(round.centre + Vec2::new(x * far, y * far), setting, None);
                }
            }
        }
    }

    /// Close to the wheel: below it, above it, then all round.
    fn beside(&mut self, canvas: &paint::Canvas<'_>, wheel: usize) {
        let round = canvas.field.wheels[wheel];
        let far = round.outer + OFF + self.row.height / 2.0;
        for y in [far, -far] {
            self.add(round.centre + Vec2::new(0.0, y), Setting::Row, None);
        }
        for setting in [Setting::Row, Setting::Stacked] {
            for centre in around(round.centre, round.outer + OFF, self.room(setting)) {
                self.add(centre, setting, None);
            }
        }
    }

    /// Further off, with a line to the wheel.
    fn led_to_wheel(&mut self, canvas: &paint::Canvas<'_>, wheel: usize) {
        let round = canvas.field.wheels[wheel];
        let inner = if round.hollow {
            f64::midpoint(round.inner, round.outer)
        } else {
            round.inner * 0.8
        };
        // Of a wheel behind an equal one only the tips of its teeth are seen.
        let behind = &canvas.plan.wheels[wheel];
        let teeth = behind.form.teeth();
        let tooth = teeth
            .filter(|_| canvas.plan.is_hidden(behind))
            .map(|teeth| (behind.phase, 2.0 * PI / f64::from(teeth)));
        for extra in [2.5, 5.0, 8.0, 12.0, 17.0, 24.0, 32.0, 42.0] {
            for centre in around(round.centre, round.outer + extra, self.row) {
                let out = curve::angle(centre - round.centre);
                let end = tooth.map_or(curve::polar(round.centre, inner, out), |(phase, pitch)| {
                    let nearest = phase + ((out - phase) / pitch).round() * pitch;
                    let radius = round.outer - 0.5 * canvas.scale;
                    curve::polar(round.centre, radius, nearest)
                });
                let bounds = Rect::from_center_size(centre, self.row);
                let leader = (edge_towards(bounds, end), end);
                self.add(centre, Setting::Row, Some(leader));
            }
        }
    }

    /// Close to something that is full, then further off with a line to a point of it.
    fn beside_thing(&mut self, bounds: Rect, at: Point) {
        let centre = bounds.center();
        for setting in [Setting::Row, Setting::Stacked] {
            let room = self.room(setting);
            let down = bounds.height() / 2.0 + OFF + room.height / 2.0;
            let across = bounds.width() / 2.0 + OFF + room.width / 2.0;
            let lean = bounds.width() * 0.3;
            for (x, y) in [
                (0.0, down),
                (0.0, -down),
                (across, 0.0),
                (-across, 0.0),
                (lean, down),
                (-lean, down),
                (lean, -down),
                (-lean, -down),
            ] {
                self.add(centre + Vec2::new(x, y), setting, None);
            }
        }
        let half = bounds.width().max(bounds.height()) / 2.0;
        for extra in [1.5, 4.0, 7.0, 11.0, 16.0, 22.0, 30.0, 40.0] {
            for centre in around(at, half.min(6.0) + extra, self.row) {
                let bounds = Rect::from_center_size(centre, self.row);
                let leader = (edge_towards(bounds, at), at);
                self.add(centre, Setting::Row, Some(leader));
            }
        }
    }
}

/// The middles of boxes all round a circle, from the bottom and the top to the sides.
fn around(centre: Point, radius: f64, room: Size) -> Vec<Point> {
    let mut middles = Vec::new();
    for step in 0..=6_u32 {
        let lean = FRAC_PI_2 * f64::from(step) / 6.0;
        for angle in [
            FRAC_PI_2 - lean,
            FRAC_PI_2 + lean,
            lean - FRAC_PI_2,
            -FRAC_PI_2 - lean,
        ] {
            let out = curve::unit(angle.rem_euclid(2.0 * PI));
            let reach = radius + out.x.abs() * room.width / 2.0 + out.y.abs() * room.height / 2.0;
            middles.push(centre + out * reach);
        }
    }
    middles
}

/// The point of a box's edge that is nearest to a place outside.
fn edge_towards(bounds: Rect, place: Point) -> Point {
    let wide = bounds.inflate(0.4, 0.2);
    Point::new(
        place.x.clamp(wide.x0, wide.x1),
        place.y.clamp(wide.y0, wide.y1),
    )
}
