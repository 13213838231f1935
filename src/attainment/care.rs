//! What happened in the records that a reader should bear in mind.
//!
//! Numbers of pupils under five are told as a few, like everywhere in a review.

use crate::attainment;
use crate::attainment::counted;
use crate::attainment::fold;
use crate::attainment::fold::kept;
use crate::attainment::names;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// What else to bear in mind about the numbers.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Care {
    /// How many times a pupil's work was left out for newer work.
    pub(super) counted_once: u64,
    /// How many answers still need a person.
    pub(super) to_check: u64,
    /// How many pupils handed in nothing at all.
    pub(super) absent_throughout: usize,
    /// How many pupils stand in more than one class.
    pub(super) moved_class: usize,
    /// How many pupils stand in more than one year.
    pub(super) moved_year: usize,
    /// How many pupils share their id with one of another name.
    pub(super) namesakes: usize,
    /// How many times a class was set two homeworks or more on one day.
    pub(super) two_on_one_day: usize,
    /// Classes with pupils of several years at one time, in order.
    pub(super) mixed_age: Vec<String>,
    /// How many homeworks were set on a day outside the calendar's terms.
    pub(super) outside_terms: usize,
}

/// Returns what to bear in mind about a fold.
pub(super) fn of(fold: &fold::Fold, school: &attainment::School) -> Care {
    Care {
        counted_once: fold.left_out,
        to_check: fold.to_check,
        absent_throughout: absent_throughout(fold),
        moved_class: moved(fold, |standing| standing.class),
        moved_year: moved(fold, |standing| standing.year),
        namesakes: fold.pupils.namesakes(),
        two_on_one_day: two_on_one_day(fold),
        mixed_age: mixed_age(fold),
        outside_terms: fold
            .homeworks
            .keys()
            .filter(|homework| school.is_outside(&homework.set_on))
            .count(),
    }
}

fn absent_throughout(fold: &fold::Fold) -> usize {
    let mut there = counted::Counted::default();
    for counted in fold.cells.values() {
        there.join(counted);
    }
    let there = usize::try_from(there.tally().pupils).unwrap_or(usize::MAX);
    fold.pupils.pupils().saturating_sub(there)
}

/// How many pupils stand in more than one place.
fn moved(fold: &fold::Fold, place: impl Fn(&kept::Standing) -> names::Name) -> usize {
    let mut moved = 0_usize;
    let mut at: Option<(u32, names::Name, bool)> = None;
    // The places of one pupil stand side by side.
    for standing in fold.standing.keys() {
        let here = place(standing);
        match &mut at {
            Some((pupil, first, has_moved)) if *pupil == standing.pupil => {
                if *first != here && !*has_moved {
                    *has_moved = true;
                    moved = moved.saturating_add(1);
                }
            }
            Some(_) | None => at = Some((standing.pupil, here, false)),
        }
    }
    moved
}

/// How many times a class was set more than one homework on a day.
fn two_on_one_day(fold: &fold::Fold) -> usize {
    let mut set: BTreeMap<(&str, names::Name), u32> = BTreeMap::new();
    for (homework, told) in &fold.homeworks {
        for class in &told.classes {
            kept::more(&mut set, (&homework.set_on, *class), 1);
        }
    }
    set.values().filter(|homeworks| **homeworks > 1).count()
}

/// Classes with pupils of several years on one day.
fn mixed_age(fold: &fold::Fold) -> Vec<String> {
    let mut years: BTreeMap<(names::Name, names::Name), BTreeSet<names::Name>> = BTreeMap::new();
    for cell in fold.cells.keys() {
        let place = fold.places.place(cell.place);
        let of_day = years.entry((place.class, cell.set_on)).or_default();
        of_day.insert(place.year);
    }
    let mixed: BTreeSet<&str> = years
        .iter()
        .filter(|(_, years)| years.len() > 1)
        .map(|((class, _), _)| fold.names.text(*class))
        .collect();
    mixed.into_iter().map(str::to_owned).collect()
}

impl Care {
    /// Returns the sentences, as far as there is something to say.
    pub(super) fn sentences(&self) -> Vec<String> {
        let mut texts = Vec::new();
        if self.to_check > 0 {
            texts.push(format!(
                "{} still to be looked at by a person (worksheet To check of the marked \
                 workbook): the numbers may change.",
                if self.to_check == 1 {
                    "1 answer is".to_owned()
                } else {
                    format!("{} answers are", self.to_check)
                }
            ));
        }
        if self.counted_once > 0 {
            texts.push(format!(
                "Work came in more than once {}; the newest was counted.",
                if self.counted_once == 1 {
                    "for one pupil".to_owned()
                } else {
                    format!("for {} pupils and homeworks", self.counted_once)
                }
            ));
        }
        let mut pupils = |pupils: usize, said: &str| {
            if pupils > 0 {
                texts.push(format!("{} {said}", few_or_many(pupils)));
            }
        };
        pupils(
            self.absent_throughout,
            "handed in nothing at all: they count as absent and in no share.",
        );
        pupils(
            self.moved_class,
            "stand in more than one class: what they did counts where they were at the time, \
             and in the whole they count once.",
        );
        pupils(
            self.moved_year,
            "stand in more than one year: what they did counts for the year they were in at \
             the time.",
        );
        pupils(
            self.namesakes,
            "share a pupil id with another name, and count as pupils of their own. Where names \
             were only corrected, or several schools are reviewed together, a column school in \
             the roll makes it sure.",
        );
        if self.two_on_one_day > 0 {
            texts.push(format!(
                "A class was set more than one homework on the same day ({}): all of them count.",
                if self.two_on_one_day == 1 {
                    "once".to_owned()
                } else {
                    format!("{} times", self.two_on_one_day)
                }
            ));
        }
        if !self.mixed_age.is_empty() {
            texts.push(format!(
                "Pupils of more than one year in one class ({}): by class they count together, \
                 by year each for their own.",
                named(&self.mixed_age)
            ));
        }
        if self.outside_terms > 0 {
            texts.push(format!(
                "{} set on a day that is in no term of the calendar, and counted in no term.",
                if self.outside_terms == 1 {
                    "1 homework was".to_owned()
                } else {
                    format!("{} homeworks were", self.outside_terms)
                }
            ));
        }
        texts
    }
}

/// How many classes are named before the rest are only counted.
const MOST_NAMED: usize = 6;

/// `3 Ash, 3/4 Elm and 2 more`.
fn named(classes: &[String]) -> String {
    let shown: Vec<&str> = classes
        .iter()
        .take(MOST_NAMED)
        .map(String::as_str)
        .collect();
    let more = classes.len().saturating_sub(shown.len());
    let shown = shown.join(", ");
    if more > 0 {
        format!("{shown} and {more} more")
    } else {
        shown
    }
}

/// `A few pupils`, `12 pupils`.
fn few_or_many(pupils: usize) -> String {
    if pupils < 5 {
        "A few pupils (fewer than 5)".to_owned()
    } else {
        format!("{pupils} pupils")
    }
}
