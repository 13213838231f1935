//! Answers that say which way parts move.
//!
//! An answer is taken apart into claims, each about a part or about the one asked:
//! `A goes clockwise, so B goes the same way as C`. What is said of other parts does
//! not count; "the same way as C" is worked out from how C really moves.

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::ListOption;
use crate::answer::Reading;
use crate::answer::Sureness;
use crate::answer::reading;
use crate::answer::reading::atom::Atom;
use crate::answer::scene;
use crate::gears::ask;
use crate::gears::mechanism::Sense;

/// What is said of how a part moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Value {
    /// A way.
    Way(Sense),
    /// The same way as a part; as which one is not said.
    Same(Option<usize>),
    /// The other way than a part.
    Opposite(Option<usize>),
}

/// One thing said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Claim {
    /// The parts it is said of; none where none is named.
    pub(super) of: Vec<usize>,
    /// What is said.
    pub(super) value: Value,
    /// Whether it is said not to be so.
    pub(super) negated: bool,
    /// Whether it stands behind `so` or `answer`.
    pub(super) concludes: bool,
    /// Where it stands.
    pub(super) at: usize,
}

/// Returns everything that is said of ways, in order.
pub(super) fn claims(atoms: &[Atom]) -> Vec<Claim> {
    let mut claims: Vec<Claim> = Vec::new();
    let mut of: Vec<usize> = Vec::new();
    let mut negated = false;
    let mut concludes = false;
    let mut is_joined = false;
    let mut index = 0;
    while let Some(atom) = atoms.get(index) {
        let rest = atoms.get(index + 1..).unwrap_or_default();
        let mut taken = 0;
        match atom {
            Atom::Part(part) => {
                if is_joined || of.is_empty() {
                    of.push(*part);
                } else {
                    of = vec![*part];
                }
                is_joined = false;
            }
            Atom::And | Atom::Both => is_joined = !of.is_empty(),
            Atom::Not => negated = true,
            Atom::So => {
                concludes = true;
                of.clear();
            }
            Atom::But | Atom::If => of.clear(),
            Atom::Way(_) | Atom::Same | Atom::Opposite => {
                let (value, used) = value(atom, rest);
                taken = used;
                if of.is_empty()
                    && let Some((part, used)) = told_behind(atoms.get(index + 1 + taken..))
                        .or_else(|| named_behind(index == 0, atoms.get(index + 1 + taken..)))
                {
                    of.push(part);
                    taken += used;
                }
                claims.push(Claim {
                    of: std::mem::take(&mut of),
                    value,
                    negated,
                    concludes,
                    at: index,
                });
                negated = false;
                is_joined = false;
            }
            Atom::More
            | Atom::Less
            | Atom::Yes
            | Atom::No
            | Atom::Works
            | Atom::Jams
            | Atom::None
            | Atom::Because
            | Atom::Or
            | Atom::Than
            | Atom::For
            | Atom::Correction
            | Atom::Tick
            | Atom::Cross
            | Atom::Break
            | Atom::Number(_)
            | Atom::Filler(_)
            | Atom::Unknown(_) => {}
        }
        index += 1 + taken;
    }
    claims
}

/// What is said, with the part it is compared with, and how many more atoms that took.
fn value(atom: &Atom, rest: &[Atom]) -> (Value, usize) {
    if let Atom::Way(sense) = atom {
        return (Value::Way(*sense), 0);
    }
    let same = *atom == Atom::Same;
    let skipped = rest
        .iter()
        .take_while(|atom| matches!(atom, Atom::Than | Atom::Filler(_)))
        .count();
    let has_than = rest.iter().take(skipped).any(|atom| *atom == Atom::Than);
    match rest.get(skipped) {
        Some(Atom::Part(part)) if has_than || skipped == 0 => {
            let value = if same {
                Value::Same(Some(*part))
            } else {
                Value::Opposite(Some(*part))
            };
            (value, skipped + 1)
        }
        // "opposite of clockwise"
        Some(Atom::Way(sense)) if has_than => {
            let sense = if same { *sense } else { turned(*sense) };
            (Value::Way(sense), skipped + 1)
        }
        Some(_) | None => {
            let value = if same {
                Value::Same(None)
            } else {
                Value::Opposite(None)
            };
            (value, 0)
        }
    }
}

/// `clockwise A, anticlockwise B`: the part right behind a way, with nothing said of it.
fn named_behind(is_first: bool, rest: Option<&[Atom]>) -> Option<(usize, usize)> {
    let (named, behind) = match rest? {
        [Atom::Filler(thing), Atom::Part(part), behind @ ..] if thing == "gear" => {
            ((*part, 2), behind)
        }
        [Atom::Part(part), behind @ ..] => ((*part, 1), behind),
        _ => return None,
    };
    let ends = matches!(
        behind,
        [] | [Atom::Break | Atom::But | Atom::So, ..] | [Atom::And, Atom::Way(_), ..]
    );
    // Without a comma only from the beginning on: "A cw P acw" may have lost its A.
    let goes_on = is_first && matches!(behind, [Atom::Way(_), ..]);
    (ends || goes_on).then_some(named)
}

/// `clockwise for C`: the part behind a way, where `for` stands between.
fn told_behind(rest: Option<&[Atom]>) -> Option<(usize, usize)> {
    let rest = rest?;
    let fillers = rest
        .iter()
        .take_while(|atom| matches!(atom, Atom::Filler(_)))
        .count();
    if rest.get(fillers) != Some(&Atom::For) {
        return None;
    }
    let more = rest
        .get(fillers + 1..)?
        .iter()
        .take_while(|atom| matches!(atom, Atom::Filler(_)))
        .count();
    match rest.get(fillers + 1 + more) {
        Some(Atom::Part(part)) => Some((*part, fillers + more + 2)),
        Some(_) | None => None,
    }
}

/// The other way.
pub(super) fn turned(sense: Sense) -> Sense {
    match sense {
        Sense::Clockwise => Sense::Anticlockwise,
        Sense::Anticlockwise => Sense::Clockwise,
        Sense::Left => Sense::Right,
        Sense::Right => Sense::Left,
    }
}

/// Returns the ways that a claim about a part means: one, or two where it may be
/// compared with the part told or with the part before; none where that is not known.
pub(super) fn senses(claim: &Claim, scene: &scene::Scene, of: Option<usize>) -> Vec<Sense> {
    let of_part = |part: usize| scene.parts.get(part).and_then(|part| part.sense);
    let compared = |with: Option<usize>| -> Vec<Sense> {
        let mut found: Vec<Sense> = Vec::new();
        let all = match (with, scene.about) {
            (Some(part), _) => vec![Some(part)],
            (None, scene::About::Direction { told, before, .. }) => vec![told, before],
            (
                None,
                scene::About::SameWay(..)
                | scene::About::WillItTurn
                | scene::About::Faster(..)
                | scene::About::Stronger(..)
                | scene::About::Word,
            ) => Vec::new(),
        };
        for sense in all.into_iter().flatten().filter_map(of_part) {
            if !found.contains(&sense) {
                found.push(sense);
            }
        }
        found
    };
    let own_kind = of.and_then(of_part);
    let mut found = match claim.value {
        Value::Way(sense) => vec![sense],
        Value::Same(with) => compared(with),
        Value::Opposite(with) => compared(with).into_iter().map(turned).collect(),
    };
    if claim.negated {
        found = found.into_iter().map(turned).collect();
    }
    // A rack and a gear do not turn alike.
    if !matches!(claim.value, Value::Way(_)) {
        found.retain(|sense| own_kind.is_none_or(|own| slides(own) == slides(*sense)));
    }
    found
}

fn slides(sense: Sense) -> bool {
    match sense {
        Sense::Left | Sense::Right => true,
        Sense::Clockwise | Sense::Anticlockwise => false,
    }
}

/// Returns the direction that an answer gives.
pub(super) fn direction(atoms: &[Atom], scene: &scene::Scene, options: &[ListOption]) -> Reading {
    let scene::About::Direction { part, .. } = scene.about else {
        return reading::unreadable("no direction is asked");
    };
    let mut doubts = Vec::new();
    let kept = kept(atoms, &mut doubts);
    let claims = claims(&kept);
    let chosen = chosen(&claims, part);
    if chosen.is_empty() {
        if claims.is_empty() {
            return reading::other_kind(atoms, "no direction");
        }
        return reading::unreadable("it says nothing of the part asked about");
    }
    let mut candidates: Vec<Candidate> = Vec::new();
    for claim in chosen {
        let mut doubts = doubts.clone();
        if claim.negated {
            doubts.push("read from what it is said not to be".to_owned());
        }
        let senses = senses(claim, scene, Some(part));
        let means: Vec<Candidate> = senses
            .iter()
            .filter_map(|sense| candidate(*sense, options, &doubts))
            .collect();
        if means.is_empty() && candidates.is_empty() {
            // "right" for a gear that turns: left and right are none of its ways, and
            // which of them is meant is for a person.
            candidates.extend(
                senses
                    .iter()
                    .filter_map(|sense| loosely(*sense, options, &doubts)),
            );
        }
        // One claim with two meanings is no second answer.
        if senses.len() > 1 && candidates.is_empty() {
            return Reading::Read(means);
        }
        for candidate in means {
            match candidates
                .iter_mut()
                .find(|known| known.given == candidate.given)
            {
                Some(known) if candidate.sureness == Sureness::Sure => {
                    *known = candidate;
                }
                Some(_) => {}
                None => candidates.push(candidate),
            }
        }
    }
    if candidates.is_empty() {
        let is_told = kept.iter().any(|atom| matches!(atom, Atom::Way(_)));
        return if is_told {
            Reading::OtherKind {
                why: "no way in which that part moves".to_owned(),
            }
        } else {
            reading::unreadable("it cannot be told which way is meant")
        };
    }
    reading::one_or_several(candidates)
}

/// The claims about the part asked; else those about no part in particular; a
/// conclusion before what leads to it.
fn chosen(claims: &[Claim], part: usize) -> Vec<&Claim> {
    let about: Vec<&Claim> = claims
        .iter()
        .filter(|claim| claim.of.contains(&part))
        .collect();
    let found = if about.is_empty() {
        claims.iter().filter(|claim| claim.of.is_empty()).collect()
    } else {
        about
    };
    let concluded: Vec<&Claim> = found
        .iter()
        .copied()
        .filter(|claim| claim.concludes)
        .collect();
    if concluded.is_empty() {
        found
    } else {
        concluded
    }
}

fn candidate(sense: Sense, options: &[ListOption], doubts: &[String]) -> Option<Candidate> {
    let option = options
        .iter()
        .find(|option| option.fact == ask::Fact::Sense(sense))?;
    Some(Candidate {
        given: Given::Entry(option.fact.clone()),
        sureness: reading::sureness(doubts),
        said: option.text.clone(),
    })
}

/// A way of sliding for something that turns: at the top of a gear that turns
/// clockwise the teeth go to the right.
fn loosely(sense: Sense, options: &[ListOption], doubts: &[String]) -> Option<Candidate> {
    let turned = match sense {
        Sense::Right => Sense::Clockwise,
        Sense::Left => Sense::Anticlockwise,
        Sense::Clockwise | Sense::Anticlockwise => return None,
    };
    let mut doubts = doubts.to_vec();
    doubts.push("left and right are no directions of turning".to_owned());
    candidate(turned, options, &doubts)
}

/// The atoms that count: explanations dropped, crossings-out and corrections heeded.
pub(super) fn kept(atoms: &[Atom], doubts: &mut Vec<String>) -> Vec<Atom> {
    let says = |atoms: &[Atom]| {
        atoms
            .iter()
            .any(|atom| matches!(atom, Atom::Way(_) | Atom::Same | Atom::Opposite))
    };
    let mut kept = crossed_out(atoms, says, doubts);
    // "as gear A goes clockwise" gives a reason, "same way as A" does not.
    let reason = (0..kept.len()).find(|index| {
        let before = kept.get(..*index).unwrap_or_default();
        match kept.get(*index) {
            Some(Atom::Because) => says(before),
            Some(Atom::Than) => {
                let part_follows = kept
                    .iter()
                    .skip(index + 1)
                    .find(|atom| !matches!(atom, Atom::Filler(_)))
                    .is_some_and(|atom| matches!(atom, Atom::Part(_)));
                let compares = before
                    .iter()
                    .rev()
                    .find(|atom| !matches!(atom, Atom::Filler(_)))
                    .is_some_and(|atom| matches!(atom, Atom::Same | Atom::Opposite | Atom::For));
                part_follows
                    && !compares
                    && says(before)
                    && says(kept.get(*index..).unwrap_or_default())
            }
            Some(_) | None => false,
        }
    });
    if let Some(index) = reason {
        kept.truncate(index);
    } else if let Some(index) = kept
        .iter()
        .position(|atom| matches!(atom, Atom::Because | Atom::But | Atom::If))
        && let Some(comma) = kept
            .iter()
            .skip(index)
            .position(|atom| *atom == Atom::Break)
    {
        // "Because A goes clockwise, B goes anticlockwise."
        let after = kept.get(index + comma..).unwrap_or_default().to_vec();
        if index == 0 && says(&after) {
            kept = after;
        }
    }
    corrected(&kept, is_correction, says, doubts)
}

/// Whether it takes back what stands before, where "no" is no answer.
pub(super) fn is_correction(atom: &Atom) -> bool {
    matches!(atom, Atom::Correction | Atom::No)
}

/// Leaves out what stands before a cross, or keeps only what stands before a tick.
pub(super) fn crossed_out(
    atoms: &[Atom],
    says: impl Fn(&[Atom]) -> bool,
    doubts: &mut Vec<String>,
) -> Vec<Atom> {
    let Some(cross) = atoms.iter().position(|atom| *atom == Atom::Cross) else {
        return atoms.to_vec();
    };
    let (before, after) = atoms.split_at(cross);
    if says(before) && says(after) {
        doubts.push("something is crossed out: the other answer is taken".to_owned());
        return after.to_vec();
    }
    atoms.to_vec()
}

/// Takes what stands behind a correction: "sorry", "I mean", or what else is one here.
pub(super) fn corrected(
    atoms: &[Atom],
    corrects: impl Fn(&Atom) -> bool,
    says: impl Fn(&[Atom]) -> bool,
    doubts: &mut Vec<String>,
) -> Vec<Atom> {
    let Some(index) = atoms.iter().rposition(corrects) else {
        return atoms.to_vec();
    };
    let (before, after) = atoms.split_at(index);
    if says(after) && says(before) {
        doubts.push(reading::CORRECTED.to_owned());
        after.to_vec()
    } else if says(before) {
        doubts.push(reading::UNCORRECTED.to_owned());
        before.to_vec()
    } else {
        atoms.to_vec()
    }
}
