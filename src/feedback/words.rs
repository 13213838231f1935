//! The words of feedback: a file of lines that a school can change.
//!
//! A line may hold places such as `{answer}`, which are filled in. What a school
//! leaves out keeps the usual words.

use crate::bank::pattern;
use crate::feedback::line;
use crate::level;
use crate::marking::overview;
use crate::misconception;
use crate::problem;
use crate::table;
use std::collections::BTreeMap;
use std::fmt::Write;

/// The most characters of a line: more would not fit on a note.
const LONGEST: usize = 240;

/// The tables of a file.
const TABLES: [&str; 4] = ["note", "class", "skill", "misconception"];

/// Every line of feedback.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    lines: BTreeMap<Key, pattern::Pattern>,
}

/// Which line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Line(line::Line),
    Can(level::Skill),
    Practise(level::Skill),
    Say(&'static str),
    Next(&'static str),
}

/// One line as a file has it.
struct Entry {
    id: Key,
    /// Its table, such as `skill.turns`.
    table: (&'static str, &'static str),
    key: &'static str,
    meaning: &'static str,
    places: &'static [&'static str],
    usual: &'static str,
}

impl Default for Words {
    fn default() -> Self {
        let lines = entries().into_iter().map(|entry| {
            let pattern = pattern::Pattern::parse(entry.usual);
            (entry.id, pattern.expect("the usual words are well formed"))
        });
        Self {
            lines: lines.collect(),
        }
    }
}

impl Words {
    /// Returns a line with its places filled.
    pub(super) fn line(&self, line: line::Line, places: &[(&str, &str)]) -> String {
        self.filled(Key::Line(line), places)
    }

    /// Returns what a pupil can do who has this skill: words that follow "You can".
    pub(super) fn can(&self, skill: level::Skill) -> String {
        self.filled(Key::Can(skill), &[])
    }

    /// Returns what to practise in a skill.
    pub(super) fn practise(&self, skill: level::Skill) -> String {
        self.filled(Key::Practise(skill), &[])
    }

    /// Returns what to say to a pupil whose answers fit a misconception.
    pub(super) fn say(&self, known: &'static misconception::Misconception) -> String {
        self.filled(Key::Say(known.id), &[])
    }

    /// Returns what to try next against a misconception.
    pub(super) fn next(&self, known: &'static misconception::Misconception) -> String {
        self.filled(Key::Next(known.id), &[])
    }

    fn filled(&self, key: Key, places: &[(&str, &str)]) -> String {
        let filling: pattern::Filling = places.iter().copied().collect();
        self.lines
            .get(&key)
            .map(|pattern| pattern.fill(&filling))
            .unwrap_or_default()
    }
}

/// Returns the words of a TOML file; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the file at once: unknown tables and keys, lines that are empty, too
/// long or no text, places that are unknown or missing.
pub fn read(text: &str, file: &str) -> Result<Words, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    reader.known_keys(&root, &TABLES);
    let entries = entries();
    let mut words = Words::default();
    for name in TABLES {
        let Some(outer) = reader.table(&root, name) else {
            continue;
        };
        let mine: Vec<&Entry> = entries.iter().filter(|it| it.table.0 == name).collect();
        let mut inner: Vec<&str> = mine.iter().map(|it| it.table.1).collect();
        inner.dedup();
        if inner == [""] {
            lines(&mut reader, &outer, &mine, &mut words);
            continue;
        }
        reader.known_keys(&outer, &inner);
        for within in inner {
            if let Some(table) = reader.table(&outer, within) {
                let mine: Vec<&Entry> = mine
                    .iter()
                    .copied()
                    .filter(|it| it.table.1 == within)
                    .collect();
                lines(&mut reader, &table, &mine, &mut words);
            }
        }
    }
    let faults = reader.into_faults();
    if faults.is_empty() {
        Ok(words)
    } else {
        Err(faults)
    }
}

/// Returns words as a TOML file with every line, what it is for, and its places.
#[must_use]
pub fn write(words: &Words) -> String {
    let mut text = String::from(
        "# The words of feedback on paper. Keep the lines that you change, leave out the\n\
         # others, and give the file with `toothmark feedback MARKED --words FILE`.\n\
         # A place such as {answer} is filled in; each must stand in its line.\n\
         #\n\
         # A skill is named as something a pupil can do where they earned at least two marks\n\
         # in it, and two thirds of those to be had in answers that are settled.\n",
    );
    let mut table = ("", "");
    for entry in entries() {
        if entry.table != table {
            table = entry.table;
            let name = match table {
                (outer, "") => outer.to_owned(),
                (outer, inner) => format!("{outer}.{inner}"),
            };
            add(&mut text, format_args!("\n[{name}]"));
        }
        if !entry.meaning.is_empty() {
            add(&mut text, format_args!("# {}", entry.meaning));
        }
        let Some(pattern) = words.lines.get(&entry.id) else {
            continue;
        };
        // JSON's quotes and escapes are TOML's too.
        let quoted = serde_json::Value::from(pattern.to_string());
        add(&mut text, format_args!("{} = {quoted}", entry.key));
    }
    text
}

fn add(text: &mut String, what: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = writeln!(text, "{what}");
}

/// Reads the lines of one table.
fn lines(reader: &mut table::Reader, table: &table::Table, mine: &[&Entry], words: &mut Words) {
    let keys: Vec<&str> = mine.iter().map(|entry| entry.key).collect();
    reader.known_keys(table, &keys);
    for entry in mine {
        let Some(found) = reader.text(table, entry.key) else {
            continue;
        };
        let at = found.at.start;
        if found.value.trim().is_empty() {
            let hint = "leave the line out to keep the usual words";
            reader.fault(at, format!("`{}` is empty", entry.key), hint);
        }
        let length = found.value.chars().count();
        if length > LONGEST {
            reader.fault(
                at,
                format!(
                    "`{}` has {length} characters, more than {LONGEST}",
                    entry.key
                ),
                "say it in fewer words, so that it fits on a note",
            );
        }
        match pattern::Pattern::parse(found.value) {
            Ok(pattern) => {
                places(reader, entry, &found, &pattern);
                words.lines.insert(entry.id, pattern);
            }
            Err(faults) => {
                for fault in faults {
                    reader.fault(reader.inside(&found, fault.at), fault.what, fault.hint);
                }
            }
        }
    }
}

/// Notes places that are unknown and places that are missing.
fn places(
    reader: &mut table::Reader,
    entry: &Entry,
    found: &table::Found<&str>,
    pattern: &pattern::Pattern,
) {
    for (slot, offset) in pattern.slots() {
        if !entry.places.contains(&slot) {
            let hint = match (table::nearest(slot, entry.places), entry.places) {
                (Some(near), _) => format!("did you mean {{{near}}}?"),
                (None, []) => "this line has no places".to_owned(),
                (None, places) => format!("its places are {}", braced(places)),
            };
            let what = format!("`{}`: unknown place {{{slot}}}", entry.key);
            reader.fault(reader.inside(found, offset), what, hint);
        }
    }
    for place in entry.places {
        if !pattern.has(place) {
            reader.fault(
                found.at.start,
                format!("`{}`: the place {{{place}}} is missing", entry.key),
                format!("write {{{place}}} where it should be filled in"),
            );
        }
    }
}

fn braced(places: &[&str]) -> String {
    let braced: Vec<String> = places.iter().map(|place| format!("{{{place}}}")).collect();
    braced.join(", ")
}

/// Every line, in the order of a file.
fn entries() -> Vec<Entry> {
    let lines = line::LINES.iter().map(|known| Entry {
        id: Key::Line(known.line),
        table: (known.table, ""),
        key: known.key,
        meaning: known.meaning,
        places: known.places,
        usual: known.usual,
    });
    let skills = level::SKILLS.into_iter().flat_map(|skill| {
        let entry = |id, key, usual| Entry {
            id,
            table: ("skill", skill.text()),
            key,
            meaning: "",
            places: &[],
            usual,
        };
        [
            entry(Key::Can(skill), "can", can(skill)),
            entry(
                Key::Practise(skill),
                "practise",
                overview::skill_step(skill),
            ),
        ]
    });
    let misconceptions = misconception::all().iter().flat_map(|known| {
        let entry = |id, key, usual| Entry {
            id,
            table: ("misconception", known.id),
            key,
            meaning: "",
            places: &[],
            usual,
        };
        [
            entry(Key::Say(known.id), "say", known.say),
            entry(Key::Next(known.id), "next", known.next),
        ]
    });
    lines.chain(skills).chain(misconceptions).collect()
}

/// What a pupil can do who has a skill, after "You can".
fn can(skill: level::Skill) -> &'static str {
    match skill {
        level::Skill::Naming => "name the parts of a machine with gears",
        level::Skill::Direction => "say which way gears turn",
        level::Skill::FasterSlower => "say which gear turns faster",
        level::Skill::Turns => "work out how many turns a gear makes",
        level::Skill::Ratio => "work with gear ratios",
        level::Skill::Speed => "work out how fast a gear turns",
        level::Skill::TurningForce => "say how gears change a turning force",
        level::Skill::Distance => "work out how far something moves",
        level::Skill::Gearboxes => "work through a gearbox with several gears",
        level::Skill::Choosing => "choose gears that do a job",
        level::Skill::WillItWork => "tell whether gears can turn",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(text: &str) -> Vec<String> {
        let faults = read(text, "words.toml").expect_err("faults");
        faults
            .iter()
            .map(|fault| format!("{}: {} ({})", fault.place, fault.what, fault.hint))
            .collect()
    }

    #[test]
    fn words_written_out_are_read_back() {
        let usual = Words::default();
        let text = write(&usual);
        assert_eq!(read(&text, "words.toml"), Ok(usual));
        assert!(text.contains("[skill.faster-slower]\ncan = \"say which gear turns faster\""));
        assert!(
            text.contains("[misconception.ratio-upside-down]\nsay = "),
            "{text}"
        );
        assert!(text.contains("answer = \"Answer: {answer}\""), "{text}");
    }

    #[test]
    fn what_a_school_leaves_out_keeps_the_usual_words() {
        let text = "[note]\nanswer = \"It comes to \\\"{answer}\\\".\"\n\
                    [skill.turns]\ncan = \"count turns\"\n";
        let words = read(text, "words.toml").expect("well formed");
        assert_eq!(
            words.line(line::Line::Answer, &[("answer", "3")]),
            "It comes to \"3\"."
        );
        assert_eq!(words.can(level::Skill::Turns), "count turns");
        assert_eq!(words.can(level::Skill::Speed), can(level::Skill::Speed));
        assert_eq!(read(&write(&words), "words.toml"), Ok(words));
    }

    #[test]
    fn every_fault_of_the_words_is_told_at_once_with_its_place() {
        let long = "x".repeat(LONGEST + 1);
        let text = format!(
            "[note]\nanswer = \"It is {{anser}}.\"\ncan = 3\ntried = \" \"\nabsend = \"x\"\n\
             blank = \"{{\"\nwaiting = \"{long}\"\n[skill.turn]\ncan = \"x\"\n\
             [misconception.same-speed]\nsay = \"{{name}}\"\n[notes]\n"
        );
        assert_eq!(
            faults(&text),
            [
                "words.toml:2:10: `answer`: the place {answer} is missing (write {answer} where \
                 it should be filled in)",
                "words.toml:2:17: `answer`: unknown place {anser} (did you mean {answer}?)",
                "words.toml:3:7: `can`: found the number 3, wanted text in \"double quotes\" \
                 (write text in \"double quotes\")",
                "words.toml:4:9: `tried` is empty (leave the line out to keep the usual words)",
                "words.toml:5:1: unknown key `absend` (did you mean `absent`?)",
                "words.toml:6:10: found { without its } (write a placeholder as {name}: letters, \
                 digits and _ only)",
                "words.toml:7:11: `waiting` has 241 characters, more than 240 (say it in fewer \
                 words, so that it fits on a note)",
                "words.toml:8:8: unknown key `turn` (did you mean `turns`?)",
                "words.toml:11:8: `say`: unknown place {name} (this line has no places)",
                "words.toml:12:2: unknown key `notes` (did you mean `note`?)",
            ]
        );
    }

    #[test]
    fn a_file_that_is_not_toml_is_told_where() {
        assert!(faults("[note\ncan = ")[0].starts_with("words.toml:1:"));
    }

    #[test]
    fn every_usual_line_has_its_places_and_fits() {
        for entry in entries() {
            let pattern = pattern::Pattern::parse(entry.usual).expect("well formed");
            let mut slots: Vec<&str> = pattern.slots().iter().map(|(name, _)| *name).collect();
            let mut places = entry.places.to_vec();
            slots.sort_unstable();
            places.sort_unstable();
            assert_eq!(slots, places, "{}", entry.key);
            assert!(entry.usual.chars().count() <= LONGEST, "{}", entry.usual);
        }
    }
}
