//! The records `homework.json` and `marked.json`: every format is read for ever, and what
//! somebody changed by hand is told, or changes nothing.
//!
//! `cargo test --test suite records -- --nocapture` says how many changes were tried.

use crate::decisions::{class, class_marked_then, earlier_version};
use crate::program;
use serde_json::Value;
use std::fmt::Debug;
use std::fs;
use toothmark::homework;
use toothmark::marking;
use toothmark::problem;

/// The number of the newest format of either record.
const NEWEST: u32 = 1;

type Outcome<T> = Result<T, Vec<problem::Problem>>;

/// A kind of record: how it is read and written.
struct Kind<T> {
    name: &'static str,
    read: fn(&str, &str) -> Outcome<T>,
    write: fn(&T) -> String,
}

const HOMEWORK: Kind<homework::Homework> = Kind {
    name: "homework",
    read: homework::from_json,
    write: homework::to_json,
};

const MARKED: Kind<marking::Marked> = Kind {
    name: "marked",
    read: marking::from_json,
    write: marking::to_json,
};

impl<T: PartialEq + Debug> Kind<T> {
    /// The kept record of the first version of the program, as it is written today.
    fn of_today(&self) -> String {
        let text = earlier_version(&format!("{}.json", self.name));
        let text = String::from_utf8(text).expect("text");
        (self.write)(&self.read(&text).expect("an older record is read"))
    }

    fn read(&self, text: &str) -> Outcome<T> {
        (self.read)(text, "record.json")
    }

    /// Checks that a changed text is told, with place and remedy, or reads as the whole
    /// one; returns whether it was told.
    fn is_told(&self, whole: &T, text: &str, change: &str) -> bool {
        match self.read(text) {
            Ok(read) => {
                assert!(read == *whole, "{change} is taken without a word");
                false
            }
            Err(problems) => {
                assert!(!problems.is_empty(), "{change}");
                for problem in problems {
                    let (place, hint) = (&problem.place, &problem.hint);
                    assert!(place.starts_with("record.json"), "{change}: {problem}");
                    assert!(!hint.is_empty(), "{change}: {problem}");
                }
                true
            }
        }
    }

    #[expect(clippy::print_stdout, reason = "the counts are worth reading")]
    fn check_every_value(&self) {
        let text = self.of_today();
        let whole = self.read(&text).expect("the whole record");
        let value: Value = serde_json::from_str(&text).expect("JSON");
        let mut leaves = Vec::new();
        find_leaves(&value, &mut Vec::new(), &mut leaves);
        let (mut told, mut harmless) = (0, 0);
        for leaf in &leaves {
            for (kind, change) in CHANGES {
                let mut changed = value.clone();
                change_at(&mut changed, leaf, change);
                let text = serde_json::to_string_pretty(&changed).expect("JSON");
                let name = format!("{} {}: {kind}", self.name, leaf.join("/"));
                if self.is_told(&whole, &text, &name) {
                    told += 1;
                } else {
                    harmless += 1;
                }
                // Where there are no fingerprints the change may be taken; it must not panic.
                if let Some(object) = changed.as_object_mut() {
                    object.remove("fingerprints");
                    let _ = self.read(&changed.to_string());
                }
            }
        }
        println!(
            "{}: {} values, {told} changes told, {harmless} that change nothing",
            self.name,
            leaves.len()
        );
        assert_eq!(harmless, 0);
        assert!(told > 300);
    }

    fn check_cut_short_and_doubled(&self) {
        let text = self.of_today();
        let whole = self.read(&text).expect("the whole record");
        for end in (0..text.len()).filter(|&end| text.is_char_boundary(end)) {
            let cut = text.get(..end).expect("a boundary");
            let is_told = self.is_told(&whole, cut, &format!("cut at byte {end}"));
            assert_eq!(is_told, cut.trim_end() != text.trim_end(), "byte {end}");
        }
        let lines: Vec<&str> = text.lines().collect();
        let mut told = 0;
        for (index, line) in lines.iter().enumerate() {
            let is_value = line.contains("\": ") && !line.ends_with(['{', '[']);
            if !is_value {
                continue;
            }
            let mut doubled = lines.clone();
            let with_comma = format!("{},", line.trim_end_matches(','));
            doubled.insert(index, &with_comma);
            let name = format!("line {} twice", index + 1);
            told += usize::from(self.is_told(&whole, &doubled.join("\n"), &name));
        }
        assert!(told > 50, "{told}");
    }

    fn check_unknown_keys(&self) {
        let text = self.of_today();
        let whole = self.read(&text).expect("the whole record");
        let mut objects = 0;
        for (place, _) in text.match_indices("{\n") {
            let (before, after) = text.split_at(place + 1);
            let added = format!("{before}\n\"surprise\": [true],{after}");
            let told = self.is_told(&whole, &added, &format!("a key more at byte {place}"));
            assert!(told, "a key more at byte {place}");
            objects += 1;
        }
        assert!(objects > 10, "{objects}");
    }
}

/// What becomes of a value; nothing where it goes.
type Change = fn(&Value) -> Option<Value>;

/// What may become of a value.
const CHANGES: [(&str, Change); 4] = [
    ("another", |value| {
        Some(match value {
            Value::Number(number) => (number.as_u64().unwrap_or(0) + 1).into(),
            Value::String(text) => format!("{text}1").into(),
            Value::Bool(flag) => (!flag).into(),
            Value::Null | Value::Array(_) | Value::Object(_) => Value::Null,
        })
    }),
    ("gone", |_| None),
    ("a list", |value| Some(Value::Array(vec![value.clone()]))),
    ("of another kind", |value| {
        Some(match value {
            Value::String(_) => 7.into(),
            Value::Number(number) => number.to_string().into(),
            Value::Bool(flag) => flag.to_string().into(),
            Value::Null | Value::Array(_) | Value::Object(_) => Value::Null,
        })
    }),
];

/// Adds the way to every single value.
fn find_leaves(value: &Value, way: &mut Vec<String>, leaves: &mut Vec<Vec<String>>) {
    let inside: Vec<(String, &Value)> = match value {
        Value::Array(list) => {
            let numbered = list.iter().enumerate();
            numbered
                .map(|(index, it)| (index.to_string(), it))
                .collect()
        }
        Value::Object(object) => object.iter().map(|(key, it)| (key.clone(), it)).collect(),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {
            leaves.push(way.clone());
            return;
        }
    };
    for (key, it) in inside {
        way.push(key);
        find_leaves(it, way, leaves);
        way.pop();
    }
}

/// Changes the value at the end of a way.
fn change_at(value: &mut Value, way: &[String], change: Change) {
    let (key, above) = way.split_last().expect("a way");
    let at = value
        .pointer_mut(&above.iter().fold(String::new(), |way, key| way + "/" + key))
        .expect("the way leads somewhere");
    if let Some(items) = at.as_array_mut() {
        let index: usize = key.parse().expect("an index");
        match change(&items[index]) {
            Some(new) => items[index] = new,
            None => drop(items.remove(index)),
        }
    } else {
        let object = at.as_object_mut().expect("a key stands in an object");
        match change(&object[key]) {
            Some(new) => drop(object.insert(key.clone(), new)),
            None => drop(object.remove(key)),
        }
    }
}

#[test]
fn every_value_of_a_homeworks_record_that_is_changed_by_hand_is_told() {
    HOMEWORK.check_every_value();
}

#[test]
fn every_value_of_a_record_of_marks_that_is_changed_by_hand_is_told() {
    MARKED.check_every_value();
}

#[test]
fn records_cut_short_and_keys_that_stand_twice_are_told_or_change_nothing() {
    HOMEWORK.check_cut_short_and_doubled();
    MARKED.check_cut_short_and_doubled();
}

#[test]
fn keys_that_no_record_has_are_told() {
    HOMEWORK.check_unknown_keys();
    MARKED.check_unknown_keys();
}

#[test]
fn every_format_there_ever_was_is_read() {
    let records = program::root().join("tests/cases/records");
    for format in 1..=NEWEST {
        let folder = records.join(format!("format-{format}"));
        let mut counts = [0, 0];
        for entry in fs::read_dir(&folder).expect("every format has a folder") {
            let path = entry.expect("it can be read").path();
            let name = path.file_name().expect("a name").to_string_lossy();
            let text = fs::read_to_string(&path).expect("text");
            let value: Value = serde_json::from_str(&text).expect("JSON");
            assert_eq!(value["format"], format, "{name}");
            if name.starts_with(HOMEWORK.name) {
                counts[0] += 1;
                check_round_trip(&HOMEWORK, &text);
            } else if name.starts_with(MARKED.name) {
                counts[1] += 1;
                check_round_trip(&MARKED, &text);
            } else {
                panic!("{name}: which kind of record is it?");
            }
        }
        assert!(counts.iter().all(|&count| count > 0), "format {format}");
    }
}

/// What is read from an older record and written today says the same.
fn check_round_trip<T: PartialEq + Debug>(kind: &Kind<T>, text: &str) {
    let read = kind.read(text).expect("it is read");
    let written = (kind.write)(&read);
    let again = kind.read(&written).expect("it was just written");
    assert!(again == read);
    assert_eq!((kind.write)(&again), written);
}

#[test]
fn a_question_that_was_changed_by_hand_stops_the_marking_until_it_is_meant() {
    let changed = HOMEWORK
        .of_today()
        .replacen("\"marks\": 1", "\"marks\": 2", 1);
    let program = class()
        .file("hw/homework.json", &changed)
        .arguments(["mark", "hw/answers.csv"]);
    let run = program.run().ended_with(1);
    assert!(
        run.stderr
            .contains("homework.json: sheet A, Q1: the question is not as it was written")
            && run.stderr.contains("take out the part \"fingerprints\""),
        "{}",
        run.stderr
    );
    assert!(!program.path("hw/marked.json").exists());
    let mut meant: Value = serde_json::from_str(&changed).expect("JSON");
    meant
        .as_object_mut()
        .expect("a record")
        .remove("fingerprints");
    let program = program.file("hw/homework.json", meant.to_string());
    program.run().succeeded();
}

#[test]
fn marks_of_a_homework_from_another_bank_are_told_apart_by_what_differs() {
    let record = String::from_utf8(earlier_version("homework.json")).expect("text");
    let value: Value = serde_json::from_str(&record).expect("JSON");
    let edition = value["banks"][0]["edition"].as_str().expect("an edition");
    let other = record.replacen(
        &format!("\"edition\": \"{edition}\""),
        "\"edition\": \"1999-9\"",
        1,
    );
    let program = class_marked_then()
        .file("hw/homework.json", other)
        .arguments(["mark", "hw/answers.csv"]);
    let run = program.run().ended_with(1);
    for said in [
        "another homework of the same code",
        "edition 1999-9",
        edition,
    ] {
        assert!(run.stderr.contains(said), "{said}: {}", run.stderr);
    }
}
