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
    within: columns::Texts,
    about: columns::Texts,
    told: columns::Texts,
    answers_told: columns::Truths,
    why: columns::Texts,
}

impl file::Rows for Waiting {
    const TABLE: &'static str = "told";

    fn columns(&self) -> Vec<(&'static str, &dyn columns::Column)> {
        vec![
            ("in_table", &self.table),
            ("in_row", &self.row),
            ("within", &self.within),
            ("about", &self.about),
            ("told", &self.told),
            ("answers_told", &self.answers_told),
            ("why", &self.why),
        ]
    }
}

/// Where a number stands: the table, the row, what else the row is within (the skill of a
/// question, the year of a misconception), and more about it.
type Place<'a> = [&'a str; 4];

/// What is told of one row.
struct Told {
    /// `in full`, `counts only`, `count` or `nothing`.
    what: &'static str,
    /// Whether the answers are told by what became of them.
    answers: bool,
    /// Why nothing is told.
    why: Option<&'static str>,
}

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
    file.keep(summary.kept_until());
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
            // A template may have changed its skill: the question stands there for each.
            let within = match table {
                "questions" => row.about.split(", level ").next().unwrap_or_default(),
                _ => "",
            };
            let place = [table, &row.label, within, &row.about];
            add(&mut file, place, &shown(&row.shown))?;
        }
    }
    for (table, grid) in [
        ("skills by year", &summary.skills_by_year),
        ("skills by class", &summary.skills_by_class),
    ] {
        for row in &grid.rows {
            for (column, cell) in grid.columns.iter().zip(&row.cells) {
                if let Some(cell) = cell {
                    add(&mut file, [table, &row.label, column, ""], &shown(cell))?;
                }
            }
        }
    }
    let table = &summary.misconceptions;
    for row in &table.rows {
        let id = row.id.as_str();
        add(&mut file, ["again", id, "", ""], &counted(row.again))?;
        add(&mut file, ["once", id, "", ""], &counted(row.once))?;
        for (year, count) in table.years.iter().zip(&row.by_year) {
            add(&mut file, ["again by year", id, year, ""], &counted(*count))?;
        }
    }
    file.finish()
}

fn add(
    file: &mut file::File<Waiting>,
    [table, row, within, about]: Place<'_>,
    told: &Told,
) -> Result<(), file::Unwritten> {
    file.add(|rows| {
        rows.table.push(table);
        rows.row.push(row);
        rows.within.push(within);
        rows.about.push(about);
        rows.told.push(told.what);
        rows.answers_told.push(told.answers);
        rows.why.push_maybe(told.why);
    })
}

fn shown(shown: &count::Shown) -> Told {
    let (what, figures) = match shown {
        count::Shown::InFull { figures, .. } => ("in full", figures),
        count::Shown::CountsOnly { figures } => ("counts only", figures),
        count::Shown::Hidden(why) => return nothing(why.text()),
    };
    Told {
        what,
        answers: figures.answers.is_some(),
        why: None,
    }
}

fn counted(count: count::Count) -> Told {
    match count {
        count::Count::Pupils(_) => Told {
            what: "count",
            answers: false,
            why: None,
        },
        count::Count::Hidden(why) => nothing(why.text()),
    }
}

fn nothing(why: &'static str) -> Told {
    Told {
        what: "nothing",
        answers: false,
        why: Some(why),
    }
}
