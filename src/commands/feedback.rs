//! `toothmark feedback`: a marked homework in; a page for the class and a note for each
//! pupil out.

use crate::cli;
use crate::commands::console;
use crate::commands::earlier;
use crate::commands::files;
use crate::commands::lock;
use crate::commands::save;
use crate::commands::set;
use crate::feedback;
use crate::feedback::words;
use crate::homework;
use crate::marking;
use crate::paper;
use crate::problem;
use crate::wording;
use std::path::Path;

/// The name of what is written.
const FEEDBACK: &str = "feedback.pdf";

/// Writes feedback on a marked homework.
///
/// # Errors
///
/// Everything that stood in the way: of the marks, the homework's record, the words, or
/// the folder.
pub fn run(
    arguments: &cli::FeedbackArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let Some(given) = arguments
        .marked
        .as_deref()
        .filter(|_| !arguments.show_words)
    else {
        // The file ends with a line's end of its own.
        console.result(words::write(&read_words(arguments)?).trim_end());
        return Ok(());
    };
    let file = if given.is_dir() {
        given.join(earlier::RECORD)
    } else {
        given.to_owned()
    };
    let beside = file.parent().unwrap_or(Path::new(""));
    let folder = arguments.out.as_deref().unwrap_or(beside);
    let (marked, homework, words) = read(arguments, &file)?;
    let marks = if arguments.marks {
        feedback::Marks::Told
    } else {
        feedback::Marks::Kept
    };
    let bar = console.progress(2, "writing feedback");
    let said = feedback::give(&feedback::Request {
        marked: &marked,
        homework: &homework,
        words: &words,
        marks,
        seed: arguments.seed.as_deref().unwrap_or(&marked.code),
    })?;
    bar.inc(1);
    let path = folder.join(FEEDBACK);
    let bytes = paper::feedback(&said).map_err(|fault| {
        vec![problem::Problem::new(
            files::shown(&path),
            fault.to_string(),
            "",
        )]
    })?;
    bar.inc(1);
    let lock = lock::take(folder, console).map_err(|problem| vec![problem])?;
    let output = save::Output {
        path: path.clone(),
        bytes,
        standing: save::Standing::Replaced,
    };
    save::all(&lock, &[output], &[])?;
    bar.finish_and_clear();
    say(&path, &said, console);
    Ok(())
}

/// Reads marks, record and words, and tells what is wrong with any of them.
fn read(
    arguments: &cli::FeedbackArguments,
    file: &Path,
) -> Result<(marking::Marked, homework::Homework, words::Words), Vec<problem::Problem>> {
    let marked = files::text(file)
        .map_err(|problem| vec![problem])
        .and_then(|text| marking::from_json(&text, &files::shown(file)));
    let record = arguments
        .homework
        .clone()
        .unwrap_or_else(|| file.with_file_name(set::RECORD));
    let homework = files::text(&record)
        .map_err(|problem| vec![without_record(arguments, problem)])
        .and_then(|text| homework::from_json(&text, &files::shown(&record)));
    match (marked, homework, read_words(arguments)) {
        (Ok(marked), Ok(homework), Ok(words)) => Ok((marked, homework, words)),
        (marked, homework, words) => {
            let mut problems = marked.err().unwrap_or_default();
            problems.extend(homework.err().unwrap_or_default());
            problems.extend(words.err().unwrap_or_default());
            Err(problems)
        }
    }
}

/// Reads the school's words, or returns the usual ones.
fn read_words(arguments: &cli::FeedbackArguments) -> Result<words::Words, Vec<problem::Problem>> {
    let Some(path) = &arguments.words else {
        return Ok(words::Words::default());
    };
    let text = files::written(path).map_err(|problem| vec![problem])?;
    words::read(&text, &files::shown(path))
}

/// Says why the record is needed, where nobody said where it is.
fn without_record(
    arguments: &cli::FeedbackArguments,
    problem: problem::Problem,
) -> problem::Problem {
    if arguments.homework.is_some() {
        return problem;
    }
    problem::Problem::new(
        problem.place,
        format!(
            "the homework's record, which holds the questions that examples are made from: {}",
            problem.what
        ),
        "put homework.json beside the marks, or say where it is with --homework FILE",
    )
}

fn say(path: &Path, said: &feedback::Feedback, console: &mut console::Console) {
    let (classes, notes) = (said.classes.len(), said.notes.len());
    console.remark(format_args!(
        "Homework {}, \"{}\": {} and {}.",
        said.code,
        said.title,
        wording::counted(classes, "class page"),
        wording::counted(notes, "note"),
    ));
    if said.waiting > 0 {
        console.remark(format_args!(
            "Answers that still wait for a person's look, and count neither way: {}.",
            said.waiting
        ));
    }
    console.result(format_args!(
        "  {}  (the first page names pupils: for the class's own teacher)",
        path.display()
    ));
}
