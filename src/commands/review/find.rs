//! The records that paths name or hold.

use crate::problem;
use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::Path;
use std::path::PathBuf;

/// The name of a marked homework's record.
const RECORD: &str = "marked.json";

/// Returns every record that the paths name or hold, each once, in order.
pub(super) fn find(paths: &[PathBuf], problems: &mut Vec<problem::Problem>) -> Vec<PathBuf> {
    let mut records = Vec::new();
    let mut seen = BTreeSet::new();
    for path in paths {
        let mut found = Vec::new();
        if path.is_dir() {
            search(path, &mut found, problems);
            if found.is_empty() {
                problems.push(problem::Problem::new(
                    path.display().to_string(),
                    format!("there is no {RECORD} in this folder or below it"),
                    "mark the homework first, or name the folder it was marked into",
                ));
            }
        } else {
            found.push(path.clone());
        }
        for record in found {
            // The same file may be named and lie in a named folder.
            let real = fs::canonicalize(&record).unwrap_or_else(|_| record.clone());
            if seen.insert(real) {
                records.push(record);
            }
        }
    }
    records
}

/// Adds every record in a folder and below it, in the order of their names.
fn search(folder: &Path, found: &mut Vec<PathBuf>, problems: &mut Vec<problem::Problem>) {
    let entries = fs::read_dir(folder).and_then(Iterator::collect::<io::Result<Vec<_>>>);
    let mut entries = match entries {
        Ok(entries) => entries,
        Err(error) => {
            problems.push(problem::Problem::new(
                folder.display().to_string(),
                format!("the folder could not be read: {error}"),
                "",
            ));
            return;
        }
    };
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        // A link to a folder is not followed: it may lead round in a circle.
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        if is_folder {
            search(&entry.path(), found, problems);
        } else if entry.file_name() == RECORD {
            found.push(entry.path());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A folder tree with empty files.
    fn tree(files: &[&str]) -> tempfile::TempDir {
        let root = tempfile::tempdir().expect("a folder for the test");
        for file in files {
            let path = root.path().join(file);
            fs::create_dir_all(path.parent().expect("it lies in the folder")).expect("made");
            fs::write(path, "").expect("written");
        }
        root
    }

    #[test]
    fn folders_are_searched_and_each_record_is_found_once() {
        let root = tree(&[
            "b/marked.json",
            "a/deep/marked.json",
            "a/homework.json",
            "other.json",
        ]);
        let paths = [
            root.path().to_owned(),
            root.path().join("b/marked.json"),
            root.path().join("other.json"),
        ];
        let mut problems = Vec::new();
        let found = find(&paths, &mut problems);
        assert!(problems.is_empty(), "{problems:?}");
        let names: Vec<String> = found
            .iter()
            .map(|path| {
                let inside = path.strip_prefix(root.path()).expect("it lies inside");
                inside.display().to_string().replace('\\', "/")
            })
            .collect();
        assert_eq!(names, ["a/deep/marked.json", "b/marked.json", "other.json"]);
    }

    #[test]
    fn a_folder_without_a_record_is_a_problem() {
        let root = tree(&["homework.json"]);
        let mut problems = Vec::new();
        let found = find(&[root.path().to_owned()], &mut problems);
        assert!(found.is_empty(), "{found:?}");
        assert!(problems[0].what.contains("no marked.json"), "{problems:?}");
    }
}
