//! What words say together: `more teeth`, `twice as fast`, `the other way`.

use crate::answer::reading::explained::sign::Degree;
use crate::answer::reading::explained::sign::Piece;
use crate::answer::reading::explained::sign::Sign;
use crate::number;

/// What several words say, the longest first; an empty text says nothing.
const PHRASES: &[(&str, &[Sign])] = &[
    ("same number teeth", &[Sign::SameSize]),
    ("teeth same number", &[Sign::SameSize]),
    ("different number teeth", &[Sign::OtherSize]),
    ("big number teeth", &[Sign::Size(Degree::More)]),
    ("small number teeth", &[Sign::Size(Degree::Less)]),
    ("same size teeth", &[Sign::SameTeeth]),
    ("teeth same size", &[Sign::SameTeeth]),
    ("different size teeth", &[Sign::OtherTeeth]),
    ("teeth different size", &[Sign::OtherTeeth]),
    ("teeth not same", &[Sign::OtherTeeth]),
    ("not same teeth", &[Sign::OtherTeeth]),
    ("not same size", &[Sign::OtherSize]),
    ("each one tooth", &[Sign::EachTooth]),
    ("not each other", &[Sign::Not]),
    ("next each other", &[Sign::Touch]),
    ("one each other", &[]),
    ("other way round", &[Sign::OtherWay]),
    ("more turn force", &[Sign::Power(Degree::More)]),
    ("big turn force", &[Sign::Power(Degree::More)]),
    ("less turn force", &[Sign::Power(Degree::Less)]),
    ("small turn force", &[Sign::Power(Degree::Less)]),
    ("same turn force", &[Sign::SamePower]),
    ("more force", &[Sign::Power(Degree::More)]),
    ("big force", &[Sign::Power(Degree::More)]),
    ("more strong", &[Sign::Power(Degree::More)]),
    ("gain force", &[Sign::Power(Degree::More)]),
    ("force gain", &[Sign::Power(Degree::More)]),
    ("less force", &[Sign::Power(Degree::Less)]),
    ("small force", &[Sign::Power(Degree::Less)]),
    ("lose force", &[Sign::Power(Degree::Less)]),
    ("force lose", &[Sign::Power(Degree::Less)]),
    ("same force", &[Sign::SamePower]),
    ("same strong", &[Sign::SamePower]),
    ("more speed", &[Sign::Pace(Degree::More)]),
    ("big speed", &[Sign::Pace(Degree::More)]),
    ("gain speed", &[Sign::Pace(Degree::More)]),
    ("less speed", &[Sign::Pace(Degree::Less)]),
    ("lose speed", &[Sign::Pace(Degree::Less)]),
    ("speed lose", &[Sign::Pace(Degree::Less)]),
    ("same speed", &[Sign::SamePace]),
    ("same fast", &[Sign::SamePace]),
    ("same time", &[Sign::SamePace]),
    ("less time", &[Sign::Pace(Degree::More)]),
    ("more time", &[Sign::Pace(Degree::Less)]),
    ("less long", &[Sign::Pace(Degree::More)]),
    ("turn round more times", &[Sign::Pace(Degree::More)]),
    ("turn round more often", &[Sign::Pace(Degree::More)]),
    ("turn round more", &[Sign::Pace(Degree::More)]),
    ("turn round less", &[Sign::Pace(Degree::Less)]),
    ("turn more", &[Sign::Pace(Degree::More)]),
    ("turn less", &[Sign::Pace(Degree::Less)]),
    ("more turn", &[Sign::Pace(Degree::More)]),
    ("less turn", &[Sign::Pace(Degree::Less)]),
    ("round more", &[Sign::Pace(Degree::More)]),
    ("round less", &[Sign::Pace(Degree::Less)]),
    ("more times", &[Sign::Pace(Degree::More)]),
    ("more often", &[Sign::Pace(Degree::More)]),
    ("less times", &[Sign::Pace(Degree::Less)]),
    ("less often", &[Sign::Pace(Degree::Less)]),
    ("more fast", &[Sign::Pace(Degree::More)]),
    ("more slow", &[Sign::Pace(Degree::Less)]),
    ("more teeth", &[Sign::Size(Degree::More)]),
    ("less teeth", &[Sign::Size(Degree::Less)]),
    ("more tooth", &[Sign::Size(Degree::More)]),
    ("less tooth", &[Sign::Size(Degree::Less)]),
    ("big one", &[Sign::Size(Degree::More), Sign::Gears]),
    ("small one", &[Sign::Size(Degree::Less), Sign::Gears]),
    ("big gear", &[Sign::Size(Degree::More), Sign::Gears]),
    ("small gear", &[Sign::Size(Degree::Less), Sign::Gears]),
    ("teeth less", &[Sign::Size(Degree::Less)]),
    ("teeth more", &[Sign::Size(Degree::More)]),
    ("not as many teeth", &[Sign::Size(Degree::Less)]),
    ("not as big", &[Sign::Size(Degree::Less)]),
    ("not as wide", &[Sign::Size(Degree::Less)]),
    ("not as small", &[Sign::Size(Degree::More)]),
    ("not as fast", &[Sign::Pace(Degree::Less)]),
    ("not turn as fast", &[Sign::Pace(Degree::Less)]),
    ("not as slow", &[Sign::Pace(Degree::More)]),
    ("not as strong", &[Sign::Power(Degree::Less)]),
    ("no matter size", &[Sign::SameSize]),
    ("turn more slow", &[Sign::Pace(Degree::Less)]),
    ("turn more fast", &[Sign::Pace(Degree::More)]),
    ("turn less fast", &[Sign::Pace(Degree::Less)]),
    ("turn other", &[Sign::OtherWay]),
    ("turn other gear", &[Sign::Turns, Sign::Other]),
    ("turn other one", &[Sign::Turns, Sign::Other]),
    ("big teeth", &[Sign::OtherTeeth]),
    ("small teeth", &[Sign::OtherTeeth]),
    ("small gap", &[Sign::OtherTeeth]),
    ("big gap", &[Sign::OtherTeeth]),
    ("teeth big", &[Sign::OtherTeeth]),
    ("teeth small", &[Sign::OtherTeeth]),
    ("different teeth", &[Sign::OtherTeeth]),
    ("teeth different", &[Sign::OtherTeeth]),
    ("same size", &[Sign::SameSize]),
    ("same big", &[Sign::SameSize]),
    ("same teeth", &[Sign::SameSize]),
    ("same number", &[Sign::SameSize]),
    ("size same", &[Sign::SameSize]),
    ("different size", &[Sign::OtherSize]),
    ("same length", &[Sign::SameLength]),
    ("same way", &[Sign::SameWay]),
    ("different way", &[Sign::OtherWay]),
    ("opposite way", &[Sign::OtherWay]),
    ("other way", &[Sign::OtherWay]),
    ("way different", &[Sign::OtherWay]),
    ("way opposite", &[Sign::OtherWay]),
    ("both way", &[Sign::BothWays]),
    ("two way", &[Sign::BothWays]),
    ("two different way", &[Sign::BothWays]),
    ("one way", &[Sign::OneWay]),
    ("each tooth", &[Sign::EachTooth]),
    ("every tooth", &[Sign::EachTooth]),
    ("one tooth", &[Sign::OneTooth]),
    ("every other", &[Sign::EveryOther]),
    ("each time", &[Sign::Each]),
    ("every time", &[Sign::Each]),
    ("each other", &[]),
    ("other one", &[Sign::Other]),
    ("other gear", &[Sign::Other]),
    ("one gear", &[Sign::Someone]),
    ("one turn", &[Sign::Turns]),
    ("end free", &[Sign::OpenEnds]),
    ("free end", &[Sign::OpenEnds]),
    ("jam together", &[Sign::Join]),
    ("far middle", &[Sign::Arm]),
    ("far axle", &[Sign::Arm]),
    ("long arm", &[Sign::Arm]),
    ("even though", &[Sign::Though]),
    ("not inside", &[]),
    ("small", &[Sign::Size(Degree::Less)]),
    ("big", &[Sign::Size(Degree::More)]),
    ("wide", &[Sign::Size(Degree::More)]),
    ("fast", &[Sign::Pace(Degree::More)]),
    ("slow", &[Sign::Pace(Degree::Less)]),
    ("long", &[Sign::Pace(Degree::Less)]),
    ("strong", &[Sign::Power(Degree::More)]),
    ("weak", &[Sign::Power(Degree::Less)]),
    ("same", &[Sign::Same]),
    ("different", &[Sign::Different]),
    ("opposite", &[Sign::OtherWay]),
    ("other", &[Sign::Other]),
    ("it", &[Sign::It]),
    ("one", &[Sign::Someone]),
    ("gear", &[Sign::Gears]),
    ("touch", &[Sign::Touch]),
    ("next", &[Sign::Touch]),
    ("push", &[Sign::Push]),
    ("drive", &[Sign::Drive]),
    ("teeth", &[Sign::Teeth]),
    ("tooth", &[Sign::Teeth]),
    ("fit", &[Sign::Fit]),
    ("pass", &[Sign::Pass]),
    ("middle", &[Sign::Between]),
    ("idler", &[Sign::Between]),
    ("matter", &[Sign::Matter]),
    ("change", &[Sign::Change]),
    ("alternate", &[Sign::Change, Sign::Each]),
    ("make", &[Sign::Make]),
    ("need", &[Sign::Need]),
    ("only", &[Sign::Only]),
    ("back", &[Sign::Back]),
    ("each", &[Sign::Each]),
    ("every", &[Sign::Each]),
    ("again", &[Sign::Again]),
    ("odd", &[Sign::Odd]),
    ("even", &[Sign::Even]),
    ("divide", &[Sign::Divided]),
    ("stage", &[Sign::Stage]),
    ("ring", &[Sign::Ring]),
    ("loop", &[Sign::Loop]),
    ("line", &[Sign::Line]),
    ("chain", &[Sign::Chain]),
    ("belt", &[Sign::Belt]),
    ("crossed", &[Sign::Crossed]),
    ("inside", &[Sign::Inside]),
    ("worm", &[Sign::Worm]),
    ("rack", &[Sign::Rack]),
    ("axle", &[Sign::Axle]),
    ("join", &[Sign::Join]),
    ("together", &[Sign::Together]),
    ("once", &[Sign::Once]),
    ("first", &[Sign::First]),
    ("near", &[Sign::First]),
    ("driver", &[Sign::First]),
    ("last", &[Sign::Last]),
    ("far", &[Sign::Last]),
    ("along", &[Sign::Along]),
    ("turn", &[Sign::Turns]),
    ("jam", &[Sign::Jams]),
    ("fight", &[Sign::Fight]),
    ("yes", &[Sign::Yes]),
    ("no", &[Sign::No]),
    ("not", &[Sign::Not]),
    ("all", &[Sign::All]),
    ("both", &[Sign::Both]),
    ("none", &[Sign::None]),
    ("many", &[Sign::Many]),
    ("because", &[Sign::Because]),
    ("so", &[Sign::So]),
    ("but", &[Sign::But]),
    ("though", &[Sign::Though]),
    ("and", &[Sign::And]),
    ("than", &[Sign::Than]),
];

/// Returns what the pieces say.
pub(super) fn signs(pieces: &[Piece]) -> Vec<Sign> {
    let mut signs = Vec::new();
    let mut rest = pieces;
    while let Some((piece, after)) = rest.split_first() {
        if let Some((found, taken)) = times(rest) {
            signs.push(found);
            rest = rest.get(taken..).unwrap_or_default();
            continue;
        }
        rest = after;
        match piece {
            Piece::Part(part) => signs.push(Sign::Part(*part)),
            Piece::Number(number) => signs.push(Sign::Number(*number)),
            Piece::Way(sense) => signs.push(Sign::Way(*sense)),
            Piece::Break => signs.push(Sign::Break),
            Piece::Unknown => signs.push(Sign::Unknown),
            Piece::Word(word) => {
                let (found, further) = phrase(word, after);
                signs.extend_from_slice(found);
                rest = after.get(further..).unwrap_or_default();
            }
        }
    }
    signs
}

/// The longest phrase that begins with a word, and how many words it takes besides.
fn phrase(word: &str, after: &[Piece]) -> (&'static [Sign], usize) {
    let mut best: (&[Sign], usize) = (&[], 0);
    let mut is_found = false;
    for (text, signs) in PHRASES {
        let mut words = text.split(' ');
        if words.next() != Some(word) {
            continue;
        }
        let further: Vec<&str> = words.collect();
        let is_there = further
            .iter()
            .enumerate()
            .all(|(place, word)| is_word(after.get(place), word));
        if is_there && (!is_found || further.len() > best.1) {
            best = (signs, further.len());
            is_found = true;
        }
    }
    best
}

fn is_word(piece: Option<&Piece>, wanted: &str) -> bool {
    matches!(piece, Some(Piece::Word(word)) if *word == wanted)
}

fn is_any(piece: Option<&Piece>, wanted: &[&str]) -> bool {
    wanted.iter().any(|wanted| is_word(piece, wanted))
}

/// A share or a number of times at the start: of the size (then it says which is the
/// bigger), or of the turning.
fn times(pieces: &[Piece]) -> Option<(Sign, usize)> {
    let (number, is_share) = match pieces.first()? {
        Piece::Number(number) => (*number, false),
        Piece::Word("two" | "double") => (number::Number::whole(2), false),
        Piece::Word("half") => (number::Number::whole(2), true),
        Piece::Word("third") => (number::Number::whole(3), true),
        Piece::Word("quarter") => (number::Number::whole(4), true),
        Piece::Word(_) | Piece::Part(_) | Piece::Way(_) | Piece::Break | Piece::Unknown => {
            return None;
        }
    };
    let says_times = is_any(pieces.get(1), &["times", "time"]);
    let needs_times = matches!(pieces.first()?, Piece::Number(_) | Piece::Word("two"));
    let mut place = 1 + usize::from(says_times);
    // "3 times fewer teeth", "twice as many teeth", "half the size".
    let mut degree = if is_share { Degree::Less } else { Degree::More };
    if is_any(
        pieces.get(place),
        &["more", "less", "many", "number", "big", "small"],
    ) {
        if is_any(pieces.get(place), &["less", "small"]) {
            degree = Degree::Less;
        }
        if is_any(pieces.get(place), &["big", "small"])
            && (says_times || !needs_times)
            && !(needs_times && is_any(pieces.get(place + 1), &["one", "gear"]))
        {
            return Some((Sign::Size(degree), place + 1));
        }
        place += 1;
    }
    if is_any(pieces.get(place), &["teeth", "size", "wide", "tooth"])
        && (says_times || !needs_times)
    {
        return Some((Sign::Size(degree), place + 1));
    }
    if says_times || !needs_times {
        // "half as fast" and "twice" alone; what follows is read by itself.
        return Some((Sign::Times(number), 1 + usize::from(says_times)));
    }
    // "3 turns for every turn"
    let later = pieces.get(1..).unwrap_or_default();
    let is_rate = is_word(later.first(), "turn")
        && later.windows(2).take(4).any(|pair| {
            is_any(pair.first(), &["each", "every", "one"]) && is_word(pair.get(1), "turn")
        });
    if is_rate {
        return Some((Sign::Times(number), 2));
    }
    // Two teeth, two gears: a number like any other.
    needs_times.then_some((Sign::Number(number), 1))
}
