//! The values that a right working passes through, and those that it may end in.

use crate::gears::ask;
use crate::gears::step;
use crate::number;

/// The values that a chain may end in.
pub(super) fn ends(fact: &ask::Fact) -> Option<Vec<number::Value>> {
    let scaled = |value: number::Value, scales: &[(i64, i64)]| -> Option<Vec<number::Value>> {
        scales
            .iter()
            .map(|(top, bottom)| {
                let scale = number::Number::ratio(*top, *bottom).ok()?;
                value.times(scale.into()).ok()
            })
            .collect()
    };
    match fact {
        ask::Fact::Quantity { value, unit } => match unit {
            ask::Unit::Millimetres => scaled(*value, &[(1, 1), (1, 10), (1, 1000)]),
            ask::Unit::NewtonCentimetres => scaled(*value, &[(1, 1), (1, 100), (10, 1)]),
            ask::Unit::Turns
            | ask::Unit::Rpm
            | ask::Unit::Teeth
            | ask::Unit::Starts
            | ask::Unit::Stages
            | ask::Unit::Newtons => Some(vec![*value]),
        },
        ask::Fact::Ratio(first, second) => Some(vec![
            first.divided_by(*second).ok()?.into(),
            second.divided_by(*first).ok()?.into(),
        ]),
        ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Choices(_)
        | ask::Fact::Reasons(_) => None,
    }
}

/// The values that a right working passes through, always as many for the same steps.
pub(super) fn passed(steps: &[step::Step]) -> Vec<number::Value> {
    steps
        .iter()
        .flat_map(of_step)
        .map(|value| value.unwrap_or(number::Value::ZERO))
        .collect()
}

fn of_step(step: &step::Step) -> Vec<Worked> {
    match step {
        step::Step::Drive {
            from_size,
            to_size,
            after,
            ..
        } => both_ways(
            *from_size,
            *to_size,
            after.map_or(number::Value::ZERO, |after| after.value),
        ),
        step::Step::OverTime { turns, rpm, .. } => vec![Ok(*turns), Ok(*rpm)],
        step::Step::Travel {
            turns,
            diameter_mm,
            distance_mm,
            ..
        } => {
            let mut values = vec![Ok(*distance_mm), Ok(*turns)];
            values.extend(round(*diameter_mm));
            values
        }
        step::Step::ForceAcross {
            from_size,
            to_size,
            after,
            ..
        } => both_ways(*from_size, *to_size, *after),
        step::Step::ForceTimesArm {
            newtons,
            arm_mm,
            newton_cm,
            ..
        } => {
            let mut values = vec![Ok(*newtons)];
            values.extend(in_tens(*newton_cm, *arm_mm));
            values
        }
        step::Step::MissingCount {
            partner_moves,
            part_moves,
            found,
            ..
        } => both_ways(*partner_moves, *part_moves, *found),
        step::Step::CountFromSum { sum, found, .. } => {
            vec![Ok((*sum).into()), Ok((*found).into())]
        }
        step::Step::Distance { teeth_sum, mm, .. } => {
            let half = teeth_sum.divided_by(number::Number::whole(2));
            vec![
                Ok((*teeth_sum).into()),
                Ok((*mm).into()),
                half.map(number::Value::from),
            ]
        }
        step::Step::Diameter {
            tooth_size_mm,
            teeth,
            extra_tooth_sizes,
            mm,
            ..
        } => {
            let teeth = number::Number::from(*teeth);
            vec![
                teeth.times(*tooth_size_mm).map(number::Value::from),
                teeth.plus(*extra_tooth_sizes).map(number::Value::from),
                Ok((*mm).into()),
            ]
        }
        step::Step::Planetary {
            sun_teeth,
            ring_teeth,
            carrier_moves,
            ..
        } => {
            let mut values = sun_and_ring((*sun_teeth).into(), (*ring_teeth).into()).to_vec();
            values.push(Ok(carrier_moves.magnitude()));
            values
        }
        step::Step::CommonMultiple { common, turns, .. } => {
            vec![Ok(whole(*common)), Ok(whole(*turns))]
        }
        step::Step::Stage { total, .. } => vec![Ok((*total).into())],
        step::Step::Start { .. }
        | step::Step::SameAxle { .. }
        | step::Step::Joined { .. }
        | step::Step::OnCarrier { .. }
        | step::Step::Simplify { .. }
        | step::Step::CountMeshes { .. }
        | step::Step::Loop { .. }
        | step::Step::ToothSizes { .. }
        | step::Step::WormHolds { .. }
        | step::Step::Chosen { .. }
        | step::Step::Compare { .. }
        | step::Step::Role { .. } => Vec::new(),
    }
}

/// A value, or why it could not be worked out.
type Worked = Result<number::Value, number::NumberError>;

/// A wheel's diameter, and the way round it in millimetres and in centimetres.
fn round(diameter_mm: number::Number) -> [Worked; 3] {
    let round = number::Value::PI.times(diameter_mm.into());
    let in_cm = round
        .clone()
        .and_then(|round| round.divided_by(number::Number::whole(10).into()));
    [Ok(diameter_mm.into()), round, in_cm]
}

/// A turning force in newton centimetres and millimetres, and its arm in millimetres
/// and centimetres.
fn in_tens(newton_cm: number::Value, arm_mm: number::Value) -> [Worked; 4] {
    let ten = number::Number::whole(10).into();
    [
        Ok(newton_cm),
        newton_cm.times(ten),
        Ok(arm_mm),
        arm_mm.divided_by(ten),
    ]
}

/// The teeth of sun and ring together, and what they and the ring are over the sun.
fn sun_and_ring(sun: number::Number, ring: number::Number) -> [Worked; 3] {
    let sum = sun.plus(ring);
    let over_sun = sum.clone().and_then(|sum| sum.divided_by(sun));
    [
        sum.map(number::Value::from),
        over_sun.map(number::Value::from),
        ring.divided_by(sun).map(number::Value::from),
    ]
}

/// Two sizes over each other, both ways, and what comes of it.
fn both_ways(one: number::Value, other: number::Value, after: number::Value) -> Vec<Worked> {
    vec![one.divided_by(other), other.divided_by(one), Ok(after)]
}

/// A count as a value.
fn whole(count: u64) -> number::Value {
    number::Number::whole(i64::try_from(count).unwrap_or(0)).into()
}
