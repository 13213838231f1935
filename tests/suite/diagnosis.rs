//! Truth against diagnosis: what pupils believe, and what the marker says of them.
//!
//! `cargo test -- --nocapture diagnosis` prints both tables, and so does
//! `cargo run --example diagnosis`.

use crate::simulation::diagnosis;
use std::collections::BTreeSet;
use toothmark::misconception;

/// Misconceptions that no question of the shipped banks draws out.
const NOT_DRAWN_OUT: &[&str] = &["partner-not-taken-off"];

/// Checks that so many of all are at least so many in a hundred.
fn check_share(what: &str, some: usize, all: usize, percent: usize) {
    assert!(
        some * 100 >= all * percent,
        "{what}: {some} of {all} are fewer than {percent} in a hundred"
    );
}

#[test]
#[allow(
    clippy::print_stdout,
    reason = "the table is for people who ask for it"
)]
fn diagnosis_of_the_sample_classes() {
    let table = diagnosis::of_sample_classes();
    println!("The sample classes, one homework each\n{}", table.text());
    let sum = table.sum();
    assert!(sum.followed >= 100 && sum.shown >= 30, "{sum:?}");
    check_share("beliefs recognised", sum.recognised, sum.followed, 99);
    check_share("pupils told", sum.told, sum.shown, 99);
    assert!(sum.told_else <= 1, "{sum:?}");
    assert!(table.without.told <= 1, "{:?}", table.without);
}

#[test]
#[allow(
    clippy::print_stdout,
    reason = "the table is for people who ask for it"
)]
fn diagnosis_of_a_school_in_which_every_misconception_is_held() {
    let table = diagnosis::of_larger_school();
    println!(
        "A larger school, every question of each bank\n{}",
        table.text()
    );
    let known: BTreeSet<&str> = misconception::all()
        .iter()
        .filter(|known| !known.slip && !NOT_DRAWN_OUT.contains(&known.id))
        .map(|known| known.id)
        .collect();
    let held: BTreeSet<&str> = table.rows.keys().map(String::as_str).collect();
    assert_eq!(held, known, "held on the left, known on the right");
    for (id, row) in &table.rows {
        assert!(row.followed > 0, "{id}: nobody followed it");
        check_share(
            &format!("{id} recognised"),
            row.recognised,
            row.followed,
            80,
        );
        check_share(&format!("{id} told"), row.told, row.shown, 60);
    }
    let sum = table.sum();
    check_share("beliefs recognised", sum.recognised, sum.followed, 99);
    check_share("answers settled", sum.settled, sum.followed, 97);
    check_share("pupils told", sum.told, sum.shown, 97);
    check_share(
        "told of nothing else",
        sum.holders - sum.told_else,
        sum.holders,
        97,
    );
    assert!(table.without.told <= 2, "{:?}", table.without);
}
