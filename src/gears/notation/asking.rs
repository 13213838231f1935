//! A line as a question about a mechanism.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation::LARGEST_COUNT;
use crate::gears::notation::part;
use crate::gears::notation::text;
use crate::gears::notation::writing;
use crate::number;

/// What follows the words of a question.
#[derive(Clone, Copy)]
enum Shape {
    /// One part.
    One(fn(mechanism::PartId) -> ask::Ask),
    /// Two parts, `A, B`.
    Two(fn(mechanism::PartId, mechanism::PartId) -> ask::Ask),
    /// Two parts in an order, `A : B`.
    Ratio(fn(mechanism::PartId, mechanism::PartId) -> ask::Ask),
    /// Nothing: whether it turns at all.
    WillItTurn,
    /// A number.
    Number(fn(number::Number) -> ask::Ask),
    /// Parts, and a box to choose from.
    Choice,
}

/// What stands before a question to ask why its answer is what it is.
const WHY: &str = "why";

const QUESTIONS: [(&str, Shape); 24] = [
    ("turns of", Shape::One(ask::Ask::Turns)),
    ("speed of", Shape::One(ask::Ask::Speed)),
    ("direction of", Shape::One(ask::Ask::Direction)),
    ("same way", Shape::Two(ask::Ask::SameWay)),
    ("faster of", Shape::Two(ask::Ask::Faster)),
    ("stronger of", Shape::Two(ask::Ask::Stronger)),
    ("ratio of turns", Shape::Ratio(ask::Ask::TurnsRatio)),
    ("ratio of teeth", Shape::Ratio(ask::Ask::TeethRatio)),
    ("teeth of", Shape::One(ask::Ask::Teeth)),
    ("starts of", Shape::One(ask::Ask::Starts)),
    ("force at", Shape::One(ask::Ask::Force)),
    ("turning force of", Shape::One(ask::Ask::TurningForce)),
    ("distance of", Shape::One(ask::Ask::Distance)),
    ("centre distance of", Shape::Two(ask::Ask::CentreDistance)),
    ("pitch diameter of", Shape::One(ask::Ask::PitchDiameter)),
    ("tip diameter of", Shape::One(ask::Ask::TipDiameter)),
    ("root diameter of", Shape::One(ask::Ask::RootDiameter)),
    ("tooth size of", Shape::One(ask::Ask::ToothSize)),
    ("will it turn", Shape::WillItTurn),
    ("name of", Shape::One(ask::Ask::Name)),
    ("job of", Shape::One(ask::Ask::Job)),
    ("stages for", Shape::Number(ask::Ask::Stages)),
    ("meet again", Shape::Two(ask::Ask::MeetAgain)),
    ("choose", Shape::Choice),
];

/// Whether a line begins with the words of a question.
pub(crate) fn begins_like_one(line: &str) -> bool {
    let mut cursor = text::Cursor::new(line);
    cursor.take(WHY);
    QUESTIONS.iter().any(|(words, _)| cursor.is_at(words))
}

/// Returns the question that a line asks.
pub(crate) fn read(line: &str, mechanism: &mechanism::Mechanism) -> Result<ask::Ask, text::Fault> {
    let mut cursor = text::Cursor::new(line);
    let start = cursor.place();
    let is_why = cursor.take(WHY);
    let longest = QUESTIONS
        .iter()
        .filter(|(words, _)| cursor.is_at(words))
        .max_by_key(|(words, _)| words.len());
    let Some((words, shape)) = longest else {
        let known = QUESTIONS.map(|(words, _)| words);
        let mut fault = cursor.wanted("a question, such as \"turns of B\"", &known);
        if fault.hint.is_empty() {
            fault.hint = format!("a question begins with one of: {}", known.join(", "));
        }
        return Err(fault);
    };
    cursor.take(words);
    let asked = match shape {
        Shape::One(of) => of(asked_part(&mut cursor, mechanism)?),
        Shape::Two(of) => {
            let (first, second) = two(&mut cursor, mechanism, &[",", "and", "or"])?;
            of(first, second)
        }
        Shape::Ratio(of) => {
            let (first, second) = two(&mut cursor, mechanism, &[":", "to"])?;
            of(first, second)
        }
        Shape::WillItTurn => ask::Ask::WillItTurn,
        Shape::Number(of) => of(cursor.number("a total ratio, such as 27")?),
        Shape::Choice => choice(&mut cursor, mechanism)?,
    };
    let asked = if is_why {
        let explained = explained(&asked).ok_or_else(|| {
            text::Fault::new(
                cursor.since(&start),
                format!("found \"why {words}\", and there is no explanation of that"),
                "after why comes one of: direction of, same way, faster of, stronger of, will it turn",
            )
        })?;
        ask::Ask::Why(explained)
    } else {
        asked
    };
    cursor.take("?");
    cursor.expect_end("the question", &[])?;
    Ok(asked)
}

/// The question as one whose answer can be explained.
fn explained(asked: &ask::Ask) -> Option<ask::Explained> {
    Some(match asked {
        ask::Ask::Direction(part) => ask::Explained::Direction(*part),
        ask::Ask::SameWay(first, second) => ask::Explained::SameWay(*first, *second),
        ask::Ask::Faster(first, second) => ask::Explained::Faster(*first, *second),
        ask::Ask::Stronger(first, second) => ask::Explained::Stronger(*first, *second),
        ask::Ask::WillItTurn => ask::Explained::WillItTurn,
        ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
        | ask::Ask::TurnsRatio(..)
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
        | ask::Ask::Why(_) => return None,
    })
}

fn two(
    cursor: &mut text::Cursor,
    mechanism: &mechanism::Mechanism,
    between: &[&str],
) -> Result<(mechanism::PartId, mechanism::PartId), text::Fault> {
    let first = asked_part(cursor, mechanism)?;
    if cursor.take_one(between).is_none() {
        let sign = between.first().copied().unwrap_or(",");
        return Err(cursor.wanted(&format!("\"{sign}\" and a second part"), between));
    }
    let place = cursor.place();
    let second = asked_part(cursor, mechanism)?;
    if first == second {
        let what = format!(
            "found {} twice, wanted two parts",
            writing::name(mechanism, first)
        );
        return Err(text::Fault::new(place, what, "name the other part"));
    }
    Ok((first, second))
}

fn choice(
    cursor: &mut text::Cursor,
    mechanism: &mechanism::Mechanism,
) -> Result<ask::Ask, text::Fault> {
    let mut parts = Vec::new();
    loop {
        let place = cursor.place();
        let part = asked_part(cursor, mechanism)?;
        if parts.contains(&part) {
            let what = format!(
                "found {} twice, wanted each part once",
                writing::name(mechanism, part)
            );
            return Err(text::Fault::new(place, what, "name the other part"));
        }
        parts.push(part);
        if !cursor.take(",") && !cursor.take("and") {
            break;
        }
    }
    cursor.expect("from")?;
    let mut from = Vec::new();
    loop {
        from.push(cursor.count("a number of teeth in the box", LARGEST_COUNT)?);
        if !cursor.take(",") && !cursor.take("and") {
            break;
        }
    }
    Ok(ask::Ask::Choose { parts, from })
}

/// Reads a part of the mechanism by its name; its kind may stand before it.
fn asked_part(
    cursor: &mut text::Cursor,
    mechanism: &mechanism::Mechanism,
) -> Result<mechanism::PartId, text::Fault> {
    let start = cursor.place();
    let kind = part::take_kind(cursor);
    let name = part::name(cursor, "the name of a part, such as A")?;
    let names: Vec<&str> = mechanism
        .parts
        .iter()
        .map(|part| part.name.as_str())
        .collect();
    let Some(index) = names.iter().position(|known| *known == name) else {
        return Err(text::Fault::new(
            cursor.since(&start),
            format!("found {name}, which is no part of the mechanism"),
            format!("the parts are {}", names.join(", ")),
        ));
    };
    let found = mechanism
        .parts
        .get(index)
        .map(|part| part::KindWord::of(&part.kind));
    if let (Some(said), Some(found)) = (kind, found)
        && said != found
    {
        return Err(text::Fault::new(
            cursor.since(&start),
            format!(
                "found {} {name}, but {name} is a {}",
                said.word(),
                found.word()
            ),
            "",
        ));
    }
    let index = u16::try_from(index).expect("a mechanism has fewer parts than 2^16");
    Ok(mechanism::PartId(index))
}

/// Returns the line of a question.
pub(crate) fn write(asked: &ask::Ask, mechanism: &mechanism::Mechanism) -> String {
    let name = |part: &mechanism::PartId| writing::name(mechanism, *part);
    let one = |words: &str, part| format!("{words} {}", name(part));
    let two = |words: &str, first, second| format!("{words} {}, {}", name(first), name(second));
    let ratio = |words: &str, first, second| format!("{words} {} : {}", name(first), name(second));
    match asked {
        ask::Ask::Turns(part) => one("turns of", part),
        ask::Ask::Speed(part) => one("speed of", part),
        ask::Ask::Direction(part) => one("direction of", part),
        ask::Ask::SameWay(first, second) => two("same way", first, second),
        ask::Ask::Faster(first, second) => two("faster of", first, second),
        ask::Ask::Stronger(first, second) => two("stronger of", first, second),
        ask::Ask::TurnsRatio(first, second) => ratio("ratio of turns", first, second),
        ask::Ask::TeethRatio(first, second) => ratio("ratio of teeth", first, second),
        ask::Ask::Teeth(part) => one("teeth of", part),
        ask::Ask::Starts(part) => one("starts of", part),
        ask::Ask::Force(part) => one("force at", part),
        ask::Ask::TurningForce(part) => one("turning force of", part),
        ask::Ask::Distance(part) => one("distance of", part),
        ask::Ask::CentreDistance(first, second) => two("centre distance of", first, second),
        ask::Ask::PitchDiameter(part) => one("pitch diameter of", part),
        ask::Ask::TipDiameter(part) => one("tip diameter of", part),
        ask::Ask::RootDiameter(part) => one("root diameter of", part),
        ask::Ask::ToothSize(part) => one("tooth size of", part),
        ask::Ask::WillItTurn => "will it turn".to_owned(),
        ask::Ask::Name(part) => one("name of", part),
        ask::Ask::Job(part) => one("job of", part),
        ask::Ask::Stages(total) => format!("stages for {}", part::number_text(*total)),
        ask::Ask::MeetAgain(first, second) => two("meet again", first, second),
        ask::Ask::Choose { parts, from } => {
            let parts: Vec<&str> = parts.iter().map(name).collect();
            let from: Vec<String> = from.iter().map(u32::to_string).collect();
            format!("choose {} from {}", parts.join(", "), from.join(", "))
        }
        ask::Ask::Why(explained) => format!("{WHY} {}", write(&explained.ask(), mechanism)),
    }
}
