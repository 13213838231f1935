//! How fast a class's sheets are laid out, in how much memory, and whose time it is.
//!
//! `cargo bench --bench paper` prints a table; the one in DEVELOPERS.md came from it.
//! Memory is the most that the process held meanwhile, where the system tells it.

#![expect(clippy::print_stdout, reason = "the table is the result")]

#[path = "class.rs"]
mod class;

use lopdf::Document;
use std::fs;
use std::time::Duration;
use std::time::Instant;
use toothmark::homework;
use toothmark::need;
use toothmark::paper;

/// The pupils of the class.
const PUPILS: usize = 30;
/// How often each is done; the fastest counts.
const RUNS: usize = 3;

fn main() {
    let usual = need::Needs::default();
    let large = need::Needs {
        print_size: need::PrintSize::Point24,
        word_card: need::WordCard::With,
        ..usual
    };
    println!(
        "| {PUPILS} sheets, each its own | pages | s | pages a second | drawing and data | typesetter | MB |"
    );
    println!("|---|---|---|---|---|---|---|");
    for (what, questions, needs) in [
        ("two pages", 4, usual),
        ("12 questions", 12, usual),
        ("20 questions", 20, usual),
        ("12 questions, 24 point, word card", 12, large),
    ] {
        let homework = class::homework(
            PUPILS,
            homework::Questions::Count(questions),
            homework::Versions::Each,
        );
        let class = need::Class {
            usual: needs,
            ..need::Class::default()
        };
        row(what, &homework, &class);
    }
    let homework = class::homework(
        PUPILS,
        homework::Questions::Count(20),
        homework::Versions::Each,
    );
    let start = Instant::now();
    let bytes = paper::mark_scheme(&homework).expect("the scheme can be set");
    let seconds = start.elapsed().as_secs_f64();
    println!(
        "\nMark scheme of 20 questions: {} pages, {seconds:.2} s.",
        pages(&bytes)
    );
}

fn row(what: &str, homework: &homework::Homework, class: &need::Class) {
    let mut best: Option<(Duration, Duration)> = None;
    let mut bytes = Vec::new();
    forget_peak();
    for _ in 0..RUNS {
        let start = Instant::now();
        let prepared = paper::prepare_sheets(homework, class);
        let ours = start.elapsed();
        bytes = prepared.typeset().expect("the sheets can be set");
        let all = start.elapsed();
        if best.is_none_or(|(_, least)| all < least) {
            best = Some((ours, all));
        }
    }
    let (ours, all) = best.expect("it ran");
    let (ours, all) = (ours.as_secs_f64(), all.as_secs_f64());
    let pages = pages(&bytes);
    let a_second = f64::from(pages) / all;
    let share = 100.0 * ours / all;
    let memory = peak_mb().map_or("?".to_owned(), |peak| peak.to_string());
    println!(
        "| {what} | {pages} | {all:.2} | {a_second:.0} | {share:.0} % | {:.0} % | {memory} |",
        100.0 - share
    );
}

fn pages(bytes: &[u8]) -> u32 {
    let document = Document::load_mem(bytes).expect("it is a PDF");
    u32::try_from(document.get_pages().len()).expect("a count of pages is small")
}

/// Begins the count of the most memory anew, where the system can.
fn forget_peak() {
    fs::write("/proc/self/clear_refs", "5").ok();
}

/// The most memory held since, in MB (10^6 bytes), where the system tells it.
fn peak_mb() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
    let kib: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kib * 1024 / 1_000_000)
}
