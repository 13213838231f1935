//! Curriculum statements, and which questions are taken to be on them.
//!
//! Statements are data: curricula differ and change. A file names where its statements
//! were read and in which edition, and says of each which skills and levels, or which
//! templates, are on it. That a question is on a statement is a judgement, and a school
//! that judges otherwise changes the file.
//!
//! Without a file of the school's own, England's programmes of study are taken
//! (`question-banks/curricula/england.toml`).

use crate::level;
use crate::problem;
use crate::table;
use std::collections::BTreeSet;

/// England's programmes of study, as they come with the program.
const ENGLAND: &str = include_str!("../../question-banks/curricula/england.toml");

/// One curriculum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Curriculum {
    /// What it is called.
    pub title: String,
    /// Who publishes it, and when: the edition.
    pub edition: String,
    /// Where the statements were read.
    pub source: String,
    /// The statements, in the file's order.
    pub statements: Vec<Statement>,
}

/// One statement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Statement {
    /// Its id in the file.
    pub id: String,
    /// The subject.
    pub subject: String,
    /// The stage or year that it is for, in the curriculum's own words.
    pub stage: String,
    /// The statement, word for word.
    pub text: String,
    /// Where this very wording was read; may be empty.
    pub read_at: String,
    /// The skills whose questions are on it, at these levels.
    pub skills: BTreeSet<level::Skill>,
    /// The levels.
    pub levels: level::Span,
    /// Templates that are on it whatever their skill, as `bank: template`.
    pub templates: BTreeSet<String>,
}

impl Statement {
    /// Whether a question is on this statement.
    #[must_use]
    pub fn is_on(&self, skill: level::Skill, level: level::Level, template: &str) -> bool {
        self.templates.contains(template)
            || (self.skills.contains(&skill) && self.levels.contains(level))
    }
}

/// Returns England's programmes of study, as far as questions here are on them.
#[must_use]
pub fn england() -> Curriculum {
    read(ENGLAND, "england.toml").expect("a test reads the file that comes with the program")
}

/// Returns the curriculum of a TOML file; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the file at once.
pub fn read(text: &str, file: &str) -> Result<Curriculum, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    reader.known_keys(&root, &["title", "edition", "source", "statement"]);
    let title = needed(&mut reader, &root, "title");
    let edition = needed(&mut reader, &root, "edition");
    let source = needed(&mut reader, &root, "source");
    let tables = reader.tables(&root, "statement");
    if tables.is_empty() && reader.fault_count() == 0 {
        reader.fault(
            0,
            "there is no statement in it",
            "add a table [[statement]] for each",
        );
    }
    let mut statements: Vec<Statement> = Vec::new();
    for table in &tables {
        if let Some(statement) = statement(&mut reader, table) {
            if statements.iter().any(|other| other.id == statement.id) {
                reader.fault(
                    table.at_key("id").map_or(table.at.start, |at| at.start),
                    format!("found the id \"{}\" a second time", statement.id),
                    "give each statement an id of its own",
                );
            }
            statements.push(statement);
        }
    }
    let faults = reader.into_faults();
    match (title, edition, source) {
        (Some(title), Some(edition), Some(source)) if faults.is_empty() => Ok(Curriculum {
            title,
            edition,
            source,
            statements,
        }),
        (_, _, _) => Err(faults),
    }
}

fn statement(reader: &mut table::Reader<'_>, table: &table::Table<'_>) -> Option<Statement> {
    reader.known_keys(
        table,
        &[
            "id",
            "subject",
            "stage",
            "text",
            "read_at",
            "skills",
            "levels",
            "templates",
        ],
    );
    let id = needed(reader, table, "id");
    let subject = needed(reader, table, "subject");
    let stage = needed(reader, table, "stage");
    let text = needed(reader, table, "text");
    let read_at = reader
        .text(table, "read_at")
        .map_or("", |found| found.value.trim());
    let mut skills = BTreeSet::new();
    for found in reader.texts(table, "skills").unwrap_or_default() {
        match found.value.parse::<level::Skill>() {
            Ok(skill) => {
                skills.insert(skill);
            }
            Err(error) => {
                reader.fault(
                    found.at.start,
                    format!("`skills`: {error}"),
                    "mend the skill",
                );
            }
        }
    }
    let mut levels = level::Span::ALL;
    if let Some(found) = reader.text(table, "levels") {
        match found.value.parse() {
            Ok(span) => levels = span,
            Err(error) => {
                let error: level::UnknownLevel = error;
                reader.fault(
                    found.at.start,
                    format!("`levels`: {error}"),
                    "mend the levels",
                );
            }
        }
    }
    let mut templates = BTreeSet::new();
    for found in reader.texts(table, "templates").unwrap_or_default() {
        if found.value.contains(": ") {
            templates.insert(found.value.trim().to_owned());
        } else {
            reader.fault(
                found.at.start,
                format!(
                    "`templates`: found \"{}\", wanted bank and template",
                    found.value
                ),
                "write them as `bank: template`, like the worksheet Questions of a review",
            );
        }
    }
    if table.at_key("skills").is_none() && table.at_key("templates").is_none() {
        reader.fault(
            table.at.start,
            "no question is on this statement",
            "add `skills = [...]` with `levels`, or `templates = [...]`",
        );
    }
    Some(Statement {
        id: id?,
        subject: subject?,
        stage: stage?,
        text: text?,
        read_at: read_at.to_owned(),
        skills,
        levels,
        templates,
    })
}

fn needed(reader: &mut table::Reader<'_>, table: &table::Table<'_>, key: &str) -> Option<String> {
    let found = reader.needed_text(table, key)?;
    let text = found.value.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.is_empty() {
        reader.fault(
            found.at.start,
            format!("`{key}` is empty"),
            "write it out: a reader must be able to look it up",
        );
        return None;
    }
    Some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn england_is_read_and_every_statement_says_where_it_was_read() {
        let england = england();
        assert!(england.statements.len() > 5);
        for statement in &england.statements {
            assert!(!statement.read_at.is_empty(), "{}", statement.id);
        }
        let level = |number| level::Level::new(number).expect("1 to 8");
        let on: Vec<&str> = england
            .statements
            .iter()
            .filter(|it| it.is_on(level::Skill::Ratio, level(5), "gears-7-11: ratio-pair"))
            .map(|statement| statement.id.as_str())
            .collect();
        assert!(on.contains(&"maths-y6-missing-values"), "{on:?}");
    }

    #[test]
    fn every_fault_is_told_at_once_with_its_place() {
        let text = "title = \"T\"\nedition = \"\"\n\
            [[statement]]\nid = \"a\"\nsubject = \"S\"\nstage = \"Y5\"\ntext = \"t\"\nskills = [\"turn\"]\nlevels = \"9\"\n\
            [[statement]]\nid = \"a\"\nsubject = \"S\"\nstage = \"Y5\"\ntext = \"t\"\ntemplates = [\"alone\"]\n\
            [[statement]]\nid = \"a\"\nsubject = \"S\"\nstage = \"Y5\"\ntext = \"t\"\nskil = []\n";
        let faults = read(text, "c.toml").expect_err("it is not sound");
        let said: Vec<String> = faults
            .iter()
            .map(|fault| format!("{}: {}", fault.place, fault.what))
            .collect();
        let said = said.join("\n");
        for wanted in [
            "c.toml:1:1: `source` is missing",
            "c.toml:2:11: `edition` is empty",
            "c.toml:8:11: `skills`: found \"turn\"",
            "c.toml:9:10: `levels`: found \"9\"",
            "c.toml:11:6: found the id \"a\" a second time",
            "c.toml:15:14: `templates`: found \"alone\"",
            "unknown key `skil`",
            "no question is on this statement",
        ] {
            assert!(said.contains(wanted), "{wanted}:\n{said}");
        }
    }
}
