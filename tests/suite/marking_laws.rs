//! What holds of the mark of any answer to any question: laws with random input.

use crate::marking::{Question, response};
use proptest::prelude::Strategy;
use toothmark::answer;
use toothmark::gears::{notation, solve};
use toothmark::item;
use toothmark::marking;

fn item(line: &str, ask: &str, form: &str, marks: u8) -> item::Item {
    crate::marking::item(&Question {
        number: "Q1",
        lines: line.split(';').map(str::trim).collect(),
        ask,
        form,
        marks: &marks.to_string(),
    })
}

/// Lines of a random mechanism with a question that has an answer.
fn random_question() -> impl Strategy<Value = (String, &'static str)> {
    use proptest::prelude::*;
    let teeth = 8_u32..60;
    prop_oneof![
        (teeth.clone(), teeth.clone(), 1_u32..60).prop_map(|(a, b, n)| {
            (
                format!("gear A {a} drives gear B {b}; A turns {n}"),
                "turns of B",
            )
        }),
        (teeth.clone(), teeth.clone(), teeth.clone(), 1_u32..90).prop_map(|(a, b, c, n)| {
            (
                format!("gear A {a} drives gear B {b} drives gear C {c}; C runs at {n} rpm"),
                "speed of A",
            )
        }),
        (teeth.clone(), teeth.clone(), teeth.clone(), teeth.clone()).prop_map(|(a, b, c, d)| {
            (
                format!(
                    "gear A {a} drives gear B {b}; gear B {b}, gear C {c} on one axle; gear C {c} \
                     drives gear D {d}"
                ),
                "ratio of turns A : D",
            )
        }),
        (1_u32..5, teeth.clone(), 1_u32..200).prop_map(|(starts, b, n)| {
            (
                format!("worm W {starts} starts drives gear B {b}; W turns {n}"),
                "turns of B",
            )
        }),
        (teeth.clone(), 1_u32..9, 1_u32..9).prop_map(|(a, size, n)| {
            (
                format!("gear P {a} drives rack R; tooth size {size} mm; P turns {n}"),
                "distance of R",
            )
        }),
        (teeth.clone(), teeth, 1_u32..90).prop_map(|(a, b, force)| {
            (
                format!("gear A {a} drives gear B {b}; turning force {force} N cm on A"),
                "turning force of B",
            )
        }),
    ]
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(400))]

    #[test]
    fn an_item_s_own_answer_earns_everything(
        (line, ask) in random_question(),
        precision in proptest::sample::select(vec!["-", "whole", "1 place", "3 figures"]),
        marks in 1_u8..4,
    ) {
        let form = if ask.starts_with("ratio") { "simplest" } else { precision };
        let item = item(&line, ask, form, marks);
        let mechanism = notation::read(&line.split(';').map(str::trim).collect::<Vec<_>>())
            .expect("a good mechanism");
        let fact = solve::answer(&mechanism, &item.ask)
            .expect("it can be solved")
            .fact;
        let mut writings = answer::accepted(&fact, &item.form);
        writings.push(answer::expected(&fact, &item.form));
        for text in writings {
            let marked = marking::mark_sheet(
                std::slice::from_ref(&item),
                &response(&[("Q1", &text)], &[]),
                &marking::policy::Policy::default(),
            );
            let mark = &marked[0];
            proptest::prop_assert_eq!(mark.marks, marks, "{:?}", mark);
            proptest::prop_assert_eq!(mark.check.as_str(), "", "{:?}", mark);
        }
    }

    #[test]
    fn no_text_earns_too_much_or_breaks_anything(
        (line, ask) in random_question(),
        text in "\\PC{0,20}|[0-9 :/.,x=×÷ a-z-]{0,24}",
        working in "\\PC{0,20}|[0-9 +×÷=/a-z-]{0,30}",
        marks in 1_u8..6,
    ) {
        let form = if ask.starts_with("ratio") { "simplest, working" } else { "working" };
        let item = item(&line, ask, form, marks);
        let marked = marking::mark_sheet(
            &[item],
            &response(&[("Q1", &text)], &[("Q1", &working)]),
            &marking::policy::Policy::default(),
        );
        let mark = &marked[0];
        proptest::prop_assert!(mark.marks <= mark.out_of);
        proptest::prop_assert!(mark.reason.ends_with('.'), "{:?}", mark);
    }
}
