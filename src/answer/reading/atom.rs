//! The words of an answer as what they say of parts: names, ways, comparisons, yes
//! and no, and the few words that turn the meaning.

mod phrase;
mod word;

use crate::answer::reading::atom::word::force_word;
use crate::answer::reading::atom::word::mended;
use crate::answer::reading::atom::word::single_way;
use crate::answer::reading::atom::word::speed;
use crate::answer::reading::atom::word::without_doubles;
use crate::answer::reading::atom::word::yes_no;
use crate::answer::reading::direction;
use crate::answer::reading::token;
use crate::answer::reading::vocabulary;
use crate::answer::scene;
use crate::gears::mechanism;

/// One thing that an answer says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Atom {
    /// A part, by its place in the scene.
    Part(usize),
    /// A way to move.
    Way(mechanism::Sense),
    /// The same (way, speed, force).
    Same,
    /// Opposite, the other way, different.
    Opposite,
    /// Faster, or stronger, as asked.
    More,
    /// Slower, or weaker.
    Less,
    /// Yes.
    Yes,
    /// No.
    No,
    /// It turns, works, moves.
    Works,
    /// It jams, locks, is stuck.
    Jams,
    /// Not.
    Not,
    /// Both, all.
    Both,
    /// Neither, nothing.
    None,
    /// A reason follows.
    Because,
    /// The answer follows.
    So,
    /// But, while: another thing follows.
    But,
    /// If, unless: what it hangs on follows.
    If,
    /// And.
    And,
    /// Or.
    Or,
    /// As, than, to, of: what is compared with follows.
    Than,
    /// For, on: the part that it holds for follows.
    For,
    /// What stood before is taken back.
    Correction,
    /// A tick.
    Tick,
    /// A cross, or "crossed out".
    Cross,
    /// A comma, full stop, bracket, dash, line break.
    Break,
    /// A number.
    Number(String),
    /// A word that says nothing by itself.
    Filler(String),
    /// A word that is not understood.
    Unknown(String),
}

/// What is asked, as far as it changes what words mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Which way.
    Way,
    /// Yes or no.
    YesNo,
    /// Faster, slower.
    Speed,
    /// Stronger, weaker.
    Force,
}

/// Returns what the tokens say.
pub(super) fn atoms(tokens: &[token::Token], scene: &scene::Scene, kind: Kind) -> Vec<Atom> {
    let words = words(tokens);
    let mut found = Vec::new();
    let mut rest = words.as_slice();
    while let Some((word, after)) = rest.split_first() {
        if word.breaks {
            found.push(Atom::Break);
        }
        let context = Context {
            scene,
            kind,
            before: &found,
            is_whole: words.len() == 1,
        };
        let (atom, taken) = context.read(&word.text, after);
        found.extend(atom);
        rest = rest.get(taken..).unwrap_or_default();
    }
    found
}

/// A word, and whether a break stands before it.
pub(super) struct Word {
    pub(super) text: String,
    pub(super) breaks: bool,
}

/// The words of an answer with short forms written out, signs that mean something,
/// and where it breaks.
pub(super) fn words(tokens: &[token::Token]) -> Vec<Word> {
    let mut words: Vec<Word> = Vec::new();
    let mut breaks = false;
    let mut push = |text: &str, breaks: &mut bool| {
        // "anti" at the end of a line goes on in the next.
        let goes_on = words
            .last()
            .is_some_and(|before: &Word| ["anti", "counter"].contains(&before.text.as_str()));
        words.push(Word {
            text: text.to_owned(),
            breaks: std::mem::take(breaks) && !goes_on,
        });
    };
    let mut rest = tokens;
    while let Some((token, after)) = rest.split_first() {
        rest = after;
        let next = after.first();
        let next_sign = next.filter(|next| next.glued).and_then(token::Token::sign);
        if let Some(ordinal) = ordinal(token, next) {
            push(ordinal, &mut breaks);
            rest = rest.get(1..).unwrap_or_default();
            continue;
        }
        if let Some(short) = short_way(token, rest) {
            push(short, &mut breaks);
            rest = rest.get(2..).unwrap_or_default();
            continue;
        }
        match &token.kind {
            token::Kind::Word(word) => match full_form(word) {
                Some(full) => {
                    for word in full.split(' ') {
                        push(word, &mut breaks);
                    }
                }
                None => push(word, &mut breaks),
            },
            token::Kind::Numeral(numeral) => push(&numeral.value.to_string(), &mut breaks),
            token::Kind::Odd(text) => push(text, &mut breaks),
            token::Kind::Sign('-' | '=') if next_sign == Some('>') => {
                rest = rest.get(1..).unwrap_or_default();
                push("→", &mut breaks);
            }
            token::Kind::Sign('<') if matches!(next_sign, Some('-' | '=')) => {
                let strokes = rest
                    .iter()
                    .take_while(|token| matches!(token.sign(), Some('-' | '=')))
                    .count();
                rest = rest.get(strokes..).unwrap_or_default();
                push("←", &mut breaks);
            }
            token::Kind::Sign('-') if next_sign == Some('-') => {}
            token::Kind::Sign('-') => {
                let is_hyphen = token.glued && next.is_some_and(|next| next.glued);
                breaks |= !is_hyphen;
            }
            // Before everything else it begins a formula, and likens nothing.
            token::Kind::Sign('=') if after.len() + 1 == tokens.len() && !after.is_empty() => {}
            token::Kind::Sign(sign @ ('→' | '←' | '↻' | '↺' | '✓' | '✗' | '<' | '>' | '=')) =>
            {
                push(&sign.to_string(), &mut breaks);
            }
            token::Kind::Sign('/') => push("or", &mut breaks),
            token::Kind::Sign(',' | '.' | ';' | '(' | ')' | '[' | ']' | '|' | '\n') => {
                breaks = true;
            }
            token::Kind::Sign(_) => {}
        }
    }
    words
}

/// `1st`, `2nd` in a word.
fn ordinal(token: &token::Token, next: Option<&token::Token>) -> Option<&'static str> {
    let ending = next.filter(|next| next.glued)?.word()?;
    match (token.numeral()?.text.as_str(), ending) {
        ("1", "st") => Some("first"),
        ("2", "nd") => Some("second"),
        ("3", "rd") => Some("third"),
        _ => None,
    }
}

/// `a/c`, `c/w`, `a-cw`: letters with a stroke between them that say a way.
fn short_way(first: &token::Token, rest: &[token::Token]) -> Option<&'static str> {
    let [stroke, second, ..] = rest else {
        return None;
    };
    if !stroke.glued || !second.glued {
        return None;
    }
    match (first.word()?, stroke.sign()?, second.word()?) {
        ("c", '/', "w") => Some("cw"),
        ("a" | "c" | "cc", '/', "c" | "cw" | "w") | ("a" | "c", '-', "cw") => Some("acw"),
        _ => None,
    }
}

fn full_form(word: &str) -> Option<&'static str> {
    Some(match word {
        "wont" | "wouldnt" => "will not",
        "cant" | "cannot" | "couldnt" => "can not",
        "dont" | "doesnt" | "dosent" | "dosnt" | "doesent" | "didnt" => "does not",
        "isnt" | "arent" | "aint" | "wasnt" | "werent" => "is not",
        "itll" => "it will",
        "theyll" => "they will",
        "its" => "it is",
        "theyre" => "they are",
        "thats" => "that is",
        _ => return None,
    })
}

/// How many words a name has, where it stands at this place.
fn length_where_there(name: &str, word: &str, after: &[Word]) -> Option<usize> {
    let mut names = name.split(' ');
    if names.next() != Some(word) {
        return None;
    }
    let mut length = 1;
    for name in names {
        let next = after.get(length - 1)?;
        if next.breaks || next.text != name {
            return None;
        }
        length += 1;
    }
    Some(length)
}

struct Context<'c> {
    scene: &'c scene::Scene,
    kind: Kind,
    before: &'c [Atom],
    /// Whether this is the only word.
    is_whole: bool,
}

impl Context<'_> {
    /// Reads one thing; `None` for a word that says nothing, and how many words it took.
    fn read(&self, word: &str, after: &[Word]) -> (Option<Atom>, usize) {
        let next = after
            .first()
            .filter(|word| !word.breaks)
            .map(|word| word.text.as_str());
        let after_next = after
            .get(1)
            .filter(|word| next.is_some() && !word.breaks)
            .map(|word| word.text.as_str());
        if self.speaks_of_ways() {
            let (way, taken) = direction::way(word, next, after_next);
            // "A cw" in a longer answer speaks of gear A, as "a c" does of C.
            let is_label =
                word == "a" && (next == Some("c") || (next == Some("cw") && self.has_part("a")));
            if let Some(way) = way.filter(|_| !is_label || after.len() == 1) {
                return (Some(Atom::Way(way)), taken);
            }
        }
        if let Some((atom, taken)) = self.phrase(word, next, after_next) {
            return (Some(atom), taken);
        }
        // A letter alone that says a way is no part: nobody answers "which way" with "R".
        if let Some(way) = self.letter_alone(word) {
            return (Some(Atom::Way(way)), 1);
        }
        // The part A, or short for anticlockwise: for a person to say.
        if word == "a" && self.is_whole && self.kind == Kind::Way {
            return (Some(Atom::Unknown(word.to_owned())), 1);
        }
        if let Some((part, taken)) = self.part(word, after) {
            return (Some(Atom::Part(part)), taken);
        }
        (Some(self.single(word)), 1)
    }

    fn speaks_of_ways(&self) -> bool {
        match self.kind {
            Kind::Way | Kind::YesNo => true,
            Kind::Speed | Kind::Force => false,
        }
    }

    /// A part by a name or its label.
    fn part(&self, word: &str, after: &[Word]) -> Option<(usize, usize)> {
        // Of the names that are there the longest, and of equal ones the first.
        let mut named: Option<(usize, usize)> = None;
        for (index, part) in self.scene.parts.iter().enumerate() {
            for name in &part.names {
                let length = length_where_there(name, word, after);
                if let Some(length) = length.filter(|it| named.is_none_or(|(_, known)| known < *it))
                {
                    named = Some((index, length));
                }
            }
        }
        if named.is_some() {
            return named;
        }
        let part = self
            .scene
            .parts
            .iter()
            .position(|part| part.label == word)?;
        let is_label = word != "a" || self.is_label_a(after);
        (is_label && (word != "x" || self.is_whole)).then_some((part, 1))
    }

    /// Whether `a` is the part A and not the article.
    fn is_label_a(&self, after: &[Word]) -> bool {
        let Some(next) = after.first().filter(|next| !next.breaks) else {
            return true;
        };
        if ARTICLE_BEFORE
            .split_whitespace()
            .any(|word| word == next.text)
        {
            return false;
        }
        let begins = match self.before.last() {
            Some(Atom::Filler(word)) => THINGS.contains(&word.as_str()),
            None
            | Some(
                Atom::Break
                | Atom::Than
                | Atom::For
                | Atom::And
                | Atom::Both
                | Atom::Not
                | Atom::Or
                | Atom::No
                | Atom::Correction
                | Atom::Because
                | Atom::So
                | Atom::But
                | Atom::If
                | Atom::Yes
                | Atom::Part(_)
                | Atom::Way(_)
                | Atom::Cross
                | Atom::Tick,
            ) => true,
            Some(
                Atom::Same
                | Atom::Opposite
                | Atom::More
                | Atom::Less
                | Atom::Works
                | Atom::Jams
                | Atom::None
                | Atom::Number(_)
                | Atom::Unknown(_),
            ) => false,
        };
        let is_verb = LABEL_BEFORE
            .split_whitespace()
            .any(|word| word == next.text);
        // "slow A fast B"
        let lies_between = self.follows_comparison() && self.compares(&next.text);
        is_verb || begins || lies_between
    }

    /// Whether a word says more or less of what is asked.
    fn compares(&self, word: &str) -> bool {
        matches!(self.by_kind(word), Some(Atom::More | Atom::Less))
    }

    /// Whether more or less has just been said.
    fn follows_comparison(&self) -> bool {
        matches!(self.before.last(), Some(Atom::More | Atom::Less))
    }

    /// What one word says, misspelt or with letters doubled too.
    fn single(&self, word: &str) -> Atom {
        self.as_written(word).unwrap_or_else(|| {
            // Mended once and no more: `jammed` is `jamed` without doubles, and that is
            // mended to `jammed`.
            let other = mended(word)
                .map(str::to_owned)
                .or_else(|| without_doubles(word));
            let other = other.and_then(|other| {
                self.as_written(&other)
                    .or_else(|| self.as_written(mended(&other)?))
            });
            other.unwrap_or_else(|| Atom::Unknown(word.to_owned()))
        })
    }

    /// What one word says as it is written, if it is known in this kind of question.
    fn as_written(&self, word: &str) -> Option<Atom> {
        if let Some(atom) = self.by_kind(word) {
            return Some(atom);
        }
        Some(match word {
            "same" | "alike" | "equal" | "equally" | "identical" | "tie" | "draw" | "level"
            | "samee" | "smae" | "sme" => Atom::Same,
            "together" if self.follows_turning() => Atom::Same,
            "no" | "nope" | "noo" => Atom::No,
            "opposite" | "opposites" | "opposit" | "oposite" | "opposing" | "reverse"
            | "reversed" | "different" | "differently" | "contrary" | "opp" => Atom::Opposite,
            // Opposite to the other gear, or to clockwise: for a person to say.
            "backwards" | "backward" => Atom::Unknown(word.to_owned()),
            "not" | "never" | "nt" => Atom::Not,
            "both" | "all" | "everything" => Atom::Both,
            "neither" | "nothing" | "none" | "nobody" | "nor" => Atom::None,
            "because" | "becuase" | "becos" | "becouse" | "beacuse" | "becase" | "bcause"
            | "bc" | "cos" | "cuz" | "coz" | "cause" | "since" | "bcos" | "becaus" | "beause" => {
                Atom::Because
            }
            "when" | "while" | "whilst" | "whereas" | "but" | "though" => Atom::But,
            "if" | "unless" => Atom::If,
            "so" | "therefore" | "thus" | "hence" | "answer" | "ans" | "anser" | "awnser"
            | "answr" | "anwser" | "means" => Atom::So,
            "and" => Atom::And,
            "or" | "maybe" | "either" => Atom::Or,
            "as" | "than" | "then" | "to" | "of" | "from" => Atom::Than,
            "for" | "on" => Atom::For,
            "sorry" | "oops" | "actually" | "actualy" | "wait" | "ops" | "correction"
            | "instead" | "whoops" | "rather" => Atom::Correction,
            "✓" => Atom::Tick,
            "✗" => Atom::Cross,
            word if word.starts_with(|sign: char| sign.is_ascii_digit()) => {
                Atom::Number(word.to_owned())
            }
            word if THINGS.contains(&word) || vocabulary::is_known(word) || is_explained(word) => {
                Atom::Filler(word.to_owned())
            }
            // A label of no part here.
            word if vocabulary::is_label(word) && word != "a" && self.names_a_thing() => {
                Atom::Number(word.to_owned())
            }
            _ => return None,
        })
    }

    /// Whether a letter here must be a label: alone, or behind "gear".
    fn names_a_thing(&self) -> bool {
        self.is_whole
            || matches!(self.before.last(), Some(Atom::Filler(word)) if THINGS.contains(&word.as_str()))
    }

    /// Whether a word for turning stands right before.
    fn follows_turning(&self) -> bool {
        matches!(self.before.last(), Some(Atom::Works))
            || matches!(self.before.last(), Some(Atom::Filler(word)) if [
                "turn", "turns", "go", "goes", "move", "moves", "spin", "spins", "rotate",
                "rotates", "turning", "going",
            ]
            .contains(&word.as_str()))
    }

    /// What one word says in this kind of question.
    fn by_kind(&self, word: &str) -> Option<Atom> {
        match self.kind {
            Kind::Way => single_way(word)
                .or_else(|| single_way(&without_doubles(word)?))
                .filter(|_| self.has_slide() || self.is_whole)
                .map(Atom::Way)
                .or_else(|| self.whole_way(word)),
            Kind::YesNo => yes_no(word, self.is_whole),
            Kind::Speed => speed(word),
            Kind::Force => force_word(word),
        }
    }

    fn has_part(&self, label: &str) -> bool {
        self.scene.parts.iter().any(|part| part.label == label)
    }

    /// The way that `l` or `r` as the whole answer says where something slides.
    fn letter_alone(&self, word: &str) -> Option<mechanism::Sense> {
        let says_a_way = self.kind == Kind::Way && self.is_whole && self.has_slide();
        single_way(word).filter(|_| says_a_way && word.len() == 1)
    }

    /// Whether something slides: then left and right are ways.
    fn has_slide(&self) -> bool {
        self.scene.parts.iter().any(|part| {
            matches!(
                part.sense,
                Some(mechanism::Sense::Left | mechanism::Sense::Right)
            ) || part.names.iter().any(|name| name == "rack")
        })
    }

    /// Letters that mean a way only as the whole answer.
    fn whole_way(&self, word: &str) -> Option<Atom> {
        if !self.is_whole || self.has_slide() {
            return None;
        }
        match word {
            "c" if !self.has_part("c") => Some(Atom::Way(mechanism::Sense::Clockwise)),
            "ac" | "cc" => Some(Atom::Way(mechanism::Sense::Anticlockwise)),
            _ => None,
        }
    }
}

/// What a label stands behind.
const THINGS: &[&str] = &[
    "gear", "gears", "geer", "gera", "grear", "cog", "cogs", "wheel", "wheels", "sprocket",
    "pulley", "part", "worm", "rack", "drum", "letter", "labelled", "called", "option",
];

/// Words before which `a` is the article.
const ARTICLE_BEFORE: &str = "\
    big bigger small smaller large larger little bit lot full whole tiny gear cog wheel rack \
    pinion worm ring sprocket pulley turn complete different same";

/// Words before which `a` is the part.
const LABEL_BEFORE: &str = "\
    is are was turns turn turned goes go going went moves move spins spin rotates rotate has and \
    faster slower quicker more less fewer because cos same opposite drives driven will would does \
    makes weaker stronger not or then but as than to too rather only → = > < ✓ ✗ since obviously \
    definitely no sorry";

/// Words of explanations that change nothing.
fn is_explained(word: &str) -> bool {
    EXPLAINING.split_whitespace().any(|known| known == word)
}

const EXPLAINING: &str = "\
    odd even swap swaps swapped swapping alternate alternates alternating neighbour neighbours \
    neighbor neighbors next touch touches touching mesh meshes meshing chain belt pull pulls \
    pushes push pushed teeth tooth size sizes sized axle axles joined join fixed stuck every each \
    loop ring triangle circle square row line skip skips count counted number three four five two \
    hand side towards toward usually always never often slowly quickly easily hard matter matters \
    between passes pass passing turning forces force speed power pulls pulled same crossed \
    because direction change changes changed changing flips flip flipped back again way ways \
    rule pattern follow following means mean sir miss please thanks cw acw idler connect connects \
    connected connection together around round about along through over under above below up \
    down sideways across slides slide outside inside inner outer front";
