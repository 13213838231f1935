//! `toothmark review`: any number of marked homeworks in; the attainment workbook out,
//! or one class by name for its own teacher.

mod school;

use crate::attainment;
use crate::attainment::class_view;
use crate::attainment::fold;
use crate::attainment::overview;
use crate::cli;
use crate::commands::console;
use crate::commands::files;
use crate::commands::lock;
use crate::commands::records;
use crate::commands::save;
use crate::marking;
use crate::problem;
use crate::table;
use crate::workbook::attainment as attainment_book;
use crate::workbook::class_view as class_book;
use std::collections::BTreeMap;
use std::path::Path;
use std::path::PathBuf;

/// Where a problem is that no single file has.
const RECORDS: &str = "marked homeworks";
/// The name of what is written for anyone.
const ATTAINMENT: &str = "attainment.xlsx";
/// The name of what is written for a class's own teacher.
const CLASS: &str = "class.xlsx";

/// Reviews marked homeworks.
///
/// Every record is read twice, one at a time: its head first, to find the records that
/// are of one homework, and then with these all of it. So the memory used does not grow
/// with the number of records.
///
/// # Errors
///
/// Everything that stood in the way: paths that are not there, folders without
/// a record, records that cannot be read, the folder to write into.
pub fn run(
    arguments: &cli::ReviewArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let mut problems = Vec::new();
    let school = school::read(arguments, &mut problems);
    let paths = records::find(&arguments.paths, &mut problems);
    let records = heads(&paths, console, &mut problems);
    match &arguments.for_class {
        Some(class) => for_class(class, &records, arguments, console, problems),
        None => for_anyone(&school, &records, arguments, console, problems),
    }
}

/// Writes the workbook that names no pupil.
fn for_anyone(
    school: &attainment::School,
    records: &Records,
    arguments: &cli::ReviewArguments,
    console: &mut console::Console,
    mut problems: Vec<problem::Problem>,
) -> Result<(), Vec<problem::Problem>> {
    let mut fold = fold::Fold::default();
    let mut changed = Vec::new();
    each(records, console, &mut problems, |works| {
        let works: Vec<attainment::Work> = works.iter().map(attainment::Work::of).collect();
        for family in fold::Family::all(&works) {
            changed.extend(fold.add(&family).err());
        }
    });
    problems.extend(changed.into_iter().map(|error| {
        problem::Problem::new(
            RECORDS,
            format!("a record changed while it was read: {error}"),
            "let marking finish, then review again",
        )
    }));
    if !problems.is_empty() {
        return Err(problems);
    }
    let summary = fold.summary(school);
    let bytes = attainment_book::book(&summary).map_err(|problem| vec![problem])?;
    let saved = save(arguments, ATTAINMENT, bytes, &records.marked_on, console)?;
    say(records, &summary, console);
    saved.say(console);
    Ok(())
}

/// Writes the workbook of one class, by name, for its own teacher.
fn for_class(
    class: &str,
    records: &Records,
    arguments: &cli::ReviewArguments,
    console: &mut console::Console,
    mut problems: Vec<problem::Problem>,
) -> Result<(), Vec<problem::Problem>> {
    let mut fold = class_view::ClassFold::new(class);
    each(records, console, &mut problems, |works| fold.add(works));
    if !problems.is_empty() {
        return Err(problems);
    }
    let classes: Vec<String> = fold.classes().map(str::to_owned).collect();
    let Some(view) = fold.view() else {
        return Err(vec![no_class(class, &classes)]);
    };
    let bytes = class_book::book(&view).map_err(|problem| vec![problem])?;
    let saved = save(arguments, CLASS, bytes, &view.marked_on, console)?;
    console.remark(format_args!(
        "Read {} of {} for {} of {}.",
        count(records.count, "record"),
        count(view.homeworks.len(), "homework"),
        count(view.pupils.len(), "pupil"),
        view.class
    ));
    console.remark("It names pupils and is for the class's own teacher only.");
    saved.say(console);
    Ok(())
}

/// What to do where no pupil is in the class.
fn no_class(class: &str, classes: &[String]) -> problem::Problem {
    let known: Vec<&str> = classes.iter().map(String::as_str).collect();
    let hint = match table::nearest(class, &known) {
        Some(near) => format!("is it \"{near}\"?"),
        None => format!("the classes are {}", known.join(", ")),
    };
    problem::Problem::new(RECORDS, format!("no pupil is in a class \"{class}\""), hint)
}

/// What was written, and which older file was kept.
struct Saved {
    path: PathBuf,
    kept: Vec<PathBuf>,
}

impl Saved {
    fn say(&self, console: &mut console::Console) {
        for copy in &self.kept {
            console.remark(format_args!("Kept the older one as {}", copy.display()));
        }
        console.result(format_args!("Wrote {}", self.path.display()));
    }
}

fn save(
    arguments: &cli::ReviewArguments,
    name: &str,
    bytes: Vec<u8>,
    date: &str,
    console: &mut console::Console,
) -> Result<Saved, Vec<problem::Problem>> {
    let path = arguments.out.join(name);
    let lock = lock::take(&arguments.out, console).map_err(|problem| vec![problem])?;
    let output = save::Output {
        path: path.clone(),
        bytes,
        standing: save::Standing::Kept {
            date: date.to_owned(),
        },
    };
    let kept = save::all(&lock, &[output], &[])?;
    Ok(Saved { path, kept })
}

/// Where the records of each homework are.
#[derive(Debug, Default)]
struct Records {
    /// The records of each homework: those of one code, title and date.
    families: BTreeMap<(String, String, String), Vec<PathBuf>>,
    /// How many there are.
    count: usize,
    /// The newest date of marking.
    marked_on: String,
}

/// Reads the head of every record.
fn heads(
    paths: &[PathBuf],
    console: &console::Console,
    problems: &mut Vec<problem::Problem>,
) -> Records {
    let bar = progress(console, paths.len(), "looking at marked homeworks");
    let mut records = Records::default();
    for path in paths {
        match read_head(path) {
            Ok(head) => {
                records.count += 1;
                records.marked_on = records.marked_on.max(head.marked_on);
                let homework = (head.set_on, head.code, head.title);
                records
                    .families
                    .entry(homework)
                    .or_default()
                    .push(path.clone());
            }
            Err(problem) => problems.push(problem),
        }
        bar.inc(1);
    }
    bar.finish_and_clear();
    records
}

/// Reads every homework, the records of one at a time, and hands them over.
fn each(
    records: &Records,
    console: &console::Console,
    problems: &mut Vec<problem::Problem>,
    mut take: impl FnMut(&[marking::Marked]),
) {
    let bar = progress(console, records.count, "reading marked homeworks");
    for paths in records.families.values() {
        let mut works = Vec::new();
        for path in paths {
            match records::read(path) {
                Ok(marked) => works.push(marked),
                Err(found) => problems.extend(found),
            }
            bar.inc(1);
        }
        take(&works);
    }
    bar.finish_and_clear();
}

/// A progress bar over so many records.
fn progress(
    console: &console::Console,
    records: usize,
    doing: &'static str,
) -> indicatif::ProgressBar {
    console.progress(u64::try_from(records).unwrap_or(u64::MAX), doing)
}

/// Reads which homework a record is of.
fn read_head(path: &Path) -> Result<marking::Head, problem::Problem> {
    let text = files::text(path)?;
    marking::head_of_json(&text, &path.display().to_string())
}

fn say(records: &Records, summary: &attainment::Summary, console: &mut console::Console) {
    console.remark(format_args!(
        "Read {} of {}.",
        count(records.count, "record"),
        count(summary.homeworks.len(), "homework")
    ));
    for remark in &summary.overview {
        match remark.theme {
            overview::Theme::Covers | overview::Theme::Next => {
                console.remark(format_args!("  {}", remark.text));
            }
            overview::Theme::Holds | overview::Theme::DoesNotHold | overview::Theme::Care => {}
        }
    }
}

fn count(count: usize, thing: &str) -> String {
    if count == 1 {
        format!("1 {thing}")
    } else {
        format!("{count} {thing}s")
    }
}
