//! Mechanisms, answers and steps of a working said in plain English.
//!
//! Takes the values of [`crate::gears`]; gives sentences that a child or a
//! teacher can read. Sentences begin with a capital and end with a full stop;
//! a fault is lower case without one, as messages are. Not here: what is right,
//! how an answer is rounded for a mark, pages and cells.

mod fact;
mod fault;
mod mechanism_text;
mod numbers;
mod parts;
mod step;

use crate::answer;
use crate::gears::ask;
use crate::gears::fault as gear_fault;
use crate::gears::mechanism;
use crate::gears::step as gear_step;
use crate::number;
use std::fmt;

/// Returns a number for people: `3`, `2.5`, `1 2/3`, `80π`.
///
/// Whole, or a decimal if it ends within three places, else a mixed fraction;
/// pi stays a sign.
#[must_use]
pub fn number(value: number::Value) -> String {
    numbers::value(value)
}

/// Returns a number with its unit: `3 turns`, `1 tooth`, `80π mm (about 251.3 mm)`.
#[must_use]
pub fn amount(value: number::Value, unit: ask::Unit) -> String {
    numbers::amount(value, unit)
}

/// Returns how many there are of a thing: `1 pupil`, `2 pupils`.
#[must_use]
pub fn counted(count: impl fmt::Display, thing: &str) -> String {
    let count = count.to_string();
    let s = if count == "1" { "" } else { "s" };
    format!("{count} {thing}{s}")
}

/// Returns a unit as it stands after a number: `turns`, `mm`, `N cm`.
#[must_use]
pub fn unit(unit: ask::Unit) -> &'static str {
    numbers::unit(unit)
}

/// Returns a printed unit as it stands after a number: `turns`, `cm`, `N m`.
#[must_use]
pub fn answer_unit(unit: answer::Unit) -> &'static str {
    numbers::answer_unit(unit)
}

/// Returns a part's kind and name: `gear B`, `ring gear R`.
#[must_use]
pub fn part_name(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> String {
    parts::name(mechanism, part)
}

/// Returns a part with its size: `gear B with 36 teeth`, `drum D (80 mm across)`.
#[must_use]
pub fn part(mechanism: &mechanism::Mechanism, part: mechanism::PartId) -> String {
    parts::with_size(mechanism, part)
}

/// Returns the word for a kind of part: `gear`, `ring gear`, `wheel`.
#[must_use]
pub fn kind_name(kind: &mechanism::Kind) -> &'static str {
    parts::kind(kind)
}

/// Returns the trade's name of a part: `spur gear`, `pinion`.
#[must_use]
pub fn trade_name(name: ask::PartName) -> &'static str {
    parts::trade_name(name)
}

/// Returns the job of a gear: `drive gear`, `driven gear`, `idler`.
#[must_use]
pub fn job(job: ask::Job) -> &'static str {
    parts::job(job)
}

/// Returns a direction: `clockwise`, `left`.
#[must_use]
pub fn sense(sense: mechanism::Sense) -> &'static str {
    parts::sense(sense)
}

/// Returns what a mechanism is, a sentence for each thing, without what is given.
#[must_use]
pub fn mechanism(mechanism: &mechanism::Mechanism) -> Vec<String> {
    mechanism_text::sentences(mechanism)
}

/// Returns one thing that is given, as a sentence: `Gear A makes 9 turns clockwise.`
#[must_use]
pub fn given(mechanism: &mechanism::Mechanism, given: &mechanism::Given) -> String {
    mechanism_text::given(mechanism, given)
}

/// Returns a question in words: `How many turns does gear B make?`
#[must_use]
pub fn question(mechanism: &mechanism::Mechanism, ask: &ask::Ask) -> String {
    fact::question(mechanism, ask)
}

/// Returns an answer in words, unrounded, with its unit: `3 turns`, `yes`, `gear A`.
#[must_use]
pub fn fact(mechanism: &mechanism::Mechanism, ask: &ask::Ask, fact: &ask::Fact) -> String {
    fact::said(mechanism, ask, fact)
}

/// Returns one step of a working: `Gear B: 9 turns × 12 ÷ 36 = 3 turns.`
///
/// A step that can be read two ways (turns from a speed, or a speed from turns)
/// is said the way the givens suggest; [`steps`] knows it from what went before.
#[must_use]
pub fn step(mechanism: &mechanism::Mechanism, step: &gear_step::Step) -> String {
    step::said(mechanism, step, &step::Known::given(mechanism))
}

/// Returns a whole working, a sentence or two a step.
#[must_use]
pub fn steps(mechanism: &mechanism::Mechanism, steps: &[gear_step::Step]) -> Vec<String> {
    step::all(mechanism, steps)
}

/// Returns what is wrong with a mechanism, lower case, no full stop.
#[must_use]
pub fn fault(mechanism: &mechanism::Mechanism, fault: &gear_fault::Fault) -> String {
    fault::said(mechanism, fault)
}

/// Returns what to do about a fault, lower case, no full stop; may be empty.
#[must_use]
pub fn fault_hint(fault: &gear_fault::Fault) -> &'static str {
    fault::hint(fault)
}
