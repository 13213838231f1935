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
use crate::number;
use crate::wording::parts;
use std::collections::BTreeMap;

/// What is known before a step, so that one relation can be said in the direction
/// in which it was used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Known {
    /// Turns, turns a minute or a distance.
    movement: ask::Unit,
    /// Whether the work is about turning forces.
    force: bool,
    /// How much each part moves, as far as the steps have come.
    moves: BTreeMap<mechanism::PartId, number::Value>,
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
            moves: BTreeMap::new(),
        }
    }

    /// Whether a comparison of two parts is one of their turning forces: its shares
    /// are not those of the movements before it.
    fn compares_force(&self, step: &step::Step) -> bool {
        let step::Step::Compare {
            first,
            second,
            first_moves,
            second_moves,
        } = step
        else {
            return false;
        };
        match (self.moves.get(first), self.moves.get(second)) {
            (Some(one), Some(two)) => one.times(*second_moves) != two.times(*first_moves),
            (Some(_) | None, Some(_) | None) => self.force,
        }
    }

    /// Takes note of a step.
    fn note(&mut self, step: &step::Step) {
        match step {
            step::Step::Start {
                part,
                movement: Some(movement),
                ..
            }
            | step::Step::Drive {
                to: part,
                after: Some(movement),
                ..
            } => {
                self.movement = movement.unit;
                self.moves.insert(*part, movement.value);
            }
            step::Step::SameAxle { from, to } | step::Step::Joined { from, to } => {
                if let Some(moves) = self.moves.get(from) {
                    self.moves.insert(*to, *moves);
                }
            }
            step::Step::OverTime { .. } => {
                self.movement = if self.movement == ask::Unit::Rpm {
                    ask::Unit::Turns
                } else {
                    ask::Unit::Rpm
                };
            }
            step::Step::Travel { .. } => {
                self.movement = if self.movement == ask::Unit::Millimetres {
                    ask::Unit::Turns
                } else {
                    ask::Unit::Millimetres
                };
            }
            step::Step::ForceAcross { .. } | step::Step::ForceTimesArm { .. } => self.force = true,
            step::Step::Start { movement: None, .. }
            | step::Step::Drive { after: None, .. }
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
            | step::Step::Role { .. } => {}
        }
    }
}

/// Returns every step in words.
pub(crate) fn all(mechanism: &mechanism::Mechanism, steps: &[step::Step]) -> Vec<String> {
    let mut known = Known::given(mechanism);
    steps
        .iter()
        .map(|step| {
            let text = said(mechanism, step, &known);
            known.note(step);
            text
        })
        .collect()
}

/// Returns one step in words.
pub(crate) fn said(mechanism: &mechanism::Mechanism, step: &step::Step, known: &Known) -> String {
    let name = |part: &mechanism::PartId| parts::name(mechanism, *part);
    match step {
        step::Step::Start { .. } => motion::start(mechanism, step),
        step::Step::Drive { .. } => motion::drive(mechanism, step),
        step::Step::SameAxle { from, to } => format!(
            "{} is on one axle with {}, so both {}.",
            parts::capital_name(mechanism, *to),
            name(from),
            if known.force {
                "have the same turning force"
            } else {
                "turn together"
            }
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
        step::Step::Compare { .. } => reason::compare(mechanism, step, known),
        step::Step::Role {
            part,
            driven_by,
            drives,
        } => reason::role(mechanism, *part, *driven_by, *drives),
    }
}

#[cfg(test)]
mod tests;
