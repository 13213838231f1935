//! What the finished documents hold, read back with another program's reader.

use crate::paper;
use crate::paper::examples;
use lopdf::{Document, Object};

/// The text of a string in the catalogue.
fn catalogue_text(document: &Document, key: &[u8]) -> String {
    let catalogue = document.catalog().expect("a PDF has a catalogue");
    let bytes = catalogue
        .get(key)
        .and_then(Object::as_str)
        .expect("the entry is a string");
    String::from_utf8_lossy(bytes).into_owned()
}

#[test]
fn sheets_are_tagged_titled_and_in_british_english() {
    let homework = examples::homework(&["Amina Cole", "Ben Hart"], 4);
    let bytes = paper::sheets(&homework).expect("a plain homework can be set");
    std::fs::write("/tmp/sheets.pdf", &bytes).expect("x");
    let document = Document::load_mem(&bytes).expect("the file is a PDF");
    assert_eq!(catalogue_text(&document, b"Lang"), "en-GB");
    let catalogue = document.catalog().expect("a PDF has a catalogue");
    assert!(catalogue.has(b"StructTreeRoot"), "it has tags");
}
