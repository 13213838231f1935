//! A chain of calculations: what stands between its equals signs, and what is reckoned.

use crate::answer::Calculation;
use crate::answer::Expression;
use crate::answer::Operator;
use crate::number;
use std::cmp::Ordering;

/// One thing of a calculation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Item {
    Number(Expression, Option<u8>),
    Operator(Operator),
    /// `a goes into b`: b divided by a.
    Into,
    /// What an equation leaves open: `?`, or the letter of a part.
    Unknown,
    Open,
    Close,
}

/// Returns the calculations of a chain, told by what stands between its equals signs.
pub(super) fn calculations(written: &[Vec<Item>]) -> Vec<Calculation> {
    if written.iter().any(|items| items.contains(&Item::Unknown)) {
        return equation(written).into_iter().collect();
    }
    let segments: Vec<Segment> = written
        .iter()
        .filter_map(|items| Segment::of(items))
        .collect();
    if let [left, right] = segments.as_slice() {
        // "3 = 36 ÷ 12": the result stands first.
        if left.is_number() && !right.is_number() {
            return vec![right.calculation(Some(left))];
        }
        if let Some(balanced) = balanced(left, right) {
            return vec![balanced];
        }
    }
    let nexts = segments.iter().skip(1).map(Some).chain([None]);
    segments
        .iter()
        .zip(nexts)
        .filter(|(segment, _)| !segment.is_number())
        .map(|(segment, next)| {
            let claimed = next.map(|next| next.as_claim_of(segment));
            segment.calculation(claimed.as_ref())
        })
        .collect()
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
