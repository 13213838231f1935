//! Golden homeworks: fixed plans whose every byte is kept.
//!
//! A change that moves one moves homeworks that schools have set: say it in the
//! changelog.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use toothmark::bank;
use toothmark::homework;
use toothmark::level;

fn folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/golden")
}

fn pupil(id: &str, level: Option<u8>) -> homework::Pupil {
    homework::Pupil {
        id: id.to_owned(),
        name: format!("Pupil {id}"),
        class: "Maple".to_owned(),
        year: "5".to_owned(),
        level: level.and_then(level::Level::new),
        groups: BTreeMap::new(),
    }
}

#[test]
fn golden_homeworks_never_change() {
    let text = fs::read_to_string(folder().join("bank.toml")).expect("the bank is there");
    let bank = bank::read(&text, "bank.toml").unwrap_or_else(|faults| {
        let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
        panic!("{}", said.join("\n"));
    });
    let banks = [bank];
    let plan = |seed: &str| homework::Plan {
        banks: &banks,
        pupils: vec![pupil("p1", None), pupil("p2", Some(3)), pupil("p3", None)],
        year: None,
        levels: "2-7".parse().expect("a span"),
        skills: Vec::new(),
        questions: homework::Questions::Count(3),
        versions: homework::Versions::Each,
        seed: seed.to_owned(),
        title: "Golden".to_owned(),
        date: "2026-09-01".to_owned(),
        keep_until: None,
    };
    let same = homework::Plan {
        pupils: vec![pupil("p1", None), pupil("p2", None)],
        questions: homework::Questions::All,
        versions: homework::Versions::Same,
        levels: level::Span::ALL,
        ..plan("granite")
    };
    for (name, plan) in [("each", plan("slate")), ("same", same)] {
        let (homework, _) = homework::set(&plan).expect("it can be set");
        // The version of the program may change, and nothing else.
        let homework = homework::Homework {
            made_by: "toothmark".to_owned(),
            ..homework
        };
        let found = homework::to_json(&homework);
        let path = folder().join(format!("{name}.json"));
        if std::env::var_os("TOOTHMARK_WRITE_CASES").is_some() {
            fs::write(&path, &found).expect("the case can be written");
        }
        let kept = fs::read_to_string(&path).unwrap_or_default();
        let differing = found
            .lines()
            .zip(kept.lines())
            .find(|(one, other)| one != other);
        assert!(
            found == kept,
            "{name}.json has changed, first here: {differing:?}"
        );
    }
}
