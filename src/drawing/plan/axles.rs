//! Which axles lie across, and which bodies turn about the same line.

use crate::drawing::refusal;
use crate::gears::mechanism;
use std::collections::BTreeSet;

/// The bodies whose axle lies across, seen from the side.
pub(super) fn across(
    mechanism: &mechanism::Mechanism,
) -> Result<BTreeSet<mechanism::BodyId>, refusal::NotDrawn> {
    let mut across = BTreeSet::new();
    let joints_at = |body: mechanism::BodyId| {
        mechanism
            .joints
            .iter()
            .filter(|joint| {
                [joint.first, joint.second]
                    .iter()
                    .any(|part| mechanism.part(*part).body == body)
            })
            .count()
    };
    let can_lie = |body: mechanism::BodyId| {
        joints_at(body) == 1
            && mechanism.parts.iter().all(|part| {
                part.body != body
                    || matches!(
                        part.kind,
                        mechanism::Kind::Worm { .. }
                            | mechanism::Kind::Bevel { .. }
                            | mechanism::Kind::Motor
                            | mechanism::Kind::Dynamo
                            | mechanism::Kind::Handle { .. }
                    )
            })
    };
    for part in &mechanism.parts {
        if matches!(part.kind, mechanism::Kind::Worm { .. }) {
            if !can_lie(part.body) {
                return Err(refusal::NotDrawn::Across);
            }
            across.insert(part.body);
        }
    }
    for joint in &mechanism.joints {
        let [first, second] = [joint.first, joint.second].map(|part| mechanism.part(part));
        let both = [first, second]
            .iter()
            .all(|part| matches!(part.kind, mechanism::Kind::Bevel { .. }));
        if !both || across.contains(&first.body) || across.contains(&second.body) {
            continue;
        }
        let lying = [second.body, first.body]
            .into_iter()
            .find(|body| can_lie(*body))
            .ok_or(refusal::NotDrawn::Across)?;
        across.insert(lying);
    }
    Ok(across)
}

/// The first of the bodies that turn about the same line, for each body: a carrier
/// and the wheels that its planets mesh with.
pub(super) fn concentric(mechanism: &mechanism::Mechanism) -> Vec<mechanism::BodyId> {
    let mut heads: Vec<mechanism::BodyId> =
        (0..mechanism.body_count).map(mechanism::BodyId).collect();
    for (id, part) in mechanism.numbered() {
        let Some(carrier) = part.rides_on else {
            continue;
        };
        for joint in &mechanism.joints {
            let Some(partner) = joint.partner(id) else {
                continue;
            };
            let partner = mechanism.part(partner);
            if partner.rides_on.is_some() {
                continue;
            }
            let (one, other) = (heads[carrier.index()], heads[partner.body.index()]);
            let (low, high) = (one.min(other), one.max(other));
            for head in &mut heads {
                if *head == high {
                    *head = low;
                }
            }
        }
    }
    heads
}
