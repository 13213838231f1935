//! Typed text as an answer of the form asked.
//!
//! First the whole text: nothing, or "I do not know". Then its tokens, their
//! meaning, and of those what the form can take.

use crate::answer::Candidate;
use crate::answer::Form;
use crate::answer::Reading;
use crate::answer::Sureness;
use crate::answer::Typed;
use crate::answer::tidy;

mod direction;
mod dont_know;
mod entry;
mod gears;
mod in_words;
mod narrow;
mod number_words;
mod phrase;
mod piece;
mod quantity;
mod ratio;
mod token;
mod unit_words;
mod vocabulary;
mod wording;

/// The most candidates or different answers that are told.
const MOST: usize = 6;

/// Returns what became of a typed answer.
pub(super) fn read(typed: &Typed, form: &Form) -> Reading {
    if typed.undone.is_empty() {
        return read_text(&typed.text, form);
    }
    let mut candidates = Vec::new();
    for undone in &typed.undone {
        if let Reading::Read(found) = read_text(&undone.text, form) {
            for mut candidate in found {
                candidate.said = format!("{} ({})", candidate.said, undone.why);
                push_new(&mut candidates, candidate);
            }
        }
    }
    if candidates.is_empty() {
        read_text(&typed.text, form)
    } else {
        candidates.truncate(MOST);
        Reading::Read(candidates)
    }
}

/// Adds a candidate unless one with the same meaning is there.
fn push_new(candidates: &mut Vec<Candidate>, candidate: Candidate) {
    if !candidates
        .iter()
        .any(|known| known.given == candidate.given)
    {
        candidates.push(candidate);
    }
}

fn read_text(text: &str, form: &Form) -> Reading {
    let tidied = tidy::tidy(text);
    let tokens = token::tokens(&tidied.text);
    if tokens.is_empty() && !tidied.cut {
        return Reading::Blank;
    }
    if dont_know::says_so(&tokens) {
        return Reading::DontKnow;
    }
    let reading = match form {
        Form::Number { unit, .. } => quantity::read(&piece::pieces(&tokens), *unit),
        Form::Ratio {
            first,
            second,
            simplest,
        } => ratio::read(
            &piece::pieces(&tokens),
            &ratio::Wanted {
                first: label_of(first),
                second: label_of(second),
                simplest: *simplest,
            },
        ),
        Form::List { options } => entry::read(&tokens, options),
        Form::Gears { labels, .. } => gears::read(&piece::pieces(&tokens), labels, form),
    };
    if tidied.cut {
        with_doubt(reading, "a long text: only its beginning is read")
    } else {
        reading
    }
}

/// The label at the end of `turns of A`, in lower case.
fn label_of(text: &str) -> String {
    text.rsplit(' ').next().unwrap_or_default().to_lowercase()
}

/// Returns the reading with one more reason to look on every candidate.
fn with_doubt(reading: Reading, why: &str) -> Reading {
    let doubted = |candidates: Vec<Candidate>| {
        candidates
            .into_iter()
            .map(|candidate| Candidate {
                sureness: match candidate.sureness {
                    Sureness::Sure => check(why),
                    Sureness::Check { why: other } => check(&format!("{other}; {why}")),
                },
                ..candidate
            })
            .collect()
    };
    match reading {
        Reading::Read(candidates) => Reading::Read(doubted(candidates)),
        Reading::Several(candidates) => Reading::Several(doubted(candidates)),
        Reading::Unreadable { why: other } => Reading::Unreadable {
            why: format!("{other}; {why}"),
        },
        Reading::Blank => Reading::Blank,
        Reading::DontKnow => Reading::DontKnow,
    }
}

fn check(why: &str) -> Sureness {
    Sureness::Check {
        why: why.to_owned(),
    }
}

fn unreadable(why: &str) -> Reading {
    Reading::Unreadable {
        why: why.to_owned(),
    }
}

/// Sure, or all reasons to look in one sentence, each once.
fn sureness(doubts: &[String]) -> Sureness {
    let mut reasons: Vec<&str> = Vec::new();
    for doubt in doubts {
        if !reasons.contains(&doubt.as_str()) {
            reasons.push(doubt);
        }
    }
    if reasons.is_empty() {
        Sureness::Sure
    } else {
        check(&reasons.join("; "))
    }
}

/// Returns the candidates as one reading, or as several answers.
fn one_or_several(mut candidates: Vec<Candidate>) -> Reading {
    candidates.truncate(MOST);
    if candidates.len() > 1 {
        Reading::Several(candidates)
    } else {
        Reading::Read(candidates)
    }
}
