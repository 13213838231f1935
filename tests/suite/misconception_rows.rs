//! Every row of the list of misconceptions (M01 to M30) that a typed answer can show
//! has a wrong solver for each kind of question it applies to.
//!
//! The cases, worked out by hand from the definitions, are data:
//! `tests/cases/misconception-rows.tsv`.

use std::collections::BTreeSet;
use toothmark::gears::ask;
use toothmark::gears::mechanism;
use toothmark::gears::notation;
use toothmark::gears::solve;
use toothmark::misconception;

const ROWS: &str = include_str!("../cases/misconception-rows.tsv");

/// The rows, in their order.
const NUMBERED: [&str; 47] = [
    "M01", "M02a", "M02b", "M02c", "M03", "M04", "M05", "M05b", "M06", "M07", "M08", "M09", "M10",
    "M11", "M12", "M13", "M14", "M15", "M16", "M17a", "M17b", "M17c", "M18a", "M18b", "M18c",
    "M19a", "M19b", "M20a", "M20b", "M20c", "M21a", "M21b", "M21c", "M22", "M23", "M24a", "M24b",
    "M24c", "M24d", "M25", "M25b", "M26", "M27", "M28", "M29", "M30", "own",
];

/// One case.
struct Case<'a> {
    line: usize,
    id: &'a str,
    mechanism: mechanism::Mechanism,
    ask: ask::Ask,
    answer: &'a str,
    marks: &'a str,
    text: &'a str,
}

fn rows() -> impl Iterator<Item = (usize, &'static str, Vec<&'static str>)> {
    let lines = ROWS.lines().enumerate();
    lines
        .filter(|(_, line)| !line.starts_with('#') && !line.is_empty())
        .map(|(index, line)| (index + 1, line, line.split('\t').collect()))
}

fn cases() -> Vec<Case<'static>> {
    rows()
        .filter(|(_, _, cells)| cells[1] != "-")
        .map(|(line, text, cells)| {
            let [_, id, mechanism, asked, answer, marks] = cells[..] else {
                panic!(
                    "misconception-rows.tsv:{line}: found {} cells, wanted 6",
                    cells.len()
                );
            };
            let lines: Vec<&str> = mechanism.split(';').map(str::trim).collect();
            let mechanism = notation::read(&lines)
                .unwrap_or_else(|faults| panic!("misconception-rows.tsv:{line}: {faults:?}"));
            let ask = notation::read_ask(asked, &mechanism)
                .unwrap_or_else(|fault| panic!("misconception-rows.tsv:{line}: {fault:?}"));
            Case {
                line,
                id,
                mechanism,
                ask,
                answer,
                marks,
                text,
            }
        })
        .collect()
}

/// A fact as the cases write it.
fn said(fact: &ask::Fact) -> String {
    match fact {
        ask::Fact::Quantity { value, .. } => value.to_string(),
        ask::Fact::Ratio(first, second) => format!("{first}:{second}"),
        ask::Fact::Sense(sense) => format!("{sense:?}").to_lowercase(),
        ask::Fact::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        ask::Fact::Which(which) => format!("{which:?}").to_lowercase(),
        ask::Fact::Name(ask::PartName::SpurGear) => "spur gear".to_owned(),
        ask::Fact::Name(name) => format!("{name:?}").to_lowercase(),
        ask::Fact::Job(job) => match job {
            ask::Job::Drive => "drive gear".to_owned(),
            ask::Job::Driven => "driven gear".to_owned(),
            ask::Job::Idler => "idler".to_owned(),
        },
        ask::Fact::Choices(choices) => {
            let choices: Vec<String> = choices
                .iter()
                .map(|choice| {
                    let gears: Vec<String> = choice.iter().map(ToString::to_string).collect();
                    gears.join(", ")
                })
                .collect();
            choices.join(" or ")
        }
        ask::Fact::Reasons(reasons) => format!("{reasons:?}"),
    }
}

#[test]
fn every_row_is_predicted_for_every_kind_of_question() {
    let mut wrong = Vec::new();
    for case in cases() {
        let ours: Vec<misconception::Prediction> =
            misconception::predictions(&case.mechanism, &case.ask)
                .into_iter()
                .filter(|prediction| prediction.misconception.id == case.id)
                .collect();
        let answers: Vec<String> = ours.iter().map(|it| said(&it.fact)).collect();
        if !answers.iter().any(|answer| answer == case.answer) {
            wrong.push(format!("{}: {}: ours {answers:?}", case.line, case.text));
        }
        let right = solve::answer(&case.mechanism, &case.ask)
            .unwrap_or_else(|faults| panic!("{}: {faults:?}", case.text));
        if said(&right.fact) == case.answer {
            wrong.push(format!("{}: {}: that is right", case.line, case.text));
        }
        for prediction in ours {
            let marks: Vec<String> = (1..=3)
                .map(|out_of| prediction.credit.marks(out_of).to_string())
                .collect();
            if marks.join(" ") != case.marks {
                wrong.push(format!("{}: {}: earns {marks:?}", case.line, case.text));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn every_row_and_every_misconception_has_a_case() {
    let there: BTreeSet<&str> = rows().map(|(_, _, cells)| cells[0]).collect();
    let wanted: BTreeSet<&str> = NUMBERED.into_iter().collect();
    assert_eq!(there, wanted);
    let ids: BTreeSet<&str> = cases().iter().map(|case| case.id).collect();
    let known: BTreeSet<&str> = misconception::all().iter().map(|known| known.id).collect();
    assert_eq!(ids, known);
    for (line, text, cells) in rows().filter(|(_, _, cells)| cells[1] == "-") {
        assert!(cells.len() == 3 && !cells[2].is_empty(), "{line}: {text}");
    }
}
