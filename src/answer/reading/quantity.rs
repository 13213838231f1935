//! Numbers with a unit.

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::Reading;
use crate::answer::Unit;
use crate::answer::reading;
use crate::answer::reading::narrow;
use crate::answer::reading::piece;
use crate::answer::reading::piece::Piece;
use crate::answer::reading::unit_words::Written;
use crate::answer::reading::vocabulary::Mark;
use crate::answer::scheme;
use crate::answer::unit;
use crate::number;

/// Returns the number that the pieces give, where `wanted` is the printed unit.
pub(super) fn read(all: &[Piece], wanted: Unit) -> Reading {
    if !piece::has_amount(all) {
        return no_number(all);
    }
    let narrowed = narrow::narrow(all);
    let mut doubts = narrowed.doubts.clone();
    doubts.extend(doubts_of(narrowed.pieces));
    let (terms, unfinished) = terms(narrowed.pieces);
    let is_sum_alone = unfinished && terms.iter().all(|term| term.is_sum);
    if is_sum_alone {
        doubts.push("a calculation without its result".to_owned());
    }
    if let Some(left) = narrowed.left_of_equals
        && !is_calculation(left)
    {
        let told = self::terms(left).0;
        if !told
            .iter()
            .all(|term| terms.iter().any(|kept| kept.is_like(term)))
        {
            doubts.push(
                "two numbers with = or an arrow between them: the later one is taken".to_owned(),
            );
        }
    }
    let mut different: Vec<Term> = Vec::new();
    for term in terms {
        match different.iter_mut().find(|known| known.is_like(&term)) {
            Some(known) => known.join(term),
            None => different.push(term),
        }
    }
    if different.len() > 1 {
        different = with_wanted_unit(different, wanted, &mut doubts);
    }
    let mut candidates: Vec<Candidate> = Vec::new();
    let is_one = different.len() == 1;
    for term in &different {
        for candidate in term.candidates(&doubts, is_one) {
            reading::push_new(&mut candidates, candidate);
        }
    }
    if candidates.is_empty() {
        reading::unreadable("no number that is meant")
    } else if is_one {
        Reading::Read(candidates)
    } else {
        reading::one_or_several(candidates)
    }
}

fn no_number(all: &[Piece]) -> Reading {
    let odd = piece::unknown(all)
        .into_iter()
        .find(|word| word.starts_with(|sign: char| sign.is_ascii_digit()));
    match odd {
        Some(odd) => reading::unreadable(&format!("\"{odd}\" is no number")),
        None => reading::unreadable("no number in it"),
    }
}

/// Reasons to look that single words give.
pub(super) fn doubts_of(pieces: &[Piece]) -> Vec<String> {
    let mut doubts = Vec::new();
    let unknown: Vec<String> = piece::unknown(pieces)
        .into_iter()
        .take(3)
        .map(|word| format!("\"{word}\""))
        .collect();
    if !unknown.is_empty() {
        doubts.push(format!("not understood: {}", unknown.join(", ")));
    }
    if pieces.contains(&Piece::Mark(Mark::Doubt)) {
        doubts.push("more or less is said".to_owned());
    }
    for piece in pieces {
        if let Some(doubt) = piece.amount().and_then(|amount| amount.number.doubt) {
            doubts.push(doubt.to_owned());
        }
    }
    doubts
}

/// Whether something is worked out in the pieces.
fn is_calculation(pieces: &[Piece]) -> bool {
    pieces
        .iter()
        .any(|piece| *piece == Piece::Colon || piece::is_sum(piece))
}

/// One number of an answer.
#[derive(Debug, Clone)]
struct Term {
    value: number::Value,
    unit: Option<Unit>,
    other_unit: Option<String>,
    places: Option<u8>,
    is_sum: bool,
}

/// Returns the numbers, sums worked out, and whether there was a sum.
fn terms(pieces: &[Piece]) -> (Vec<Term>, bool) {
    let mut terms = Vec::new();
    let mut unfinished = false;
    let mut sum: Option<Sum> = None;
    let mut operator = None;
    for piece in pieces {
        match piece {
            Piece::Amount(amount) => {
                let Some(term) = Term::new(amount) else {
                    continue;
                };
                if let (Some(sum), Some(operator)) = (sum.as_mut(), operator.take()) {
                    unfinished = true;
                    sum.push(operator, term);
                } else {
                    terms.extend(sum.take().and_then(Sum::total));
                    sum = Some(Sum::new(term));
                }
            }
            Piece::Operator(sign) => operator = Some(*sign),
            Piece::Break('(' | ')') => {}
            Piece::Equals
            | Piece::Arrow
            | Piece::Colon
            | Piece::Break(_)
            | Piece::Mark(_)
            | Piece::Label(_)
            | Piece::Unknown(_) => operator = None,
        }
    }
    terms.extend(sum.and_then(Sum::total));
    (terms, unfinished)
}

/// A sum as it is worked out from left to right, products first.
struct Sum {
    done: Option<number::Value>,
    product: Option<number::Value>,
    last: Term,
    is_plain: bool,
}

impl Sum {
    fn new(term: Term) -> Self {
        Self {
            done: Some(number::Value::ZERO),
            product: Some(term.value),
            last: term,
            is_plain: true,
        }
    }

    fn push(&mut self, operator: char, term: Term) {
        self.is_plain = false;
        match operator {
            '×' => self.product = self.product.and_then(|it| it.times(term.value).ok()),
            '÷' | '/' => self.product = self.product.and_then(|it| it.divided_by(term.value).ok()),
            _ => {
                let product = self.product;
                self.done = self.done.and_then(|done| done.plus(product?).ok());
                self.product = Some(if operator == '-' {
                    term.value.negated()
                } else {
                    term.value
                });
            }
        }
        self.last = term;
    }

    fn total(self) -> Option<Term> {
        if self.is_plain {
            return Some(self.last);
        }
        Some(Term {
            value: self.done?.plus(self.product?).ok()?,
            places: None,
            unit: self.last.unit,
            other_unit: self.last.other_unit,
            is_sum: true,
        })
    }
}

impl Term {
    fn new(amount: &piece::Amount) -> Option<Self> {
        let number = &amount.number;
        let plain = Self {
            value: number.value,
            unit: None,
            other_unit: None,
            places: number.places,
            is_sum: false,
        };
        Some(match &amount.unit {
            None => plain,
            Some(Written::Other(word)) => Self {
                other_unit: Some(word.clone()),
                ..plain
            },
            Some(Written::Unit { unit, scale }) if *scale == number::Number::ONE => Self {
                unit: Some(*unit),
                ..plain
            },
            Some(Written::Unit { unit, scale }) => Self {
                value: number.value.times((*scale).into()).ok()?,
                unit: Some(*unit),
                other_unit: None,
                places: None,
                is_sum: false,
            },
        })
    }

    /// Whether both say the same: the same value, in units that convert, or one a
    /// rounding of the other.
    fn is_like(&self, other: &Self) -> bool {
        let factor = match (self.unit, other.unit) {
            (Some(one), Some(two)) => unit::conversion(two, one),
            (Some(_) | None, _) => Some(number::Number::ONE),
        };
        let Some(value) = factor.and_then(|factor| other.value.times(factor.into()).ok()) else {
            return false;
        };
        value == self.value
            || (factor == Some(number::Number::ONE)
                && (is_rounding(self, other) || is_rounding(other, self)))
    }

    /// Takes over what the other says more of.
    fn join(&mut self, other: Self) {
        let unit = self.unit.or(other.unit);
        let is_finer = match (self.places, other.places) {
            (Some(mine), Some(others)) => others > mine,
            (Some(_), None) => other.value != self.value,
            (None, _) => false,
        };
        if is_finer && self.value != other.value {
            *self = other;
        }
        self.unit = unit;
    }

    /// The number as candidates; a minus may be a dash, so both are told.
    fn candidates(&self, doubts: &[String], dash_too: bool) -> Vec<Candidate> {
        let mut doubts = doubts.to_vec();
        if let Some(word) = &self.other_unit {
            doubts.push(format!("the unit \"{word}\" does not fit"));
        }
        let candidate = |value: number::Value| Candidate {
            given: Given::Quantity {
                value,
                unit: self.unit,
                places: self.places,
            },
            sureness: reading::sureness(&doubts),
            said: said(value, self.places, self.unit),
        };
        let mut candidates = vec![candidate(self.value)];
        if self.value.factor.is_negative() && dash_too {
            candidates.push(candidate(self.value.negated()));
        }
        candidates
    }
}

/// Whether a decimal is the other number rounded to its places.
fn is_rounding(rounded: &Term, finer: &Term) -> bool {
    let Some(places) = rounded.places else {
        return false;
    };
    finer.places.is_none_or(|finer| finer > places)
        && places > 0
        && number::round_half_up(finer.value, number::Precision::Places(places))
            .is_ok_and(|value| number::Value::from(value) == rounded.value)
}

/// Leaves only the number in the printed unit (or in none), where all others are in
/// units of another kind.
fn with_wanted_unit(different: Vec<Term>, wanted: Unit, doubts: &mut Vec<String>) -> Vec<Term> {
    let fits = |term: &Term| {
        term.other_unit.is_none()
            && term
                .unit
                .is_none_or(|unit| unit::conversion(unit, wanted).is_some())
    };
    if different.iter().filter(|term| fits(term)).count() == 1 {
        doubts.push("other numbers stand beside it".to_owned());
        return different.into_iter().filter(fits).collect();
    }
    different
}

/// A number with its unit as people write it.
fn said(value: number::Value, places: Option<u8>, unit: Option<Unit>) -> String {
    let as_written = places
        .and(value.as_number())
        .and_then(number::Number::to_decimal);
    let text = as_written.unwrap_or_else(|| scheme::exact_text(value));
    match unit {
        Some(unit) if text == "1" => format!("{text} {}", unit.text_for_one()),
        Some(unit) => format!("{text} {}", unit.text()),
        None => text,
    }
}
