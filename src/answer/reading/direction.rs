//! The many spellings of clockwise and anticlockwise made two.
//!
//! `clockwise` stands inside `anticlockwise`, so only whole words are held against
//! each other, and only with a clear gap between the nearest and the next.

/// The plain word for one way.
pub(super) const CLOCKWISE: &str = "clockwise";
/// The plain word for the other.
pub(super) const ANTICLOCKWISE: &str = "anticlockwise";

/// Returns the words with every spelling of the two ways in its plain form.
pub(super) fn plain(words: &[String]) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut rest = words;
    while let Some((word, after)) = rest.split_first() {
        let (way, taken) = way(word, after);
        match way {
            Some(way) => found.push(way.to_owned()),
            None => found.push(word.clone()),
        }
        rest = rest.get(taken..).unwrap_or_default();
    }
    found
}

/// The way that begins here, and how many words it takes.
fn way(word: &str, after: &[String]) -> (Option<&'static str>, usize) {
    let next = after.first().map(String::as_str);
    let after_next = after.get(1).map(String::as_str);
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
    if (word == "a" || word == "c" || word == "cc") && matches!(next, Some("c" | "cw" | "w")) {
        // a/c, a/cw, c/w, c/c
        let way = if word == "c" && next == Some("w") {
            CLOCKWISE
        } else {
            ANTICLOCKWISE
        };
        return (Some(way), 2);
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
        let words: Vec<String> = text.split(' ').map(str::to_owned).collect();
        plain(&words).join(" ")
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
