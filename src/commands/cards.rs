//! `toothmark cards`: hands-on tasks in; cards for pupils and for the teacher out.

use crate::cli;
use crate::commands::console;
use crate::commands::files;
use crate::commands::lock;
use crate::commands::save;
use crate::level;
use crate::paper;
use crate::practical;
use crate::practical::card;
use crate::problem;
use crate::wording;

/// The names of what is written.
const FOR_PUPILS: &str = "cards.pdf";
const FOR_THE_TEACHER: &str = "cards-for-the-teacher.pdf";

/// Makes task cards.
///
/// # Errors
///
/// Everything that stood in the way: of the tasks, of what was chosen, or of the folder.
pub fn run(
    arguments: &cli::CardsArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let (Some(levels), Some(folder)) = (arguments.level, &arguments.out) else {
        // The file ends with a line's end of its own.
        console.result(practical::usual_text().trim_end());
        return Ok(());
    };
    let tasks = read(arguments)?;
    let level = |number| level::Level::new(number).expect("the command line takes levels 1 to 8");
    let levels = level::Span {
        low: level(levels.lowest),
        high: level(levels.highest),
    };
    let skills: Vec<level::Skill> = arguments
        .skill
        .iter()
        .map(|text| text.parse().expect("the command line takes skills only"))
        .collect();
    let chosen = tasks.suiting(levels, &skills);
    if chosen.is_empty() {
        return Err(vec![none_chosen(&tasks, levels)]);
    }
    let cards: Vec<card::Card<'_>> = chosen.into_iter().map(card::card).collect();
    let pack = paper::Cards {
        title: &tasks.title,
        edition: &tasks.edition,
        cards: &cards,
    };
    let bar = console.progress(2, "making cards");
    let mut outputs = Vec::new();
    let mut problems = Vec::new();
    for (name, made) in [
        (FOR_PUPILS, paper::cards(&pack)),
        (FOR_THE_TEACHER, paper::teacher_cards(&pack)),
    ] {
        match made {
            Ok(bytes) => outputs.push(save::Output {
                path: folder.join(name),
                bytes,
                standing: save::Standing::Replaced,
            }),
            Err(fault) => problems.push(problem::Problem::new(name, fault.to_string(), "")),
        }
        bar.inc(1);
    }
    bar.finish_and_clear();
    if !problems.is_empty() {
        return Err(problems);
    }
    let lock = lock::take(folder, console).map_err(|problem| vec![problem])?;
    save::all(&lock, &outputs, &[])?;
    console.remark(format_args!(
        "{}, edition {}: {}.",
        tasks.title,
        tasks.edition,
        wording::counted(cards.len(), "card")
    ));
    for (name, what) in [
        (FOR_PUPILS, "print this for the pupils"),
        (
            FOR_THE_TEACHER,
            "answers, what to look for, and every caution",
        ),
    ] {
        console.result(format_args!("  {}  ({what})", folder.join(name).display()));
    }
    console.remark(practical::caution::DEFERS);
    Ok(())
}

/// Reads the school's own tasks, or returns those that come with the program.
fn read(arguments: &cli::CardsArguments) -> Result<practical::Tasks, Vec<problem::Problem>> {
    let Some(path) = &arguments.tasks else {
        return Ok(practical::usual());
    };
    let text = files::written(path).map_err(|problem| vec![problem])?;
    practical::read(&text, &files::shown(path))
}

/// Says which skills there are tasks for.
fn none_chosen(tasks: &practical::Tasks, levels: level::Span) -> problem::Problem {
    let mut skills: Vec<&str> = tasks
        .suiting(levels, &[])
        .iter()
        .map(|task| task.skill.text())
        .collect();
    skills.sort_unstable();
    skills.dedup();
    let hint = if skills.is_empty() {
        "choose another level".to_owned()
    } else {
        format!(
            "at level {levels} there are tasks for {}",
            skills.join(", ")
        )
    };
    problem::Problem::new(
        format!("level {levels}"),
        "no task suits what was chosen",
        hint,
    )
}
