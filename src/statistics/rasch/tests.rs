//! Laws of the scale, and checks against counting and simulation.
//!
//! Source: the closed form for two questions and the sums over all patterns follow from
//! the model itself; known places to be found again are our own.

use super::*;
use crate::seed;
use crate::statistics::Meaningless;
use crate::statistics::rasch::answers::Answers;
use crate::statistics::rasch::answers::Question;
use crate::statistics::rasch::design::Unscaled;

mod runaway;

fn question(name: &str, full: u8) -> Question {
    Question {
        name: name.to_owned(),
        full,
    }
}

/// Pupils' marks on questions called by letters, `-` where not done.
fn answers(full: &[u8], pupils: &[(u32, &str)]) -> Answers {
    let mut answers = Answers::default();
    for (times, marks) in pupils {
        let record = record(full, marks);
        for _ in 0..*times {
            answers.add(&record).expect("they fit");
        }
    }
    answers
}

fn record(full: &[u8], marks: &str) -> Vec<(Question, u8)> {
    let letters = ["a", "b", "c", "d", "e", "f"];
    let questions = letters.iter().zip(full).zip(marks.chars());
    questions
        .filter_map(|((name, full), mark)| {
            let mark = mark.to_digit(10).and_then(|it| u8::try_from(it).ok())?;
            Some((question(name, *full), mark))
        })
        .collect()
}

fn difficulty_of(scale: &Scale, name: &str) -> f64 {
    let place = scale
        .places
        .iter()
        .find(|(question, _)| question.name == name);
    place.expect("it has a place").1.difficulty.value
}

#[test]
fn two_questions_lie_apart_by_the_logarithm_of_their_discordant_pairs() {
    // Closed form: with two questions only those with one right tell.
    let found = scales(&answers(
        &[1, 1],
        &[(40, "10"), (10, "01"), (9, "11"), (7, "00")],
    ));
    let scale = &found.scales[0];
    assert_eq!((scale.pupils, found.scales.len()), (50, 1));
    let apart = difficulty_of(scale, "b") - difficulty_of(scale, "a");
    assert!((apart - 4.0_f64.ln()).abs() < 1e-12);
    // The difference has the error √(1/40 + 1/10), each place half of it.
    let error = scale.places[&question("a", 1)].difficulty.error;
    assert!((error - (1.0_f64 / 40.0 + 1.0 / 10.0).sqrt() / 2.0).abs() < 1e-9);
}

#[test]
fn partial_credit_is_the_likeliest_by_counting_all_patterns() {
    let pupils = [
        (9, "02-"),
        (7, "11-"),
        (6, "20-"),
        (8, "-12"),
        (5, "-20"),
        (7, "-03"),
        (6, "-21"),
        (5, "-13"),
        (4, "-11"),
        (6, "101"),
        (5, "012"),
        (4, "211"),
        (3, "022"),
        (5, "113"),
        (2, "223"),
        (2, "000"),
    ];
    let full = [2, 2, 3];
    let found = scales(&answers(&full, &pupils));
    let scale = &found.scales[0];
    let logs: Vec<Vec<f64>> = scale
        .logs
        .values()
        .map(|marks| marks.iter().map(|log| log.expect("it is given")).collect())
        .collect();
    let best = counted(&logs, &full, &pupils);
    assert!((best - scale.log_likelihood).abs() < 1e-9, "{best}");
    // No step to either side goes up, and the first order vanishes.
    for place in 0..3 {
        for mark in 1..logs[place].len() {
            let moved = |by: f64| {
                let mut logs = logs.clone();
                logs[place][mark] += by;
                counted(&logs, &full, &pupils)
            };
            assert!(moved(1e-3) < best && moved(-1e-3) < best);
            assert!(((moved(1e-4) - moved(-1e-4)) / 2e-4).abs() < 1e-5);
        }
    }
}

/// The logarithm of the likelihood given the scores, by counting every pattern.
fn counted(logs: &[Vec<f64>], full: &[u8], pupils: &[(u32, &str)]) -> f64 {
    let mut sum = 0.0;
    for (times, marks) in pupils {
        let done: Vec<(usize, usize)> = marks
            .chars()
            .enumerate()
            .filter_map(|(place, mark)| Some((place, usize::try_from(mark.to_digit(10)?).ok()?)))
            .collect();
        let score: usize = done.iter().map(|it| it.1).sum();
        let own: f64 = done.iter().map(|(place, mark)| logs[*place][*mark]).sum();
        let mut patterns = vec![(0, 0.0)];
        for (place, _) in &done {
            let marks = 0..=usize::from(full[*place]);
            patterns = patterns
                .iter()
                .flat_map(|(score, log)| {
                    marks
                        .clone()
                        .map(move |mark| (score + mark, log + logs[*place][mark]))
                })
                .collect();
        }
        let alike = patterns.iter().filter(|it| it.0 == score);
        let all: f64 = alike.map(|it| it.1.exp()).sum();
        sum += f64::from(*times) * (own - all.ln());
    }
    sum
}

/// Pupils who answer by the model, each question with its thresholds.
fn simulated(thresholds: &[Vec<f64>], pupils: u32) -> Answers {
    let mut stream = seed::Stream::named(&["rasch"], 0);
    let mut chance =
        || f64::from(u32::try_from(stream.below(1 << 30)).expect("small")) / f64::from(1 << 30);
    let mut answers = Answers::default();
    for pupil in 0..pupils {
        let ability = 4.0 * (chance() + chance() + chance()) - 6.0;
        let mut record = Vec::new();
        for (place, thresholds) in (0_u32..).zip(thresholds) {
            // A different question is left out of each fourth of the sheets.
            if place % 4 == pupil % 4 {
                continue;
            }
            let mut logs = vec![0.0];
            for threshold in thresholds {
                logs.push(logs.last().copied().unwrap_or(0.0) + ability - threshold);
            }
            let all: f64 = logs.iter().map(|log| log.exp()).sum();
            let mut left = chance() * all;
            let mark = logs
                .iter()
                .position(|log| {
                    left -= log.exp();
                    left < 0.0
                })
                .unwrap_or(thresholds.len());
            let full = u8::try_from(thresholds.len()).expect("few marks");
            let mark = u8::try_from(mark).expect("few marks");
            record.push((question(&format!("{place}"), full), mark));
        }
        answers.add(&record).expect("they fit");
    }
    answers
}

#[test]
fn known_places_are_found_again_within_their_errors() {
    let thresholds = vec![
        vec![-1.5],
        vec![-1.0, 0.5],
        vec![-0.5],
        vec![0.2, -0.6, 1.0],
        vec![0.4],
        vec![0.8, 1.0],
        vec![1.2],
        vec![-0.1],
    ];
    let found = scales(&simulated(&thresholds, 4000));
    let scale = &found.scales[0];
    assert!(found.unscaled.is_empty() && found.linked.len() == 1);
    let mean = |all: &[f64]| all.iter().sum::<f64>() / all.iter().map(|_| 1.0).sum::<f64>();
    let middle = mean(&thresholds.iter().map(|it| mean(it)).collect::<Vec<_>>());
    let (mut figures, mut close) = (0, 0);
    for (place, true_thresholds) in scale.places.values().zip(&thresholds) {
        let found = place.thresholds.as_ref().expect("all marks occur");
        for (found, wanted) in found.iter().zip(true_thresholds) {
            let off = (found.value - (wanted - middle)).abs() / found.error;
            assert!(off < 3.5, "{off} errors off");
            figures += 1;
            close += u32::from(off < 2.0);
        }
        let fit = place.fit.expect("enough pupils");
        for square in [fit.infit, fit.outfit] {
            let off = (square.value - 1.0).abs() / square.spread;
            assert!(off < 4.0 && square.spread < 0.2, "{square:?}");
        }
    }
    // All but one in twenty lie within two errors.
    assert!(close + 2 >= figures, "{close} of {figures}");
}

#[test]
fn a_question_that_goes_by_luck_stands_out_by_its_fit() {
    let mut answers = Answers::default();
    let mut stream = seed::Stream::named(&["misfit"], 0);
    for pupil in 0..600_u32 {
        // Guttman's stairs with some slips, and a question that tosses a coin.
        let ability = pupil % 6;
        let mut record = Vec::new();
        for (step, name) in (0_u32..).zip(["a", "b", "c", "d", "e"]) {
            let slips = stream.below(5) == 0;
            record.push((question(name, 1), u8::from((ability > step) != slips)));
        }
        let luck = u8::try_from(stream.below(2)).expect("a bit");
        record.push((question("luck", 1), luck));
        answers.add(&record).expect("they fit");
    }
    let found = scales(&answers);
    let fit = |name: &str| {
        found.scales[0].places[&question(name, 1)]
            .fit
            .expect("enough")
    };
    let luck = fit("luck");
    assert!(luck.infit.value > luck.infit.expected().high);
    assert!(luck.outfit.value > luck.outfit.expected().high);
    assert!(fit("c").infit.value < 1.0);
}

#[test]
fn questions_without_a_place_say_why() {
    let full = [1, 1, 1, 1, 1];
    let base = [(20, "10---"), (20, "01---")];
    let with = |more: &[(u32, &str)]| {
        let all: Vec<(u32, &str)> = base.iter().chain(more).copied().collect();
        scales(&answers(&full, &all))
    };
    let why = |found: &Scales, name: &str| found.unscaled.get(&question(name, 1)).copied();
    let constant = with(&[(5, "1-1--"), (5, "0-10-"), (5, "1-10-")]);
    assert_eq!(why(&constant, "c"), Some(Unscaled::AlwaysFull));
    assert_eq!(why(&constant, "d"), Some(Unscaled::AlwaysNought));
    assert_eq!(constant.scales[0].places.len(), 2);
    assert_eq!(constant.linked.len(), 1);

    let alone = with(&[(20, "----1"), (20, "----0")]);
    assert_eq!(why(&alone, "e"), Some(Unscaled::NotLinked));
    assert_eq!(alone.linked.len(), 2);

    // Whoever has c right has a and b right as well.
    let harder = with(&[(20, "111--"), (20, "110--"), (5, "000--")]);
    assert_eq!(why(&harder, "c"), Some(Unscaled::NoOverlap));
    assert_eq!(harder.scales[0].pupils, 40);

    let few = scales(&answers(&full, &[(10, "10"), (10, "01")]));
    let fewest = FEWEST_PUPILS;
    assert_eq!(why(&few, "a"), Some(Unscaled::TooFewPupils { fewest }));
    assert!(few.scales.is_empty());
}

#[test]
fn two_parts_that_nobody_links_get_a_scale_each() {
    let pupils = [
        (20, "10---"),
        (20, "01---"),
        (20, "--110"),
        (20, "--011"),
        (20, "--101"),
    ];
    let found = scales(&answers(&[1; 5], &pupils));
    let sizes: Vec<usize> = found.scales.iter().map(|it| it.places.len()).collect();
    assert_eq!(sizes, [3, 2]);
    assert_eq!(found.linked.len(), 2);
    assert!(found.unscaled.is_empty());
}

#[test]
fn parts_that_the_answers_order_are_weighed_each_within_itself() {
    // c and d are right only where a and b are: two scales from the same counts, each
    // as if the other part had not been there.
    let pupils = [
        (30, "1000"),
        (20, "0100"),
        (25, "1110"),
        (15, "1101"),
        (9, "1111"),
        (8, "1100"),
        (4, "0000"),
    ];
    let found = scales(&answers(&[1; 4], &pupils));
    assert_eq!(found.scales.len(), 2);
    let apart = |one: &str, other: &str| {
        let scale = found
            .scales
            .iter()
            .find(|it| it.places.contains_key(&question(one, 1)));
        let scale = scale.expect("it has a place");
        difficulty_of(scale, other) - difficulty_of(scale, one)
    };
    assert!((apart("a", "b") - 1.5_f64.ln()).abs() < 1e-9);
    assert!((apart("c", "d") - (25.0_f64 / 15.0).ln()).abs() < 1e-9);
}

#[test]
fn a_mark_that_is_never_given_leaves_the_place_or_opens_it() {
    // Nobody has 1 of 2 on b: its place stands, its thresholds do not.
    let between = scales(&answers(&[1, 2], &[(20, "10"), (15, "02"), (9, "12")]));
    // Scores 1 and 2 hold one pattern each: nothing can be weighed.
    assert!(between.scales.is_empty());
    let pupils = [
        (20, "100"),
        (15, "001"),
        (20, "121"),
        (12, "021"),
        (15, "120"),
        (9, "101"),
        (7, "020"),
    ];
    let between = scales(&answers(&[1, 2, 1], &pupils));
    let place = &between.scales[0].places[&question("b", 2)];
    assert_eq!(place.thresholds, None);
    // Nobody has 2 of 2 on b: its place is open upwards, the others stay.
    let pupils = [
        (20, "100"),
        (15, "001"),
        (20, "010"),
        (12, "110"),
        (15, "011"),
        (9, "101"),
    ];
    let open = scales(&answers(&[1, 2, 1], &pupils));
    let why = open.unscaled.get(&question("b", 2));
    assert_eq!(why, Some(&Unscaled::NeverFull));
    assert_eq!(open.scales[0].places.len(), 2);
}

#[test]
fn measures_know_what_they_cannot_tell() {
    let found = scales(&answers(&[1, 1], &[(40, "10"), (10, "01")]));
    let scale = &found.scales[0];
    let both = [question("a", 1), question("b", 1)];
    assert_eq!(scale.measures(&both).map(|it| it.len()), Ok(3));
    assert_eq!(scale.measure(&both, 3), Err(Meaningless::NoSuchScore));
    assert_eq!(scale.measures(&[]), Err(Meaningless::NoItems));
    let strange = [question("a", 2)];
    assert_eq!(scale.measures(&strange), Err(Meaningless::NotOnScale));
    let measures = scale.measures(&both).expect("both have a place");
    assert!(measures.windows(2).all(|two| two[0].value < two[1].value));
}

fn sheets() -> impl proptest::strategy::Strategy<Value = Vec<Vec<Option<u8>>>> {
    let pupil = proptest::collection::vec(proptest::option::weighted(0.8, 0_u8..=2), 4);
    proptest::collection::vec(pupil, 0..40)
}

fn gathered(names: &[&str], full: &[u8], pupils: &[Vec<Option<u8>>], by: &[usize]) -> Answers {
    let mut answers = Answers::default();
    for marks in pupils {
        let record: Vec<(Question, u8)> = by
            .iter()
            .filter_map(|place| {
                let full = full[*place];
                Some((question(names[*place], full), marks[*place]?.min(full)))
            })
            .collect();
        if !record.is_empty() {
            answers.add(&record).expect("they fit");
        }
    }
    answers
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config::with_cases(100))]

    #[test]
    fn every_figure_is_finite_and_neither_names_nor_order_matter(pupils in sheets()) {
        let full = [1, 2, 1, 2];
        let found = scales_of(&gathered(&["a", "b", "c", "d"], &full, &pupils, &[0, 1, 2, 3]), 1);
        let mut back = pupils.clone();
        back.reverse();
        let again = scales_of(&gathered(&["a", "b", "c", "d"], &full, &back, &[3, 1, 0, 2]), 1);
        proptest::prop_assert_eq!(&found, &again);
        let renamed = scales_of(&gathered(&["z", "y", "x", "w"], &full, &pupils, &[0, 1, 2, 3]), 1);
        proptest::prop_assert_eq!(found.scales.len(), renamed.scales.len());
        for scale in &found.scales {
            let mut sum = 0.0;
            for (question, place) in &scale.places {
                let mut all = place.thresholds.clone().unwrap_or_default();
                all.push(place.difficulty);
                for it in all {
                    proptest::prop_assert!(it.value.is_finite() && it.error.is_finite() && it.error > 0.0);
                }
                sum += place.difficulty.value;
                let new = ["z", "y", "x", "w"][["a", "b", "c", "d"].iter().position(|it| *it == question.name).expect("one of them")];
                let other = renamed.scales.iter().find_map(|it| it.places.get(&super::answers::Question { name: new.to_owned(), full: question.full }));
                let other = other.expect("it has a place under its other name");
                proptest::prop_assert!((other.difficulty.value - place.difficulty.value).abs() < 1e-6);
                proptest::prop_assert!((other.difficulty.error - place.difficulty.error).abs() < 1e-6);
            }
            proptest::prop_assert!(sum.abs() < 1e-9);
            let questions: Vec<Question> = scale.places.keys().cloned().collect();
            if let Ok(measures) = scale.measures(&questions) {
                for it in &measures {
                    proptest::prop_assert!(it.value.is_finite() && it.error > 0.0);
                }
                proptest::prop_assert!(measures.windows(2).all(|two| two[0].value < two[1].value + 1e-9));
            }
        }
    }
}
