//! Where a pupil may be named: every file in the folders given, and what is in it.

use crate::commands::earlier;
use crate::commands::files;
use crate::commands::forget;
use crate::commands::save::dated;
use crate::commands::set;
use crate::marking::forget as words;
use crate::problem;
use crate::workbook::cells;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::path::PathBuf;

/// The most places of one file that are told.
const MOST_PLACES: usize = 5;
/// Pages that the program makes of a homework, with its pupils on them.
const PAGES: [&str; 3] = ["sheets.pdf", "mark-scheme.pdf", "feedback.pdf"];
/// Other files of the program's own that name pupils; `answers.xlsx` is not among them: it
/// holds what people typed.
const MADE_HERE: [&str; 5] = [
    "marked.json",
    "marked.xlsx",
    "marks.csv",
    "class.xlsx",
    "second-look.xlsx",
];

/// The endings of files that are read as tables, and as text.
const TABLES: [&str; 6] = ["csv", "xlsx", "xlsm", "xls", "ods", "tsv"];
const TEXTS: [&str; 5] = ["json", "html", "txt", "toml", "md"];

/// A file that still names the pupil.
pub(super) struct Left {
    pub(super) path: PathBuf,
    /// Whether the program made it, and could make it again.
    pub(super) is_made_here: bool,
    /// Where in it, or why it is thought to.
    places: Vec<String>,
}

impl Left {
    /// The file and the places in it.
    pub(super) fn said(&self) -> String {
        let mut places = self
            .places
            .iter()
            .take(MOST_PLACES)
            .cloned()
            .collect::<Vec<_>>();
        let more = self.places.len().saturating_sub(MOST_PLACES);
        if more > 0 {
            places.push(format!("{more} places more"));
        }
        format!("{} ({})", files::shown(&self.path), places.join(", "))
    }
}

/// Returns every file that the paths name or hold, each once, in order.
pub(super) fn files(paths: &[PathBuf], problems: &mut Vec<problem::Problem>) -> Vec<PathBuf> {
    let mut found = BTreeSet::new();
    for path in paths {
        match fs::metadata(path) {
            Ok(about) if about.is_dir() => walk(path, &mut found, problems),
            Ok(_) => {
                found.insert(path.clone());
            }
            Err(_) => problems.push(problem::Problem::new(
                files::shown(path),
                "there is no such file or folder",
                "check the spelling",
            )),
        }
    }
    found.into_iter().collect()
}

/// Adds every file in a folder and below it; links are not followed.
fn walk(folder: &Path, found: &mut BTreeSet<PathBuf>, problems: &mut Vec<problem::Problem>) {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) => {
            problems.push(problem::Problem::new(
                files::shown(folder),
                format!("the folder could not be read: {error}"),
                "",
            ));
            return;
        }
    };
    for entry in entries.flatten() {
        match entry.file_type() {
            Ok(kind) if kind.is_dir() => walk(&entry.path(), found, problems),
            Ok(kind) if kind.is_file() => {
                found.insert(entry.path());
            }
            Ok(_) | Err(_) => {}
        }
    }
}

/// Whether a file is a record by its name, and of a marked homework: `marked.json`, or
/// a dated copy such as `marked 2026-03-02.json`.
pub(super) fn is_marked_record(path: &Path) -> Option<bool> {
    if dated::is_of(path, earlier::RECORD) {
        Some(true)
    } else {
        dated::is_of(path, set::RECORD).then_some(false)
    }
}

/// Returns the files that name the pupil and are not written anew.
pub(super) fn left(
    found: &[PathBuf],
    pupil: &forget::Pupil,
    written: &BTreeSet<&Path>,
) -> Vec<Left> {
    let folders: BTreeSet<&Path> = written.iter().filter_map(|it| it.parent()).collect();
    let mut left = Vec::new();
    for path in found {
        if written.contains(path.as_path()) {
            continue;
        }
        let is_one = |names: &[&str]| names.iter().any(|name| dated::is_of(path, name));
        if ending(path) == "pdf" {
            // What is on a page is not read; it is made from the record that named them.
            let is_beside = path.parent().is_some_and(|it| folders.contains(it));
            if is_beside && is_one(&PAGES) {
                left.push(Left {
                    path: path.clone(),
                    is_made_here: true,
                    places: vec!["made from the record before".to_owned()],
                });
            }
            continue;
        }
        let places = places(path, pupil);
        if !places.is_empty() {
            left.push(Left {
                path: path.clone(),
                is_made_here: is_one(&MADE_HERE),
                places,
            });
        }
    }
    left
}

/// The ending of a file's name in small letters; empty where it has none.
fn ending(path: &Path) -> String {
    path.extension()
        .map_or_else(String::new, |it| it.to_string_lossy().to_lowercase())
}

/// Where a table or a text has the pupil in it.
fn places(path: &Path, pupil: &forget::Pupil) -> Vec<String> {
    let is_table = TABLES.contains(&ending(path).as_str());
    let is_text = TEXTS.contains(&ending(path).as_str());
    if !is_table && !is_text {
        return Vec::new();
    }
    let unread = || vec!["could not be read: please look into it".to_owned()];
    if is_text {
        let Ok(text) = files::text(path) else {
            return unread();
        };
        let lines = (1_usize..).zip(text.lines());
        return lines
            .filter(|(_, line)| is_in(line, pupil))
            .map(|(number, _)| format!("line {number}"))
            .collect();
    }
    let Ok(bytes) = files::workbook(path) else {
        return unread();
    };
    let Ok(book) = cells::read(&bytes) else {
        return unread();
    };
    let mut places = Vec::new();
    for grid in &book.grids {
        for (row, cells) in &grid.rows {
            for (column, cell) in cells {
                let is_theirs = match &cell.content {
                    cells::Content::Text(text) => is_in(text, pupil),
                    cells::Content::Number(number) => *number == pupil.id,
                    cells::Content::Time { .. }
                    | cells::Content::Date { .. }
                    | cells::Content::Truth(_)
                    | cells::Content::Fault(_)
                    | cells::Content::Uncalculated => false,
                };
                if is_theirs {
                    places.push(grid.place(*row, *column));
                    // One place a row is enough to find it.
                    break;
                }
            }
        }
    }
    places
}

/// Whether a text names the pupil. An id of digits alone is too common as a word, so it
/// must be all there is.
fn is_in(text: &str, pupil: &forget::Pupil) -> bool {
    let is_number = pupil.id.chars().all(|sign| sign.is_ascii_digit());
    let has_id = if is_number {
        text.trim() == pupil.id
    } else {
        words::has_word(text, &pupil.id)
    };
    has_id || words::has_word(text, &pupil.name)
}
