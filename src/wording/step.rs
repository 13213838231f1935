//! The steps of a working in words, each with its calculation.
//!
//! Source: the calculations are those of [`crate::gears::step::Step`]; here they
//! are only written out.

mod force;
mod motion;
mod reason;
mod size;

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::step;
use crate::wording::parts;

/// What is known of the movement before a step, so that one relation can be
/// said in the direction in which it was used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Known {
    /// Turns, turns a minute or a distance.
    movement: ask::Unit,
    /// Whether the work is about turning forces.
    force: bool,
}

impl Known {
    /// What the givens of a mechanism suggest.
    pub(crate) fn given(mechanism: &mechanism::Mechanism) -> Self {
        let movement = mechanism
            .givens
            .iter()
            .find_map(|given| match given {
                mechanism::Given::Motion {
                    amount: Some(amount),
                    ..
                } => Some(match amount {
                    mechanism::Amount::Turns(_) => ask::Unit::Turns,
                    mechanism::Amount::Rpm(_) => ask::Unit::Rpm,
                    mechanism::Amount::Millimetres(_) => ask::Unit::Millimetres,
                }),
                mechanism::Given::Motion { amount: None, .. }
                | mechanism::Given::Held(_)
                | mechanism::Given::Minutes(_)
                | mechanism::Given::Force { .. }
                | mechanism::Given::TurningForce { .. }
                | mechanism::Given::Efficiency(_)
                | mechanism::Given::Apart { .. }
                | mechanism::Given::TakenOut { .. } => None,
            })
            .unwrap_or(ask::Unit::Turns);
        Self {
            movement,
            force: false,
        }
    }

    /// What is known after a step.
    fn after(self, step: &step::Step) -> Self {
        match step {
            step::Step::Start {
                movement: Some(movement),
                ..
            }
            | step::Step::Drive {
                after: Some(movement),
                ..
            } => Self {
                movement: movement.unit,
                ..self
            },
            step::Step::OverTime { .. } => Self {
                movement: if self.movement == ask::Unit::Rpm {
                    ask::Unit::Turns
                } else {
                    ask::Unit::Rpm
                },
                ..self
            },
            step::Step::Travel { .. } => Self {
                movement: if self.movement == ask::Unit::Millimetres {
                    ask::Unit::Turns
                } else {
                    ask::Unit::Millimetres
                },
                ..self
            },
            step::Step::ForceAcross { .. } | step::Step::ForceTimesArm { .. } => Self {
                force: true,
                ..self
            },
            step::Step::Start { movement: None, .. }
            | step::Step::Drive { after: None, .. }
            | step::Step::SameAxle { .. }
            | step::Step::Joined { .. }
            | step::Step::Planetary { .. }
            | step::Step::OnCarrier { .. }
            | step::Step::MissingCount { .. }
            | step::Step::CountFromSum { .. }
            | step::Step::Diameter { .. }
            | step::Step::Distance { .. }
            | step::Step::Simplify { .. }
            | step::Step::CountMeshes { .. }
            | step::Step::Loop { .. }
            | step::Step::ToothSizes { .. }
            | step::Step::WormHolds { .. }
            | step::Step::Stage { .. }
            | step::Step::CommonMultiple { .. }
            | step::Step::Chosen { .. }
            | step::Step::Compare { .. }
            | step::Step::Role { .. } => self,
        }
    }
}

/// Returns every step in words.
pub(crate) fn all(mechanism: &mechanism::Mechanism, steps: &[step::Step]) -> Vec<String> {
    let mut known = Known::given(mechanism);
    steps
        .iter()
        .map(|step| {
            let text = said(mechanism, step, known);
            known = known.after(step);
            text
        })
        .collect()
}

/// Returns one step in words.
pub(crate) fn said(mechanism: &mechanism::Mechanism, step: &step::Step, known: Known) -> String {
    let name = |part: &mechanism::PartId| parts::name(mechanism, *part);
    match step {
        step::Step::Start { .. } => motion::start(mechanism, step),
        step::Step::Drive { .. } => motion::drive(mechanism, step),
        step::Step::SameAxle { from, to } => format!(
            "{} is on one axle with {}, so both turn together.",
            parts::capital_name(mechanism, *to),
            name(from)
        ),
        step::Step::Joined { from, to } => format!(
            "The stage is taken out, so {} turns as {} does.",
            name(to),
            name(from)
        ),
        step::Step::OverTime { .. } => motion::over_time(mechanism, step, known),
        step::Step::Travel { .. } => motion::travel(mechanism, step, known),
        step::Step::Planetary { .. } => motion::planetary(mechanism, step),
        step::Step::OnCarrier { .. } => motion::on_carrier(mechanism, step),
        step::Step::ForceAcross { .. } => force::across(mechanism, step),
        step::Step::ForceTimesArm { .. } => force::times_arm(mechanism, step),
        step::Step::MissingCount { .. } => size::missing_count(mechanism, step),
        step::Step::CountFromSum { .. } => size::count_from_sum(mechanism, step),
        step::Step::Diameter { .. } => size::diameter(mechanism, step),
        step::Step::Distance { .. } => size::distance(mechanism, step),
        step::Step::Simplify { .. } => size::simplify(step),
        step::Step::CountMeshes { .. } => reason::count_meshes(mechanism, step),
        step::Step::Loop { parts, turns } => reason::closed_loop(mechanism, parts, *turns),
        step::Step::ToothSizes { .. } => size::tooth_sizes(mechanism, step),
        step::Step::WormHolds { worm, wheel } => format!(
            "{} has one start, so it holds {}: the gear cannot drive the worm.",
            parts::capital_name(mechanism, *worm),
            name(wheel)
        ),
        step::Step::Stage { .. } => size::stage(step),
        step::Step::CommonMultiple { .. } => size::common_multiple(mechanism, step),
        step::Step::Chosen { parts, teeth } => size::chosen(mechanism, parts, teeth),
        step::Step::Compare { .. } => reason::compare(mechanism, step, known.force),
        step::Step::Role {
            part,
            driven_by,
            drives,
        } => reason::role(mechanism, *part, *driven_by, *drives),
    }
}

#[cfg(test)]
mod tests;
