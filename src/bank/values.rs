//! The values that a placeholder may take: one, a list or a range.

use crate::bank::pattern;
use crate::number;
use crate::table;
use std::collections::BTreeSet;

/// The most values of one placeholder.
const MOST_VALUES: usize = 1000;

/// A placeholder with its values and their places.
#[derive(Debug, Clone)]
pub(super) struct Listed {
    pub(super) name: String,
    pub(super) at: usize,
    pub(super) values: Vec<table::Found<String>>,
}

/// Reads the table `numbers`; what is wrong with a value is noted and the value
/// left out.
pub(super) fn read(reader: &mut table::Reader, numbers: &table::Table) -> Vec<Listed> {
    let mut read = Vec::new();
    for key in numbers.keys() {
        if !pattern::is_name(key.value) {
            reader.fault(
                key.at.start,
                format!("\"{}\" is no name of a placeholder", key.value),
                "use letters, digits and _ only",
            );
            continue;
        }
        let Some(found) = reader.value(numbers, key.value) else {
            continue;
        };
        let values = match &found.value {
            table::Value::List(list) => {
                if list.is_empty() {
                    fault(reader, key.value, &found, "found an empty list");
                }
                list.iter()
                    .filter_map(|entry| single(reader, key.value, entry))
                    .collect()
            }
            table::Value::Table(range) => self::range(reader, range),
            table::Value::Text(_) | table::Value::Number(_) | table::Value::Other(_) => {
                single(reader, key.value, &found).into_iter().collect()
            }
        };
        note_repeats(reader, key.value, &values);
        read.push(Listed {
            name: key.value.to_owned(),
            at: key.at.start,
            values,
        });
    }
    read
}

fn fault(reader: &mut table::Reader, name: &str, found: &table::Found<table::Value>, what: &str) {
    reader.fault(
        found.at.start,
        format!("`{name}`: {what}"),
        "write a number, a text, a list of them, or { from = 8, to = 40, step = 4 }",
    );
}

fn single(
    reader: &mut table::Reader,
    name: &str,
    found: &table::Found<table::Value>,
) -> Option<table::Found<String>> {
    let text = match &found.value {
        table::Value::Text(text) => (*text).to_owned(),
        table::Value::Number(digits) => digits.clone(),
        table::Value::List(_) | table::Value::Table(_) | table::Value::Other(_) => {
            let what = format!("found {}, wanted a number or a text", found.value.said());
            fault(reader, name, found, &what);
            return None;
        }
    };
    if text.trim().is_empty() || text.contains(['{', '}']) {
        let what = format!("found {}", found.value.said());
        fault(reader, name, found, &what);
        return None;
    }
    if matches!(found.value, table::Value::Number(_))
        && !text
            .parse::<number::Number>()
            .is_ok_and(number::Number::is_positive)
    {
        let what = format!("found {text}, wanted a number above 0");
        fault(reader, name, found, &what);
        return None;
    }
    Some(table::Found {
        value: text,
        at: found.at.clone(),
    })
}

/// Reads `{ from = 8, to = 40, step = 4 }`.
fn range(reader: &mut table::Reader, range: &table::Table) -> Vec<table::Found<String>> {
    reader.known_keys(range, &["from", "to", "step"]);
    let from = bound(reader, range, "from");
    let to = bound(reader, range, "to");
    let step = if range.at_key("step").is_some() {
        bound(reader, range, "step")
    } else {
        Some(number::Number::ONE)
    };
    let (Some(from), Some(to), Some(step)) = (from, to, step) else {
        return Vec::new();
    };
    if to < from {
        reader.fault(
            range.at.start,
            format!("the range runs from {from} down to {to}"),
            "write the smaller number first",
        );
        return Vec::new();
    }
    let mut values = Vec::new();
    let mut next = from;
    while next <= to {
        if values.len() == MOST_VALUES {
            reader.fault(
                range.at.start,
                format!("the range has more than {MOST_VALUES} values"),
                "take a larger step",
            );
            break;
        }
        values.push(table::Found {
            value: next.to_decimal().unwrap_or_else(|| next.to_string()),
            at: range.at.clone(),
        });
        let Ok(sum) = next.plus(step) else { break };
        next = sum;
    }
    values
}

fn bound(reader: &mut table::Reader, range: &table::Table, key: &str) -> Option<number::Number> {
    reader.need(range, key)?;
    let found = reader.value(range, key)?;
    let read = match &found.value {
        table::Value::Number(digits) => digits.parse::<number::Number>().ok(),
        table::Value::Text(_)
        | table::Value::List(_)
        | table::Value::Table(_)
        | table::Value::Other(_) => None,
    };
    let read = read.filter(|number| number.is_positive());
    if read.is_none() {
        reader.fault(
            found.at.start,
            format!(
                "`{key}`: found {}, wanted a number above 0",
                found.value.said()
            ),
            "write a number above 0",
        );
    }
    read
}

fn note_repeats(reader: &mut table::Reader, name: &str, values: &[table::Found<String>]) {
    let mut seen = BTreeSet::new();
    for value in values {
        let number = value.value.parse::<number::Number>();
        let key = number.map_or_else(|_| value.value.clone(), |number| number.to_string());
        if !seen.insert(key) {
            reader.fault(
                value.at.start,
                format!("`{name}`: {} stands there twice", value.value),
                "leave one out",
            );
        }
    }
}
