//! Why something turns or does not: loops, rows, tooth sizes, worms.

use crate::answer::reading::explained::Claims;
use crate::answer::reading::explained::Text;
use crate::answer::reading::explained::sign::Sign;
use crate::answer::reading::explained::ways;
use crate::gears::ask;
use crate::gears::idea::Idea;

/// Notes the ideas of a text, and returns whether it says that it turns.
pub(super) fn read(text: &Text<'_>, claims: &mut Claims<'_>) -> Option<ask::Fact> {
    let conclusion = conclusion(text);
    let right = *text.right() == ask::Fact::YesNo(true);
    let is_wrong = conclusion.is_some_and(|says| says != right);
    directions(text, claims, is_wrong);
    loops(text, claims, is_wrong);
    teeth(text, claims, is_wrong);
    worm(text, claims, is_wrong);
    row(text, claims, is_wrong);
    conclusion.map(ask::Fact::YesNo)
}

/// Whether it turns, where the text says so.
fn conclusion(text: &Text<'_>) -> Option<bool> {
    text.yes_or_no().or_else(|| {
        let plain: Vec<Sign> = text
            .signs
            .iter()
            .filter(|sign| !matches!(sign, Sign::Gears | Sign::Unknown | Sign::All | Sign::It))
            .copied()
            .collect();
        let denies = plain
            .windows(2)
            .any(|pair| matches!(pair, [Sign::Not, Sign::Turns | Sign::Because | Sign::Break]));
        let ends_so = plain.last() == Some(&Sign::Not) && !text.has(Sign::But);
        if denies || ends_so || text.has(Sign::Jams) {
            Some(false)
        } else {
            (plain.first() == Some(&Sign::Turns)).then_some(true)
        }
    })
}

/// Which way neighbours turn, or would have to.
fn directions(text: &Text<'_>, claims: &mut Claims<'_>, is_wrong: bool) {
    let said = ways::said_ways(text);
    let wants_both = said.windows(2).any(|pair| {
        matches!(pair, [one, other] if one.sense != other.sense
            && (one.part == other.part || other.part.is_none()))
    });
    let clash = text.has(Sign::Touch)
        && said.iter().enumerate().any(|(index, one)| {
            said.iter()
                .skip(index + 1)
                .any(|other| one.part != other.part && one.sense == other.sense)
        })
        && text.has(Sign::But);
    // "A and C both want to go clockwise", and touch.
    let named = text
        .signs
        .iter()
        .filter(|sign| matches!(sign, Sign::Part(_)))
        .count();
    let both_one_way = text.has_any(&[Sign::All, Sign::Both]) && named == 2 && said.len() == 1;
    // "... so it works" is another conclusion, in words that may not be known.
    let concludes = text.has(Sign::So) && !text.has(Sign::Jams);
    let is_reason = !is_wrong && !concludes && claims.is_true(Idea::OddLoop);
    let clash = clash || (both_one_way && is_reason);
    if wants_both || clash || text.has(Sign::BothWays) || text.has(Sign::Fight) {
        claims.says(Idea::BothWaysAtOnce);
    } else {
        ways::senses(text, claims);
    }
    let is_all = text.has(Sign::All);
    if text.has(Sign::SameWay) && text.has(Sign::Touch) && !is_all {
        claims.says(Idea::BothWaysAtOnce);
    } else if text.has(Sign::SameWay) && !text.has(Sign::Not) {
        claims.denies(Idea::MeshOpposite);
    }
    if text.has(Sign::OtherWay) {
        claims.says(Idea::MeshOpposite);
    }
    let pushes = text.has(Sign::Push) || (text.has(Sign::Touch) && text.has(Sign::Teeth));
    if pushes {
        claims.says(Idea::TeethPush);
    }
    if text.has(Sign::Chain) || text.has(Sign::Belt) {
        claims.says(Idea::ChainKeeps);
    }
}

/// Closed loops, odd and even.
fn loops(text: &Text<'_>, claims: &mut Claims<'_>, is_wrong: bool) {
    let count = text.explaining.reasons.ground.along.len();
    let is_loop = text.has_any(&[Sign::Loop, Sign::Ring]);
    let names_count = text.numbers().any(|number| ways::is_count(number, count));
    let idea = if claims.is_true(Idea::OddLoop) {
        Idea::OddLoop
    } else {
        Idea::EvenLoop
    };
    if !claims.is_true(idea) {
        return;
    }
    let parity = match (text.has(Sign::Odd), text.has(Sign::Even)) {
        (true, false) => Some(count % 2 == 1),
        (false, true) => Some(count.is_multiple_of(2)),
        (true, true) | (false, false) => None,
    };
    let says_wrongly = is_wrong && (is_loop || text.has(Sign::Push) || text.has(Sign::Jams));
    match parity {
        // "You need an even number": of what is not so here.
        Some(false) if text.has(Sign::Need) => claims.says(idea),
        Some(false) => claims.denies(idea),
        Some(true) | None if says_wrongly => claims.denies(idea),
        Some(true) => claims.says(idea),
        None if is_loop && names_count => claims.says(idea),
        None if is_loop => claims.touches(idea),
        None => {}
    }
}

/// Tooth sizes.
fn teeth(text: &Text<'_>, claims: &mut Claims<'_>, is_wrong: bool) {
    let mm = &text.explaining.reasons.ground.tooth_sizes_mm;
    let names_both = !mm.is_empty() && mm.iter().all(|size| text.numbers().any(|it| it == *size));
    let no_fit = text.clauses().any(|clause| {
        clause.contains(&Sign::Fit) && clause.iter().any(|it| matches!(it, Sign::Not | Sign::No))
    });
    let fits = text.has(Sign::Fit) && !no_fit;
    let differ = text.has(Sign::OtherTeeth) || no_fit || names_both;
    let alike =
        text.has(Sign::SameTeeth) || fits || (text.has(Sign::SameSize) && text.has(Sign::Teeth));
    if alike {
        claims.denies(Idea::ToothSizesDiffer);
        claims.says(Idea::ToothSizesAlike);
    } else if differ {
        claims.says(Idea::ToothSizesDiffer);
        claims.denies(Idea::ToothSizesAlike);
    } else if text
        .signs
        .iter()
        .any(|sign| matches!(sign, Sign::Size(_) | Sign::OtherSize | Sign::SameSize))
        && !is_wrong
    {
        claims.touches(Idea::ToothSizesDiffer);
        claims.touches(Idea::ToothSizesAlike);
    }
}

/// A worm and its wheel.
fn worm(text: &Text<'_>, claims: &mut Claims<'_>, is_wrong: bool) {
    let label = text
        .explaining
        .scene
        .parts
        .iter()
        .position(|part| part.names.iter().any(|name| name == "worm"));
    let names_worm = text.has(Sign::Worm) || label.is_some_and(|part| text.has(Sign::Part(part)));
    if !names_worm {
        return;
    }
    if is_wrong {
        claims.denies(Idea::WormNotDriven);
    } else if text.has_any(&[Sign::Not, Sign::OneWay, Sign::OtherWay, Sign::Only]) {
        claims.says(Idea::WormNotDriven);
    } else {
        claims.touches(Idea::WormNotDriven);
    }
}

/// An open row.
fn row(text: &Text<'_>, claims: &mut Claims<'_>, is_wrong: bool) {
    let counts = text.has_any(&[Sign::Odd, Sign::Even, Sign::Many, Sign::Loop])
        || text.numbers().next().is_some();
    let no_loop = text.clauses().any(|clause| {
        clause
            .iter()
            .any(|sign| matches!(sign, Sign::Not | Sign::No))
            && clause.contains(&Sign::Loop)
    });
    if is_wrong && counts {
        claims.denies(Idea::OpenRow);
    } else if text.has_any(&[Sign::Line, Sign::OpenEnds]) || no_loop {
        claims.says(Idea::OpenRow);
    }
}
