//! The table of findings: what each pupil's answers are consistent with.

use crate::attainment::misconceptions::pupils;
use crate::date;
use crate::warehouse::columns;
use crate::warehouse::file;
use std::io::Write;

/// A file of findings that is being written.
pub struct Findings(file::File<Waiting>);

#[derive(Debug, Default)]
struct Waiting {
    pupil: columns::Numbers,
    year: columns::Texts,
    misconception: columns::Texts,
    answers: columns::Numbers,
    again: columns::Truths,
}

impl file::Rows for Waiting {
    const TABLE: &'static str = "findings";

    fn columns(&self) -> Vec<(&'static str, &dyn columns::Column)> {
        vec![
            ("pupil", &self.pupil),
            ("year", &self.year),
            ("misconception", &self.misconception),
            ("answers", &self.answers),
            ("again", &self.again),
        ]
    }
}

impl Findings {
    /// Begins a file of what may be kept until a day.
    ///
    /// # Errors
    ///
    /// When `out` takes nothing.
    pub fn begin(
        out: impl Write + Send + 'static,
        kept_until: Option<date::Date>,
    ) -> Result<Self, file::Unwritten> {
        let mut file = file::File::begin(out)?;
        file.keep(kept_until);
        Ok(Self(file))
    }

    /// Adds a finding.
    ///
    /// # Errors
    ///
    /// When `out` takes no more.
    pub fn add(&mut self, finding: &pupils::Finding<'_>) -> Result<(), file::Unwritten> {
        self.0.add(|rows| {
            rows.pupil.push_count(finding.pupil);
            rows.year.push_maybe(finding.year);
            rows.misconception.push(finding.misconception);
            rows.answers.push_count(finding.answers);
            rows.again.push(finding.again);
        })
    }

    /// Ends the file.
    ///
    /// # Errors
    ///
    /// When `out` takes no more.
    pub fn finish(self) -> Result<(), file::Unwritten> {
        self.0.finish()
    }
}
