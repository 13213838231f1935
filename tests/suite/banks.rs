//! Question banks from outside: the wrong ones with their messages, and the
//! ones that are shipped.

use crate::program;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use toothmark::bank;
use toothmark::level;
use toothmark::seed;

/// The TOML files of a folder of the project, in alphabetical order.
fn banks_in(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .expect("the folder is there")
        .map(|entry| entry.expect("the entry can be read").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    files.sort();
    files
}

fn name(path: &Path) -> String {
    path.file_name()
        .expect("a file has a name")
        .to_string_lossy()
        .into_owned()
}

#[test]
fn wrong_banks_are_told_every_fault_at_once() {
    let files = banks_in("tests/cases/wrong-banks");
    assert!(files.len() >= 10, "ten wrong banks or more are kept");
    let mut differing = Vec::new();
    for path in files {
        let text = fs::read_to_string(&path).expect("the case can be read");
        let faults = bank::read(&text, &name(&path)).expect_err("the case is wrong");
        let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
        let said = said.join("\n") + "\n";
        let expected_path = path.with_extension("txt");
        if std::env::var_os("TOOTHMARK_WRITE_CASES").is_some() {
            fs::write(&expected_path, &said).expect("the case can be written");
        }
        let expected = fs::read_to_string(&expected_path).unwrap_or_default();
        if said != expected {
            differing.push(format!("{}:\n{said}", name(&path)));
        }
    }
    assert!(
        differing.is_empty(),
        "the messages differ from the file beside the bank:\n{}",
        differing.join("\n")
    );
}

/// A hand that slips while it edits a bank: deletes, repeats or swaps signs.
fn with_slips(text: &str, stream: &mut seed::Stream) -> String {
    let mut signs: Vec<char> = text.chars().collect();
    for _ in 0..=stream.index(3) {
        let place = stream.index(signs.len() - 1);
        match stream.index(4) {
            0 => {
                signs.remove(place);
            }
            1 => signs.swap(place, place + 1),
            2 => {
                let end = (place + 1 + stream.index(40)).min(signs.len());
                signs.drain(place..end);
            }
            _ => {
                let slips = [
                    '"', '{', '}', '[', ']', '=', '\n', '?', '0', '-', '½', '\\', '#',
                ];
                signs.insert(place, slips[stream.index(slips.len())]);
            }
        }
    }
    signs.into_iter().collect()
}

#[test]
fn no_slip_of_the_hand_makes_reading_fall_over() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/golden/bank.toml");
    let text = fs::read_to_string(path).expect("the bank can be read");
    for number in 0..1500 {
        let mut stream = seed::Stream::named(&["slips"], number);
        let slipped = with_slips(&text, &mut stream);
        if let Err(faults) = bank::read(&slipped, "b.toml") {
            assert!(!faults.is_empty());
            assert!(
                faults
                    .iter()
                    .all(|fault| fault.place.starts_with("b.toml:")),
                "{faults:?}"
            );
        }
    }
}

/// Every bank that is shipped; a fault in one fails the test that asks.
pub(crate) fn shipped() -> Vec<bank::Bank> {
    banks_in("question-banks")
        .iter()
        .map(|path| {
            let text = fs::read_to_string(path).expect("the bank can be read");
            bank::read(&text, &name(path)).unwrap_or_else(|faults| {
                let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
                panic!("{}", said.join("\n"));
            })
        })
        .collect()
}

#[test]
fn shipped_banks_cover_every_skill_and_level() {
    let templates: Vec<bank::Template> = shipped()
        .into_iter()
        .flat_map(|bank| bank.templates)
        .collect();
    assert!(templates.len() >= 90, "{} templates", templates.len());
    for skill in level::SKILLS {
        assert!(
            templates.iter().any(|template| template.skill == skill),
            "{skill}"
        );
    }
    for level in level::Level::all() {
        let there = templates
            .iter()
            .filter(|template| template.levels.contains(&level));
        assert!(there.count() >= 8, "level {level}");
    }
    for template in &templates {
        assert!(template.stories.len() >= 2, "{} has one story", template.id);
    }
}

#[test]
fn bank_check_tells_every_fault_and_fails() {
    let wrong = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/wrong-banks");
    let text = fs::read_to_string(wrong.join("reading.toml")).expect("the case is there");
    let expected = fs::read_to_string(wrong.join("reading.txt")).expect("the case is there");
    let run = program::Program::new()
        .file("reading.toml", text)
        .arguments(["bank", "check", "reading.toml", "missing.toml"])
        .run();
    assert_eq!(run.code, 1, "{run:?}");
    for line in expected.lines() {
        assert!(run.stderr.contains(line), "{line}: {}", run.stderr);
    }
    assert!(
        run.stderr.contains("missing.toml: there is no such file"),
        "{}",
        run.stderr
    );
}

#[test]
fn bank_check_names_the_ways_of_thinking_that_a_template_cannot_tell_apart() {
    let text = r#"
format = 1
[bank]
id = "apart"
title = "A bank"
edition = "1"
[[template]]
id = "stages-alike"
skill = "turns"
levels = [6]
stories = ["Gear A has 10 teeth and drives gear B with {b}. Gear C with 10 is on the axle of B. It drives gear D with {b}."]
mechanism = ["gear A 10 drives gear B {b}", "gear B {b}, gear C 10 on one axle", "gear C 10 drives gear D {b}", "A turns 12"]
question = "Gear A makes 12 turns. How many turns does gear D make?"
ask = "turns of D"
numbers = { b = [20, 30] }
"#;
    let run = program::Program::new()
        .file("apart.toml", text)
        .arguments(["bank", "check", "apart.toml"])
        .run();
    assert_eq!(run.code, 1, "{run:?}");
    assert!(
        run.stderr.contains("\"stages-alike\" cannot be set: none of its 2 combinations of values will do at level 6"),
        "{}",
        run.stderr
    );
    assert!(run.stderr.contains("both give"), "{}", run.stderr);
    assert!(run.stderr.contains("b = "), "{}", run.stderr);
}

#[test]
fn bank_list_and_show_name_every_question() {
    for path in banks_in("question-banks") {
        let text = fs::read_to_string(&path).expect("the bank can be read");
        let bank = bank::read(&text, &name(&path)).expect("a shipped bank is sound");
        for command in ["list", "show"] {
            let run = program::Program::new()
                .arguments(["bank", command])
                .argument(&path)
                .run();
            assert_eq!(run.code, 0, "{run:?}");
            for template in &bank.templates {
                assert!(
                    run.stdout.contains(&template.id),
                    "{command}: {}",
                    template.id
                );
            }
        }
    }
}

#[test]
fn strings_and_racks_that_move_each_other_can_be_set() {
    // A radius taken for a diameter, and pi left out, drop out again here.
    let text = include_str!("../cases/drums.toml");
    let bank = bank::read(text, "drums.toml").expect("the bank has no faults");
    for template in &bank.templates {
        for trial in toothmark::item::trial::out(template) {
            assert!(
                trial.versions >= 6,
                "{} at level {}: {:?}",
                template.id,
                trial.level,
                trial.why_none
            );
        }
    }
}
