//! What must hold of every drawing, checked from what is drawn.

use kurbo::BezPath;
use kurbo::ParamCurve;
use kurbo::Point;
use kurbo::Rect;
use kurbo::Shape as _;
use kurbo::Vec2;
use std::f64::consts::PI;
use toothmark::drawing;
use toothmark::drawing::shape;
use toothmark::gears::mechanism;

/// How deep one outline may lie in another where they mesh, in tooth sizes.
const CLEARANCE: f64 = 0.05;
/// How finely curves are taken apart, in millimetres.
const FINE_MM: f64 = 0.004;

/// Returns the first law of geometry or labels that a drawing breaks.
pub(crate) fn broken(drawn: &drawing::Drawing) -> Option<String> {
    distance_and_phase(drawn)
        .or_else(|| overlap_in_mesh(drawn))
        .or_else(|| overlap_elsewhere(drawn))
        .or_else(|| label(drawn))
        .or_else(|| off_the_page(drawn))
        .or_else(|| arrow(drawn))
}

/// Axles are as far apart as their pitch circles say, and on the line between them the
/// middle of a tooth meets the middle of a gap.
fn distance_and_phase(drawn: &drawing::Drawing) -> Option<String> {
    for contact in &drawn.contacts {
        let drawing::Partner::Wheel(second) = contact.second else {
            continue;
        };
        let (one, other) = (&drawn.wheels[contact.first], &drawn.wheels[second]);
        let between = other.centre - one.centre;
        let inside = one.is_ring || other.is_ring;
        let wanted = if inside {
            (one.pitch_mm - other.pitch_mm).abs()
        } else {
            one.pitch_mm + other.pitch_mm
        };
        let off = (between.hypot() - wanted).abs() / one.tooth_mm;
        if off > 1e-9 {
            return Some(format!("{one:?} and {other:?} are {off} tooth sizes off"));
        }
        let (Some(teeth), Some(other_teeth)) = (one.teeth, other.teeth) else {
            continue;
        };
        let towards = between.y.atan2(between.x);
        // How far past the contact a tooth stands, in teeth, the way each turns.
        let past = |wheel: &drawing::Wheel, teeth: u32, contact: f64| {
            (contact - wheel.phase) * f64::from(teeth) / (2.0 * PI)
        };
        let out = if inside {
            let contact = if one.is_ring { towards } else { towards + PI };
            past(one, teeth, contact) - past(other, other_teeth, contact)
        } else {
            past(one, teeth, towards) + past(other, other_teeth, towards + PI)
        };
        let from_gap = (out - 0.5) - (out - 0.5).round();
        if from_gap.abs() > 1e-6 {
            return Some(format!(
                "{one:?} and {other:?} meet {from_gap} of a tooth off"
            ));
        }
    }
    None
}

/// Teeth in mesh lie in each other's gaps.
fn overlap_in_mesh(drawn: &drawing::Drawing) -> Option<String> {
    for contact in &drawn.contacts {
        let one = &drawn.wheels[contact.first];
        let (outline, at) = match contact.second {
            drawing::Partner::Wheel(second) => {
                let other = &drawn.wheels[second];
                let between = (other.centre - one.centre).normalize();
                let way = if other.is_ring { -1.0 } else { 1.0 };
                (other.outline, one.centre + between * (way * one.pitch_mm))
            }
            drawing::Partner::Bar { outline, .. } => {
                let bar = drawn.shapes[outline].bounds().center();
                let way = if bar.y < one.centre.y { -1.0 } else { 1.0 };
                (outline, one.centre + Vec2::new(0.0, way * one.pitch_mm))
            }
        };
        let (Some(first), Some(second)) = (lines(drawn, one.outline), lines(drawn, outline)) else {
            continue;
        };
        for (inner, outer) in [(&first, &second), (&second, &first)] {
            for (point, _) in inner {
                let is_near = (*point - at).hypot() < 3.5 * one.tooth_mm;
                if is_near && holds(outer, *point) {
                    let depth = depth(outer, *point) / one.tooth_mm;
                    if depth > CLEARANCE {
                        return Some(format!(
                            "{:?}: teeth lie {depth} tooth sizes in each other",
                            one.part
                        ));
                    }
                }
            }
        }
    }
    None
}

/// Wheels of one plane that do not mesh keep clear of each other.
fn overlap_elsewhere(drawn: &drawing::Drawing) -> Option<String> {
    let meet = |one: usize, other: usize| {
        drawn.contacts.iter().any(|contact| match contact.second {
            drawing::Partner::Wheel(second) => {
                (contact.first, second) == (one, other) || (second, contact.first) == (one, other)
            }
            drawing::Partner::Bar { .. } => false,
        })
    };
    for (index, one) in drawn.wheels.iter().enumerate() {
        for (later, other) in drawn.wheels.iter().enumerate().skip(index + 1) {
            if one.depth != other.depth || meet(index, later) {
                continue;
            }
            let apart = (one.centre - other.centre).hypot();
            let is_clear = match (one.is_ring, other.is_ring) {
                (true, false) => apart + other.outer_mm < one.inner_mm,
                (false, true) => apart + one.outer_mm < other.inner_mm,
                (true, true) | (false, false) => false,
            };
            if !is_clear && apart < one.outer_mm + other.outer_mm {
                return Some(format!("{one:?} lies over {other:?}"));
            }
        }
    }
    None
}

/// Labels lie over nothing that is seen, and not over each other.
fn label(drawn: &drawing::Drawing) -> Option<String> {
    for (index, one) in drawn.labels.iter().enumerate() {
        for other in &drawn.labels[index + 1..] {
            let both = one.bounds.intersect(other.bounds);
            if both.width() > 0.0 && both.height() > 0.0 {
                return Some(format!("{one:?} lies over {other:?}"));
            }
        }
        for (place, found) in drawn.shapes.iter().enumerate() {
            let Some(outline) = outline(found) else {
                continue;
            };
            if !found.bounds().overlaps(one.bounds) {
                continue;
            }
            let seen = points(&outline).into_iter().find(|point| {
                one.bounds.contains(*point) && !is_covered(&drawn.shapes[place + 1..], *point)
            });
            if let Some(point) = seen {
                return Some(format!("{one:?} lies over a line at {point:?}: {found:?}"));
            }
        }
    }
    None
}

fn is_covered(later: &[shape::Shape], point: Point) -> bool {
    later.iter().any(|it| match it {
        shape::Shape::Path { path, style } => {
            style.fill != shape::Fill::Open
                && path.bounding_box().contains(point)
                && path.winding(point) != 0
        }
        shape::Shape::Circle {
            centre,
            radius_mm,
            style,
        } => style.fill != shape::Fill::Open && (*centre - point).hypot() < *radius_mm,
        shape::Shape::Words { .. } => false,
    })
}

/// Nothing is cut off by the page's edge, unless it is broken off on purpose.
fn off_the_page(drawn: &drawing::Drawing) -> Option<String> {
    let page = Rect::new(0.0, 0.0, drawn.width_mm, drawn.height_mm).inflate(0.01, 0.01);
    let broken_off = drawn.text.contains("broken off");
    drawn
        .shapes
        .iter()
        .filter(|shape| matches!(shape, shape::Shape::Words { .. }) || !broken_off)
        .find(|shape| {
            let bounds = shape.bounds();
            bounds.union(page).area() > page.area() + 1e-6
        })
        .map(|shape| format!("{:?} is off the page {page:?}", shape.bounds()))
}

/// There are as many arrow heads as the text tells of.
fn arrow(drawn: &drawing::Drawing) -> Option<String> {
    let is_head = |found: &&shape::Shape| match found {
        shape::Shape::Path { path, style } => {
            style.fill == shape::Fill::Ink && path.elements().len() == 4
        }
        shape::Shape::Circle { .. } | shape::Shape::Words { .. } => false,
    };
    let heads = drawn.shapes.iter().filter(is_head).count();
    let told = drawn.text.matches("An arrow on").count()
        + 2 * drawn.text.matches("An arrow with two heads").count();
    (heads != told).then(|| format!("{heads} arrow heads: {}", drawn.text))
}

/// Every part is named in the text, and every known count.
pub(crate) fn untold(
    mechanism: &mechanism::Mechanism,
    drawn: &drawing::Drawing,
    unnamed: &[mechanism::PartId],
) -> Option<String> {
    for (id, part) in mechanism.numbered() {
        let is_named = drawn
            .text
            .split(|sign: char| !sign.is_alphanumeric())
            .any(|word| word == part.name);
        if !is_named {
            return Some(format!("{} is not named in {}", part.name, drawn.text));
        }
        let (mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth }) = part.kind
        else {
            continue;
        };
        if let mechanism::Count::Known(teeth) = teeth
            && !unnamed.contains(&id)
            && !drawn
                .text
                .contains(&format!("{} with {teeth} teeth", part.name))
        {
            return Some(format!("{teeth} teeth are not told in {}", drawn.text));
        }
    }
    let labelled = drawn.labels.len();
    (labelled != mechanism.parts.len()).then(|| format!("{labelled} labels"))
}

fn outline(shape: &shape::Shape) -> Option<BezPath> {
    if let shape::Shape::Path { style, .. } | shape::Shape::Circle { style, .. } = shape
        && style.pen == shape::Pen::Paper
    {
        // What is only paper is not seen.
        return None;
    }
    match shape {
        shape::Shape::Path { path, .. } => Some(path.clone()),
        shape::Shape::Circle {
            centre, radius_mm, ..
        } => Some(kurbo::Circle::new(*centre, *radius_mm).to_path(FINE_MM)),
        shape::Shape::Words { .. } => None,
    }
}

/// Points along an outline, close enough that no line slips through a label.
fn points(outline: &BezPath) -> Vec<Point> {
    let mut points = Vec::new();
    for segment in outline.segments() {
        let (start, end) = (segment.start(), segment.end());
        let mut pieces = 4_u32;
        while (end - start).hypot() / f64::from(pieces) > 0.25 {
            pieces *= 2;
        }
        points.extend((0..=pieces).map(|it| segment.eval(f64::from(it) / f64::from(pieces))));
    }
    points
}

/// The straight lines of a toothed outline; none of a plain circle.
fn lines(drawn: &drawing::Drawing, place: usize) -> Option<Vec<(Point, Point)>> {
    let shape::Shape::Path { path, .. } = &drawn.shapes[place] else {
        return None;
    };
    let mut lines = Vec::new();
    let (mut here, mut start) = (Point::ORIGIN, Point::ORIGIN);
    kurbo::flatten(path, FINE_MM, |element| match element {
        kurbo::PathEl::MoveTo(to) => {
            here = to;
            start = to;
        }
        kurbo::PathEl::LineTo(to) => {
            lines.push((here, to));
            here = to;
        }
        kurbo::PathEl::ClosePath => {
            lines.push((here, start));
            here = start;
        }
        kurbo::PathEl::QuadTo(..) | kurbo::PathEl::CurveTo(..) => {}
    });
    Some(lines)
}

/// Whether a point lies inside, by the lines that a ray to the right crosses.
fn holds(lines: &[(Point, Point)], point: Point) -> bool {
    let crossed = lines.iter().filter(|(from, to)| {
        (from.y > point.y) != (to.y > point.y)
            && point.x < from.x + (point.y - from.y) / (to.y - from.y) * (to.x - from.x)
    });
    crossed.count() % 2 == 1
}

/// How far a point is from the nearest line.
fn depth(lines: &[(Point, Point)], point: Point) -> f64 {
    lines
        .iter()
        .map(|(from, to)| {
            let along = *to - *from;
            let share = if along.hypot2() > 0.0 {
                ((point - *from).dot(along) / along.hypot2()).clamp(0.0, 1.0)
            } else {
                0.0
            };
            (point - (*from + along * share)).hypot()
        })
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn the_measures_of_these_laws_are_right() {
    let square = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0), (0.0, 0.0)];
    let square: Vec<(Point, Point)> = square
        .windows(2)
        .map(|pair| (pair[0].into(), pair[1].into()))
        .collect();
    assert!(holds(&square, Point::new(1.0, 2.0)));
    assert!(!holds(&square, Point::new(5.0, 2.0)));
    assert!((depth(&square, Point::new(1.0, 2.0)) - 1.0).abs() < 1e-12);
}
