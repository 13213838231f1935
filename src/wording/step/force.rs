//! Steps that carry force from part to part.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::step;
use crate::number;
use crate::wording::numbers;
use crate::wording::parts;

/// A turning force (at a rack, a force) across one joint.
pub(super) fn across(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::ForceAcross {
        from,
        to,
        before,
        after,
        from_size,
        to_size,
        efficiency,
        flow,
    } = step
    else {
        return String::new();
    };
    let share = numbers::plain(*efficiency);
    let loss = if *efficiency == number::Number::ONE {
        String::new()
    } else {
        match flow {
            step::Flow::With => format!(" × {share}"),
            step::Flow::Against => format!(" ÷ {share}"),
        }
    };
    let (from_name, to_name) = (parts::name(mechanism, *from), parts::name(mechanism, *to));
    if parts::slides(mechanism, *from) || parts::slides(mechanism, *to) {
        let after = numbers::amount(*after, ask::Unit::Newtons);
        if loss.is_empty() {
            let from_name = parts::capital(&from_name);
            return format!("{from_name} and {to_name} push on each other with {after}.");
        }
        let before = numbers::with_unit(*before, ask::Unit::Newtons);
        return format!("Force on {to_name}: {before}{loss} = {after}.");
    }
    format!(
        "Turning force on {to_name}: {} × {} ÷ {}{loss} = {}.",
        numbers::with_unit(*before, ask::Unit::NewtonCentimetres),
        numbers::value(*to_size),
        numbers::value(*from_size),
        numbers::amount(*after, ask::Unit::NewtonCentimetres)
    )
}

/// Force, arm and turning force.
pub(super) fn times_arm(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::ForceTimesArm {
        part,
        newtons,
        arm_mm,
        newton_cm,
    } = step
    else {
        return String::new();
    };
    let name = parts::name(mechanism, *part);
    let arm = numbers::in_cm(*arm_mm);
    if force_is_given(mechanism, *part) {
        format!(
            "Turning force on {name}: {} × {arm} = {}.",
            numbers::with_unit(*newtons, ask::Unit::Newtons),
            numbers::amount(*newton_cm, ask::Unit::NewtonCentimetres)
        )
    } else {
        format!(
            "Force at {name}: {} ÷ {arm} = {}.",
            numbers::with_unit(*newton_cm, ask::Unit::NewtonCentimetres),
            numbers::amount(*newtons, ask::Unit::Newtons)
        )
    }
}

/// Whether a force is given at this part or at a rack that it meshes with.
fn force_is_given(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> bool {
    mechanism.givens.iter().any(|given| match given {
        mechanism::Given::Force { part: at, .. } => {
            let touches = |joint: &mechanism::Joint| {
                (joint.first, joint.second) == (*at, part)
                    || (joint.first, joint.second) == (part, *at)
            };
            *at == part || (parts::slides(mechanism, *at) && mechanism.joints.iter().any(touches))
        }
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => false,
    })
}
