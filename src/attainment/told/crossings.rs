//! Small groups that are in no table, but could be found from tables by subtraction: the
//! third-years of a mixed class, where the other classes of the year are told.
//!
//! Looked for among the crossings of every two ways of grouping; the small crossings of
//! one group with all groups of another kind are also taken together, since the group
//! less the large ones would tell of them.

use crate::attainment::told;
use crate::attainment::told::atoms;
use crate::attainment::told::atoms::By;
use crate::held_back;
use roaring::RoaringBitmap;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// A set of pupils, by their numbers.
pub(super) type Pupils = RoaringBitmap;

/// The tables it could be found from, how well it is kept, and the parts that it is.
pub(super) type Secret = (Vec<usize>, held_back::Care, Vec<usize>);

/// The pupils and parts of a crossing.
type Crossing = (Pupils, Vec<usize>);

/// Returns all pupils of some sets.
pub(super) fn together<'a>(all: impl Iterator<Item = &'a Pupils>) -> Pupils {
    all.fold(Pupils::new(), |mut sum, pupils| {
        sum |= pupils;
        sum
    })
}

/// Returns the small crossings of places, as places.
pub(super) fn of_places(atoms: &atoms::Atoms, pupils: &[Pupils]) -> Vec<Secret> {
    let parts: Vec<(usize, &Pupils)> = pupils.iter().enumerate().collect();
    let mut secrets = Vec::new();
    for (one, other) in pairs(&by_place(atoms)) {
        let of = |part: usize| Some((atoms.of_place(part, one)?, atoms.of_place(part, other)?));
        let tables = vec![table(one), table(other)];
        let small = small(&parts, of);
        let care = care(one, other);
        secrets.extend(small.into_iter().map(|parts| (tables.clone(), care, parts)));
    }
    secrets
}

/// Returns the small crossings of places, terms and skills, as finest groups.
pub(super) fn of_marks(atoms: &atoms::Atoms) -> Vec<Secret> {
    let all = &atoms.finest;
    let parts: Vec<(usize, &Pupils)> = all
        .iter()
        .enumerate()
        .map(|(place, atom)| (place, atom.counted.pupils()))
        .collect();
    let group = |part: usize, by: By| all.get(part).and_then(|atom| atoms.of_atom(atom, by));
    let mut by = by_place(atoms);
    by.push(By::Skill);
    if !atoms.terms.is_empty() {
        by.push(By::Term);
    }
    let mut secrets = Vec::new();
    for (one, other) in pairs(&by) {
        // These are tables of their own.
        if other == By::Skill && (one == By::Year || one == By::Class) {
            continue;
        }
        let tables = vec![table(one), table(other)];
        let small = small(&parts, |part| {
            Some((group(part, one)?, group(part, other)?))
        });
        let care = care(one, other);
        secrets.extend(small.into_iter().map(|parts| (tables.clone(), care, parts)));
    }
    // A year's skill less the skill of its classes.
    let tables = vec![
        told::Table::SkillsByYear.number(),
        told::Table::SkillsByClass.number(),
    ];
    let skills = atoms.skills.len();
    let small = small(&parts, |part| {
        let year = group(part, By::Year)?;
        let skill = group(part, By::Skill)?;
        Some((year * skills + skill, group(part, By::Class)?))
    });
    let care = held_back::Care::SumsAndBounds;
    secrets.extend(small.into_iter().map(|parts| (tables.clone(), care, parts)));
    secrets
}

/// The pupils of a year in a mixed class are few and known to everybody; crossings with
/// labels are many, and most of them small.
fn care(one: By, other: By) -> held_back::Care {
    if (one, other) == (By::Year, By::Class) {
        held_back::Care::SumsAndBounds
    } else {
        held_back::Care::Sums
    }
}

/// The small crossings of two ways of grouping; and for each group of either those
/// together that are small.
fn small(
    parts: &[(usize, &Pupils)],
    of: impl Fn(usize) -> Option<(usize, usize)>,
) -> Vec<Vec<usize>> {
    let mut crossings: BTreeMap<(usize, usize), Crossing> = BTreeMap::new();
    for (part, pupils) in parts {
        if let Some(groups) = of(*part) {
            let crossing = crossings.entry(groups).or_default();
            crossing.0 |= *pupils;
            crossing.1.push(*part);
        }
    }
    crossings.retain(|_, (pupils, _)| held_back::is_small(pupils.len()));
    let mut secrets: BTreeSet<Vec<usize>> = BTreeSet::new();
    let mut joined: BTreeMap<(bool, usize), Crossing> = BTreeMap::new();
    for ((one, other), (pupils, parts)) in crossings {
        for key in [(false, one), (true, other)] {
            let all = joined.entry(key).or_default();
            all.0 |= &pupils;
            all.1.extend(&parts);
        }
        secrets.insert(parts);
    }
    for (_, (pupils, mut parts)) in joined {
        if held_back::is_small(pupils.len()) {
            parts.sort_unstable();
            secrets.insert(parts);
        }
    }
    secrets.into_iter().collect()
}

/// The ways of grouping by place.
fn by_place(atoms: &atoms::Atoms) -> Vec<By> {
    let mut by = vec![By::Year];
    if !atoms.classes.is_empty() {
        by.push(By::Class);
    }
    by.extend((0..atoms.headings.len()).map(By::Heading));
    by
}

/// Every two.
fn pairs(by: &[By]) -> impl Iterator<Item = (By, By)> {
    let each = by.iter().enumerate();
    each.flat_map(|(place, one)| {
        let others = by.iter().skip(place + 1);
        others.map(move |other| (*one, *other))
    })
}

fn table(by: By) -> usize {
    let table = match by {
        By::Year => told::Table::Years,
        By::Class => told::Table::Classes,
        By::Heading(heading) => told::Table::Groups(heading),
        By::SchoolYear => told::Table::SchoolYears,
        By::Term => told::Table::Terms,
        By::Skill => told::Table::Skills,
    };
    table.number()
}
