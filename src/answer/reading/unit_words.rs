//! Units as pupils write them.

use crate::answer::Unit;
use crate::answer::reading::token;
use crate::number;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A unit as written, with what it makes of the number before it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Written {
    /// A unit of ours, after multiplying the number.
    Unit {
        /// The unit.
        unit: Unit,
        /// How many of it one of the unit written is.
        scale: number::Number,
    },
    /// A unit that no answer here can have.
    Other(String),
}

/// The words of each unit; several words are parted by a space.
const UNITS: [(Unit, &str); 11] = [
    (
        Unit::Turns,
        "\
         turn, turns, revs, rev, revolution, revolutions, rotation, rotations, spin, spins, \
         goes, rounds, turnings, rots, rot, rotates, twists, full turn, full turns, whole turn, \
         whole turns, complete turns, complete turn, full rotations, full rotation, times round, \
         times around, of a turn, a turn, turn round, turns round, turns around, circles, \
         full circles, cycles, laps, of turn, of one turn, of a rotation, of a revolution, \
         complete revolutions, full revolutions, tn, tns",
    ),
    (
        Unit::Rpm,
        "\
         rpm, rpms, tpm, rmp, prm, rpn, r m, rev per m, revs per minute, revs per min, rev per min, rev min, revs min, \
         turns per minute, turns a minute, turns per min, turns a min, turns min, turns minute, \
         turn per minute, turns every minute, turns in a minute, turns in one minute, \
         turns each minute, turns 1 min, turns in 1 minute, revolutions per minute, \
         revolutions a minute, revolutions per min, rotations per minute, rotations a minute, \
         rotations per min, times a minute, times per minute, times per min, times a min, \
         per minute, a minute, per min, a min, every minute, each minute, in a minute, \
         in one minute, revs a minute, revs a min, r per min, rot per min, revs every minute, \
         spins a minute, spins per minute, r min, turn a minute, rev a minute, rev per minute",
    ),
    (
        Unit::Teeth,
        "\
         teeth, tooth, teeths, tooths, cogs, toof, teef",
    ),
    (
        Unit::Starts,
        "\
         starts, start, threads, thread",
    ),
    (
        Unit::Stages,
        "\
         stages, stage, steps, pairs, pairs of gears, gear pairs, levels",
    ),
    (
        Unit::Millimetres,
        "\
         mm, mms, millimetre, millimetres, millimeter, millimeters, mil, mils, m m",
    ),
    (
        Unit::Centimetres,
        "\
         cm, cms, centimetre, centimetres, centimeter, centimeters, c m",
    ),
    (
        Unit::Metres,
        "\
         m, metre, metres, meter, meters",
    ),
    (
        Unit::Newtons,
        "\
         n, newton, newtons, ns",
    ),
    (
        Unit::NewtonCentimetres,
        "\
         ncm, n cm, n cms, newton cm, newtons cm, newton centimetres, newton centimetre, \
         newton centimeters, newton centimeter, newtons centimetres, newtoncm, newton cms, cm n, \
         cmn",
    ),
    (
        Unit::NewtonMetres,
        "\
         nm, n m, newton m, newton metres, newton metre, newton meters, newton meter, newtons m, \
         newtons metres, newtonmetres, newtonmeters",
    ),
];

/// Units that are so many of ours.
const MULTIPLES: [(&str, Unit, i64, i64); 22] = [
    ("turns per second", Unit::Rpm, 60, 1),
    ("turns a second", Unit::Rpm, 60, 1),
    ("revs per second", Unit::Rpm, 60, 1),
    ("rotations per second", Unit::Rpm, 60, 1),
    ("revolutions per second", Unit::Rpm, 60, 1),
    ("times a second", Unit::Rpm, 60, 1),
    ("per second", Unit::Rpm, 60, 1),
    ("a second", Unit::Rpm, 60, 1),
    ("rps", Unit::Rpm, 60, 1),
    ("turns per hour", Unit::Rpm, 1, 60),
    ("turns an hour", Unit::Rpm, 1, 60),
    ("degrees", Unit::Turns, 1, 360),
    ("degree", Unit::Turns, 1, 360),
    ("deg", Unit::Turns, 1, 360),
    ("half turns", Unit::Turns, 1, 2),
    ("quarter turns", Unit::Turns, 1, 4),
    ("quarter turn", Unit::Turns, 1, 4),
    ("half turn", Unit::Turns, 1, 2),
    ("kn", Unit::Newtons, 1000, 1),
    ("kilonewtons", Unit::Newtons, 1000, 1),
    ("km", Unit::Metres, 1000, 1),
    ("n mm", Unit::NewtonCentimetres, 1, 10),
];

/// Units that contradict any that can be asked for.
const OTHERS: &str = "\
    kg, kgs, kilograms, kilogram, kilos, g, grams, gram, s, sec, secs, seconds, second, \
    minutes, minute, mins, hours, hour, hrs, hr, mph, kmh, kph, w, watts, j, joules, \
    inches, inch, feet, miles, cm2, litres, l";

/// The longest unit in words.
const LONGEST: usize = 4;

/// Reads a unit off the front; `None` leaves the tokens as they were.
///
/// Between the words of a unit a point, a hyphen, a times sign or a stroke may
/// stand: `N·cm`, `rev/min`.
pub(super) fn unit(tokens: &mut &[token::Token]) -> Option<Written> {
    if let Some(first) = tokens.first()
        && first.sign() == Some('°')
    {
        *tokens = tokens.get(1..).unwrap_or_default();
        return named("degrees");
    }
    let candidates = openings(tokens);
    let (written, length) = candidates
        .iter()
        .rev()
        .find_map(|(words, length)| Some((named(words)?, *length)))
        .or_else(|| {
            candidates
                .iter()
                .find(|(words, _)| !words.contains(' '))
                .and_then(|(word, length)| Some((misspelt(word)?, *length)))
        })?;
    *tokens = tokens.get(length..).unwrap_or_default();
    Some(written)
}

/// The words at the front, one to four of them, each with how many tokens they take.
fn openings(tokens: &[token::Token]) -> Vec<(String, usize)> {
    let mut found = Vec::new();
    let mut words = String::new();
    let mut count = 0;
    for (index, token) in tokens.iter().enumerate() {
        if let Some(word) = token.word() {
            if !words.is_empty() {
                words.push(' ');
            }
            words.push_str(word);
            count += 1;
            found.push((words.clone(), index + 1));
        } else if !is_joint(token) {
            break;
        }
        if count == LONGEST {
            break;
        }
    }
    found
}

fn is_joint(token: &token::Token) -> bool {
    match token.sign() {
        Some('-' | '×' | '/' | '.') => token.glued,
        Some(_) | None => false,
    }
}

/// Whether the unit is turns, which may as well be a verb.
pub(super) fn is_turns(written: &Written) -> bool {
    match written {
        Written::Unit { unit, .. } => *unit == Unit::Turns,
        Written::Other(_) => false,
    }
}

/// Returns the unit that the words name, such as `per minute`.
pub(super) fn named(words: &str) -> Option<Written> {
    if let Some(unit) = UNIT_OF.get(words) {
        return Some(Written::Unit {
            unit: *unit,
            scale: number::Number::ONE,
        });
    }
    if let Some((_, unit, top, bottom)) = MULTIPLES.iter().find(|(known, ..)| *known == words) {
        return Some(Written::Unit {
            unit: *unit,
            scale: number::Number::ratio(*top, *bottom).ok()?,
        });
    }
    lists(OTHERS, words).then(|| Written::Other(words.to_owned()))
}

static UNIT_OF: LazyLock<BTreeMap<&'static str, Unit>> = LazyLock::new(|| {
    UNITS
        .iter()
        .flat_map(|(unit, known)| known.split(", ").map(|words| (words, *unit)))
        .collect()
});

/// Whether a list with commas names it.
fn lists(known: &str, words: &str) -> bool {
    known.split(", ").any(|known| known == words)
}

/// The long names that a misspelling is held against.
const LONG_NAMES: [(&str, Unit); 20] = [
    ("newton", Unit::Newtons),
    ("millimetre", Unit::Millimetres),
    ("centimetre", Unit::Centimetres),
    ("millimeters", Unit::Millimetres),
    ("centimeters", Unit::Centimetres),
    ("meters", Unit::Metres),
    ("turns", Unit::Turns),
    ("turn", Unit::Turns),
    ("rotations", Unit::Turns),
    ("rotation", Unit::Turns),
    ("revolutions", Unit::Turns),
    ("revolution", Unit::Turns),
    ("teeth", Unit::Teeth),
    ("tooth", Unit::Teeth),
    ("millimetres", Unit::Millimetres),
    ("centimetres", Unit::Centimetres),
    ("metres", Unit::Metres),
    ("newtons", Unit::Newtons),
    ("stages", Unit::Stages),
    ("starts", Unit::Starts),
];

/// Words near a unit's name that are none.
const NOT_UNITS: [&str; 12] = [
    "teach", "then", "than", "burn", "torn", "tune", "state", "states", "truth", "term", "terms",
    "toot",
];

/// The unit that a misspelt word plainly means: near one unit's name and nearer to
/// it than to any other's.
fn misspelt(word: &str) -> Option<Written> {
    let length = word.chars().count();
    if length < 4 || NOT_UNITS.contains(&word) {
        return None;
    }
    let allowed = if length < 8 { 1 } else { 2 };
    let mut near: Vec<(usize, Unit)> = LONG_NAMES
        .iter()
        .map(|(name, unit)| (strsim::osa_distance(word, name), *unit))
        .filter(|(distance, _)| *distance <= allowed)
        .collect();
    near.sort();
    let (best, unit) = *near.first()?;
    near.iter()
        .all(|(distance, other)| *other == unit || *distance > best)
        .then_some(Written::Unit {
            unit,
            scale: number::Number::ONE,
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str) -> Option<(String, usize)> {
        let tokens = token::tokens(text);
        let mut rest = tokens.as_slice();
        let written = unit(&mut rest)?;
        let said = match written {
            Written::Unit { unit, scale } if scale == number::Number::ONE => unit.text().to_owned(),
            Written::Unit { unit, scale } => format!("{scale} {}", unit.text()),
            Written::Other(word) => format!("other {word}"),
        };
        Some((said, rest.len()))
    }

    #[test]
    fn units_are_read_in_many_spellings() {
        for (text, said, left) in [
            ("turns", "turns", 0),
            ("trun", "turns", 0),
            ("truns", "turns", 0),
            ("rotaions", "turns", 0),
            ("revs", "turns", 0),
            ("r.p.m.", "rpm", 1),
            ("turns per minute", "rpm", 0),
            ("rev/min", "rpm", 0),
            ("turns each time", "turns", 2),
            ("mm", "mm", 0),
            ("milimetres", "mm", 0),
            ("centermeters", "cm", 0),
            ("n cm", "N cm", 0),
            ("n·cm", "N", 2),
            ("n×cm", "N cm", 0),
            ("nm", "N m", 0),
            ("newton metres", "N m", 0),
            ("newtens", "N", 0),
            ("kg", "other kg", 0),
            ("degrees", "1/360 turns", 0),
            ("turns per second", "60 rpm", 0),
            ("teath", "teeth", 0),
        ] {
            assert_eq!(check(text), Some((said.to_owned(), left)), "{text}");
        }
        for text in ["gear b", "faster", "and", "than", "3"] {
            assert_eq!(check(text), None, "{text}");
        }
    }
}
