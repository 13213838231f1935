//! Gears chosen from a box.

use crate::answer::Candidate;
use crate::answer::Form;
use crate::answer::Given;
use crate::answer::Reading;
use crate::answer::reading;
use crate::answer::reading::piece;
use crate::answer::reading::piece::Piece;
use crate::answer::reading::quantity;
use crate::answer::reading::vocabulary::Mark;
use crate::answer::scheme;

/// A tooth count with the label that stood before it.
#[derive(Debug, Clone)]
struct Told {
    label: Option<String>,
    teeth: u32,
}

/// Returns the gears that the pieces name, one for each label.
pub(super) fn read(all: &[Piece], labels: &[String], form: &Form) -> Reading {
    let mut doubts = Vec::new();
    let mut candidates = Vec::new();
    let groups = groups(all, labels.len(), &mut doubts);
    for group in groups {
        let told = told(group);
        doubts.extend(quantity::doubts_of(&without_lists(group)));
        if group
            .iter()
            .any(|piece| matches!(piece, Piece::Mark(Mark::Drives) | Piece::Arrow))
        {
            doubts.push("which gear drives is said, not which is which".to_owned());
        }
        let Some(gears) = in_order(&told, labels) else {
            continue;
        };
        let candidate = Candidate {
            said: scheme::gears(&gears, form),
            given: Given::Gears(gears),
            sureness: reading::sureness(&doubts),
        };
        reading::push_new(&mut candidates, candidate);
    }
    if candidates.is_empty() {
        let wanted = labels.len();
        let s = if wanted == 1 { "" } else { "s" };
        return reading::unreadable(&format!("not {wanted} gear{s} by their teeth"));
    }
    reading::one_or_several(candidates)
}

/// The parts of the answer between `or`, each one choice; explanations and things
/// taken back left aside.
fn groups<'p>(all: &'p [Piece], wanted: usize, doubts: &mut Vec<String>) -> Vec<&'p [Piece]> {
    let mut kept = all;
    let correction = kept
        .iter()
        .rposition(|piece| *piece == Piece::Mark(Mark::Correction));
    if let Some(index) = correction {
        let (_, after) = kept.split_at(index + 1);
        if piece::has_amount(after) {
            kept = after;
            doubts.push("a correction: the later answer is taken".to_owned());
        }
    }
    kept.split(|piece| *piece == Piece::Mark(Mark::Or))
        .map(|group| before_the_working(group, wanted))
        .collect()
}

/// The pieces up to where, the gears named, a sum or a reason begins.
fn before_the_working(group: &[Piece], wanted: usize) -> &[Piece] {
    let mut count = 0;
    for (index, piece) in group.iter().enumerate() {
        count += counts(piece).len();
        let ends = matches!(
            piece,
            Piece::Equals | Piece::Mark(Mark::Because | Mark::Conclusion)
        );
        let next_is_amount = group
            .get(index + 1)
            .is_some_and(|next| next.amount().is_some());
        if ends && count >= wanted && (count > 0) && (next_is_amount || *piece != Piece::Equals) {
            return group.split_at(index).0;
        }
    }
    group
}

/// The tooth counts that one piece names: `12`, `12/36`, `8,16,24`.
fn counts(piece: &Piece) -> Vec<u32> {
    match piece {
        Piece::Amount(amount) => {
            let number = &amount.number;
            if let Some((top, bottom)) = number.fraction {
                return [top, bottom]
                    .into_iter()
                    .filter_map(|one| u32::try_from(one.as_whole()?).ok())
                    .collect();
            }
            if let Some(list) = number.digits.as_deref().and_then(list) {
                return list;
            }
            number
                .value
                .magnitude()
                .as_number()
                .and_then(|one| u32::try_from(one.as_whole()?).ok())
                .into_iter()
                .collect()
        }
        Piece::Unknown(text) => list(text).unwrap_or_default(),
        Piece::Equals
        | Piece::Arrow
        | Piece::Colon
        | Piece::Operator(_)
        | Piece::Break(_)
        | Piece::Mark(_)
        | Piece::Label(_) => Vec::new(),
    }
}

/// Returns counts parted by commas or points without spaces.
fn list(text: &str) -> Option<Vec<u32>> {
    let parts: Vec<&str> = text.split([',', '.']).collect();
    if parts.len() < 2 {
        return None;
    }
    parts.into_iter().map(|part| part.parse().ok()).collect()
}

/// The pieces without those that are lists of counts.
fn without_lists(group: &[Piece]) -> Vec<Piece> {
    group
        .iter()
        .filter(|piece| !matches!(piece, Piece::Unknown(text) if list(text).is_some()))
        .cloned()
        .collect()
}

fn told(group: &[Piece]) -> Vec<Told> {
    let is_behind = group
        .iter()
        .find(|piece| matches!(piece, Piece::Label(_)) || !counts(piece).is_empty())
        .is_some_and(|first| !matches!(first, Piece::Label(_)))
        && group.iter().any(|piece| matches!(piece, Piece::Label(_)));
    let mut told = if is_behind {
        // "12 for A and 36 for B": read from the back.
        let turned: Vec<Piece> = group.iter().rev().cloned().collect();
        let mut told = told_in_order(&turned);
        told.reverse();
        told
    } else {
        told_in_order(group)
    };
    // "a small 12 and a big 36": articles, not labels.
    if told.len() > 1 && told.iter().all(|one| one.label.as_deref() == Some("A")) {
        for one in &mut told {
            one.label = None;
        }
    }
    told
}

fn told_in_order(group: &[Piece]) -> Vec<Told> {
    let mut told: Vec<Told> = Vec::new();
    let mut label = None;
    for piece in group {
        if let Piece::Label(name) = piece {
            label = Some(name.to_uppercase());
        }
        for teeth in counts(piece) {
            told.push(Told {
                label: label.take(),
                teeth,
            });
        }
    }
    told
}

/// Returns the counts in the order of the labels; by their labels where each is
/// named, else as they stand.
fn in_order(told: &[Told], labels: &[String]) -> Option<Vec<u32>> {
    let under = |wanted: &String| {
        let mut named = told
            .iter()
            .filter(|one| one.label.as_ref() == Some(&wanted.to_uppercase()));
        let first = named.next()?;
        named.next().is_none().then_some(first.teeth)
    };
    let named: Option<Vec<u32>> = labels.iter().map(under).collect();
    if let Some(named) = named
        && told.len() == labels.len()
    {
        return Some(named);
    }
    let none_named = told.iter().all(|one| one.label.is_none());
    (none_named && told.len() == labels.len()).then(|| told.iter().map(|one| one.teeth).collect())
}
