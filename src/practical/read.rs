//! A file of tasks read and checked, every fault at its place.

use crate::answer;
use crate::bank::heading;
use crate::bank::pattern;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::gears::solve;
use crate::level;
use crate::level::feature;
use crate::number;
use crate::practical;
use crate::problem;
use crate::table;
use crate::wording;
use std::collections::BTreeMap;

/// The most characters of a step or a question: more would not fit on a card.
const LONGEST: usize = 160;
/// The most steps, and the most things to predict.
const MOST_STEPS: usize = 8;
const MOST_PREDICTIONS: usize = 4;

/// The keys of a task.
const TASK_KEYS: [&str; 9] = [
    "id",
    "title",
    "skill",
    "levels",
    "mechanism",
    "also",
    "steps",
    "explain",
    "predict",
];
/// The keys of what is predicted.
const PREDICT_KEYS: [&str; 5] = ["question", "ask", "unit", "precision", "simplest"];

/// See [`practical::read`].
pub(super) fn read(text: &str, file: &str) -> Result<practical::Tasks, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    reader.known_keys(&root, &["format", "tasks", "task"]);
    if reader.need(&root, "format").is_some() {
        reader.whole(&root, "format", practical::FORMAT..=practical::FORMAT);
    }
    let mut tasks = practical::Tasks {
        id: String::new(),
        title: String::new(),
        edition: String::new(),
        tasks: Vec::new(),
    };
    if reader.need(&root, "tasks").is_some()
        && let Some(head) = reader.table(&root, "tasks")
    {
        reader.known_keys(&head, &["id", "title", "edition"]);
        let id = reader.needed_text(&head, "id");
        if let Some(id) = &id {
            heading::check_id(&mut reader, "id", id);
        }
        let text = |found: Option<table::Found<&str>>| {
            found
                .map(|found| found.value.to_owned())
                .unwrap_or_default()
        };
        tasks.id = text(id);
        tasks.title = text(reader.needed_text(&head, "title"));
        tasks.edition = text(reader.needed_text(&head, "edition"));
    }
    reader.need(&root, "task");
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for entries in reader.tables(&root, "task") {
        tasks.tasks.extend(task(&mut reader, &entries, &mut seen));
    }
    let faults = reader.into_faults();
    if faults.is_empty() {
        Ok(tasks)
    } else {
        Err(faults)
    }
}

/// Reads one `[[task]]`; nothing where too much of it is wrong.
fn task(
    reader: &mut table::Reader,
    entries: &table::Table,
    seen: &mut BTreeMap<String, usize>,
) -> Option<practical::Task> {
    reader.known_keys(entries, &TASK_KEYS);
    let id = reader.needed_text(entries, "id");
    if let Some(id) = &id {
        heading::check_id(reader, "id", id);
        if let Some(&earlier) = seen.get(id.value) {
            let what = format!(
                "the id \"{}\" stands at {} already",
                id.value,
                reader.place(earlier)
            );
            reader.fault(id.at.start, what, "give each task an id of its own");
        } else {
            seen.insert(id.value.to_owned(), id.at.start);
        }
    }
    let title = reader.needed_text(entries, "title");
    let skill = reader
        .needed_text(entries, "skill")
        .and_then(|text| heading::skill(reader, &text));
    let levels = heading::levels(reader, entries);
    let explain = reader.needed_text(entries, "explain");
    for text in title.iter().chain(&explain) {
        fits(reader, text);
    }
    let also = reader.texts(entries, "also").unwrap_or_default();
    for text in &also {
        fits(reader, text);
    }
    let mechanism = mechanism(reader, entries, &levels);
    let steps = needed_texts(reader, entries, "steps", MOST_STEPS);
    let predict = reader.tables(entries, "predict");
    if entries.at_key("predict").is_none() {
        reader.fault(
            entries.at.start,
            "`predict` is missing",
            "add [[task.predict]] with `ask`",
        );
    }
    if let Some(beyond) = predict.get(MOST_PREDICTIONS) {
        reader.fault(
            beyond.at.start,
            format!("more than {MOST_PREDICTIONS} things to predict"),
            "leave some out, so that the card fits a page",
        );
    }
    let mechanism = mechanism?;
    let steps = filled(reader, &steps, &mechanism);
    let predictions: Vec<practical::Prediction> = predict
        .iter()
        .filter_map(|entries| prediction(reader, entries, &mechanism, &levels))
        .collect();
    Some(practical::Task {
        id: id?.value.to_owned(),
        title: title?.value.to_owned(),
        skill: skill?,
        levels,
        mechanism,
        also: also.iter().map(|text| text.value.to_owned()).collect(),
        steps,
        predictions,
        explain: explain?.value.to_owned(),
    })
}

/// Notes a text that is empty or too long for a card.
fn fits(reader: &mut table::Reader, text: &table::Found<&str>) {
    let length = text.value.chars().count();
    if text.value.trim().is_empty() {
        reader.fault(text.at.start, "the text is empty", "say something");
    }
    if length > LONGEST {
        reader.fault(
            text.at.start,
            format!("the text has {length} characters, more than {LONGEST}"),
            "say it in fewer words, so that it fits on a card",
        );
    }
}

/// Returns the texts of a list that must be there, with something in it.
fn needed_texts<'t>(
    reader: &mut table::Reader,
    entries: &table::Table<'t>,
    key: &str,
    most: usize,
) -> Vec<table::Found<&'t str>> {
    if reader.need(entries, key).is_none() {
        return Vec::new();
    }
    let texts = reader.texts(entries, key).unwrap_or_default();
    for text in &texts {
        fits(reader, text);
    }
    if let Some(beyond) = texts.get(most) {
        reader.fault(
            beyond.at.start,
            format!("`{key}` has {}, more than {most}", texts.len()),
            "leave some out, so that the card fits a page",
        );
    }
    texts
}

/// Reads the mechanism, which must suit every level.
fn mechanism(
    reader: &mut table::Reader,
    entries: &table::Table,
    levels: &[level::Level],
) -> Option<mechanism::Mechanism> {
    reader.need(entries, "mechanism")?;
    let lines = reader.texts(entries, "mechanism")?;
    let texts: Vec<&str> = lines.iter().map(|line| line.value).collect();
    let mechanism = match notation::read(&texts) {
        Ok(mechanism) => mechanism,
        Err(faults) => {
            for fault in faults {
                let at = lines.get(fault.line).map_or(entries.at.start, |line| {
                    reader.inside(line, fault.span.start)
                });
                reader.fault(at, fault.what, fault.hint);
            }
            return None;
        }
    };
    let at = entries
        .at_key("mechanism")
        .map_or(entries.at.start, |at| at.start);
    let gears = feature::gear_count(&mechanism);
    for level in levels {
        let rule = level.rule();
        if gears > rule.most_gears {
            reader.fault(
                at,
                format!(
                    "the mechanism has {gears} gears; level {level} allows {}",
                    rule.most_gears
                ),
                "take gears out, or leave the level out of `levels`",
            );
        }
        let (fewest, most) = rule.teeth;
        for part in &mechanism.parts {
            let teeth = feature::teeth(part);
            if let Some(teeth) = teeth.filter(|teeth| !(fewest..=most).contains(teeth)) {
                reader.fault(
                    at,
                    format!(
                        "gear {} has {teeth} teeth; level {level} allows {fewest} to {most}",
                        part.name
                    ),
                    "use other teeth, or leave the level out of `levels`",
                );
            }
        }
    }
    Some(mechanism)
}

/// The steps with the parts in them told: `{A}` is "gear A with 12 teeth".
fn filled(
    reader: &mut table::Reader,
    steps: &[table::Found<&str>],
    mechanism: &mechanism::Mechanism,
) -> Vec<String> {
    let told: Vec<(String, String)> = mechanism
        .numbered()
        .map(|(id, part)| (part.name.clone(), wording::part(mechanism, id)))
        .collect();
    let names: Vec<&str> = told.iter().map(|(name, _)| name.as_str()).collect();
    let filling: pattern::Filling = told
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    let mut filled = Vec::new();
    for step in steps {
        match pattern::Pattern::parse(step.value) {
            Ok(pattern) => {
                let mut is_known = true;
                for (slot, offset) in pattern.slots() {
                    if !names.contains(&slot) {
                        is_known = false;
                        let at = reader.inside(step, offset);
                        let hint = format!("the mechanism has {}", names.join(", "));
                        reader.fault(at, format!("there is no part {{{slot}}}"), hint);
                    }
                }
                if is_known {
                    filled.push(pattern.fill(&filling));
                }
            }
            Err(faults) => {
                for fault in faults {
                    let hint = "write a part as {A}";
                    reader.fault(reader.inside(step, fault.at), fault.what, hint);
                }
            }
        }
    }
    filled
}

/// Reads one thing to predict, which must have an answer and suit every level.
fn prediction(
    reader: &mut table::Reader,
    entries: &table::Table,
    mechanism: &mechanism::Mechanism,
    levels: &[level::Level],
) -> Option<practical::Prediction> {
    reader.known_keys(entries, &PREDICT_KEYS);
    let question = reader.text(entries, "question");
    if let Some(question) = &question {
        fits(reader, question);
    }
    let unit = heading::unit(reader, entries);
    let precision = heading::precision(reader, entries);
    let simplest = reader.flag(entries, "simplest");
    let asked = reader.needed_text(entries, "ask")?;
    let at = asked.at.start;
    let ask = match notation::read_ask(asked.value, mechanism) {
        Ok(ask) => ask,
        Err(fault) => {
            reader.fault(
                reader.inside(&asked, fault.span.start),
                fault.what,
                fault.hint,
            );
            return None;
        }
    };
    suits(reader, at, mechanism, &ask, levels);
    if let Err(faults) = solve::answer(mechanism, &ask) {
        for fault in faults {
            let hint = wording::fault_hint(&fault);
            reader.fault(at, wording::fault(mechanism, &fault), hint);
        }
    }
    let precision = precision.unwrap_or(number::Precision::Exact);
    let simplest = simplest.is_some_and(|found| found.value);
    let form = answer::form_for(mechanism, &ask, unit, precision, simplest);
    match form {
        Ok(form) => Some(practical::Prediction {
            question: question.map_or_else(
                || wording::question(mechanism, &ask),
                |found| found.value.to_owned(),
            ),
            ask,
            form,
        }),
        Err(what) => {
            reader.fault(at, what, "leave it out");
            None
        }
    }
}

/// Notes levels at which this is not asked yet.
fn suits(
    reader: &mut table::Reader,
    at: usize,
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    levels: &[level::Level],
) {
    let shown = feature::features(mechanism);
    let first = shown
        .iter()
        .map(|found| found.first_level(ask))
        .chain([feature::first_level_of(ask)])
        .max();
    for level in levels {
        if let Some(first) = first.filter(|first| level < first) {
            reader.fault(
                at,
                format!("this is asked from level {first} on, not at level {level}"),
                format!("leave {level} out of `levels`"),
            );
        }
    }
}

#[cfg(test)]
mod tests;
