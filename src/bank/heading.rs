//! What a question of a bank and a hands-on task say of themselves in one way: id,
//! skill, levels, the unit and the precision of an answer.

use crate::answer;
use crate::level;
use crate::number;
use crate::table;

/// Notes an id that is not of small letters, digits and hyphens.
pub fn check_id(reader: &mut table::Reader, key: &str, id: &table::Found<&str>) {
    let fits = !id.value.is_empty()
        && id.value.len() <= 60
        && id
            .value
            .chars()
            .all(|sign| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '-');
    if !fits {
        reader.fault(
            id.at.start,
            format!("`{key}`: found \"{}\"", id.value),
            "use up to 60 small letters, digits and hyphens",
        );
    }
}

/// Returns the skill that a text names; what names none is noted.
pub fn skill(reader: &mut table::Reader, text: &table::Found<&str>) -> Option<level::Skill> {
    let read = text.value.parse();
    if read.is_err() {
        let words: Vec<&str> = level::SKILLS.iter().map(|skill| skill.text()).collect();
        let hint = match table::nearest(text.value, &words) {
            Some(near) => format!("did you mean \"{near}\"? There are {}", words.join(", ")),
            None => format!("use one of {}", words.join(", ")),
        };
        reader.fault(
            text.at.start,
            format!("`skill`: \"{}\" is no skill", text.value),
            hint,
        );
    }
    read.ok()
}

/// Returns the levels under `levels`; what is none is noted.
pub fn levels(reader: &mut table::Reader, entries: &table::Table) -> Vec<level::Level> {
    const HINT: &str = "write them as levels = [3, 4], each from 1 to 8";
    let mut levels = Vec::new();
    if reader.need(entries, "levels").is_none() {
        return levels;
    }
    let Some(found) = reader.value(entries, "levels") else {
        return levels;
    };
    let table::Value::List(list) = &found.value else {
        let what = format!("`levels`: found {}, wanted a list", found.value.said());
        reader.fault(found.at.start, what, HINT);
        return levels;
    };
    if list.is_empty() {
        reader.fault(found.at.start, "`levels` is empty", HINT);
    }
    for entry in list {
        let read = match &entry.value {
            table::Value::Number(digits) => digits.parse().ok().and_then(level::Level::new),
            table::Value::Text(_)
            | table::Value::List(_)
            | table::Value::Table(_)
            | table::Value::Other(_) => None,
        };
        match read {
            Some(level) if levels.contains(&level) => {
                reader.fault(
                    entry.at.start,
                    format!("`levels`: {level} stands there twice"),
                    "leave one out",
                );
            }
            Some(level) => levels.push(level),
            None => {
                let what = format!("`levels`: found {}, wanted a level", entry.value.said());
                reader.fault(entry.at.start, what, HINT);
            }
        }
    }
    levels
}

/// Returns the unit under `unit`, if there is one; what is none is noted.
pub fn unit(reader: &mut table::Reader, entries: &table::Table) -> Option<answer::Unit> {
    reader.text(entries, "unit").and_then(|text| {
        let unit = answer::Unit::parse(text.value);
        if unit.is_none() {
            reader.fault(
                text.at.start,
                format!("`unit`: \"{}\" is no unit", text.value),
                "use turns, rpm, teeth, starts, stages, mm, cm, m, N, N cm or N m",
            );
        }
        unit
    })
}

/// Returns the precision under `precision`, if there is one; what is none is noted.
pub fn precision(reader: &mut table::Reader, entries: &table::Table) -> Option<number::Precision> {
    reader.text(entries, "precision").and_then(|text| {
        let precision = answer::parse_precision(text.value);
        if precision.is_none() {
            reader.fault(
                text.at.start,
                format!("`precision`: \"{}\" is no precision", text.value),
                "use exact, whole, \"1 place\", \"2 places\" or \"3 figures\"",
            );
        }
        precision
    })
}
