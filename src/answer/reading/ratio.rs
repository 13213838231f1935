//! Ratios.

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::Reading;
use crate::answer::Sureness;
use crate::answer::reading;
use crate::answer::reading::narrow;
use crate::answer::reading::piece;
use crate::answer::reading::piece::Piece;
use crate::answer::reading::quantity;
use crate::answer::reading::vocabulary::Mark;
use crate::answer::scheme;
use crate::number;

/// What is asked.
#[derive(Debug, Clone)]
pub(super) struct Wanted {
    /// The label that the first number belongs to, in lower case.
    pub(super) first: String,
    /// The label that the second number belongs to.
    pub(super) second: String,
    /// Whether the simplest form is asked.
    pub(super) simplest: bool,
}

type Pair = (number::Number, number::Number);

/// One ratio found.
#[derive(Debug, Clone)]
struct Found {
    pair: Pair,
    /// Whether one number stood for `n : 1`.
    alone: bool,
    doubt: Option<&'static str>,
}

/// Returns the ratio that the pieces give.
pub(super) fn read(all: &[Piece], wanted: &Wanted) -> Reading {
    if !piece::has_amount(all) {
        return reading::unreadable("no ratio in it");
    }
    let labelled = in_labels(all, wanted);
    let narrowed = narrow::narrow(all);
    let mut doubts = narrowed.doubts.clone();
    doubts.extend(quantity::doubts_of(narrowed.pieces));
    if has_letter_for_number(narrowed.pieces) {
        doubts.push("a letter that may be a digit".to_owned());
    }
    let mut found = match labelled {
        Some(found) => vec![found],
        None => ratios(narrowed.pieces),
    };
    if let Some(left) = narrowed.left_of_equals
        && !found.iter().all(|one| one.alone)
    {
        let is_other =
            |one: &Found| !one.alone && !found.iter().any(|other| is_equal(other.pair, one.pair));
        if ratios(left).iter().any(is_other) {
            doubts
                .push("two ratios with = or an arrow between them: the later is taken".to_owned());
        }
    }
    // In "1 : 3 = 0.33" the ratio is the answer, not its value.
    if let Some(left) = narrowed.left_of_equals
        && found.iter().all(|one| one.alone)
    {
        let before: Vec<Found> = ratios(left).into_iter().filter(|one| !one.alone).collect();
        let is_same = |one: &Found| found.iter().any(|other| is_equal(other.pair, one.pair));
        if !before.is_empty() && !before.iter().any(is_same) {
            doubts.push("a ratio and a number with = between them".to_owned());
            found = before;
        }
    }
    if names_reversed(all, wanted) {
        for one in &mut found {
            one.pair = (one.pair.1, one.pair.0);
        }
    }
    // "divide by 9 gives 5 : 2": beside a ratio a number alone is a step to it.
    if found.iter().any(|one| !one.alone) {
        found.retain(|one| !one.alone);
    }
    let mut different: Vec<Found> = Vec::new();
    for one in found {
        // Of equal ones that in smaller numbers is the most worked.
        match different
            .iter_mut()
            .find(|known| is_equal(known.pair, one.pair))
        {
            Some(known) if is_smaller(known.pair, one.pair) => {}
            Some(known) => *known = one,
            None => different.push(one),
        }
    }
    let candidates: Vec<Candidate> = different
        .iter()
        .map(|one| candidate(one, wanted, &doubts))
        .collect();
    let mistyped = match different.as_slice() {
        [only] if only.alone => with_point_for_colon(narrowed.pieces),
        _ => None,
    };
    match (candidates.as_slice(), mistyped) {
        ([], _) => reading::unreadable("no ratio of two numbers in it"),
        ([only], Some(pair)) => Reading::Read(vec![only.clone(), pair]),
        (_, _) => reading::one_or_several(candidates),
    }
}

/// `3.1` where `3 : 1` may be meant.
fn with_point_for_colon(pieces: &[Piece]) -> Option<Candidate> {
    let mut amounts = pieces.iter().filter_map(Piece::amount);
    let digits = amounts.next()?.number.digits.as_deref()?;
    let (first, second) = digits.split_once(['.', ','])?;
    let (first, second): (number::Number, number::Number) =
        (first.parse().ok()?, second.parse().ok()?);
    let is_pair = first.is_whole() && second.is_whole() && second.is_positive();
    (is_pair && amounts.next().is_none()).then(|| Candidate {
        given: Given::Ratio(first, second),
        sureness: Sureness::Slip {
            why: "a point for the sign of a ratio".to_owned(),
        },
        said: format!("{first} : {second} (a point for the sign of a ratio)"),
    })
}

/// Whether a letter that looks like a digit stands where a ratio has a number: `l : 3`.
fn has_letter_for_number(pieces: &[Piece]) -> bool {
    pieces.windows(3).any(|three| {
        matches!(three, [one, Piece::Colon, other]
            if one.looks_like_a_digit() && other.amount().is_some()
                || other.looks_like_a_digit() && one.amount().is_some())
    })
}

/// Whether the one is in smaller whole numbers than the other.
fn is_smaller(one: Pair, other: Pair) -> bool {
    let is_whole = |pair: Pair| pair.0.is_whole() && pair.1.is_whole();
    is_whole(one) && is_whole(other) && one.0.magnitude() < other.0.magnitude()
}

fn is_equal(one: Pair, other: Pair) -> bool {
    one == other
        || match (one.0.divided_by(one.1), other.0.divided_by(other.1)) {
            (Ok(one), Ok(other)) => one == other,
            (Ok(_) | Err(_), Ok(_) | Err(_)) => false,
        }
}

fn candidate(found: &Found, wanted: &Wanted, doubts: &[String]) -> Candidate {
    let mut doubts = doubts.to_vec();
    if let Some(doubt) = found.doubt {
        doubts.push(doubt.to_owned());
    }
    let (first, second) = (said(found.pair.0), said(found.pair.1));
    Candidate {
        given: Given::Ratio(found.pair.0, found.pair.1),
        sureness: if doubts.is_empty() && found.alone && wanted.simplest {
            Sureness::Loose {
                why: "one number where a ratio is asked".to_owned(),
            }
        } else {
            reading::sureness(&doubts)
        },
        said: if found.alone {
            format!("{first} (read as {first} : {second})")
        } else {
            format!("{first} : {second}")
        },
    }
}

/// A number of a ratio: whole, a decimal if it ends, else a fraction.
fn said(number: number::Number) -> String {
    number
        .to_decimal()
        .unwrap_or_else(|| scheme::number_text(number))
}

/// How two numbers next to each other hang together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Joint {
    Colon,
    Dash,
    Weak,
    Or,
    Sum,
}

/// Returns every ratio in the pieces, in order.
fn ratios(pieces: &[Piece]) -> Vec<Found> {
    let mut amounts: Vec<(&piece::Amount, Joint)> = Vec::new();
    let mut joint = Joint::Weak;
    for piece in pieces {
        match piece {
            Piece::Amount(amount) => {
                amounts.push((amount, joint));
                joint = Joint::Weak;
            }
            Piece::Operator('-') => joint = Joint::Dash,
            Piece::Colon | Piece::Operator('/' | '÷') => joint = Joint::Colon,
            Piece::Break(';') if joint == Joint::Weak => joint = Joint::Dash,
            Piece::Operator(_) => joint = Joint::Sum,
            Piece::Mark(Mark::Or) => joint = Joint::Or,
            Piece::Equals
            | Piece::Arrow
            | Piece::Break(_)
            | Piece::Mark(_)
            | Piece::Label(_)
            | Piece::Unknown(_)
            | Piece::Aside(_) => {}
        }
    }
    if amounts.iter().any(|(_, joint)| *joint == Joint::Sum) {
        return Vec::new();
    }
    let mut found = Vec::new();
    let mut rest = amounts.as_slice();
    let is_pair = amounts.len() == 2;
    while let Some(((first, _), after)) = rest.split_first() {
        let Some(top) = first.number.value.as_number() else {
            return Vec::new();
        };
        if let Some(((second, joint), later)) = after.split_first()
            && let Some(bottom) = second.number.value.as_number()
            && (matches!(joint, Joint::Colon | Joint::Dash) || (is_pair && *joint == Joint::Weak))
        {
            // 3 : 1 : 2 is no ratio of two numbers, 03:01:00 a time made of one.
            let mut later = later;
            if let Some(((third, Joint::Colon), rest)) = later.split_first() {
                if third.number.digits.as_deref() != Some("00") {
                    return Vec::new();
                }
                later = rest;
            }
            found.push(Found {
                pair: (top.magnitude(), bottom.magnitude()),
                alone: false,
                doubt: (*joint == Joint::Weak)
                    .then_some("two numbers without the sign of a ratio between them"),
            });
            rest = later;
        } else {
            found.push(one_number(first, top));
            rest = after;
        }
    }
    found
}

fn one_number(amount: &piece::Amount, value: number::Number) -> Found {
    if let Some((top, bottom)) = amount.number.fraction {
        return Found {
            pair: (top, bottom),
            alone: false,
            doubt: None,
        };
    }
    Found {
        pair: (value, number::Number::ONE),
        alone: true,
        doubt: None,
    }
}

/// `A turns 3 times, B turns once`, `1 turn of B to 3 turns of A`: each number with its
/// own label before or behind it.
fn in_labels(pieces: &[Piece], wanted: &Wanted) -> Option<Found> {
    let mut before: Option<&str> = None;
    let mut told: Vec<(Option<&str>, number::Number)> = Vec::new();
    for piece in pieces {
        match piece {
            Piece::Label(name) => match told.last_mut() {
                Some((label @ None, _)) => *label = Some(name),
                Some((Some(_), _)) | None => before = Some(name),
            },
            Piece::Amount(amount) => {
                told.push((before.take(), amount.number.value.as_number()?));
            }
            Piece::Equals
            | Piece::Arrow
            | Piece::Colon
            | Piece::Operator(_)
            | Piece::Break(_)
            | Piece::Mark(_)
            | Piece::Unknown(_)
            | Piece::Aside(_) => {}
        }
    }
    let told: Vec<(&str, number::Number)> = told
        .into_iter()
        .map(|(label, number)| Some((label?, number)))
        .collect::<Option<_>>()?;
    let [(one, first), (other, second)] = told.as_slice() else {
        return None;
    };
    let pair = if *one == wanted.first && *other == wanted.second {
        (*first, *second)
    } else if *one == wanted.second && *other == wanted.first {
        (*second, *first)
    } else {
        return None;
    };
    Some(Found {
        pair,
        alone: false,
        doubt: None,
    })
}

/// Whether the labels stand the wrong way round: `B : A = 1 : 3`, `1 : 3 (B : A)`.
fn names_reversed(pieces: &[Piece], wanted: &Wanted) -> bool {
    let first = pieces.iter().position(|piece| piece.amount().is_some());
    let last = pieces.iter().rposition(|piece| piece.amount().is_some());
    let (Some(first), Some(last)) = (first, last) else {
        return false;
    };
    let before = labels(pieces.split_at(first).0);
    let after = labels(pieces.split_at(last).1);
    let turned = [wanted.second.as_str(), wanted.first.as_str()];
    wanted.first != wanted.second && (before == turned || (before.is_empty() && after == turned))
}

fn labels(pieces: &[Piece]) -> Vec<&str> {
    pieces
        .iter()
        .filter_map(|piece| match piece {
            Piece::Label(label) => Some(label.as_str()),
            Piece::Amount(_)
            | Piece::Equals
            | Piece::Arrow
            | Piece::Colon
            | Piece::Operator(_)
            | Piece::Break(_)
            | Piece::Mark(_)
            | Piece::Unknown(_)
            | Piece::Aside(_) => None,
        })
        .collect()
}
