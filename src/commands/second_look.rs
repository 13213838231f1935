//! The second look of `toothmark mark`: a sample out for another person to mark,
//! and what that person gave back in.

use crate::cli;
use crate::commands::clock;
use crate::commands::console;
use crate::commands::files;
use crate::commands::save;
use crate::homework;
use crate::marking;
use crate::marking::second_look;
use crate::marking::second_look::blind;
use crate::marking::second_look::report;
use crate::number;
use crate::problem;
use crate::wording;
use crate::workbook::second_look as sheet;
use crate::workbook::second_marks;
use std::path::Path;
use std::path::PathBuf;

/// The file for the second marker.
const SAMPLE: &str = "second-look.xlsx";
/// What the file may be called once it is given back.
const GIVEN_BACK: [&str; 3] = [SAMPLE, "second-look.ods", "second-look.xls"];

/// What a second look needs.
pub(super) struct Work<'a> {
    pub(super) arguments: &'a cli::SecondLookArguments,
    pub(super) folder: &'a Path,
    pub(super) homework: &'a homework::Homework,
    pub(super) responses: &'a [marking::Response],
    /// Today, ISO 8601.
    pub(super) date: &'a str,
}

/// What was done.
pub(super) struct Done {
    /// The new sample, to be written with the other files.
    pub(super) output: Option<save::Output>,
    /// What to say of the new sample.
    drawn: Option<String>,
    /// The seed of the new sample, where nobody chose one.
    seed: Option<String>,
    /// Files whose samples are not in the record.
    unknown: Vec<PathBuf>,
}

/// Takes in the second marks that came back, then draws a new sample where one is
/// wanted; both go into the record.
pub(super) fn look(
    work: &Work<'_>,
    marked: &mut marking::Marked,
) -> Result<Done, Vec<problem::Problem>> {
    let files = given_back(work, marked)?;
    let mut unknown = Vec::new();
    let mut is_filled = false;
    for file in files {
        if let second_marks::Origin::Today = file.given.origin {
            unknown.push(file.path.clone());
        }
        is_filled |= is_same_file(&file.path, &work.folder.join(SAMPLE));
        let looks = std::mem::take(&mut marked.second_looks);
        marked.second_looks = second_look::with(looks, file.given.look);
    }
    let mut done = Done {
        output: None,
        drawn: None,
        seed: None,
        unknown,
    };
    if let Some(share) = work.arguments.share {
        // Marks that another person gave are never thrown away.
        let standing = if is_filled {
            save::Standing::Kept {
                date: work.date.to_owned(),
            }
        } else {
            save::Standing::Replaced
        };
        draw(work, marked, share, standing, &mut done)?;
    }
    Ok(done)
}

/// A file with second marks in it.
struct File {
    path: PathBuf,
    given: second_marks::GivenBack,
}

/// Reads every file with second marks; the one named, or those in the folder.
fn given_back(
    work: &Work<'_>,
    marked: &marking::Marked,
) -> Result<Vec<File>, Vec<problem::Problem>> {
    let in_folder = GIVEN_BACK.map(|name| work.folder.join(name));
    let mut paths: Vec<PathBuf> = in_folder.into_iter().filter(|it| it.exists()).collect();
    if let Some(named) = &work.arguments.second_marks {
        // A new sample replaces the one in the folder, so that must be looked at too.
        paths.retain(|path| {
            work.arguments.share.is_some() && path.ends_with(SAMPLE) && !is_same_file(path, named)
        });
        paths.insert(0, named.clone());
    }
    let mut found: Vec<File> = Vec::new();
    let mut problems = Vec::new();
    for path in paths {
        let bytes = files::workbook(&path).map_err(|problem| vec![problem]);
        let file = files::shown(&path);
        let known = second_marks::Known {
            file: &file,
            marked,
            date: work.date,
        };
        match bytes.and_then(|bytes| second_marks::read(&known, &bytes)) {
            Ok(Some(given)) => match found.iter().find(|it| is_rival(it, &given)) {
                Some(other) => problems.push(problem::Problem::new(
                    file,
                    format!(
                        "has other second marks for the sample that is also in {}",
                        files::shown(&other.path)
                    ),
                    "name the one that counts with --second-marks FILE, or move the other away",
                )),
                None => found.push(File { path, given }),
            },
            Ok(None) if work.arguments.second_marks.as_ref() == Some(&path) => {
                problems.push(problem::Problem::new(
                    file,
                    "found no mark in the column for second marks",
                    "check that it is the filled-in file, and that it was saved",
                ));
            }
            Ok(None) => {}
            Err(more) => problems.extend(more),
        }
    }
    if problems.is_empty() {
        Ok(found)
    } else {
        Err(problems)
    }
}

/// Whether both files hold the same sample with different marks.
fn is_rival(file: &File, given: &second_marks::GivenBack) -> bool {
    let look = &file.given.look;
    look.is_same(&given.look) && look.rows != given.look.rows
}

fn is_same_file(one: &Path, other: &Path) -> bool {
    match (one.canonicalize(), other.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        (Ok(_) | Err(_), Ok(_) | Err(_)) => false,
    }
}

fn draw(
    work: &Work<'_>,
    marked: &mut marking::Marked,
    share: number::Number,
    standing: save::Standing,
    done: &mut Done,
) -> Result<(), Vec<problem::Problem>> {
    let share = second_look::Share::new(share)
        .expect("the command line takes shares above 0 and not over 1");
    let chosen = work.arguments.seed.clone();
    let seed = chosen.clone().unwrap_or_else(clock::chosen_seed);
    let plan = second_look::Plan {
        seed: &seed,
        share,
        date: work.date,
    };
    let Some(look) = second_look::draw(marked, &plan) else {
        return Err(vec![problem::Problem::new(
            "--second-look",
            "found no answer that was attempted, so there is none to mark a second time",
            "mark without --second-look",
        )]);
    };
    let answers = blind::answers(
        &look,
        &blind::Source {
            homework: work.homework,
            responses: work.responses,
            marked,
        },
    );
    let heading = sheet::Heading {
        homework: work.homework,
        look: &look,
    };
    let bytes = sheet::write(&heading, &answers).map_err(|problem| vec![problem])?;
    let path = work.folder.join(SAMPLE);
    done.drawn = Some(format!(
        "  {}  ({} for another person to mark, without marks or names)",
        path.display(),
        wording::counted(answers.len(), "answer")
    ));
    if chosen.is_none() {
        done.seed = Some(seed);
    }
    done.output = Some(save::Output {
        path,
        bytes,
        standing,
    });
    let looks = std::mem::take(&mut marked.second_looks);
    marked.second_looks = second_look::with(looks, look);
    Ok(())
}

impl Done {
    /// Says what came of the second look, and what was drawn.
    pub(super) fn say(&self, marked: &marking::Marked, console: &mut console::Console) {
        for path in &self.unknown {
            console.warning(format_args!(
                "{}: the record of this sample is not in the folder, so today's marks are taken \
                 as the first marks",
                path.display()
            ));
        }
        if let Some(drawn) = &self.drawn {
            console.remark(drawn);
        }
        if let Some(seed) = &self.seed {
            console.result(format_args!(
                "The seed of the sample is {seed}. To draw the same sample again, add: --seed {seed}"
            ));
        }
        if let Some(report) = report::of(marked) {
            say_report(&report, console);
        }
    }
}

fn say_report(report: &report::Report<'_>, console: &mut console::Console) {
    let Some(all) = report.lines.first() else {
        return;
    };
    let percent = all
        .agreement_percent()
        .map_or_else(String::new, |percent| format!(" ({percent}%)"));
    let weighted = all
        .weighted_kappa_text()
        .map_or_else(String::new, |kappa| format!(", weighted kappa {kappa}"));
    console.remark(format_args!(
        "Second look of {}: {} marked twice, {} the same{percent}; kappa {}{weighted}.",
        report.look.drawn_on,
        wording::counted(all.items(), "answer"),
        all.same(),
        all.kappa_text(),
    ));
    if report.waiting > 0 {
        console.remark(format_args!(
            "Answers of the sample without a second mark: {}.",
            report.waiting
        ));
    }
    if !report.changed.is_empty() {
        console.remark(format_args!(
            "Answers that have changed since the sample was drawn, and are left out: {}.",
            report.changed.len()
        ));
    }
    if !report.disagreements.is_empty() {
        console.remark(format_args!(
            "Answers with two different marks: {}; the worksheet `Second look` lists them, and a \
             `Changed mark` settles each.",
            report.disagreements.len()
        ));
    }
}
