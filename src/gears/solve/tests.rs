//! Hand-worked examples of every kind of mechanism, in `cases.txt`.

use super::*;
use crate::gears::notation;

fn mechanism(lines: &str) -> mechanism::Mechanism {
    let lines: Vec<&str> = lines.split("; ").collect();
    notation::read(&lines).expect("the test's own lines")
}

/// The answer as text: `3 turns`, `4 : 1`, `clockwise`, or the faults.
fn said(lines: &str, ask: &str) -> String {
    said_of(&mechanism(lines), ask)
}

fn said_of(mechanism: &mechanism::Mechanism, ask: &str) -> String {
    let ask = notation::read_ask(ask, mechanism).expect("the test's own question");
    let names = |parts: &[mechanism::PartId]| {
        parts
            .iter()
            .map(|&part| mechanism.part(part).name.clone())
            .collect::<Vec<_>>()
            .join(" ")
    };
    match answer(mechanism, &ask) {
        Ok(worked) => match worked.fact {
            ask::Fact::Quantity { value, unit } => format!("{value} {unit:?}"),
            ask::Fact::Ratio(one, other) => format!("{one} : {other}"),
            ask::Fact::Sense(sense) => format!("{sense:?}"),
            ask::Fact::YesNo(yes) => if yes { "yes" } else { "no" }.to_owned(),
            ask::Fact::Which(which) => format!("{which:?}"),
            ask::Fact::Name(name) => format!("{name:?}"),
            ask::Fact::Job(job) => format!("{job:?}"),
            ask::Fact::Choices(choices) => format!("{choices:?}"),
            ask::Fact::Reasons(reasons) => {
                let ids: Vec<&str> = reasons.key.iter().map(|idea| idea.id()).collect();
                ids.join(" ")
            }
        },
        Err(faults) => faults
            .iter()
            .map(|fault| match fault {
                fault::Fault::NotConnected { part } => format!("not connected {}", names(&[*part])),
                fault::Fault::Locked { parts } => format!("locked {}", names(parts)),
                fault::Fault::DrivenTwice { part } => format!("driven twice {}", names(&[*part])),
                fault::Fault::TeethDoNotFit { first, second } => {
                    format!("do not fit {}", names(&[*first, *second]))
                }
                fault::Fault::CannotMesh { first, second } => {
                    format!("cannot mesh {}", names(&[*first, *second]))
                }
                fault::Fault::CannotShareAxle { first, second } => {
                    format!("cannot share {}", names(&[*first, *second]))
                }
                fault::Fault::WormWillNotBeDriven { worm } => {
                    format!("worm holds {}", names(&[*worm]))
                }
                fault::Fault::BadCount { part, found } => {
                    format!("bad count {} {found}", names(&[*part]))
                }
                fault::Fault::NotPositive { what } => format!("not positive {what}"),
                fault::Fault::TooEfficient { found } => format!("too efficient {found}"),
                fault::Fault::DirectionUnknown { part } => {
                    format!("direction unknown {}", names(&[*part]))
                }
                fault::Fault::NotEnoughGiven { what } => format!("needs {what}"),
                fault::Fault::TooManyUnknowns => "too many unknowns".to_owned(),
                fault::Fault::NotWhole { what, value } => format!("not whole {what} {value}"),
                fault::Fault::CannotAsk { part, what } => {
                    format!("cannot ask {} {what}", names(&[*part]))
                }
                fault::Fault::Number(error) => format!("{error}"),
            })
            .collect::<Vec<_>>()
            .join(", "),
    }
}

#[test]
fn mechanisms_of_each_kind_are_solved_as_by_hand() {
    let cases = include_str!("cases.txt");
    let (mut count, mut wrong) = (0, Vec::new());
    for line in cases.lines() {
        let Some((lines, (ask, expected))) = line
            .split_once(" | ")
            .and_then(|(lines, rest)| Some((lines, rest.split_once(" | ")?)))
        else {
            continue;
        };
        count += 1;
        let found = said(lines, ask);
        if found != expected {
            wrong.push(format!("{line}: found {found}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(count > 140, "only {count} cases were read");
}

#[test]
fn a_bar_that_is_said_to_turn_is_refused() {
    // No line of the notation says so; a mechanism built otherwise may.
    let mut mechanism = mechanism("gear P 20 drives rack R; tooth size 2 mm");
    let bar = mechanism
        .numbered()
        .find_map(|(id, part)| (part.name == "R").then_some(id))
        .expect("it is named");
    let ask = notation::read_ask("turns of P", &mechanism).expect("the test's own question");
    for (amount, what) in [
        (mechanism::Amount::Turns(number::Number::ONE), "turns"),
        (
            mechanism::Amount::Rpm(number::Number::ONE),
            "turns a minute",
        ),
    ] {
        mechanism.givens = vec![mechanism::Given::Motion {
            part: bar,
            amount: Some(amount),
            sense: None,
        }];
        let faults = answer(&mechanism, &ask).expect_err("a bar slides");
        assert_eq!(faults, [fault::Fault::CannotAsk { part: bar, what }]);
    }
}

#[test]
fn a_wrong_earlier_answer_put_in_place_changes_what_follows_from_it() {
    use ask::Unit;
    let gearbox = "gear A 10 drives gear B 30; gear B 30, gear C 12 on one axle; \
                   gear C 12 drives gear D 48";
    for (lines, asked, own, unit, later, expected) in [
        (
            "gear A 12 drives gear B 36 drives gear C 18; A turns 9",
            "turns of B",
            27,
            Unit::Turns,
            "turns of C",
            "54 Turns",
        ),
        (
            "gear A 12 drives gear B 36; A runs at 120 rpm; for 2 minutes",
            "speed of B",
            30,
            Unit::Rpm,
            "turns of B",
            "60 Turns",
        ),
        (
            "gear A 20 drives gear B 40; A and B 60 mm apart",
            "tooth size of A",
            3,
            Unit::Millimetres,
            "pitch diameter of B",
            "120 Millimetres",
        ),
        (
            "gear A 20 drives gear B 40; tooth size 2 mm",
            "tooth size of B",
            3,
            Unit::Millimetres,
            "centre distance of A, B",
            "90 Millimetres",
        ),
        (
            "gear A 12 drives gear B 36; tooth size 2 mm",
            "centre distance of A, B",
            50,
            Unit::Millimetres,
            "tooth size of A",
            "25/12 Millimetres",
        ),
        (
            "gear P 20 drives rack R; tooth size 2 mm; P turns 3",
            "pitch diameter of P",
            60,
            Unit::Millimetres,
            "distance of R",
            "180 pi Millimetres",
        ),
        (
            "gear A 12 drives gear B ?; A turns 9; B turns 3",
            "teeth of B",
            24,
            Unit::Teeth,
            "ratio of teeth A : B",
            "1 : 2",
        ),
        (
            &format!("{gearbox}; turning force 10 N cm on A"),
            "turning force of B",
            20,
            Unit::NewtonCentimetres,
            "turning force of D",
            "80 NewtonCentimetres",
        ),
    ] {
        let before = mechanism(lines);
        let ask = notation::read_ask(asked, &before).expect("the test's own question");
        let own = ask::Fact::Quantity {
            value: number::Number::whole(own).into(),
            unit,
        };
        let after = with_answer(&before, &ask, &own).expect("it has its place");
        assert_eq!(said_of(&after, later), expected, "{lines}: {asked}");
    }
}
