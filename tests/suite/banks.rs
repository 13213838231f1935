//! Question banks from outside: the wrong ones with their messages, and the
//! ones that are shipped.

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use toothmark::bank;
use toothmark::level;

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
