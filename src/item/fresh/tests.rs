use super::*;
use crate::gears::notation;

/// A question at a level, with the usual answer.
fn item(lines: &[&str], asked: &str, level: u8) -> item::Item {
    let mechanism = notation::read(lines).expect("well formed");
    let ask = notation::read_ask(asked, &mechanism).expect("well formed");
    let form = answer::form_for(&mechanism, &ask, None, number::Precision::Exact, false);
    item::Item {
        number: "Q1".to_owned(),
        bank: "b".to_owned(),
        template: "t".to_owned(),
        skill: level::Skill::Turns,
        level: level::Level::new(level).expect("a level"),
        story: "A crane has two gears.".to_owned(),
        question: "How far?".to_owned(),
        form: form.expect("a form"),
        mechanism,
        ask,
        marks: 2,
        working: true,
        follows: vec!["Q1a".to_owned()],
    }
}

fn drawn(item: &item::Item, number: u64) -> Option<item::Item> {
    like(item, &[], &mut seed::Stream::named(&["fresh"], number))
}

#[test]
fn questions_of_every_kind_are_asked_again_with_other_numbers() {
    for (lines, asked, level) in [
        (
            &["gear A 12 drives gear B 36", "A turns 9"][..],
            "turns of B",
            4,
        ),
        (&["gear A 8 drives gear B 16", "B turns 2"], "turns of A", 2),
        (
            &["gear A 12 drives gear B ?", "A turns 9", "B turns 3"],
            "teeth of B",
            5,
        ),
        (
            &["gear A 20 drives gear B 40", "tooth size 2 mm"],
            "centre distance of A, B",
            6,
        ),
        (&["gear A 8 drives gear B 12"], "faster of A, B", 2),
        (&["gear A 8 drives gear B 12"], "why faster of A, B", 2),
        (
            &["gear A 8 drives gear B 12", "A turns clockwise"],
            "direction of B",
            2,
        ),
        (
            &["worm W 1 start drives gear B 40", "W runs at 120 rpm"],
            "speed of B",
            6,
        ),
        (&["gear A 12 drives gear B 36"], "ratio of turns A : B", 5),
        (
            &["gear A ? drives gear B ?", "A turns 6", "B turns 2"],
            "choose A, B from 8, 16, 24",
            5,
        ),
        (
            &[
                "motor M, gear A 10 on one axle",
                "gear A 10 drives gear B 40",
                "gear B 40, gear C 12 on one axle",
                "gear C 12 drives gear D 36",
                "M runs at 1200 rpm",
            ],
            "speed of D",
            6,
        ),
        (
            &[
                "gear S 24 drives gear P 18 drives ring R 60",
                "P rides on carrier C",
                "R held still",
                "S turns 14",
            ],
            "turns of C",
            8,
        ),
    ] {
        let item = item(lines, asked, level);
        let fresh = drawn(&item, 0).expect(asked);
        assert_ne!(fresh.mechanism, item.mechanism, "{asked}");
        assert_eq!(fresh.ask, item.ask, "{asked}");
        assert_eq!(
            Some(&fresh),
            drawn(&item, 0).as_ref(),
            "the same every time"
        );
        assert!(
            solve::answer(&fresh.mechanism, &fresh.ask).is_ok(),
            "{asked}"
        );
        assert!(fresh.follows.is_empty(), "it stands alone");
    }
}

#[test]
fn a_fresh_question_is_as_hard_as_the_old_one() {
    let item = item(
        &["gear A 12 drives gear B 36", "A turns 9"],
        "turns of B",
        4,
    );
    let own = measured(&item, &item.mechanism, &item.ask)
        .expect("solved")
        .measure;
    for number in 0..12 {
        let fresh = drawn(&item, number).expect("there are many");
        let measure = measured(&fresh, &fresh.mechanism, &fresh.ask)
            .expect("solved")
            .measure;
        assert_eq!(measure, own, "{}", fresh.story);
    }
}

#[test]
fn a_fresh_question_tells_every_number_of_its_mechanism() {
    let item = item(
        &["gear A 12 drives gear B 36", "A turns 9 clockwise"],
        "turns of B",
        4,
    );
    let fresh = drawn(&item, 3).expect("there are many");
    for number in vary::numbers(&fresh.mechanism, &fresh.ask) {
        let number = wording::number(number);
        assert!(fresh.story.contains(&number), "{number}: {}", fresh.story);
    }
    assert_eq!(fresh.question, "How many turns does gear B make?");
}

#[test]
fn what_is_taken_is_not_drawn() {
    let item = item(
        &["gear A 8 drives gear B 12", "A turns clockwise"],
        "direction of B",
        2,
    );
    let first = drawn(&item, 1).expect("there are many");
    let mut stream = seed::Stream::named(&["fresh"], 1);
    let second = like(&item, &[&first.mechanism], &mut stream).expect("there are many");
    assert_ne!(second.mechanism, first.mechanism);
}

#[test]
fn a_comparison_is_worked_in_kind_numbers() {
    let item = item(
        &["pulley A 30 mm drives pulley B 80 mm by belt"],
        "faster of A, B",
        2,
    );
    let fresh = drawn(&item, 2).expect("there are many");
    let found = measured(&fresh, &fresh.mechanism, &fresh.ask).expect("solved");
    assert!(found.working <= rule::Awkwardness::Half, "{}", fresh.story);
}

#[test]
fn gears_alike_stay_alike() {
    let item = item(
        &["gear A 12 drives gear B 8 drives gear C 12"],
        "faster of A, C",
        3,
    );
    let fresh = drawn(&item, 5).expect("there are many");
    let teeth: Vec<Option<u32>> = fresh.mechanism.parts.iter().map(feature::teeth).collect();
    assert_eq!(teeth[0], teeth[2]);
    assert_ne!(teeth[0], teeth[1]);
}
