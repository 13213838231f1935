//! `attainment.csv`: a row for each figure, for other programs.

use crate::marking::table as guard;
use crate::report::table;

/// The headings.
const HEADINGS: [&str; 10] = [
    "table",
    "row",
    "column",
    "measure",
    "value",
    "low",
    "high",
    "n",
    "note",
    "keep_until",
];

/// Returns the bytes of the tidy table; `keep_until` is the same in all rows.
pub(super) fn write(tables: &[table::Table], keep_until: &str) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut put = |row: [String; 10]| {
        writer
            .write_record(&row)
            .expect("every row has as many cells as there are headings");
    };
    put(HEADINGS.map(str::to_owned));
    for table in tables {
        for row in &table.rows {
            for (column, cell) in table.columns.iter().zip(&row.cells) {
                if let Some(figure) = figure(column, cell) {
                    let [value, low, high, pupils, note] = figure;
                    let texts = [table.name, &row.name(), &column.part].map(guard::guarded);
                    let [name, row, part] = texts;
                    let measure = measure(column);
                    let keep_until = keep_until.to_owned();
                    put([
                        name, row, part, measure, value, low, high, pupils, note, keep_until,
                    ]);
                }
            }
        }
    }
    writer.into_inner().expect("writing to memory cannot fail")
}

/// What is measured, with its unit.
fn measure(column: &table::Column) -> String {
    match column.unit.name() {
        "" => column.measure.to_owned(),
        unit => format!("{} ({unit})", column.measure),
    }
}

/// The value, its interval, how many pupils and the note; nothing where the column does
/// not apply. Numbers are written as they are: a minus sign before digits runs nothing.
fn figure(column: &table::Column, cell: &table::Cell) -> Option<[String; 5]> {
    let empty = String::new;
    match cell {
        table::Cell::Figure(figure) => {
            let unit = column.unit;
            let (low, high) = figure.interval.map_or_else(
                || (empty(), empty()),
                |(low, high)| (unit.number(low), unit.number(high)),
            );
            let pupils = figure.pupils.map_or_else(empty, |it| it.to_string());
            let note = guard::guarded(&figure.note);
            Some([unit.number(figure.value), low, high, pupils, note])
        }
        table::Cell::Words(words) if words.is_empty() => None,
        table::Cell::Words(words) => {
            Some([guard::guarded(words), empty(), empty(), empty(), empty()])
        }
        table::Cell::Held(why) => Some([empty(), empty(), empty(), empty(), guard::guarded(why)]),
        table::Cell::Nothing => None,
    }
}
