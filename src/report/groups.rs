//! Tables of groups: years, classes, groups of the roll, terms, skills, levels, questions.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::grid;
use crate::attainment::tally;
use crate::report::palette;
use crate::report::table;

/// The columns of counts, by heading: marks, then answers in the order of [`counts`].
const COUNTED: [&str; 10] = [
    "Marks earned",
    "Marks to be had",
    "Correct",
    "Partly",
    "Wrong",
    "Blank",
    "Unreadable",
    "Not reached",
    "Absent",
    "Excused",
];
/// What stands in place of a facility of few pupils.
const COUNTS_ONLY: &str = "counts only";
/// What stands in place of answers that others could be worked out from.
const NOT_TOLD: &str = "not told";
/// In how many charts, one for each group, a grid is drawn.
const MOST_CHARTS: usize = 9;
/// How many questions are drawn.
const MOST_QUESTIONS: usize = 12;
/// The column of the facility.
const FACILITY_COLUMN: usize = 1;

/// Returns the table of groups of one kind; `heading` names the first column.
pub(super) fn table(
    name: &'static str,
    heading: &'static str,
    rows: &[attainment::Row],
    whole: &attainment::Row,
) -> table::Table {
    let mut columns = vec![
        table::Column::new("Pupils", table::Unit::Count),
        table::Column::new("Facility", table::Unit::Percent),
    ];
    columns.extend(COUNTED.map(|counted| table::Column::new(counted, table::Unit::Count)));
    let mut told: Vec<table::Row> = rows.iter().map(|group| row(group, false)).collect();
    told.push(row(whole, true));
    table::Table {
        name,
        notes: Vec::new(),
        names: vec![heading],
        columns,
        rows: told,
        charts: vec![table::Chart {
            title: format!("Facility by {}", heading.to_lowercase()),
            columns: vec![FACILITY_COLUMN],
            named_by: 1,
            rows: table::Drawn::All,
        }],
    }
}

/// Returns the table of questions: each says what it is about, and only the lowest are
/// drawn.
pub(super) fn questions(summary: &attainment::Summary) -> table::Table {
    let mut table = table("Questions", "Question", &summary.questions, &summary.whole);
    table.names.push("About");
    let abouts = summary.questions.iter().map(|row| row.about.as_str());
    for (row, about) in table.rows.iter_mut().zip(abouts.chain([""])) {
        row.names.push(about.to_owned());
    }
    let are_many = summary.questions.len() > MOST_QUESTIONS;
    for chart in table.charts.iter_mut().filter(|_| are_many) {
        chart.title = format!("The {MOST_QUESTIONS} questions with the lowest facility");
        chart.rows = table::Drawn::Lowest(MOST_QUESTIONS);
    }
    table
}

fn row(group: &attainment::Row, is_whole: bool) -> table::Row {
    let width = COUNTED.len() + 2;
    let cells = match &group.shown {
        count::Shown::InFull { figures, .. } => cells(figures, facility(figures)),
        count::Shown::CountsOnly { figures } => cells(figures, held(COUNTS_ONLY)),
        count::Shown::Hidden(why) => vec![held(why.text()); width],
    };
    table::Row {
        names: vec![group.label.clone()],
        cells,
        is_whole,
    }
}

fn held(why: &str) -> table::Cell {
    table::Cell::Held(why.to_owned())
}

fn cells(figures: &count::Figures, facility: table::Cell) -> Vec<table::Cell> {
    let count = table::Cell::count;
    let mut cells = vec![
        count(figures.pupils),
        facility,
        count(figures.earned),
        count(figures.available),
    ];
    match &figures.answers {
        Some(tally) => cells.extend(counts(tally).map(count)),
        None => cells.extend(std::iter::repeat_n(held(NOT_TOLD), COUNTED.len() - 2)),
    }
    cells
}

/// The facility of a group; nothing where no answer counts.
fn facility(figures: &count::Figures) -> table::Cell {
    figures.share().map_or(table::Cell::Nothing, |share| {
        let interval = share.interval();
        table::Cell::Figure(table::Figure {
            value: f64::from(tally::percent(share.value())),
            interval: Some((100.0 * interval.low, 100.0 * interval.high)),
            pupils: Some(figures.pupils),
            note: String::new(),
        })
    })
}

/// Returns a table of skills by groups; `name_of` says what a group is called.
pub(super) fn grid(
    name: &'static str,
    grid: &grid::Grid,
    name_of: impl Fn(&str) -> String,
) -> table::Table {
    let columns: Vec<table::Column> = grid
        .columns
        .iter()
        .map(|group| table::Column::of_part(&name_of(group), "Facility", table::Unit::Percent))
        .collect();
    let rows = grid.rows.iter().map(|row| {
        let cells = row.cells.iter().map(|cell| match cell {
            Some(count::Shown::InFull { figures, .. }) => facility(figures),
            Some(count::Shown::CountsOnly { .. }) => held(COUNTS_ONLY),
            Some(count::Shown::Hidden(why)) => held(why.text()),
            None => held("not asked"),
        });
        table::Row {
            names: vec![row.label.clone()],
            cells: cells.collect(),
            is_whole: false,
        }
    });
    let chart = |title: String, columns| table::Chart {
        title,
        columns,
        named_by: 1,
        rows: table::Drawn::All,
    };
    let all: Vec<usize> = (0..columns.len()).collect();
    let charts = if columns.len() <= palette::SETS {
        vec![chart(format!("Facility: {}", name.to_lowercase()), all)]
    } else if columns.len() <= MOST_CHARTS {
        let each = columns.iter().enumerate();
        each.map(|(number, column)| chart(format!("Facility of {}", column.part), vec![number]))
            .collect()
    } else {
        Vec::new()
    };
    table::Table {
        name,
        notes: Vec::new(),
        names: vec!["Skill"],
        columns,
        rows: rows.collect(),
        charts,
    }
}

/// The answers by what became of them, in the order of their headings.
fn counts(tally: &tally::Tally) -> [u32; 8] {
    [
        tally.correct,
        tally.partly,
        tally.wrong,
        tally.blank,
        tally.unreadable,
        tally.not_reached,
        tally.absent,
        tally.excused,
    ]
}
