//! Predictions of single questions, and the words of every entry.

use super::*;
use crate::gears::notation;
use std::collections::BTreeSet;

fn predicted(lines: &[&str], asked: &str) -> Vec<Prediction> {
    let mechanism = notation::read(lines).expect("the test's own mechanism");
    let ask = notation::read_ask(asked, &mechanism).expect("the test's own question");
    predictions(&mechanism, &ask)
}

fn said(fact: &ask::Fact) -> String {
    match fact {
        ask::Fact::Quantity { value, .. } => value.to_string(),
        ask::Fact::Ratio(first, second) => format!("{first}:{second}"),
        ask::Fact::Sense(sense) => format!("{sense:?}"),
        ask::Fact::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        ask::Fact::Which(which) => format!("{which:?}"),
        ask::Fact::Name(name) => format!("{name:?}"),
        ask::Fact::Job(job) => format!("{job:?}"),
        ask::Fact::Choices(choices) => format!("{choices:?}"),
        ask::Fact::Reasons(reasons) => format!("{reasons:?}"),
    }
}

/// Checks that each of these predictions, `id=answer`, is among those made.
fn check(lines: &[&str], asked: &str, wanted: &[&str]) {
    let made: Vec<String> = predicted(lines, asked)
        .iter()
        .map(|prediction| format!("{}={}", prediction.misconception.id, said(&prediction.fact)))
        .collect();
    for want in wanted {
        assert!(
            made.iter().any(|made| made == want),
            "{lines:?} {asked}: wanted {want}, made {made:?}"
        );
    }
}

#[test]
fn every_id_is_there_once_and_every_word_is_short() {
    let ids: BTreeSet<&str> = all().iter().map(|known| known.id).collect();
    assert_eq!(ids.len(), all().len());
    for known in all() {
        for text in [known.say, known.next] {
            assert!(text.ends_with(['.', '?']), "{}: {text}", known.id);
            for sentence in text.split_inclusive(['.', '?', '!']) {
                let words = sentence.split_whitespace().count();
                assert!(words <= 18, "{}: {words} words: {sentence}", known.id);
            }
        }
        assert_eq!(by_id(known.id), Some(*known));
    }
}

#[test]
fn every_answer_says_how_it_comes_about_and_why_it_earns_what_it_earns() {
    for known in all() {
        let (gives, reason) = (known.gives, known.credit_reason);
        let words = gives.split_whitespace().count();
        assert!(
            (2..=14).contains(&words) && gives.chars().count() <= 66,
            "{}: {words} words: {gives}",
            known.id
        );
        assert!(!gives.ends_with(['.', '?', '!']), "{}: {gives}", known.id);
        let words = reason.split_whitespace().count();
        assert!(
            (4..=18).contains(&words),
            "{}: {words} words: {reason}",
            known.id
        );
        let sentences = reason.matches(['.', '?', '!']).count();
        assert!(
            reason.ends_with('.') && sentences == 1,
            "{}: not one sentence: {reason}",
            known.id
        );
        assert!(!known.source.is_empty(), "{}", known.id);
    }
}

#[test]
fn ways_of_reading_speed_and_time_are_followed() {
    let pair = [
        "gear A 12 drives gear B 36",
        "A runs at 120 rpm",
        "for 5 minutes",
    ];
    check(
        &pair,
        "turns of B",
        &[
            "minutes-left-out=40",
            "ratio-upside-down=1800",
            "same-speed=600",
        ],
    );
    check(
        &pair,
        "speed of B",
        &["ratio-upside-down=360", "teeth-difference=96"],
    );
    check(
        &["gear A 12 drives gear B 36", "A turns 600", "for 5 minutes"],
        "speed of B",
        &["minutes-left-out=200", "minutes-and-seconds=2400"],
    );
}

#[test]
fn a_question_asked_backwards_turns_the_ratio_the_same_way() {
    let back = ["gear A 36 drives gear B 24", "B runs at 225 rpm"];
    check(
        &back,
        "speed of A",
        &[
            "ratio-upside-down=675/2",
            "teeth-difference=213",
            "same-speed=225",
        ],
    );
    let compound = [
        "gear A 10 drives gear B 30",
        "gear B 30, gear C 12 on one axle",
        "gear C 12 drives gear D 48",
        "D turns 10",
    ];
    check(
        &compound,
        "turns of A",
        &[
            "adds-stages=70",
            "first-stage-only=40",
            "last-stage-only=30",
        ],
    );
}

#[test]
fn a_step_up_has_two_ways_of_adding_its_stages() {
    check(
        &[
            "gear A 40 drives gear B 10",
            "gear B 10, gear C 36 on one axle",
            "gear C 36 drives gear D 12",
            "A turns 2",
        ],
        "turns of D",
        &["adds-stages=24/7", "adds-stages=14"],
    );
}

#[test]
fn stages_taken_out_and_shared_axles_can_be_overlooked() {
    check(
        &[
            "gear A 10 drives gear B 30",
            "gear B 30, gear C 12 on one axle",
            "gear C 12 drives gear D 48",
            "A turns 120",
            "C, D taken out",
        ],
        "turns of D",
        &["stage-still-in=10", "ratio-upside-down=360"],
    );
    check(
        &["gear B 36, gear C 12 on one axle", "B turns 4"],
        "turns of C",
        &["shared-axle-overlooked=12"],
    );
}

#[test]
fn racks_drums_and_wheels_go_wrong_in_their_own_ways() {
    check(
        &["gear P 12 drives rack R", "tooth size 2 mm", "P turns 5"],
        "distance of R",
        &[
            "radius-for-diameter=60 pi",
            "pi-left-out=120",
            "one-turn-only=24 pi",
        ],
    );
    check(
        &[
            "rack R drives gear P 12",
            "tooth size 2 mm",
            "R moves 240 mm",
        ],
        "turns of P",
        &["pi-left-out=10", "radius-for-diameter=20 pi^-1"],
    );
    check(
        &[
            "handle H, gear A 10 on one axle",
            "gear A 10 drives gear B 40",
            "gear B 40, drum D 80 mm on one axle",
            "H turns 8",
        ],
        "distance of D",
        &[
            "gears-before-drum-left-out=640 pi",
            "ratio-upside-down=2560 pi",
            "radius-for-diameter=80 pi",
        ],
    );
}

#[test]
fn comparisons_and_loops_have_few_answers() {
    let pair = ["gear A 12 drives gear B 36", "A turns 9"];
    check(
        &pair,
        "faster of A, B",
        &[
            "big-gear-faster=Second",
            "same-speed=Same",
            "movement-fades=First",
        ],
    );
    check(
        &pair,
        "stronger of A, B",
        &["gains-force-and-speed=First", "same-turning-force=Same"],
    );
    check(
        &[
            "gear A 12 drives gear B 12 drives gear C 12",
            "C meshes with A",
            "A turns clockwise",
        ],
        "will it turn",
        &["any-loop-turns=yes"],
    );
    check(
        &["gear A 12 drives gear B 12 drives gear C 12"],
        "job of B",
        &["idler-overlooked=Driven"],
    );
    check(
        &["gear P 12 drives ring R 60", "P turns clockwise"],
        "direction of R",
        &["ring-turns-round=Anticlockwise"],
    );
    check(
        &["gear P 12 drives rack R", "P turns clockwise"],
        "direction of R",
        &["rack-on-other-side=Right"],
    );
}

#[test]
fn forces_go_wrong_in_their_own_ways() {
    check(
        &["gear A 20 drives gear B 60", "turning force 40 N cm on A"],
        "turning force of B",
        &["force-upside-down=40/3", "same-turning-force=40"],
    );
    check(
        &["gear A 60 drives gear B 20", "turning force 90 N cm on A"],
        "turning force of B",
        &["gains-force-and-speed=270"],
    );
    check(
        &[
            "handle H 300 mm, gear A 10 on one axle",
            "gear A 10 drives gear B 40",
            "gear B 40, drum D 100 mm on one axle",
            "force 20 N at H",
            "efficiency 9/10",
        ],
        "force at D",
        // 20 × 300 × 4 × 0.9 ÷ 50 = 432 is right.
        &[
            "radius-for-diameter=216",
            "gears-left-out-of-winch=108",
            "arms-left-out=72",
            "losses-left-out=480",
            "losses-wrong-way=1600/3",
            "force-upside-down=27",
        ],
    );
}

#[test]
fn counts_ratios_sizes_and_choices_go_wrong_in_their_own_ways() {
    check(
        &["gear A 12 drives gear B 36"],
        "ratio of turns A : B",
        &["ratio-order-swapped=1:3", "same-speed=1:1"],
    );
    check(
        &["gear A 32 drives gear B 72"],
        "meet again A, B",
        &[
            "multiplies-the-teeth=72",
            "turns-of-the-other-gear=4",
            "teeth-for-turns=288",
        ],
    );
    check(
        &["gear A 12 drives gear B 36"],
        "stages for 27",
        &["adds-stages=9"],
    );
    check(
        &["gear A 20 drives gear B 40", "tooth size 2 mm"],
        "centre distance of A, B",
        &[
            "half-left-out=120",
            "tooth-size-left-out=30",
            "inside-outside-mixed=20",
        ],
    );
    check(
        &["gear A 20 drives gear B 40", "tooth size 2 mm"],
        "tip diameter of A",
        &[
            "pitch-for-other-diameter=40",
            "one-side-only=42",
            "radius-for-diameter=22",
        ],
    );
    check(
        &["gear A ? drives gear B ?", "A turns 3", "B turns 1"],
        "choose A, B from 8, 10, 24",
        &["ratio-upside-down=[[24, 8]]", "teeth-difference=[[8, 10]]"],
    );
}

#[test]
fn known_collisions_show() {
    // The difference of the teeth gives the right answer where the drive gear
    // turns as often as the driven gear has teeth.
    check(
        &["gear A 12 drives gear B 36", "A turns 36"],
        "turns of B",
        &["teeth-difference=12"],
    );
    // Two doublings added are two doublings multiplied.
    check(
        &[
            "gear A 10 drives gear B 20",
            "gear B 20, gear C 10 on one axle",
            "gear C 10 drives gear D 20",
            "A turns 8",
        ],
        "turns of D",
        &["adds-stages=2"],
    );
}
