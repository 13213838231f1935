//! The unit in which thresholds on the scale are written.
//!
//! Logits, or the school's own points: so many for a question of average difficulty, and
//! so many more for each logit.
//!
//! Source: a linear change of units, as reported scales of tests use it (common practice, no
//! source).
//!
//! ```toml
//! on = "scale"
//!
//! [scale]
//! name = "gear points"
//! middle = 100
//! logit = 10
//! ```

use crate::number;
use crate::table;

/// A unit of places on the scale.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unit {
    /// What it is called.
    pub name: String,
    /// What stands for 0 logits, where the average question is.
    pub middle: number::Number,
    /// How much more stands for one logit more; over nought.
    pub logit: number::Number,
}

impl Unit {
    /// Returns the unit of the scale itself.
    #[must_use]
    pub fn logits() -> Self {
        Self {
            name: "logits".to_owned(),
            middle: number::Number::ZERO,
            logit: number::Number::ONE,
        }
    }

    /// Returns a place, given in logits, in this unit.
    #[must_use]
    pub fn of_logits(&self, place: f64) -> f64 {
        self.middle.to_f64() + self.logit.to_f64() * place
    }
}

/// Reads the unit under `scale`; logits where there is none.
pub(super) fn read(reader: &mut table::Reader<'_>, root: &table::Table<'_>) -> Unit {
    let Some(table) = reader.table(root, "scale") else {
        return Unit::logits();
    };
    reader.known_keys(&table, &["name", "middle", "logit"]);
    let name = reader.needed_text(&table, "name");
    let name = name.map_or("", |found| found.value.trim()).to_owned();
    reader.need(&table, "middle");
    reader.need(&table, "logit");
    let middle = decimal(reader, &table, "middle");
    let logit = decimal(reader, &table, "logit");
    if let Some((_, at)) = logit.filter(|(logit, _)| !logit.is_positive()) {
        reader.fault(
            at,
            "`logit` is not over nought",
            "write how many points one logit more is, such as 10",
        );
    }
    Unit {
        name,
        middle: middle.map_or(number::Number::ZERO, |it| it.0),
        logit: logit.map_or(number::Number::ONE, |it| it.0),
    }
}

/// Reads a number with or without decimals under a key that may be left out, and where it
/// stands.
pub(super) fn decimal(
    reader: &mut table::Reader<'_>,
    table: &table::Table<'_>,
    key: &str,
) -> Option<(number::Number, usize)> {
    let found = reader.value(table, key)?;
    let at = found.at.start;
    let number = match &found.value {
        table::Value::Number(text) => parsed(text),
        table::Value::Text(_)
        | table::Value::List(_)
        | table::Value::Table(_)
        | table::Value::Other(_) => None,
    };
    if number.is_none() {
        reader.fault(
            at,
            format!("`{key}`: found {}, wanted a number", found.value.said()),
            "write a number such as 2, 0.5 or -1.25",
        );
    }
    number.map(|number| (number, at))
}

fn parsed(text: &str) -> Option<number::Number> {
    match text.strip_prefix('-') {
        Some(rest) => rest.parse().ok().map(number::Number::negated),
        None => text.strip_prefix('+').unwrap_or(text).parse().ok(),
    }
}
