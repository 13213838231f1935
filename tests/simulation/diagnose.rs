//! Prints truth against diagnosis: what pupils of the invented school believe, and what
//! the marker says of them.
//!
//! Run with `cargo run --example diagnosis`.

#![allow(missing_docs, reason = "a program for contributors, not a library")]
#![allow(clippy::print_stdout, reason = "printing is what it is for")]

#[allow(dead_code, reason = "the tests use the rest")]
#[path = "mod.rs"]
mod simulation;

use simulation::diagnosis;

fn main() {
    println!("The sample classes, one homework each\n");
    println!("{}", diagnosis::of_sample_classes().text());
    println!("A larger school, every question of each bank\n");
    println!("{}", diagnosis::of_larger_school().text());
}
