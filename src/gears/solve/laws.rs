//! Laws that hold for every train, with random input.
//!
//! Source: what one mesh does to turns and to turning force, as `motion` and `force`
//! name it; that no work is lost without friction is the conservation of energy.

use super::*;
use crate::gears::notation;
use proptest::prelude::{any, prop, proptest};
use proptest::{collection, prop_assert_eq};

fn read(lines: &[String]) -> mechanism::Mechanism {
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    notation::read(&lines).expect("the law's own lines")
}

/// A train of gears `A1`, `A2` ... in mesh one after the other.
fn train(teeth: &[u32]) -> String {
    let gears: Vec<String> = (1..)
        .zip(teeth)
        .map(|(index, teeth)| format!("gear A{index} {teeth}"))
        .collect();
    gears.join(" drives ")
}

/// Stages on shared axles: `A1` drives `B1`, which shares its axle with `A2` ...
fn compound(stages: &[(u32, u32)]) -> Vec<String> {
    let mut lines = Vec::new();
    for (index, (drive, driven)) in (1..).zip(stages) {
        if index > 1 {
            lines.push(format!("B{}, gear A{index} {drive} on one axle", index - 1));
            lines.push(format!("A{index} drives gear B{index} {driven}"));
        } else {
            lines.push(format!("gear A1 {drive} drives gear B1 {driven}"));
        }
    }
    lines
}

fn fact(mechanism: &mechanism::Mechanism, ask: &str) -> ask::Fact {
    let ask = notation::read_ask(ask, mechanism).expect("the law's own question");
    answer(mechanism, &ask).expect("solvable").fact
}

fn value(mechanism: &mechanism::Mechanism, ask: &str) -> number::Number {
    let found = fact(mechanism, ask);
    if let ask::Fact::Quantity { value, .. } = found
        && let Some(number) = value.as_number()
    {
        number
    } else {
        panic!("a number without pi: {found:?}")
    }
}

fn quotient(top: u32, bottom: u32) -> number::Number {
    number::Number::from(top)
        .divided_by(bottom.into())
        .expect("a count is not nought")
}

proptest! {
    #[test]
    fn a_train_turned_round_gives_the_inverse(teeth in collection::vec(6_u32..120, 2..9)) {
        let turned: Vec<u32> = teeth.iter().rev().copied().collect();
        let last = format!("turns of A{}", teeth.len());
        let forward = value(&read(&[train(&teeth), "A1 turns 1".to_owned()]), &last);
        let back = value(&read(&[train(&turned), "A1 turns 1".to_owned()]), &last);
        prop_assert_eq!(forward.times(back), Ok(number::Number::ONE));
        prop_assert_eq!(forward, quotient(teeth[0], turned[0]));
    }

    #[test]
    fn an_idler_changes_only_the_sense(first in 6_u32..120, idler in 6_u32..120, last in 6_u32..120) {
        let turns = "A1 turns 7 clockwise".to_owned();
        let without = read(&[train(&[first, last]), turns.clone()]);
        let with = read(&[train(&[first, idler, last]), turns]);
        prop_assert_eq!(value(&without, "turns of A2"), value(&with, "turns of A3"));
        prop_assert_eq!(
            fact(&without, "direction of A2"),
            ask::Fact::Sense(mechanism::Sense::Anticlockwise)
        );
        prop_assert_eq!(
            fact(&with, "direction of A3"),
            ask::Fact::Sense(mechanism::Sense::Clockwise)
        );
        prop_assert_eq!(fact(&with, "job of A2"), ask::Fact::Job(ask::Job::Idler));
    }

    #[test]
    fn an_even_number_of_meshes_keeps_the_sense(teeth in collection::vec(6_u32..120, 2..12)) {
        let mechanism = read(&[train(&teeth)]);
        let ask = format!("same way A1, A{}", teeth.len());
        let meshes = teeth.len() - 1;
        prop_assert_eq!(fact(&mechanism, &ask), ask::Fact::YesNo(meshes.is_multiple_of(2)));
    }

    #[test]
    fn a_ring_of_gears_turns_if_their_number_is_even(teeth in collection::vec(6_u32..120, 3..12)) {
        let closing = format!("A{} meshes with A1", teeth.len());
        let mechanism = read(&[train(&teeth), closing]);
        let turns = teeth.len().is_multiple_of(2);
        prop_assert_eq!(fact(&mechanism, "will it turn"), ask::Fact::YesNo(turns));
        prop_assert_eq!(faults(&mechanism).is_empty(), turns);
    }

    #[test]
    fn stages_multiply(stages in collection::vec((6_u32..120, 6_u32..120), 1..6)) {
        let mut lines = compound(&stages);
        lines.push("A1 runs at 60 rpm".to_owned());
        let mut expected = number::Number::whole(60);
        for (drive, driven) in &stages {
            expected = expected.times(quotient(*drive, *driven)).expect("fits");
        }
        let mechanism = read(&lines);
        let ask = format!("speed of B{}", stages.len());
        prop_assert_eq!(value(&mechanism, &ask), expected);
    }

    #[test]
    fn every_step_of_a_working_follows_from_the_one_before(
        stages in collection::vec((6_u32..120, 6_u32..120), 1..6),
        given in any::<prop::sample::Index>(),
        asked in any::<prop::sample::Index>(),
        turns in 1_u32..500,
    ) {
        let parts: Vec<String> = (1..=stages.len())
            .flat_map(|index| [format!("A{index}"), format!("B{index}")])
            .collect();
        let (given, asked) = (given.get(&parts), asked.get(&parts));
        let mut lines = compound(&stages);
        lines.push(format!("{given} turns {turns}"));
        let mechanism = read(&lines);
        let ask = notation::read_ask(&format!("turns of {asked}"), &mechanism).expect("a question");
        let worked = answer(&mechanism, &ask).expect("solvable");
        let name = |part: mechanism::PartId| mechanism.part(part).name.as_str();
        let (mut at, mut moves) = ("", number::Value::ZERO);
        for step in &worked.steps {
            if let step::Step::Start { part, movement: Some(movement), .. } = step {
                let told = number::Value::from(number::Number::from(turns));
                prop_assert_eq!((name(*part), movement.value), (given.as_str(), told));
                (at, moves) = (name(*part), movement.value);
            } else if let step::Step::SameAxle { from, to } = step {
                prop_assert_eq!(mechanism.part(*from).body, mechanism.part(*to).body);
                prop_assert_eq!(name(*from), at);
                at = name(*to);
            } else if let step::Step::Drive {
                from, to, from_size, to_size, before: Some(before), after: Some(after), ..
            } = step
            {
                prop_assert_eq!((name(*from), before.value), (at, moves));
                let expected = moves.times(*from_size).and_then(|it| it.divided_by(*to_size));
                prop_assert_eq!(Ok(after.value), expected);
                (at, moves) = (name(*to), after.value);
            } else {
                panic!("no such step is needed here: {step:?}");
            }
        }
        prop_assert_eq!(at, asked.as_str());
        prop_assert_eq!(worked.fact, ask::Fact::Quantity { value: moves, unit: ask::Unit::Turns });
    }

    #[test]
    fn a_stage_taken_out_leaves_the_rest(
        stages in collection::vec((6_u32..120, 6_u32..120), 2..6),
        which in any::<prop::sample::Index>(),
    ) {
        let mut lines = compound(&stages);
        lines.push("A1 turns 1".to_owned());
        let ask = format!("turns of B{}", stages.len());
        let whole = value(&read(&lines), &ask);
        let out = which.index(stages.len());
        lines.push(format!("A{0}, B{0} taken out", out + 1));
        let (drive, driven) = stages[out];
        let rest = value(&read(&lines), &ask);
        prop_assert_eq!(rest.times(quotient(drive, driven)), Ok(whole));
    }

    #[test]
    fn without_losses_force_times_speed_is_the_same(
        stages in collection::vec((6_u32..120, 6_u32..120), 1..6),
        force in 1_u32..500,
    ) {
        let mut lines = compound(&stages);
        lines.push(format!("turning force {force} N cm on A1"));
        lines.push("A1 turns 1".to_owned());
        let mechanism = read(&lines);
        let last = stages.len();
        let turns = value(&mechanism, &format!("turns of B{last}"));
        let turning = value(&mechanism, &format!("turning force of B{last}"));
        prop_assert_eq!(turns.times(turning), Ok(force.into()));
    }

    #[test]
    fn losses_multiply_with_the_work_and_divide_against_it(
        stages in collection::vec((6_u32..120, 6_u32..120), 1..5),
        percent in 50_u32..100,
    ) {
        let last = stages.len();
        let mut lines = compound(&stages);
        lines.push("turning force 1000 N cm on A1".to_owned());
        let ask = format!("turning force of B{last}");
        let ideal = value(&read(&lines), &ask);
        lines.push(format!("efficiency {percent} %"));
        let real = value(&read(&lines), &ask);
        let mut expected = ideal;
        for _ in &stages {
            expected = expected.times(quotient(percent, 100)).expect("fits");
        }
        prop_assert_eq!(real, expected);
        // And back: the force there asks for the force here.
        let mut mechanism = read(&lines);
        mechanism.givens.retain(|given| !matches!(given, mechanism::Given::TurningForce { .. }));
        let asked = notation::read_ask(&ask, &mechanism).expect("the law's own question");
        let ask::Ask::TurningForce(part) = asked else { panic!("as written") };
        mechanism.givens.push(mechanism::Given::TurningForce { part, newton_cm: real });
        prop_assert_eq!(value(&mechanism, "turning force of A1"), number::Number::whole(1000));
    }

    #[test]
    fn a_missing_count_is_found_again(
        stages in collection::vec((6_u32..120, 6_u32..120), 1..5),
        which in any::<prop::sample::Index>(),
        drive in any::<bool>(),
    ) {
        let mut lines = compound(&stages);
        lines.push("A1 turns 5".to_owned());
        let last = stages.len();
        let turns = value(&read(&lines), &format!("turns of B{last}"));
        lines.push(format!("B{last} turns {turns}"));
        let place = which.index(last);
        let name = format!("{}{}", if drive { "A" } else { "B" }, place + 1);
        let teeth = if drive { stages[place].0 } else { stages[place].1 };
        for line in &mut lines {
            *line = line.replace(&format!("{name} {teeth}"), &format!("{name} ?"));
        }
        prop_assert_eq!(value(&read(&lines), &format!("teeth of {name}")), teeth.into());
    }

    #[test]
    fn what_is_given_at_the_end_gives_the_beginning(
        stages in collection::vec((6_u32..120, 6_u32..120), 1..6),
        turns in 1_u32..100,
    ) {
        let last = stages.len();
        let mut lines = compound(&stages);
        lines.push(format!("A1 turns {turns} clockwise"));
        let forward = read(&lines);
        let end = value(&forward, &format!("turns of B{last}"));
        let sense = fact(&forward, &format!("direction of B{last}"));
        let way = if sense == ask::Fact::Sense(mechanism::Sense::Clockwise) { "clockwise" } else { "anticlockwise" };
        lines.pop();
        lines.push(format!("B{last} turns {end} {way}"));
        let back = read(&lines);
        prop_assert_eq!(value(&back, "turns of A1"), turns.into());
        prop_assert_eq!(fact(&back, "direction of A1"), ask::Fact::Sense(mechanism::Sense::Clockwise));
    }

    #[test]
    fn planetary_members_turn_together_when_two_do(
        sun in 6_u32..90, planet in 6_u32..60, turns in 1_u32..30,
    ) {
        // If sun and ring turn alike, so does everything: the set is a solid wheel.
        let ring = sun + 2 * planet;
        let mechanism = read(&[
            format!("gear S {sun} drives gear P {planet}"),
            format!("P drives ring R {ring}"),
            "P rides on carrier C".to_owned(),
            format!("S turns {turns} clockwise"),
            format!("R turns {turns} clockwise"),
        ]);
        for part in ["C", "P"] {
            prop_assert_eq!(value(&mechanism, &format!("turns of {part}")), turns.into());
        }
    }

    #[test]
    fn every_right_choice_solves_and_no_other_does(
        bin in collection::vec(6_u32..40, 2..7), top in 1_u32..6, bottom in 1_u32..6,
    ) {
        let mechanism = read(&[
            "gear A ? drives gear B ?".to_owned(),
            format!("A turns {top}"),
            format!("B turns {bottom}"),
        ]);
        let list: Vec<String> = bin.iter().map(u32::to_string).collect();
        let found = fact(&mechanism, &format!("choose A, B from {}", list.join(", ")));
        let mut expected: Vec<Vec<u32>> = Vec::new();
        for (i, one) in bin.iter().enumerate() {
            for (j, other) in bin.iter().enumerate() {
                let choice = vec![*one, *other];
                if i != j && one * top == other * bottom && !expected.contains(&choice) {
                    expected.push(choice);
                }
            }
        }
        prop_assert_eq!(found, ask::Fact::Choices(expected));
    }

    #[test]
    fn a_right_answer_put_in_place_changes_no_later_answer(
        stages in collection::vec((6_u32..120, 6_u32..120), 2..5),
    ) {
        let last = stages.len();
        let mut lines = compound(&stages);
        lines.push("A1 turns 12 clockwise".to_owned());
        let mechanism = read(&lines);
        let later = format!("turns of B{last}");
        let expected = fact(&mechanism, &later);
        for earlier in ["turns of B1", "ratio of turns A1 : B1", "ratio of teeth A1 : B1"] {
            let asked = notation::read_ask(earlier, &mechanism).expect("the law's own question");
            let right = answer(&mechanism, &asked).expect("solvable").fact;
            let followed = with_answer(&mechanism, &asked, &right).expect("a right answer has its place");
            prop_assert_eq!(&fact(&followed, &later), &expected, "{}", earlier);
        }
    }

    #[test]
    fn no_mechanism_makes_the_solver_panic(
        counts in collection::vec(0_u32..2_000_000, 4..5),
        turns in any::<u32>(),
    ) {
        let lines = [
            "gear A 12 drives gear B 36".to_owned(),
            "B, gear C 12 on one axle".to_owned(),
            "C drives gear D 12".to_owned(),
            format!("A turns {}", turns % 90_000),
        ];
        let mut mechanism = read(&lines);
        for (part, count) in mechanism.parts.iter_mut().zip(counts) {
            part.kind = mechanism::Kind::Gear { teeth: mechanism::Count::Known(count) };
        }
        let _ = solve(&mechanism);
    }
}

#[test]
fn what_does_not_fit_is_a_fault_not_a_number() {
    let mut lines: Vec<String> = compound(&[(99_989, 99_991); 12]);
    lines.push("A1 turns 1".to_owned());
    let mechanism = read(&lines);
    assert!(matches!(
        solve(&mechanism).expect_err("too large to hold")[..],
        [fault::Fault::Number(number::NumberError::Overflow)]
    ));
}
