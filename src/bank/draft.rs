//! The shape of a bank file: what stands where, before it is checked as a whole.

use crate::answer;
use crate::bank::heading;
use crate::bank::pattern;
use crate::bank::values;
use crate::level;
use crate::number;
use crate::table;
use std::ops::Range;

/// The most parts of one question.
const MOST_PARTS: usize = 6;

/// The keys of a part; they stand right in a template that has no parts.
const PART_KEYS: [&str; 8] = [
    "question",
    "ask",
    "unit",
    "precision",
    "simplest",
    "marks",
    "working",
    "follows",
];

/// The keys of a template besides those of a part.
const TEMPLATE_KEYS: [&str; 7] = [
    "id",
    "skill",
    "levels",
    "stories",
    "mechanism",
    "numbers",
    "part",
];

/// A text of the bank with its placeholders and its place.
#[derive(Debug, Clone)]
pub(super) struct Line<'t> {
    pub(super) text: table::Found<&'t str>,
    pub(super) pattern: pattern::Pattern,
}

/// A template as written; what could not be read is noted and left out.
pub(super) struct Draft<'t> {
    pub(super) at: Range<usize>,
    pub(super) id: Option<table::Found<&'t str>>,
    pub(super) skill: Option<level::Skill>,
    pub(super) levels: Vec<level::Level>,
    pub(super) stories: Vec<Line<'t>>,
    pub(super) mechanism: Vec<Line<'t>>,
    /// Whether every line of the mechanism could be taken apart.
    pub(super) has_all_lines: bool,
    pub(super) placeholders: Vec<values::Listed>,
    pub(super) parts: Vec<PartDraft<'t>>,
}

/// A part as written.
pub(super) struct PartDraft<'t> {
    pub(super) letter: Option<char>,
    pub(super) question: Option<Line<'t>>,
    pub(super) mechanism: Vec<Line<'t>>,
    /// Whether every line of the mechanism could be taken apart.
    pub(super) has_all_lines: bool,
    pub(super) ask: Option<Line<'t>>,
    pub(super) unit: Option<answer::Unit>,
    pub(super) precision: number::Precision,
    pub(super) simplest: bool,
    /// Where the form is said: unit, precision or simplest, or else the ask.
    pub(super) form_at: Option<usize>,
    pub(super) marks: u8,
    pub(super) working: bool,
    pub(super) follows: Vec<char>,
}

/// Reads one `[[template]]`.
pub(super) fn template<'t>(reader: &mut table::Reader, entries: &table::Table<'t>) -> Draft<'t> {
    let part_tables = reader.tables(entries, "part");
    let has_parts = entries.at_key("part").is_some();
    let known: Vec<&str> = TEMPLATE_KEYS.into_iter().chain(PART_KEYS).collect();
    reader.known_keys(entries, &known);
    let id = reader.needed_text(entries, "id");
    if let Some(id) = &id {
        heading::check_id(reader, "id", id);
    }
    let skill = reader
        .needed_text(entries, "skill")
        .and_then(|text| heading::skill(reader, &text));
    let levels = heading::levels(reader, entries);
    let stories = needed_lines(reader, entries, "stories");
    let mechanism = needed_lines(reader, entries, "mechanism");
    let placeholders = reader
        .table(entries, "numbers")
        .map(|numbers| values::read(reader, &numbers))
        .unwrap_or_default();
    let parts = if has_parts {
        for key in PART_KEYS {
            if let Some(at) = entries.at_key(key) {
                reader.fault(
                    at.start,
                    format!("`{key}` stands beside [[template.part]]"),
                    "put it into each part",
                );
            }
        }
        several_parts(reader, &part_tables)
    } else {
        vec![part(reader, entries, None, false)]
    };
    Draft {
        at: entries.at.clone(),
        id,
        skill,
        levels,
        stories,
        has_all_lines: has_all_lines(reader, entries, &mechanism),
        mechanism,
        placeholders,
        parts,
    }
}

fn several_parts<'t>(
    reader: &mut table::Reader,
    tables: &[table::Table<'t>],
) -> Vec<PartDraft<'t>> {
    let letters = 'a'..='z';
    if let Some(extra) = tables.get(MOST_PARTS) {
        reader.fault(
            extra.at.start,
            format!("found {} parts, more than {MOST_PARTS}", tables.len()),
            "make two questions of it",
        );
    }
    let single = tables.len() == 1;
    tables
        .iter()
        .zip(letters)
        .map(|(entries, letter)| {
            let mut known = PART_KEYS.to_vec();
            known.push("mechanism");
            reader.known_keys(entries, &known);
            part(reader, entries, (!single).then_some(letter), true)
        })
        .collect()
}

/// Reads the keys of a part; `own_lines` where its mechanism's lines are its own
/// and not the template's.
fn part<'t>(
    reader: &mut table::Reader,
    entries: &table::Table<'t>,
    letter: Option<char>,
    own_lines: bool,
) -> PartDraft<'t> {
    let question = reader
        .needed_text(entries, "question")
        .and_then(|text| line(reader, text));
    let ask = reader
        .needed_text(entries, "ask")
        .and_then(|text| line(reader, text));
    let mechanism = if own_lines {
        lines(reader, entries, "mechanism")
    } else {
        Vec::new()
    };
    let unit = heading::unit(reader, entries);
    let precision = heading::precision(reader, entries);
    let simplest = reader.flag(entries, "simplest");
    let marks = reader.whole(entries, "marks", 1..=5);
    let working = reader.flag(entries, "working");
    let follows = follows(reader, entries, letter);
    PartDraft {
        letter,
        question,
        has_all_lines: !own_lines || has_all_lines(reader, entries, &mechanism),
        mechanism,
        ask,
        unit,
        precision: precision.unwrap_or(number::Precision::Exact),
        simplest: simplest.is_some_and(|flag| flag.value),
        form_at: ["unit", "precision", "simplest", "ask"]
            .into_iter()
            .find_map(|key| entries.at_key(key))
            .map(|at| at.start),
        marks: marks
            .and_then(|marks| u8::try_from(marks.value).ok())
            .unwrap_or(1),
        working: working.is_some_and(|flag| flag.value),
        follows,
    }
}

/// Reads `follows`: one letter, or a list of them.
fn follows(reader: &mut table::Reader, entries: &table::Table, letter: Option<char>) -> Vec<char> {
    let is_list = matches!(
        reader.value(entries, "follows").map(|found| found.value),
        Some(table::Value::List(_))
    );
    let named = if is_list {
        reader.texts(entries, "follows").unwrap_or_default()
    } else {
        reader.text(entries, "follows").into_iter().collect()
    };
    let mut earlier = Vec::new();
    for text in named {
        let Some(found) = earlier_part(reader, &text, letter) else {
            continue;
        };
        if earlier.contains(&found) {
            let what = format!("`follows`: \"{found}\" stands there twice");
            reader.fault(text.at.start, what, "leave one out");
        } else {
            earlier.push(found);
        }
    }
    earlier.sort_unstable();
    earlier
}

fn earlier_part(
    reader: &mut table::Reader,
    text: &table::Found<&str>,
    letter: Option<char>,
) -> Option<char> {
    let mut signs = text.value.chars();
    let named = signs.next().filter(|_| signs.next().is_none());
    let earlier = named
        .zip(letter)
        .filter(|(named, own)| ('a'..*own).contains(named))
        .map(|(named, _)| named);
    if earlier.is_none() {
        let hint = match letter {
            None => "only a part of a question with several can follow from another".to_owned(),
            Some('a') => "part a has no earlier one: leave `follows` out".to_owned(),
            Some(own) => format!("name a part before {own}, such as \"a\""),
        };
        let what = format!("`follows`: \"{}\" is no earlier part", text.value);
        reader.fault(text.at.start, what, hint);
    }
    earlier
}

fn needed_lines<'t>(
    reader: &mut table::Reader,
    entries: &table::Table<'t>,
    key: &str,
) -> Vec<Line<'t>> {
    if reader.need(entries, key).is_none() {
        return Vec::new();
    }
    let read = lines(reader, entries, key);
    let at = entries.at_key(key).map_or(entries.at.start, |at| at.start);
    if let Some(table::Value::List(list)) = reader.value(entries, key).map(|found| found.value)
        && list.is_empty()
    {
        reader.fault(at, format!("`{key}` is empty"), "write at least one");
    }
    read
}

fn lines<'t>(reader: &mut table::Reader, entries: &table::Table<'t>, key: &str) -> Vec<Line<'t>> {
    reader
        .texts(entries, key)
        .unwrap_or_default()
        .into_iter()
        .filter_map(|text| line(reader, text))
        .collect()
}

/// Whether none of the mechanism's lines had to be left out.
fn has_all_lines(reader: &table::Reader, entries: &table::Table, read: &[Line]) -> bool {
    match reader.value(entries, "mechanism").map(|found| found.value) {
        None => true,
        Some(table::Value::List(list)) => list.len() == read.len(),
        Some(
            table::Value::Text(_)
            | table::Value::Number(_)
            | table::Value::Table(_)
            | table::Value::Other(_),
        ) => false,
    }
}

/// Takes a text apart; notes what is wrong with its braces.
fn line<'t>(reader: &mut table::Reader, text: table::Found<&'t str>) -> Option<Line<'t>> {
    if text.value.trim().is_empty() {
        reader.fault(
            text.at.start,
            "found an empty text",
            "write it or leave it out",
        );
        return None;
    }
    match pattern::Pattern::parse(text.value) {
        Ok(pattern) => Some(Line { text, pattern }),
        Err(faults) => {
            for fault in faults {
                let at = reader.inside(&text, fault.at);
                reader.fault(at, fault.what, fault.hint);
            }
            None
        }
    }
}
