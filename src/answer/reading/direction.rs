//! The many spellings of clockwise and anticlockwise made two.
//!
//! `clockwise` stands inside `anticlockwise`, so only whole words are held against
//! each other, and only with a clear gap between the nearest and the next.

use crate::gears::mechanism::Sense;

/// The plain word for one way.
const CLOCKWISE: &str = "clockwise";
/// The plain word for the other.
const ANTICLOCKWISE: &str = "anticlockwise";

/// Returns the way that begins with a word and the two behind it, and how many words
/// say it.
pub(super) fn way(
    word: &str,
    next: Option<&str>,
    after_next: Option<&str>,
) -> (Option<Sense>, usize) {
    let (way, taken) = said(word, next, after_next);
    let sense = way.map(|way| {
        if way == CLOCKWISE {
            Sense::Clockwise
        } else {
            Sense::Anticlockwise
        }
    });
    (sense, taken)
}

fn said(word: &str, next: Option<&str>, after_next: Option<&str>) -> (Option<&'static str>, usize) {
    if is_against(word) {
        // "anti clock wise", "anti clockwise", "anti"
        if let Some(taken) = clock(next, after_next) {
            return (Some(ANTICLOCKWISE), 1 + taken);
        }
        if next == Some("clock") {
            return (Some(ANTICLOCKWISE), 2);
        }
        return (Some(ANTICLOCKWISE), 1);
    }
    if ["c", "a"].contains(&word) && next == Some("c") && after_next == Some("w") {
        return (Some(ANTICLOCKWISE), 3);
    }
    match (word, next) {
        ("c", Some("w")) => return (Some(CLOCKWISE), 2),
        ("a", Some("c" | "cw")) => return (Some(ANTICLOCKWISE), 2),
        _ => {}
    }
    if let Some(taken) = clock(Some(word), next) {
        return (Some(CLOCKWISE), taken);
    }
    (one_word(word), 1)
}

/// How many words say `clockwise` here.
fn clock(word: Option<&str>, next: Option<&str>) -> Option<usize> {
    let word = word?;
    if ["clock", "clok", "clocks", "cloc", "clcok"].contains(&word) {
        let is_wise = next.is_some_and(|next| {
            ["wise", "ways", "way", "wize", "wys", "wies", "wis", "wice"].contains(&next)
        });
        return is_wise.then_some(2);
    }
    (one_word(word) == Some(CLOCKWISE)).then_some(1)
}

fn is_against(word: &str) -> bool {
    [
        "anti",
        "anty",
        "antie",
        "ante",
        "auntie",
        "aunty",
        "anit",
        "ant",
        "unti",
        "counter",
        "countre",
        "conter",
        "couter",
        "contra",
        "acw",
        "ccw",
        "anticw",
        "antic",
        "aclock",
        "un",
        "non",
        "acwise",
        "antclock",
        "anticlock",
    ]
    .contains(&word)
}

/// The way that one word says.
fn one_word(word: &str) -> Option<&'static str> {
    match word {
        "cw" | "clockways" | "clockway" | "clkwise" | "clockw" | "cwise" => return Some(CLOCKWISE),
        // Nearer to "clockwise" in letters, but the first one is an "anti".
        "aclockwise" | "anclockwise" | "atclockwise" => return Some(ANTICLOCKWISE),
        _ => {}
    }
    if word.chars().count() < 6 {
        return None;
    }
    let distance = |name: &str| strsim::osa_distance(word, name);
    let (with, against, counter) = (
        distance(CLOCKWISE),
        distance(ANTICLOCKWISE),
        distance("counterclockwise"),
    );
    let against = against.min(counter);
    if with <= 2 && against >= with + 2 {
        Some(CLOCKWISE)
    } else if against <= 3 && with > against && starts_against(word) {
        Some(ANTICLOCKWISE)
    } else {
        None
    }
}

fn starts_against(word: &str) -> bool {
    ["a", "u", "co", "e", "n"]
        .iter()
        .any(|start| word.starts_with(start))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str) -> String {
        let words: Vec<&str> = text.split(' ').collect();
        let (way, taken) = said(words[0], words.get(1).copied(), words.get(2).copied());
        match way {
            Some(way) if taken == words.len() => way.to_owned(),
            Some(_) | None => text.to_owned(),
        }
    }

    #[test]
    fn the_two_ways_are_told_apart_in_many_spellings() {
        for text in [
            "clockwise",
            "clock wise",
            "clockwize",
            "clokwise",
            "clcokwise",
            "clockwis",
            "cw",
            "c w",
            "clockways",
            "clock ways",
            "klockwise",
            "clockwsie",
        ] {
            assert_eq!(check(text), CLOCKWISE, "{text}");
        }
        for text in [
            "anticlockwise",
            "anti clockwise",
            "anti clock wise",
            "anti",
            "acw",
            "ccw",
            "counterclockwise",
            "counter clockwise",
            "counter clock wise",
            "antclockwise",
            "anticlokwise",
            "antyclockwise",
            "aclockwise",
            "anit clockwise",
            "antclokwise",
            "a c",
            "anti clokwise",
            "anticlockwize",
            "anticlockwhise",
        ] {
            assert_eq!(check(text), ANTICLOCKWISE, "{text}");
        }
        for text in ["left", "clock", "round", "wise", "increase", "otherwise"] {
            assert_eq!(check(text), text, "{text}");
        }
    }
}
