//! What a draw must obey: the rule of its level, and sense.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::item::apart;
use crate::item::measure;
use crate::item::refusal;
use crate::level;
use crate::level::feature;
use crate::level::rule;
use crate::number;

/// One part of a draw, solved.
pub(super) struct Drawn<'a> {
    pub(super) mechanism: &'a mechanism::Mechanism,
    pub(super) ask: &'a ask::Ask,
    pub(super) form: &'a answer::Form,
    pub(super) worked: &'a solve::Worked,
}

/// Returns the first reason why a draw will not do at this level; nothing where
/// it will.
pub(super) fn refusal(drawn: &Drawn, level: level::Level) -> Option<refusal::Refusal> {
    let rule = level.rule();
    choice_refusal(drawn)
        .or_else(|| number_refusal(drawn, rule))
        .or_else(|| ratio_refusal(drawn, rule))
        .or_else(|| steps_refusal(drawn, rule))
}

/// A box without a right gear in it asks for what cannot be had.
fn choice_refusal(drawn: &Drawn) -> Option<refusal::Refusal> {
    let ask::Fact::Choices(choices) = &drawn.worked.fact else {
        return None;
    };
    choices
        .is_empty()
        .then(|| refusal::Refusal::new(refusal::Cause::Unsolved, "no choice from the box is right"))
}

fn number_refusal(drawn: &Drawn, rule: &rule::Rule) -> Option<refusal::Refusal> {
    let value = drawn.worked.fact.quantity()?;
    let said = answer::expected(&drawn.worked.fact, drawn.form);
    let refuse = |cause, what: String| Some(refusal::Refusal::new(cause, what));
    let answer::Form::Number {
        unit, precision, ..
    } = drawn.form
    else {
        return None;
    };
    let (_, scale) = unit.in_base();
    let printed = value.divided_by(scale.into()).ok()?;
    let written = number::round_half_up(printed, number::Precision::Places(3)).ok()?;
    if !value.factor.is_positive() || !written.is_positive() {
        return refuse(refusal::Cause::NotPositive, format!("the answer is {said}"));
    }
    let asked = apart::settled(&drawn.worked.fact, drawn.form);
    if asked.quantity().is_some_and(|value| value.factor.is_zero()) {
        return refuse(
            refusal::Cause::NotPositive,
            format!("the answer is rounded to {said}"),
        );
    }
    if written > number::Number::from(rule.largest_answer) {
        return refuse(
            refusal::Cause::TooLarge,
            format!("the answer {said} is more than {}", rule.largest_answer),
        );
    }
    let rounds = match precision {
        number::Precision::Exact => false,
        number::Precision::Places(_) | number::Precision::Figures(_) => rule.rounding.is_some(),
    };
    if printed.pi_power != 0 && !rule.pi {
        return refuse(
            refusal::Cause::TooAwkward,
            format!("the answer {said} holds pi"),
        );
    }
    if printed.pi_power == 0 && !rounds && measure::awkwardness(printed) > rule.awkwardness {
        return refuse(
            refusal::Cause::TooAwkward,
            format!(
                "the answer is {}, and the level allows {}",
                printed.factor,
                rule.awkwardness.text()
            ),
        );
    }
    if is_told(drawn, value) {
        return refuse(
            refusal::Cause::Told,
            format!("the answer {said} is told in the question"),
        );
    }
    None
}

/// Whether the same number of the same kind is given.
fn is_told(drawn: &Drawn, value: number::Value) -> bool {
    let told = |number: number::Number| number::Value::from(number) == value;
    drawn.mechanism.givens.iter().any(|given| match given {
        mechanism::Given::Motion { amount, .. } => match (amount, drawn.ask) {
            (Some(mechanism::Amount::Turns(turns)), ask::Ask::Turns(_)) => told(*turns),
            (Some(mechanism::Amount::Rpm(rpm)), ask::Ask::Speed(_) | ask::Ask::Turns(_)) => {
                told(*rpm)
            }
            (Some(mechanism::Amount::Millimetres(mm)), ask::Ask::Distance(_)) => *mm == value,
            _ => false,
        },
        mechanism::Given::Force { newtons, .. } => {
            matches!(drawn.ask, ask::Ask::Force(_)) && told(*newtons)
        }
        mechanism::Given::TurningForce { newton_cm, .. } => {
            matches!(drawn.ask, ask::Ask::TurningForce(_)) && told(*newton_cm)
        }
        mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => false,
    })
}

fn ratio_refusal(drawn: &Drawn, rule: &rule::Rule) -> Option<refusal::Refusal> {
    let ratio = measure::ratio(drawn.mechanism, drawn.ask, &drawn.worked.fact)?;
    (!rule.ratios.allow(ratio)).then(|| {
        refusal::Refusal::new(
            refusal::Cause::Ratio,
            format!(
                "the ratio is {ratio}, and the level allows {}",
                rule.ratios.text()
            ),
        )
    })
}

fn steps_refusal(drawn: &Drawn, rule: &rule::Rule) -> Option<refusal::Refusal> {
    if !feature::is_calculated(drawn.ask) {
        return None;
    }
    let steps = measure::steps(&drawn.worked.steps);
    (steps > rule.most_steps).then(|| {
        refusal::Refusal::new(
            refusal::Cause::TooManySteps,
            format!(
                "the working has {steps} steps, and the level allows {}",
                rule.most_steps
            ),
        )
    })
}
