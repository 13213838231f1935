//! `toothmark mark`: filled-in answers in; results workbook, marks and record out.

use crate::cli;
use crate::commands::clock;
use crate::commands::console;
use crate::commands::earlier;
use crate::commands::files;
use crate::commands::lock;
use crate::commands::open_elsewhere;
use crate::commands::overdue;
use crate::commands::save;
use crate::commands::second_look;
use crate::commands::set;
use crate::cores;
use crate::homework;
use crate::marking;
use crate::marking::check;
use crate::marking::handed_in;
use crate::marking::policy;
use crate::marking::settle;
use crate::problem;
use crate::wording;
use crate::workbook::answers;
use crate::workbook::marks_csv;
use crate::workbook::results;
use std::path::Path;
use std::path::PathBuf;

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
    let Some(file) = arguments
        .answers
        .as_deref()
        .filter(|_| !arguments.show_policy)
    else {
        // The file ends with a line's end of its own.
        console.result(policy::write(&read_policy(arguments)?).trim_end());
        return Ok(());
    };
    let beside = file.parent().unwrap_or(Path::new(""));
    let folder = arguments.out.as_deref().unwrap_or(beside);
    let GivenFiles {
        record,
        homework,
        answers,
        policy,
    } = read(arguments, file)?;
    for notice in &answers.notices {
        console.warning(notice);
    }
    say_if_open(file, console);
    let date = clock::today();
    // Held from here until the new results stand, so that nobody marks from results that
    // somebody else is about to replace.
    let lock = lock::take(folder, console).map_err(|problem| vec![problem])?;
    check_open(&folder.join(earlier::RESULTS), console).map_err(|problem| vec![problem])?;
    let mut earlier = earlier::read(&earlier::Looking {
        folder,
        copies: &arguments.decided,
        homework: &homework,
        date: &date,
    })?;
    if let Some(before) = &earlier.marked
        && let Some(doubt) = clock::doubt(&date, &before.marked_on)
    {
        console.warning(doubt);
    }
    let bar = console.progress(3, "marking");
    let gathered = handed_in::gather(&handed_in::Gathering {
        homework: &homework,
        responses: &answers.responses,
        file: &earlier::answers_file(file, folder),
        earlier: earlier.marked.as_ref(),
    });
    // What a large class fills is let go as soon as nobody asks for it any more.
    drop(answers);
    let mut marked = marking::mark_homework(&marking::Batch {
        homework: &homework,
        responses: &gathered.responses,
        decisions: &earlier.decisions,
        policy: &policy,
        date: &date,
    });
    marked.notes.splice(0..0, gathered.notes.iter().cloned());
    bar.inc(1);
    if let Some(before) = earlier.marked.take() {
        marked.second_looks = before.second_looks;
    }
    let second = second_look::look(
        &second_look::Work {
            arguments: &arguments.second_look,
            folder,
            homework: &homework,
            responses: &gathered.responses,
            date: &date,
        },
        &mut marked,
    )?;
    let has_lost_answers = gathered.cleared > 0;
    drop(gathered);
    let mut outputs = make(folder, &marked, &earlier, has_lost_answers)?;
    outputs.extend(second.output.clone());
    bar.inc(1);
    let copies = save::all(&lock, &outputs, &earlier.seen)?;
    bar.finish_and_clear();
    say(folder, &marked, &copies, console);
    second.say(&marked, console);
    let record = overdue::Kept {
        path: record,
        until: homework.kept_until(),
    };
    if let Some(said) = overdue::said(&[record], &date) {
        console.remark(said);
    }
    Ok(())
}

/// Stops where somebody has the results open: what they decide there would be lost to this
/// marking, and what it writes to them.
fn check_open(results: &Path, console: &mut console::Console) -> Result<(), problem::Problem> {
    let Some(open) = open_elsewhere::of(results) else {
        return Ok(());
    };
    match open.age() {
        open_elsewhere::Age::Fresh => Err(open.to_problem()),
        open_elsewhere::Age::Old => {
            console.warning(open.to_warning(
                "that was more than a day ago, so it is taken to be closed; if it is open, close \
                 it without saving",
            ));
            Ok(())
        }
    }
}

/// Says where the answers are open: what is not saved there is not marked.
fn say_if_open(answers: &Path, console: &mut console::Console) {
    if let Some(open) = open_elsewhere::of(answers) {
        console.warning(open.to_warning("what was typed since it was last saved is not marked"));
    }
}

/// What a marking is made of.
struct GivenFiles {
    /// Where the homework's record is.
    record: PathBuf,
    homework: homework::Homework,
    answers: answers::Answers,
    policy: policy::Policy,
}

/// Reads record, answers and policy, and tells what is wrong with any of them.
fn read(arguments: &cli::MarkArguments, file: &Path) -> Result<GivenFiles, Vec<problem::Problem>> {
    let record = arguments
        .homework
        .clone()
        .unwrap_or_else(|| file.with_file_name(set::RECORD));
    let homework = files::text(&record)
        .map_err(|problem| vec![without_record(arguments, problem)])
        .and_then(|text| homework::from_json(&text, &files::shown(&record)));
    let policy = read_policy(arguments);
    let bytes = files::workbook(file).map_err(|problem| vec![problem]);
    match (homework, policy, bytes) {
        (Ok(homework), Ok(policy), Ok(bytes)) => {
            let answers = answers::read(&files::shown(file), &bytes, &homework)?;
            Ok(GivenFiles {
                record,
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

/// Reads the school's policy, or returns the usual one.
fn read_policy(arguments: &cli::MarkArguments) -> Result<policy::Policy, Vec<problem::Problem>> {
    let Some(path) = &arguments.policy else {
        return Ok(policy::Policy::default());
    };
    let text = files::written(path).map_err(|problem| vec![problem])?;
    policy::read(&text, &files::shown(path))
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

/// Makes every file in memory before any is written.
fn make(
    folder: &Path,
    marked: &marking::Marked,
    earlier: &earlier::Earlier,
    has_lost_answers: bool,
) -> Result<Vec<save::Output>, Vec<problem::Problem>> {
    // The workbook takes longer than the others together.
    let (results, (record, marks)) = cores::both(
        || results::write(marked),
        || {
            (
                marking::to_json(marked).into_bytes(),
                marks_csv::write(marked),
            )
        },
    );
    let results = results.map_err(|problem| vec![problem])?;
    let kept_if = |is_kept| {
        if is_kept {
            save::Standing::Kept {
                date: marked.marked_on.clone(),
            }
        } else {
            save::Standing::Replaced
        }
    };
    // A workbook in which somebody decided something is never thrown away, nor are
    // answers that are no longer in their file.
    let has_decisions = !earlier.decisions.is_empty();
    let output = |name: &str, bytes, standing| save::Output {
        path: folder.join(name),
        bytes,
        standing,
    };
    // The record first: it holds every decision that was read from the workbook. The
    // workbook, in which they were typed, is replaced only when they are safe there.
    Ok(vec![
        output(earlier::RECORD, record, kept_if(has_lost_answers)),
        output(
            earlier::RESULTS,
            results,
            kept_if(has_decisions || has_lost_answers),
        ),
        output(earlier::MARKS, marks, save::Standing::Replaced),
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
        "Homework {}, \"{}\": {}, {}.",
        marked.code,
        marked.title,
        wording::counted(marked.pupils.len(), "pupil"),
        wording::counted(count, "answer"),
    ));
    if open == 0 {
        console.remark("Every answer is settled.");
    } else {
        console.remark(format_args!(
            "Answers that need a person to look: {open}, in {} of the worksheet `To check`.",
            wording::counted(rows, "row")
        ));
    }
    if !marked.decisions.is_empty() {
        console.remark(format_args!(
            "Decisions of yours that are kept: {}.",
            marked.decisions.len()
        ));
    }
    let differing = settle::count_differing(marked);
    if differing > 0 {
        console.remark(format_args!(
            "Answers on which people's decisions differ: {differing}; see the worksheet `To check`."
        ));
    }
    for copy in copies {
        console.remark(format_args!(
            "The file before is kept as {}",
            copy.display()
        ));
    }
    for (name, what) in [
        (earlier::RESULTS, "marks, reasons, and what to check"),
        (earlier::MARKS, "a row an answer, for other programs"),
        (
            earlier::RECORD,
            "hand this to whoever runs: toothmark review",
        ),
    ] {
        console.remark(format_args!("  {}  ({what})", folder.join(name).display()));
    }
}
