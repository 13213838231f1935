//! `toothmark set`: banks and a roll in; sheets, mark scheme, answer workbook and
//! record out.

use crate::bank;
use crate::cli;
use crate::commands::after;
use crate::commands::bank as commands_bank;
use crate::commands::clock;
use crate::commands::console;
use crate::commands::files;
use crate::commands::lock;
use crate::commands::save;
use crate::cores;
use crate::homework;
use crate::level;
use crate::need;
use crate::paper;
use crate::problem;
use crate::retention;
use crate::wording;
use crate::workbook::answer_book;
use crate::workbook::roll;
use std::path::Path;

/// The files a homework consists of, in the order they are told.
pub(super) const RECORD: &str = "homework.json";
const ANSWERS: &str = "answers.xlsx";
const SHEETS: &str = "sheets.pdf";
const MARK_SCHEME: &str = "mark-scheme.pdf";

/// A homework, with what to tell of it.
pub(super) struct Made {
    pub(super) homework: homework::Homework,
    pub(super) notices: Vec<homework::Notice>,
    /// Why each pupil got these questions; nothing where all get the same.
    pub(super) whys: Vec<answer_book::Why>,
    /// What the choice came to, without names.
    pub(super) told: Vec<String>,
}

/// Sets a homework.
///
/// # Errors
///
/// Everything that stood in the way: of the banks, the roll, the choice of
/// questions, or the folder.
pub fn run(
    arguments: &cli::SetArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let (banks, roll) = read(arguments)?;
    let seed = arguments.seed.clone().unwrap_or_else(clock::chosen_seed);
    let plan = plan(arguments, &banks, roll.pupils, &seed);
    let class = need::Class {
        usual: arguments.printing.needs(),
        own: roll.needs,
    };
    let made = if arguments.after.is_empty() {
        let (homework, notices) = homework::set(&plan)?;
        Made {
            homework,
            notices,
            whys: Vec::new(),
            told: Vec::new(),
        }
    } else {
        after::make(arguments, &plan, console)?
    };
    for notice in &made.notices {
        console.warning(notice);
    }
    let outputs = make(&arguments.out, &made, &class, console)?;
    let lock = lock::take(&arguments.out, console).map_err(|problem| vec![problem])?;
    save::all(&lock, &outputs, &[])?;
    say(arguments, &made, console);
    if is_on_large_paper(&made.homework, &class) {
        console.remark(format_args!(
            "Pages of {SHEETS} in 36 point are A3: let the printer choose the paper by the page."
        ));
    }
    Ok(())
}

/// Reads the banks and the roll, and tells what is wrong with any of them at once.
fn read(
    arguments: &cli::SetArguments,
) -> Result<(Vec<bank::Bank>, roll::Roll), Vec<problem::Problem>> {
    let mut problems = Vec::new();
    let mut banks = Vec::new();
    for path in &arguments.bank {
        match commands_bank::read(path) {
            Ok(bank) => banks.push(bank),
            Err(found) => problems.extend(found),
        }
    }
    let roll = files::workbook(&arguments.roll)
        .map_err(|problem| vec![problem])
        .and_then(|bytes| roll::read(&files::shown(&arguments.roll), &bytes));
    match roll {
        Ok(roll) if problems.is_empty() => Ok((banks, roll)),
        Ok(_) => Err(problems),
        Err(found) => {
            problems.extend(found);
            Err(problems)
        }
    }
}

fn plan<'b>(
    arguments: &cli::SetArguments,
    banks: &'b [bank::Bank],
    pupils: Vec<homework::Pupil>,
    seed: &str,
) -> homework::Plan<'b> {
    let level = |number| level::Level::new(number).expect("the command line takes levels 1 to 8");
    let levels = level::Span {
        low: level(arguments.level.lowest),
        high: level(arguments.level.highest),
    };
    let skills = arguments
        .skill
        .iter()
        .map(|text| {
            text.parse::<level::Skill>()
                .expect("the command line takes skills only")
        })
        .collect();
    let title = arguments
        .title
        .clone()
        .unwrap_or_else(|| "Gears homework".to_owned());
    homework::Plan {
        banks,
        pupils,
        year: arguments.year.clone(),
        levels,
        skills,
        questions: match arguments.questions {
            cli::QuestionCount::All => homework::Questions::All,
            cli::QuestionCount::Number(count) => homework::Questions::Count(
                usize::try_from(count).expect("a count of questions is small"),
            ),
        },
        versions: match arguments.versions {
            cli::Versions::Same => homework::Versions::Same,
            cli::Versions::Each => homework::Versions::Each,
        },
        seed: seed.to_owned(),
        title,
        date: arguments.date.clone().unwrap_or_else(clock::today),
        keep_until: arguments.keep_until,
    }
}

/// Makes every file in memory before any is written.
fn make(
    folder: &Path,
    made: &Made,
    class: &need::Class,
    console: &console::Console,
) -> Result<Vec<save::Output>, Vec<problem::Problem>> {
    let homework = &made.homework;
    let bar = console.progress(4, "making the homework");
    let mut problems = Vec::new();
    let mut outputs = Vec::new();
    let mut keep = |name: &'static str, made: Result<Vec<u8>, problem::Problem>| {
        match made {
            // Another homework in this folder, or answers typed into its workbook,
            // must not be lost.
            Ok(bytes) => outputs.push(save::Output {
                path: folder.join(name),
                bytes,
                standing: save::Standing::Refused,
            }),
            Err(problem) => problems.push(problem),
        }
        bar.inc(1);
    };
    let (sheets, mark_scheme) = cores::both(
        || paper::sheets(homework, class),
        || paper::mark_scheme(homework),
    );
    keep(RECORD, Ok(homework::to_json(homework).into_bytes()));
    keep(ANSWERS, answer_book::write_explained(homework, &made.whys));
    keep(SHEETS, sheets.map_err(|fault| unprintable(SHEETS, &fault)));
    keep(
        MARK_SCHEME,
        mark_scheme.map_err(|fault| unprintable(MARK_SCHEME, &fault)),
    );
    bar.finish_and_clear();
    if problems.is_empty() {
        Ok(outputs)
    } else {
        Err(problems)
    }
}

/// Whether any pupil's sheet is larger than the usual paper.
fn is_on_large_paper(homework: &homework::Homework, class: &need::Class) -> bool {
    homework
        .pupils
        .iter()
        .map(|assignment| class.of(&assignment.pupil.id))
        .any(|needs| needs.print_size == need::PrintSize::Point36)
}

fn unprintable(name: &str, fault: &paper::PaperError) -> problem::Problem {
    problem::Problem::new(name, fault.to_string(), "")
}

fn say(arguments: &cli::SetArguments, made: &Made, console: &mut console::Console) {
    let homework = &made.homework;
    let pupils = wording::counted(homework.pupils.len(), "pupil");
    let sheets = match homework.sheets.len() {
        1 => "one sheet for all".to_owned(),
        sheets => format!("{sheets} different sheets"),
    };
    console.remark(format_args!(
        "Homework {}, \"{}\": {pupils}, {sheets}.",
        homework.code, homework.title
    ));
    for told in &made.told {
        console.remark(told);
    }
    if arguments.seed.is_none() {
        console.result(format_args!(
            "The seed is {}. To make the same homework again, add: --seed {} --date {}",
            homework.seed, homework.seed, homework.date
        ));
    }
    console.remark(format_args!(
        "These files hold pupils' names. {}",
        retention::sentence(homework.kept_until())
    ));
    for (name, what) in [
        (SHEETS, "print this for the pupils"),
        (MARK_SCHEME, "answers, worked solutions and marks"),
        (
            ANSWERS,
            if made.whys.is_empty() {
                "type the pupils' answers into this, then run: toothmark mark"
            } else {
                "says why each pupil got these questions; type the answers into it, then run: \
                 toothmark mark"
            },
        ),
        (RECORD, "keep this beside the answers; marking needs it"),
    ] {
        console.remark(format_args!(
            "  {}  ({what})",
            arguments.out.join(name).display()
        ));
    }
}
