//! What a drawing is made of: paths, circles and words, in millimetres on paper.
//!
//! The y axis points down, as on a page, so that a growing angle turns clockwise.
//! Not here: what is drawn, and how it becomes a file.

use kurbo::Affine;
use kurbo::BezPath;
use kurbo::Point;
use kurbo::Rect;
use kurbo::Shape as _;
use kurbo::Vec2;

/// One thing on the page; a later one covers an earlier one.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// An outline of straight lines and curves.
    Path {
        /// The outline.
        path: BezPath,
        /// How it looks.
        style: Style,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius_mm: f64,
        /// How it looks.
        style: Style,
    },
    /// A word or two.
    Words {
        /// The left end of the line that the letters stand on.
        at: Point,
        /// What is written.
        text: String,
        /// The size of the type.
        size_mm: f64,
        /// Whether it is bold.
        weight: Weight,
    },
}

/// How an outline looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    /// What is inside.
    pub fill: Fill,
    /// The line along it; none where it is nought.
    pub line_mm: f64,
    /// What the line is drawn with.
    pub pen: Pen,
    /// How the line is broken.
    pub dash: Dash,
}

/// What a line is drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pen {
    /// Ink.
    Ink,
    /// Paper: it parts what it lies on.
    Paper,
}

/// What is inside an outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Nothing: what lies behind shows.
    Open,
    /// Paper: what lies behind is covered.
    Paper,
    /// Ink.
    Ink,
}

/// How a line is broken.
///
/// Source: ISO 128 has broken lines for what is hidden (from memory).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// Not at all.
    Solid,
    /// In dashes: hidden, or not known.
    Broken,
    /// In fine dashes, which follow teeth: taken out.
    Fine,
}

/// How bold the type is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// As usual.
    Regular,
    /// Bold.
    Bold,
}

impl Style {
    /// An outline with paper inside.
    pub(super) fn paper(line_mm: f64) -> Self {
        Self {
            fill: Fill::Paper,
            line_mm,
            pen: Pen::Ink,
            dash: Dash::Solid,
        }
    }

    /// A line with nothing inside.
    pub(super) fn line(line_mm: f64) -> Self {
        Self {
            fill: Fill::Open,
            line_mm,
            pen: Pen::Ink,
            dash: Dash::Solid,
        }
    }

    /// Ink without a line.
    pub(super) fn ink() -> Self {
        Self {
            fill: Fill::Ink,
            line_mm: 0.0,
            pen: Pen::Ink,
            dash: Dash::Solid,
        }
    }

    /// The same with its line broken.
    pub(super) fn dashed(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }
}

impl Shape {
    /// The same elsewhere on the page.
    pub(super) fn shifted(self, shift: Vec2) -> Self {
        match self {
            Self::Path { path, style } => Self::Path {
                path: Affine::translate(shift) * path,
                style,
            },
            Self::Circle {
                centre,
                radius_mm,
                style,
            } => Self::Circle {
                centre: centre + shift,
                radius_mm,
                style,
            },
            Self::Words {
                at,
                text,
                size_mm,
                weight,
            } => Self::Words {
                at: at + shift,
                text,
                size_mm,
                weight,
            },
        }
    }

    /// Returns the box around it, its line included.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        match self {
            Self::Path { path, style } => path
                .bounding_box()
                .inflate(style.line_mm / 2.0, style.line_mm / 2.0),
            Self::Circle {
                centre,
                radius_mm,
                style,
            } => {
                let reach = radius_mm + style.line_mm / 2.0;
                Rect::from_center_size(*centre, (2.0 * reach, 2.0 * reach))
            }
            Self::Words {
                at,
                text,
                size_mm,
                weight,
            } => words_bounds(*at, text, *size_mm, *weight),
        }
    }
}

/// The height of a line of type above the line it stands on, and below it, as
/// shares of its size.
const ABOVE: f64 = 0.78;
const BELOW: f64 = 0.22;

/// Returns the box of a line of type that begins at `at`.
pub(super) fn words_bounds(at: Point, text: &str, size_mm: f64, weight: Weight) -> Rect {
    Rect::new(
        at.x,
        at.y - ABOVE * size_mm,
        at.x + words_width(text, size_mm, weight),
        at.y + BELOW * size_mm,
    )
}

/// Returns how wide a line of type is.
///
/// Source: the advance widths of Andika, the typeface of everything printed.
#[must_use]
pub fn words_width(text: &str, size_mm: f64, weight: Weight) -> f64 {
    let thousandths: u32 = text.chars().map(|sign| sign_width(sign, weight)).sum();
    f64::from(thousandths) / 1000.0 * size_mm
}

/// The widths of small and of capital letters, in thousandths of the type's size.
const REGULAR: [[u32; 26]; 2] = [
    [
        562, 564, 498, 581, 535, 366, 549, 574, 276, 291, 505, 276, 823, 579, 557, 571, 552, 435,
        471, 408, 579, 522, 757, 530, 518, 508,
    ],
    [
        681, 627, 662, 701, 566, 562, 693, 720, 476, 471, 640, 527, 876, 732, 713, 583, 720, 637,
        574, 618, 703, 667, 1016, 647, 645, 601,
    ],
];
const BOLD: [[u32; 26]; 2] = [
    [
        613, 593, 499, 618, 542, 391, 579, 603, 312, 327, 556, 312, 859, 608, 566, 603, 591, 486,
        505, 432, 608, 539, 767, 579, 537, 518,
    ],
    [
        725, 676, 676, 725, 592, 586, 719, 740, 510, 503, 698, 552, 906, 754, 732, 623, 754, 674,
        607, 618, 728, 715, 1042, 667, 666, 610,
    ],
];

fn sign_width(sign: char, weight: Weight) -> u32 {
    let (letters, digit, question, point) = match weight {
        Weight::Regular => (REGULAR, 586, 513, 312),
        Weight::Bold => (BOLD, 605, 532, 347),
    };
    let [small, capitals] = letters;
    let place = |first: char| usize::try_from(u32::from(sign) - u32::from(first)).ok();
    let letter = match sign {
        'a'..='z' => place('a').and_then(|place| small.get(place)),
        'A'..='Z' => place('A').and_then(|place| capitals.get(place)),
        _ => None,
    };
    match sign {
        ' ' => 269,
        '.' => point,
        '?' => question,
        '0'..='9' => digit,
        // Of other signs labels hold fractions, the widest of which is this wide.
        _ => letter.copied().unwrap_or(850),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_s_box_holds_its_line() {
        let circle = Shape::Circle {
            centre: Point::new(1.0, 2.0),
            radius_mm: 3.0,
            style: Style::line(0.5),
        };
        assert_eq!(circle.bounds(), Rect::new(-2.25, -1.25, 4.25, 5.25));
    }
}
