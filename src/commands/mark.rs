//! `toothmark mark`: filled-in answers in; results workbook, marks and record out.

use crate::cli;
use crate::commands::clock;
use crate::commands::console;
use crate::commands::files;
use crate::commands::save;
use crate::homework;
use crate::marking;
use crate::marking::check;
use crate::marking::decision;
use crate::marking::policy;
use crate::problem;
use crate::workbook::answers;
use crate::workbook::decisions;
use crate::workbook::marks_csv;
use crate::workbook::results;
use std::path::Path;
use std::path::PathBuf;

/// The files that marking writes.
const RESULTS: &str = "marked.xlsx";
const MARKS: &str = "marks.csv";
const RECORD: &str = "marked.json";

/// Marks a homework.
///
/// # Errors
///
/// Everything that stood in the way: of the answers, the record, the policy, the
/// decisions of an earlier marking, or the folder.
pub fn run(
    arguments: &cli::MarkArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let beside = arguments.answers.parent().unwrap_or(Path::new(""));
    let folder = arguments.out.as_deref().unwrap_or(beside);
    let given = read(arguments, beside)?;
    for notice in &given.answers.notices {
        console.warning(notice);
    }
    let date = clock::today();
    let earlier = earlier(folder, &given.homework, &date)?;
    let bar = console.progress(3, "marking");
    let marked = marking::mark_homework(&marking::Batch {
        homework: &given.homework,
        responses: &given.answers.responses,
        decisions: &earlier.decisions,
        policy: &given.policy,
        date: &date,
    });
    bar.inc(1);
    let outputs = make(folder, &marked, &earlier, &date)?;
    bar.inc(1);
    save::folder(folder).map_err(|problem| vec![problem])?;
    let copies = save::all(&outputs)?;
    bar.finish_and_clear();
    say(folder, &marked, &copies, console);
    Ok(())
}

/// What a marking is made of.
struct GivenFiles {
    homework: homework::Homework,
    answers: answers::Answers,
    policy: policy::Policy,
}

/// Reads record, answers and policy, and tells what is wrong with any of them.
fn read(
    arguments: &cli::MarkArguments,
    beside: &Path,
) -> Result<GivenFiles, Vec<problem::Problem>> {
    let record = arguments
        .homework
        .clone()
        .unwrap_or_else(|| beside.join("homework.json"));
    let homework = files::text(&record)
        .map_err(|problem| vec![without_record(arguments, problem)])
        .and_then(|text| homework::from_json(&text, &files::shown(&record)));
    let policy = match &arguments.policy {
        Some(path) => files::text(path)
            .map_err(|problem| vec![problem])
            .and_then(|text| policy::read(&text, &files::shown(path))),
        None => Ok(policy::Policy::default()),
    };
    let bytes = files::bytes(&arguments.answers).map_err(|problem| vec![problem]);
    match (homework, policy, bytes) {
        (Ok(homework), Ok(policy), Ok(bytes)) => {
            let answers = answers::read(&files::shown(&arguments.answers), &bytes, &homework)?;
            Ok(GivenFiles {
                homework,
                answers,
                policy,
            })
        }
        (homework, policy, bytes) => {
            let mut problems = homework.err().unwrap_or_default();
            problems.extend(policy.err().unwrap_or_default());
            problems.extend(bytes.err().unwrap_or_default());
            Err(problems)
        }
    }
}

/// Says where the record is looked for, where nobody said where it is.
fn without_record(arguments: &cli::MarkArguments, problem: problem::Problem) -> problem::Problem {
    if arguments.homework.is_some() {
        return problem;
    }
    problem::Problem::new(
        problem.place,
        format!("the homework's record: {}", problem.what),
        "put homework.json beside the answers, or say where it is with --homework FILE",
    )
}

/// What an earlier marking left in the folder.
struct Earlier {
    decisions: Vec<decision::Decision>,
}

/// Returns every decision made so far: those of the record, then those that stand
/// new in the results workbook.
fn earlier(
    folder: &Path,
    homework: &homework::Homework,
    date: &str,
) -> Result<Earlier, Vec<problem::Problem>> {
    let mut decisions = Vec::new();
    let record = folder.join(RECORD);
    if record.exists() {
        let text = files::text(&record).map_err(|problem| vec![problem])?;
        let marked = marking::from_json(&text, &files::shown(&record))?;
        if marked.code != homework.code {
            return Err(vec![problem::Problem::new(
                files::shown(&record),
                format!(
                    "holds the marks of homework {}, these answers belong to {}",
                    marked.code, homework.code
                ),
                "choose another folder with --out",
            )]);
        }
        decisions = marked.decisions;
    }
    let results = folder.join(RESULTS);
    if results.exists() {
        let bytes = files::bytes(&results).map_err(|problem| vec![problem])?;
        let known = decisions::Known {
            file: &files::shown(&results),
            homework_code: &homework.code,
            earlier: &decisions,
            date,
        };
        let new = decisions::read(&known, &bytes)?;
        decisions.extend(new);
    }
    Ok(Earlier { decisions })
}

/// Makes every file in memory before any is written.
fn make(
    folder: &Path,
    marked: &marking::Marked,
    earlier: &Earlier,
    date: &str,
) -> Result<Vec<save::Output>, Vec<problem::Problem>> {
    let results = results::write(marked).map_err(|problem| vec![problem])?;
    // A workbook in which somebody decided something is never thrown away.
    let standing = if earlier.decisions.is_empty() {
        save::Standing::Replaced
    } else {
        save::Standing::Kept {
            date: date.to_owned(),
        }
    };
    let output = |name: &str, bytes, standing| save::Output {
        path: folder.join(name),
        bytes,
        standing,
    };
    Ok(vec![
        output(RESULTS, results, standing),
        output(MARKS, marks_csv::write(marked), save::Standing::Replaced),
        output(
            RECORD,
            marking::to_json(marked).into_bytes(),
            save::Standing::Replaced,
        ),
    ])
}

fn say(
    folder: &Path,
    marked: &marking::Marked,
    copies: &[PathBuf],
    console: &mut console::Console,
) {
    for note in &marked.notes {
        console.remark(format_args!("Note: {note}"));
    }
    let marks = marked.pupils.iter().flat_map(|entry| &entry.marks);
    let count = marks.clone().count();
    let open = marks.filter(|mark| !mark.check.is_empty()).count();
    let rows = check::rows(marked)
        .iter()
        .filter(|row| !row.mark.check.is_empty())
        .count();
    console.remark(format_args!(
        "Homework {}, \"{}\": {} pupils, {count} answers.",
        marked.code,
        marked.title,
        marked.pupils.len(),
    ));
    if open == 0 {
        console.remark("Every answer is settled.");
    } else {
        console.remark(format_args!(
            "Answers that need a person to look: {open}, in {rows} {} of the worksheet `To check`.",
            if rows == 1 { "row" } else { "rows" }
        ));
    }
    if !marked.decisions.is_empty() {
        console.remark(format_args!(
            "Decisions of yours that are kept: {}.",
            marked.decisions.len()
        ));
    }
    for copy in copies {
        console.remark(format_args!(
            "The workbook before is kept as {}",
            copy.display()
        ));
    }
    for (name, what) in [
        (RESULTS, "marks, reasons, and what to check"),
        (MARKS, "a row an answer, for other programs"),
        (RECORD, "hand this to whoever runs: toothmark review"),
    ] {
        console.remark(format_args!("  {}  ({what})", folder.join(name).display()));
    }
}
