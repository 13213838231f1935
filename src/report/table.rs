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
    pub(super) charts: Vec<Chart>,
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
    /// Hundredths, as a difference of shares.
    Points,
    /// Steps on the scale of all questions.
    Logits,
    /// An index without a unit, to two places.
    Index,
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
    /// By how many of its names a row is called there.
    pub(super) named_by: usize,
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
    /// So many, the highest first.
    Highest(usize),
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
    /// Returns a value as it stands in files for programs, without its sign of unit.
    pub(super) fn number(self, value: f64) -> String {
        let text = match self {
            Self::Count | Self::Percent | Self::Points | Self::Words => format!("{value:.0}"),
            Self::Logits | Self::Index => format!("{value:.2}"),
        };
        // No figure is minus nought.
        match text.strip_prefix('-') {
            Some(rest) if rest.chars().all(|sign| matches!(sign, '0' | '.')) => rest.to_owned(),
            Some(_) | None => text,
        }
    }

    /// Returns a value as a person reads it: with a true minus.
    pub(super) fn shown(self, value: f64) -> String {
        self.number(value).replace('-', "\u{2212}")
    }

    /// Returns what follows a number, such as ` %`.
    pub(super) fn sign(self) -> &'static str {
        match self {
            Self::Percent => "\u{a0}%",
            Self::Points => "\u{a0}points",
            Self::Count | Self::Logits | Self::Index | Self::Words => "",
        }
    }

    /// Returns how it is called beside what is measured; empty where that says it.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Percent => "%",
            Self::Points => "points",
            Self::Logits => "logits",
            Self::Count | Self::Index | Self::Words => "",
        }
    }
}

impl Cell {
    /// Words.
    pub(super) fn words(words: impl Into<String>) -> Self {
        Self::Words(words.into())
    }

    /// A number of things.
    pub(super) fn count(count: u32) -> Self {
        Self::Figure(Figure::count(count))
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
        let interval = self.interval_words(unit);
        let interval = interval.map_or_else(String::new, |it| format!(" ({it})"));
        let pupils = self.pupils;
        let pupils = pupils.map_or_else(String::new, |it| format!(", n\u{a0}=\u{a0}{it}"));
        let (value, sign) = (unit.shown(self.value), unit.sign());
        format!("{value}{sign}{interval}{pupils}")
    }

    /// Returns its interval in words: `54 to 78`.
    pub(super) fn interval_words(&self, unit: Unit) -> Option<String> {
        let (low, high) = self.interval?;
        Some(format!("{} to {}", unit.shown(low), unit.shown(high)))
    }
}

impl Row {
    /// Returns its name in one line.
    pub(super) fn name(&self) -> String {
        self.names.join(" / ")
    }
}
