//! Work shared out over the cores of the computer.

use std::panic;
use std::thread;

/// Returns what comes of a list, one after another part of it, in order: a part for each
/// core, none with fewer entries than `least`, which must not be worth a core.
///
/// What comes out must not hang on where the parts begin.
pub(crate) fn share_out<'a, T: Sync, R: Send>(
    list: &'a [T],
    least: usize,
    work: impl Fn(&'a [T]) -> R + Sync,
) -> Vec<R> {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let part = list.len().div_ceil(cores).max(least).max(1);
    if list.len() <= part {
        return vec![work(list)];
    }
    thread::scope(|scope| {
        let parts: Vec<_> = list
            .chunks(part)
            .map(|part| scope.spawn(|| work(part)))
            .collect();
        let done = parts.into_iter().map(|part| match part.join() {
            Ok(done) => done,
            Err(panic) => panic::resume_unwind(panic),
        });
        done.collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_come_back_in_order_whatever_their_size() {
        let numbers: Vec<u32> = (0..1_000).collect();
        for least in [0, 1, 7, 400, 5_000] {
            let parts = share_out(&numbers, least, <[u32]>::to_vec);
            assert_eq!(parts.concat(), numbers);
            let (last, others) = parts.split_last().expect("one at the least");
            assert!(!last.is_empty() && others.iter().all(|part| part.len() >= least));
        }
        assert_eq!(share_out(&[], 1, <[u32]>::to_vec), [Vec::<u32>::new()]);
    }
}
