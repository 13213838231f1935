//! Marks that a careful person gives by the default policy, as data:
//! `tests/cases/marking.tsv` and `tests/cases/follow-through.tsv`.

use std::collections::BTreeMap;
use toothmark::answer;
use toothmark::gears::notation;
use toothmark::item;
use toothmark::level;
use toothmark::marking;
use toothmark::number;

const CASES: &str = include_str!("../cases/marking.tsv");
const FOLLOWING: &str = include_str!("../cases/follow-through.tsv");

/// What a case says of a question.
pub(crate) struct Question<'a> {
    pub(crate) number: &'a str,
    pub(crate) lines: Vec<&'a str>,
    pub(crate) ask: &'a str,
    pub(crate) form: &'a str,
    pub(crate) marks: &'a str,
}

/// The item of a question; the form is a list of unit, precision, `simplest`, `working`.
pub(crate) fn item(question: &Question<'_>) -> item::Item {
    let place = || format!("{:?} {}", question.lines, question.ask);
    let mechanism =
        notation::read(&question.lines).unwrap_or_else(|faults| panic!("{}: {faults:?}", place()));
    let ask = notation::read_ask(question.ask, &mechanism)
        .unwrap_or_else(|fault| panic!("{}: {fault:?}", place()));
    let mut unit = None;
    let mut precision = number::Precision::Exact;
    let (mut simplest, mut working) = (false, false);
    for bit in question.form.split(',').map(str::trim) {
        match bit {
            "-" => {}
            "simplest" => simplest = true,
            "working" => working = true,
            other => match (answer::Unit::parse(other), answer::parse_precision(other)) {
                (Some(found), _) => unit = Some(found),
                (None, Some(found)) => precision = found,
                (None, None) => panic!("a form not known: {other}"),
            },
        }
    }
    let form = answer::form_for(&mechanism, &ask, unit, precision, simplest)
        .unwrap_or_else(|fault| panic!("{}: {fault}", place()));
    item::Item {
        number: question.number.to_owned(),
        bank: "tests".to_owned(),
        template: "case".to_owned(),
        skill: level::Skill::Turns,
        level: "4".parse().expect("a level"),
        story: String::new(),
        question: String::new(),
        mechanism,
        ask,
        form,
        marks: question.marks.parse().expect("a count of marks"),
        working,
        follows: Vec::new(),
    }
}

pub(crate) fn typed(text: &str) -> answer::Typed {
    answer::Typed {
        text: text.to_owned(),
        undone: Vec::new(),
    }
}

pub(crate) fn response(answers: &[(&str, &str)], working: &[(&str, &str)]) -> marking::Response {
    let by_question = |texts: &[(&str, &str)]| -> BTreeMap<String, answer::Typed> {
        texts
            .iter()
            .map(|(question, text)| ((*question).to_owned(), typed(text)))
            .collect()
    };
    marking::Response {
        pupil_id: "P1".to_owned(),
        attendance: marking::Attendance::Present,
        answers: by_question(answers),
        working: by_question(working),
        origin: marking::handed_in::Origin::default(),
    }
}

fn lines(text: &str) -> Vec<&str> {
    text.split(';').map(str::trim).collect()
}

/// What a mark comes to, as the cases write it.
fn said(mark: &marking::Mark) -> [String; 4] {
    let misconceptions = if mark.misconceptions.is_empty() {
        "-".to_owned()
    } else {
        mark.misconceptions.join(", ")
    };
    let check = if mark.check.is_empty() { "no" } else { "yes" };
    [
        mark.marks.to_string(),
        mark.state.text().to_owned(),
        misconceptions,
        check.to_owned(),
    ]
}

fn cases(text: &str) -> impl Iterator<Item = (usize, Vec<&str>)> {
    text.lines()
        .enumerate()
        .filter(|(_, line)| !line.starts_with('#') && !line.is_empty())
        .map(|(index, line)| (index + 1, line.split('\t').collect()))
}

#[test]
fn every_case_is_marked_as_a_careful_person_would() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for (line, cells) in cases(CASES) {
        let [
            mechanism,
            ask,
            form,
            marks,
            answer,
            work,
            gets,
            state,
            ideas,
            check,
        ] = cells[..]
        else {
            panic!("marking.tsv:{line}: found {} cells, wanted 10", cells.len());
        };
        let item = item(&Question {
            number: "Q1",
            lines: lines(mechanism),
            ask,
            form,
            marks,
        });
        let response = response(&[("Q1", answer)], &[("Q1", work)]);
        let marked = marking::mark_sheet(&[item], &response, &marking::policy::Policy::default());
        let mark = marked.first().expect("one item, one mark");
        assert!(mark.reason.ends_with('.'), "{mark:?}");
        let found = said(mark);
        if found != [gets, state, ideas, check] {
            wrong.push(format!(
                "marking.tsv:{line}: {ask}, \"{answer}\" (right is {}): found {found:?}, wanted \
                 {:?}; {} [{}]",
                mark.expected,
                [gets, state, ideas, check],
                mark.reason,
                mark.check
            ));
        }
        count += 1;
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(count >= 120, "only {count} cases");
}

#[test]
fn a_slip_is_paid_for_once() {
    let mut wrong = Vec::new();
    for (line, cells) in cases(FOLLOWING) {
        let [
            first_lines,
            first_ask,
            first_form,
            first_answer,
            further_lines,
            ask,
            form,
            marks,
            answer,
            gets,
            state,
            ideas,
            check,
        ] = cells[..]
        else {
            panic!("follow-through.tsv:{line}: found {} cells", cells.len());
        };
        let first = item(&Question {
            number: "Q1a",
            lines: lines(first_lines),
            ask: first_ask,
            form: first_form,
            marks: "2",
        });
        let mut all = lines(first_lines);
        all.extend(lines(further_lines));
        let mut second = item(&Question {
            number: "Q1b",
            lines: all,
            ask,
            form,
            marks,
        });
        second.follows = vec!["Q1a".to_owned()];
        let response = response(&[("Q1a", first_answer), ("Q1b", answer)], &[]);
        let marked = marking::mark_sheet(
            &[first, second],
            &response,
            &marking::policy::Policy::default(),
        );
        let mark = marked.get(1).expect("two items, two marks");
        let found = said(mark);
        if found != [gets, state, ideas, check] {
            wrong.push(format!(
                "follow-through.tsv:{line}: \"{first_answer}\" then \"{answer}\": found {found:?}, \
                 wanted {:?}; {} [{}]",
                [gets, state, ideas, check],
                mark.reason,
                mark.check
            ));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
