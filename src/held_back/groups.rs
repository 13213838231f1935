//! The ledger of groups that overlap: years, classes, group labels of the same pupils.
//!
//! Takes pupils gathered by which group of each grouping they are in, and puts in the
//! numbers of the whole, of every group, and of every crossing of groups that is in no
//! table but could be found by subtraction: the third-years of a mixed class, where the
//! other classes of the year are told.

use crate::held_back;
use std::collections::BTreeMap;

/// The pupils who are in the same group of every grouping.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Members {
    /// Their group in each grouping, in the order of the groupings.
    pub groups: Vec<String>,
    /// How many.
    pub pupils: u64,
    /// What is counted of them, each the same for all members: part and whole.
    pub shares: Vec<(u64, u64)>,
}

/// Where the numbers of a group stand in the ledger.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// Its pupils.
    pub pupils: held_back::CellId,
    /// What is counted of them: part and whole.
    pub shares: Vec<(held_back::CellId, held_back::CellId)>,
}

/// Where the numbers of all groups stand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Groups {
    /// All pupils.
    pub whole: Group,
    /// The groups of each grouping, by name.
    pub by: Vec<BTreeMap<String, Group>>,
}

/// Numbers of a group, added up.
#[derive(Debug, Clone, Default)]
struct Count {
    pupils: u64,
    shares: Vec<(u64, u64)>,
}

/// Puts in the numbers of some pupils by groupings, with all sums that hold.
///
/// Members with fewer groups or shares than others count as in a group without a name
/// and with nought of nought.
///
/// # Errors
///
/// [`held_back::Unfit::DoesNotAddUp`] where a part is more than its whole.
///
/// # Example
///
/// ```
/// use toothmark::held_back::Ledger;
/// use toothmark::held_back::Told;
/// use toothmark::held_back::groups::Members;
/// use toothmark::held_back::groups::put_in;
///
/// let members = |year: &str, class: &str, pupils| Members {
///     groups: vec![year.to_owned(), class.to_owned()],
///     pupils,
///     shares: vec![(pupils, 2 * pupils)],
/// };
/// let mut ledger = Ledger::default();
/// let year_3 = [members("3", "3A", 28), members("3", "3/4B", 3)];
/// let groups = put_in(&mut ledger, &[&year_3[..], &[members("4", "3/4B", 24)]].concat());
/// let groups = groups.expect("it adds up");
/// let told = ledger.protect();
/// // Year 3 less class 3A would tell of the three third-years in 3/4B.
/// let all_told = ["3A"].iter().all(|it| told.of(groups.by[1][*it].pupils) == Told::InFull(28))
///     && told.of(groups.by[0]["3"].pupils) == Told::InFull(31);
/// assert!(!all_told);
/// ```
pub fn put_in(
    ledger: &mut held_back::Ledger,
    members: &[Members],
) -> Result<Groups, held_back::Unfit> {
    let groupings = members.iter().map(|it| it.groups.len()).max().unwrap_or(0);
    let shares = members.iter().map(|it| it.shares.len()).max().unwrap_or(0);
    // Groups named by some groupings only, with nothing in the place of the others.
    let mut counts: BTreeMap<Vec<Option<&str>>, Count> = BTreeMap::new();
    for member in members.iter().filter(|it| it.pupils > 0) {
        let name = |grouping: usize| member.groups.get(grouping).map_or("", String::as_str);
        for kept in kept(groupings) {
            let key: Vec<Option<&str>> = (0..groupings)
                .map(|grouping| kept.contains(&grouping).then(|| name(grouping)))
                .collect();
            counts.entry(key).or_default().add(member, shares);
        }
    }
    let whole = vec![None; groupings];
    counts.entry(whole.clone()).or_default().fill(shares);
    let mut cells: BTreeMap<&Vec<Option<&str>>, Group> = BTreeMap::new();
    for (key, count) in &counts {
        cells.insert(key, count.put_in(ledger, is_in_a_table(key))?);
    }
    for key in counts.keys() {
        for parts in parts(key, counts.keys()) {
            let parts: Vec<&Group> = parts.into_iter().map(|it| &cells[it]).collect();
            add_up(ledger, &cells[key], &parts)?;
        }
    }
    let mut found = Groups {
        whole: cells[&whole].clone(),
        by: vec![BTreeMap::new(); groupings],
    };
    for (key, group) in &cells {
        let mut named = key
            .iter()
            .enumerate()
            .filter_map(|(it, name)| Some((it, (*name)?)));
        if let (Some((grouping, name)), None) = (named.next(), named.next()) {
            found.by[grouping].insert(name.to_owned(), group.clone());
        }
    }
    Ok(found)
}

/// Which groupings name a group: none, each, every two, and all.
fn kept(groupings: usize) -> Vec<Vec<usize>> {
    let each = (0..groupings).map(|it| vec![it]);
    let pairs =
        (0..groupings).flat_map(|one| (one + 1..groupings).map(move |other| vec![one, other]));
    let mut all: Vec<Vec<usize>> = std::iter::once(Vec::new())
        .chain(each)
        .chain(pairs)
        .collect();
    if groupings > 2 {
        all.push((0..groupings).collect());
    }
    all
}

/// The groups that a group is parted into: once for each grouping that does not name it;
/// a crossing of two into those named by all.
fn parts<'a, 'b>(
    key: &'a [Option<&'b str>],
    keys: impl Iterator<Item = &'a Vec<Option<&'b str>>> + Clone,
) -> Vec<Vec<&'a Vec<Option<&'b str>>>> {
    let named = |key: &[Option<&str>]| key.iter().flatten().count();
    let inside = |other: &Vec<Option<&str>>| {
        let pairs = key.iter().zip(other);
        pairs
            .filter(|(one, _)| one.is_some())
            .all(|(one, other)| one == other)
    };
    let more = if named(key) < 2 {
        named(key) + 1
    } else {
        key.len()
    };
    let smaller = keys.filter(move |it| named(it) == more && inside(it));
    if named(key) == key.len() {
        Vec::new()
    } else if named(key) < 2 {
        let open = (0..key.len()).filter(|it| key[*it].is_none());
        open.map(|it| {
            smaller
                .clone()
                .filter(|other| other[it].is_some())
                .collect()
        })
        .collect()
    } else {
        vec![smaller.collect()]
    }
}

/// Whether the group is the whole or named by one grouping.
fn is_in_a_table(key: &[Option<&str>]) -> bool {
    key.iter().flatten().count() < 2
}

impl Count {
    fn fill(&mut self, shares: usize) {
        self.shares.resize(shares, (0, 0));
    }

    fn add(&mut self, member: &Members, shares: usize) {
        self.fill(shares);
        self.pupils = self.pupils.saturating_add(member.pupils);
        for (sum, more) in self.shares.iter_mut().zip(&member.shares) {
            *sum = (sum.0.saturating_add(more.0), sum.1.saturating_add(more.1));
        }
    }

    fn put_in(
        &self,
        ledger: &mut held_back::Ledger,
        told: bool,
    ) -> Result<Group, held_back::Unfit> {
        let rule = if told {
            held_back::Rule::Group
        } else {
            held_back::Rule::Crossing
        };
        let group = ledger.cell(self.pupils, rule)?;
        let mut shares = Vec::new();
        for (part, of) in &self.shares {
            let whole = if told {
                held_back::Rule::Amount(group)
            } else {
                held_back::Rule::CrossingAmount(group)
            };
            let of = (ledger.cell(*of, whole)?, of);
            let part = if told {
                ledger.cell(*part, held_back::Rule::Part { group, of: of.0 })?
            } else {
                let rest =
                    of.1.checked_sub(*part)
                        .ok_or(held_back::Unfit::DoesNotAddUp)?;
                let part = ledger.cell(*part, held_back::Rule::CrossingAmount(group))?;
                let rest = ledger.cell(rest, held_back::Rule::Rest)?;
                ledger.sum(of.0, &[part, rest])?;
                part
            };
            shares.push((part, of.0));
        }
        Ok(Group {
            pupils: group,
            shares,
        })
    }
}

/// Says that groups add up to another, in all that is counted of them.
fn add_up(
    ledger: &mut held_back::Ledger,
    whole: &Group,
    parts: &[&Group],
) -> Result<(), held_back::Unfit> {
    if parts.is_empty() {
        return Ok(());
    }
    let pupils: Vec<held_back::CellId> = parts.iter().map(|part| part.pupils).collect();
    ledger.sum(whole.pupils, &pupils)?;
    for (place, (part, of)) in whole.shares.iter().enumerate() {
        let those: Vec<held_back::CellId> = parts.iter().map(|it| it.shares[place].0).collect();
        ledger.sum(*part, &those)?;
        let those: Vec<held_back::CellId> = parts.iter().map(|it| it.shares[place].1).collect();
        ledger.sum(*of, &those)?;
    }
    Ok(())
}
