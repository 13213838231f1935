//! A data set of marks read by `DuckDB`, where its Python package is installed: the SQL
//! that ships beside it gives the review's own figures.
//!
//! Where it is not, a test says so and has nothing to check; with
//! `TOOTHMARK_REQUIRE_DUCKDB=1`, which `.ci/run` sets, it fails instead. The Python to
//! ask is `TOOTHMARK_PYTHON`, else `python3`.

use crate::program;
use crate::review;
use serde_json::Value;
use serde_json::json;
use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::io::{self, Write as _};
use std::path::Path;
use std::process::Command;
use std::sync::LazyLock;
use toothmark::attainment;
use toothmark::attainment::calendar;
use toothmark::attainment::count;
use toothmark::attainment::fold;
use toothmark::attainment::tally;
use toothmark::marking;
use toothmark::number;

const CALENDAR: &str = "\
    [[term]]\nlabel = \"Summer\"\nyear = \"2025/26\"\nfirst = \"2026-04-13\"\nlast = \"2026-07-17\"\n\
    [[term]]\nlabel = \"Autumn\"\nyear = \"2026/27\"\nfirst = \"2026-08-24\"\nlast = \"2026-12-18\"\n";

/// Marked homeworks of a school: classes of two years on several days, one of them very
/// small, one in a year with an odd name, one outside every term, one pupil's work twice.
static RECORDS: LazyLock<Vec<(String, String)>> = LazyLock::new(records);

/// What `DuckDB` finds in a data set made without a calendar.
static FOUND: LazyLock<Option<Value>> = LazyLock::new(|| queried(&[]));

fn records() -> Vec<(String, String)> {
    let on = |day: &str, text: String| {
        let mut marked = marking::from_json(&text, "marked.json").expect("it is a record");
        day.clone_into(&mut marked.set_on);
        marking::to_json(&marked)
    };
    let few = review::record("6 Fir", "6", 4, "2026-03-13");
    let records = vec![
        on("2026-04-20", review::record("5 Oak", "5", 25, "2026-03-12")),
        on("2026-09-14", review::record("5 Oak", "6", 25, "2026-03-12")),
        on("2026-04-20", review::record("5 Elm", "5", 21, "2026-03-12")),
        on("2026-08-31", review::record("6 Ash", "6", 30, "2026-03-13")),
        on("2026-08-31", few.clone()),
        on("2026-08-31", few),
        on(
            "2026-03-09",
            review::record("7 Bay", "7/8 é?", 12, "2026-03-13"),
        ),
        on("2026-04-21", review::record("7 Box", "7", 8, "2026-03-13")),
    ];
    let numbered = records.into_iter().enumerate();
    numbered
        .map(|(number, text)| (format!("year/{number}/marked.json"), text))
        .collect()
}

/// Reviews the records into a data set, and returns what `DuckDB` finds in it.
fn queried(arguments: &[&str]) -> Option<Value> {
    let mut program = program::Program::new().file("terms.toml", CALENDAR);
    for (name, text) in RECORDS.iter() {
        program = program.file(name, text);
    }
    let program = program
        .arguments(["review", "year", "--out", "out", "--parquet"])
        .arguments(arguments.iter().copied());
    let run = program.run().succeeded();
    assert!(run.stdout.contains("own warehouse only"), "{}", run.stdout);
    query(&program.path("out"))
}

/// Returns every row of the views; nothing without `DuckDB`.
fn query(folder: &Path) -> Option<Value> {
    let python = env::var("TOOTHMARK_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let output = Command::new(python)
        .arg(program::root().join("tests/warehouse/query.py"))
        .arg(folder)
        .output();
    let is_missing = match &output {
        Ok(output) => output.status.code() == Some(3),
        Err(_) => true,
    };
    if is_missing {
        let must_be_there = env::var("TOOTHMARK_REQUIRE_DUCKDB").is_ok_and(|value| value == "1");
        assert!(!must_be_there, "DuckDB is not installed");
        let remark = "DuckDB is not installed: nothing was checked here";
        writeln!(io::stderr(), "{remark}").expect("the error stream can be written to");
        return None;
    }
    let output = output.expect("it was started");
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{told}");
    Some(serde_json::from_slice(&output.stdout).expect("it is JSON"))
}

/// The works of the records, as they are or of one year alone.
fn works(year: Option<&str>) -> Vec<attainment::Work> {
    let works = RECORDS.iter().map(|(name, text)| {
        let marked = marking::from_json(text, name).expect("it is a record");
        let mut work = attainment::Work::of(&marked);
        work.pupils
            .retain(|pupil| year.is_none_or(|year| pupil.year == year));
        work
    });
    works.collect()
}

fn summary(works: &[attainment::Work], calendar: Option<&str>) -> attainment::Summary {
    let mut fold = fold::Fold::default();
    for family in fold::Family::all(works) {
        fold.add(&family).expect("each is added once");
    }
    let school = attainment::School {
        calendar: calendar.map(|text| calendar::read(text, "terms.toml").expect("it is sound")),
        ..attainment::School::default()
    };
    fold.summary(&school)
}

/// The rows of a view, in an order of no meaning.
fn rows(found: &Value, view: &str) -> BTreeSet<String> {
    let rows = found[view].as_array().expect(view);
    let texts: BTreeSet<String> = rows.iter().map(Value::to_string).collect();
    assert_eq!(
        texts.len(),
        rows.len(),
        "a row of {view} stands there twice"
    );
    texts
}

fn texts(rows: impl IntoIterator<Item = Value>) -> BTreeSet<String> {
    rows.into_iter().map(|row| row.to_string()).collect()
}

/// Where a row stands, in the columns of `reported_figures`.
struct Place<'a> {
    table: &'a str,
    row: &'a str,
    within: &'a str,
    about: &'a str,
}

/// What the review tells of a row, in the columns of `reported_figures`.
fn told(place: &Place<'_>, shown: &count::Shown) -> Value {
    let (told, why) = match shown {
        count::Shown::InFull { .. } => ("in full", None),
        count::Shown::CountsOnly { .. } => ("counts only", None),
        count::Shown::Hidden(why) => ("nothing", Some(why.text())),
    };
    let figures = shown.figures();
    let percent = match shown {
        count::Shown::InFull { figures, facility } => facility.map(|facility| {
            let (earned, available) = (figures.earned, figures.available);
            let exact = number::Number::ratio(earned.into(), available.into());
            assert_eq!(Some(facility), exact.ok(), "{}", place.row);
            (200 * earned + available) / (2 * available)
        }),
        count::Shown::CountsOnly { .. } | count::Shown::Hidden(_) => None,
    };
    let answers = figures.and_then(|figures| figures.answers.as_ref());
    let number = |of: fn(&tally::Tally) -> u32| answers.map(of);
    json!({
        "in_table": place.table,
        "in_row": place.row,
        "within": place.within,
        "about": place.about,
        "told": told,
        "why": why,
        "pupils": figures.map(|it| it.pupils),
        "earned": figures.map(|it| it.earned),
        "available": figures.map(|it| it.available),
        "percent": percent,
        "correct": number(|it| it.correct),
        "partly": number(|it| it.partly),
        "wrong": number(|it| it.wrong),
        "blank": number(|it| it.blank),
        "not_reached": number(|it| it.not_reached),
        "unreadable": number(|it| it.unreadable),
        "absent": number(|it| it.absent),
        "excused": number(|it| it.excused),
    })
}

fn figures(summary: &attainment::Summary) -> BTreeSet<String> {
    let whole = std::slice::from_ref(&summary.whole);
    let tables: [(&str, &[attainment::Row]); 8] = [
        ("whole", whole),
        ("years", &summary.years),
        ("classes", &summary.classes),
        ("skills", &summary.skills),
        ("levels", &summary.levels),
        ("questions", &summary.questions),
        ("terms", &summary.terms),
        ("school years", &summary.school_years),
    ];
    let rows = tables.iter().flat_map(|(table, rows)| {
        rows.iter().map(|row| {
            let within = if *table == "questions" {
                row.about.split(", level ").next().unwrap_or_default()
            } else {
                ""
            };
            let place = Place {
                table,
                row: &row.label,
                within,
                about: &row.about,
            };
            told(&place, &row.shown)
        })
    });
    let mut rows: Vec<Value> = rows.collect();
    for (table, grid) in [
        ("skills by year", &summary.skills_by_year),
        ("skills by class", &summary.skills_by_class),
    ] {
        for row in &grid.rows {
            for (column, cell) in grid.columns.iter().zip(&row.cells) {
                let place = Place {
                    table,
                    row: &row.label,
                    within: column,
                    about: "",
                };
                rows.extend(cell.as_ref().map(|cell| told(&place, cell)));
            }
        }
    }
    texts(rows)
}

fn number(count: count::Count) -> (Option<u32>, Option<&'static str>) {
    match count {
        count::Count::Pupils(pupils) => (Some(pupils), None),
        count::Count::Hidden(why) => (None, Some(why.text())),
    }
}

#[test]
fn the_sql_beside_a_data_set_gives_the_reviews_own_figures() {
    for calendar in [None, Some(CALENDAR)] {
        let queried = match calendar {
            Some(_) => &queried(&["--calendar", "terms.toml"]),
            None => &*FOUND,
        };
        let Some(found) = queried else {
            return;
        };
        let summary = summary(&works(None), calendar);
        assert_eq!(rows(found, "reported_figures"), figures(&summary));
        let table = &summary.misconceptions;
        let misconceptions = table.rows.iter().map(|row| {
            let (again, not_again) = number(row.again);
            let (once, not_once) = number(row.once);
            json!({"misconception": row.id, "again": again, "why_not_again": not_again,
                "once": once, "why_not_once": not_once})
        });
        let wanted = texts(misconceptions);
        assert!(!wanted.is_empty(), "the pupils show some");
        assert_eq!(rows(found, "reported_misconceptions"), wanted);
        let by_year = table.rows.iter().flat_map(|row| {
            table.years.iter().zip(&row.by_year).map(|(year, count)| {
                let (again, why) = number(*count);
                json!({"misconception": row.id, "year": year, "again": again, "why": why})
            })
        });
        let wanted = texts(by_year);
        assert_eq!(rows(found, "reported_misconceptions_by_year"), wanted);
        let coverage = summary.coverage.skills.iter().flat_map(|skill| {
            skill.times.iter().map(|time| {
                json!({"skill": skill.skill.title(), "asked_when": time.when,
                    "year": time.year, "questions": time.questions})
            })
        });
        assert_eq!(rows(found, "coverage"), texts(coverage));
    }
}

#[test]
fn skills_by_year_are_what_a_review_of_each_year_alone_gives() {
    let Some(found) = &*FOUND else {
        return;
    };
    let by_year = found["all_skills_by_year"].as_array().expect("rows");
    let mut compared = 0;
    // Year 7 has fewer than ten pupils: not all of its skills need be told.
    for year in ["5", "6", "7/8 é?"] {
        for row in &summary(&works(Some(year)), None).skills {
            let Some(figures) = row.shown.figures() else {
                continue;
            };
            let wanted = json!({"skill": row.label, "year": year, "pupils": figures.pupils,
                "earned": figures.earned, "available": figures.available});
            assert!(by_year.contains(&wanted), "{wanted}: {by_year:?}");
            compared += 1;
        }
    }
    assert_eq!(compared, 6, "two skills of three years");
}

#[test]
fn small_groups_are_in_the_data_set_and_in_no_report() {
    let Some(found) = &*FOUND else {
        return;
    };
    let row = |view: &str| {
        let rows = found[view].as_array().expect(view);
        let row = rows
            .iter()
            .find(|row| row["in_table"] == "classes" && row["in_row"] == "6 Fir");
        row.expect("the class is there").clone()
    };
    assert_eq!(row("all_figures")["pupils"], 3);
    let reported = row("reported_figures");
    assert_eq!(reported["told"], "nothing");
    for column in ["pupils", "correct", "earned", "available", "percent"] {
        assert_eq!(reported[column], Value::Null, "{column}");
    }
    let answers = found["answers"].to_string();
    assert!(answers.contains("7/8 é?"), "years are as the roll has them");
    assert!(answers.contains("7-8%20%C3%A9%3F") || answers.contains("7-8 é?"));
    for named in ["Secretname", "6 Fir-0"] {
        assert!(!found.to_string().contains(named), "{named} stands in it");
    }
}

#[test]
fn a_data_set_is_written_whole_and_an_older_one_kept() {
    let name = "year/marked.json";
    let program = program::Program::new()
        .file(name, review::record("5 Oak", "5", 12, "2026-03-12"))
        .arguments(["review", "year", "--out", "out", "--parquet"]);
    program.run().succeeded();
    let part = "out/marks/academic_year=2025-26/year_group=5/part-0000.parquet";
    let first = fs::read(program.path(part)).expect("it is there");
    program.run().succeeded();
    let names = || -> BTreeSet<String> {
        let entries = fs::read_dir(program.path("out")).expect("it is there");
        let names = entries.map(|entry| entry.expect("an entry").file_name());
        names
            .map(|name| name.to_string_lossy().into_owned())
            .collect()
    };
    let plain = [
        "attainment.xlsx",
        "marks",
        "marks.sql",
        "open-datafusion.sql",
        "open-duckdb.sql",
    ];
    assert!(
        plain.iter().all(|name| names().contains(*name)),
        "{:?}",
        names()
    );
    assert!(
        !names().iter().any(|name| name.contains("2026")),
        "{:?}",
        names()
    );
    let other = review::record("5 Oak", "5", 13, "2026-03-13");
    fs::write(program.path(name), other).expect("written");
    let run = program.run().succeeded();
    assert!(run.stdout.contains("marks 2026-03-13"), "{}", run.stdout);
    let kept = part.replace("marks", "marks 2026-03-13");
    assert!(fs::read(program.path(&kept)).expect("it is kept") == first);
    assert!(
        !names().iter().any(|name| name.starts_with('.')),
        "{:?}",
        names()
    );

    fs::write(program.path(name), "{").expect("written");
    program.run().ended_with(1);
    assert!(
        !names().iter().any(|name| name.starts_with('.')),
        "{:?}",
        names()
    );
}
