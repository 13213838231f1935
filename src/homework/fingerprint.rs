//! Fingerprints of the parts of a record, so that what was changed by hand is found, and
//! where.
//!
//! A part is hashed as JSON without white space, in the order of its fields. What is added
//! to a record later is left out where it says nothing, so that the fingerprints of older
//! records stay true; kept records of every format are read by a test.

use serde::Serialize;
use sha2::Digest;
use sha2::Sha256;
use std::collections::BTreeMap;

/// Returns sixteen hexadecimal digits that differ where the part does.
#[must_use]
pub fn of(part: &impl Serialize) -> String {
    let text = serde_json::to_vec(part).expect("texts and numbers are always JSON");
    let hash = Sha256::digest(&text);
    let head: Vec<String> = hash
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect();
    head.concat()
}

/// Returns the fingerprint of a part with what was added to its format later: where that
/// says nothing it is the one that the part always had.
#[must_use]
pub fn with_later(part: &impl Serialize, later: Option<&impl Serialize>) -> String {
    match later {
        None => of(part),
        Some(later) => of(&(part, later)),
    }
}

/// Returns what is not as it was written, of parts with a name each: the name, and what
/// became of it.
#[must_use]
pub fn differing<'a>(
    written: &'a BTreeMap<String, String>,
    found: &'a BTreeMap<String, String>,
) -> Vec<(&'a str, &'static str)> {
    let mut differing = Vec::new();
    for (name, fingerprint) in found {
        match written.get(name) {
            Some(same) if same == fingerprint => {}
            Some(_) => differing.push((name.as_str(), CHANGED)),
            None => differing.push((name.as_str(), "was not there when the record was written")),
        }
    }
    for name in written.keys().filter(|name| !found.contains_key(*name)) {
        differing.push((
            name,
            "is missing, and was there when the record was written",
        ));
    }
    differing
}

/// What is said of a part that is not as it was written.
pub const CHANGED: &str = "is not as it was written: something in it was changed since";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_changed_what_came_and_what_went_are_told_apart() {
        let parts = |parts: &[(&str, &str)]| -> BTreeMap<String, String> {
            let own = |&(name, part): &(&str, &str)| (name.to_owned(), of(&part));
            parts.iter().map(own).collect()
        };
        let written = parts(&[("P1", "a"), ("P2", "b"), ("P3", "c")]);
        let found = parts(&[("P1", "a"), ("P2", "B"), ("P4", "c")]);
        let names: Vec<&str> = differing(&written, &found).iter().map(|it| it.0).collect();
        assert_eq!(names, ["P2", "P4", "P3"]);
        assert!(differing(&written, &written).is_empty());
    }
}
