//! `toothmark review`: any number of marked homeworks in; what they say out, as a page, a
//! workbook and a tidy table, or one class by name for its own teacher.

mod data_set;
mod school;

use crate::attainment;
use crate::attainment::class_view;
use crate::attainment::fold;
use crate::attainment::overview;
use crate::cli;
use crate::commands::clock;
use crate::commands::console;
use crate::commands::files;
use crate::commands::lock;
use crate::commands::overdue;
use crate::commands::records;
use crate::commands::save;
use crate::marking;
use crate::problem;
use crate::report;
use crate::table;
use crate::wording;
use crate::workbook::attainment as attainment_book;
use crate::workbook::class_view as class_book;
use std::collections::BTreeMap;
use std::path::Path;
use std::path::PathBuf;

/// Where a problem is that no single file has.
const RECORDS: &str = "marked homeworks";
/// The names of what is written for anyone: the page, the workbook, the tidy table.
const PAGE: &str = "attainment.html";
const ATTAINMENT: &str = "attainment.xlsx";
const TIDY: &str = "attainment.csv";
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
        Some(class) => for_class(class, &school, &records, arguments, console, problems),
        None => for_anyone(&school, &records, arguments, console, problems),
    }
}

/// Writes what names no pupil.
fn for_anyone(
    school: &attainment::School,
    records: &Records,
    arguments: &cli::ReviewArguments,
    console: &mut console::Console,
    mut problems: Vec<problem::Problem>,
) -> Result<(), Vec<problem::Problem>> {
    let mut fold = fold::Fold::default();
    let mut changed = Vec::new();
    let mut marks = None;
    let mut held = None;
    if arguments.parquet && problems.is_empty() {
        // A data set is filled while records are read; all else is written at the end.
        held = Some(lock::take(&arguments.out, console).map_err(|problem| vec![problem])?);
        let begun = data_set::DataSet::begin(&arguments.out);
        marks = Some(begun.map_err(|problem| vec![problem])?);
    }
    let mut unwritten = None;
    each(records, console, &mut problems, |works| {
        changed.extend(count_in(&mut fold, works, |fold, family| {
            if let (Some(marks), None) = (&mut marks, &unwritten) {
                unwritten = marks.add(fold, family, school).err();
            }
        }));
    });
    problems.extend(unwritten);
    problems.extend(changed);
    if !problems.is_empty() {
        return Err(problems);
    }
    let summary = fold.summary(school);
    let workbook = attainment_book::book(&summary).map_err(|problem| vec![problem])?;
    let files = vec![
        (PAGE, report::page(&summary).into_bytes()),
        (ATTAINMENT, workbook),
        (TIDY, report::csv(&summary)),
    ];
    let held = match held {
        Some(held) => held,
        None => lock::take(&arguments.out, console).map_err(|problem| vec![problem])?,
    };
    let saved = save(&held, arguments, files, &records.marked_on)?;
    let marks = marks.map(|marks| marks.finish(&held, &fold, &summary, &records.marked_on));
    say(records, &summary, console);
    records.say_overdue(console);
    saved.say(console);
    if let Some(written) = marks.transpose()? {
        written.say(console);
    }
    Ok(())
}

/// Counts all records of one homework, and hands over what was counted; returns what went
/// wrong.
fn count_in(
    fold: &mut fold::Fold,
    records: &[marking::Marked],
    mut counted: impl FnMut(&fold::Fold, &fold::Family<'_>),
) -> Vec<problem::Problem> {
    let works: Vec<attainment::Work> = records.iter().map(attainment::Work::of).collect();
    let mut changed = Vec::new();
    for family in fold::Family::all(&works) {
        match fold.add(&family) {
            Ok(()) => counted(fold, &family),
            Err(error) => changed.push(problem::Problem::new(
                RECORDS,
                format!("a record changed while it was read: {error}"),
                "let marking finish, then review again",
            )),
        }
    }
    changed
}

/// Writes the workbook of one class, by name, for its own teacher.
fn for_class(
    class: &str,
    school: &attainment::School,
    records: &Records,
    arguments: &cli::ReviewArguments,
    console: &mut console::Console,
    mut problems: Vec<problem::Problem>,
) -> Result<(), Vec<problem::Problem>> {
    let mut fold = class_view::ClassFold::new(class);
    // The scale on which its pupils grow comes from everybody.
    let mut whole = fold::Fold::default();
    let mut changed = Vec::new();
    each(records, console, &mut problems, |works| {
        fold.add(works);
        changed.extend(count_in(&mut whole, works, |_, _| ()));
    });
    problems.extend(changed);
    if !problems.is_empty() {
        return Err(problems);
    }
    let classes: Vec<String> = fold.classes().map(str::to_owned).collect();
    let Some(view) = fold.view(&whole.scales(), school) else {
        return Err(vec![no_class(class, &classes)]);
    };
    let bytes = class_book::book(&view).map_err(|problem| vec![problem])?;
    let held = lock::take(&arguments.out, console).map_err(|problem| vec![problem])?;
    let saved = save(&held, arguments, vec![(CLASS, bytes)], &view.marked_on)?;
    console.remark(format_args!(
        "Read {} of {} for {} of {}.",
        wording::counted(records.kept.len(), "record"),
        wording::counted(view.homeworks.len(), "homework"),
        wording::counted(view.pupils.len(), "pupil"),
        view.class
    ));
    console.remark("It names pupils and is for the class's own teacher only.");
    records.say_overdue(console);
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

/// What was written, and which older files were kept.
struct Saved {
    paths: Vec<PathBuf>,
    kept: Vec<PathBuf>,
}

impl Saved {
    fn say(&self, console: &mut console::Console) {
        for copy in &self.kept {
            console.remark(format_args!("Kept the older one as {}", copy.display()));
        }
        for path in &self.paths {
            console.result(format_args!("Wrote {}", path.display()));
        }
    }
}

/// Writes files by their names, all or none.
fn save(
    held: &lock::Lock,
    arguments: &cli::ReviewArguments,
    files: Vec<(&str, Vec<u8>)>,
    date: &str,
) -> Result<Saved, Vec<problem::Problem>> {
    let outputs: Vec<save::Output> = files
        .into_iter()
        .map(|(name, bytes)| save::Output {
            path: arguments.out.join(name),
            bytes,
            standing: save::Standing::Kept {
                date: date.to_owned(),
            },
        })
        .collect();
    let kept = save::all(held, &outputs, &[])?;
    let paths = outputs.into_iter().map(|output| output.path).collect();
    Ok(Saved { paths, kept })
}

/// Where the records of each homework are.
#[derive(Debug, Default)]
struct Records {
    /// The records of each homework: those of one code, title and date.
    families: BTreeMap<(String, String, String), Vec<PathBuf>>,
    /// The newest date of marking.
    marked_on: String,
    /// Each with the day until which it may be kept.
    kept: Vec<overdue::Kept>,
}

impl Records {
    /// Says which of them could be deleted.
    fn say_overdue(&self, console: &mut console::Console) {
        if let Some(said) = overdue::said(&self.kept, &clock::today()) {
            console.remark(said);
        }
    }
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
                records.kept.push(overdue::Kept {
                    path: path.clone(),
                    until: head.kept_until,
                });
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
    let bar = progress(console, records.kept.len(), "reading marked homeworks");
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
        wording::counted(records.kept.len(), "record"),
        wording::counted(summary.homeworks.len(), "homework")
    ));
    let mut theme = None;
    for remark in &summary.overview {
        if is_said(remark.theme) {
            if theme != Some(remark.theme) {
                theme = Some(remark.theme);
                console.remark(remark.theme.title());
            }
            console.remark(format_args!("  {}", remark.text));
        }
    }
}

/// Whether the console says it: what a person wants to know before opening a file.
fn is_said(theme: overview::Theme) -> bool {
    match theme {
        overview::Theme::Covers
        | overview::Theme::Years
        | overview::Theme::Holds
        | overview::Theme::Again
        | overview::Theme::Next => true,
        overview::Theme::Grown
        | overview::Theme::Groups
        | overview::Theme::NeverAsked
        | overview::Theme::Sure => false,
    }
}
