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

/// Returns what comes of each entry of a list, in order; see [`share_out`].
pub(crate) fn map<'a, T: Sync, R: Send>(
    list: &'a [T],
    least: usize,
    one: impl Fn(&'a T) -> R + Sync,
) -> Vec<R> {
    let parts = share_out(list, least, |part| {
        part.iter().map(&one).collect::<Vec<R>>()
    });
    parts.into_iter().flatten().collect()
}

/// Does two things at a time; returns what comes of the one and of the other.
pub(crate) fn both<A: Send, B>(
    one: impl FnOnce() -> A + Send,
    other: impl FnOnce() -> B,
) -> (A, B) {
    thread::scope(|scope| {
        let one = scope.spawn(one);
        let other = other();
        match one.join() {
            Ok(one) => (one, other),
            Err(panic) => panic::resume_unwind(panic),
        }
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
        let doubled: Vec<u32> = numbers.iter().map(|it| 2 * it).collect();
        assert_eq!(map(&numbers, 7, |it| 2 * it), doubled);
        assert_eq!(both(|| 1, || "other"), (1, "other"));
    }
}
