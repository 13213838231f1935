//! The table of what may be told: of each row of a review's tables what the review tells.
//!
//! Which rows are held back is decided over a whole run, so that no small group can be
//! found by subtraction. A query over answers cannot decide it again; it joins this.

use crate::attainment;
use crate::attainment::count;
use crate::warehouse::columns;
use crate::warehouse::file;
use std::io::Write;

#[derive(Debug, Default)]
struct Waiting {
    table: columns::Texts,
    row: columns::Texts,
    about: columns::Texts,
    told: columns::Texts,
    why: columns::Texts,
}

impl file::Rows for Waiting {
    const TABLE: &'static str = "told";

    fn columns(&self) -> Vec<(&'static str, &dyn columns::Column)> {
        vec![
            ("in_table", &self.table),
            ("in_row", &self.row),
            ("about", &self.about),
            ("told", &self.told),
            ("why", &self.why),
        ]
    }
}

/// What is told of one row: `in full`, `counts only`, `count` or `nothing`, and why.
type Told = (&'static str, Option<&'static str>);

/// Writes what a summary tells of each of its rows.
///
/// # Errors
///
/// When `out` takes no more.
pub fn write(
    summary: &attainment::Summary,
    out: impl Write + Send + 'static,
) -> Result<(), file::Unwritten> {
    let mut file: file::File<Waiting> = file::File::begin(out)?;
    let whole = std::slice::from_ref(&summary.whole);
    for (table, rows) in [
        ("whole", whole),
        ("years", &summary.years),
        ("classes", &summary.classes),
        ("groups", &summary.groups),
        ("skills", &summary.skills),
        ("levels", &summary.levels),
        ("questions", &summary.questions),
        ("school years", &summary.school_years),
        ("terms", &summary.terms),
    ] {
        for row in rows {
            add(
                &mut file,
                [table, &row.label, &row.about],
                shown(&row.shown),
            )?;
        }
    }
    let table = &summary.misconceptions;
    for row in &table.rows {
        let id = row.id.as_str();
        add(&mut file, ["again", id, ""], counted(row.again))?;
        add(&mut file, ["once", id, ""], counted(row.once))?;
        for (year, count) in table.years.iter().zip(&row.by_year) {
            add(&mut file, ["again by year", id, year], counted(*count))?;
        }
    }
    file.finish()
}

fn add(
    file: &mut file::File<Waiting>,
    [table, row, about]: [&str; 3],
    (told, why): Told,
) -> Result<(), file::Unwritten> {
    file.add(|rows| {
        rows.table.push(table);
        rows.row.push(row);
        rows.about.push(about);
        rows.told.push(told);
        rows.why.push_maybe(why);
    })
}

fn shown(shown: &count::Shown) -> Told {
    match shown {
        count::Shown::InFull { .. } => ("in full", None),
        count::Shown::CountsOnly { .. } => ("counts only", None),
        count::Shown::Hidden(why) => ("nothing", Some(why.text())),
    }
}

fn counted(count: count::Count) -> Told {
    match count {
        count::Count::Pupils(_) => ("count", None),
        count::Count::Hidden(why) => ("nothing", Some(why.text())),
    }
}
