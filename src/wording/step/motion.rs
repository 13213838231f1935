//! Steps that carry movement from part to part, over time and along a length.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::step;
use crate::number;
use crate::wording::numbers;
use crate::wording::parts;
use crate::wording::step::Known;

/// What is given, or supposed, at the start.
pub(super) fn start(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::Start {
        part,
        movement,
        sense,
    } = step
    else {
        return String::new();
    };
    let name = parts::capital_name(mechanism, *part);
    let way = sense.map_or(String::new(), |sense| format!(" {}", parts::way(sense)));
    match movement {
        Some(movement) if movement.value.factor.is_zero() => format!("{name} stands still."),
        Some(movement) => {
            let verb = if movement.unit == ask::Unit::Millimetres {
                "moves"
            } else {
                "makes"
            };
            let amount = numbers::with_unit(movement.value, movement.unit);
            format!("{name} {verb} {amount}{way}.")
        }
        None if way.is_empty() => format!("Start with {}.", parts::name(mechanism, *part)),
        None if parts::slides(mechanism, *part) => format!("{name} moves{way}."),
        None => format!("{name} turns{way}."),
    }
}

/// One part drives another: the calculation, then the direction.
pub(super) fn drive(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::Drive {
        to,
        from_size,
        to_size,
        before,
        after,
        ..
    } = step
    else {
        return String::new();
    };
    let name = parts::capital_name(mechanism, *to);
    let turn = turn(mechanism, step);
    // Sums with a rack have no size to divide by; there only the direction matters.
    let has_sizes = !from_size.factor.is_zero() && !to_size.factor.is_zero();
    let sum = match (before, after) {
        (Some(before), Some(after)) if has_sizes => Some(format!(
            "{name}: {} × {} ÷ {} = {}.",
            numbers::with_unit(before.value, before.unit),
            numbers::value(*from_size),
            numbers::value(*to_size),
            numbers::amount(after.value, after.unit),
        )),
        (Some(_) | None, Some(_) | None) => None,
    };
    match (sum, turn) {
        (Some(sum), Some(turn)) => format!("{sum} {turn}"),
        (Some(said), None) | (None, Some(said)) => said,
        (None, None) => unknown_turn(mechanism, step),
    }
}

/// What happens to the direction, where it is known.
fn turn(mechanism: &mechanism::Mechanism, step: &step::Step) -> Option<String> {
    let step::Step::Drive {
        from,
        to,
        link,
        sense_before,
        sense_after,
        ..
    } = step
    else {
        return None;
    };
    let (before, after) = ((*sense_before)?, (*sense_after)?);
    let name = parts::capital_name(mechanism, *to);
    let way = parts::way(after);
    if parts::slides(mechanism, *to) {
        return Some(format!("{name} moves {way}."));
    }
    if parts::slides(mechanism, *from) {
        return Some(format!("{name} turns {way}."));
    }
    let compared = if before == after {
        "the same way"
    } else {
        "the other way"
    };
    let cause = match link {
        mechanism::Link::Mesh => return Some(format!("{name} turns {compared}: {way}.")),
        mechanism::Link::Chain => "chain",
        mechanism::Link::Belt => "belt",
        mechanism::Link::CrossedBelt => "crossed belt",
    };
    let name = parts::name(mechanism, *to);
    Some(format!("The {cause} turns {name} {compared}: {way}."))
}

/// How two joined parts turn where no direction is given.
fn unknown_turn(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::Drive { from, to, link, .. } = step else {
        return String::new();
    };
    let (name, other) = (
        parts::capital_name(mechanism, *to),
        parts::name(mechanism, *from),
    );
    let word = |part: &mechanism::PartId| {
        let part = mechanism.parts.get(usize::from(part.0));
        part.map_or("", |part| parts::kind(&part.kind))
    };
    let words = [word(from), word(to)];
    let is_any = |wanted: &str| words.contains(&wanted);
    if is_any("rack") || is_any("worm") {
        return format!("{name} moves with {other}.");
    }
    match link {
        mechanism::Link::Chain | mechanism::Link::Belt => {
            format!("{name} turns the same way as {other}.")
        }
        mechanism::Link::Mesh if is_any("ring gear") => {
            format!("{name} turns the same way as {other}.")
        }
        mechanism::Link::Mesh | mechanism::Link::CrossedBelt => {
            format!("{name} turns the other way from {other}.")
        }
    }
}

/// Turns, turns a minute and minutes.
pub(super) fn over_time(
    mechanism: &mechanism::Mechanism,
    step: &step::Step,
    known: &Known,
) -> String {
    let step::Step::OverTime {
        part,
        rpm,
        minutes,
        turns,
    } = step
    else {
        return String::new();
    };
    let name = parts::capital_name(mechanism, *part);
    let speed = numbers::with_unit(*rpm, ask::Unit::Rpm);
    let turns = numbers::with_unit(*turns, ask::Unit::Turns);
    let minutes = if *minutes == number::Number::ONE {
        "1 minute".to_owned()
    } else {
        format!("{} minutes", numbers::plain(*minutes))
    };
    if known.movement == ask::Unit::Turns {
        format!("{name}: {turns} ÷ {minutes} = {speed}.")
    } else {
        format!("{name}: {speed} × {minutes} = {turns}.")
    }
}

/// Turns and the length of rack, string or ground that goes with them.
pub(super) fn travel(mechanism: &mechanism::Mechanism, step: &step::Step, known: &Known) -> String {
    let step::Step::Travel {
        part,
        turns,
        diameter_mm,
        distance_mm,
    } = step
    else {
        return String::new();
    };
    let name = parts::capital_name(mechanism, *part);
    let across = numbers::plain(*diameter_mm);
    if known.movement == ask::Unit::Millimetres {
        let distance = numbers::with_unit(*distance_mm, ask::Unit::Millimetres);
        let turns = numbers::amount(*turns, ask::Unit::Turns);
        format!("{name}: {distance} ÷ (π × {across} mm) = {turns}.")
    } else {
        let turns = numbers::with_unit(*turns, ask::Unit::Turns);
        let distance = numbers::amount(*distance_mm, ask::Unit::Millimetres);
        format!("{name}: {turns} × π × {across} mm = {distance}.")
    }
}

/// The relation of a planetary set, with the numbers in it.
pub(super) fn planetary(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::Planetary {
        sun,
        ring,
        carrier,
        sun_teeth,
        ring_teeth,
        sun_moves,
        ring_moves,
        carrier_moves,
    } = step
    else {
        return String::new();
    };
    let (carrier, sun, ring) = (
        parts::name(mechanism, *carrier),
        parts::name(mechanism, *sun),
        parts::name(mechanism, *ring),
    );
    format!(
        "With clockwise turns counted as plus: ({sun_teeth} + {ring_teeth}) × {} for {carrier} \
         = {sun_teeth} × {} for {sun} + {ring_teeth} × {} for {ring}.",
        bracketed(*carrier_moves),
        bracketed(*sun_moves),
        bracketed(*ring_moves),
    )
}

/// A mesh seen from the carrier, then with the carrier's turns added.
pub(super) fn on_carrier(mechanism: &mechanism::Mechanism, step: &step::Step) -> String {
    let step::Step::OnCarrier {
        carrier,
        from,
        to,
        from_size,
        to_size,
        carrier_moves,
        from_moves,
        to_moves,
    } = step
    else {
        return String::new();
    };
    let (carrier, from, to) = (
        parts::name(mechanism, *carrier),
        parts::name(mechanism, *from),
        parts::name(mechanism, *to),
    );
    let (Ok(from_seen), Ok(to_seen)) = (
        from_moves.minus(*carrier_moves),
        to_moves.minus(*carrier_moves),
    ) else {
        return format!(
            "{}: {}.",
            parts::capital(&to),
            numbers::with_unit(*to_moves, ask::Unit::Turns)
        );
    };
    let way = if from_seen.factor.is_negative() == to_seen.factor.is_negative() {
        "the same way"
    } else {
        "the other way"
    };
    format!(
        "Seen from {carrier}, {from} makes {} and {to} makes {} × {} ÷ {} = {} {way}. \
         With the {} of {carrier} {to} makes {}.",
        numbers::with_unit(from_seen.magnitude(), ask::Unit::Turns),
        numbers::value(from_seen.magnitude()),
        numbers::value(*from_size),
        numbers::value(*to_size),
        numbers::with_unit(to_seen.magnitude(), ask::Unit::Turns),
        signed(*carrier_moves),
        signed(*to_moves),
    )
}

/// Turns with a sign, as turns one way or the other.
fn signed(turns: number::Value) -> String {
    let text = numbers::with_unit(turns.magnitude(), ask::Unit::Turns);
    if turns.factor.is_zero() {
        text
    } else if turns.factor.is_negative() {
        format!("{text} anticlockwise")
    } else {
        format!("{text} clockwise")
    }
}

/// A number in a sum: in brackets where it is below nought.
fn bracketed(value: number::Value) -> String {
    let text = numbers::value(value);
    if value.factor.is_negative() {
        format!("({text})")
    } else {
        text
    }
}
