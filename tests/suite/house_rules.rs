//! House rules that a test can keep: floors, map, banned words.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust file below a folder.
fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("the entry can be read").path();
        if path.is_dir() {
            found.extend(rust_files(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// The floor of each module, as the code map in DEVELOPERS.md gives it.
fn floors() -> BTreeMap<String, u32> {
    let guide = fs::read_to_string(root().join("DEVELOPERS.md")).expect("the guide is there");
    guide
        .lines()
        .filter_map(|line| {
            let mut cells = line.trim().trim_matches('|').split('|').map(str::trim);
            let floor = cells.next()?.parse().ok()?;
            let module = cells.next()?.trim_matches('`').to_owned();
            Some((module, floor))
        })
        .collect()
}

/// The module a file of `src` belongs to.
fn module_of(path: &Path) -> String {
    let inside = path
        .strip_prefix(root().join("src"))
        .expect("a file of src");
    let first = inside
        .components()
        .next()
        .expect("a name")
        .as_os_str()
        .to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

#[test]
fn the_code_map_names_every_module_once() {
    let mut modules: Vec<String> = rust_files(&root().join("src"))
        .iter()
        .map(|path| module_of(path))
        .filter(|module| module != "lib" && module != "main")
        .collect();
    modules.dedup();
    modules.sort();
    modules.dedup();
    let mapped: Vec<String> = floors().into_keys().collect();
    assert_eq!(
        modules, mapped,
        "the code map in DEVELOPERS.md and src differ"
    );
}

#[test]
fn no_import_goes_up_or_across() {
    let floors = floors();
    let mut wrong = Vec::new();
    for path in rust_files(&root().join("src")) {
        let module = module_of(&path);
        let Some(&floor) = floors.get(&module) else {
            continue;
        };
        let text = fs::read_to_string(&path).expect("the file can be read");
        for (index, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or_default();
            for rest in code.split("crate::").skip(1) {
                let used: String = rest
                    .chars()
                    .take_while(|sign| sign.is_alphanumeric() || *sign == '_')
                    .collect();
                if used != module && floors.get(&used).is_some_and(|&other| other >= floor) {
                    wrong.push(format!(
                        "{}:{}: {module} uses {used}",
                        path.display(),
                        index + 1
                    ));
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "imports that go up or across:\n{}",
        wrong.join("\n")
    );
}

#[test]
fn imports_name_one_module_a_line() {
    let mut wrong = Vec::new();
    for path in rust_files(&root().join("src")) {
        let text = fs::read_to_string(&path).expect("the file can be read");
        for (index, line) in text.lines().enumerate() {
            let line = line.trim();
            let grouped = line.starts_with("use crate::{")
                || (line.starts_with("use crate::") && line.contains('{'));
            let glob =
                line.starts_with("use ") && line.ends_with("::*;") && line != "use super::*;";
            let handed_on = line.starts_with("pub use ");
            if grouped || glob || handed_on {
                wrong.push(format!("{}:{}: {line}", path.display(), index + 1));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "imports against the style guide:\n{}",
        wrong.join("\n")
    );
}

#[test]
fn formulas_name_their_source() {
    // Every file that calculates says where its formulas come from.
    for folder in ["src/gears", "src/attainment", "src/statistics"] {
        let folder = root().join(folder);
        if !folder.exists() {
            continue;
        }
        for path in rust_files(&folder) {
            let text = fs::read_to_string(&path).expect("the file can be read");
            let calculates =
                text.contains(".times(") || text.contains(".divided_by(") || text.contains("f64");
            assert!(
                !calculates || text.contains("Source:"),
                "{}: a formula without its source",
                path.display()
            );
        }
    }
}

#[test]
fn the_top_level_holds_what_it_is_to_hold_and_no_more() {
    let known = [
        ".ci",
        ".gitignore",
        "CHANGELOG.md",
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "LICENSE",
        "README.md",
        "question-banks",
        "sample-classes",
        "src",
        "tests",
    ];
    // What building, the tour and the version control make.
    let made = [".git", "target", "tour"];
    let mut others: Vec<String> = fs::read_dir(root())
        .expect("the project's folder is there")
        .map(|entry| entry.expect("the entry can be read").file_name())
        .map(|name| name.to_string_lossy().into_owned())
        .filter(|name| !known.contains(&name.as_str()) && !made.contains(&name.as_str()))
        .collect();
    others.sort();
    assert!(others.is_empty(), "{others:?}");
}
