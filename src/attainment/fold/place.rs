//! Where a pupil was at a time: the class, the year and the labels of the roll, together.
//!
//! Every table of groups is a sum over places, so that it can be found out which pupils
//! are in which two groups at once: what may be told of small groups hangs on that.

use crate::attainment::names;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Class, year and labels of some pupils at a time.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Place {
    pub(in crate::attainment) class: names::Name,
    pub(in crate::attainment) year: names::Name,
    /// The labels that are not empty.
    pub(in crate::attainment) labels: BTreeSet<Label>,
}

/// A label under its heading of the roll.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Label {
    pub(in crate::attainment) heading: names::Name,
    pub(in crate::attainment) label: names::Name,
}

/// The number of a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct PlaceNumber(u32);

/// Every place once, numbered as they came.
#[derive(Debug, Clone, Default)]
pub(in crate::attainment) struct Places {
    places: Vec<Place>,
    numbers: BTreeMap<Place, PlaceNumber>,
}

/// How the places of another [`Places`] are numbered here.
#[derive(Debug)]
pub(super) struct Moved(Vec<PlaceNumber>);

impl Places {
    /// Returns the number of a place.
    pub(super) fn number(&mut self, place: Place) -> PlaceNumber {
        if let Some(number) = self.numbers.get(&place) {
            return *number;
        }
        let number = u32::try_from(self.places.len());
        let number = number.expect("memory ends before there are four thousand million places");
        self.places.push(place.clone());
        self.numbers.insert(place, PlaceNumber(number));
        PlaceNumber(number)
    }

    /// Returns the place of a number that was given here.
    pub(in crate::attainment) fn place(&self, number: PlaceNumber) -> &Place {
        &self.places[index(number)]
    }

    /// Returns every place with its number.
    pub(in crate::attainment) fn all(&self) -> impl Iterator<Item = (PlaceNumber, &Place)> {
        (0_u32..).map(PlaceNumber).zip(&self.places)
    }

    /// Takes up all places of another.
    pub(super) fn join(&mut self, other: &Self, names: &names::Renaming) -> Moved {
        let places = other.places.iter();
        Moved(places.map(|place| self.number(place.here(names))).collect())
    }
}

impl Moved {
    /// Returns how a number of the other stands here.
    pub(super) fn here(&self, number: PlaceNumber) -> PlaceNumber {
        self.0[index(number)]
    }
}

impl Place {
    fn here(&self, names: &names::Renaming) -> Self {
        let labels = self.labels.iter().map(|it| Label {
            heading: names.here(it.heading),
            label: names.here(it.label),
        });
        Self {
            class: names.here(self.class),
            year: names.here(self.year),
            labels: labels.collect(),
        }
    }
}

/// A number as a place in a list.
fn index(number: PlaceNumber) -> usize {
    usize::try_from(number.0).expect("lists of this length fit into memory")
}
