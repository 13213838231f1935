//! How a pupil stands in a skill, and when it should come back.

use crate::level;
use crate::marking::findings;
use crate::next::day;
use crate::next::history;

/// Over how many homeworks that asked a skill it is judged.
pub const JUDGED_OVER: usize = 2;

/// How many answers say something of a skill: one alone may be chance.
pub const FEWEST_ANSWERS: usize = findings::FEWEST_ANSWERS;

/// The longest gap, in weeks: about a term and a half-term holiday.
pub const LONGEST_GAP_WEEKS: i64 = 16;

/// How a pupil stands in a skill.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Never answered.
    NotYet,
    /// Below half the marks: marks earned, of how many.
    Failed(u32, u32),
    /// Neither, or on one answer only: marks earned, of how many.
    OnItsWay(u32, u32),
    /// Four fifths of the marks or more.
    Secure {
        /// Days since it was last asked, where the dates can be read.
        days: Option<i64>,
        /// Days that it may rest before it comes back.
        gap: i64,
    },
}

impl Standing {
    /// Whether a secure skill should come back: one that has rested long enough, or
    /// nobody knows how long.
    #[must_use]
    pub fn is_due(self) -> bool {
        match self {
            Self::Secure { days, gap } => days.is_none_or(|days| days >= gap),
            Self::NotYet | Self::Failed(..) | Self::OnItsWay(..) => false,
        }
    }
}

/// Returns how a pupil stands in a skill on the day a homework is set.
pub(super) fn standing(
    history: &history::History<'_>,
    skill: level::Skill,
    today: &str,
) -> Standing {
    let asked: Vec<(&str, history::Share)> = history
        .handed_in()
        .map(|past| (past.set_on, past.share(Some(skill))))
        .filter(|(_, share)| share.answers > 0)
        .collect();
    let Some((last, _)) = asked.first() else {
        return Standing::NotYet;
    };
    let share = asked
        .iter()
        .take(JUDGED_OVER)
        .fold(history::Share::default(), |sum, (_, share)| sum.and(*share));
    if share.answers < FEWEST_ANSWERS {
        return Standing::OnItsWay(share.earned, share.out_of);
    }
    if share.is_low() {
        return Standing::Failed(share.earned, share.out_of);
    }
    if !share.is_high() {
        return Standing::OnItsWay(share.earned, share.out_of);
    }
    let times = asked
        .iter()
        .take_while(|(_, share)| share.is_high())
        .count();
    Standing::Secure {
        days: day::days_between(last, today).map(|days| days.max(0)),
        gap: 7 * gap_weeks(times),
    }
}

/// One week after the first success, two after the second, four, eight, sixteen.
fn gap_weeks(times: usize) -> i64 {
    (1..times).fold(1, |gap: i64, _| (gap * 2).min(LONGEST_GAP_WEEKS))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_double_up_to_the_longest() {
        let gaps: Vec<i64> = (0..8).map(gap_weeks).collect();
        assert_eq!(gaps, [1, 1, 2, 4, 8, 16, 16, 16]);
    }
}
