//! `toothmark review`: any number of marked homeworks in; the attainment workbook out.

use crate::attainment;
use crate::cli;
use crate::commands::console;
use crate::commands::files;
use crate::commands::save;
use crate::marking;
use crate::marking::policy;
use crate::problem;
use crate::workbook::attainment as attainment_book;
use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::Path;
use std::path::PathBuf;

/// The name of a marked homework's record.
const RECORD: &str = "marked.json";
/// The name of what is written.
const WORKBOOK: &str = "attainment.xlsx";

/// Reviews marked homeworks.
///
/// # Errors
///
/// Everything that stood in the way: paths that are not there, folders without
/// a record, records that cannot be read, the folder to write into.
pub fn run(
    arguments: &cli::ReviewArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let works = read(arguments, console)?;
    let summary = attainment::summarise(&works);
    let bytes = attainment_book::book(&summary).map_err(|problem| vec![problem])?;
    let path = arguments.out.join(WORKBOOK);
    save::folder(&arguments.out).map_err(|problem| vec![problem])?;
    let kept = save::all(&[save::Output {
        path: path.clone(),
        bytes,
        standing: save::Standing::Kept {
            date: newest(&works),
        },
    }])?;
    say(&works, &summary, &path, &kept, console);
    Ok(())
}

/// Reads everything that was named, and tells what is wrong with any of it.
///
/// The pupils' names are dropped at the door.
fn read(
    arguments: &cli::ReviewArguments,
    console: &console::Console,
) -> Result<Vec<attainment::Work>, Vec<problem::Problem>> {
    let mut problems = Vec::new();
    if let Some(path) = &arguments.policy
        && let Err(found) = read_policy(path)
    {
        problems.extend(found);
    }
    let records = find(&arguments.paths, &mut problems);
    let count = u64::try_from(records.len()).unwrap_or(u64::MAX);
    let bar = console.progress(count, "reading marked homeworks");
    let mut works = Vec::new();
    for record in &records {
        match read_record(record) {
            Ok(marked) => works.push(attainment::Work::of(&marked)),
            Err(found) => problems.extend(found),
        }
        bar.inc(1);
    }
    bar.finish_and_clear();
    if problems.is_empty() {
        Ok(works)
    } else {
        Err(problems)
    }
}

/// Reads the school's policy, so that a fault in it is told here too.
fn read_policy(path: &Path) -> Result<policy::Policy, Vec<problem::Problem>> {
    let text = files::text(path).map_err(|problem| vec![problem])?;
    policy::read(&text, &path.display().to_string())
}

/// Reads one marked homework.
fn read_record(path: &Path) -> Result<marking::Marked, Vec<problem::Problem>> {
    let text = files::text(path).map_err(|problem| vec![problem])?;
    marking::from_json(&text, &path.display().to_string())
}

/// Returns every record that the paths name or hold, each once, in order.
fn find(paths: &[PathBuf], problems: &mut Vec<problem::Problem>) -> Vec<PathBuf> {
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

/// The newest date of marking.
fn newest(works: &[attainment::Work]) -> String {
    works
        .iter()
        .map(|work| work.marked_on.clone())
        .max()
        .unwrap_or_default()
}

fn say(
    works: &[attainment::Work],
    summary: &attainment::Summary,
    path: &Path,
    kept: &[PathBuf],
    console: &mut console::Console,
) {
    console.remark(format_args!(
        "Read {} of {} homeworks.",
        count(works.len(), "record"),
        summary.homeworks.len()
    ));
    for remark in &summary.overview {
        match remark.theme {
            attainment::overview::Theme::Covers | attainment::overview::Theme::Next => {
                console.remark(format_args!("  {}", remark.text));
            }
            attainment::overview::Theme::Holds
            | attainment::overview::Theme::DoesNotHold
            | attainment::overview::Theme::Care => {}
        }
    }
    for copy in kept {
        console.remark(format_args!("Kept the older one as {}", copy.display()));
    }
    console.result(format_args!("Wrote {}", path.display()));
}

fn count(count: usize, thing: &str) -> String {
    if count == 1 {
        format!("1 {thing}")
    } else {
        format!("{count} {thing}s")
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
