//! How a pupil explains an answer: by an idea they have, or by what they believe.

use super::hand;
use super::pupil;
use toothmark::gears::ask;
use toothmark::gears::idea::{Idea, Reasons};
use toothmark::seed;

/// Returns the explanation as this pupil writes it.
pub(crate) fn write(
    reasons: &Reasons,
    truth: &pupil::Truth,
    hand: hand::Hand,
    stream: &mut seed::Stream,
) -> String {
    let (pick, messy) = (stream.below(6), stream.below(4));
    let words: &[&str] = match truth {
        pupil::Truth::Believed(id) => believed(id, &reasons.conclusion),
        pupil::Truth::Right
        | pupil::Truth::Slipped
        | pupil::Truth::LeftOut
        | pupil::Truth::DoesNotKnow
        | pupil::Truth::NotReached => {
            let place = usize::try_from(pick).unwrap_or(0) % (reasons.key.len() + 1);
            reasons
                .key
                .get(place)
                .map_or(&["because it just does", "I saw it happen"][..], |idea| {
                    idea_words(*idea)
                })
        }
    };
    let text = stream.choose(words).copied().unwrap_or_default();
    match hand {
        hand::Hand::Plain => text.to_owned(),
        hand::Hand::Lively => lively(text, messy),
    }
}

/// The idea as children put it.
fn idea_words(idea: Idea) -> &'static [&'static str] {
    match idea {
        Idea::SmallerFaster => &[
            "because it has fewer teeth",
            "it is smaller",
            "the small gear goes faster",
            "the big one has more teeth so it takes longer",
        ],
        Idea::TeethGiveTimes => &["I divided the teeth", "I counted the turns"],
        Idea::TeethPassAlike => &[
            "each tooth pushes one tooth",
            "the same number of teeth go past on both",
        ],
        Idea::SameSizeSameSpeed => &[
            "they have the same number of teeth",
            "they are the same size",
        ],
        Idea::OneAxleTogether => &["they are on the same axle", "they are joined together"],
        Idea::BetweenKeepsSpeed => &["the one in the middle does not matter"],
        Idea::StagesBuildUp => &["it slows down at each pair", "it gets slower each time"],
        Idea::WormToothByTooth => &["one turn of the worm moves one tooth"],
        Idea::MovementDoesNotFade => &["it does not matter which is first"],
        Idea::BiggerStronger => &["it is bigger", "it has more teeth so it has more force"],
        Idea::SlowerStronger => &["it turns slower so it has more force"],
        Idea::MeshOpposite => &[
            "gears that touch turn opposite ways",
            "the one next to it goes the other way",
        ],
        Idea::TeethPush => &["the teeth push each other"],
        Idea::BetweenTurnsBack => &["there is a gear in the middle", "there is 1 in between"],
        Idea::OddEven => &["it swaps each time", "every other gear goes the same way"],
        Idea::ChainKeeps => &["because of the chain", "the chain pulls both the same way"],
        Idea::CrossedTurns => &["the belt is crossed"],
        Idea::RingKeeps => &["it is inside the ring"],
        Idea::RackAlong => &["the teeth push it along"],
        Idea::OddLoop => &[
            "there is an odd number in a loop",
            "3 in a triangle cant turn",
        ],
        Idea::EvenLoop => &["there is an even number"],
        Idea::BothWaysAtOnce => &["one would have to go both ways at once"],
        Idea::OpenRow => &["they are in a line", "it is not a loop"],
        Idea::ToothSizesDiffer => &["the teeth are different sizes"],
        Idea::ToothSizesAlike => &["the teeth are the same size"],
        Idea::WormNotDriven => &["a gear cannot turn a worm"],
    }
}

/// What somebody says who thinks so.
fn believed(id: &str, conclusion: &ask::Fact) -> &'static [&'static str] {
    match id {
        "big-gear-faster" => &["because it is bigger", "big gears go faster"],
        "small-faster-on-one-axle" => &["because it is smaller", "small gears go faster"],
        "movement-fades" => &["it comes first", "it is nearest the handle"],
        "gains-force-and-speed" => &["it goes faster so it is stronger"],
        "same-direction" => &["all gears turn the same way"],
        "always-opposite" => &["no because the middle one makes it go the other way"],
        "odd-and-even-swapped" => &["I counted the gears"],
        "chain-turns-round" => &["they go opposite ways"],
        "crossing-overlooked" => &["belts make both go the same way"],
        "ring-turns-round" => &["gears that touch go opposite ways"],
        "turns-round-on-axle" => &["one goes the other way"],
        "any-loop-turns" => &["yes because they push each other round"],
        "any-loop-jams" => &["no it is a loop and loops jam"],
        "row-jams" => &["no there are too many"],
        "tooth-size-overlooked" => &["yes because the teeth fit"],
        "worm-driven-back" => &["yes because the gear turns the worm"],
        "same-speed" | "same-turning-force" => &["they are all the same"],
        _ if *conclusion == ask::Fact::Which(ask::Which::Same) => &["they are the same"],
        _ => &["because it just does", "I guessed"],
    }
}

fn lively(text: &str, pick: u64) -> String {
    match pick {
        0 => text.replace("because", "coz").replace("bigger", "biger"),
        1 => text.to_uppercase(),
        2 => text.replace("teeth", "teef").replace("smaller", "smaler"),
        _ => text.to_owned(),
    }
}
