//! Gears chosen from a box.

use crate::answer::Candidate;
use crate::answer::Form;
use crate::answer::Given;
use crate::answer::Reading;
use crate::answer::reading;
use crate::answer::reading::piece;
use crate::answer::reading::piece::Piece;
use crate::answer::reading::quantity;
use crate::answer::reading::token;
use crate::answer::reading::vocabulary::Mark;
use crate::answer::scheme;

/// A tooth count with the label that stood before it.
#[derive(Debug, Clone)]
struct Told {
    label: Option<String>,
    teeth: u32,
}

/// Returns the gears that the tokens name, one for each label.
pub(super) fn read(tokens: &[token::Token], labels: &[String], form: &Form) -> Reading {
    let all = piece::pieces(tokens);
    let all = all.as_slice();
    let mut doubts = Vec::new();
    let mut candidates = Vec::new();
    let in_drive_order = match form {
        Form::Gears { in_drive_order, .. } => *in_drive_order,
        Form::Number { .. } | Form::Ratio { .. } | Form::List { .. } | Form::Explanation(_) => {
            false
        }
    };
    let groups = groups(all, labels, &mut doubts);
    for group in groups {
        let told = group.told;
        let group = group.pieces;
        doubts.extend(quantity::doubts_of(&without_lists(group)));
        let are_named = told.iter().any(|one| one.label.is_some());
        if !are_named && group.iter().any(multiplies) {
            doubts.push("something is worked out where gears are asked".to_owned());
        }
        let drives = group
            .iter()
            .any(|piece| matches!(piece, Piece::Mark(Mark::Drives) | Piece::Arrow));
        let is_driven = group.contains(&Piece::Mark(Mark::DrivenBy));
        if (drives || is_driven) && !in_drive_order {
            doubts.push("which gear drives is said, not which is which".to_owned());
        }
        let Some(mut gears) = in_order(&told, labels) else {
            continue;
        };
        // "36 is driven by 12" and "driven 36, driver 12" name the last first.
        let is_turned = is_driven || names_driven_first(tokens);
        if is_turned && told.iter().all(|one| one.label.is_none()) {
            gears.reverse();
        }
        let candidate = Candidate {
            said: scheme::gears(&gears, form),
            given: Given::Gears(gears),
            sureness: reading::sureness(&doubts),
        };
        reading::push_new(&mut candidates, candidate);
    }
    if candidates.is_empty() {
        let is_plain = |piece: &Piece| matches!(piece, Piece::Label(_) | Piece::Break(_));
        if all.iter().all(is_plain) {
            return Reading::OtherKind {
                why: "not the gears asked for by their teeth".to_owned(),
            };
        }
        let wanted = labels.len();
        let s = if wanted == 1 { "" } else { "s" };
        return reading::unreadable(&format!("not {wanted} gear{s} by their teeth"));
    }
    reading::one_or_several(candidates)
}

/// Whether the driven gear is spoken of before the one that drives.
fn names_driven_first(tokens: &[token::Token]) -> bool {
    let place = |names: &[&str]| {
        let mut words = tokens.iter().map(token::Token::word);
        words.position(|word| word.is_some_and(|word| names.contains(&word)))
    };
    let drives = place(&["driver", "driving", "input"]);
    let follows = place(&["driven", "follower", "output"]);
    drives
        .zip(follows)
        .is_some_and(|(drives, follows)| follows < drives)
}

/// One choice: its pieces, and the counts in them.
struct Group<'p> {
    pieces: &'p [Piece],
    told: Vec<Told>,
}

/// The parts of the answer between `or`, each one choice; explanations and things
/// taken back left aside.
fn groups<'p>(all: &'p [Piece], labels: &[String], doubts: &mut Vec<String>) -> Vec<Group<'p>> {
    let wanted = labels.len();
    let mut kept = all;
    let mut taken_back: &[Piece] = &[];
    let correction = kept.iter().rposition(|piece| {
        matches!(
            piece,
            Piece::Mark(Mark::Correction | Mark::Cross | Mark::But)
        )
    });
    if let Some(index) = correction {
        let (before, after) = kept.split_at(index + 1);
        if piece::has_amount(after) {
            kept = after;
            taken_back = before;
            doubts.push("a correction: the later answer is taken".to_owned());
        }
    }
    kept.split(|piece| *piece == Piece::Mark(Mark::Or))
        .map(|group| {
            let concluded = conclusion_of(group, wanted).unwrap_or(group);
            let pieces = before_the_working(result_of(concluded, wanted), labels);
            let mut told = told(pieces);
            // "A 12, B 24 sorry B 36": what is not said again stands.
            if told.len() < wanted && told.iter().all(|one| one.label.is_some()) {
                let earlier: Vec<Told> = self::told(taken_back)
                    .into_iter()
                    .filter(|one| one.label.is_some())
                    .filter(|one| told.iter().all(|later| later.label != one.label))
                    .collect();
                told.extend(earlier);
            }
            Group { pieces, told }
        })
        .collect()
}

/// Whether two numbers are multiplied or divided; `12 + 36` names two gears.
fn multiplies(piece: &Piece) -> bool {
    matches!(piece, Piece::Operator('×' | '÷'))
}

/// `12 × 3 = 36 so 12 and 36`: what stands behind the last `so`, where that is as many
/// counts as are wanted.
fn conclusion_of(group: &[Piece], wanted: usize) -> Option<&[Piece]> {
    let concludes = |piece: &Piece| *piece == Piece::Mark(Mark::Conclusion);
    let index = group.iter().rposition(concludes)?;
    let (_, behind) = group.split_at(index);
    let count: usize = behind.iter().map(|piece| counts(piece).len()).sum();
    (count == wanted).then_some(behind)
}

/// `3 × 12 = 36`: what a sum comes to, where that is as many counts as are wanted.
fn result_of(group: &[Piece], wanted: usize) -> &[Piece] {
    let Some(index) = group.iter().rposition(|piece| *piece == Piece::Equals) else {
        return group;
    };
    let (left, right) = group.split_at(index);
    let right = right.get(1..).unwrap_or_default();
    let is_sum = left.iter().any(|piece| matches!(piece, Piece::Operator(_)));
    let has_labels = group.iter().any(|piece| matches!(piece, Piece::Label(_)));
    let count: usize = right.iter().map(|piece| counts(piece).len()).sum();
    if is_sum && !has_labels && count == wanted {
        right
    } else {
        group
    }
}

/// The pieces up to where, the gears named, a sum or a reason begins.
fn before_the_working<'p>(group: &'p [Piece], labels: &[String]) -> &'p [Piece] {
    let wanted = labels.len();
    let mut count = 0;
    for (index, piece) in group.iter().enumerate() {
        count += counts(piece).len();
        let ends = matches!(
            piece,
            Piece::Equals | Piece::Mark(Mark::Because | Mark::Conclusion)
        );
        let (before, after) = group.split_at(index);
        let next_is_amount = after.get(1).is_some_and(|next| next.amount().is_some());
        // Where labels come later still, the gears are not all named yet.
        let is_label = |piece: &Piece| {
            matches!(piece, Piece::Label(name)
                if labels.iter().any(|label| label.eq_ignore_ascii_case(name)))
        };
        let names_more = before.iter().any(is_label) && after.iter().any(is_label);
        if ends && count >= wanted && !names_more && (next_is_amount || *piece != Piece::Equals) {
            return before;
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
        Piece::Unknown(text) | Piece::Aside(text) => list(text).unwrap_or_default(),
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
    // "36.0" is one count: no gear has fewer than four teeth.
    parts
        .into_iter()
        .map(|part| part.parse().ok().filter(|teeth: &u32| *teeth >= 4))
        .collect()
}

/// The pieces without those that are lists of counts.
fn without_lists(group: &[Piece]) -> Vec<Piece> {
    group
        .iter()
        .filter(|piece| !matches!(piece, Piece::Unknown(text) | Piece::Aside(text) if list(text).is_some()))
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
        && told.iter().filter(|one| one.label.is_some()).count() == labels.len()
    {
        return Some(named);
    }
    let none_named = told.iter().all(|one| one.label.is_none());
    (none_named && told.len() == labels.len()).then(|| told.iter().map(|one| one.teeth).collect())
}
