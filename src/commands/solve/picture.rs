//! The drawing that `solve` saves.

use crate::commands::files;
use crate::commands::save;
use crate::commands::solve::typed;
use crate::drawing;
use crate::paper;
use crate::problem;
use std::path::Path;

/// The room of a drawing, and the size of its type.
const WIDTH_MM: f64 = 160.0;
const HEIGHT_MM: f64 = 75.0;
const TYPE_MM: f64 = 4.0;

/// Draws what was typed into a file, of the kind that its name ends in.
pub(super) fn save(path: &Path, typed: &typed::Typed) -> Result<(), Vec<problem::Problem>> {
    let at = |what: String, hint: &str| vec![problem::Problem::new(files::shown(path), what, hint)];
    let wish = drawing::Wish {
        mechanism: &typed.mechanism,
        asks: &typed.asks,
        width_mm: WIDTH_MM,
        height_mm: HEIGHT_MM,
        type_mm: TYPE_MM,
    };
    let drawn = drawing::draw(&wish).map_err(|refusal| {
        at(
            format!("nothing was drawn: {refusal}"),
            "leave out --drawing",
        )
    })?;
    let ending = path
        .extension()
        .map(|ending| ending.to_string_lossy().to_lowercase());
    let bytes = match ending.as_deref() {
        Some("svg") => drawing::svg::text(&drawn).into_bytes(),
        Some("png") => paper::png(&drawn).map_err(|error| at(error.to_string(), ""))?,
        Some("pdf") => paper::pdf(&drawn).map_err(|error| at(error.to_string(), ""))?,
        Some(_) | None => {
            return Err(at(
                "the name does not say what kind of file it is".to_owned(),
                "let it end in .svg, .png or .pdf",
            ));
        }
    };
    let output = save::Output {
        path: path.to_path_buf(),
        bytes,
        standing: save::Standing::Refused,
    };
    save::one(output)
}
