//! Steps that find a count, a size or a ratio.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::step;
use crate::number;
use crate::wording::numbers;
use crate::wording::parts;

/// Teeth or starts from a partner's and both movements.
pub(super) fn missing_count(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::MissingCount {
        part,
        partner_count,
        partner_moves,
        part_moves,
        found,
        ..
    } = step
    else {
        return String::new();
    };
    let unit = match mechanism.parts.get(usize::from(part.0)) {
        Some(part) if parts::kind(&part.kind) == "worm" => ask::Unit::Starts,
        Some(_) | None => ask::Unit::Teeth,
    };
    format!(
        "{}: {partner_count} × {} ÷ {} = {}.",
        parts::capital_name(mechanism, *part),
        numbers::value(*partner_moves),
        numbers::value(*part_moves),
        numbers::amount(*found, unit)
    )
}

/// Teeth from the sum of two counts, or from the difference to a ring gear.
pub(super) fn count_from_sum(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::CountFromSum {
        part,
        partner_count,
        sum,
        found,
        ..
    } = step
    else {
        return String::new();
    };
    let name = parts::capital_name(mechanism, *part);
    let sum_text = numbers::plain(*sum);
    let found_text = numbers::amount((*found).into(), ask::Unit::Teeth);
    let count = number::Number::from(*partner_count);
    let calculation = if sum.minus(count) == Ok(*found) {
        format!("{sum_text} - {partner_count}")
    } else if sum.plus(count) == Ok(*found) {
        format!("{partner_count} + {sum_text}")
    } else {
        format!("{partner_count} - {sum_text}")
    };
    format!("{name}: {calculation} = {found_text}.")
}

/// A diameter from tooth size and teeth, or one of these from the diameter.
pub(super) fn diameter(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::Diameter {
        part,
        tooth_size_mm,
        teeth,
        extra_tooth_sizes,
        mm,
    } = step
    else {
        return String::new();
    };
    let name = parts::capital_name(mechanism, *part);
    let tooth_size = numbers::plain(*tooth_size_mm);
    let across = numbers::plain(*mm);
    let extra = numbers::plain(extra_tooth_sizes.magnitude());
    let counted = if extra_tooth_sizes.is_zero() {
        teeth.to_string()
    } else if extra_tooth_sizes.is_negative() {
        format!("({teeth} - {extra})")
    } else {
        format!("({teeth} + {extra})")
    };
    let given = mechanism.parts.get(usize::from(part.0));
    let size_is_given = given.is_some_and(|part| part.tooth_size_mm.is_some());
    if size_is_given {
        format!("{name}: {tooth_size} mm × {counted} = {across} mm.")
    } else {
        format!("{name}: {across} mm ÷ {counted} = {tooth_size} mm.")
    }
}

/// A centre distance from tooth size and teeth, or one of these from the distance.
pub(super) fn distance(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::Distance {
        first,
        second,
        tooth_size_mm,
        teeth_sum,
        mm,
    } = step
    else {
        return String::new();
    };
    let (first_name, second_name) = (
        parts::name(mechanism, *first),
        parts::name(mechanism, *second),
    );
    let tooth_size = numbers::plain(*tooth_size_mm);
    let sum = numbers::plain(*teeth_sum);
    let apart = numbers::plain(*mm);
    let (one, two) = (counts(mechanism, *first), counts(mechanism, *second));
    let with = one.zip(two);
    let written = with.map_or(sum.clone(), |(one, two)| {
        let is_sum = number::Number::from(one).plus(number::Number::from(two)) == Ok(*teeth_sum);
        if is_sum {
            format!("({one} + {two})")
        } else {
            format!("({} - {})", one.max(two), one.min(two))
        }
    });
    let size_is_given = [first, second].iter().all(|part| {
        let part = mechanism.parts.get(usize::from(part.0));
        part.is_some_and(|part| part.tooth_size_mm.is_some())
    });
    let distance_is_given = mechanism.givens.iter().any(|given| match given {
        mechanism::Given::Apart {
            first: one,
            second: two,
            ..
        } => (one, two) == (first, second) || (one, two) == (second, first),
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::TakenOut { .. } => false,
    });
    let sentence = match (size_is_given, distance_is_given) {
        (true, true) if with.is_none() => format!(
            "{first_name} and {second_name}: {apart} mm × 2 ÷ {tooth_size} mm = {sum} teeth between them."
        ),
        (false, true) => {
            format!("{first_name} and {second_name}: {apart} mm × 2 ÷ {written} = {tooth_size} mm.")
        }
        (true | false, true | false) => format!(
            "{first_name} and {second_name}: {tooth_size} mm × {written} ÷ 2 = {apart} mm apart."
        ),
    };
    parts::capital(&sentence)
}

/// The teeth of a part where they are known.
fn counts(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Option<u32> {
    let part = mechanism.parts.get(usize::from(part.0))?;
    match part.kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => match teeth {
            mechanism::Count::Known(count) => Some(count),
            mechanism::Count::Unknown => None,
        },
        mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => None,
    }
}

/// A ratio in its simplest form.
pub(super) fn simplify(step: &step::Step) -> String {
    let step::Step::Simplify {
        first,
        second,
        to_first,
        to_second,
    } = step
    else {
        return String::new();
    };
    format!(
        "{} : {} = {} : {} in its simplest form.",
        numbers::plain(*first),
        numbers::plain(*second),
        numbers::plain(*to_first),
        numbers::plain(*to_second)
    )
}

/// Two tooth sizes that fit, or not.
pub(super) fn tooth_sizes(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::ToothSizes {
        first,
        second,
        first_mm,
        second_mm,
    } = step
    else {
        return String::new();
    };
    let (first, second) = (
        parts::capital_name(mechanism, *first),
        parts::name(mechanism, *second),
    );
    let (one, two) = (numbers::plain(*first_mm), numbers::plain(*second_mm));
    if first_mm == second_mm {
        format!("{first} and {second} both have the tooth size {one} mm, so their teeth fit.")
    } else {
        format!(
            "{first} has the tooth size {one} mm and {second} {two} mm, so their teeth do not fit."
        )
    }
}

/// Equal stages in a row.
pub(super) fn stage(step: &step::Step) -> String {
    let step::Step::Stage {
        stages,
        stage_ratio,
        total,
    } = step
    else {
        return String::new();
    };
    let (ratio, total) = (numbers::plain(*stage_ratio), numbers::plain(*total));
    match stages {
        1 => format!("1 stage: {total}."),
        2..=6 => {
            let factors: Vec<&str> = (0..*stages).map(|_| ratio.as_str()).collect();
            format!("{stages} stages: {} = {total}.", factors.join(" × "))
        }
        more => format!("{more} stages: {ratio} multiplied {more} times = {total}."),
    }
}

/// After how many turns the same teeth meet.
pub(super) fn common_multiple(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::CommonMultiple {
        first,
        first_teeth,
        second_teeth,
        common,
        turns,
        ..
    } = step
    else {
        return String::new();
    };
    let noun = if *turns == 1 { "turn" } else { "turns" };
    format!(
        "The lowest common multiple of {first_teeth} and {second_teeth} is {common}; \
         {common} ÷ {first_teeth} = {turns} {noun} of {}.",
        parts::name(mechanism, *first)
    )
}

/// A choice that fits.
pub(super) fn chosen(
    mechanism: &mechanism::Mechanism,
    chosen_parts: &[mechanism::PartId],
    teeth: &[u32],
) -> String {
    let said: Vec<String> = chosen_parts
        .iter()
        .zip(teeth)
        .map(|(part, teeth)| format!("{teeth} teeth for {}", parts::name(mechanism, *part)))
        .collect();
    format!("This fits: {}.", parts::list(&said))
}
