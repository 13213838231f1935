//! The drawings of a document: each made once, all in one file, found by their place.
//!
//! First every drawing that a document wants is asked for, then all are made, each
//! processor making some of them.

use crate::cores;
use crate::drawing;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::item;
use crate::item::question;
use serde::Serialize;
use std::collections::BTreeMap;

/// The room for a drawing on a page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Room {
    /// The most that one may be wide.
    pub(super) width_mm: f64,
    /// The most that one of two wheels may be high.
    pub(super) pair_mm: f64,
    /// The most that any other may be high.
    pub(super) height_mm: f64,
    /// The size of its type.
    pub(super) type_mm: f64,
    /// How many times its size it is printed, so that its lines grow with its type.
    pub(super) enlarged: f64,
    /// The colour of the paper, where it is not white.
    pub(super) paper: Option<&'static str>,
}

/// A drawing that was asked for, by its place among all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub(super) struct Place(usize);

/// One drawing in the album.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Figure {
    /// Where its bytes begin.
    from: usize,
    /// Where they end.
    to: usize,
    /// How wide and how high it is, in millimetres.
    width: f64,
    height: f64,
    /// What a child would see, in words.
    alt: String,
}

/// What is to be drawn.
#[derive(Debug, Clone, PartialEq)]
struct Wish {
    mechanism: mechanism::Mechanism,
    asks: Vec<ask::Ask>,
    room: Room,
}

/// Drawings that are asked for.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Album {
    wishes: Vec<Wish>,
    /// What was asked for already, by all that a drawing depends on.
    places: BTreeMap<String, Place>,
}

/// Drawings that are made.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Drawn {
    /// SVG files one after the other.
    pub(super) bytes: Vec<u8>,
    /// A figure for each that was asked for; none where there is no drawing of it.
    pub(super) figures: Vec<Option<Figure>>,
}

/// A drawing that finds no room for its labels is tried again with its type, and all
/// else, in so many hundredths of the size.
const SMALLER: [f64; 4] = [1.0, 0.85, 0.72, 0.6];

impl Album {
    /// Asks for the drawing of a question's parts.
    pub(super) fn question(&mut self, items: &[&item::Item], room: &Room) -> Option<Place> {
        let asks = items.iter().map(|item| item.ask.clone()).collect();
        Some(self.asked(question::drawn_mechanism(items)?, asks, room))
    }

    /// Asks for the drawing of a mechanism of which nothing is asked.
    pub(super) fn shown(&mut self, mechanism: mechanism::Mechanism, room: &Room) -> Place {
        self.asked(mechanism, Vec::new(), room)
    }

    /// Makes every drawing that was asked for.
    ///
    /// What comes out does not depend on how many processors there are.
    pub(super) fn draw(&self) -> Drawn {
        let sketches = cores::map(&self.wishes, 1, sketch);
        let mut drawn = Drawn::default();
        for sketch in sketches {
            let figure = sketch.map(|sketch| {
                let from = drawn.bytes.len();
                drawn.bytes.extend_from_slice(sketch.svg.as_bytes());
                Figure {
                    from,
                    to: drawn.bytes.len(),
                    width: sketch.width_mm,
                    height: sketch.height_mm,
                    alt: sketch.alt,
                }
            });
            drawn.figures.push(figure);
        }
        drawn
    }

    /// Asks for the drawing of a mechanism of which something is asked.
    pub(super) fn asked(
        &mut self,
        mechanism: mechanism::Mechanism,
        asks: Vec<ask::Ask>,
        room: &Room,
    ) -> Place {
        let mut key = notation::write(&mechanism);
        key.extend(asks.iter().map(|ask| notation::write_ask(ask, &mechanism)));
        key.push(format!("{room:?}"));
        let wishes = &mut self.wishes;
        *self.places.entry(key.join("\n")).or_insert_with(|| {
            wishes.push(Wish {
                mechanism,
                asks,
                room: *room,
            });
            Place(wishes.len() - 1)
        })
    }
}

/// A drawing before it has its place in the file.
struct Sketch {
    svg: String,
    width_mm: f64,
    height_mm: f64,
    alt: String,
}

/// The drawing of a wish; a question whose mechanism is not drawn stands without.
fn sketch(wish: &Wish) -> Option<Sketch> {
    let room = &wish.room;
    let parts = &wish.mechanism.parts;
    let is_pair = parts.len() == 2 && parts.iter().all(is_plain_wheel);
    let height_mm = if is_pair {
        room.pair_mm
    } else {
        room.height_mm
    };
    let sizes: &[f64] = if room.enlarged > 1.0 {
        &SMALLER
    } else {
        &[1.0]
    };
    sizes.iter().find_map(|size| {
        let enlarged = (room.enlarged * size).max(1.0);
        let drawn = drawing::draw(&drawing::Wish {
            mechanism: &wish.mechanism,
            asks: &wish.asks,
            width_mm: room.width_mm / enlarged,
            height_mm: height_mm / enlarged,
            type_mm: room.type_mm / room.enlarged,
        })
        .ok()?;
        let svg = match room.paper {
            Some(paper) => drawing::svg::text_on(&drawn, paper),
            None => drawing::svg::text(&drawn),
        };
        Some(Sketch {
            svg,
            width_mm: drawn.width_mm * enlarged,
            height_mm: drawn.height_mm * enlarged,
            alt: drawn.text,
        })
    })
}

/// Whether a part is a wheel beside whose partner it stands, not in it or above it.
fn is_plain_wheel(part: &mechanism::Part) -> bool {
    matches!(
        part.kind,
        mechanism::Kind::Gear { .. }
            | mechanism::Kind::Bevel { .. }
            | mechanism::Kind::Sprocket { .. }
            | mechanism::Kind::Pulley { .. }
    )
}
