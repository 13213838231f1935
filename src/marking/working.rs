//! Working, as far as it can be judged: calculations in it that are steps of the
//! right method.
//!
//! Only arithmetic is read. Working in words is left to a person.

use crate::answer;
use crate::gears::ask;
use crate::gears::step;
use crate::item;
use crate::number;

/// What working shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Shown {
    /// A step of the right method, as written.
    Method(String),
    /// Calculations, none of them a step of the right method.
    OtherCalculations,
    /// Nothing that could be read.
    Unread,
}

/// What working is judged by.
pub(super) struct Method<'a> {
    pub(super) item: &'a item::Item,
    /// The right answer, in the unit printed.
    pub(super) fact: &'a ask::Fact,
    pub(super) steps: &'a [step::Step],
}

/// Returns what working shows.
pub(super) fn shown(working: &str, method: &Method<'_>) -> Shown {
    let calculations = calculations(working);
    if calculations.is_empty() {
        return Shown::Unread;
    }
    let wanted = intermediates(method.steps);
    let is_step = |value: number::Value| wanted.contains(&value) || is_answer(value, method);
    match calculations
        .iter()
        .find(|calculation| is_step(calculation.value))
    {
        Some(calculation) => Shown::Method(calculation.text.clone()),
        None => Shown::OtherCalculations,
    }
}

/// Whether a value is the right answer, or that rounded as asked.
fn is_answer(value: number::Value, method: &Method<'_>) -> bool {
    let given = answer::Given::Quantity {
        value,
        unit: None,
        places: None,
    };
    match answer::compare(&given, method.fact, &method.item.form) {
        answer::Agreement::Equal | answer::Agreement::Rounded => true,
        answer::Agreement::ConvertedUnit
        | answer::Agreement::TooFewDigits
        | answer::Agreement::CutOff
        | answer::Agreement::PiTruncated
        | answer::Agreement::WrongUnit
        | answer::Agreement::WrongUnitAndDigits
        | answer::Agreement::Unsimplified
        | answer::Agreement::Reversed
        | answer::Agreement::ReversedUnsimplified
        | answer::Agreement::NotEqual => false,
    }
}

/// The values that a right working passes through, without what is given and
/// without ratios of one to one.
fn intermediates(steps: &[step::Step]) -> Vec<number::Value> {
    let mut values = Vec::new();
    for step in steps {
        match step {
            step::Step::Drive {
                from_size,
                to_size,
                after,
                ..
            } => {
                values.extend(from_size.divided_by(*to_size).ok());
                values.extend(to_size.divided_by(*from_size).ok());
                values.extend(after.map(|movement| movement.value));
            }
            step::Step::OverTime { turns, rpm, .. } => values.extend([*turns, *rpm]),
            step::Step::Travel {
                turns,
                diameter_mm,
                distance_mm,
                ..
            } => {
                values.push(*distance_mm);
                values.push(*turns);
                values.extend(number::Value::PI.times((*diameter_mm).into()).ok());
            }
            step::Step::ForceAcross {
                from_size,
                to_size,
                after,
                ..
            } => {
                values.extend(to_size.divided_by(*from_size).ok());
                values.extend(from_size.divided_by(*to_size).ok());
                values.push(*after);
            }
            step::Step::ForceTimesArm { newton_cm, .. } => {
                values.push(*newton_cm);
            }
            step::Step::MissingCount {
                partner_moves,
                part_moves,
                ..
            } => {
                values.extend(partner_moves.divided_by(*part_moves).ok());
                values.extend(part_moves.divided_by(*partner_moves).ok());
            }
            step::Step::CountFromSum { sum, .. } => values.push((*sum).into()),
            step::Step::Distance { teeth_sum, .. } => values.push((*teeth_sum).into()),
            step::Step::Diameter {
                tooth_size_mm,
                teeth,
                extra_tooth_sizes,
                ..
            } => {
                let teeth = number::Number::from(*teeth);
                values.extend(teeth.times(*tooth_size_mm).ok().map(number::Value::from));
                values.extend(teeth.plus(*extra_tooth_sizes).ok().map(number::Value::from));
            }
            step::Step::Stage { total, .. } => values.push((*total).into()),
            step::Step::CommonMultiple { common, .. } => {
                let common = i64::try_from(*common).ok().map(number::Number::whole);
                values.extend(common.map(number::Value::from));
            }
            step::Step::Start { .. }
            | step::Step::SameAxle { .. }
            | step::Step::Joined { .. }
            | step::Step::Planetary { .. }
            | step::Step::OnCarrier { .. }
            | step::Step::Simplify { .. }
            | step::Step::CountMeshes { .. }
            | step::Step::Loop { .. }
            | step::Step::ToothSizes { .. }
            | step::Step::WormHolds { .. }
            | step::Step::Chosen { .. }
            | step::Step::Compare { .. }
            | step::Step::Role { .. } => {}
        }
    }
    values.retain(|value| *value != number::Value::ONE && !value.factor.is_zero());
    values
}

/// One calculation with at least one sign of reckoning in it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Calculation {
    value: number::Value,
    text: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Operator {
    Plus,
    Minus,
    Times,
    Over,
}

impl Operator {
    fn sign(self) -> &'static str {
        match self {
            Self::Plus => "+",
            Self::Minus => "-",
            Self::Times => "×",
            Self::Over => "÷",
        }
    }
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Token {
    Number(number::Value, String),
    Operator(Operator),
    /// An equals sign, a comma, a word: here a calculation ends.
    End,
}

/// Every calculation of a text.
fn calculations(text: &str) -> Vec<Calculation> {
    let mut found = Vec::new();
    for run in tokens(text).split(|token| *token == Token::End) {
        found.extend(calculation(run));
    }
    found
}

/// A row of numbers with one operator between each two, multiplied out before it
/// is added up.
fn calculation(run: &[Token]) -> Option<Calculation> {
    // What stands before the next number; `None` right after a number.
    let mut operator = Some(Operator::Plus);
    let mut terms: Vec<(Operator, number::Value)> = Vec::new();
    let mut text: Vec<&str> = Vec::new();
    for token in run {
        match (token, operator) {
            (Token::Number(value, written), Some(before)) => {
                terms.push((before, *value));
                text.push(written);
                operator = None;
            }
            (Token::Operator(next), None) => {
                text.push(next.sign());
                operator = Some(*next);
            }
            (Token::Number(..), None) | (Token::Operator(_), Some(_)) | (Token::End, _) => {
                return None;
            }
        }
    }
    if operator.is_some() || terms.len() < 2 {
        return None;
    }
    let (mut sum, mut product) = (number::Value::ZERO, number::Value::ZERO);
    for (before, value) in terms {
        match before {
            Operator::Plus | Operator::Minus => {
                sum = sum.plus(product).ok()?;
                product = if before == Operator::Minus {
                    value.negated()
                } else {
                    value
                };
            }
            Operator::Times => product = product.times(value).ok()?,
            Operator::Over => product = product.divided_by(value).ok()?,
        }
    }
    Some(Calculation {
        value: sum.plus(product).ok()?,
        text: text.join(" "),
    })
}

/// Words that may stand behind a number without ending a calculation.
const UNITS: &[&str] = &[
    "turn", "turns", "teeth", "tooth", "rpm", "mm", "cm", "m", "n", "minute", "minutes", "min",
];

fn tokens(text: &str) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        if sign.is_whitespace() {
            continue;
        }
        if sign.is_ascii_digit() {
            let mut written = String::from(sign);
            while let Some(next) =
                signs.next_if(|next| next.is_ascii_digit() || matches!(next, '.' | ','))
            {
                written.push(next);
            }
            let ends_run = written.ends_with([',', '.']);
            let digits = written.trim_end_matches([',', '.']).replace(',', "");
            match digits.parse::<number::Number>() {
                Ok(number) => tokens.push(Token::Number(number.into(), digits)),
                Err(_) => tokens.push(Token::End),
            }
            if ends_run {
                tokens.push(Token::End);
            }
        } else if sign.is_alphabetic() {
            let mut word = String::from(sign);
            while let Some(next) = signs.next_if(|next| next.is_alphabetic()) {
                word.push(next);
            }
            tokens.extend(word_token(&word.to_lowercase()));
        } else {
            tokens.push(match sign {
                '+' => Token::Operator(Operator::Plus),
                '-' | '−' | '–' => Token::Operator(Operator::Minus),
                '*' | '×' | '·' => Token::Operator(Operator::Times),
                '/' | '÷' | ':' => Token::Operator(Operator::Over),
                _ => Token::End,
            });
        }
    }
    tokens
}

fn word_token(word: &str) -> Option<Token> {
    match word {
        "x" | "times" => Some(Token::Operator(Operator::Times)),
        "pi" | "π" => Some(Token::Number(number::Value::PI, "pi".to_owned())),
        "plus" => Some(Token::Operator(Operator::Plus)),
        "minus" => Some(Token::Operator(Operator::Minus)),
        "over" => Some(Token::Operator(Operator::Over)),
        unit if UNITS.contains(&unit) => None,
        _ => Some(Token::End),
    }
}
