//! Every switch of a marking policy changes what it says, and is shown.

use crate::by_hand;
use crate::marking::{Question, item, response};
use toothmark::answer;
use toothmark::marking;
use toothmark::marking::policy;

const PAIR: &str = "gear A 12 drives gear B 36; A turns 9";

/// What a switch changes: a question, an answer with its working, and what it comes to
/// before and after.
struct Case {
    set: &'static str,
    mechanism: &'static str,
    ask: &'static str,
    form: &'static str,
    marks: &'static str,
    text: &'static str,
    working: &'static str,
    before: &'static str,
    after: &'static str,
}

const fn case(
    set: &'static str,
    text: &'static str,
    before: &'static str,
    after: &'static str,
) -> Case {
    Case {
        set,
        mechanism: PAIR,
        ask: "turns of B",
        form: "working",
        marks: "2",
        text,
        working: "",
        before,
        after,
    }
}

const CASES: &[Case] = &[
    case(
        "other_forms_are_settled = false",
        "6/2",
        "2 correct no",
        "2 correct yes",
    ),
    case(
        "other_forms_are_settled = false",
        "3.0 turns",
        "2 correct no",
        "2 correct no",
    ),
    Case {
        mechanism: "gear A 12 drives gear B 28; A turns 5",
        ..case("accuracy_costs = 0", "2.1", "1 partly no", "2 correct no")
    },
    Case {
        mechanism: "gear P 20 drives rack R; tooth size 2 mm; P turns 30",
        ask: "distance of R",
        form: "mm, 1 place",
        ..case("rough_pi_costs = 0", "3768", "1 partly no", "2 correct no")
    },
    case("missing_unit_costs = 1", "3", "2 correct no", "1 partly no"),
    case(
        "missing_unit_costs = 1",
        "3 turns",
        "2 correct no",
        "2 correct no",
    ),
    Case {
        ask: "centre distance of A, B",
        mechanism: "gear A 20 drives gear B 40; tooth size 2 mm",
        form: "mm",
        ..case(
            "other_units_are_converted = false",
            "6 cm",
            "2 correct no",
            "1 partly no",
        )
    },
    case("wrong_unit_costs = 2", "3 cm", "1 partly no", "0 wrong yes"),
    Case {
        marks: "1",
        ..case(
            "wrong_unit_is_checked = false",
            "3 cm",
            "0 wrong yes",
            "0 wrong no",
        )
    },
    // Digits lost beside the unit: no mark is left, and that is looked at all the same.
    Case {
        mechanism: "gear A 12 drives gear B 28; A turns 5",
        marks: "1",
        ..case(
            "wrong_unit_is_checked = false",
            "2.1 cm",
            "0 wrong yes",
            "0 wrong yes",
        )
    },
    Case {
        ask: "ratio of turns A : B",
        form: "-",
        ..case(
            "number_for_ratio_is_settled = false",
            "3",
            "2 correct no",
            "2 correct yes",
        )
    },
    Case {
        ask: "ratio of turns A : B",
        form: "simplest",
        ..case(
            "unsimplified_costs = 0",
            "36:12",
            "1 partly no",
            "2 correct no",
        )
    },
    Case {
        ask: "ratio of turns A : B",
        form: "simplest",
        ..case("reversed_earns = 0", "1:3", "1 partly no", "0 wrong no")
    },
    case(
        "answer_only_earns_all = false",
        "3",
        "2 correct no",
        "1 partly no",
    ),
    // One mark has none to lose, and where no working is asked for none is missed.
    Case {
        marks: "1",
        ..case(
            "answer_only_earns_all = false",
            "3",
            "1 correct no",
            "1 correct no",
        )
    },
    Case {
        form: "-",
        ..case(
            "answer_only_earns_all = false",
            "3",
            "2 correct no",
            "2 correct no",
        )
    },
    Case {
        working: "9 / 3 = 3",
        ..case(
            "answer_only_earns_all = false",
            "3",
            "2 correct no",
            "2 correct no",
        )
    },
    Case {
        working: "9 x 12 = 108, 108 / 36 = 4",
        ..case(
            "working_earns_method = false",
            "4",
            "1 partly no",
            "0 wrong no",
        )
    },
    Case {
        marks: "3",
        working: "9 x 12 = 108, 108 / 36 = 4",
        ..case("right_method_earns = 2", "4", "1 partly no", "2 partly no")
    },
    case(
        "misconception_credit = false",
        "27",
        "1 partly no",
        "0 wrong no",
    ),
    case(
        "two_answers_are_checked = false",
        "3 or 4",
        "0 wrong yes",
        "0 wrong no",
    ),
    case(
        "corrections_are_checked = false",
        "27 no 3",
        "2 correct yes",
        "2 correct no",
    ),
    case(
        "misspellings_are_settled = false",
        "thre",
        "2 correct no",
        "2 correct yes",
    ),
    case(
        "misspellings_are_settled = false",
        "three turns",
        "2 correct no",
        "2 correct no",
    ),
    case(
        "two_meanings_are_checked = false",
        "-3",
        "2 correct yes",
        "2 correct no",
    ),
    case(
        "odd_text_is_checked = false",
        "3 xqwzt",
        "2 correct yes",
        "2 correct no",
    ),
];

fn comes_to(mark: &marking::Mark) -> String {
    let check = if mark.check.is_empty() { "no" } else { "yes" };
    format!("{} {} {check}", mark.marks, mark.state.text())
}

fn with(set: &str) -> policy::Policy {
    policy::read(set, "policy.toml").unwrap_or_else(|faults| panic!("{set}: {faults:?}"))
}

#[test]
fn each_switch_changes_what_it_says() {
    for case in CASES {
        let item = item(&Question {
            number: "Q1",
            lines: case.mechanism.split(';').map(str::trim).collect(),
            ask: case.ask,
            form: case.form,
            marks: case.marks,
        });
        let response = response(&[("Q1", case.text)], &[("Q1", case.working)]);
        for (policy, wanted) in [
            (policy::Policy::default(), case.before),
            (with(case.set), case.after),
        ] {
            let marks = marking::mark_sheet(std::slice::from_ref(&item), &response, &policy);
            let mark = marks.first().expect("one item, one mark");
            assert_eq!(
                comes_to(mark),
                wanted,
                "{}: {:?}: {mark:?}",
                case.set,
                case.text
            );
        }
    }
}

#[test]
fn a_missing_unit_is_told_only_where_it_costs() {
    let question = by_hand::question(&[PAIR, "turns of B", "-", "2"], "Q1");
    let response = response(&[("Q1", "3")], &[]);
    for (policy, is_told) in [
        (policy::Policy::default(), false),
        (with("missing_unit_costs = 1"), true),
    ] {
        let marks = marking::mark_sheet(std::slice::from_ref(&question), &response, &policy);
        let reason = &marks[0].reason;
        assert_eq!(reason.contains("unit is missing"), is_told, "{reason}");
    }
}

#[test]
fn switches_of_parts_blanks_and_cells_change_what_they_say() {
    let ask = |number, ask| {
        item(&Question {
            number,
            lines: vec!["gear A 12 drives gear B 36 drives gear C 18", "A turns 9"],
            ask,
            form: "-",
            marks: "2",
        })
    };
    let mut items = vec![
        ask("Q1a", "turns of B"),
        ask("Q1b", "turns of C"),
        ask("Q2", "turns of B"),
    ];
    items[1].follows = vec!["Q1a".to_owned()];
    let come_to = |policy: &policy::Policy, first: &str, second: &str| -> Vec<String> {
        let response = response(&[("Q1a", first), ("Q1b", second)], &[]);
        marking::mark_sheet(&items, &response, policy)
            .iter()
            .map(comes_to)
            .collect()
    };
    // 9 × 36 ÷ 12 = 27, and from there 27 × 36 ÷ 18 = 54.
    let default = policy::Policy::default();
    assert_eq!(come_to(&default, "27", "54")[1], "2 correct no");
    assert_ne!(
        come_to(&with("follow_through = false"), "27", "54")[1],
        "2 correct no"
    );
    // Twelve teeth too make a ratio of one to one, and nothing is left to work out.
    let missing = |number, ask| {
        item(&Question {
            number,
            lines: vec!["gear A 12 drives gear B ?", "A turns 9", "B turns 3"],
            ask,
            form: "-",
            marks: "2",
        })
    };
    let mut parts = vec![
        missing("Q1a", "teeth of B"),
        missing("Q1b", "ratio of teeth A : B"),
    ];
    parts[1].follows = vec!["Q1a".to_owned()];
    let twelve = response(&[("Q1a", "12"), ("Q1b", "1:1")], &[]);
    for (policy, wanted) in [
        (default.clone(), "0 wrong yes"),
        (with("follow_through_when_easier = true"), "2 correct no"),
    ] {
        let marks = marking::mark_sheet(&parts, &twelve, &policy);
        assert_eq!(comes_to(&marks[1]), wanted);
    }
    assert_eq!(come_to(&default, "3", "6")[2], "0 not reached no");
    assert_eq!(
        come_to(&with("trailing_blanks_are_not_reached = false"), "3", "6")[2],
        "0 blank no"
    );
    let ratio = by_hand::question(
        &[
            "gear A 12 drives gear B 36",
            "ratio of turns A : B",
            "-",
            "2",
        ],
        "Q1",
    );
    let mut response = response(&[], &[]);
    response.answers.insert(
        "Q1".to_owned(),
        by_hand::typed("2026-01-03", "date dd/mm/yyyy"),
    );
    let undone: &answer::Typed = &response.answers["Q1"];
    assert!(undone.undone.len() >= 2, "{undone:?}");
    for (policy, wanted) in [
        // The third of January or the first of March: 3:1 or 1:3.
        (default, "2 correct yes"),
        (
            with("spreadsheet_changes_are_undone = false"),
            "0 wrong yes",
        ),
    ] {
        let marks = marking::mark_sheet(std::slice::from_ref(&ratio), &response, &policy);
        assert_eq!(comes_to(&marks[0]), wanted);
    }
}

#[test]
fn no_switch_is_left_out_of_these_tests() {
    let text = include_str!("policies.rs");
    for setting in policy::Policy::default().settings() {
        assert!(
            text.contains(&format!("\"{} = ", setting.name)),
            "{} is tried by no test",
            setting.name
        );
    }
}
