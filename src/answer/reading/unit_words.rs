//! Units as pupils write them.

use crate::answer::Measure;
use crate::answer::Unit;
use crate::answer::Written;
use crate::answer::reading::token;
use crate::number;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The words of each unit; several words are parted by a space.
const UNITS: [(Unit, &str); 11] = [
    (
        Unit::Turns,
        "\
         turn, turns, revs, rev, revolution, revolutions, rotation, rotations, spin, spins, \
         goes, rounds, turnings, rots, rot, rotates, twists, full turn, full turns, whole turn, \
         whole turns, complete turns, complete turn, full rotations, full rotation, times round, \
         times around, turn round, turns round, turns around, circles, \
         full circles, cycles, laps, wholes, whole, \
         complete revolutions, full revolutions, tn, tns",
    ),
    (
        Unit::Rpm,
        "\
         rpm, rpms, tpm, rmp, prm, rpn, r m, r per m",
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
         ncm, n cm, n x cm, n times cm, n cms, newton cm, newtons cm, newton centimetres, newton centimetre, \
         newton centimeters, newton centimeter, newtons centimetres, newtoncm, newton cms, cm n, \
         cmn",
    ),
    (
        Unit::NewtonMetres,
        "\
         nm, n m, n x m, newton m, newton metres, newton metre, newton meters, newton meter, newtons m, \
         newtons metres, newtonmetres, newtonmeters",
    ),
];

/// Units that are so many of ours.
const MULTIPLES: [(&str, Unit, i64, i64); 17] = [
    ("rps", Unit::Rpm, 60, 1),
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
    ("kilometres", Unit::Metres, 1000, 1),
    ("n mm", Unit::NewtonCentimetres, 1, 10),
    ("nmm", Unit::NewtonCentimetres, 1, 10),
    ("newton mm", Unit::NewtonCentimetres, 1, 10),
    ("newton millimetres", Unit::NewtonCentimetres, 1, 10),
    ("kn m", Unit::NewtonMetres, 1000, 1),
];

/// What goes round, in a rate.
const TURNING: &str = "\
    turn turns rev revs revolution revolutions rotation rotations spin spins round rounds times \
    time rots rot r goes cycles circles";
/// How a rate joins what is counted to the time.
const JOINTS: [&str; 12] = [
    "per", "a", "an", "each", "every", "in a", "in one", "in 1", "in each", "in every", "p", "1",
];
/// The times of a rate, with how many of the rate make one turn a minute.
const TIMES: [(&str, i64, i64); 3] = [
    ("minute minutes min mins", 1, 1),
    ("second seconds sec secs s", 60, 1),
    ("hour hours hr hrs h", 1, 60),
];

/// Returns the rate that words name: `turns a minute`, `rev s`, `per hour`.
fn rate(words: &str) -> Option<Written> {
    let (before, time) = words.rsplit_once(' ')?;
    let (_, top, bottom) = TIMES
        .iter()
        .find(|(names, ..)| names.split(' ').any(|name| name == time))?;
    let is_turning = |word: &str| TURNING.split_whitespace().any(|known| known == word);
    let is_joint = |words: &str| JOINTS.contains(&words);
    let is_rate = is_turning(before)
        || (is_joint(before) && before != "1")
        || before
            .split_once(' ')
            .is_some_and(|(first, joint)| is_turning(first) && is_joint(joint));
    // "times 5 seconds" is no rate, but "times s" neither.
    if !is_rate || (before == "times" && time.len() == 1) {
        return None;
    }
    let scale = number::Number::ratio(*top, *bottom).ok()?;
    Some(Written {
        words: if scale == number::Number::ONE {
            Unit::Rpm.text().to_owned()
        } else {
            words.to_owned()
        },
        means: Some(Measure {
            unit: Unit::Rpm,
            scale,
        }),
    })
}

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

/// Reads a unit behind `a` or `of a`, as in `half a cm`, `a quarter of a turn a second`;
/// `None` leaves the tokens as they were.
pub(super) fn behind_article(tokens: &mut &[token::Token]) -> Option<Written> {
    let mut ahead = *tokens;
    let mut skip = |wanted: &[&str]| {
        let is_there = ahead
            .first()
            .and_then(token::Token::word)
            .is_some_and(|word| wanted.contains(&word));
        if is_there {
            ahead = ahead.get(1..).unwrap_or_default();
        }
        is_there
    };
    let has_of = skip(&["of"]);
    let has_article = skip(&["a", "an", "one", "each"]);
    if !has_of && !has_article {
        return None;
    }
    // "3 a minute" is a rate, which stands for itself.
    let is_time = ahead
        .first()
        .and_then(token::Token::word)
        .is_some_and(|word| {
            TIMES
                .iter()
                .any(|(names, ..)| names.split(' ').any(|it| it == word))
        });
    if is_time {
        return None;
    }
    let found = unit(&mut ahead)?;
    *tokens = ahead;
    Some(found)
}

/// The words at the front, one to four of them, each with how many tokens they take.
fn openings(tokens: &[token::Token]) -> Vec<(String, usize)> {
    let mut found = Vec::new();
    let mut words = String::new();
    let mut count = 0;
    for (index, token) in tokens.iter().enumerate() {
        let one = token.numeral().filter(|numeral| numeral.text == "1");
        if let Some(word) = token.word().or(one.filter(|_| count > 0).map(|_| "1")) {
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
    written.means.is_some_and(|means| means.unit == Unit::Turns)
}

/// Returns the unit that the words name, such as `per minute`.
pub(super) fn named(words: &str) -> Option<Written> {
    if let Some(unit) = UNIT_OF.get(words) {
        return Some(plain(*unit));
    }
    if let Some(rate) = rate(words) {
        return Some(rate);
    }
    if let Some((_, unit, top, bottom)) = MULTIPLES.iter().find(|(known, ..)| *known == words) {
        return Some(Written {
            words: words.to_owned(),
            means: Some(Measure {
                unit: *unit,
                scale: number::Number::ratio(*top, *bottom).ok()?,
            }),
        });
    }
    lists(OTHERS, words).then(|| Written {
        words: words.to_owned(),
        means: None,
    })
}

/// A unit of ours as it is printed.
fn plain(unit: Unit) -> Written {
    Written {
        words: unit.text().to_owned(),
        means: Some(Measure {
            unit,
            scale: number::Number::ONE,
        }),
    }
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
        .then(|| plain(unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str) -> Option<(String, usize)> {
        let tokens = token::tokens(text);
        let mut rest = tokens.as_slice();
        let written = unit(&mut rest)?;
        let said = match written.means {
            Some(means) if means.scale == number::Number::ONE => means.unit.text().to_owned(),
            Some(means) => format!("{} {}", means.scale, means.unit.text()),
            None => format!("other {}", written.words),
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
            ("rev/s", "60 rpm", 0),
            ("turns every second", "60 rpm", 0),
            ("turns in 1 minute", "rpm", 0),
            ("times a minute", "rpm", 0),
            ("n x cm", "N cm", 0),
            ("nmm", "1/10 N cm", 0),
            ("teath", "teeth", 0),
        ] {
            assert_eq!(check(text), Some((said.to_owned(), left)), "{text}");
        }
        for text in ["gear b", "faster", "and", "than", "3"] {
            assert_eq!(check(text), None, "{text}");
        }
    }
}
