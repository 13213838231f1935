//! The walk over a mechanism: how much every body moves for each other, what
//! hangs together, which loops close and which lock.
//!
//! Knows no amounts: those come with `motion`. A planet's meshes are left to
//! `planetary`, which joins the clusters found here.

use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::number;

/// How one body moves, against its cluster's first body.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reached {
    /// The bodies that follow from each other without a carrier between.
    pub(super) cluster: usize,
    /// The bodies whose senses follow from each other (no worm between).
    pub(super) group: usize,
    /// Moves for one move of the first body; the sign is the sense within the group.
    pub(super) ratio: number::Number,
    /// How often the unknown count multiplies the ratio.
    pub(super) power: i8,
    /// The joint that it was reached by.
    pub(super) parent: Option<usize>,
    /// How many joints it is from the first body.
    depth: usize,
}

/// One joint on a way between two parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Hop {
    /// Which joint.
    pub(super) joint: usize,
    /// The part come from.
    pub(super) from: mechanism::PartId,
    /// The part come to.
    pub(super) to: mechanism::PartId,
}

impl Hop {
    fn reversed(self) -> Self {
        Self {
            joint: self.joint,
            from: self.to,
            to: self.from,
        }
    }
}

/// `factor` × the unknown count to the `power` must be 1.
#[derive(Debug, Clone, Copy)]
pub(super) struct Condition {
    /// The factor.
    pub(super) factor: number::Value,
    /// The power of the unknown count.
    pub(super) power: i8,
}

/// A joint that closes a loop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Closing {
    /// Which joint.
    pub(super) joint: usize,
    /// Whether the loop turns.
    pub(super) turns: bool,
}

/// Everything that the joints alone say.
#[derive(Debug)]
pub(super) struct Walk<'a> {
    /// What was walked.
    pub(super) mechanism: &'a mechanism::Mechanism,
    /// What each joint does.
    pub(super) couplings: Vec<coupling::Coupling>,
    /// One for each body.
    pub(super) bodies: Vec<Reached>,
    /// The bodies in the order walked.
    pub(super) order: Vec<mechanism::BodyId>,
    /// How many clusters there are.
    pub(super) cluster_count: usize,
    /// How many groups there are.
    pub(super) group_count: usize,
    /// The joints that close loops.
    pub(super) closings: Vec<Closing>,
    /// What the loops say of the unknown count.
    pub(super) conditions: Vec<Condition>,
}

/// The joints at each body, packed in one list.
struct Neighbours {
    starts: Vec<usize>,
    joints: Vec<usize>,
}

impl Neighbours {
    fn of(couplings: &[coupling::Coupling], body_count: usize) -> Self {
        let mut starts = vec![0; body_count + 1];
        let walked = || {
            couplings
                .iter()
                .enumerate()
                .filter(|(_, coupling)| coupling.carrier.is_none())
        };
        for (_, coupling) in walked() {
            starts[coupling.first.index()] += 1;
            starts[coupling.second.index()] += 1;
        }
        let mut total = 0;
        for start in &mut starts {
            total += *start;
            *start = total;
        }
        let mut joints = vec![0; total];
        // Filled from the end, so that each list begins where `starts` then points
        // and holds its joints in the order named.
        for (index, coupling) in walked().rev() {
            for body in [coupling.second, coupling.first] {
                let start = &mut starts[body.index()];
                *start -= 1;
                joints[*start] = index;
            }
        }
        Self { starts, joints }
    }

    fn at(&self, body: mechanism::BodyId) -> &[usize] {
        &self.joints[self.starts[body.index()]..self.starts[body.index() + 1]]
    }
}

/// Returns what the joints say, and every joint or loop that is at fault.
///
/// # Errors
///
/// [`fault::Fault::Number`] when a ratio does not fit; nothing else can be told then.
pub(super) fn walk<'a>(
    mechanism: &'a mechanism::Mechanism,
    faults: &mut Vec<fault::Fault>,
) -> Result<Walk<'a>, fault::Fault> {
    let body_count = usize::from(mechanism.body_count);
    let (couplings, joint_faults) = coupling::couplings(mechanism);
    faults.extend(joint_faults);
    let neighbours = Neighbours::of(&couplings, body_count);
    let mut bodies: Vec<Option<Reached>> = vec![None; body_count];
    let mut order = Vec::with_capacity(body_count);
    let mut worms: Vec<(usize, mechanism::BodyId)> = Vec::new();
    let (mut cluster_count, mut group_count) = (0, 0);
    for start in starts(mechanism) {
        if bodies[start.index()].is_some() {
            continue;
        }
        bodies[start.index()] = Some(Reached {
            cluster: cluster_count,
            group: group_count,
            ratio: number::Number::ONE,
            power: 0,
            parent: None,
            depth: 0,
        });
        group_count += 1;
        let mut head = order.len();
        order.push(start);
        loop {
            while let Some(&body) = order.get(head) {
                head += 1;
                let here = bodies[body.index()].expect("what is in the order is reached");
                for &joint in neighbours.at(body) {
                    let coupling = &couplings[joint];
                    let other = other_end(coupling, body);
                    if bodies[other.index()].is_some() {
                        continue;
                    }
                    if coupling.turning == coupling::Turning::Unseen {
                        worms.push((joint, body));
                        continue;
                    }
                    bodies[other.index()] = Some(across(&here, coupling, joint, other)?);
                    order.push(other);
                }
            }
            // Worms are crossed last, so that a group holds all whose sense follows.
            let Some((joint, body)) = worms.pop() else {
                break;
            };
            let coupling = &couplings[joint];
            let other = other_end(coupling, body);
            if bodies[other.index()].is_some() {
                continue;
            }
            let here = bodies[body.index()].expect("a worm was met at a reached body");
            let mut reached = across(&here, coupling, joint, other)?;
            reached.group = group_count;
            group_count += 1;
            bodies[other.index()] = Some(reached);
            order.push(other);
        }
        cluster_count += 1;
    }
    let bodies = bodies
        .into_iter()
        .map(|reached| reached.expect("every body is a start at the latest"))
        .collect();
    let mut walk = Walk {
        mechanism,
        couplings,
        bodies,
        order,
        cluster_count,
        group_count,
        closings: Vec::new(),
        conditions: Vec::new(),
    };
    if mechanism.joints.len() + cluster_count > body_count {
        walk.close_loops(faults)?;
    }
    Ok(walk)
}

/// The bodies to begin at: where motion is given, then where the drive is named,
/// then the rest.
fn starts(mechanism: &mechanism::Mechanism) -> impl Iterator<Item = mechanism::BodyId> + use<'_> {
    let given = |wanted: bool| {
        mechanism
            .givens
            .iter()
            .filter_map(move |given| match given {
                mechanism::Given::Motion { part, amount, .. } => {
                    (amount.is_some() == wanted).then_some(mechanism.part(*part).body)
                }
                mechanism::Given::Held(_)
                | mechanism::Given::Minutes(_)
                | mechanism::Given::Force { .. }
                | mechanism::Given::TurningForce { .. }
                | mechanism::Given::Efficiency(_)
                | mechanism::Given::Apart { .. }
                | mechanism::Given::TakenOut { .. } => None,
            })
    };
    given(true)
        .chain(given(false))
        .chain(
            mechanism
                .joints
                .iter()
                .map(|joint| mechanism.part(joint.first).body),
        )
        .chain((0..mechanism.body_count).map(mechanism::BodyId))
}

fn other_end(coupling: &coupling::Coupling, body: mechanism::BodyId) -> mechanism::BodyId {
    if coupling.first == body {
        coupling.second
    } else {
        coupling.first
    }
}

/// Returns how the body at the other end of a joint moves.
///
/// Source: teeth that pass are equal on both sides, so n2 = n1 z1 / z2
/// (Engineering `ToolBox`, gear trains: movement ratio = ND / NF = TF / TD).
fn across(
    here: &Reached,
    coupling: &coupling::Coupling,
    joint: usize,
    to: mechanism::BodyId,
) -> Result<Reached, fault::Fault> {
    let (near, far) = if coupling.second == to {
        (coupling.first_share, coupling.second_share)
    } else {
        (coupling.second_share, coupling.first_share)
    };
    let ratio = here.ratio.times(near.number)?.divided_by(far.number)?;
    let power = here
        .power
        .saturating_add(near.power)
        .saturating_sub(far.power);
    Ok(Reached {
        cluster: here.cluster,
        group: here.group,
        ratio: if coupling.turning == coupling::Turning::Opposite {
            ratio.negated()
        } else {
            ratio
        },
        power,
        parent: Some(joint),
        depth: here.depth + 1,
    })
}

impl From<number::NumberError> for fault::Fault {
    fn from(error: number::NumberError) -> Self {
        Self::Number(error)
    }
}

impl Walk<'_> {
    /// Returns how a part's body moves.
    pub(super) fn at(&self, part: mechanism::PartId) -> &Reached {
        &self.bodies[self.mechanism.part(part).body.index()]
    }

    /// Checks every joint that the walk did not go along.
    fn close_loops(&mut self, faults: &mut Vec<fault::Fault>) -> Result<(), fault::Fault> {
        for (joint, coupling) in self.couplings.iter().enumerate() {
            let (first, second) = (
                &self.bodies[coupling.first.index()],
                &self.bodies[coupling.second.index()],
            );
            if coupling.carrier.is_some()
                || coupling.broken
                || first.parent == Some(joint)
                || second.parent == Some(joint)
            {
                continue;
            }
            let expected = across(first, coupling, joint, coupling.second)?;
            let same_sense = coupling.turning == coupling::Turning::Unseen
                || first.group != second.group
                || expected.ratio.is_negative() == second.ratio.is_negative();
            let power = expected.power - second.power;
            let turns = if power == 0 {
                same_sense && expected.ratio.magnitude() == second.ratio.magnitude()
            } else {
                let factor = expected.ratio.divided_by(second.ratio)?.magnitude();
                self.conditions.push(Condition {
                    factor: factor.into(),
                    power,
                });
                same_sense
            };
            self.closings.push(Closing { joint, turns });
        }
        for closing in &self.closings {
            if !closing.turns && !self.has_broken(closing.joint) {
                faults.push(fault::Fault::Locked {
                    parts: self.loop_parts(closing.joint),
                });
            }
        }
        Ok(())
    }

    /// Whether the loop that a joint closes goes over a joint that is at fault itself.
    fn has_broken(&self, joint: usize) -> bool {
        let closing = &self.mechanism.joints[joint];
        self.way(closing.first, closing.second)
            .unwrap_or_default()
            .iter()
            .any(|hop| self.couplings[hop.joint].broken)
    }

    /// The parts round the loop that a joint closes, in mesh order.
    pub(super) fn loop_parts(&self, joint: usize) -> Vec<mechanism::PartId> {
        let closing = &self.mechanism.joints[joint];
        let mut parts = vec![closing.first];
        for hop in self.way(closing.first, closing.second).unwrap_or_default() {
            parts.extend([hop.from, hop.to]);
        }
        parts.push(closing.second);
        parts.dedup();
        if parts.len() > 1 && parts.first() == parts.last() {
            parts.pop();
        }
        // Told from the first-named part on, towards its earlier-named neighbour.
        if let Some(first) = (0..parts.len()).min_by_key(|&index| parts[index]) {
            parts.rotate_left(first);
        }
        if parts.len() > 2 && parts.last() < parts.get(1) {
            parts[1..].reverse();
        }
        parts
    }

    /// Returns the joints from one part to another, `None` when nothing joins them
    /// (or only a planetary set does).
    pub(super) fn way(&self, from: mechanism::PartId, to: mechanism::PartId) -> Option<Vec<Hop>> {
        let mut near = self.mechanism.part(from).body;
        let mut far = self.mechanism.part(to).body;
        if self.bodies[near.index()].cluster != self.bodies[far.index()].cluster {
            return None;
        }
        let depth = |body: mechanism::BodyId| self.bodies[body.index()].depth;
        let mut hops = Vec::with_capacity(depth(near) + depth(far));
        while near != far {
            if depth(near) >= depth(far) {
                let (up, body) = self.hop_up(near);
                hops.push(up);
                near = body;
            } else {
                (_, far) = self.hop_up(far);
            }
        }
        // Then down to the other part, found from its end.
        let up = hops.len();
        far = self.mechanism.part(to).body;
        while far != near {
            let (up, body) = self.hop_up(far);
            hops.push(up.reversed());
            far = body;
        }
        hops[up..].reverse();
        Some(hops)
    }

    /// Returns the joint by which the walk came to a body; `None` at a cluster's first.
    pub(super) fn hop_to(&self, body: mechanism::BodyId) -> Option<Hop> {
        self.bodies[body.index()].parent?;
        let (up, _) = self.hop_up(body);
        Some(up.reversed())
    }

    /// The joint towards the cluster's first body, and the body it leads to.
    fn hop_up(&self, body: mechanism::BodyId) -> (Hop, mechanism::BodyId) {
        let joint = self.bodies[body.index()]
            .parent
            .expect("only the first body of a cluster has none, and it is met at the latest");
        let mechanism::Joint { first, second, .. } = self.mechanism.joints[joint];
        let coupling = &self.couplings[joint];
        if coupling.first == body {
            let (from, to) = (first, second);
            (Hop { joint, from, to }, coupling.second)
        } else {
            let (from, to) = (second, first);
            (Hop { joint, from, to }, coupling.first)
        }
    }

    /// Returns which way a part moves if its group's first body moves with positive
    /// sign, or against it.
    pub(super) fn sense(&self, part: mechanism::PartId, positive: bool) -> mechanism::Sense {
        sense(
            &self.mechanism.part(part).kind,
            positive != self.at(part).ratio.is_negative(),
        )
    }
}

/// Returns the sense of a signed movement: clockwise and to the right are positive.
pub(super) fn sense(kind: &mechanism::Kind, positive: bool) -> mechanism::Sense {
    if matches!(kind, mechanism::Kind::Rack { .. }) {
        if positive {
            mechanism::Sense::Right
        } else {
            mechanism::Sense::Left
        }
    } else if positive {
        mechanism::Sense::Clockwise
    } else {
        mechanism::Sense::Anticlockwise
    }
}

/// Returns whether a sense is positive; `None` where it does not fit the kind of part.
pub(super) fn is_positive(kind: &mechanism::Kind, sense: mechanism::Sense) -> Option<bool> {
    let slides = matches!(kind, mechanism::Kind::Rack { .. });
    match sense {
        mechanism::Sense::Clockwise => (!slides).then_some(true),
        mechanism::Sense::Anticlockwise => (!slides).then_some(false),
        mechanism::Sense::Right => slides.then_some(true),
        mechanism::Sense::Left => slides.then_some(false),
    }
}
