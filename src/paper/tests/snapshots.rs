//! The text of the pages, kept in `tests/cases/pages` for a person to read.
//!
//! Where a change of the pages is wanted, `TOOTHMARK_WRITE_CASES=1 cargo test --lib pages`
//! writes the texts anew; read what changed before it is kept.

use crate::paper;
use crate::paper::examples;
use crate::paper::tests;
use crate::paper::tests::needs;
use crate::paper::typeset;
use std::fs;
use std::path::Path;

/// The pages as a text: each with its size, then its lines.
fn shown(pages: &typeset::Pages) -> String {
    let mut shown = Vec::new();
    let sizes = pages.sizes_mm();
    for (index, (page, (wide, high))) in pages.lines().iter().zip(sizes).enumerate() {
        let tint = if pages.tinted()[index] {
            ", tinted"
        } else {
            ""
        };
        shown.push(format!(
            "=== page {}, {wide} mm × {high} mm{tint}",
            index + 1
        ));
        shown.extend(page.iter().cloned());
        shown.push(String::new());
    }
    shown.join("\n")
}

/// Compares with the text that is kept, and says where they part.
fn check(name: &str, found: &str, differing: &mut Vec<String>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/pages");
    let path = folder.join(name).with_extension("txt");
    if std::env::var_os("TOOTHMARK_WRITE_CASES").is_some() {
        fs::write(&path, found).expect("the case can be written");
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    if kept != found {
        let line = kept
            .lines()
            .zip(found.lines())
            .position(|(kept, found)| kept != found)
            .unwrap_or(kept.lines().count().min(found.lines().count()));
        let at = |text: &str| text.lines().nth(line).unwrap_or("(nothing)").to_owned();
        differing.push(format!(
            "{name}.txt, line {}: kept {:?}, found {:?}",
            line + 1,
            at(&kept),
            at(found)
        ));
    }
}

#[test]
fn the_pages_say_what_is_kept_for_every_option() {
    let mut differing = Vec::new();
    for (name, needs) in needs::options() {
        let homework = examples::homework(&["Amina Cole"], 4);
        let pages = tests::pages_for(&homework, &needs::class(needs));
        check(name, &shown(&pages), &mut differing);
    }
    let homework = examples::homework(&["Amina Cole", "Ben Hart"], 4);
    let (pages, _) = paper::scheme_pages(&homework).expect("the scheme can be set");
    check("mark-scheme", &shown(&pages), &mut differing);
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}
