//! What may be told of how many pupils are in each band.
//!
//! The tables of groups are settled first, then the bands of all pupils, then those of the
//! years, then those of the classes. What is above goes for what is below only where the
//! sums leave no other way. Of one row the numbers that are not shown are told together, which
//! anybody could take from the whole row.

use crate::attainment::bands;
use crate::attainment::bands::Bands;
use crate::attainment::bands::Kind;
use crate::attainment::bands::numbers;
use crate::attainment::count;
use crate::attainment::group;
use crate::attainment::told;
use crate::held_back;
use std::collections::BTreeMap;

/// A row of the table.
type Name = (Kind, group::Key);

/// The entries of each row in the ledger of a run, of the columns that anybody is in. That
/// nobody is in one is about nobody, and told.
#[derive(Debug)]
pub(in crate::attainment) struct Entries {
    is_used: Vec<bool>,
    of_rows: BTreeMap<Name, Vec<held_back::EntryId>>,
}

impl Entries {
    /// Enters every number: those of a group in a band are some of the group.
    pub(in crate::attainment) fn of(
        numbers: &numbers::Numbers,
        groups: &told::Groups,
        ledger: &mut held_back::Ledger,
    ) -> Self {
        let all = numbers.groups.get(&(Kind::All, numbers::all()));
        let all = all.map_or(&[][..], Vec::as_slice);
        let mut entries = Self {
            is_used: all.iter().map(|pupils| *pupils > 0).collect(),
            of_rows: BTreeMap::new(),
        };
        let parts = Parts::of(numbers, &entries.is_used);
        let mut system = held_back::System::default();
        system.layer(held_back::Quantity::Pupils, parts.pupils.clone());
        for (name, counts) in &numbers.groups {
            let (kind, key) = name;
            let known = groups.group(*kind, key);
            let all = counts.iter().map(|pupils| u64::from(*pupils)).sum();
            let used = entries.used(counts);
            let of_row = used.iter().enumerate().map(|(column, pupils)| {
                let entry = ledger.enter(held_back::Entry {
                    with: known.map(|(entry, _)| entry).into_iter().collect(),
                    depth: kind.depth(),
                    ..held_back::Entry::some_of(kind.table().number(), u64::from(*pupils), all)
                });
                system.view(Some(entry), parts.of_column(name, column));
                entry
            });
            let of_row = of_row.collect();
            entries.of_rows.insert(name.clone(), of_row);
            // All columns together are the group.
            let whole = (0..used.len()).flat_map(|column| parts.of_column(name, column));
            system.view(known.map(|(entry, _)| entry), whole.collect());
            let small = (0..used.len()).filter(|column| held_back::is_small(used[*column].into()));
            let small: Vec<usize> = small.collect();
            let sum = small.iter().map(|column| u64::from(used[*column])).sum();
            if small.len() > 1 && held_back::is_small(sum) {
                let small = small.iter().flat_map(|it| parts.of_column(name, *it));
                secret(&mut system, small.collect());
            }
        }
        for small in parts.small() {
            secret(&mut system, small);
        }
        ledger.add(system);
        entries
    }

    /// The numbers of the columns that anybody is in.
    fn used(&self, counts: &[u32]) -> Vec<u32> {
        let used = counts.iter().zip(&self.is_used).filter(|it| *it.1);
        used.map(|(pupils, _)| *pupils).collect()
    }

    /// Returns the table, with what may be told.
    pub(in crate::attainment) fn table(
        &self,
        numbers: &numbers::Numbers,
        bands: &Bands,
        groups: &told::Groups,
        told: &held_back::Protected,
    ) -> bands::Table {
        let mut columns = bands.columns();
        let mut rows: Vec<bands::Row> = numbers
            .groups
            .iter()
            .map(|group| self.row(group, told))
            .collect();
        let not_shown = not_shown(&rows);
        if not_shown.is_some() {
            columns.push("Together, of those not shown".to_owned());
            for (row, ((kind, key), counts)) in rows.iter_mut().zip(&numbers.groups) {
                let group = groups.group(*kind, key);
                row.pupils.push(together(counts, &row.pupils, group, told));
            }
        }
        bands::Table {
            name: bands.name.clone(),
            columns,
            rows,
            not_shown,
        }
    }

    /// Returns a row with what may be told of each column.
    fn row(&self, (name, counts): (&Name, &Vec<u32>), told: &held_back::Protected) -> bands::Row {
        let mut entries = self.of_rows.get(name).into_iter().flatten();
        let cells = counts.iter().zip(&self.is_used).map(|(pupils, is_used)| {
            let entry = is_used.then(|| entries.next()).flatten();
            entry.map_or(count::Count::Pupils(0), |entry| {
                count::Count::of(*pupils, told.of(*entry))
            })
        });
        bands::Row {
            kind: name.0,
            label: name.1.label.clone(),
            pupils: cells.collect(),
        }
    }
}

/// Keeps a small group safe that is in no row.
fn secret(system: &mut held_back::System, parts: Vec<usize>) {
    let tables = vec![Kind::Class.table().number()];
    system.secret(tables, held_back::Care::Sums, parts);
}

/// Those of a row who are in columns that are not shown: what the whole row, where it is
/// told, leaves of the others.
fn together(
    counts: &[u32],
    cells: &[count::Count],
    group: Option<(held_back::EntryId, u64)>,
    told: &held_back::Protected,
) -> count::Count {
    let hidden = counts.iter().zip(cells);
    let hidden = hidden.filter(|(_, cell)| cell.pupils().is_none());
    let sum = hidden.fold(0_u32, |sum, (pupils, _)| sum.saturating_add(*pupils));
    let all = counts.iter().map(|pupils| u64::from(*pupils)).sum::<u64>();
    match group {
        _ if sum == 0 => count::Count::Pupils(0),
        Some((entry, pupils)) if pupils == all && !held_back::is_small(sum.into()) => {
            count::Count::of(sum, told.of(entry))
        }
        Some((entry, _)) => match told.of(entry) {
            held_back::Told::HeldBack(why) => count::Count::Hidden(why),
            held_back::Told::InFull | held_back::Told::NumbersOnly => {
                count::Count::Hidden(held_back::Reason::Unsaid)
            }
        },
        None => count::Count::Hidden(held_back::Reason::Unsaid),
    }
}

impl Kind {
    fn table(self) -> told::Table {
        match self {
            Self::All => told::Table::BandsOfAll,
            Self::Year => told::Table::BandsOfYears,
            Self::Class => told::Table::BandsOfClasses,
        }
    }

    /// How far down a row stands; the tables of groups stand above.
    fn depth(self) -> u8 {
        match self {
            Self::All => 1,
            Self::Year => 2,
            Self::Class => 3,
        }
    }
}

/// The finest numbers: of the pupils of one year and class in one column who never moved.
/// How many of a group did move is taken to be known.
struct Parts<'a> {
    places: Vec<&'a (group::Key, group::Key)>,
    columns: usize,
    pupils: Vec<u64>,
}

impl<'a> Parts<'a> {
    fn of(numbers: &'a numbers::Numbers, is_used: &[bool]) -> Self {
        let of_place = |counts: &Vec<u32>| {
            let used = counts.iter().zip(is_used).filter(|it| *it.1);
            used.map(|(pupils, _)| u64::from(*pupils))
                .collect::<Vec<u64>>()
        };
        Self {
            places: numbers.settled.keys().collect(),
            columns: is_used.iter().filter(|is_used| **is_used).count(),
            pupils: numbers.settled.values().flat_map(of_place).collect(),
        }
    }

    /// The parts of one number of a row.
    fn of_column(&self, (kind, key): &Name, column: usize) -> Vec<usize> {
        let places = self.places.iter().enumerate();
        let places = places.filter(|(_, (year, class))| match kind {
            Kind::All => true,
            Kind::Year => year == key,
            Kind::Class => class == key,
        });
        places
            .map(|(place, _)| place * self.columns + column)
            .collect()
    }

    /// Small groups of one column that are in no row: the pupils of a year in a mixed class;
    /// and the small ones of a year, and of all years, where they are small together too.
    fn small(&self) -> Vec<Vec<usize>> {
        let mut joined: BTreeMap<(Option<&group::Key>, usize), Vec<usize>> = BTreeMap::new();
        let mut small = Vec::new();
        for (part, pupils) in self.pupils.iter().enumerate() {
            if !held_back::is_small(*pupils) {
                continue;
            }
            let (place, column) = (part / self.columns, part % self.columns);
            let year = self.places.get(place).map(|(year, _)| year);
            for year in [year, None] {
                joined.entry((year, column)).or_default().push(part);
            }
            small.push(vec![part]);
        }
        small.extend(joined.into_values().filter(|parts| parts.len() > 1));
        small.retain(|parts| {
            let pupils = parts.iter().filter_map(|part| self.pupils.get(*part));
            held_back::is_small(pupils.sum())
        });
        small.sort_unstable();
        small.dedup();
        small
    }
}

/// How many numbers are not shown, and why; nothing where all are.
fn not_shown(rows: &[bands::Row]) -> Option<String> {
    let hidden = |kind: Kind| {
        let rows = rows.iter().filter(|row| row.kind == kind);
        let cells = rows.flat_map(|row| &row.pupils);
        cells.filter(|cell| cell.pupils().is_none()).count()
    };
    let all: usize = rows.iter().map(|row| row.pupils.len()).sum();
    let [of_all, of_years, of_classes] = [Kind::All, Kind::Year, Kind::Class].map(hidden);
    let not_shown = of_all + of_years + of_classes;
    (not_shown > 0).then(|| {
        format!(
            "Of {all} numbers {not_shown} are not shown: {of_all} of All, {of_years} of years, \
             {of_classes} of classes. Fewer than 5 pupils are not, nor what they could be \
             found from; All is told first, then years, then classes, each as far as it \
             costs nothing before it. The last column counts together those of a row who \
             are in the columns not shown."
        )
    })
}
