//! The seeds of the fuzz targets (`tests/fuzz`), played again without a fuzzer.

use crate::fuzz_bodies;
use crate::fuzz_files;
use proptest::prelude::{ProptestConfig, any};
use proptest::sample::Index;
use std::env;
use std::io::Write as _;
use std::sync::LazyLock;
use std::time::{Duration, Instant};

/// The most seeds of a target that are played, spread evenly over all: each is marked
/// or read several times.
const MOST: usize = 400;

/// The seeds of each target.
static SEEDS: LazyLock<Vec<Vec<Vec<u8>>>> = LazyLock::new(|| {
    let targets = fuzz_bodies::TARGETS.iter();
    targets.map(|target| (target.seeds)()).collect()
});

#[test]
fn every_fuzz_target_holds_for_its_seeds() {
    for (target, seeds) in fuzz_bodies::TARGETS.iter().zip(&*SEEDS) {
        assert!(seeds.len() >= 20, "{}: {} seeds", target.name, seeds.len());
        let step = seeds.len().div_ceil(MOST);
        for seed in seeds.iter().step_by(step) {
            (target.body)(seed);
        }
    }
}

#[test]
fn inputs_of_any_bytes_and_any_length_do_no_harm() {
    for target in fuzz_bodies::TARGETS {
        for byte in [0, b'\t', b'1', b'/', 0x7F, 0xC3, 0xFF] {
            for length in [0, 1, 2, 3, 6, 7, 40, 2_000] {
                (target.body)(&vec![byte; length]);
            }
        }
    }
}

#[test]
fn every_fuzz_target_of_files_holds_for_its_seeds() {
    for target in fuzz_files::TARGETS {
        let seeds = (target.seeds)();
        assert!(seeds.len() >= 5, "{}: {} seeds", target.name, seeds.len());
        for seed in seeds.iter().step_by(seeds.len().div_ceil(60)) {
            (target.body)(seed);
        }
        for byte in [0, 1, b'[', b'{', b'"', 0xFF] {
            for length in [0, 1, 2, 40, 2_000] {
                (target.body)(&vec![byte; length]);
            }
        }
    }
}

/// Pieces that mean something to one reader or another.
const PIECES: [&str; 32] = [
    "\"",
    "'",
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    "=",
    ",",
    ":",
    "\n",
    "\t",
    "\\",
    "\\u0000",
    "null",
    "true",
    "-1",
    "0",
    "1e999",
    "99999999999999999999",
    "0.0000001",
    "\u{0}",
    "\u{202e}",
    "\u{feff}",
    "\"\"\"",
    "<",
    "/>",
    "&#0;",
    "<!--",
    "[template.part]",
    "\"format\":2",
];

/// Draws from a stream of its own (xorshift), so that a run can be repeated.
struct Draws(u64);

impl Draws {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let end = u64::try_from(end.max(1)).expect("it fits");
        usize::try_from(self.0 % end).expect("it is smaller")
    }

    /// One to four changes of a seed: bytes, pieces, parts left out, doubled or taken from
    /// another seed.
    fn changed(&mut self, seeds: &[Vec<u8>]) -> Vec<u8> {
        let mut input = seeds[self.below(seeds.len())].clone();
        for _ in 0..=self.below(4) {
            let place = self.below(input.len());
            let length = self.below(60).min(input.len() - place);
            match self.below(6) {
                0 if !input.is_empty() => input[place] = self.below(256).to_le_bytes()[0],
                1 => drop(input.splice(place..place, PIECES[self.below(PIECES.len())].bytes())),
                2 => drop(input.splice(
                    place..place + length,
                    PIECES[self.below(PIECES.len())].bytes(),
                )),
                3 => drop(input.drain(place..place + length)),
                4 => {
                    let part = input[place..place + length].to_vec();
                    input.splice(place..place, part);
                }
                _ => {
                    let other = &seeds[self.below(seeds.len())];
                    let from = self.below(other.len());
                    input.truncate(place);
                    input.extend(&other[from..]);
                }
            }
        }
        input
    }
}

#[test]
fn changed_files_do_no_harm() {
    // `TOOTHMARK_FUZZ_SECONDS=300` fuzzes so long, each target, where no fuzzer is installed.
    let wanted = env::var("TOOTHMARK_FUZZ_SECONDS")
        .ok()
        .and_then(|text| text.parse().ok());
    let start = env::var("TOOTHMARK_FUZZ_START")
        .ok()
        .and_then(|text| text.parse().ok());
    for target in fuzz_files::TARGETS {
        let seeds = (target.seeds)();
        let mut draws = Draws(start.unwrap_or(0x9E37_79B9_7F4A_7C15));
        let begun = Instant::now();
        let mut count = 0_u32;
        while count < 40
            || wanted.is_some_and(|seconds| begun.elapsed() < Duration::from_secs(seconds))
        {
            (target.body)(&draws.changed(&seeds));
            count += 1;
        }
        if let Some(seconds) = wanted {
            let remark = format!("{}: {count} executions in {seconds} s", target.name);
            writeln!(std::io::stderr(), "{remark}").expect("the error stream can be written to");
        }
    }
}

proptest::proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn two_seeds_spliced_with_other_numbers_do_no_harm(
        target in any::<Index>(),
        first in any::<Index>(),
        second in any::<Index>(),
        cut in any::<Index>(),
        between in "[0-9 .,:/x=+%\t-]{0,8}",
        numbers in any::<[u8; 4]>(),
    ) {
        let place = target.index(SEEDS.len());
        let seeds = &SEEDS[place];
        let (first, second) = (first.get(seeds), second.get(seeds));
        let (head, _) = first.split_at(cut.index(first.len() + 1));
        let (_, tail) = second.split_at(cut.index(second.len() + 1));
        let mut input = [head, between.as_bytes(), tail].concat();
        if fuzz_bodies::TARGETS[place].name == "marks" && input.len() >= 6 {
            input[2..6].copy_from_slice(&numbers);
        }
        (fuzz_bodies::TARGETS[place].body)(&input);
    }
}
