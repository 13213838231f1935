//! How hard a question is by the measures of its level.
//!
//! Parallel versions of a question have equal measures, so that no pupil gets
//! the harder numbers.

use crate::answer;
use crate::gears::ask;
use crate::gears::idea;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::gears::step;
use crate::item::apart;
use crate::level::feature;
use crate::level::rule;
use crate::number;

/// The measures of one part.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Measure {
    /// Steps of the calculation; nought where nothing is calculated.
    pub steps: usize,
    /// Gears, sprockets and pulleys to look at.
    pub gears: usize,
    /// How awkward the ratio between given and asked is.
    pub ratio: Option<rule::Awkwardness>,
    /// How awkward the exact answer is.
    pub answer: Option<rule::Awkwardness>,
    /// Digits to be written.
    pub digits: usize,
    /// Whether the answer is more than what is given.
    pub increasing: Option<bool>,
    /// Whether the question runs against the drive: the cause is asked.
    pub reversed: bool,
    /// Where the answer is one of two or three: the misconceptions that fail.
    pub failing: Vec<&'static str>,
    /// The ideas that explain the answer, where an explanation is asked for.
    pub ideas: Vec<idea::Idea>,
}

/// Returns the measures of a question.
#[must_use]
pub fn of(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    worked: &solve::Worked,
    form: &answer::Form,
    traces: &apart::Traces,
) -> Measure {
    let ratio = ratio(mechanism, ask, &worked.fact);
    Measure {
        steps: if feature::is_calculated(ask) {
            steps(&worked.steps)
        } else {
            0
        },
        gears: feature::gear_count(mechanism),
        ratio: ratio.map(ratio_awkwardness),
        answer: worked.fact.quantity().map(awkwardness),
        digits: digits(&worked.fact, form),
        increasing: ratio.map(|ratio| ratio > number::Number::ONE),
        reversed: is_reversed(mechanism, ask),
        failing: if apart::has_few_answers(form) {
            traces.ids().filter(|id| traces.fails(id)).collect()
        } else {
            Vec::new()
        },
        ideas: match &worked.fact {
            ask::Fact::Reasons(reasons) => reasons.key.clone(),
            ask::Fact::Quantity { .. }
            | ask::Fact::Ratio(..)
            | ask::Fact::Sense(_)
            | ask::Fact::YesNo(_)
            | ask::Fact::Which(_)
            | ask::Fact::Name(_)
            | ask::Fact::Job(_)
            | ask::Fact::Choices(_) => Vec::new(),
        },
    }
}

/// How awkward an exact answer is; one with pi is.
pub(super) fn awkwardness(value: number::Value) -> rule::Awkwardness {
    value
        .as_number()
        .map_or(rule::Awkwardness::Awkward, rule::Awkwardness::of)
}

/// A ratio is as awkward the one way up as the other.
fn ratio_awkwardness(ratio: number::Number) -> rule::Awkwardness {
    let turned = number::Number::ONE.divided_by(ratio).unwrap_or(ratio);
    rule::Awkwardness::of(ratio).min(rule::Awkwardness::of(turned))
}

/// How many steps a calculation has. What turns together, and bringing a ratio to
/// its simplest form, is none.
pub(super) fn steps(steps: &[step::Step]) -> usize {
    steps.iter().filter(|step| is_calculation(step)).count()
}

fn is_calculation(step: &step::Step) -> bool {
    match step {
        step::Step::Drive { before, .. } => before.is_some(),
        step::Step::OverTime { .. }
        | step::Step::Travel { .. }
        | step::Step::Planetary { .. }
        | step::Step::OnCarrier { .. }
        | step::Step::ForceAcross { .. }
        | step::Step::ForceTimesArm { .. }
        | step::Step::MissingCount { .. }
        | step::Step::CountFromSum { .. }
        | step::Step::Diameter { .. }
        | step::Step::Distance { .. }
        | step::Step::Stage { .. }
        | step::Step::CommonMultiple { .. }
        | step::Step::Chosen { .. } => true,
        step::Step::Start { .. }
        | step::Step::SameAxle { .. }
        | step::Step::Joined { .. }
        | step::Step::Simplify { .. }
        | step::Step::CountMeshes { .. }
        | step::Step::Loop { .. }
        | step::Step::ToothSizes { .. }
        | step::Step::WormHolds { .. }
        | step::Step::Compare { .. }
        | step::Step::Role { .. } => false,
    }
}

/// The ratio of what is asked to what is given, where the question turns on one:
/// turns to turns, speed to speed, a ratio asked for, a missing count to its
/// partner's.
pub(super) fn ratio(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    fact: &ask::Fact,
) -> Option<number::Number> {
    match (ask, fact) {
        (ask::Ask::Turns(_) | ask::Ask::Speed(_), ask::Fact::Quantity { value, .. }) => {
            let mut moved = mechanism.givens.iter().filter_map(|given| match given {
                mechanism::Given::Motion {
                    amount: Some(mechanism::Amount::Turns(amount) | mechanism::Amount::Rpm(amount)),
                    ..
                } => Some(*amount),
                mechanism::Given::Motion { .. }
                | mechanism::Given::Held(_)
                | mechanism::Given::Minutes(_)
                | mechanism::Given::Force { .. }
                | mechanism::Given::TurningForce { .. }
                | mechanism::Given::Efficiency(_)
                | mechanism::Given::Apart { .. }
                | mechanism::Given::TakenOut { .. } => None,
            });
            let given = moved.next()?;
            value.as_number()?.divided_by(given).ok()
        }
        (ask::Ask::TurnsRatio(..) | ask::Ask::TeethRatio(..), ask::Fact::Ratio(first, second)) => {
            first.divided_by(*second).ok()
        }
        (ask::Ask::Teeth(part), ask::Fact::Quantity { value, .. }) => {
            let teeth = mechanism.joints.iter().find_map(|joint| {
                let partner = joint.partner(*part)?;
                feature::teeth(mechanism.part(partner))
            })?;
            value.as_number()?.divided_by(teeth.into()).ok()
        }
        (_, ask::Fact::Choices(choices)) => match choices.first()?.as_slice() {
            [first, second] => number::Number::from(*first)
                .divided_by((*second).into())
                .ok(),
            _ => None,
        },
        _ => None,
    }
}

/// Digits of the answer as it is written down.
fn digits(fact: &ask::Fact, form: &answer::Form) -> usize {
    match fact {
        ask::Fact::Quantity { .. } | ask::Fact::Ratio(..) => answer::expected(fact, form)
            .chars()
            .filter(char::is_ascii_digit)
            .count(),
        ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Choices(_)
        | ask::Fact::Reasons(_) => 0,
    }
}

/// Whether what is asked comes before what is given: the driver's motion from the
/// driven one's, or a count from the motion it makes.
pub(super) fn is_reversed(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> bool {
    let asked = match ask {
        ask::Ask::Teeth(_) | ask::Ask::Starts(_) | ask::Ask::Choose { .. } => return true,
        ask::Ask::Turns(part)
        | ask::Ask::Speed(part)
        | ask::Ask::Direction(part)
        | ask::Ask::Force(part)
        | ask::Ask::TurningForce(part)
        | ask::Ask::Distance(part) => *part,
        ask::Ask::SameWay(..)
        | ask::Ask::Faster(..)
        | ask::Ask::Stronger(..)
        | ask::Ask::TurnsRatio(..)
        | ask::Ask::TeethRatio(..)
        | ask::Ask::CentreDistance(..)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::WillItTurn
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::Stages(_)
        | ask::Ask::MeetAgain(..)
        | ask::Ask::Why(_) => return false,
    };
    mechanism.givens.iter().any(|given| match given {
        mechanism::Given::Motion { part, .. }
        | mechanism::Given::Force { part, .. }
        | mechanism::Given::TurningForce { part, .. } => *part > asked,
        mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => false,
    })
}
