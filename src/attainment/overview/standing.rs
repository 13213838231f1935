//! How years, skills and groups stand: by their intervals, never by small differences.
//!
//! Two groups are told apart only where their 95 % intervals do not meet.
//!
//! Source: intervals that do not meet are a cautious sign of a difference: chance alone
//! parts two of 95 % far less often than once in twenty (Schenker and Gentleman 2001, The
//! American Statistician 55, 182-186, from memory).

use crate::attainment;
use crate::attainment::count;
use crate::attainment::overview;
use crate::attainment::tally;
use crate::statistics::interval;

/// A group whose share may be told.
#[derive(Debug, Clone)]
pub(super) struct Standing<'a> {
    /// Its name.
    pub(super) label: &'a str,
    /// Its facility in hundredths.
    pub(super) percent: u32,
    /// Where that may as well lie.
    pub(super) interval: interval::Interval,
    /// How many pupils.
    pub(super) pupils: u32,
}

/// Where a group stands beside all together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Beside {
    /// All of its interval lies above.
    Above,
    /// The whole lies in its interval: no difference can be told.
    Within,
    /// All of its interval lies below.
    Below,
}

impl<'a> Standing<'a> {
    /// Returns how a group stands; nothing where its share may not be told.
    pub(super) fn of(row: &'a attainment::Row) -> Option<Self> {
        Self::told(&row.label, &row.shown)
    }

    /// Returns how what is told of a group stands; nothing where its share may not be
    /// told.
    pub(super) fn told(label: &'a str, shown: &count::Shown) -> Option<Self> {
        let figures = overview::shared_of(shown)?;
        let share = figures.share().ok()?;
        Some(Self {
            label,
            percent: tally::percent(share.value()),
            interval: share.interval(),
            pupils: figures.pupils,
        })
    }

    /// Returns where it stands beside a share in hundredths.
    pub(super) fn beside(&self, percent: u32) -> Beside {
        let share = f64::from(percent) / 100.0;
        if self.interval.low > share {
            Beside::Above
        } else if self.interval.high < share {
            Beside::Below
        } else {
            Beside::Within
        }
    }

    /// Whether the two intervals do not meet, and this one is the lower.
    fn is_under(&self, other: &Self) -> bool {
        self.interval.high < other.interval.low
    }

    /// `Ratio 43 % (35 to 51)`.
    pub(super) fn words(&self, name: &str) -> String {
        format!(
            "{name} {} % ({})",
            self.percent,
            overview::ends(&self.interval)
        )
    }
}

/// Every group of a table whose share may be told, as the table has them.
pub(super) fn standings(rows: &[attainment::Row]) -> Vec<Standing<'_>> {
    rows.iter().filter_map(Standing::of).collect()
}

/// How the years stand.
pub(super) fn years(summary: &attainment::Summary) -> Vec<String> {
    let years = standings(&summary.years);
    if years.is_empty() {
        return vec![
            "This cannot be told: no year group has the 10 pupils that a share needs.".to_owned(),
        ];
    }
    let told: Vec<String> = years
        .iter()
        .map(|it| {
            let name = attainment::said_year(it.label);
            let end = overview::ends(&it.interval);
            format!("{name} {} % ({end}; {} pupils)", it.percent, it.pupils)
        })
        .collect();
    let mut texts = vec![format!(
        "Marks earned of those to be had, with the 95 % interval: {}.",
        overview::listed(&told)
    )];
    if years.len() > 1 {
        let mut text = apart(&years, attainment::said_year);
        text.push_str(" Each year had questions of its own level, so this is no order of merit.");
        texts.push(text);
    }
    texts
}

/// What holds and what does not: skills beside all skills together.
pub(super) fn skills(summary: &attainment::Summary) -> Vec<String> {
    let skills = standings(&summary.skills);
    let Some(whole) = Standing::of(&summary.whole).filter(|_| skills.len() > 1) else {
        return vec![
            "This cannot be told: it needs two skills, each asked of 10 pupils or more.".to_owned(),
        ];
    };
    let among = |beside| {
        let mut found: Vec<&Standing<'_>> = skills
            .iter()
            .filter(|skill| skill.beside(whole.percent) == beside)
            .collect();
        found.sort_by_key(|skill| skill.percent);
        if beside == Beside::Above {
            found.reverse();
        }
        let words = found.iter().map(|skill| skill.words(skill.label));
        words.collect::<Vec<String>>()
    };
    let mut texts = Vec::new();
    let (above, within, below) = (
        among(Beside::Above),
        among(Beside::Within),
        among(Beside::Below),
    );
    if !above.is_empty() {
        texts.push(format!("Holds best: {}.", overview::listed(&above)));
    }
    if !below.is_empty() {
        texts.push(format!("Holds least: {}.", overview::listed(&below)));
    }
    if !within.is_empty() {
        texts.push(format!(
            "Not told apart from all skills together ({} %): {}.",
            whole.percent,
            overview::listed(&within)
        ));
    }
    texts
}

/// Whether some groups of the roll do less well: the comparisons that were made, or why
/// there are none.
pub(super) fn groups(summary: &attainment::Summary) -> Vec<String> {
    let told = &summary.figures.comparisons.sentences;
    if !told.is_empty() {
        return told.iter().take(overview::MOST_NAMED).cloned().collect();
    }
    vec![
        if summary.groups.is_empty() {
            "This cannot be told: the class lists have no column of groups, such as `table` or \
         `reading`."
        } else {
            "This cannot be told: no heading has two groups of 10 pupils or more."
        }
        .to_owned(),
    ]
}

/// Whether it has grown, or why that cannot be told.
pub(super) fn growth(summary: &attainment::Summary) -> Vec<String> {
    let told = &summary.figures.growth.sentences;
    if told.is_empty() {
        return vec!["This cannot be told from these homeworks.".to_owned()];
    }
    told.iter().take(overview::MOST_NAMED).cloned().collect()
}

/// Which of several stand apart beyond chance, in a sentence; there are two at least.
fn apart(standings: &[Standing<'_>], name: impl Fn(&str) -> String) -> String {
    let highest = standings
        .iter()
        .max_by(|one, other| one.interval.low.total_cmp(&other.interval.low));
    let Some(highest) = highest else {
        return String::new();
    };
    let under: Vec<String> = standings
        .iter()
        .filter(|it| it.is_under(highest))
        .map(|it| it.words(&name(it.label)))
        .collect();
    if under.is_empty() {
        return "No difference can be told: the intervals meet.".to_owned();
    }
    let verb = if under.len() == 1 { "stands" } else { "stand" };
    format!(
        "{} {verb} lower than {} by more than chance.",
        overview::listed(&under),
        highest.words(&name(highest.label))
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn standing(label: &str, percent: u32, low: f64, high: f64) -> Standing<'_> {
        Standing {
            label,
            percent,
            interval: interval::Interval { low, high },
            pupils: 30,
        }
    }

    #[test]
    fn only_intervals_that_do_not_meet_tell_groups_apart() {
        let (one, two) = (standing("5", 60, 0.5, 0.7), standing("6", 75, 0.65, 0.84));
        assert_eq!(
            apart(&[one.clone(), two.clone()], attainment::said_year),
            "No difference can be told: the intervals meet."
        );
        let low = standing("4", 30, 0.2, 0.42);
        assert_eq!(
            apart(&[low, one, two], attainment::said_year),
            "Year 4 30 % (20 to 42) stands lower than Year 6 75 % (65 to 84) by more than chance."
        );
    }

    #[test]
    fn a_skill_whose_interval_holds_the_whole_is_not_told_apart() {
        let skill = standing("Ratio", 60, 0.5, 0.7);
        for (whole, beside) in [
            (40, Beside::Above),
            (55, Beside::Within),
            (80, Beside::Below),
        ] {
            assert_eq!(skill.beside(whole), beside, "{whole}");
        }
    }
}
