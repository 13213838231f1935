//! Products of fractions in 64 bits, which nearly all numbers fit into: a processor divides
//! these several times faster.
//!
//! Written here because it is most of what solving a mechanism takes: of whole numbers and
//! of teeth over teeth nearly every common divisor is seen to be 1 at once, which the
//! library looks for each time.

use fraction::GenericFraction;
use fraction::Integer;

/// A fraction in 64 bits, in lowest terms.
pub(super) type Narrow = GenericFraction<u64>;

/// Returns the product in lowest terms, where it fits.
///
/// Source: what divides one's top and the other's bottom is all that can be cancelled
/// (Knuth, The Art of Computer Programming, volume 2, section 4.5.1, from memory).
pub(super) fn product(one: &Narrow, other: &Narrow) -> Option<Narrow> {
    let (top, other_bottom) = cancelled(*one.numer()?, *other.denom()?);
    let (other_top, bottom) = cancelled(*other.numer()?, *one.denom()?);
    let size = Narrow::new_raw(
        top.checked_mul(other_top)?,
        bottom.checked_mul(other_bottom)?,
    );
    let is_negative = one.is_sign_negative() != other.is_sign_negative();
    Some(if is_negative { -size } else { size })
}

/// Returns the quotient in lowest terms, where it fits; `other` is not nought.
pub(super) fn quotient(one: &Narrow, other: &Narrow) -> Option<Narrow> {
    product(one, &other.recip())
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
