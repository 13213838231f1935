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

/// The steps of a working, each with the parts that it is about.
fn working(lines: &str, ask: &str) -> String {
    let mechanism = mechanism(lines);
    let ask = notation::read_ask(ask, &mechanism).expect("the test's own question");
    let steps = answer(&mechanism, &ask).expect("solvable").steps;
    told(&mechanism, &steps)
}

#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "of the other steps the kind is enough"
)]
fn told(mechanism: &mechanism::Mechanism, steps: &[step::Step]) -> String {
    let name = |part: &mechanism::PartId| mechanism.part(*part).name.clone();
    let told: Vec<String> = steps
        .iter()
        .map(|step| match step {
            step::Step::Start { part, .. } => format!("start {}", name(part)),
            step::Step::Drive { from, to, .. } => format!("{} to {}", name(from), name(to)),
            step::Step::SameAxle { from, to } => format!("{} with {}", name(from), name(to)),
            step::Step::Travel { part, .. } => format!("travel {}", name(part)),
            step::Step::CountMeshes { meshes, .. } => format!("{meshes} meshes"),
            step::Step::ForceTimesArm { part, .. } => format!("arm {}", name(part)),
            step::Step::ForceAcross { from, to, .. } => {
                format!("force {} to {}", name(from), name(to))
            }
            step::Step::OnCarrier {
                carrier, from, to, ..
            } => format!("on {} {} to {}", name(carrier), name(from), name(to)),
            other => {
                let other = format!("{other:?}");
                other.split(' ').next().unwrap_or_default().to_owned()
            }
        })
        .collect();
    told.join(", ")
}

#[test]
fn a_working_goes_from_what_is_given_to_what_is_asked() {
    let gearbox = "gear A 10 drives gear B 30; gear B 30, gear C 12 on one axle; \
                   gear C 12 drives gear D 48; A turns 12 clockwise";
    let rack = "gear A 10 drives gear P 20; P drives rack R; tooth size 2 mm on R";
    let pull = "gear A 10 drives gear P 20; P drives rack R; tooth size 2 mm on R; force 9 N at R";
    let winch = "handle H 100 mm, gear A 10 on one axle; A drives gear B 40; \
                 B, drum D 50 mm on one axle; force 10 N at H";
    let planets = "gear S 20 drives gear P 10 drives ring R 40; P rides on carrier C; \
                   R held still; S turns 6";
    for (lines, ask, wanted) in [
        (gearbox, "turns of D", "start A, A to B, B with C, C to D"),
        (gearbox, "turns of A", "start A"),
        (
            gearbox,
            "direction of D",
            "start A, A to B, B with C, C to D, 2 meshes",
        ),
        (gearbox, "direction of B", "start A, A to B"),
        (
            &format!("{rack}; A turns 4"),
            "distance of R",
            "start A, A to P, Diameter, travel P",
        ),
        (
            winch,
            "force at D",
            "arm H, H with A, force A to B, B with D, arm D",
        ),
        (winch, "turning force of H", "arm H"),
        // What is given needs no step, and what is given otherwise one.
        (
            "drum D 50 mm, gear A 10 on one axle; A drives gear B 20; force 10 N at D",
            "force at D",
            "",
        ),
        (
            "drum D 50 mm, gear A 10 on one axle; A drives gear B 20; \
             turning force 10 N cm on D",
            "force at D",
            "arm D",
        ),
        (
            "drum D 50 mm, gear A 10 on one axle; A drives gear B 20; D moves 300 mm",
            "distance of D",
            "start D, travel D",
        ),
        (
            "drum D 50 mm, gear A 10 on one axle; A drives gear B 20; A turns 3",
            "distance of D",
            "start A, A with D, travel D",
        ),
        (
            "gear A 12 drives gear B ?; A turns 9; B turns 3",
            "teeth of B",
            "start A, start B, MissingCount",
        ),
        (
            "gear A ? drives gear B 36; A turns 9; B turns 3",
            "teeth of A",
            "start A, start B, MissingCount",
        ),
        (
            "gear A 12 drives gear B ?; B drives gear C 18; A turns 9; B turns 3; C turns 6",
            "teeth of B",
            "start A, start B, MissingCount",
        ),
        (pull, "turning force of P", "Diameter, arm P"),
        (
            &format!("{pull}; efficiency 9/10"),
            "turning force of P",
            "Diameter, force R to P, arm P",
        ),
        (
            planets,
            "turns of P",
            "start S, start R, Planetary, on C S to P",
        ),
    ] {
        assert_eq!(working(lines, ask), wanted, "{lines}: {ask}");
    }
}

#[test]
fn all_motions_of_a_mechanism_come_with_their_working() {
    let of = |lines: &str| {
        let mechanism = mechanism(lines);
        let solution = solve(&mechanism).expect("solvable");
        let shown =
            |value: Option<number::Value>| value.map_or("-".to_owned(), |it| it.to_string());
        let motions: Vec<String> = solution
            .motions
            .iter()
            .map(|motion| format!("{} {}", shown(motion.turns), shown(motion.rpm)))
            .collect();
        format!(
            "{}: {}",
            motions.join(", "),
            told(&mechanism, &solution.steps)
        )
    };
    for (lines, wanted) in [
        (
            "gear A 12 drives gear B 36; tooth size 2 mm; A turns 9",
            "9 -, 3 -: start A, A to B",
        ),
        (
            "gear A 12 drives gear B 36; A runs at 120 rpm; for 2 minutes",
            "240 120, 80 40: start A, A to B",
        ),
        (
            "gear P 20 drives rack R; tooth size 2 mm; P turns 3",
            "3 -, 120 pi -: start P, Diameter, travel P",
        ),
        // How far a bar goes does not follow without the tooth size.
        (
            "gear P 20 drives rack R; P turns 3",
            "3 -, - -: start P, P to R",
        ),
    ] {
        assert_eq!(of(lines), wanted, "{lines}");
    }
}

#[test]
fn an_earlier_answer_takes_the_place_of_what_it_contradicts_and_of_no_more() {
    let put = |lines: &str, asked: &str, own: &ask::Fact| {
        let before = mechanism(lines);
        let ask = notation::read_ask(asked, &before).expect("the test's own question");
        with_answer(&before, &ask, own).expect("it has its place")
    };
    // A direction leaves the amounts.
    let after = put(
        "gear A 12 drives gear B 36; A turns 9; B turns clockwise",
        "direction of A",
        &ask::Fact::Sense(mechanism::Sense::Clockwise),
    );
    assert_eq!(
        notation::write(&after),
        [
            "gear A 12 drives gear B 36",
            "A turns 9",
            "A turns clockwise"
        ]
    );
    // A count leaves the centre distances of other gears.
    let teeth = ask::Fact::Quantity {
        value: number::Number::whole(30).into(),
        unit: ask::Unit::Teeth,
    };
    let after = put(
        "gear A 20 drives gear B ?; B, gear C 10 on one axle; C drives gear D 20; \
         tooth size 2 mm on A; A and B 60 mm apart; C and D 45 mm apart",
        "teeth of B",
        &teeth,
    );
    assert_eq!(said_of(&after, "tooth size of C"), "3 Millimetres");
    // A centre distance takes the place of the same two gears', whichever is named first.
    let after = put(
        "gear A 20 drives gear B 40; B, gear C 10 on one axle; C drives gear D 20; \
         B and A 60 mm apart; C and D 45 mm apart",
        "centre distance of A, B",
        &ask::Fact::Quantity {
            value: number::Number::whole(90).into(),
            unit: ask::Unit::Millimetres,
        },
    );
    assert_eq!(said_of(&after, "tooth size of A"), "3 Millimetres");
    assert_eq!(said_of(&after, "centre distance of D, C"), "45 Millimetres");
    // A ratio is taken by a joint whose sense is known, not by a worm.
    let after = put(
        "worm W 1 start drives gear B 40; B, gear C 10 on one axle; C drives gear D 20",
        "ratio of turns W : D",
        &ask::Fact::Ratio(number::Number::whole(40), number::Number::ONE),
    );
    assert_eq!(said_of(&after, "ratio of turns W : D"), "40 : 1");
    assert_eq!(said_of(&after, "name of W"), "Worm");
}

#[test]
fn an_earlier_answer_that_makes_no_sense_has_no_place() {
    let quantity = |size: i64, unit| ask::Fact::Quantity {
        value: number::Number::whole(size).into(),
        unit,
    };
    let pair = "gear A 12 drives gear B ?; A turns 9; B turns 3";
    let choice = "gear A ? drives gear B ?; A turns 3; B turns 1";
    for (lines, asked, own) in [
        (pair, "teeth of B", quantity(-36, ask::Unit::Teeth)),
        (pair, "teeth of B", quantity(0, ask::Unit::Teeth)),
        (pair, "teeth of B", quantity(36, ask::Unit::Turns)),
        (pair, "turns of B", quantity(3, ask::Unit::Rpm)),
        (
            pair,
            "ratio of turns A : B",
            ask::Fact::Ratio(number::Number::whole(-3), number::Number::ONE),
        ),
        (pair, "direction of B", ask::Fact::YesNo(true)),
        (
            choice,
            "choose A, B from 8, 16, 24, 48",
            ask::Fact::Choices(vec![vec![8, 24], vec![16, 48]]),
        ),
        (
            choice,
            "choose A, B from 8, 16, 24, 48",
            ask::Fact::YesNo(true),
        ),
    ] {
        let before = mechanism(lines);
        let ask = notation::read_ask(asked, &before).expect("the test's own question");
        assert_eq!(with_answer(&before, &ask, &own), None, "{asked}: {own:?}");
    }
    let before = mechanism(choice);
    let ask = notation::read_ask("choose A, B from 8, 16, 24, 48", &before).expect("the same");
    let after = with_answer(&before, &ask, &ask::Fact::Choices(vec![vec![16, 24]]))
        .expect("both have teeth now");
    assert_eq!(said_of(&after, "ratio of teeth A : B"), "2 : 3");
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
