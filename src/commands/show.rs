//! `toothmark show`: a homework as a page for the classroom screen.

use crate::cli;
use crate::commands::console;
use crate::commands::files;
use crate::commands::save;
use crate::commands::set;
use crate::homework;
use crate::problem;
use crate::screen;

/// The most versions that a message names.
const MOST_NAMED: usize = 12;

/// Writes the page.
///
/// # Errors
///
/// A record that cannot be read, a sheet or pupil that is not in it, a question
/// without an answer, a page that cannot be saved.
pub fn run(
    arguments: &cli::ShowArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let record = if arguments.homework.is_dir() {
        arguments.homework.join(set::RECORD)
    } else {
        arguments.homework.clone()
    };
    let file = files::shown(&record);
    let text = files::text(&record).map_err(|problem| vec![problem])?;
    let homework = homework::from_json(&text, &file)?;
    let sheet = sheet(&homework, arguments, &file).map_err(|problem| vec![problem])?;
    let page = screen::page(&homework, sheet).map_err(|faults| {
        let at = format!("{file}: sheet {}", sheet.version);
        faults
            .iter()
            .map(|fault| problem::Problem::new(at.clone(), fault.to_string(), ""))
            .collect::<Vec<_>>()
    })?;
    let output = save::Output {
        path: arguments.out.clone(),
        bytes: page.into_bytes(),
        standing: save::Standing::Refused,
    };
    save::one(output)?;
    console.remark(format_args!(
        "Sheet {} is in {}. Open it in a browser.",
        sheet.version,
        files::shown(&arguments.out)
    ));
    Ok(())
}

/// The sheet that was asked for; the first where none was.
fn sheet<'h>(
    homework: &'h homework::Homework,
    arguments: &cli::ShowArguments,
    file: &str,
) -> Result<&'h homework::Sheet, problem::Problem> {
    let missing = |what: String, hint: String| problem::Problem::new(file, what, hint);
    if let Some(version) = &arguments.sheet {
        let mut sheets = homework.sheets.iter();
        return sheets
            .find(|sheet| sheet.version == *version)
            .ok_or_else(|| {
                missing(
                    format!("there is no sheet \"{version}\""),
                    format!("the sheets are {}", versions(homework)),
                )
            });
    }
    if let Some(id) = &arguments.pupil {
        let mut pupils = homework.pupils.iter();
        return pupils
            .find(|assignment| assignment.pupil.id == *id)
            .and_then(|assignment| homework.sheets.get(assignment.sheet))
            .ok_or_else(|| {
                missing(
                    format!("there is no pupil with the id \"{id}\""),
                    "write the id as the roll has it".to_owned(),
                )
            });
    }
    homework.sheets.first().ok_or_else(|| {
        missing(
            "there is no sheet in it".to_owned(),
            "use the homework.json that `toothmark set` wrote, unchanged".to_owned(),
        )
    })
}

/// The versions of the sheets, shortly.
fn versions(homework: &homework::Homework) -> String {
    let sheets = homework.sheets.iter().take(MOST_NAMED);
    let mut named: Vec<&str> = sheets.map(|sheet| sheet.version.as_str()).collect();
    if homework.sheets.len() > MOST_NAMED {
        named.push("...");
    }
    named.join(", ")
}
