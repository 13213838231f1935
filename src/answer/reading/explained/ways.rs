//! Why parts turn the way they do: meshes, the gear between, chains, rings, axles.

use crate::answer::reading::explained;
use crate::answer::reading::explained::Claims;
use crate::answer::reading::explained::Text;
use crate::answer::reading::explained::sign::Sign;
use crate::gears::ask;
use crate::gears::idea::Idea;
use crate::gears::mechanism;
use crate::number;

/// Notes the ideas of a text, and returns the answer it says.
pub(super) fn read(text: &Text<'_>, claims: &mut Claims<'_>) -> Option<ask::Fact> {
    let conclusion = conclusion(text);
    let is_wrong = conclusion
        .as_ref()
        .is_some_and(|conclusion| conclusion != text.right());
    senses(text, claims);
    meshes(text, claims, is_wrong);
    counts(text, claims);
    links(text, claims, is_wrong);
    conclusion
}

/// Yes or no, or the way of the part asked about.
fn conclusion(text: &Text<'_>) -> Option<ask::Fact> {
    if let ask::Explained::Direction(part) = text.explaining.explained {
        let said = said_ways(text);
        return said
            .iter()
            .find(|said| said.part.is_none_or(|it| it == part.index()))
            .map(|said| ask::Fact::Sense(said.sense));
    }
    text.yes_or_no().map(ask::Fact::YesNo)
}

/// A way that is said of a part, or of none.
pub(super) struct Said {
    pub(super) part: Option<usize>,
    pub(super) sense: mechanism::Sense,
}

/// Every way that is said, with the part named before it in its clause.
pub(super) fn said_ways(text: &Text<'_>) -> Vec<Said> {
    let mut said = Vec::new();
    let mut part = None;
    for sign in text.signs {
        if let Sign::Part(named) = sign {
            part = Some(*named);
        } else if let Sign::Way(sense) = sign {
            said.push(Said {
                part,
                sense: *sense,
            });
        } else if explained::ends_clause(*sign) {
            part = None;
        }
    }
    said
}

/// Ways told part by part: gears that turn by turns this way and that.
pub(super) fn senses(text: &Text<'_>, claims: &mut Claims<'_>) {
    let said = said_ways(text);
    let parts = &text.explaining.scene.parts;
    let true_way = |said: &Said| parts.get(said.part?)?.sense;
    let of_parts: Vec<&Said> = said.iter().filter(|said| said.part.is_some()).collect();
    let has_both = |said: &[&Said]| {
        said.iter()
            .any(|one| said.iter().any(|other| one.sense != other.sense))
    };
    let mut seen: Vec<usize> = of_parts.iter().filter_map(|said| said.part).collect();
    seen.sort_unstable();
    seen.dedup();
    if seen.len() < 2 {
        return;
    }
    let agree = of_parts
        .iter()
        .all(|said| true_way(said).is_none_or(|way| way == said.sense));
    if has_both(&of_parts) && agree {
        claims.says(Idea::MeshOpposite);
    } else if !has_both(&of_parts) && !agree {
        claims.denies(Idea::MeshOpposite);
    }
}

/// What is said of gears that touch.
fn meshes(text: &Text<'_>, claims: &mut Claims<'_>, is_wrong: bool) {
    let turns_back = text.has(Sign::Back);
    let is_direction = matches!(text.explaining.explained, ask::Explained::Direction(_));
    let between_turns = text.has(Sign::Between) && text.has(Sign::OtherWay) && is_wrong;
    let names_between = text.explaining.reasons.ground.along.iter().any(|part| {
        let is_asked = match text.explaining.explained {
            ask::Explained::SameWay(first, second) => [first, second].contains(part),
            ask::Explained::Direction(asked) => asked == *part,
            ask::Explained::Faster(..)
            | ask::Explained::Stronger(..)
            | ask::Explained::WillItTurn => true,
        };
        !is_asked && text.has(Sign::Part(part.index()))
    });
    if text.has(Sign::OtherWay) && !between_turns {
        let is_rule = is_direction
            || names_between
            || text.has_any(&[Sign::Touch, Sign::Push, Sign::Each, Sign::Between]);
        if is_rule {
            claims.says(Idea::MeshOpposite);
        }
    }
    if text.has(Sign::Change) && (text.has(Sign::Each) || is_direction) && !text.has(Sign::Not) {
        claims.says(Idea::MeshOpposite);
    }
    let same_way_is_wrong = is_direction || text.has_any(&[Sign::All, Sign::Gears]);
    let says_same = text
        .clauses()
        .any(|clause| clause.contains(&Sign::SameWay) && !clause.contains(&Sign::EveryOther));
    if says_same && same_way_is_wrong && !text.has(Sign::OtherWay) && !text.has(Sign::Not) {
        claims.denies(Idea::MeshOpposite);
    }
    if between_turns {
        claims.denies(Idea::BetweenTurnsBack);
    } else if turns_back || (text.has(Sign::Between) && !text.has(Sign::OtherWay)) {
        claims.says(Idea::BetweenTurnsBack);
    }
    // "Opposite of opposite", "A is opposite to B and B to C": turned twice.
    let twice = |sign: &&Sign| **sign == Sign::OtherWay;
    if !is_wrong && !is_direction && text.signs.iter().filter(twice).count() == 2 {
        claims.says(Idea::BetweenTurnsBack);
    }
    let said = said_ways(text);
    let repeats = said
        .windows(2)
        .any(|pair| matches!(pair, [one, other] if one.sense == other.sense));
    if is_direction && is_wrong && repeats {
        claims.denies(Idea::MeshOpposite);
    }
    if text.has(Sign::Touch) {
        claims.touches(Idea::MeshOpposite);
    }
    if text.has(Sign::Push) {
        claims.says(Idea::TeethPush);
    }
}

/// How often the direction changes, odd and even.
fn counts(text: &Text<'_>, claims: &mut Claims<'_>) {
    let ground = &text.explaining.reasons.ground;
    let changes = ground.changes;
    let gears = ground.along.len();
    let says = |count: usize| {
        text.signs.iter().any(|sign| {
            matches!(sign, Sign::Number(number) | Sign::Times(number) if is_count(*number, count))
        })
    };
    if text.has(Sign::EveryOther) && text.has_any(&[Sign::SameWay, Sign::Same]) {
        claims.says(Idea::OddEven);
    }
    if text.has(Sign::Change) && says(changes) {
        claims.says(Idea::OddEven);
    }
    let between = gears.saturating_sub(2);
    if text.has(Sign::Between) && between > 1 && says(between) {
        claims.says(Idea::OddEven);
    }
    let about_changes = text.has(Sign::Change);
    let counted = if about_changes { changes } else { gears };
    match (text.has(Sign::Odd), text.has(Sign::Even)) {
        (true, false) | (false, true) => {
            if text.has(Sign::Odd) == (counted % 2 == 1) {
                claims.says(Idea::OddEven);
            } else {
                claims.denies(Idea::OddEven);
            }
        }
        (true, true) => claims.touches(Idea::OddEven),
        (false, false) => {}
    }
}

/// Whether the number is this count.
pub(super) fn is_count(number: number::Number, count: usize) -> bool {
    u32::try_from(count).is_ok_and(|count| number == number::Number::from(count))
}

/// Chains, belts, rings, racks and axles.
fn links(text: &Text<'_>, claims: &mut Claims<'_>, is_wrong: bool) {
    let turns_round = text.has(Sign::OtherWay);
    for (idea, is_spoken_of) in [
        (Idea::ChainKeeps, text.has_any(&[Sign::Chain, Sign::Belt])),
        (Idea::RingKeeps, text.has_any(&[Sign::Inside, Sign::Ring])),
        (
            Idea::OneAxleTogether,
            text.has_any(&[Sign::Axle, Sign::Join, Sign::Together]),
        ),
    ] {
        // On a way with meshes too, the other way may be said of them.
        let has_meshes = claims.is_true(Idea::MeshOpposite);
        if turns_round && !has_meshes {
            claims.denies(idea);
        } else if is_spoken_of {
            claims.says(idea);
        }
    }
    // "The belt makes an 8", but "the belt is 8 cm".
    let is_8 = |sign: &Sign| matches!(sign, Sign::Number(number) if is_count(*number, 8));
    let eight = text.signs.iter().position(is_8);
    let behind = eight.and_then(|eight| text.signs.get(eight + 1));
    let makes_an_8 = eight.is_some() && text.has(Sign::Belt) && behind != Some(&Sign::Unknown);
    if text.has(Sign::Crossed) || makes_an_8 {
        claims.says(Idea::CrossedTurns);
    } else if text.has(Sign::Belt) && (is_wrong || text.has(Sign::SameWay)) {
        claims.denies(Idea::CrossedTurns);
    }
    if text.has(Sign::Touch) {
        claims.touches(Idea::RingKeeps);
    }
    if text.has(Sign::Rack) || text.has(Sign::Push) || text.has(Sign::Teeth) {
        if is_wrong {
            claims.touches(Idea::RackAlong);
        } else if text.has_any(&[Sign::Teeth, Sign::Touch, Sign::Push]) {
            claims.says(Idea::RackAlong);
        }
    }
}
