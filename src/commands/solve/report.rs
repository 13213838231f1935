//! What `solve` prints: the mechanism in words, a table of its axles, the
//! working, the answers.

use crate::commands::solve::supposed;
use crate::commands::solve::working;
use crate::gears::ask;
use crate::gears::fault;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::wording;

/// The common caution for anything with a motor, a handle or a load.
///
/// Source: common practice, no source.
const CAUTION: &str = "Caution: keep fingers, hair and sleeves away from turning gears. \
    Follow your school's risk assessment.";

/// The report as it grows.
pub(super) struct Report<'a> {
    mechanism: &'a mechanism::Mechanism,
    /// The mechanism with what is supposed about its movement.
    moving: &'a mechanism::Mechanism,
    sections: Vec<String>,
}

impl<'a> Report<'a> {
    pub(super) fn new(
        mechanism: &'a mechanism::Mechanism,
        supposed: Option<&'a supposed::Supposed>,
    ) -> Self {
        let mut report = Self {
            mechanism,
            moving: supposed.map_or(mechanism, |supposed| &supposed.mechanism),
            sections: Vec::new(),
        };
        report.section("The mechanism", &wording::mechanism(mechanism));
        let mut given: Vec<String> = mechanism
            .givens
            .iter()
            .map(|given| wording::given(mechanism, given))
            .collect();
        if let Some(supposed) = supposed {
            given.push(format!(
                "No amount of movement is given, so suppose: {}",
                wording::given(mechanism, &supposed.given)
            ));
        }
        report.section("Given", &given);
        report
    }

    /// Adds the table of axles and the working.
    pub(super) fn solution(&mut self, solution: &solve::Solution) {
        let table = self.table(solution);
        if table.len() > 1 {
            let mut lines = aligned(&table);
            lines.extend(self.view(solution));
            self.section("How it moves", &lines);
        }
        self.section("At the ends", &self.ends());
        self.section("Working", &numbered(&working::lines(self.moving, solution)));
    }

    /// Adds a question with its working and answer.
    pub(super) fn answer(&mut self, asked: &ask::Ask, worked: &solve::Worked) {
        let mut lines = numbered(&wording::steps(self.moving, &worked.steps));
        lines.push(format!(
            "Answer: {}",
            wording::fact(self.mechanism, asked, &worked.fact)
        ));
        let question = wording::question(self.mechanism, asked);
        self.section(&question, &lines);
    }

    /// Adds why it cannot turn or why nothing more follows.
    pub(super) fn cannot_turn(&mut self, faults: &[fault::Fault]) {
        let said: Vec<String> = faults
            .iter()
            .map(|fault| {
                format!(
                    "It cannot be worked out: {}.",
                    wording::fault(self.mechanism, fault)
                )
            })
            .collect();
        self.section("How it moves", &said);
    }

    /// Returns the whole report.
    pub(super) fn text(&self) -> String {
        let mut sections = self.sections.clone();
        if self.mechanism.parts.iter().any(is_driven_or_loaded)
            || self.mechanism.givens.iter().any(is_load)
        {
            sections.push(CAUTION.to_owned());
        }
        sections.join("\n\n")
    }

    /// From where directions are seen, and why one may be missing.
    fn view(&self, solution: &solve::Solution) -> Option<String> {
        let is_there = |wanted: fn(&mechanism::Kind) -> bool| {
            self.mechanism.parts.iter().any(|part| wanted(&part.kind))
        };
        let has_direction = |motion: &solve::Motion| motion.sense.is_some();
        if !solution.motions.iter().any(has_direction) {
            return None;
        }
        let mut line = "Directions are seen from the front".to_owned();
        if is_there(|kind| matches!(kind, mechanism::Kind::Bevel { .. })) {
            line.push_str(", a bevel gear's from its own back");
        }
        line.push('.');
        let all = solution.motions.iter().all(has_direction);
        if !all && is_there(|kind| matches!(kind, mechanism::Kind::Worm { .. })) {
            line.push_str(" Past a worm the direction depends on the side it is seen from.");
        }
        Some(line)
    }

    fn section(&mut self, title: &str, lines: &[String]) {
        if !lines.is_empty() {
            let lines: Vec<String> = lines.iter().map(|line| format!("  {line}")).collect();
            self.sections.push(format!("{title}\n{}", lines.join("\n")));
        }
    }

    /// A row for the heading and one for each body; columns without entries left out.
    fn table(&self, solution: &solve::Solution) -> Vec<Vec<String>> {
        let mut rows =
            vec![["Axle", "Movement", "Speed", "Direction", "Turning force"].map(str::to_owned)];
        for (index, motion) in solution.motions.iter().enumerate() {
            rows.push(self.row(index, motion));
        }
        let has_entries = |column: usize| {
            let mut below = rows.iter().skip(1);
            below.any(|row| row.get(column).is_some_and(|cell| !cell.is_empty()))
        };
        let kept: Vec<usize> = (0..5).filter(|&column| has_entries(column)).collect();
        if kept.len() < 2 {
            return Vec::new();
        }
        rows.iter()
            .map(|row| {
                kept.iter()
                    .filter_map(|&column| row.get(column).cloned())
                    .collect()
            })
            .collect()
    }

    fn row(&self, body: usize, motion: &solve::Motion) -> [String; 5] {
        let members: Vec<mechanism::PartId> = (0..self.mechanism.parts.len())
            .filter_map(|index| u16::try_from(index).ok().map(mechanism::PartId))
            .filter(|part| {
                let part = self.mechanism.parts.get(usize::from(part.0));
                part.is_some_and(|part| usize::from(part.body.0) == body)
            })
            .collect();
        let slides = members.iter().any(|part| self.slides(*part));
        let names: Vec<String> = members
            .iter()
            .map(|part| wording::part_name(self.mechanism, *part))
            .collect();
        let (turns, force) = if slides {
            (ask::Unit::Millimetres, ask::Unit::Newtons)
        } else {
            (ask::Unit::Turns, ask::Unit::NewtonCentimetres)
        };
        let said = |value: Option<crate::number::Value>, unit| {
            value.map_or(String::new(), |value| wording::amount(value, unit))
        };
        let speed = match motion.rpm {
            Some(speed) if slides => {
                format!(
                    "{} a minute",
                    wording::amount(speed, ask::Unit::Millimetres)
                )
            }
            Some(speed) => wording::amount(speed, ask::Unit::Rpm),
            None => String::new(),
        };
        let movement = match motion.turns {
            Some(amount) if amount.factor.is_zero() => "none".to_owned(),
            Some(_) | None => said(motion.turns, turns),
        };
        [
            names.join(", "),
            movement,
            speed,
            motion
                .sense
                .map_or(String::new(), |sense| wording::sense(sense).to_owned()),
            said(motion.force, force),
        ]
    }

    /// Forces and distances where the mechanism meets the world: handles, racks,
    /// drums, rolling wheels.
    fn ends(&self) -> Vec<String> {
        let mut lines = Vec::new();
        for index in 0..self.mechanism.parts.len() {
            let Some(part) = u16::try_from(index).ok().map(mechanism::PartId) else {
                continue;
            };
            let name = wording::part_name(self.mechanism, part);
            for (asked, what) in working::at_the_end(self.mechanism, part) {
                if let Ok(worked) = solve::answer(self.moving, &asked) {
                    let answer = wording::fact(self.mechanism, &asked, &worked.fact);
                    lines.push(format!("{what} {name}: {answer}"));
                }
            }
        }
        lines
    }

    fn slides(&self, part: mechanism::PartId) -> bool {
        self.mechanism
            .parts
            .get(usize::from(part.0))
            .is_some_and(|part| matches!(part.kind, mechanism::Kind::Rack { .. }))
    }
}

/// Whether a part is turned by a motor or a hand, or carries a load.
fn is_driven_or_loaded(part: &mechanism::Part) -> bool {
    match part.kind {
        mechanism::Kind::Handle { .. }
        | mechanism::Kind::Drum { .. }
        | mechanism::Kind::Motor
        | mechanism::Kind::Dynamo => true,
        mechanism::Kind::Gear { .. }
        | mechanism::Kind::Ring { .. }
        | mechanism::Kind::Bevel { .. }
        | mechanism::Kind::Worm { .. }
        | mechanism::Kind::Rack { .. }
        | mechanism::Kind::Sprocket { .. }
        | mechanism::Kind::Pulley { .. }
        | mechanism::Kind::Roller { .. }
        | mechanism::Kind::Carrier => false,
    }
}

fn is_load(given: &mechanism::Given) -> bool {
    match given {
        mechanism::Given::Force { .. } | mechanism::Given::TurningForce { .. } => true,
        mechanism::Given::Motion { .. }
        | mechanism::Given::Held(_)
        | mechanism::Given::Minutes(_)
        | mechanism::Given::Efficiency(_)
        | mechanism::Given::Apart { .. }
        | mechanism::Given::TakenOut { .. } => false,
    }
}

fn numbered(lines: &[String]) -> Vec<String> {
    lines
        .iter()
        .enumerate()
        .map(|(index, line)| format!("{:>2}. {line}", index + 1))
        .collect()
}

/// Rows as lines, each column as wide as its widest cell.
fn aligned(rows: &[Vec<String>]) -> Vec<String> {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    rows.iter()
        .map(|row| {
            let cells: Vec<String> = row
                .iter()
                .zip(&widths)
                .map(|(cell, &width)| format!("{cell:width$}"))
                .collect();
            cells.join("   ").trim_end().to_owned()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_as_wide_as_their_widest_cell() {
        let rows = [["a", "π"], ["long", "b"]].map(|row| row.map(str::to_owned).to_vec());
        assert_eq!(aligned(&rows), ["a      π", "long   b"]);
    }
}
