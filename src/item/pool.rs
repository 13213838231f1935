//! The versions of one template at one level: numbers that obey the level, tell
//! misconceptions apart, and are equally hard.

use crate::answer;
use crate::bank;
use crate::bank::pattern;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::gears::solve;
use crate::item;
use crate::item::apart;
use crate::item::measure;
use crate::item::obey;
use crate::item::refusal;
use crate::level;
use crate::misconception;
use crate::seed;
use crate::wording;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// Most combinations of values that are tried before giving up. A template with
/// no more than this many is tried whole.
pub const MOST_TRIES: u64 = 1200;

/// One part of a version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// The mechanism.
    pub mechanism: mechanism::Mechanism,
    /// What is asked of it.
    pub ask: ask::Ask,
    /// What the answer should look like.
    pub form: answer::Form,
    /// How hard it is.
    pub measure: measure::Measure,
    /// What it shows of each misconception.
    pub traces: apart::Traces,
}

/// One choice of values for every placeholder that will do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Version {
    /// For each placeholder of the template, the index of its value.
    pub choice: Vec<usize>,
    /// Its parts, solved and found to obey.
    pub parts: Vec<Part>,
}

/// The versions found for one template at one level.
#[derive(Debug, Clone)]
pub struct Pool<'t> {
    /// The template.
    pub template: &'t bank::Template,
    /// The level.
    pub level: level::Level,
    /// Versions of equal measures together; the largest group first, and groups of
    /// equal size in the order they were found.
    pub kinds: Vec<Vec<Version>>,
    /// How many combinations were tried.
    pub tried: u64,
    /// Whether every combination was tried.
    pub is_whole: bool,
    /// Why combinations were refused: how many, and one example for each cause.
    pub refused: BTreeMap<refusal::Cause, (u64, String)>,
}

/// How a version is put on a sheet.
#[derive(Debug, Clone, Copy)]
pub struct Setting<'s> {
    /// The bank's id.
    pub bank: &'s str,
    /// The question's place on the sheet, from one.
    pub position: usize,
    /// Which of the template's stories.
    pub story: usize,
}

/// Draws combinations of values until so many versions of equal measures are
/// found, or all combinations (or [`MOST_TRIES`]) have been tried.
///
/// The same stream gives the same pool on every machine.
#[must_use]
pub fn fill<'t>(
    template: &'t bank::Template,
    level: level::Level,
    wanted: usize,
    stream: &mut seed::Stream,
) -> Pool<'t> {
    let lengths: Vec<usize> = template
        .placeholders
        .iter()
        .map(|placeholder| placeholder.values.len())
        .collect();
    let mut pool = Pool {
        template,
        level,
        kinds: Vec::new(),
        tried: 0,
        is_whole: false,
        refused: BTreeMap::new(),
    };
    let mut found: Vec<(Vec<measure::Measure>, Vec<Version>)> = Vec::new();
    let mut choices = Choices::over(&lengths, stream);
    while let Some(choice) = choices.next(stream) {
        pool.tried += 1;
        match version(template, level, choice) {
            Ok(version) => {
                let measures: Vec<measure::Measure> = version
                    .parts
                    .iter()
                    .map(|part| part.measure.clone())
                    .collect();
                let known = found.iter_mut().find(|(kind, _)| *kind == measures);
                let count = if let Some((_, versions)) = known {
                    versions.push(version);
                    versions.len()
                } else {
                    found.push((measures, vec![version]));
                    1
                };
                if count >= wanted {
                    break;
                }
            }
            Err(refusal) => {
                let entry = pool
                    .refused
                    .entry(refusal.cause)
                    .or_insert((0, refusal.said));
                entry.0 += 1;
            }
        }
    }
    pool.is_whole = choices.are_done();
    pool.kinds = found.into_iter().map(|(_, versions)| versions).collect();
    pool.kinds.sort_by_key(|kind| std::cmp::Reverse(kind.len()));
    pool
}

impl Pool<'_> {
    /// How many versions there are of all kinds.
    #[must_use]
    pub fn version_count(&self) -> usize {
        self.kinds.iter().map(Vec::len).sum()
    }

    /// Returns why no version was found, in one sentence.
    #[must_use]
    pub fn why_none(&self) -> String {
        let whole = if self.is_whole {
            "none of its"
        } else {
            "none of"
        };
        let mut reasons: Vec<(&u64, &String)> = self
            .refused
            .values()
            .map(|(count, example)| (count, example))
            .collect();
        reasons.sort_by_key(|(count, _)| std::cmp::Reverse(**count));
        let reasons: Vec<String> = reasons
            .into_iter()
            .map(|(count, example)| format!("{count} times, such as: {example}"))
            .collect();
        format!(
            "{whole} {} combinations of values will do at level {}; {}",
            self.tried,
            self.level,
            reasons.join("; ")
        )
    }

    /// Returns the story and every question of a version, as a pupil reads them.
    #[must_use]
    pub fn wording(&self, version: &Version, story: usize) -> String {
        let filling = filling(self.template, &version.choice);
        let questions = self.template.parts.iter().map(|part| &part.question);
        let lines: Vec<String> = self
            .template
            .stories
            .get(story)
            .into_iter()
            .chain(questions)
            .map(|line| line.fill(&filling))
            .collect();
        lines.join("\n")
    }

    /// Returns the items of one version, one for each part.
    #[must_use]
    pub fn items(&self, version: &Version, setting: &Setting) -> Vec<item::Item> {
        let filling = filling(self.template, &version.choice);
        let story = self
            .template
            .stories
            .get(setting.story)
            .map(|story| story.fill(&filling))
            .unwrap_or_default();
        let number = |letter: Option<char>| {
            let letter = letter.map(String::from).unwrap_or_default();
            format!("Q{}{letter}", setting.position)
        };
        self.template
            .parts
            .iter()
            .zip(&version.parts)
            .map(|(template, part)| item::Item {
                number: number(template.letter),
                bank: setting.bank.to_owned(),
                template: self.template.id.clone(),
                skill: self.template.skill,
                level: self.level,
                story: story.clone(),
                question: template.question.fill(&filling),
                mechanism: part.mechanism.clone(),
                ask: part.ask.clone(),
                form: part.form.clone(),
                marks: template.marks,
                working: template.working,
                follows: template
                    .follows
                    .iter()
                    .map(|letter| number(Some(*letter)))
                    .collect(),
            })
            .collect()
    }
}

/// The values of a choice by the placeholders' names.
fn filling<'t>(template: &'t bank::Template, choice: &[usize]) -> pattern::Filling<'t> {
    template
        .placeholders
        .iter()
        .zip(choice)
        .filter_map(|(placeholder, &index)| {
            let value = placeholder.values.get(index)?;
            Some((placeholder.name.as_str(), value.as_str()))
        })
        .collect()
}

/// Returns the version with these values, or why they will not do.
fn version(
    template: &bank::Template,
    level: level::Level,
    choice: Vec<usize>,
) -> Result<Version, refusal::Refusal> {
    let filling = filling(template, &choice);
    let mut parts: Vec<Part> = Vec::new();
    let mut facts: Vec<(Option<char>, ask::Fact)> = Vec::new();
    for part_template in &template.parts {
        let (part, fact) = part(template, part_template, level, &filling)
            .map_err(|refusal| with_values(refusal, &filling))?;
        for &earlier in &part_template.follows {
            follows(earlier, &part, &facts, &parts)
                .map_err(|refusal| with_values(refusal, &filling))?;
        }
        facts.push((part_template.letter, fact));
        parts.push(part);
    }
    Ok(Version { choice, parts })
}

/// Adds the values that were drawn to a reason.
fn with_values(refusal: refusal::Refusal, filling: &pattern::Filling) -> refusal::Refusal {
    if filling.is_empty() {
        return refusal;
    }
    let values: Vec<String> = filling
        .iter()
        .map(|(name, value)| format!("{name} = {value}"))
        .collect();
    let said = format!("{} (with {})", refusal.said, values.join(", "));
    refusal::Refusal::new(refusal.cause, said)
}

fn part(
    template: &bank::Template,
    part: &bank::PartTemplate,
    level: level::Level,
    filling: &pattern::Filling,
) -> Result<(Part, ask::Fact), refusal::Refusal> {
    let unsolved = |what: String| refusal::Refusal::new(refusal::Cause::Unsolved, what);
    let lines: Vec<String> = template
        .mechanism
        .iter()
        .chain(&part.mechanism)
        .map(|line| line.fill(filling))
        .collect();
    let texts: Vec<&str> = lines.iter().map(String::as_str).collect();
    let mechanism = notation::read(&texts).map_err(|faults| {
        let whats: Vec<String> = faults.into_iter().map(|fault| fault.what).collect();
        unsolved(whats.join(", "))
    })?;
    let ask = notation::read_ask(&part.ask.fill(filling), &mechanism)
        .map_err(|fault| unsolved(fault.what))?;
    let form = answer::form_for(&mechanism, &ask, part.unit, part.precision, part.simplest)
        .map_err(unsolved)?;
    let worked = solve::answer(&mechanism, &ask).map_err(|faults| {
        let said: Vec<String> = faults
            .iter()
            .map(|fault| wording::fault(&mechanism, fault))
            .collect();
        unsolved(said.join(", "))
    })?;
    let drawn = obey::Drawn {
        mechanism: &mechanism,
        ask: &ask,
        form: &form,
        worked: &worked,
    };
    if let Some(refusal) = obey::refusal(&drawn, level) {
        return Err(refusal);
    }
    let predictions = misconception::predictions(&mechanism, &ask);
    if !apart::has_few_answers(&form)
        && let Some(refusal) = apart::collision(&worked.fact, &predictions, &form)
    {
        return Err(refusal);
    }
    let traces = apart::traces(&worked.fact, &predictions);
    let measure = measure::of(&mechanism, &ask, &worked, &form, &traces);
    let part = Part {
        mechanism,
        ask,
        form,
        measure,
        traces,
    };
    Ok((part, worked.fact))
}

/// Checks that a later part can be worked from the answer to an earlier one.
fn follows(
    earlier: char,
    part: &Part,
    facts: &[(Option<char>, ask::Fact)],
    parts: &[Part],
) -> Result<(), refusal::Refusal> {
    let place = facts
        .iter()
        .position(|(letter, _)| *letter == Some(earlier));
    let followed = place.and_then(|place| {
        let (_, fact) = facts.get(place)?;
        let ask = &parts.get(place)?.ask;
        let mechanism = solve::with_answer(&part.mechanism, ask, fact)?;
        solve::answer(&mechanism, &part.ask).ok()
    });
    if followed.is_some() {
        Ok(())
    } else {
        Err(refusal::Refusal::new(
            refusal::Cause::DoesNotFollow,
            format!("the part cannot be worked from the answer to part {earlier}"),
        ))
    }
}

/// Combinations of values in random order, none twice.
enum Choices {
    /// All of them, shuffled; the last is taken next.
    Whole { lengths: Vec<usize>, left: Vec<u64> },
    /// Too many to list: drawn, and remembered.
    Drawn {
        lengths: Vec<usize>,
        seen: BTreeSet<Vec<usize>>,
        draws: u64,
    },
}

impl Choices {
    fn over(lengths: &[usize], stream: &mut seed::Stream) -> Self {
        let lengths = lengths.to_vec();
        let count = lengths.iter().try_fold(1_u64, |product, &length| {
            product.checked_mul(u64::try_from(length).ok()?)
        });
        match count.filter(|&count| count <= MOST_TRIES) {
            Some(count) => {
                let mut left: Vec<u64> = (0..count).collect();
                stream.shuffle(&mut left);
                Self::Whole { lengths, left }
            }
            None => Self::Drawn {
                lengths,
                seen: BTreeSet::new(),
                draws: 0,
            },
        }
    }

    fn next(&mut self, stream: &mut seed::Stream) -> Option<Vec<usize>> {
        match self {
            Self::Whole { lengths, left } => {
                let mut rest = usize::try_from(left.pop()?).ok()?;
                let mut choice = Vec::with_capacity(lengths.len());
                for &length in lengths.iter() {
                    choice.push(rest % length);
                    rest /= length;
                }
                Some(choice)
            }
            Self::Drawn {
                lengths,
                seen,
                draws,
            } => {
                while *draws < MOST_TRIES {
                    *draws += 1;
                    let choice: Vec<usize> =
                        lengths.iter().map(|&length| stream.index(length)).collect();
                    if seen.insert(choice.clone()) {
                        return Some(choice);
                    }
                }
                None
            }
        }
    }

    fn are_done(&self) -> bool {
        match self {
            Self::Whole { left, .. } => left.is_empty(),
            Self::Drawn { .. } => false,
        }
    }
}
