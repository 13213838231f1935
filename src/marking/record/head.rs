//! The head of a record: which homework it is of, read without its pupils.

use crate::marking;
use crate::marking::record;
use crate::problem;
use crate::retention;
use serde::Deserialize;

/// Only the format, read before all else.
#[derive(Deserialize)]
struct WireFormat {
    format: u32,
}

/// What stands before the pupils; the rest is skipped, not kept.
#[derive(Deserialize)]
struct WireHead {
    homework: String,
    title: String,
    set_on: String,
    marked_on: String,
    #[serde(default)]
    keep_until: Option<String>,
}

/// Returns the head of a record.
pub(in crate::marking) fn from_json(
    text: &str,
    file: &str,
) -> Result<marking::Head, problem::Problem> {
    check_format(text, file)?;
    let wire: WireHead = serde_json::from_str(text).map_err(|error| broken(&error, file))?;
    // A day that is none is told when the whole record is read.
    let chosen = wire.keep_until.and_then(|text| text.parse().ok());
    Ok(marking::Head {
        kept_until: retention::until(&wire.set_on, chosen),
        code: wire.homework,
        title: wire.title,
        set_on: wire.set_on,
        marked_on: wire.marked_on,
    })
}

/// Checks that the text is a record of the format that is read here.
///
/// There is one format so far. What was added to it since may be missing, so that
/// records of every earlier version are read; a record of another format is refused,
/// for what it holds can only be guessed.
pub(super) fn check_format(text: &str, file: &str) -> Result<(), problem::Problem> {
    let found: WireFormat = serde_json::from_str(text).map_err(|error| broken(&error, file))?;
    if found.format == record::FORMAT {
        return Ok(());
    }
    Err(problem::Problem::new(
        file,
        format!(
            "found a record of format {}, wanted format {}",
            found.format,
            record::FORMAT
        ),
        "use the version of the program that wrote it, or mark the homework again",
    ))
}

/// Text that is no record.
pub(super) fn broken(error: &serde_json::Error, file: &str) -> problem::Problem {
    problem::Problem::new(
        format!("{file}:{}:{}", error.line(), error.column()),
        format!("this is no record of marks: {error}"),
        "mark the homework again, which writes the record anew",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_head_is_read_and_the_rest_skipped() {
        let text = r#"{"format": 1, "homework": "K7Q2", "title": "Gears", "made_by": "0.1.0",
            "set_on": "2026-03-09", "marked_on": "2026-03-12", "pupils": [{"odd": [1, 2]}]}"#;
        let head = from_json(text, "marked.json").expect("it has a head");
        assert_eq!(
            (head.code.as_str(), head.set_on.as_str()),
            ("K7Q2", "2026-03-09")
        );
    }

    #[test]
    fn another_format_and_a_missing_head_are_told() {
        for (text, said) in [
            (r#"{"format": 2, "new": true}"#, "format 2"),
            (r#"{"format": 0}"#, "format 0"),
            (r#"{"format": 1}"#, "missing field"),
            ("[]", "no record"),
            ("", "no record"),
        ] {
            let problem = from_json(text, "marked.json").expect_err(text);
            assert!(problem.what.contains(said), "{text}: {problem}");
        }
    }
}
