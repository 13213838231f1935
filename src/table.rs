//! A TOML file read table by table, with every fault at its line and column.
//!
//! Knows TOML and people's mistakes in it (an unknown key, a wrong kind of
//! value, a missing key); knows nothing of what the file is about. The caller
//! asks for the keys it wants, and gathers all faults at the end.

mod places;

use crate::problem;
use std::ops::Range;
use toml::Spanned;
use toml::de::DeTable;
use toml::de::DeValue;

/// A value with the bytes of the file where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub at: Range<usize>,
}

/// One table of the file.
#[derive(Debug, Clone)]
pub struct Table<'t> {
    entries: &'t DeTable<'t>,
    /// Where it begins: its heading, or its opening brace.
    pub at: Range<usize>,
}

impl Table<'_> {
    /// Where the value of this key stands, if it is there.
    #[must_use]
    pub fn at_key(&self, key: &str) -> Option<Range<usize>> {
        self.entries.get(key).map(Spanned::span)
    }

    /// Every key, in alphabetical order, with its place.
    #[must_use]
    pub fn keys(&self) -> Vec<Found<&str>> {
        self.entries
            .keys()
            .map(|key| Found {
                value: key.get_ref().as_ref(),
                at: key.span(),
            })
            .collect()
    }
}

/// A single value of unknown kind.
#[derive(Debug, Clone)]
pub enum Value<'t> {
    /// Text.
    Text(&'t str),
    /// A number as it is written, such as `12` or `2.5`.
    Number(String),
    /// A list.
    List(Vec<Found<Value<'t>>>),
    /// A table.
    Table(Table<'t>),
    /// Anything else, and what it is called.
    Other(&'static str),
}

impl Value<'_> {
    /// What was found, for a message.
    #[must_use]
    pub fn said(&self) -> String {
        match self {
            Value::Text(text) => format!("the text \"{text}\""),
            Value::Number(number) => format!("the number {number}"),
            Value::List(_) => "a list".to_owned(),
            Value::Table(_) => "a table".to_owned(),
            Value::Other(what) => (*what).to_owned(),
        }
    }
}

/// A whole file as TOML; [`Document::root`] is where reading starts.
pub struct Document<'a> {
    root: Spanned<DeTable<'a>>,
}

impl Document<'_> {
    /// The table that holds everything.
    #[must_use]
    pub fn root(&self) -> Table<'_> {
        Table {
            entries: self.root.get_ref(),
            at: 0..0,
        }
    }
}

/// The most faults of one file that are told.
const MOST_FAULTS: usize = 500;
/// The most tables of one list.
const MOST_TABLES: usize = 5_000;
/// The most bytes of one text.
const MOST_BYTES: usize = 20_000;

/// The faults of one file as they are found.
pub struct Reader<'a> {
    file: &'a str,
    text: &'a str,
    faults: Vec<(usize, problem::Problem)>,
    /// Where the file is not TOML, in order.
    broken: Vec<usize>,
    places: places::Places,
}

impl<'a> Reader<'a> {
    /// Returns the file as TOML with a reader that already holds every fault of
    /// its grammar; `file` is how messages name it.
    #[must_use]
    pub fn open(file: &'a str, text: &'a str) -> (Self, Document<'a>) {
        let (root, errors) = DeTable::parse_recoverable(text);
        let mut reader = Self {
            file,
            text,
            faults: Vec::new(),
            broken: Vec::new(),
            places: places::Places::of(text),
        };
        for error in errors {
            let at = error.span().map_or(0, |span| span.start);
            let what = format!("the file is not TOML here: {}", error.message().trim());
            let hint = "text stands in \"double quotes\", a list in [square brackets]";
            reader.fault(at, what, hint);
            reader.broken.push(at);
        }
        reader.broken.sort_unstable();
        (reader, Document { root })
    }

    /// Notes something to mend at this byte of the file.
    pub fn fault(&mut self, at: usize, what: impl Into<String>, hint: impl Into<String>) {
        if self.faults.len() >= MOST_FAULTS {
            return self.fault_beyond(at);
        }
        let problem = problem::Problem::new(self.place(at), what, hint);
        if !self.faults.iter().any(|(_, earlier)| *earlier == problem) {
            self.faults.push((at, problem));
        }
    }

    /// Notes, once, that there are more faults than are told.
    fn fault_beyond(&mut self, at: usize) {
        if self.faults.len() == MOST_FAULTS {
            let what = format!("there are more faults than the limit of {MOST_FAULTS}");
            let problem = problem::Problem::new(self.place(at), what, "mend the others first");
            // In the file's order it stands last.
            self.faults.push((usize::MAX, problem));
        }
    }

    /// Whether the file is not TOML somewhere in these bytes, so that keys may seem
    /// to be missing there, or to stand elsewhere.
    #[must_use]
    pub fn is_broken(&self, bytes: &Range<usize>) -> bool {
        let next = self.broken.partition_point(|at| *at < bytes.start);
        self.broken.get(next).is_some_and(|at| bytes.contains(at))
    }

    /// How many faults there are so far.
    #[must_use]
    pub fn fault_count(&self) -> usize {
        self.faults.len()
    }

    /// Returns every fault, in the file's order.
    #[must_use]
    pub fn into_faults(mut self) -> Vec<problem::Problem> {
        self.faults.sort_by_key(|(at, _)| *at);
        self.faults
            .into_iter()
            .map(|(_, problem)| problem)
            .collect()
    }

    /// Returns `file:line:column` of a byte of the file, both from one, the
    /// column in signs.
    #[must_use]
    pub fn place(&self, at: usize) -> String {
        let (line, column) = self.places.line_and_column(self.text, at);
        format!("{}:{line}:{column}", self.file)
    }

    /// Returns where in the file the byte `offset` of a text stands, past the
    /// quotes and escapes it is written with.
    #[must_use]
    pub fn inside(&self, text: &Found<&str>, offset: usize) -> usize {
        let Some(raw) = self.text.get(text.at.clone()) else {
            return text.at.start;
        };
        let long = raw.starts_with("\"\"\"") || raw.starts_with("'''");
        let mut position = if long { 3 } else { 1 };
        if long && raw.get(3..).is_some_and(|rest| rest.starts_with('\n')) {
            position += 1;
        }
        let is_escaped = raw.starts_with('"');
        let mut rest = raw.get(position..).unwrap_or_default().chars().peekable();
        let mut decoded = 0;
        while decoded < offset {
            let Some(sign) = rest.next() else {
                return text.at.start;
            };
            position += sign.len_utf8();
            if !is_escaped || sign != '\\' {
                decoded += sign.len_utf8();
                continue;
            }
            let kind = rest.next().unwrap_or_default();
            position += kind.len_utf8();
            let digits = match kind {
                'x' => 2,
                'u' => 4,
                'U' => 8,
                '\n' | ' ' | '\t' => {
                    // A backslash at the end of a line swallows the white space after it.
                    while rest.next_if(|sign| sign.is_whitespace()).is_some() {
                        position += 1;
                    }
                    continue;
                }
                _ => 0,
            };
            let code: String = rest.by_ref().take(digits).collect();
            position += code.len();
            let coded = u32::from_str_radix(&code, 16).ok().and_then(char::from_u32);
            decoded += coded.map_or(1, char::len_utf8);
        }
        text.at.start + position
    }

    /// Notes every key of a table that is not among those known, with the known
    /// one it may have been meant for.
    pub fn known_keys(&mut self, table: &Table, known: &[&str]) {
        for key in table.keys() {
            if !known.contains(&key.value) {
                let hint = match nearest(key.value, known) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("use {}", known.join(", ")),
                };
                self.fault(key.at.start, format!("unknown key `{}`", key.value), hint);
            }
        }
    }

    /// Returns the text under a key that may be left out.
    pub fn text<'t>(&mut self, table: &Table<'t>, key: &str) -> Option<Found<&'t str>> {
        let value = table.entries.get(key)?;
        if let DeValue::String(text) = value.get_ref() {
            self.short(key, text, value.span())
        } else {
            self.wrong_kind(key, value, "text in \"double quotes\"");
            None
        }
    }

    /// Returns the text under a key that must be there.
    pub fn needed_text<'t>(&mut self, table: &Table<'t>, key: &str) -> Option<Found<&'t str>> {
        self.need(table, key)?;
        self.text(table, key)
    }

    /// Returns the whole number under a key that may be left out, within bounds.
    pub fn whole(
        &mut self,
        table: &Table,
        key: &str,
        bounds: std::ops::RangeInclusive<i64>,
    ) -> Option<Found<i64>> {
        let value = table.entries.get(key)?;
        let span = if bounds.start() == bounds.end() {
            bounds.start().to_string()
        } else {
            format!("{} to {}", bounds.start(), bounds.end())
        };
        let wanted = if bounds.start() == bounds.end() {
            span.clone()
        } else {
            format!("a whole number from {span}")
        };
        if let DeValue::Integer(digits) = value.get_ref() {
            let number = i64::from_str_radix(digits.as_str(), digits.radix()).ok();
            if let Some(number) = number.filter(|number| bounds.contains(number)) {
                return Some(Found {
                    value: number,
                    at: value.span(),
                });
            }
            self.fault(
                value.span().start,
                format!("`{key}`: found {digits}, wanted {wanted}"),
                format!("use {span}"),
            );
        } else {
            self.wrong_kind(key, value, &wanted);
        }
        None
    }

    /// Returns the `true` or `false` under a key that may be left out.
    pub fn flag(&mut self, table: &Table, key: &str) -> Option<Found<bool>> {
        let value = table.entries.get(key)?;
        if let DeValue::Boolean(flag) = value.get_ref() {
            Some(Found {
                value: *flag,
                at: value.span(),
            })
        } else {
            self.wrong_kind(key, value, "true or false");
            None
        }
    }

    /// Returns the texts of a list under a key that may be left out; what is no
    /// text is noted and left out.
    pub fn texts<'t>(&mut self, table: &Table<'t>, key: &str) -> Option<Vec<Found<&'t str>>> {
        let value = table.entries.get(key)?;
        let DeValue::Array(entries) = value.get_ref() else {
            self.wrong_kind(key, value, "a list of texts in [square brackets]");
            return None;
        };
        let mut texts = Vec::new();
        for entry in entries {
            if let DeValue::String(text) = entry.get_ref() {
                texts.extend(self.short(key, text, entry.span()));
            } else {
                self.wrong_kind(key, entry, "a list of texts only");
            }
        }
        Some(texts)
    }

    /// Returns the table under a key that may be left out.
    pub fn table<'t>(&mut self, table: &Table<'t>, key: &str) -> Option<Table<'t>> {
        let value = table.entries.get(key)?;
        if let DeValue::Table(entries) = value.get_ref() {
            Some(Table {
                entries,
                at: value.span(),
            })
        } else {
            self.wrong_kind(key, value, &format!("a table [{key}]"));
            None
        }
    }

    /// Returns the tables of a list under a key that may be left out.
    pub fn tables<'t>(&mut self, table: &Table<'t>, key: &str) -> Vec<Table<'t>> {
        let Some(value) = table.entries.get(key) else {
            return Vec::new();
        };
        let wanted = format!("one table [[{key}]] after another");
        let DeValue::Array(entries) = value.get_ref() else {
            self.wrong_kind(key, value, &wanted);
            return Vec::new();
        };
        if let Some(beyond) = entries.get(MOST_TABLES) {
            let found = entries.len();
            self.fault(
                beyond.span().start,
                format!("`{key}`: found {found} tables, more than the limit of {MOST_TABLES}"),
                "make two files of it",
            );
        }
        let mut tables = Vec::new();
        for entry in entries.iter().take(MOST_TABLES) {
            if let DeValue::Table(entries) = entry.get_ref() {
                tables.push(Table {
                    entries,
                    at: entry.span(),
                });
            } else {
                self.wrong_kind(key, entry, &wanted);
            }
        }
        tables
    }

    /// Returns whatever stands under a key.
    #[must_use]
    pub fn value<'t>(&self, table: &Table<'t>, key: &str) -> Option<Found<Value<'t>>> {
        table.entries.get(key).map(value_of)
    }

    /// Notes a missing key; `None` if it is missing.
    pub fn need(&mut self, table: &Table, key: &str) -> Option<()> {
        if table.entries.get(key).is_some() {
            return Some(());
        }
        self.fault(
            table.at.start,
            format!("`{key}` is missing"),
            format!("add `{key} = ...`"),
        );
        None
    }

    /// Returns a text where it is no longer than texts are.
    fn short<'t>(&mut self, key: &str, text: &'t str, at: Range<usize>) -> Option<Found<&'t str>> {
        if text.len() <= MOST_BYTES {
            return Some(Found { value: text, at });
        }
        let found = text.len();
        let what =
            format!("`{key}`: the text has {found} bytes, more than the limit of {MOST_BYTES}");
        self.fault(at.start, what, "shorten it");
        None
    }

    fn wrong_kind(&mut self, key: &str, value: &Spanned<DeValue>, wanted: &str) {
        let found = value_of(value);
        self.fault(
            found.at.start,
            format!("`{key}`: found {}, wanted {wanted}", found.value.said()),
            format!("write {wanted}"),
        );
    }
}

/// Returns the known word that another one may have been meant for.
///
/// Near enough are up to two slips of typing (a letter more, less, other, or two
/// exchanged), and fewer than half of the word.
#[must_use]
pub fn nearest<'k>(found: &str, known: &[&'k str]) -> Option<&'k str> {
    let found = found.to_lowercase();
    known
        .iter()
        .map(|word| (strsim::osa_distance(&found, word), *word))
        .filter(|(slips, word)| *slips <= 2 && slips * 2 < word.chars().count())
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, word)| word)
}

fn value_of<'t>(value: &'t Spanned<DeValue<'t>>) -> Found<Value<'t>> {
    let read = match value.get_ref() {
        DeValue::String(text) if text.len() > MOST_BYTES => {
            Value::Other("a text of more than 20000 bytes")
        }
        DeValue::String(text) => Value::Text(text.as_ref()),
        DeValue::Integer(digits) => Value::Number(digits.to_string()),
        DeValue::Float(digits) => Value::Number(digits.to_string()),
        DeValue::Boolean(true) => Value::Other("true"),
        DeValue::Boolean(false) => Value::Other("false"),
        DeValue::Datetime(_) => Value::Other("a date"),
        DeValue::Array(entries) => Value::List(entries.iter().map(value_of).collect()),
        DeValue::Table(entries) => Value::Table(Table {
            entries,
            at: value.span(),
        }),
    };
    Found {
        value: read,
        at: value.span(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fault_of_a_file_comes_at_once_with_its_place() {
        let text = "colour = 3\nname = 5\nmarks = 9\nflag = \"yes\"\nlist = [\"a\", 2]\n[inner]\n";
        let (mut reader, document) = Reader::open("f.toml", text);
        let root = document.root();
        reader.known_keys(
            &root,
            &["colours", "name", "marks", "flag", "list", "inner"],
        );
        assert_eq!(reader.text(&root, "name"), None);
        assert_eq!(reader.whole(&root, "marks", 1..=5), None);
        assert_eq!(reader.flag(&root, "flag"), None);
        let list = reader.texts(&root, "list").expect("it is a list");
        assert_eq!(list.len(), 1);
        let inner = reader.table(&root, "inner").expect("it is a table");
        assert_eq!(reader.needed_text(&inner, "id"), None);
        let said: Vec<String> = reader
            .into_faults()
            .iter()
            .map(|fault| format!("{}: {}", fault.place, fault.what))
            .collect();
        assert_eq!(
            said,
            [
                "f.toml:1:1: unknown key `colour`",
                "f.toml:2:8: `name`: found the number 5, wanted text in \"double quotes\"",
                "f.toml:3:9: `marks`: found 9, wanted a whole number from 1 to 5",
                "f.toml:4:8: `flag`: found the text \"yes\", wanted true or false",
                "f.toml:5:14: `list`: found the number 2, wanted a list of texts only",
                "f.toml:6:1: `id` is missing",
            ]
        );
    }

    #[test]
    fn a_place_inside_a_text_is_past_its_quotes_and_escapes() {
        let text = "a = \"plain\"\nb = 'raw'\nc = \"x\\\"y\\u00e9z\"\nd = \"\"\"\nlong\"\"\"\n";
        let (mut reader, document) = Reader::open("f.toml", text);
        let root = document.root();
        for (key, offset, place) in [
            ("a", 0, "f.toml:1:6"),
            ("a", 3, "f.toml:1:9"),
            ("b", 1, "f.toml:2:7"),
            ("c", 2, "f.toml:3:9"),
            ("c", 5, "f.toml:3:16"),
            ("d", 2, "f.toml:5:3"),
        ] {
            let found = reader.text(&root, key).expect("it is text");
            assert_eq!(reader.place(reader.inside(&found, offset)), place, "{key}");
        }
        assert_eq!(reader.fault_count(), 0);
    }

    #[test]
    fn a_near_word_is_suggested_and_a_far_one_not() {
        assert_eq!(nearest("leves", &["levels", "marks"]), Some("levels"));
        assert_eq!(nearest("Marks", &["levels", "marks"]), Some("marks"));
        assert_eq!(nearest("colour", &["levels", "marks"]), None);
        assert_eq!(nearest("a", &["id"]), None);
    }
}
