//! The words of explanations in one spelling each.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::sync::LazyLock;

/// Each word with the spellings and forms that stand for it.
const SPELLINGS: &[(&str, &str)] = &[
    (
        "small",
        "small smaller smallest smaler smallist little littler littlest litle littel lil \
         tiny tinier tiniest mini titchy",
    ),
    (
        "big",
        "big bigger biggest biger bigest large larger largest huge massive giant",
    ),
    ("wide", "wide wider width"),
    ("more", "more most extra greater higher highest mor"),
    ("less", "less fewer least fewest lower lowest few les"),
    (
        "fast",
        "fast faster fastest quick quicker quickest quickly qwick qwicker speedy speedier rapid \
         faser fater fatser speeds sooner",
    ),
    (
        "slow",
        "slow slower slowest slowly slows slowed slowing sloer",
    ),
    (
        "strong",
        "strong stronger strongest powerful forceful stronge",
    ),
    ("weak", "weak weaker weakest"),
    ("force", "force forces power torque strength forse powr"),
    ("speed", "speed pace velocity sped"),
    ("teeth", "teeth teeths tooths teef theeth teath teth spikes"),
    ("tooth", "tooth toof"),
    ("size", "size sizes sized siz"),
    ("number", "number amount quantity numbers amounts"),
    ("length", "length"),
    ("same", "same equal equally identical alike sam saim"),
    (
        "different",
        "different diffrent differant differ differently unequal difrent",
    ),
    ("other", "other uther uver othe"),
    (
        "opposite",
        "opposite opposites opposit oposite opposing contrary opersite",
    ),
    (
        "way",
        "way ways direction directions direcshun direcshuns direcshon direction's wey wai",
    ),
    ("both", "both boath"),
    ("all", "all everything everyone"),
    ("each", "each"),
    ("every", "every evry evrey"),
    (
        "turn",
        "turn turns turned turning go goes gos going goin went spin spins spun spinning rotate rotates \
         rotated rotating rotation rotations move moves moved moving run runs work works working \
         tern terns trun",
    ),
    ("round", "round around arond rond"),
    ("time", "time"),
    ("times", "times tims"),
    ("often", "often"),
    ("long", "long longer ages"),
    ("half", "half harf"),
    ("third", "third"),
    ("quarter", "quarter"),
    ("double", "double twice twise doubles doubled"),
    ("once", "once wunce"),
    ("odd", "odd od"),
    ("even", "even evn"),
    ("ring", "ring rings"),
    (
        "loop",
        "loop loops circle circles triangle triangles square closed cercle circul triangel",
    ),
    ("line", "line lines row rows straight"),
    ("end", "end ends"),
    ("free", "free open"),
    (
        "middle",
        "middle midle between betwen inbetween mid middel centre center",
    ),
    ("idler", "idler idlers idle"),
    (
        "axle",
        "axle axles axel axels shaft shafts stick rod pole spindle",
    ),
    (
        "join",
        "joined join attached fixed fastened glued connected linked joind",
    ),
    ("together", "together togever"),
    (
        "touch",
        "touch touches touching tuching tuch mesh meshes meshing meshed interlock interlocks \
         interlocking interlocked neighbour neighbours neighbor neighbors neighbouring adjacent \
         beside nabors",
    ),
    ("next", "next nex nxt"),
    (
        "push",
        "push pushes pushing pushed pull pulls pulling pulled poosh",
    ),
    ("drive", "drive drives driving"),
    ("driver", "driver drivers motor"),
    ("chain", "chain chains chane chian"),
    ("belt", "belt belts strap band"),
    (
        "crossed",
        "crossed crosses cross crost crossing twisted twist twists twisting",
    ),
    ("inside", "inside inner within insid"),
    ("worm", "worm worms screw screws wurm"),
    ("fit", "fit fits fitting fitted"),
    ("gap", "gap gaps hole holes"),
    (
        "jam",
        "jam jams jammed lock locks locked stuck sticks stop stops stopped blocked blocks",
    ),
    ("fight", "fight fights fighting clash clashes against"),
    ("first", "first start starts beginning furst"),
    ("last", "last final"),
    ("near", "near nearest nearer closest closer"),
    ("far", "far further furthest farther away"),
    ("along", "along"),
    ("again", "again"),
    (
        "change",
        "change changes changed changing swap swaps swapped swop swops flip flips flipped \
         switch switches switched reverse reverses reversed",
    ),
    ("alternate", "alternate alternates alternating"),
    ("back", "back"),
    (
        "matter",
        "matter matters count counts difference affect affects",
    ),
    ("not", "not never carnt nt"),
    ("no", "no nope nah"),
    ("yes", "yes yeah yep yea ye"),
    ("none", "neither none nothing nor"),
    (
        "because",
        "because becuase becos becouse beacuse becase bcause bc cos cuz coz cause bcos becaus \
         beause since cus becoz",
    ),
    ("so", "so therefore thus hence means meaning mean"),
    ("but", "but however while whilst whereas except"),
    ("though", "though although tho"),
    ("and", "and"),
    ("or", "or"),
    ("than", "than then"),
    (
        "gear",
        "gear gears geer geers cog cogs wheel wheels sprocket sprockets pulley pulleys gere",
    ),
    ("one", "one ones wun 1"),
    ("divide", "divided divide shared"),
    ("pass", "pass passes passing past"),
    ("many", "many"),
    ("stage", "stage stages pair pairs"),
    ("gain", "gain gains"),
    ("lose", "lose loses"),
    (
        "it",
        "it he she they them there theyre these those this that",
    ),
    ("two", "two 2"),
    ("arm", "arm lever"),
    ("rack", "rack bar"),
    ("make", "make makes made"),
    ("need", "need needs needed"),
    ("only", "only"),
    ("as", "as"),
];

/// Words that are left out: they change nothing.
const IDLE: &str = "\
    the is are was were be being been has have had having got gets get must should would will \
    does do did can could of very really always just to for in on at by with from \
    u i you we my its which what who when if up down out into any some our your also too";

/// Returns the one spelling of a word; nothing for a word that says nothing here.
pub(super) fn plain(word: &str) -> Option<&'static str> {
    as_spelt(word).or_else(|| mended(word))
}

/// Returns the one spelling of a word that is spelt in a known way.
pub(super) fn as_spelt(word: &str) -> Option<&'static str> {
    BY_SPELLING.get(word).copied()
}

/// Whether a word is left out.
pub(super) fn is_idle(word: &str) -> bool {
    IDLE_WORDS.contains(word)
}

static BY_SPELLING: LazyLock<BTreeMap<&'static str, &'static str>> = LazyLock::new(|| {
    SPELLINGS
        .iter()
        .flat_map(|(plain, spellings)| spellings.split_whitespace().map(|known| (known, *plain)))
        .collect()
});

static IDLE_WORDS: LazyLock<BTreeSet<&'static str>> =
    LazyLock::new(|| IDLE.split_whitespace().collect());

/// The word that a misspelt one plainly means: never for short words, nor where two
/// are as near.
fn mended(word: &str) -> Option<&'static str> {
    let length = word.chars().count();
    if length < SHORTEST || is_idle(word) || word.starts_with(|sign: char| sign.is_ascii_digit()) {
        return None;
    }
    let allowed = if length < 7 { 1 } else { 2 };
    let first = word.chars().next()?;
    let mut near: Vec<(usize, &str)> = BY_SPELLING
        .range(first.to_string().as_str()..)
        .take_while(|(known, _)| known.starts_with(first))
        .filter(|(known, _)| known.len() >= SHORTEST && known.len().abs_diff(length) <= allowed)
        .map(|(known, plain)| (strsim::osa_distance(word, known), *plain))
        .filter(|(distance, _)| *distance <= allowed)
        .collect();
    near.sort_unstable();
    let (best, plain) = *near.first()?;
    near.iter()
        .all(|(distance, other)| *distance > best || *other == plain)
        .then_some(plain)
}

/// The shortest word that is mended.
const SHORTEST: usize = 5;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_spelling_stands_for_one_word() {
        let mut seen = BTreeSet::new();
        for (_, spellings) in SPELLINGS {
            for spelling in spellings.split_whitespace() {
                assert!(seen.insert(spelling), "{spelling}");
                assert!(!is_idle(spelling), "{spelling}");
            }
        }
    }

    #[test]
    fn words_are_mended_where_the_meaning_is_plain() {
        for (word, wanted) in [
            ("smallerr", Some("small")),
            ("oppositte", Some("opposite")),
            ("qwicker", Some("fast")),
            ("touchin", Some("touch")),
            ("banana", None),
            ("the", None),
            ("gere", Some("gear")),
        ] {
            assert_eq!(plain(word), wanted, "{word}");
        }
    }
}
