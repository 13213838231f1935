//! Homeworks from outside, set from the shipped banks.

use crate::banks;
use std::collections::BTreeMap;
use std::collections::BTreeSet;
use toothmark::bank;
use toothmark::gears::solve;
use toothmark::homework;
use toothmark::item;
use toothmark::item::apart;
use toothmark::item::measure;
use toothmark::level;
use toothmark::misconception;
use toothmark::seed;

fn pupil(id: &str) -> homework::Pupil {
    homework::Pupil {
        id: id.to_owned(),
        name: format!("Pupil {id}"),
        class: "Maple".to_owned(),
        year: "5".to_owned(),
        level: None,
        groups: BTreeMap::from([("house".to_owned(), "red".to_owned())]),
    }
}

fn plan<'p>(banks: &'p [bank::Bank], levels: &str, count: usize, seed: &str) -> homework::Plan<'p> {
    homework::Plan {
        banks,
        pupils: vec![pupil("p1"), pupil("p2"), pupil("p3")],
        year: None,
        levels: levels.parse().expect("the test's own span"),
        skills: Vec::new(),
        questions: homework::Questions::Count(count),
        versions: homework::Versions::Each,
        seed: seed.to_owned(),
        title: "Gears".to_owned(),
        date: "2026-11-25".to_owned(),
        keep_until: None,
    }
}

fn set(plan: &homework::Plan) -> (homework::Homework, Vec<homework::Notice>) {
    homework::set(plan).unwrap_or_else(|problems| {
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", said.join("\n"));
    })
}

/// The questions of a sheet: the wording of all parts of each.
fn questions(sheet: &homework::Sheet) -> Vec<(String, Vec<&item::Item>)> {
    let mut questions: Vec<(String, Vec<&item::Item>)> = Vec::new();
    for item in &sheet.items {
        let number = item.number.trim_end_matches(char::is_alphabetic).to_owned();
        match questions.last_mut() {
            Some((last, items)) if *last == number => items.push(item),
            _ => questions.push((number, vec![item])),
        }
    }
    questions
}

fn wording(items: &[&item::Item]) -> String {
    let asked: Vec<&str> = items.iter().map(|item| item.question.as_str()).collect();
    format!("{} {}", items[0].story, asked.join(" "))
}

fn measures(sheet: &homework::Sheet) -> Vec<measure::Measure> {
    sheet
        .items
        .iter()
        .map(|item| {
            let worked = solve::answer(&item.mechanism, &item.ask).expect("an item is solvable");
            let predictions = misconception::predictions(&item.mechanism, &item.ask);
            let traces = apart::traces(&worked.fact, &predictions);
            measure::of(&item.mechanism, &item.ask, &worked, &item.form, &traces)
        })
        .collect()
}

#[test]
fn homeworks_of_many_seeds_keep_the_laws() {
    let banks = banks::shipped();
    let spans = ["1-2", "2-4", "3", "3-5", "4-6", "5-8", "7-8", "1-8"];
    for seed in 0..160_u32 {
        let mut stream = seed::Stream::named(&["homeworks"], seed.into());
        let levels = spans[stream.index(spans.len())];
        let count = 4 + stream.index(12);
        let mut plan = plan(&banks, levels, count, &format!("seed {seed}"));
        if stream.index(2) == 0 {
            plan.versions = homework::Versions::Same;
        }
        let (homework, _) = set(&plan);
        let span: level::Span = levels.parse().expect("a span");
        for sheet in &homework.sheets {
            let questions = questions(sheet);
            assert_eq!(questions.len(), count, "seed {seed}");
            let wordings: BTreeSet<String> =
                questions.iter().map(|(_, items)| wording(items)).collect();
            assert_eq!(wordings.len(), count, "seed {seed}: a question twice");
            assert!(sheet.items.iter().all(|item| span.contains(item.level)));
            let numbers: BTreeSet<&str> = sheet
                .items
                .iter()
                .map(|item| item.number.as_str())
                .collect();
            assert_eq!(numbers.len(), sheet.items.len(), "seed {seed}");
        }
        let first = measures(&homework.sheets[0]);
        for sheet in &homework.sheets {
            assert_eq!(measures(sheet), first, "seed {seed}: not equally hard");
        }
        let text = homework::to_json(&homework);
        let read = homework::from_json(&text, "homework.json").expect("it was just written");
        assert_eq!(read, homework, "seed {seed}");
        assert_eq!(homework::to_json(&read), text);
    }
}

#[test]
fn the_same_plan_gives_the_same_homework_and_another_seed_another() {
    let banks = banks::shipped();
    let text = |seed| homework::to_json(&set(&plan(&banks, "3-5", 10, seed)).0);
    assert_eq!(text("spring"), text("spring"));
    assert_ne!(text("spring"), text("summer"));
}

#[test]
fn skills_are_covered_evenly() {
    let banks = banks::shipped();
    let mut plan = plan(&banks, "4-6", 12, "even");
    plan.skills = vec![
        level::Skill::Turns,
        level::Skill::Ratio,
        level::Skill::Direction,
    ];
    let (homework, _) = set(&plan);
    let mut counts: BTreeMap<level::Skill, usize> = BTreeMap::new();
    for (_, items) in questions(&homework.sheets[0]) {
        *counts.entry(items[0].skill).or_default() += 1;
    }
    assert_eq!(counts.len(), 3);
    assert!(counts.values().all(|&count| count == 4), "{counts:?}");
}

#[test]
fn levels_are_spread_over_the_span() {
    let banks = banks::shipped();
    let (homework, _) = set(&plan(&banks, "3-5", 15, "spread"));
    let mut counts: BTreeMap<u8, usize> = BTreeMap::new();
    for (_, items) in questions(&homework.sheets[0]) {
        *counts.entry(items[0].level.number()).or_default() += 1;
    }
    assert_eq!(counts.len(), 3);
    assert!(counts.values().all(|&count| count >= 3), "{counts:?}");
}

#[test]
fn a_sheet_has_a_question_that_runs_backwards() {
    let banks = banks::shipped();
    for seed in ["a", "b", "c", "d"] {
        let mut plan = plan(&banks, "4-5", 5, seed);
        plan.skills = vec![level::Skill::Turns];
        let (homework, _) = set(&plan);
        let reversed = measures(&homework.sheets[0])
            .iter()
            .any(|measure| measure.reversed);
        assert!(reversed, "seed {seed}");
    }
}

#[test]
fn a_pupil_more_changes_nobody_elses_sheet() {
    let banks = banks::shipped();
    let mut plan = plan(&banks, "3-5", 8, "new pupil");
    let (before, _) = set(&plan);
    plan.pupils.insert(1, pupil("new"));
    let (after, _) = set(&plan);
    let sheet = |homework: &homework::Homework, id: &str| {
        let assignment = homework
            .pupils
            .iter()
            .find(|assignment| assignment.pupil.id == id)
            .expect("the pupil is there");
        homework.sheets[assignment.sheet].clone()
    };
    for id in ["p1", "p2", "p3"] {
        assert_eq!(sheet(&before, id), sheet(&after, id), "{id}");
    }
    // It is the same homework still: what was marked before goes on counting.
    assert_eq!(before.code, after.code);
    plan.pupils
        .iter_mut()
        .for_each(|pupil| pupil.class = "another".to_owned());
    let (other, _) = set(&plan);
    assert_ne!(before.code, other.code);
}

#[test]
fn all_takes_every_template_once_in_the_files_order() {
    for bank in banks::shipped() {
        let banks = [bank];
        let mut plan = plan(&banks, "1-8", 0, "all");
        plan.questions = homework::Questions::All;
        plan.versions = homework::Versions::Same;
        let (homework, _) = set(&plan);
        assert_eq!(homework.sheets.len(), 1);
        let taken: Vec<&str> = questions(&homework.sheets[0])
            .iter()
            .map(|(_, items)| items[0].template.as_str())
            .collect();
        let there: Vec<&str> = banks[0]
            .templates
            .iter()
            .map(|template| template.id.as_str())
            .collect();
        assert_eq!(taken, there);
    }
}

#[test]
fn pupils_with_a_level_of_their_own_get_a_sheet_at_it() {
    let banks = banks::shipped();
    let mut plan = plan(&banks, "4", 6, "own level");
    plan.versions = homework::Versions::Same;
    plan.pupils[1].level = level::Level::new(2);
    let (homework, _) = set(&plan);
    assert_eq!(homework.sheets.len(), 2);
    for assignment in &homework.pupils {
        let wanted = if assignment.pupil.id == "p2" { 2 } else { 4 };
        let sheet = &homework.sheets[assignment.sheet];
        assert!(
            sheet.items.iter().all(|item| item.level.number() == wanted),
            "{}",
            assignment.pupil.id
        );
    }
}

#[test]
fn misconceptions_are_told_apart_on_the_sheet_or_the_teacher_is_told() {
    let banks = banks::shipped();
    for seed in ["a", "b", "c"] {
        let mut plan = plan(&banks, "2-5", 8, seed);
        plan.skills = vec![level::Skill::Direction];
        let (homework, notices) = set(&plan);
        // What someone with each misconception would answer, question by question.
        let mut fails: BTreeMap<&str, bool> = BTreeMap::new();
        for item in &homework.sheets[0].items {
            let worked = solve::answer(&item.mechanism, &item.ask).expect("an item is solvable");
            for prediction in misconception::predictions(&item.mechanism, &item.ask) {
                if !prediction.misconception.slip {
                    *fails.entry(prediction.misconception.name).or_default() |=
                        prediction.fact != worked.fact;
                }
            }
        }
        for (name, has_failed) in fails {
            let told = notices.iter().any(|notice| {
                notice
                    .what
                    .starts_with("these questions are all answered rightly")
                    && notice.what.contains(&format!("who {name}"))
            });
            assert_ne!(has_failed, told, "seed {seed}: {name}");
        }
    }
}

#[test]
fn what_cannot_be_set_is_said_plainly() {
    let banks = banks::shipped();
    let said = |plan: &homework::Plan| {
        let problems = homework::set(plan).expect_err("it cannot be set");
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        said.join("\n")
    };
    let mut no_one = plan(&banks, "3", 5, "x");
    no_one.year = Some("9".to_owned());
    assert!(
        said(&no_one).contains("there is no pupil of year 9"),
        "{}",
        said(&no_one)
    );
    let mut twice = plan(&banks, "3", 5, "x");
    twice.pupils.push(pupil("p1"));
    assert!(said(&twice).contains("the pupil id p1 stands there twice"));
    let mut too_many = plan(&banks, "8", 5000, "x");
    too_many.skills = vec![level::Skill::Distance];
    assert!(
        said(&too_many).contains("different questions can be made of the 5000"),
        "{}",
        said(&too_many)
    );
    let mut own_level = plan(&banks, "4", 5, "x");
    own_level.skills = vec![level::Skill::Ratio];
    own_level.pupils[2].level = level::Level::new(1);
    assert!(
        said(&own_level).contains("at this level (wanted for p3)"),
        "{}",
        said(&own_level)
    );
    let mut nothing = plan(&banks, "1", 5, "x");
    nothing.skills = vec![level::Skill::Speed];
    assert!(
        said(&nothing).contains("the banks have no questions of speed"),
        "{}",
        said(&nothing)
    );
    assert!(said(&plan(&banks, "3", 0, "x")).contains("no questions are asked for"));
}

#[test]
fn a_record_that_is_none_is_told_what_is_wrong() {
    let banks = banks::shipped();
    let (homework, _) = set(&plan(&banks, "4", 3, "record"));
    let text = homework::to_json(&homework);
    let faults = |text: &str| -> String {
        let problems = homework::from_json(text, "homework.json").expect_err("it is damaged");
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        said.join("\n")
    };
    for (from, to, said) in [
        ("\"format\": 1", "\"format\": 2", "the record has format 2"),
        ("\"format\": 1,", "", "homework.json:"),
        (
            "\"level\": 4",
            "\"level\": 11",
            "found level 11, wanted 1 to 8",
        ),
        ("\"skill\": \"", "\"skill\": \"un", "skill: found \"un"),
        (
            "\"id\": \"p2\"",
            "\"id\": \"p1\"",
            "pupil p1: the pupil stands there twice",
        ),
    ] {
        assert!(text.contains(from), "{from}");
        let found = faults(&text.replace(from, to));
        assert!(found.contains(said), "{from} -> {to}: {found}");
    }
    assert!(faults("").contains("this is no record of a homework"));
    assert!(faults("[]").contains("this is no record of a homework"));
    assert!(!text.contains("expected"), "the record holds no answers");
}
