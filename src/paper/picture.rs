//! A drawing by itself, as a picture or a page.

use crate::drawing;
use crate::paper;
use crate::paper::fonts;
use crate::paper::typeset;
use resvg::tiny_skia;
use resvg::usvg;
use serde::Serialize;
use std::sync::Arc;

/// Dots in a millimetre: 300 to an inch.
const DOTS: f32 = 300.0 / 25.4;

/// Returns the bytes of a PNG picture, 300 dots to an inch.
pub(super) fn png(drawing: &drawing::Drawing) -> Result<Vec<u8>, paper::PaperError> {
    let refused = |said: String| paper::PaperError::Typesetting(vec![said]);
    let tree = usvg::Tree::from_str(&drawing::svg::text(drawing), &options())
        .map_err(|error| refused(error.to_string()))?;
    let size = tree
        .size()
        .to_int_size()
        .scale_by(DOTS)
        .ok_or_else(|| refused("the drawing has no size".to_owned()))?;
    let mut dots = tiny_skia::Pixmap::new(size.width(), size.height())
        .ok_or_else(|| refused("the drawing is too large for a picture".to_owned()))?;
    dots.fill(tiny_skia::Color::WHITE);
    let scale = tiny_skia::Transform::from_scale(DOTS, DOTS);
    resvg::render(&tree, scale, &mut dots.as_mut());
    dots.encode_png()
        .map_err(|error| refused(error.to_string()))
}

/// A millimetre is a unit, and the typeface is the one that is carried along.
fn options() -> usvg::Options<'static> {
    let mut options = usvg::Options {
        font_family: "Andika".to_owned(),
        dpi: 25.4,
        ..usvg::Options::default()
    };
    let faces = Arc::make_mut(&mut options.fontdb);
    for face in fonts::files() {
        faces.load_font_data(face.to_vec());
    }
    options
}

/// The one drawing of a page.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Page {
    alt: String,
    width: f64,
    height: f64,
    length: usize,
}

/// Returns the bytes of a PDF with the drawing on a page of its size.
pub(super) fn pdf(drawing: &drawing::Drawing) -> Result<Vec<u8>, paper::PaperError> {
    let svg = drawing::svg::text(drawing).into_bytes();
    let page = Page {
        alt: drawing.text.clone(),
        width: drawing.width_mm,
        height: drawing.height_mm,
        length: svg.len(),
    };
    let pages = typeset::lay_out(typeset::Template::Drawing, &page, svg)?;
    let stamp = typeset::Stamp {
        ident: "toothmark/drawing".to_owned(),
        date: String::new(),
    };
    typeset::export(&pages, &stamp)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::shape;
    use crate::gears::notation;

    fn pair() -> drawing::Drawing {
        let lines = ["gear A 12 drives gear B 36", "A turns clockwise"];
        let mechanism = notation::read(&lines).expect("well formed");
        drawing::draw(&drawing::Wish {
            mechanism: &mechanism,
            asks: &[],
            width_mm: 100.0,
            height_mm: 50.0,
            type_mm: 4.0,
        })
        .expect("a pair is drawn")
    }

    #[test]
    fn a_picture_has_300_dots_to_an_inch_and_ink_in_it() {
        let drawn = pair();
        let bytes = png(&drawn).expect("it becomes a picture");
        let dots = tiny_skia::Pixmap::decode_png(&bytes).expect("it is a PNG");
        let wide = drawn.width_mm / 25.4 * 300.0;
        assert!(
            (f64::from(dots.width()) - wide).abs() < 12.0,
            "{}",
            dots.width()
        );
        let inked = dots.pixels().iter().filter(|dot| dot.red() < 64).count();
        let share = inked * 1000 / dots.pixels().len();
        assert!((5..300).contains(&share), "{share} in a thousand");
    }

    #[test]
    fn a_page_with_a_drawing_can_be_exported() {
        let bytes = pdf(&pair()).expect("it becomes a page");
        assert!(bytes.starts_with(b"%PDF"));
        assert_eq!(bytes, pdf(&pair()).expect("again"));
    }

    /// How wide the typeface itself makes a text.
    fn set_width(text: &str, weight: &str) -> f32 {
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10\" height=\"10\">\
             <text font-family=\"Andika\" font-weight=\"{weight}\" font-size=\"100\">{text}</text></svg>"
        );
        let tree = usvg::Tree::from_str(&svg, &options()).expect("it is an SVG");
        match tree.root().children() {
            [usvg::Node::Text(words)] => words.bounding_box().width() / 100.0,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn drawings_know_how_wide_their_labels_are() {
        for (weight, name) in [
            (shape::Weight::Regular, "normal"),
            (shape::Weight::Bold, "bold"),
        ] {
            let signs = ('a'..='z')
                .chain('A'..='Z')
                .chain('0'..='9')
                .chain(".?".chars());
            for text in signs.map(String::from).chain(["12 teeth".to_owned()]) {
                let told = shape::words_width(&text, 1.0, weight);
                let set = f64::from(set_width(&text, name));
                assert!((set - told).abs() < 0.004, "{text}, {name}: {set}, {told}");
            }
        }
    }
}
