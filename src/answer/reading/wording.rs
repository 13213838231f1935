//! The wordings of a list's entries, and where they stand in an answer.

use crate::answer::ListOption;
use std::collections::BTreeSet;

/// The wordings of all entries of a list.
#[derive(Debug, Clone)]
pub(super) struct List {
    wordings: Vec<Wording>,
    known: BTreeSet<String>,
}

/// A wording found in an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Hit {
    /// Where it begins.
    pub(super) start: usize,
    /// Where it has ended.
    pub(super) end: usize,
    /// Which entry it means.
    pub(super) option: usize,
    /// Whether it plainly means it.
    pub(super) sure: bool,
}

#[derive(Debug, Clone)]
struct Wording {
    words: Vec<String>,
    option: usize,
    sure: bool,
}

/// Words that are left out of answers and wordings alike.
const LEFT_OUT: &str = "\
    the it its is are be been am was were will would should could can do does did has have had \
    they them there this that we you i think thik my me he she";

/// Words that say nothing unless a wording of the list holds them.
const FILLERS: &str = "\
    gear gears cog cogs wheel turn turns turning turned goes go going moves move moving spin spins \
    spinning rotates rotate rotating in to at of an way ways direction on with one than \
    then called as speed each other round around both side also very much most by for travels \
    slides slide travel sideways rack two definitely just part wise kind type some sort if and too \
    probably likely always must only pulley sprocket worm drum handle axle teeth";

/// Whether the word is left out everywhere.
pub(super) fn is_left_out(word: &str) -> bool {
    LEFT_OUT.split_whitespace().any(|known| known == word)
}

fn is_filler(word: &str) -> bool {
    FILLERS.split_whitespace().any(|known| known == word)
}

impl List {
    /// Returns the wordings of the entries, longest first.
    pub(super) fn new(options: &[ListOption]) -> Self {
        let mut wordings = Vec::new();
        for (option, entry) in options.iter().enumerate() {
            let plain = std::iter::once(&entry.text)
                .chain(&entry.also)
                .map(|text| (text, true));
            let unusual = entry.perhaps.iter().map(|text| (text, false));
            for (text, sure) in plain.chain(unusual) {
                let words = split(text);
                if !words.is_empty() {
                    wordings.push(Wording {
                        words,
                        option,
                        sure,
                    });
                }
            }
        }
        wordings.sort_by_key(|wording| std::cmp::Reverse(wording.words.len()));
        let known = wordings
            .iter()
            .flat_map(|wording| wording.words.iter().cloned())
            .collect();
        Self { wordings, known }
    }

    /// Whether a wording holds the word.
    pub(super) fn knows(&self, word: &str) -> bool {
        self.known.contains(word)
    }

    /// Whether the word alone is a wording.
    pub(super) fn is_entry(&self, word: &str) -> bool {
        self.wordings
            .iter()
            .any(|wording| matches!(wording.words.as_slice(), [only] if only == word))
    }

    /// Returns the words that may count, misspellings mended.
    pub(super) fn kept(&self, words: &[String]) -> Vec<String> {
        let mut kept = Vec::new();
        let is_whole = words.len() == 1;
        for word in words {
            if is_left_out(word) || (word == "a" && !is_whole) {
                continue;
            }
            if self.knows(word) {
                kept.push(word.clone());
            } else if !is_filler(word) {
                let whole = self.nearest(word).or_else(|| self.first_of_two(word));
                kept.push(whole.unwrap_or_else(|| word.clone()));
            }
        }
        kept
    }

    /// `bevelgear`: the known word to which "gear", "cog" or "wheel" is written on.
    fn first_of_two(&self, word: &str) -> Option<String> {
        ["gear", "gears", "wheel", "wheels", "cog", "cogs"]
            .into_iter()
            .find_map(|thing| word.strip_suffix(thing))
            .filter(|first| self.knows(first))
            .map(str::to_owned)
    }

    /// The known word that a misspelt one plainly means.
    ///
    /// Never for short words, where a letter makes another meaning; for drive, driver
    /// and driven only where one of them is nearest.
    fn nearest(&self, word: &str) -> Option<String> {
        let length = word.chars().count();
        if length < 4 {
            return None;
        }
        if word.starts_with("dr") || word.starts_with("dir") {
            let mut near = self
                .known
                .iter()
                .filter(|name| name.starts_with("driv"))
                .filter(|name| strsim::osa_distance(word, name) <= 1);
            let only = near.next().cloned();
            return only.filter(|_| near.next().is_none());
        }
        let allowed = if length < 7 { 1 } else { 2 };
        let mut near: Vec<(usize, &String)> = self
            .known
            .iter()
            .filter(|name| name.chars().count() >= 4 && !name.starts_with("driv"))
            // In a short word the first letter makes the meaning: back, rack.
            .filter(|name| length >= 7 || name.chars().next() == word.chars().next())
            .map(|name| (strsim::osa_distance(word, name), name))
            .filter(|(distance, _)| *distance <= allowed)
            .collect();
        near.sort();
        let (best, name) = near.first()?;
        let runner_up = near.get(1).map_or(usize::MAX, |(distance, _)| *distance);
        let is_clear = runner_up > *best || near.iter().all(|(_, other)| self.is_like(name, other));
        is_clear.then(|| (*name).clone())
    }

    /// Whether two words stand only in wordings of one and the same entry.
    fn is_like(&self, one: &str, other: &str) -> bool {
        let entries = |word: &str| -> BTreeSet<usize> {
            self.wordings
                .iter()
                .filter(|wording| wording.words.iter().any(|known| known == word))
                .map(|wording| wording.option)
                .collect()
        };
        let (one, other) = (entries(one), entries(other));
        one.len() == 1 && one == other
    }

    /// Returns where wordings stand in the words; a longer one covers those in it.
    pub(super) fn hits(&self, words: &[String]) -> Vec<Hit> {
        let mut hits: Vec<Hit> = Vec::new();
        for wording in &self.wordings {
            let length = wording.words.len();
            for (start, window) in words.windows(length).enumerate() {
                let end = start + length;
                let is_free = hits.iter().all(|hit| end <= hit.start || start >= hit.end);
                if window == wording.words && is_free {
                    hits.push(Hit {
                        start,
                        end,
                        option: wording.option,
                        sure: wording.sure,
                    });
                }
            }
        }
        hits.sort_by_key(|hit| hit.start);
        hits
    }
}

/// The words of a wording that count.
fn split(text: &str) -> Vec<String> {
    text.to_lowercase()
        .split([' ', '-'])
        .filter(|word| !word.is_empty() && !is_left_out(word))
        .map(str::to_owned)
        .collect()
}
