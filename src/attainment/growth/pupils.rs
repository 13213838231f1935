//! One pupil from time to time, for the class's own teacher.
//!
//! The scale comes from all records that are reviewed together; a pupil's place has the
//! error of one pupil, which is large: growth is told of few.

use crate::attainment;
use crate::attainment::figures;
use crate::attainment::group;
use crate::attainment::growth;
use crate::statistics::interval;
use crate::statistics::rasch;
use crate::statistics::rasch::answers;
use crate::statistics::rasch::seat;
use std::collections::BTreeMap;

/// What a pupil scored on one sheet.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::attainment) struct Scored {
    /// The date the homework was set, ISO 8601.
    pub(in crate::attainment) set_on: String,
    /// The questions that count.
    pub(in crate::attainment) questions: Vec<answers::Question>,
    /// The marks on all of them.
    pub(in crate::attainment) score: u16,
}

/// A pupil from time to time.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PupilGrowth {
    /// Where the pupil stood at each time.
    pub points: Vec<PupilPoint>,
    /// From each time to the next, and from the first to the last where there are more
    /// than two.
    pub steps: Vec<growth::Step>,
}

/// Where a pupil stood at one time.
#[derive(Debug, Clone, PartialEq)]
pub struct PupilPoint {
    /// The term or day.
    pub time: String,
    /// The place, in logits, with its error.
    pub measure: figures::Told<figures::Span>,
}

struct Stand {
    time: String,
    found: Option<(interval::Estimate, seat::Slope)>,
}

/// Returns one pupil from time to time.
pub(in crate::attainment) fn of(
    sheets: &[Scored],
    scale: Option<&rasch::Scale>,
    school: &attainment::School,
) -> PupilGrowth {
    let mut times: BTreeMap<group::Key, Vec<&Scored>> = BTreeMap::new();
    for sheet in sheets.iter().filter(|it| !school.is_outside(&it.set_on)) {
        let time = school.when(&sheet.set_on);
        times.entry(time).or_default().push(sheet);
    }
    let stands: Vec<Stand> = times
        .into_iter()
        .map(|(time, sheets)| Stand {
            time: time.label,
            found: scale.and_then(|scale| joint(scale, &sheets)),
        })
        .collect();
    let points = stands.iter().map(|stand| PupilPoint {
        time: stand.time.clone(),
        measure: match &stand.found {
            Some((place, _)) => Ok(figures::Span::of(place)),
            None => Err(figures::Why::NoneOnScale),
        },
    });
    let mut steps: Vec<growth::Step> = stands
        .windows(2)
        .map(|two| step(&two[0], &two[1], scale))
        .collect();
    if let ([first, .., last], true) = (&stands[..], stands.len() > 2) {
        steps.push(step(first, last, scale));
    }
    PupilGrowth {
        points: points.collect(),
        steps,
    }
}

/// Returns one place from several sheets, each with the weight of what it tells, and how
/// it hangs on the questions' places.
///
/// Source: the mean with inverse variances as weights (any textbook).
pub(in crate::attainment) fn joint(
    scale: &rasch::Scale,
    sheets: &[&Scored],
) -> Option<(interval::Estimate, seat::Slope)> {
    let placed: Vec<(seat::Seated<'_>, interval::Estimate)> = sheets
        .iter()
        .filter_map(|sheet| {
            let seated = scale.seat(&sheet.questions).ok()?;
            let place = seated.place(u32::from(sheet.score)).ok()?;
            Some((seated, place))
        })
        .collect();
    let joint = weighted(placed.iter().map(|it| it.1))?;
    let mut slope = scale.level();
    for (seated, place) in &placed {
        let weight = joint.error * joint.error / (place.error * place.error);
        seated.add_slope(place.value, weight, &mut slope);
    }
    Some((joint, slope))
}

/// Returns the mean of some estimates, each with the weight of what it tells.
///
/// Source: as for [`joint`].
pub(in crate::attainment) fn weighted(
    places: impl Iterator<Item = interval::Estimate>,
) -> Option<interval::Estimate> {
    let (mut sum, mut weights) = (0.0, 0.0);
    for place in places {
        let weight = 1.0 / (place.error * place.error);
        sum += weight * place.value;
        weights += weight;
    }
    (weights > 0.0).then(|| interval::Estimate {
        value: sum / weights,
        error: 1.0 / libm::sqrt(weights),
    })
}

fn step(first: &Stand, second: &Stand, scale: Option<&rasch::Scale>) -> growth::Step {
    let change = match (&first.found, &second.found, scale) {
        (Some((one, before)), Some((other, after)), Some(scale)) => {
            let drift = scale.drift(&after.clone().less(before));
            Ok(figures::Span::of(&interval::Estimate {
                value: other.value - one.value,
                error: libm::hypot(libm::hypot(one.error, other.error), drift),
            }))
        }
        (None, _, _) | (_, None, _) | (_, _, None) => Err(figures::Why::NoneOnScale),
    };
    growth::Step {
        from: first.time.clone(),
        to: second.time.clone(),
        change,
    }
}
