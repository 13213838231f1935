//! Figures of made-up pupils whose places are known, on questions whose places are known.
//!
//! The answers are drawn from the model itself and come in as marked work, so that
//! everything from the record to the summary is walked through. The tolerances are of the
//! counts: of `n` intervals at 95 % so many hold the truth as a binomial draw with 0.95
//! gives; the limits leave three of its standard deviations on each side.
//!
//! Source: the model itself (Rasch 1960); the draws are ours.

use crate::attainment;
use crate::attainment::bands;
use crate::attainment::count;
use crate::attainment::examples;
use crate::attainment::fold;
use crate::attainment::growth;
use crate::level;
use crate::marking;
use crate::seed;
use crate::statistics::rasch::answers;

/// How hard a question is, by its number: 24 questions from -2.3 to 2.3, each again and
/// again.
fn difficulty(question: usize) -> f64 {
    f64::from(u32::try_from(question % 24).expect("a small number")) / 5.0 - 2.3
}

/// A share from 0 to 1.
fn share(stream: &mut seed::Stream) -> f64 {
    let parts = 1_u32 << 24;
    f64::from(u32::try_from(stream.below(u64::from(parts))).expect("24 bits")) / f64::from(parts)
}

/// About a standard normal draw: twelve shares add up to one of variance 1.
fn normal(stream: &mut seed::Stream) -> f64 {
    (0..12).map(|_| share(stream)).sum::<f64>() - 6.0
}

/// What a pupil of this ability does on these questions; every third is worth two marks.
fn answers(
    ability: f64,
    questions: impl Iterator<Item = usize>,
    stream: &mut seed::Stream,
) -> Vec<attainment::Answer> {
    let answer = |(place, question): (usize, usize)| {
        let chance = 1.0 / (1.0 + libm::exp(difficulty(question) - ability));
        let out_of: u8 = if question.is_multiple_of(3) { 2 } else { 1 };
        // Two independent tries at one mark each are a partial credit question.
        let marks = (0..out_of)
            .map(|_| u8::from(share(stream) < chance))
            .sum::<u8>();
        let level = u8::try_from(question % 24 / 6).expect("0 to 3") + 3;
        attainment::Answer {
            question: format!("Q{}", place + 1),
            template: format!("t{question:02}"),
            level: level::Level::new(level).expect("a level"),
            marks,
            out_of,
            state: match marks {
                0 => marking::State::Wrong,
                marks if marks == out_of => marking::State::Correct,
                _ => marking::State::Partly,
            },
            ..examples::answer()
        }
    };
    questions.enumerate().map(answer).collect()
}

/// One homework of pupils with these abilities.
fn homework(
    day: &str,
    class: &str,
    abilities: &[f64],
    questions: &dyn Fn(usize) -> Vec<usize>,
    stream: &mut seed::Stream,
) -> attainment::Work {
    let pupils = abilities.iter().enumerate().map(|(number, ability)| {
        let marks = answers(*ability, questions(number).into_iter(), stream);
        attainment::Pupil {
            class: class.to_owned(),
            ..examples::pupil(&format!("{class}-{number}"), marks)
        }
    });
    attainment::Work {
        code: format!("{day}{class}"),
        set_on: day.to_owned(),
        marked_on: day.to_owned(),
        kept_until: None,
        pupils: pupils.collect(),
        ..examples::work()
    }
}

fn folded(works: &[attainment::Work]) -> fold::Fold {
    let mut fold = fold::Fold::default();
    for family in fold::Family::all(works) {
        fold.add(&family).expect("each homework once");
    }
    fold
}

/// Twelve of the 24 questions, from a start of the pupil's own: rotated sheets.
fn rotated(number: usize) -> Vec<usize> {
    (0..12).map(|it| (number % 6 * 4 + it) % 24).collect()
}

/// The number of a question, from its name.
fn number(name: &str) -> usize {
    name.rsplit('t')
        .next()
        .and_then(|digits| digits.parse().ok())
        .expect("the names are ours")
}

#[test]
fn places_of_questions_and_pupils_are_found_again_within_their_errors() {
    let mut stream = seed::Stream::named(&["places"], 1);
    let middle: f64 = (0..24).map(difficulty).sum::<f64>() / 24.0;
    let (mut held, mut all) = (0_u32, 0_u32);
    let (mut pupils_held, mut pupils) = (0_u32, 0_u32);
    for _ in 0..10 {
        let abilities: Vec<f64> = (0..240).map(|_| normal(&mut stream)).collect();
        let work = homework("2026-01-10", "5 Oak", &abilities, &rotated, &mut stream);
        let fold = folded(std::slice::from_ref(&work));
        let summary = fold.summary(&attainment::School::default());
        for question in &summary.figures.questions {
            let place = question.difficulty.expect("all are on the scale");
            assert_eq!(place.scale, 1);
            let truth = difficulty(number(&question.label)) - middle;
            all += 1;
            held += u32::from(place.span.low <= truth && truth <= place.span.high);
        }
        let scale = &fold.scales().scales[0];
        for (pupil, ability) in work.pupils.iter().zip(&abilities) {
            let marks = fold::sheet::marks(pupil);
            let sheet: Vec<answers::Question> = marks.iter().map(|it| it.0.clone()).collect();
            let seated = scale.seat(&sheet).expect("all are on the scale");
            let place = seated
                .place(u32::from(fold::sheet::score(&marks)))
                .expect("it settles");
            pupils += 1;
            pupils_held += u32::from(place.interval().holds(ability - middle));
        }
    }
    // 240 intervals: 95 % less and more three standard deviations of 1.4 %.
    let share = f64::from(held) / f64::from(all);
    assert!((0.908..=0.992).contains(&share), "{held} of {all}");
    // 2400 intervals of pupils: three standard deviations are 1.3 %; the error that is
    // told is of a large sheet, and sheets of sixteen marks have coarse steps, so that two
    // hundredths more are left.
    let share = f64::from(pupils_held) / f64::from(pupils);
    assert!(
        (0.917..=0.983).contains(&share),
        "{pupils_held} of {pupils}"
    );
}

/// The growth of a class of thirty that is told between two homeworks of other questions;
/// why none is, where the answers settle on no scale.
fn told(rise: f64, stream: &mut seed::Stream) -> Result<growth::Step, String> {
    let abilities: Vec<f64> = (0..30).map(|_| normal(stream)).collect();
    let later: Vec<f64> = abilities
        .iter()
        .map(|ability| ability + rise + 0.2 * normal(stream))
        .collect();
    // Other pupils link the questions; the later homework is harder.
    let others: Vec<f64> = (0..90).map(|_| normal(stream)).collect();
    let early = |_: usize| (0..10).map(|it| it * 2).collect::<Vec<_>>();
    let late = |_: usize| (11..23).collect::<Vec<_>>();
    let all = |number: usize| {
        (0..14)
            .map(|it| (number % 4 * 5 + it) % 24)
            .collect::<Vec<_>>()
    };
    let works = [
        homework("2026-01-10", "5 Oak", &abilities, &early, stream),
        homework("2026-03-10", "5 Oak", &later, &late, stream),
        homework("2026-02-10", "5 Elm", &others, &all, stream),
    ];
    let summary = attainment::summarise(&works);
    let groups = &summary.figures.growth.groups;
    let class = groups
        .iter()
        .find(|group| group.kind == growth::Kind::Class && group.label == "5 Oak");
    let class = class.ok_or_else(|| summary.figures.linkage.sentences.join(" "))?;
    assert_eq!((class.points.len(), class.steps.len()), (2, 1));
    Ok(class.steps[0].clone())
}

#[test]
fn growth_is_found_where_it_is_and_not_claimed_where_it_is_not() {
    let mut stream = seed::Stream::named(&["growth"], 1);
    let (mut claimed, mut held, mut runs) = (0, 0, 0);
    let mut unsettled = Vec::new();
    for _ in 0..40 {
        let step = match told(0.0, &mut stream) {
            Ok(step) => step,
            Err(why) => {
                unsettled.push(why);
                continue;
            }
        };
        runs += 1;
        let change = step.change.expect("the same pupils");
        claimed += u32::from(step.is_growth() || change.high < 0.0);
        held += u32::from(change.low <= 0.0 && 0.0 <= change.high);
    }
    // At most one in twenty is wrong; of 40 more than 6 would be so in about three
    // streams of a thousand.
    assert!(claimed <= 6, "{claimed} of {runs}");
    assert_eq!(held, runs - claimed);
    // Few pupils may miss the ends of a question so that its place runs away; the
    // scale then is not told, and no growth either.
    assert!(unsettled.len() <= 4, "{unsettled:?}");
    let (mut found, mut held) = (0, 0);
    for _ in 0..10 {
        let Ok(step) = told(1.5, &mut stream) else {
            continue;
        };
        let change = step.change.expect("the same pupils");
        found += u32::from(step.is_growth());
        held += u32::from(change.low <= 1.5 && 1.5 <= change.high);
    }
    // A rise of 1.5 against an error of about 0.35: found in more than 98 of 100.
    assert!(found >= 8, "{found} of 10");
    assert!(held >= 7, "{held} of 10");
}

#[test]
fn other_pupils_at_the_second_time_are_no_growth() {
    let mut stream = seed::Stream::named(&["others"], 1);
    let mut abilities =
        |middle: f64| -> Vec<f64> { (0..60).map(|_| middle + normal(&mut stream)).collect() };
    let (first, second) = (abilities(0.0), abilities(2.0));
    let mut stream = seed::Stream::named(&["others"], 2);
    let mut works = vec![
        homework("2026-01-10", "5 Oak", &first, &rotated, &mut stream),
        homework("2026-03-10", "5 Oak", &second, &rotated, &mut stream),
    ];
    let step = |works: &[attainment::Work]| {
        let summary = attainment::summarise(works);
        summary.figures.growth.groups[0].steps[0].clone()
    };
    assert!(step(&works).is_growth(), "the ids are the same");
    for (number, pupil) in works[1].pupils.iter_mut().enumerate().take(13) {
        pupil.who = examples::who(&format!("new-{number}"), "new");
    }
    assert_eq!(
        step(&works).change,
        Err(attainment::figures::Why::OtherPupils)
    );
}

#[test]
fn bands_on_the_scale_hold_every_pupil_once() {
    let mut stream = seed::Stream::named(&["bands"], 1);
    let abilities: Vec<f64> = (0..240).map(|_| normal(&mut stream)).collect();
    let work = homework("2026-01-10", "5 Oak", &abilities, &rotated, &mut stream);
    let text = "on = \"scale\"\n[[band]]\nlabel = \"Low\"\n[[band]]\nlabel = \"High\"\nfrom = 0\n";
    let school = attainment::School {
        bands: bands::read(text, "bands.toml").ok(),
        ..attainment::School::default()
    };
    let summary = folded(&[work]).summary(&school);
    let table = summary.bands.expect("the school has bands");
    let pupils: Vec<u32> = table.rows[0]
        .pupils
        .iter()
        .map(|count| match count {
            count::Count::Pupils(pupils) => *pupils,
            count::Count::Hidden(why) => panic!("{}", why.text()),
        })
        .collect();
    assert_eq!(pupils.iter().sum::<u32>(), 240);
    // Half of the pupils stand over the average question; three standard deviations of
    // a share of 240 are a tenth.
    assert!((95..=145).contains(&pupils[1]), "{pupils:?}");
    assert_eq!(&pupils[2..], [0, 0], "nobody is without work or place");
}
