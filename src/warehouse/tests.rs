//! Files are read back by the library's own reader: every value comes back as it was.

use super::*;
use crate::attainment::line;
use crate::date;
use crate::marking;
use parquet::file::reader::FileReader;
use parquet::file::reader::SerializedFileReader;
use parquet::record::ListAccessor;
use parquet::record::MapAccessor;
use parquet::record::Row;
use parquet::record::RowAccessor;
use std::collections::BTreeMap;

/// What differs between the rows of these tests.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Given {
    class: String,
    term: Option<String>,
    day: Option<i32>,
    groups: BTreeMap<String, String>,
    misconceptions: Vec<String>,
    marks: u8,
    needs_check: bool,
}

const DAYS: [&str; 3] = ["1969-12-31", "2026-03-09", "soon"];

/// The day that is so many days after 1 January 1970, of those that are given.
fn day_of(days: Option<i32>) -> Option<date::Date> {
    DAYS.iter()
        .filter_map(|text| text.parse::<date::Date>().ok())
        .find(|day| Some(day.days_since_1970()) == days)
}

impl Given {
    fn line(&self) -> line::Line<'_> {
        let day = day_of(self.day);
        line::Line {
            homework: "K7Q2",
            title: "Gears",
            set_on: "",
            day,
            kept_until: day.map(date::Date::end_of_academic_year),
            academic_year: "2025-26",
            asked_when: "2026-03-09",
            term: self.term.as_deref(),
            school_year: None,
            pupil: 7,
            class: &self.class,
            year: "5",
            groups: &self.groups,
            question: "Q3b",
            bank: "gears-7-11",
            template: "turns-pair-down",
            part: "b",
            skill: "Turns",
            level: 4,
            marks: self.marks,
            out_of: 2,
            state: marking::State::Wrong,
            misconceptions: &self.misconceptions,
            needs_check: self.needs_check,
        }
    }
}

/// Writes rows and reads them back.
fn back(rows: &[Given]) -> Vec<Given> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("part.parquet");
    let out = std::fs::File::create_new(&path).expect("a file");
    let mut file = answers::Answers::begin(out).expect("begun");
    for row in rows {
        file.add(&row.line()).expect("added");
    }
    file.finish().expect("ended");
    let written = std::fs::File::open(&path).expect("it is there");
    let reader = SerializedFileReader::new(written).expect("it is Parquet");
    let rows = reader.get_row_iter(None).expect("it has rows");
    rows.map(|row| given(&row.expect("a row"))).collect()
}

fn given(row: &Row) -> Given {
    let place = |name: &str| {
        let found = row.get_column_iter().position(|(other, _)| other == name);
        found.unwrap_or_else(|| panic!("no column {name}"))
    };
    let text = |name: &str| row.get_string(place(name)).expect(name).clone();
    let is_null = |name: &str| {
        let field = row.get_column_iter().nth(place(name));
        matches!(field, Some((_, parquet::record::Field::Null)))
    };
    for (name, wanted) in [
        ("homework", "K7Q2"),
        ("title", "Gears"),
        ("asked_when", "2026-03-09"),
        ("year", "5"),
        ("question", "Q3b"),
        ("bank", "gears-7-11"),
        ("template", "turns-pair-down"),
        ("part", "b"),
        ("skill", "Turns"),
        ("state", "wrong"),
    ] {
        assert_eq!(text(name), wanted, "{name}");
    }
    for (name, wanted) in [("pupil", 7), ("level", 4), ("out_of", 2)] {
        assert_eq!(row.get_int(place(name)).expect(name), wanted, "{name}");
    }
    assert!(is_null("school_year"));
    let list = row.get_list(place("misconceptions")).expect("a list");
    let map = row.get_map(place("groups")).expect("a map");
    let (keys, values) = (map.get_keys(), map.get_values());
    let field = row.get_column_iter().nth(place("set_on"));
    let day = match field {
        Some((_, parquet::record::Field::Date(day))) => Some(*day),
        Some(_) | None => None,
    };
    let kept_until = match row.get_column_iter().nth(place("keep_until")) {
        Some((_, parquet::record::Field::Date(day))) => Some(*day),
        Some(_) | None => None,
    };
    let wanted = day_of(day).map(|it| it.end_of_academic_year().days_since_1970());
    assert_eq!(kept_until, wanted);
    Given {
        class: text("class"),
        term: (!is_null("term")).then(|| text("term")),
        day,
        groups: (0..map.len())
            .map(|entry| {
                let key = keys.get_string(entry).expect("a key").clone();
                (key, values.get_string(entry).expect("a value").clone())
            })
            .collect(),
        misconceptions: (0..list.len())
            .map(|entry| list.get_string(entry).expect("a text").clone())
            .collect(),
        marks: u8::try_from(row.get_int(place("marks")).expect("marks")).expect("few"),
        needs_check: row.get_bool(place("needs_check")).expect("yes or no"),
    }
}

fn texts(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|text| (*text).to_owned()).collect()
}

#[test]
fn odd_texts_empty_lists_and_missing_values_come_back() {
    let rows = [
        Given::default(),
        Given {
            class: "'; DROP TABLE answers; --\0\r\n\u{202e}é🙂".to_owned(),
            term: Some(String::new()),
            day: Some(-1),
            groups: [("", "x"), ("reading", ""), ("school", "=1+1")]
                .map(|(key, value)| (key.to_owned(), value.to_owned()))
                .into(),
            misconceptions: texts(&["same-speed", "same-speed", ""]),
            marks: 255,
            needs_check: true,
        },
        Given {
            day: Some(20_521),
            misconceptions: texts(&["adds-stages"]),
            ..Given::default()
        },
        Given::default(),
    ];
    assert_eq!(back(&rows), rows);
    assert_eq!(back(&[]), []);
}

#[test]
fn more_rows_than_a_group_has_come_back_in_order() {
    let rows: Vec<Given> = (0..file::ROWS_IN_A_GROUP + 5)
        .map(|row| Given {
            class: format!("{}", row % 300),
            misconceptions: texts(&["a", "b"][..row % 3 % 2 + row % 2]),
            ..Given::default()
        })
        .collect();
    assert!(back(&rows) == rows, "the rows are not the same");
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(32))]
    #[test]
    fn whatever_is_written_comes_back(
        rows in proptest::collection::vec(
            (
                proptest::prelude::any::<String>(),
                proptest::option::of("[a-c]{0,2}"),
                proptest::collection::btree_map("[a-c]{0,2}", "[a-c]{0,2}", 0..3),
                proptest::collection::vec("[a-c]{0,2}", 0..4),
                proptest::prelude::any::<(u8, bool)>(),
            ),
            0..12,
        ),
    ) {
        let rows: Vec<Given> = rows
            .into_iter()
            .map(|(class, term, groups, misconceptions, (marks, needs_check))| Given {
                class,
                term,
                day: None,
                groups,
                misconceptions,
                marks,
                needs_check,
            })
            .collect();
        proptest::prop_assert_eq!(back(&rows), rows);
    }
}

#[test]
fn the_file_says_what_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("findings.parquet");
    let out = std::fs::File::create_new(&path).expect("a file");
    let until = "2026-08-31".parse().ok();
    let file = findings::Findings::begin(out, until).expect("begun");
    file.finish().expect("ended");
    let written = std::fs::File::open(&path).expect("it is there");
    let reader = SerializedFileReader::new(written).expect("it is Parquet");
    let about = reader.metadata().file_metadata();
    let said = about.key_value_metadata().expect("it says something");
    let value = |key: &str| {
        let found = said.iter().find(|pair| pair.key == key);
        found.and_then(|pair| pair.value.clone())
    };
    assert_eq!(value("toothmark.format"), Some(FORMAT.to_string()));
    assert_eq!(value("toothmark.table").as_deref(), Some("findings"));
    assert!(value("toothmark.for").is_some());
    assert_eq!(value("toothmark.keep_until").as_deref(), Some("2026-08-31"));
}
