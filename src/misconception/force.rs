//! Wrong forces and turning forces.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::circles;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::planetary;
use crate::misconception::train;
use crate::number;

/// A force followed from where it is given to where it is asked.
struct Pull {
    /// Newtons, or newton centimetres.
    start: number::Value,
    /// The arm in millimetres at the start; `None` where a turning force is given.
    entry: Option<Arm>,
    legs: Vec<path::Leg>,
    /// The arm at the end; `None` where a turning force is asked.
    exit: Option<Arm>,
    /// The share passed on by each mesh, where said.
    efficiency: Option<number::Number>,
    /// Meshes on the way, also that of a rack.
    meshes: u32,
    /// Whether the way goes against the drive.
    backwards: bool,
    unit: ask::Unit,
}

/// What a force pulls on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Arm {
    /// A handle: its arm is its radius.
    Handle(number::Number),
    /// A drum, rolling wheel or pinion: its radius is half its diameter.
    Round(number::Number),
}

/// How a diameter is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Radius {
    /// Halved, as it should be.
    Halved,
    /// Taken whole.
    Whole,
}

impl Arm {
    fn millimetres(self, radius: Radius) -> Option<number::Number> {
        match (self, radius) {
            (Self::Handle(arm), _) | (Self::Round(arm), Radius::Whole) => Some(arm),
            (Self::Round(diameter), Radius::Halved) => {
                diameter.divided_by(number::Number::whole(2)).ok()
            }
        }
    }
}

/// Adds every wrong answer to a question of force.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    found: &mut misconception::Found,
) {
    if path::has_planets(mechanism) {
        if let ask::Ask::TurningForce(part) = ask {
            planetary::predict_force(mechanism, *part, found);
        }
        return;
    }
    let Some(pull) = pull(mechanism, ask) else {
        return;
    };
    let train = train::Train::new(mechanism, &pull.legs);
    predict_train(&pull, &train, found);
    predict_arms(&pull, &train, found);
    predict_losses(&pull, &train, found);
    if let ask::Ask::TurningForce(asked) = ask {
        predict_other_parts(mechanism, *asked, &pull, found);
    }
}

/// The turning force on another axle than the one asked about.
fn predict_other_parts(
    mechanism: &mechanism::Mechanism,
    asked: mechanism::PartId,
    pull: &Pull,
    found: &mut misconception::Found,
) {
    let start = pull.legs.first().map(|leg| leg.from);
    for other in (0_u16..).take(mechanism.parts.len()).map(mechanism::PartId) {
        let is_told = [Some(asked), start]
            .into_iter()
            .flatten()
            .any(|told| path::on_one_axle(mechanism, other, told));
        if is_told {
            continue;
        }
        if let Some(pull) = self::pull(mechanism, &ask::Ask::TurningForce(other)) {
            let train = train::Train::new(mechanism, &pull.legs);
            let value = pull.result(train.right(), pull.share(), Radius::Halved);
            found.quantity(&list::trains::OTHER_GEAR, value, pull.unit);
        }
    }
}

fn pull(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> Option<Pull> {
    let (asked, unit) = if let ask::Ask::Force(part) = ask {
        (*part, ask::Unit::Newtons)
    } else if let ask::Ask::TurningForce(part) = ask {
        (*part, ask::Unit::NewtonCentimetres)
    } else {
        return None;
    };
    let efficiency = mechanism.givens.iter().find_map(|given| {
        if let mechanism::Given::Efficiency(share) = given {
            Some(*share)
        } else {
            None
        }
    });
    mechanism.givens.iter().find_map(|given| {
        let (part, start, needs_arm) = if let mechanism::Given::Force { part, newtons } = given {
            (*part, *newtons, true)
        } else if let mechanism::Given::TurningForce { part, newton_cm } = given {
            (*part, *newton_cm, false)
        } else {
            return None;
        };
        let mut legs = path::walk(mechanism, part, asked, path::TakenOut::Respected)?;
        let meshes = legs
            .iter()
            .filter(|leg| leg.link == mechanism::Link::Mesh)
            .count();
        let backwards = legs.first().is_some_and(|leg| leg.backwards);
        let entry = if needs_arm {
            Some(arm_at_start(mechanism, part, &mut legs)?)
        } else {
            None
        };
        let exit = if unit == ask::Unit::Newtons {
            Some(arm_at_end(mechanism, asked, &mut legs)?)
        } else {
            None
        };
        Some(Pull {
            start: start.into(),
            entry,
            legs,
            exit,
            efficiency,
            meshes: u32::try_from(meshes).ok()?,
            backwards,
            unit,
        })
    })
}

fn arm_at_start(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    legs: &mut Vec<path::Leg>,
) -> Option<Arm> {
    if path::is_rack(mechanism, part) {
        let first = *legs.first()?;
        legs.remove(0);
        Some(Arm::Round(
            circles::Circle::of_leg(mechanism, first)?.diameter()?,
        ))
    } else {
        arm(mechanism, part)
    }
}

fn arm_at_end(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    legs: &mut Vec<path::Leg>,
) -> Option<Arm> {
    if path::is_rack(mechanism, part) {
        let last = legs.pop()?;
        Some(Arm::Round(
            circles::Circle::of_leg(mechanism, last)?.diameter()?,
        ))
    } else {
        arm(mechanism, part)
    }
}

fn arm(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> Option<Arm> {
    if let mechanism::Kind::Handle { arm_mm: Some(arm) } = path::part(mechanism, part)?.kind {
        return Some(Arm::Handle(arm));
    }
    Some(Arm::Round(
        circles::Circle::of_part(mechanism, part)?.diameter()?,
    ))
}

impl Pull {
    /// The force with this train (turns at the end for one at the start), this
    /// share passed on in all, and this idea of a radius.
    fn result(
        &self,
        gain: Option<number::Value>,
        share: Option<number::Value>,
        radius: Radius,
    ) -> Option<number::Value> {
        let ten = number::Number::whole(10);
        let mut value = self.start;
        if let Some(entry) = self.entry {
            let centimetres = entry.millimetres(radius)?.divided_by(ten).ok()?;
            value = value.times(centimetres.into()).ok()?;
        }
        value = value.divided_by(gain?).ok()?.times(share?).ok()?;
        if let Some(exit) = self.exit {
            let centimetres = exit.millimetres(radius)?.divided_by(ten).ok()?;
            value = value.divided_by(centimetres.into()).ok()?;
        }
        Some(value)
    }

    /// What all meshes together pass on, as a factor of the force asked.
    fn share(&self) -> Option<number::Value> {
        let Some(each) = self.efficiency else {
            return Some(number::Value::ONE);
        };
        let mut share = number::Value::ONE;
        for _ in 0..self.meshes {
            share = share.times(each.into()).ok()?;
        }
        self.along(share)
    }

    /// A share passed on, as a factor along the way: walked against the drive it
    /// divides, because more must be put in than comes out.
    fn along(&self, share: number::Value) -> Option<number::Value> {
        if self.backwards {
            path::upside_down(share)
        } else {
            Some(share)
        }
    }
}

fn predict_train(pull: &Pull, train: &train::Train<'_>, found: &mut misconception::Found) {
    let one = Some(number::Value::ONE);
    let mut add = |misconception, gain| {
        let value = pull.result(gain, pull.share(), Radius::Halved);
        found.quantity(misconception, value, pull.unit);
    };
    if train.is_empty() {
        return;
    }
    let drive_gain = train.right().and_then(|gain| {
        if pull.backwards {
            path::upside_down(gain)
        } else {
            Some(gain)
        }
    });
    let speeds_up = drive_gain.is_some_and(|gain| gain.factor > number::Number::ONE);
    let upside_down = if speeds_up {
        &list::forces::FORCE_AND_SPEED_BOTH
    } else {
        &list::forces::FORCE_UPSIDE_DOWN
    };
    add(upside_down, train.upside_down());
    if pull.entry.is_some() && pull.exit.is_some() {
        add(&list::forces::GEARS_LEFT_OUT, one);
    } else {
        add(&list::forces::SAME_FORCE, one);
    }
    for (misconception, gain) in train.thoughts() {
        add(misconception, Some(gain));
    }
    predict_additive(pull, train, found);
}

/// Teeth added and taken away: so many teeth more, so much more turning force.
/// Only where the numbers of the question are turning forces throughout.
fn predict_additive(pull: &Pull, train: &train::Train<'_>, found: &mut misconception::Found) {
    if pull.entry.is_some() || pull.exit.is_some() || pull.efficiency.is_some() {
        return;
    }
    let Some(difference) = train.difference().map(number::Value::from) else {
        return;
    };
    found.quantity(
        &list::trains::TAKES_TEETH_AWAY,
        pull.start.plus(difference).ok(),
        pull.unit,
    );
    found.quantity(
        &list::trains::ADDS_TEETH,
        pull.start.minus(difference).ok(),
        pull.unit,
    );
}

fn predict_arms(pull: &Pull, train: &train::Train<'_>, found: &mut misconception::Found) {
    if pull.entry.is_none() && pull.exit.is_none() {
        return;
    }
    let (right, share) = (train.right(), pull.share());
    let is_round = |arm: Option<Arm>| matches!(arm, Some(Arm::Round(_)));
    if is_round(pull.entry) != is_round(pull.exit) {
        found.quantity(
            &list::circles::RADIUS_FOR_DIAMETER,
            pull.result(right, share, Radius::Whole),
            pull.unit,
        );
    }
    let without_arms = Pull {
        entry: None,
        exit: None,
        legs: Vec::new(),
        ..*pull
    };
    if pull.entry != pull.exit && !(train.is_empty() && pull.entry.is_none()) {
        found.quantity(
            &list::forces::ARMS_LEFT_OUT,
            without_arms.result(right, share, Radius::Halved),
            pull.unit,
        );
    }
    if train.is_empty() && pull.entry.is_some() && pull.exit.is_some() {
        let swapped = Pull {
            entry: pull.exit,
            exit: pull.entry,
            legs: Vec::new(),
            ..*pull
        };
        found.quantity(
            &list::forces::FORCE_UPSIDE_DOWN,
            swapped.result(right, share, Radius::Halved),
            pull.unit,
        );
    }
    if pull.entry.is_some() != pull.exit.is_some() {
        let ten = number::Number::whole(10).into();
        let value = pull.result(right, share, Radius::Halved);
        let mixed = if pull.entry.is_some() {
            value.and_then(|value| value.times(ten).ok())
        } else {
            value.and_then(|value| value.divided_by(ten).ok())
        };
        found.quantity(&list::forces::MILLIMETRES_AND_CENTIMETRES, mixed, pull.unit);
    }
}

fn predict_losses(pull: &Pull, train: &train::Train<'_>, found: &mut misconception::Found) {
    let Some(each) = pull.efficiency else { return };
    if each == number::Number::ONE || pull.meshes == 0 {
        return;
    }
    let right = train.right();
    let mut add = |misconception, share| {
        let value = pull.result(right, share, Radius::Halved);
        found.quantity(misconception, value, pull.unit);
    };
    add(&list::forces::LOSSES_FORGOTTEN, Some(number::Value::ONE));
    add(
        &list::forces::LOSSES_THE_WRONG_WAY,
        pull.share().and_then(path::upside_down),
    );
    if pull.meshes < 2 {
        return;
    }
    let lost = number::Number::ONE
        .minus(each)
        .and_then(|loss| loss.times(pull.meshes.into()))
        .and_then(|lost| number::Number::ONE.minus(lost));
    let left = lost.ok().filter(|left| left.is_positive());
    add(
        &list::forces::LOSSES_SUBTRACTED,
        left.and_then(|left| pull.along(left.into())),
    );
    add(&list::forces::LOSSES_OF_ONE_MESH, pull.along(each.into()));
}
