//! Laws of the wrong solvers, held against the right one: what a misconception
//! answers is the right answer to another mechanism, the one the pupil has in mind.

use proptest::prelude::*;
use std::collections::BTreeSet;
use toothmark::gears::ask;
use toothmark::gears::notation;
use toothmark::gears::solve;
use toothmark::misconception;

fn right(lines: &[String], asked: &str) -> ask::Fact {
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    let mechanism = notation::read(&lines).expect("the test's own mechanism");
    let ask = notation::read_ask(asked, &mechanism).expect("the test's own question");
    solve::answer(&mechanism, &ask)
        .unwrap_or_else(|faults| panic!("{lines:?} {asked}: {faults:?}"))
        .fact
}

fn wrong(id: &str, lines: &[String], asked: &str) -> Vec<ask::Fact> {
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    let mechanism = notation::read(&lines).expect("the test's own mechanism");
    let ask = notation::read_ask(asked, &mechanism).expect("the test's own question");
    misconception::predictions(&mechanism, &ask)
        .into_iter()
        .filter(|prediction| prediction.misconception.id == id)
        .map(|prediction| prediction.fact)
        .collect()
}

/// Checks that a misconception answers one mechanism as another is answered right.
fn check(id: &str, (set, asked): (&[String], &str), (in_mind, answered): (&[String], &str)) {
    assert_eq!(
        wrong(id, set, asked),
        [right(in_mind, answered)],
        "{id}: {set:?} {asked}, taken for {in_mind:?} {answered}"
    );
}

/// Checks that a misconception answers one mechanism as each of these is answered right.
fn check_each(id: &str, set: &[String], in_mind: &[Vec<String>], asked: &str) {
    let right: Vec<ask::Fact> = in_mind.iter().map(|lines| right(lines, asked)).collect();
    assert_eq!(wrong(id, set, asked), right, "{id}: {set:?} {asked}");
}

fn own(lines: &[&str]) -> Vec<String> {
    lines.iter().map(|line| (*line).to_owned()).collect()
}

fn compound(a: u32, b: u32, c: u32, d: u32, last: &[&str]) -> Vec<String> {
    let mut lines = vec![
        format!("gear A {a} drives gear B {b}"),
        format!("gear B {b}, gear C {c} on one axle"),
        format!("gear C {c} drives gear D {d}"),
    ];
    lines.extend(own(last));
    lines
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn trains(a in 8_u32..60, b in 8_u32..60, c in 8_u32..60, d in 8_u32..60, n in 2_u32..90) {
        let turns = format!("A turns {n}");
        let pair = |a, b| vec![format!("gear A {a} drives gear B {b}"), turns.clone()];
        let of_b = "turns of B";
        check("ratio-upside-down", (&pair(a, b), of_b), (&pair(b, a), of_b));
        check("same-speed", (&pair(a, b), of_b), (&pair(a, a), of_b));
        let row = |a, b, c| {
            vec![
                format!("gear A {a} drives gear B {b} drives gear C {c}"),
                turns.clone(),
            ]
        };
        let of_c = "turns of C";
        check("stops-at-idler", (&row(a, b, c), of_c), (&row(a, b, c), of_b));
        check("starts-at-idler", (&row(a, b, c), of_c), (&pair(b, c), of_b));
        check("ratio-upside-down", (&row(a, b, c), of_c), (&row(c, b, a), of_c));
        let train = compound(a, b, c, d, &[&turns]);
        let of_d = "turns of D";
        check("first-stage-only", (&train, of_d), (&train, of_b));
        check("last-stage-only", (&train, of_d), (&pair(c, d), of_b));
        check("shared-axle-overlooked", (&train, of_d), (&pair(a, d), of_b));
        let other = compound(a, b, d, c, &[&turns]);
        check("second-stage-upside-down", (&train, of_d), (&other, of_d));
        let inverse = compound(b, a, d, c, &[&turns]);
        check("ratio-upside-down", (&train, of_d), (&inverse, of_d));
        let taken_out = compound(a, b, c, d, &[&turns, "C, D taken out"]);
        check("stage-still-in", (&taken_out, of_d), (&train, of_d));
        let ratio = "ratio of turns A : D";
        check("ratio-order-swapped", (&train, ratio), (&train, "ratio of turns D : A"));
        check("second-stage-upside-down", (&train, ratio), (&other, ratio));
    }

    #[test]
    fn worms_racks_and_time(starts in 2_u32..5, z in 10_u32..60, m in 1_u32..6, n in 2_u32..90) {
        let of_b = "turns of B";
        let worm = |starts: u32| {
            vec![
                format!("worm W {starts} starts drives gear B {z}"),
                format!("W turns {n}"),
            ]
        };
        check("worm-starts-ignored", (&worm(starts), of_b), (&worm(1), of_b));
        let of_r = "distance of R";
        let rack = |m: String, z: u32, n: u32| {
            vec![
                format!("gear P {z} drives rack R"),
                format!("tooth size {m} mm"),
                format!("P turns {n}"),
            ]
        };
        let set = rack(m.to_string(), z, n);
        let circles = [rack(format!("{m}/2"), z, n), rack((2 * m).to_string(), z, n)];
        check_each("radius-for-diameter", &set, &circles, of_r);
        check("outside-diameter", (&set, of_r), (&rack(m.to_string(), z + 2, n), of_r));
        check("one-turn-only", (&set, of_r), (&rack(m.to_string(), z, 1), of_r));
        let winch = |a: u32, z: u32, drum: u32| {
            vec![
                format!("handle H, gear A {a} on one axle"),
                format!("gear A {a} drives gear B {z}"),
                format!("gear B {z}, drum D {drum} mm on one axle"),
                format!("H turns {n}"),
            ]
        };
        let of_d = "distance of D";
        let set = winch(10, z, 60);
        check("gears-before-drum-left-out", (&set, of_d), (&winch(10, 10, 60), of_d));
        let drums = [winch(10, z, 30), winch(10, z, 120)];
        check_each("radius-for-diameter", &set, &drums, of_d);
        let timed = |minutes: u32| {
            vec![
                format!("gear A 20 drives gear B {z}"),
                format!("A runs at {n} rpm"),
                format!("for {minutes} minutes"),
            ]
        };
        check("minutes-left-out", (&timed(m + 1), of_b), (&timed(1), of_b));
    }

    #[test]
    fn forces(a in 8_u32..60, b in 8_u32..60, c in 8_u32..60, d in 8_u32..60, f in 1_u32..90) {
        prop_assume!(a < b);
        let given = format!("turning force {f} N cm on A");
        let pair = |a: u32, b: u32| {
            vec![format!("gear A {a} drives gear B {b}"), given.clone()]
        };
        let of_b = "turning force of B";
        check("force-upside-down", (&pair(a, b), of_b), (&pair(b, a), of_b));
        check("gains-force-and-speed", (&pair(b, a), of_b), (&pair(a, b), of_b));
        let of_d = "turning force of D";
        let lossless = compound(a, b, c, d, &[&given]);
        let lossy = compound(a, b, c, d, &[&given, "efficiency 9/10"]);
        check("losses-left-out", (&lossy, of_d), (&lossless, of_d));
        let less = compound(a, b, c, d, &[&format!("turning force {}/10 N cm on A", 8 * f)]);
        check("losses-subtracted", (&lossy, of_d), (&less, of_d));
        let winch = |drum: u32, efficiency: &str, driver: u32, wheel: u32| {
            vec![
                format!("handle H 300 mm, gear A {driver} on one axle"),
                format!("gear A {driver} drives gear B {wheel}"),
                format!("gear B {wheel}, drum D {drum} mm on one axle"),
                format!("efficiency {efficiency}"),
                format!("force {f} N at H"),
            ]
        };
        let at_d = "force at D";
        let set = winch(100, "9/10", a, b);
        check("radius-for-diameter", (&set, at_d), (&winch(200, "9/10", a, b), at_d));
        check("losses-left-out", (&set, at_d), (&winch(100, "1", a, b), at_d));
        check("gears-left-out-of-winch", (&set, at_d), (&winch(100, "9/10", a, a), at_d));
        // Asked against the drive: losses make the pull at the handle larger.
        let lift = |efficiency: &str| {
            vec![
                format!("handle H 300 mm, gear A {a} on one axle"),
                format!("gear A {a} drives gear B {b}"),
                format!("gear B {b}, drum D 100 mm on one axle"),
                format!("efficiency {efficiency}"),
                format!("force {f} N at D"),
            ]
        };
        check("losses-left-out", (&lift("9/10"), "force at H"), (&lift("1"), "force at H"));
        let rack = |m: &str| {
            vec![
                format!("gear A {a} drives gear B {b} drives rack R"),
                format!("tooth size {m} mm"),
                "efficiency 9/10".to_owned(),
                given.clone(),
            ]
        };
        check("radius-for-diameter", (&rack("2"), "force at R"), (&rack("4"), "force at R"));
    }
}

/// Mechanisms with letters for their numbers, and what is asked of each.
const SHAPES: &str = include_str!("../cases/shapes.tsv");

/// Three sets of numbers without common factors, in the order of the letters.
const NUMBERS: [[u32; 8]; 3] = [
    [11, 29, 13, 37, 17, 41, 7, 5],
    [31, 14, 23, 15, 43, 19, 53, 3],
    [17, 47, 16, 59, 13, 71, 10, 9],
];

/// Which answers to a question are the same: the right one (an empty id) and those of
/// ways of thinking, in pairs of ids.
fn same_answers(lines: &[&str], asked: &str) -> BTreeSet<(&'static str, &'static str)> {
    let mechanism = notation::read(lines).unwrap_or_else(|fault| panic!("{lines:?}: {fault:?}"));
    let ask = notation::read_ask(asked, &mechanism).expect("the test's own question");
    let right = solve::answer(&mechanism, &ask)
        .unwrap_or_else(|faults| panic!("{lines:?}: {faults:?}"))
        .fact;
    let mut answers = vec![("", right)];
    answers.extend(
        misconception::predictions(&mechanism, &ask)
            .into_iter()
            .filter(|prediction| !prediction.misconception.slip)
            .map(|prediction| (prediction.misconception.id, prediction.fact)),
    );
    let mut same = BTreeSet::new();
    for (index, (id, fact)) in answers.iter().enumerate() {
        for (other, other_fact) in &answers[index + 1..] {
            if id != other && fact == other_fact {
                same.insert((*id, *other));
            }
        }
    }
    same
}

#[test]
fn every_way_of_thinking_can_be_told_from_the_others_and_from_the_right_one() {
    let mut never = Vec::new();
    for line in SHAPES.lines().filter(|line| !line.starts_with('#')) {
        let (shape, asked) = line.split_once('\t').expect("two cells");
        let each_time = NUMBERS.map(|numbers| {
            let mut text = shape.to_owned();
            for (letter, number) in "abcdefnt".chars().zip(numbers) {
                text = text.replace(&format!("{{{letter}}}"), &number.to_string());
            }
            let lines: Vec<&str> = text.split(';').map(str::trim).collect();
            same_answers(&lines, asked)
        });
        let [first, second, third] = each_time;
        for (one, other) in first {
            if second.contains(&(one, other)) && third.contains(&(one, other)) {
                never.push(format!("\"{one}\" and \"{other}\": {shape}: {asked}"));
            }
        }
    }
    assert!(
        never.is_empty(),
        "these are never told apart, whatever the numbers:\n{}",
        never.join("\n")
    );
}
