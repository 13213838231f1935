//! How the pages of one pupil look: paper, type, lines to write on, room for drawings.
//!
//! Every size of a sheet is decided here, from the pupil's level and needs; the template
//! only uses them. Large print is laid out anew in its size, not enlarged: the page stays
//! a page, and fewer signs stand on a line.

use crate::level;
use crate::need;
use crate::paper::album;
use serde::Serialize;

/// The look of one pupil's pages. Lengths are millimetres but for those that say points;
/// what is in em grows with the type.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(super) struct Look {
    paper: &'static str,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
    /// The room for text on a page.
    width: f64,
    height: f64,
    text_point: f64,
    /// The type of headers and footers.
    edge_point: f64,
    /// The type of side remarks, in em.
    small: f64,
    /// About how wide a character is.
    sign: f64,
    /// How high a line to write on is.
    line: f64,
    /// How high the room for working is.
    working: f64,
    /// How wide a box to tick is.
    tick: f64,
    /// How wide the gap for a number is.
    gap: f64,
    /// How wide the gap for a count of teeth is.
    teeth: f64,
    /// How thick lines are.
    stroke_point: f64,
    tracking: f64,
    word_space: f64,
    leading: f64,
    between: f64,
    /// Whether what else stands side by side stands one below the other.
    stacked: bool,
    /// Whether the top of a sheet has a page of its own.
    cover: bool,
    /// Whether every question is measured; else only those that look long.
    measured: bool,
    tint: Option<&'static str>,
    /// How many times its size a drawing is printed.
    #[serde(skip)]
    enlarged: f64,
    #[serde(skip)]
    rooms: Rooms,
}

/// The room for a drawing of a look, as printed.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rooms {
    pair: f64,
    other: f64,
    /// The size of its type.
    type_size: f64,
}

/// How many millimetres a point is.
const POINT_MM: f64 = 25.4 / 72.0;
/// How wide a character of the typeface is on the average of English text, in em.
///
/// Source: measured on the questions of the shipped banks in Andika Regular.
const SIGN_EM: f64 = 0.52;
/// How far apart letters, words and lines stand where spacing is wide: added to each
/// letter, added to each space, and from line to line.
///
/// Source: WCAG 2.2, success criterion 1.4.12 Text Spacing.
const WIDE_LETTERS_EM: f64 = 0.12;
const WIDE_WORDS_EM: f64 = 0.16;
/// Lines of 1.5 em, less the height of capitals that the typesetter adds itself.
const WIDE_LEADING_EM: f64 = 0.82;
/// Paragraphs twice the size of the type apart.
const WIDE_BETWEEN_EM: f64 = 1.55;

/// Returns the look of a sheet whose highest level is so high, for such needs.
pub(super) fn look(highest: Option<level::Level>, needs: need::Needs) -> Look {
    let mut look = match needs.print_size {
        need::PrintSize::Usual => usual(highest),
        need::PrintSize::Point18 => large(&Large {
            paper: "a4",
            point: 18.0,
            margin: 18.0,
            edge: 26.0,
            line: 16.0,
            working: 42.0,
            stroke_point: 1.2,
            drawing_height: 66.0,
            enlarged: 1.4,
        }),
        need::PrintSize::Point24 => large(&Large {
            paper: "a4",
            point: 24.0,
            margin: 15.0,
            edge: 27.0,
            line: 19.0,
            working: 52.0,
            stroke_point: 1.6,
            drawing_height: 78.0,
            enlarged: 1.9,
        }),
        need::PrintSize::Point36 => large(&Large {
            paper: "a3",
            point: 36.0,
            margin: 22.0,
            edge: 38.0,
            line: 26.0,
            working: 72.0,
            stroke_point: 2.4,
            drawing_height: 112.0,
            enlarged: 2.8,
        }),
    };
    match needs.spacing {
        need::Spacing::Usual => {}
        need::Spacing::Wide => widen(&mut look),
    }
    look.tint = tint(needs.tint);
    look
}

/// Beginning readers get larger type, by the highest level on the sheet, and taller
/// lines to write on.
fn usual(highest: Option<level::Level>) -> Look {
    let is_above = |number| {
        level::Level::new(number)
            .is_some_and(|level| highest.is_some_and(|highest| highest > level))
    };
    let (text_point, line, working, tick, rooms) = if !is_above(2) {
        (17.0, 15.0, 40.0, 6.0, (38.0, 47.0, 5.0))
    } else if !is_above(4) {
        (14.0, 12.0, 34.0, 5.0, (35.0, 45.0, 4.4))
    } else {
        (13.0, 10.5, 30.0, 4.5, (33.0, 43.0, 4.0))
    };
    let (pair, other, type_size) = rooms;
    Look {
        paper: "a4",
        left: 22.0,
        right: 18.0,
        top: 20.0,
        bottom: 20.0,
        width: 170.0,
        height: 257.0,
        text_point,
        edge_point: 11.0,
        small: 0.85,
        sign: SIGN_EM * text_point * POINT_MM,
        line,
        working,
        tick,
        gap: 45.0,
        teeth: 22.0,
        stroke_point: 0.8,
        tracking: 0.0,
        word_space: 0.0,
        leading: 0.55,
        between: 1.05,
        stacked: false,
        cover: false,
        measured: false,
        tint: None,
        enlarged: 1.0,
        rooms: Rooms {
            pair,
            other,
            type_size,
        },
    }
}

/// What large print of one size is made from.
struct Large {
    paper: &'static str,
    point: f64,
    margin: f64,
    /// The margin above and below, which holds a line of the same type.
    edge: f64,
    line: f64,
    working: f64,
    stroke_point: f64,
    drawing_height: f64,
    enlarged: f64,
}

/// Everything on the page is in the one size, and nothing is grey.
fn large(large: &Large) -> Look {
    let (wide, high) = if large.paper == "a3" {
        (297.0, 420.0)
    } else {
        (210.0, 297.0)
    };
    let type_size = large.point * POINT_MM;
    Look {
        paper: large.paper,
        left: large.margin,
        right: large.margin,
        top: large.edge,
        bottom: large.edge,
        width: wide - 2.0 * large.margin,
        height: high - 2.0 * large.edge,
        text_point: large.point,
        edge_point: large.point,
        small: 1.0,
        sign: SIGN_EM * type_size,
        line: large.line,
        working: large.working,
        tick: type_size,
        gap: 5.0 * type_size + 20.0,
        teeth: 2.0 * type_size + 14.0,
        stroke_point: large.stroke_point,
        tracking: 0.0,
        word_space: 0.0,
        leading: 0.55,
        between: 0.95,
        stacked: true,
        cover: large.point > 20.0,
        measured: true,
        tint: None,
        enlarged: large.enlarged,
        rooms: Rooms {
            pair: large.drawing_height * 0.8,
            other: large.drawing_height,
            type_size,
        },
    }
}

fn widen(look: &mut Look) {
    look.tracking = WIDE_LETTERS_EM;
    look.word_space = WIDE_WORDS_EM;
    look.leading = WIDE_LEADING_EM;
    look.between = WIDE_BETWEEN_EM;
    look.sign += WIDE_LETTERS_EM * look.text_point * POINT_MM;
    look.stacked = true;
    look.measured = true;
}

/// Pale enough that black on it keeps more than 15 times its brightness.
fn tint(tint: need::Tint) -> Option<&'static str> {
    match tint {
        need::Tint::None => None,
        need::Tint::Cream => Some("#fff5dc"),
        need::Tint::Yellow => Some("#fff8b8"),
        need::Tint::Peach => Some("#ffe5d0"),
        need::Tint::Pink => Some("#fde2e8"),
        need::Tint::Blue => Some("#dcecf9"),
        need::Tint::Green => Some("#def2dc"),
    }
}

impl Look {
    /// Returns how many signs of name and class the header of a page has room for: half
    /// its width, beside code and version.
    pub(super) fn header_signs(&self) -> usize {
        let sign = self.sign * self.edge_point / self.text_point;
        let count = (8..=60)
            .rev()
            .find(|count| f64::from(*count) * sign <= self.width / 2.0);
        usize::try_from(count.unwrap_or(8)).unwrap_or(8)
    }

    /// Returns the room for a question's drawing: the page's width and about a sixth of
    /// its height, or half the width where working stands beside it.
    pub(super) fn room(&self, beside: Beside) -> album::Room {
        let width = match beside {
            Beside::Working if !self.stacked => 82.0,
            Beside::Word if !self.stacked => 72.0,
            Beside::Nothing | Beside::Working | Beside::Word => self.width - 2.0,
        };
        // Two words and what they mean go on a page, or more.
        let share = match beside {
            Beside::Nothing | Beside::Working => 1.0,
            Beside::Word => 0.7,
        };
        album::Room {
            width_mm: width,
            pair_mm: self.rooms.pair * share,
            height_mm: self.rooms.other * share,
            type_mm: self.rooms.type_size,
            enlarged: self.enlarged,
            paper: self.tint,
        }
    }
}

/// What a drawing shares its width with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Beside {
    /// It has the page's width.
    Nothing,
    /// The room for working stands beside it, where there is width for it.
    Working,
    /// Another word of the word card.
    Word,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_on_every_tint_is_easily_read() {
        let part = |tint: &str, from: usize| {
            let value = u8::from_str_radix(tint.get(from..from + 2).expect("a colour"), 16);
            let share = f64::from(value.expect("a colour")) / 255.0;
            ((share + 0.055) / 1.055).powf(2.4)
        };
        for kind in [
            need::Tint::Cream,
            need::Tint::Yellow,
            need::Tint::Peach,
            need::Tint::Pink,
            need::Tint::Blue,
            need::Tint::Green,
        ] {
            let tint = tint(kind).expect("a colour");
            // Source: WCAG 2.2, relative luminance and contrast ratio.
            let bright = 0.2126 * part(tint, 1) + 0.7152 * part(tint, 3) + 0.0722 * part(tint, 5);
            let contrast = (bright + 0.05) / 0.05;
            assert!(contrast > 15.0, "{kind:?}: {contrast}");
        }
    }

    #[test]
    fn beginning_readers_get_larger_type() {
        let point = |number| look(level::Level::new(number), need::Needs::default()).text_point;
        assert!(point(1) > point(3));
        assert!(point(3) > point(5));
    }
}
