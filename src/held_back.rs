//! What may be told of groups without telling of a pupil, however the numbers of one
//! run are added and subtracted.
//!
//! Takes every row of every table of a run as an entry of one [`Ledger`], and the finest
//! parts of which the rows are sums, as far as anybody knows them ([`System`]); gives for
//! each entry whether it may be told. Knows nothing of pupils, classes or files.
//!
//! The rules:
//! - a group of one to four pupils is held back whole; none at all may be told, it is
//!   about nobody;
//! - of five to nine pupils numbers are told, never a share; and nothing at all where the
//!   numbers say that all or none of them did something, or nearly so (a fifth or less is
//!   left);
//! - more is held back, rather the small than the large, until nothing that is held back
//!   can be found out; and rather what stands further down ([`Entry::depth`]), whatever its
//!   size.
//!
//! *Found out* means, for every row held back and for every small group that is in no
//! table (a [`System::secret`]):
//! - *by sums*: it is an exact combination of rows told, of all tables together, each
//!   taken any number of times, also parts of times. None is left, by linear algebra over
//!   the finest parts.
//! - *by bounds*: no number of a part is below nought, and a reader knows these rules and
//!   the reason that stands in the place of each row. A row held back, or a secret with
//!   [`Care::SumsAndBounds`], is not settled by that: either because other numbers, with
//!   fractions, a little away from its own give all that is told (shown by linear algebra
//!   over the parts that are not nought), or because whole ones were found. Where
//!   neither is found it counts as found out: the error is on the side of holding back.
//!   Of other secrets only that rows told are nought is looked at.
//!
//! The pupils, the marks earned and the marks to be had of each row held back are safe
//! in this sense. Of marks lost it is enough that marks earned are safe: that a large
//! group earned all there was may be told, though it is true of each in it. Of rows of
//! five pupils or more that are held back either is enough.
//!
//! Not covered: numbers that only fractions could change, where whole ones cannot; bounds
//! of secrets with [`Care::Sums`]; how near a number can be guessed; what a reader knows
//! from elsewhere, such as a pupil's own marks; other
//! runs; and guesses from which rows the program chose to hold back.
//!
//! Source: England's primary tables left out schools with fewer than five pupils tested
//! (press report of about 2011); Wales published nothing for fewer than five pupils and
//! the headline only for five to nine (governors' guidance, May 2017). The search for
//! more to hold back is common practice in official statistics (complementary or
//! secondary suppression), no source.

use std::ops::RangeInclusive;

mod choose;
mod search;
mod span;

/// Groups with fewer pupils than this are not reported.
pub const FEWEST_REPORTED: u32 = 5;
/// Groups with fewer pupils than this are reported by numbers, without a share.
pub const FEWEST_FOR_A_SHARE: u32 = 10;

/// Rows that are told in one run, and what they are sums of.
///
/// # Example
///
/// Three classes of one year. The class of three is held back, and so that it cannot
/// be found by taking the others from the year, the next smallest.
///
/// ```
/// use toothmark::held_back::Entry;
/// use toothmark::held_back::Ledger;
/// use toothmark::held_back::Quantity;
/// use toothmark::held_back::Reason;
/// use toothmark::held_back::System;
/// use toothmark::held_back::Told;
///
/// let mut ledger = Ledger::default();
/// let year = ledger.enter(Entry::group(0, 58));
/// let classes = [30, 3, 25].map(|pupils| ledger.enter(Entry::group(1, pupils)));
/// let mut system = System::default();
/// system.layer(Quantity::Pupils, vec![30, 3, 25]);
/// system.view(Some(year), vec![0, 1, 2]);
/// for (place, class) in [(0, classes[0]), (1, classes[1]), (2, classes[2])] {
///     system.view(Some(class), vec![place]);
/// }
/// ledger.add(system);
/// let told = ledger.protect();
/// assert_eq!(told.of(year), Told::InFull);
/// assert_eq!(told.of(classes[0]), Told::InFull);
/// assert_eq!(told.of(classes[1]), Told::HeldBack(Reason::TooFew));
/// assert_eq!(told.of(classes[2]), Told::HeldBack(Reason::ToProtect));
/// ```
#[derive(Debug, Clone, Default)]
pub struct Ledger {
    entries: Vec<Entry>,
    systems: Vec<System>,
}

/// The place of an entry in its ledger.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct EntryId(usize);

/// A row of a table, or a number that stands alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Which table it is in: where more is to be held back, rather in the same table.
    pub table: usize,
    /// How many pupils it is about.
    pub pupils: u64,
    /// Marks earned and marks lost, where marks are told.
    pub marks: Option<(u64, u64)>,
    /// Where it counts some pupils of a group: how many the group has.
    pub among: Option<u64>,
    /// With which others it is held back.
    pub with: Vec<EntryId>,
    /// How far down it stands: rows further up are settled without a look at it, and it is
    /// told only as far as that costs none of them.
    pub depth: u8,
}

/// Numbers of the finest parts that anybody could know of, and which rows are sums of
/// which parts.
#[derive(Debug, Clone, Default)]
pub struct System {
    layers: Vec<Layer>,
    views: Vec<View>,
    /// Small groups that are in no table.
    secrets: Vec<Secret>,
}

/// One number of each part.
#[derive(Debug, Clone)]
struct Layer {
    quantity: Quantity,
    values: Vec<u64>,
}

/// What a number counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Quantity {
    /// Pupils.
    Pupils,
    /// Marks earned.
    Earned,
    /// Marks that could have been earned and were not.
    Lost,
}

/// The parts that add up to a row.
#[derive(Debug, Clone)]
struct View {
    /// The row; a sum that everybody knows where there is none.
    entry: Option<EntryId>,
    parts: Vec<usize>,
}

/// A small group that is in no table.
#[derive(Debug, Clone)]
struct Secret {
    /// The tables from which it could be found.
    tables: Vec<usize>,
    care: Care,
    parts: Vec<usize>,
}

/// How well a small group in no table is kept safe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Care {
    /// From all sums and differences of what is told, of all tables together.
    Sums,
    /// From these, and from how large and how small all can be, like a row held back.
    SumsAndBounds,
}

/// Why a row is not told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Reason {
    /// One to four pupils.
    TooFew,
    /// It is about a group of which this may not be told.
    SmallGroup,
    /// A smaller group could be found from it.
    ToProtect,
    /// Even the reason would give a number away.
    Unsaid,
}

impl Reason {
    /// Returns the words that stand in the place of the numbers.
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

/// What may be told of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Told {
    /// Its numbers, and shares with them.
    InFull,
    /// Its numbers, but no share: it is about fewer than ten pupils.
    NumbersOnly,
    /// Nothing, and why.
    HeldBack(Reason),
}

/// What may be told of each row of a ledger.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Protected {
    told: Vec<Told>,
}

impl Protected {
    /// Returns what may be told of a row; of one that is in another ledger, nothing.
    #[must_use]
    pub fn of(&self, entry: EntryId) -> Told {
        let told = self.told.get(entry.0).copied();
        told.unwrap_or(Told::HeldBack(Reason::Unsaid))
    }
}

impl Entry {
    /// Returns a row that tells of a number of pupils only.
    #[must_use]
    pub fn group(table: usize, pupils: u64) -> Self {
        Self {
            table,
            pupils,
            marks: None,
            among: None,
            with: Vec::new(),
            depth: 0,
        }
    }

    /// Returns a number of pupils of a group who have something.
    #[must_use]
    pub fn some_of(table: usize, pupils: u64, group: u64) -> Self {
        Self {
            among: Some(group),
            ..Self::group(table, pupils)
        }
    }

    /// Why the rules hold it back by itself, if they do.
    fn reason(&self) -> Option<Reason> {
        let group = self.whole_group();
        if group == 0 || is_small(group) {
            return is_small(group).then_some(Reason::TooFew);
        }
        if group >= FEWEST_FOR_A_SHARE.into() {
            return is_small(self.pupils).then_some(Reason::TooFew);
        }
        // That all or none of a few have something tells of each of them; so does one
        // reason for those and another for one to four.
        (self.among.is_some() || self.is_nearly_all_or_none()).then_some(Reason::SmallGroup)
    }

    /// Whether it says of nearly each single one what it says of all. To hold back just
    /// all and none would say that it is one of the two.
    fn is_nearly_all_or_none(&self) -> bool {
        self.marks.is_some_and(|(earned, lost)| {
            let whole = earned.saturating_add(lost);
            whole > 0 && earned.min(lost).saturating_mul(5) <= whole
        })
    }

    /// The pupils of the group that it is about.
    fn whole_group(&self) -> u64 {
        self.among.unwrap_or(self.pupils)
    }

    /// One of its numbers.
    fn number(&self, quantity: Quantity) -> u64 {
        let (earned, lost) = self.marks.unwrap_or_default();
        match quantity {
            Quantity::Pupils => self.pupils,
            Quantity::Earned => earned,
            Quantity::Lost => lost,
        }
    }

    /// The numbers that a reader must think possible for a reason of its own.
    fn bounds(&self, quantity: Quantity, why: Reason) -> RangeInclusive<u64> {
        let (few, share) = (u64::from(FEWEST_REPORTED), u64::from(FEWEST_FOR_A_SHARE));
        let (low, high) = match (quantity, why) {
            (Quantity::Pupils, Reason::TooFew) => (
                u64::from(!is_small(self.whole_group()) || self.among.is_none()),
                few - 1,
            ),
            (Quantity::Pupils, Reason::ToProtect) => (few, u64::MAX),
            (Quantity::Pupils, Reason::SmallGroup) => match self.among {
                Some(group) => (0, group),
                None => (few, share - 1),
            },
            (Quantity::Pupils, Reason::Unsaid) => (u64::from(self.among.is_none()), u64::MAX),
            (Quantity::Earned | Quantity::Lost, Reason::SmallGroup) => {
                let (earned, lost) = self.marks.unwrap_or_default();
                let own = self.number(quantity);
                let other = if quantity == Quantity::Earned {
                    lost
                } else {
                    earned
                };
                // A fifth of all or less is a quarter of the rest or less.
                if own > other {
                    (other.saturating_mul(4), u64::MAX)
                } else {
                    (0, other / 4)
                }
            }
            (
                Quantity::Earned | Quantity::Lost,
                Reason::TooFew | Reason::ToProtect | Reason::Unsaid,
            ) => (0, u64::MAX),
        };
        low..=high
    }
}

impl System {
    /// Adds a number for each part; all layers have as many.
    pub fn layer(&mut self, quantity: Quantity, values: Vec<u64>) {
        self.layers.push(Layer { quantity, values });
    }

    /// Says which parts add up to a row; without a row, to a number that everybody knows.
    pub fn view(&mut self, entry: Option<EntryId>, mut parts: Vec<usize>) {
        parts.sort_unstable();
        parts.dedup();
        self.views.push(View { entry, parts });
    }

    /// Says that some parts are a small group that is in no table but could be found
    /// from some tables.
    pub fn secret(&mut self, tables: Vec<usize>, care: Care, parts: Vec<usize>) {
        self.secrets.push(Secret {
            tables,
            care,
            parts,
        });
    }
}

impl Ledger {
    /// Enters a row.
    pub fn enter(&mut self, entry: Entry) -> EntryId {
        self.entries.push(entry);
        EntryId(self.entries.len() - 1)
    }

    /// Adds what rows are sums of.
    pub fn add(&mut self, system: System) {
        self.systems.push(system);
    }

    /// Returns what may be told, so that nothing held back can be found out.
    ///
    /// The same ledger always gives the same: where there is a choice the smallest
    /// row of those furthest down goes, and of equal ones the first.
    #[must_use]
    pub fn protect(&self) -> Protected {
        let reasons = choose::choose(self);
        let told = self.entries.iter().zip(reasons);
        let told = told.map(|(entry, reason)| match reason {
            Some(why) => Told::HeldBack(why),
            None if entry.whole_group() < FEWEST_FOR_A_SHARE.into() => Told::NumbersOnly,
            None => Told::InFull,
        });
        Protected {
            told: told.collect(),
        }
    }
}

/// Whether so many pupils are too few to be told of.
#[must_use]
pub fn is_small(pupils: u64) -> bool {
    (1..FEWEST_REPORTED.into()).contains(&pupils)
}

#[cfg(test)]
mod tests;
