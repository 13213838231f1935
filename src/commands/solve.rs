//! `toothmark solve`: a teacher's own mechanism, worked out in full.

mod report;
mod supposed;
mod typed;
mod working;

use crate::cli;
use crate::commands::console;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::gears::solve;
use crate::problem;
use crate::wording;

/// Works out a mechanism and the questions about it.
///
/// # Errors
///
/// Every fault of what was typed, each with its line and a mark under the place;
/// every fault of the mechanism, unless a question (will it turn?) is about that.
pub fn run(
    arguments: &cli::SolveArguments,
    console: &mut console::Console,
) -> Result<(), Vec<problem::Problem>> {
    let typed = typed::read(&arguments.mechanism)?;
    let mechanism = &typed.mechanism;
    let mut answers: Vec<Answer> = typed
        .asks
        .iter()
        .map(|asked| solve::answer(mechanism, asked))
        .collect();
    // A movement is supposed only where something wants one.
    let supposed = if answers.iter().all(Result::is_ok) && !answers.is_empty() {
        None
    } else {
        supposed::with_movement(mechanism)
    };
    if let Some(supposed) = &supposed {
        for (asked, answer) in typed.asks.iter().zip(&mut answers) {
            if answer.is_err()
                && let Ok(worked) = solve::answer(&supposed.mechanism, asked)
            {
                *answer = Ok(worked);
            }
        }
    }
    let solved = solve_all(supposed.as_ref().map_or(mechanism, |it| &it.mechanism));
    let unanswered = problems(&typed, &solved, &answers);
    if !unanswered.is_empty() {
        return Err(unanswered);
    }
    let mut report = report::Report::new(mechanism, supposed.as_ref());
    match &solved {
        Ok(solution) => report.solution(solution),
        // That counts are unknown is what the questions are about.
        Err(faults) if faults.contains(&fault::Fault::TooManyUnknowns) => {}
        Err(faults) => report.cannot_turn(faults),
    }
    for (asked, answer) in typed.asks.iter().zip(&answers) {
        if let Ok(worked) = answer {
            report.answer(asked, worked);
        }
    }
    console.result(report.text());
    Ok(())
}

type Answer = Result<solve::Worked, Vec<fault::Fault>>;

/// Works out everything that follows; with several counts to be found nothing does.
fn solve_all(mechanism: &mechanism::Mechanism) -> Result<solve::Solution, Vec<fault::Fault>> {
    let unknown = mechanism
        .parts
        .iter()
        .filter(|part| supposed::is_unknown(part));
    if unknown.count() > 1 {
        return Err(vec![fault::Fault::TooManyUnknowns]);
    }
    solve::solve(mechanism)
}

/// What stands in the way: faults of the mechanism where nothing is asked about it,
/// and of each question that has no answer. A fault is told once.
fn problems(
    typed: &typed::Typed,
    solved: &Result<solve::Solution, Vec<fault::Fault>>,
    answers: &[Answer],
) -> Vec<problem::Problem> {
    let of_mechanism = solved.as_ref().err().map_or(&[][..], Vec::as_slice);
    let mut told: Vec<&fault::Fault> = Vec::new();
    let mut found = Vec::new();
    if typed.asks.is_empty() {
        for fault in of_mechanism {
            found.push(problem(typed, "the mechanism".to_owned(), fault));
        }
    }
    for (asked, answer) in typed.asks.iter().zip(answers) {
        for fault in answer.as_ref().err().into_iter().flatten() {
            if told.contains(&fault) {
                continue;
            }
            told.push(fault);
            let place = if of_mechanism.contains(fault) {
                "the mechanism".to_owned()
            } else {
                format!("\"{}\"", notation::write_ask(asked, &typed.mechanism))
            };
            found.push(problem(typed, place, fault));
        }
    }
    found
}

fn problem(typed: &typed::Typed, place: String, fault: &fault::Fault) -> problem::Problem {
    problem::Problem::new(
        place,
        wording::fault(&typed.mechanism, fault),
        wording::fault_hint(fault),
    )
}
