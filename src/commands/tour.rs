//! `toothmark tour`: the main job once, on the invented school.
//!
//! Sets a homework for one class, marks what the four classes handed in over three terms,
//! gives feedback to one, reviews them, and says where to look.

use crate::cli;
use crate::commands::console;
use crate::commands::feedback;
use crate::commands::mark;
use crate::commands::review;
use crate::commands::set;
use crate::problem;
use std::fs;
use std::io;
use std::path::Path;
use std::path::PathBuf;

/// Where the invented school and the banks lie, from the project's folder.
const CLASSES: &str = "sample-classes";
const BANK: &str = "question-banks/gears-7-11.toml";

/// Where a class's folder has its homeworks: the first in the folder itself.
const TERMS: [&str; 3] = ["", "spring", "summer"];

/// The class whose homework is set on the way.
const CLASS: &str = "5-rowan";

/// Runs set, mark, feedback and review on an invented school.
///
/// # Errors
///
/// Everything that stood in the way; above all that the samples are not here.
pub fn run(
    arguments: &cli::TourArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let classes = classes()?;
    let out = &arguments.out;

    console
        .remark("1. A teacher sets a homework: each pupil of 5 Rowan gets numbers of their own.");
    let homework = out.join("set");
    set::run(&homework_of_the_class(&homework), console)?;

    console.remark(
        "\n2. An assistant marks what four classes handed in, in three terms. It is work of the \
         school year 2025/26, so once that is over you are told that it need not be kept.",
    );
    let marked = out.join("marked");
    for work in &classes {
        mark(work, &marked, console)?;
    }

    console.remark("\n3. The teacher of 5 Rowan gives feedback.");
    let arguments = cli::FeedbackArguments {
        marked: Some(marked.join(CLASS)),
        homework: Some(homework.join(set::RECORD)),
        words: None,
        show_words: false,
        marks: false,
        seed: None,
        out: None,
    };
    feedback::run(&arguments, console)?;

    console.remark("\n4. A subject lead reviews them.");
    let review = out.join("review");
    let arguments = cli::ReviewArguments {
        paths: vec![marked.clone()],
        out: review.clone(),
        policy: None,
        calendar: Some(Path::new(CLASSES).join("terms.toml")),
        bands: None,
        curriculum: Vec::new(),
        parquet: false,
        for_class: None,
    };
    review::run(&arguments, console)?;

    console.remark("\nWhere to look:");
    for (path, what) in [
        (homework.join("sheets.pdf"), "what the pupils get"),
        (
            homework.join("mark-scheme.pdf"),
            "worked solutions and what each mistake earns",
        ),
        (
            marked.join(CLASS).join("marked.xlsx"),
            "marks, reasons, and under `To check` what needs you",
        ),
        (
            marked.join(CLASS).join("feedback.pdf"),
            "a page for the teacher, then notes for the pupils to cut out",
        ),
        (
            review.join("attainment.html"),
            "what holds, what does not, what to do next: open it in a browser",
        ),
    ] {
        console.result(format_args!("  {}  ({what})", path.display()));
    }
    Ok(())
}

/// Marks what a class handed in: the first homework with all that `mark` says, the later
/// ones with a line each.
fn mark(
    work: &HandedIn,
    marked: &Path,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let arguments = cli::MarkArguments {
        answers: Some(work.answers.clone()),
        homework: None,
        decided: Vec::new(),
        policy: None,
        show_policy: false,
        out: Some(marked.join(&work.class).join(work.term)),
        second_look: cli::SecondLookArguments::default(),
    };
    if work.term.is_empty() {
        return mark::run(&arguments, console);
    }
    let (out, err) = (Box::new(io::sink()), Box::new(io::sink()));
    let mut silent = console::Console::on(console::Loudness::Quiet, out, err);
    mark::run(&arguments, &mut silent)?;
    console.remark(format_args!("  {} in {} as well", work.class, work.term));
    Ok(())
}

/// The very homework that the class's answers belong to.
fn homework_of_the_class(out: &Path) -> cli::SetArguments {
    cli::SetArguments {
        bank: vec![PathBuf::from(BANK)],
        roll: Path::new(CLASSES).join(CLASS).join("roll.csv"),
        level: cli::LevelSpan {
            lowest: 3,
            highest: 5,
        },
        skill: Vec::new(),
        questions: cli::QuestionCount::Number(12),
        after: Vec::new(),
        seed: Some("rowan-autumn".to_owned()),
        versions: cli::Versions::Each,
        title: Some("Gears that turn gears".to_owned()),
        year: None,
        date: Some("2025-10-07".to_owned()),
        keep_until: None,
        printing: cli::PrintArguments::default(),
        out: out.to_owned(),
    }
}

/// Answers that a class handed in.
struct HandedIn {
    /// The name of the class's folder.
    class: String,
    /// The folder in it, for a homework after the first.
    term: &'static str,
    answers: PathBuf,
}

/// What every class handed in, class by class.
fn classes() -> Result<Vec<HandedIn>, Vec<problem::Problem>> {
    let missing = || {
        vec![problem::Problem::new(
            CLASSES,
            "there are no sample classes here",
            "run this in the project's own folder, where sample-classes and question-banks are",
        )]
    };
    let mut folders: Vec<String> = fs::read_dir(CLASSES)
        .map_err(|_| missing())?
        .flatten()
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    folders.sort();
    let mut classes = Vec::new();
    for class in folders {
        for term in TERMS {
            let folder = Path::new(CLASSES).join(&class).join(term);
            let answers = ["xlsx", "ods", "csv"]
                .map(|ending| folder.join("answers").with_extension(ending))
                .into_iter()
                .find(|path| path.is_file());
            classes.extend(answers.map(|answers| HandedIn {
                class: class.clone(),
                term,
                answers,
            }));
        }
    }
    if classes.is_empty() {
        Err(missing())
    } else {
        Ok(classes)
    }
}
