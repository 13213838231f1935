//! The finest groups of a run: the answers of one place, time and skill.
//!
//! Every row of every table but those of levels and questions is a sum of them. They
//! stand in an order that does not hang on the order in which they were counted.

use crate::attainment;
use crate::attainment::counted;
use crate::attainment::fold;
use crate::attainment::fold::place;
use crate::attainment::group;
use crate::attainment::names;
use crate::level;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// With more classes than this they are in no table.
pub(in crate::attainment) const MOST_CLASSES: usize = 1_000;

/// The finest groups, and what their dimensions are called.
#[derive(Debug, Default)]
pub(super) struct Atoms {
    pub(super) years: Vec<group::Key>,
    /// Empty where there are too many to tell of.
    pub(super) classes: Vec<group::Key>,
    pub(super) headings: Vec<Vec<group::Key>>,
    pub(super) terms: Vec<group::Key>,
    pub(super) school_years: Vec<group::Key>,
    /// The school year of each term.
    year_of_term: Vec<usize>,
    pub(super) skills: Vec<level::Skill>,
    pub(super) places: Vec<Place>,
    pub(super) finest: Vec<Atom>,
    pub(super) class_count: usize,
}

/// A place by the numbers of its names.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Place {
    pub(super) year: usize,
    /// Nothing where classes are in no table.
    pub(super) class: Option<usize>,
    pub(super) labels: Vec<usize>,
}

/// The answers of one place, time and skill.
#[derive(Debug)]
pub(super) struct Atom {
    pub(super) place: usize,
    pub(super) term: usize,
    pub(super) skill: usize,
    pub(super) counted: counted::Counted,
}

/// What groups are made by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum By {
    Year,
    Class,
    Heading(usize),
    SchoolYear,
    Term,
    Skill,
}

impl Atoms {
    /// Returns the finest groups of a fold.
    pub(super) fn of(fold: &fold::Fold, school: &attainment::School) -> Self {
        let asked: BTreeSet<place::PlaceNumber> = fold.cells.keys().map(|it| it.place).collect();
        let places: BTreeMap<place::PlaceNumber, &place::Place> = fold
            .places
            .all()
            .filter(|(number, _)| asked.contains(number))
            .collect();
        let year = |place: &place::Place| group::year(fold.names.text(place.year));
        let class = |place: &place::Place| group::class(fold.names.text(place.class));
        let years = in_order(places.values().map(|place| year(place)));
        let mut classes = in_order(places.values().map(|place| class(place)));
        let class_count = classes.len();
        if class_count > MOST_CLASSES {
            classes.clear();
        }
        let labels = Labels::of(fold, &places.values().copied().collect::<Vec<_>>());
        let numbered = places.iter().map(|(number, place)| {
            let place = Place {
                year: at(&years, &year(place)).unwrap_or(0),
                class: at(&classes, &class(place)),
                labels: labels.numbers(place),
            };
            (*number, place)
        });
        let numbered: BTreeMap<place::PlaceNumber, Place> = numbered.collect();
        let ordered: Vec<Place> = in_order(numbered.values().cloned());
        let time = Time::of(fold, school);
        let skills: Vec<level::Skill> = level::SKILLS.to_vec();
        let mut atoms: BTreeMap<(usize, usize, usize), counted::Counted> = BTreeMap::new();
        let place_of: BTreeMap<place::PlaceNumber, usize> = numbered
            .iter()
            .map(|(number, place)| (*number, ordered.binary_search(place).unwrap_or(0)))
            .collect();
        for (cell, counted) in &fold.cells {
            let skill = skills.iter().position(|skill| *skill == cell.skill);
            let term = time.of_day.get(&cell.set_on).copied().unwrap_or(0);
            let key = (place_of[&cell.place], term, skill.unwrap_or(0));
            atoms.entry(key).or_default().join(counted);
        }
        let atoms = atoms
            .into_iter()
            .map(|((place, term, skill), counted)| Atom {
                place,
                term,
                skill,
                counted,
            });
        Self {
            years,
            classes,
            headings: labels.keys,
            terms: time.terms,
            school_years: time.school_years,
            year_of_term: time.year_of_term,
            skills,
            places: ordered,
            finest: atoms.collect(),
            class_count,
        }
    }

    /// Returns the number of a place's group, where it is in one.
    pub(super) fn of_place(&self, place: usize, by: By) -> Option<usize> {
        let place = self.places.get(place)?;
        match by {
            By::Year => Some(place.year),
            By::Class => place.class,
            By::Heading(heading) => place.labels.get(heading).copied(),
            By::SchoolYear | By::Term | By::Skill => None,
        }
    }

    /// Returns the number of an atom's group, where it is in one.
    pub(super) fn of_atom(&self, atom: &Atom, by: By) -> Option<usize> {
        match by {
            By::Year | By::Class | By::Heading(_) => self.of_place(atom.place, by),
            By::SchoolYear => self.year_of_term.get(atom.term).copied(),
            By::Term => (atom.term < self.terms.len()).then_some(atom.term),
            By::Skill => Some(atom.skill),
        }
    }
}

/// The headings of the roll with their labels.
struct Labels {
    headings: Vec<names::Name>,
    /// The label under each heading, and how it is called.
    numbers: BTreeMap<place::Label, usize>,
    /// The number of the row of those who have none.
    none: Vec<usize>,
    keys: Vec<Vec<group::Key>>,
}

impl Labels {
    fn of(fold: &fold::Fold, places: &[&place::Place]) -> Self {
        let all: BTreeSet<place::Label> = places
            .iter()
            .flat_map(|place| place.labels.iter().copied())
            .collect();
        let headings: BTreeMap<&str, names::Name> = all
            .iter()
            .map(|label| (fold.names.text(label.heading), label.heading))
            .collect();
        let mut labels = Self {
            headings: headings.values().copied().collect(),
            numbers: BTreeMap::new(),
            none: Vec::new(),
            keys: Vec::new(),
        };
        for (text, heading) in headings {
            let under = all.iter().filter(|label| label.heading == heading);
            let key = |label: &place::Label| group::label(text, fold.names.text(label.label));
            let has_none = places.iter().any(|place| {
                let mut labels = place.labels.iter();
                !labels.any(|label| label.heading == heading)
            });
            let none = group::label(text, "");
            let without = has_none.then(|| none.clone());
            let keys = in_order(under.clone().map(key).chain(without));
            for label in under {
                let number = at(&keys, &key(label)).unwrap_or(0);
                labels.numbers.insert(*label, number);
            }
            labels.none.push(at(&keys, &none).unwrap_or(keys.len()));
            labels.keys.push(keys);
        }
        labels
    }

    /// The number of a place's label under each heading.
    fn numbers(&self, place: &place::Place) -> Vec<usize> {
        let headings = self.headings.iter().zip(&self.none);
        headings
            .map(|(heading, none)| {
                let mut labels = place.labels.iter();
                let label = labels.find(|label| label.heading == *heading);
                let number = label.and_then(|label| self.numbers.get(label));
                number.copied().unwrap_or(*none)
            })
            .collect()
    }
}

/// The terms of a calendar, and the term of each day; without a calendar none.
struct Time {
    terms: Vec<group::Key>,
    school_years: Vec<group::Key>,
    year_of_term: Vec<usize>,
    of_day: BTreeMap<names::Name, usize>,
}

impl Time {
    fn of(fold: &fold::Fold, school: &attainment::School) -> Self {
        let mut time = Self {
            terms: Vec::new(),
            school_years: Vec::new(),
            year_of_term: Vec::new(),
            of_day: BTreeMap::new(),
        };
        if school.calendar.is_none() {
            return time;
        }
        let days: BTreeSet<names::Name> = fold.cells.keys().map(|cell| cell.set_on).collect();
        let called: Vec<(names::Name, group::Key, group::Key)> = days
            .into_iter()
            .map(|day| {
                let text = fold.names.text(day);
                (day, school.when(text), school.school_year(text))
            })
            .collect();
        time.terms = in_order(called.iter().map(|(_, term, _)| term.clone()));
        time.school_years = in_order(called.iter().map(|(_, _, year)| year.clone()));
        time.year_of_term = vec![0; time.terms.len()];
        for (day, term, year) in &called {
            let term = at(&time.terms, term).unwrap_or(0);
            time.year_of_term[term] = at(&time.school_years, year).unwrap_or(0);
            time.of_day.insert(*day, term);
        }
        time
    }
}

/// Each once, in order.
fn in_order<T: Ord>(all: impl Iterator<Item = T>) -> Vec<T> {
    let all: BTreeSet<T> = all.collect();
    all.into_iter().collect()
}

/// The place of one among those in order.
fn at<T: Ord>(all: &[T], one: &T) -> Option<usize> {
    all.binary_search(one).ok()
}
