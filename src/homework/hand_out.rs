//! Whose numbers: the sheets of a homework and who gets which.

use crate::cores;
use crate::date;
use crate::homework;
use crate::homework::design;
use crate::homework::slot;
use crate::item;
use crate::item::pool;
use crate::level;
use crate::problem;
use crate::seed;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Signs of the homework's code.
pub(super) const CODE_LENGTH: usize = 6;

/// Fewer pupils than this are not worth another core.
const LEAST_SHARE: usize = 32;

/// Signs of a version's name where every pupil has their own.
const VERSION_LENGTH: usize = 3;

/// See [`super::set`].
pub(super) fn set(
    plan: &homework::Plan,
) -> Result<(homework::Homework, Vec<homework::Notice>), Vec<problem::Problem>> {
    let pupils = pupils(plan)?;
    let spans: BTreeSet<level::Span> = pupils.iter().map(|pupil| span(plan, pupil)).collect();
    let mut designs = BTreeMap::new();
    let mut notices = Vec::new();
    let mut problems = Vec::new();
    for span in spans {
        match design::design(plan, span) {
            Ok(mut design) => {
                notices.append(&mut design.notices);
                designs.insert(span, design);
            }
            Err(more) => problems.extend(
                more.into_iter()
                    .map(|problem| wanted_for(problem, plan, span)),
            ),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let code = code(plan, &pupils);
    let drawn = cores::map(&pupils, LEAST_SHARE, |pupil| {
        Draw::of(plan, &designs, pupil)
    });
    let mut sheets = Sheets::default();
    let drawn: Vec<usize> = drawn
        .into_iter()
        .map(|draw| sheets.add(plan, draw))
        .collect();
    let assignments = pupils.into_iter().zip(drawn);
    let assignments = assignments
        .map(|(pupil, sheet)| homework::Assignment { pupil, sheet })
        .collect();
    let homework = homework(plan, code, sheets.done, assignments);
    Ok((homework, notices))
}

/// The homework with its stamps.
pub(super) fn homework(
    plan: &homework::Plan,
    code: String,
    sheets: Vec<homework::Sheet>,
    pupils: Vec<homework::Assignment>,
) -> homework::Homework {
    homework::Homework {
        made_by: format!("toothmark {}", env!("CARGO_PKG_VERSION")),
        code,
        title: plan.title.clone(),
        date: plan.date.clone(),
        keep_until: plan.keep_until,
        banks: plan
            .banks
            .iter()
            .map(|bank| homework::BankStamp {
                id: bank.id.clone(),
                edition: bank.edition.clone(),
                fingerprint: bank.fingerprint.clone(),
            })
            .collect(),
        seed: plan.seed.clone(),
        sheets,
        pupils,
    }
}

/// The pupils of the plan, or everything that is wrong with it.
pub(super) fn pupils(plan: &homework::Plan) -> Result<Vec<homework::Pupil>, Vec<problem::Problem>> {
    let mut problems = Vec::new();
    let pupils: Vec<homework::Pupil> = plan
        .pupils
        .iter()
        .filter(|pupil| {
            plan.year
                .as_ref()
                .is_none_or(|year| year.trim().eq_ignore_ascii_case(pupil.year.trim()))
        })
        .cloned()
        .collect();
    if pupils.is_empty() {
        let what = match &plan.year {
            Some(year) => format!("there is no pupil of year {year}"),
            None => "there is no pupil".to_owned(),
        };
        problems.push(problem::Problem::new(
            "roll",
            what,
            "write a row for each pupil, with their year",
        ));
    }
    let mut seen = BTreeSet::new();
    for pupil in &pupils {
        if !seen.insert(&pupil.id) {
            problems.push(problem::Problem::new(
                "roll",
                format!("the pupil id {} stands there twice", pupil.id),
                "give every pupil an id of their own",
            ));
        }
    }
    let mut banks = BTreeSet::new();
    for bank in plan.banks {
        if !banks.insert(&bank.id) {
            problems.push(problem::Problem::new(
                "banks",
                format!("the bank {} is named twice", bank.id),
                "name each bank once, and give each an id of its own",
            ));
        }
    }
    let set_on = plan.date.parse::<date::Date>().ok();
    if let Some(last) = plan.keep_until.filter(|last| Some(*last) < set_on) {
        problems.push(problem::Problem::new(
            "keep until",
            format!(
                "found {last}, which is before the homework is set on {}",
                plan.date
            ),
            "name the last day on which the files may be kept",
        ));
    }
    if plan.questions == homework::Questions::Count(0) {
        problems.push(problem::Problem::new(
            "questions",
            "no questions are asked for",
            "ask for one or more",
        ));
    }
    if problems.is_empty() {
        Ok(pupils)
    } else {
        Err(problems)
    }
}

fn span(plan: &homework::Plan, pupil: &homework::Pupil) -> level::Span {
    pupil.level.map_or(plan.levels, level::Span::from)
}

/// Says for whom something was wanted, where that is not the whole class.
fn wanted_for(
    problem: problem::Problem,
    plan: &homework::Plan,
    span: level::Span,
) -> problem::Problem {
    if span == plan.levels {
        return problem;
    }
    let ids: Vec<&str> = plan
        .pupils
        .iter()
        .filter(|pupil| {
            pupil
                .level
                .is_some_and(|level| level::Span::from(level) == span)
        })
        .map(|pupil| pupil.id.as_str())
        .collect();
    problem::Problem::new(
        problem.place,
        format!("{} (wanted for {})", problem.what, ids.join(", ")),
        problem.hint,
    )
}

/// The code takes in everything that tells one homework from another, so that two share
/// one only by a rare chance; not the pupils' names, which may be put right.
fn code(plan: &homework::Plan, pupils: &[homework::Pupil]) -> String {
    let questions = match plan.questions {
        homework::Questions::Count(count) => count.to_string(),
        homework::Questions::All => "all".to_owned(),
    };
    let versions = match plan.versions {
        homework::Versions::Same => "same",
        homework::Versions::Each => "each",
    };
    let mut parts = vec![
        "code".to_owned(),
        plan.seed.clone(),
        plan.title.clone(),
        plan.date.clone(),
        format!("levels {}", plan.levels),
        format!("questions {questions}"),
        format!("versions {versions}"),
    ];
    let banks = plan.banks.iter();
    parts.extend(banks.map(|bank| format!("bank {}", bank.fingerprint)));
    let skills: BTreeSet<&str> = plan.skills.iter().map(|skill| skill.text()).collect();
    parts.extend(skills.iter().map(|skill| format!("skill {skill}")));
    // Classes, not pupils: one who joins later gets the same homework.
    let classes: BTreeSet<&str> = pupils.iter().map(|pupil| pupil.class.trim()).collect();
    parts.extend(classes.iter().map(|class| format!("class {class}")));
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    seed::Stream::named(&parts, 0).code(CODE_LENGTH)
}

/// Chooses a version of every question, no wording twice on the sheet.
///
/// Each question has a stream of its own named by its template and the pupil, so
/// that neither other pupils nor other questions change what is drawn.
pub(super) fn versions<'d>(
    plan: &homework::Plan,
    slots: &'d [slot::Slot],
    whose: &str,
) -> Vec<&'d pool::Version> {
    let mut wordings = BTreeSet::new();
    slots
        .iter()
        .filter_map(|slot| {
            let template = &slot.pool.template.id;
            let mut stream = seed::Stream::named(
                &["numbers", &plan.seed, &slot.bank.id, template, whose],
                slot.pool.level.number().into(),
            );
            let versions = slot.versions();
            let start = stream.index(versions.len()) + slot.repeat;
            let mut in_turn = versions
                .iter()
                .copied()
                .cycle()
                .skip(start)
                .take(versions.len());
            // Where every wording is taken the first will do: the design sees to it
            // that this does not come about within one template.
            let version = in_turn
                .find(|version| wordings.insert(slot.wording(version)))
                .or(versions.first().copied())?;
            Some(version)
        })
        .collect()
}

/// What was drawn for one pupil.
struct Draw<'a> {
    span: level::Span,
    slots: &'a [slot::Slot<'a>],
    /// The pupil's id, where the numbers are theirs alone.
    whose: &'a str,
    versions: Vec<&'a pool::Version>,
    /// The questions, where they are made already.
    items: Option<Vec<item::Item>>,
}

impl<'a> Draw<'a> {
    fn of(
        plan: &homework::Plan,
        designs: &'a BTreeMap<level::Span, design::Design<'a>>,
        pupil: &'a homework::Pupil,
    ) -> Self {
        let span = span(plan, pupil);
        let design = designs.get(&span).expect("a design was made for each span");
        let (whose, is_own) = match plan.versions {
            homework::Versions::Same => ("", false),
            homework::Versions::Each => (pupil.id.as_str(), true),
        };
        let versions = versions(plan, &design.slots, whose);
        Self {
            items: is_own.then(|| items(&design.slots, &versions)),
            span,
            slots: &design.slots,
            whose,
            versions,
        }
    }
}

/// The items of a sheet, one for each part of its questions.
fn items(slots: &[slot::Slot], versions: &[&pool::Version]) -> Vec<item::Item> {
    let questions = slots.iter().zip(versions).zip(1..);
    questions
        .flat_map(|((slot, version), position)| {
            let setting = pool::Setting {
                bank: &slot.bank.id,
                position,
                story: slot.story,
            };
            slot.pool.items(version, &setting)
        })
        .collect()
}

/// Sheets as they are handed out; equal ones are kept once.
#[derive(Default)]
pub(super) struct Sheets {
    pub(super) done: Vec<homework::Sheet>,
    known: BTreeMap<(level::Span, Vec<Vec<usize>>), usize>,
    names: BTreeSet<String>,
}

impl Sheets {
    fn add(&mut self, plan: &homework::Plan, draw: Draw<'_>) -> usize {
        let versions = draw.versions.iter();
        let choices = versions.map(|version| version.choice.clone()).collect();
        let key = (draw.span, choices);
        if let Some(&index) = self.known.get(&key) {
            return index;
        }
        let items = draw
            .items
            .unwrap_or_else(|| items(draw.slots, &draw.versions));
        let index = self.push(plan, draw.whose, items);
        self.known.insert(key, index);
        index
    }

    /// Adds a sheet that is nobody else's.
    pub(super) fn own(
        &mut self,
        plan: &homework::Plan,
        slots: &[slot::Slot],
        whose: &str,
        versions: &[&pool::Version],
    ) -> usize {
        self.push(plan, whose, items(slots, versions))
    }

    fn push(&mut self, plan: &homework::Plan, whose: &str, items: Vec<item::Item>) -> usize {
        let index = self.done.len();
        let version = self.name(plan, whose);
        self.done.push(homework::Sheet { version, items });
        index
    }

    /// Sheets for all are named A, B and so on; a pupil's own by a short code that
    /// other pupils do not change.
    fn name(&mut self, plan: &homework::Plan, whose: &str) -> String {
        let name = if whose.is_empty() {
            letters(self.done.len())
        } else {
            let mut stream = seed::Stream::named(&["version", &plan.seed, whose], 0);
            let mut name = stream.code(VERSION_LENGTH);
            while self.names.contains(&name) {
                name.push_str(&stream.code(1));
            }
            name
        };
        self.names.insert(name.clone());
        name
    }
}

/// The name of the sheet of this index: A to Z, then AA, AB and so on.
fn letters(index: usize) -> String {
    let alphabet: Vec<char> = ('A'..='Z').collect();
    let mut name = String::new();
    let mut rest = index;
    loop {
        name.insert(0, alphabet[rest % alphabet.len()]);
        rest /= alphabet.len();
        if rest == 0 {
            return name;
        }
        rest -= 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_are_named_like_columns() {
        let names: Vec<String> = [0, 1, 25, 26, 27, 701, 702].map(letters).into();
        assert_eq!(names, ["A", "B", "Z", "AA", "AB", "ZZ", "AAA"]);
    }
}
