//! Questions and answers in words.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::wording::numbers;
use crate::wording::parts;

/// Returns a question in words.
pub(crate) fn question(mechanism: &mechanism::Mechanism, asked: &ask::Ask) -> String {
    let name = |part: &mechanism::PartId| parts::name(mechanism, *part);
    match asked {
        ask::Ask::Turns(part) => format!("How many turns does {} make?", name(part)),
        ask::Ask::Speed(part) => format!("How many turns a minute does {} make?", name(part)),
        ask::Ask::Direction(part) => {
            let verb = if parts::slides(mechanism, *part) {
                "move"
            } else {
                "turn"
            };
            format!("Which way does {} {verb}?", name(part))
        }
        ask::Ask::SameWay(first, second) => {
            format!("Do {} and {} turn the same way?", name(first), name(second))
        }
        ask::Ask::Faster(first, second) => {
            format!("Which turns faster: {} or {}?", name(first), name(second))
        }
        ask::Ask::Stronger(first, second) => format!(
            "Which has the greater turning force: {} or {}?",
            name(first),
            name(second)
        ),
        ask::Ask::TurnsRatio(first, second) => format!(
            "What is the ratio of the turns of {} to the turns of {}?",
            name(first),
            name(second)
        ),
        ask::Ask::TeethRatio(first, second) => format!(
            "What is the ratio of the teeth of {} to the teeth of {}?",
            name(first),
            name(second)
        ),
        ask::Ask::Teeth(part) => format!("How many teeth does {} have?", name(part)),
        ask::Ask::Starts(part) => format!("How many starts does {} have?", name(part)),
        ask::Ask::Force(part) => format!("How large is the force at {}?", name(part)),
        ask::Ask::TurningForce(part) => {
            format!("How large is the turning force of {}?", name(part))
        }
        ask::Ask::Distance(part) => match kind_word(mechanism, *part) {
            "drum" => format!("How far does the string of {} move?", name(part)),
            "wheel" => format!("How far does {} roll?", name(part)),
            _ => format!("How far does {} move?", name(part)),
        },
        ask::Ask::CentreDistance(first, second) => format!(
            "How far apart are the axles of {} and {}?",
            name(first),
            name(second)
        ),
        ask::Ask::PitchDiameter(part) => format!("What is the pitch diameter of {}?", name(part)),
        ask::Ask::TipDiameter(part) => {
            format!("What is the diameter of {} over its tips?", name(part))
        }
        ask::Ask::RootDiameter(part) => {
            format!("What is the diameter of {} at its roots?", name(part))
        }
        ask::Ask::ToothSize(part) => format!("What is the tooth size of {}?", name(part)),
        ask::Ask::WillItTurn => "Will it turn?".to_owned(),
        ask::Ask::Name(part) => format!("What is part {} called?", letter(mechanism, *part)),
        ask::Ask::Job(part) => format!("What is the job of {}?", name(part)),
        ask::Ask::Stages(total) => format!(
            "How many such stages in a row give {} in all?",
            numbers::plain(*total)
        ),
        ask::Ask::MeetAgain(first, second) => format!(
            "After how many turns of {} do the same two teeth of {} and {} meet again?",
            name(first),
            name(first),
            name(second)
        ),
        ask::Ask::Choose { parts, from } => {
            let box_text: Vec<String> = from.iter().map(u32::to_string).collect();
            format!(
                "Which gears from the box fit for {}? The box has gears with {} teeth.",
                parts::names(mechanism, parts),
                parts::list(&box_text)
            )
        }
        ask::Ask::Why(explained) => why(mechanism, *explained),
    }
}

/// Why an answer is what it is: with the question itself, so that nothing is told.
fn why(mechanism: &mechanism::Mechanism, explained: ask::Explained) -> String {
    let asked = question(mechanism, &explained.ask());
    format!("{asked} Why is that so?")
}

/// Returns an answer in words.
pub(crate) fn said(mechanism: &mechanism::Mechanism, asked: &ask::Ask, fact: &ask::Fact) -> String {
    match fact {
        ask::Fact::Quantity { value, unit } => numbers::amount(*value, *unit),
        ask::Fact::Ratio(first, second) => {
            format!("{} : {}", numbers::plain(*first), numbers::plain(*second))
        }
        ask::Fact::Sense(sense) => parts::sense(*sense).to_owned(),
        ask::Fact::YesNo(true) => "yes".to_owned(),
        ask::Fact::YesNo(false) => "no".to_owned(),
        ask::Fact::Which(which) => which_text(mechanism, asked, *which),
        ask::Fact::Name(name) => parts::trade_name(*name).to_owned(),
        ask::Fact::Job(job) => parts::job(*job).to_owned(),
        ask::Fact::Choices(choices) => {
            let said: Vec<String> = choices
                .iter()
                .map(|choice| one_choice(mechanism, asked, choice))
                .collect();
            if said.is_empty() {
                "no gears in the box fit".to_owned()
            } else {
                said.join("; or ")
            }
        }
        ask::Fact::Reasons(reasons) => {
            let asked = if let ask::Ask::Why(explained) = asked {
                explained.ask()
            } else {
                asked.clone()
            };
            let ideas: Vec<&str> = reasons.key.iter().map(|idea| idea.name()).collect();
            format!(
                "{}: {}",
                said(mechanism, &asked, &reasons.conclusion),
                ideas.join("; or ")
            )
        }
    }
}

fn which_text(mechanism: &mechanism::Mechanism, asked: &ask::Ask, which: ask::Which) -> String {
    let (first, second) =
        if let ask::Ask::Faster(first, second) | ask::Ask::Stronger(first, second) = asked {
            (
                parts::name(mechanism, *first),
                parts::name(mechanism, *second),
            )
        } else {
            ("the first".to_owned(), "the second".to_owned())
        };
    match which {
        ask::Which::First => first,
        ask::Which::Second => second,
        ask::Which::Same => "both the same".to_owned(),
    }
}

fn one_choice(mechanism: &mechanism::Mechanism, asked: &ask::Ask, choice: &[u32]) -> String {
    let labels: Vec<String> = if let ask::Ask::Choose { parts, .. } = asked {
        parts
            .iter()
            .map(|part| parts::name(mechanism, *part))
            .collect()
    } else {
        Vec::new()
    };
    let said: Vec<String> = choice
        .iter()
        .enumerate()
        .map(|(index, teeth)| match labels.get(index) {
            Some(label) => format!("{label} with {teeth} teeth"),
            None => format!("{teeth} teeth"),
        })
        .collect();
    parts::list(&said)
}

fn kind_word(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> &'static str {
    mechanism
        .parts
        .get(usize::from(part.0))
        .map_or("part", |part| parts::kind(&part.kind))
}

fn letter(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> &str {
    mechanism
        .parts
        .get(usize::from(part.0))
        .map_or("?", |part| part.name.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    #[test]
    fn questions_and_answers_read_as_english() {
        let mechanism =
            notation::read(&["gear A ? drives gear B ?", "B, drum D 80 mm on one axle"])
                .expect("well formed");
        for (line, fact, question_text, answer_text) in [
            (
                "faster of A, B",
                ask::Fact::Which(ask::Which::First),
                "Which turns faster: gear A or gear B?",
                "gear A",
            ),
            (
                "distance of D",
                ask::Fact::Quantity {
                    value: crate::number::Value::PI,
                    unit: ask::Unit::Millimetres,
                },
                "How far does the string of drum D move?",
                "π mm (about 3.142 mm)",
            ),
            (
                "choose A, B from 8, 16, 24",
                ask::Fact::Choices(vec![vec![8, 16]]),
                "Which gears from the box fit for gear A and gear B? The box has gears with 8, 16 and 24 teeth.",
                "gear A with 8 teeth and gear B with 16 teeth",
            ),
        ] {
            let asked = notation::read_ask(line, &mechanism).expect("well formed");
            assert_eq!(question(&mechanism, &asked), question_text);
            assert_eq!(said(&mechanism, &asked, &fact), answer_text);
        }
    }
}
