//! Planet gears: the clusters of a walk joined by the meshes that ride on a
//! carrier, by exact elimination.
//!
//! Takes a walk and what is held or given; leaves in the walk how every body
//! moves. A mechanism without planets goes through untouched.

use crate::gears::coupling;
use crate::gears::fault;
use crate::gears::givens;
use crate::gears::mechanism;
use crate::gears::motion;
use crate::gears::walk;
use crate::number;

/// What hangs together once planets are counted.
#[derive(Debug)]
pub(super) struct Components {
    /// The component of each cluster.
    pub(super) of_cluster: Vec<usize>,
    /// What the ratios of each component mean.
    pub(super) meaning: Vec<Meaning>,
}

/// What the ratios of a component mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Meaning {
    /// Moves for one move of the first body: one given amount settles all.
    Ratios,
    /// Already the given amounts, at this scale: two or more parts of a planetary set
    /// are driven.
    Amounts(motion::Settled),
    /// Nothing, since the planetary set is at fault or not enough of it is given.
    Nothing,
}

/// Returns the components, with the ratios of planetary sets put into the walk.
///
/// # Errors
///
/// [`fault::Fault::Number`] when a number does not fit.
pub(super) fn join(
    walk: &mut walk::Walk<'_>,
    faults: &mut Vec<fault::Fault>,
) -> Result<Components, fault::Fault> {
    let mut of_cluster: Vec<usize> = (0..walk.cluster_count).collect();
    if walk.couplings.iter().all(|it| it.carrier.is_none()) {
        return Ok(Components {
            meaning: vec![Meaning::Ratios; walk.cluster_count],
            of_cluster,
        });
    }
    for coupling in &walk.couplings {
        let Some(carrier) = coupling.carrier else {
            continue;
        };
        let clusters = [coupling.first, coupling.second, carrier]
            .map(|body| of_cluster[walk.bodies[body.index()].cluster]);
        let least = clusters.into_iter().min().expect("three of them");
        for component in &mut of_cluster {
            if clusters.contains(component) {
                *component = least;
            }
        }
    }
    // Numbered anew from nought without gaps, in the order of their first cluster.
    let mut firsts: Vec<usize> = of_cluster.clone();
    firsts.sort_unstable();
    firsts.dedup();
    for component in &mut of_cluster {
        *component = firsts
            .binary_search(component)
            .expect("every component is in its own list");
    }
    let mut meaning = vec![Meaning::Ratios; firsts.len()];
    for (component, place) in meaning.iter_mut().enumerate() {
        let clusters: Vec<usize> = (0..walk.cluster_count)
            .filter(|&cluster| of_cluster[cluster] == component)
            .collect();
        if clusters.len() > 1 {
            *place = join_one(walk, &clusters, faults)?;
        }
    }
    Ok(Components {
        of_cluster,
        meaning,
    })
}

/// One row: what the clusters' moves, each times its number, add up to.
struct Row {
    factors: Vec<number::Number>,
    sum: number::Number,
}

fn join_one(
    walk: &mut walk::Walk<'_>,
    clusters: &[usize],
    faults: &mut Vec<fault::Fault>,
) -> Result<Meaning, fault::Fault> {
    let column = |cluster: usize| clusters.iter().position(|&it| it == cluster);
    let touched = join_groups(walk, clusters, faults);
    let mut rows = mesh_rows(walk, clusters)?;
    let mechanism = walk.mechanism;
    for given in &mechanism.givens {
        if let Some(part) = givens::held(given)
            && let Some(column) = column(walk.at(part).cluster)
        {
            rows.push(one_cluster(
                clusters.len(),
                column,
                number::Number::ONE,
                number::Number::ZERO,
            ));
        }
    }
    let pivots = reduce(&mut rows, clusters.len())?;
    let free: Vec<usize> = (0..clusters.len())
        .filter(|column| !pivots.contains(column))
        .collect();
    let mut meaning = Meaning::Ratios;
    let moves = match free.as_slice() {
        [] => {
            faults.push(locked(walk, clusters));
            return Ok(Meaning::Nothing);
        }
        [only] => {
            let mut moves = vec![number::Number::ZERO; clusters.len()];
            moves[*only] = number::Number::ONE;
            for (row, &pivot) in rows.iter().zip(&pivots) {
                moves[pivot] = row.factors[*only].negated();
            }
            // One move of the first cluster that moves; the drive's, unless held.
            let unit = moves
                .iter()
                .copied()
                .find(|it| !it.is_zero())
                .expect("the free one moves");
            for it in &mut moves {
                *it = it.divided_by(unit)?;
            }
            moves
        }
        [_, ..] => {
            let Some((amounts, scale)) = givens::signed_amounts(walk, clusters, &touched, faults)?
            else {
                return Ok(Meaning::Nothing);
            };
            for (cluster, ratio, amount) in amounts {
                let column = column(cluster).expect("asked of these clusters only");
                rows.push(one_cluster(clusters.len(), column, ratio, amount));
            }
            let pivots = reduce(&mut rows, clusters.len())?;
            if rows.len() > pivots.len() {
                faults.push(locked(walk, clusters));
                return Ok(Meaning::Nothing);
            }
            if pivots.len() < clusters.len() {
                faults.push(fault::Fault::NotEnoughGiven {
                    what: "how another part of the planetary set moves, or which part is held still",
                });
                return Ok(Meaning::Nothing);
            }
            meaning = Meaning::Amounts(scale);
            let mut moves = vec![number::Number::ZERO; clusters.len()];
            for (row, &pivot) in rows.iter().zip(&pivots) {
                moves[pivot] = row.sum;
            }
            moves
        }
    };
    for body in &mut walk.bodies {
        if let Some(column) = column(body.cluster) {
            body.ratio = body.ratio.times(moves[column])?;
        }
    }
    Ok(meaning)
}

fn locked(walk: &walk::Walk<'_>, clusters: &[usize]) -> fault::Fault {
    let mut parts = Vec::new();
    for (joint, coupling) in walk.mechanism.joints.iter().zip(&walk.couplings) {
        let cluster = walk.bodies[coupling.first.index()].cluster;
        if coupling.carrier.is_some() && clusters.contains(&cluster) {
            for part in [joint.first, joint.second] {
                if !parts.contains(&part) {
                    parts.push(part);
                }
            }
        }
    }
    fault::Fault::Locked { parts }
}

/// Gives the bodies that a mesh on a carrier joins one group, since their senses
/// follow from each other; returns the groups that are touched so.
fn join_groups(
    walk: &mut walk::Walk<'_>,
    clusters: &[usize],
    faults: &mut Vec<fault::Fault>,
) -> Vec<usize> {
    let mut joined: Vec<usize> = (0..walk.group_count).collect();
    let mut touched: Vec<(mechanism::BodyId, usize)> = Vec::new();
    for coupling in &walk.couplings {
        let Some(carrier) = coupling.carrier else {
            continue;
        };
        let bodies = [coupling.first, coupling.second, carrier];
        if !clusters.contains(&walk.bodies[carrier.index()].cluster) {
            continue;
        }
        let groups = bodies.map(|body| joined[walk.bodies[body.index()].group]);
        let least = groups.into_iter().min().expect("three of them");
        for group in &mut joined {
            if groups.contains(group) {
                *group = least;
            }
        }
        touched.extend(bodies.map(|body| (body, walk.bodies[body.index()].group)));
    }
    // Two groups of one cluster lie on two sides of a worm. If planets join them as
    // well, the motion itself depends on the view.
    for (index, &(one, one_group)) in touched.iter().enumerate() {
        let crossed = touched[..index].iter().any(|&(other, other_group)| {
            one_group != other_group
                && joined[one_group] == joined[other_group]
                && walk.bodies[one.index()].cluster == walk.bodies[other.index()].cluster
        });
        if crossed && let Some((part, _)) = walk.mechanism.numbered().find(|(_, it)| it.body == one)
        {
            faults.push(fault::Fault::DirectionUnknown { part });
            break;
        }
    }
    for body in &mut walk.bodies {
        body.group = joined[body.group];
    }
    touched.iter().map(|&(_, group)| joined[group]).collect()
}

/// One row for each mesh on a carrier: what passes on one side passes on the other.
///
/// Source: Willis's relation, the carrier's motion taken from both gears' (Modelica
/// Standard Library, `IdealPlanetary`: (1 + rho) carrier = sun + rho ring).
fn mesh_rows(walk: &walk::Walk<'_>, clusters: &[usize]) -> Result<Vec<Row>, fault::Fault> {
    let mut rows = Vec::new();
    for coupling in &walk.couplings {
        let Some(carrier) = coupling.carrier else {
            continue;
        };
        let column = |body: mechanism::BodyId| {
            let cluster = walk.bodies[body.index()].cluster;
            clusters.iter().position(|&it| it == cluster)
        };
        let Some(arm) = column(carrier) else {
            continue;
        };
        let mut row = one_cluster(
            clusters.len(),
            arm,
            number::Number::ZERO,
            number::Number::ZERO,
        );
        let second = if coupling.turning == coupling::Turning::Opposite {
            coupling.second_share.number
        } else {
            coupling.second_share.number.negated()
        };
        for (body, share) in [
            (coupling.first, coupling.first_share.number),
            (coupling.second, second),
        ] {
            let column = column(body).expect("a mesh lies in one component");
            let ratio = walk.bodies[body.index()].ratio;
            row.factors[column] = row.factors[column].plus(share.times(ratio)?)?;
            let arm_ratio = walk.bodies[carrier.index()].ratio;
            row.factors[arm] = row.factors[arm].minus(share.times(arm_ratio)?)?;
        }
        if !coupling.broken {
            rows.push(row);
        }
    }
    Ok(rows)
}

fn one_cluster(count: usize, column: usize, factor: number::Number, sum: number::Number) -> Row {
    let mut factors = vec![number::Number::ZERO; count];
    factors[column] = factor;
    Row { factors, sum }
}

/// Brings the rows to reduced echelon form, drops those that say nothing, and
/// returns the pivot column of each row that does. A row left over at the end says
/// that nought is something: the rows contradict each other.
///
/// Source: Gauss and Jordan's elimination, any textbook of linear algebra (from
/// memory).
fn reduce(rows: &mut Vec<Row>, columns: usize) -> Result<Vec<usize>, fault::Fault> {
    let mut pivots = Vec::new();
    for column in 0..columns {
        let done = pivots.len();
        let Some(found) = (done..rows.len()).find(|&row| !rows[row].factors[column].is_zero())
        else {
            continue;
        };
        rows.swap(done, found);
        let unit = rows[done].factors[column];
        for factor in &mut rows[done].factors {
            *factor = factor.divided_by(unit)?;
        }
        rows[done].sum = rows[done].sum.divided_by(unit)?;
        let pivot = Row {
            factors: rows[done].factors.clone(),
            sum: rows[done].sum,
        };
        for (index, row) in rows.iter_mut().enumerate() {
            let times = row.factors[column];
            if index == done || times.is_zero() {
                continue;
            }
            for (factor, part) in row.factors.iter_mut().zip(&pivot.factors) {
                *factor = factor.minus(part.times(times)?)?;
            }
            row.sum = row.sum.minus(pivot.sum.times(times)?)?;
        }
        pivots.push(column);
    }
    let done = pivots.len();
    let mut index = 0;
    rows.retain(|row| {
        index += 1;
        index <= done || !row.sum.is_zero()
    });
    Ok(pivots)
}

/// Returns the planetary sets whose counts do not go together: a planet between a
/// sun and a ring on one centre needs ring = sun + 2 planets.
///
/// Source: `z_planet` = (`z_ring` - `z_sun`) / 2 (Modelica Standard Library,
/// `IdealPlanetary`; an open planetary notebook, chapter 4).
pub(super) fn misfits(walk: &walk::Walk<'_>) -> Vec<fault::Fault> {
    let mut faults = Vec::new();
    for set in sets(walk.mechanism, &walk.couplings) {
        let teeth = [set.sun, set.planet, set.ring]
            .map(|part| coupling::count(&walk.mechanism.part(part).kind));
        if let [
            Some(mechanism::Count::Known(sun)),
            Some(mechanism::Count::Known(planet)),
            Some(mechanism::Count::Known(ring)),
        ] = teeth
            && u64::from(ring) != u64::from(sun) + 2 * u64::from(planet)
        {
            faults.push(fault::Fault::TeethDoNotFit {
                first: set.planet,
                second: set.ring,
            });
        }
    }
    faults
}

/// A sun, a planet and a ring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Set {
    /// The sun gear.
    pub(super) sun: mechanism::PartId,
    /// The planet gear.
    pub(super) planet: mechanism::PartId,
    /// The ring gear.
    pub(super) ring: mechanism::PartId,
    /// The carrier's body.
    pub(super) carrier: mechanism::BodyId,
}

/// Returns every planet that meshes with both a sun and a ring.
pub(super) fn sets(mechanism: &mechanism::Mechanism, couplings: &[coupling::Coupling]) -> Vec<Set> {
    let mut sets = Vec::new();
    if couplings.iter().all(|it| it.carrier.is_none()) {
        return sets;
    }
    let riding = coupling::riding(mechanism);
    for (planet, part) in mechanism.numbered() {
        let Some(carrier) = riding.get(part.body.index()).copied().flatten() else {
            continue;
        };
        if !matches!(part.kind, mechanism::Kind::Gear { .. }) {
            continue;
        }
        let partners = || {
            mechanism.joints.iter().filter_map(|joint| {
                let partner = joint.partner(planet)?;
                riding[mechanism.part(partner).body.index()]
                    .is_none()
                    .then_some(partner)
            })
        };
        let sun =
            partners().find(|&it| matches!(mechanism.part(it).kind, mechanism::Kind::Gear { .. }));
        let ring =
            partners().find(|&it| matches!(mechanism.part(it).kind, mechanism::Kind::Ring { .. }));
        if let (Some(sun), Some(ring)) = (sun, ring) {
            sets.push(Set {
                sun,
                planet,
                ring,
                carrier,
            });
        }
    }
    sets
}
