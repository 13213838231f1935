//! The record `homework.json`: written, and read back with every fault told.
//!
//! Mechanisms and questions are written in the notation of banks, numbers as
//! exact fractions. There are no answers in it.

mod fingerprints;

use crate::answer;
use crate::date;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::homework;
use crate::item;
use crate::level;
use crate::number;
use crate::problem;
use serde::Deserialize;
use serde::Serialize;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// The version of the record's format.
const FORMAT: u32 = 1;
/// What to do with a record that was changed.
const UNCHANGED: &str = "use the homework.json that `toothmark set` wrote, unchanged";

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    format: u32,
    made_by: String,
    code: String,
    title: String,
    date: String,
    /// A day that the school chose, and not in records of version 0.1.0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    keep_until: Option<String>,
    seed: String,
    banks: Vec<WireBank>,
    sheets: Vec<WireSheet>,
    pupils: Vec<WirePupil>,
    /// Not in records of version 0.1.0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fingerprints: Option<fingerprints::Wire>,
}

/// Only what must be known before the rest can be read.
#[derive(Deserialize)]
struct WireFormat {
    format: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireBank {
    id: String,
    edition: String,
    fingerprint: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireSheet {
    version: String,
    items: Vec<WireItem>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WireItem {
    number: String,
    bank: String,
    template: String,
    skill: String,
    level: u8,
    story: String,
    question: String,
    mechanism: Vec<String>,
    ask: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    unit: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    precision: Option<String>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    simplest: bool,
    marks: u8,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    working: bool,
    #[serde(default, skip_serializing_if = "WireFollows::is_empty")]
    follows: WireFollows,
}

/// The earlier parts that one follows from: a single one stands without a list.
#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum WireFollows {
    One(String),
    Several(Vec<String>),
}

impl Default for WireFollows {
    fn default() -> Self {
        Self::Several(Vec::new())
    }
}

impl WireFollows {
    fn is_empty(&self) -> bool {
        match self {
            Self::One(_) => false,
            Self::Several(several) => several.is_empty(),
        }
    }

    fn new(follows: &[String]) -> Self {
        match follows {
            [only] => Self::One(only.clone()),
            several => Self::Several(several.to_vec()),
        }
    }

    fn into_list(self) -> Vec<String> {
        match self {
            Self::One(only) => vec![only],
            Self::Several(several) => several,
        }
    }
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WirePupil {
    id: String,
    name: String,
    class: String,
    year: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    level: Option<u8>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    groups: BTreeMap<String, String>,
    sheet: String,
}

/// See [`super::to_json`].
pub(super) fn write(homework: &homework::Homework) -> String {
    let mut wire = Wire {
        format: FORMAT,
        made_by: homework.made_by.clone(),
        code: homework.code.clone(),
        title: homework.title.clone(),
        date: homework.date.clone(),
        keep_until: homework.keep_until.map(|day| day.to_string()),
        seed: homework.seed.clone(),
        banks: homework
            .banks
            .iter()
            .map(|bank| WireBank {
                id: bank.id.clone(),
                edition: bank.edition.clone(),
                fingerprint: bank.fingerprint.clone(),
            })
            .collect(),
        sheets: homework.sheets.iter().map(write_sheet).collect(),
        pupils: homework
            .pupils
            .iter()
            .map(|assignment| write_pupil(homework, assignment))
            .collect(),
        fingerprints: None,
    };
    wire.fingerprints = Some(fingerprints::Wire::of(&wire));
    let mut text = serde_json::to_string_pretty(&wire).expect("texts and numbers are always JSON");
    text.push('\n');
    text
}

fn write_sheet(sheet: &homework::Sheet) -> WireSheet {
    WireSheet {
        version: sheet.version.clone(),
        items: sheet.items.iter().map(write_item).collect(),
    }
}

fn write_item(item: &item::Item) -> WireItem {
    let (unit, precision, simplest) = match &item.form {
        answer::Form::Number {
            unit, precision, ..
        } => (Some(*unit), Some(*precision), false),
        answer::Form::Ratio { simplest, .. } => (None, None, *simplest),
        answer::Form::List { .. } | answer::Form::Gears { .. } | answer::Form::Explanation(_) => {
            (None, None, false)
        }
    };
    WireItem {
        number: item.number.clone(),
        bank: item.bank.clone(),
        template: item.template.clone(),
        skill: item.skill.text().to_owned(),
        level: item.level.number(),
        story: item.story.clone(),
        question: item.question.clone(),
        mechanism: notation::write(&item.mechanism),
        ask: notation::write_ask(&item.ask, &item.mechanism),
        unit: unit.map(|unit| unit.text().to_owned()),
        precision: precision.map(answer::precision_text),
        simplest,
        marks: item.marks,
        working: item.working,
        follows: WireFollows::new(&item.follows),
    }
}

fn write_pupil(homework: &homework::Homework, assignment: &homework::Assignment) -> WirePupil {
    let pupil = &assignment.pupil;
    WirePupil {
        id: pupil.id.clone(),
        name: pupil.name.clone(),
        class: pupil.class.clone(),
        year: pupil.year.clone(),
        level: pupil.level.map(level::Level::number),
        groups: pupil.groups.clone(),
        sheet: homework
            .sheets
            .get(assignment.sheet)
            .map(|sheet| sheet.version.clone())
            .unwrap_or_default(),
    }
}

/// See [`super::from_json`].
pub(super) fn read(text: &str, file: &str) -> Result<homework::Homework, Vec<problem::Problem>> {
    let no_record = |error: serde_json::Error| {
        vec![problem::Problem::new(
            format!("{file}:{}:{}", error.line(), error.column()),
            format!("this is no record of a homework: {}", cause(&error)),
            UNCHANGED,
        )]
    };
    let format: WireFormat = serde_json::from_str(text).map_err(no_record)?;
    if format.format != FORMAT {
        return Err(vec![problem::Problem::new(
            file,
            format!(
                "the record has format {}, and this program reads format {FORMAT}",
                format.format
            ),
            "use the version of the program that wrote it, or a newer one",
        )]);
    }
    let wire: Wire = serde_json::from_str(text).map_err(no_record)?;
    let changed = wire
        .fingerprints
        .as_ref()
        .map_or_else(Vec::new, |fingerprints| fingerprints.differing(&wire));
    let mut reader = Reader {
        file,
        problems: Vec::new(),
    };
    let homework = reader.homework(wire);
    // What no homework can have says more than that something was changed.
    if reader.problems.is_empty() {
        for (place, what) in changed {
            reader.fault(&place, what);
        }
        for problem in &mut reader.problems {
            problem.hint = format!(
                "{UNCHANGED}; if the change is meant, take out the part \"fingerprints\": then \
                 marking goes by what stands there"
            );
        }
    }
    if reader.problems.is_empty() {
        Ok(homework)
    } else {
        Err(reader.problems)
    }
}

/// The error's words without its place, which stands before them.
fn cause(error: &serde_json::Error) -> String {
    let said = error.to_string();
    match said.rsplit_once(" at line ") {
        Some((cause, _)) => cause.to_owned(),
        None => said,
    }
}

/// Gathers what is wrong while the wire types become real ones.
struct Reader<'f> {
    file: &'f str,
    problems: Vec<problem::Problem>,
}

impl Reader<'_> {
    fn fault(&mut self, place: &str, what: impl Into<String>) {
        let place = format!("{}: {place}", self.file);
        self.problems
            .push(problem::Problem::new(place, what, UNCHANGED));
    }

    fn homework(&mut self, wire: Wire) -> homework::Homework {
        let mut places: BTreeMap<String, usize> = BTreeMap::new();
        for (index, sheet) in wire.sheets.iter().enumerate() {
            if places.insert(sheet.version.clone(), index).is_some() {
                let place = format!("sheet {}", sheet.version);
                self.fault(&place, "two sheets have the same name");
            }
        }
        let sheets = wire
            .sheets
            .into_iter()
            .map(|sheet| self.sheet(sheet))
            .collect();
        let mut ids = BTreeSet::new();
        let mut pupils = Vec::new();
        for pupil in wire.pupils {
            let place = format!("pupil {}", pupil.id);
            if !ids.insert(pupil.id.clone()) {
                self.fault(&place, "the pupil stands there twice");
            }
            let level = pupil.level.and_then(|number| {
                let level = level::Level::new(number);
                if level.is_none() {
                    self.fault(&place, format!("found level {number}, wanted 1 to 8"));
                }
                level
            });
            let Some(&sheet) = places.get(&pupil.sheet) else {
                self.fault(&place, format!("there is no sheet \"{}\"", pupil.sheet));
                continue;
            };
            pupils.push(homework::Assignment {
                pupil: homework::Pupil {
                    id: pupil.id,
                    name: pupil.name,
                    class: pupil.class,
                    year: pupil.year,
                    level,
                    groups: pupil.groups,
                },
                sheet,
            });
        }
        let keep_until = wire.keep_until.as_deref().map(str::parse::<date::Date>);
        if let Some(Err(error)) = &keep_until {
            let found = wire.keep_until.as_deref().unwrap_or_default();
            self.fault("keep_until", format!("found \"{found}\", {error}"));
        }
        homework::Homework {
            made_by: wire.made_by,
            code: wire.code,
            title: wire.title,
            date: wire.date,
            keep_until: keep_until.and_then(Result::ok),
            banks: wire
                .banks
                .into_iter()
                .map(|bank| homework::BankStamp {
                    id: bank.id,
                    edition: bank.edition,
                    fingerprint: bank.fingerprint,
                })
                .collect(),
            seed: wire.seed,
            sheets,
            pupils,
        }
    }

    fn sheet(&mut self, sheet: WireSheet) -> homework::Sheet {
        let mut numbers: BTreeSet<String> = BTreeSet::new();
        let mut items = Vec::new();
        for item in sheet.items {
            let place = format!("sheet {}, {}", sheet.version, item.number);
            let follows = match &item.follows {
                WireFollows::One(only) => std::slice::from_ref(only),
                WireFollows::Several(several) => several,
            };
            for earlier in follows {
                if !numbers.contains(earlier) {
                    self.fault(
                        &place,
                        format!("it follows from {earlier}, which is not before it"),
                    );
                }
            }
            if !numbers.insert(item.number.clone()) {
                self.fault(&place, "the question stands there twice");
            }
            items.extend(self.item(&place, item));
        }
        homework::Sheet {
            version: sheet.version,
            items,
        }
    }

    fn item(&mut self, place: &str, wire: WireItem) -> Option<item::Item> {
        let skill = wire.skill.parse::<level::Skill>();
        if let Err(unknown) = &skill {
            self.fault(place, format!("skill: {unknown}"));
        }
        let level = level::Level::new(wire.level);
        if level.is_none() {
            self.fault(place, format!("found level {}, wanted 1 to 8", wire.level));
        }
        if !(1..=5).contains(&wire.marks) {
            self.fault(place, format!("found {} marks, wanted 1 to 5", wire.marks));
        }
        let (mechanism, ask, form) = self.asked(place, &wire)?;
        Some(item::Item {
            number: wire.number,
            bank: wire.bank,
            template: wire.template,
            skill: skill.ok()?,
            level: level?,
            story: wire.story,
            question: wire.question,
            mechanism,
            ask,
            form,
            marks: wire.marks,
            working: wire.working,
            follows: wire.follows.into_list(),
        })
    }

    fn asked(
        &mut self,
        place: &str,
        wire: &WireItem,
    ) -> Option<(mechanism::Mechanism, ask::Ask, answer::Form)> {
        let lines: Vec<&str> = wire.mechanism.iter().map(String::as_str).collect();
        let mechanism = match notation::read(&lines) {
            Ok(mechanism) => mechanism,
            Err(faults) => {
                for fault in faults {
                    self.fault(place, format!("mechanism: {}", fault.what));
                }
                return None;
            }
        };
        let ask = match notation::read_ask(&wire.ask, &mechanism) {
            Ok(ask) => ask,
            Err(fault) => {
                self.fault(place, format!("ask: {}", fault.what));
                return None;
            }
        };
        let unit = wire.unit.as_deref().map(answer::Unit::parse);
        if unit == Some(None) {
            self.fault(place, "the unit is none that is known");
            return None;
        }
        let precision = wire.precision.as_deref().map(answer::parse_precision);
        if precision == Some(None) {
            self.fault(place, "the precision is none that is known");
            return None;
        }
        let precision = precision.flatten().unwrap_or(number::Precision::Exact);
        match answer::form_for(&mechanism, &ask, unit.flatten(), precision, wire.simplest) {
            Ok(form) => Some((mechanism, ask, form)),
            Err(what) => {
                self.fault(place, what);
                None
            }
        }
    }
}
