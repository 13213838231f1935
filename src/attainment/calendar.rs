//! The school's own terms: what they are called and when they begin and end.
//!
//! Read from a file, for dates are set locally and schools differ in how many terms
//! and half terms they have. Without the file no term is claimed of anything. The date
//! on which a homework was set decides its term.
//!
//! ```toml
//! [[term]]
//! label = "Autumn 1"
//! year = "2026/27"
//! first = "2026-09-02"
//! last = "2026-10-23"
//! ```

use crate::date;
use crate::problem;
use crate::table;
use std::fmt;

/// The terms of a school, in order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar {
    terms: Vec<Term>,
}

/// A term or half term.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Term {
    /// Its first day.
    pub first: date::Date,
    /// Its last day.
    pub last: date::Date,
    /// The school year it is part of, such as `2026/27`.
    pub year: String,
    /// What it is called, such as `Autumn 1`.
    pub label: String,
}

impl fmt::Display for Term {
    /// Writes `2026/27 Autumn 1`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} {}", self.year, self.label)
    }
}

impl Calendar {
    /// Returns the terms in order.
    #[must_use]
    pub fn terms(&self) -> &[Term] {
        &self.terms
    }

    /// Returns the term in which a day lies, if it lies in one; `day` is ISO 8601.
    #[must_use]
    pub fn term(&self, day: &str) -> Option<&Term> {
        let day: date::Date = day.parse().ok()?;
        self.terms
            .iter()
            .find(|term| (term.first..=term.last).contains(&day))
    }
}

/// Returns the calendar of a TOML file; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the file at once: days that are none, terms that end before they
/// begin, overlap, or have the same name in one year.
pub fn read(text: &str, file: &str) -> Result<Calendar, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    reader.known_keys(&root, &["term"]);
    let tables = reader.tables(&root, "term");
    if tables.is_empty() && reader.fault_count() == 0 {
        reader.fault(0, "there is no term in it", "add a table [[term]] for each");
    }
    let mut terms: Vec<(usize, Term)> = Vec::new();
    for table in &tables {
        if let Some(term) = term(&mut reader, table) {
            for (_, other) in &terms {
                compare(&mut reader, table.at.start, &term, other);
            }
            terms.push((table.at.start, term));
        }
    }
    let faults = reader.into_faults();
    if faults.is_empty() {
        let mut terms: Vec<Term> = terms.into_iter().map(|(_, term)| term).collect();
        terms.sort();
        Ok(Calendar { terms })
    } else {
        Err(faults)
    }
}

fn term(reader: &mut table::Reader<'_>, table: &table::Table<'_>) -> Option<Term> {
    reader.known_keys(table, &["label", "year", "first", "last"]);
    let label = name(reader, table, "label");
    let year = name(reader, table, "year");
    let first = day(reader, table, "first");
    let last = day(reader, table, "last");
    let (first, last) = (first?, last?);
    if last < first {
        let at = table.at_key("last").map_or(table.at.start, |at| at.start);
        reader.fault(
            at,
            format!("the term ends on {last}, before it begins on {first}"),
            "exchange first and last, or mend the year",
        );
        return None;
    }
    Some(Term {
        first,
        last,
        year: year?,
        label: label?,
    })
}

/// Notes what two terms cannot have in common.
fn compare(reader: &mut table::Reader<'_>, at: usize, term: &Term, other: &Term) {
    if term.first <= other.last && other.first <= term.last {
        reader.fault(
            at,
            format!("{term} and {other} overlap"),
            format!("{other} is from {} to {}", other.first, other.last),
        );
    }
    if term.year == other.year && term.label == other.label {
        reader.fault(
            at,
            format!("found {term} a second time"),
            "give each term of a year a label of its own",
        );
    }
}

fn name(reader: &mut table::Reader<'_>, table: &table::Table<'_>, key: &str) -> Option<String> {
    let found = reader.needed_text(table, key)?;
    let text = found.value.trim();
    if text.is_empty() {
        reader.fault(
            found.at.start,
            format!("`{key}` is empty"),
            "write what the school calls it",
        );
        return None;
    }
    Some(text.to_owned())
}

fn day(reader: &mut table::Reader<'_>, table: &table::Table<'_>, key: &str) -> Option<date::Date> {
    let found = reader.needed_text(table, key)?;
    match found.value.trim().parse() {
        Ok(day) => Some(day),
        Err(error) => {
            let what = format!("`{key}`: found \"{}\", {error}", found.value);
            reader.fault(found.at.start, what, "write it like \"2026-09-02\"");
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(label: &str, first: &str, last: &str) -> String {
        format!(
            "[[term]]\nlabel = \"{label}\"\nyear = \"2026/27\"\nfirst = \"{first}\"\nlast = \"{last}\"\n"
        )
    }

    #[test]
    fn a_day_lies_in_its_term_or_in_none() {
        let text = entry("Spring 1", "2027-01-04", "2027-02-12")
            + &entry("Autumn 1", "2026-09-02", "2026-10-23");
        let calendar = read(&text, "c.toml").expect("it is sound");
        let term = |day: &str| calendar.term(day).map(ToString::to_string);
        assert_eq!(term("2026-09-02").as_deref(), Some("2026/27 Autumn 1"));
        assert_eq!(term("2027-02-12").as_deref(), Some("2026/27 Spring 1"));
        for day in ["2026-09-01", "2026-10-24", "2027-02-13", "some day", ""] {
            assert_eq!(term(day), None, "{day}");
        }
        assert_eq!(calendar.terms()[0].label, "Autumn 1");
    }

    #[test]
    fn every_fault_is_told_at_once_with_its_place() {
        let text = entry("Autumn 1", "2026-09-02", "2026-10-23")
            + &entry("Autumn 1", "2026-10-20", "2026-12-18")
            + &entry("Spring 1", "2027-02-12", "2027-01-04")
            + &entry("Spring 2", "2027-02-30", "soon")
            + &entry(" ", "2027-06-07", "2027-07-21")
            + "[[terms]]\n";
        let faults = read(&text, "c.toml").expect_err("it is not sound");
        let said: Vec<String> = faults
            .iter()
            .map(|fault| format!("{}: {}", fault.place, fault.what))
            .collect();
        let said = said.join("\n");
        for wanted in [
            "c.toml:6:1: 2026/27 Autumn 1 and 2026/27 Autumn 1 overlap",
            "c.toml:6:1: found 2026/27 Autumn 1 a second time",
            "c.toml:15:8: the term ends on 2027-01-04, before it begins on 2027-02-12",
            "c.toml:19:9: `first`: found \"2027-02-30\", month 2 of 2027 has 28 days",
            "c.toml:20:8: `last`: found \"soon\"",
            "c.toml:22:9: `label` is empty",
            "unknown key `terms`",
        ] {
            assert!(said.contains(wanted), "{wanted}:\n{said}");
        }
    }

    #[test]
    fn an_empty_calendar_is_a_fault() {
        assert!(read("", "c.toml").is_err());
    }
}
