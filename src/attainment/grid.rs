//! Skills by groups: a row for each skill, a column for each year or class.

use crate::attainment::count;

/// What may be told of each skill of each group.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Grid {
    /// The groups, in order.
    pub columns: Vec<String>,
    /// A row for each skill that was asked, in the order of the ladder.
    pub rows: Vec<Row>,
}

/// One skill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Its title.
    pub label: String,
    /// For each column what may be told; nothing where the group was not asked.
    pub cells: Vec<Option<count::Shown>>,
}

impl Grid {
    /// Returns everything that may be told, row by row.
    pub fn shown(&self) -> impl Iterator<Item = &count::Shown> {
        self.rows.iter().flat_map(|row| row.cells.iter().flatten())
    }
}
