//! Sheets for pupils who need them otherwise: every option, read back.

use crate::homework;
use crate::need;
use crate::paper;
use crate::paper::examples;
use crate::paper::tests;

/// Every option by name: what the class needs.
pub(super) fn options() -> Vec<(&'static str, need::Needs)> {
    let usual = need::Needs::default();
    let size = |print_size| need::Needs {
        print_size,
        ..usual
    };
    vec![
        ("usual", usual),
        ("18-point", size(need::PrintSize::Point18)),
        ("24-point", size(need::PrintSize::Point24)),
        ("36-point", size(need::PrintSize::Point36)),
        (
            "wide-spacing",
            need::Needs {
                spacing: need::Spacing::Wide,
                ..usual
            },
        ),
        (
            "tint",
            need::Needs {
                tint: need::Tint::Blue,
                ..usual
            },
        ),
        (
            "word-card",
            need::Needs {
                word_card: need::WordCard::With,
                ..usual
            },
        ),
        (
            "answers-apart",
            need::Needs {
                answers: need::Answers::Apart,
                ..usual
            },
        ),
        (
            "one-question-a-page",
            need::Needs {
                questions_a_page: need::QuestionsAPage::AtMost(1),
                ..usual
            },
        ),
        (
            "everything",
            need::Needs {
                print_size: need::PrintSize::Point24,
                spacing: need::Spacing::Wide,
                tint: need::Tint::Cream,
                word_card: need::WordCard::With,
                answers: need::Answers::Apart,
                questions_a_page: need::QuestionsAPage::AtMost(2),
            },
        ),
    ]
}

/// A class all of whose pupils need the same.
pub(super) fn class(usual: need::Needs) -> need::Class {
    need::Class {
        usual,
        ..need::Class::default()
    }
}

fn example() -> homework::Homework {
    examples::homework(&["Amina Cole", "Ben Hart"], 4)
}

#[test]
fn every_option_is_tagged_titled_described_and_the_same_each_time() {
    for (name, needs) in options() {
        let homework = example();
        let bytes = paper::sheets(&homework, &class(needs)).expect(name);
        assert!(
            bytes == paper::sheets(&homework, &class(needs)).expect(name),
            "{name}: two runs gave different files"
        );
        let document = tests::open(&bytes);
        tests::assert_accessible(&document, "Gears: turns and ratio");
        let figures = tests::entries(&document, b"S")
            .into_iter()
            .filter(|kind| kind.as_name().is_ok_and(|kind| kind == b"Figure"))
            .count();
        let alternatives: Vec<String> = tests::entries(&document, b"Alt")
            .into_iter()
            .map(tests::text)
            .collect();
        assert_eq!(figures, alternatives.len(), "{name}");
        assert!(
            figures >= 10,
            "{name}: a drawing for each question: {figures}"
        );
        for alternative in alternatives {
            assert!(
                alternative.starts_with("Drawing. "),
                "{name}: {alternative}"
            );
        }
    }
}

#[test]
fn every_option_asks_every_question_with_its_marks_and_splits_none() {
    for (name, needs) in options() {
        let pages = tests::pages_for(&example(), &class(needs)).lines();
        for question in [
            ("Gear A makes 7 full turns.", "Question 1"),
            ("Which way does gear B turn?", "Question 2"),
            ("Which gear turns faster?", "Question 3"),
            ("What is the ratio", "Question 3"),
            ("What is part A called?", "Question 4"),
            ("Gears in the box:", "Question 5"),
        ] {
            // A text may be broken into lines.
            let asked: Vec<String> = pages
                .iter()
                .map(|page| page.join(" "))
                .filter(|page| page.contains(question.0))
                .collect();
            assert!(asked.len() >= 2, "{name}: {question:?} on both sheets");
            for page in asked {
                assert!(page.contains(question.1), "{name}: {question:?}: {page}");
                assert!(page.contains("mark"), "{name}: {question:?}: {page}");
            }
        }
    }
}

#[test]
fn large_print_has_no_smaller_type_and_its_own_paper() {
    for (size, point, paper) in [
        (need::PrintSize::Point18, 18.0, (210.0, 297.0)),
        (need::PrintSize::Point24, 24.0, (210.0, 297.0)),
        (need::PrintSize::Point36, 36.0, (297.0, 420.0)),
    ] {
        for spacing in [need::Spacing::Usual, need::Spacing::Wide] {
            let needs = need::Needs {
                print_size: size,
                spacing,
                word_card: need::WordCard::With,
                ..need::Needs::default()
            };
            let pages = tests::pages_for(&example(), &class(needs));
            assert!(pages.smallest_type() > point - 0.01, "{size:?}");
            assert!(
                pages.sizes_mm().iter().all(|found| *found == paper),
                "{size:?}"
            );
        }
    }
}

#[test]
fn answers_apart_stand_on_pages_of_their_own() {
    let needs = need::Needs {
        answers: need::Answers::Apart,
        ..need::Needs::default()
    };
    let pages = tests::pages_for(&example(), &class(needs)).lines();
    let mut answer_sheets = 0;
    for page in &pages {
        let page = page.join(" ");
        if page.contains("Answer sheet") {
            answer_sheets += usize::from(page.contains("page 1 of"));
            assert!(!page.contains("Gear A makes"), "{page}");
        } else {
            assert!(page.contains("Questions"), "{page}");
            assert!(!page.contains("Answer:"), "{page}");
            assert!(!page.contains("Tick one box."), "{page}");
        }
    }
    assert_eq!(answer_sheets, 2, "one for each pupil");
}

#[test]
fn no_more_questions_stand_on_a_page_than_are_wanted() {
    for most in [1, 2] {
        let needs = need::Needs {
            questions_a_page: need::QuestionsAPage::AtMost(most),
            ..need::Needs::default()
        };
        for page in tests::pages_for(&example(), &class(needs)).lines() {
            let count = page
                .iter()
                .filter(|line| line.starts_with("Question "))
                .count();
            assert!(count <= usize::from(most), "{most}: {page:?}");
        }
    }
}

#[test]
fn one_run_serves_pupils_with_different_needs() {
    let mut wishes = need::Wishes::default();
    assert!(wishes.take(need::Kind::PrintSize, "36"));
    assert!(wishes.take(need::Kind::Tint, "pink"));
    let class = need::Class {
        usual: need::Needs::default(),
        own: [("P2".to_owned(), wishes)].into_iter().collect(),
    };
    let pages = tests::pages_for(&example(), &class);
    for (index, page) in pages.lines().iter().enumerate() {
        let is_ben = page.join(" ").contains("Ben Hart");
        assert_eq!(pages.tinted()[index], is_ben, "page {index}");
        let wide = if is_ben { 297.0 } else { 210.0 };
        assert!(
            (pages.sizes_mm()[index].0 - wide).abs() < 0.5,
            "page {index}"
        );
    }
}

#[test]
fn a_long_name_and_class_take_one_line_of_a_header() {
    for (name, needs) in options() {
        let mut homework = example();
        let pupil = &mut homework.pupils[0].pupil;
        pupil.name = "Wilhelmina Montgomery-Wainwright of Warwick".to_owned();
        pupil.class = "Class of Mr Featherstonehaugh".to_owned();
        let pages = tests::pages_for(&homework, &class(needs)).lines();
        let of_the_first = pages
            .iter()
            .filter(|page| page.join(" ").contains("Wilhelm"));
        for page in of_the_first {
            let top = page.first().expect("a page has lines");
            // The first page of a run has its name in the text.
            let is_top = top.starts_with("Name: ") || !top.contains("Wilhelm");
            let is_whole = is_top || top.contains("K7Q2");
            assert!(is_whole, "{name}: the header is broken: {page:?}");
        }
    }
}
