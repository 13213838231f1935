//! One line read as a statement, before the parts are known.
//!
//! Source: SI Brochure, 9th edition (2019), table 7 (centi, milli) and table 8
//! (a minute is 60 s, an hour 60 minutes).

use crate::gears::mechanism;
use crate::gears::notation::part;
use crate::gears::notation::text;
use crate::number;
use std::ops::Range;

/// How a joint is said to be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct By {
    pub(crate) link: mechanism::Link,
    pub(crate) span: Range<usize>,
}

/// The verb of a motion: what can be said to move so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Verb {
    Turns,
    RunsAt,
    Moves,
}

/// What one line says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Statement {
    /// These parts are there.
    Parts(Vec<part::Mention>),
    /// Each drives the next.
    Drives {
        chain: Vec<part::Mention>,
        by: Option<By>,
    },
    /// Two mesh, no driver named.
    Meshes {
        first: part::Mention,
        second: part::Mention,
        by: Option<By>,
    },
    /// These stand on one axle.
    OneAxle(Vec<part::Mention>),
    /// The first's axle rides on the second.
    RidesOn {
        planet: part::Mention,
        carrier: part::Mention,
    },
    Motion {
        part: part::Mention,
        verb: Verb,
        amount: Option<mechanism::Amount>,
        sense: Option<mechanism::Sense>,
        /// Where the amount and sense stand.
        span: Range<usize>,
    },
    Held(part::Mention),
    Minutes {
        minutes: number::Number,
        span: Range<usize>,
    },
    Force {
        part: part::Mention,
        newtons: number::Number,
    },
    TurningForce {
        part: part::Mention,
        newton_cm: number::Number,
    },
    Efficiency {
        share: number::Number,
        span: Range<usize>,
    },
    ToothSize {
        mm: number::Number,
        /// Every toothed part where empty.
        on: Vec<part::Mention>,
        span: Range<usize>,
    },
    Apart {
        first: part::Mention,
        second: part::Mention,
        mm: number::Number,
    },
    TakenOut {
        first: part::Mention,
        second: part::Mention,
    },
}

impl Statement {
    /// Every part it mentions, in the order of the line.
    pub(crate) fn mentions(&self) -> Vec<&part::Mention> {
        match self {
            Self::Parts(parts) | Self::OneAxle(parts) => parts.iter().collect(),
            Self::Drives { chain, .. } => chain.iter().collect(),
            Self::Meshes { first, second, .. }
            | Self::Apart { first, second, .. }
            | Self::TakenOut { first, second } => vec![first, second],
            Self::RidesOn { planet, carrier } => vec![planet, carrier],
            Self::Motion { part, .. }
            | Self::Held(part)
            | Self::Force { part, .. }
            | Self::TurningForce { part, .. } => vec![part],
            Self::ToothSize { on, .. } => on.iter().collect(),
            Self::Minutes { .. } | Self::Efficiency { .. } => Vec::new(),
        }
    }
}

/// What can follow a part at the start of a line.
const AFTER_A_PART: [&str; 10] = [
    "drives",
    "meshes with",
    "turns",
    "runs at",
    "moves",
    "held still",
    "rides on",
    "on one axle",
    "taken out",
    "and",
];

/// What a line can begin with, other than a part.
const BEGINNINGS: [&str; 5] = ["for", "force", "turning force", "efficiency", "tooth size"];

/// Returns what a line says; nothing for an empty line.
pub(crate) fn read(line: &str) -> Result<Option<Statement>, text::Fault> {
    let mut cursor = text::Cursor::new(line);
    if cursor.is_at_end() {
        return Ok(None);
    }
    let statement = match cursor.take_one(&BEGINNINGS) {
        Some(0) => minutes(&mut cursor),
        Some(1) => force(&mut cursor),
        Some(2) => turning_force(&mut cursor),
        Some(3) => efficiency(&mut cursor),
        Some(4) => tooth_size(&mut cursor),
        Some(_) | None => about_parts(&mut cursor),
    }?;
    Ok(Some(statement))
}

fn about_parts(cursor: &mut text::Cursor) -> Result<Statement, text::Fault> {
    let first = first_mention(cursor)?;
    if cursor.is_at_end() {
        return Ok(Statement::Parts(vec![first]));
    }
    if cursor.take("drives") {
        return drives(cursor, first);
    }
    if cursor.take("meshes with") {
        let second = part::mention(cursor, part::Sizes::Read)?;
        let by = by(cursor)?;
        cursor.expect_end("the second part", &["by chain", "by belt"])?;
        return Ok(Statement::Meshes { first, second, by });
    }
    if cursor.take("turns") {
        return turns(cursor, first);
    }
    if cursor.take("runs at") {
        return runs_at(cursor, first);
    }
    if cursor.take("moves") {
        return moves(cursor, first);
    }
    if cursor.take("held still") || cursor.take("is held still") {
        cursor.expect_end("\"held still\"", &[])?;
        return Ok(Statement::Held(first));
    }
    if cursor.take("rides on") {
        let carrier = part::mention(cursor, part::Sizes::Left)?;
        cursor.expect_end("the carrier", &[])?;
        return Ok(Statement::RidesOn {
            planet: first,
            carrier,
        });
    }
    if cursor.take("and") {
        let second = part::mention(cursor, part::Sizes::Left)?;
        let mm = part::length_mm(cursor, "how far apart, such as 60 mm")?;
        cursor.expect("apart")?;
        cursor.expect_end("\"apart\"", &[])?;
        return Ok(Statement::Apart { first, second, mm });
    }
    if cursor.is_at(",") {
        return list(cursor, first);
    }
    let mut fault = after_a_part(cursor);
    if first.kind.is_none() && cursor.is_at_amount() {
        fault.hint = format!(
            "say what {name} is before its size, such as gear {name} 12",
            name = first.name
        );
    }
    Err(fault)
}

fn first_mention(cursor: &mut text::Cursor) -> Result<part::Mention, text::Fault> {
    let mut words = part::kind_words();
    words.extend(BEGINNINGS);
    let is_part = cursor.word().is_some_and(|word| {
        text::is_name(&word.to_uppercase())
            || part::kind_words()
                .iter()
                .any(|kind| kind.eq_ignore_ascii_case(word))
    });
    if is_part {
        part::mention(cursor, part::Sizes::Read)
    } else {
        let wanted = "a part, such as \"gear A 12\", or what is given, such as \"for 5 minutes\"";
        Err(cursor.wanted(wanted, &words))
    }
}

fn after_a_part(cursor: &text::Cursor) -> text::Fault {
    let quoted: Vec<String> = AFTER_A_PART
        .iter()
        .map(|words| format!("\"{words}\""))
        .collect();
    cursor.wanted(
        &format!("what the part does: {}", quoted.join(", ")),
        &AFTER_A_PART,
    )
}

fn drives(cursor: &mut text::Cursor, first: part::Mention) -> Result<Statement, text::Fault> {
    let mut chain = vec![first, part::mention(cursor, part::Sizes::Read)?];
    while cursor.take("drives") {
        chain.push(part::mention(cursor, part::Sizes::Read)?);
    }
    let by = by(cursor)?;
    cursor.expect_end("the driven part", &["drives", "by chain", "by belt"])?;
    Ok(Statement::Drives { chain, by })
}

fn by(cursor: &mut text::Cursor) -> Result<Option<By>, text::Fault> {
    const WAYS: [(&str, mechanism::Link); 4] = [
        ("chain", mechanism::Link::Chain),
        ("belt", mechanism::Link::Belt),
        ("open belt", mechanism::Link::Belt),
        ("crossed belt", mechanism::Link::CrossedBelt),
    ];
    let start = cursor.place();
    if !cursor.take("by") {
        return Ok(None);
    }
    let words = WAYS.map(|(words, _)| words);
    let index = cursor
        .take_one(&words)
        .ok_or_else(|| cursor.wanted("\"chain\", \"belt\" or \"crossed belt\"", &words))?;
    let span = cursor.since(&start);
    Ok(WAYS.get(index).map(|(_, link)| By { link: *link, span }))
}

fn list(cursor: &mut text::Cursor, first: part::Mention) -> Result<Statement, text::Fault> {
    let mut parts = vec![first];
    while cursor.take(",") {
        parts.push(part::mention(cursor, part::Sizes::Read)?);
    }
    if cursor.take("on one axle") {
        cursor.expect_end("\"on one axle\"", &[])?;
        return Ok(Statement::OneAxle(parts));
    }
    let start = cursor.place();
    if cursor.take("taken out") {
        let span = cursor.since(&start);
        cursor.expect_end("\"taken out\"", &[])?;
        let Ok([first, second]) = <[part::Mention; 2]>::try_from(parts) else {
            return Err(text::Fault::new(
                span,
                "found more than two parts taken out, wanted the two gears of one stage",
                "write a line for each stage",
            ));
        };
        return Ok(Statement::TakenOut { first, second });
    }
    cursor.expect_end("the list of parts", &["on one axle", "taken out"])?;
    Ok(Statement::Parts(parts))
}

fn sense(cursor: &mut text::Cursor) -> Option<mechanism::Sense> {
    const SENSES: [(&str, mechanism::Sense); 4] = [
        ("clockwise", mechanism::Sense::Clockwise),
        ("anticlockwise", mechanism::Sense::Anticlockwise),
        ("left", mechanism::Sense::Left),
        ("right", mechanism::Sense::Right),
    ];
    let index = cursor.take_one(&SENSES.map(|(word, _)| word))?;
    SENSES.get(index).map(|(_, sense)| *sense)
}

const TURNING: [&str; 2] = ["clockwise", "anticlockwise"];
const SLIDING: [&str; 2] = ["left", "right"];

fn turns(cursor: &mut text::Cursor, part: part::Mention) -> Result<Statement, text::Fault> {
    let start = cursor.place();
    let amount = if cursor.is_at_amount() {
        let turns = cursor.number("a number of turns")?;
        cursor.take_one(&["times", "turns", "turn"]);
        Some(mechanism::Amount::Turns(turns))
    } else {
        None
    };
    let sense = sense(cursor);
    if amount.is_none() && sense.is_none() {
        let wanted = "how often or which way, such as \"9\" or \"clockwise\"";
        return Err(cursor.wanted(wanted, &TURNING));
    }
    let span = cursor.since(&start);
    match sense {
        Some(_) => cursor.expect_end("the direction", &[])?,
        None => cursor.expect_end("the number of turns", &TURNING)?,
    }
    Ok(Statement::Motion {
        part,
        verb: Verb::Turns,
        amount,
        sense,
        span,
    })
}

fn runs_at(cursor: &mut text::Cursor, part: part::Mention) -> Result<Statement, text::Fault> {
    const UNITS: [&str; 4] = [
        "rpm",
        "turns a minute",
        "turns per minute",
        "turns each minute",
    ];
    let start = cursor.place();
    let speed = cursor.number("a speed, such as 120 rpm")?;
    if cursor.take_one(&UNITS).is_none() {
        return Err(cursor.wanted("the unit \"rpm\" (turns a minute)", &UNITS));
    }
    let sense = sense(cursor);
    let span = cursor.since(&start);
    match sense {
        Some(_) => cursor.expect_end("the direction", &[])?,
        None => cursor.expect_end("the speed", &TURNING)?,
    }
    Ok(Statement::Motion {
        part,
        verb: Verb::RunsAt,
        amount: Some(mechanism::Amount::Rpm(speed)),
        sense,
        span,
    })
}

fn moves(cursor: &mut text::Cursor, part: part::Mention) -> Result<Statement, text::Fault> {
    let start = cursor.place();
    let amount = if cursor.is_at_amount() {
        Some(mechanism::Amount::Millimetres(distance(cursor)?))
    } else {
        None
    };
    let sense = sense(cursor);
    if amount.is_none() && sense.is_none() {
        let wanted = "how far or which way, such as \"120 mm\" or \"left\"";
        return Err(cursor.wanted(wanted, &SLIDING));
    }
    let span = cursor.since(&start);
    match sense {
        Some(_) => cursor.expect_end("the direction", &[])?,
        None => cursor.expect_end("the distance", &SLIDING)?,
    }
    Ok(Statement::Motion {
        part,
        verb: Verb::Moves,
        amount,
        sense,
        span,
    })
}

/// Reads a distance that may have pi in it: `120 mm`, `40 pi mm`.
fn distance(cursor: &mut text::Cursor) -> Result<number::Value, text::Fault> {
    let start = cursor.place();
    let factor = cursor.number("a distance, such as 120 mm")?;
    let mut value = number::Value::from(factor);
    if cursor.take("pi") || cursor.take("\u{3c0}") {
        let upwards = if cursor.take("^ -") {
            false
        } else if cursor.take("^") {
            true
        } else {
            let value = part::too_large(value.times(number::Value::PI), cursor.since(&start))?;
            return in_millimetres(cursor, value, &start);
        };
        let power = cursor.count("a power of pi", 9)?;
        for _ in 0..power {
            let next = if upwards {
                value.times(number::Value::PI)
            } else {
                value.divided_by(number::Value::PI)
            };
            value = part::too_large(next, cursor.since(&start))?;
        }
    }
    in_millimetres(cursor, value, &start)
}

fn in_millimetres(
    cursor: &mut text::Cursor,
    value: number::Value,
    start: &Range<usize>,
) -> Result<number::Value, text::Fault> {
    let scale = part::length_unit(cursor)?;
    part::too_large(value.times(scale.into()), cursor.since(start))
}

fn minutes(cursor: &mut text::Cursor) -> Result<Statement, text::Fault> {
    const UNITS: [(&str, i64); 6] = [
        ("minutes", 60),
        ("minute", 60),
        ("seconds", 1),
        ("second", 1),
        ("hours", 3600),
        ("hour", 3600),
    ];
    let start = cursor.place();
    let time = cursor.number("how long, such as 5 minutes")?;
    let words = UNITS.map(|(word, _)| word);
    let index = cursor
        .take_one(&words)
        .ok_or_else(|| cursor.wanted("\"minutes\", \"seconds\" or \"hours\"", &words))?;
    let seconds = UNITS.get(index).map_or(60, |(_, seconds)| *seconds);
    let span = cursor.since(&start);
    let minutes = number::Number::ratio(seconds, 60).and_then(|scale| time.times(scale));
    let minutes = part::too_large(minutes, span.clone())?;
    cursor.expect_end("the time", &[])?;
    Ok(Statement::Minutes { minutes, span })
}

fn force(cursor: &mut text::Cursor) -> Result<Statement, text::Fault> {
    let newtons = cursor.number("a force, such as 20 N")?;
    if cursor.take_one(&["n", "newtons", "newton"]).is_none() {
        return Err(cursor.wanted("the unit \"N\" (newtons)", &["newtons"]));
    }
    if cursor.take_one(&["at", "on"]).is_none() {
        return Err(cursor.wanted("\"at\" and the part it acts on", &["at"]));
    }
    let part = part::mention(cursor, part::Sizes::Read)?;
    cursor.expect_end("the part", &[])?;
    Ok(Statement::Force { part, newtons })
}

fn turning_force(cursor: &mut text::Cursor) -> Result<Statement, text::Fault> {
    const UNITS: [(&str, i64); 9] = [
        ("n cm", 10),
        ("ncm", 10),
        ("newton centimetres", 10),
        ("n mm", 1),
        ("nmm", 1),
        ("newton millimetres", 1),
        ("n m", 1000),
        ("nm", 1000),
        ("newton metres", 1000),
    ];
    let start = cursor.place();
    let size = cursor.number("a turning force, such as 50 N cm")?;
    let words = UNITS.map(|(words, _)| words);
    let index = cursor
        .take_one(&words)
        .ok_or_else(|| cursor.wanted("the unit \"N cm\", \"N m\" or \"N mm\"", &[]))?;
    let scale = UNITS.get(index).map_or(10, |(_, tenths)| *tenths);
    let newton_cm = number::Number::ratio(scale, 10).and_then(|scale| size.times(scale));
    let newton_cm = part::too_large(newton_cm, cursor.since(&start))?;
    if cursor.take_one(&["on", "at"]).is_none() {
        return Err(cursor.wanted("\"on\" and the part it acts on", &["on"]));
    }
    let part = part::mention(cursor, part::Sizes::Read)?;
    cursor.expect_end("the part", &[])?;
    Ok(Statement::TurningForce { part, newton_cm })
}

fn efficiency(cursor: &mut text::Cursor) -> Result<Statement, text::Fault> {
    let start = cursor.place();
    let mut share = cursor.number("the share that is passed on, such as 9/10 or 90 %")?;
    if cursor.take("%") || cursor.take("percent") || cursor.take("per cent") {
        let hundredth = share.divided_by(number::Number::whole(100));
        share = part::too_large(hundredth, cursor.since(&start))?;
    }
    let span = cursor.since(&start);
    cursor.expect_end("the efficiency", &["%"])?;
    if !share.is_positive() || share > number::Number::ONE {
        return Err(text::Fault::new(
            span,
            format!(
                "found an efficiency of {}, wanted more than 0 and at most 1",
                part::number_text(share)
            ),
            "write a share such as 9/10, or percent with its sign, such as 90 %",
        ));
    }
    Ok(Statement::Efficiency { share, span })
}

fn tooth_size(cursor: &mut text::Cursor) -> Result<Statement, text::Fault> {
    let start = cursor.place();
    let mm = part::length_mm(cursor, "a tooth size, such as 2 mm")?;
    let span = cursor.since(&start);
    let mut on = Vec::new();
    if cursor.take("on") {
        on.push(part::mention(cursor, part::Sizes::Read)?);
        while cursor.take(",") || cursor.take("and") {
            on.push(part::mention(cursor, part::Sizes::Read)?);
        }
        cursor.expect_end("the parts", &[])?;
    } else {
        cursor.expect_end("the tooth size", &["on"])?;
    }
    Ok(Statement::ToothSize { mm, on, span })
}
