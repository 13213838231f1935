//! Feedback and task cards, read back.

use super::*;
use crate::answer;
use crate::feedback;
use crate::feedback::words;
use crate::marking;
use crate::marking::handed_in;
use crate::marking::policy;
use crate::paper::cards as card_data;
use crate::practical;
use crate::practical::card;
use crate::practical::caution;
use std::collections::BTreeMap;

/// What is said to pupils who all answered one question, and that wrongly.
fn feedback_for(names: &[&str], level: u8, words: &words::Words) -> feedback::Feedback {
    let homework = examples::homework(names, level);
    let typed = answer::Typed {
        text: "7".to_owned(),
        undone: Vec::new(),
    };
    let responses: Vec<marking::Response> = homework
        .pupils
        .iter()
        .map(|assignment| marking::Response {
            pupil_id: assignment.pupil.id.clone(),
            attendance: marking::Attendance::Present,
            answers: BTreeMap::from([("Q1".to_owned(), typed.clone())]),
            working: BTreeMap::new(),
            origin: handed_in::Origin::default(),
        })
        .collect();
    let marked = marking::mark_homework(&marking::Batch {
        homework: &homework,
        responses: &responses,
        decisions: &[],
        policy: &policy::Policy::default(),
        date: "2026-03-12",
    });
    feedback::give(&feedback::Request {
        marked: &marked,
        homework: &homework,
        words,
        marks: feedback::Marks::Told,
        seed: "s",
    })
    .expect("the marks belong to the homework")
}

/// The text of every page on one line.
fn pages_of(feedback: &feedback::Feedback) -> Vec<String> {
    let (pages, _) = paper::feedback_pages(feedback).expect("it can be set");
    pages.lines().iter().map(|lines| lines.join(" ")).collect()
}

#[test]
fn feedback_is_tagged_titled_and_has_text_alternatives() {
    let feedback = feedback_for(&["Amina Cole", "Ben Hart"], 4, &words::Words::default());
    let bytes = paper::feedback(&feedback).expect("it can be set");
    let document = open(&bytes);
    assert_accessible(&document, "Feedback: Gears: turns and ratio");
    let alternatives = entries(&document, b"Alt");
    assert_eq!(alternatives.len(), 3, "of the class and of two pupils");
    assert!(
        alternatives
            .into_iter()
            .all(|alt| text(alt).starts_with("Drawing."))
    );
    assert!(
        bytes == paper::feedback(&feedback).expect("again"),
        "two files"
    );
}

#[test]
fn the_class_page_comes_first_and_then_four_notes_a_page_in_roll_order() {
    let names = [
        "Amina Cole",
        "Ben Hart",
        "Cai Pugh",
        "Dilys Orr",
        "Eve Lund",
    ];
    for level in [1, 4, 7] {
        let pages = pages_of(&feedback_for(&names, level, &words::Words::default()));
        let [class, first, second] = pages.as_slice() else {
            panic!("level {level}: {} pages", pages.len());
        };
        assert!(
            class.contains("for the class's own teacher only"),
            "{class}"
        );
        let places: Vec<Option<usize>> = names[..4].iter().map(|it| first.find(it)).collect();
        assert!(places.iter().all(Option::is_some), "{first}");
        assert!(places.is_sorted(), "{first}");
        assert!(second.contains(names[4]), "{second}");
        assert!(
            second.contains("Practise this") && second.contains("Answer: "),
            "{second}"
        );
    }
}

#[test]
fn hostile_names_and_words_are_printed_as_they_are() {
    let file = "[note]\ntried = \"#read(\\\"x\\\") *b* _i_ $y$ [z] @w <l> `c`\"\n\
                practise = \"\\u0007=SUM(A1)\\u202E\"\n\
                answer = \"{answer} #panic()\"\n[class]\nprivate = \"#set page(width: 1cm)\"\n";
    let words = words::read(file, "words.toml").expect("well formed");
    let names = ["#read(\"/etc/passwd\")", "$x$ [y] @z *b* _i_ `c` <l>"];
    let feedback = feedback_for(&names, 4, &words);
    let all = pages_of(&feedback).join(" ");
    for wanted in [
        "#read(\"/etc/passwd\")",
        "$x$ [y] @z *b* _i_ `c` <l>",
        "#read(\"x\") *b* _i_ $y$ [z] @w <l> `c`",
        "=SUM(A1)",
        "#panic()",
        "#set page(width: 1cm)",
    ] {
        assert!(all.contains(wanted), "{wanted}: {all}");
    }
    paper::feedback(&feedback).expect("hostile words do not break the export");
}

#[test]
fn words_as_long_as_they_may_be_still_fit() {
    let long = "words ".repeat(40);
    let file = format!(
        "[note]\ncan = \"{long}\"\ntried = \"{long}\"\npractise = \"{long}\"\nexample = \"{long}\"\n\
         [skill.turns]\npractise = \"{long}\"\ncan = \"{long}\"\n"
    );
    let words = words::read(&file, "words.toml").expect("well formed");
    let names = ["Amina Cole", "Ben Hart", "Cai Pugh", "Dilys Orr"];
    let pages = pages_of(&feedback_for(&names, 4, &words));
    assert_eq!(pages.len(), 2, "{pages:#?}");
    assert!(
        names.iter().all(|name| pages[1].contains(name)),
        "{}",
        pages[1]
    );
    assert_eq!(pages[1].matches("Answer: ").count(), 4, "{}", pages[1]);
}

/// The text of the pages of cards, on one line each.
fn card_pages(cards: &[card::Card<'_>], side: card_data::Side) -> Vec<String> {
    let pack = paper::Cards {
        title: "Tasks",
        edition: "1",
        cards,
    };
    let (pages, _) = paper::card_pages(&pack, side).expect("it can be set");
    pages.lines().iter().map(|lines| lines.join(" ")).collect()
}

#[test]
fn every_shipped_card_is_one_page_with_its_cautions_and_without_its_answers() {
    let tasks = practical::usual();
    let cards: Vec<card::Card<'_>> = tasks.tasks.iter().map(card::card).collect();
    let pages = card_pages(&cards, card_data::Side::Pupils);
    assert_eq!(pages.len(), cards.len());
    for (page, card) in pages.iter().zip(&cards) {
        assert!(page.contains(&card.task.title), "{page}");
        assert!(page.contains("risk assessment and local rules"), "{page}");
        assert!(page.contains(caution::TO_PUPILS), "{page}");
        for caution in &card.cautions {
            assert!(page.contains(caution.to_pupils()), "{caution:?}: {page}");
        }
        for worked in &card.worked {
            let is_number = matches!(worked.form, answer::Form::Number { .. });
            assert!(
                !is_number || !page.contains(&worked.answer),
                "{}",
                worked.answer
            );
        }
    }
    let all = card_pages(&cards, card_data::Side::Teacher).join(" ");
    assert_eq!(all.matches(caution::DEFERS).count(), cards.len());
    for card in &cards {
        for worked in &card.worked {
            assert!(
                all.contains(&format!("Answer: {}", worked.answer)),
                "{worked:?}"
            );
        }
        for caution in &card.cautions {
            assert!(all.contains(caution.to_the_teacher()), "{caution:?}");
        }
    }
}

#[test]
fn cards_are_tagged_titled_and_each_has_its_drawing() {
    let tasks = practical::usual();
    let cards: Vec<card::Card<'_>> = tasks.tasks.iter().map(card::card).collect();
    let pack = paper::Cards {
        title: &tasks.title,
        edition: &tasks.edition,
        cards: &cards,
    };
    let for_pupils = paper::cards(&pack).expect("it can be set");
    assert!(
        for_pupils == paper::cards(&pack).expect("again"),
        "two files"
    );
    let for_the_teacher = paper::teacher_cards(&pack).expect("it can be set");
    for (bytes, title) in [
        (for_pupils, "Hands-on tasks with gears"),
        (
            for_the_teacher,
            "For the teacher: Hands-on tasks with gears",
        ),
    ] {
        let document = open(&bytes);
        assert_accessible(&document, title);
        assert_eq!(entries(&document, b"Alt").len(), cards.len());
    }
}
