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
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let start = Instant::now();
    let counted = count(nation, cores);
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
        "folded on {cores} cores in {:.1} s, summed up in {:.1} s; {} of processor time",
        folded.as_secs_f64(),
        told.as_secs_f64(),
        processor_time().unwrap_or_else(|| "an unknown amount".to_owned()),
    );
    match peak() {
        Some(peak) => println!("memory at the peak: {peak}"),
        None => println!("memory at the peak: not known on this system"),
    }
}

/// Counts the classes in as many parts as there are cores, and puts the parts together.
fn count(nation: nation::Nation, cores: usize) -> nation::Counted {
    let classes = nation.classes();
    let edge = |part: usize| classes * part / cores;
    std::thread::scope(|scope| {
        let parts: Vec<_> = (0..cores)
            .map(|part| scope.spawn(move || nation.count(edge(part)..edge(part + 1))))
            .collect();
        parts
            .into_iter()
            .map(|part| part.join().expect("a part is counted"))
            .reduce(|mut whole, part| {
                let fold = whole.fold.merge(&part.fold);
                fold.expect("the parts have homeworks of their own");
                whole.plain.join(&part.plain);
                whole
            })
            .expect("there is at least one core")
    })
}

/// The processor time of this process so far, as Linux tells it.
fn processor_time() -> Option<String> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    // The fields after the program's name, which may have spaces in it.
    let fields: Vec<&str> = stat.rsplit(')').next()?.split_whitespace().collect();
    let ticks = |place: usize| fields.get(place)?.parse::<u32>().ok();
    // User and system time, in hundredths of a second on every usual Linux.
    let ticks = ticks(11)?.checked_add(ticks(12)?)?;
    Some(format!("{:.1} s", f64::from(ticks) / 100.0))
}

/// The most memory this process has had, as Linux tells it.
fn peak() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.trim_start_matches("VmHWM:").trim().to_owned())
}
