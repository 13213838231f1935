//! What may be told of a group without telling of a pupil.
//!
//! Groups under [`FEWEST_REPORTED`] pupils are not reported; groups under
//! [`FEWEST_FOR_A_SHARE`] by counts only. Where exactly one group of a table is
//! hidden, its numbers could be found by taking the others from the whole: the
//! next smallest is hidden with it.
//!
//! Source: England's primary tables left out schools with fewer than five
//! pupils tested (press report of about 2011); Wales published nothing for fewer
//! than five pupils and the headline only for five to nine (governors' guidance,
//! May 2017).

use crate::attainment::tally;
use crate::number;

/// Groups with fewer pupils than this are not reported.
pub const FEWEST_REPORTED: u32 = 5;
/// Groups with fewer pupils than this are reported by counts, without a share.
pub const FEWEST_FOR_A_SHARE: u32 = 10;

/// What may be told of a group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shown {
    /// Ten pupils or more: counts and facility.
    InFull {
        /// The counts.
        tally: tally::Tally,
        /// Marks earned of marks to be had; none where no answer counts.
        facility: Option<number::Number>,
    },
    /// Five to nine pupils: counts only.
    CountsOnly {
        /// The counts.
        tally: tally::Tally,
    },
    /// Nothing, and why.
    Hidden(Hidden),
}

/// Why nothing is told of a group.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Hidden {
    /// It has fewer than five pupils.
    TooFew,
    /// A smaller group could be worked out from it.
    HeldBack,
}

impl Hidden {
    /// Returns the words that stand in place of the numbers.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::TooFew => "fewer than 5 pupils",
            Self::HeldBack => "not shown, to protect a smaller group",
        }
    }
}

/// A number of pupils, where it may be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Count {
    /// So many: none, or five or more.
    Pupils(u32),
    /// Not told, and why.
    Hidden(Hidden),
}

/// Returns what may be told of each group of one table.
#[must_use]
pub fn shown(tallies: Vec<tally::Tally>) -> Vec<Shown> {
    let sizes: Vec<u32> = tallies.iter().map(|tally| tally.pupils).collect();
    let hidden = hidden(&sizes, |pupils| pupils < FEWEST_REPORTED);
    tallies
        .into_iter()
        .zip(hidden)
        .map(|(tally, hidden)| match hidden {
            Some(why) => Shown::Hidden(why),
            None if tally.pupils < FEWEST_FOR_A_SHARE => Shown::CountsOnly { tally },
            None => Shown::InFull {
                facility: tally.facility(),
                tally,
            },
        })
        .collect()
}

/// Returns what may be told of each number of pupils of one table.
///
/// None at all may be told: it is about no pupil.
#[must_use]
pub fn counts(pupils: &[u32]) -> Vec<Count> {
    hidden(pupils, |pupils| (1..FEWEST_REPORTED).contains(&pupils))
        .into_iter()
        .zip(pupils)
        .map(|(hidden, pupils)| match hidden {
            Some(why) => Count::Hidden(why),
            None => Count::Pupils(*pupils),
        })
        .collect()
}

/// Returns what may be told of numbers of pupils in rows and columns, where the sum of
/// every row and column may be known.
///
/// A row of fewer than five pupils is hidden whole. Where exactly one number of a row or
/// column is hidden, another of the line is hidden with it: the smallest, rather one
/// that is not nought.
#[must_use]
pub fn grid(rows: &[Vec<u32>]) -> Vec<Vec<Count>> {
    let mut told: Vec<Vec<Count>> = rows
        .iter()
        .map(|row| {
            let all = row.iter().copied().fold(0, u32::saturating_add);
            let is_small = (1..FEWEST_REPORTED).contains(&all);
            row.iter()
                .map(|pupils| {
                    if is_small || (1..FEWEST_REPORTED).contains(pupils) {
                        Count::Hidden(Hidden::TooFew)
                    } else {
                        Count::Pupils(*pupils)
                    }
                })
                .collect()
        })
        .collect();
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let across = (0..rows.len()).map(|row| {
        let line: Vec<(usize, usize)> = (0..columns).map(|column| (row, column)).collect();
        line
    });
    let down = (0..columns).map(|column| (0..rows.len()).map(|row| (row, column)).collect());
    let lines: Vec<Vec<(usize, usize)>> = across.chain(down).collect();
    // Hiding in one line may leave another with one hidden number.
    while lines.iter().any(|line| hide_a_second(&mut told, line)) {}
    told
}

/// Hides another number of a line where exactly one is hidden, and returns whether it
/// did.
fn hide_a_second(told: &mut [Vec<Count>], line: &[(usize, usize)]) -> bool {
    let at = |(row, column): (usize, usize)| told.get(row).and_then(|row| row.get(column));
    let mut hidden = 0_usize;
    let mut smallest: Option<((bool, u32), (usize, usize))> = None;
    for place in line {
        match at(*place) {
            Some(Count::Hidden(_)) => hidden = hidden.saturating_add(1),
            Some(Count::Pupils(pupils)) => {
                let rank = ((*pupils == 0, *pupils), *place);
                smallest = Some(smallest.map_or(rank, |other| other.min(rank)));
            }
            None => {}
        }
    }
    let Some((_, (row, column))) = smallest.filter(|_| hidden == 1) else {
        return false;
    };
    let cell = told.get_mut(row).and_then(|row| row.get_mut(column));
    if let Some(cell) = cell {
        *cell = Count::Hidden(Hidden::HeldBack);
    }
    true
}

/// Which groups are hidden, by their sizes.
fn hidden(sizes: &[u32], is_too_small: impl Fn(u32) -> bool) -> Vec<Option<Hidden>> {
    let mut hidden: Vec<Option<Hidden>> = sizes
        .iter()
        .map(|size| is_too_small(*size).then_some(Hidden::TooFew))
        .collect();
    if hidden.iter().flatten().count() == 1 {
        let next = sizes
            .iter()
            .zip(hidden.iter_mut())
            .filter(|(size, hidden)| **size > 0 && hidden.is_none())
            .min_by_key(|(size, _)| **size);
        if let Some((_, place)) = next {
            *place = Some(Hidden::HeldBack);
        }
    }
    hidden
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tally(pupils: u32) -> tally::Tally {
        tally::Tally {
            pupils,
            earned: pupils,
            available: pupils.saturating_mul(2),
            ..tally::Tally::default()
        }
    }

    #[test]
    fn small_groups_are_hidden_and_middling_ones_have_no_share() {
        let told = |pupils| shown(vec![tally(pupils), tally(1), tally(2)]).swap_remove(0);
        assert_eq!(told(0), Shown::Hidden(Hidden::TooFew));
        assert_eq!(told(4), Shown::Hidden(Hidden::TooFew));
        assert_eq!(told(5), Shown::CountsOnly { tally: tally(5) });
        assert_eq!(told(9), Shown::CountsOnly { tally: tally(9) });
        let half = number::Number::ratio(1, 2).ok();
        assert_eq!(
            told(10),
            Shown::InFull {
                tally: tally(10),
                facility: half
            }
        );
    }

    #[test]
    fn one_hidden_group_takes_the_next_smallest_with_it() {
        let (few, back) = (Some(Hidden::TooFew), Some(Hidden::HeldBack));
        let small = |size| size < 5;
        for (sizes, expected) in [
            (vec![30, 3, 25], vec![None, few, back]),
            (vec![30, 3, 2], vec![None, few, few]),
            (vec![30, 28], vec![None, None]),
            (vec![3], vec![few]),
            (vec![3, 8, 8], vec![few, back, None]),
        ] {
            assert_eq!(hidden(&sizes, small), expected, "{sizes:?}");
        }
        assert_eq!(
            counts(&[0, 3, 12, 0]),
            vec![
                Count::Pupils(0),
                Count::Hidden(Hidden::TooFew),
                Count::Hidden(Hidden::HeldBack),
                Count::Pupils(0)
            ]
        );
    }

    #[test]
    fn no_number_of_a_grid_is_left_alone_in_its_row_or_column() {
        let (few, back) = (
            Count::Hidden(Hidden::TooFew),
            Count::Hidden(Hidden::HeldBack),
        );
        let told = Count::Pupils;
        assert_eq!(
            grid(&[vec![3, 20, 8], vec![10, 9, 30], vec![12, 15, 11]]),
            [
                vec![few, told(20), back],
                vec![back, back, told(30)],
                vec![told(12), back, back]
            ]
        );
        assert_eq!(grid(&[vec![0, 4, 0]]), [vec![few, few, few]], "a small row");
        assert_eq!(grid(&[vec![0, 30]]), [vec![told(0), told(30)]]);
        assert_eq!(grid(&[vec![0, 4, 30]]), [vec![told(0), few, back]]);
        assert_eq!(grid(&[]), Vec::<Vec<Count>>::new());
    }
}
