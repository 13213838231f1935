//! What a calculation comes to, and how it is written.

use crate::answer::Expression;
use crate::answer::Operator;
use crate::answer::scheme;
use crate::number;

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

impl Expression {
    /// Two with a sign between them.
    pub(super) fn combined(first: Self, operator: Operator, second: Self) -> Self {
        Self::Combined {
            first: Box::new(first),
            operator,
            second: Box::new(second),
        }
    }

    /// Whether it is a number alone.
    pub(super) fn is_number(&self) -> bool {
        match self {
            Self::Number(_) => true,
            Self::Combined { .. } => false,
        }
    }

    /// The first number written.
    pub(super) fn first(&self) -> number::Value {
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
