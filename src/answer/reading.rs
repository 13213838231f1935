//! Typed text as an answer of the form asked.
//!
//! First the whole text: nothing, or "I do not know". Then its tokens, their
//! meaning, and of those what the form can take.

use crate::answer::Candidate;
use crate::answer::Form;
use crate::answer::ListOption;
use crate::answer::Reading;
use crate::answer::Sureness;
use crate::answer::Typed;
use crate::answer::scene;
use crate::answer::tidy;

mod atom;
mod compared;
mod direction;
mod dont_know;
mod entry;
mod explained;
mod gears;
mod in_words;
mod narrow;
mod number_words;
mod phrase;
mod piece;
mod plain;
mod quantity;
mod ratio;
mod token;
mod unit_words;
mod vocabulary;
mod ways;
mod whether;
mod wording;
pub(super) mod working;
pub(super) mod writing;

/// Why a person should look where a later answer takes the place of an earlier one.
pub(super) const CORRECTED: &str = "a correction: the later answer is taken";

/// Why a person should look where an answer is taken back and no other follows.
const UNCORRECTED: &str = "a correction without a later answer";

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
            // What a program shows was not mistyped.
            let is_slip = |found: &Candidate| matches!(found.sureness, Sureness::Slip { .. });
            for mut candidate in found.into_iter().filter(|found| !is_slip(found)) {
                candidate.said = format!("{} ({})", candidate.said, undone.why);
                push_new(&mut candidates, candidate);
            }
        }
    }
    if candidates.is_empty() {
        // What the program shows instead was not typed: the AM behind a time names no gear.
        let likeliest = typed.undone.first().filter(|_| !is_fault(&typed.text));
        read_text(likeliest.map_or(&typed.text, |undone| &undone.text), form)
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
    plain::read(text, form).unwrap_or_else(|| read_piece_by_piece(text, form))
}

fn read_piece_by_piece(text: &str, form: &Form) -> Reading {
    if is_fault(text) {
        return unreadable("the cell holds an error");
    }
    let tidied = tidy::tidy(text);
    let tokens = token::tokens(&tidied.text);
    let is_empty = tokens.iter().all(|token| token.sign() == Some(';'));
    if is_empty && !tidied.cut {
        return Reading::Blank;
    }
    if dont_know::says_so(&tokens) {
        return Reading::DontKnow;
    }
    if let (Form::Number { .. }, Some(decimal)) = (form, spaced_decimal(&tokens)) {
        return with_doubt(read_text(&decimal, form), "a space in the number");
    }
    let reading = match form {
        Form::Number { unit, labels, .. } => quantity::read(&piece::pieces(&tokens), *unit, labels),
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
        Form::List { options, scene } => list(&tokens, options, scene),
        Form::Gears { labels, .. } => gears::read(&tokens, labels, form),
        Form::Explanation(explaining) => explained::read(&tokens, explaining),
    };
    if tidied.cut {
        with_doubt(reading, "a long text: only its beginning is read")
    } else {
        reading
    }
}

/// `7. 5`, and nothing else: a decimal with a space in it.
fn spaced_decimal(tokens: &[token::Token]) -> Option<String> {
    let [whole, point, places] = tokens else {
        return None;
    };
    let digits = |token: &token::Token| {
        token
            .numeral()
            .filter(|numeral| numeral.is_plain())
            .map(|numeral| numeral.text.clone())
    };
    (point.sign() == Some('.')).then(|| Some(format!("{}.{}", digits(whole)?, digits(places)?)))?
}

/// Whether it is the error value of a spreadsheet program in any language, such as
/// `#DIV/0!`, `#NV` or `Err:509`.
fn is_fault(text: &str) -> bool {
    let text = text.trim();
    let is_numbered = text.strip_prefix("Err:").is_some_and(|number| {
        number.len() == 3 && number.chars().all(|sign| sign.is_ascii_digit())
    });
    let is_named = text.strip_prefix('#').is_some_and(|name| {
        matches!(name, "N/A" | "NV" | "N/D" | "N/V")
            || name.ends_with(['!', '?'])
                && name.chars().any(char::is_uppercase)
                && name
                    .chars()
                    .all(|sign| sign.is_uppercase() || "/0!?¡¿".contains(sign))
    });
    is_numbered || is_named
}

/// Reads an entry of a short list.
fn list(tokens: &[token::Token], options: &[ListOption], scene: &scene::Scene) -> Reading {
    if let Some(printed) = entry::as_printed(tokens, options) {
        return printed;
    }
    let atoms = |kind| atom::atoms(tokens, scene, kind);
    match scene.about {
        scene::About::Direction { .. } => ways::direction(&atoms(atom::Kind::Way), scene, options),
        scene::About::SameWay(..) | scene::About::WillItTurn => {
            whether::read(&atoms(atom::Kind::YesNo), scene, options)
        }
        scene::About::Faster(..) => compared::read(&atoms(atom::Kind::Speed), scene, options),
        scene::About::Stronger(..) => compared::read(&atoms(atom::Kind::Force), scene, options),
        scene::About::Word => entry::read(tokens, options),
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
                    Sureness::Check { why: other }
                    | Sureness::Loose { why: other }
                    | Sureness::Slip { why: other } => check(&format!("{other}; {why}")),
                },
                ..candidate
            })
            .collect()
    };
    match reading {
        Reading::Read(candidates) => Reading::Read(doubted(candidates)),
        Reading::Several(candidates) => Reading::Several(doubted(candidates)),
        Reading::Unreadable { why: other } | Reading::OtherKind { why: other } => {
            Reading::Unreadable {
                why: format!("{other}; {why}"),
            }
        }
        Reading::Blank => Reading::Blank,
        Reading::DontKnow => Reading::DontKnow,
    }
}

fn check(why: &str) -> Sureness {
    Sureness::Check {
        why: why.to_owned(),
    }
}

/// An answer of another kind where every word of it is understood, else one that
/// cannot be read.
fn other_kind(atoms: &[atom::Atom], why: &str) -> Reading {
    use atom::Atom;
    // A word that turns the meaning may hide an answer.
    let is_plain = |atom: &Atom| match atom {
        Atom::Part(_)
        | Atom::Way(_)
        | Atom::More
        | Atom::Less
        | Atom::Yes
        | Atom::No
        | Atom::Works
        | Atom::Jams
        | Atom::Both
        | Atom::And
        | Atom::For
        | Atom::Than
        | Atom::Break
        | Atom::Number(_)
        | Atom::Filler(_) => true,
        Atom::Same
        | Atom::Opposite
        | Atom::Not
        | Atom::None
        | Atom::Because
        | Atom::So
        | Atom::But
        | Atom::If
        | Atom::Correction
        | Atom::Tick
        | Atom::Cross
        | Atom::Or
        | Atom::Unknown(_) => false,
    };
    let says_something = |atom: &Atom| {
        if let Atom::Filler(word) = atom {
            vocabulary::is_a_thing_said(word)
        } else {
            !matches!(atom, Atom::Break | Atom::For | Atom::Than)
        }
    };
    // A sentence about parts may give the answer in words that are not known.
    let tells_of_it = |atom: &Atom| {
        if let Atom::Filler(word) = atom {
            !vocabulary::is_a_thing_said(word) && !wording::is_left_out(word)
        } else {
            matches!(
                atom,
                Atom::Way(_) | Atom::More | Atom::Less | Atom::Works | Atom::Jams
            )
        }
    };
    let names = atoms.iter().any(|atom| matches!(atom, Atom::Part(_)));
    let is_sentence = names && atoms.iter().any(tells_of_it);
    if atoms.iter().all(is_plain) && atoms.iter().any(says_something) && !is_sentence {
        Reading::OtherKind {
            why: why.to_owned(),
        }
    } else {
        unreadable(why)
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
