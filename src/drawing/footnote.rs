//! What dashes and plain circles mean, below the drawing.

use crate::drawing::paint;
use crate::drawing::shape;
use kurbo::Point;
use kurbo::Rect;

/// The size of its type against that of the labels.
const SMALL: f64 = 0.8;

/// Writes what is to be said, in lines no wider than the room there is.
pub(super) fn write(canvas: &mut paint::Canvas<'_>, type_mm: f64, room_mm: f64) {
    let mut notes = Vec::new();
    let wheels = &canvas.plan.wheels;
    if wheels.iter().any(|wheel| wheel.form.is_plain()) {
        notes.push("Gears marked ? are not drawn to size.");
    }
    if wheels.iter().any(|wheel| wheel.taken_out) {
        notes.push("The dashed gears are taken out.");
    }
    let size_mm = type_mm * SMALL;
    let width = |line: &str| shape::words_width(line, size_mm, shape::Weight::Regular);
    for line in notes.iter().flat_map(|note| lines(note, room_mm, width)) {
        let bounds = canvas
            .shapes
            .iter()
            .map(shape::Shape::bounds)
            .reduce(|one, other| one.union(other))
            .unwrap_or(Rect::ZERO);
        let left = bounds.center().x - width(&line) / 2.0;
        canvas.shapes.push(shape::Shape::Words {
            at: Point::new(left, bounds.y1 + size_mm * 1.1),
            text: line,
            size_mm,
            weight: shape::Weight::Regular,
        });
    }
}

/// A sentence in lines that are as long as the room allows.
fn lines(sentence: &str, room: f64, width: impl Fn(&str) -> f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in sentence.split(' ') {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match (longer, lines.last_mut()) {
            (Some(longer), Some(line)) if width(&longer) <= room => *line = longer,
            (Some(_) | None, Some(_) | None) => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_is_broken_where_the_room_ends() {
        let width = |line: &str| line.chars().map(|_| 1.0).sum::<f64>();
        for (room, broken) in [
            (99.0, &["The dashed gears"][..]),
            (10.0, &["The dashed", "gears"]),
            (3.0, &["The", "dashed", "gears"]),
        ] {
            assert_eq!(lines("The dashed gears", room, width), broken, "{room}");
        }
    }
}
