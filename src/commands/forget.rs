//! `toothmark forget`: one pupil taken out of records and results, with all that still
//! names them told.

mod search;

use crate::cli;
use crate::commands::apart;
use crate::commands::clock;
use crate::commands::console;
use crate::commands::earlier;
use crate::commands::files;
use crate::commands::lock;
use crate::commands::save;
use crate::homework;
use crate::marking;
use crate::problem;
use crate::table;
use crate::wording;
use crate::workbook::decisions;
use crate::workbook::marks_csv;
use crate::workbook::results;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::path::PathBuf;

/// Where a problem is that no single file has.
const RECORDS: &str = "records";

/// Takes a pupil out of records and results.
///
/// Nothing is written where anything stands in the way, and nothing at all with
/// `--dry-run`.
///
/// # Errors
///
/// Paths that are not there, records that cannot be read, a pupil whom no record knows,
/// one id with several names, marks typed into a results workbook that were not read yet,
/// files that cannot be written.
pub fn run(
    arguments: &cli::ForgetArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let mut problems = Vec::new();
    let found = search::files(&arguments.paths, &mut problems);
    let mut locks = Vec::new();
    if !arguments.dry_run && problems.is_empty() {
        locks = locked(&found, console).map_err(|problem| vec![problem])?;
    }
    let records = read(&found, &mut problems);
    if !problems.is_empty() {
        return Err(problems);
    }
    let pupil = whom(arguments, &records).map_err(|problem| vec![problem])?;
    let change = change(&records, &pupil)?;
    let left = search::left(&found, &pupil, &change.paths());
    if let Some(lock) = locks.first() {
        save::all(lock, &change.outputs, &change.seen)?;
        if arguments.delete_too {
            delete(&left)?;
        }
    }
    say(arguments, &pupil, &change, &left, console);
    Ok(())
}

/// Holds every folder in which there is a record, so that nobody marks meanwhile.
fn locked(
    files: &[PathBuf],
    console: &mut console::Console,
) -> Result<Vec<lock::Lock>, problem::Problem> {
    let records = files
        .iter()
        .filter(|it| search::is_marked_record(it).is_some());
    // In one order, so that two runs cannot wait for each other.
    let folders: BTreeSet<&Path> = records.filter_map(|it| it.parent()).collect();
    folders
        .into_iter()
        .map(|folder| lock::take(folder, console))
        .collect()
}

/// The pupil to forget.
struct Pupil {
    id: String,
    name: String,
}

/// A record with its file.
struct Record {
    path: PathBuf,
    kind: Kind,
}

/// What kind of record it is.
enum Kind {
    Set(homework::Homework),
    Marked(marking::Marked),
}

impl Record {
    /// The pupils in it.
    fn pupils(&self) -> Vec<&homework::Pupil> {
        match &self.kind {
            Kind::Set(homework) => homework.pupils.iter().map(|it| &it.pupil).collect(),
            Kind::Marked(marked) => marked.pupils.iter().map(|it| &it.pupil).collect(),
        }
    }
}

/// Reads every record among the files, dated copies too.
fn read(files: &[PathBuf], problems: &mut Vec<problem::Problem>) -> Vec<Record> {
    let mut records = Vec::new();
    for path in files {
        let Some(is_marked) = search::is_marked_record(path) else {
            continue;
        };
        let shown = files::shown(path);
        let kind = files::text(path)
            .map_err(|problem| vec![problem])
            .and_then(|text| {
                if is_marked {
                    marking::from_json(&text, &shown).map(Kind::Marked)
                } else {
                    homework::from_json(&text, &shown).map(Kind::Set)
                }
            });
        match kind {
            Ok(kind) => records.push(Record {
                path: path.clone(),
                kind,
            }),
            Err(found) => problems.extend(found),
        }
    }
    records
}

/// Which pupil is meant.
fn whom(arguments: &cli::ForgetArguments, records: &[Record]) -> Result<Pupil, problem::Problem> {
    let id = arguments.pupil_id.trim();
    let all = || records.iter().flat_map(Record::pupils);
    let names: BTreeSet<&str> = all()
        .filter(|pupil| pupil.id == id)
        .map(|pupil| pupil.name.trim())
        .collect();
    let wanted: Vec<&str> = match &arguments.name {
        Some(name) => names
            .iter()
            .copied()
            .filter(|it| it == &name.trim())
            .collect(),
        None => names.iter().copied().collect(),
    };
    match (wanted.as_slice(), names.is_empty()) {
        ([name], _) => Ok(Pupil {
            id: id.to_owned(),
            name: (*name).to_owned(),
        }),
        (_, true) => {
            let known: BTreeSet<&str> = all().map(|pupil| pupil.id.as_str()).collect();
            let known: Vec<&str> = known.into_iter().collect();
            let hint = table::nearest(id, &known).map_or_else(
                || "give the id as the roll has it, and the folders in which to look".to_owned(),
                |near| format!("is it \"{near}\"?"),
            );
            let what = format!(
                "none of {} names a pupil \"{id}\"",
                wording::counted(records.len(), "record")
            );
            Err(problem::Problem::new(RECORDS, what, hint))
        }
        (_, false) => {
            let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
            Err(problem::Problem::new(
                RECORDS,
                format!("\"{id}\" is the id of {}", names.join(" and ")),
                "say whom you mean with --name NAME",
            ))
        }
    }
}

/// What is to be written, and what of it was about the pupil.
#[derive(Default)]
struct Change {
    outputs: Vec<save::Output>,
    /// Results as they were read.
    seen: Vec<save::Seen>,
    lines: Vec<String>,
}

impl Change {
    fn write(&mut self, path: PathBuf, bytes: Vec<u8>) {
        self.outputs.push(save::Output {
            path,
            bytes,
            standing: save::Standing::Replaced,
        });
    }

    /// The files that are written anew.
    fn paths(&self) -> BTreeSet<&Path> {
        self.outputs.iter().map(|it| it.path.as_path()).collect()
    }
}

/// Makes every file without the pupil.
fn change(records: &[Record], pupil: &Pupil) -> Result<Change, Vec<problem::Problem>> {
    let mut change = Change::default();
    let mut problems = Vec::new();
    for record in records {
        let is_theirs = |it: &&homework::Pupil| it.id == pupil.id && it.name.trim() == pupil.name;
        let pupils = record.pupils();
        if !pupils.iter().any(is_theirs) {
            continue;
        }
        let shown = files::shown(&record.path);
        if pupils.len() == 1 {
            problems.push(problem::Problem::new(
                shown,
                format!("{} is the only pupil in it", pupil.id),
                "delete the file, and what lies beside it, if it is to be forgotten",
            ));
            continue;
        }
        let made = match &record.kind {
            Kind::Set(homework) => homework::forget::without(homework, &pupil.id).map(|without| {
                let sheets = homework.sheets.len() - without.sheets.len();
                let sheet = if sheets > 0 { ", their own sheet" } else { "" };
                change
                    .lines
                    .push(format!("{shown}: their place on the roll{sheet}"));
                let json = homework::to_json(&without).into_bytes();
                change.write(record.path.clone(), json);
                Ok(())
            }),
            Kind::Marked(marked) => marking::forget::without(marked, &pupil.id)
                .map(|without| results_without(record, marked, &without, &mut change)),
        };
        if let Some(Err(found)) = made {
            problems.extend(found);
        }
    }
    if problems.is_empty() {
        Ok(change)
    } else {
        Err(problems)
    }
}

/// Makes the record of a marked homework anew and, where it is no dated copy, the results
/// beside it.
fn results_without(
    record: &Record,
    marked: &marking::Marked,
    without: &marking::Marked,
    change: &mut Change,
) -> Result<(), Vec<problem::Problem>> {
    let marks: usize = marked
        .pupils
        .iter()
        .filter(|it| {
            !without
                .pupils
                .iter()
                .any(|other| other.pupil.id == it.pupil.id)
        })
        .map(|it| it.marks.len())
        .sum();
    let decided = marked.decisions.len() - without.decisions.len();
    let decided = if decided > 0 {
        format!(", {decided} decisions about them alone")
    } else {
        String::new()
    };
    let shown = files::shown(&record.path);
    change.lines.push(format!(
        "{shown}: {marks} answers with their marks{decided}"
    ));
    change.write(record.path.clone(), marking::to_json(without).into_bytes());
    if !files::name(&record.path).eq_ignore_ascii_case(earlier::RECORD) {
        return Ok(());
    }
    let results_file = record.path.with_file_name(earlier::RESULTS);
    if results_file.is_file() {
        change.seen.push(no_new_decision(&results_file, marked)?);
        let bytes = results::write(without).map_err(|problem| vec![problem])?;
        change
            .lines
            .push(format!("{}: their rows", files::shown(&results_file)));
        change.write(results_file, bytes);
    }
    let marks_file = record.path.with_file_name(earlier::MARKS);
    if marks_file.is_file() {
        change
            .lines
            .push(format!("{}: their rows", files::shown(&marks_file)));
        change.write(marks_file, marks_csv::write(without));
    }
    Ok(())
}

/// Looks whether somebody typed marks into the results workbook since it was marked: they
/// would be lost. Returns it as it was read.
fn no_new_decision(
    path: &Path,
    marked: &marking::Marked,
) -> Result<save::Seen, Vec<problem::Problem>> {
    let shown = files::shown(path);
    let bytes = files::raw_workbook(path).map_err(|problem| vec![problem])?;
    let seen = save::Seen::new(path, Some(&bytes));
    let known = decisions::Known {
        file: &shown,
        name: earlier::RESULTS,
        copy: decisions::Copied::No,
        homework_code: &marked.code,
        earlier: &marked.decisions,
        date: &clock::today(),
    };
    let new = decisions::read(&known, &apart::read(bytes, apart::Wanted::Decisions))?;
    if new.is_empty() {
        return Ok(seen);
    }
    Err(vec![problem::Problem::new(
        shown,
        format!(
            "{} typed into it since it was marked",
            if new.len() == 1 {
                "1 mark was".to_owned()
            } else {
                format!("{} marks were", new.len())
            }
        ),
        "mark the homework once more, so that they are kept; then forget",
    )])
}

/// Deletes files of the program's own that still name the pupil.
fn delete(left: &[search::Left]) -> Result<(), Vec<problem::Problem>> {
    let problems: Vec<problem::Problem> = left
        .iter()
        .filter(|it| it.is_made_here)
        .filter_map(|it| {
            let error = fs::remove_file(&it.path).err()?;
            Some(problem::Problem::new(
                files::shown(&it.path),
                format!("could not be deleted: {error}"),
                "close it in other programs, then delete it yourself",
            ))
        })
        .collect();
    if problems.is_empty() {
        Ok(())
    } else {
        Err(problems)
    }
}

fn say(
    arguments: &cli::ForgetArguments,
    pupil: &Pupil,
    change: &Change,
    left: &[search::Left],
    console: &mut console::Console,
) {
    let would = if arguments.dry_run {
        "Would take"
    } else {
        "Took"
    };
    console.result(format_args!(
        "{would} {} ({}) out of:",
        pupil.id, pupil.name
    ));
    for line in &change.lines {
        console.result(format_args!("  {line}"));
    }
    let (made_here, own): (Vec<_>, Vec<_>) = left.iter().partition(|it| it.is_made_here);
    if !made_here.is_empty() {
        let heading = match (arguments.delete_too, arguments.dry_run) {
            (true, true) => "Would delete, since they name the pupil too:",
            (true, false) => "Deleted, since they named the pupil too:",
            (false, _) => "These name the pupil too; --delete-too deletes them:",
        };
        console.result(heading);
        for it in made_here {
            console.result(format_args!("  {}", it.said()));
        }
    }
    if !own.is_empty() {
        console.result("These are the school's own; take the pupil out by hand:");
        for it in own {
            console.result(format_args!("  {}", it.said()));
        }
    }
    console.remark(
        "Reviews made before count the pupil without a name; make them anew. Think of backups, \
         mail and paper as well.",
    );
}
