//! `toothmark set --after`: marked homeworks in; a sheet of their own for each pupil.

use crate::cli;
use crate::commands::console;
use crate::commands::files;
use crate::commands::records;
use crate::commands::set;
use crate::homework;
use crate::next;
use crate::next::pace;
use crate::problem;
use crate::wording;
use crate::workbook::answer_book;
use std::path::Path;

/// Sets the next homework by what pupils answered before.
///
/// # Errors
///
/// Everything that stood in the way: of the records, or of the choice of questions.
pub(super) fn make(
    arguments: &cli::SetArguments,
    plan: &homework::Plan<'_>,
    console: &mut console::Console,
) -> Result<set::Made, Vec<problem::Problem>> {
    let records = read(arguments, console)?;
    let next = next::plan(&records, plan);
    let wished: Vec<homework::wish::Wished> = next
        .pupils
        .iter()
        .map(|pupil| pupil.wished.clone())
        .collect();
    let fulfilled = homework::set_wished(plan, &wished)?;
    let mut whys = Vec::new();
    let mut summary = Summary::default();
    let granted = fulfilled.homework.pupils.iter().zip(&fulfilled.granted);
    for (assignment, granted) in granted {
        let id = &assignment.pupil.id;
        let planned = next.pupils.iter().find(|it| it.wished.pupil_id == *id);
        if let Some(planned) = planned {
            summary.count(planned);
            whys.push(answer_book::Why {
                pupil_id: id.clone(),
                name: assignment.pupil.name.clone(),
                level: planned.level().number(),
                line: next::why(planned, granted),
            });
        }
    }
    let marks = fulfilled.homework.sheets.first().map_or(0, marks);
    let mut notices = next.notices;
    notices.extend(fulfilled.notices);
    Ok(set::Made {
        homework: fulfilled.homework,
        notices,
        whys,
        told: vec![
            format!(
                "Went by {}. {} on each sheet.",
                wording::counted(records.len(), "marked homework"),
                wording::counted(marks, "mark"),
            ),
            summary.said(),
        ],
    })
}

fn marks(sheet: &homework::Sheet) -> u32 {
    sheet.items.iter().map(|item| u32::from(item.marks)).sum()
}

/// Reads every record, and what was set where that lies beside it.
fn read(
    arguments: &cli::SetArguments,
    console: &console::Console,
) -> Result<Vec<next::Record>, Vec<problem::Problem>> {
    let mut problems = Vec::new();
    let found = records::find(&arguments.after, &mut problems);
    let count = u64::try_from(found.len()).unwrap_or(u64::MAX);
    let bar = console.progress(count, "reading marked homeworks");
    let mut read = Vec::new();
    for path in &found {
        match records::read(path).and_then(|marked| {
            let homework = beside(path)?;
            Ok(next::Record::new(&marked, homework))
        }) {
            Ok(record) => read.push(record),
            Err(found) => problems.extend(found),
        }
        bar.inc(1);
    }
    bar.finish_and_clear();
    if problems.is_empty() {
        Ok(read)
    } else {
        Err(problems)
    }
}

/// The homework whose record lies beside the marks, where one does.
fn beside(path: &Path) -> Result<Option<homework::Homework>, Vec<problem::Problem>> {
    let path = path.with_file_name(set::RECORD);
    if !path.exists() {
        return Ok(None);
    }
    let text = files::text(&path).map_err(|problem| vec![problem])?;
    homework::from_json(&text, &files::shown(&path)).map(Some)
}

/// How many pupils got what, for the terminal: no pupil is named there.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Summary {
    thinking: usize,
    gone: usize,
    up: usize,
    down: usize,
    missed: usize,
    new: usize,
}

impl Summary {
    fn count(&mut self, pupil: &next::Pupil) {
        self.thinking += usize::from(!pupil.beliefs.is_empty());
        self.gone += usize::from(!pupil.gone.is_empty());
        self.missed += usize::from(!pupil.missed.is_empty());
        match pupil.pace {
            pace::Pace::Up(..) => self.up += 1,
            pace::Pace::Down(..) => self.down += 1,
            pace::Pace::Start => self.new += usize::from(pupil.missed.is_empty()),
            pace::Pace::OnTheRoll | pace::Pace::TooFew | pace::Pace::Same(..) => {}
        }
    }

    fn said(self) -> String {
        let said: Vec<String> = [
            (self.thinking, "with questions on a way of thinking"),
            (self.gone, "in whom one has gone"),
            (self.up, "one level up"),
            (self.down, "one level down"),
            (self.missed, "with questions that were missed"),
            (self.new, "with a plain sheet, as nothing is known yet"),
        ]
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, what)| format!("{count} {what}"))
        .collect();
        if said.is_empty() {
            "Every pupil gets practice at the level before.".to_owned()
        } else {
            format!("Pupils: {}.", said.join(", "))
        }
    }
}
