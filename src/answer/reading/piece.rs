//! Tokens as what they mean in an answer: amounts with units, signs between
//! them, and the few words that turn the meaning.

use crate::answer::Written;
use crate::answer::reading::number_words;
use crate::answer::reading::phrase;
use crate::answer::reading::token;
use crate::answer::reading::unit_words;
use crate::answer::reading::vocabulary;
use crate::number;
use std::collections::BTreeSet;

/// One piece of meaning.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Piece {
    /// A number with its unit.
    Amount(Box<Amount>),
    /// `=`, or `≈` after an amount.
    Equals,
    /// `→`, `->`
    Arrow,
    /// `:`, `to`, `is to`: the sign of a ratio.
    Colon,
    /// `+ - × ÷` between amounts.
    Operator(char),
    /// A comma, bracket or full stop.
    Break(char),
    /// A word that turns the meaning.
    Mark(vocabulary::Mark),
    /// A part's label.
    Label(String),
    /// What is not understood, where it may change the meaning: right behind a number,
    /// or nearly a number itself.
    Unknown(String),
    /// What is not understood elsewhere.
    Aside(String),
}

/// A number with its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Amount {
    /// The number.
    pub(super) number: phrase::Phrase,
    /// The unit written.
    pub(super) unit: Option<Written>,
}

impl Piece {
    /// The amount it is, if it is one.
    pub(super) fn amount(&self) -> Option<&Amount> {
        match self {
            Self::Amount(amount) => Some(amount),
            Self::Equals
            | Self::Arrow
            | Self::Colon
            | Self::Operator(_)
            | Self::Break(_)
            | Self::Mark(_)
            | Self::Label(_)
            | Self::Unknown(_)
            | Self::Aside(_) => None,
        }
    }

    /// Whether it is a letter that looks like a digit: `l` for 1.
    pub(super) fn looks_like_a_digit(&self) -> bool {
        self.label()
            .is_some_and(|label| ["l", "i", "o"].contains(&label))
    }

    /// The label it is, if it is one.
    pub(super) fn label(&self) -> Option<&str> {
        let Self::Label(label) = self else {
            return None;
        };
        Some(label)
    }
}

/// Whether there is an amount among the pieces.
pub(super) fn has_amount(pieces: &[Piece]) -> bool {
    pieces.iter().any(|piece| piece.amount().is_some())
}

/// Returns the pieces of meaning; words without one are left out.
pub(super) fn pieces(tokens: &[token::Token]) -> Vec<Piece> {
    let mut reader = Reader {
        rest: tokens,
        before: None,
        found: Vec::new(),
        open_unit: None,
        waiting_unit: None,
    };
    while !reader.rest.is_empty() {
        reader.step();
    }
    reader.found
}

struct Reader<'t> {
    rest: &'t [token::Token],
    /// The word just passed over.
    before: Option<String>,
    found: Vec<Piece>,
    /// The amount that may still get its unit: `3 full clockwise turns`.
    open_unit: Option<usize>,
    /// A unit written before its number: `rpm: 20`.
    waiting_unit: Option<Written>,
}

impl Reader<'_> {
    fn step(&mut self) {
        if self.number() || self.unit() {
            return;
        }
        let Some((token, rest)) = self.rest.split_first() else {
            return;
        };
        self.rest = rest;
        match &token.kind {
            token::Kind::Numeral(numeral) => self.push(Piece::Unknown(numeral.text.clone())),
            token::Kind::Odd(text) => self.push(Piece::Unknown(text.clone())),
            token::Kind::Sign(sign) => self.sign(*sign),
            token::Kind::Word(word) => self.word(word),
        }
    }

    fn push(&mut self, piece: Piece) {
        self.open_unit = None;
        self.found.push(piece);
    }

    fn after_amount(&self) -> bool {
        self.found
            .iter()
            .rev()
            .find(|piece| !matches!(piece, Piece::Break('(' | ')')))
            .is_some_and(|piece| piece.amount().is_some())
    }

    /// Whether a part of one has just been written: `1/3 of 9`.
    fn after_share(&self) -> bool {
        let amount = self.found.last().and_then(Piece::amount);
        let value = amount.and_then(|amount| amount.number.value.as_number());
        value.is_some_and(|value| value.is_positive() && value < number::Number::ONE)
    }

    /// Whether a sum has just been written.
    fn after_sum(&self) -> bool {
        self.after_amount()
            && self
                .found
                .iter()
                .rev()
                .take_while(|piece| !matches!(piece, Piece::Equals | Piece::Break(',' | ';' | '.')))
                .any(is_sum)
    }

    fn number_follows(&self) -> bool {
        let mut ahead = self.rest;
        while let Some((token, rest)) = ahead.split_first()
            && token.sign() == Some('(')
        {
            ahead = rest;
        }
        phrase::number(&mut ahead).is_some()
    }

    fn number(&mut self) -> bool {
        let first = self.rest.first();
        // "36 - 12" takes away; and in "the big one" no number is meant.
        if first.and_then(token::Token::sign) == Some('-') && self.after_amount() {
            return false;
        }
        if first.and_then(token::Token::word) == Some("one")
            && self
                .before
                .as_deref()
                .is_some_and(vocabulary::makes_one_a_pronoun)
        {
            return false;
        }
        // "twice as many" compares, and "36 one" names a gear.
        if self.compares() {
            return true;
        }
        if first.and_then(token::Token::word) == Some("one")
            && matches!(self.found.last(), Some(Piece::Amount(_)))
        {
            return false;
        }
        let Some(mut number) = phrase::number(&mut self.rest) else {
            return false;
        };
        if self.is_rounding_note() || self.is_pi_used(&number) {
            return true;
        }
        self.before = None;
        let unit = self
            .rate()
            .or_else(|| unit_words::behind_article(&mut self.rest))
            .or_else(|| unit_words::unit(&mut self.rest));
        if unit.is_some() {
            // "2 turns and a half"
            phrase::add_part(&mut number, &mut self.rest);
        }
        let is_complete = unit.is_some();
        let unit = unit.or_else(|| self.waiting_unit.take());
        self.waiting_unit = None;
        self.found
            .push(Piece::Amount(Box::new(Amount { number, unit })));
        self.open_unit = (!is_complete).then(|| self.found.len() - 1);
        true
    }

    /// Passes over `twice as many`: no number of anything.
    fn compares(&mut self) -> bool {
        let word = |index: usize| self.rest.get(index).and_then(token::Token::word);
        let is_often = |index: usize| word(index).is_some_and(vocabulary::is_how_often);
        let is_half = word(0) == Some("half");
        if !(is_often(0) || is_half) || word(1) != Some("as") {
            return false;
        }
        self.rest = self.rest.get(2..).unwrap_or_default();
        self.push(Piece::Mark(vocabulary::Mark::Compared));
        true
    }

    /// Passes over `1 dp`, `2 decimal places`, `nearest 10`: how it was rounded.
    fn is_rounding_note(&mut self) -> bool {
        if self.before.as_deref() == Some("nearest") {
            return true;
        }
        let notes = self
            .rest
            .iter()
            .take_while(|token| token.word().is_some_and(vocabulary::is_rounding_note))
            .count();
        self.rest = self.rest.get(notes..).unwrap_or_default();
        notes > 0
    }

    /// Passes over `(using 3.14)`, `using pi`: what was taken for pi.
    fn is_pi_used(&self, number: &phrase::Phrase) -> bool {
        let is_used = matches!(self.before.as_deref(), Some("using" | "used"));
        let digits = number.digits.as_deref().unwrap_or_default();
        let is_pi =
            number.value == number::Value::PI || ["3.14", "3.142", "3.1416"].contains(&digits);
        is_used && self.after_amount() && is_pi
    }

    /// `/min` right behind a number.
    fn rate(&mut self) -> Option<Written> {
        let (stroke, rest) = self.rest.split_first()?;
        let (word, rest) = rest.split_first()?;
        if stroke.sign() != Some('/') {
            return None;
        }
        let unit = match word.word()? {
            "min" | "minute" | "m" | "mins" => "per minute",
            "s" | "sec" | "second" => "per second",
            _ => return None,
        };
        self.rest = rest;
        unit_words::named(unit)
    }

    fn unit(&mut self) -> bool {
        let mut ahead = self.rest;
        let Some(unit) = unit_words::unit(&mut ahead) else {
            return false;
        };
        if let Some(amount) = self.open_unit.and_then(|index| self.found.get_mut(index)) {
            if let Piece::Amount(amount) = amount {
                amount.unit = Some(unit);
            }
            self.open_unit = None;
        } else {
            let word = self.rest.first().and_then(token::Token::word);
            // One letter is more often a label, and "turns" a verb.
            if word.is_some_and(|word| word.chars().count() < 2)
                || (self.after_amount() && word.is_some_and(vocabulary::is_known))
            {
                return false;
            }
            if !unit_words::is_turns(&unit) {
                self.waiting_unit = Some(unit);
            }
        }
        self.rest = ahead;
        self.before = None;
        true
    }

    fn sign(&mut self, sign: char) {
        let next = self.rest.first().and_then(token::Token::sign);
        self.before = None;
        match sign {
            '-' | '=' if next == Some('>') => {
                self.rest = self.rest.get(1..).unwrap_or_default();
                self.push(Piece::Arrow);
            }
            '-' if next == Some('-') || next == Some('>') => {}
            '=' => self.push(Piece::Equals),
            '~' if self.after_amount() => self.push(Piece::Equals),
            '→' => self.push(Piece::Arrow),
            ':' | '|' => self.push(Piece::Colon),
            '+' | '-' | '×' | '÷' | '/' if self.after_amount() && self.number_follows() => {
                self.push(Piece::Operator(sign));
            }
            // "÷ 3", "A + 24", "A × 3": what is done with something that is no number here.
            '÷' if self.number_follows() => self.push(Piece::Mark(vocabulary::Mark::Doubt)),
            '/' if self.found.is_empty() && self.number_follows() => {
                self.push(Piece::Mark(vocabulary::Mark::Doubt));
            }
            '+' | '×'
                if matches!(self.found.last(), Some(Piece::Label(_))) && self.number_follows() =>
            {
                self.push(Piece::Mark(vocabulary::Mark::Doubt));
            }
            '×' if self.after_amount() && self.compares_next() => {
                self.push(Piece::Mark(vocabulary::Mark::Doubt));
            }
            ',' | ';' | '.' | '(' | ')' | '[' | ']' | '&' | '/' => self.push(Piece::Break(sign)),
            '✗' => self.push(Piece::Mark(vocabulary::Mark::Cross)),
            '<' | '>' => self.push(Piece::Mark(vocabulary::Mark::Doubt)),
            sign if sign.is_alphanumeric() || "£$€^√".contains(sign) => {
                self.push(Piece::Unknown(sign.to_string()));
            }
            // Question marks, quotes, ticks and smileys add nothing.
            _ => {}
        }
    }

    fn word(&mut self, word: &str) {
        let is_behind_number = self.before.is_none() && self.after_amount();
        self.before = Some(word.to_owned());
        if word == "x" && !(self.after_amount() && self.compares_next()) {
            if self.after_amount() && self.number_follows() {
                self.push(Piece::Operator('×'));
            } else if self.number_follows() && matches!(self.found.last(), Some(Piece::Label(_))) {
                self.push(Piece::Mark(vocabulary::Mark::Doubt));
            } else if !self.after_amount() && !self.number_follows() {
                self.push(Piece::Label(word.to_owned()));
            }
            return;
        }
        // 12t: twelve teeth.
        if word == "t" && matches!(self.found.last(), Some(Piece::Amount(_))) {
            return;
        }
        if word == "r" && self.after_amount() && self.number_follows() {
            self.push(Piece::Mark(vocabulary::Mark::Remainder));
            return;
        }
        if word == "times" && self.after_amount() && self.number_follows() {
            self.push(Piece::Operator('×'));
            return;
        }
        if word == "of" && self.after_share() && self.number_follows() {
            self.push(Piece::Operator('×'));
            return;
        }
        // "double 3" is no 3, and neither is "just over 3".
        let is_changed = vocabulary::changes_the_next(word)
            || (vocabulary::goes_beyond(word) && !self.after_amount());
        if is_changed && self.number_follows() {
            self.push(Piece::Mark(vocabulary::Mark::Doubt));
            return;
        }
        if let Some((operator, words)) = vocabulary::operator(word, self.next_word())
            && self.after_amount()
        {
            self.rest = self.rest.get(words - 1..).unwrap_or_default();
            self.push(Piece::Operator(operator));
            return;
        }
        if vocabulary::says_equals(word) && self.after_sum() {
            self.push(Piece::Equals);
            return;
        }
        if self.next_word() == Some("to") && vocabulary::says_simplified(word) {
            self.rest = self.rest.get(1..).unwrap_or_default();
            self.push(Piece::Equals);
            return;
        }
        if let Some((mark, words)) = vocabulary::mark(word, self.next_word()) {
            self.rest = self.rest.get(words - 1..).unwrap_or_default();
            self.push(Piece::Mark(mark));
            return;
        }
        if word == "to" && has_amount(&self.found) && self.number_follows() {
            self.push(Piece::Colon);
        } else if vocabulary::is_label(word) {
            self.push(Piece::Label(word.to_owned()));
            // "l3" may be 13.
            let is_glued = self.rest.first().is_some_and(|next| next.glued);
            if word == "l" && is_glued && self.number_follows() {
                self.push(Piece::Unknown(word.to_owned()));
            }
        } else if number_words::fraction_bottom(word).is_some() && word.ends_with('s') {
            // Thirds of what? Nothing before it was read as a number.
            self.found.push(Piece::Unknown(word.to_owned()));
        } else if !vocabulary::is_known(word) {
            let piece = if is_behind_number || number_words::is_nearly_one(word) {
                Piece::Unknown
            } else {
                Piece::Aside
            };
            self.found.push(piece(word.to_owned()));
        }
    }

    /// Whether "3 times" is said of more or less: `faster`, `as many`.
    fn compares_next(&self) -> bool {
        vocabulary::mark("times", self.next_word()).is_some()
    }

    fn next_word(&self) -> Option<&str> {
        self.rest.first().and_then(token::Token::word)
    }
}

/// Whether something is worked out here: an operator, or a fraction in digits.
pub(super) fn is_sum(piece: &Piece) -> bool {
    match piece {
        Piece::Operator(_) => true,
        Piece::Amount(amount) => amount.number.fraction.is_some(),
        Piece::Equals
        | Piece::Arrow
        | Piece::Colon
        | Piece::Break(_)
        | Piece::Mark(_)
        | Piece::Label(_)
        | Piece::Unknown(_)
        | Piece::Aside(_) => false,
    }
}

/// Returns the words and signs not understood, each once.
pub(super) fn unknown(pieces: &[Piece]) -> BTreeSet<&str> {
    pieces
        .iter()
        .filter_map(|piece| match piece {
            Piece::Unknown(word) => Some(word.as_str()),
            Piece::Aside(_)
            | Piece::Amount(_)
            | Piece::Equals
            | Piece::Arrow
            | Piece::Colon
            | Piece::Operator(_)
            | Piece::Break(_)
            | Piece::Mark(_)
            | Piece::Label(_) => None,
        })
        .collect()
}
