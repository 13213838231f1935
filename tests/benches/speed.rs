//! How long single steps take: reading an answer, solving a mechanism, marking a sheet,
//! drawing the numbers of a homework.
//!
//! `cargo bench --bench speed` prints a table; the figures in DEVELOPERS.md came from it.

#[path = "class.rs"]
mod class;

use divan::Bencher;
use divan::counter::ItemsCount;
use std::collections::BTreeMap;
use toothmark::answer;
use toothmark::gears::ask;
use toothmark::gears::notation;
use toothmark::gears::solve;
use toothmark::homework;
use toothmark::marking;
use toothmark::marking::handed_in;
use toothmark::marking::policy;
use toothmark::number;

fn main() {
    divan::main();
}

/// Ten gears in a row of pairs on shared axles: a gearbox of five stages.
fn gearbox() -> (toothmark::gears::mechanism::Mechanism, ask::Ask) {
    let lines = [
        "gear A 12 drives gear B 36",
        "B, gear C 14 on one axle",
        "C drives gear D 42",
        "D, gear E 16 on one axle",
        "E drives gear F 40",
        "F, gear G 18 on one axle",
        "G drives gear H 45",
        "H, gear I 20 on one axle",
        "I drives gear J 50",
        "A turns 60 clockwise",
    ];
    let mechanism = notation::read(&lines).expect("the mechanism is sound");
    let ask = notation::read_ask("turns of J", &mechanism).expect("it can be asked");
    (mechanism, ask)
}

// What is no longer needed is let go within the time, as where answers are marked: divan
// would keep it until the end, and most of the time would be the system finding memory.

#[divan::bench]
fn solve_ten_gears(bencher: Bencher<'_, '_>) {
    let (mechanism, _) = gearbox();
    bencher.bench(|| drop(solve::solve(divan::black_box(&mechanism))));
}

#[divan::bench]
fn answer_of_ten_gears(bencher: Bencher<'_, '_>) {
    let (mechanism, ask) = gearbox();
    bencher.bench(|| drop(solve::answer(divan::black_box(&mechanism), &ask)));
}

/// An answer with the form it is read for.
fn form_of(question: &str) -> answer::Form {
    let lines = ["gear A 12 drives gear B 36", "A turns 9 clockwise"];
    let mechanism = notation::read(&lines).expect("the mechanism is sound");
    let ask = notation::read_ask(question, &mechanism).expect("it can be asked");
    let precision = number::Precision::Exact;
    answer::form_for(&mechanism, &ask, None, precision, false).expect("it can be asked")
}

#[divan::bench(args = ["27", "3.5", "2 1/2", "12 turns", "it turns 3 times i think"])]
fn read_number(bencher: Bencher<'_, '_>, text: &str) {
    read(bencher, "turns of B", text);
}

#[divan::bench(args = ["clockwise", "anticlockwise", "ACW", "the other way round"])]
fn read_direction(bencher: Bencher<'_, '_>, text: &str) {
    read(bencher, "direction of B", text);
}

fn typed(text: &str) -> answer::Typed {
    answer::Typed {
        text: text.to_owned(),
        undone: Vec::new(),
    }
}

fn read(bencher: Bencher<'_, '_>, question: &str, text: &str) {
    let form = form_of(question);
    let typed = typed(text);
    bencher.bench(|| answer::read(divan::black_box(&typed), &form));
}

/// The numbers of so many homeworks of 20 questions, each its own: finding the questions
/// takes the same for a class as for a country.
#[divan::bench(sample_count = 3, sample_size = 1, args = [30, 200, 10_000])]
fn draw_homeworks(bencher: Bencher<'_, '_>, pupils: usize) {
    bencher.counter(ItemsCount::new(pupils)).bench(|| {
        class::homework(
            pupils,
            homework::Questions::Count(20),
            homework::Versions::Each,
        )
    });
}

/// A sheet of 20 questions, answered rightly.
#[divan::bench]
fn mark_a_sheet(bencher: Bencher<'_, '_>) {
    let homework = class::homework(1, homework::Questions::Count(20), homework::Versions::Same);
    let items = &homework.sheets[0].items;
    let answers = items.iter().map(|item| {
        let fact = solve::answer(&item.mechanism, &item.ask)
            .expect("it solves")
            .fact;
        let text = answer::expected(&fact, &item.form);
        (item.number.clone(), typed(&text))
    });
    let response = marking::Response {
        pupil_id: "P0".to_owned(),
        attendance: marking::Attendance::Present,
        answers: answers.collect(),
        working: BTreeMap::new(),
        origin: handed_in::Origin::default(),
    };
    let policy = policy::Policy::default();
    bencher
        .counter(ItemsCount::new(items.len()))
        .bench(|| marking::mark_sheet(items, divan::black_box(&response), &policy));
}
