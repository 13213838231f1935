//! Which ideas explain an answer: worked out from the mechanism and the steps of
//! the working.

use crate::gears::ask;
use crate::gears::idea;
use crate::gears::idea::Idea;
use crate::gears::mechanism;
use crate::gears::step;
use crate::number;
use std::cmp::Ordering;

/// Returns what explains an answer; none where no idea of ours does, such as for
/// planetary sets.
///
/// Source: what is said of meshes, chains, axles and loops is that of `coupling` and
/// `walk`; that each idea explains the answer is common practice, no source.
pub(super) fn of(
    mechanism: &mechanism::Mechanism,
    explained: ask::Explained,
    conclusion: ask::Fact,
    steps: &[step::Step],
) -> Option<idea::Reasons> {
    let way = Way::of(mechanism, steps)?;
    let mut found = Found::default();
    match explained {
        ask::Explained::Faster(..) => faster(&way, &conclusion, &mut found),
        ask::Explained::Stronger(..) => stronger(&way, &conclusion, &mut found),
        ask::Explained::SameWay(..) => {
            directions(&way, &mut found);
            if way.meshes() > 0 {
                found.beside.push(Idea::TeethPush);
            }
        }
        ask::Explained::Direction(_) => {
            directions(&way, &mut found);
            if way.meshes() > 0 {
                found.key.push(Idea::TeethPush);
            }
        }
        ask::Explained::WillItTurn => turning(mechanism, &way, steps, &mut found),
    }
    (!found.key.is_empty()).then(|| idea::Reasons {
        conclusion: Box::new(conclusion),
        key: found.key,
        beside: found.beside,
        ground: way.ground(steps),
    })
}

#[derive(Default)]
struct Found {
    key: Vec<Idea>,
    beside: Vec<Idea>,
}

/// One drive on the way.
struct Drive {
    from: mechanism::PartId,
    to: mechanism::PartId,
    touch: Touch,
    sizes: (number::Value, number::Value),
}

/// How two parts drive each other, as a pupil sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Touch {
    /// Teeth outside in teeth outside.
    Mesh,
    /// Inside a ring gear.
    Ring,
    /// A rack and its pinion.
    Rack,
    /// A worm and its wheel.
    Worm,
    /// A chain or an open belt.
    Chain,
    /// A crossed belt.
    Crossed,
}

/// The way that the working goes.
struct Way {
    drives: Vec<Drive>,
    /// How many axles join two drives.
    between_axles: usize,
    /// How many axles there are on the way at all.
    axles: usize,
}

impl Way {
    /// Returns the way; none where it leads through a planetary set.
    fn of(mechanism: &mechanism::Mechanism, steps: &[step::Step]) -> Option<Self> {
        let mut way = Self {
            drives: Vec::new(),
            between_axles: 0,
            axles: 0,
        };
        let mut waiting = 0;
        for step in steps {
            match step {
                step::Step::Drive {
                    from,
                    to,
                    link,
                    from_size,
                    to_size,
                    ..
                } => {
                    if !way.drives.is_empty() {
                        way.between_axles += waiting;
                    }
                    waiting = 0;
                    way.drives.push(Drive {
                        from: *from,
                        to: *to,
                        touch: touch(mechanism, *from, *to, *link),
                        sizes: (*from_size, *to_size),
                    });
                }
                step::Step::SameAxle { .. } | step::Step::Joined { .. } => {
                    way.axles += 1;
                    waiting += 1;
                }
                step::Step::Planetary { .. } | step::Step::OnCarrier { .. } => return None,
                step::Step::Start { .. }
                | step::Step::OverTime { .. }
                | step::Step::Travel { .. }
                | step::Step::ForceAcross { .. }
                | step::Step::ForceTimesArm { .. }
                | step::Step::MissingCount { .. }
                | step::Step::CountFromSum { .. }
                | step::Step::Diameter { .. }
                | step::Step::Distance { .. }
                | step::Step::Stage { .. }
                | step::Step::CommonMultiple { .. }
                | step::Step::Chosen { .. }
                | step::Step::Simplify { .. }
                | step::Step::CountMeshes { .. }
                | step::Step::Loop { .. }
                | step::Step::ToothSizes { .. }
                | step::Step::WormHolds { .. }
                | step::Step::Compare { .. }
                | step::Step::Role { .. } => {}
            }
        }
        Some(way)
    }

    fn count(&self, touch: Touch) -> usize {
        self.drives.iter().filter(|it| it.touch == touch).count()
    }

    fn meshes(&self) -> usize {
        self.drives
            .iter()
            .filter(|drive| match drive.touch {
                Touch::Mesh | Touch::Ring | Touch::Rack | Touch::Worm => true,
                Touch::Chain | Touch::Crossed => false,
            })
            .count()
    }

    /// How the size of what the way begins with compares with that it ends with.
    fn ends(&self) -> Option<Ordering> {
        let (first, last) = (self.drives.first()?, self.drives.last()?);
        first.sizes.0.compare(last.sizes.1).ok()
    }

    fn ground(&self, steps: &[step::Step]) -> idea::Ground {
        let mut ground = idea::Ground {
            changes: self.count(Touch::Mesh) + self.count(Touch::Crossed),
            ..idea::Ground::default()
        };
        for drive in &self.drives {
            for part in [drive.from, drive.to] {
                if !ground.along.contains(&part) {
                    ground.along.push(part);
                }
            }
        }
        let mut all = Some(number::Number::ONE);
        for drive in &self.drives {
            let share = drive
                .sizes
                .1
                .divided_by(drive.sizes.0)
                .ok()
                .and_then(number::Value::as_number);
            all = all
                .zip(share)
                .and_then(|(all, share)| all.times(share).ok());
            ground.times.extend(share.and_then(one_or_more));
        }
        ground.times.extend(all.and_then(one_or_more));
        for step in steps {
            if let step::Step::Loop { parts, .. } = step {
                ground.along.clone_from(parts);
            }
            if let step::Step::ToothSizes {
                first_mm,
                second_mm,
                ..
            } = step
            {
                ground.tooth_sizes_mm = vec![*first_mm, *second_mm];
            }
        }
        ground
    }
}

/// A share or its inverse, whichever is one or more.
fn one_or_more(share: number::Number) -> Option<number::Number> {
    if share < number::Number::ONE {
        number::Number::ONE.divided_by(share).ok()
    } else {
        Some(share)
    }
}

fn touch(
    mechanism: &mechanism::Mechanism,
    from: mechanism::PartId,
    to: mechanism::PartId,
    link: mechanism::Link,
) -> Touch {
    match link {
        mechanism::Link::Chain | mechanism::Link::Belt => return Touch::Chain,
        mechanism::Link::CrossedBelt => return Touch::Crossed,
        mechanism::Link::Mesh => {}
    }
    let kinds = [from, to].map(|part| &mechanism.part(part).kind);
    let has = |is: fn(&mechanism::Kind) -> bool| kinds.into_iter().any(is);
    if has(|kind| matches!(kind, mechanism::Kind::Worm { .. })) {
        Touch::Worm
    } else if has(|kind| matches!(kind, mechanism::Kind::Rack { .. })) {
        Touch::Rack
    } else if has(|kind| matches!(kind, mechanism::Kind::Ring { .. })) {
        Touch::Ring
    } else {
        Touch::Mesh
    }
}

fn faster(way: &Way, conclusion: &ask::Fact, found: &mut Found) {
    if way.drives.is_empty() {
        found.key.push(Idea::OneAxleTogether);
        return;
    }
    found.beside.push(Idea::MovementDoesNotFade);
    let ends = way.ends();
    let is_same = *conclusion == ask::Fact::Which(ask::Which::Same);
    if way.count(Touch::Worm) > 0 {
        found
            .key
            .extend([Idea::WormToothByTooth, Idea::TeethGiveTimes]);
        if way.between_axles > 0 {
            found.key.push(Idea::StagesBuildUp);
        }
    } else if way.between_axles > 0 {
        found.key.extend([
            Idea::StagesBuildUp,
            Idea::OneAxleTogether,
            Idea::TeethGiveTimes,
        ]);
        if !is_same && is_smaller_faster(ends, conclusion) {
            found.key.push(Idea::SmallerFaster);
        }
        return;
    } else if is_same {
        found
            .key
            .extend([Idea::SameSizeSameSpeed, Idea::TeethPassAlike]);
    } else {
        found.key.extend([
            Idea::SmallerFaster,
            Idea::TeethGiveTimes,
            Idea::TeethPassAlike,
        ]);
        found.beside.push(Idea::BiggerStronger);
    }
    if way.drives.len() > 1 {
        found.key.push(Idea::BetweenKeepsSpeed);
    }
    if way.axles > 0 {
        found.key.push(Idea::OneAxleTogether);
    }
}

/// Whether the end with fewer teeth is the faster one; the way goes from the first
/// part asked about to the second.
fn is_smaller_faster(ends: Option<Ordering>, conclusion: &ask::Fact) -> bool {
    match ends {
        Some(Ordering::Less) => *conclusion == ask::Fact::Which(ask::Which::First),
        Some(Ordering::Greater) => *conclusion == ask::Fact::Which(ask::Which::Second),
        Some(Ordering::Equal) | None => false,
    }
}

fn stronger(way: &Way, conclusion: &ask::Fact, found: &mut Found) {
    if way.drives.is_empty() {
        found.key.push(Idea::OneAxleTogether);
        return;
    }
    found.beside.push(Idea::MovementDoesNotFade);
    if *conclusion == ask::Fact::Which(ask::Which::Same) {
        found.key.push(Idea::SameSizeSameSpeed);
    } else {
        let is_bigger = match way.ends() {
            Some(Ordering::Less) => *conclusion == ask::Fact::Which(ask::Which::Second),
            Some(Ordering::Greater) => *conclusion == ask::Fact::Which(ask::Which::First),
            Some(Ordering::Equal) | None => false,
        };
        if is_bigger {
            found.key.push(Idea::BiggerStronger);
        }
        found
            .key
            .extend([Idea::SlowerStronger, Idea::TeethGiveTimes]);
    }
    if way.between_axles > 0 {
        found.key.push(Idea::StagesBuildUp);
    }
}

fn directions(way: &Way, found: &mut Found) {
    let meshes = way.count(Touch::Mesh);
    for (is_there, idea) in [
        (meshes > 0, Idea::MeshOpposite),
        (
            meshes == 2 && way.drives.len() == 2 && way.between_axles == 0,
            Idea::BetweenTurnsBack,
        ),
        (meshes > 1, Idea::OddEven),
        (way.count(Touch::Chain) > 0, Idea::ChainKeeps),
        (way.count(Touch::Crossed) > 0, Idea::CrossedTurns),
        (way.count(Touch::Ring) > 0, Idea::RingKeeps),
        (way.count(Touch::Rack) > 0, Idea::RackAlong),
        (way.axles > 0, Idea::OneAxleTogether),
    ] {
        if is_there {
            found.key.push(idea);
        }
    }
}

fn turning(mechanism: &mechanism::Mechanism, way: &Way, steps: &[step::Step], found: &mut Found) {
    let mut has_loop = false;
    for step in steps {
        match step {
            step::Step::Loop { parts, turns } => {
                has_loop = true;
                let is_even = parts.len() % 2 == 0;
                match (turns, is_even) {
                    (true, true) => found.key.extend([Idea::EvenLoop, Idea::MeshOpposite]),
                    (true, false) => found.key.push(Idea::MeshOpposite),
                    (false, true) => found.key.push(Idea::BothWaysAtOnce),
                    (false, false) => {
                        found
                            .key
                            .extend([Idea::OddLoop, Idea::BothWaysAtOnce, Idea::MeshOpposite]);
                    }
                }
            }
            step::Step::ToothSizes { .. } => found.key.push(Idea::ToothSizesDiffer),
            step::Step::WormHolds { .. } => found.key.push(Idea::WormNotDriven),
            step::Step::Start { .. }
            | step::Step::Drive { .. }
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
            | step::Step::Stage { .. }
            | step::Step::CommonMultiple { .. }
            | step::Step::Chosen { .. }
            | step::Step::Simplify { .. }
            | step::Step::CountMeshes { .. }
            | step::Step::Compare { .. }
            | step::Step::Role { .. } => {}
        }
    }
    found.key.dedup();
    if has_loop || !found.key.is_empty() {
        return;
    }
    if way.drives.len() > 1 && way.between_axles == 0 {
        found.key.push(Idea::OpenRow);
    }
    if way.meshes() > 0 {
        found.key.push(Idea::TeethPush);
    }
    if way.count(Touch::Mesh) > 0 {
        found.key.push(Idea::MeshOpposite);
    }
    if way.count(Touch::Chain) > 0 {
        found.key.push(Idea::ChainKeeps);
    }
    if way.axles > 0 {
        found.beside.push(Idea::OneAxleTogether);
    }
    let fits = mechanism.joints.iter().any(|joint| {
        let sizes = [joint.first, joint.second].map(|part| mechanism.part(part).tooth_size_mm);
        matches!(sizes, [Some(one), Some(other)] if one == other)
    });
    if fits {
        found.key.insert(0, Idea::ToothSizesAlike);
    }
}

#[cfg(test)]
mod tests;
