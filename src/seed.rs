//! A named random stream (`ChaCha20`, RFC 8439) and our own draws from it, the
//! same on every machine.
//!
//! The crate gives only the stream; every draw is ours and eats whole 64-bit
//! words, so that a new version of the crate cannot change a homework.

use rand_chacha::ChaCha20Rng;
use rand_core::{Rng, SeedableRng};
use sha2::{Digest, Sha256};

/// A random stream named by texts and a number.
pub struct Stream(ChaCha20Rng);

impl Stream {
    /// Returns the stream of this name: the same texts and number give the same
    /// draws on every machine.
    ///
    /// `parts` are hashed with their lengths, so `ab`, `c` is not `a`, `bc`.
    #[must_use]
    pub fn named(parts: &[&str], number: u64) -> Self {
        let mut hash = Sha256::new();
        for part in parts {
            let length = u64::try_from(part.len()).expect("a text is shorter than 2^64 bytes");
            hash.update(length.to_le_bytes());
            hash.update(part.as_bytes());
        }
        let mut stream = ChaCha20Rng::from_seed(hash.finalize().into());
        stream.set_stream(number);
        stream.set_word_pos(0);
        Self(stream)
    }

    /// Returns a whole number from nought to below `limit`, each equally likely.
    ///
    /// Source: D. Lemire, Fast Random Integer Generation in an Interval, ACM
    /// Transactions on Modeling and Computer Simulation 29(1), 2019: a 64 by 64
    /// bit product, its upper half kept, with rejection.
    ///
    /// # Panics
    ///
    /// When `limit` is nought.
    pub fn below(&mut self, limit: u64) -> u64 {
        assert!(limit > 0, "nothing to draw from");
        let threshold = limit.wrapping_neg() % limit;
        loop {
            let product = u128::from(self.0.next_u64()) * u128::from(limit);
            let low = u64::try_from(product & u128::from(u64::MAX)).expect("the lower half");
            if low >= threshold {
                return u64::try_from(product >> 64).expect("the upper half");
            }
        }
    }

    /// Returns an index into a list of so many entries.
    ///
    /// # Panics
    ///
    /// When the list is empty.
    pub fn index(&mut self, length: usize) -> usize {
        let limit = u64::try_from(length).expect("a list is shorter than 2^64");
        usize::try_from(self.below(limit)).expect("below a length")
    }

    /// Returns one entry of the list, each equally likely; `None` if it is empty.
    pub fn choose<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        if list.is_empty() {
            None
        } else {
            list.get(self.index(list.len()))
        }
    }

    /// Puts the list in a random order, each order equally likely
    /// (Fisher and Yates, from the last entry down).
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for last in (1..list.len()).rev() {
            let other = self.index(last + 1);
            list.swap(last, other);
        }
    }

    /// Returns so many capital letters and digits that cannot be mistaken for
    /// each other when read aloud or typed off paper.
    pub fn code(&mut self, length: usize) -> String {
        const SIGNS: &[char] = &[
            '3', '4', '6', '7', '9', 'A', 'C', 'D', 'E', 'F', 'H', 'J', 'K', 'M', 'N', 'P', 'R',
            'T', 'W', 'X', 'Y',
        ];
        (0..length)
            .map(|_| SIGNS[self.index(SIGNS.len())])
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hex(bytes: &[u8]) -> String {
        bytes
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect::<Vec<_>>()
            .concat()
    }

    #[test]
    fn the_stream_is_chacha20() {
        // Source: RFC 8439, appendix A.1, test vectors 1 and 2 (key and nonce nought,
        // blocks 0 and 1).
        let mut stream = ChaCha20Rng::from_seed([0; 32]);
        let mut block = [0_u8; 128];
        stream.fill_bytes(&mut block);
        assert!(hex(&block).starts_with("76b8e0ada0f13d90405d6ae55386bd28"));
        assert!(hex(&block[64..]).starts_with("9f07e7be5551387a98ba977c732d080d"));
    }

    #[test]
    fn names_are_told_apart() {
        let draw = |parts: &[&str], number| Stream::named(parts, number).below(u64::MAX);
        assert_eq!(draw(&["ab", "c"], 0), draw(&["ab", "c"], 0));
        assert_ne!(draw(&["ab", "c"], 0), draw(&["a", "bc"], 0));
        assert_ne!(draw(&["ab", "c"], 0), draw(&["ab", "c"], 1));
        assert_ne!(draw(&["ab", "c"], 0), draw(&["abc"], 0));
    }

    #[test]
    fn draws_are_fair() {
        // 60,000 throws of a die: chi-square with 5 degrees of freedom stays below
        // 20.5 (the 0.1 % point, from memory), and every order of three comes up.
        let mut stream = Stream::named(&["fair"], 0);
        let mut counts = [0_u32; 6];
        for _ in 0..60_000 {
            counts[stream.index(6)] += 1;
        }
        let chi: f64 = counts
            .iter()
            .map(|&count| (f64::from(count) - 10_000.0).powi(2) / 10_000.0)
            .sum();
        assert!(chi < 20.5, "{counts:?}");
        let orders: std::collections::BTreeSet<[u8; 3]> = (0..200)
            .map(|_| {
                let mut list = [1, 2, 3];
                stream.shuffle(&mut list);
                list
            })
            .collect();
        assert_eq!(orders.len(), 6);
    }

    #[test]
    fn the_first_draws_never_change() {
        // A change here changes every homework ever set: say it in the changelog.
        let mut stream = Stream::named(&["golden"], 7);
        let draws: Vec<u64> = (0..5).map(|_| stream.below(1000)).collect();
        assert_eq!(draws, GOLDEN);
        assert_eq!(Stream::named(&["golden"], 7).code(6).len(), 6);
    }

    const GOLDEN: [u64; 5] = [932, 683, 665, 854, 697];
}
