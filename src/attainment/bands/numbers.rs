//! How many pupils are in each band.

use crate::attainment::bands::Bands;
use crate::attainment::bands::Kind;
use crate::attainment::bands::On;
use crate::attainment::bands::place;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::fold::sheet;
use crate::attainment::group;
use crate::attainment::names;
use crate::attainment::told;
use crate::statistics::rasch;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// How many pupils are in each band: over all their work, and in each year and class over
/// what they did while they were in it. Who handed in nothing there is no pupil of it.
#[derive(Debug)]
pub(in crate::attainment) struct Numbers {
    /// A number for each column, by group.
    pub(super) groups: BTreeMap<(Kind, group::Key), Vec<u32>>,
    /// The same of pupils who never moved, by year and class.
    pub(super) settled: BTreeMap<(group::Key, group::Key), Vec<u32>>,
}

impl Numbers {
    /// Counts the pupils of a fold, in the groups that are told of.
    pub(in crate::attainment) fn of(
        fold: &fold::Fold,
        bands: &Bands,
        groups: &told::Groups,
        scales: &rasch::Scales,
    ) -> Self {
        let columns = Columns::of(fold, bands, scales);
        let mut numbers = Self {
            groups: BTreeMap::new(),
            settled: BTreeMap::new(),
        };
        // A name for each place first: there are few, and many pupils.
        let mut keys: BTreeMap<(names::Name, names::Name), (group::Key, group::Key)> =
            BTreeMap::new();
        let standing: Vec<(&kept::Standing, &kept::Marks)> = fold.standing.iter().collect();
        // The places of one pupil stand side by side.
        for of_pupil in standing.chunk_by(|(one, _), (other, _)| one.pupil == other.pupil) {
            let mut work: BTreeMap<(Kind, group::Key), Work> = BTreeMap::new();
            let mut places = BTreeSet::new();
            for (standing, marks) in of_pupil.iter().filter(|it| it.1.was_there) {
                let place = (standing.year, standing.class);
                let (year, class) = keys.entry(place).or_insert_with(|| {
                    let year = group::year(fold.names.text(standing.year));
                    (year, group::class(fold.names.text(standing.class)))
                });
                let mut here = vec![(Kind::All, all()), (Kind::Year, year.clone())];
                if groups.classes.contains_key(class) {
                    here.push((Kind::Class, class.clone()));
                }
                let done = columns.done(fold, standing);
                for group in here {
                    let work = work.entry(group).or_default();
                    work.marks.join(**marks);
                    work.done.extend(done);
                }
                places.insert((year.clone(), class.clone()));
            }
            numbers.count(&columns, work, &places);
        }
        numbers
    }

    /// Counts one pupil in each of their groups.
    fn count(
        &mut self,
        columns: &Columns<'_>,
        work: BTreeMap<(Kind, group::Key), Work>,
        places: &BTreeSet<(group::Key, group::Key)>,
    ) {
        let none = || vec![0; columns.count()];
        if let (Some(all), Some(place), 1) =
            (work.get(&(Kind::All, all())), places.first(), places.len())
        {
            let counts = self.settled.entry(place.clone());
            one_more(counts.or_insert_with(none), columns.column(all));
        }
        for (group, work) in work {
            let counts = self.groups.entry(group);
            one_more(counts.or_insert_with(none), columns.column(&work));
        }
    }
}

/// What one pupil did in one group.
#[derive(Default)]
struct Work {
    marks: kept::Marks,
    done: Vec<sheet::Done>,
}

/// Which column a pupil counts in.
struct Columns<'a> {
    bands: &'a Bands,
    /// For bands on the scale.
    places: Option<place::Places>,
}

impl<'a> Columns<'a> {
    fn of(fold: &fold::Fold, bands: &'a Bands, scales: &rasch::Scales) -> Self {
        let places = match bands.on {
            On::Marks => None,
            On::Scale => Some(place::Places::of(fold, scales.scales.first())),
        };
        Self { bands, places }
    }

    /// The sheets that a pupil did somewhere, where bands go by them.
    fn done<'f>(&self, fold: &'f fold::Fold, standing: &kept::Standing) -> &'f [sheet::Done] {
        let done = self.places.as_ref().and_then(|_| fold.done.get(standing));
        done.map_or(&[], Vec::as_slice)
    }

    fn count(&self) -> usize {
        self.bands.bands.len() + 1 + usize::from(self.places.is_some())
    }

    fn column(&self, work: &Work) -> usize {
        let too_little = self.bands.bands.len();
        let marks = work.marks;
        let Some(places) = &self.places else {
            let band = self.bands.band(marks.earned, marks.available);
            return band.unwrap_or(too_little);
        };
        if !self.bands.is_enough(marks.available) {
            return too_little;
        }
        let place = places.of_pupil(&work.done);
        place
            .and_then(|place| self.bands.band_at(place))
            .unwrap_or(too_little + 1)
    }
}

/// The key of the row of all pupils.
pub(super) fn all() -> group::Key {
    group::class("All")
}

fn one_more(counts: &mut [u32], band: usize) {
    if let Some(count) = counts.get_mut(band) {
        *count = count.saturating_add(1);
    }
}
