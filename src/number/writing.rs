//! Exact numbers as text, for records and banks, and back.

use crate::number::Number;
use crate::number::NumberError;
use crate::number::Value;
use std::fmt;
use std::str::FromStr;

impl fmt::Display for Number {
    /// Writes `5`, `-5/2`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.is_negative() { "-" } else { "" };
        if self.is_whole() {
            write!(formatter, "{sign}{}", self.numerator())
        } else {
            write!(
                formatter,
                "{sign}{}/{}",
                self.numerator(),
                self.denominator()
            )
        }
    }
}

impl fmt::Debug for Number {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{self}")
    }
}

impl FromStr for Number {
    type Err = NumberError;

    /// Reads `5`, `-2.50`, `5/2`: the exact writings of records and banks, not
    /// the many of pupils.
    fn from_str(text: &str) -> Result<Self, NumberError> {
        let wrong = || NumberError::NotANumber {
            found: text.to_owned(),
        };
        let (negative, rest) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let digits = |part: &str| -> Result<u128, NumberError> {
            if part.is_empty() || !part.bytes().all(|byte| byte.is_ascii_digit()) {
                return Err(wrong());
            }
            part.parse().map_err(|_| NumberError::Overflow)
        };
        let magnitude = if let Some((top, bottom)) = rest.split_once('/') {
            let bottom = Self::natural(digits(bottom)?);
            Self::natural(digits(top)?).divided_by(bottom)?
        } else if let Some((whole, part)) = rest.split_once('.') {
            let places = u32::try_from(part.len()).map_err(|_| NumberError::Overflow)?;
            let scale = 10_u128.checked_pow(places).ok_or(NumberError::Overflow)?;
            let scale = Self::natural(scale);
            let part = Self::natural(digits(part)?).divided_by(scale)?;
            Self::natural(digits(whole)?).plus(part)?
        } else {
            Self::natural(digits(rest)?)
        };
        Ok(if negative {
            magnitude.negated()
        } else {
            magnitude
        })
    }
}

impl serde::Serialize for Number {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Number {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

impl fmt::Display for Value {
    /// Writes `5/2`, `30 pi`, `3/4 pi^2`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.pi_power {
            0 => write!(formatter, "{}", self.factor),
            1 => write!(formatter, "{} pi", self.factor),
            power => write!(formatter, "{} pi^{power}", self.factor),
        }
    }
}
