//! The same question with other numbers, made from the item itself.
//!
//! A record of a homework is enough for it: no bank is needed. The story goes, as its
//! words belong to its numbers; the mechanism is told in plain sentences instead.

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::gears::step;
use crate::gears::vary;
use crate::item;
use crate::item::apart;
use crate::item::measure;
use crate::item::obey;
use crate::level;
use crate::level::feature;
use crate::level::rule;
use crate::misconception;
use crate::number;
use crate::seed;
use crate::wording;
use std::collections::BTreeMap;

/// How often numbers are drawn before one gives up.
const ATTEMPTS: usize = 400;

/// Counts of teeth that are drawn, as far as the level allows them.
const TEETH: [u32; 28] = [
    4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 15, 16, 18, 20, 21, 24, 25, 27, 28, 30, 32, 36, 40, 45, 48,
    50, 54, 60,
];
/// Shares that are drawn, in hundredths.
const SHARES: [i64; 6] = [95, 90, 85, 80, 75, 70];
/// Tooth sizes that are drawn, in quarters of a millimetre.
const TOOTH_SIZES: [i64; 8] = [4, 5, 6, 8, 10, 12, 16, 20];
/// An amount keeps to tens or fives where it has so many of them.
const FEWEST_GRAINS: i64 = 4;
/// How many times larger or smaller teeth and amounts may become.
const MOST_TIMES: i64 = 2;

/// Returns the question with other numbers, as hard as it was by its level's measures
/// if such can be found, else within what the level allows; nothing where no numbers
/// that fit turn up.
///
/// It is none of the mechanisms `taken`, and it tells its ways of thinking apart. The
/// same stream gives the same question on every machine.
#[must_use]
pub fn like(
    item: &item::Item,
    taken: &[&mechanism::Mechanism],
    stream: &mut seed::Stream,
) -> Option<item::Item> {
    let own = measured(item, &item.mechanism, &item.ask)?.measure;
    let mut nearest: Option<((u8, rule::Awkwardness), item::Item)> = None;
    for _ in 0..ATTEMPTS {
        let (mechanism, ask) = drawn(item, stream);
        if mechanism == item.mechanism || taken.contains(&&mechanism) {
            continue;
        }
        let Some(found) = measured(item, &mechanism, &ask) else {
            continue;
        };
        // Of those as hard, the one whose working has the kindest numbers.
        let distance = (distance(&own, &found.measure), found.working);
        if nearest.as_ref().is_none_or(|(least, _)| distance < *least) {
            nearest = Some((distance, told(item, mechanism, ask, found.form)));
        }
        if distance == (0, rule::Awkwardness::Whole) {
            break;
        }
    }
    nearest.map(|(_, item)| item)
}

/// The item with a story that is told from its mechanism.
fn told(
    item: &item::Item,
    mechanism: mechanism::Mechanism,
    ask: ask::Ask,
    form: answer::Form,
) -> item::Item {
    let givens = mechanism.givens.iter();
    let mut sentences = match ask {
        // What is to be named must not be named before.
        ask::Ask::Name(_) => Vec::new(),
        ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
        | ask::Ask::Direction(_)
        | ask::Ask::SameWay(..)
        | ask::Ask::Faster(..)
        | ask::Ask::Stronger(..)
        | ask::Ask::TurnsRatio(..)
        | ask::Ask::TeethRatio(..)
        | ask::Ask::Teeth(_)
        | ask::Ask::Starts(_)
        | ask::Ask::Force(_)
        | ask::Ask::TurningForce(_)
        | ask::Ask::Distance(_)
        | ask::Ask::CentreDistance(..)
        | ask::Ask::PitchDiameter(_)
        | ask::Ask::TipDiameter(_)
        | ask::Ask::RootDiameter(_)
        | ask::Ask::ToothSize(_)
        | ask::Ask::WillItTurn
        | ask::Ask::Job(_)
        | ask::Ask::Stages(_)
        | ask::Ask::MeetAgain(..)
        | ask::Ask::Choose { .. }
        | ask::Ask::Why(_) => wording::mechanism(&mechanism),
    };
    sentences.extend(givens.map(|given| wording::given(&mechanism, given)));
    item::Item {
        story: sentences.join(" "),
        question: wording::question(&mechanism, &ask),
        mechanism,
        ask,
        form,
        follows: Vec::new(),
        ..item.clone()
    }
}

/// A question that its level allows.
struct Measured {
    form: answer::Form,
    measure: measure::Measure,
    /// The most awkward number of turns on the way.
    working: rule::Awkwardness,
}

/// The form and the measures of a question of the item's level; nothing where the level
/// does not allow it, or it cannot tell ways of thinking apart.
fn measured(
    item: &item::Item,
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
) -> Option<Measured> {
    let (fewest, most) = item.level.rule().teeth;
    let fits = |part| feature::teeth(part).is_none_or(|teeth| (fewest..=most).contains(&teeth));
    let is_own = *mechanism == item.mechanism;
    if !is_own && !mechanism.parts.iter().all(fits) {
        return None;
    }
    let worked = solve::answer(mechanism, ask).ok()?;
    let form = form(item, mechanism, ask)?;
    let drawn = obey::Drawn {
        mechanism,
        ask,
        form: &form,
        worked: &worked,
    };
    if !is_own && obey::refusal(&drawn, item.level).is_some() {
        return None;
    }
    let predictions = misconception::predictions(mechanism, ask);
    let is_apart = apart::has_few_answers(&form)
        || apart::collision(&worked.fact, &predictions, &form).is_none();
    if !is_own && !is_apart {
        return None;
    }
    let traces = apart::traces(&worked.fact, &predictions);
    let measure = measure::of(mechanism, ask, &worked, &form, &traces);
    Some(Measured {
        form,
        measure,
        working: most_awkward(&worked.steps),
    })
}

/// The most awkward movement in a working.
fn most_awkward(steps: &[step::Step]) -> rule::Awkwardness {
    let moved = steps.iter().filter_map(|step| match step {
        step::Step::Drive { after, .. } => after.as_ref(),
        step::Step::Start { .. }
        | step::Step::SameAxle { .. }
        | step::Step::Joined { .. }
        | step::Step::OverTime { .. }
        | step::Step::Travel { .. }
        | step::Step::Planetary { .. }
        | step::Step::OnCarrier { .. }
        | step::Step::ForceAcross { .. }
        | step::Step::ForceTimesArm { .. }
        | step::Step::MissingCount { .. }
        | step::Step::CountFromSum { .. }
        | step::Step::Diameter { .. }
        | step::Step::Distance { .. }
        | step::Step::Simplify { .. }
        | step::Step::CountMeshes { .. }
        | step::Step::Loop { .. }
        | step::Step::ToothSizes { .. }
        | step::Step::WormHolds { .. }
        | step::Step::Stage { .. }
        | step::Step::CommonMultiple { .. }
        | step::Step::Chosen { .. }
        | step::Step::Compare { .. }
        | step::Step::Role { .. } => None,
    });
    moved
        .map(|movement| measure::awkwardness(movement.value))
        .max()
        .unwrap_or(rule::Awkwardness::Whole)
}

/// What the answer should look like: as in the item.
fn form(
    item: &item::Item,
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
) -> Option<answer::Form> {
    let (unit, precision, simplest) = match &item.form {
        answer::Form::Number {
            unit, precision, ..
        } => (Some(*unit), *precision, false),
        answer::Form::Ratio { simplest, .. } => (None, number::Precision::Exact, *simplest),
        answer::Form::List { .. } | answer::Form::Gears { .. } | answer::Form::Explanation(_) => {
            (None, number::Precision::Exact, false)
        }
    };
    answer::form_for(mechanism, ask, unit, precision, simplest).ok()
}

/// How far one question is from being as hard as another: 0 alike, 1 but for digits and
/// what a list of few answers tells apart, 2 otherwise.
fn distance(one: &measure::Measure, other: &measure::Measure) -> u8 {
    let roughly = |measure: &measure::Measure| measure::Measure {
        digits: 0,
        failing: Vec::new(),
        ..measure.clone()
    };
    if one == other {
        0
    } else if roughly(one) == roughly(other) {
        1
    } else {
        2
    }
}

/// The item's mechanism and question with other numbers, and perhaps the other way
/// round; whether they will do is not looked at.
fn drawn(item: &item::Item, stream: &mut seed::Stream) -> (mechanism::Mechanism, ask::Ask) {
    let mut known: BTreeMap<(vary::Slot, number::Number), number::Number> = BTreeMap::new();
    let numbers: Vec<number::Value> = vary::slots(&item.mechanism, &item.ask)
        .into_iter()
        .map(|(slot, value)| {
            let factor = other(slot, value.factor, item.level, &mut known, stream);
            number::Value { factor, ..value }
        })
        .collect();
    let (mut mechanism, ask) = vary::with_numbers(&item.mechanism, &item.ask, &numbers);
    if numbers.is_empty() || stream.below(2) == 0 {
        turn_round(&mut mechanism);
    }
    (mechanism, ask)
}

/// Another number of the same kind. Sizes of one gear that are those of another stay
/// so, and different ones stay different.
fn other(
    slot: vary::Slot,
    value: number::Number,
    level: level::Level,
    known: &mut BTreeMap<(vary::Slot, number::Number), number::Number>,
    stream: &mut seed::Stream,
) -> number::Number {
    let hundredth = |part| number::Number::ratio(part, 100);
    let quarter = |part| number::Number::ratio(part, 4);
    let list: Vec<number::Number> = match slot {
        // One start, and one turn, are what makes a question easy.
        vary::Slot::Nought | vary::Slot::Starts => return value,
        vary::Slot::Length | vary::Slot::Amount if value == number::Number::ONE => return value,
        vary::Slot::Length | vary::Slot::Amount => amounts(value),
        vary::Slot::Count => {
            let (fewest, most) = level.rule().teeth;
            TEETH
                .into_iter()
                .filter(|teeth| (fewest..=most).contains(teeth))
                .map(number::Number::from)
                .filter(|teeth| is_near(*teeth, value))
                .collect()
        }
        vary::Slot::Share => SHARES.into_iter().flat_map(hundredth).collect(),
        vary::Slot::ToothSize => TOOTH_SIZES.into_iter().flat_map(quarter).collect(),
    };
    let stays_itself = match slot {
        vary::Slot::Count | vary::Slot::ToothSize => true,
        vary::Slot::Starts
        | vary::Slot::Length
        | vary::Slot::Amount
        | vary::Slot::Share
        | vary::Slot::Nought => false,
    };
    if !stays_itself {
        return stream.choose(&list).copied().unwrap_or(value);
    }
    if let Some(drawn) = known.get(&(slot, value)) {
        return *drawn;
    }
    let is_free = |number: &number::Number| {
        !known
            .iter()
            .any(|((other, _), drawn)| *other == slot && drawn == number)
    };
    let free: Vec<number::Number> = list.into_iter().filter(is_free).collect();
    let drawn = stream.choose(&free).copied().unwrap_or(value);
    known.insert((slot, value), drawn);
    drawn
}

/// Whether a number is at most so many times larger or smaller than another.
fn is_near(one: number::Number, other: number::Number) -> bool {
    let times = number::Number::whole(MOST_TIMES);
    let reaches =
        |low: number::Number, high: number::Number| low.times(times).is_ok_and(|it| it >= high);
    reaches(one, other) && reaches(other, one)
}

/// Amounts as round as this one, from about a half of it to about twice as much.
fn amounts(value: number::Number) -> Vec<number::Number> {
    let (Ok(top), Ok(bottom)) = (
        i64::try_from(value.numerator()),
        i64::try_from(value.denominator()),
    ) else {
        return Vec::new();
    };
    let grain = [50, 10, 5, 1]
        .into_iter()
        .find(|grain| top % grain == 0 && top / grain >= FEWEST_GRAINS)
        .unwrap_or(1);
    let count = top / grain;
    let (least, most) = (
        (count / MOST_TIMES).max(1),
        count.saturating_mul(MOST_TIMES),
    );
    // However fine an amount is, a few dozen others are enough.
    let stride = usize::try_from((most - least) / 60 + 1).unwrap_or(1);
    (least..=most)
        .step_by(stride)
        .filter_map(|count| number::Number::ratio(count.checked_mul(grain)?, bottom).ok())
        .collect()
}

/// Turns every direction that is told into the other one.
fn turn_round(mechanism: &mut mechanism::Mechanism) {
    for given in &mut mechanism.givens {
        if let mechanism::Given::Motion {
            sense: Some(sense), ..
        } = given
        {
            *sense = match sense {
                mechanism::Sense::Clockwise => mechanism::Sense::Anticlockwise,
                mechanism::Sense::Anticlockwise => mechanism::Sense::Clockwise,
                mechanism::Sense::Left => mechanism::Sense::Right,
                mechanism::Sense::Right => mechanism::Sense::Left,
            };
        }
    }
}

#[cfg(test)]
mod tests;
