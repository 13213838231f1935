//! Entries of a short list: directions, yes and no, which gear, names, jobs.

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::ListOption;
use crate::answer::Reading;
use crate::answer::reading;
use crate::answer::reading::direction;
use crate::answer::reading::token;
use crate::answer::reading::vocabulary;
use crate::answer::reading::vocabulary::Mark;
use crate::gears::ask;
use crate::gears::mechanism;
use std::collections::BTreeSet;

/// A wording of one entry.
#[derive(Debug, Clone)]
struct Wording {
    words: Vec<String>,
    option: usize,
    sure: bool,
}

/// An entry found in an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Hit {
    start: usize,
    end: usize,
    option: usize,
    sure: bool,
}

/// Returns the entry that the tokens name.
pub(super) fn read(tokens: &[token::Token], options: &[ListOption]) -> Reading {
    let wordings = wordings(options);
    let known: BTreeSet<String> = wordings
        .iter()
        .flat_map(|wording| wording.words.iter().cloned())
        .collect();
    let words = spelt(&words(tokens), &known);
    // The whole answer may be a wording that holds a filler word, such as "a".
    let kept = without_fillers(&words, &known, options);
    let mut doubts = Vec::new();
    let kept = narrowed(kept, &wordings, &mut doubts);
    let hits = hits(&kept, &wordings);
    let leftover: Vec<String> = leftover(&kept, &hits);
    if !leftover.is_empty() {
        doubts.push(format!("not understood: {}", leftover.join(", ")));
    }
    let mut candidates = Vec::new();
    for hit in &hits {
        let Some(hit_option) = options.get(hit.option) else {
            continue;
        };
        let mut doubts = doubts.clone();
        let mut chosen = hit_option;
        if is_negated(&kept, hit) {
            let [first, second] = options else {
                return reading::unreadable("it says which one is not meant");
            };
            chosen = if hit.option == 0 { second } else { first };
            doubts.push(format!("read from \"not {}\"", hit_option.text));
        }
        if !hit.sure {
            doubts.push("an unusual wording".to_owned());
        }
        let candidate = Candidate {
            given: Given::Entry(chosen.fact.clone()),
            sureness: reading::sureness(&doubts),
            said: chosen.text.clone(),
        };
        match candidates
            .iter_mut()
            .find(|known: &&mut Candidate| known.given == candidate.given)
        {
            // Said twice, once plainly: plain.
            Some(known) if candidate.sureness == crate::answer::Sureness::Sure => {
                *known = candidate;
            }
            Some(_) => {}
            None => candidates.push(candidate),
        }
    }
    if candidates.is_empty() {
        return reading::unreadable("none of the answers to choose from");
    }
    reading::one_or_several(candidates)
}

/// The words of an answer, short forms written out.
fn words(tokens: &[token::Token]) -> Vec<String> {
    let mut words = Vec::new();
    for token in tokens {
        match &token.kind {
            token::Kind::Word(word) => match full_form(word) {
                Some(full) => words.extend(full.split(' ').map(str::to_owned)),
                None => words.push(word.clone()),
            },
            token::Kind::Numeral(numeral) => words.push(numeral.value.to_string()),
            token::Kind::Odd(text) => words.push(text.clone()),
            token::Kind::Sign(sign) if "↻↺→←✓✗".contains(*sign) => {
                words.push(sign.to_string());
            }
            token::Kind::Sign('=') => words.push("=".to_owned()),
            token::Kind::Sign(_) => {}
        }
    }
    words
}

fn full_form(word: &str) -> Option<&'static str> {
    Some(match word {
        "wont" | "wouldnt" => "will not",
        "cant" | "cannot" => "can not",
        "dont" | "doesnt" | "dosent" | "dosnt" | "didnt" => "does not",
        "isnt" | "arent" | "aint" => "is not",
        "itll" => "it will",
        "theyll" => "they will",
        "its" => "it is",
        "theyre" => "they are",
        _ => return None,
    })
}

/// Words that say nothing in an answer from a list.
const FILLERS: &[&str] = &[
    "the",
    "it",
    "is",
    "its",
    "are",
    "be",
    "will",
    "would",
    "gear",
    "gears",
    "cog",
    "cogs",
    "wheel",
    "turn",
    "turns",
    "turning",
    "turned",
    "goes",
    "go",
    "going",
    "moves",
    "move",
    "moving",
    "spin",
    "spins",
    "spinning",
    "rotates",
    "rotate",
    "rotating",
    "does",
    "do",
    "this",
    "that",
    "they",
    "in",
    "to",
    "at",
    "of",
    "a",
    "an",
    "i",
    "think",
    "way",
    "direction",
    "will",
    "has",
    "have",
    "been",
    "on",
    "with",
    "answer",
    "ans",
    "one",
    "than",
    "then",
    "called",
    "as",
    "so",
    "speed",
    "each",
    "other",
    "round",
    "around",
    "both",
    "side",
    "also",
    "very",
    "much",
    "most",
    "by",
    "for",
    "travels",
    "slides",
    "slide",
    "travel",
    "sideways",
    "rack",
    "them",
    "two",
    "there",
    "because",
    "=",
    "definitely",
    "just",
    "we",
    "part",
    "wise",
    "kind",
    "type",
    "some",
    "sort",
    "if",
    "can",
    "me",
    "my",
    "and",
    "too",
    "probably",
    "likely",
    "always",
    "would",
    "should",
    "must",
    "only",
    "pulley",
    "sprocket",
    "worm",
    "drum",
    "handle",
    "axle",
];

/// The words without fillers; a filler stays where a wording needs it.
fn without_fillers(
    words: &[String],
    known: &BTreeSet<String>,
    options: &[ListOption],
) -> Vec<String> {
    let has_label_a = options
        .iter()
        .any(|option| option.text.ends_with(" A") && known.contains("a"));
    words
        .iter()
        .enumerate()
        .filter(|(index, word)| {
            if word.as_str() == "a" && has_label_a {
                // "a bigger gear": the article, not gear A.
                let next = index.checked_add(1).and_then(|next| words.get(next));
                return !next.is_some_and(|next| ARTICLE_BEFORE.contains(&next.as_str()));
            }
            known.contains(word.as_str()) || !FILLERS.contains(&word.as_str())
        })
        .map(|(_, word)| word.clone())
        .collect()
}

/// Words that follow the article.
const ARTICLE_BEFORE: [&str; 10] = [
    "big", "bigger", "small", "smaller", "large", "larger", "little", "bit", "lot", "faster",
];

/// The wordings of each entry, longest first.
fn wordings(options: &[ListOption]) -> Vec<Wording> {
    let mut wordings = Vec::new();
    for (index, option) in options.iter().enumerate() {
        let mut add = |text: &str, sure: bool| {
            let words: Vec<String> = text
                .to_lowercase()
                .split([' ', '-'])
                .filter(|word| !word.is_empty() && *word != "the")
                .map(str::to_owned)
                .collect();
            if !words.is_empty() {
                wordings.push(Wording {
                    words,
                    option: index,
                    sure,
                });
            }
        };
        add(&option.text, true);
        for text in &option.also {
            add(text, true);
        }
        for text in usual(&option.fact) {
            add(text, true);
        }
        for text in &option.perhaps {
            add(text, false);
        }
        for text in unusual(&option.fact) {
            add(text, false);
        }
    }
    wordings.sort_by_key(|wording| std::cmp::Reverse(wording.words.len()));
    wordings
}

/// Wordings that hold for an answer in any question.
fn usual(fact: &ask::Fact) -> &'static [&'static str] {
    match fact {
        ask::Fact::Sense(mechanism::Sense::Clockwise) => &["↻"],
        ask::Fact::Sense(mechanism::Sense::Anticlockwise) => &["↺"],
        ask::Fact::Sense(mechanism::Sense::Left) => &["←", "l", "leftwards", "lefthand"],
        ask::Fact::Sense(mechanism::Sense::Right) => &["→", "r", "rightwards", "righthand", "rite"],
        ask::Fact::YesNo(true) => &[
            "y",
            "ye",
            "yea",
            "yeah",
            "yep",
            "yup",
            "yess",
            "yes yes",
            "yh",
            "true",
            "t",
            "✓",
            "it will",
            "they will",
            "it does",
            "they do",
            "it can",
            "they are",
            "it is",
            "correct",
            "course",
        ],
        ask::Fact::YesNo(false) => &[
            "n",
            "nope",
            "nah",
            "na",
            "noo",
            "false",
            "f",
            "✗",
            "not",
            "never",
            "it will not",
            "they will not",
            "it does not",
            "they do not",
            "can not",
            "will not",
            "does not",
            "incorrect",
            "no no",
            "nay",
        ],
        ask::Fact::Quantity { .. }
        | ask::Fact::Ratio(..)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Choices(_) => &[],
    }
}

/// Wordings that a person should look at.
fn unusual(fact: &ask::Fact) -> &'static [&'static str] {
    match fact {
        ask::Fact::Sense(mechanism::Sense::Clockwise) => {
            &["c", "→", "right", "forward", "forwards"]
        }
        ask::Fact::Sense(mechanism::Sense::Anticlockwise) => {
            &["ac", "cc", "a", "←", "left", "backward", "backwards"]
        }
        ask::Fact::YesNo(true) => &["x", "1", "ok"],
        ask::Fact::YesNo(false) => &["0"],
        ask::Fact::Quantity { .. }
        | ask::Fact::Ratio(..)
        | ask::Fact::Sense(mechanism::Sense::Left | mechanism::Sense::Right)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Choices(_) => &[],
    }
}

/// The words with misspellings of known ones mended.
fn spelt(words: &[String], known: &BTreeSet<String>) -> Vec<String> {
    let words = if known.contains(direction::CLOCKWISE) {
        direction::plain(words)
    } else {
        words.to_vec()
    };
    words
        .into_iter()
        .map(|word| {
            if known.contains(&word) || FILLERS.contains(&word.as_str()) {
                return word;
            }
            nearest(&word, known).unwrap_or(word)
        })
        .collect()
}

/// The known word that a misspelt one plainly means.
///
/// Never for drive, driver and driven, nor for short words: there a letter makes
/// another meaning.
fn nearest(word: &str, known: &BTreeSet<String>) -> Option<String> {
    let length = word.chars().count();
    if length < 4 || word.starts_with("dri") || word.starts_with("dir") {
        return None;
    }
    let allowed = if length < 7 { 1 } else { 2 };
    let mut near: Vec<(usize, &String)> = known
        .iter()
        .filter(|name| name.chars().count() >= 4 && !name.starts_with("driv"))
        .map(|name| (strsim::osa_distance(word, name), name))
        .filter(|(distance, _)| *distance <= allowed)
        .collect();
    near.sort();
    let (best, name) = near.first()?;
    let runner_up = near.get(1).map_or(usize::MAX, |(distance, _)| *distance);
    (runner_up > *best).then(|| (*name).clone())
}

/// The words that hold the answer: an explanation dropped, a correction taken.
fn narrowed(words: Vec<String>, wordings: &[Wording], doubts: &mut Vec<String>) -> Vec<String> {
    let mark = |word: &String| vocabulary::mark(word, None).map(|(mark, _)| mark);
    let known = |word: &String| wordings.iter().any(|wording| wording.words.contains(word));
    let mut words = words;
    if let Some(index) = words
        .iter()
        .position(|word| mark(word) == Some(Mark::Because))
        && !hits(words.get(..index).unwrap_or_default(), wordings).is_empty()
    {
        words.truncate(index);
    }
    let correction = words
        .iter()
        .rposition(|word| mark(word) == Some(Mark::Correction) && !known(word));
    if let Some(index) = correction {
        let (before, after) = words.split_at(index);
        let after = after.get(1..).unwrap_or_default();
        if !hits(after, wordings).is_empty() {
            doubts.push("a correction: the later answer is taken".to_owned());
            return after.to_vec();
        }
        if !hits(before, wordings).is_empty() {
            doubts.push("a correction without a later answer".to_owned());
            return before.to_vec();
        }
    }
    words
}

/// Where wordings stand in the words; a longer one covers those inside it.
fn hits(words: &[String], wordings: &[Wording]) -> Vec<Hit> {
    let mut hits: Vec<Hit> = Vec::new();
    for wording in wordings {
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

fn leftover(words: &[String], hits: &[Hit]) -> Vec<String> {
    words
        .iter()
        .enumerate()
        .filter(|(index, word)| {
            !hits.iter().any(|hit| (hit.start..hit.end).contains(index))
                && !vocabulary::is_known(word)
                && word.as_str() != "not"
        })
        .map(|(_, word)| format!("\"{word}\""))
        .take(3)
        .collect()
}

/// Whether `not` stands right before the entry, outside it.
fn is_negated(words: &[String], hit: &Hit) -> bool {
    hit.start
        .checked_sub(1)
        .and_then(|before| words.get(before))
        .is_some_and(|word| word == "not")
}
