//! `toothmark review`: any number of marked homeworks in; the attainment workbook out.

use crate::attainment;
use crate::cli;
use crate::commands::console;
use crate::commands::files;
use crate::commands::records;
use crate::commands::save;
use crate::marking::policy;
use crate::problem;
use crate::workbook::attainment as attainment_book;
use std::path::Path;
use std::path::PathBuf;

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
    let records = records::find(&arguments.paths, &mut problems);
    let count = u64::try_from(records.len()).unwrap_or(u64::MAX);
    let bar = console.progress(count, "reading marked homeworks");
    let mut works = Vec::new();
    for record in &records {
        match records::read(record) {
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
