//! Counts a made-up nation's homeworks and says how long it took and how much memory.
//!
//! Run with `cargo run --release --example nation -- 600000 12`.

#![allow(missing_docs, reason = "a program for contributors, not a library")]
#![allow(clippy::print_stdout, reason = "printing is what it is for")]

#[path = "nation.rs"]
mod nation;

use std::time::Instant;
use toothmark::attainment;
use toothmark::attainment::curriculum;

fn main() {
    let mut numbers = std::env::args()
        .skip(1)
        .map(|text| text.parse().expect("a number: pupils, then homeworks"));
    let nation = nation::Nation {
        pupils: numbers.next().unwrap_or(60_000),
        homeworks: numbers.next().unwrap_or(12),
    };
    let start = Instant::now();
    let counted = nation.count(0..nation.classes());
    let folded = start.elapsed();
    let school = attainment::School {
        curricula: vec![curriculum::england()],
        ..attainment::School::default()
    };
    let start = Instant::now();
    let summary = counted.fold.summary(&school);
    let told = start.elapsed();
    println!(
        "{} pupils, {} homeworks each: {} records with {} answers",
        nation.classes() * 30,
        nation.homeworks,
        summary.homeworks.len(),
        counted.plain.handed_in() + counted.plain.absent,
    );
    println!(
        "folded in {:.1} s, summed up in {:.1} s",
        folded.as_secs_f64(),
        told.as_secs_f64()
    );
    match peak() {
        Some(peak) => println!("memory at the peak: {peak}"),
        None => println!("memory at the peak: not known on this system"),
    }
}

/// The most memory this process has had, as Linux tells it.
fn peak() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.trim_start_matches("VmHWM:").trim().to_owned())
}
