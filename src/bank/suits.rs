//! Whether a question suits the levels it names.

use crate::bank::probe;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::level;
use crate::level::feature;
use crate::level::rule;
use crate::number;
use crate::table;

/// A question with one filling, and where its parts stand in the file.
pub(super) struct Asked<'a> {
    pub(super) levels: &'a [level::Level],
    pub(super) mechanism: &'a mechanism::Mechanism,
    pub(super) ask: &'a ask::Ask,
    pub(super) precision: number::Precision,
    pub(super) precision_at: usize,
    pub(super) mechanism_at: usize,
    pub(super) ask_at: usize,
    pub(super) probe: &'a probe::Probe<'a>,
}

/// Notes what is too much for some of the levels.
pub(super) fn check(reader: &mut table::Reader, asked: &Asked) {
    question(reader, asked);
    features(reader, asked);
    rounding(reader, asked);
    gears(reader, asked);
    teeth(reader, asked);
}

/// The levels of the question at which something does not hold.
fn levels_where(asked: &Asked, fails: impl Fn(level::Level) -> bool) -> Vec<level::Level> {
    let mut levels: Vec<level::Level> = asked
        .levels
        .iter()
        .copied()
        .filter(|level| fails(*level))
        .collect();
    levels.sort();
    levels
}

/// Levels as words: `level 3`, `levels 3 and 4`.
fn said(levels: &[level::Level]) -> String {
    let numbers: Vec<String> = levels.iter().map(ToString::to_string).collect();
    match numbers.as_slice() {
        [one] => format!("level {one}"),
        [first @ .., last] => format!("levels {} and {last}", first.join(", ")),
        [] => String::new(),
    }
}

fn leave_out(levels: &[level::Level]) -> String {
    let numbers: Vec<String> = levels.iter().map(ToString::to_string).collect();
    format!("leave {} out of `levels`", numbers.join(" and "))
}

/// What each of the levels allows: `level 3 allows 6 to 60, level 4 6 to 72`.
fn allowed(levels: &[level::Level], limit: impl Fn(&rule::Rule) -> String) -> String {
    let each: Vec<String> = levels
        .iter()
        .map(|level| format!("level {level} allows {}", limit(level.rule())))
        .collect();
    each.join(", ")
}

fn question(reader: &mut table::Reader, asked: &Asked) {
    let first = feature::first_level_of(asked.ask);
    let levels = levels_where(asked, |level| level < first);
    if !levels.is_empty() {
        reader.fault(
            asked.ask_at,
            format!(
                "\"{}\" is asked from level {first} on, not at {}",
                notation::write_ask(asked.ask, asked.mechanism),
                said(&levels)
            ),
            leave_out(&levels),
        );
    }
}

fn features(reader: &mut table::Reader, asked: &Asked) {
    for found in feature::features(asked.mechanism) {
        let first = found.first_level(asked.ask);
        let levels = levels_where(asked, |level| level < first);
        if !levels.is_empty() {
            let how = if feature::is_calculated(asked.ask) {
                "calculated with"
            } else {
                "shown"
            };
            reader.fault(
                asked.mechanism_at,
                format!(
                    "{} is {how} from level {first} on, not at {}",
                    found.text(),
                    said(&levels)
                ),
                leave_out(&levels),
            );
        }
    }
}

fn rounding(reader: &mut table::Reader, asked: &Asked) {
    let (fits, wanted): (fn(&rule::Rule, u8) -> bool, u8) = match asked.precision {
        // Where no rounding is taught yet, a whole answer must come out whole.
        number::Precision::Exact | number::Precision::Places(0) => return,
        number::Precision::Places(places) => (
            |rule, places| rule.rounding.is_some_and(|most| places <= most),
            places,
        ),
        number::Precision::Figures(figures) => (|rule, _| rule.pi, figures),
    };
    let levels = levels_where(asked, |level| !fits(level.rule(), wanted));
    if !levels.is_empty() {
        let allowed = allowed(&levels, |rule| match rule.rounding {
            None => "exact answers only".to_owned(),
            Some(1) => "one decimal place".to_owned(),
            Some(most) => format!("{most} decimal places"),
        });
        reader.fault(
            asked.precision_at,
            format!("the answer is rounded; {allowed}"),
            format!("ask for another precision, or {}", leave_out(&levels)),
        );
    }
}

fn gears(reader: &mut table::Reader, asked: &Asked) {
    let count = feature::gear_count(asked.mechanism);
    let levels = levels_where(asked, |level| count > level.rule().most_gears);
    if !levels.is_empty() {
        let allowed = allowed(&levels, |rule| rule.most_gears.to_string());
        reader.fault(
            asked.mechanism_at,
            format!("the mechanism has {count} gears; {allowed}"),
            format!("take gears out, or {}", leave_out(&levels)),
        );
    }
}

fn teeth(reader: &mut table::Reader, asked: &Asked) {
    for part in &asked.mechanism.parts {
        let Some(teeth) = feature::teeth(part) else {
            continue;
        };
        let levels = levels_where(asked, |level| {
            let (fewest, most) = level.rule().teeth;
            teeth < fewest || teeth > most
        });
        let Some(at) = asked.probe.place_of(&teeth.to_string(), asked.mechanism_at) else {
            continue;
        };
        if !levels.is_empty() {
            let allowed = allowed(&levels, |rule| {
                let (fewest, most) = rule.teeth;
                format!("{fewest} to {most}")
            });
            reader.fault(
                at,
                format!("gear {} gets {teeth} teeth; {allowed}", part.name),
                format!("use other teeth, or {}", leave_out(&levels)),
            );
        }
    }
}
