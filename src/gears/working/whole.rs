//! The steps of a whole mechanism, in the order walked.

use crate::gears::fault;
use crate::gears::givens;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::size;
use crate::gears::step;
use crate::gears::working;
use crate::number;

/// Returns the steps of the whole walk: every start, every joint, every planetary set,
/// with amounts and senses as far as they follow.
///
/// # Errors
///
/// [`fault::Fault::Number`] when a number does not fit.
pub(in crate::gears) fn steps(
    motions: &motion::Motions<'_>,
) -> Result<Vec<step::Step>, fault::Fault> {
    let walk = &motions.walk;
    // Nearly always a step for each body and one for its axle.
    let mut steps = Vec::with_capacity(2 * walk.order.len());
    // The part by which the walk came to each body.
    let mut entered: Vec<Option<mechanism::PartId>> = vec![None; walk.bodies.len()];
    for &body in &walk.order {
        let reached = &walk.bodies[body.index()];
        let Some(hop) = walk.hop_to(body) else {
            entered[body.index()] = first_line(motions, body, &mut steps)?;
            continue;
        };
        let before = walk.mechanism.part(hop.from).body;
        if let Some(at) = entered[before.index()]
            && at != hop.from
        {
            steps.push(step::Step::SameAxle {
                from: at,
                to: hop.from,
            });
        }
        entered[body.index()] = Some(hop.to);
        let shown = working::Shown {
            amount: shown_amount(motions, hop.to),
            power: reached.power,
            positive: motions.senses[reached.group].map(|(positive, _)| positive),
        };
        let racks = working::slides(motions, hop.from) || working::slides(motions, hop.to);
        match shown.amount {
            Some(amount @ (_, motion::Per::Run))
                if racks && size::tooth_size(walk.mechanism, hop.to).is_some() =>
            {
                working::travel_on_rack(motions, hop, amount, &mut steps)?;
            }
            Some(_) | None if walk.couplings[hop.joint].rigid => {
                steps.push(step::Step::Joined {
                    from: hop.from,
                    to: hop.to,
                });
            }
            Some(_) | None => {
                let before = working::moved(motions, shown, hop.from)?;
                let after = working::moved(motions, shown, hop.to)?;
                steps.push(working::drive(motions, shown, hop, (before, after)));
            }
        }
    }
    for (id, part) in walk.mechanism.numbered() {
        if givens::rolling_diameter(&part.kind).is_some()
            && motions.amount(id, motion::Per::Run).is_ok()
        {
            working::travel_on_drum(motions, id, &mut steps)?;
        }
    }
    Ok(steps)
}

/// The scale to show a part's moves by: over the run if that is given.
fn shown_amount(
    motions: &motion::Motions<'_>,
    part: mechanism::PartId,
) -> Option<(number::Value, motion::Per)> {
    let component = &motions.components[motions.component(part)];
    component
        .run
        .map(|scale| (scale.value, motion::Per::Run))
        .or_else(|| {
            component
                .minute
                .map(|scale| (scale.value, motion::Per::Minute))
        })
}

/// The first line of a cluster: the part that is given, else the first on the body.
fn first_line(
    motions: &motion::Motions<'_>,
    body: mechanism::BodyId,
    steps: &mut Vec<step::Step>,
) -> Result<Option<mechanism::PartId>, fault::Fault> {
    let mechanism = motions.walk.mechanism;
    let first = mechanism
        .numbered()
        .find(|(_, part)| part.body == body)
        .map(|(id, _)| id);
    let Some(first) = first else {
        return Ok(None);
    };
    let component = &motions.components[motions.component(first)];
    let given = component
        .run
        .or(component.minute)
        .map(|scale| scale.from)
        .or_else(|| motions.senses[motions.walk.at(first).group].map(|(_, part)| part))
        .filter(|&part| mechanism.part(part).body == body);
    let part = given.unwrap_or(first);
    let shown = match shown_amount(motions, part) {
        Some(amount) => Some(working::movement(motions, part, amount)?),
        None => None,
    };
    steps.push(step::Step::Start {
        part,
        movement: shown,
        sense: motions.sense(part),
    });
    Ok(Some(part))
}
