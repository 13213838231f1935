//! Words of answers that are neither numbers nor units.

use std::collections::BTreeSet;
use std::sync::LazyLock;

/// A word that turns the meaning of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// `no`, `sorry`, `I mean`: what stood before is taken back.
    Correction,
    /// `but`: a later answer takes back an earlier one.
    But,
    /// `not`: what follows is not meant.
    Not,
    /// `or`: either.
    Or,
    /// `and`
    And,
    /// `because`: an explanation follows.
    Because,
    /// `so`, `answer`, `makes`: the answer follows.
    Conclusion,
    /// `remainder`: what is left over follows.
    Remainder,
    /// `more`, `less than`: no plain number.
    Doubt,
    /// A cross: what stood before is crossed out.
    Cross,
    /// `drives`: an order of gears.
    Drives,
    /// `driven by`: the order turned round.
    DrivenBy,
    /// `twice as many`: a comparison, no number.
    Compared,
}

/// Returns the mark that the word (or it and the next) is, and of how many words.
pub(super) fn mark(word: &str, next: Option<&str>) -> Option<(Mark, usize)> {
    let pair = match (word, next) {
        ("crossed" | "rubbed" | "scribbled", Some("out")) => Some(Mark::Cross),
        ("driven" | "turned" | "pushed", Some("by")) => Some(Mark::DrivenBy),
        ("i", Some("mean" | "ment" | "meant"))
        | ("scrap" | "cross" | "ignore", Some("that" | "it"))
        | ("should", Some("be")) => Some(Mark::Correction),
        ("rounded" | "rounds" | "round", Some("to" | "up" | "down" | "is")) => {
            Some(Mark::Conclusion)
        }
        ("bigger" | "smaller" | "greater" | "higher" | "lower", Some("than" | "then"))
        | ("at", Some("least" | "most"))
        | ("per", Some("turn" | "rev" | "rotation" | "revolution"))
        | (
            "times" | "x",
            Some(
                "slower" | "less" | "fewer" | "smaller" | "faster" | "quicker" | "as" | "more"
                | "bigger" | "larger" | "greater",
            ),
        ) => Some(Mark::Doubt),
        _ => None,
    };
    if let Some(mark) = pair {
        return Some((mark, 2));
    }
    let mark = match word {
        "but" => Mark::But,
        "no" | "sorry" | "oops" | "actually" | "actualy" | "wait" | "rather" | "ops"
        | "correction" | "instead" | "nope" | "whoops" => Mark::Correction,
        "not" | "isnt" | "wasnt" | "aint" => Mark::Not,
        "or" | "maybe" | "either" | "otherwise" => Mark::Or,
        "and" => Mark::And,
        "because" | "becuase" | "becos" | "becouse" | "beacuse" | "becase" | "bcause" | "bc"
        | "cos" | "cuz" | "coz" | "cause" | "since" | "when" | "whenever" | "if" | "while"
        | "bcos" | "becaus" | "beause" => Mark::Because,
        "so" | "therefore" | "thus" | "hence" | "answer" | "ans" | "anser" | "awnser" | "answr"
        | "anwser" => Mark::Conclusion,
        "more" | "less" | "fewer" | "under" | "below" | "above" | "between" | "nearly"
        | "almost" | "slower" | "extra" | "until" | "bit" => Mark::Doubt,
        "remainder" | "rem" | "remander" | "left over" | "leftover" | "remainer" => Mark::Remainder,
        "drives" | "driving" | "turning" | "meshes" => Mark::Drives,
        _ => return None,
    };
    Some((mark, 1))
}

/// Whether the word stands for `=` behind a sum, as in `9 times 12 makes 108`.
pub(super) fn says_equals(word: &str) -> bool {
    [
        "equals", "equal", "eqals", "eqauls", "makes", "gives", "means", "is",
    ]
    .contains(&word)
}

/// Whether the word, with `to` behind it, stands for `=` between equal ratios.
pub(super) fn says_simplified(word: &str) -> bool {
    [
        "simplifies",
        "simplified",
        "simplify",
        "cancels",
        "cancelled",
        "canceled",
        "reduces",
        "reduced",
        "changes",
        "goes",
    ]
    .contains(&word)
}

/// Whether the words say how a number was rounded, as `dp` does in `16.7 (1 dp)`.
pub(super) fn is_rounding_note(word: &str) -> bool {
    [
        "dp",
        "dps",
        "sf",
        "sfs",
        "sigfig",
        "sigfigs",
        "sig",
        "significant",
        "decimal",
        "decimals",
        "dec",
    ]
    .contains(&word)
}

/// Returns the operator that a word (or it and the next) says, and of how many words.
pub(super) fn operator(word: &str, next: Option<&str>) -> Option<(char, usize)> {
    match (word, next) {
        ("divided" | "devided" | "shared", Some("by")) => Some(('÷', 2)),
        ("multiplied" | "timesed" | "timsed", Some("by")) => Some(('×', 2)),
        ("plus" | "add", _) => Some(('+', 1)),
        ("minus", _) => Some(('-', 1)),
        _ => None,
    }
}

/// Whether the word says what to do with the number behind it, so that it is not the answer.
pub(super) fn changes_the_next(word: &str) -> bool {
    ["double", "doubled", "triple", "treble", "halve"].contains(&word)
}

/// Whether the word says how often.
pub(super) fn is_how_often(word: &str) -> bool {
    ["once", "twice", "thrice", "double", "triple"].contains(&word)
}

/// Whether the word before a number says that it is more than that: `just over 3`.
pub(super) fn goes_beyond(word: &str) -> bool {
    ["over", "past", "beyond", "exceeds"].contains(&word)
}

/// Whether `one` after this word stands for a thing and not for a number.
pub(super) fn makes_one_a_pronoun(word: &str) -> bool {
    [
        "the", "this", "that", "which", "big", "small", "bigger", "smaller", "biggest", "smallest",
        "large", "larger", "little", "other", "first", "last", "second", "third", "each", "every",
        "driven", "drive", "middle", "no",
    ]
    .contains(&word)
}

/// Whether the word is a part's label: one letter.
pub(super) fn is_label(word: &str) -> bool {
    let mut letters = word.chars();
    matches!(
        (letters.next(), letters.next()),
        (Some('a'..='w' | 'y' | 'z'), None)
    )
}

/// Whether the word alone answers some question, if not this one: `fast`, `worm`, `up`.
pub(super) fn is_a_thing_said(word: &str) -> bool {
    [
        "fast",
        "slow",
        "slowly",
        "quickly",
        "faster",
        "slower",
        "strong",
        "up",
        "down",
        "left",
        "right",
        "round",
        "around",
        "sideways",
        "forward",
        "forwards",
        "teeth",
        "tooth",
        "worm",
        "rack",
        "pinion",
        "idler",
        "driver",
        "driven",
        "drive",
        "drum",
        "handle",
        "pulley",
        "sprocket",
        "ring",
        "axle",
        "motor",
        "chain",
        "belt",
        "wheel",
        "cog",
        "gear",
        "gears",
        "clockwise",
        "anticlockwise",
        "big",
        "small",
        "battery",
        "engine",
        "pedal",
        "pedals",
        "carrier",
        "screw",
        "bolt",
        "spring",
        "lever",
        "planet",
        "sun",
        "crank",
        "dynamo",
        "string",
        "rope",
        "bar",
        "yes",
        "no",
        "middle",
        "easy",
        "hard",
        "turns",
        "spin",
        "spins",
        "rotate",
        "rotates",
        "speed",
        "force",
        "straight",
        "backwards",
        "over",
    ]
    .contains(&word)
}

/// Words that may stand in an answer without changing it.
const KNOWN: &str = "\
    rd th nd st ths rds clock wise counter equals equal gives means dp sf whole the it its is are was be will would does do did can has have had get gets \
    got go goes went going make made makes this that thats these there they them their he \
    she we you your my me i im think thought guess believe reckon know found \
    worked out in on at of off by with for from an as if then than when which what how many \
    much also too to up down only just about approx approximately around roughly \
    round rounded circa probably prob probs exactly exact total altogether all together \
    final number numbers num value result amount count gear gears cog \
    cogs wheel wheels worm rack pinion idler driver driven drive drum handle pulley \
    sprocket ring axle shaft motor output input bar string rope load chain belt crank winch \
    planet sun carrier bevel pedal pedals screw bolt lever spring engine battery spur second third first last other one big bigger biggest \
    small smaller smallest large larger little middle same both way turn turns turned \
    turning spin spins spun rotate rotates rotated move moves moved travel travels slides \
    slide revolve revolves speed force torque distance far length ratio velocity teeth \
    tooth times time full whole complete clockwise anticlockwise anti cw acw ccw \
    counterclockwise left right direction forwards backwards forward faster quicker fast \
    quick stronger per minute mins min teacher miss sir please ok okay yes yeah yep well um \
    erm hmm hi thanks lol easy done calculator used using sum simplest form simplified \
    simplifies cancelled lowest terms cant sure now needs need needed must should could pi \
    decimal place places dp sf figures significant long wide across diameter apart away \
    step stage stages pair pairs gearbox ratios percent idk dunno after before while where \
    who some any not here every hand pushes matter matters use put choose chose pick picked choice box a let lets say id \
    ill itll theyll being been against meet again lines line happens happen work works \
    twice takes take took write wrote nearest recurring rec says ish end ends ended";

/// Some of them as children spell them.
const MISSPELT: &str = "wud wold dose thik fink aprox geer gera grear gaer";

/// Whether the word, spelt just so, may stand in an answer without changing it.
pub(super) fn is_known_as_spelt(word: &str) -> bool {
    KNOWN_WORDS.contains(word)
}

/// Whether the word may stand in an answer without changing it, also misspelt by
/// one letter.
pub(super) fn is_known(word: &str) -> bool {
    let length = word.chars().count();
    is_known_as_spelt(word)
        || MISSPELT.split_whitespace().any(|known| known == word)
        || (length >= 4
            && KNOWN_WORDS.iter().any(|known| {
                known.len() >= 4
                    && known.len().abs_diff(length) <= 1
                    && strsim::osa_distance(word, known) <= 1
            }))
}

static KNOWN_WORDS: LazyLock<BTreeSet<&'static str>> =
    LazyLock::new(|| KNOWN.split_whitespace().collect());
