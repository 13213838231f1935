//! How pupils, classes and years stand from time to time, on one scale of questions.
//!
//! Not the share of marks, which goes up with easier questions: the mean of the pupils'
//! places (Warm's) on a scale that all records together give. Where questions stand on
//! several scales, since nobody's answers link them, a group is told on the one that most
//! of its times are on: its times can be compared there, groups on different scales
//! cannot. A change is called growth only where
//! - at least 4 in 5 pupils are the same at both times (of the larger number), else it is
//!   another group of pupils (common practice, no source);
//! - it exceeds its error: that of the two means (their spread over the pupils, which has
//!   the errors of the pupils' places in it) and that of the questions' places, as far as
//!   the two times had different questions.
//!
//! That the same pupils are met twice would make the error smaller; it is not used, since
//! no pupil is followed. So growth is rather missed than claimed.
//!
//! A time is a term where the school has a calendar, else the day a homework was set.
//! Premise: a question is as hard at one time as at the other.

use crate::attainment;
use crate::attainment::figures;
use crate::attainment::group;
use crate::attainment::names;
use crate::statistics::interval;
use crate::statistics::rasch;
use roaring::RoaringBitmap;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

mod part;
pub mod pupils;

/// What is told of growth.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Growth {
    /// All pupils, then each year, then each class, of those that may be told.
    pub groups: Vec<GroupGrowth>,
    /// What was found, what is not told and why.
    pub sentences: Vec<String>,
}

/// One group from time to time.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupGrowth {
    /// What kind of group it is.
    pub kind: Kind,
    /// Its name, as in the summary's rows.
    pub label: String,
    /// The number of its scale, from 1, where groups stand on several.
    pub scale: Option<usize>,
    /// Where it stood at each time.
    pub points: Vec<Point>,
    /// From each time to the next, and from the first to the last where there are more
    /// than two.
    pub steps: Vec<Step>,
}

/// What kind of group it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// All pupils.
    All,
    /// A year.
    Year,
    /// A class.
    Class,
}

/// Where a group stood at one time.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// The term or day.
    pub time: String,
    /// How many pupils handed in.
    pub pupils: figures::Told<u32>,
    /// The mean of their places, in logits, with the error of the mean.
    pub measure: figures::Told<figures::Span>,
}

/// From one time to another.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The earlier time.
    pub from: String,
    /// The later time.
    pub to: String,
    /// How much higher the group stands, in logits.
    pub change: figures::Told<figures::Span>,
}

impl Kind {
    /// Returns the word for it.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::All => "All",
            Self::Year => "Year",
            Self::Class => "Class",
        }
    }
}

impl GroupGrowth {
    /// Returns its name, with its scale where groups stand on several: `8 (scale 2)`.
    #[must_use]
    pub fn shown(&self) -> String {
        figures::on_scale(&self.label, self.scale)
    }

    /// At how many times its place is told.
    fn measured(&self) -> usize {
        self.points.iter().filter(|it| it.measure.is_ok()).count()
    }
}

impl Step {
    /// Whether it is growth: a rise that exceeds its error.
    #[must_use]
    pub fn is_growth(&self) -> bool {
        self.change.is_ok_and(|change| change.low > 0.0)
    }

    /// Returns what it is, in a few words.
    #[must_use]
    pub fn verdict(&self) -> String {
        match self.change {
            Ok(change) if change.low > 0.0 => "growth".to_owned(),
            Ok(change) if change.high < 0.0 => "a fall beyond its error".to_owned(),
            Ok(_) => "no change beyond its error".to_owned(),
            Err(why) => why.to_string(),
        }
    }
}

/// With fewer pupils nothing is told of a group at a time: its mean could tell of one.
const FEWEST: u64 = 10;
/// Under so many pupils of a group at a time, nothing is told of any group of the table
/// at that time: theirs could be worked out from the others.
const FEWEST_COUNTED: u64 = 5;

/// Returns what is told of growth.
pub(super) fn of(basis: &figures::Basis<'_>) -> Growth {
    let mut growth = Growth {
        groups: Vec::new(),
        sentences: Vec::new(),
    };
    let scales = &basis.scales.scales;
    if scales.is_empty() {
        growth
            .sentences
            .push("No growth is told: the questions stand on no scale.".to_owned());
        return growth;
    }
    let places: Vec<(&rasch::Scale, part::Places<'_>)> = scales
        .iter()
        .map(|scale| (scale, part::Places::of(basis, scale)))
        .collect();
    let whole = std::slice::from_ref(&basis.summary.whole);
    let all = |_: names::Name, _: names::Name| group::class("All");
    let year = |year: names::Name, _: names::Name| group::year(basis.fold.names.text(year));
    let class = |_: names::Name, class: names::Name| group::class(basis.fold.names.text(class));
    let tables: [(Kind, &[attainment::Row], &part::KeyOf<'_>); 3] = [
        (Kind::All, whole, &all),
        (Kind::Year, &basis.summary.years, &year),
        (Kind::Class, &basis.summary.classes, &class),
    ];
    for (kind, rows, key) in tables {
        let is_hidden = |row: &attainment::Row| match figures::in_full(row) {
            Err(figures::Why::Hidden(_)) => true,
            Ok(_) | Err(_) => false,
        };
        if kind != Kind::All && rows.iter().any(is_hidden) {
            growth.sentences.push(format!(
                "By {} no growth is told: some are too small to be told of, and theirs could be \
                 worked out.",
                kind.text().to_lowercase()
            ));
            continue;
        }
        let mut best: BTreeMap<group::Key, GroupGrowth> = BTreeMap::new();
        for (number, (scale, places)) in (1..).zip(&places) {
            let parts = places.parts(basis, key);
            let times = held_back(&parts);
            for (key, parts) in &parts {
                let row = rows.iter().find(|row| row.label == key.label);
                if row.is_none_or(|row| figures::in_full(row).is_err()) {
                    continue;
                }
                let stands = places.stand(parts, &times);
                let group = GroupGrowth {
                    scale: Some(number),
                    ..group_growth(kind, &key.label, &stands, scale)
                };
                let before = best.get(key).map(GroupGrowth::measured);
                if before.is_none_or(|before| before < group.measured()) {
                    best.insert(key.clone(), group);
                }
            }
        }
        growth.groups.extend(best.into_values());
    }
    growth.sentences.extend(sentences(&growth.groups));
    name_scales(&mut growth);
    growth
}

/// Leaves the numbers of scales out where all that is told stands on one.
fn name_scales(growth: &mut Growth) {
    let measured = growth.groups.iter().filter(|group| group.measured() > 0);
    let used: BTreeSet<Option<usize>> = measured.map(|group| group.scale).collect();
    if used.len() > 1 {
        growth.sentences.push(
            "Groups on different scales cannot be compared with each other: nobody's answers \
             link their questions."
                .to_owned(),
        );
    }
    for group in &mut growth.groups {
        if used.len() < 2 || group.measured() == 0 {
            group.scale = None;
        }
    }
}

/// The times at which some group is too small to be told of.
fn held_back(
    parts: &BTreeMap<group::Key, BTreeMap<group::Key, part::Part>>,
) -> BTreeSet<group::Key> {
    let times = parts.values().flatten();
    times
        .filter(|(_, part)| (1..FEWEST_COUNTED).contains(&part.pupils.len()))
        .map(|(time, _)| time.clone())
        .collect()
}

/// One group from time to time.
fn group_growth(
    kind: Kind,
    label: &str,
    stands: &[part::Stand],
    scale: &rasch::Scale,
) -> GroupGrowth {
    let points = stands.iter().map(|stand| Point {
        time: stand.time.clone(),
        pupils: stand.told.map(|()| stand.pupils_counted()),
        measure: stand.mean().map(|mean| figures::Span::of(&mean)),
    });
    let mut steps: Vec<Step> = stands
        .windows(2)
        .map(|two| step(&two[0], &two[1], scale))
        .collect();
    if let ([first, .., last], true) = (stands, stands.len() > 2) {
        steps.push(step(first, last, scale));
    }
    GroupGrowth {
        kind,
        label: label.to_owned(),
        scale: None,
        points: points.collect(),
        steps,
    }
}

fn step(first: &part::Stand, second: &part::Stand, scale: &rasch::Scale) -> Step {
    Step {
        from: first.time.clone(),
        to: second.time.clone(),
        change: change(first, second, scale),
    }
}

/// How much higher the group stands, where it may be called the same group.
fn change(
    first: &part::Stand,
    second: &part::Stand,
    scale: &rasch::Scale,
) -> figures::Told<figures::Span> {
    let (one, other) = (first.mean()?, second.mean()?);
    let same = first.pupils.intersection_len(&second.pupils);
    let most = first.pupils.len().max(second.pupils.len());
    // Compared as whole numbers: at least 4 in 5.
    if same.saturating_mul(5) < most.saturating_mul(4) {
        return Err(figures::Why::OtherPupils);
    }
    let drift = scale.drift(&second.slope.clone().less(&first.slope));
    let error = libm::hypot(libm::hypot(one.error, other.error), drift);
    Ok(figures::Span::of(&interval::Estimate {
        value: other.value - one.value,
        error,
    }))
}

/// What was found.
fn sentences(groups: &[GroupGrowth]) -> Vec<String> {
    let steps = groups.iter().flat_map(|it| &it.steps);
    let compared = steps.clone().filter(|step| step.change.is_ok()).count();
    let other = steps
        .clone()
        .filter(|step| step.change == Err(figures::Why::OtherPupils))
        .count();
    let mut texts = Vec::new();
    if groups.iter().all(|group| group.points.len() < 2) {
        texts.push("No growth is told: there is one time only.".to_owned());
        return texts;
    }
    texts.extend(by_verdict(groups));
    if compared > 0 {
        let grew = steps.clone().filter(|step| step.is_growth()).count();
        texts.push(format!(
            "{compared} changes were looked at, {grew} of them are growth beyond error. Without \
             any growth about one in forty would seem so by chance."
        ));
    }
    if other > 0 {
        texts.push(format!(
            "{other} changes are not called growth: fewer than 4 in 5 pupils are the same at both \
             times."
        ));
    }
    texts
}

/// What became of each group from its first time to its last, a sentence for each kind of
/// change.
fn by_verdict(groups: &[GroupGrowth]) -> Vec<String> {
    let mut found: BTreeMap<(usize, String), Vec<String>> = BTreeMap::new();
    // The last step is the longest.
    for (group, step) in groups.iter().filter_map(|it| Some((it, it.steps.last()?))) {
        let name = match group.kind {
            Kind::All => "all pupils".to_owned(),
            Kind::Year => attainment::said_year(&group.label),
            Kind::Class => group.label.clone(),
        };
        let (order, said) = match step.change {
            Ok(change) => {
                let by = figures::decimal(change.value);
                let order = if change.low > 0.0 {
                    0
                } else {
                    1 + usize::from(change.high < 0.0)
                };
                (order, format!("{name} ({by} logits, {})", change.range()))
            }
            Err(_) => (3, name),
        };
        let kind = format!("{}, {} to {}", step.verdict(), step.from, step.to);
        found.entry((order, kind)).or_default().push(said);
    }
    found
        .into_iter()
        .map(|((order, kind), groups)| {
            let heading = if order == 3 {
                format!("Not told ({kind})")
            } else {
                let mut signs = kind.chars();
                let first = signs.next().map(|it| it.to_uppercase().to_string());
                format!("{}{}", first.unwrap_or_default(), signs.as_str())
            };
            format!("{heading}: {}.", groups.join("; "))
        })
        .collect()
}

/// The pupils of several cells.
type Pupils = RoaringBitmap;
