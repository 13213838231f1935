//! Questions of several marks of which a step would run away.
//!
//! Source: worked out by ourselves, from what [`design`] says of them.

use super::*;

/// Whether two runs place the same questions alike; those called `r` are not looked at.
fn are_alike(one: &Scales, other: &Scales) -> bool {
    let places = |found: &Scales| {
        let all = found.scales.iter().flat_map(|scale| &scale.places);
        let all = all.filter(|(question, _)| question.name != "r");
        all.map(|(question, place)| (question.clone(), place.difficulty))
            .collect::<BTreeMap<_, _>>()
    };
    let (one, other) = (places(one), places(other));
    one.len() == other.len()
        && one.iter().zip(&other).all(|(one, other)| {
            one.0 == other.0
                && (one.1.value - other.1.value).abs() < 1e-7
                && (one.1.error - other.1.error).abs() < 1e-7
        })
}

#[test]
fn a_full_mark_that_only_the_best_have_opens_a_place_and_leaves_the_others() {
    let full = [1, 1, 2, 2];
    let pupils = [
        (12, "1000"),
        (9, "0100"),
        (8, "0011"),
        (7, "1010"),
        (6, "0111"),
        (5, "1101"),
        (4, "1120"),
        (4, "0021"),
        (3, "1021"),
    ];
    let with = |more: &[(u32, &str)]| {
        let all: Vec<(u32, &str)> = pupils.iter().chain(more).copied().collect();
        scales(&answers(&full, &all))
    };
    let (never, best) = (with(&[]), with(&[(4, "1122")]));
    let last = question("d", 2);
    assert_eq!(never.unscaled[&last], Unscaled::NeverFull);
    assert_eq!(best.unscaled[&last], Unscaled::FullOnlyWithAll);
    assert_eq!(never.scales[0].places, best.scales[0].places);
    assert_eq!(best.scales[0].places.len(), 3);
    // The best stand where those stand who have all marks that can be weighed.
    let sheet: Vec<Question> = record(&full, "1122").into_iter().map(|it| it.0).collect();
    let seated = best.scales[0].seat(&sheet).expect("it is on the scale");
    assert_eq!(seated.place(6), seated.place(5));
    // The same turned over.
    let turned = |pupils: &[(u32, &str)]| {
        let turn = |(times, marks): &(u32, &str)| {
            let marks = marks.chars().zip(&full).map(|(mark, full)| {
                let mark = u32::from(*full) - mark.to_digit(10).expect("a mark");
                char::from_digit(mark, 10).expect("a mark")
            });
            (*times, marks.collect::<String>())
        };
        let turned: Vec<(u32, String)> = pupils.iter().map(turn).collect();
        let turned: Vec<(u32, &str)> = turned.iter().map(|it| (it.0, it.1.as_str())).collect();
        scales(&answers(&full, &turned))
    };
    let mut all = pupils.to_vec();
    all.push((4, "1122"));
    let worst = turned(&all);
    assert_eq!(worst.unscaled[&last], Unscaled::NoughtOnlyWithNone);
    for (question, place) in &worst.scales[0].places {
        let before = best.scales[0].places[question].difficulty.value;
        assert!((place.difficulty.value + before).abs() < 1e-9);
    }
}

#[test]
fn a_question_on_which_all_who_can_be_compared_have_the_same_costs_no_other_its_place() {
    let names = |with: bool| {
        if with {
            vec!["a", "b", "c", "r"]
        } else {
            vec!["a", "b", "c"]
        }
    };
    let pupils = [
        (12, [1, 0, 0, 1]),
        (9, [0, 1, 0, 1]),
        (8, [0, 0, 1, 1]),
        (7, [1, 1, 0, 1]),
        (6, [0, 1, 1, 1]),
        (2, [0, 0, 0, 0]),
        (3, [1, 1, 1, 2]),
    ];
    let found = |with: bool| {
        let mut answers = Answers::default();
        for (times, marks) in pupils {
            let record = names(with).into_iter().zip(marks);
            let record =
                record.map(|(name, mark)| (question(name, 1 + u8::from(name == "r")), mark));
            let record: Vec<(Question, u8)> = record.collect();
            for _ in 0..times {
                answers.add(&record).expect("they fit");
            }
        }
        scales(&answers)
    };
    let (with, without) = (found(true), found(false));
    assert!(are_alike(&with, &without));
    assert_eq!(with.scales[0].pupils, without.scales[0].pupils);
    let why = with.unscaled[&question("r", 2)];
    assert_eq!(why, Unscaled::SameWhereCompared);
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config::with_cases(200))]

    #[test]
    fn what_runs_away_leaves_all_others_where_they_are_without_it(
        pupils in super::sheets(),
        luck in proptest::collection::vec(proptest::bool::ANY, 40),
    ) {
        let (names, full) = (["a", "b", "c", "d"], [1, 2, 1, 2]);
        let mut with = Answers::default();
        let mut sheets = std::collections::BTreeSet::new();
        for (marks, luck) in pupils.iter().zip(luck) {
            let done = names.iter().zip(full).zip(marks);
            let mut record: Vec<(Question, u8)> = done
                .filter_map(|((name, full), mark)| Some((question(name, full), (*mark)?.min(full))))
                .collect();
            if record.is_empty() {
                continue;
            }
            sheets.insert(record.iter().map(|it| it.0.clone()).collect::<Vec<_>>());
            let is_best = record.iter().all(|(question, mark)| *mark == question.full);
            let is_worst = record.iter().all(|(_, mark)| *mark == 0);
            record.push((question("r", 2), match (luck, is_best, is_worst) {
                (true, true, _) => 2,
                (true, _, true) => 0,
                (true | false, _, _) => 1,
            }));
            with.add(&record).expect("they fit");
        }
        let with = scales_of(&with, 1);
        let without = scales_of(&gathered(&names, &full, &pupils, &[0, 1, 2, 3]), 1);
        proptest::prop_assert!(are_alike(&with, &without), "{:?}\n{:?}", with.unscaled, without.unscaled);
        for scale in &without.scales {
            let first = scale.places.keys().next().expect("it has questions");
            let same = with.scales.iter().find(|it| it.places.contains_key(first));
            let same = same.expect("the same questions are placed");
            for sheet in &sheets {
                let mut longer = sheet.clone();
                longer.push(question("r", 2));
                let (short, long) = (scale.seat(sheet), same.seat(&longer));
                proptest::prop_assert_eq!(short.is_ok(), long.is_ok());
                let (Ok(short), Ok(long)) = (short, long) else { continue };
                let most: u32 = sheet.iter().map(|it| u32::from(it.full)).sum();
                for score in 0..=most {
                    let (one, other) = (short.place(score), long.place(score + 1));
                    let same = match (one, other) {
                        (Ok(one), Ok(other)) => (one.value - other.value).abs() < 1e-6,
                        (Err(one), Err(other)) => one == other,
                        (Ok(_) | Err(_), Ok(_) | Err(_)) => false,
                    };
                    proptest::prop_assert!(same, "{one:?} {other:?}");
                }
            }
        }
    }
}
