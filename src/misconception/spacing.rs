//! Wrong answers about two axles and how far apart they are.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::number;

/// Two gears that mesh, one perhaps a ring round the other.
struct Pair {
    /// The teeth of the one asked about, where they are known.
    asked: Option<number::Number>,
    other: Option<number::Number>,
    ring: Ring,
    tooth_size: Option<number::Number>,
}

/// Which of two gears is a ring round the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ring {
    /// None: they stand side by side.
    Neither,
    /// The one asked about.
    Asked,
    /// The other one.
    Other,
}

impl Pair {
    fn of(
        mechanism: &mechanism::Mechanism,
        asked: mechanism::PartId,
        other: mechanism::PartId,
    ) -> Self {
        let ring = if path::is_ring(mechanism, asked) {
            Ring::Asked
        } else if path::is_ring(mechanism, other) {
            Ring::Other
        } else {
            Ring::Neither
        };
        Self {
            asked: path::size(mechanism, asked),
            other: path::size(mechanism, other),
            ring,
            tooth_size: [asked, other]
                .into_iter()
                .find_map(|id| path::part(mechanism, id)?.tooth_size_mm),
        }
    }

    /// The teeth added, and one count of teeth taken from the other: the first
    /// counts for two gears side by side, the second for one inside the other.
    fn sum_and_difference(&self) -> Option<(number::Number, number::Number)> {
        let (asked, other) = self.asked.zip(self.other)?;
        let difference = asked.minus(other).ok()?.magnitude();
        Some((asked.plus(other).ok()?, difference))
    }

    /// What counts, and what someone who mixes the two up takes instead.
    fn counted_and_mixed(&self) -> Option<(number::Number, number::Number)> {
        let (sum, difference) = self.sum_and_difference()?;
        match self.ring {
            Ring::Neither => Some((sum, difference)),
            Ring::Asked | Ring::Other => Some((difference, sum)),
        }
    }
}

fn millimetres(length: number::Number) -> ask::Fact {
    ask::Fact::Quantity {
        value: length.into(),
        unit: ask::Unit::Millimetres,
    }
}

/// Adds wrong distances of two axles: the right one is tooth size × teeth counted ÷ 2.
pub(super) fn predict_distance(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let pair = Pair::of(mechanism, first, second);
    let (Some(tooth_size), Some((counted, mixed))) = (pair.tooth_size, pair.counted_and_mixed())
    else {
        return;
    };
    let mut add = |misconception, length: Option<number::Number>| {
        if let Some(length) = length {
            found.add(misconception, millimetres(length));
        }
    };
    let half = |length: number::Number| length.divided_by(number::Number::whole(2)).ok();
    let whole = counted.times(tooth_size).ok();
    add(&list::other::HALF_FORGOTTEN, whole);
    let mixed = mixed.times(tooth_size).ok().and_then(half);
    add(&list::other::SUM_AND_DIFFERENCE_MIXED, mixed);
    if tooth_size != number::Number::ONE {
        add(&list::other::TOOTH_SIZE_FORGOTTEN, half(counted));
    }
}

/// The distances given between a part's axle and another, with the other part.
fn distances(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
) -> impl Iterator<Item = (mechanism::PartId, number::Number)> + use<'_> {
    mechanism.givens.iter().filter_map(move |given| {
        let mechanism::Given::Apart { first, second, mm } = given else {
            return None;
        };
        if *first == part {
            Some((*second, *mm))
        } else if *second == part {
            Some((*first, *mm))
        } else {
            None
        }
    })
}

/// Adds wrong tooth sizes: the right one is 2 × distance ÷ teeth counted.
pub(super) fn predict_tooth_size(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    found: &mut misconception::Found,
) {
    for (other, mm) in distances(mechanism, part) {
        let pair = Pair::of(mechanism, part, other);
        let Some((counted, mixed)) = pair.counted_and_mixed() else {
            continue;
        };
        let mut add = |misconception, above: number::Number, below: number::Number| {
            if let Ok(length) = above.divided_by(below) {
                found.add(misconception, millimetres(length));
            }
        };
        let Ok(double) = mm.times(number::Number::whole(2)) else {
            continue;
        };
        add(&list::other::HALF_FORGOTTEN, mm, counted);
        if let Some(own) = pair.asked {
            add(&list::other::ONE_GEAR_ONLY, double, own);
        }
        add(&list::trains::RATIO_UPSIDE_DOWN, counted, double);
        if pair.ring != Ring::Neither {
            add(&list::other::SUM_AND_DIFFERENCE_MIXED, double, mixed);
        }
    }
}

/// Adds wrong counts of a missing gear: the right one comes from 2 × distance ÷ tooth
/// size, which is the sum of the teeth or, inside a ring, their difference.
pub(super) fn predict_count(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    unit: ask::Unit,
    found: &mut misconception::Found,
) {
    for (other, mm) in distances(mechanism, asked) {
        let pair = Pair::of(mechanism, asked, other);
        let (Some(tooth_size), Some(known)) = (pair.tooth_size, pair.other) else {
            continue;
        };
        let count = |together: number::Number, ring| match ring {
            Ring::Neither => together.minus(known).ok(),
            Ring::Asked => known.plus(together).ok(),
            Ring::Other => known.minus(together).ok(),
        };
        let mut add = |misconception, count: Option<number::Number>| {
            found.quantity(misconception, count.map(number::Value::from), unit);
        };
        let Ok(double) = mm.times(number::Number::whole(2)) else {
            continue;
        };
        let (Ok(half), Ok(together)) = (mm.divided_by(tooth_size), double.divided_by(tooth_size))
        else {
            continue;
        };
        add(&list::other::HALF_FORGOTTEN, count(half, pair.ring));
        if tooth_size != number::Number::ONE {
            add(&list::other::TOOTH_SIZE_FORGOTTEN, count(double, pair.ring));
        }
        match pair.ring {
            Ring::Neither => add(&list::other::PARTNER_NOT_TAKEN_OFF, Some(together)),
            Ring::Asked | Ring::Other => add(
                &list::other::SUM_AND_DIFFERENCE_MIXED,
                count(together, Ring::Neither),
            ),
        }
    }
}
