//! The table of answers: a row for each that counts.
//!
//! A pupil is a number that holds within one data set: neither a name nor an id, nor a
//! fingerprint of them, which whoever has a list of names could try out. Another data
//! set gives other numbers, so that two cannot be joined by pupil; the data set is
//! written whole each time, so that none need be.

use crate::attainment::line;
use crate::date;
use crate::warehouse::columns;
use crate::warehouse::file;
use std::io::Write;

/// A file of answers that is being written.
pub struct Answers(file::File<Waiting>);

/// Rows that wait.
#[derive(Debug, Default)]
struct Waiting {
    homework: columns::Texts,
    title: columns::Texts,
    set_on: columns::Days,
    asked_when: columns::Texts,
    term: columns::Texts,
    school_year: columns::Texts,
    pupil: columns::Numbers,
    class: columns::Texts,
    year: columns::Texts,
    groups: columns::Maps,
    question: columns::Texts,
    bank: columns::Texts,
    template: columns::Texts,
    part: columns::Texts,
    skill: columns::Texts,
    level: columns::Numbers,
    marks: columns::Numbers,
    out_of: columns::Numbers,
    state: columns::Texts,
    misconceptions: columns::Lists,
    needs_check: columns::Truths,
    keep_until: columns::Days,
}

impl file::Rows for Waiting {
    const TABLE: &'static str = "answers";

    fn columns(&self) -> Vec<(&'static str, &dyn columns::Column)> {
        vec![
            ("homework", &self.homework),
            ("title", &self.title),
            ("set_on", &self.set_on),
            ("asked_when", &self.asked_when),
            ("term", &self.term),
            ("school_year", &self.school_year),
            ("pupil", &self.pupil),
            ("class", &self.class),
            ("year", &self.year),
            ("groups", &self.groups),
            ("question", &self.question),
            ("bank", &self.bank),
            ("template", &self.template),
            ("part", &self.part),
            ("skill", &self.skill),
            ("level", &self.level),
            ("marks", &self.marks),
            ("out_of", &self.out_of),
            ("state", &self.state),
            ("misconceptions", &self.misconceptions),
            ("needs_check", &self.needs_check),
            ("keep_until", &self.keep_until),
        ]
    }
}

impl Answers {
    /// Begins a file.
    ///
    /// # Errors
    ///
    /// When `out` takes nothing.
    pub fn begin(out: impl Write + Send + 'static) -> Result<Self, file::Unwritten> {
        file::File::begin(out).map(Self)
    }

    /// Adds an answer.
    ///
    /// # Errors
    ///
    /// When `out` takes no more.
    pub fn add(&mut self, line: &line::Line<'_>) -> Result<(), file::Unwritten> {
        self.0.keep(line.kept_until);
        self.0.add(|rows| rows.push(line))
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

impl Waiting {
    fn push(&mut self, line: &line::Line<'_>) {
        self.homework.push(line.homework);
        self.title.push(line.title);
        self.set_on.push(line.day.map(date::Date::days_since_1970));
        self.asked_when.push(line.asked_when);
        self.term.push_maybe(line.term);
        self.school_year.push_maybe(line.school_year);
        self.pupil.push_count(line.pupil);
        self.class.push(line.class);
        self.year.push(line.year);
        self.groups.push(line.groups);
        self.question.push(line.question);
        self.bank.push(line.bank);
        self.template.push(line.template);
        self.part.push(line.part);
        self.skill.push(line.skill);
        self.level.push(i32::from(line.level));
        self.marks.push(i32::from(line.marks));
        self.out_of.push(i32::from(line.out_of));
        self.state.push(line.state.text());
        self.misconceptions.push(line.misconceptions);
        self.needs_check.push(line.needs_check);
        let kept_until = line.kept_until.map(date::Date::days_since_1970);
        self.keep_until.push(kept_until);
    }
}
