//! An attack on summaries of made-up schools: whoever knows who is in which group, and
//! adds, subtracts and weighs all that is told, must not find anything that is not.
//!
//! Knows nothing of how it was chosen what is held back.

use crate::attainment;
use crate::attainment::calendar;
use crate::attainment::count;
use crate::attainment::examples;
use crate::attainment::fold;
use crate::held_back;
use crate::level;
use crate::marking;
use crate::seed;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

mod bands;

const CALENDAR: &str = "[[term]]\nlabel = \"Spring\"\nyear = \"2025/26\"\n\
    first = \"2026-01-05\"\nlast = \"2026-03-27\"\n\
    [[term]]\nlabel = \"Summer\"\nyear = \"2025/26\"\nfirst = \"2026-04-13\"\n\
    last = \"2026-07-17\"\n";

/// Six terms of one year, for a large school.
const SIX_TERMS: &str = "[[term]]\nlabel = \"1\"\nyear = \"2025/26\"\nfirst = \"2025-09-01\"\n\
    last = \"2025-10-17\"\n\
    [[term]]\nlabel = \"2\"\nyear = \"2025/26\"\nfirst = \"2025-11-03\"\nlast = \"2025-12-19\"\n\
    [[term]]\nlabel = \"3\"\nyear = \"2025/26\"\nfirst = \"2026-01-05\"\nlast = \"2026-02-13\"\n\
    [[term]]\nlabel = \"4\"\nyear = \"2025/26\"\nfirst = \"2026-02-23\"\nlast = \"2026-03-27\"\n\
    [[term]]\nlabel = \"5\"\nyear = \"2025/26\"\nfirst = \"2026-04-13\"\nlast = \"2026-05-22\"\n\
    [[term]]\nlabel = \"6\"\nyear = \"2025/26\"\nfirst = \"2026-06-01\"\nlast = \"2026-07-17\"\n";

/// A prime: what can be found with fractions can be found with remainders of it too.
const PRIME: u64 = 1_000_000_007;

/// How large a school is.
struct Size {
    classes: usize,
    pupils: usize,
    headings: usize,
    skills: usize,
    days: &'static [&'static str],
}

/// A school of mixed and small classes, labels, absent pupils and some who move.
fn works(size: &Size, seed: u64) -> Vec<attainment::Work> {
    let mut stream = seed::Stream::named(&["a school to attack"], seed);
    let pupils: Vec<(usize, usize, BTreeMap<String, String>)> = (0..size.pupils)
        .map(|number| {
            let class = number * size.classes / size.pupils;
            // The last class has a few only.
            let class = if number + 3 < size.pupils {
                class
            } else {
                size.classes
            };
            let year = if class % 3 == 2 {
                class / 3 + stream.index(5) / 4
            } else {
                class / 3
            };
            let labels = (0..size.headings).map(|heading| {
                let label = ["blue", "green", "red", ""][stream.index(4)];
                (format!("heading {heading}"), label.to_owned())
            });
            (class, year, labels.collect())
        })
        .collect();
    let days = size.days.iter().enumerate();
    days.map(|(time, day)| attainment::Work {
        code: format!("H{time}"),
        set_on: (*day).to_owned(),
        pupils: pupils
            .iter()
            .enumerate()
            .map(|(number, (class, year, groups))| {
                let moves = time > 0 && stream.below(40) == 0;
                let absent = stream.below(15) == 0;
                let answers = level::SKILLS.iter().take(size.skills).enumerate();
                attainment::Pupil {
                    class: format!("class {}", if moves { 0 } else { *class }),
                    year: format!("{year}"),
                    groups: groups.clone(),
                    ..examples::pupil(
                        &format!("P{number}"),
                        answers
                            .map(|(question, skill)| answer(question, *skill, absent, &mut stream))
                            .collect(),
                    )
                }
            })
            .collect(),
        ..examples::work()
    })
    .collect()
}

fn answer(
    question: usize,
    skill: level::Skill,
    absent: bool,
    stream: &mut seed::Stream,
) -> attainment::Answer {
    let (marks, state) = match (absent, stream.index(3)) {
        (true, _) => (0, marking::State::Absent),
        (false, 0) => (0, marking::State::Wrong),
        (false, 1) => (1, marking::State::Partly),
        (false, _) => (2, marking::State::Correct),
    };
    attainment::Answer {
        question: format!("Q{}", question + 1),
        template: format!("template-{question}-{}", stream.index(3)),
        skill,
        marks,
        state,
        ..examples::answer()
    }
}

fn summary(works: &[attainment::Work], terms: &str) -> attainment::Summary {
    let mut fold = fold::Fold::default();
    for family in fold::Family::all(works) {
        fold.add(&family).expect("each homework is added once");
    }
    fold.summary(&attainment::School {
        calendar: calendar::read(terms, "c.toml").ok(),
        ..attainment::School::default()
    })
}

/// One row of a report: which answers it is a sum of, and what is told.
struct Published<'a> {
    table: String,
    label: String,
    atoms: BTreeSet<usize>,
    pupils: BTreeSet<usize>,
    shown: &'a count::Shown,
}

/// What an attacker knows: all rows, and how many answers and pupils there are.
struct Attack<'a> {
    rows: Vec<Published<'a>>,
    atoms: usize,
    pupils: usize,
}

/// The groups of an answer: table and label.
type Named = (String, String);

impl<'a> Attack<'a> {
    fn new(works: &[attainment::Work], summary: &'a attainment::Summary) -> Self {
        let mut groups: BTreeMap<Named, (BTreeSet<usize>, BTreeSet<usize>)> = BTreeMap::new();
        let mut pupils = BTreeMap::new();
        let mut atoms = 0;
        for work in works {
            for pupil in &work.pupils {
                let next = pupils.len();
                let number = *pupils.entry(pupil.who).or_insert(next);
                for answer in &pupil.answers {
                    if answer.state == marking::State::Absent {
                        continue;
                    }
                    for named in named(work, pupil, answer) {
                        let group = groups.entry(named).or_default();
                        group.0.insert(atoms);
                        group.1.insert(number);
                    }
                    atoms += 1;
                }
            }
        }
        let mut rows = Vec::new();
        let mut publish = |table: String, label: &str, shown: &'a count::Shown| {
            let (atoms, pupils) = groups
                .get(&(table.clone(), label.to_owned()))
                .cloned()
                .unwrap_or_default();
            let label = label.to_owned();
            rows.push(Published {
                table,
                label,
                atoms,
                pupils,
                shown,
            });
        };
        publish("whole".to_owned(), "All", &summary.whole.shown);
        for (table, of_table) in [
            ("years", &summary.years),
            ("classes", &summary.classes),
            ("groups", &summary.groups),
            ("terms", &summary.terms),
            ("skills", &summary.skills),
            ("questions", &summary.questions),
        ] {
            for row in of_table {
                let heading = row.label.split(':').next().unwrap_or_default();
                let table = match table {
                    "groups" => format!("groups {heading}"),
                    _ => table.to_owned(),
                };
                publish(table, &row.label, &row.shown);
            }
        }
        for (table, grid) in [
            ("by year", &summary.skills_by_year),
            ("by class", &summary.skills_by_class),
        ] {
            for row in &grid.rows {
                for (column, shown) in grid.columns.iter().zip(&row.cells) {
                    if let Some(shown) = shown {
                        let label = format!("{column}, {}", row.label);
                        publish(table.to_owned(), &label, shown);
                    }
                }
            }
        }
        Self {
            rows,
            atoms,
            pupils: pupils.len(),
        }
    }

    fn told(&self) -> impl Iterator<Item = &Published<'a>> {
        self.rows.iter().filter(|row| row.shown.figures().is_some())
    }

    fn hidden(&self) -> impl Iterator<Item = &Published<'a>> {
        self.rows.iter().filter(|row| row.shown.figures().is_none())
    }

    /// The rows that are not told.
    fn rows_hidden(&self) -> Vec<(String, BTreeSet<usize>)> {
        self.hidden()
            .filter(|row| row.table != "questions")
            .map(|row| (format!("{} {}", row.table, row.label), row.atoms.clone()))
            .collect()
    }

    /// The small crossings of two tables that are not the same.
    fn crossings(
        &self,
        are_crossed: impl Fn(&Published<'_>, &Published<'_>) -> bool,
    ) -> Vec<(String, BTreeSet<usize>)> {
        let mut crossings = Vec::new();
        for one in &self.rows {
            for other in &self.rows {
                if !are_crossed(one, other) {
                    continue;
                }
                let pupils = one.pupils.intersection(&other.pupils).count();
                let atoms: BTreeSet<usize> =
                    one.atoms.intersection(&other.atoms).copied().collect();
                if (1..5).contains(&pupils) && !atoms.is_empty() {
                    crossings.push((format!("{} and {}", one.label, other.label), atoms));
                }
            }
        }
        crossings
    }

    /// Whether sums and differences of rows told give any of these.
    fn find(&self, secrets: &[(String, BTreeSet<usize>)]) -> usize {
        let mut known = Known::default();
        for row in self.told() {
            known.learn(&row.atoms, self.atoms);
        }
        for (name, atoms) in secrets {
            assert!(!known.gives(atoms, self.atoms), "{name} can be found");
        }
        secrets.len()
    }

    /// The same for the pupils of rows that are not told.
    fn find_pupils(&self) {
        let mut pupils = Known::default();
        let places = |row: &&Published<'_>| {
            let table = row.table.as_str();
            table.starts_with("groups") || ["whole", "years", "classes"].contains(&table)
        };
        for row in self.told().filter(places) {
            pupils.learn(&row.pupils, self.pupils);
        }
        for row in self.hidden().filter(places) {
            let found = pupils.gives(&row.pupils, self.pupils);
            assert!(!found, "the pupils of {} can be found", row.label);
        }
    }

    /// Whether what is left when the least and the most of the others is taken gives no
    /// number away.
    fn weigh(&self) {
        let sets: Vec<&BTreeSet<usize>> = self.rows.iter().map(|row| &row.atoms).collect();
        let sums = sums(&self.rows, &sets, |_| String::new());
        let marks = |row: &Published<'_>, of: fn(&count::Figures) -> u32| {
            row.shown.figures().map_or((0, u64::MAX), |figures| {
                let number = u64::from(of(figures));
                (number, number)
            })
        };
        let earned = |row| marks(row, |figures| figures.earned);
        let available = |row| marks(row, |figures| figures.available);
        self.narrow(
            &sums,
            self.rows.iter().map(earned).collect(),
            "marks earned",
        );
        self.narrow(&sums, self.rows.iter().map(available).collect(), "marks");
        let sets: Vec<&BTreeSet<usize>> = self.rows.iter().map(|row| &row.pupils).collect();
        let rows = self.rows.iter();
        let pupils = rows.map(|row| match row.shown {
            count::Shown::Hidden(held_back::Reason::TooFew) => {
                (u64::from(!row.table.starts_with("by")), 4)
            }
            count::Shown::Hidden(held_back::Reason::ToProtect) if !row.table.starts_with("by") => {
                (5, u64::MAX)
            }
            count::Shown::Hidden(_) => (0, u64::MAX),
            count::Shown::InFull { figures, .. } | count::Shown::CountsOnly { figures } => {
                (figures.pupils.into(), figures.pupils.into())
            }
        });
        let sums = self::sums(&self.rows, &sets, context);
        self.narrow(&sums, pupils.collect(), "pupils");
    }

    fn narrow(&self, sums: &[(usize, Vec<usize>)], mut between: Vec<(u64, u64)>, what: &str) {
        loop {
            let before = between.clone();
            for (whole, parts) in sums {
                let low: u64 = parts.iter().map(|it| between[*it].0).sum();
                let high = parts
                    .iter()
                    .fold(0_u64, |sum, it| sum.saturating_add(between[*it].1));
                between[*whole].0 = between[*whole].0.max(low);
                between[*whole].1 = between[*whole].1.min(high);
                for part in parts {
                    let (own_low, own_high) = between[*part];
                    let others_low = low - own_low;
                    let most = between[*whole].1.saturating_sub(others_low);
                    let least = if high == u64::MAX {
                        0
                    } else {
                        between[*whole].0.saturating_sub(high - own_high)
                    };
                    between[*part] = (own_low.max(least), own_high.min(most));
                    if between[*part] != (own_low, own_high) {
                        break;
                    }
                }
            }
            if between == before {
                break;
            }
        }
        for (row, (low, high)) in self.rows.iter().zip(between) {
            let is_hidden = row.shown.figures().is_none();
            assert!(
                !is_hidden || low < high,
                "{what} of {} {}",
                row.table,
                row.label
            );
        }
    }
}

/// Among which rows pupils add up: all of them, or those who did one skill.
fn context(row: &Published<'_>) -> String {
    match row.table.as_str() {
        "by year" | "by class" => {
            let skill = row.label.rsplit(", ").next();
            skill.unwrap_or_default().to_owned()
        }
        "skills" | "terms" | "questions" => row.label.clone(),
        _ => String::new(),
    }
}

/// Which rows are sums of which others of one table, in the same context.
fn sums(
    rows: &[Published<'_>],
    sets: &[&BTreeSet<usize>],
    context: impl Fn(&Published<'_>) -> String,
) -> Vec<(usize, Vec<usize>)> {
    let tables: BTreeSet<&str> = rows.iter().map(|row| row.table.as_str()).collect();
    let contexts: Vec<String> = rows.iter().map(context).collect();
    let mut sums = Vec::new();
    for whole in 0..rows.len() {
        for table in &tables {
            let parts: Vec<usize> = (0..rows.len())
                .filter(|it| *it != whole && rows[*it].table == *table)
                .filter(|it| contexts[*it] == contexts[whole])
                .filter(|it| !sets[*it].is_empty() && sets[*it].is_subset(sets[whole]))
                .collect();
            let all: usize = parts.iter().map(|it| sets[*it].len()).sum();
            if !parts.is_empty() && all == sets[whole].len() {
                sums.push((whole, parts));
            }
        }
    }
    sums
}

/// The tables and labels that an answer counts in.
fn named(
    work: &attainment::Work,
    pupil: &attainment::Pupil,
    answer: &attainment::Answer,
) -> Vec<Named> {
    let skill = answer.skill.title();
    let term = if work.set_on.as_str() < "2026-04" {
        "2025/26 Spring"
    } else {
        "2025/26 Summer"
    };
    let mut named = vec![
        ("whole".to_owned(), "All".to_owned()),
        ("years".to_owned(), pupil.year.clone()),
        ("classes".to_owned(), pupil.class.clone()),
        ("terms".to_owned(), term.to_owned()),
        ("skills".to_owned(), skill.to_owned()),
        (
            "questions".to_owned(),
            format!("{}: {}", answer.bank, answer.template),
        ),
        ("by year".to_owned(), format!("{}, {skill}", pupil.year)),
        ("by class".to_owned(), format!("{}, {skill}", pupil.class)),
    ];
    named.extend(pupil.groups.iter().map(|(heading, label)| {
        let label = if label.is_empty() {
            "none given"
        } else {
            label
        };
        (format!("groups {heading}"), format!("{heading}: {label}"))
    }));
    named
}

/// Sums that are known, each reduced by those before it: linear algebra with remainders.
#[derive(Default)]
struct Known {
    rows: BTreeMap<usize, Vec<u64>>,
}

impl Known {
    fn reduced(&self, set: &BTreeSet<usize>, length: usize) -> Vec<u64> {
        let mut row = vec![0; length];
        for place in set {
            row[*place] = 1;
        }
        for (first, other) in &self.rows {
            let times = row[*first];
            if times > 0 {
                for (number, other) in row.iter_mut().zip(other) {
                    *number = (*number + (PRIME - times) * other) % PRIME;
                }
            }
        }
        row
    }

    fn learn(&mut self, set: &BTreeSet<usize>, length: usize) {
        let mut row = self.reduced(set, length);
        if let Some(first) = row.iter().position(|number| *number > 0) {
            let inverse = power(row[first], PRIME - 2);
            for number in &mut row {
                *number = *number * inverse % PRIME;
            }
            self.rows.insert(first, row);
        }
    }

    fn gives(&self, set: &BTreeSet<usize>, length: usize) -> bool {
        self.reduced(set, length).iter().all(|number| *number == 0)
    }
}

fn power(base: u64, times: u64) -> u64 {
    let square = |number: u64| number * number % PRIME;
    match times {
        0 => 1,
        _ if times.is_multiple_of(2) => square(power(base, times / 2)),
        _ => base * power(base, times - 1) % PRIME,
    }
}

/// Attacks made-up schools, and says how many secrets were attacked.
fn attacked(attack: impl Fn(&Attack<'_>) -> usize) -> usize {
    (0..28_u64)
        .map(|seed| {
            let small = |number: u64| usize::try_from(number).expect("a small number");
            let classes = if seed < 24 { 2 + seed % 4 } else { seed - 16 };
            let size = Size {
                classes: small(classes),
                pupils: 30 + small(seed * 3 + seed / 24 * 60),
                headings: small(seed % 3),
                skills: 2 + small(seed % 2),
                days: &["2026-03-09", "2026-05-11"],
            };
            let works = works(&size, seed);
            let summary = summary(&works, CALENDAR);
            attack(&Attack::new(&works, &summary))
        })
        .sum()
}

#[test]
fn no_row_held_back_is_a_sum_or_difference_of_rows_told() {
    let secrets = attacked(|attack| {
        attack.find_pupils();
        attack.find(&attack.rows_hidden())
    });
    assert!(secrets > 100, "{secrets}");
}

#[test]
fn no_small_crossing_of_year_and_class_can_be_found() {
    let secrets = attacked(|attack| {
        attack.find(&attack.crossings(|one, other| {
            let of_all = (one.table.as_str(), other.table.as_str()) == ("years", "classes");
            let of_skill = (one.table.as_str(), other.table.as_str()) == ("by year", "by class");
            of_all || of_skill && context(one) == context(other)
        }))
    });
    assert!(secrets > 60, "{secrets}");
}

#[test]
fn no_small_crossing_with_a_label_can_be_found() {
    let secrets = attacked(|attack| {
        attack.find(&attack.crossings(|one, other| {
            let places = ["years", "classes"].contains(&one.table.as_str());
            let labels = one.table.starts_with("groups") && one.table < other.table;
            (places || labels) && other.table.starts_with("groups")
        }))
    });
    assert!(secrets > 60, "{secrets}");
}

/// A homework each half term.
const DAYS: [&str; 6] = [
    "2025-09-15",
    "2025-11-10",
    "2026-01-12",
    "2026-03-02",
    "2026-04-20",
    "2026-06-08",
];

#[test]
fn a_large_school_of_mixed_classes_loses_little_but_its_small_groups() {
    let works = works(
        &Size {
            classes: 20,
            pupils: 503,
            headings: 3,
            skills: 11,
            days: &DAYS,
        },
        7,
    );
    let summary = summary(&works, SIX_TERMS);
    let attack = Attack::new(&works, &summary);
    let lost: Vec<String> = attack
        .hidden()
        .filter(|row| row.pupils.len() >= 5 && !row.table.starts_with("by"))
        .map(|row| format!("{} {} of {}", row.table, row.label, row.pupils.len()))
        .collect();
    assert!(lost.len() <= 4, "{lost:?}");
}

#[test]
fn no_row_held_back_is_left_with_one_value() {
    let hidden = attacked(|attack| {
        attack.weigh();
        attack.hidden().count()
    });
    assert!(hidden > 100, "{hidden}");
}
