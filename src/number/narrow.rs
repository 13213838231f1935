//! Products of fractions in 64 bits, which nearly all numbers fit into: a processor divides
//! these several times faster.
//!
//! Written here because it is most of what solving a mechanism takes: of whole numbers and
//! of teeth over teeth nearly every common divisor is seen to be 1 at once, which the
//! library looks for each time.

use crate::number::Number;
use fraction::Integer;

/// The top and the bottom of a fraction in lowest terms.
type Parts = [u64; 2];

/// Returns the product, where both numbers have 64 bits.
pub(super) fn product(one: Number, other: Number) -> Option<Number> {
    let is_negative = one.is_negative != other.is_negative;
    Some(multiplied(parts(one)?, parts(other)?, is_negative))
}

/// Returns the quotient, where both numbers have 64 bits; `other` is not nought.
pub(super) fn quotient(one: Number, other: Number) -> Option<Number> {
    let is_negative = one.is_negative != other.is_negative;
    let [top, bottom] = parts(other)?;
    Some(multiplied(parts(one)?, [bottom, top], is_negative))
}

fn parts(number: Number) -> Option<Parts> {
    Some([
        u64::try_from(number.numerator).ok()?,
        u64::try_from(number.denominator).ok()?,
    ])
}

/// Returns the product in lowest terms; two of 64 bits always fit into 128.
///
/// Source: what divides one's top and the other's bottom is all that can be cancelled
/// (Knuth, The Art of Computer Programming, volume 2, section 4.5.1, from memory).
fn multiplied(
    [one_top, one_bottom]: Parts,
    [other_top, other_bottom]: Parts,
    is_negative: bool,
) -> Number {
    let (one_top, other_bottom) = cancelled(one_top, other_bottom);
    let (other_top, one_bottom) = cancelled(other_top, one_bottom);
    let numerator = u128::from(one_top) * u128::from(other_top);
    Number {
        numerator,
        denominator: u128::from(one_bottom) * u128::from(other_bottom),
        is_negative: is_negative && numerator != 0,
    }
}

fn cancelled(one: u64, other: u64) -> (u64, u64) {
    if one == 1 || other == 1 {
        return (one, other);
    }
    let common = one.gcd(&other);
    if common == 1 {
        return (one, other);
    }
    (one / common, other / common)
}
