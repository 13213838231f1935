//! What one group did at one time, and where that puts it on the scale.

use crate::attainment::figures;
use crate::attainment::fold::sheet;
use crate::attainment::group;
use crate::attainment::growth;
use crate::attainment::names;
use crate::held_back;
use crate::statistics::interval;
use crate::statistics::rasch;
use crate::statistics::rasch::seat;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Names the group of a year and class.
pub(super) type KeyOf<'a> = dyn Fn(names::Name, names::Name) -> group::Key + 'a;

/// Where pupils stand by sheet and score.
pub(super) struct Places<'a> {
    scale: &'a rasch::Scale,
    /// The sheets in the order of their questions, which no order of the records changes.
    sheets: Vec<Option<Placed<'a>>>,
    numbers: BTreeMap<names::Name, usize>,
}

struct Placed<'a> {
    seated: seat::Seated<'a>,
    by_score: BTreeMap<u16, interval::Estimate>,
}

/// What one group did at one time.
#[derive(Default)]
pub(super) struct Part {
    /// Who handed in.
    pub(super) pupils: growth::Pupils,
    /// How many had each score on each sheet.
    scores: BTreeMap<(usize, u16), u64>,
}

/// Where one group stood at one time.
pub(super) struct Stand {
    pub(super) time: String,
    pub(super) told: figures::Told<()>,
    pub(super) pupils: growth::Pupils,
    mean: figures::Told<interval::Estimate>,
    pub(super) slope: seat::Slope,
}

impl<'a> Places<'a> {
    /// Returns the place of every score on every sheet that occurs.
    pub(super) fn of(basis: &'a figures::Basis<'_>, scale: &'a rasch::Scale) -> Self {
        let names = &basis.fold.names;
        let mut scores: BTreeMap<(&str, names::Name), BTreeSet<u16>> = BTreeMap::new();
        for (sheet, of_sheet) in &basis.fold.sheets {
            let questions = (names.text(sheet.questions), sheet.questions);
            scores.entry(questions).or_default().extend(of_sheet.keys());
        }
        let mut places = Self {
            scale,
            sheets: Vec::new(),
            numbers: BTreeMap::new(),
        };
        for ((text, name), scores) in scores {
            places.numbers.insert(name, places.sheets.len());
            let seated = scale.seat(&sheet::questions(text)).ok();
            places.sheets.push(seated.map(|seated| Placed {
                by_score: by_score(&seated, scores),
                seated,
            }));
        }
        places
    }

    /// Returns what each group did at each time.
    pub(super) fn parts(
        &self,
        basis: &figures::Basis<'_>,
        key: &KeyOf<'_>,
    ) -> BTreeMap<group::Key, BTreeMap<group::Key, Part>> {
        let mut times: BTreeMap<names::Name, Option<group::Key>> = BTreeMap::new();
        let mut time = |set_on: names::Name| {
            let text = basis.fold.names.text(set_on);
            let school = basis.school;
            let time = || (!school.is_outside(text)).then(|| school.when(text));
            times.entry(set_on).or_insert_with(time).clone()
        };
        let mut parts: BTreeMap<group::Key, BTreeMap<group::Key, Part>> = BTreeMap::new();
        for (sheet, scores) in &basis.fold.sheets {
            let (Some(time), Some(number)) =
                (time(sheet.set_on), self.numbers.get(&sheet.questions))
            else {
                continue;
            };
            let times = parts.entry(key(sheet.year, sheet.class)).or_default();
            let part = times.entry(time).or_default();
            for (score, pupils) in scores {
                let count = part.scores.entry((*number, *score)).or_default();
                *count = count.saturating_add(u64::from(*pupils));
            }
        }
        for (cell, counted) in &basis.fold.cells {
            let Some(time) = time(cell.set_on) else {
                continue;
            };
            let place = basis.fold.places.place(cell.place);
            let times = parts.entry(key(place.year, place.class)).or_default();
            times.entry(time).or_default().pupils |= counted.pupils();
        }
        // Who was absent did nothing at that time.
        for times in parts.values_mut() {
            times.retain(|_, part| !part.pupils.is_empty());
        }
        parts
    }

    /// Returns where a group stood at each time.
    pub(super) fn stand(
        &self,
        parts: &BTreeMap<group::Key, Part>,
        held_back: &BTreeSet<group::Key>,
    ) -> Vec<Stand> {
        let stand = |(time, part): (&group::Key, &Part)| {
            let told = if part.pupils.len() < growth::FEWEST_COUNTED {
                Err(figures::Why::Hidden(held_back::Reason::TooFew))
            } else if held_back.contains(time) {
                Err(figures::Why::Hidden(held_back::Reason::ToProtect))
            } else if part.pupils.len() < growth::FEWEST {
                Err(figures::Why::CountsOnly)
            } else {
                Ok(())
            };
            let (mean, slope) = self.mean(part);
            Stand {
                time: time.label.clone(),
                told,
                pupils: part.pupils.clone(),
                mean: told.and(mean),
                slope,
            }
        };
        parts.iter().map(stand).collect()
    }

    /// The mean place with its error, and how it hangs on the questions' places.
    ///
    /// Source: the standard error of a mean (any textbook), over as many as there are
    /// pupils: the sheets of one pupil are alike.
    fn mean(&self, part: &Part) -> (figures::Told<interval::Estimate>, seat::Slope) {
        let mut slope = self.scale.level();
        let mut sums = Sums::default();
        for ((number, score), pupils) in &part.scores {
            let weight = real(*pupils);
            sums.all += weight;
            let placed = self.sheets.get(*number).and_then(Option::as_ref);
            if let Some(place) = placed.and_then(|it| it.by_score.get(score)) {
                sums.add(place, weight);
            }
        }
        if sums.measured <= 0.0 || sums.measured * 5.0 < sums.all * 4.0 {
            return (Err(figures::Why::FewMeasured), slope);
        }
        for ((number, score), pupils) in &part.scores {
            let placed = self.sheets.get(*number).and_then(Option::as_ref);
            if let Some(placed) = placed
                && let Some(place) = placed.by_score.get(score)
            {
                let weight = real(*pupils) / sums.measured;
                placed.seated.add_slope(place.value, weight, &mut slope);
            }
        }
        let pupils = real(part.pupils.len()) * sums.measured / sums.all;
        (Ok(sums.mean(pupils)), slope)
    }
}

/// Where pupils with each of some scores on a sheet stand.
fn by_score(seated: &seat::Seated<'_>, scores: BTreeSet<u16>) -> BTreeMap<u16, interval::Estimate> {
    let place = |score: u16| Some((score, seated.place(u32::from(score)).ok()?));
    scores.into_iter().filter_map(place).collect()
}

/// Sums over the sheets of one part.
#[derive(Default)]
struct Sums {
    all: f64,
    measured: f64,
    places: f64,
    squares: f64,
    errors: f64,
}

impl Sums {
    fn add(&mut self, place: &interval::Estimate, weight: f64) {
        self.measured += weight;
        self.places += weight * place.value;
        self.squares += weight * place.value * place.value;
        self.errors += weight * place.error * place.error;
    }

    /// The mean of so many pupils, whose places spread at least as much as their errors.
    fn mean(&self, pupils: f64) -> interval::Estimate {
        let value = self.places / self.measured;
        let spread = self.squares / self.measured - value * value;
        let spread = spread * pupils / (pupils - 1.0).max(1.0);
        let errors = self.errors / self.measured;
        interval::Estimate {
            value,
            error: libm::sqrt(spread.max(errors) / pupils.max(1.0)),
        }
    }
}

impl Stand {
    /// The mean place of the group.
    pub(super) fn mean(&self) -> figures::Told<interval::Estimate> {
        self.mean
    }

    /// How many pupils handed in.
    pub(super) fn pupils_counted(&self) -> u32 {
        u32::try_from(self.pupils.len()).unwrap_or(u32::MAX)
    }
}

/// A count in floating point.
fn real(count: u64) -> f64 {
    u32::try_from(count).map_or(f64::from(u32::MAX), f64::from)
}
