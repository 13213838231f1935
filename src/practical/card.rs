//! What stands on the card of a task: for pupils and for the teacher.

use crate::answer;
use crate::gears::ask;
use crate::gears::idea;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::misconception;
use crate::practical;
use crate::practical::caution;
use crate::wording;
use std::collections::BTreeSet;

/// The most other predictions that a card tells.
const MOST_OTHERS: usize = 5;

/// The card of a task.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Card<'t> {
    /// The task.
    pub task: &'t practical::Task,
    /// What is needed, the parts first.
    pub needs: Vec<String>,
    /// What to take care of.
    pub cautions: Vec<caution::Caution>,
    /// What is predicted, worked, in the task's order.
    pub worked: Vec<Worked>,
    /// What a good explanation may say.
    pub ideas: Vec<String>,
}

/// A prediction worked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worked {
    /// The question.
    pub question: String,
    /// What the answer looks like.
    pub form: answer::Form,
    /// The answer.
    pub answer: String,
    /// Its working.
    pub steps: Vec<String>,
    /// Who would predict otherwise: the name of a way of thinking, and what it says.
    pub others: Vec<(&'static str, String)>,
}

/// Returns the card of a task.
#[must_use]
pub fn card(task: &practical::Task) -> Card<'_> {
    Card {
        task,
        needs: needs(task),
        cautions: caution::cautions(&task.mechanism, &task.levels),
        worked: task
            .predictions
            .iter()
            .filter_map(|prediction| worked(&task.mechanism, prediction))
            .collect(),
        ideas: ideas(task),
    }
}

fn worked(mechanism: &mechanism::Mechanism, prediction: &practical::Prediction) -> Option<Worked> {
    let worked = solve::answer(mechanism, &prediction.ask).ok()?;
    let right = answer::expected(&worked.fact, &prediction.form);
    let mut others: Vec<(&'static str, String)> = Vec::new();
    for predicted in misconception::predictions(mechanism, &prediction.ask) {
        let said = answer::expected(&predicted.fact, &prediction.form);
        let is_below_nought = predicted
            .fact
            .quantity()
            .is_some_and(|value| value.factor.is_negative());
        let name = predicted.misconception.name;
        let is_told = said == right
            || is_below_nought
            || predicted.misconception.slip
            || others.iter().any(|(known, _)| *known == name);
        if !is_told && others.len() < MOST_OTHERS {
            others.push((name, said));
        }
    }
    Some(Worked {
        question: prediction.question.clone(),
        form: prediction.form.clone(),
        answer: right,
        steps: wording::steps(mechanism, &worked.steps),
        others,
    })
}

/// The ideas that explain what is predicted; of turns and speeds, why one part turns
/// faster than the one whose motion is given.
fn ideas(task: &practical::Task) -> Vec<String> {
    let has_teeth = task
        .mechanism
        .parts
        .iter()
        .any(|part| is_toothed(&part.kind));
    let mut ideas = Vec::new();
    for prediction in &task.predictions {
        let Some(explained) = explained(&task.mechanism, &prediction.ask) else {
            continue;
        };
        let why = solve::answer(&task.mechanism, &ask::Ask::Why(explained));
        if let Ok(ask::Fact::Reasons(reasons)) = why.map(|worked| worked.fact) {
            for idea in reasons.key {
                let said = said(idea, has_teeth);
                if !said.is_empty() && !ideas.contains(&said) {
                    ideas.push(said);
                }
            }
        }
    }
    ideas
}

/// An idea in words; where there are no teeth, without them, and nothing where it is
/// about nothing else.
fn said(idea: idea::Idea, has_teeth: bool) -> String {
    let name = idea.name();
    if has_teeth {
        return name.to_owned();
    }
    let without = name.replace(", with fewer teeth,", "");
    if without.contains("teeth") {
        String::new()
    } else {
        without
    }
}

/// Whether a part has teeth.
fn is_toothed(kind: &mechanism::Kind) -> bool {
    match kind {
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. } => true,
        mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => false,
    }
}

fn explained(mechanism: &mechanism::Mechanism, asked: &ask::Ask) -> Option<ask::Explained> {
    match asked {
        ask::Ask::Direction(part) => Some(ask::Explained::Direction(*part)),
        ask::Ask::SameWay(first, second) => Some(ask::Explained::SameWay(*first, *second)),
        ask::Ask::Faster(first, second) => Some(ask::Explained::Faster(*first, *second)),
        ask::Ask::Stronger(first, second) => Some(ask::Explained::Stronger(*first, *second)),
        ask::Ask::WillItTurn => Some(ask::Explained::WillItTurn),
        ask::Ask::Turns(part) | ask::Ask::Speed(part) => {
            let given = mechanism.givens.iter().find_map(|given| match given {
                mechanism::Given::Motion {
                    part,
                    amount: Some(_),
                    ..
                } => Some(*part),
                mechanism::Given::Motion { amount: None, .. }
                | mechanism::Given::Held(_)
                | mechanism::Given::Minutes(_)
                | mechanism::Given::Force { .. }
                | mechanism::Given::TurningForce { .. }
                | mechanism::Given::Efficiency(_)
                | mechanism::Given::Apart { .. }
                | mechanism::Given::TakenOut { .. } => None,
            })?;
            Some(ask::Explained::Faster(given, *part))
        }
        ask::Ask::TurnsRatio(..)
        | ask::Ask::TeethRatio(..)
        | ask::Ask::Teeth(_)
        | ask::Ask::Starts(_)
        | ask::Ask::Force(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::Distance(_)
        | ask::Ask::CentreDistance(..)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::Stages(_)
        | ask::Ask::MeetAgain(..)
        | ask::Ask::Choose { .. }
        | ask::Ask::Why(_) => None,
    }
}

/// The parts of the mechanism, what goes with them, and what the task names besides.
fn needs(task: &practical::Task) -> Vec<String> {
    let mechanism = &task.mechanism;
    let mut needs: Vec<String> = mechanism
        .numbered()
        .filter(|(_, part)| !is_fitting(&part.kind) && !is_to_be_chosen(&part.kind))
        .map(|(id, _)| wording::part(mechanism, id))
        .collect();
    let mut with = BTreeSet::new();
    for part in &mechanism.parts {
        with.extend(goes_with(&part.kind));
    }
    for joint in &mechanism.joints {
        match joint.link {
            mechanism::Link::Chain => with.insert("a chain that fits"),
            mechanism::Link::Belt | mechanism::Link::CrossedBelt => with.insert("a belt that fits"),
            mechanism::Link::Mesh => false,
        };
    }
    needs.extend(with.into_iter().map(str::to_owned));
    needs.push("a board or frame with axles".to_owned());
    needs.extend(task.also.iter().cloned());
    needs
}

/// Whether a part is told by what goes with it.
fn is_fitting(kind: &mechanism::Kind) -> bool {
    match kind {
        mechanism::Kind::Handle { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => true,
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. } => false,
    }
}

/// Whether a part is a gear that the pupils choose.
fn is_to_be_chosen(kind: &mechanism::Kind) -> bool {
    matches!(
        kind,
        mechanism::Kind::Gear {
            teeth: mechanism::Count::Unknown
        }
    )
}

/// What goes with a part.
fn goes_with(kind: &mechanism::Kind) -> &'static [&'static str] {
    match kind {
        mechanism::Kind::Handle { .. } => &["a handle"],
        mechanism::Kind::Motor => &["a low-voltage motor", "a battery box with a switch"],
        mechanism::Kind::Dynamo => &[
            "a small motor that serves as a dynamo",
            "a lamp that suits it",
        ],
        mechanism::Kind::Carrier => &["an arm that carries the gears round"],
        mechanism::Kind::Drum { .. } => &[
            "string and a light load",
            "a catch box with something soft in it",
        ],
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Roller { .. } => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(id: &str, check: impl Fn(&Card<'_>)) {
        let tasks = practical::usual();
        let task = tasks.tasks.iter().find(|task| task.id == id);
        check(&card(task.expect(id)));
    }

    #[test]
    fn a_card_has_its_answer_its_working_and_what_others_would_say() {
        of("count-turns", |card| {
            let worked = &card.worked[0];
            assert_eq!(worked.answer, "12 turns");
            assert!(
                worked
                    .steps
                    .concat()
                    .contains("4 turns × 36 ÷ 12 = 12 turns")
            );
            let others: Vec<&str> = worked.others.iter().map(|(_, it)| it.as_str()).collect();
            assert!(others.contains(&"4 turns"), "{others:?}");
            assert!(!others.contains(&"12 turns"), "{others:?}");
            assert!(!card.ideas.is_empty());
        });
    }

    #[test]
    fn what_is_needed_goes_by_the_parts() {
        for (id, wanted, unwanted) in [
            (
                "motor-slowed-down",
                "a battery box with a switch",
                "a handle",
            ),
            (
                "winch",
                "a catch box with something soft in it",
                "a battery box with a switch",
            ),
            ("belt-and-pulleys", "a belt that fits", "a chain that fits"),
            (
                "chain-like-a-bicycle",
                "a chain that fits",
                "a belt that fits",
            ),
            (
                "choose-a-pair",
                "a handle",
                "gear A with an unknown number of teeth",
            ),
        ] {
            of(id, |card| {
                assert!(
                    card.needs.iter().any(|it| it == wanted),
                    "{id}: {:?}",
                    card.needs
                );
                assert!(
                    !card.needs.iter().any(|it| it == unwanted),
                    "{id}: {:?}",
                    card.needs
                );
            });
        }
    }

    #[test]
    fn where_there_are_no_teeth_nobody_speaks_of_them() {
        of("belt-and-pulleys", |card| {
            assert!(!card.ideas.is_empty());
            assert!(
                card.ideas.iter().all(|it| !it.contains("teeth")),
                "{:?}",
                card.ideas
            );
        });
    }
}
