//! The school's own bands: labels and from which share of the marks, or which place on the
//! scale of all questions, each begins.
//!
//! No band and no threshold is built in, and without the school's file none is told.
//! Labels that belong to statutory judgements are refused: homework on one topic is no
//! such judgement, and England's frameworks say that single pieces of work are assessed
//! by the school's own policy.
//!
//! ```toml
//! name = "Our bands"
//! on = "marks"
//! fewest_marks = 20
//!
//! [[band]]
//! label = "Building"
//! from = 0
//!
//! [[band]]
//! label = "Secure"
//! from = 60
//! ```
//!
//! With `on = "scale"` the thresholds are places ([`mod@unit`]), and the lowest band has no
//! `from`: the scale has no lowest place.

use crate::attainment::count;
use crate::number;
use crate::problem;
use crate::table;

pub(super) mod entries;
pub(super) mod numbers;
mod place;
pub mod unit;

/// Words of statutory judgements, each in small letters.
///
/// Source: STA, frameworks for teacher assessment at key stage 2 (2015, 2018/19) and
/// the teacher assessment guidance of 2024, as quoted by schools and authorities.
const STATUTORY_PHRASES: [&str; 6] = [
    "expected standard",
    "greater depth",
    "pre-key stage",
    "engagement model",
    "scaled score",
    "expected level",
];

/// Codes of statutory judgements.
///
/// Source: as [`STATUTORY_PHRASES`].
const STATUTORY_CODES: [&str; 11] = [
    "gds", "exs", "wts", "hnm", "pks", "pk1", "pk2", "pk3", "pk4", "pk5", "pk6",
];

/// The most bands.
const MOST_BANDS: usize = 12;

/// The bands of a school, the lowest first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bands {
    /// What the school calls them together; may be empty.
    pub name: String,
    /// What the thresholds are of.
    pub on: On,
    /// The unit of thresholds on the scale; of no meaning for those of marks.
    pub unit: unit::Unit,
    /// With fewer marks to be had a pupil is in no band.
    pub fewest_marks: u32,
    /// The bands, the lowest first.
    pub bands: Vec<Band>,
}

/// What thresholds are of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum On {
    /// The share of the marks to be had, in hundredths (`marks`).
    Marks,
    /// The pupil's place on the scale of all questions (`scale`).
    Scale,
}

/// One band.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Band {
    /// The school's own label.
    pub label: String,
    /// From where it begins, in hundredths or in the unit of the scale; the lowest from
    /// nought, or on the scale from nowhere.
    pub from: Option<number::Number>,
}

/// How many pupils are in each band.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What the school calls the bands together; may be empty.
    pub name: String,
    /// The columns: the bands, the lowest first, with where they begin; then those with
    /// too little work for a band; for bands on the scale then those without a place on it;
    /// where numbers are not shown last those of a row together.
    pub columns: Vec<String>,
    /// All pupils, then each year, then each class.
    pub rows: Vec<Row>,
    /// What is not shown and why; nothing where all is.
    pub not_shown: Option<String>,
}

/// The pupils of one group by band.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// What kind of group it is.
    pub kind: Kind,
    /// The group's name.
    pub label: String,
    /// A number for each column.
    pub pupils: Vec<count::Count>,
}

/// What kind of group a row is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// All pupils.
    All,
    /// A year.
    Year,
    /// A class.
    Class,
}

impl Bands {
    /// Returns in which band of marks a pupil is who earned so many of so many: its place
    /// from the lowest; nothing with too few marks to be had.
    ///
    /// A share that is exactly where a band begins is in it.
    #[must_use]
    pub fn band(&self, earned: u32, available: u32) -> Option<usize> {
        if !self.is_enough(available) {
            return None;
        }
        let share = number::Number::from(earned)
            .times(number::Number::from(100))
            .and_then(|share| share.divided_by(number::Number::from(available)));
        let share = share.ok()?;
        self.bands
            .iter()
            .rposition(|band| band.from.is_none_or(|from| share >= from))
    }

    /// Returns in which band on the scale a pupil is who stands so high, in logits: its
    /// place from the lowest.
    #[must_use]
    pub fn band_at(&self, place: f64) -> Option<usize> {
        let place = self.unit.of_logits(place);
        let begins = |band: &Band| band.from.is_none_or(|from| place >= from.to_f64());
        self.bands.iter().rposition(begins)
    }

    fn is_enough(&self, available: u32) -> bool {
        available > 0 && available >= self.fewest_marks
    }
}

/// Returns the bands of a TOML file; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the file at once: thresholds that do not ascend, those of marks that do
/// not begin at nought or lie over 100, labels that come twice or are statutory.
pub fn read(text: &str, file: &str) -> Result<Bands, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    reader.known_keys(&root, &["name", "on", "fewest_marks", "scale", "band"]);
    let name = reader
        .text(&root, "name")
        .map_or("", |found| found.value.trim());
    let on = on(&mut reader, &root);
    let unit = unit::read(&mut reader, &root);
    if let (On::Marks, Some(at)) = (on, root.at_key("scale")) {
        reader.fault(
            at.start,
            "there is a `scale`, but thresholds are of marks",
            "write on = \"scale\", or leave the table [scale] out",
        );
    }
    let fewest_marks = reader.whole(&root, "fewest_marks", 1..=1000);
    let tables = reader.tables(&root, "band");
    if tables.is_empty() && reader.fault_count() == 0 {
        reader.fault(0, "there is no band in it", "add a table [[band]] for each");
    }
    if let Some(table) = tables.get(MOST_BANDS) {
        reader.fault(
            table.at.start,
            format!("found more than {MOST_BANDS} bands"),
            "so many cannot be told apart by marks of a few homeworks",
        );
    }
    let mut bands: Vec<Band> = Vec::new();
    for table in &tables {
        if let Some(band) = band(&mut reader, table, on, &bands) {
            bands.push(band);
        }
    }
    let bands = Bands {
        name: name.to_owned(),
        on,
        unit,
        fewest_marks: fewest_marks.map_or(1, |found| u32::try_from(found.value).unwrap_or(1)),
        bands,
    };
    let faults = reader.into_faults();
    if faults.is_empty() {
        Ok(bands)
    } else {
        Err(faults)
    }
}

/// What thresholds are of; marks where nothing is said.
fn on(reader: &mut table::Reader<'_>, root: &table::Table<'_>) -> On {
    match reader.text(root, "on") {
        Some(found) if found.value == "scale" => On::Scale,
        Some(found) if found.value != "marks" => {
            reader.fault(
                found.at.start,
                format!(
                    "`on`: found \"{}\", wanted \"marks\" or \"scale\"",
                    found.value
                ),
                "thresholds are of the share of the marks to be had, in hundredths, or of the \
                 place on the scale",
            );
            On::Marks
        }
        Some(_) | None => On::Marks,
    }
}

fn band(
    reader: &mut table::Reader<'_>,
    table: &table::Table<'_>,
    on: On,
    before: &[Band],
) -> Option<Band> {
    reader.known_keys(table, &["label", "from"]);
    let label = label(reader, table, before);
    let from = match on {
        On::Marks => {
            reader.need(table, "from");
            let from = reader.whole(table, "from", 0..=100)?;
            Some((number::Number::whole(from.value), from.at.start))
        }
        On::Scale if before.is_empty() => lowest_on_scale(reader, table),
        On::Scale => {
            reader.need(table, "from");
            Some(unit::decimal(reader, table, "from")?)
        }
    };
    match (before.last(), from) {
        (None, Some((from, at))) if on == On::Marks && !from.is_zero() => reader.fault(
            at,
            format!("the lowest band begins at {}, wanted 0", said(from)),
            "begin it at 0, so that every pupil is in a band",
        ),
        (Some(last), Some((from, at))) if last.from.is_some_and(|last| from <= last) => {
            reader.fault(
                at,
                format!(
                    "found {} after {}, wanted thresholds that go up",
                    said(from),
                    last.from.map(said).unwrap_or_default()
                ),
                "write the lowest band first",
            );
        }
        (None | Some(_), None | Some(_)) => {}
    }
    Some(Band {
        label: label?,
        from: from.map(|it| it.0),
    })
}

/// The lowest band on the scale begins nowhere.
fn lowest_on_scale(
    reader: &mut table::Reader<'_>,
    table: &table::Table<'_>,
) -> Option<(number::Number, usize)> {
    if let Some(at) = table.at_key("from") {
        reader.fault(
            at.start,
            "the lowest band on the scale has a `from`",
            "leave it out: the scale has no lowest place, and every pupil is to be in a band",
        );
    }
    None
}

/// A threshold as it is written.
fn said(from: number::Number) -> String {
    from.to_decimal().unwrap_or_else(|| from.to_string())
}

fn label(
    reader: &mut table::Reader<'_>,
    table: &table::Table<'_>,
    before: &[Band],
) -> Option<String> {
    let found = reader.needed_text(table, "label")?;
    let text = found.value.split_whitespace().collect::<Vec<_>>().join(" ");
    let small = text.to_lowercase();
    if text.is_empty() {
        reader.fault(
            found.at.start,
            "`label` is empty",
            "write the school's own word",
        );
    } else if before.iter().any(|band| band.label.to_lowercase() == small) {
        reader.fault(
            found.at.start,
            format!("found the label \"{text}\" a second time"),
            "give each band a label of its own",
        );
    } else if STATUTORY_PHRASES
        .iter()
        .any(|phrase| small.contains(phrase))
        || STATUTORY_CODES.contains(&small.as_str())
    {
        reader.fault(
            found.at.start,
            format!("found \"{text}\", which belongs to a statutory judgement"),
            "use a word of the school's own, such as Secure: homework on one topic is no \
             such judgement",
        );
    } else {
        return Some(text);
    }
    None
}

impl Bands {
    /// The headings of the columns.
    fn columns(&self) -> Vec<String> {
        let mut columns: Vec<String> = self.bands.iter().map(|it| self.column(it)).collect();
        columns.push("Too little work for a band".to_owned());
        match self.on {
            On::Marks => {}
            On::Scale => columns.push("No place on the scale".to_owned()),
        }
        columns
    }

    /// The heading of a band: its label with where it begins.
    fn column(&self, band: &Band) -> String {
        let unit = match self.on {
            On::Marks => "%",
            On::Scale => self.unit.name.as_str(),
        };
        match band.from {
            Some(from) => format!("{} (from {} {unit})", band.label, said(from)),
            None => format!("{} (lowest)", band.label),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bands(text: &str) -> Result<Bands, Vec<problem::Problem>> {
        read(text, "b.toml")
    }

    fn entry(label: &str, from: &str) -> String {
        format!("[[band]]\nlabel = \"{label}\"\nfrom = {from}\n")
    }

    #[test]
    fn a_share_where_a_band_begins_is_in_it() {
        let text = entry("Building", "0") + &entry("Secure", "60") + &entry("Beyond", "85");
        let bands = bands(&text).expect("they are sound");
        for (earned, available, band) in [
            (0, 10, Some(0)),
            (59, 100, Some(0)),
            (3, 5, Some(1)),
            (599_999, 1_000_000, Some(0)),
            (17, 20, Some(2)),
            (20, 20, Some(2)),
            (0, 0, None),
        ] {
            assert_eq!(
                bands.band(earned, available),
                band,
                "{earned} of {available}"
            );
        }
    }

    #[test]
    fn with_too_few_marks_a_pupil_is_in_no_band() {
        let text = format!("fewest_marks = 20\n{}", entry("Building", "0"));
        let bands = bands(&text).expect("they are sound");
        assert_eq!(bands.band(19, 19), None);
        assert_eq!(bands.band(19, 20), Some(0));
    }

    #[test]
    fn every_fault_is_told_at_once_with_its_place() {
        let text = "on = \"points\"\nname = 3\n".to_owned()
            + &entry("Building", "5")
            + &entry("building", "60")
            + &entry("Secure", "60")
            + &entry("Beyond", "101")
            + &entry("", "90")
            + "[[band]]\nlabel = \"Top\"\n";
        let faults = bands(&text).expect_err("they are not sound");
        let said: Vec<String> = faults
            .iter()
            .map(|fault| format!("{}: {}", fault.place, fault.what))
            .collect();
        let said = said.join("\n");
        for wanted in [
            "b.toml:1:6: `on`: found \"points\"",
            "b.toml:2:8: `name`: found the number 3",
            "b.toml:5:8: the lowest band begins at 5, wanted 0",
            "b.toml:7:9: found the label \"building\" a second time",
            "b.toml:14:8: `from`: found 101",
            "b.toml:16:9: `label` is empty",
            "b.toml:18:1: `from` is missing",
        ] {
            assert!(said.contains(wanted), "{wanted}:\n{said}");
        }
    }

    #[test]
    fn bands_on_the_scale_are_in_logits_or_the_schools_own_points() {
        let lowest = "[[band]]\nlabel = \"Starting\"\n";
        let logits = format!("on = \"scale\"\n{lowest}{}", entry("Secure", "-0.5"));
        let unit = "[scale]\nname = \"points\"\nmiddle = 100\nlogit = 10\n";
        let secure = entry("Secure", "95");
        let points = format!("on = \"scale\"\n{unit}{lowest}{secure}");
        for text in [logits, points] {
            let bands = bands(&text).expect("they are sound");
            for (place, band) in [(-9.0, 0), (-0.51, 0), (-0.5, 1), (9.0, 1)] {
                assert_eq!(bands.band_at(place), Some(band), "{place}: {text}");
            }
        }
    }

    #[test]
    fn faults_of_bands_on_the_scale_are_told() {
        let on = "on = \"scale\"\n";
        let unit = "[scale]\nname = \"p\"\nmiddle = 0\nlogit = ";
        let band = |label| format!("[[band]]\nlabel = \"{label}\"\n");
        for (text, wanted) in [
            (
                format!("{on}{}", entry("A", "0")),
                "the lowest band on the scale has a `from`",
            ),
            (
                format!("{on}{unit}-1\n{}", band("A")),
                "`logit` is not over nought",
            ),
            (
                format!("{unit}1\n{}", entry("A", "0")),
                "thresholds are of marks",
            ),
            (
                format!("{on}{}{}", band("A"), band("B")),
                "`from` is missing",
            ),
            (
                format!(
                    "{on}{}{}{}",
                    band("A"),
                    entry("B", "0.5"),
                    entry("C", "0.25")
                ),
                "found 0.25 after 0.5, wanted thresholds that go up",
            ),
        ] {
            let faults = bands(&text).expect_err(&text);
            assert!(
                faults.iter().any(|fault| fault.what.contains(wanted)),
                "{text}: {faults:?}"
            );
        }
    }

    #[test]
    fn thresholds_go_up() {
        let text = entry("Building", "0") + &entry("Secure", "60") + &entry("Beyond", "60");
        let faults = bands(&text).expect_err("two begin at 60");
        assert!(faults[0].what.contains("found 60 after 60"), "{faults:?}");
    }

    #[test]
    fn statutory_words_are_refused_with_a_hint() {
        for label in [
            "Working at the Expected Standard",
            "working towards the  expected standard",
            "Greater depth",
            "GDS",
            "EXS",
            "Pre-key stage 3",
        ] {
            let faults = bands(&entry(label, "0")).expect_err(label);
            assert!(faults[0].what.contains("statutory"), "{label}: {faults:?}");
            assert!(faults[0].hint.contains("own"), "{label}: {faults:?}");
        }
        assert!(bands(&entry("Secure", "0")).is_ok());
    }
}
