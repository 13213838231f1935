//! Yes and no: whether two parts turn the same way, whether something can turn.

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::ListOption;
use crate::answer::Reading;
use crate::answer::reading;
use crate::answer::reading::atom::Atom;
use crate::answer::reading::ways;
use crate::answer::scene;
use crate::gears::ask;
use crate::gears::mechanism::Sense;

/// Returns the yes or no that an answer gives.
pub(super) fn read(atoms: &[Atom], scene: &scene::Scene, options: &[ListOption]) -> Reading {
    let mut doubts = Vec::new();
    let says_plainly = |atoms: &[Atom]| {
        atoms
            .iter()
            .any(|atom| matches!(atom, Atom::Yes | Atom::No))
    };
    let kept = ways::crossed_out(atoms, says_plainly, &mut doubts);
    // "No" is an answer here.
    let corrects = |atom: &Atom| *atom == Atom::Correction;
    let kept = ways::corrected(&kept, corrects, says_plainly, &mut doubts);
    let plain = plain(&kept);
    let sides = sides(&kept, scene);
    if plain.is_empty() && sides.len() > 1 {
        return said(&sides, options, &doubts);
    }
    let implied = implied(&kept, scene);
    let found = match (plain.as_slice(), implied) {
        ([], None) => {
            if let Some(yes) = alone(atoms) {
                return said(&[yes], options, &doubts);
            }
            return if helping_words_alone(atoms) {
                said(&[true], options, &doubts)
            } else {
                reading::other_kind(atoms, "no yes or no")
            };
        }
        ([], Some(implied)) => vec![implied],
        ([only], Some(implied)) if *only != implied && says_otherwise(&kept, scene, implied) => {
            doubts.push("what is said beside it says otherwise".to_owned());
            vec![*only]
        }
        ([only], _) => vec![*only],
        (several, _) => several.to_vec(),
    };
    if found == [true] && hangs_on_something(&kept, !plain.is_empty()) {
        doubts.push("it says yes only if something is so".to_owned());
    }
    if found == [true] && plain.is_empty() && scene.about == scene::About::WillItTurn {
        doubts.extend(may_not_be_meant(&kept).map(str::to_owned));
    }
    said(&found, options, &doubts)
}

fn said(found: &[bool], options: &[ListOption], doubts: &[String]) -> Reading {
    let candidates: Vec<Candidate> = found
        .iter()
        .filter_map(|yes| {
            let option = options
                .iter()
                .find(|option| option.fact == ask::Fact::YesNo(*yes))?;
            Some(Candidate {
                given: Given::Entry(option.fact.clone()),
                sureness: reading::sureness(doubts),
                said: option.text.clone(),
            })
        })
        .collect();
    if candidates.is_empty() {
        return reading::unreadable("no yes or no in it");
    }
    reading::one_or_several(candidates)
}

/// A tick or cross, or `they do not`, that stands alone.
fn alone(atoms: &[Atom]) -> Option<bool> {
    let counts = |atom: &&Atom| {
        !matches!(
            atom,
            Atom::Filler(_) | Atom::Part(_) | Atom::Break | Atom::And
        )
    };
    let mut found = None;
    for atom in atoms.iter().filter(counts) {
        found = Some(if *atom == Atom::Tick {
            true
        } else if matches!(atom, Atom::Cross | Atom::Not) {
            false
        } else {
            return None;
        });
    }
    found
}

/// `it will`, `they do`: helping words alone say yes.
fn helping_words_alone(atoms: &[Atom]) -> bool {
    let helps = |atom: &Atom| {
        matches!(atom, Atom::Filler(word)
        if ["will", "do", "does", "can", "are", "is", "would", "could"].contains(&word.as_str()))
    };
    atoms.last().is_some_and(helps)
        && atoms.iter().all(|atom| {
            matches!(
                atom,
                Atom::Filler(_) | Atom::Part(_) | Atom::Break | Atom::Both | Atom::Than
            )
        })
}

/// The different plain words, in order; a yes or no of an explanation does not count.
fn plain(atoms: &[Atom]) -> Vec<bool> {
    let mut found: Vec<bool> = Vec::new();
    for (index, atom) in atoms.iter().enumerate() {
        if *atom == Atom::Because && !found.is_empty() {
            break;
        }
        let yes = *atom == Atom::Yes;
        if !yes && *atom != Atom::No {
            continue;
        }
        // "no gear moves", "no way": part of a sentence, the sentence says it.
        let is_first = found.is_empty();
        let stands_apart = index == 0
            || atoms.get(index - 1).is_some_and(|before| {
                matches!(
                    before,
                    Atom::Break | Atom::Or | Atom::And | Atom::Yes | Atom::No
                )
            })
            || atoms
                .get(index + 1)
                .is_none_or(|after| matches!(after, Atom::Break));
        let is_new = !found.contains(&yes);
        if is_new && (is_first || stands_apart) {
            found.push(yes);
        }
    }
    found
}

/// The different things that the sides of an "or" say: "it turns or jams" leaves both open.
fn sides(atoms: &[Atom], scene: &scene::Scene) -> Vec<bool> {
    let mut found = Vec::new();
    for side in atoms.split(|atom| *atom == Atom::Or) {
        if let Some(yes) = implied(side, scene)
            && !found.contains(&yes)
        {
            found.push(yes);
        }
    }
    found
}

/// Whether a yes holds only if something is so: "it turns if you take one out". A reason,
/// and what stands apart from a plain yes, may speak of what if.
fn hangs_on_something(atoms: &[Atom], has_plain_yes: bool) -> bool {
    let said = atoms.split(|atom| *atom == Atom::Because).next();
    let ends = |atom: &Atom| matches!(atom, Atom::Break | Atom::But | Atom::So);
    said.is_some_and(|said| {
        said.split(ends).any(|clause| {
            clause.contains(&Atom::If) && (!has_plain_yes || clause.contains(&Atom::Yes))
        })
    })
}

/// Whether what stands beside a plain word contradicts it, and does not only give the
/// reason: "yes they turn opposite ways", "no, it will turn".
fn says_otherwise(atoms: &[Atom], scene: &scene::Scene, implied_yes: bool) -> bool {
    if speaks_of_both(atoms, scene) {
        return true;
    }
    let reason = atoms.iter().position(|atom| *atom == Atom::Because);
    let said = atoms
        .get(..reason.unwrap_or(atoms.len()))
        .unwrap_or_default();
    match scene.about {
        scene::About::SameWay(..) => implied(said, scene) == Some(implied_yes),
        scene::About::WillItTurn if implied_yes => {
            let is_plain = |atom: &Atom| {
                matches!(
                    atom,
                    Atom::No | Atom::Works | Atom::Break | Atom::Filler(_) | Atom::Both
                )
            };
            said.contains(&Atom::Works) && said.iter().all(is_plain)
        }
        scene::About::WillItTurn => atoms.contains(&Atom::Jams) && !atoms.contains(&Atom::Not),
        scene::About::Direction { .. }
        | scene::About::Faster(..)
        | scene::About::Stronger(..)
        | scene::About::Word => false,
    }
}

/// Whether both parts asked about are named.
fn speaks_of_both(atoms: &[Atom], scene: &scene::Scene) -> bool {
    let scene::About::SameWay(first, second) = scene.about else {
        return false;
    };
    let names = |part| atoms.contains(&Atom::Part(part));
    names(first) && names(second)
}

/// What the sentence says without a plain yes or no.
fn implied(atoms: &[Atom], scene: &scene::Scene) -> Option<bool> {
    match scene.about {
        scene::About::SameWay(first, second) => same_way(atoms, scene, (first, second)),
        scene::About::WillItTurn => works(atoms),
        scene::About::Direction { .. }
        | scene::About::Faster(..)
        | scene::About::Stronger(..)
        | scene::About::Word => None,
    }
}

fn same_way(atoms: &[Atom], scene: &scene::Scene, (first, second): (usize, usize)) -> Option<bool> {
    let claims = ways::claims(atoms);
    let way_of = |part: usize| -> Option<Sense> {
        claims
            .iter()
            .filter(|claim| claim.of.contains(&part))
            .find_map(|claim| ways::senses(claim, scene, None).first().copied())
    };
    if let (Some(one), Some(other)) = (way_of(first), way_of(second)) {
        return Some(one == other);
    }
    // "the same way", "A goes the opposite way to C", "both clockwise".
    let both_said = atoms.contains(&Atom::Both);
    claims.iter().find_map(|claim| {
        let is_about =
            claim.of.is_empty() || claim.of.iter().all(|part| [first, second].contains(part));
        let with = |with: Option<usize>| with.is_none_or(|part| [first, second].contains(&part));
        let same = match claim.value {
            ways::Value::Same(other) if with(other) => true,
            ways::Value::Opposite(other) if with(other) => false,
            ways::Value::Way(_) if both_said => true,
            ways::Value::Same(_) | ways::Value::Opposite(_) | ways::Value::Way(_) => return None,
        };
        is_about.then_some(same != claim.negated)
    })
}

/// Whether it is said to turn: `it jams`, `they do not turn`, `nothing moves`.
fn works(atoms: &[Atom]) -> Option<bool> {
    let mut found: Option<bool> = None;
    let mut negated = false;
    for atom in atoms {
        if matches!(atom, Atom::Not | Atom::None) {
            negated = true;
        } else if matches!(atom, Atom::Works | Atom::Jams) {
            let works = (*atom == Atom::Works) != negated;
            // A gear that turns does not say that all do; one that jams does.
            found = Some(found.unwrap_or(true) && works);
            negated = false;
        } else if matches!(atom, Atom::But | Atom::If) && negated && found.is_none() {
            // "Not if they all touch": the rest gives the reason.
            return Some(false);
        } else if matches!(
            atom,
            Atom::Break | Atom::But | Atom::If | Atom::And | Atom::So
        ) {
            negated = false;
        } else if *atom == Atom::Because && found.is_some() {
            break;
        }
    }
    // "not", "it will not", "never" alone, or as the last word: "so it cannot".
    match found {
        Some(_) if negated && is_last_word(atoms) => Some(false),
        Some(_) => found,
        None => negated.then_some(false),
    }
}

/// Whether behind the last `not` only parts are named.
fn is_last_word(atoms: &[Atom]) -> bool {
    let denies = |atom: &Atom| matches!(atom, Atom::Not | Atom::None);
    let last = atoms.iter().rposition(denies);
    let behind = last.and_then(|index| atoms.get(index + 1..));
    behind.is_some_and(|behind| {
        behind
            .iter()
            .all(|atom| matches!(atom, Atom::Part(_) | Atom::Break))
    })
}

/// Why what is said to turn may not be meant for all: it may be some gears only, or turn not
/// quite ("only A turns", "A wants to go both ways", "it turns but not well"); or it is the
/// reason why they cannot ("they all try to turn the same way").
fn may_not_be_meant(atoms: &[Atom]) -> Option<&'static str> {
    let said = atoms.split(|atom| *atom == Atom::Because).next()?;
    let has_word = |words: &[&str]| {
        said.iter().any(|atom| {
            matches!(atom, Atom::Filler(word) | Atom::Unknown(word) if words.contains(&word.as_str()))
        })
    };
    // "It does not jam" is plain.
    let denies = said.iter().rposition(|atom| *atom == Atom::Not);
    let behind = denies.and_then(|index| said.get(index..));
    let turns_not_quite = behind.is_some_and(|behind| !behind.contains(&Atom::Jams));
    let names_some = said.iter().any(|atom| matches!(atom, Atom::Part(_)));
    if names_some || turns_not_quite || has_word(&["only", "ways", "directions"]) {
        return Some("it may not speak of all gears");
    }
    let compares = said
        .iter()
        .any(|atom| matches!(atom, Atom::Same | Atom::Opposite));
    (compares || has_word(&["try", "tries", "trying", "want", "wants"]))
        .then_some("it may be the reason why they cannot turn")
}
