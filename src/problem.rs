//! Something for a person to mend: where it is, what was found, what to do.

use std::fmt;

/// One thing to mend. Texts only, so that every floor may use it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// Where: a file with line and column, a worksheet with cell, a question.
    pub place: String,
    /// What was found and what was looked for, lower case, no full stop.
    pub what: String,
    /// What to do about it, lower case, no full stop; may be empty.
    pub hint: String,
}

impl Problem {
    /// Returns a problem from its three texts.
    pub fn new(place: impl Into<String>, what: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            place: place.into(),
            what: what.into(),
            hint: hint.into(),
        }
    }
}

impl fmt::Display for Problem {
    /// Writes `place: what`, and the hint on a line of its own.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}: {}", self.place, self.what)?;
        if !self.hint.is_empty() {
            write!(formatter, "\n  hint: {}", self.hint)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_problem_says_place_fault_and_hint() {
        let problem = Problem::new(
            "bank.toml:3:9",
            "teeth: found 5, fewer than 8",
            "use 8 to 120",
        );
        assert_eq!(
            problem.to_string(),
            "bank.toml:3:9: teeth: found 5, fewer than 8\n  hint: use 8 to 120"
        );
        assert_eq!(Problem::new("a", "b", "").to_string(), "a: b");
    }
}
