//! What may be told of groups without telling of a pupil, however the numbers of one
//! run are added and subtracted.
//!
//! Takes the numbers of all tables of a run as cells of one [`Ledger`], with every sum
//! that a reader knows to hold between them; gives for each cell whether it may be
//! told ([`Told`]). Knows nothing of pupils, classes or files.
//!
//! The rules:
//! - a number of one to four pupils is held back, with all that is told of them; none
//!   at all may be told, it is about nobody;
//! - of five to nine pupils counts are told, never a share; and no count of theirs that
//!   says that all or none of them did something, or nearly so (a fifth or less is left);
//! - more is held back, the smallest first, until nothing that is held back can be
//!   found out.
//!
//! *Found out* means: a reader who knows these rules, the reason that stands in the
//! place of each number, every number told and every sum, is left with one value only.
//! For every number held back there are at least two ([`LEAST_WIDTH`]), and for every
//! crossing of groups that is in no table but has one to four pupils in it as well. This
//! is proved for each by another set of numbers that fits all that is told.
//!
//! Not covered: what a reader knows from elsewhere, such as a pupil's own marks; groups
//! of other runs; and guesses from which numbers the program chose to hold back. A share
//! is taken to tell its count exactly, though it is rounded.
//!
//! Source: England's primary tables left out schools with fewer than five pupils tested
//! (press report of about 2011); Wales published nothing for fewer than five pupils and
//! the headline only for five to nine (governors' guidance, May 2017). The search for
//! more to hold back is common practice in official statistics (complementary or
//! secondary suppression), no source.

use std::fmt;

mod audit;
mod choose;
pub mod groups;
mod known;

/// Groups with fewer pupils than this are not reported.
pub const FEWEST_REPORTED: u64 = 5;
/// Groups with fewer pupils than this are reported by counts, without a share.
pub const FEWEST_FOR_A_SHARE: u64 = 10;
/// So many values are left possible, at least, for whatever is held back.
pub const LEAST_WIDTH: usize = 2;

/// Numbers that are told in one run, and the sums that hold between them.
///
/// # Example
///
/// Three classes of one year. The class of three is held back, and so that it cannot
/// be found by taking the others from the year, the next smallest.
///
/// ```
/// use toothmark::held_back::Ledger;
/// use toothmark::held_back::Reason;
/// use toothmark::held_back::Rule;
/// use toothmark::held_back::Told;
///
/// let mut ledger = Ledger::default();
/// let year = ledger.cell(58, Rule::Group).expect("it fits");
/// let classes = [30, 3, 25].map(|pupils| ledger.cell(pupils, Rule::Group).expect("it fits"));
/// ledger.sum(year, &classes).expect("they add up");
/// let told = ledger.protect();
/// assert_eq!(told.of(year), Told::InFull(58));
/// assert_eq!(told.of(classes[0]), Told::InFull(30));
/// assert_eq!(told.of(classes[1]), Told::HeldBack(Reason::TooFew));
/// assert_eq!(told.of(classes[2]), Told::HeldBack(Reason::ToProtect));
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Ledger {
    cells: Vec<Cell>,
    sums: Vec<Sum>,
}

/// The place of a number in its ledger.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CellId(usize);

/// What a number is, and so by which rule it is held back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Rule {
    /// The pupils of a group.
    Group,
    /// The pupils of a group who have something, such as a misconception.
    Within(CellId),
    /// Marks to be had, answers or anything else that a group has some of.
    Amount(CellId),
    /// Marks earned of marks to be had by a group, or right answers of all.
    Part {
        /// The pupils of the group.
        group: CellId,
        /// What it is a part of.
        of: CellId,
    },
    /// The pupils of a group that is in no table, but that numbers told could give
    /// away: the crossing of a year and a class, say. It must not be empty: a reader
    /// is taken to know which crossings are.
    Crossing,
    /// What the pupils of a crossing have some of; told nowhere.
    CrossingAmount(CellId),
    /// What is left of a whole without a part; told nowhere, and no secret.
    Rest,
}

/// A number and its rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Cell {
    value: u64,
    rule: Rule,
}

/// A whole that its parts add up to.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Sum {
    whole: usize,
    parts: Vec<usize>,
}

/// Why a cell or a sum cannot stand in a ledger.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unfit {
    /// The parts do not add up to the whole, or a part is more than it is a part of.
    DoesNotAddUp,
    /// A cell is named that is not in the ledger.
    NoSuchCell,
    /// A crossing has nobody in it.
    Empty,
}

impl fmt::Display for Unfit {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::DoesNotAddUp => "the parts do not add up to the whole",
            Self::NoSuchCell => "a number is named that is not there",
            Self::Empty => "a crossing of groups has nobody in it",
        })
    }
}

impl std::error::Error for Unfit {}

/// Why a number is not told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Reason {
    /// One to four pupils.
    TooFew,
    /// It is about a group of which this may not be told.
    SmallGroup,
    /// A smaller number could be found from it.
    ToProtect,
    /// Even the reason would give a number away.
    Unsaid,
}

impl Reason {
    /// Returns the words that stand in the place of the number.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::TooFew => "fewer than 5 pupils",
            Self::SmallGroup => "not shown for so small a group",
            Self::ToProtect => "not shown, to protect a smaller group",
            Self::Unsaid => "not shown",
        }
    }
}

/// What may be told of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Told {
    /// The number, and shares with it.
    InFull(u64),
    /// The number, but no share: it is about fewer than ten pupils.
    CountOnly(u64),
    /// Not the number, and why.
    HeldBack(Reason),
    /// It is in no table anyway.
    InNoTable,
}

/// What may be told of each number of a ledger.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Protected {
    told: Vec<Told>,
}

impl Protected {
    /// Returns what may be told of a number.
    #[must_use]
    pub fn of(&self, cell: CellId) -> Told {
        self.told.get(cell.0).copied().unwrap_or(Told::InNoTable)
    }
}

impl Ledger {
    /// Adds a number. A part is kept beside the rest of what it is a part of, since
    /// everybody knows that it cannot be more.
    ///
    /// # Errors
    ///
    /// [`Unfit`]; then nothing is added.
    pub fn cell(&mut self, value: u64, rule: Rule) -> Result<CellId, Unfit> {
        let of = match rule {
            Rule::Crossing if value == 0 => return Err(Unfit::Empty),
            Rule::Group | Rule::Crossing | Rule::Rest => None,
            Rule::Within(group) => Some(group),
            Rule::Amount(group) | Rule::CrossingAmount(group) => {
                self.value(group)?;
                None
            }
            Rule::Part { group, of } => {
                self.value(group)?;
                Some(of)
            }
        };
        let Some(of) = of else {
            return Ok(self.push(value, rule));
        };
        let rest = self.value(of)?.checked_sub(value);
        let rest = rest.ok_or(Unfit::DoesNotAddUp)?;
        let cell = self.push(value, rule);
        let rest = self.push(rest, Rule::Rest);
        self.sum(of, &[cell, rest])?;
        Ok(cell)
    }

    /// Says that the parts add up to the whole, and that readers know it.
    ///
    /// # Errors
    ///
    /// [`Unfit`]; then nothing is added.
    pub fn sum(&mut self, whole: CellId, parts: &[CellId]) -> Result<(), Unfit> {
        let mut left = self.value(whole)?;
        for part in parts {
            left = left
                .checked_sub(self.value(*part)?)
                .ok_or(Unfit::DoesNotAddUp)?;
        }
        if left > 0 {
            return Err(Unfit::DoesNotAddUp);
        }
        self.sums.push(Sum {
            whole: whole.0,
            parts: parts.iter().map(|part| part.0).collect(),
        });
        Ok(())
    }

    /// Returns what may be told, so that nothing held back can be found out.
    ///
    /// The same ledger always gives the same: where there is a choice the smallest
    /// number goes, and of equal ones the first.
    #[must_use]
    pub fn protect(&self) -> Protected {
        let view = choose::choose(self);
        let told = self.cells.iter().zip(&view.seen);
        let told = told.map(|(cell, seen)| match seen {
            known::Seen::Never => Told::InNoTable,
            known::Seen::HeldBack(why) => Told::HeldBack(*why),
            known::Seen::Shown if self.pupils(cell) < FEWEST_FOR_A_SHARE => {
                Told::CountOnly(cell.value)
            }
            known::Seen::Shown => Told::InFull(cell.value),
        });
        Protected {
            told: told.collect(),
        }
    }

    fn push(&mut self, value: u64, rule: Rule) -> CellId {
        self.cells.push(Cell { value, rule });
        CellId(self.cells.len() - 1)
    }

    fn value(&self, cell: CellId) -> Result<u64, Unfit> {
        let found = self.cells.get(cell.0);
        found.map(|cell| cell.value).ok_or(Unfit::NoSuchCell)
    }

    /// How many pupils a number is about.
    fn pupils(&self, cell: &Cell) -> u64 {
        cell.group()
            .map_or(cell.value, |group| self.cells[group.0].value)
    }
}

impl Cell {
    /// The group it is about, where it is not the group itself.
    fn group(&self) -> Option<CellId> {
        match self.rule {
            Rule::Group | Rule::Crossing | Rule::Rest => None,
            Rule::Within(group)
            | Rule::Amount(group)
            | Rule::Part { group, of: _ }
            | Rule::CrossingAmount(group) => Some(group),
        }
    }
}

impl Sum {
    /// The parts and the whole.
    fn cells(&self) -> impl Iterator<Item = usize> {
        self.parts.iter().copied().chain([self.whole])
    }
}

/// Whether so many pupils are too few to be told of.
fn is_small(pupils: u64) -> bool {
    (1..FEWEST_REPORTED).contains(&pupils)
}

#[cfg(test)]
mod tests;
