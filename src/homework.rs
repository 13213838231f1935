//! A homework: items for pupils, and its record `homework.json`.

use crate::item;
use crate::level;
use std::collections::BTreeMap;

/// A pupil as the roll has them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pupil {
    /// The school's own id.
    pub id: String,
    /// The name.
    pub name: String,
    /// The class.
    pub class: String,
    /// The year.
    pub year: String,
    /// A level of their own.
    pub level: Option<level::Level>,
    /// Group labels by column heading.
    pub groups: BTreeMap<String, String>,
}

/// Which bank made it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BankStamp {
    /// Its id.
    pub id: String,
    /// Its edition.
    pub edition: String,
    /// SHA-256 of its text, in hexadecimal.
    pub fingerprint: String,
}

/// One set of questions; several pupils may share it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// The version printed on the page, such as `A` or `17`.
    pub version: String,
    /// The items, in order.
    pub items: Vec<item::Item>,
}

/// A pupil with the index of their sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assignment {
    /// The pupil.
    pub pupil: Pupil,
    /// An index into [`Homework::sheets`].
    pub sheet: usize,
}

/// Everything that was set: enough to print and mark it years later.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Homework {
    /// The version of the program that made it.
    pub made_by: String,
    /// A short code, printed on every page.
    pub code: String,
    /// The title.
    pub title: String,
    /// The date set, ISO 8601.
    pub date: String,
    /// The banks.
    pub banks: Vec<BankStamp>,
    /// The seed.
    pub seed: String,
    /// The sheets.
    pub sheets: Vec<Sheet>,
    /// The pupils in roll order.
    pub pupils: Vec<Assignment>,
}
