//! A table of figures, the same for the page and for the csv.

/// One table.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Table {
    /// Its name, the same as that of the worksheet of the workbook.
    pub(super) name: &'static str,
    /// What its figures mean, a sentence each.
    pub(super) notes: Vec<String>,
    /// The headings of the cells that name a row.
    pub(super) names: Vec<&'static str>,
    /// The columns of figures.
    pub(super) columns: Vec<Column>,
    /// The rows.
    pub(super) rows: Vec<Row>,
    /// What is drawn of it, where it can be.
    pub(super) chart: Option<Chart>,
}

/// A column of figures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Column {
    /// Which part of the row it is of, such as a year; empty where it is of all of it.
    pub(super) part: String,
    /// What is measured.
    pub(super) measure: &'static str,
    /// In which unit.
    pub(super) unit: Unit,
    /// Whether each cell says how many pupils it is of; else a column of its own does.
    pub(super) says_pupils: bool,
}

/// What a figure counts in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    /// Whole things.
    Count,
    /// Hundredths.
    Percent,
    /// No figures at all.
    Words,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    /// What names it.
    pub(super) names: Vec<String>,
    /// A cell for each column.
    pub(super) cells: Vec<Cell>,
    /// Whether it is of all rows together.
    pub(super) is_whole: bool,
}

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell {
    /// A figure.
    Figure(Figure),
    /// Words that are no figure.
    Words(String),
    /// No figure, and why.
    Held(String),
    /// Nothing: the column does not apply.
    Nothing,
}

/// A figure.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Figure {
    /// Its value, in the unit of its column.
    pub(super) value: f64,
    /// Where it may as well lie (95 %), in the same unit.
    pub(super) interval: Option<(f64, f64)>,
    /// Of how many pupils it is.
    pub(super) pupils: Option<u32>,
    /// What else to know of it; may be empty.
    pub(super) note: String,
}

/// What is drawn of a table: dots with their intervals.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Chart {
    /// What it shows.
    pub(super) title: String,
    /// The columns that are drawn, all of one unit; each has a sign of its own.
    pub(super) columns: Vec<usize>,
    /// Which rows are drawn where there are very many.
    pub(super) rows: Drawn,
}

/// Which rows are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Drawn {
    /// All rows, as they stand.
    All,
    /// So many, the lowest first.
    Lowest(usize),
}

impl Column {
    /// A column of all of a row.
    pub(super) fn new(measure: &'static str, unit: Unit) -> Self {
        Self {
            part: String::new(),
            measure,
            unit,
            says_pupils: false,
        }
    }

    /// A column of a part of a row, whose cells say how many pupils they are of.
    pub(super) fn of_part(part: &str, measure: &'static str, unit: Unit) -> Self {
        Self {
            part: part.to_owned(),
            measure,
            unit,
            says_pupils: true,
        }
    }

    /// Returns what stands over it.
    pub(super) fn heading(&self) -> &str {
        if self.part.is_empty() {
            self.measure
        } else {
            &self.part
        }
    }
}

impl Unit {
    /// Returns a value as it stands in every file, without its sign of unit.
    pub(super) fn number(self, value: f64) -> String {
        match self {
            // No figure is minus nought.
            Self::Count | Self::Percent | Self::Words => format!("{:.0}", value + 0.0),
        }
    }

    /// Returns what follows a number, such as ` %`.
    pub(super) fn sign(self) -> &'static str {
        match self {
            Self::Percent => "\u{a0}%",
            Self::Count | Self::Words => "",
        }
    }
}

impl Figure {
    /// A number of things.
    pub(super) fn count(count: u32) -> Self {
        Self {
            value: f64::from(count),
            interval: None,
            pupils: None,
            note: String::new(),
        }
    }

    /// Returns it in words: `67 % (54 to 78), n = 58`.
    pub(super) fn words(&self, unit: Unit) -> String {
        let mut words = format!("{}{}", unit.number(self.value), unit.sign());
        if let Some(interval) = self.interval_words(unit) {
            words.push_str(&format!(" ({interval})"));
        }
        if let Some(pupils) = self.pupils {
            words.push_str(&format!(", n\u{a0}=\u{a0}{pupils}"));
        }
        words
    }

    /// Returns its interval in words: `54 to 78`.
    pub(super) fn interval_words(&self, unit: Unit) -> Option<String> {
        let (low, high) = self.interval?;
        Some(format!("{} to {}", unit.number(low), unit.number(high)))
    }
}

impl Row {
    /// Returns its name in one line.
    pub(super) fn name(&self) -> String {
        let names: Vec<&str> = self.names.iter().map(String::as_str).collect();
        names.join(" / ")
    }

    /// Returns the reason that stands in the place of all its figures, if it has none.
    pub(super) fn held(&self) -> Option<&str> {
        let mut reasons = self.cells.iter().map(|cell| match cell {
            Cell::Held(reason) => Some(reason.as_str()),
            Cell::Figure(_) | Cell::Words(_) | Cell::Nothing => None,
        });
        let first = reasons.next()??;
        reasons.all(|other| other == Some(first)).then_some(first)
    }
}
