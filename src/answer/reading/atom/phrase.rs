//! What two or three words say together.

use crate::answer::reading::atom::Atom;
use crate::answer::reading::atom::Context;
use crate::answer::reading::atom::Kind;
use crate::answer::reading::atom::word::single_way;
use crate::answer::scene;
use crate::gears::mechanism;

/// Words for what turns something.
const FORCES: [&str; 7] = [
    "force", "forces", "torque", "power", "strength", "powerful", "forceful",
];

impl Context<'_> {
    /// What two or three words say together.
    pub(super) fn phrase(
        &self,
        word: &str,
        next: Option<&str>,
        after: Option<&str>,
    ) -> Option<(Atom, usize)> {
        if let Some(found) = self.of_amount(word, next?, after) {
            return Some(found);
        }
        Some(match (word, next, after) {
            ("i", Some("mean" | "ment" | "meant"), _)
            | ("scrap" | "ignore", Some("that" | "it"), _)
            | ("changed", Some("my"), Some("mind")) => {
                (Atom::Correction, if word == "changed" { 3 } else { 2 })
            }
            ("crossed" | "rubbed" | "scribbled", Some("out"), _) => (Atom::Cross, 2),
            // "B is not as fast as A": the other one is faster.
            ("as", Some("fast" | "strong" | "quick"), Some("as"))
                if self.before.last() == Some(&Atom::Not)
                    && self.before.iter().any(|atom| matches!(atom, Atom::Part(_))) =>
            {
                (Atom::More, 3)
            }
            ("as", Some("fast" | "strong" | "quick"), Some("as")) => (Atom::Same, 3),
            ("times" | "twice", Some("as"), Some("fast" | "quick" | "strong")) => (Atom::More, 3),
            ("half", Some("as"), Some("fast" | "quick" | "strong")) => (Atom::Less, 3),
            // "A = fast", "faster = A": what A is, not what it is like.
            ("=", Some(next), _) if self.compares(next) || self.follows_comparison() => {
                (Atom::Filler(word.to_owned()), 1)
            }
            ("each", Some("other"), _) => (Atom::Both, 2),
            ("against", Some("each"), Some("other"))
            | (
                "other" | "different" | "opposite" | "wrong",
                Some("way" | "ways" | "direction" | "directions"),
                Some("round" | "around"),
            ) => (Atom::Opposite, 3),
            (
                "other" | "different" | "opposite" | "reverse",
                Some("way" | "ways" | "direction" | "directions"),
                _,
            ) => (Atom::Opposite, 2),
            ("right" | "left", Some("hand"), _) if self.kind == Kind::Way => {
                return single_way(word).map(|way| (Atom::Way(way), 2));
            }
            ("from", Some("left" | "right"), Some("to")) => {
                // from right to left: only where it ends counts
                return Some((Atom::Filler("from".to_owned()), 3));
            }
            ("left" | "right", Some("to"), Some("left" | "right")) if word != after? => {
                return Some((Atom::Filler("from".to_owned()), 2));
            }
            ("no", Some("difference"), _)
            | (
                "same" | "equal",
                Some("way" | "ways" | "direction" | "directions" | "speed" | "force"),
                _,
            ) => (Atom::Same, 2),
            ("self", Some("locking" | "locks"), _) => (Atom::Jams, 2),
            ("different" | "wrong" | "differing", Some("size" | "sizes"), _) => {
                if self.kind == Kind::YesNo && self.scene.about == scene::About::WillItTurn {
                    (Atom::Jams, 2)
                } else {
                    (Atom::Filler("size".to_owned()), 2)
                }
            }
            ("of", Some("course"), _) if self.kind == Kind::YesNo => (Atom::Yes, 2),
            ("hands" | "hand", Some("on" | "of"), _) if self.kind == Kind::Way => {
                (Atom::Way(mechanism::Sense::Clockwise), 2)
            }
            ("like", Some("a" | "the"), Some("clock")) if self.kind == Kind::Way => {
                (Atom::Way(mechanism::Sense::Clockwise), 3)
            }
            _ => return None,
        })
    }

    /// More or less of what is asked: "more force", "fewer turns".
    fn of_amount(&self, word: &str, next: &str, after: Option<&str>) -> Option<(Atom, usize)> {
        let is_force = |word: &str| FORCES.contains(&word);
        let degree = match word {
            "more" | "greater" | "bigger" | "larger" | "higher" | "most" | "greatest"
            | "biggest" | "largest" | "highest" => Atom::More,
            "less" | "smaller" | "lower" | "least" | "smallest" | "lowest" | "fewer" | "fewest" => {
                Atom::Less
            }
            _ => return None,
        };
        match (self.kind, next) {
            (Kind::Force, next) if is_force(next) => Some((degree, 2)),
            (Kind::Force, "turning") if after.is_some_and(is_force) => Some((degree, 3)),
            // It says nothing of force.
            (Kind::Force, "speed" | "turns" | "rpm") => Some((Atom::Filler(word.to_owned()), 2)),
            (Kind::Speed, "speed" | "turns" | "often") => Some((degree, 2)),
            (Kind::Force | Kind::Speed | Kind::Way | Kind::YesNo, _) => None,
        }
    }
}
