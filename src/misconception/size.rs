//! Wrong sizes: diameters, tooth size, distance of axles.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::number;

/// Adds wrong answers to a question of size.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    found: &mut misconception::Found,
) {
    if let ask::Ask::CentreDistance(first, second) = ask {
        predict_distance(mechanism, *first, *second, found);
    } else if let ask::Ask::PitchDiameter(part) = ask {
        predict_diameter(mechanism, *part, "0", found);
    } else if let ask::Ask::TipDiameter(part) = ask {
        predict_diameter(mechanism, *part, "2", found);
    } else if let ask::Ask::RootDiameter(part) = ask {
        predict_diameter(mechanism, *part, "-2.5", found);
    } else if let ask::Ask::ToothSize(part) = ask {
        predict_tooth_size(mechanism, *part, found);
    }
}

type Length = Result<number::Number, number::NumberError>;

fn add(
    found: &mut misconception::Found,
    misconception: &'static misconception::Misconception,
    length: Length,
) {
    found.quantity(
        misconception,
        length.ok().map(number::Value::from),
        ask::Unit::Millimetres,
    );
}

fn two() -> number::Number {
    number::Number::whole(2)
}

/// The right one is tooth size × (sum, or for a ring difference, of teeth) ÷ 2.
fn predict_distance(
    mechanism: &mechanism::Mechanism,
    first: mechanism::PartId,
    second: mechanism::PartId,
    found: &mut misconception::Found,
) {
    let tooth_size = [first, second]
        .into_iter()
        .find_map(|id| path::part(mechanism, id)?.tooth_size_mm);
    let has_ring = path::is_ring(mechanism, first) || path::is_ring(mechanism, second);
    let sizes = path::size(mechanism, first).zip(path::size(mechanism, second));
    let (Some(tooth_size), Some((one, other))) = (tooth_size, sizes) else {
        return;
    };
    let sum = one.plus(other);
    let difference = one.minus(other).map(number::Number::magnitude);
    let (counted, mixed) = if has_ring {
        (difference, sum)
    } else {
        (sum, difference)
    };
    let whole = |count: Length| count.and_then(|count| count.times(tooth_size));
    let half = |length: Length| length.and_then(|length| length.divided_by(two()));
    add(found, &list::other::HALF_FORGOTTEN, whole(counted.clone()));
    add(
        found,
        &list::other::SUM_AND_DIFFERENCE_MIXED,
        half(whole(mixed)),
    );
    if tooth_size != number::Number::ONE {
        add(found, &list::other::TOOTH_SIZE_FORGOTTEN, half(counted));
    }
}

/// The right one is tooth size × (teeth + extra).
fn predict_diameter(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    extra: &str,
    found: &mut misconception::Found,
) {
    let tooth_size = path::part(mechanism, part).and_then(|part| part.tooth_size_mm);
    let (Some(tooth_size), Some(teeth), Ok(extra)) = (
        tooth_size,
        path::size(mechanism, part),
        extra.parse::<number::Number>(),
    ) else {
        return;
    };
    // The teeth of a ring stand inside: its tips lie further in.
    let extra = if path::is_ring(mechanism, part) {
        extra.negated()
    } else {
        extra
    };
    let pitch = tooth_size.times(teeth);
    let right = teeth.plus(extra).and_then(|teeth| teeth.times(tooth_size));
    add(
        found,
        &list::circles::RADIUS_FOR_DIAMETER,
        right.and_then(|right| right.divided_by(two())),
    );
    if extra.is_zero() {
        let tips = teeth.plus(two()).and_then(|teeth| teeth.times(tooth_size));
        add(found, &list::circles::OUTSIDE_DIAMETER, tips);
        add(
            found,
            &list::other::DIVIDES_BY_TOOTH_SIZE,
            teeth.divided_by(tooth_size),
        );
        return;
    }
    add(found, &list::other::PITCH_FOR_OTHER_DIAMETER, pitch.clone());
    add(
        found,
        &list::other::ONE_SIDE_ONLY,
        extra
            .divided_by(two())
            .and_then(|extra| teeth.plus(extra))
            .and_then(|teeth| teeth.times(tooth_size)),
    );
    if tooth_size != number::Number::ONE {
        add(
            found,
            &list::other::TEETH_AND_MILLIMETRES_MIXED,
            pitch.and_then(|pitch| pitch.plus(extra)),
        );
    }
}

/// Tooth size from two axles' distance: 2 × distance ÷ sum of teeth.
fn predict_tooth_size(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    found: &mut misconception::Found,
) {
    for given in &mechanism.givens {
        let mechanism::Given::Apart { first, second, mm } = given else {
            continue;
        };
        if *first != part && *second != part {
            continue;
        }
        let sizes = path::size(mechanism, *first).zip(path::size(mechanism, *second));
        let Some((one, other)) = sizes else { continue };
        let sum = one.plus(other);
        let double = mm.times(two());
        let own = if *first == part { one } else { other };
        add(
            found,
            &list::other::HALF_FORGOTTEN,
            sum.clone().and_then(|sum| mm.divided_by(sum)),
        );
        add(
            found,
            &list::other::ONE_GEAR_ONLY,
            double.clone().and_then(|double| double.divided_by(own)),
        );
        add(
            found,
            &list::trains::RATIO_UPSIDE_DOWN,
            sum.and_then(|sum| double.and_then(|double| sum.divided_by(double))),
        );
    }
}
