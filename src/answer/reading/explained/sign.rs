//! The words of an explanation as what they say of gears.

use crate::answer::explaining;
use crate::answer::reading::atom;
use crate::answer::reading::direction;
use crate::answer::reading::explained::phrase;
use crate::answer::reading::explained::spelling;
use crate::answer::reading::token;
use crate::gears::mechanism;
use crate::number;

/// More or less of something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Degree {
    /// Bigger, faster, stronger.
    More,
    /// Smaller, slower, weaker.
    Less,
}

impl Degree {
    pub(super) fn turned(self) -> Self {
        match self {
            Self::More => Self::Less,
            Self::Less => Self::More,
        }
    }
}

/// One thing that an explanation says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    /// A part, by its place in the scene.
    Part(usize),
    /// It, they.
    It,
    /// The other one.
    Other,
    /// One of them, with no sign which.
    Someone,
    /// Gears of whatever kind.
    Gears,
    /// Big or small, many or few teeth.
    Size(Degree),
    /// Of one size, with equally many teeth.
    SameSize,
    /// Of different sizes.
    OtherSize,
    /// Fast or slow.
    Pace(Degree),
    /// Equally fast.
    SamePace,
    /// Strong or weak.
    Power(Degree),
    /// Equally strong.
    SamePower,
    /// The same, whatever it is.
    Same,
    /// Different, whatever it is.
    Different,
    /// The same way.
    SameWay,
    /// The opposite way.
    OtherWay,
    /// Clockwise, anticlockwise, left, right.
    Way(mechanism::Sense),
    /// Both ways.
    BothWays,
    /// One way only.
    OneWay,
    /// They touch, mesh, are neighbours.
    Touch,
    /// Pushes, pulls.
    Push,
    /// Drives.
    Drive,
    /// Makes it do something.
    Make,
    /// Needs: it is not so yet.
    Need,
    /// Only.
    Only,
    /// Teeth.
    Teeth,
    /// Teeth of another size.
    OtherTeeth,
    /// Teeth of the same size.
    SameTeeth,
    /// Fits.
    Fit,
    /// Each tooth.
    EachTooth,
    /// One tooth.
    OneTooth,
    /// Goes past.
    Pass,
    /// The same length of belt.
    SameLength,
    /// The one between, or an idler.
    Between,
    /// Matters, counts.
    Matter,
    /// Changes, swaps.
    Change,
    /// Back.
    Back,
    /// Each, every.
    Each,
    /// Every other one.
    EveryOther,
    /// Again.
    Again,
    /// Odd.
    Odd,
    /// Even.
    Even,
    /// A number.
    Number(number::Number),
    /// So many times as much.
    Times(number::Number),
    /// Divided by.
    Divided,
    /// A stage, a pair.
    Stage,
    /// A ring gear, or a ring of gears.
    Ring,
    /// A closed loop.
    Loop,
    /// A row.
    Line,
    /// Ends that are free.
    OpenEnds,
    /// A chain.
    Chain,
    /// A belt.
    Belt,
    /// Crossed.
    Crossed,
    /// Inside.
    Inside,
    /// A worm.
    Worm,
    /// A rack.
    Rack,
    /// An axle.
    Axle,
    /// Joined.
    Join,
    /// Together.
    Together,
    /// Once.
    Once,
    /// First, nearest, the driver.
    First,
    /// Last.
    Last,
    /// Along.
    Along,
    /// Further from the middle.
    Arm,
    /// Turns, goes, works.
    Turns,
    /// Jams.
    Jams,
    /// Works against another.
    Fight,
    /// Yes.
    Yes,
    /// No.
    No,
    /// Not.
    Not,
    /// All.
    All,
    /// Both.
    Both,
    /// Neither.
    None,
    /// Many.
    Many,
    /// A reason follows.
    Because,
    /// What follows from it.
    So,
    /// Another thing follows.
    But,
    /// Something that does not count follows.
    Though,
    /// And.
    And,
    /// What is compared with follows.
    Than,
    /// A comma, full stop, line break.
    Break,
    /// A word that is not understood.
    Unknown,
}

/// A word before its meaning with others is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Piece {
    /// A word in its one spelling.
    Word(&'static str),
    /// A part.
    Part(usize),
    /// A number.
    Number(number::Number),
    /// A way to turn.
    Way(mechanism::Sense),
    /// A break.
    Break,
    /// Anything else.
    Unknown,
}

/// Returns what the tokens say.
pub(super) fn signs(tokens: &[token::Token], explaining: &explaining::Explaining) -> Vec<Sign> {
    phrase::signs(&pieces(&atom::words(tokens), explaining))
}

fn pieces(words: &[atom::Word], explaining: &explaining::Explaining) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut rest = words;
    let mut before = "";
    while let Some((word, after)) = rest.split_first() {
        if word.breaks {
            pieces.push(Piece::Break);
        }
        let text = word.text.as_str();
        let next = |index: usize| {
            let between = after.get(..=index)?;
            (!between.iter().any(|word| word.breaks)).then(|| between.get(index))?
        };
        let next_text = |index: usize| next(index).map(|word| word.text.as_str());
        let mut taken = 1;
        if let Some(part) = label(text, before, next_text(0), explaining) {
            pieces.push(Piece::Part(part));
        } else if let (Some(way), count) = direction::way(text, next_text(0), next_text(1))
            && text.chars().count() > 1
        {
            pieces.push(Piece::Way(way));
            taken = count;
        } else if let Some((part, count)) = named(text, after, explaining) {
            pieces.push(Piece::Part(part));
            taken = count;
        } else if let Some(number) = number_of(text) {
            pieces.push(Piece::Number(number));
        } else if text == "as" && pieces.last() != Some(&Piece::Word("not")) {
            // "twice as fast", "as many": it matters only in "not as fast".
        } else if let Some(plain) = spelling::plain(text) {
            pieces.push(Piece::Word(plain));
        } else if !spelling::is_idle(text) && text != "a" && text != "an" {
            pieces.push(Piece::Unknown);
        }
        before = text;
        rest = rest.get(taken.max(1)..).unwrap_or_default();
    }
    pieces
}

/// A part by its letter; `a` is often the article.
fn label(
    text: &str,
    before: &str,
    next: Option<&str>,
    explaining: &explaining::Explaining,
) -> Option<usize> {
    let parts = &explaining.scene.parts;
    let part = parts.iter().position(|part| part.label == text)?;
    let listed = |list: &str, word: &str| list.split_whitespace().any(|known| known == word);
    let is_label = text != "a"
        || next.is_none_or(|next| {
            listed(BEHIND_LABEL, next) || parts.iter().any(|other| other.label == next)
        })
        || listed(BEFORE_LABEL, before);
    is_label.then_some(part)
}

/// Words behind which `a` is the part.
const BEFORE_LABEL: &str = "gear cog wheel sprocket pulley than then of drives pushes between part";

/// Words before which `a` is the part.
const BEHIND_LABEL: &str = "\
    is are was turns turn turned goes go gos going moves move spins spin rotates rotate has have \
    and faster slower quicker because becos cos coz cuz drives drive pushes push will would does \
    makes wants can cant cw acw clockwise anticlockwise not so isnt only needs";

/// A part by another name, such as `driven gear`: by its kind or what it does, never
/// by its size, its place or what an idea speaks of.
fn named(
    text: &str,
    after: &[atom::Word],
    explaining: &explaining::Explaining,
) -> Option<(usize, usize)> {
    for (index, part) in explaining.scene.parts.iter().enumerate() {
        for name in part.names.iter().filter(|name| name.starts_with(text)) {
            let words: Vec<&str> = name.split(' ').collect();
            let speaks_for_itself = words
                .iter()
                .all(|word| spelling::as_spelt(word).is_none_or(|plain| plain == "gear"))
                && words.iter().any(|word| spelling::as_spelt(word).is_none())
                && !name.starts_with(|sign: char| sign.is_ascii_digit());
            let is_there = words.first() == Some(&text)
                && words.iter().skip(1).enumerate().all(|(place, word)| {
                    after
                        .get(place)
                        .is_some_and(|next| !next.breaks && next.text == *word)
                });
            if speaks_for_itself && is_there {
                return Some((index, words.len()));
            }
        }
    }
    None
}

/// A number in digits or in a word; `one` and `two` are words of their own.
fn number_of(text: &str) -> Option<number::Number> {
    const WORDS: [&str; 10] = [
        "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    ];
    if ["1", "2"].contains(&text) {
        return None;
    }
    if text.starts_with(|sign: char| sign.is_ascii_digit()) {
        return text.parse().ok();
    }
    (3..)
        .zip(WORDS)
        .find(|(_, word)| *word == text)
        .map(|(number, _)| number::Number::whole(number))
}
