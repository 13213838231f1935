//! What was typed, as lines, and the lines as a mechanism and questions.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::notation;
use crate::problem;

/// What was typed, understood.
pub(super) struct Typed {
    pub(super) mechanism: mechanism::Mechanism,
    pub(super) asks: Vec<ask::Ask>,
}

/// Returns the mechanism and the questions that the arguments describe.
pub(super) fn read(arguments: &[String]) -> Result<Typed, Vec<problem::Problem>> {
    let lines = lines(arguments);
    // A question's place among the lines stays, so that messages count as typed.
    let statements: Vec<&str> = lines
        .iter()
        .map(|line| question(line).map_or(line.as_str(), |_| ""))
        .collect();
    let told = |line: usize, fault: &notation::NotationError| {
        let text = lines.get(line).map_or("", String::as_str);
        problem(line, text, fault)
    };
    let mechanism = notation::read(&statements).map_err(|faults| {
        faults
            .iter()
            .map(|fault| told(fault.line, fault))
            .collect::<Vec<_>>()
    })?;
    if mechanism.parts.is_empty() {
        return Err(vec![problem::Problem::new(
            "the mechanism",
            "found no part in it",
            "say what drives what, such as \"gear A 12 drives gear B 36\"",
        )]);
    }
    let mut asks = Vec::new();
    let mut problems = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        let Some(asked) = question(line) else {
            continue;
        };
        match notation::read_ask(asked, &mechanism) {
            Ok(asked) => asks.push(asked),
            Err(mut fault) => {
                // The place counts from the line's own start.
                let before = line.len() - asked.len();
                fault.span = fault.span.start + before..fault.span.end + before;
                problems.push(told(index, &fault));
            }
        }
    }
    if problems.is_empty() {
        Ok(Typed { mechanism, asks })
    } else {
        Err(problems)
    }
}

/// The question that a line asks, if it asks one; `ask:` may stand before it.
fn question(line: &str) -> Option<&str> {
    let marked = line
        .split_at_checked(4)
        .filter(|(mark, _)| mark.eq_ignore_ascii_case("ask:"))
        .map(|(_, rest)| rest);
    marked.or_else(|| notation::is_ask(line).then_some(line))
}

/// Returns the lines of the arguments: each is a line, or several with `;` between.
///
/// Words typed without quotes come as one argument each; they are one text.
fn lines(arguments: &[String]) -> Vec<String> {
    let is_unquoted = arguments.len() > 1
        && !arguments
            .iter()
            .any(|it| it.trim().contains(char::is_whitespace));
    let texts = if is_unquoted {
        vec![arguments.join(" ")]
    } else {
        arguments.to_vec()
    };
    texts
        .iter()
        .flat_map(|text| text.split([';', '\n']))
        .map(|line| line.trim().to_owned())
        .filter(|line| !line.is_empty())
        .collect()
}

/// A fault with its line under it and a mark at the place.
fn problem(index: usize, text: &str, fault: &notation::NotationError) -> problem::Problem {
    let before = text.get(..fault.span.start).unwrap_or_default();
    let faulty = text.get(fault.span.clone()).unwrap_or_default();
    let what = format!(
        "{}\n    {text}\n    {}{}",
        fault.what,
        " ".repeat(before.chars().count()),
        "^".repeat(faulty.chars().count().max(1)),
    );
    problem::Problem::new(format!("line {}", index + 1), what, fault.hint.clone())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn owned(arguments: &[&str]) -> Vec<String> {
        arguments.iter().map(|&it| it.to_owned()).collect()
    }

    #[test]
    fn arguments_become_lines() {
        for (arguments, wanted) in [
            (
                &["gear A 12 drives gear B 36", "A turns 9; turns of B"][..],
                &["gear A 12 drives gear B 36", "A turns 9", "turns of B"][..],
            ),
            (
                &[
                    "gear", "A", "12", "drives", "gear", "B", "36;", "A", "turns", "9",
                ],
                &["gear A 12 drives gear B 36", "A turns 9"],
            ),
            (&["rack R"], &["rack R"]),
            (&[" ; "], &[]),
        ] {
            assert_eq!(lines(&owned(arguments)), owned(wanted));
        }
    }

    #[test]
    fn faults_stand_under_their_place() {
        let faults = read(&owned(&["gear A 12 drvies gear B 36", "B turnz 9"]))
            .map(|_| ())
            .expect_err("faulty");
        assert_eq!(faults.len(), 2);
        assert_eq!(faults[0].place, "line 1");
        assert!(
            faults[0]
                .what
                .ends_with("\n    gear A 12 drvies gear B 36\n              ^^^^^^"),
            "{}",
            faults[0].what
        );
        let faults = read(&owned(&["gear A 12", "ask: turns of C"]))
            .map(|_| ())
            .expect_err("faulty");
        assert!(
            faults[0]
                .what
                .ends_with("\n    ask: turns of C\n                  ^"),
            "{}",
            faults[0].what
        );
    }

    #[test]
    fn a_question_may_be_marked_as_one() {
        let typed = read(&owned(&["gear A 12", "ask: turns of A", "job of A"]))
            .unwrap_or_else(|problems| panic!("{problems:?}"));
        assert_eq!(typed.asks.len(), 2);
    }
}
