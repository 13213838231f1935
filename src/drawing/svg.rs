//! A drawing as the text of an SVG file.
//!
//! Places are whole hundredths of a millimetre, so that the file is small and the
//! same on every machine.

use crate::drawing;
use crate::drawing::shape;
use kurbo::BezPath;
use kurbo::PathEl;
use kurbo::Point;
use std::fmt::Write as _;

/// The colour of the usual paper.
pub(crate) const WHITE: &str = "#fff";

/// Returns the text of an SVG file; the text alternative is its description.
#[must_use]
pub fn text(drawing: &drawing::Drawing) -> String {
    text_on(drawing, WHITE)
}

/// Returns the text of an SVG file to be printed on paper of another colour, which is
/// written as SVG writes it, such as `#fff4c2`.
pub(crate) fn text_on(drawing: &drawing::Drawing, paper: &str) -> String {
    let (width, height) = (drawing.width_mm, drawing.height_mm);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.2}mm\" height=\"{height:.2}mm\" \
         viewBox=\"0 0 {:.0} {:.0}\" role=\"img\"><desc>{}</desc>\
         <g stroke-linejoin=\"round\" fill-rule=\"evenodd\" font-family=\"Andika\">",
        width * 100.0,
        height * 100.0,
        escaped(&drawing.text),
    );
    for shape in &drawing.shapes {
        push(&mut svg, shape, paper);
    }
    svg.push_str("</g></svg>\n");
    svg
}

/// Adds to a text; that cannot fail.
macro_rules! add {
    ($svg:expr, $($rest:tt)*) => {
        write!($svg, $($rest)*).expect("text can always be added to")
    };
}

/// Adds one shape, as it looks on paper of a colour.
pub(crate) fn push(svg: &mut String, shape: &shape::Shape, paper: &str) {
    match shape {
        shape::Shape::Path { path, style } => {
            svg.push_str("<path d=\"");
            outline(svg, path);
            svg.push('"');
            look(svg, *style, paper);
        }
        shape::Shape::Circle {
            centre,
            radius_mm,
            style,
        } => {
            let (x, y) = hundredths(*centre);
            add!(
                svg,
                "<circle cx=\"{x}\" cy=\"{y}\" r=\"{:.0}\"",
                radius_mm * 100.0
            );
            look(svg, *style, paper);
        }
        shape::Shape::Words {
            at,
            text,
            size_mm,
            weight,
        } => {
            let (x, y) = hundredths(*at);
            let bold = match weight {
                shape::Weight::Regular => "",
                shape::Weight::Bold => " font-weight=\"bold\"",
            };
            add!(
                svg,
                "<text x=\"{x}\" y=\"{y}\" font-size=\"{:.0}\"{bold}>{}</text>",
                size_mm * 100.0,
                escaped(text)
            );
        }
    }
}

fn look(svg: &mut String, style: shape::Style, paper: &str) {
    match style.fill {
        shape::Fill::Open => svg.push_str(" fill=\"none\""),
        shape::Fill::Paper => add!(svg, " fill=\"{paper}\""),
        shape::Fill::Ink => {}
    }
    if style.line_mm > 0.0 {
        let colour = match style.pen {
            shape::Pen::Ink => "#000",
            shape::Pen::Paper => paper,
        };
        add!(
            svg,
            " stroke=\"{colour}\" stroke-width=\"{:.0}\"",
            style.line_mm * 100.0
        );
    }
    svg.push_str(match style.dash {
        shape::Dash::Solid => "",
        shape::Dash::Broken => " stroke-dasharray=\"160 100\"",
        shape::Dash::Fine => " stroke-dasharray=\"60 50\"",
    });
    svg.push_str("/>");
}

/// A place in whole hundredths of a millimetre, never "-0".
fn hundredths(point: Point) -> (f64, f64) {
    let whole = |it: f64| (it * 100.0).round() + 0.0;
    (whole(point.x), whole(point.y))
}

/// Adds an outline: relative steps between rounded places, so that no error adds up.
pub(crate) fn outline(svg: &mut String, path: &BezPath) {
    let mut here = (0.0, 0.0);
    let mut start = (0.0, 0.0);
    let step = |from: (f64, f64), to: Point| {
        let to = hundredths(to);
        (to.0 - from.0 + 0.0, to.1 - from.1 + 0.0)
    };
    for element in path.elements() {
        match element {
            PathEl::MoveTo(to) => {
                here = hundredths(*to);
                start = here;
                add!(svg, "M{} {}", here.0, here.1);
            }
            PathEl::LineTo(to) => {
                let (x, y) = step(here, *to);
                add!(svg, "l{x} {y}");
                here = hundredths(*to);
            }
            PathEl::QuadTo(bend, to) => {
                let (bend, end) = (step(here, *bend), step(here, *to));
                add!(svg, "q{} {} {} {}", bend.0, bend.1, end.0, end.1);
                here = hundredths(*to);
            }
            PathEl::CurveTo(one, other, to) => {
                let (one, other, end) = (step(here, *one), step(here, *other), step(here, *to));
                add!(
                    svg,
                    "c{} {} {} {} {} {}",
                    one.0,
                    one.1,
                    other.0,
                    other.1,
                    end.0,
                    end.1
                );
                here = hundredths(*to);
            }
            PathEl::ClosePath => {
                svg.push('z');
                here = start;
            }
        }
    }
}

/// The text with the signs that mean something in XML written as such.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_written_in_steps_that_add_up() {
        let mut path = BezPath::new();
        path.move_to((0.004, 1.0));
        path.line_to((0.008, 1.004));
        path.curve_to((1.0, 1.0), (2.0, 1.0), (2.0, 3.0));
        path.close_path();
        let mut svg = String::new();
        outline(&mut svg, &path);
        assert_eq!(svg, "M0 100l1 0c99 0 199 0 199 200z");
    }

    #[test]
    fn signs_of_xml_are_written_as_text() {
        assert_eq!(escaped("a < b & \"c\""), "a &lt; b &amp; &quot;c&quot;");
    }
}
