//! The drawings of a document: each made once, all in one file, found by their place.

use crate::drawing;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::item;
use serde::Serialize;
use std::collections::BTreeMap;

/// The room for drawings on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::struct_field_names, reason = "each length says its unit")]
pub(super) struct Room {
    /// The most that one may be wide.
    pub(super) width_mm: f64,
    /// The most that one of two wheels may be high.
    pub(super) pair_mm: f64,
    /// The most that any other may be high.
    pub(super) height_mm: f64,
    /// The size of its type.
    pub(super) type_mm: f64,
}

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

/// Drawings as SVG files one after the other.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Album {
    bytes: Vec<u8>,
    /// What was drawn already, by all that a drawing depends on; none where there is no
    /// drawing of it.
    figures: BTreeMap<String, Option<Figure>>,
}

impl Album {
    /// Returns the drawing of a question's parts, if there is one.
    pub(super) fn figure(&mut self, items: &[&item::Item], room: &Room) -> Option<Figure> {
        let mechanism = whole(items)?;
        let asks: Vec<ask::Ask> = items.iter().map(|item| item.ask.clone()).collect();
        self.of(&mechanism, &asks, room)
    }

    /// Returns the drawing of a mechanism of which something is asked, if there is one.
    pub(super) fn of(
        &mut self,
        mechanism: &mechanism::Mechanism,
        asks: &[ask::Ask],
        room: &Room,
    ) -> Option<Figure> {
        let mut key = notation::write(mechanism);
        key.extend(asks.iter().map(|ask| notation::write_ask(ask, mechanism)));
        key.push(format!("{room:?}"));
        let key = key.join("\n");
        if let Some(known) = self.figures.get(&key) {
            return known.clone();
        }
        let figure = self.draw(mechanism, asks, room);
        self.figures.insert(key, figure.clone());
        figure
    }

    /// The bytes of all drawings.
    pub(super) fn into_bytes(self) -> Vec<u8> {
        self.bytes
    }

    fn draw(
        &mut self,
        mechanism: &mechanism::Mechanism,
        asks: &[ask::Ask],
        room: &Room,
    ) -> Option<Figure> {
        let is_pair = mechanism.parts.len() == 2 && mechanism.parts.iter().all(is_plain_wheel);
        let height_mm = if is_pair {
            room.pair_mm
        } else {
            room.height_mm
        };
        // A question whose mechanism is not drawn stands without.
        let drawn = drawing::draw(&drawing::Wish {
            mechanism,
            asks,
            width_mm: room.width_mm,
            height_mm,
            type_mm: room.type_mm,
        })
        .ok()?;
        let from = self.bytes.len();
        self.bytes
            .extend_from_slice(drawing::svg::text(&drawn).as_bytes());
        Some(Figure {
            from,
            to: self.bytes.len(),
            width: drawn.width_mm,
            height: drawn.height_mm,
            alt: drawn.text,
        })
    }
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

/// The mechanism of a question: of the part that says most of it, with the directions
/// that any part tells.
fn whole(items: &[&item::Item]) -> Option<mechanism::Mechanism> {
    let mut fullest = items.first()?.mechanism.clone();
    for item in items {
        if item.mechanism.parts.len() > fullest.parts.len() {
            fullest = item.mechanism.clone();
        }
    }
    for item in items {
        let is_part_of_it = fullest.parts.starts_with(&item.mechanism.parts);
        let told = item.mechanism.givens.iter().filter(|given| {
            matches!(given, mechanism::Given::Motion { sense: Some(_), .. }) && is_part_of_it
        });
        for given in told {
            if !fullest.givens.contains(given) {
                fullest.givens.push(given.clone());
            }
        }
    }
    Some(fullest)
}
