//! Cells of a worksheet gathered as a reader finds them, within the limits.

use super::Cell;
use super::Content;
use super::Fault;
use super::Grid;
use super::Rows;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// What all worksheets of a file hold together.
#[derive(Debug)]
pub(super) struct Tally {
    rows: Rows,
    worksheets: usize,
    cells: usize,
    text_bytes: usize,
}

impl Tally {
    /// Returns an empty tally for a file of which such rows are wanted.
    pub(super) fn new(rows: Rows) -> Self {
        Self {
            rows,
            worksheets: 0,
            cells: 0,
            text_bytes: 0,
        }
    }
}

/// Gathers the cells of one worksheet and keeps the limits.
#[derive(Debug)]
pub(super) struct Gatherer<'a> {
    grid: Grid,
    tally: &'a mut Tally,
    /// The columns in which an entry makes a row wanted.
    entry_columns: BTreeSet<u32>,
    /// The row being read, as long as nothing in it makes it wanted.
    waiting: (u32, BTreeMap<u32, Cell>),
}

impl<'a> Gatherer<'a> {
    /// Returns a gatherer for a worksheet; `tally` counts over the whole file.
    pub(super) fn new(name: &str, visible: bool, tally: &'a mut Tally) -> Self {
        tally.worksheets += 1;
        Self {
            grid: Grid {
                name: name.to_owned(),
                visible,
                rows: BTreeMap::new(),
            },
            tally,
            entry_columns: BTreeSet::new(),
            waiting: (0, BTreeMap::new()),
        }
    }

    /// Returns where a cell is, as [`Grid::place`] does.
    pub(super) fn place(&self, row: u32, column: u32) -> String {
        self.grid.place(row, column)
    }

    /// Returns the worksheet with what was gathered.
    pub(super) fn finish(self) -> Grid {
        self.grid
    }

    /// Puts a cell in its place; a second one at the same place replaces the first.
    pub(super) fn put(&mut self, row: u32, column: u32, cell: Cell) -> Result<(), Fault> {
        let most_rows = match self.tally.rows {
            Rows::All => super::MOST_ROWS,
            Rows::WithEntry { .. } => super::MOST_ROWS_SEEN,
        };
        if row >= most_rows {
            return self.too_large(row, column, "something", format!("{most_rows} rows"));
        }
        if column >= super::MOST_COLUMNS {
            let limit = format!("{} columns", super::MOST_COLUMNS);
            return self.too_large(row, column, "something", limit);
        }
        if self.tally.worksheets > super::MOST_WORKSHEETS {
            return Err(Fault::TooLarge {
                what: "the file has very many worksheets".to_owned(),
                limit: format!("{} worksheets", super::MOST_WORKSHEETS),
            });
        }
        if cell.look.is_none() && matches!(&cell.content, Content::Text(text) if text.is_empty()) {
            return Ok(());
        }
        for (text, what) in texts(&cell) {
            // Bytes are never fewer than characters, so short texts need no count.
            let most = super::MOST_CHARACTERS;
            if text.len() > most && text.chars().count() > most {
                let limit = format!("{most} characters in a cell");
                return self.too_large(row, column, what, limit);
            }
        }
        let Rows::WithEntry { is_heading } = self.tally.rows else {
            return self.keep(row, column, cell);
        };
        let is_near_the_top = self.grid.rows.len() < super::HEADING_ROWS;
        if is_near_the_top || self.grid.rows.contains_key(&row) {
            if matches!(&cell.content, Content::Text(text) if is_heading(text)) {
                self.entry_columns.insert(column);
            }
            return self.keep(row, column, cell);
        }
        if self.waiting.0 != row {
            self.waiting = (row, BTreeMap::new());
        }
        if !self.entry_columns.contains(&column) {
            self.waiting.1.insert(column, cell);
            return Ok(());
        }
        for (column, cell) in std::mem::take(&mut self.waiting.1) {
            self.keep(row, column, cell)?;
        }
        self.keep(row, column, cell)
    }

    fn keep(&mut self, row: u32, column: u32, cell: Cell) -> Result<(), Fault> {
        for (text, _) in texts(&cell) {
            self.tally.text_bytes = self.tally.text_bytes.saturating_add(text.len());
        }
        if self.tally.text_bytes > super::MOST_TEXT_BYTES {
            return Err(Fault::TooLarge {
                what: "the file holds very much text".to_owned(),
                limit: format!("{} MB of text", super::MOST_TEXT_BYTES / (1024 * 1024)),
            });
        }
        self.tally.cells += 1;
        if self.tally.cells > super::MOST_CELLS {
            return Err(Fault::TooLarge {
                what: "the file holds very many cells".to_owned(),
                limit: format!("{} cells", super::MOST_CELLS),
            });
        }
        self.grid.rows.entry(row).or_default().insert(column, cell);
        Ok(())
    }

    fn too_large(&self, row: u32, column: u32, what: &str, limit: String) -> Result<(), Fault> {
        Err(Fault::TooLarge {
            what: format!("cell {} holds {what}", self.grid.place(row, column)),
            limit,
        })
    }
}

/// Returns the texts of a cell, with what to call one that is too long.
fn texts(cell: &Cell) -> [(&str, &'static str); 4] {
    let text = match &cell.content {
        Content::Text(text) | Content::Number(text) | Content::Fault(text) => text.as_str(),
        Content::Time { .. } | Content::Date { .. } | Content::Truth(_) | Content::Uncalculated => {
            ""
        }
    };
    [
        (text, "a long text"),
        (cell.format(), "a long number format"),
        (cell.shown(), "a long text on the screen"),
        (cell.formula(), "a long formula"),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    const MARKS: Rows = Rows::WithEntry {
        is_heading: |text| text == "Mark",
    };

    fn text(text: &str) -> Cell {
        Cell::plain(Content::Text(text.to_owned()))
    }

    /// A worksheet with the heading in row 2, and so many rows of a name and a code, with
    /// a mark in some.
    fn gathered(rows: Rows, count: u32, with_mark: &[u32]) -> Result<Grid, Fault> {
        let mut tally = Tally::new(rows);
        let mut gatherer = Gatherer::new("Marks", true, &mut tally);
        for (column, heading) in (0..).zip(["Name", "Mark", "Code"]) {
            gatherer.put(2, column, text(heading))?;
        }
        for row in 3..3 + count {
            gatherer.put(row, 0, text("Ann"))?;
            if with_mark.contains(&row) {
                gatherer.put(row, 1, text("1"))?;
            }
            gatherer.put(row, 2, text("k3"))?;
        }
        Ok(gatherer.finish())
    }

    #[test]
    fn rows_without_an_entry_are_let_go_and_the_others_whole() {
        let with_mark = [5, 700, 1_002];
        let grid = gathered(MARKS, 1_000, &with_mark).expect("within the limits");
        let all = gathered(Rows::All, 1_000, &with_mark).expect("within the limits");
        let head: Vec<u32> = (2..).take(super::super::HEADING_ROWS).collect();
        let wanted: Vec<u32> = head.into_iter().chain([700, 1_002]).collect();
        assert_eq!(grid.rows.keys().copied().collect::<Vec<_>>(), wanted);
        for (row, cells) in &grid.rows {
            assert_eq!(Some(cells), all.rows.get(row), "{row}");
        }
    }

    #[test]
    fn limits_hold_of_what_is_kept_and_rows_end_where_a_spreadsheet_does() {
        let grid = gathered(MARKS, super::super::MOST_ROWS + 1_000, &[200_900]);
        assert_eq!(grid.map(|grid| grid.rows.len()), Ok(201));
        let fault = gathered(MARKS, super::super::MOST_ROWS_SEEN, &[]).expect_err("too many");
        assert_eq!(
            fault.to_string(),
            "cell Marks!A1048577 holds something, more than the limit of 1048576 rows"
        );
        let fault = gathered(Rows::All, super::super::MOST_ROWS, &[]).expect_err("too many");
        assert_eq!(
            fault.to_string(),
            "cell Marks!A200001 holds something, more than the limit of 200000 rows"
        );
    }

    #[test]
    fn a_row_in_pieces_is_not_torn_where_an_entry_was_seen() {
        let mut tally = Tally::new(MARKS);
        let mut gatherer = Gatherer::new("Marks", true, &mut tally);
        let mut put = |row, column, what| gatherer.put(row, column, text(what)).expect("small");
        put(0, 1, "Mark");
        for row in 1..300 {
            put(row, 0, "Ann");
        }
        put(400, 1, "1");
        put(401, 0, "Ben");
        put(400, 2, "k3");
        let grid = gatherer.finish();
        assert_eq!(grid.rows.get(&400).map(BTreeMap::len), Some(2));
        assert!(!grid.rows.contains_key(&401));
    }
}
