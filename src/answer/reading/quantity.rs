//! Numbers with a unit.

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::Measure;
use crate::answer::Reading;
use crate::answer::Unit;
use crate::answer::Written;
use crate::answer::reading;
use crate::answer::reading::narrow;
use crate::answer::reading::piece;
use crate::answer::reading::piece::Piece;
use crate::answer::reading::vocabulary::Mark;
use crate::answer::scheme;
use crate::answer::unit;
use crate::number;

/// Returns the number that the pieces give, where `wanted` is the printed unit and
/// `labels` those of what is asked about.
pub(super) fn read(all: &[Piece], wanted: Unit, labels: &[String]) -> Reading {
    if !piece::has_amount(all) {
        return no_number(all);
    }
    if let Some(told) = told_by_label(all, labels) {
        return Reading::Read(told.candidates(&doubts_of(all), true));
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
        different = with_wanted(different, wanted, labels, &mut doubts);
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
        None if all.iter().any(Piece::looks_like_a_digit) => {
            reading::unreadable("a letter that may be a digit")
        }
        None if all
            .iter()
            .all(|piece| matches!(piece, Piece::Label(_) | Piece::Break(_))) =>
        {
            Reading::OtherKind {
                why: "no number".to_owned(),
            }
        }
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

/// The number of the part asked about, where every number is told of some part:
/// `D = 10 (B and C = 40)`.
fn told_by_label(all: &[Piece], wanted: &[String]) -> Option<Term> {
    let mut labels: Vec<&str> = Vec::new();
    let mut told: Vec<(Vec<&str>, Term)> = Vec::new();
    for piece in all {
        match piece {
            Piece::Label(label) => labels.push(label),
            Piece::Amount(amount) if !labels.is_empty() => {
                told.push((std::mem::take(&mut labels), Term::new(amount)));
            }
            Piece::Amount(_) | Piece::Operator(_) | Piece::Colon => return None,
            Piece::Mark(Mark::Correction | Mark::Not | Mark::Or | Mark::Cross | Mark::But) => {
                return None;
            }
            Piece::Equals
            | Piece::Arrow
            | Piece::Break(_)
            | Piece::Mark(_)
            | Piece::Unknown(_)
            | Piece::Aside(_) => {}
        }
    }
    if told.len() < 2 || !labels.is_empty() {
        return None;
    }
    let mut own = told.into_iter().filter(|(labels, _)| {
        labels
            .iter()
            .any(|label| wanted.iter().any(|own| label.eq_ignore_ascii_case(own)))
    });
    let (_, term) = own.next()?;
    own.all(|(_, other)| other.is_like(&term)).then_some(term)
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
    unit: Option<Written>,
    places: Option<u8>,
    is_sum: bool,
    /// Another value that may be meant.
    other: Option<number::Value>,
    /// The part whose label stands with it.
    label: Option<String>,
}

/// Returns the numbers, sums worked out, and whether there was a sum.
fn terms(pieces: &[Piece]) -> (Vec<Term>, bool) {
    let mut terms = Vec::new();
    let mut unfinished = false;
    let mut sum: Option<Sum> = None;
    let mut operator = None;
    let mut label: Option<&str> = None;
    // Whether an amount stands right before, or with "and" between.
    let mut follows = false;
    for piece in pieces {
        match piece {
            Piece::Amount(amount) => {
                let mut term = Term::new(amount);
                let operator = operator.take();
                let is_joined = std::mem::replace(&mut follows, true);
                if let Some(sum) = sum.as_mut()
                    && operator.is_none()
                    && is_joined
                    && let Some(whole) = sum.last.with_smaller(&term)
                {
                    *sum = Sum::new(whole);
                    continue;
                }
                match (sum.as_mut(), operator) {
                    // "100 rpm / 100 turns a minute": the same said twice.
                    (Some(sum), Some(operator))
                        if operator != '/' || !sum.last.says_again(&term) =>
                    {
                        unfinished = true;
                        sum.push(operator, term);
                    }
                    (Some(_) | None, _) => {
                        terms.extend(sum.take().and_then(Sum::total));
                        term.label = label.take().map(str::to_owned);
                        sum = Some(Sum::new(term));
                    }
                }
                continue;
            }
            Piece::Operator(sign) => operator = Some(*sign),
            Piece::Label(name) => {
                label = Some(name);
                operator = None;
            }
            Piece::Break('(' | ')') => {}
            Piece::Mark(Mark::And) => {
                operator = None;
                continue;
            }
            Piece::Equals
            | Piece::Arrow
            | Piece::Colon
            | Piece::Break(_)
            | Piece::Mark(_)
            | Piece::Unknown(_)
            | Piece::Aside(_) => operator = None,
        }
        follows = false;
    }
    terms.extend(sum.and_then(Sum::total));
    label_from_behind(pieces, &mut terms);
    (terms, unfinished)
}

/// `9 for A, 3 for B`: where the first label stands behind the first number, labels
/// belong to what is before them.
fn label_from_behind(pieces: &[Piece], terms: &mut [Term]) {
    let is_label = |piece: &&Piece| matches!(piece, Piece::Label(_));
    let labels: Vec<&str> = pieces.iter().filter_map(Piece::label).collect();
    let first_is_amount = pieces
        .iter()
        .find(|piece| is_label(piece) || piece.amount().is_some())
        .is_some_and(|piece| piece.amount().is_some());
    if first_is_amount && labels.len() == terms.len() {
        for (term, label) in terms.iter_mut().zip(labels) {
            term.label = Some(label.to_owned());
        }
    }
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
            is_sum: true,
            other: None,
            label: self.last.label,
        })
    }
}

impl Term {
    fn new(amount: &piece::Amount) -> Self {
        let number = &amount.number;
        Self {
            value: number.value,
            unit: amount.unit.clone(),
            places: number.places,
            is_sum: false,
            other: number.other,
            label: None,
        }
    }

    /// The unit of ours that it is in, and how many of it one of what is written is.
    fn measure(&self) -> Option<Measure> {
        self.unit.as_ref().and_then(|unit| unit.means)
    }

    /// How many of this one's unit one of the other's is, where both convert.
    fn factor(&self, other: &Self) -> Option<number::Number> {
        let (one, two) = self.measure().zip(other.measure())?;
        unit::conversion(two.unit, one.unit)?
            .times(two.scale)
            .and_then(|factor| factor.divided_by(one.scale))
            .ok()
    }

    /// Whether it says the same as the other, each with a unit of its own.
    fn says_again(&self, other: &Self) -> bool {
        self.unit.is_some() && other.unit.is_some() && self.is_like(other)
    }

    /// `1 m 26 cm`: the two together, where the other goes on in a smaller unit.
    fn with_smaller(&self, other: &Self) -> Option<Self> {
        let factor = self.factor(other)?;
        let part = other.value.times(factor.into()).ok()?;
        let is_part = factor < number::Number::ONE
            && !part.factor.is_negative()
            && part.as_number()? < number::Number::ONE;
        if !is_part || !self.value.as_number()?.is_whole() {
            return None;
        }
        Some(Self {
            value: self.value.plus(part).ok()?,
            places: None,
            ..self.clone()
        })
    }

    /// Whether both say the same: the same value, in units that convert, or one a
    /// rounding of the other.
    fn is_like(&self, other: &Self) -> bool {
        let factor = match (&self.unit, &other.unit) {
            (Some(one), Some(two)) if one == two => Some(number::Number::ONE),
            (Some(_), Some(_)) => self.factor(other),
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
        // In two units: the one said first says it all.
        if self.unit.is_some() && other.unit.is_some() && self.unit != other.unit {
            return;
        }
        let unit = self.unit.clone().or_else(|| other.unit.clone());
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
        let candidate = |value: number::Value| Candidate {
            given: Given::Quantity {
                value,
                unit: self.unit.clone(),
                places: self.places,
            },
            sureness: reading::sureness(doubts),
            said: said(value, self.places, self.unit.as_ref()),
        };
        let mut candidates = vec![candidate(self.value)];
        // Nothing that is asked is below nought, so a minus is first of all a dash.
        if self.value.factor.is_negative() && dash_too {
            candidates.insert(0, candidate(self.value.negated()));
        }
        candidates.extend(self.other.filter(|_| dash_too).map(candidate));
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

/// Leaves only the number that belongs to the part asked about; or the only one in
/// the printed unit, where all others are in units of another kind.
fn with_wanted(
    different: Vec<Term>,
    wanted: Unit,
    labels: &[String],
    doubts: &mut Vec<String>,
) -> Vec<Term> {
    let is_of_part = |term: &&Term| {
        term.label
            .as_deref()
            .is_some_and(|label| labels.iter().any(|own| label.eq_ignore_ascii_case(own)))
    };
    let others_are_labelled = different
        .iter()
        .filter(|term| !is_of_part(term))
        .all(|term| term.label.is_some());
    if different.iter().filter(is_of_part).count() == 1 && others_are_labelled {
        return different
            .into_iter()
            .filter(|term| is_of_part(&term))
            .collect();
    }
    let fits = |term: &Term| {
        term.unit.is_none()
            || term
                .measure()
                .is_some_and(|means| unit::conversion(means.unit, wanted).is_some())
    };
    if different.iter().filter(|term| fits(term)).count() == 1 {
        let fitting: Vec<Term> = different.into_iter().filter(|term| fits(term)).collect();
        if fitting.iter().any(|term| term.unit.is_none()) {
            doubts.push("other numbers stand beside it".to_owned());
        }
        return fitting;
    }
    different
}

/// A number with its unit as people write it.
fn said(value: number::Value, places: Option<u8>, unit: Option<&Written>) -> String {
    let as_written = places
        .and(value.as_number())
        .and_then(number::Number::to_decimal);
    let text = as_written.unwrap_or_else(|| scheme::exact_text(value));
    let Some(unit) = unit else { return text };
    let words = unit
        .means
        .filter(|means| text == "1" && means.scale == number::Number::ONE)
        .map_or(unit.words.as_str(), |means| means.unit.text_for_one());
    format!("{text} {words}")
}
