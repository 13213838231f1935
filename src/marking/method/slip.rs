//! Calculations that come to something else than is written behind them.

use crate::answer;
use crate::marking::method::trace::Done;
use crate::number;
use std::cmp::Ordering;

/// The slips in the calculations that the last one done rests on. Where there is none,
/// but the chain ends in the pupil's answer, a result that was rounded is what led it
/// off.
pub(super) fn slips(
    chain: &[answer::Calculation],
    done: &[Done],
    given: Option<number::Value>,
) -> Vec<String> {
    let mut counts: Vec<usize> = vec![done.len() - 1];
    let mut next = 0;
    while let Some(index) = counts.get(next).copied() {
        next += 1;
        for earlier in done.get(index).map_or(&[][..], |done| &done.uses) {
            if !counts.contains(earlier) {
                counts.push(*earlier);
            }
        }
    }
    counts.sort_unstable();
    let steps: Vec<&answer::Calculation> = counts
        .into_iter()
        .filter_map(|index| chain.get(index))
        .collect();
    let found: Vec<String> = steps.iter().filter_map(|step| slip(step)).collect();
    let ends_in_given = steps
        .last()
        .is_some_and(|last| last.claimed.is_some() && last.claimed == given);
    if !found.is_empty() || !ends_in_given {
        return found;
    }
    steps
        .iter()
        .find(|step| step.claimed.is_some() && step.claimed != step.expression.value())
        .and_then(|step| said_wrong(step))
        .into_iter()
        .collect()
}

/// What is wrong with the result of one calculation: `108 ÷ 36 is 3, not 4`.
pub(super) fn slip(calculation: &answer::Calculation) -> Option<String> {
    let claimed = calculation.claimed?;
    let right = calculation.expression.value()?;
    if is_result(claimed, calculation.claimed_places, right) {
        return None;
    }
    said_wrong(calculation)
}

fn said_wrong(calculation: &answer::Calculation) -> Option<String> {
    let (claimed, right) = (calculation.claimed?, calculation.expression.value()?);
    let right = match right.as_number() {
        Some(_) => answer::number_text(right),
        // Beside a decimal, a multiple of pi is told as one.
        None => number::round_half_up(right, number::Precision::Places(2)).map_or_else(
            |_| answer::number_text(right),
            |near| format!("about {}", answer::number_text(near.into())),
        ),
    };
    Some(format!(
        "{} is {right}, not {}",
        calculation.expression.text(),
        answer::number_text(claimed)
    ))
}

/// Whether a number is a result, or that rounded or cut off as far as it is written.
fn is_result(claimed: number::Value, places: Option<u8>, right: number::Value) -> bool {
    if claimed == right {
        return true;
    }
    let Some(step) = places
        .and_then(|places| 10_i64.checked_pow(u32::from(places)))
        .and_then(|tens| number::Number::ratio(1, tens).ok())
    else {
        return false;
    };
    // A whole number for one that is not: only where it is within a twentieth.
    let twentieth = number::Number::ratio(1, 20).expect("twenty is not nought");
    let allowed = if places == Some(0) {
        right
            .magnitude()
            .times(twentieth.into())
            .unwrap_or(number::Value::ZERO)
    } else {
        step.into()
    };
    // Rounding leaves something off; between whole numbers there is nothing to leave.
    let is_whole = right.as_number().is_some_and(number::Number::is_whole);
    if is_whole {
        return false;
    }
    let is_less =
        |one: number::Value, other: number::Value| one.compare(other) == Ok(Ordering::Less);
    let (Ok(low), Ok(high)) = (claimed.minus(allowed), claimed.plus(allowed)) else {
        return false;
    };
    is_less(low, right) && is_less(right, high)
}
