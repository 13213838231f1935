//! `toothmark solve`: a teacher's own mechanism, worked out in full.

mod picture;
mod report;
mod supposed;
mod typed;
mod working;

use crate::cli;
use crate::commands::console;
use crate::commands::files;
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
/// every fault of the mechanism, unless a question (will it turn?) is about that; a
/// drawing that cannot be made or saved.
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
    if let Some(path) = &arguments.drawing {
        picture::save(path, &typed)?;
        console.remark(format!("The drawing is in {}.", files::shown(path)));
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::Strategy;
    use proptest::{collection, prop_assert, sample};

    /// Lines that are each well formed; together they may be nonsense.
    /// The first two declare what the others speak of.
    const LINES: [&str; 40] = [
        "gear A 12 drives gear B 36",
        "A meshes with gear C 20",
        "gear B 36 meshes with C",
        "B, gear D 10 on one axle",
        "gear D 10 drives gear E ?",
        "gear F ? drives gear D 10",
        "gear D 10 drives ring R 60",
        "bevel G 20 drives bevel K 40",
        "bevel K 40, C on one axle",
        "worm W 1 start drives gear E ?",
        "gear E ? drives worm V 2 starts",
        "A drives rack T",
        "rack T drives gear X 0",
        "sprocket S 44 drives sprocket U 11 by chain",
        "pulley P 60 mm drives pulley Q 30 mm by crossed belt",
        "handle H 300 mm, A on one axle",
        "drum N 80 mm, B on one axle",
        "roller L 0 mm, sprocket U 11 on one axle",
        "motor M, A on one axle",
        "C rides on carrier Y",
        "carrier Y, A on one axle",
        "A turns 9 clockwise",
        "A turns anticlockwise",
        "B turns 100000",
        "A runs at 120 rpm",
        "rack T moves 120 mm left",
        "C held still",
        "for 5 minutes",
        "force 20 N at handle H 300 mm",
        "force 0 N at drum N 80 mm",
        "turning force 50 N cm on A",
        "efficiency 9/10",
        "tooth size 2 mm",
        "tooth size 3 mm on A",
        "A and B 60 mm apart",
        "A, B taken out",
        "turns of B; speed of A; direction of B; same way A, B; faster of A, B",
        "force at A; turning force of B; stronger of A, B; ratio of turns A : B",
        "teeth of B; centre distance of A, B; tip diameter of A; distance of A",
        "will it turn; name of A; job of B; stages for 27; meet again A, B; choose A, B from 8, 16",
    ];

    fn some_lines() -> impl Strategy<Value = Vec<&'static str>> {
        collection::vec(sample::select(LINES.to_vec()), 1..9)
    }

    proptest::proptest! {
        #[test]
        fn no_mechanism_makes_it_panic_or_fall_silent(lines in some_lines()) {
            let arguments = cli::SolveArguments {
                mechanism: LINES.iter().take(2).chain(&lines).map(|&line| line.to_owned()).collect(),
                drawing: None,
            };
            let mut console = console::Console::on(
                console::Loudness::Usual,
                Box::new(std::io::sink()),
                Box::new(std::io::sink()),
            );
            if let Err(problems) = run(&arguments, &mut console) {
                prop_assert!(!problems.is_empty());
                for problem in problems {
                    prop_assert!(!problem.what.is_empty() && !problem.place.is_empty());
                }
            }
        }
    }
}
