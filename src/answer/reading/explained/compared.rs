//! Why one of two is faster or stronger: sizes, speeds and forces, axles, stages.

mod counted;

use crate::answer::reading::explained;
use crate::answer::reading::explained::Claims;
use crate::answer::reading::explained::Text;
use crate::answer::reading::explained::sign::Degree;
use crate::answer::reading::explained::sign::Sign;
use crate::answer::reading::explained::statement;
use crate::answer::reading::explained::statement::Quality;
use crate::answer::reading::explained::statement::Statement;
use crate::answer::reading::explained::statement::Subject;
use crate::gears::ask;
use crate::gears::idea::Idea;
use crate::gears::mechanism;
use crate::number;
use std::cmp::Ordering;

/// The two that are compared, and in what.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair {
    first: usize,
    second: usize,
    /// What is asked for: speed or force.
    asked: Quality,
}

impl Pair {
    pub(super) fn faster(first: mechanism::PartId, second: mechanism::PartId) -> Self {
        Self {
            first: first.index(),
            second: second.index(),
            asked: Quality::Pace,
        }
    }

    pub(super) fn stronger(first: mechanism::PartId, second: mechanism::PartId) -> Self {
        Self {
            asked: Quality::Power,
            ..Self::faster(first, second)
        }
    }

    fn which(self, part: usize) -> Option<ask::Which> {
        if part == self.first {
            Some(ask::Which::First)
        } else if part == self.second {
            Some(ask::Which::Second)
        } else {
            None
        }
    }

    fn other(self, part: usize) -> usize {
        if part == self.first {
            self.second
        } else {
            self.first
        }
    }
}

/// Notes the ideas of a text, and returns which of the two it says it is.
pub(super) fn read(text: &Text<'_>, pair: Pair, claims: &mut Claims<'_>) -> Option<ask::Fact> {
    let statements = statement::Statements::of(text.signs);
    let conclusion = conclusion(text, pair, &statements);
    let reading = Reading {
        text,
        pair,
        statements: &statements,
        answered: answered(text, pair, conclusion.as_ref()),
        is_wrong: conclusion
            .as_ref()
            .or(text.explaining.concluded.as_ref())
            .is_some_and(|conclusion| conclusion != text.right()),
    };
    reading.sizes(claims);
    reading.numbers(claims);
    reading.together(claims);
    reading.passing(claims);
    reading.stages(claims);
    reading.places(claims);
    conclusion
}

/// Which of the two it says it is, where it says so.
fn conclusion(
    text: &Text<'_>,
    pair: Pair,
    statements: &statement::Statements,
) -> Option<ask::Fact> {
    let named = statements.all.iter().find_map(|statement| {
        if statement.quality != pair.asked {
            return None;
        }
        let part = match statement.subject {
            Subject::Part(part) => part,
            Subject::Implied => sized(text, pair, statements, statement)?,
            Subject::Other | Subject::Someone => return None,
        };
        let part = match statement.degree {
            Degree::More => part,
            Degree::Less => pair.other(part),
        };
        pair.which(part)
    });
    let start: &[Sign] = text
        .signs
        .split(|sign| explained::ends_clause(*sign) && *sign != Sign::And)
        .find(|clause| !clause.is_empty())
        .unwrap_or_default();
    let first: Vec<Sign> = start
        .iter()
        .filter(|sign| !matches!(sign, Sign::Gears | Sign::Unknown | Sign::It))
        .copied()
        .collect();
    let alone = match first.as_slice() {
        [Sign::Part(part)] => pair.which(*part),
        [Sign::Same | Sign::SamePace | Sign::SamePower] => Some(ask::Which::Same),
        _ => None,
    };
    alone.or(named).map(ask::Fact::Which)
}

/// The part that "the big gear turns faster" is said of.
fn sized(
    text: &Text<'_>,
    pair: Pair,
    statements: &statement::Statements,
    effect: &Statement,
) -> Option<usize> {
    let before = statements.all.iter().take_while(|other| *other != effect);
    let size = before
        .filter(|other| {
            other.clause == effect.clause
                && other.quality == Quality::Size
                && other.subject == Subject::Implied
        })
        .last()?;
    let of = |part: usize| text.explaining.sizes.get(part).copied().flatten();
    let (one, other) = (of(pair.first)?, of(pair.second)?);
    match (one.cmp(&other), size.degree) {
        (Ordering::Less, Degree::Less) | (Ordering::Greater, Degree::More) => Some(pair.first),
        (Ordering::Less, Degree::More) | (Ordering::Greater, Degree::Less) => Some(pair.second),
        (Ordering::Equal, Degree::More | Degree::Less) => None,
    }
}

/// The part that the explanation is of: the one it names, else the right one.
fn answered(text: &Text<'_>, pair: Pair, conclusion: Option<&ask::Fact>) -> Option<usize> {
    let which = conclusion
        .or(text.explaining.concluded.as_ref())
        .unwrap_or(text.right());
    if *which == ask::Fact::Which(ask::Which::First) {
        Some(pair.first)
    } else if *which == ask::Fact::Which(ask::Which::Second) {
        Some(pair.second)
    } else {
        None
    }
}

struct Reading<'a> {
    text: &'a Text<'a>,
    pair: Pair,
    statements: &'a statement::Statements,
    answered: Option<usize>,
    /// Whether the conclusion said is not the right one.
    is_wrong: bool,
}

/// What a statement of size comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Right,
    Wrong,
    Unclear,
}

impl Reading<'_> {
    fn size(&self, part: usize) -> Option<number::Number> {
        self.text.explaining.sizes.get(part).copied().flatten()
    }

    fn sizes_compared(&self) -> Option<Ordering> {
        Some(
            self.size(self.pair.first)?
                .cmp(&self.size(self.pair.second)?),
        )
    }

    /// Sizes with speeds and forces, and sizes alone.
    fn sizes(&self, claims: &mut Claims<'_>) {
        let to_pace = self.statements.bonds(Quality::Size, Quality::Pace);
        let to_power = self.statements.bonds(Quality::Size, Quality::Power);
        let drives = self.drives_another_size(claims);
        for bond in &to_pace {
            if !(drives && claims.is_key(Idea::StagesBuildUp)) {
                self.note(
                    claims,
                    Idea::SmallerFaster,
                    self.of_bond(bond, Degree::Less),
                );
            }
        }
        for bond in &to_power {
            self.note(
                claims,
                Idea::BiggerStronger,
                self.of_bond(bond, Degree::More),
            );
        }
        let asked = match self.pair.asked {
            Quality::Power => (Idea::BiggerStronger, Degree::More),
            Quality::Pace | Quality::Size => (Idea::SmallerFaster, Degree::Less),
        };
        for statement in &self.statements.all {
            // In a question about force, size and speed together explain by size too.
            let binds_pace = self.pair.asked != Quality::Power;
            let is_bound = to_pace
                .iter()
                .filter(|_| binds_pace)
                .chain(&to_power)
                .any(|bond| bond.cause == *statement);
            if statement.quality == Quality::Size && !is_bound && !drives {
                self.note(claims, asked.0, self.of_size(statement, asked.1));
            }
        }
        if self.pair.asked == Quality::Power {
            self.paces(claims);
        }
        if self.text.has(Sign::OtherSize) {
            claims.touches(asked.0);
        }
    }

    /// Slower and stronger, in a question about force.
    fn paces(&self, claims: &mut Claims<'_>) {
        let bonds = self.statements.bonds(Quality::Pace, Quality::Power);
        for bond in &bonds {
            let outcome = self.of_bond(bond, Degree::Less);
            self.note(claims, Idea::SlowerStronger, outcome);
        }
        for statement in &self.statements.all {
            let is_bound = bonds.iter().any(|bond| bond.cause == *statement);
            if statement.quality == Quality::Pace && !is_bound {
                let about_answered = match statement.subject {
                    Subject::Part(part) => self.answered.is_none_or(|answered| answered == part),
                    Subject::Other => false,
                    Subject::Someone | Subject::Implied => true,
                };
                let is_slow = (statement.degree == Degree::Less) == about_answered;
                let outcome = if is_slow {
                    Outcome::Right
                } else {
                    Outcome::Wrong
                };
                self.note(claims, Idea::SlowerStronger, outcome);
            }
        }
    }

    /// "A small gear drives a big gear": the idea of a stage.
    fn drives_another_size(&self, claims: &mut Claims<'_>) -> bool {
        let mut clauses = self.text.clauses();
        let drives = clauses.any(|clause| {
            let sizes: Vec<Sign> = clause
                .iter()
                .filter(|sign| matches!(sign, Sign::Size(_) | Sign::Drive | Sign::Turns))
                .copied()
                .collect();
            matches!(
                sizes.as_slice(),
                [Sign::Size(one), Sign::Drive | Sign::Turns, Sign::Size(other), ..] if one != other
            )
        });
        if drives {
            claims.says(Idea::StagesBuildUp);
        }
        drives && claims.is_key(Idea::StagesBuildUp)
    }

    /// Notes an idea about sizes. Where size does not decide, because the two are on
    /// one axle or of one size, that is what it goes against.
    fn note(&self, claims: &mut Claims<'_>, idea: Idea, outcome: Outcome) {
        let is_about_asked = (idea == Idea::SmallerFaster) == (self.pair.asked == Quality::Pace);
        if !claims.is_true(idea) && is_about_asked && outcome != Outcome::Unclear {
            claims.denies(Idea::SameSizeSameSpeed);
            if !claims.is_true(Idea::SameSizeSameSpeed) && !claims.is_true(Idea::StagesBuildUp) {
                claims.denies(Idea::OneAxleTogether);
            }
        }
        match outcome {
            Outcome::Right => claims.says(idea),
            Outcome::Wrong => claims.denies(idea),
            Outcome::Unclear => claims.touches(idea),
        }
    }

    /// Whether what hangs together does so rightly; `right` is the degree of the
    /// cause that goes with more of the effect.
    fn of_bond(&self, bond: &statement::Bond, right: Degree) -> Outcome {
        let (cause, effect) = (&bond.cause, &bond.effect);
        if effect.is_pushed || cause.subject == Subject::Someone {
            return Outcome::Unclear;
        }
        let mut degree = cause.degree;
        let effect_of = match effect.subject {
            Subject::Part(part) => Some(part),
            // "it is faster because A is bigger": it is the one that is asked about.
            Subject::Implied if effect.clause < cause.clause => self.answered,
            Subject::Other | Subject::Someone | Subject::Implied => None,
        };
        let cause_of = match cause.subject {
            Subject::Part(part) => Some(part),
            Subject::Other | Subject::Someone | Subject::Implied => None,
        };
        if let (Some(one), Some(other)) = (cause_of, effect_of)
            && one != other
        {
            degree = degree.turned();
        }
        let goes_together = (degree == right) == (effect.degree == Degree::More);
        let is_so = cause_of.is_none_or(|part| self.is_fact(cause, part));
        match (goes_together, is_so) {
            (true, true) => Outcome::Right,
            (true, false) => Outcome::Unclear,
            (false, _) => Outcome::Wrong,
        }
    }

    /// Whether a size alone explains what is asked.
    fn of_size(&self, statement: &Statement, right: Degree) -> Outcome {
        let explains = statement.degree == right;
        let outcome = |is_right| {
            if is_right {
                Outcome::Right
            } else {
                Outcome::Wrong
            }
        };
        let times = self
            .text
            .signs
            .iter()
            .any(|sign| matches!(sign, Sign::Times(_)));
        if statement.is_pushed || (statement.is_name && !times) {
            return Outcome::Unclear;
        }
        match statement.subject {
            Subject::Someone => Outcome::Unclear,
            Subject::Other => outcome(!explains),
            // "B because it is smaller" of the bigger one: the rule is known, the sizes
            // are not seen.
            Subject::Implied if explains && self.is_wrong && self.differ() => Outcome::Unclear,
            Subject::Implied => outcome(explains),
            Subject::Part(part) => match self.answered {
                Some(answered) if self.pair.which(part).is_some() => {
                    let explains = explains == (part == answered);
                    if self.is_fact(statement, part) {
                        outcome(explains)
                    } else {
                        Outcome::Unclear
                    }
                }
                Some(_) => Outcome::Unclear,
                None => outcome(false),
            },
        }
    }

    fn differ(&self) -> bool {
        self.sizes_compared()
            .is_some_and(|order| order != Ordering::Equal)
    }

    /// Whether the part is as the statement says, against the other of the two; what
    /// is no size of the two is taken for true.
    fn is_fact(&self, statement: &Statement, part: usize) -> bool {
        if statement.quality != Quality::Size || self.pair.which(part).is_none() {
            return true;
        }
        let (Some(one), Some(other)) = (self.size(part), self.size(self.pair.other(part))) else {
            return true;
        };
        match statement.degree {
            Degree::More => one > other,
            Degree::Less => one < other,
        }
    }
}
