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
use crate::answer::scheme;
use crate::answer::tidy;
use crate::number;
use std::cmp::Ordering;

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

/// One thing of a calculation.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Item {
    Number(Expression, Option<u8>),
    Operator(Operator),
    /// `a goes into b`: b divided by a.
    Into,
    /// What an equation leaves open: `?`, or the letter of a part.
    Unknown,
    Open,
    Close,
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
        let written = std::mem::take(&mut self.segments);
        if written.iter().any(|items| items.contains(&Item::Unknown)) {
            self.found.extend(equation(&written));
            return;
        }
        let segments: Vec<Segment> = written
            .iter()
            .filter_map(|items| Segment::of(items))
            .collect();
        if let [left, right] = segments.as_slice()
            && let Some(balanced) = balanced(left, right)
        {
            self.found.push(balanced);
            return;
        }
        for (index, segment) in segments.iter().enumerate() {
            let next = segments.get(index + 1);
            if segment.is_number() {
                // "3 = 36 ÷ 12": the result stands first.
                if let (0, Some(next), true) = (index, next, segments.len() == 2)
                    && !next.is_number()
                {
                    self.found.push(next.calculation(Some(segment)));
                    return;
                }
                continue;
            }
            let claimed = next.map(|next| next.as_claim_of(segment));
            self.found.push(segment.calculation(claimed.as_ref()));
        }
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

/// What stands between two equals signs, in order.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Segment {
    expression: Expression,
    /// Decimal places of the first number.
    places: Option<u8>,
}

impl Segment {
    /// Returns the longest calculation at the front of the items.
    fn of(items: &[Item]) -> Option<Self> {
        let mut rest = items;
        // A sign without its number at the end is left off: "108 ÷".
        while let Some((Item::Operator(_) | Item::Into | Item::Open, before)) = rest.split_last() {
            rest = before;
        }
        let places = rest.iter().find_map(|item| match item {
            Item::Number(_, places) => Some(*places),
            Item::Operator(_) | Item::Into | Item::Unknown | Item::Open | Item::Close => None,
        })?;
        let mut parser = Parser { rest };
        let expression = repeated(rest).or_else(|| parser.sum())?;
        Some(Self { expression, places })
    }

    fn new(expression: Expression) -> Self {
        Self {
            expression,
            places: None,
        }
    }

    /// The two numbers of which it is the product.
    fn product(&self) -> Option<(&Expression, &Expression)> {
        match &self.expression {
            Expression::Combined {
                first,
                operator: Operator::Times,
                second,
            } if first.is_number() && second.is_number() => Some((first, second)),
            Expression::Combined { .. } | Expression::Number(_) => None,
        }
    }

    fn is_number(&self) -> bool {
        self.expression.is_number()
    }

    /// The number that this segment says the one before comes to: itself, the same
    /// value written another way, or its first number, with which it goes on.
    fn as_claim_of(&self, before: &Self) -> Self {
        let first = Self {
            expression: Expression::Number(self.expression.first()),
            places: self.places,
        };
        if self.is_number() {
            return first;
        }
        let (Some(was), Some(is)) = (before.expression.value(), self.expression.value()) else {
            return first;
        };
        if is_nearer(was, is, first.expression.first()) {
            Self {
                expression: Expression::Number(is),
                places: None,
            }
        } else {
            first
        }
    }

    fn calculation(&self, claimed: Option<&Self>) -> Calculation {
        let text = self.expression.text();
        Calculation {
            expression: self.expression.clone(),
            claimed: claimed.map(|claimed| claimed.expression.first()),
            claimed_places: claimed.and_then(|claimed| claimed.places),
            text: match claimed {
                Some(claimed) => format!("{text} = {}", claimed.expression.text()),
                None => text,
            },
        }
    }
}

/// `12 × 9 = 36 × ?`: what is left open is the one side divided by the number on the other.
/// Of any other equation it is not told what was done.
fn equation(written: &[Vec<Item>]) -> Option<Calculation> {
    let [left, right] = written else {
        return None;
    };
    let ([
        number @ Item::Number(..),
        Item::Operator(Operator::Times),
        Item::Unknown,
    ]
    | [
        Item::Unknown,
        Item::Operator(Operator::Times),
        number @ Item::Number(..),
    ]) = right.as_slice()
    else {
        return None;
    };
    let (left, number) = (
        Segment::of(left)?,
        Segment::of(std::slice::from_ref(number))?,
    );
    let divided = Expression::combined(left.expression, Operator::Over, number.expression);
    Some(Segment::new(divided).calculation(None))
}

/// `12 × 9 = 36 × 3`, teeth times turns on either side: the second is the first divided by
/// 36, and comes to 3. In `12 × 3 = 36 × 9` it goes on with what the first comes to.
fn balanced(left: &Segment, right: &Segment) -> Option<Calculation> {
    left.product()?;
    let (first, second) = right.product()?;
    let is_whole = is_nearer(
        left.expression.value()?,
        right.expression.value()?,
        first.value()?,
    );
    is_whole.then(|| {
        let left = left.expression.clone();
        let divided = Expression::combined(left, Operator::Over, first.clone());
        Segment::new(divided).calculation(Some(&Segment::new(second.clone())))
    })
}

/// Whether `one` lies nearer to a value than `other` does.
fn is_nearer(value: number::Value, one: number::Value, other: number::Value) -> bool {
    let distance = |to: number::Value| value.minus(to).ok().map(number::Value::magnitude);
    match (distance(one), distance(other)) {
        (Some(one), Some(other)) => one
            .compare(other)
            .is_ok_and(|order| order == Ordering::Less),
        (Some(_), None) => true,
        (None, _) => false,
    }
}

/// `7 + 7 + 7`: three times seven.
fn repeated(items: &[Item]) -> Option<Expression> {
    let (first, rest) = items.split_first()?;
    let Item::Number(number @ Expression::Number(_), _) = first else {
        return None;
    };
    let is_more = rest.chunks(2).all(|pair| {
        matches!(pair, [Item::Operator(Operator::Plus), Item::Number(other, _)] if other == number)
    });
    let count = i64::try_from(rest.len() / 2 + 1).ok()?;
    (is_more && count >= 3).then(|| {
        let count = Expression::Number(number::Number::whole(count).into());
        Expression::combined(count, Operator::Times, number.clone())
    })
}

/// Products before sums, from left to right.
struct Parser<'i> {
    rest: &'i [Item],
}

impl Parser<'_> {
    fn sum(&mut self) -> Option<Expression> {
        let mut sum = self.product()?;
        while let Some((Item::Operator(operator @ (Operator::Plus | Operator::Minus)), rest)) =
            self.rest.split_first()
        {
            self.rest = rest;
            sum = Expression::combined(sum, *operator, self.product()?);
        }
        Some(sum)
    }

    fn product(&mut self) -> Option<Expression> {
        let mut product = self.single()?;
        while let Some((item, rest)) = self.rest.split_first() {
            match item {
                Item::Operator(operator @ (Operator::Times | Operator::Over)) => {
                    self.rest = rest;
                    product = Expression::combined(product, *operator, self.single()?);
                }
                Item::Into => {
                    self.rest = rest;
                    product = Expression::combined(self.single()?, Operator::Over, product);
                }
                Item::Operator(Operator::Plus | Operator::Minus)
                | Item::Number(..)
                | Item::Unknown
                | Item::Open
                | Item::Close => break,
            }
        }
        Some(product)
    }

    fn single(&mut self) -> Option<Expression> {
        let (item, rest) = self.rest.split_first()?;
        self.rest = rest;
        match item {
            Item::Number(expression, _) => Some(expression.clone()),
            Item::Open => {
                let inside = self.sum()?;
                if let Some((Item::Close, rest)) = self.rest.split_first() {
                    self.rest = rest;
                }
                Some(inside)
            }
            Item::Operator(_) | Item::Into | Item::Unknown | Item::Close => None,
        }
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

impl Operator {
    /// The sign as printed.
    fn sign(self) -> &'static str {
        match self {
            Self::Plus => "+",
            Self::Minus => "-",
            Self::Times => "×",
            Self::Over => "÷",
        }
    }
}

impl Expression {
    fn combined(first: Self, operator: Operator, second: Self) -> Self {
        Self::Combined {
            first: Box::new(first),
            operator,
            second: Box::new(second),
        }
    }

    fn is_number(&self) -> bool {
        match self {
            Self::Number(_) => true,
            Self::Combined { .. } => false,
        }
    }

    /// The first number written.
    fn first(&self) -> number::Value {
        match self {
            Self::Number(value) => *value,
            Self::Combined { first, .. } => first.first(),
        }
    }

    /// Returns what it comes to; `None` where it is divided by nought or grows too large.
    #[must_use]
    pub fn value(&self) -> Option<number::Value> {
        match self {
            Self::Number(value) => Some(*value),
            Self::Combined {
                first,
                operator,
                second,
            } => operator.apply(first.value()?, second.value()?),
        }
    }

    /// Returns it as written: `9 × 12`, `(3 + 4) × 2`.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Number(value) => scheme::exact_text(*value),
            Self::Combined {
                first,
                operator,
                second,
            } => {
                let is_product = matches!(operator, Operator::Times | Operator::Over);
                let side = |side: &Self, is_second: bool| {
                    let text = side.text();
                    let needs_brackets = match side {
                        Self::Number(_) => false,
                        Self::Combined { operator, .. } => match operator {
                            Operator::Plus | Operator::Minus => is_product || is_second,
                            Operator::Times | Operator::Over => is_product && is_second,
                        },
                    };
                    if needs_brackets {
                        format!("({text})")
                    } else {
                        text
                    }
                };
                format!(
                    "{} {} {}",
                    side(first, false),
                    operator.sign(),
                    side(second, true)
                )
            }
        }
    }
}

impl Operator {
    /// Returns what it makes of two values; `None` where that gives no number.
    #[must_use]
    pub fn apply(self, first: number::Value, second: number::Value) -> Option<number::Value> {
        match self {
            Self::Plus => first.plus(second),
            Self::Minus => first.minus(second),
            Self::Times => first.times(second),
            Self::Over => first.divided_by(second),
        }
        .ok()
    }
}

#[cfg(test)]
mod tests;
