//! Which pupil: told apart without their name.
//!
//! Ids are the school's own, so two schools may have the same id for two children. A
//! pupil is therefore the id together with
//! - the label of the roll's column `school`, where it has one;
//! - the name otherwise, in small letters with single spaces.
//!
//! Only fingerprints of them are kept, in memory and while a review runs. They are
//! never written: who has a list of names could try them all.

use crate::homework;
use sha2::Digest;
use sha2::Sha256;
use std::collections::BTreeMap;
use unicode_normalization::UnicodeNormalization;

/// The heading of the column that names the school.
pub const SCHOOL: &str = "school";

/// Which pupil it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Who {
    /// The fingerprint of the id.
    id: u64,
    /// What else tells them apart.
    apart_by: ApartBy,
    /// The fingerprint of that.
    other: u64,
}

/// What tells pupils with the same id apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum ApartBy {
    School,
    Name,
}

impl Who {
    /// Returns who a pupil of a roll is.
    #[must_use]
    pub fn of(pupil: &homework::Pupil) -> Self {
        let id = fingerprint(pupil.id.trim());
        match school(&pupil.groups) {
            Some(school) => Self {
                id,
                apart_by: ApartBy::School,
                other: fingerprint(&plain(school)),
            },
            None => Self {
                id,
                apart_by: ApartBy::Name,
                other: fingerprint(&plain(&pupil.name)),
            },
        }
    }

    /// Whether these are two names under one id.
    pub(super) fn is_namesake(self, other: Self) -> bool {
        self.id == other.id
            && self.other != other.other
            && self.apart_by == ApartBy::Name
            && other.apart_by == ApartBy::Name
    }
}

/// Returns the school that a pupil's group labels name.
pub(super) fn school(groups: &BTreeMap<String, String>) -> Option<&str> {
    groups
        .iter()
        .find(|(heading, _)| heading.trim().eq_ignore_ascii_case(SCHOOL))
        .map(|(_, label)| label.trim())
        .filter(|label| !label.is_empty())
}

/// A name however it was typed: small letters, single spaces, one spelling of accents.
fn plain(name: &str) -> String {
    let words: Vec<String> = name.split_whitespace().map(str::to_lowercase).collect();
    words.join(" ").nfc().collect()
}

/// The first eight bytes of the text's SHA-256.
fn fingerprint(text: &str) -> u64 {
    let hash = Sha256::digest(text.as_bytes());
    hash.iter()
        .take(8)
        .fold(0, |number, byte| (number << 8) | u64::from(*byte))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pupil(id: &str, name: &str, school: &str) -> Who {
        let groups = if school.is_empty() {
            BTreeMap::new()
        } else {
            [("School".to_owned(), school.to_owned())].into()
        };
        Who::of(&homework::Pupil {
            id: id.to_owned(),
            name: name.to_owned(),
            class: String::new(),
            year: String::new(),
            level: None,
            groups,
        })
    }

    #[test]
    fn the_same_id_and_name_is_one_pupil_however_the_name_was_typed() {
        let zoe = pupil("7", "Zoë Hall", "");
        assert_eq!(zoe, pupil("7", "zoe\u{308}  HALL ", ""));
        assert!(zoe != pupil("8", "Zoë Hall", ""));
    }

    #[test]
    fn the_same_id_under_another_name_is_another_pupil() {
        let (one, other) = (pupil("7", "Zoë Hall", ""), pupil("7", "Ben Low", ""));
        assert!(one != other);
        assert!(one.is_namesake(other));
    }

    #[test]
    fn where_a_school_is_given_it_tells_pupils_apart_and_names_may_change() {
        let hill = pupil("7", "Zoë Hall", "Hill");
        assert_eq!(hill, pupil("7", "Zoë Hall-Low", "hill"));
        let dale = pupil("7", "Zoë Hall", "Dale");
        assert!(hill != dale);
        assert!(!hill.is_namesake(dale), "the school tells them apart");
    }
}
