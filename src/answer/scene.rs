//! What the words of an answer may speak of: the parts of the mechanism by all their
//! names, which way each turns, and what is asked of them.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::number;
use std::borrow::Cow;
use std::cmp::Ordering;
use std::sync::LazyLock;

/// What a short list of answers is about; parts are places in [`Scene::parts`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    /// Which way a part moves.
    Direction {
        /// The part asked about.
        part: usize,
        /// The one part whose way is told.
        told: Option<usize>,
        /// The part before it, on the way from the part told.
        before: Option<usize>,
    },
    /// Whether two parts turn the same way.
    SameWay(usize, usize),
    /// Whether it can turn at all.
    WillItTurn,
    /// Which of two turns faster.
    Faster(usize, usize),
    /// Which of two has the greater turning force.
    Stronger(usize, usize),
    /// What a part is called, or what it does: no other part is spoken of.
    Word,
}

/// The parts that an answer may name, and what it is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scene {
    /// What is asked.
    pub about: About,
    /// Every part, in the mechanism's order.
    pub parts: Vec<Named>,
}

/// A part by its names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// Its label in lower case.
    pub label: String,
    /// What it may be called besides, in lower case without articles: `driven gear`,
    /// `small one`, `rack`.
    pub names: Vec<Cow<'static, str>>,
    /// Which way it moves, where that follows.
    pub sense: Option<mechanism::Sense>,
}

impl Scene {
    /// Returns what an answer to a question may speak of.
    #[must_use]
    pub fn of(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> Self {
        let about = about(mechanism, ask);
        // Where nothing moves, no way follows.
        let motions = solve::solve(mechanism).map(|solution| solution.motions);
        let parts = mechanism
            .parts
            .iter()
            .enumerate()
            .map(|(index, part)| Named {
                label: part.name.to_lowercase(),
                names: names(mechanism, about, index),
                sense: motions
                    .as_ref()
                    .ok()
                    .and_then(|motions| motions.get(part.body.index()))
                    .and_then(|motion| motion.sense),
            })
            .collect();
        Self { about, parts }
    }
}

fn about(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> About {
    match ask {
        ask::Ask::Direction(part) => {
            let told = told(mechanism);
            About::Direction {
                part: part.index(),
                told: told.map(mechanism::PartId::index),
                before: told.and_then(|told| before(mechanism, told, *part)),
            }
        }
        ask::Ask::SameWay(first, second) => About::SameWay(first.index(), second.index()),
        ask::Ask::WillItTurn => About::WillItTurn,
        ask::Ask::Faster(first, second) => About::Faster(first.index(), second.index()),
        ask::Ask::Stronger(first, second) => About::Stronger(first.index(), second.index()),
        ask::Ask::Turns(_)
        | ask::Ask::Speed(_)
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
        | ask::Ask::Name(_)
        | ask::Ask::Job(_)
        | ask::Ask::Stages(_)
        | ask::Ask::MeetAgain(..)
        | ask::Ask::Choose { .. } => About::Word,
        ask::Ask::Why(explained) => about(mechanism, &explained.ask()),
    }
}

/// The one part whose way is told.
fn told(mechanism: &mechanism::Mechanism) -> Option<mechanism::PartId> {
    let mut told = mechanism.givens.iter().filter_map(|given| match given {
        mechanism::Given::Motion {
            part,
            sense: Some(_),
            ..
        } => Some(*part),
        mechanism::Given::Motion { sense: None, .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Force { .. }
        | mechanism::Given::TurningForce { .. }
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => None,
    });
    let first = told.next()?;
    told.next().is_none().then_some(first)
}

/// The part that touches the part asked about, on the shortest way from the part told.
fn before(
    mechanism: &mechanism::Mechanism,
    told: mechanism::PartId,
    asked: mechanism::PartId,
) -> Option<usize> {
    let body = |part: mechanism::PartId| mechanism.part(part).body;
    // Breadth first from the part told; each body keeps the part it was reached from.
    let mut reached: Vec<(mechanism::BodyId, Option<mechanism::PartId>)> = vec![(body(told), None)];
    let mut next = 0;
    while let Some((here, _)) = reached.get(next).copied() {
        next += 1;
        for joint in &mechanism.joints {
            for (near, far) in [(joint.first, joint.second), (joint.second, joint.first)] {
                if body(near) == here && !reached.iter().any(|(known, _)| *known == body(far)) {
                    reached.push((body(far), Some(near)));
                }
            }
        }
    }
    reached
        .iter()
        .find(|(known, _)| *known == body(asked))
        .and_then(|(_, from)| *from)
        .map(mechanism::PartId::index)
}

/// Everything that a part may be called.
fn names(mechanism: &mechanism::Mechanism, about: About, index: usize) -> Vec<Cow<'static, str>> {
    let mut names = Vec::new();
    let Some(part) = mechanism.parts.get(index) else {
        return names;
    };
    let is_only = |kind: fn(&mechanism::Kind) -> bool| {
        kind(&part.kind)
            && mechanism
                .parts
                .iter()
                .filter(|other| kind(&other.kind))
                .count()
                == 1
    };
    for (kind, words) in KINDS {
        if is_only(*kind) {
            names.extend(listed(words));
        }
    }
    names.extend(by_role(mechanism, index));
    names.extend(by_size(mechanism, about, index));
    names
}

type IsKind = fn(&mechanism::Kind) -> bool;

/// Names of a part that is the only one of its kind.
const KINDS: &[(IsKind, &str)] = &[
    (
        |kind| matches!(kind, mechanism::Kind::Ring { .. }),
        "ring, ring gear, outer gear, outside gear, big ring, outer ring",
    ),
    (
        |kind| matches!(kind, mechanism::Kind::Worm { .. }),
        "worm, worm gear, screw",
    ),
    (
        |kind| matches!(kind, mechanism::Kind::Rack { .. }),
        "rack, bar, toothed bar",
    ),
    (
        |kind| matches!(kind, mechanism::Kind::Handle { .. }),
        "handle, crank, hand",
    ),
    (
        |kind| matches!(kind, mechanism::Kind::Drum { .. }),
        "drum, winch",
    ),
    (
        |kind| matches!(kind, mechanism::Kind::Roller { .. }),
        "road wheel, back wheel, rear wheel, tyre",
    ),
    (|kind| matches!(kind, mechanism::Kind::Motor), "motor"),
    (
        |kind| matches!(kind, mechanism::Kind::Dynamo),
        "dynamo, generator",
    ),
    (
        |kind| matches!(kind, mechanism::Kind::Carrier),
        "carrier, arm",
    ),
    (
        |kind| matches!(kind, mechanism::Kind::Gear { .. }),
        "pinion, wheel",
    ),
];

/// The names between the commas.
fn listed(text: &'static str) -> impl Iterator<Item = Cow<'static, str>> {
    text.split(", ").map(Cow::Borrowed)
}

/// Names by what a part does, where only one part does it.
fn by_role(mechanism: &mechanism::Mechanism, index: usize) -> Vec<Cow<'static, str>> {
    let drives = |part: usize| {
        mechanism
            .joints
            .iter()
            .any(|joint| joint.driver_named && joint.first.index() == part)
    };
    let is_driven = |part: usize| {
        mechanism
            .joints
            .iter()
            .any(|joint| joint.driver_named && joint.second.index() == part)
    };
    let all = 0..mechanism.parts.len();
    let only = |is_it: &dyn Fn(usize) -> bool| {
        is_it(index) && all.clone().filter(|other| is_it(*other)).count() == 1
    };
    let is_first =
        |part: usize| drives(part) && !is_driven(part) && !on_axle_with_driven(mechanism, part);
    let is_last =
        |part: usize| is_driven(part) && !drives(part) && !on_axle_with_driver(mechanism, part);
    let is_middle = |part: usize| drives(part) && is_driven(part);
    let mut names = Vec::new();
    if only(&is_first) {
        names.extend(listed(
            "driver, drive gear, driver gear, driving gear, input gear, input, first gear, \
             first one, drive wheel, driving one, drive one, drive, driving, first",
        ));
    }
    if only(&is_last) {
        names.extend(listed(
            "driven gear, driven, driven one, follower, output gear, output, last gear, last one, \
             one driven, driven wheel, final gear, end gear, end one, last, second gear, \
             second one, second",
        ));
        if mechanism.parts.len() > 2 {
            names.retain(|name| !name.starts_with("second"));
        }
    }
    if only(&is_middle) {
        names.extend(listed(
            "idler, idler gear, middle gear, middle one, middle, idle gear",
        ));
    }
    names
}

fn on_axle_with_driven(mechanism: &mechanism::Mechanism, part: usize) -> bool {
    on_axle_with(mechanism, part, |joint| joint.second)
}

fn on_axle_with_driver(mechanism: &mechanism::Mechanism, part: usize) -> bool {
    on_axle_with(mechanism, part, |joint| joint.first)
}

fn on_axle_with(
    mechanism: &mechanism::Mechanism,
    part: usize,
    side: fn(&mechanism::Joint) -> mechanism::PartId,
) -> bool {
    let Some(body) = mechanism.parts.get(part).map(|part| part.body) else {
        return false;
    };
    mechanism.joints.iter().any(|joint| {
        let other = side(joint);
        other.index() != part && joint.driver_named && mechanism.part(other).body == body
    })
}

/// Names by size: by the count where no other part has it, and as the big or the
/// small one of the two that are compared, or of all gears.
fn by_size(mechanism: &mechanism::Mechanism, about: About, index: usize) -> Vec<Cow<'static, str>> {
    let sizes: Vec<Option<number::Number>> = mechanism
        .parts
        .iter()
        .map(|part| size(&part.kind))
        .collect();
    let Some(mine) = sizes.get(index).copied().flatten() else {
        return Vec::new();
    };
    let mut names = Vec::new();
    let compared: Vec<usize> = match about {
        About::Faster(first, second)
        | About::Stronger(first, second)
        | About::SameWay(first, second) => {
            vec![first, second]
        }
        About::Direction { .. } | About::WillItTurn | About::Word => (0..sizes.len())
            .filter(|other| sizes.get(*other).is_some_and(Option::is_some))
            .collect(),
    };
    let others = || {
        compared
            .iter()
            .filter(|other| **other != index)
            .filter_map(|other| sizes.get(*other).copied().flatten())
    };
    if compared.contains(&index) && compared.len() > 1 {
        if others().all(|other| mine.cmp(&other) == Ordering::Less) {
            names.extend(SMALL.iter().map(|name| Cow::Borrowed(name.as_str())));
        }
        if others().all(|other| mine.cmp(&other) == Ordering::Greater) {
            names.extend(BIG.iter().map(|name| Cow::Borrowed(name.as_str())));
        }
    }
    let is_only = sizes.iter().filter(|other| **other == Some(mine)).count() == 1;
    if is_only {
        for thing in [
            "tooth gear",
            "tooth one",
            "teeth gear",
            "teeth",
            "tooth",
            "t",
            "gear",
            "one",
        ] {
            names.push(format!("{mine} {thing}").into());
        }
        if matches!(about, About::Faster(..) | About::Stronger(..)) {
            names.push(mine.to_string().into());
        }
    }
    names
}

/// The names of a small one. They are many and the same in every scene.
static SMALL: LazyLock<Vec<String>> = LazyLock::new(|| {
    sized(
        "small, smaller, smallest, little, littler, littlest, tiny, tinier, tiniest",
        "less teeth, fewer teeth, least teeth, fewest teeth",
    )
});
/// The names of a big one.
static BIG: LazyLock<Vec<String>> = LazyLock::new(|| {
    sized(
        "big, bigger, biggest, large, larger, largest, huge",
        "more teeth, most teeth",
    )
});

fn sized(words: &'static str, further: &'static str) -> Vec<String> {
    let things = [
        "",
        " gear",
        " one",
        " cog",
        " wheel",
        " sprocket",
        " pulley",
        " 1",
    ];
    let mut names: Vec<String> = listed(words)
        .flat_map(|word| things.map(|thing| format!("{word}{thing}")))
        .collect();
    names.extend(listed(further).map(Cow::into_owned));
    names
}

/// Teeth, or a diameter in millimetres.
pub(super) fn size(kind: &mechanism::Kind) -> Option<number::Number> {
    match kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => match teeth {
            mechanism::Count::Known(teeth) => Some(number::Number::from(*teeth)),
            mechanism::Count::Unknown => None,
        },
        mechanism::Kind::Pulley { diameter_mm }
        | mechanism::Kind::Drum { diameter_mm }
        | mechanism::Kind::Roller { diameter_mm } => Some(*diameter_mm),
        mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::notation;

    fn scene(lines: &[&str], asked: &str) -> Scene {
        let mechanism = notation::read(lines).expect("well formed");
        let ask = notation::read_ask(asked, &mechanism).expect("well formed");
        Scene::of(&mechanism, &ask)
    }

    #[test]
    fn parts_are_known_by_what_they_are_and_do() {
        let row = scene(
            &[
                "gear A 12 drives gear B 20 drives gear C 36",
                "A turns clockwise",
            ],
            "direction of C",
        );
        assert_eq!(
            row.about,
            About::Direction {
                part: 2,
                told: Some(0),
                before: Some(1)
            }
        );
        let has = |index: usize, name: &str| row.parts[index].names.iter().any(|it| it == name);
        assert!(has(0, "driver") && has(0, "small one") && has(0, "12 tooth gear"));
        assert!(has(1, "idler") && !has(1, "small one"));
        assert!(has(2, "driven gear") && has(2, "biggest"));
        assert_eq!(row.parts[1].sense, Some(mechanism::Sense::Anticlockwise));
        let rack = scene(
            &["gear P 12 drives rack R", "P turns clockwise"],
            "direction of R",
        );
        assert!(rack.parts[1].names.iter().any(|name| name == "rack"));
        assert_eq!(rack.parts[1].sense, Some(mechanism::Sense::Left));
    }

    #[test]
    fn on_a_gearbox_the_ends_are_the_first_and_the_last() {
        let gearbox = scene(
            &[
                "gear A 10 drives gear B 30",
                "gear B 30, gear C 12 on one axle",
                "gear C 12 drives gear D 48",
                "A turns clockwise",
            ],
            "direction of D",
        );
        let role = |index: usize| {
            let names = &gearbox.parts[index].names;
            (
                names.iter().any(|name| name == "driver"),
                names.iter().any(|name| name == "driven"),
            )
        };
        assert_eq!(role(0), (true, false));
        assert_eq!(role(1), (false, false));
        assert_eq!(role(2), (false, false));
        assert_eq!(role(3), (false, true));
    }
}
