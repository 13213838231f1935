//! A pupil's working as a chain of calculations.
//!
//! Each line is read with the tokens and numbers of answers. `9 × 12 = 108 ÷ 36 = 3`
//! is two calculations, `9 × 12/36 = 108/36 = 3` says one value three times; which of
//! the two is meant is told by the numbers.

use crate::answer::Calculation;
use crate::answer::Expression;
use crate::answer::Operator;
use crate::answer::Typed;
use crate::answer::reading::phrase;
use crate::answer::reading::token;
use crate::answer::reading::unit_words;
use crate::answer::reading::vocabulary;
use crate::answer::reading::working::chain::Item;
use crate::answer::tidy;
use crate::number;

mod chain;

/// The most calculations that are read of one working.
const MOST: usize = 24;

/// Returns every calculation of a working, in the order written.
pub(in crate::answer) fn read(typed: &Typed) -> Vec<Calculation> {
    // Where a program made a time or date of it, the likeliest text is read.
    let text = typed
        .undone
        .first()
        .map_or(typed.text.as_str(), |undone| undone.text.as_str());
    let mut found = Vec::new();
    for line in text.split(['\n', '\r']) {
        let tidied = tidy::tidy(line);
        let tokens = token::tokens(&tidied.text);
        let mut reader = Reader {
            rest: &tokens,
            segments: vec![Vec::new()],
            verb: None,
            after_label: false,
            found,
        };
        while !reader.rest.is_empty() {
            reader.step();
        }
        reader.finish();
        found = reader.found;
    }
    found.truncate(MOST);
    found
}

struct Reader<'t> {
    rest: &'t [token::Token],
    /// What stands between the equals signs so far.
    segments: Vec<Vec<Item>>,
    /// `divide 36 by 12`: what the next `by` means.
    verb: Option<Operator>,
    /// Whether the letter of a part stands right before.
    after_label: bool,
    found: Vec<Calculation>,
}

impl Reader<'_> {
    fn step(&mut self) {
        if self.number() {
            return;
        }
        let Some((token, rest)) = self.rest.split_first() else {
            return;
        };
        self.rest = rest;
        let is_label = token.word().is_some_and(vocabulary::is_label);
        let after_label = std::mem::replace(&mut self.after_label, is_label);
        // "9 B: 1/3": what is said of B, and no division.
        if after_label && token.sign() == Some(':') {
            self.finish();
            return;
        }
        if self.is_unknown(token) {
            self.segment().push(Item::Unknown);
            return;
        }
        match &token.kind {
            token::Kind::Numeral(_) | token::Kind::Odd(_) => self.finish(),
            token::Kind::Sign(sign) => self.sign(*sign, token.glued),
            token::Kind::Word(word) => self.word(word),
        }
    }

    /// The segment being read.
    fn segment(&mut self) -> &mut Vec<Item> {
        if self.segments.is_empty() {
            self.segments.push(Vec::new());
        }
        self.segments.last_mut().expect("one was just made")
    }

    /// Whether an operator may stand here; at the beginning the result before it is
    /// taken up again: `24 × π = 75.4, × 5 = 377`.
    fn takes_operator(&mut self) -> bool {
        if self.after_number() {
            return true;
        }
        let is_beginning = self.segments.len() <= 1 && self.segment().is_empty();
        let Some(before) = self.found.last().and_then(|before| before.claimed) else {
            return false;
        };
        if is_beginning {
            let before = Expression::Number(before);
            self.segment().push(Item::Number(before, None));
        }
        is_beginning
    }

    fn after_number(&mut self) -> bool {
        matches!(
            self.segment().last(),
            Some(Item::Number(..) | Item::Close | Item::Unknown)
        )
    }

    /// Whether it stands for a number behind `=`: `12 × 9 = 36 × ?`, `12/36 = B/9`.
    fn is_unknown(&mut self, token: &token::Token) -> bool {
        let is_operator = |token: &token::Token| {
            token.sign().is_some_and(|sign| "×÷/".contains(sign)) || token.word() == Some("x")
        };
        let goes_on = self.rest.first().is_some_and(is_operator);
        let is_behind_equals = self.segments.len() > 1;
        may_be_unknown(token)
            && is_behind_equals
            && match self.segment().last() {
                Some(Item::Operator(Operator::Times | Operator::Over)) => !goes_on,
                None => goes_on,
                Some(_) => false,
            }
    }

    fn number(&mut self) -> bool {
        let first = self.rest.first();
        // "36 -12" takes away.
        if first.and_then(token::Token::sign) == Some('-') && self.after_number() {
            return false;
        }
        let is_pi = first.and_then(token::Token::word) == Some("pi");
        // "pi d" is a rule in letters.
        let letter = self.rest.get(1).and_then(token::Token::word);
        if is_pi && letter.is_some_and(vocabulary::is_label) {
            self.rest = self.rest.get(2..).unwrap_or_default();
            return true;
        }
        let item = if is_pi {
            self.rest = self.rest.get(1..).unwrap_or_default();
            Item::Number(Expression::Number(number::Value::PI), None)
        } else {
            let Some(phrase) = phrase::without_pi(&mut self.rest) else {
                return false;
            };
            Item::Number(expression(&phrase), phrase.places)
        };
        self.after_label = false;
        if unit_words::unit(&mut self.rest).is_none() {
            self.percent();
        }
        if self.after_number() {
            let item_is_pi = is_pi;
            let after_into = self.segment().contains(&Item::Into);
            if item_is_pi {
                // 80 pi
                self.segment().push(Item::Operator(Operator::Times));
            } else if after_into {
                // 12 goes into 36 3 times
                self.segments.push(Vec::new());
            } else {
                self.finish();
            }
        }
        self.segment().push(item);
        true
    }

    /// Passes over a percent sign by dividing.
    fn percent(&mut self) {
        if self.rest.first().and_then(token::Token::sign) != Some('%') {
            return;
        }
        self.rest = self.rest.get(1..).unwrap_or_default();
    }

    fn sign(&mut self, sign: char, glued: bool) {
        let next = self.rest.first().and_then(token::Token::sign);
        if matches!(sign, '-' | '=') && next == Some('>') {
            self.rest = self.rest.get(1..).unwrap_or_default();
            self.equals();
            return;
        }
        let operator = match sign {
            '+' => Some(Operator::Plus),
            '-' => Some(Operator::Minus),
            '×' => Some(Operator::Times),
            '/' | '÷' | ':' | '\\' => Some(Operator::Over),
            _ => None,
        };
        match (operator, sign) {
            // A dash at the beginning is more often a dash.
            (Some(operator), sign)
                if self.after_number()
                    || (!['-', ':'].contains(&sign) && self.takes_operator()) =>
            {
                self.segment().push(Item::Operator(operator));
            }
            (None, '=' | '→' | '~') => self.equals(),
            (None, '(' | '[') => {
                // "40 x 2 = 80 (40 + 80) / 2": the next calculation.
                if !glued && self.segments.len() > 1 && self.after_number() {
                    self.finish();
                }
                if self.after_number() {
                    self.segment().push(Item::Operator(Operator::Times));
                }
                self.segment().push(Item::Open);
            }
            (None, ')' | ']') => self.segment().push(Item::Close),
            (None, ',' | ';' | '.' | '!' | '?' | '&' | '|') => self.finish(),
            // "B: 9 × 12": behind a label it is no division.
            (Some(_) | None, _) => {}
        }
    }

    fn word(&mut self, word: &str) {
        let next = self.rest.first().and_then(token::Token::word);
        let follows = phrase::without_pi(&mut { self.rest }).is_some() || next == Some("pi");
        if let Some((operator, words)) = vocabulary::operator(word, next)
            && self.takes_operator()
        {
            self.rest = self.rest.get(words - 1..).unwrap_or_default();
            let operator = match operator {
                '+' => Operator::Plus,
                '-' => Operator::Minus,
                '×' => Operator::Times,
                _ => Operator::Over,
            };
            self.segment().push(Item::Operator(operator));
            return;
        }
        match word {
            "x" if follows && self.takes_operator() => {
                self.segment().push(Item::Operator(Operator::Times));
            }
            // "36 x B" behind "12 x 9 =".
            "x" if self.segments.len() > 1
                && self.after_number()
                && self.rest.first().is_some_and(may_be_unknown) =>
            {
                self.segment().push(Item::Operator(Operator::Times));
            }
            "times" | "of" | "timesed" | "multiply" if follows && self.after_number() => {
                self.segment().push(Item::Operator(Operator::Times));
            }
            "over" if follows && self.after_number() => {
                self.segment().push(Item::Operator(Operator::Over));
            }
            "by" if follows && self.after_number() => {
                let operator = self.verb.take().unwrap_or(Operator::Times);
                self.segment().push(Item::Operator(operator));
            }
            "divide" | "devide" | "dividing" | "share" | "split" if !self.after_number() => {
                self.verb = Some(Operator::Over);
            }
            "divide" | "devide" if follows => {
                self.segment().push(Item::Operator(Operator::Over));
            }
            "multiply" | "times" | "timesing" if !self.after_number() => {
                self.verb = Some(Operator::Times);
            }
            "into" if self.after_number() && follows => self.segment().push(Item::Into),
            "double" | "doubled" | "twice" if follows && !self.after_number() => {
                let two = Expression::Number(number::Number::whole(2).into());
                self.segment().push(Item::Number(two, Some(0)));
                self.segment().push(Item::Operator(Operator::Times));
            }
            "halve" if follows && !self.after_number() => {
                let half = number::Number::ONE.divided_by(number::Number::whole(2));
                if let Ok(half) = half {
                    let half = Expression::Number(half.into());
                    self.segment().push(Item::Number(half, None));
                    self.segment().push(Item::Operator(Operator::Times));
                }
            }
            word if vocabulary::says_equals(word) => self.equals(),
            "then" | "so" | "and" | "next" | "therefore" | "because" | "or" => self.finish(),
            _ => {}
        }
    }

    fn equals(&mut self) {
        if self.after_number() {
            self.segments.push(Vec::new());
        }
    }

    /// Ends a chain and keeps its calculations.
    fn finish(&mut self) {
        self.verb = None;
        let chain = std::mem::take(&mut self.segments);
        self.found.extend(chain::calculations(&chain));
    }
}

/// Whether it may stand for a number that is not known: `?`, `x`, the letter of a part.
fn may_be_unknown(token: &token::Token) -> bool {
    match &token.kind {
        token::Kind::Sign(sign) => "?_□☐".contains(*sign),
        token::Kind::Word(word) => word == "x" || vocabulary::is_label(word),
        token::Kind::Numeral(_) | token::Kind::Odd(_) => false,
    }
}

/// A number as written; a fraction in digits stays a division.
fn expression(phrase: &phrase::Phrase) -> Expression {
    match phrase.fraction {
        Some((top, bottom)) => Expression::combined(
            Expression::Number(top.into()),
            Operator::Over,
            Expression::Number(bottom.into()),
        ),
        None => Expression::Number(phrase.value),
    }
}

#[cfg(test)]
mod tests;
