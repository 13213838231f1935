//! What an explanation is worth: a proposal, by the ideas found in it. It is never
//! settled without a person.

use crate::answer;
use crate::answer::explaining;
use crate::answer::explaining::Polarity;
use crate::gears::ask;
use crate::gears::idea::Idea;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::item;
use crate::marking::decision;
use crate::marking::one;
use crate::misconception;

/// What became of an explanation.
pub(super) enum Outcome {
    /// Nothing was typed, or that they do not know; and the reason that says so.
    Nothing(&'static str),
    /// Nothing can be read, and why.
    Unreadable(String),
    /// A proposal.
    Proposed(Proposal),
}

/// What is proposed.
pub(super) struct Proposal {
    pub(super) read_as: String,
    pub(super) marks: u8,
    pub(super) misconceptions: Vec<&'static misconception::Misconception>,
    pub(super) reason: String,
    /// Why a person should look; never empty.
    pub(super) check: String,
    /// The same for like explanations.
    pub(super) like: String,
}

/// Returns what an explanation is worth.
pub(super) fn read(one: &one::One<'_>, explaining: &explaining::Explaining) -> Outcome {
    let mut explaining = explaining.clone();
    explaining.concluded = one.concluded.map(|earlier| earlier.own.clone());
    let form = answer::Form::Explanation(Box::new(explaining.clone()));
    let candidates = match answer::read(one.typed, &form) {
        answer::Reading::Blank => return Outcome::Nothing("Nothing was typed."),
        answer::Reading::DontKnow => {
            return Outcome::Nothing("The pupil says they do not know.");
        }
        answer::Reading::Unreadable { why } | answer::Reading::OtherKind { why } => {
            return Outcome::Unreadable(why);
        }
        answer::Reading::Read(candidates) | answer::Reading::Several(candidates) => candidates,
    };
    let found = candidates.iter().find_map(|candidate| {
        let answer::Given::Explanation(said) = &candidate.given else {
            return None;
        };
        Some((candidate, said))
    });
    let Some((candidate, said)) = found else {
        return Outcome::Unreadable("nothing could be read".to_owned());
    };
    let earlier = one
        .concluded
        .map_or_else(String::new, |it| format!("{} {}", it.item.number, it.said));
    let mut reason = reason(
        one.item,
        &explaining,
        said,
        marks(one.item, &explaining, said),
    );
    if !earlier.is_empty() {
        reason = format!("{reason} Before, the pupil answered {earlier}.");
    }
    Outcome::Proposed(Proposal {
        read_as: candidate.said.clone(),
        marks: marks(one.item, &explaining, said),
        misconceptions: shown(one.item, &explaining, said),
        reason,
        check: check(said, &candidate.sureness),
        like: likeness(one.item, &explaining, said, &earlier),
    })
}

/// Returns the answer that an item asks to explain, as lists show it: what tells its
/// answers from those to other items, whatever the ideas are called.
pub(super) fn answer_of(item: &item::Item) -> Option<String> {
    let answer::Form::Explanation(explaining) = &item.form else {
        return None;
    };
    Some(explaining.shown(&explaining.reasons.conclusion))
}

/// A mark for each idea that explains the answer, as many as the question gives, and
/// one off for each idea the wrong way round and for a wrong conclusion.
fn marks(
    item: &item::Item,
    explaining: &explaining::Explaining,
    said: &explaining::Explanation,
) -> u8 {
    let key = &explaining.reasons.key;
    let earning = said
        .with(Polarity::True)
        .filter(|idea| key.contains(idea))
        .count();
    let costs = said.with(Polarity::Against).count() + usize::from(is_wrong(explaining, said));
    let earned = u8::try_from(earning).unwrap_or(u8::MAX).min(item.marks);
    earned.saturating_sub(u8::try_from(costs).unwrap_or(u8::MAX))
}

/// Whether the explanation says an answer that is not the right one.
fn is_wrong(explaining: &explaining::Explaining, said: &explaining::Explanation) -> bool {
    said.conclusion
        .as_ref()
        .is_some_and(|conclusion| *conclusion != *explaining.reasons.conclusion)
}

/// Why a person should look: the reading's own reason too, where it has one.
fn check(said: &explaining::Explanation, sureness: &answer::Sureness) -> String {
    let what = if said.ideas.is_empty() {
        "an explanation in which no idea was found"
    } else if said.with(Polarity::Unclear).next().is_some() {
        "an explanation that is not all clear"
    } else {
        "an explanation: please read it"
    };
    let own = match sureness {
        answer::Sureness::Sure => "",
        answer::Sureness::Check { why }
        | answer::Sureness::Loose { why }
        | answer::Sureness::Slip { why } => why.as_str(),
    };
    let further = own
        .split("; ")
        .filter(|why| !why.is_empty() && *why != explaining::WHY_LOOK);
    let all: Vec<&str> = std::iter::once(what).chain(further).collect();
    all.join("; ")
}

/// The reason, in plain sentences: what was found, what goes the wrong way, and what
/// would earn more.
fn reason(
    item: &item::Item,
    explaining: &explaining::Explaining,
    said: &explaining::Explanation,
    marks: u8,
) -> String {
    let key = &explaining.reasons.key;
    let named = |ideas: &[Idea], name: fn(Idea) -> &'static str| -> String {
        let names: Vec<&str> = ideas.iter().map(|idea| name(*idea)).collect();
        names.join("; ")
    };
    let (explains, beside): (Vec<Idea>, Vec<Idea>) = said
        .with(Polarity::True)
        .partition(|idea| key.contains(idea));
    let wrong: Vec<Idea> = said.with(Polarity::Against).collect();
    let unclear: Vec<Idea> = said.with(Polarity::Unclear).collect();
    let mut sentences = Vec::new();
    if !explains.is_empty() {
        sentences.push(format!("Found: {}.", named(&explains, Idea::name)));
    }
    if !beside.is_empty() {
        sentences.push(format!(
            "True, but not why: {}.",
            named(&beside, Idea::name)
        ));
    }
    if !wrong.is_empty() {
        sentences.push(format!(
            "The wrong way round: {}.",
            named(&wrong, Idea::wrong)
        ));
    }
    if !unclear.is_empty() {
        sentences.push(format!(
            "Not clear whether it says: {}.",
            named(&unclear, Idea::name)
        ));
    }
    if let Some(conclusion) = &said.conclusion
        && is_wrong(explaining, said)
    {
        sentences.push(format!(
            "It answers {}; right is {}.",
            explaining.shown(conclusion),
            explaining.shown(&explaining.reasons.conclusion)
        ));
    }
    if said.ideas.is_empty() {
        sentences.push("No idea that explains it was found; perhaps it says one in words that are not known here.".to_owned());
    }
    if marks < item.marks {
        let missing: Vec<Idea> = key
            .iter()
            .copied()
            .filter(|idea| !explains.contains(idea))
            .collect();
        if !missing.is_empty() {
            sentences.push(format!(
                "A mark could be had for: {}.",
                named(&missing, Idea::name).replace("; ", "; or ")
            ));
        }
    }
    sentences.join(" ")
}

/// The misconceptions that ideas the wrong way round show; the first of each list
/// that predicts what the explanation answers.
const SHOWN: &[(Idea, &[&str])] = &[
    (Idea::SmallerFaster, &["big-gear-faster"]),
    (
        Idea::OneAxleTogether,
        &[
            "small-faster-on-one-axle",
            "big-gear-faster",
            "turns-round-on-axle",
        ],
    ),
    (Idea::MovementDoesNotFade, &["movement-fades"]),
    (Idea::BiggerStronger, &["gains-force-and-speed"]),
    (Idea::SlowerStronger, &["gains-force-and-speed"]),
    (Idea::MeshOpposite, &["same-direction"]),
    (Idea::BetweenTurnsBack, &["always-opposite"]),
    (Idea::OddEven, &["odd-and-even-swapped"]),
    (Idea::ChainKeeps, &["chain-turns-round"]),
    (Idea::CrossedTurns, &["crossing-overlooked"]),
    (Idea::RingKeeps, &["ring-turns-round"]),
    (Idea::RackAlong, &["rack-on-other-side"]),
    (Idea::OddLoop, &["any-loop-turns"]),
    (Idea::EvenLoop, &["any-loop-jams"]),
    (Idea::OpenRow, &["row-jams"]),
    (Idea::ToothSizesDiffer, &["tooth-size-overlooked"]),
    (Idea::WormNotDriven, &["worm-driven-back"]),
];

fn shown(
    item: &item::Item,
    explaining: &explaining::Explaining,
    said: &explaining::Explanation,
) -> Vec<&'static misconception::Misconception> {
    let predictions = misconception::predictions(&item.mechanism, &explaining.explained.ask());
    let mut found: Vec<&'static misconception::Misconception> = Vec::new();
    for idea in said.with(Polarity::Against) {
        let Some((_, ids)) = SHOWN.iter().find(|(known, _)| *known == idea) else {
            continue;
        };
        let predicted = |wanted: Option<&ask::Fact>| {
            ids.iter().find(|id| {
                predictions.iter().any(|prediction| {
                    prediction.misconception.id == **id
                        && wanted.is_none_or(|fact| *fact == prediction.fact)
                })
            })
        };
        let id = said
            .conclusion
            .as_ref()
            .and_then(|fact| predicted(Some(fact)))
            .or_else(|| predicted(None))
            .or_else(|| ids.first());
        if let Some(known) = id.and_then(|id| misconception::by_id(id))
            && !found.contains(&known)
        {
            found.push(known);
        }
    }
    found
}

/// Returns the same text for like explanations, and only for those: of one question
/// with one right answer and the same ideas that explain it, in whatever numbers, with
/// the same ideas found the same way round, and equally right in what they answer.
fn likeness(
    item: &item::Item,
    explaining: &explaining::Explaining,
    said: &explaining::Explanation,
    earlier: &str,
) -> String {
    let mut parts = vec![
        item.number.clone(),
        item.bank.clone(),
        item.template.clone(),
        notation::write_ask(&item.ask, &item.mechanism),
        explaining.expected(),
        item.marks.to_string(),
    ];
    parts.extend(said.ideas.iter().map(|found| {
        let polarity = match found.polarity {
            Polarity::True => "true",
            Polarity::Against => "against",
            Polarity::Unclear => "unclear",
        };
        format!("{} {polarity}", found.idea.id())
    }));
    parts.push(is_wrong(explaining, said).to_string());
    parts.push(earlier.to_owned());
    decision::short_hash(&parts)
}

/// Whether an earlier item asks what this explanation is of.
pub(super) fn is_explained_by(
    earlier: &item::Item,
    mechanism: &mechanism::Mechanism,
    explained: ask::Explained,
) -> bool {
    earlier.ask == explained.ask() && earlier.mechanism == *mechanism
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_misconception_that_an_idea_shows_is_known() {
        for (idea, ids) in SHOWN {
            for id in *ids {
                assert!(misconception::by_id(id).is_some(), "{idea:?}: {id}");
            }
        }
    }
}
