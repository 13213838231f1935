//! Where a command says things: results, remarks, problems, progress.

mod visible;

use crate::problem;
use indicatif::{ProgressBar, ProgressStyle};
use std::fmt;
use std::io::{self, Write};

/// How much is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loudness {
    /// Results, remarks, problems and progress.
    Usual,
    /// Results and problems only.
    Quiet,
}

/// The most problems that are told at once.
const MOST_PROBLEMS: usize = 1_000;

/// Returns a text as a terminal may show it: signs that would steer it written out.
#[must_use]
pub fn visible(text: &str) -> String {
    visible::text(text).into_owned()
}

/// The two streams of a program, with the manners of a good one: nothing but
/// results when quiet, no progress when nobody watches, and silence once the
/// reader has gone (a closed pipe is no failure).
pub struct Console {
    loudness: Loudness,
    out: Box<dyn Write>,
    err: Box<dyn Write>,
    failure: Option<io::Error>,
}

impl Console {
    /// Returns a console on the program's own streams; colours only on a terminal.
    #[must_use]
    pub fn new(loudness: Loudness) -> Self {
        Self::on(
            loudness,
            Box::new(anstream::stdout()),
            Box::new(anstream::stderr()),
        )
    }

    /// Returns a console on other streams, for tests.
    #[must_use]
    pub fn on(loudness: Loudness, out: Box<dyn Write>, err: Box<dyn Write>) -> Self {
        Self {
            loudness,
            out,
            err,
            failure: None,
        }
    }

    /// Writes a line of the result, also when quiet.
    pub fn result(&mut self, line: impl fmt::Display) {
        if self.failure.is_none() {
            let line = line.to_string();
            self.failure = writeln!(self.out, "{}", visible::text(&line)).err();
        }
    }

    /// Writes a remark (what was written where, what to do next); not when quiet.
    pub fn remark(&mut self, line: impl fmt::Display) {
        match self.loudness {
            Loudness::Usual => self.result(line),
            Loudness::Quiet => {}
        }
    }

    /// Writes a warning to the error stream, also when quiet. The work goes on.
    pub fn warning(&mut self, line: impl fmt::Display) {
        let line = visible::in_message(&line.to_string());
        // Nothing better can be done where the error stream itself fails.
        let _ = writeln!(self.err, "{WARN}warning{PLAIN}: {line}");
    }

    /// Writes every problem to the error stream; of very many, the first.
    pub fn problems(&mut self, problems: &[problem::Problem]) {
        for problem in problems.iter().take(MOST_PROBLEMS) {
            let shown = problem::Problem::new(
                visible::in_message(&problem.place),
                visible::in_message(&problem.what),
                visible::in_message(&problem.hint),
            );
            let _ = writeln!(self.err, "{WRONG}problem{PLAIN}: {shown}");
        }
        let more = problems.len().saturating_sub(MOST_PROBLEMS);
        if more > 0 {
            let _ = writeln!(
                self.err,
                "{WRONG}problem{PLAIN}: and {more} more, not told; mend these first"
            );
        }
    }

    /// Writes what the command line's own reader says is wrong with it.
    pub fn error(&mut self, text: &str) {
        let _ = writeln!(self.err, "{}", visible::text(text));
    }

    /// Returns a progress bar over so many things, drawn only on a terminal.
    #[must_use]
    pub fn progress(&self, count: u64, doing: &'static str) -> ProgressBar {
        match self.loudness {
            Loudness::Usual => {
                let bar = ProgressBar::new(count).with_message(doing);
                let style = ProgressStyle::with_template("{msg} [{bar:30}] {pos} of {len}")
                    .expect("the template is well formed");
                bar.with_style(style)
            }
            Loudness::Quiet => ProgressBar::hidden(),
        }
    }

    /// Finishes: what could not be written, unless the reader simply went away.
    ///
    /// # Errors
    ///
    /// When the output stream failed, for instance on a full disk.
    pub fn finish(mut self) -> Result<(), problem::Problem> {
        let failure = self.failure.take().or_else(|| self.out.flush().err());
        match failure {
            Some(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(problem::Problem::new(
                "output",
                format!("could not be written: {error}"),
                "",
            )),
            Some(_) | None => Ok(()),
        }
    }
}

const WRONG: &str = "\u{1b}[1;31m";
const WARN: &str = "\u{1b}[1;33m";
const PLAIN: &str = "\u{1b}[0m";

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::RefCell;
    use std::rc::Rc;

    #[derive(Clone, Default)]
    struct Shared(Rc<RefCell<Vec<u8>>>);

    impl Write for Shared {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.borrow_mut().extend_from_slice(bytes);
            Ok(bytes.len())
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    struct Failing(io::ErrorKind);

    impl Write for Failing {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(self.0.into())
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn quiet_leaves_out_remarks_only() {
        for (loudness, said) in [
            (Loudness::Usual, "a result\na remark\n"),
            (Loudness::Quiet, "a result\n"),
        ] {
            let out = Shared::default();
            let mut console = Console::on(loudness, Box::new(out.clone()), Box::new(io::sink()));
            console.result("a result");
            console.remark("a remark");
            assert_eq!(String::from_utf8_lossy(&out.0.borrow()), said);
            assert_eq!(console.finish(), Ok(()));
        }
    }

    #[test]
    fn a_closed_pipe_is_no_failure_and_a_full_disk_is() {
        for (kind, fails) in [
            (io::ErrorKind::BrokenPipe, false),
            (io::ErrorKind::StorageFull, true),
        ] {
            let mut console = Console::on(
                Loudness::Usual,
                Box::new(Failing(kind)),
                Box::new(io::sink()),
            );
            console.result("a result");
            console.result("another");
            assert_eq!(console.finish().is_err(), fails, "{kind:?}");
        }
    }
}
