//! The typeface, carried inside the program: no font of the machine is used.

use std::sync::LazyLock;
use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

/// The regular face; see `fonts/README.md` for its licence.
const REGULAR: &[u8] = include_bytes!("fonts/Andika-Regular.ttf");
/// The bold face.
const BOLD: &[u8] = include_bytes!("fonts/Andika-Bold.ttf");

/// The faces with the typesetter's book of them.
pub(super) struct Faces {
    /// The faces.
    pub(super) fonts: Vec<Font>,
    /// What the typesetter chooses from.
    pub(super) book: LazyHash<FontBook>,
}

static FACES: LazyLock<Faces> = LazyLock::new(|| {
    let fonts: Vec<Font> = [REGULAR, BOLD]
        .into_iter()
        .map(|face| Font::new(Bytes::new(face), 0).expect("the faces in this folder are fonts"))
        .collect();
    let book = LazyHash::new(FontBook::from_fonts(&fonts));
    Faces { fonts, book }
});

/// Returns the faces.
pub(super) fn faces() -> &'static Faces {
    &FACES
}

/// Returns the files of the faces.
pub(super) fn files() -> [&'static [u8]; 2] {
    [REGULAR, BOLD]
}

/// Whether both faces can print this character.
pub(super) fn can_print(sign: char) -> bool {
    faces()
        .fonts
        .iter()
        .all(|font| font.info().coverage.contains(u32::from(sign)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_signs_of_the_templates_are_in_both_faces() {
        for sign in "×÷π≈−→←½¼¾⅓⅔✓…–—•“”‘’²°".chars() {
            assert!(can_print(sign), "{sign}");
        }
        assert!(!can_print('\u{1F600}'));
        assert!(!can_print('\u{0}'));
    }
}
