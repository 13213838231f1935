//! What pupils handed in, as the record writes it: beside the marks what was typed,
//! beside the pupil where it came from.

use crate::answer;
use crate::marking::handed_in;
use serde::Deserialize;
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WireOrigin {
    file: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    place: String,
    first_marked: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    replaced: Vec<WireReplaced>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    before: BTreeMap<String, String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireReplaced {
    file: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    place: String,
    hash: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WireTyped {
    text: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    undone: Vec<WireUndone>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WireUndone {
    text: String,
    why: String,
}

pub(super) fn wire_origin(origin: &handed_in::Origin) -> WireOrigin {
    WireOrigin {
        file: origin.file.name.clone(),
        place: origin.file.place.clone(),
        first_marked: origin.first_marked.clone(),
        replaced: origin
            .replaced
            .iter()
            .map(|replaced| WireReplaced {
                file: replaced.file.name.clone(),
                place: replaced.file.place.clone(),
                hash: replaced.hash.clone(),
            })
            .collect(),
        before: origin.before.clone(),
    }
}

pub(super) fn wire_typed(typed: &answer::Typed) -> WireTyped {
    WireTyped {
        text: typed.text.clone(),
        undone: wire_undone(&typed.undone),
    }
}

pub(super) fn wire_undone(undone: &[answer::Undone]) -> Vec<WireUndone> {
    undone
        .iter()
        .map(|undone| WireUndone {
            text: undone.text.clone(),
            why: undone.why.clone(),
        })
        .collect()
}

pub(super) fn origin(wire: &WireOrigin) -> handed_in::Origin {
    handed_in::Origin {
        file: file(&wire.file, &wire.place),
        first_marked: wire.first_marked.clone(),
        replaced: wire
            .replaced
            .iter()
            .map(|replaced| handed_in::Replaced {
                file: file(&replaced.file, &replaced.place),
                hash: replaced.hash.clone(),
            })
            .collect(),
        before: wire.before.clone(),
    }
}

pub(super) fn typed_of(wire: &WireTyped) -> answer::Typed {
    typed(&wire.text, &wire.undone)
}

pub(super) fn typed(text: &str, undone: &[WireUndone]) -> answer::Typed {
    answer::Typed {
        text: text.to_owned(),
        undone: undone
            .iter()
            .map(|undone| answer::Undone {
                text: undone.text.clone(),
                why: undone.why.clone(),
            })
            .collect(),
    }
}

fn file(name: &str, place: &str) -> handed_in::File {
    handed_in::File {
        name: name.to_owned(),
        place: place.to_owned(),
    }
}
