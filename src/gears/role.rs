//! What a part is called and what it does.

use crate::gears::ask;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::step;

/// Returns the trade's name of a part.
///
/// Source: common practice, no source; a gear that meshes with a rack is its pinion.
pub(super) fn name(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> ask::PartName {
    match mechanism.part(part).kind {
        mechanism::Kind::Gear { .. } => {
            let on_rack = mechanism
                .joints
                .iter()
                .filter_map(|joint| joint.partner(part))
                .any(|it| matches!(mechanism.part(it).kind, mechanism::Kind::Rack { .. }));
            if on_rack {
                ask::PartName::Pinion
            } else {
                ask::PartName::SpurGear
            }
        }
        mechanism::Kind::Ring { .. } => ask::PartName::RingGear,
        mechanism::Kind::Bevel { .. } => ask::PartName::BevelGear,
        mechanism::Kind::Worm { .. } => ask::PartName::Worm,
        mechanism::Kind::Rack { .. } => ask::PartName::Rack,
        mechanism::Kind::Sprocket { .. } => ask::PartName::Sprocket,
        mechanism::Kind::Pulley { .. } => ask::PartName::Pulley,
        mechanism::Kind::Handle { .. } => ask::PartName::Handle,
        mechanism::Kind::Drum { .. } => ask::PartName::Drum,
        mechanism::Kind::Roller { .. } => ask::PartName::RoadWheel,
        mechanism::Kind::Motor => ask::PartName::Motor,
        mechanism::Kind::Dynamo => ask::PartName::Dynamo,
        mechanism::Kind::Carrier => ask::PartName::Carrier,
    }
}

/// Returns what a part does, with who drives it and whom it drives.
///
/// A part that is driven and drives is an idler; two gears on one axle are a driven
/// gear and a drive gear. A part without joints of its own (a handle, a drum) does
/// what its axle does.
///
/// Source: common practice, no source.
///
/// # Errors
///
/// [`fault::Fault::CannotAsk`] for a part that neither drives nor is driven.
pub(super) fn job(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    steps: &mut Vec<step::Step>,
) -> Result<ask::Job, fault::Fault> {
    let body = mechanism.part(part).body;
    let has_joint = mechanism
        .joints
        .iter()
        .any(|joint| joint.partner(part).is_some());
    let is_meant =
        |id: mechanism::PartId| id == part || (!has_joint && mechanism.part(id).body == body);
    // Where somebody turns the part, what comes back round a loop does not drive it.
    let is_turned = mechanism.givens.iter().any(|given| match given {
        mechanism::Given::Motion {
            part: turned,
            amount,
            sense,
        } => mechanism.part(*turned).body == body && (amount.is_some() || sense.is_some()),
        mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => false,
    });
    let drives = mechanism
        .joints
        .iter()
        .find(|joint| is_meant(joint.first))
        .map(|joint| joint.second);
    let driven_by = mechanism
        .joints
        .iter()
        .find(|joint| is_meant(joint.second) && (joint.driver_named || !is_turned))
        .map(|joint| joint.first);
    let job = match (driven_by, drives) {
        (None, Some(_)) => ask::Job::Drive,
        (Some(_), None) => ask::Job::Driven,
        (Some(_), Some(_)) if has_joint => ask::Job::Idler,
        (Some(_), Some(_)) | (None, None) => {
            return Err(fault::Fault::CannotAsk {
                part,
                what: "the job",
            });
        }
    };
    steps.push(step::Step::Role {
        part,
        driven_by,
        drives,
    });
    Ok(job)
}
