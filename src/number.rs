//! Exact numbers: checked fractions, pi as a factor, named rounding.
//!
//! Takes and gives plain values. Not here: units, what a pupil typed, anything
//! that knows of gears.

use fraction::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub, GenericFraction};
use std::cmp::Ordering;
use std::fmt;

mod narrow;
mod writing;

/// Why a calculation gave no number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NumberError {
    /// The exact result does not fit.
    Overflow,
    /// Something was divided by nought.
    DivisionByZero,
    /// Two values with different powers of pi were added or subtracted.
    MixedPi,
    /// The text is no number.
    NotANumber {
        /// What was found.
        found: String,
    },
}

impl fmt::Display for NumberError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Overflow => formatter.write_str("the numbers grow too large to hold exactly"),
            Self::DivisionByZero => formatter.write_str("something is divided by nought"),
            Self::MixedPi => {
                formatter.write_str("a length with pi and one without cannot be added")
            }
            Self::NotANumber { found } => write!(formatter, "found \"{found}\", wanted a number"),
        }
    }
}

impl std::error::Error for NumberError {}

/// An exact fraction, always finite and in lowest terms.
///
/// The sign lives apart from the unsigned parts, so that no sum can hide a sign
/// in a numerator. Nought has no sign and is over one, so that equal is equal.
///
/// Packed, because solving a mechanism copies numbers more than it calculates with
/// them: without it every amount with its pi and unit would be twice as long.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
#[repr(Rust, packed)]
pub struct Number {
    numerator: u128,
    denominator: u128,
    is_negative: bool,
}

/// What numbers are calculated in where 64 bits are not enough.
type Wide = GenericFraction<u128>;

impl Number {
    /// Nought.
    pub const ZERO: Self = Self::natural(0);
    /// One.
    pub const ONE: Self = Self::natural(1);

    const fn natural(value: u128) -> Self {
        Self {
            numerator: value,
            denominator: 1,
            is_negative: false,
        }
    }

    /// Returns a whole number.
    #[must_use]
    pub fn whole(value: i64) -> Self {
        Self {
            is_negative: value < 0,
            ..Self::natural(value.unsigned_abs().into())
        }
    }

    /// Returns `numerator / denominator` in lowest terms.
    ///
    /// # Errors
    ///
    /// [`NumberError::DivisionByZero`] when the denominator is nought.
    pub fn ratio(numerator: i64, denominator: i64) -> Result<Self, NumberError> {
        Self::whole(numerator).divided_by(Self::whole(denominator))
    }

    /// Returns the sum.
    ///
    /// # Errors
    ///
    /// [`NumberError::Overflow`] when it does not fit.
    pub fn plus(self, other: Self) -> Result<Self, NumberError> {
        Self::finite(Wide::checked_add(&self.to_wide(), &other.to_wide()))
    }

    /// Returns the difference.
    ///
    /// # Errors
    ///
    /// [`NumberError::Overflow`] when it does not fit.
    pub fn minus(self, other: Self) -> Result<Self, NumberError> {
        Self::finite(Wide::checked_sub(&self.to_wide(), &other.to_wide()))
    }

    /// Returns the product.
    ///
    /// # Errors
    ///
    /// [`NumberError::Overflow`] when it does not fit.
    pub fn times(self, other: Self) -> Result<Self, NumberError> {
        match narrow::product(self, other) {
            Some(product) => Ok(product),
            None => Self::finite(Wide::checked_mul(&self.to_wide(), &other.to_wide())),
        }
    }

    /// Returns the quotient.
    ///
    /// # Errors
    ///
    /// [`NumberError::DivisionByZero`], or [`NumberError::Overflow`] when it does
    /// not fit.
    pub fn divided_by(self, other: Self) -> Result<Self, NumberError> {
        if other.is_zero() {
            return Err(NumberError::DivisionByZero);
        }
        match narrow::quotient(self, other) {
            Some(quotient) => Ok(quotient),
            None => Self::finite(Wide::checked_div(&self.to_wide(), &other.to_wide())),
        }
    }

    /// The same number to calculate with.
    fn to_wide(self) -> Wide {
        let size = Wide::new_raw(self.numerator, self.denominator);
        if self.is_negative { -size } else { size }
    }

    /// The number that was calculated; infinity and not-a-number never get past here.
    fn finite(result: Option<Wide>) -> Result<Self, NumberError> {
        match result {
            Some(GenericFraction::Rational(_, parts)) if *parts.numer() == 0 => Ok(Self::ZERO),
            Some(GenericFraction::Rational(sign, parts)) => Ok(Self {
                numerator: *parts.numer(),
                denominator: *parts.denom(),
                is_negative: sign == fraction::Sign::Minus,
            }),
            Some(GenericFraction::Infinity(_) | GenericFraction::NaN) | None => {
                Err(NumberError::Overflow)
            }
        }
    }

    /// Returns the number with its sign turned round.
    #[must_use]
    pub fn negated(self) -> Self {
        Self {
            is_negative: !self.is_negative && !self.is_zero(),
            ..self
        }
    }

    /// Returns the number without its sign.
    #[must_use]
    pub fn magnitude(self) -> Self {
        Self {
            is_negative: false,
            ..self
        }
    }

    /// Whether it is nought.
    #[must_use]
    pub fn is_zero(self) -> bool {
        self.numerator == 0
    }

    /// Whether it is below nought.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.is_negative
    }

    /// Whether it is above nought.
    #[must_use]
    pub fn is_positive(self) -> bool {
        !self.is_zero() && !self.is_negative
    }

    /// Whether it is a whole number.
    #[must_use]
    pub fn is_whole(self) -> bool {
        self.denominator == 1
    }

    /// The numerator in lowest terms, without the sign.
    #[must_use]
    pub fn numerator(self) -> u128 {
        self.numerator
    }

    /// The denominator in lowest terms.
    #[must_use]
    pub fn denominator(self) -> u128 {
        self.denominator
    }

    /// The whole number it is, if it is one that fits.
    #[must_use]
    pub fn as_whole(self) -> Option<i64> {
        if !self.is_whole() {
            return None;
        }
        let size = i64::try_from(self.numerator()).ok()?;
        Some(if self.is_negative() { -size } else { size })
    }

    /// The largest whole number not above it.
    #[must_use]
    pub fn floor(self) -> Self {
        let whole = self.numerator() / self.denominator();
        let size = Self::natural(whole);
        if !self.is_negative() {
            size
        } else if self.is_whole() {
            self
        } else {
            size.plus(Self::ONE).map_or(self, Self::negated)
        }
    }

    /// A floating point value near it, for page lengths and statistics only.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        let sign = if self.is_negative() { -1.0 } else { 1.0 };
        sign * lossy(self.numerator()) / lossy(self.denominator())
    }

    /// Returns the decimal writing if it ends, such as `2.5`; else `None`.
    #[must_use]
    pub fn to_decimal(self) -> Option<String> {
        let mut rest = self.denominator();
        let mut places = 0_usize;
        while rest.is_multiple_of(10) {
            rest /= 10;
            places += 1;
        }
        let (mut twos, mut fives) = (0_usize, 0_usize);
        while rest.is_multiple_of(2) {
            rest /= 2;
            twos += 1;
        }
        while rest.is_multiple_of(5) {
            rest /= 5;
            fives += 1;
        }
        if rest != 1 {
            return None;
        }
        let places = places + twos.max(fives);
        let scale = 10_u128.checked_pow(u32::try_from(places).ok()?)?;
        let digits = self.numerator().checked_mul(scale / self.denominator())?;
        Some(decimal_text(self.is_negative(), digits, places))
    }
}

/// Writes `digits` with the point before the last `places` of them.
fn decimal_text(negative: bool, digits: u128, places: usize) -> String {
    let sign = if negative { "-" } else { "" };
    if places == 0 {
        return format!("{sign}{digits}");
    }
    let padded = format!("{digits:0>width$}", width = places + 1);
    let (whole, part) = padded.split_at(padded.len() - places);
    format!("{sign}{whole}.{part}")
}

#[expect(
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "only for page lengths and statistics, never for a mark"
)]
fn lossy(value: u128) -> f64 {
    value as f64
}

impl From<u32> for Number {
    fn from(value: u32) -> Self {
        Self::natural(value.into())
    }
}

impl Ord for Number {
    /// Compares without multiplying, so that no size of number can overflow:
    /// whole parts first, then the remainders turned upside down.
    fn cmp(&self, other: &Self) -> Ordering {
        match (self.is_negative(), other.is_negative()) {
            (true, false) => return Ordering::Less,
            (false, true) => return Ordering::Greater,
            (true, true) => return other.magnitude().cmp(&self.magnitude()),
            (false, false) => {}
        }
        let (mut a, mut b) = (self.numerator(), self.denominator());
        let (mut c, mut d) = (other.numerator(), other.denominator());
        let mut turned = false;
        loop {
            let order = (a / b).cmp(&(c / d));
            let (rest_a, rest_c) = (a % b, c % d);
            let order = if order != Ordering::Equal {
                order
            } else if rest_a == 0 || rest_c == 0 {
                rest_a.cmp(&rest_c)
            } else {
                (a, b, c, d) = (b, rest_a, d, rest_c);
                turned = !turned;
                continue;
            };
            return if turned { order.reverse() } else { order };
        }
    }
}

impl PartialOrd for Number {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// An exact fraction times a whole power of pi.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Value {
    /// The fraction.
    pub factor: Number,
    /// The power of pi that multiplies it; nought for a plain fraction.
    pub pi_power: i8,
}

/// Pi lies strictly between these two fractions, less than 1e-19 apart.
///
/// Source: first 20 decimals of pi, OEIS A000796 (from memory, checked in a test
/// against Archimedes' bounds and `f64`).
const PI_BELOW: &str = "3.14159265358979323846";
const PI_ABOVE: &str = "3.14159265358979323847";

impl Value {
    /// Nought.
    pub const ZERO: Self = Self {
        factor: Number::ZERO,
        pi_power: 0,
    };
    /// One.
    pub const ONE: Self = Self {
        factor: Number::ONE,
        pi_power: 0,
    };
    /// Pi itself.
    pub const PI: Self = Self {
        factor: Number::ONE,
        pi_power: 1,
    };

    /// Returns the product.
    ///
    /// # Errors
    ///
    /// [`NumberError::Overflow`] when it does not fit.
    pub fn times(self, other: Self) -> Result<Self, NumberError> {
        let power = self
            .pi_power
            .checked_add(other.pi_power)
            .ok_or(NumberError::Overflow)?;
        Ok(Self::of(self.factor.times(other.factor)?, power))
    }

    /// Returns the quotient.
    ///
    /// # Errors
    ///
    /// [`NumberError::DivisionByZero`], or [`NumberError::Overflow`].
    pub fn divided_by(self, other: Self) -> Result<Self, NumberError> {
        let power = self
            .pi_power
            .checked_sub(other.pi_power)
            .ok_or(NumberError::Overflow)?;
        Ok(Self::of(self.factor.divided_by(other.factor)?, power))
    }

    /// Returns the sum of two values with the same power of pi.
    ///
    /// # Errors
    ///
    /// [`NumberError::MixedPi`] when the powers differ, or [`NumberError::Overflow`].
    pub fn plus(self, other: Self) -> Result<Self, NumberError> {
        let power = self.shared_power(other)?;
        Ok(Self::of(self.factor.plus(other.factor)?, power))
    }

    /// Returns the difference of two values with the same power of pi.
    ///
    /// # Errors
    ///
    /// [`NumberError::MixedPi`] when the powers differ, or [`NumberError::Overflow`].
    pub fn minus(self, other: Self) -> Result<Self, NumberError> {
        self.plus(other.negated())
    }

    fn shared_power(self, other: Self) -> Result<i8, NumberError> {
        if self.factor.is_zero() {
            Ok(other.pi_power)
        } else if other.factor.is_zero() || self.pi_power == other.pi_power {
            Ok(self.pi_power)
        } else {
            Err(NumberError::MixedPi)
        }
    }

    fn of(factor: Number, pi_power: i8) -> Self {
        // Nought has one writing only, so that equality means equal.
        let pi_power = if factor.is_zero() { 0 } else { pi_power };
        Self { factor, pi_power }
    }

    /// Returns the value with its sign turned round.
    #[must_use]
    pub fn negated(self) -> Self {
        Self::of(self.factor.negated(), self.pi_power)
    }

    /// Returns the value without its sign.
    #[must_use]
    pub fn magnitude(self) -> Self {
        Self::of(self.factor.magnitude(), self.pi_power)
    }

    /// The plain fraction, if no pi is in it.
    #[must_use]
    pub fn as_number(self) -> Option<Number> {
        (self.pi_power == 0).then_some(self.factor)
    }

    /// A floating point value near it, for page lengths and statistics only.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        self.factor.to_f64() * std::f64::consts::PI.powi(i32::from(self.pi_power))
    }

    /// Two fractions that the exact value lies between (equal without pi).
    fn bounds(self) -> Result<(Number, Number), NumberError> {
        let below: Number = PI_BELOW.parse()?;
        let above: Number = PI_ABOVE.parse()?;
        let (mut low, mut high) = (self.factor, self.factor);
        for _ in 0..self.pi_power.unsigned_abs() {
            (low, high) = if self.pi_power > 0 {
                (low.times(below)?, high.times(above)?)
            } else {
                (low.divided_by(above)?, high.divided_by(below)?)
            };
        }
        Ok(if low <= high {
            (low, high)
        } else {
            (high, low)
        })
    }

    /// Returns how this compares with another value, also across powers of pi.
    ///
    /// # Errors
    ///
    /// [`NumberError::Overflow`] when the numbers are too large, or too close to
    /// each other, to tell.
    pub fn compare(self, other: Self) -> Result<Ordering, NumberError> {
        if self.pi_power == other.pi_power {
            return Ok(self.factor.cmp(&other.factor));
        }
        let ((low, high), (other_low, other_high)) = (self.bounds()?, other.bounds()?);
        if high < other_low {
            Ok(Ordering::Less)
        } else if low > other_high {
            Ok(Ordering::Greater)
        } else {
            Err(NumberError::Overflow)
        }
    }
}

impl From<Number> for Value {
    fn from(factor: Number) -> Self {
        Self {
            factor,
            pi_power: 0,
        }
    }
}

/// How exactly an answer is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Precision {
    /// Exactly, no rounding.
    Exact,
    /// Rounded half up to so many decimal places (0: nearest whole number).
    Places(u8),
    /// Rounded half up to so many significant figures (1 or more).
    Figures(u8),
}

/// Returns the value rounded half up (halves go away from nought).
///
/// With [`Precision::Exact`] a value without pi comes back as it is.
///
/// # Errors
///
/// [`NumberError::Overflow`] when the numbers do not fit, or when a value with
/// pi is wanted exactly or lies too near a half to tell.
pub fn round_half_up(value: Value, precision: Precision) -> Result<Number, NumberError> {
    if precision == Precision::Exact {
        return value.as_number().ok_or(NumberError::Overflow);
    }
    let (low, high) = value.bounds()?;
    let rounded = round_number(low, precision)?;
    if low != high && rounded != round_number(high, precision)? {
        return Err(NumberError::Overflow);
    }
    Ok(rounded)
}

fn round_number(number: Number, precision: Precision) -> Result<Number, NumberError> {
    let step = step(number, precision)?;
    let half = Number::ONE.divided_by(Number::whole(2))?;
    let size = number
        .magnitude()
        .divided_by(step)?
        .plus(half)?
        .floor()
        .times(step)?;
    Ok(if number.is_negative() {
        size.negated()
    } else {
        size
    })
}

/// The worth of the last place kept.
fn step(number: Number, precision: Precision) -> Result<Number, NumberError> {
    let ten = Number::whole(10);
    let mut step = Number::ONE;
    match precision {
        Precision::Exact => {}
        Precision::Places(places) => {
            for _ in 0..places {
                step = step.divided_by(ten)?;
            }
        }
        Precision::Figures(figures) => {
            let size = number.magnitude();
            if size.is_zero() {
                return Ok(step);
            }
            while step.times(ten)? <= size {
                step = step.times(ten)?;
            }
            while step > size {
                step = step.divided_by(ten)?;
            }
            for _ in 1..figures {
                step = step.divided_by(ten)?;
            }
        }
    }
    Ok(step)
}

/// Returns a rounded number as text with the places the precision asks for,
/// such as `2.50` for two places; exact fractions that end are decimals.
#[must_use]
pub fn rounded_text(rounded: Number, precision: Precision) -> String {
    let plain = rounded.to_decimal().unwrap_or_else(|| rounded.to_string());
    match precision {
        Precision::Exact | Precision::Figures(_) | Precision::Places(0) => plain,
        Precision::Places(places) => {
            let wanted = usize::from(places);
            let (whole, part) = plain.split_once('.').unwrap_or((&plain, ""));
            format!("{whole}.{part:0<wanted$}")
        }
    }
}

#[cfg(test)]
mod tests;
