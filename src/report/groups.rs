//! Tables of groups: years, classes, groups of the roll, terms, skills, levels, questions.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::tally;
use crate::report::table;

/// The columns of counts, by heading, in the order of [`counts`].
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
        count::Shown::InFull { tally, .. } => {
            let facility = facility(tally).map_or(table::Cell::Nothing, table::Cell::Figure);
            cells(tally, facility)
        }
        count::Shown::CountsOnly { tally } => {
            cells(tally, table::Cell::Held("counts only".to_owned()))
        }
        count::Shown::Hidden(why) => vec![table::Cell::Held(why.text().to_owned()); width],
    };
    table::Row {
        names: vec![group.label.clone()],
        cells,
        is_whole,
    }
}

fn cells(tally: &tally::Tally, facility: table::Cell) -> Vec<table::Cell> {
    let count = |count| table::Cell::Figure(table::Figure::count(count));
    let mut cells = vec![count(tally.pupils), facility];
    cells.extend(counts(tally).map(count));
    cells
}

/// The facility of counts as a figure; nothing where no answer counts.
pub(super) fn facility(tally: &tally::Tally) -> Option<table::Figure> {
    let share = tally.share()?;
    let interval = share.interval();
    Some(table::Figure {
        value: f64::from(tally::percent(share.value())),
        interval: Some((100.0 * interval.low, 100.0 * interval.high)),
        pupils: Some(tally.pupils),
        note: String::new(),
    })
}

/// The counts, in the order of their headings.
fn counts(tally: &tally::Tally) -> [u32; 10] {
    [
        tally.earned,
        tally.available,
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
