//! Explanations marked by hand (`tests/cases/by-hand/explanations.tsv`): which ideas a
//! teacher finds in them, and the mark to propose. The program proposes the same, and
//! settles none of them.

use crate::marked_homework;
use crate::marking::{Question, item, response};
use proptest::prelude::{ProptestConfig, Strategy};
use std::collections::{BTreeMap, BTreeSet};
use toothmark::answer;
use toothmark::answer::explaining::Polarity;
use toothmark::gears::idea::Idea;
use toothmark::item;
use toothmark::marking;
use toothmark::marking::check;

const CASES: &str = include_str!("../cases/by-hand/explanations.tsv");

fn question(line: &str) -> (&str, item::Item) {
    let cells: Vec<&str> = line.split('\t').collect();
    let [name, mechanism, ask, form, marks] = cells[..] else {
        panic!("a question has five cells: {line}");
    };
    let item = item(&Question {
        number: "Q1",
        lines: mechanism.split(';').map(str::trim).collect(),
        ask,
        form,
        marks,
    });
    (name, item)
}

fn typed(text: &str) -> answer::Typed {
    answer::Typed {
        text: text.to_owned(),
        undone: Vec::new(),
    }
}

fn found(item: &item::Item, text: &str) -> Vec<(Idea, Polarity)> {
    match answer::read(&typed(text), &item.form) {
        answer::Reading::Read(candidates) => candidates
            .iter()
            .filter_map(|candidate| match &candidate.given {
                answer::Given::Explanation(explanation) => Some(&explanation.ideas),
                answer::Given::Quantity { .. }
                | answer::Given::Ratio(..)
                | answer::Given::Entry(_)
                | answer::Given::Gears(_) => None,
            })
            .flatten()
            .map(|found| (found.idea, found.polarity))
            .collect(),
        answer::Reading::Blank
        | answer::Reading::DontKnow
        | answer::Reading::Unreadable { .. }
        | answer::Reading::OtherKind { .. }
        | answer::Reading::Several(_) => Vec::new(),
    }
}

fn idea(id: &str) -> Idea {
    Idea::all()
        .find(|idea| idea.id() == id)
        .unwrap_or_else(|| panic!("no idea {id}"))
}

/// What does not fit, in a few words.
fn misfits(item: &item::Item, text: &str, wanted: &str, marks: &str) -> Vec<String> {
    let mut misfits = Vec::new();
    let found: BTreeMap<Idea, Polarity> = found(item, text).into_iter().collect();
    let mut plain: BTreeSet<(Idea, bool)> = BTreeSet::new();
    for want in wanted.split(' ').filter(|want| *want != "·") {
        let (sign, id) = want.split_at(1);
        match sign {
            "+" => {
                plain.insert((idea(id), true));
            }
            "-" => {
                plain.insert((idea(id), false));
            }
            "?" if matches!(
                found.get(&idea(id)),
                Some(Polarity::True | Polarity::Against)
            ) =>
            {
                misfits.push(format!("{id} is taken for clear"));
            }
            "?" => {}
            other => panic!("no sign {other} in {wanted}"),
        }
    }
    let read: BTreeSet<(Idea, bool)> = found
        .iter()
        .filter_map(|(idea, polarity)| match polarity {
            Polarity::True => Some((*idea, true)),
            Polarity::Against => Some((*idea, false)),
            Polarity::Unclear => None,
        })
        .collect();
    let said = |(idea, is_true): &(Idea, bool)| {
        format!("{}{}", if *is_true { "+" } else { "-" }, idea.id())
    };
    misfits.extend(
        plain
            .difference(&read)
            .map(|it| format!("missed {}", said(it))),
    );
    misfits.extend(
        read.difference(&plain)
            .map(|it| format!("made up {}", said(it))),
    );
    let policy = marking::policy::Policy::default();
    let answers = response(&[("Q1", text)], &[]);
    let mark = &marking::mark_sheet(std::slice::from_ref(item), &answers, &policy)[0];
    if mark.marks.to_string() != marks {
        misfits.push(format!("marks {} not {marks}", mark.marks));
    }
    if mark.check.is_empty() {
        misfits.push("settled without a look".to_owned());
    }
    if mark.like.is_empty() {
        misfits.push("in no group".to_owned());
    }
    if mark.marks == item.marks && mark.reason.contains("A mark could be had") {
        misfits.push("more could be had than there is".to_owned());
    }
    if found.is_empty() != mark.check.contains("no idea was found") {
        misfits.push(format!("looked at because of \"{}\"", mark.check));
    }
    misfits
}

#[test]
fn explanations_are_understood_as_a_teacher_understands_them() {
    let mut questions: BTreeMap<&str, item::Item> = BTreeMap::new();
    let mut wrong = Vec::new();
    let mut count = 0;
    for (index, line) in CASES.lines().enumerate() {
        if line.starts_with('#') || line.trim().is_empty() {
            continue;
        }
        if let Some(line) = line.strip_prefix('@') {
            let (name, item) = question(line);
            questions.insert(name, item);
            continue;
        }
        let cells: Vec<&str> = line.split('\t').collect();
        let [name, text, wanted, marks] = cells[..] else {
            panic!("line {}: a case has four cells", index + 1);
        };
        count += 1;
        let item = &questions[name];
        let misfits = misfits(item, text, wanted, marks);
        if !misfits.is_empty() {
            wrong.push(format!(
                "{}: {name}: \"{text}\": {}",
                index + 1,
                misfits.join(", ")
            ));
        }
    }
    assert!(count >= 150 && questions.len() >= 12);
    assert!(
        wrong.is_empty(),
        "{} of {count}:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn what_was_read_in_an_explanation_is_said() {
    let (_, item) =
        question("why\tgear A 12 drives gear B 36; A turns 9\twhy faster of A, B\t-\t2");
    let said = |text: &str| {
        let answer::Reading::Read(candidates) = answer::read(&typed(text), &item.form) else {
            panic!("an explanation is read: {text}");
        };
        let said: Vec<String> = candidates.into_iter().map(|it| it.said).collect();
        said.join(" | ")
    };
    for (text, wanted) in [
        (
            "A, it has fewer teeth",
            "gear A; the smaller one, with fewer teeth, turns faster",
        ),
        ("A", "gear A; no idea found"),
        (
            "B, it has fewer teeth so it turns slower",
            "gear B; the wrong way round: the bigger one turns faster",
        ),
    ] {
        assert_eq!(said(text), wanted, "{text}");
    }
}

#[test]
fn the_same_words_to_other_numbers_are_one_answer_of_a_row() {
    let why = |teeth: &str| {
        question(&format!(
            "why\tgear A {teeth} drives gear B 60\twhy faster of A, B\t-\t2"
        ))
        .1
    };
    let mut homework = marked_homework::homework(&["P1", "P2", "P3"]);
    homework.sheets[0].items = vec![why("12")];
    let mut other = homework.sheets[0].clone();
    other.version = "B".to_owned();
    other.items = vec![why("20")];
    homework.sheets.push(other);
    homework.pupils[1].sheet = 1;
    let responses = [
        marked_homework::handed_in("P1", &["A, it has fewer teeth"]),
        marked_homework::handed_in("P2", &["A, it has  fewer TEETH"]),
        marked_homework::handed_in("P3", &["fewer teeth on A so A"]),
    ];
    let marked = marked_homework::mark(&homework, &responses, &[]);
    let rows = check::rows(&marked);
    let [row] = &rows[..] else {
        panic!("one row: {rows:?}");
    };
    assert_eq!(row.pupil_ids, ["P1", "P2", "P3"]);
    let codes: Vec<usize> = row.answers.iter().map(|it| it.codes.len()).collect();
    assert_eq!(codes, [2, 1], "{:?}", row.answers);
}

proptest::proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn no_explanation_is_ever_settled_without_a_person(
        text in proptest::prop_oneof![
            proptest::collection::vec(proptest::sample::select(PIECES), 0..9)
                .prop_map(|words| words.join(" ")),
            "\\PC{0,40}",
        ],
    ) {
        let policy = marking::policy::Policy {
            odd_text_is_checked: false,
            ..marking::policy::Policy::default()
        };
        for line in CASES.lines().filter_map(|line| line.strip_prefix('@')) {
            let (name, item) = question(line);
            let answers = response(&[("Q1", &text)], &[]);
            let mark = &marking::mark_sheet(std::slice::from_ref(&item), &answers, &policy)[0];
            let is_nothing = mark.state == marking::State::Blank && mark.marks == 0;
            proptest::prop_assert!(!mark.check.is_empty() || is_nothing, "{name}: {text}");
            proptest::prop_assert!(mark.marks <= item.marks);
        }
    }
}

/// Pieces of explanations, for texts at random.
const PIECES: &[&str] = &[
    "A",
    "B",
    "C",
    "it",
    "the",
    "a",
    "big",
    "smaller",
    "gear",
    "one",
    "teeth",
    "more",
    "fewer",
    "faster",
    "slow",
    "stronger",
    "because",
    "so",
    "and",
    "but",
    "not",
    "no",
    "yes",
    "same",
    "way",
    "opposite",
    "clockwise",
    "touch",
    "middle",
    "odd",
    "even",
    "3",
    "12",
    "twice",
    "half",
    "loop",
    "chain",
    "axle",
    ",",
    ".",
    "worm",
    "than",
    "first",
    "pushes",
    "both",
    "is",
    "\n",
    "idk",
    "?",
    "though",
    "each",
    "tooth",
    "row",
    "inside",
];
