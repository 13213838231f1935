//! What a person does with a results workbook in a spreadsheet program: types
//! marks, sorts rows, moves columns, saves.

use rust_xlsxwriter::{Format, Workbook};
use toothmark::workbook::cells;
use toothmark::workbook::undo;

/// A workbook with the texts of its cells.
pub(crate) struct Book {
    sheets: Vec<Sheet>,
}

struct Sheet {
    name: String,
    rows: Vec<Vec<String>>,
}

/// Which row of a worksheet: texts by heading.
pub(crate) type Where<'a> = &'a [(&'a str, &'a str)];

impl Book {
    /// Opens a workbook of any kind.
    pub(crate) fn open(bytes: &[u8]) -> Self {
        let book = cells::read(bytes).expect("a workbook");
        let sheets = book
            .grids
            .iter()
            .filter(|grid| grid.visible)
            .map(|grid| {
                let last = grid.rows.keys().next_back().map_or(0, |row| row + 1);
                let rows = (0..last).map(|row| {
                    let cells = grid.rows.get(&row);
                    let width = cells
                        .and_then(|cells| cells.keys().next_back())
                        .map_or(0, |column| column + 1);
                    (0..width)
                        .map(|column| grid.cell(row, column).map(undo::text).unwrap_or_default())
                        .collect()
                });
                Sheet {
                    name: grid.name.clone(),
                    rows: rows.collect(),
                }
            })
            .collect();
        Self { sheets }
    }

    /// Types a text under a heading, in the one row that is meant.
    pub(crate) fn types(mut self, sheet: &str, row: Where<'_>, heading: &str, text: &str) -> Self {
        let sheet = self.sheet_mut(sheet);
        let (index, column) = (sheet.row(row), sheet.column(heading));
        let cells = &mut sheet.rows[index];
        cells.resize(cells.len().max(column + 1), String::new());
        text.clone_into(&mut cells[column]);
        self
    }

    /// The text under a heading, in the one row that is meant.
    pub(crate) fn text(&self, sheet: &str, row: Where<'_>, heading: &str) -> String {
        let sheet = self.sheet(sheet);
        let cells = &sheet.rows[sheet.row(row)];
        cells
            .get(sheet.column(heading))
            .cloned()
            .unwrap_or_default()
    }

    /// How many rows stand below the headings and hold a question.
    pub(crate) fn row_count(&self, sheet: &str) -> usize {
        let sheet = self.sheet(sheet);
        let column = sheet.column("Question");
        sheet
            .rows
            .iter()
            .skip(sheet.heading_row() + 1)
            .filter(|cells| cells.len() > column && cells[column].starts_with('Q'))
            .count()
    }

    /// Turns the rows below the headings over, and the columns of every worksheet,
    /// and writes a note above.
    pub(crate) fn turned_over(mut self) -> Self {
        for sheet in &mut self.sheets {
            let Some(heading) = sheet.find_heading_row() else {
                continue;
            };
            let below = heading + 1;
            sheet.rows[below..].reverse();
            let width = sheet.rows[heading].len();
            for cells in &mut sheet.rows[heading..] {
                cells.resize(width.max(cells.len()), String::new());
                cells.reverse();
            }
            sheet.rows.insert(1, vec!["sorted on Tuesday".to_owned()]);
        }
        self
    }

    /// Saves it as an xlsx file, all cells as text, every second row of it hidden.
    pub(crate) fn save(&self) -> Vec<u8> {
        let mut book = Workbook::new();
        let text = Format::new().set_num_format("@");
        for sheet in &self.sheets {
            let written = book.add_worksheet().set_name(&sheet.name).expect("a name");
            for (row, cells) in (0_u32..).zip(&sheet.rows) {
                for (column, cell) in (0_u16..).zip(cells) {
                    if !cell.is_empty() {
                        written
                            .write_string_with_format(row, column, cell, &text)
                            .expect("written");
                    }
                }
                if row % 2 == 0 {
                    written.set_row_hidden(row).expect("hidden");
                }
            }
        }
        book.save_to_buffer().expect("a workbook")
    }

    fn sheet(&self, name: &str) -> &Sheet {
        let mut named = self.sheets.iter().filter(|sheet| sheet.name == name);
        named.next().expect("the worksheet is there")
    }

    fn sheet_mut(&mut self, name: &str) -> &mut Sheet {
        let mut named = self.sheets.iter_mut().filter(|sheet| sheet.name == name);
        named.next().expect("the worksheet is there")
    }
}

impl Sheet {
    fn find_heading_row(&self) -> Option<usize> {
        self.rows
            .iter()
            .position(|cells| cells.iter().any(|cell| cell == "Question"))
    }

    fn heading_row(&self) -> usize {
        self.find_heading_row().expect("a heading row")
    }

    fn column(&self, heading: &str) -> usize {
        let cells = &self.rows[self.heading_row()];
        cells
            .iter()
            .position(|cell| cell == heading)
            .unwrap_or_else(|| panic!("no heading {heading} in {cells:?}"))
    }

    fn row(&self, wanted: Where<'_>) -> usize {
        let columns: Vec<(usize, &str)> = wanted
            .iter()
            .map(|(heading, text)| (self.column(heading), *text))
            .collect();
        let found: Vec<usize> = (self.heading_row() + 1..self.rows.len())
            .filter(|index| {
                columns.iter().all(|(column, text)| {
                    self.rows[*index].get(*column).map_or("", String::as_str) == *text
                })
            })
            .collect();
        assert_eq!(found.len(), 1, "{}: {wanted:?}: {:?}", self.name, self.rows);
        found[0]
    }
}
