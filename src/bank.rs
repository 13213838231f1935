//! Question banks: the file's shape, and the checked bank.
//!
//! Takes the text of a TOML file; gives a [`Bank`], or every fault of the file
//! with its line and column. Not here: whether numbers can be drawn, which the
//! floor above tries out.

use crate::answer;
use crate::level;
use crate::number;
use crate::problem;
use crate::table;
use sha2::Digest;
use sha2::Sha256;

mod check;
mod draft;
mod explains;
pub mod heading;
mod load;
pub mod pattern;
mod probe;
mod suits;
mod values;

/// The version of the bank format that this program reads.
pub const FORMAT: i64 = 1;

/// A checked bank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bank {
    /// Its id, such as `gears-7-11`.
    pub id: String,
    /// Its title for people.
    pub title: String,
    /// Its edition, such as `2026-1`.
    pub edition: String,
    /// SHA-256 of the file's text, in hexadecimal.
    pub fingerprint: String,
    /// Its templates, in the file's order.
    pub templates: Vec<Template>,
}

/// A question with ranges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Template {
    /// Its id, unique in the bank.
    pub id: String,
    /// Where it stands, as `file:line:column`.
    pub place: String,
    /// The skill it exercises.
    pub skill: level::Skill,
    /// The levels it can be set at, from the lowest.
    pub levels: Vec<level::Level>,
    /// Scenes to choose among.
    pub stories: Vec<pattern::Pattern>,
    /// Lines of the mechanism.
    pub mechanism: Vec<pattern::Pattern>,
    /// What fills the placeholders, in alphabetical order.
    pub placeholders: Vec<Placeholder>,
    /// One part or more.
    pub parts: Vec<PartTemplate>,
}

/// A placeholder and the values it may take.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placeholder {
    /// Its name.
    pub name: String,
    /// Every value as it is shown to pupils and put into the mechanism, one or more.
    pub values: Vec<String>,
}

/// One part of a question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartTemplate {
    /// Its letter where there is more than one part, such as `a`.
    pub letter: Option<char>,
    /// The wording.
    pub question: pattern::Pattern,
    /// Further lines of the mechanism for this part.
    pub mechanism: Vec<pattern::Pattern>,
    /// The line of what is asked.
    pub ask: pattern::Pattern,
    /// The printed unit where it is a number and not the usual one.
    pub unit: Option<answer::Unit>,
    /// How exactly a number is wanted.
    pub precision: number::Precision,
    /// Whether a ratio is wanted in its simplest form.
    pub simplest: bool,
    /// Marks, 1 to 5.
    pub marks: u8,
    /// Whether working earns marks.
    pub working: bool,
    /// The letters of the earlier parts that this one follows from.
    pub follows: Vec<char>,
}

/// Returns the checked bank of a file's text; `file` is how messages name it.
///
/// # Errors
///
/// Every fault of the file at once, in the file's order.
///
/// # Example
///
/// ```
/// use toothmark::bank;
///
/// let faults = bank::read("format = 2\n", "my.toml").expect_err("the bank is empty");
/// assert!(faults[0].to_string().starts_with("my.toml:1:1: `bank` is missing"));
/// ```
pub fn read(text: &str, file: &str) -> Result<Bank, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    if !reader.is_broken(&(0..text.len() + 1)) {
        head(&mut reader, &root, text.len());
    }
    let tables = reader.tables(&root, "template");
    let heading = root
        .at_key("bank")
        .and_then(|_| reader.table(&root, "bank"));
    let mut starts: Vec<usize> = tables.iter().map(|entries| entries.at.start).collect();
    starts.extend(heading.iter().map(|entries| entries.at.start));
    starts.sort_unstable();
    // Where the file is not TOML, keys may be lost or stray up to the next heading:
    // what is said of them would only mislead.
    let is_sound = |reader: &table::Reader, entries: &table::Table| {
        let start = entries.at.start;
        let next = starts.get(starts.partition_point(|&other| other <= start));
        let end = next.map_or(text.len() + 1, |&end| end);
        !reader.is_broken(&(start..end))
    };
    let stamp = heading
        .filter(|entries| is_sound(&reader, entries))
        .and_then(|entries| stamp(&mut reader, &entries));
    let mut drafts = Vec::new();
    for entries in &tables {
        if is_sound(&reader, entries) {
            drafts.push(draft::template(&mut reader, entries));
        }
    }
    check::bank(&mut reader, &drafts);
    let templates: Option<Vec<Template>> = drafts
        .into_iter()
        .map(|draft| template(&reader, draft))
        .collect();
    let whole = stamp.zip(templates).filter(|_| reader.fault_count() == 0);
    match whole {
        Some(((id, title, edition), templates)) => Ok(Bank {
            id,
            title,
            edition,
            fingerprint: fingerprint(text),
            templates,
        }),
        None => Err(reader.into_faults()),
    }
}

/// Reads what stands outside all tables, and whether the tables are there.
fn head(reader: &mut table::Reader, root: &table::Table, end: usize) {
    reader.known_keys(root, &["format", "bank", "template"]);
    if reader.need(root, "format").is_some() {
        reader.whole(root, "format", FORMAT..=FORMAT);
    }
    reader.need(root, "bank");
    if root.at_key("template").is_none() {
        reader.fault(
            end,
            "the bank has no questions",
            "add one: a line [[template]] and its keys",
        );
    }
}

/// Reads `[bank]`: id, title and edition.
fn stamp(reader: &mut table::Reader, entries: &table::Table) -> Option<(String, String, String)> {
    reader.known_keys(entries, &["id", "title", "edition"]);
    let id = reader.needed_text(entries, "id");
    if let Some(id) = &id {
        heading::check_id(reader, "id", id);
    }
    let title = reader.needed_text(entries, "title");
    let edition = reader.needed_text(entries, "edition");
    for (key, text) in [("title", &title), ("edition", &edition)] {
        if let Some(text) = text
            && text.value.trim().is_empty()
        {
            reader.fault(
                text.at.start,
                format!("`{key}` is empty"),
                "write a few words",
            );
        }
    }
    Some((
        id?.value.to_owned(),
        title?.value.to_owned(),
        edition?.value.to_owned(),
    ))
}

/// SHA-256 of a text, in hexadecimal.
fn fingerprint(text: &str) -> String {
    let hash = Sha256::digest(text.as_bytes());
    let bytes: Vec<String> = hash.iter().map(|byte| format!("{byte:02x}")).collect();
    bytes.concat()
}

/// The checked template of a draft; `None` where something it needs is missing.
fn template(reader: &table::Reader, draft: draft::Draft) -> Option<Template> {
    let patterns = |lines: Vec<draft::Line>| lines.into_iter().map(|line| line.pattern).collect();
    let parts = draft.parts.into_iter().map(|part| {
        Some(PartTemplate {
            letter: part.letter,
            question: part.question?.pattern,
            mechanism: patterns(part.mechanism),
            ask: part.ask?.pattern,
            unit: part.unit,
            precision: part.precision,
            simplest: part.simplest,
            marks: part.marks,
            working: part.working,
            follows: part.follows,
        })
    });
    let mut levels = draft.levels;
    levels.sort();
    Some(Template {
        id: draft.id?.value.to_owned(),
        place: reader.place(draft.at.start),
        skill: draft.skill?,
        levels,
        stories: patterns(draft.stories),
        mechanism: patterns(draft.mechanism),
        placeholders: draft
            .placeholders
            .into_iter()
            .map(|placeholder| Placeholder {
                name: placeholder.name,
                values: placeholder
                    .values
                    .into_iter()
                    .map(|found| found.value)
                    .collect(),
            })
            .collect(),
        parts: parts.collect::<Option<_>>()?,
    })
}
