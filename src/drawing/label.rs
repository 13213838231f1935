//! Labels that lie over nothing: inside their wheel where there is room, else beside
//! it, else further off with a line to it.

use crate::drawing::curve;
use crate::drawing::field;
use crate::drawing::layout;
use crate::drawing::mover;
use crate::drawing::note;
use crate::drawing::paint;
use crate::drawing::plan;
use crate::drawing::shape;
use crate::drawing::spot;
use crate::gears::mechanism;
use kurbo::Point;
use kurbo::Rect;
use kurbo::Size;
use kurbo::Vec2;

/// A label on the page.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Label {
    /// The part it names.
    pub(super) part: mechanism::PartId,
    /// The box around it, in millimetres.
    pub(super) bounds: Rect,
}

/// Writes every label; `None` where one finds no room.
pub(super) fn write(
    canvas: &mut paint::Canvas<'_>,
    notes: &note::Notes,
    type_mm: f64,
) -> Option<Vec<Label>> {
    let mut labels = Vec::new();
    // Small wheels have the fewest places, so that they choose first.
    let mut order: Vec<usize> = (0..notes.labels.len()).collect();
    let extent = |index: usize| match owner(canvas, notes.labels[index].0) {
        Some(spot::Owner::Wheel(wheel)) => canvas.plan.wheels[wheel].outer,
        Some(spot::Owner::Thing(..)) | None => f64::INFINITY,
    };
    order.sort_by(|&one, &other| extent(one).total_cmp(&extent(other)));
    for index in order {
        let (part, name, detail) = &notes.labels[index];
        let Some(owner) = owner(canvas, *part) else {
            continue;
        };
        let spot = find(canvas, owner, name, detail, type_mm)?;
        let carrier = carrier(canvas, *part);
        set(canvas, &spot, carrier, (name, detail), type_mm);
        labels.push(Label {
            part: *part,
            bounds: spot.bounds,
        });
    }
    labels.sort_by_key(|label| label.part);
    Some(labels)
}

fn owner(canvas: &paint::Canvas<'_>, part: mechanism::PartId) -> Option<spot::Owner> {
    let drawn = canvas.plan;
    let scale = canvas.scale;
    let page = |bounds: Rect| {
        Rect::new(
            bounds.x0 * scale,
            bounds.y0 * scale,
            bounds.x1 * scale,
            bounds.y1 * scale,
        )
    };
    if let Some(wheel) = drawn.wheels.iter().position(|wheel| wheel.part == part) {
        return Some(spot::Owner::Wheel(wheel));
    }
    if let Some(rack) = drawn.racks.iter().find(|rack| rack.part == part) {
        let bounds = page(layout::rack_box(drawn, rack));
        return Some(spot::Owner::Thing(bounds, bounds.center()));
    }
    for shaft in &drawn.shafts {
        let whole = layout::shaft_box(drawn, shaft);
        if shaft.part == part {
            let without_its_motor = plan::Shaft {
                ends: Vec::new(),
                ..shaft.clone()
            };
            let bounds = page(layout::shaft_box(drawn, &without_its_motor));
            return Some(spot::Owner::Thing(bounds, bounds.center()));
        }
        if shaft.ends.contains(&part) {
            let along = curve::unit(shaft.side);
            let bounds = page(whole);
            // A worm's motor is at the right; a bevel gear's at the end of its shaft.
            let is_worm = matches!(shaft.thread, plan::Thread::Worm(_));
            let out = if is_worm { Vec2::new(1.0, 0.0) } else { along };
            let half = layout::MOTOR_BOX * scale / 2.0;
            let middle = bounds.center()
                + Vec2::new(
                    out.x * (bounds.width() / 2.0 - half),
                    out.y * (bounds.height() / 2.0 - half),
                );
            let end = Rect::from_center_size(middle, (2.0 * half, 2.0 * half));
            return Some(spot::Owner::Thing(end, middle));
        }
    }
    let fitting = drawn.fittings.iter().find(|fitting| fitting.part == part)?;
    let node = drawn.centres[fitting.node];
    let centre = Point::new(node.x * scale, node.y * scale);
    let radius = fitting.radius * scale;
    Some(match fitting.kind {
        plan::FittingKind::Handle => {
            let knob = curve::polar(centre, radius, fitting.angle);
            spot::Owner::Thing(Rect::from_center_size(knob, (4.4, 4.4)), knob)
        }
        plan::FittingKind::Drum => {
            let bounds = Rect::from_center_size(centre, (2.0 * radius, 2.0 * radius));
            spot::Owner::Thing(bounds, curve::polar(centre, radius * 0.7, -0.8))
        }
        plan::FittingKind::Roller => {
            let bounds = Rect::from_center_size(centre, (2.0 * radius, 2.0 * radius));
            spot::Owner::Thing(bounds, curve::polar(centre, radius - 0.5, -0.8))
        }
        plan::FittingKind::Motor | plan::FittingKind::Dynamo => {
            let bounds = Rect::from_center_size(centre, (2.0 * radius, 2.0 * radius));
            // What lies before it may hide some of its corners.
            let corners = [(0.88, -0.88), (-0.88, -0.88), (-0.88, 0.88), (0.88, 0.88)];
            let corners = corners.map(|(x, y)| centre + Vec2::new(x * radius, y * radius));
            let is_seen = |corner: &&Point| {
                let wheels = &canvas.field.wheels;
                wheels
                    .iter()
                    .all(|it| curve::length(**corner - it.centre) > it.outer)
            };
            let seen = corners.iter().find(is_seen);
            spot::Owner::Thing(bounds, *seen.unwrap_or(&corners[0]))
        }
        plan::FittingKind::Carrier => {
            let planet = drawn.wheels.iter().find(|wheel| {
                canvas.mechanism.part(wheel.part).rides_on == Some(canvas.mechanism.part(part).body)
            });
            let end = planet.map_or(centre, |wheel| {
                let at = drawn.centres[wheel.node];
                Point::new(at.x * scale, at.y * scale)
            });
            let middle = centre.lerp(end, 0.5);
            spot::Owner::Thing(Rect::from_center_size(middle, (3.0, 3.0)), middle)
        }
    })
}

/// How much room a label takes.
fn size(name: &str, detail: &str, setting: spot::Setting, type_mm: f64) -> Size {
    let bold = shape::words_width(name, type_mm, shape::Weight::Bold);
    let small = type_mm * SMALL;
    let plain = shape::words_width(detail, small, shape::Weight::Regular);
    match setting {
        spot::Setting::Stacked if !detail.is_empty() => {
            Size::new(bold.max(plain), type_mm + small * 1.05)
        }
        spot::Setting::Stacked => Size::new(bold, type_mm),
        spot::Setting::Row if detail.is_empty() => Size::new(bold, type_mm),
        spot::Setting::Row => Size::new(bold + type_mm * 0.35 + plain, type_mm),
    }
}

/// The count's type against the name's.
const SMALL: f64 = 0.86;

fn find(
    canvas: &paint::Canvas<'_>,
    owner: spot::Owner,
    name: &str,
    detail: &str,
    type_mm: f64,
) -> Option<spot::Spot> {
    let spots = spot::spots(
        canvas,
        owner,
        size(name, detail, spot::Setting::Stacked, type_mm),
        size(name, detail, spot::Setting::Row, type_mm),
    );
    let seeker = match owner {
        spot::Owner::Wheel(wheel) => field::Seeker::Wheel(wheel),
        spot::Owner::Thing(..) => field::Seeker::Other,
    };
    let is_free = |spot: &&spot::Spot| {
        let leads_clear = spot
            .leader
            .is_none_or(|(from, to)| !canvas.field.crosses_labels(from, to));
        leads_clear && !canvas.field.is_taken(spot.bounds, seeker)
    };
    // What is in a ring gear is named in it, if that goes.
    let stays_in = |spot: &&spot::Spot| {
        spot.leader
            .is_none_or(|(from, to)| !canvas.field.crosses_a_ring(from, to))
    };
    spots
        .iter()
        .filter(stays_in)
        .find(is_free)
        .or_else(|| spots.iter().find(is_free))
        .copied()
}

/// What takes a part round that does not stay where it is (a planet, the carrier
/// itself, a handle's arm), and the centre of that.
fn carrier(
    canvas: &paint::Canvas<'_>,
    part: mechanism::PartId,
) -> Option<(mechanism::PartId, Point)> {
    let plan = canvas.plan;
    let fitting = plan.fittings.iter().find(|fitting| {
        fitting.part == part
            && matches!(
                fitting.kind,
                plan::FittingKind::Handle | plan::FittingKind::Carrier
            )
    });
    if let Some(fitting) = fitting {
        return Some((part, canvas.axle(part, fitting.node).centre));
    }
    let wheel = plan.wheels.iter().find(|wheel| wheel.part == part)?;
    canvas.axle(part, wheel.node).carried
}

fn set(
    canvas: &mut paint::Canvas<'_>,
    spot: &spot::Spot,
    carrier: Option<(mechanism::PartId, Point)>,
    (name, detail): (&str, &str),
    type_mm: f64,
) {
    let small = type_mm * SMALL;
    let bounds = spot.bounds;
    let bold = shape::words_width(name, type_mm, shape::Weight::Bold);
    let plain = shape::words_width(detail, small, shape::Weight::Regular);
    let line = bounds.y0 + type_mm * 0.8;
    let middle = bounds.center().x;
    let (name_x, detail_at) = match spot.setting {
        spot::Setting::Stacked => (
            middle - bold / 2.0,
            Point::new(middle - plain / 2.0, line + small * 1.05),
        ),
        spot::Setting::Row => (bounds.x0, Point::new(bounds.x1 - plain, line)),
    };
    let words = |at: Point, text: &str, size_mm: f64, weight: shape::Weight| shape::Shape::Words {
        at,
        text: text.to_owned(),
        size_mm,
        weight,
    };
    if let Some((from, to)) = spot.leader {
        if let Some(carrier) = carrier {
            canvas.moving(mover::Mover::Leader {
                carrier,
                label: bounds,
                to,
            });
        }
        canvas.shapes.push(shape::Shape::Path {
            path: curve::line(from, to),
            style: shape::Style::line(0.2),
        });
        canvas.shapes.push(shape::Shape::Circle {
            centre: to,
            radius_mm: 0.45,
            style: shape::Style::ink(),
        });
        canvas.field.lines.push((from, to, 0.2));
        canvas.moving(mover::Mover::Still);
    } else if let Some(carrier) = carrier {
        let at = bounds.center();
        canvas.moving(mover::Mover::Label { carrier, at });
    }
    canvas.shapes.push(words(
        Point::new(name_x, line),
        name,
        type_mm,
        shape::Weight::Bold,
    ));
    if !detail.is_empty() {
        canvas
            .shapes
            .push(words(detail_at, detail, small, shape::Weight::Regular));
    }
    canvas.moving(mover::Mover::Still);
    // Two labels side by side are read as one unless they are well apart.
    let apart = bounds.inflate(type_mm * 0.4, 0.0);
    canvas.field.boxes.push(apart);
    canvas.field.labels.push(bounds);
}
