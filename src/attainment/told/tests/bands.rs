//! The same attack on the bands of made-up schools. Who moves is known whole to the one who
//! attacks: in which band, everywhere.

use super::*;
use crate::attainment::bands;
use crate::attainment::bands::Kind;
use crate::attainment::bands::On;
use crate::attainment::bands::unit;
use crate::number;

/// A group and its name.
type Name = (Kind, String);

/// A year and a class.
type Place = (String, String);

fn three_bands(second: u32, third: u32) -> bands::Bands {
    let band = |label: &str, from: u32| bands::Band {
        label: label.to_owned(),
        from: Some(number::Number::from(from)),
    };
    bands::Bands {
        name: String::new(),
        on: On::Marks,
        unit: unit::Unit::logits(),
        fewest_marks: 5,
        bands: vec![band("low", 0), band("middle", second), band("high", third)],
    }
}

fn summary_with(works: &[attainment::Work], bands: Option<bands::Bands>) -> attainment::Summary {
    let mut fold = fold::Fold::default();
    for family in fold::Family::all(works) {
        fold.add(&family).expect("each homework is added once");
    }
    fold.summary(&attainment::School {
        calendar: calendar::read(SIX_TERMS, "c.toml").ok(),
        bands,
        ..attainment::School::default()
    })
}

/// What is true of the pupils of some works.
#[derive(Default)]
struct Truth {
    /// Those who never moved, by place.
    settled: BTreeMap<Place, u32>,
    /// How many of each group are in each column, and how many of these moved.
    groups: BTreeMap<Name, Vec<(u32, u32)>>,
}

impl Truth {
    fn of(works: &[attainment::Work], bands: &bands::Bands) -> Self {
        let mut places: BTreeMap<_, BTreeSet<Place>> = BTreeMap::new();
        let mut work: BTreeMap<_, (u32, u32)> = BTreeMap::new();
        for pupil in works.iter().flat_map(|work| &work.pupils) {
            let there = pupil.answers.iter();
            let there = there.filter(|answer| answer.state != marking::State::Absent);
            for answer in there {
                let (year, class) = (pupil.year.clone(), pupil.class.clone());
                for name in [
                    (Kind::All, "All".to_owned()),
                    (Kind::Year, year.clone()),
                    (Kind::Class, class.clone()),
                ] {
                    let marks = work.entry((pupil.who, name)).or_default();
                    marks.0 += u32::from(answer.marks);
                    marks.1 += u32::from(answer.out_of);
                }
                let of_pupil = places.entry(pupil.who).or_default();
                of_pupil.insert((year, class));
            }
        }
        let mut truth = Self::default();
        for ((who, name), (earned, available)) in work {
            let column = bands.band(earned, available).unwrap_or(bands.bands.len());
            let columns = vec![(0, 0); bands.bands.len() + 1];
            let of_group = truth.groups.entry(name).or_insert(columns);
            of_group[column].0 += 1;
            of_group[column].1 += u32::from(places[&who].len() > 1);
        }
        for places in places.into_values().filter(|places| places.len() == 1) {
            for place in places {
                *truth.settled.entry(place).or_default() += 1;
            }
        }
        truth
    }

    /// The places of a group's settled pupils.
    fn places(&self, (kind, label): &Name) -> Vec<usize> {
        let places = self.settled.keys().enumerate();
        let places = places.filter(|(_, (year, class))| match kind {
            Kind::All => true,
            Kind::Year => year == label,
            Kind::Class => class == label,
        });
        places.map(|(place, _)| place).collect()
    }
}

/// A number of the table, or a whole group.
struct Cell {
    row: Name,
    column: Option<usize>,
    set: BTreeSet<usize>,
    shown: count::Shown,
    /// How many of it moved.
    moved: u32,
}

fn shown(pupils: u32) -> count::Shown {
    count::Shown::CountsOnly {
        figures: count::Figures {
            pupils,
            earned: 0,
            available: 0,
            answers: None,
        },
    }
}

/// Everything about bands that a report tells and does not tell.
fn cells(truth: &Truth, summary: &attainment::Summary, columns: usize) -> Vec<Cell> {
    let table = summary.bands.as_ref().expect("there are bands");
    let mut cells = Vec::new();
    for row in &table.rows {
        let name = (row.kind, row.label.clone());
        let places = truth.places(&name);
        let counts = &truth.groups[&name];
        let set = |columns: &[usize]| -> BTreeSet<usize> {
            let places = places.iter();
            places
                .flat_map(|place| columns.iter().map(move |column| place * 8 + column))
                .collect()
        };
        let mut hidden = Vec::new();
        for (column, cell) in row.pupils.iter().take(columns).enumerate() {
            let (pupils, moved) = counts[column];
            let is = match cell {
                count::Count::Pupils(told) => {
                    assert_eq!(*told, pupils, "{name:?} {column}");
                    shown(pupils)
                }
                count::Count::Hidden(why) => {
                    hidden.push(column);
                    count::Shown::Hidden(*why)
                }
            };
            cells.push(Cell {
                row: name.clone(),
                column: Some(column),
                set: set(&[column]),
                shown: is,
                moved,
            });
        }
        let sum = |columns: &[usize]| columns.iter().map(|it| counts[*it].0).sum::<u32>();
        if let Some(count::Count::Pupils(told)) = row.pupils.get(columns) {
            assert_eq!(*told, sum(&hidden), "{name:?}");
            assert!(!(1..5).contains(told), "{name:?}");
        }
        let every: Vec<usize> = (0..columns).collect();
        let rows = match row.kind {
            Kind::All => std::slice::from_ref(&summary.whole),
            Kind::Year => &summary.years,
            Kind::Class => &summary.classes,
        };
        let whole = rows.iter().find(|it| it.label == row.label);
        let whole = whole.expect("it has a row of its own");
        cells.push(Cell {
            row: name.clone(),
            column: None,
            set: set(&every),
            shown: match &whole.shown {
                count::Shown::Hidden(why) => count::Shown::Hidden(*why),
                told @ (count::Shown::InFull { .. } | count::Shown::CountsOnly { .. }) => {
                    let pupils = told.figures().map(|figures| figures.pupils);
                    assert_eq!(pupils, Some(sum(&every)), "{name:?}");
                    shown(sum(&every))
                }
            },
            moved: counts.iter().map(|it| it.1).sum(),
        });
    }
    cells
}

/// Whether a number held back, or a small part of one, is a sum or difference of what is
/// told.
fn find(truth: &Truth, cells: &[Cell], columns: usize) -> usize {
    let mut known = Known::default();
    let length = 8 * truth.settled.len();
    let is_told = |cell: &&Cell| cell.shown.figures().is_some();
    for cell in cells.iter().filter(is_told) {
        known.learn(&cell.set, length);
    }
    let hidden = cells.iter().filter(|cell| cell.shown.figures().is_none());
    let mut secrets: Vec<BTreeSet<usize>> = hidden.map(|cell| cell.set.clone()).collect();
    // What is small of one row, taken together.
    for whole in cells.iter().filter(|cell| cell.column.is_none()) {
        let of_row = cells.iter().filter(|cell| cell.row == whole.row);
        let counts = &truth.groups[&whole.row];
        let small = of_row.filter(|cell| {
            let column = cell.column.filter(|column| *column < columns);
            column.is_some_and(|column| (1..5).contains(&counts[column].0))
        });
        let small: Vec<&Cell> = small.collect();
        let pupils = small.iter().filter_map(|cell| Some(counts[cell.column?].0));
        if (1..5).contains(&pupils.sum::<u32>()) {
            secrets.push(small.iter().flat_map(|it| it.set.clone()).collect());
        }
    }
    secrets.retain(|secret| !secret.is_empty());
    for secret in &secrets {
        assert!(!known.gives(secret, length), "{secret:?} can be found");
    }
    secrets.len()
}

/// Whether the least and the most of everything give a number away.
fn weigh(cells: &[Cell]) {
    let rows: Vec<Published<'_>> = cells
        .iter()
        .map(|cell| Published {
            table: format!("{:?}{}", cell.row.0, u8::from(cell.column.is_none())),
            label: format!("{} {:?}", cell.row.1, cell.column),
            atoms: cell.set.clone(),
            pupils: BTreeSet::new(),
            shown: &cell.shown,
        })
        .collect();
    let sets: Vec<&BTreeSet<usize>> = rows.iter().map(|row| &row.atoms).collect();
    let by_column =
        |row: &Published<'_>| row.label.rsplit(' ').next().unwrap_or_default().to_owned();
    let mut all = sums(&rows, &sets, by_column);
    for (whole, cell) in cells.iter().enumerate() {
        if cell.column.is_none() {
            let of_row = cells.iter().enumerate();
            let of_row = of_row.filter(|(_, it)| it.row == cell.row && it.column.is_some());
            all.push((whole, of_row.map(|(place, _)| place).collect()));
        }
    }
    let why = |cell: &Cell| match &cell.shown {
        count::Shown::Hidden(why) => Some(*why),
        count::Shown::InFull { .. } | count::Shown::CountsOnly { .. } => None,
    };
    let between = cells.iter().map(|cell| {
        let whole = cells
            .iter()
            .find(|it| it.row == cell.row && it.column.is_none());
        let group = whole.and_then(why);
        let (low, high) = match (why(cell), group) {
            (None, _) => {
                let pupils = cell.shown.figures().map_or(0, |figures| figures.pupils);
                (u64::from(pupils), u64::from(pupils))
            }
            (Some(held_back::Reason::TooFew), Some(held_back::Reason::TooFew))
                if cell.column.is_some() =>
            {
                (0, 4)
            }
            (Some(held_back::Reason::TooFew), _) => (1, 4),
            (Some(held_back::Reason::ToProtect), group)
                if group.is_none() || cell.column.is_none() =>
            {
                (5, u64::MAX)
            }
            (
                Some(
                    held_back::Reason::ToProtect
                    | held_back::Reason::SmallGroup
                    | held_back::Reason::Unsaid,
                ),
                _,
            ) => (0, u64::MAX),
        };
        let moved = u64::from(cell.moved);
        let high = if high == u64::MAX { high } else { high - moved };
        (low.saturating_sub(moved), high)
    });
    let between = between.collect();
    let attack = Attack {
        rows,
        atoms: 0,
        pupils: 0,
    };
    attack.narrow(&all, between, "bands");
}

#[test]
fn no_number_in_a_band_that_is_held_back_can_be_found() {
    let mut secrets = 0;
    for seed in 0..24_u64 {
        let small = |number: u64| usize::try_from(number).expect("a small number");
        let size = Size {
            classes: small(1 + seed % 6),
            pupils: 20 + small(seed * 7),
            headings: 0,
            skills: 2 + small(seed % 2),
            days: if seed % 2 == 0 {
                &DAYS[..2]
            } else {
                &DAYS[..4]
            },
        };
        let works = works(&size, seed);
        let bands = three_bands(40 + 5 * u32::from(seed % 3 == 0), 60);
        let columns = bands.bands.len() + 1;
        let truth = Truth::of(&works, &bands);
        let summary = summary_with(&works, Some(bands));
        let cells = cells(&truth, &summary, columns);
        secrets += find(&truth, &cells, columns);
        weigh(&cells);
    }
    assert!(secrets > 100, "{secrets}");
}

#[test]
fn bands_cost_no_other_table_anything_and_all_before_years_before_classes() {
    let size = Size {
        classes: 20,
        pupils: 503,
        headings: 0,
        skills: 4,
        days: &DAYS,
    };
    let works = works(&size, 7);
    let bands = three_bands(40, 60);
    let columns = bands.bands.len() + 1;
    let truth = Truth::of(&works, &bands);
    let plain = summary_with(&works, None);
    let mut summary = summary_with(&works, Some(bands));
    let cells = cells(&truth, &summary, columns);
    find(&truth, &cells, columns);
    weigh(&cells);
    let told = |kind: Kind| {
        let cells = cells.iter().filter(|cell| cell.row.0 == kind);
        let cells = cells.filter(|cell| cell.column.is_some());
        let told = cells.clone().filter(|cell| cell.shown.figures().is_some());
        (told.count(), cells.count())
    };
    assert_eq!(told(Kind::All), (4, 4));
    let (years, classes) = (told(Kind::Year), told(Kind::Class));
    assert!(5 * years.0 >= 4 * years.1, "{years:?}");
    assert!(3 * classes.0 >= classes.1, "{classes:?}");
    summary.bands = None;
    assert_eq!(summary, plain);
}
