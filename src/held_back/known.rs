//! What a reader knows: the numbers told, the reasons given, the rules, the sums.

use crate::held_back;
use std::collections::BTreeSet;

/// What a reader sees in the place of each number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct View {
    /// For each cell of the ledger.
    pub(super) seen: Vec<Seen>,
}

/// What a reader sees of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    /// The number itself.
    Shown,
    /// A reason.
    HeldBack(held_back::Reason),
    /// Nothing: it is in no table.
    Never,
}

/// Returns what the rules alone hold back.
pub(super) fn by_the_rules(ledger: &held_back::Ledger) -> View {
    let numbers: Vec<u64> = ledger.cells.iter().map(|cell| cell.value).collect();
    let seen = ledger.cells.iter().enumerate().map(|(place, cell)| {
        if is_in_no_table(cell.rule) {
            return Seen::Never;
        }
        reason(ledger, &numbers, place).map_or(Seen::Shown, Seen::HeldBack)
    });
    View {
        seen: seen.collect(),
    }
}

/// Returns why the rules hold a number back, if they do.
fn reason(ledger: &held_back::Ledger, numbers: &[u64], cell: usize) -> Option<held_back::Reason> {
    let number = numbers[cell];
    let group = ledger.cells[cell].group();
    let pupils = group.map_or(number, |group| numbers[group.0]);
    let is_few = (held_back::FEWEST_REPORTED..held_back::FEWEST_FOR_A_SHARE).contains(&pupils);
    let (tells, is_too_few) = match ledger.cells[cell].rule {
        held_back::Rule::Group => (false, held_back::is_small(number)),
        // One reason for one to four and for all or none, which would else be told apart.
        held_back::Rule::Within(_) => {
            let is_too_few = held_back::is_small(number);
            let all_or_none = number == 0 || number == pupils;
            (is_few && (is_too_few || all_or_none), is_too_few)
        }
        held_back::Rule::Part { group: _, of } => (
            is_few && is_nearly_all_or_none(number, numbers[of.0]),
            false,
        ),
        held_back::Rule::Amount(_) => (false, false),
        held_back::Rule::Crossing | held_back::Rule::CrossingAmount(_) | held_back::Rule::Rest => {
            return None;
        }
    };
    if tells || (group.is_some() && held_back::is_small(pupils)) {
        Some(held_back::Reason::SmallGroup)
    } else {
        is_too_few.then_some(held_back::Reason::TooFew)
    }
}

/// Whether it says of nearly each single one what it says of all: a fifth or less is
/// left. To hold back just all and none would say that it is one of the two.
fn is_nearly_all_or_none(part: u64, whole: u64) -> bool {
    let left = part.min(whole.saturating_sub(part));
    left.saturating_mul(5) <= whole
}

fn is_in_no_table(rule: held_back::Rule) -> bool {
    match rule {
        held_back::Rule::Crossing | held_back::Rule::CrossingAmount(_) | held_back::Rule::Rest => {
            true
        }
        held_back::Rule::Group
        | held_back::Rule::Within(_)
        | held_back::Rule::Amount(_)
        | held_back::Rule::Part { .. } => false,
    }
}

impl View {
    /// Returns the lowest and the highest value that a reader must think possible for
    /// a number not told, by its rule and reason alone.
    pub(super) fn bounds(&self, ledger: &held_back::Ledger, cell: usize) -> (u64, u64) {
        let rule = ledger.cells[cell].rule;
        let why = match self.seen[cell] {
            Seen::Shown => return (ledger.cells[cell].value, ledger.cells[cell].value),
            Seen::HeldBack(why) => Some(why),
            Seen::Never => None,
        };
        let is_pupils = match rule {
            held_back::Rule::Group | held_back::Rule::Within(_) => true,
            held_back::Rule::Crossing => return (1, u64::MAX),
            held_back::Rule::Amount(_)
            | held_back::Rule::Part { .. }
            | held_back::Rule::CrossingAmount(_)
            | held_back::Rule::Rest => false,
        };
        match why {
            Some(held_back::Reason::TooFew) => (1, held_back::FEWEST_REPORTED - 1),
            // Fewer would have been held back for that, and none is always told.
            Some(held_back::Reason::ToProtect) if is_pupils => {
                (held_back::FEWEST_REPORTED, u64::MAX)
            }
            Some(held_back::Reason::Unsaid) if rule == held_back::Rule::Group => (1, u64::MAX),
            Some(
                held_back::Reason::SmallGroup
                | held_back::Reason::ToProtect
                | held_back::Reason::Unsaid,
            )
            | None => (0, u64::MAX),
        }
    }

    /// Whether other numbers fit everything that a reader knows: the sums, and that the
    /// same rules would have led to the same numbers told and the same reasons.
    pub(super) fn allows(&self, ledger: &held_back::Ledger, numbers: &[u64]) -> bool {
        let adds_up = |sum: &held_back::Sum| {
            let mut parts = sum.parts.iter();
            let parts = parts.try_fold(0_u64, |all, part| all.checked_add(numbers[*part]));
            parts == Some(numbers[sum.whole])
        };
        numbers.len() == ledger.cells.len()
            && ledger.sums.iter().all(adds_up)
            && (0..numbers.len()).all(|cell| self.fits(ledger, numbers, cell))
    }

    fn fits(&self, ledger: &held_back::Ledger, numbers: &[u64], cell: usize) -> bool {
        let (low, high) = self.bounds(ledger, cell);
        if !(low..=high).contains(&numbers[cell]) {
            return false;
        }
        let by_rule = || reason(ledger, numbers, cell);
        match self.seen[cell] {
            Seen::Shown | Seen::HeldBack(held_back::Reason::ToProtect) => by_rule().is_none(),
            Seen::HeldBack(why @ held_back::Reason::TooFew) => by_rule() == Some(why),
            Seen::HeldBack(why @ held_back::Reason::SmallGroup) => {
                let group = ledger.cells[cell].group();
                let with_it = group.is_some_and(|group| self.seen[group.0] != Seen::Shown);
                with_it || by_rule() == Some(why)
            }
            Seen::HeldBack(held_back::Reason::Unsaid) | Seen::Never => true,
        }
    }

    /// Whether a number must not be found out.
    pub(super) fn is_secret(&self, ledger: &held_back::Ledger, cell: usize) -> bool {
        match self.seen[cell] {
            Seen::Shown => false,
            Seen::HeldBack(_) => true,
            Seen::Never => match ledger.cells[cell].rule {
                held_back::Rule::Rest => false,
                held_back::Rule::Group
                | held_back::Rule::Within(_)
                | held_back::Rule::Amount(_)
                | held_back::Rule::Part { .. }
                | held_back::Rule::Crossing
                | held_back::Rule::CrossingAmount(_) => {
                    held_back::is_small(ledger.pupils(&ledger.cells[cell]))
                }
            },
        }
    }

    /// Returns every number not told that hangs together with one by sums.
    pub(super) fn reach(&self, ledger: &held_back::Ledger, start: usize) -> BTreeSet<usize> {
        self.rings(ledger, start).into_iter().flatten().collect()
    }

    /// The same in rings: the one itself, those in a sum with it, those in a sum with
    /// these, and so on.
    pub(super) fn rings(&self, ledger: &held_back::Ledger, start: usize) -> Vec<BTreeSet<usize>> {
        let mut met = BTreeSet::from([start]);
        let mut rings = vec![met.clone()];
        loop {
            let ring = rings.last().cloned().unwrap_or_default();
            let sums = ledger.sums.iter();
            let sums = sums.filter(|sum| sum.cells().any(|cell| ring.contains(&cell)));
            let next: BTreeSet<usize> = sums
                .flat_map(held_back::Sum::cells)
                .filter(|cell| self.seen[*cell] != Seen::Shown && !met.contains(cell))
                .collect();
            if next.is_empty() {
                return rings;
            }
            met.extend(&next);
            rings.push(next);
        }
    }
}
