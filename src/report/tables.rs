//! The tables of a summary, in the order of the worksheets of the workbook.

use crate::attainment;
use crate::attainment::bands;
use crate::attainment::count;
use crate::attainment::coverage;
use crate::attainment::misconceptions;
use crate::report::groups;
use crate::report::measures;
use crate::report::table;
use crate::statistics::proportion;

/// How many misconceptions are drawn.
const MOST_MISCONCEPTIONS: usize = 8;

/// Returns every table that has something to say.
pub(super) fn tables(summary: &attainment::Summary) -> Vec<table::Table> {
    let whole = &summary.whole;
    let by = |name, heading, rows| groups::table(name, heading, rows, whole);
    let years: Vec<attainment::Row> = summary
        .years
        .iter()
        .map(|row| attainment::Row {
            label: attainment::said_year(&row.label),
            ..row.clone()
        })
        .collect();
    let mut tables = vec![
        by("Years", "Year", &years),
        by("Classes", "Class", &summary.classes),
        by("Groups", "Group", &summary.groups),
        by("School years", "School year", &summary.school_years),
        by("Terms", "Term", &summary.terms),
        by("Skills", "Skill", &summary.skills),
        groups::grid(
            "Skills by year",
            &summary.skills_by_year,
            attainment::said_year,
        ),
        groups::grid("Skills by class", &summary.skills_by_class, str::to_owned),
        by("Levels", "Level", &summary.levels),
        groups::questions(summary),
        misconceptions(&summary.misconceptions),
        coverage(&summary.coverage),
    ];
    tables.extend(summary.bands.as_ref().map(bands));
    tables.extend(measures::tables(&summary.figures));
    tables.push(homeworks(&summary.homeworks));
    // The row of all together alone says nothing that the others do not.
    tables.retain(|table| table.rows.iter().any(|row| !row.is_whole));
    tables
}

/// A number of pupils, or why it is not told.
fn pupils(count: count::Count) -> table::Cell {
    match count {
        count::Count::Pupils(pupils) => table::Cell::count(pupils),
        count::Count::Hidden(why) => table::Cell::Held(why.text().to_owned()),
    }
}

/// The share of pupils that one number is of another, where both may be told.
fn share(those: count::Count, all: count::Count) -> table::Cell {
    let (those, all) = match (those, all) {
        (count::Count::Pupils(those), count::Count::Pupils(all)) => (those, all),
        (count::Count::Hidden(why), count::Count::Pupils(_) | count::Count::Hidden(_))
        | (count::Count::Pupils(_), count::Count::Hidden(why)) => {
            return table::Cell::Held(why.text().to_owned());
        }
    };
    let share = proportion::Share::of_pupils(u64::from(those), u64::from(all));
    share.map_or(table::Cell::Nothing, |share| {
        let interval = share.interval();
        table::Cell::Figure(table::Figure {
            value: 100.0 * share.value().to_f64(),
            interval: Some((100.0 * interval.low, 100.0 * interval.high)),
            pupils: Some(all),
            note: String::new(),
        })
    })
}

fn misconceptions(told: &misconceptions::Table) -> table::Table {
    let again = "Pupils, two answers or more";
    let mut columns = vec![
        table::Column::new(again, table::Unit::Count),
        table::Column {
            says_pupils: true,
            ..table::Column::new("Share of pupils", table::Unit::Percent)
        },
        table::Column::new("Pupils, one answer only", table::Unit::Count),
    ];
    for year in &told.years {
        let year = attainment::said_year(year);
        columns.push(table::Column::of_part(&year, again, table::Unit::Count));
    }
    columns.push(table::Column::new("Try next", table::Unit::Words));
    let rows = told.rows.iter().map(|row| {
        let mut cells = vec![
            pupils(row.again),
            share(row.again, told.pupils),
            pupils(row.once),
        ];
        cells.extend(row.by_year.iter().map(|count| pupils(*count)));
        cells.push(table::Cell::Words(row.next.clone()));
        table::Row {
            names: vec![row.name.clone()],
            cells,
            is_whole: false,
        }
    });
    table::Table {
        name: "Misconceptions",
        notes: [
            "A pupil counts when two or more of their answers are consistent with someone who \
             thinks so: one answer may be a slip.",
            "An answer can fit several ways of thinking. A pupil counts for the fewest that \
             explain their answers, and for each where several explain as many.",
            "The share is of the pupils who handed in, with its 95 % interval (Wilson).",
        ]
        .map(str::to_owned)
        .to_vec(),
        names: vec!["Consistent with someone who"],
        columns,
        rows: rows.collect(),
        charts: vec![table::Chart {
            title: format!(
                "Share of pupils with two answers or more consistent with someone who ..., the \
                 {MOST_MISCONCEPTIONS} commonest"
            ),
            columns: vec![1],
            named_by: 1,
            rows: table::Drawn::Highest(MOST_MISCONCEPTIONS),
        }],
    }
}

fn coverage(told: &coverage::Coverage) -> table::Table {
    let mut rows = Vec::new();
    for skill in &told.skills {
        cover(&mut rows, "Skill", skill.skill.title(), &skill.times);
    }
    for skill in &told.not_asked {
        cover(&mut rows, "Skill", skill.title(), &[]);
    }
    let mut notes = vec![
        "What was asked, not what is known. A question counts once for each homework and year."
            .to_owned(),
        "Which questions are on a statement is a judgement: the curriculum's file says which \
         skills and levels were taken for it."
            .to_owned(),
    ];
    for curriculum in &told.curricula {
        for covered in &curriculum.statements {
            let statement = &covered.statement;
            let part = format!("{}, {}", statement.subject, statement.stage);
            cover(&mut rows, &part, &statement.text, &covered.times);
        }
        notes.push(format!(
            "Statements are quoted from {}. {}. {}. Compare with the publisher's own page before \
             you quote them.",
            curriculum.title, curriculum.edition, curriculum.source
        ));
    }
    table::Table {
        name: "Coverage",
        notes,
        names: vec!["Part", "Skill or statement", "Asked in", "Year"],
        columns: vec![table::Column::new("Questions", table::Unit::Count)],
        rows,
        charts: Vec::new(),
    }
}

/// Adds a row for each time; one that says so where there is none.
fn cover(rows: &mut Vec<table::Row>, part: &str, what: &str, times: &[coverage::Time]) {
    let mut add = |when: &str, year: &str, questions| {
        rows.push(table::Row {
            names: [part, what, when, year].map(str::to_owned).to_vec(),
            cells: vec![table::Cell::count(questions)],
            is_whole: false,
        });
    };
    for time in times {
        add(&time.when, &time.year, time.questions);
    }
    if times.is_empty() {
        add("not asked", "", 0);
    }
}

fn bands(told: &bands::Table) -> table::Table {
    let columns = told.columns.iter().map(|band| table::Column {
        says_pupils: false,
        ..table::Column::of_part(band, "Pupils", table::Unit::Count)
    });
    let rows = told.rows.iter().map(|row| {
        let kind = match row.kind {
            bands::Kind::All => "All",
            bands::Kind::Year => "Year",
            bands::Kind::Class => "Class",
        };
        table::Row {
            names: vec![kind.to_owned(), row.label.clone()],
            cells: row.pupils.iter().map(|count| pupils(*count)).collect(),
            is_whole: false,
        }
    });
    let mut notes = [
        "Numbers of pupils. The bands and where they begin are the school's own. They say \
         how much of these homeworks was earned, and are no statutory judgement.",
        "A pupil of several years or classes counts in each by what they did there, and in \
         All by everything.",
    ]
    .map(str::to_owned)
    .to_vec();
    notes.extend(told.not_shown.clone());
    table::Table {
        name: "Bands",
        notes,
        names: vec!["Group", "Name"],
        columns: columns.collect(),
        rows: rows.collect(),
        charts: Vec::new(),
    }
}

fn homeworks(told: &[attainment::HomeworkLine]) -> table::Table {
    let rows = told.iter().map(|homework| {
        let questions = u32::try_from(homework.questions).unwrap_or(u32::MAX);
        let names = [
            &homework.code,
            &homework.title,
            &homework.set_on,
            &homework.marked_on,
        ];
        table::Row {
            names: names.map(String::clone).to_vec(),
            cells: vec![pupils(homework.pupils), table::Cell::count(questions)],
            is_whole: false,
        }
    });
    table::Table {
        name: "Homeworks",
        notes: vec!["Each homework that was counted, by the day it was set.".to_owned()],
        names: vec!["Homework", "Title", "Set on", "Marked on"],
        columns: vec![
            table::Column::new("Pupils", table::Unit::Count),
            table::Column::new("Questions on a sheet", table::Unit::Count),
        ],
        rows: rows.collect(),
        charts: Vec::new(),
    }
}
