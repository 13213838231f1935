//! `toothmark bank`: checks banks, lists and shows their questions.

use crate::answer;
use crate::bank;
use crate::cli;
use crate::commands::console;
use crate::commands::files;
use crate::gears::solve;
use crate::item;
use crate::item::pool;
use crate::item::trial;
use crate::problem;
use crate::seed;
use crate::wording;
use std::path::Path;

/// Looks at question banks.
///
/// # Errors
///
/// Everything that stood in the way: files that do not open, faults of banks.
pub fn run(
    arguments: &cli::BankArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    match &arguments.command {
        cli::BankCommand::Check(files) => check(&open(files)?, console),
        cli::BankCommand::List(files) => {
            list(&open(files)?, console);
            Ok(())
        }
        cli::BankCommand::Show(files) => show(&open(files)?, console),
    }
}

/// Reads every bank, or tells every fault of all of them.
fn open(files: &cli::BankFiles) -> Result<Vec<bank::Bank>, Vec<problem::Problem>> {
    let mut banks = Vec::new();
    let mut problems = Vec::new();
    for file in &files.files {
        match read(file) {
            Ok(bank) => banks.push(bank),
            Err(mut faults) => problems.append(&mut faults),
        }
    }
    if problems.is_empty() {
        Ok(banks)
    } else {
        Err(problems)
    }
}

/// Reads the bank of a file.
///
/// # Errors
///
/// That the file does not open, or every fault in it.
pub fn read(file: &Path) -> Result<bank::Bank, Vec<problem::Problem>> {
    let text = files::written(file).map_err(|problem| vec![problem])?;
    bank::read(&text, &files::shown(file))
}

/// Tries every question out at each of its levels.
fn check(
    banks: &[bank::Bank],
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let count: usize = banks.iter().map(|bank| bank.templates.len()).sum();
    let progress = console.progress(u64::try_from(count).unwrap_or(0), "trying out");
    let mut problems = Vec::new();
    let mut notices = Vec::new();
    for template in banks.iter().flat_map(|bank| &bank.templates) {
        let trials = trial::out(template);
        problems.extend(trial::problems(template, &trials));
        notices.extend(trial::notices(template, &trials));
        progress.inc(1);
    }
    progress.finish_and_clear();
    for notice in notices {
        console.warning(notice);
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    for bank in banks {
        console.result(format!(
            "{} ({}): {} questions, no fault found",
            bank.title,
            bank.id,
            bank.templates.len()
        ));
    }
    Ok(())
}

fn list(banks: &[bank::Bank], console: &mut console::Console) {
    for bank in banks {
        console.result(format!(
            "{} ({}, edition {})",
            bank.title, bank.id, bank.edition
        ));
        for template in &bank.templates {
            let levels: Vec<String> = template.levels.iter().map(ToString::to_string).collect();
            let marks: u32 = template
                .parts
                .iter()
                .map(|part| u32::from(part.marks))
                .sum();
            console.result(format!(
                "  {:<40} {:<14} level {:<9} {}",
                template.id,
                template.skill.text(),
                levels.join(", "),
                wording::counted(marks, "mark"),
            ));
        }
    }
}

/// Shows every question once at its lowest level, with the answers.
fn show(banks: &[bank::Bank], console: &mut console::Console) -> Result<(), Vec<problem::Problem>> {
    let mut problems = Vec::new();
    for bank in banks {
        console.result(format!(
            "{} ({}, edition {})",
            bank.title, bank.id, bank.edition
        ));
        for template in &bank.templates {
            match sample(bank, template) {
                Ok(items) => question(template, &items, console),
                Err(problem) => problems.push(problem),
            }
        }
    }
    if problems.is_empty() {
        Ok(())
    } else {
        Err(problems)
    }
}

/// Draws a question at its lowest level, always with the same numbers.
fn sample(
    bank: &bank::Bank,
    template: &bank::Template,
) -> Result<Vec<item::Item>, problem::Problem> {
    let level = *template
        .levels
        .first()
        .expect("a checked template names a level");
    let mut stream = seed::Stream::named(&["show", &bank.id, &template.id], 0);
    let pool = pool::fill(template, level, 1, &mut stream);
    let setting = pool::Setting {
        bank: &bank.id,
        position: 1,
        story: 0,
    };
    pool.kinds
        .first()
        .and_then(|kind| kind.first())
        .map(|version| pool.items(version, &setting))
        .ok_or_else(|| {
            problem::Problem::new(
                &template.place,
                format!("\"{}\" cannot be set: {}", template.id, pool.why_none()),
                "`toothmark bank check` looks at every level",
            )
        })
}

fn question(template: &bank::Template, items: &[item::Item], console: &mut console::Console) {
    let Some(first) = items.first() else { return };
    console.result(format!(
        "\n{} ({}, level {})\n  {}",
        template.id,
        template.skill.title().to_lowercase(),
        first.level,
        first.story
    ));
    for item in items {
        let answer = match solve::answer(&item.mechanism, &item.ask) {
            Ok(worked) => answer::expected(&worked.fact, &item.form),
            Err(_) => "none".to_owned(),
        };
        console.result(format!(
            "  {}\n    {answer}   ({})",
            item.question,
            wording::counted(item.marks, "mark")
        ));
    }
}
