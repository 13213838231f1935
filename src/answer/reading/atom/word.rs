//! What single words say, by the kind of question, in many spellings.

use crate::answer::reading::atom::Atom;
use crate::gears::mechanism;

/// The key word that a misspelt one plainly means; never for short words, nor where
/// two are as near.
pub(super) fn mended(word: &str) -> Option<&'static str> {
    const KEYS: [&str; 22] = [
        "faster",
        "fastest",
        "slower",
        "slowest",
        "quicker",
        "stronger",
        "strongest",
        "weaker",
        "opposite",
        "direction",
        "different",
        "locked",
        "jammed",
        "stuck",
        "turns",
        "moves",
        "spins",
        "because",
        "neither",
        "equal",
        "reverse",
        "impossible",
    ];
    let length = word.chars().count();
    if length < 4 {
        return None;
    }
    let allowed = if length < 8 { 1 } else { 2 };
    let mut near: Vec<(usize, &str)> = KEYS
        .into_iter()
        .filter(|key| key.chars().next() == word.chars().next())
        .map(|key| (strsim::osa_distance(word, key), key))
        .filter(|(distance, key)| *distance <= allowed && *key != word)
        .collect();
    near.sort_unstable();
    let (best, key) = *near.first()?;
    near.iter()
        .skip(1)
        .all(|(distance, _)| *distance > best)
        .then_some(key)
}

/// The word with every doubled letter written once, where it has one: `lefft`.
pub(super) fn without_doubles(word: &str) -> Option<String> {
    let mut signs: Vec<char> = word.chars().collect();
    signs.dedup();
    let once: String = signs.into_iter().collect();
    (once.len() < word.len() && once.len() >= 3).then_some(once)
}

pub(super) fn single_way(word: &str) -> Option<mechanism::Sense> {
    Some(match word {
        "↻" => mechanism::Sense::Clockwise,
        "↺" => mechanism::Sense::Anticlockwise,
        "left" | "←" | "leftwards" | "leftward" | "lefthand" | "lft" | "letf" | "l" => {
            mechanism::Sense::Left
        }
        "right" | "→" | "rightwards" | "rightward" | "righthand" | "rite" | "rigth" | "rihgt"
        | "wright" | "write" | "r" => mechanism::Sense::Right,
        _ => return None,
    })
}

pub(super) fn yes_no(word: &str, is_whole: bool) -> Option<Atom> {
    Some(match word {
        "y" | "yes" | "yea" | "yeah" | "yep" | "yup" | "yess" | "yeh" | "yer" | "true"
        | "correct" | "ye" | "yh" | "certainly" | "definitely" => Atom::Yes,
        "n" | "no" | "nope" | "nah" | "noo" | "false" | "nay" | "na" | "noe" => Atom::No,
        "t" | "1" | "ok" | "okay" if is_whole => Atom::Yes,
        "f" | "0" if is_whole => Atom::No,
        "turn" | "turns" | "work" | "works" | "move" | "moves" | "spin" | "spins" | "rotate"
        | "rotates" | "possible" | "turning" | "moving" | "working" | "goes" | "go" | "fit"
        | "fits" | "mesh" | "runs" | "run" | "free" | "freely" => Atom::Works,
        "jam" | "jams" | "jammed" | "jamming" | "lock" | "locks" | "locked" | "stuck"
        | "sticks" | "impossible" | "clash" | "clashes" | "fight" | "fights" | "stop" | "stops"
        | "stopped" | "block" | "blocks" | "blocked" | "seize" | "seizes" | "break" | "breaks"
        | "broken" | "stalls" | "stall" | "grinds" | "grind" | "freezes" | "frozen" => Atom::Jams,
        _ => return None,
    })
}

pub(super) fn speed(word: &str) -> Option<Atom> {
    Some(match word {
        "faster" | "fastest" | "quicker" | "quickest" | "fast" | "quick" | "speedier" | "more"
        | "most" | "higher" | "highest" | "fatser" | "fater" | "faser" | ">" => Atom::More,
        "slower" | "slowest" | "slow" | "fewer" | "less" | "least" | "fewest" | "lower" | "<" => {
            Atom::Less
        }
        "=" => Atom::Same,
        _ => return None,
    })
}

pub(super) fn force_word(word: &str) -> Option<Atom> {
    Some(match word {
        "stronger" | "strongest" | "strong" | "more" | "most" | "greater" | "greatest"
        | "powerful" | "harder" | ">" => Atom::More,
        "weaker" | "weakest" | "weak" | "less" | "least" | "<" => Atom::Less,
        "=" => Atom::Same,
        _ => return None,
    })
}
