//! Entries of a short list of names or of jobs.
//!
//! Articles, pronouns and helping words are left out of the answer and of the
//! wordings alike; then wordings are looked for in what is left, longest first.

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::ListOption;
use crate::answer::Reading;
use crate::answer::Sureness;
use crate::answer::reading;
use crate::answer::reading::token;
use crate::answer::reading::vocabulary;
use crate::answer::reading::vocabulary::Mark;
use crate::answer::reading::wording;
use crate::gears::ask;

/// Returns the entry whose very words were typed, or chosen from the list.
pub(super) fn as_printed(tokens: &[token::Token], options: &[ListOption]) -> Option<Reading> {
    let words = words(tokens).join(" ");
    options
        .iter()
        .find(|option| option.text.to_lowercase() == words)
        .map(sure)
}

/// Returns the entry that the tokens name.
pub(super) fn read(tokens: &[token::Token], options: &[ListOption]) -> Reading {
    let words = words(tokens);
    let list = wording::List::new(options);
    let mut doubts = Vec::new();
    let words = list.kept(before_as(&words, &list));
    let words = narrowed(&words, &list, &mut doubts);
    let mut hits = list.hits(&words);
    // "a rack (a flat gear)": what is plain counts before what may be meant; "idler not
    // driven" leaves one out.
    if hits.iter().any(|hit| hit.sure && !is_negated(&words, hit))
        && !two_jobs(&words, &hits, options)
    {
        hits.retain(|hit| hit.sure && !is_negated(&words, hit));
    }
    // "sun gear" is no loose wording of a spur gear.
    let names_other = words.iter().enumerate().any(|(index, word)| {
        vocabulary::is_a_thing_said(word)
            && !list.knows(word)
            && !hits.iter().any(|hit| (hit.start..hit.end).contains(&index))
    });
    if names_other {
        hits.retain(|hit| hit.sure);
    }
    // "to drive C" says what it is for, and an idler drives too.
    let said = self::words(tokens);
    let tells_purpose = said.windows(2).any(|pair| pair == ["to", "drive"]);
    if options.iter().any(is_job) && tells_purpose {
        doubts.push("it says what the gear is for".to_owned());
    }
    let mut candidates: Vec<Candidate> = Vec::new();
    for hit in &hits {
        let Some(candidate) = candidate(hit, &words, options, &doubts) else {
            return reading::unreadable("it says which answer is not meant");
        };
        match candidates
            .iter_mut()
            .find(|known| known.given == candidate.given)
        {
            // Said twice, once plainly: plain.
            Some(known) if candidate.sureness == Sureness::Sure => *known = candidate,
            Some(_) => {}
            None => candidates.push(candidate),
        }
    }
    // "ring gear or carrier": the other is none of the list.
    if names_other && !candidates.is_empty() && words.iter().any(|word| word == "or") {
        return Reading::Several(candidates);
    }
    if candidates.is_empty() {
        let is_plain = |word: &String| {
            vocabulary::is_known_as_spelt(word)
                || vocabulary::is_label(word)
                || word.bytes().all(|byte| byte.is_ascii_digit())
        };
        let says_something = |word: &String| {
            vocabulary::is_a_thing_said(word) || word.bytes().all(|byte| byte.is_ascii_digit())
        };
        // What a gear does is said in so many ways that a sentence may be right.
        let is_sentence = options.iter().any(is_job) && said.iter().any(|word| tells_more(word));
        return if said.iter().all(is_plain) && said.iter().any(says_something) && !is_sentence {
            Reading::OtherKind {
                why: "none of the answers to choose from".to_owned(),
            }
        } else {
            reading::unreadable("none of the answers to choose from")
        };
    }
    reading::one_or_several(candidates)
}

fn is_job(option: &ListOption) -> bool {
    matches!(option.fact, ask::Fact::Job(_))
}

/// Whether the word tells what a gear does, and is none of the names of things.
fn tells_more(word: &str) -> bool {
    let is_name = wording::is_left_out(word)
        || vocabulary::is_a_thing_said(word)
        || vocabulary::is_label(word)
        || ["one", "first", "second", "third"].contains(&word)
        || word.bytes().all(|byte| byte.is_ascii_digit());
    !is_name || ["turns", "spin", "spins", "rotate", "rotates"].contains(&word)
}

/// Whether two jobs are said of one gear: "it drives C and is driven by A".
fn two_jobs(words: &[String], hits: &[wording::Hit], options: &[ListOption]) -> bool {
    options.iter().any(is_job)
        && hits.windows(2).any(|pair| {
            let [one, other] = pair else {
                return false;
            };
            let between = words.get(one.end..other.start).unwrap_or_default();
            one.option != other.option
                && !is_negated(words, one)
                && !is_negated(words, other)
                && between.iter().any(|word| word == "and")
        })
}

/// The entry that a wording in the answer means; `None` where it is said not to
/// be meant and more than one other is left.
fn candidate(
    hit: &wording::Hit,
    words: &[String],
    options: &[ListOption],
    doubts: &[String],
) -> Option<Candidate> {
    let said = options.get(hit.option)?;
    let mut doubts = doubts.to_vec();
    let mut chosen = said;
    if is_negated(words, hit) {
        let [first, second] = options else {
            return None;
        };
        chosen = if hit.option == 0 { second } else { first };
        doubts.push(format!("read from \"not {}\"", said.text));
    }
    let mut sureness = reading::sureness(&doubts);
    if !hit.sure && sureness == Sureness::Sure {
        let why = "an unusual wording".to_owned();
        // What a gear does is said in so many ways that one may mean another job.
        let is_job = matches!(chosen.fact, ask::Fact::Job(_));
        sureness = if is_job {
            Sureness::Check { why }
        } else {
            Sureness::Loose { why }
        };
    }
    Some(Candidate {
        given: Given::Entry(chosen.fact.clone()),
        sureness,
        said: chosen.text.clone(),
    })
}

/// Whether `not` stands right before the entry, outside it.
fn is_negated(words: &[String], hit: &wording::Hit) -> bool {
    hit.start
        .checked_sub(1)
        .and_then(|before| words.get(before))
        .is_some_and(|word| word == "not")
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
            token::Kind::Sign(_) => {}
        }
    }
    words
}

fn full_form(word: &str) -> Option<&'static str> {
    Some(match word {
        "wont" | "wouldnt" => "will not",
        "cant" | "cannot" | "couldnt" => "can not",
        "dont" | "doesnt" | "dosent" | "dosnt" | "doesent" | "didnt" => "does not",
        "isnt" | "arent" | "aint" => "is not",
        "itll" => "it will",
        "theyll" => "they will",
        "its" => "it is",
        "theyre" => "they are",
        _ => return None,
    })
}

fn sure(option: &ListOption) -> Reading {
    Reading::Read(vec![Candidate {
        given: Given::Entry(option.fact.clone()),
        sureness: Sureness::Sure,
        said: option.text.clone(),
    }])
}

/// The words before `as` where that begins a reason, as in `anticlockwise as A goes
/// clockwise`; in `same way as A` it does not.
fn before_as<'w>(words: &'w [String], list: &wording::List) -> &'w [String] {
    let begins_reason = |index: &usize| {
        let before = words.get(..*index).unwrap_or_default();
        words.get(*index).is_some_and(|word| word == "as")
            && before.last().is_some_and(|last| {
                !["same", "way", "direction", "speed", "fast", "strong"].contains(&last.as_str())
            })
            && !list.hits(&list.kept(before)).is_empty()
    };
    let index = (0..words.len()).find(begins_reason);
    index.map_or(words, |index| words.split_at(index).0)
}

/// The words that hold the answer: an explanation dropped, a correction taken.
fn narrowed(words: &[String], list: &wording::List, doubts: &mut Vec<String>) -> Vec<String> {
    let is_mark = |word: &String, wanted: Mark| {
        vocabulary::mark(word, None).is_some_and(|(mark, _)| mark == wanted)
    };
    let mut words = words.to_vec();
    let conclusion = words
        .iter()
        .rposition(|word| is_mark(word, Mark::Conclusion));
    if let Some(index) = conclusion {
        let (_, after) = words.split_at(index);
        if !list.hits(after).is_empty() {
            words = after.to_vec();
        }
    }
    let because = words.iter().position(|word| is_mark(word, Mark::Because));
    if let Some(index) = because
        && !list.hits(words.get(..index).unwrap_or_default()).is_empty()
    {
        words.truncate(index);
    }
    // In a list of yes and no, "no" is an answer.
    let correction = words
        .iter()
        .rposition(|word| is_mark(word, Mark::Correction) && !list.is_entry(word));
    let Some(index) = correction else {
        return words;
    };
    let (before, after) = words.split_at(index);
    let after = after.get(1..).unwrap_or_default();
    if !list.hits(after).is_empty() {
        doubts.push(reading::CORRECTED.to_owned());
        after.to_vec()
    } else if list.hits(before).is_empty() {
        words
    } else {
        doubts.push(reading::UNCORRECTED.to_owned());
        before.to_vec()
    }
}
