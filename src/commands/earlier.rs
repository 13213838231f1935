//! What an earlier marking left, and what people decided since: the record, the
//! results workbook of the folder, and other people's copies of it.

use crate::commands::apart;
use crate::commands::files;
use crate::commands::save;
use crate::homework;
use crate::marking;
use crate::marking::decision;
use crate::marking::handed_in;
use crate::marking::settle;
use crate::problem;
use crate::workbook::decisions;
use std::fs;
use std::path;
use std::path::Path;
use std::path::PathBuf;

/// The record that marking writes.
pub const RECORD: &str = "marked.json";
/// The table that marking writes, a row an answer.
pub const MARKS: &str = "marks.csv";
/// The results workbook that marking writes.
pub const RESULTS: &str = "marked.xlsx";
/// The names that a spreadsheet program gives it where it saves another format.
const SAVED_OTHERWISE: [&str; 3] = ["marked.xlsm", "marked.ods", "marked.xls"];

/// Where to look.
#[derive(Debug, Clone, Copy)]
pub struct Looking<'a> {
    /// The folder of results.
    pub folder: &'a Path,
    /// Other people's copies of the results workbook.
    pub copies: &'a [PathBuf],
    /// The homework being marked.
    pub homework: &'a homework::Homework,
    /// Today, ISO 8601.
    pub date: &'a str,
}

/// What is there.
#[derive(Debug, Clone, Default)]
pub struct Earlier {
    /// The homework as it was marked last.
    pub marked: Option<marking::Marked>,
    /// Every decision so far: those of the record, then those that stand new in
    /// workbooks.
    pub decisions: Vec<decision::Decision>,
    /// The folder's files as they were read, or that they were not there.
    pub seen: Vec<save::Seen>,
}

/// Returns what an earlier marking left, and what people decided since.
///
/// # Errors
///
/// Everything that stood in the way: a record that cannot be read or belongs to
/// another homework, and every problem of every workbook.
pub fn read(looking: &Looking<'_>) -> Result<Earlier, Vec<problem::Problem>> {
    let mut seen = Vec::new();
    let marked = record(looking, &mut seen)?;
    let mut decisions = marked
        .as_ref()
        .map_or_else(Vec::new, |marked| marked.decisions.clone());
    let mut problems = Vec::new();
    let mut read_already: Vec<PathBuf> = Vec::new();
    let own = [RESULTS]
        .into_iter()
        .chain(SAVED_OTHERWISE)
        .map(|name| looking.folder.join(name))
        .filter(|path| {
            let is_there = path.exists();
            if !is_there {
                seen.push(save::Seen::new(path, None));
            }
            is_there
        })
        .map(|path| (path, decisions::Copied::No))
        .collect::<Vec<_>>();
    let copies = looking
        .copies
        .iter()
        .map(|path| (path.clone(), decisions::Copied::Yes));
    for (path, copy) in own.into_iter().chain(copies) {
        let whole = whole_path(&path);
        if read_already.contains(&whole) {
            continue;
        }
        let known = decisions::Known {
            file: &files::shown(&path),
            name: &name_to_keep(&path, copy),
            copy,
            homework_code: &looking.homework.code,
            earlier: &decisions,
            date: looking.date,
        };
        let new = files::raw_workbook(&path)
            .map_err(|problem| vec![problem])
            .and_then(|bytes| {
                seen.push(save::Seen::new(&path, Some(&bytes)));
                decisions::read(&known, &apart::read(bytes, apart::Wanted::Decisions))
            });
        read_already.push(whole);
        match new {
            Ok(new) => {
                let for_pupils = marked
                    .as_ref()
                    .map_or_else(Vec::new, |marked| settle::meant_for_pupils(&new, marked));
                decisions.extend(new);
                decisions.extend(for_pupils);
            }
            Err(mut found) => problems.append(&mut found),
        }
    }
    if problems.is_empty() {
        Ok(Earlier {
            marked,
            decisions,
            seen,
        })
    } else {
        Err(problems)
    }
}

/// Returns the homework as it was marked last, where it was.
fn record(
    looking: &Looking<'_>,
    seen: &mut Vec<save::Seen>,
) -> Result<Option<marking::Marked>, Vec<problem::Problem>> {
    let record = looking.folder.join(RECORD);
    if !record.exists() {
        seen.push(save::Seen::new(&record, None));
        return Ok(None);
    }
    let shown = files::shown(&record);
    let bytes = files::raw_record(&record).map_err(|problem| vec![problem])?;
    seen.push(save::Seen::new(&record, Some(&bytes)));
    let text = files::text_in(&record, &bytes).map_err(|problem| vec![problem])?;
    let marked = marking::from_json(&text, &shown).map_err(|problems| {
        // What the record says of mending it does not help where it stands in the way.
        let mend = |problem: problem::Problem| problem::Problem {
            hint: if problem.hint.starts_with("mark the homework again") {
                format!(
                    "bring back a good copy of it; or move it away and mark again: what was \
                     decided comes back from {RESULTS}"
                )
            } else {
                problem.hint
            },
            ..problem
        };
        problems.into_iter().map(mend).collect::<Vec<_>>()
    })?;
    if marked.code != looking.homework.code {
        return Err(vec![problem::Problem::new(
            shown,
            format!(
                "holds the marks of homework {}, these answers belong to {}",
                marked.code, looking.homework.code
            ),
            "choose another folder with --out",
        )]);
    }
    if marked.banks != looking.homework.banks {
        return Err(vec![problem::Problem::new(
            shown,
            format!(
                "holds the marks of another homework of the same code: it was set from {}, and \
                 the one being marked from {}",
                banks(&marked.banks),
                banks(&looking.homework.banks)
            ),
            "use the homework.json that these marks were made with, or choose another folder \
             with --out",
        )]);
    }
    Ok(Some(marked))
}

/// Names banks so that two editions, and two texts of one edition, are told apart.
fn banks(stamps: &[homework::BankStamp]) -> String {
    let named: Vec<String> = stamps
        .iter()
        .map(|bank| {
            let fingerprint: String = bank.fingerprint.chars().take(8).collect();
            format!("{} edition {} ({fingerprint})", bank.id, bank.edition)
        })
        .collect();
    if named.is_empty() {
        "no bank".to_owned()
    } else {
        named.join(", ")
    }
}

/// Returns how decisions name the workbook they came from: its name, and for
/// another person's file of our own workbook's name its folder too.
fn name_to_keep(path: &Path, copy: decisions::Copied) -> String {
    let name = files::name(path);
    let is_ours = name == RESULTS || SAVED_OTHERWISE.contains(&name.as_str());
    match copy {
        decisions::Copied::Yes if is_ours => {
            let folder = whole_path(path)
                .parent()
                .map(files::name)
                .unwrap_or_default();
            format!("{folder}/{name}")
        }
        decisions::Copied::Yes | decisions::Copied::No => name,
    }
}

/// Returns which file of answers it is, so that another of the same name is told
/// from it: by its place in the folder of results, which may be moved as a whole,
/// or by where it stands elsewhere, which is not told.
#[must_use]
pub fn answers_file(answers: &Path, folder: &Path) -> handed_in::File {
    let whole = whole_path(answers);
    let parent = whole.parent().unwrap_or(Path::new(""));
    let place = match parent.strip_prefix(whole_path(folder)) {
        Ok(inside) => inside
            .components()
            .map(|part| part.as_os_str().to_string_lossy())
            .collect::<Vec<_>>()
            .join("/"),
        Err(_) => handed_in::far_place(&files::shown(parent)),
    };
    handed_in::File {
        name: files::name(answers),
        place,
    }
}

/// Returns the path of a file from the root of the computer, without links where
/// the file is there.
fn whole_path(path: &Path) -> PathBuf {
    fs::canonicalize(path)
        .or_else(|_| path::absolute(path))
        .unwrap_or_else(|_| path.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_of_answers_is_told_from_another_of_its_name() {
        let above = tempfile::tempdir().expect("a folder");
        let (week, home) = (above.path().join("week"), above.path().join("home"));
        for folder in [&week.join("late"), &home] {
            fs::create_dir_all(folder).expect("made");
            fs::write(folder.join("answers.xlsx"), b"").expect("written");
        }
        fs::write(week.join("answers.xlsx"), b"").expect("written");
        let place = |path: PathBuf| answers_file(&path, &week).place;
        assert_eq!(place(week.join("answers.xlsx")), "");
        assert_eq!(place(week.join("late/answers.xlsx")), "late");
        let elsewhere = place(home.join("answers.xlsx"));
        assert!(elsewhere.starts_with("elsewhere "), "{elsewhere}");
        assert!(!elsewhere.contains("home"), "{elsewhere}");
        // Through another way to the same folder it is the same file.
        assert_eq!(place(home.join("../week/late/answers.xlsx")), "late");
    }

    #[test]
    fn a_copy_that_is_named_like_our_own_workbook_is_named_with_its_folder() {
        let cases = [
            (
                "from-cd/marked.xlsx",
                decisions::Copied::Yes,
                "from-cd/marked.xlsx",
            ),
            (
                "from-cd/marked-cd.xlsx",
                decisions::Copied::Yes,
                "marked-cd.xlsx",
            ),
            ("week/marked.ods", decisions::Copied::No, "marked.ods"),
        ];
        for (path, copy, wanted) in cases {
            assert_eq!(name_to_keep(Path::new(path), copy), wanted);
        }
    }
}
