//! What makes drafts a bank: placeholders, notation, what is asked, levels.

use crate::answer;
use crate::bank::draft;
use crate::bank::explains;
use crate::bank::load;
use crate::bank::pattern;
use crate::bank::probe;
use crate::bank::suits;
use crate::gears::ask;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::gears::solve;
use crate::level::feature;

use crate::table;
use crate::wording;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Notes everything that is wrong with the templates, each and together.
pub(super) fn bank(reader: &mut table::Reader, drafts: &[draft::Draft]) {
    repeated_ids(reader, drafts);
    repeated_wording(reader, drafts);
    for draft in drafts {
        template(reader, draft);
    }
}

fn repeated_ids(reader: &mut table::Reader, drafts: &[draft::Draft]) {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    for id in drafts.iter().filter_map(|draft| draft.id.as_ref()) {
        if let Some(&earlier) = seen.get(id.value) {
            let what = format!(
                "the id \"{}\" stands at {} already",
                id.value,
                reader.place(earlier)
            );
            reader.fault(id.at.start, what, "give each question an id of its own");
        } else {
            seen.insert(id.value, id.at.start);
        }
    }
}

/// Two questions with the same story and the same wording are one question.
fn repeated_wording(reader: &mut table::Reader, drafts: &[draft::Draft]) {
    let plain = |text: &str| {
        text.split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase()
    };
    let mut seen: BTreeMap<(String, String), usize> = BTreeMap::new();
    for draft in drafts {
        let questions: Vec<String> = draft
            .parts
            .iter()
            .filter_map(|part| part.question.as_ref())
            .map(|question| plain(question.text.value))
            .collect();
        for story in &draft.stories {
            let key = (plain(story.text.value), questions.join(" "));
            if let Some(&earlier) = seen.get(&key) {
                let what = format!(
                    "the same story with the same question stands at {} already",
                    reader.place(earlier)
                );
                reader.fault(story.text.at.start, what, "tell another story");
            } else {
                seen.insert(key, story.text.at.start);
            }
        }
    }
}

fn template(reader: &mut table::Reader, draft: &draft::Draft) {
    if !placeholders(reader, draft) {
        return;
    }
    let probes = probe::probes(&draft.placeholders);
    let Some(first) = probes.first() else {
        return;
    };
    let mut asks: Vec<Option<ask::Ask>> = Vec::new();
    for part in &draft.parts {
        let lines: Vec<&draft::Line> = draft.mechanism.iter().chain(&part.mechanism).collect();
        let is_whole = draft.has_all_lines && part.has_all_lines && !draft.mechanism.is_empty();
        if !is_whole {
            asks.push(None);
            continue;
        }
        let mut first_ask = None;
        let mut solved = false;
        let mut unsolved = None;
        for probe in &probes {
            let Some(tried) = try_probe(reader, draft, part, &lines, probe) else {
                continue;
            };
            match tried.outcome {
                Ok(()) => solved = true,
                Err(faults) => unsolved = unsolved.or(Some((faults, tried.mechanism))),
            }
            first_ask = first_ask.or(Some(tried.ask));
        }
        if let Some((faults, mechanism)) = unsolved.filter(|_| !solved) {
            unsolvable(reader, part, &faults, &mechanism);
        }
        asks.push(first_ask);
    }
    let parts_lines: Vec<Vec<&draft::Line>> = draft
        .parts
        .iter()
        .map(|part| draft.mechanism.iter().chain(&part.mechanism).collect())
        .collect();
    let parts: Vec<load::Part> = draft
        .parts
        .iter()
        .zip(&asks)
        .zip(&parts_lines)
        .filter_map(|((part, ask), mechanism)| {
            Some(load::Part {
                question: part.question.as_ref()?,
                ask: ask.as_ref(),
                mechanism,
            })
        })
        .collect();
    untold(reader, draft, &asks);
    load::check(
        reader,
        &draft.stories,
        &parts,
        &draft.levels,
        &first.filling,
    );
}

/// Notes placeholders that are not defined, not used, or not told to the pupil;
/// whether all that are used can be filled.
fn placeholders(reader: &mut table::Reader, draft: &draft::Draft) -> bool {
    let names: Vec<&str> = draft
        .placeholders
        .iter()
        .map(|placeholder| placeholder.name.as_str())
        .collect();
    let mut used: BTreeSet<&str> = BTreeSet::new();
    let mut all_defined = true;
    let part_lines = draft
        .parts
        .iter()
        .flat_map(|part| part.question.iter().chain(&part.ask).chain(&part.mechanism));
    for line in draft
        .stories
        .iter()
        .chain(&draft.mechanism)
        .chain(part_lines)
    {
        for (name, offset) in line.pattern.slots() {
            used.insert(name);
            if names.contains(&name) {
                continue;
            }
            all_defined = false;
            let at = reader.inside(&line.text, offset);
            let hint = match table::nearest(name, &names) {
                Some(near) => format!("did you mean {{{near}}}?"),
                None => format!("give it values under `numbers`, such as {name} = [8, 12, 16]"),
            };
            reader.fault(at, format!("{{{name}}} is used but has no values"), hint);
        }
    }
    for placeholder in &draft.placeholders {
        let name = placeholder.name.as_str();
        if !used.contains(name) {
            reader.fault(
                placeholder.at,
                format!("`{name}` has values but is used nowhere"),
                format!("write {{{name}}} where it belongs, or leave it out"),
            );
        }
    }
    let has_all_values = draft
        .placeholders
        .iter()
        .all(|placeholder| !placeholder.values.is_empty());
    all_defined && has_all_values
}

/// Notes each value of the mechanism that a pupil must calculate with and is not
/// told: neither the story nor a question up to this part has it.
fn untold(reader: &mut table::Reader, draft: &draft::Draft, asks: &[Option<ask::Ask>]) {
    for (index, (part, ask)) in draft.parts.iter().zip(asks).enumerate() {
        if !ask.as_ref().is_some_and(feature::is_calculated) {
            continue;
        }
        let asked = || {
            let earlier = draft.parts.iter().take(index + 1);
            earlier.filter_map(|part| part.question.as_ref())
        };
        let lines = draft.mechanism.iter().chain(&part.mechanism);
        let names: BTreeSet<&str> = lines
            .flat_map(|line| line.pattern.slots())
            .map(|(name, _)| name)
            .collect();
        for (name, story) in names
            .iter()
            .flat_map(|name| draft.stories.iter().map(move |story| (name, story)))
        {
            let is_told = std::iter::once(story)
                .chain(asked())
                .any(|line| line.pattern.has(name));
            if !is_told {
                reader.fault(
                    story.text.at.start,
                    format!("{{{name}}} belongs to the mechanism, and this story does not tell it"),
                    format!("write {{{name}}} into the story or the question"),
                );
            }
        }
    }
}

/// What became of one probe of one part.
struct Tried {
    ask: ask::Ask,
    mechanism: mechanism::Mechanism,
    outcome: Result<(), Vec<fault::Fault>>,
}

/// Notes what is wrong with the notation, the question and the levels under one
/// filling.
fn try_probe(
    reader: &mut table::Reader,
    draft: &draft::Draft,
    part: &draft::PartDraft,
    lines: &[&draft::Line],
    probe: &probe::Probe,
) -> Option<Tried> {
    let filled: Vec<String> = lines
        .iter()
        .map(|line| line.pattern.fill(&probe.filling))
        .collect();
    let texts: Vec<&str> = filled.iter().map(String::as_str).collect();
    let mechanism = match notation::read(&texts) {
        Ok(mechanism) => mechanism,
        Err(faults) => {
            for fault in faults {
                if let Some(line) = lines.get(fault.line) {
                    notation_fault(reader, line, &probe.filling, fault);
                }
            }
            return None;
        }
    };
    let ask_line = part.ask.as_ref()?;
    let ask = match notation::read_ask(&ask_line.pattern.fill(&probe.filling), &mechanism) {
        Ok(ask) => ask,
        Err(fault) => {
            notation_fault(reader, ask_line, &probe.filling, fault);
            return None;
        }
    };
    let form = answer::form_for(&mechanism, &ask, part.unit, part.precision, part.simplest);
    if let Err(what) = form {
        let at = part.form_at.unwrap_or(ask_line.text.at.start);
        reader.fault(
            at,
            what,
            "let unit, precision and simplest fit what is asked",
        );
    }
    suits::check(
        reader,
        &suits::Asked {
            levels: &draft.levels,
            mechanism: &mechanism,
            ask: &ask,
            precision: part.precision,
            precision_at: part.form_at.unwrap_or(ask_line.text.at.start),
            mechanism_at: lines
                .first()
                .map_or(draft.at.start, |line| line.text.at.start),
            ask_at: ask_line.text.at.start,
            probe,
        },
    );
    let worked = solve::answer(&mechanism, &ask);
    if let Ok(worked) = &worked {
        explains::check(reader, part, ask_line.text.at.start, &worked.fact);
    }
    Some(Tried {
        ask,
        mechanism,
        outcome: worked.map(|_| ()),
    })
}

fn notation_fault(
    reader: &mut table::Reader,
    line: &draft::Line,
    filling: &pattern::Filling,
    fault: notation::NotationError,
) {
    let offset = line.pattern.origin(filling, fault.span.start);
    let at = reader.inside(&line.text, offset);
    reader.fault(at, fault.what, fault.hint);
}

/// Notes that the question cannot be answered, whatever the numbers.
fn unsolvable(
    reader: &mut table::Reader,
    part: &draft::PartDraft,
    faults: &[fault::Fault],
    mechanism: &mechanism::Mechanism,
) {
    let Some(ask) = &part.ask else { return };
    for fault in faults {
        reader.fault(
            ask.text.at.start,
            format!(
                "this cannot be answered: {}",
                wording::fault(mechanism, fault)
            ),
            "mend the mechanism or ask something else",
        );
    }
}
