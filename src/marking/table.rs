//! Marks as plain rows of text, one row an answer: `marks.csv`.

use crate::marking;
use crate::misconception;
use crate::retention;

/// The headings, in the order of the columns.
pub const HEADINGS: [&str; 19] = [
    "homework",
    "pupil_id",
    "pupil",
    "class",
    "year",
    "question",
    "template",
    "skill",
    "level",
    "typed",
    "read_as",
    "expected",
    "marks",
    "out_of",
    "state",
    "misconception",
    "reason",
    "check",
    "keep_until",
];

/// Returns a row of cells for every mark, pupils in roll order, questions in the
/// order of the sheet. No cell can be run as a formula (see [`guarded`]).
#[must_use]
pub fn rows(marked: &marking::Marked) -> Vec<[String; 19]> {
    let kept_until = retention::cell(marked.kept_until());
    let mut rows = Vec::new();
    for entry in &marked.pupils {
        for mark in &entry.marks {
            let cells = [
                marked.code.clone(),
                entry.pupil.id.clone(),
                entry.pupil.name.clone(),
                entry.pupil.class.clone(),
                entry.pupil.year.clone(),
                mark.question.clone(),
                mark.template.clone(),
                mark.skill.text().to_owned(),
                mark.level.number().to_string(),
                mark.typed.clone(),
                mark.read_as.clone(),
                mark.expected.clone(),
                mark.marks.to_string(),
                mark.out_of.to_string(),
                mark.state.text().to_owned(),
                misconception_names(mark).join("; "),
                mark.reason.clone(),
                mark.check.clone(),
                kept_until.clone(),
            ];
            rows.push(cells.map(|cell| guarded(&cell)));
        }
    }
    rows
}

/// Returns the names of the misconceptions of a mark; an id that this version
/// does not know stands for itself.
#[must_use]
pub fn misconception_names(mark: &marking::Mark) -> Vec<&str> {
    mark.misconceptions
        .iter()
        .map(|id| misconception::by_id(id).map_or(id.as_str(), |known| known.name))
        .collect()
}

/// Returns a text that no spreadsheet program runs: one that [`may_run`] gets an
/// apostrophe before it.
#[must_use]
pub fn guarded(text: &str) -> String {
    if may_run(text) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// Says whether a spreadsheet program could run a text as a formula: it begins with
/// `= + - @` or their full-width forms, also after white space or signs of no width.
#[must_use]
pub fn may_run(text: &str) -> bool {
    let is_passed_over = |sign: char| {
        sign.is_whitespace() || sign.is_control() || matches!(sign, '\u{200b}' | '\u{feff}')
    };
    text.starts_with(['\t', '\r'])
        || text.trim_start_matches(is_passed_over).starts_with([
            '=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}',
        ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_is_run() {
        for (text, wanted) in [
            ("=1+1", "'=1+1"),
            ("-3", "'-3"),
            ("@a", "'@a"),
            ("\tx", "'\tx"),
            ("\rx", "'\rx"),
            ("+4", "'+4"),
            (" =1", "' =1"),
            ("\u{1}=1", "'\u{1}=1"),
            ("\u{200b}@a", "'\u{200b}@a"),
            ("\u{200b}3", "\u{200b}3"),
            ("3:1", "3:1"),
            ("'=1", "'=1"),
            ("", ""),
        ] {
            assert_eq!(guarded(text), wanted);
        }
    }
}
