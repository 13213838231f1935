//! What must hold for any input at all, for the fuzz targets and for the test that
//! plays their seeds again.
//!
//! An input is two bytes that choose a form or a question, then texts with a tab
//! between them; what is left out is empty.

use crate::marking::{Question, item};
use crate::target;
use std::collections::BTreeMap;
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use toothmark::answer;
use toothmark::gears::{ask, notation, solve};
use toothmark::item;
use toothmark::marking;
use toothmark::workbook::{cells, undo};

/// The longest that one answer may take to be read or marked, on a slow computer that
/// has other work, in a build without optimisation.
const LONGEST: Duration = Duration::from_secs(5);

/// The most meanings that are told.
const MOST_CANDIDATES: usize = 6;

/// Every target.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) const TARGETS: [target::Target; 4] = [
    target::Target {
        name: "answers",
        body: answers,
        seeds: seeds_of_answers,
    },
    target::Target {
        name: "working",
        body: working,
        seeds: seeds_of_working,
    },
    target::Target {
        name: "marks",
        body: marks,
        seeds: seeds_of_marks,
    },
    target::Target {
        name: "changes",
        body: changes,
        seeds: seeds_of_changes,
    },
];

const ANSWERS: &str = include_str!("../cases/answers.tsv");
const BY_HAND: [&str; 4] = [
    include_str!("../cases/by-hand/numbers.tsv"),
    include_str!("../cases/by-hand/words.tsv"),
    include_str!("../cases/by-hand/cells-and-working.tsv"),
    include_str!("../cases/by-hand/class-work.tsv"),
];

/// The questions of the cases marked by hand, with their names.
static QUESTIONS: LazyLock<BTreeMap<String, item::Item>> = LazyLock::new(|| {
    let lines = BY_HAND.iter().enumerate().flat_map(|(file, text)| {
        text.lines()
            .filter_map(move |line| Some((file, line.strip_prefix('@')?)))
    });
    lines
        .map(|(file, line)| {
            let cells: Vec<&str> = line.split('\t').collect();
            let [name, mechanism, ask, form, marks] = cells[..] else {
                panic!("a question has five cells: {line}");
            };
            let question = item(&Question {
                number: "Q1",
                lines: mechanism.split(';').map(str::trim).collect(),
                ask,
                form,
                marks,
            });
            (format!("{file} {name}"), question)
        })
        .collect()
});

/// The forms of the file of answers, with their names.
static FORMS: LazyLock<BTreeMap<String, answer::Form>> = LazyLock::new(|| {
    let lines = ANSWERS.lines().filter_map(|line| line.strip_prefix('@'));
    lines
        .map(|line| {
            let mut cells: Vec<&str> = line.split('\t').collect();
            cells.resize(4, "-");
            let [name, mechanism, ask, form] = cells[..] else {
                panic!("a form has up to four cells: {line}");
            };
            let question = item(&Question {
                number: "Q1",
                lines: mechanism.split("; ").collect(),
                ask,
                form,
                marks: "1",
            });
            (name.to_owned(), question.form)
        })
        .collect()
});

/// An input taken apart.
struct Input<'a> {
    choice: usize,
    rest: &'a [u8],
}

impl<'a> Input<'a> {
    fn of(data: &'a [u8]) -> Option<Self> {
        let (choice, rest) = data.split_first_chunk::<2>()?;
        Some(Self {
            choice: usize::from(u16::from_le_bytes(*choice)),
            rest,
        })
    }

    /// The chosen one of several.
    fn of_these<T>(&self, these: &'a BTreeMap<String, T>) -> &'a T {
        let found = these.values().nth(self.choice % these.len());
        found.expect("a remainder is smaller")
    }

    fn texts(&self) -> Vec<String> {
        texts(self.rest)
    }
}

fn texts(bytes: &[u8]) -> Vec<String> {
    String::from_utf8_lossy(bytes)
        .split('\t')
        .map(str::to_owned)
        .collect()
}

/// The first text, with the others as what may have been typed.
fn typed(texts: &[String]) -> answer::Typed {
    let (text, undone) = texts.split_first().expect("a text has a first piece");
    answer::Typed {
        text: text.clone(),
        undone: undone
            .iter()
            .map(|text| answer::Undone {
                text: text.clone(),
                why: "the cell holds the time 03:01:00".to_owned(),
            })
            .collect(),
    }
}

/// Returns what is done, after a check that it does not take long.
fn soon<T>(what: impl FnOnce() -> T) -> T {
    let begun = Instant::now();
    let done = what();
    let taken = begun.elapsed();
    assert!(taken < LONGEST, "it took {taken:?}");
    done
}

/// A typed answer is read, the same twice, and not for long.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn answers(data: &[u8]) {
    let Some(input) = Input::of(data) else {
        return;
    };
    let form = input.of_these(&FORMS);
    let typed = typed(&input.texts());
    let reading = soon(|| answer::read(&typed, form));
    assert_eq!(reading, answer::read(&typed, form));
    match reading {
        answer::Reading::Read(candidates) | answer::Reading::Several(candidates) => {
            assert!(!candidates.is_empty() && candidates.len() <= MOST_CANDIDATES);
            assert!(candidates.iter().all(|one| !one.said.is_empty()));
        }
        answer::Reading::Unreadable { why } | answer::Reading::OtherKind { why } => {
            assert!(!why.is_empty());
        }
        answer::Reading::Blank | answer::Reading::DontKnow => {}
    }
}

/// A chain of calculations is read and worked out, the same twice, and not for long.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn working(data: &[u8]) {
    let Some(input) = Input::of(data) else {
        return;
    };
    let typed = typed(&input.texts());
    let chain = soon(|| answer::read_working(&typed));
    assert_eq!(chain, answer::read_working(&typed));
    for calculation in &chain {
        assert!(!calculation.text.is_empty());
        assert_eq!(
            calculation.expression.value(),
            calculation.expression.value()
        );
    }
    let mut question = input.of_these(&QUESTIONS).clone();
    question.working = true;
    let wrong = answer::Typed {
        text: "1000003".to_owned(),
        undone: Vec::new(),
    };
    mark(&question, &wrong, &typed);
}

/// The mark of an answer, after a check of what holds for every mark.
fn mark(question: &item::Item, typed: &answer::Typed, working: &answer::Typed) -> marking::Mark {
    let policy = marking::policy::Policy::default();
    let mut response = crate::marking::response(&[], &[]);
    response.answers.insert("Q1".to_owned(), typed.clone());
    response.working.insert("Q1".to_owned(), working.clone());
    let once = || {
        let items = std::slice::from_ref(question);
        let mut marks = marking::mark_sheet(items, &response, &policy);
        assert_eq!(marks.len(), 1);
        marks.remove(0)
    };
    let mark = soon(once);
    assert_eq!(mark, once());
    assert!(mark.marks <= mark.out_of, "{mark:?}");
    assert!(mark.reason.ends_with('.'), "{mark:?}");
    let is_right = mark.state == marking::State::Correct;
    assert_eq!(is_right, mark.marks == mark.out_of, "{mark:?}");
    let is_partly = mark.state == marking::State::Partly;
    assert_eq!(is_partly, !is_right && mark.marks > 0, "{mark:?}");
    if mark.state == marking::State::Unreadable {
        assert!(!mark.check.is_empty(), "{mark:?}");
    }
    mark
}

/// One answer to one question is marked, and never with more than there is; what the
/// mark scheme writes for the question, with other numbers in it, always earns all.
///
/// Four bytes after the choice are added to the numbers of the question in turn.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn marks(data: &[u8]) {
    let Some(input) = Input::of(data) else {
        return;
    };
    let Some((more, rest)) = input.rest.split_first_chunk::<4>() else {
        return;
    };
    let Some(question) = with_other_numbers(input.of_these(&QUESTIONS), *more) else {
        return;
    };
    let nothing = answer::Typed::default();
    let texts = texts(rest);
    let (working, others) = texts.split_first().expect("a text has a first piece");
    let working = typed(std::slice::from_ref(working));
    if !others.is_empty() {
        mark(&question, &typed(others), &working);
    }
    let Ok(worked) = solve::answer(&question.mechanism, &question.ask) else {
        return;
    };
    // Nothing in the box fits: banks refuse such a question.
    if worked.fact == ask::Fact::Choices(Vec::new()) {
        return;
    }
    let mut right = answer::accepted(&worked.fact, &question.form);
    right.push(answer::expected(&worked.fact, &question.form));
    for text in right {
        // What rounds to nought says nothing.
        let says_something = text
            .chars()
            .any(|sign| sign.is_alphabetic() || ('1'..='9').contains(&sign));
        if says_something {
            let found = mark(&question, &typed(&[text]), &nothing);
            assert_eq!(
                found.marks,
                found.out_of,
                "{:?} {found:?}",
                notation::write(&question.mechanism)
            );
        }
    }
}

/// The question with so much more in each of its numbers in turn; none where that
/// makes no mechanism or no question.
fn with_other_numbers(question: &item::Item, more: [u8; 4]) -> Option<item::Item> {
    if more == [0; 4] {
        return Some(question.clone());
    }
    let mut place = 0;
    let mut changed = |line: &String| {
        let mut text = String::new();
        let mut digits = String::new();
        for sign in line.chars().chain([' ']) {
            if sign.is_ascii_digit() {
                digits.push(sign);
                continue;
            }
            if let Ok(number) = digits.parse::<u64>() {
                let more = more.get(place % more.len()).copied().unwrap_or_default();
                text.push_str(&(number.saturating_add(u64::from(more % 32))).to_string());
                place += 1;
            }
            digits.clear();
            text.push(sign);
        }
        text.trim_end().to_owned()
    };
    let lines: Vec<String> = notation::write(&question.mechanism)
        .iter()
        .map(&mut changed)
        .collect();
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    let mechanism = notation::read(&lines).ok()?;
    let ask = notation::write_ask(&question.ask, &question.mechanism);
    Some(item::Item {
        ask: notation::read_ask(&ask, &mechanism).ok()?,
        mechanism,
        ..question.clone()
    })
}

/// A cell that a program may have changed is brought back, the same twice: the choice
/// says what it holds and the form that it is read by, the texts are content, number
/// format, screen and formula.
#[allow(dead_code, reason = "each target needs itself only")]
pub(crate) fn changes(data: &[u8]) {
    let Some(input) = Input::of(data) else {
        return;
    };
    let texts = input.texts();
    let text = |index: usize| texts.get(index).cloned().unwrap_or_default();
    let whole = || text(0).parse::<i64>().unwrap_or(i64::MIN);
    let part = |length: i64| u32::try_from(whole().rem_euclid(length)).expect("small") + 1;
    let content = match input.choice % 6 {
        0 => cells::Content::Text(text(0)),
        1 => cells::Content::Number(text(0)),
        2 => cells::Content::Time {
            milliseconds: whole(),
        },
        3 => cells::Content::Date {
            year: i32::try_from(whole()).unwrap_or(i32::MAX),
            month: part(12),
            day: part(31),
        },
        4 => cells::Content::Truth(text(0).is_empty()),
        _ => cells::Content::Fault(text(0)),
    };
    let cell = cells::Cell {
        content,
        look: Some(Box::new(cells::Look {
            format: text(1),
            shown: text(2),
            formula: text(3),
        })),
    };
    let found = soon(|| undo::typed(&cell, 2026));
    assert_eq!(found, undo::typed(&cell, 2026));
    let forms = Input {
        choice: input.choice / 6,
        ..input
    };
    let form = forms.of_these(&FORMS);
    let reading = soon(|| answer::read(&found, form));
    assert_eq!(reading, answer::read(&found, form));
}

/// The texts as the cases write them.
fn unescaped(text: &str) -> String {
    text.replace("\\n", "\n").replace("\\t", " ")
}

fn place_of<T>(these: &BTreeMap<String, T>, name: &str) -> [u8; 2] {
    let place = these.keys().position(|known| known == name);
    let place = place.expect("the cases name only what they have");
    u16::try_from(place)
        .expect("fewer than 65536")
        .to_le_bytes()
}

fn seed(choice: [u8; 2], texts: &[&str]) -> Vec<u8> {
    let mut seed = choice.to_vec();
    seed.extend(
        unescaped(&texts.join("\u{1f}"))
            .replace('\u{1f}', "\t")
            .bytes(),
    );
    seed
}

/// The lines of a file of cases that are cases, as cells.
fn cases(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines()
        .filter(|line| !line.starts_with(['#', '@']) && !line.trim().is_empty())
        .map(|line| line.split('\t').collect())
}

#[allow(dead_code, reason = "the targets have them as files")]
fn seeds_of_answers() -> Vec<Vec<u8>> {
    let mut seeds: Vec<Vec<u8>> = cases(ANSWERS)
        .map(|cells| seed(place_of(&FORMS, cells[0]), &[cells[1]]))
        .collect();
    let ratio = place_of(&FORMS, "ratio");
    seeds.push(seed(ratio, &["03:01:00", "3:1"]));
    seeds.push(seed(ratio, &["1 March 2026", "1/3", "3/1", "1-3", "3-1"]));
    seeds
}

/// The cases marked by hand: the place of the question, and all cells.
fn by_hand() -> impl Iterator<Item = ([u8; 2], Vec<&'static str>)> {
    BY_HAND.iter().enumerate().flat_map(|(file, text)| {
        cases(text).map(move |cells| (place_of(&QUESTIONS, &format!("{file} {}", cells[0])), cells))
    })
}

#[allow(dead_code, reason = "the targets have them as files")]
fn seeds_of_working() -> Vec<Vec<u8>> {
    by_hand()
        .filter(|(_, cells)| !cells[3].is_empty())
        .map(|(place, cells)| seed(place, &[cells[3]]))
        .collect()
}

#[allow(dead_code, reason = "the targets have them as files")]
fn seeds_of_marks() -> Vec<Vec<u8>> {
    by_hand()
        .map(|(place, cells)| {
            let mut found = [place.to_vec(), vec![0; 4]].concat();
            found.extend(seed([0; 2], &[cells[3], cells[1]]).into_iter().skip(2));
            found
        })
        .collect()
}

#[allow(dead_code, reason = "the targets have them as files")]
fn seeds_of_changes() -> Vec<Vec<u8>> {
    [
        (0, "01/03/26", "", "", ""),
        (0, "2026-03-01 00:00:00", "", "", ""),
        (0, "03:01:00 AM", "", "", ""),
        (0, "1. Mrz", "", "", ""),
        (0, "Dec-36", "", "", ""),
        (0, "WAHR", "", "", ""),
        (1, "2.5", "# ?/?", "", ""),
        (1, "0.333333333333333", "# ??/??", "1/3", ""),
        (1, "0.5", "0.00%", "50.00%", ""),
        (1, "1000", "0.00E+00", "1.00E+03", ""),
        (
            1,
            "5",
            "[$£-809]#,##0.00;[RED]\\-[$£-809]#,##0.00",
            "£5.00",
            "",
        ),
        (1, "0.125694444444444", "@", "", ""),
        (1, "46054", "@", "", ""),
        (1, "20", "", "20", "60/3"),
        (1, "-3", "", "", ""),
        (1, "2.9999999999999996", "", "", ""),
        (1, "1E30", "", "", ""),
        (2, "10860000", "hh:mm:ss", "03:01:00", ""),
        (2, "62500", "mm:ss.00", "01:02.50", ""),
        (2, "46800000", "[h]:mm:ss", "", ""),
        (2, "-10860000", "", "", ""),
        (3, "2026", "dd/mm/yy", "01/03/26", ""),
        (3, "1936", "mmm\\-yy", "Dec-36", ""),
        (4, "", "\"TRUE\";\"TRUE\";\"FALSE\"", "TRUE", ""),
        (5, "#DIV/0!", "", "", "9/0"),
        (5, "Err:509", "", "", "-clockwise"),
    ]
    .into_iter()
    .map(|(kind, content, format, shown, formula)| {
        seed([kind, 0], &[content, format, shown, formula])
    })
    .collect()
}
