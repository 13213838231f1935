//! What one joint does to motion: the sizes on both sides and the sense; and
//! what is wrong with a part or a joint on its own.
//!
//! Not here: anything that needs more than one joint at a time (see `walk`).

use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::size;
use crate::number;

/// How the senses of two coupled bodies go together, seen from the same side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Turning {
    /// Both turn the same way.
    Same,
    /// They turn opposite ways.
    Opposite,
    /// It depends on the view (a worm and its wheel).
    Unseen,
}

/// One side's share in a ratio: a number, times the unknown count where that is
/// still to be found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Share {
    /// Teeth, starts or diameter; for a pinion on a rack its pitch diameter.
    pub(super) number: number::Number,
    /// 1 where the unknown count multiplies it, else 0.
    pub(super) power: i8,
}

/// What one joint does to motion: second moves = first moves × first share ÷
/// second share, seen from the carrier where there is one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Coupling {
    /// The first part's body.
    pub(super) first: mechanism::BodyId,
    /// The second part's body.
    pub(super) second: mechanism::BodyId,
    /// The first part's share.
    pub(super) first_share: Share,
    /// The second part's share.
    pub(super) second_share: Share,
    /// How the senses go together.
    pub(super) turning: Turning,
    /// The carrier that the mesh rides on.
    pub(super) carrier: Option<mechanism::BodyId>,
    /// Whether the stage is taken out and the axles are one.
    pub(super) rigid: bool,
    /// Whether the joint itself is at fault, so that its numbers mean nothing.
    pub(super) broken: bool,
}

/// The fewest teeth of a gear, and the most teeth or starts, that are taken.
///
/// Source: common practice, no source; counts outside are slips of the pen.
const TEETH_LEAST: u32 = 3;
const COUNT_MOST: u32 = 1_000_000;

/// Returns the teeth or starts of a part, if it is of a kind that has them.
pub(super) fn count(kind: &mechanism::Kind) -> Option<mechanism::Count> {
    match kind {
        mechanism::Kind::Gear { teeth }
        | mechanism::Kind::Ring { teeth }
        | mechanism::Kind::Bevel { teeth }
        | mechanism::Kind::Sprocket { teeth } => Some(*teeth),
        mechanism::Kind::Worm { starts } => Some(*starts),
        mechanism::Kind::Rack { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo
        | mechanism::Kind::Carrier => None,
    }
}

/// Returns what is wrong with the parts, each on its own and with its axle.
pub(super) fn part_faults(mechanism: &mechanism::Mechanism) -> Vec<fault::Fault> {
    let mut faults = Vec::new();
    let mut sliding = None;
    for (id, part) in mechanism.numbered() {
        if let Some(mechanism::Count::Known(found)) = count(&part.kind) {
            let least = match part.kind {
                mechanism::Kind::Worm { .. } => 1,
                mechanism::Kind::Gear { .. }
                | mechanism::Kind::Ring { .. }
                | mechanism::Kind::Bevel { .. }
                | mechanism::Kind::Rack { .. }
                | mechanism::Kind::Sprocket { .. }
                | mechanism::Kind::Pulley { .. }
                | mechanism::Kind::Handle { .. }
                | mechanism::Kind::Drum { .. }
                | mechanism::Kind::Roller { .. }
                | mechanism::Kind::Motor
                | mechanism::Kind::Dynamo
                | mechanism::Kind::Carrier => TEETH_LEAST,
            };
            if found < least || found > COUNT_MOST {
                faults.push(fault::Fault::BadCount { part: id, found });
            }
        }
        let length = match part.kind {
            mechanism::Kind::Pulley { diameter_mm }
            | mechanism::Kind::Drum { diameter_mm }
            | mechanism::Kind::Roller { diameter_mm } => Some((diameter_mm, "the diameter")),
            mechanism::Kind::Handle { arm_mm } => arm_mm.map(|arm| (arm, "the handle's arm")),
            mechanism::Kind::Gear { .. }
            | mechanism::Kind::Ring { .. }
            | mechanism::Kind::Bevel { .. }
            | mechanism::Kind::Worm { .. }
            | mechanism::Kind::Rack { .. }
            | mechanism::Kind::Sprocket { .. }
            | mechanism::Kind::Motor
            | mechanism::Kind::Dynamo
            | mechanism::Kind::Carrier => None,
        };
        if let Some((length, what)) = length
            && !length.is_positive()
        {
            faults.push(fault::Fault::NotPositive { what });
        }
        if part.tooth_size_mm.is_some_and(|size| !size.is_positive()) {
            faults.push(fault::Fault::NotPositive {
                what: "the tooth size",
            });
        }
        if matches!(part.kind, mechanism::Kind::Rack { .. }) {
            sliding = Some(id);
        }
    }
    if sliding.is_some() {
        faults.extend(shared_bars(mechanism));
    }
    faults
}

/// Racks fixed to one axle with something that turns.
fn shared_bars(mechanism: &mechanism::Mechanism) -> Vec<fault::Fault> {
    let is_rack = |part: &mechanism::Part| matches!(part.kind, mechanism::Kind::Rack { .. });
    mechanism
        .numbered()
        .filter(|(_, part)| is_rack(part))
        .filter_map(|(rack, bar)| {
            let other = mechanism
                .numbered()
                .find(|(_, part)| part.body == bar.body && !is_rack(part))?;
            Some(fault::Fault::CannotShareAxle {
                first: rack,
                second: other.0,
            })
        })
        .collect()
}

/// Returns what each joint does, and what is wrong with joints on their own.
pub(super) fn couplings(mechanism: &mechanism::Mechanism) -> (Vec<Coupling>, Vec<fault::Fault>) {
    let mut faults = Vec::new();
    let riding = riding(mechanism);
    let mut couplings: Vec<Coupling> = mechanism
        .joints
        .iter()
        .map(|joint| coupling(mechanism, *joint, &riding, &mut faults))
        .collect();
    for given in &mechanism.givens {
        let mechanism::Given::TakenOut { first, second } = given else {
            continue;
        };
        let mut found = false;
        for (joint, coupling) in mechanism.joints.iter().zip(&mut couplings) {
            if joint.joins(*first, *second) {
                found = true;
                // What was wrong with gears that are no longer there is no fault.
                faults.retain(|fault| !is_about(fault, *joint));
                *coupling = rigid(coupling.first, coupling.second);
            }
        }
        if !found {
            faults.push(fault::Fault::CannotMesh {
                first: *first,
                second: *second,
            });
        }
    }
    (couplings, faults)
}

fn is_about(fault: &fault::Fault, joint: mechanism::Joint) -> bool {
    match fault {
        fault::Fault::TeethDoNotFit { first, second }
        | fault::Fault::CannotMesh { first, second } => joint.joins(*first, *second),
        fault::Fault::WormWillNotBeDriven { worm } => joint.first == *worm || joint.second == *worm,
        fault::Fault::NotConnected { .. }
        | fault::Fault::Locked { .. }
        | fault::Fault::DrivenTwice { .. }
        | fault::Fault::CannotShareAxle { .. }
        | fault::Fault::BadCount { .. }
        | fault::Fault::NotPositive { .. }
        | fault::Fault::TooEfficient { .. }
        | fault::Fault::DirectionUnknown { .. }
        | fault::Fault::NotEnoughGiven { .. }
        | fault::Fault::TooManyUnknowns
        | fault::Fault::NotWhole { .. }
        | fault::Fault::CannotAsk { .. }
        | fault::Fault::Number(_) => false,
    }
}

/// Two axles that are one.
fn rigid(first: mechanism::BodyId, second: mechanism::BodyId) -> Coupling {
    let one = Share {
        number: number::Number::ONE,
        power: 0,
    };
    Coupling {
        first,
        second,
        first_share: one,
        second_share: one,
        turning: Turning::Same,
        carrier: None,
        rigid: true,
        broken: false,
    }
}

/// The carrier that each body rides on; empty where nothing rides.
pub(super) fn riding(mechanism: &mechanism::Mechanism) -> Vec<Option<mechanism::BodyId>> {
    if mechanism.parts.iter().all(|part| part.rides_on.is_none()) {
        return Vec::new();
    }
    let mut riding = vec![None; usize::from(mechanism.body_count)];
    for part in &mechanism.parts {
        if part.rides_on.is_some() {
            riding[part.body.index()] = part.rides_on;
        }
    }
    riding
}

fn coupling(
    mechanism: &mechanism::Mechanism,
    joint: mechanism::Joint,
    riding: &[Option<mechanism::BodyId>],
    faults: &mut Vec<fault::Fault>,
) -> Coupling {
    let (first, second) = (mechanism.part(joint.first), mechanism.part(joint.second));
    let cannot_mesh = fault::Fault::CannotMesh {
        first: joint.first,
        second: joint.second,
    };
    let mut coupling = rigid(first.body, second.body);
    coupling.rigid = false;
    let shares = shares(mechanism, joint);
    let (Some((first_share, second_share, turning)), true) = (shares, first.body != second.body)
    else {
        faults.push(cannot_mesh);
        coupling.broken = true;
        return coupling;
    };
    coupling.first_share = first_share;
    coupling.second_share = second_share;
    coupling.turning = turning;
    let rides = |body: mechanism::BodyId| riding.get(body.index()).copied().flatten();
    coupling.carrier = match (rides(first.body), rides(second.body)) {
        (None, None) => None,
        (Some(carrier), None) | (None, Some(carrier)) => Some(carrier),
        (Some(one), Some(other)) => {
            if one != other {
                faults.push(cannot_mesh);
                coupling.broken = true;
                return coupling;
            }
            Some(one)
        }
    };
    if coupling.carrier.is_some() && turning == Turning::Unseen {
        faults.push(cannot_mesh);
        coupling.broken = true;
        return coupling;
    }
    if let (Some(one), Some(other), mechanism::Link::Mesh) =
        (first.tooth_size_mm, second.tooth_size_mm, joint.link)
        && one != other
    {
        faults.push(fault::Fault::TeethDoNotFit {
            first: joint.first,
            second: joint.second,
        });
    }
    if let (mechanism::Kind::Worm { starts }, true) = (&second.kind, joint.driver_named)
        && *starts == mechanism::Count::Known(1)
    {
        faults.push(fault::Fault::WormWillNotBeDriven { worm: joint.second });
    }
    coupling
}

/// Returns the shares of a joint's two parts and how they turn; `None` if two such
/// parts cannot be joined so.
///
/// Source: outside meshes turn contrary ways, inside meshes the same way
/// (Encyclopaedia Britannica, 1911, as quoted on a collection of quotations);
/// teeth that pass are equal on both sides; for chain, belt, worm and rack common
/// practice, no source.
fn shares(
    mechanism: &mechanism::Mechanism,
    joint: mechanism::Joint,
) -> Option<(Share, Share, Turning)> {
    let (first, second) = (mechanism.part(joint.first), mechanism.part(joint.second));
    let counted = |one: mechanism::Count, other: mechanism::Count, turning| {
        Some((share(one), share(other), turning))
    };
    match (joint.link, &first.kind, &second.kind) {
        (
            mechanism::Link::Mesh,
            mechanism::Kind::Gear { teeth: one },
            mechanism::Kind::Gear { teeth: other },
        )
        | (
            mechanism::Link::Mesh,
            mechanism::Kind::Bevel { teeth: one },
            mechanism::Kind::Bevel { teeth: other },
        ) => counted(*one, *other, Turning::Opposite),
        (
            mechanism::Link::Mesh,
            mechanism::Kind::Gear { teeth: one },
            mechanism::Kind::Ring { teeth: other },
        ) => is_inside(*one, *other)
            .then(|| counted(*one, *other, Turning::Same))
            .flatten(),
        (
            mechanism::Link::Mesh,
            mechanism::Kind::Ring { teeth: one },
            mechanism::Kind::Gear { teeth: other },
        ) => is_inside(*other, *one)
            .then(|| counted(*one, *other, Turning::Same))
            .flatten(),
        (
            mechanism::Link::Mesh,
            mechanism::Kind::Worm { starts: one },
            mechanism::Kind::Gear { teeth: other },
        )
        | (
            mechanism::Link::Mesh,
            mechanism::Kind::Gear { teeth: one },
            mechanism::Kind::Worm { starts: other },
        ) => counted(*one, *other, Turning::Unseen),
        (
            mechanism::Link::Mesh,
            mechanism::Kind::Gear { teeth },
            mechanism::Kind::Rack { above },
        ) => Some((
            on_rack(mechanism, joint, *teeth)?,
            bar(),
            rack_turning(*above),
        )),
        (
            mechanism::Link::Mesh,
            mechanism::Kind::Rack { above },
            mechanism::Kind::Gear { teeth },
        ) => Some((
            bar(),
            on_rack(mechanism, joint, *teeth)?,
            rack_turning(*above),
        )),
        (
            mechanism::Link::Chain,
            mechanism::Kind::Sprocket { teeth: one },
            mechanism::Kind::Sprocket { teeth: other },
        ) => counted(*one, *other, Turning::Same),
        (
            mechanism::Link::Belt | mechanism::Link::CrossedBelt,
            mechanism::Kind::Pulley { diameter_mm: one },
            mechanism::Kind::Pulley { diameter_mm: other },
        ) => {
            let turning = if joint.link == mechanism::Link::Belt {
                Turning::Same
            } else {
                Turning::Opposite
            };
            Some((plain(*one)?, plain(*other)?, turning))
        }
        (
            mechanism::Link::Mesh
            | mechanism::Link::Chain
            | mechanism::Link::Belt
            | mechanism::Link::CrossedBelt,
            _,
            _,
        ) => None,
    }
}

/// Whether a gear is smaller than the ring it runs in, as far as the counts are known.
fn is_inside(gear: mechanism::Count, ring: mechanism::Count) -> bool {
    match (gear, ring) {
        (mechanism::Count::Known(gear), mechanism::Count::Known(ring)) => gear < ring,
        (mechanism::Count::Unknown, _) | (_, mechanism::Count::Unknown) => true,
    }
}

/// A count nought is a fault of its part; it counts as one here, so that the walk
/// can go on and find the other faults.
fn share(count: mechanism::Count) -> Share {
    match count {
        mechanism::Count::Known(count) => Share {
            number: number::Number::from(count.max(1)),
            power: 0,
        },
        mechanism::Count::Unknown => Share {
            number: number::Number::ONE,
            power: 1,
        },
    }
}

fn plain(number: number::Number) -> Option<Share> {
    number.is_positive().then_some(Share { number, power: 0 })
}

/// A rack's motion is counted in pi millimetres, so that every ratio is a plain
/// fraction.
fn bar() -> Share {
    Share {
        number: number::Number::ONE,
        power: 0,
    }
}

/// A pinion moves its rack by its pitch circle a turn.
///
/// Source: pitch diameter = m z (Wikipedia, Gear, copy of 9 August 2019), so rack
/// travel = pi m z per turn. Where no tooth size is known, 1 mm stands in: ratios
/// and senses do not need it, and distances are refused.
fn on_rack(
    mechanism: &mechanism::Mechanism,
    joint: mechanism::Joint,
    teeth: mechanism::Count,
) -> Option<Share> {
    let size = size::tooth_size(mechanism, joint.first).unwrap_or(number::Number::ONE);
    let share = share(teeth);
    Some(Share {
        number: share
            .number
            .times(size)
            .ok()
            .filter(|it| it.is_positive())?,
        power: share.power,
    })
}

/// A pinion that turns clockwise pushes a rack below it to the left.
fn rack_turning(above: bool) -> Turning {
    if above {
        Turning::Same
    } else {
        Turning::Opposite
    }
}
