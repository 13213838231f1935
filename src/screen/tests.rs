use super::*;
use crate::drawing;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::screen::motion;

fn moved(lines: &[&str]) -> (mechanism::Mechanism, motion::Motion) {
    let mechanism = notation::read(lines).expect("well formed");
    let drawn = drawing::draw(&drawing::Wish {
        mechanism: &mechanism,
        asks: &[],
        width_mm: 150.0,
        height_mm: 84.0,
        type_mm: 4.8,
    })
    .expect("it is drawn");
    let motion = motion::motion(&mechanism, &drawn).expect("it turns");
    (mechanism, motion)
}

fn turns(lines: &[&str]) -> Vec<String> {
    let (mechanism, motion) = moved(lines);
    let parts = mechanism.numbered();
    parts.map(|(id, _)| motion.turns_text(id)).collect()
}

#[test]
fn turns_are_counted_by_the_first_wheel_that_is_seen_to_turn() {
    for (lines, told) in [
        (
            &["gear A 24 drives gear B 12 drives gear C 36"][..],
            &["1", "-2", "2/3"][..],
        ),
        (
            &["gear A 20 drives gear B 10", "B turns 7 clockwise"],
            &["-1", "2"],
        ),
        // Nothing is said of a direction, and a load is wound up.
        (&["handle H, drum D 40 mm on one axle"], &["-1", "-1"]),
        (
            &["handle H, drum D 40 mm on one axle", "H turns clockwise"],
            &["1", "1"],
        ),
    ] {
        assert_eq!(turns(lines), told, "{lines:?}");
    }
}

#[test]
fn nothing_turns_fast_and_what_is_slow_is_told() {
    let (_, pair) = moved(&["gear A 12 drives gear B 12"]);
    assert!((pair.turns_a_second - 1.0 / 3.0).abs() < 1e-9);
    // Sixty teeth of each pass in one turn: six of them a second.
    let (_, fine) = moved(&["gear A 60 drives gear B 60"]);
    assert!((fine.turns_a_second - 0.1).abs() < 1e-9);
    assert!(fine.remarks.is_empty());
    let (_, worm) = moved(&["worm W 1 start drives gear B 40"]);
    assert_eq!(worm.remarks, ["B makes 1 turn in 40 turns of W."]);
    let (_, rack) = moved(&["gear P 12 drives rack R"]);
    let (back, forth) = rack.stroke.expect("a rack has ends");
    assert!((back + forth) / rack.turns_a_second > 3.99);
}

#[test]
fn what_seeing_it_turn_would_answer_is_held_still() {
    let pair = notation::read(&["gear A 12 drives gear B 36"]).expect("well formed");
    for (asked, told) in [
        ("direction of B", true),
        ("turns of B", true),
        ("why faster of A, B", true),
        ("will it turn", true),
        ("name of B", false),
        ("ratio of teeth A : B", false),
    ] {
        let asked: ask::Ask = notation::read_ask(asked, &pair).expect("well formed");
        assert_eq!(motion::tells(&asked), told, "{asked:?}");
    }
}

#[test]
fn a_question_without_an_answer_is_told_by_its_number() {
    let fault = NoAnswer {
        question: "Q3a".to_owned(),
        faults: Vec::new(),
    };
    assert!(fault.to_string().starts_with("Q3a: no right answer"));
}
