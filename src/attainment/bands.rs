//! The school's own bands: labels and from which share of the marks each begins.
//!
//! No band and no threshold is built in, and without the school's file none is told.
//! Labels that belong to statutory judgements are refused: homework on one topic is no
//! such judgement, and England's frameworks say that single pieces of work are assessed
//! by the school's own policy.
//!
//! ```toml
//! name = "Our bands"
//! on = "marks"
//! fewest_marks = 20
//!
//! [[band]]
//! label = "Building"
//! from = 0
//!
//! [[band]]
//! label = "Secure"
//! from = 60
//! ```

use crate::attainment::count;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::group;
use crate::attainment::names;
use crate::attainment::told;
use crate::held_back;
use crate::problem;
use crate::table;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Words of statutory judgements, each in small letters.
///
/// Source: STA, frameworks for teacher assessment at key stage 2 (2015, 2018/19) and
/// the teacher assessment guidance of 2024, as quoted by schools and authorities.
const STATUTORY_PHRASES: [&str; 6] = [
    "expected standard",
    "greater depth",
    "pre-key stage",
    "engagement model",
    "scaled score",
    "expected level",
];

/// Codes of statutory judgements.
///
/// Source: as [`STATUTORY_PHRASES`].
const STATUTORY_CODES: [&str; 11] = [
    "gds", "exs", "wts", "hnm", "pks", "pk1", "pk2", "pk3", "pk4", "pk5", "pk6",
];

/// The most bands.
const MOST_BANDS: usize = 12;

/// The bands of a school, the lowest first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bands {
    /// What the school calls them together; may be empty.
    pub name: String,
    /// What the thresholds are of.
    pub on: On,
    /// With fewer marks to be had a pupil is in no band.
    pub fewest_marks: u32,
    /// The bands, the lowest first; the first begins at nought.
    pub bands: Vec<Band>,
}

/// What thresholds are of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum On {
    /// The share of the marks to be had, in hundredths (`marks`).
    Marks,
}

/// One band.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Band {
    /// The school's own label.
    pub label: String,
    /// From where it begins, in hundredths.
    pub from: u32,
}

/// How many pupils are in each band.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What the school calls the bands together; may be empty.
    pub name: String,
    /// The columns: the bands, the lowest first, with where they begin; then those with
    /// too little work for a band.
    pub columns: Vec<String>,
    /// All pupils, then each year, then each class.
    pub rows: Vec<Row>,
}

/// The pupils of one group by band.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// What kind of group it is.
    pub kind: Kind,
    /// The group's name.
    pub label: String,
    /// A number for each column.
    pub pupils: Vec<count::Count>,
}

/// What kind of group a row is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// All pupils.
    All,
    /// A year.
    Year,
    /// A class.
    Class,
}

impl Bands {
    /// Returns in which band a pupil is who earned so many of so many marks: its place
    /// from the lowest; nothing with too few marks to be had.
    ///
    /// A share that is exactly where a band begins is in it.
    #[must_use]
    pub fn band(&self, earned: u32, available: u32) -> Option<usize> {
        if available == 0 || available < self.fewest_marks {
            return None;
        }
        let (earned, available) = (u64::from(earned), u64::from(available));
        self.bands.iter().rposition(|band| {
            match self.on {
                // Compared as whole numbers: nothing is rounded.
                On::Marks => earned * 100 >= u64::from(band.from) * available,
            }
        })
    }
}

/// Returns the bands of a TOML file; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the file at once: thresholds that do not ascend from nought or lie
/// over 100, labels that come twice or are statutory.
pub fn read(text: &str, file: &str) -> Result<Bands, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    reader.known_keys(&root, &["name", "on", "fewest_marks", "band"]);
    let name = reader
        .text(&root, "name")
        .map_or("", |found| found.value.trim());
    if let Some(on) = reader.text(&root, "on").filter(|on| on.value != "marks") {
        reader.fault(
            on.at.start,
            format!("`on`: found \"{}\", wanted \"marks\"", on.value),
            "thresholds are of the share of the marks to be had, in hundredths",
        );
    }
    let fewest_marks = reader.whole(&root, "fewest_marks", 1..=1000);
    let tables = reader.tables(&root, "band");
    if tables.is_empty() && reader.fault_count() == 0 {
        reader.fault(0, "there is no band in it", "add a table [[band]] for each");
    }
    if let Some(table) = tables.get(MOST_BANDS) {
        reader.fault(
            table.at.start,
            format!("found more than {MOST_BANDS} bands"),
            "so many cannot be told apart by marks of a few homeworks",
        );
    }
    let mut bands: Vec<Band> = Vec::new();
    for table in &tables {
        if let Some(band) = band(&mut reader, table, &bands) {
            bands.push(band);
        }
    }
    let bands = Bands {
        name: name.to_owned(),
        on: On::Marks,
        fewest_marks: fewest_marks.map_or(1, |found| u32::try_from(found.value).unwrap_or(1)),
        bands,
    };
    let faults = reader.into_faults();
    if faults.is_empty() {
        Ok(bands)
    } else {
        Err(faults)
    }
}

fn band(reader: &mut table::Reader<'_>, table: &table::Table<'_>, before: &[Band]) -> Option<Band> {
    reader.known_keys(table, &["label", "from"]);
    let label = label(reader, table, before);
    reader.need(table, "from");
    let from = reader.whole(table, "from", 0..=100)?;
    let number = u32::try_from(from.value).ok()?;
    match before.last() {
        None if number != 0 => reader.fault(
            from.at.start,
            format!("the lowest band begins at {number}, wanted 0"),
            "begin it at 0, so that every pupil is in a band",
        ),
        Some(last) if number <= last.from => reader.fault(
            from.at.start,
            format!(
                "found {number} after {}, wanted thresholds that go up",
                last.from
            ),
            "write the lowest band first",
        ),
        None | Some(_) => {}
    }
    Some(Band {
        label: label?,
        from: number,
    })
}

fn label(
    reader: &mut table::Reader<'_>,
    table: &table::Table<'_>,
    before: &[Band],
) -> Option<String> {
    let found = reader.needed_text(table, "label")?;
    let text = found.value.split_whitespace().collect::<Vec<_>>().join(" ");
    let small = text.to_lowercase();
    if text.is_empty() {
        reader.fault(
            found.at.start,
            "`label` is empty",
            "write the school's own word",
        );
    } else if before.iter().any(|band| band.label.to_lowercase() == small) {
        reader.fault(
            found.at.start,
            format!("found the label \"{text}\" a second time"),
            "give each band a label of its own",
        );
    } else if STATUTORY_PHRASES
        .iter()
        .any(|phrase| small.contains(phrase))
        || STATUTORY_CODES.contains(&small.as_str())
    {
        reader.fault(
            found.at.start,
            format!("found \"{text}\", which belongs to a statutory judgement"),
            "use a word of the school's own, such as Secure: homework on one topic is no \
             such judgement",
        );
    } else {
        return Some(text);
    }
    None
}

/// How many pupils are in each band: over all their marks, and in each year and class
/// over the marks they earned while they were in it.
#[derive(Debug)]
pub(super) struct Numbers {
    /// A number for each column, by group.
    groups: BTreeMap<(Kind, group::Key), Vec<u32>>,
    /// The same of pupils who never moved, by year and class.
    settled: BTreeMap<(group::Key, group::Key), Vec<u32>>,
}

/// The entries of each group in the ledger of a run.
pub(super) type Entries = BTreeMap<(Kind, group::Key), Vec<held_back::EntryId>>;

impl Numbers {
    /// Counts the pupils of a fold, in the groups that are told of.
    pub(super) fn of(fold: &fold::Fold, bands: &Bands, groups: &told::Groups) -> Self {
        let mut numbers = Self {
            groups: BTreeMap::new(),
            settled: BTreeMap::new(),
        };
        // A name for each place first: there are few, and many pupils.
        let mut keys: BTreeMap<(names::Name, names::Name), (group::Key, group::Key)> =
            BTreeMap::new();
        let standing: Vec<(&kept::Standing, &kept::Earned)> = fold.standing.iter().collect();
        // The places of one pupil stand side by side.
        for of_pupil in standing.chunk_by(|(one, _), (other, _)| one.pupil == other.pupil) {
            let mut earned: BTreeMap<(Kind, group::Key), kept::Earned> = BTreeMap::new();
            let mut places = BTreeSet::new();
            for (standing, marks) in of_pupil {
                let place = (standing.year, standing.class);
                let (year, class) = keys.entry(place).or_insert_with(|| {
                    let year = group::year(fold.names.text(standing.year));
                    (year, group::class(fold.names.text(standing.class)))
                });
                earned.entry((Kind::All, all())).or_default().join(**marks);
                let of_year = earned.entry((Kind::Year, year.clone())).or_default();
                of_year.join(**marks);
                if groups.classes.contains_key(class) {
                    let of_class = earned.entry((Kind::Class, class.clone())).or_default();
                    of_class.join(**marks);
                }
                places.insert((year.clone(), class.clone()));
            }
            numbers.count(bands, earned, &places);
        }
        numbers
    }

    /// Counts one pupil in each of their groups.
    fn count(
        &mut self,
        bands: &Bands,
        earned: BTreeMap<(Kind, group::Key), kept::Earned>,
        places: &BTreeSet<(group::Key, group::Key)>,
    ) {
        let too_little = bands.bands.len();
        let band = |marks: kept::Earned| {
            let band = bands.band(marks.earned, marks.available);
            band.unwrap_or(too_little)
        };
        if let (Some(marks), Some(place), 1) = (
            earned.get(&(Kind::All, all())),
            places.first(),
            places.len(),
        ) {
            let counts = self.settled.entry(place.clone());
            one_more(
                counts.or_insert_with(|| vec![0; too_little + 1]),
                band(*marks),
            );
        }
        for (group, marks) in earned {
            let counts = self.groups.entry(group);
            one_more(
                counts.or_insert_with(|| vec![0; too_little + 1]),
                band(marks),
            );
        }
    }

    /// Enters every number: those of a group in a band are some of the group.
    pub(super) fn enter(&self, groups: &told::Groups, ledger: &mut held_back::Ledger) -> Entries {
        let mut system = held_back::System::default();
        let columns = self.groups.values().map(Vec::len).max().unwrap_or(0);
        let settled = self.settled.values().flatten();
        let settled = settled.map(|pupils| u64::from(*pupils));
        system.layer(held_back::Quantity::Pupils, settled.collect());
        let mut entries = Entries::new();
        for ((kind, key), counts) in &self.groups {
            let (table, known) = match kind {
                Kind::All => (told::Table::BandsOfAll, Some(groups.whole)),
                Kind::Year => (told::Table::BandsOfYears, groups.years.get(key).copied()),
                Kind::Class => (
                    told::Table::BandsOfClasses,
                    groups.classes.get(key).copied(),
                ),
            };
            let all = counts.iter().map(|pupils| u64::from(*pupils)).sum();
            let places = self.settled.keys().enumerate();
            let places = places.filter(|(_, (year, class))| match kind {
                Kind::All => true,
                Kind::Year => year == key,
                Kind::Class => class == key,
            });
            let places: Vec<usize> = places.map(|(place, _)| place * columns).collect();
            let in_band = |band: usize| places.iter().map(move |place| place + band);
            let of_group = counts.iter().enumerate().map(|(band, pupils)| {
                let entry = ledger.enter(held_back::Entry {
                    with: known.map(|(entry, _)| entry).into_iter().collect(),
                    ..held_back::Entry::some_of(table.number(), u64::from(*pupils), all)
                });
                system.view(Some(entry), in_band(band).collect());
                entry
            });
            entries.insert((*kind, key.clone()), of_group.collect());
            // All bands together are the group.
            let all = (0..columns).flat_map(in_band).collect();
            system.view(known.map(|(entry, _)| entry), all);
        }
        ledger.add(system);
        entries
    }

    /// Returns the table, with what may be told.
    pub(super) fn table(
        &self,
        bands: &Bands,
        entries: &Entries,
        told: &held_back::Protected,
    ) -> Table {
        let mut columns: Vec<String> = bands
            .bands
            .iter()
            .map(|band| match bands.on {
                On::Marks => format!("{} (from {} %)", band.label, band.from),
            })
            .collect();
        columns.push("Too little work for a band".to_owned());
        let rows = self.groups.iter().map(|((kind, key), counts)| {
            let entries = entries.get(&(*kind, key.clone())).into_iter().flatten();
            let counts = counts.iter().zip(entries);
            Row {
                kind: *kind,
                label: key.label.clone(),
                pupils: counts
                    .map(|(pupils, entry)| count::Count::of(*pupils, told.of(*entry)))
                    .collect(),
            }
        });
        Table {
            name: bands.name.clone(),
            columns,
            rows: rows.collect(),
        }
    }
}

/// The key of the row of all pupils.
fn all() -> group::Key {
    group::class("All")
}

fn one_more(counts: &mut [u32], band: usize) {
    if let Some(count) = counts.get_mut(band) {
        *count = count.saturating_add(1);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bands(text: &str) -> Result<Bands, Vec<problem::Problem>> {
        read(text, "b.toml")
    }

    fn entry(label: &str, from: &str) -> String {
        format!("[[band]]\nlabel = \"{label}\"\nfrom = {from}\n")
    }

    #[test]
    fn a_share_where_a_band_begins_is_in_it() {
        let text = entry("Building", "0") + &entry("Secure", "60") + &entry("Beyond", "85");
        let bands = bands(&text).expect("they are sound");
        for (earned, available, band) in [
            (0, 10, Some(0)),
            (59, 100, Some(0)),
            (3, 5, Some(1)),
            (599_999, 1_000_000, Some(0)),
            (17, 20, Some(2)),
            (20, 20, Some(2)),
            (0, 0, None),
        ] {
            assert_eq!(
                bands.band(earned, available),
                band,
                "{earned} of {available}"
            );
        }
    }

    #[test]
    fn with_too_few_marks_a_pupil_is_in_no_band() {
        let text = format!("fewest_marks = 20\n{}", entry("Building", "0"));
        let bands = bands(&text).expect("they are sound");
        assert_eq!(bands.band(19, 19), None);
        assert_eq!(bands.band(19, 20), Some(0));
    }

    #[test]
    fn every_fault_is_told_at_once_with_its_place() {
        let text = "on = \"scale\"\nname = 3\n".to_owned()
            + &entry("Building", "5")
            + &entry("building", "60")
            + &entry("Secure", "60")
            + &entry("Beyond", "101")
            + &entry("", "90")
            + "[[band]]\nlabel = \"Top\"\n";
        let faults = bands(&text).expect_err("they are not sound");
        let said: Vec<String> = faults
            .iter()
            .map(|fault| format!("{}: {}", fault.place, fault.what))
            .collect();
        let said = said.join("\n");
        for wanted in [
            "b.toml:1:6: `on`: found \"scale\"",
            "b.toml:2:8: `name`: found the number 3",
            "b.toml:5:8: the lowest band begins at 5, wanted 0",
            "b.toml:7:9: found the label \"building\" a second time",
            "b.toml:14:8: `from`: found 101",
            "b.toml:16:9: `label` is empty",
            "b.toml:18:1: `from` is missing",
        ] {
            assert!(said.contains(wanted), "{wanted}:\n{said}");
        }
    }

    #[test]
    fn thresholds_go_up() {
        let text = entry("Building", "0") + &entry("Secure", "60") + &entry("Beyond", "60");
        let faults = bands(&text).expect_err("two begin at 60");
        assert!(faults[0].what.contains("found 60 after 60"), "{faults:?}");
    }

    #[test]
    fn statutory_words_are_refused_with_a_hint() {
        for label in [
            "Working at the Expected Standard",
            "working towards the  expected standard",
            "Greater depth",
            "GDS",
            "EXS",
            "Pre-key stage 3",
        ] {
            let faults = bands(&entry(label, "0")).expect_err(label);
            assert!(faults[0].what.contains("statutory"), "{label}: {faults:?}");
            assert!(faults[0].hint.contains("own"), "{label}: {faults:?}");
        }
        assert!(bands(&entry("Secure", "0")).is_ok());
    }
}
