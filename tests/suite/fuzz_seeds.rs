//! The seeds of the fuzz targets (`tests/fuzz`), played again without a fuzzer.

use crate::fuzz_bodies;
use proptest::prelude::{ProptestConfig, any};
use proptest::sample::Index;
use std::sync::LazyLock;

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
