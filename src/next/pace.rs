//! The level of a pupil's next sheet.

use crate::homework;
use crate::level;
use crate::next;
use crate::next::history;

/// How many answers say enough of a level.
pub const ENOUGH_ANSWERS: usize = 6;

/// How a level came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// The roll says so.
    OnTheRoll,
    /// There is nothing to go by: the middle of the span.
    Start,
    /// There are too few answers to move.
    TooFew,
    /// One up: marks earned, of how many.
    Up(u32, u32),
    /// As before: marks earned, of how many.
    Same(u32, u32),
    /// One down: marks earned, of how many.
    Down(u32, u32),
}

/// Returns the levels that a pupil's sheet may have, the level it gets, and how that
/// came about.
///
/// The level before is that of the last homework handed in: half its marks stood at it
/// or lower. Where that homework has too few answers that count, those of the ones
/// before, as far as they are recent, are added.
pub(super) fn pace(
    pupil: &homework::Pupil,
    history: &history::History<'_>,
    levels: level::Span,
) -> (level::Span, level::Level, Pace) {
    if let Some(level) = pupil.level {
        return (level::Span::from(level), level, Pace::OnTheRoll);
    }
    let Some(before) = history.handed_in().next().and_then(level_of) else {
        return (levels, levels.middle(), Pace::Start);
    };
    let mut share = history::Share::default();
    for past in history.handed_in().take(next::RECENT) {
        if share.answers < ENOUGH_ANSWERS {
            share = share.and(past.share(None));
        }
    }
    let (moved, told): (_, fn(u32, u32) -> Pace) = if share.answers < ENOUGH_ANSWERS {
        (before, |_, _| Pace::TooFew)
    } else if share.is_high() {
        (next_to(before, 1), Pace::Up)
    } else if share.is_low() {
        (next_to(before, -1), Pace::Down)
    } else {
        (before, Pace::Same)
    };
    let level = levels.nearest(moved);
    let is_moved = level != levels.nearest(before);
    let pace = match told(share.earned, share.out_of) {
        // The teacher's span ends here.
        Pace::Up(earned, out_of) | Pace::Down(earned, out_of) if !is_moved => {
            Pace::Same(earned, out_of)
        }
        pace @ (Pace::OnTheRoll
        | Pace::Start
        | Pace::TooFew
        | Pace::Up(..)
        | Pace::Same(..)
        | Pace::Down(..)) => pace,
    };
    (levels, level, pace)
}

/// The level next to one, up or down; itself where there is none.
fn next_to(level: level::Level, by: i8) -> level::Level {
    level
        .number()
        .checked_add_signed(by)
        .and_then(level::Level::new)
        .unwrap_or(level)
}

/// The level in the middle of a sheet: half its marks stand at it or lower.
fn level_of(past: &history::Past<'_>) -> Option<level::Level> {
    let mut levels: Vec<(level::Level, u32)> = past
        .answers
        .iter()
        .map(|answered| (answered.answer.level, u32::from(answered.answer.out_of)))
        .collect();
    levels.sort_unstable();
    let all: u32 = levels.iter().map(|(_, marks)| marks).sum();
    let mut so_far = 0;
    levels
        .into_iter()
        .find(|(_, marks)| {
            so_far += marks;
            2 * so_far >= all
        })
        .map(|(level, _)| level)
}
