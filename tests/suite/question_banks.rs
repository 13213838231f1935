//! The banks that come with the project, and the page that explains them.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use toothmark::bank;
use toothmark::gears::ask;
use toothmark::gears::solve;
use toothmark::item::pool;
use toothmark::level;
use toothmark::seed;

const BANKS: [(&str, u8, u8); 3] = [
    ("gears-5-7", 1, 3),
    ("gears-7-11", 2, 5),
    ("gears-11-14", 5, 8),
];

fn folder() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/question-banks"))
}

fn bank_named(name: &str) -> bank::Bank {
    let file = format!("{name}.toml");
    let text = fs::read_to_string(folder().join(&file)).expect("the bank is there");
    read(&text, &file)
}

fn read(text: &str, file: &str) -> bank::Bank {
    bank::read(text, file).unwrap_or_else(|problems| {
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", said.join("\n"))
    })
}

/// The blocks of a page that are set in by four spaces.
fn set_in_blocks(page: &str) -> Vec<String> {
    let mut blocks = vec![String::new()];
    for line in page.lines() {
        match (line.strip_prefix("    "), blocks.last_mut()) {
            (Some(code), Some(block)) => {
                block.push_str(code);
                block.push('\n');
            }
            (None, Some(block)) if line.is_empty() => block.push('\n'),
            _ => blocks.push(String::new()),
        }
    }
    blocks
}

#[test]
fn the_banks_are_whole_and_keep_to_their_levels() {
    for (name, low, high) in BANKS {
        let bank = bank_named(name);
        assert_eq!(bank.id, name);
        for template in &bank.templates {
            assert!(template.stories.len() >= 2, "{name}: {}", template.id);
            for level in &template.levels {
                let number = level.number();
                assert!(
                    (low..=high).contains(&number),
                    "{name}: {} at level {number}",
                    template.id
                );
            }
        }
    }
}

#[test]
fn together_the_banks_cover_every_skill_and_every_level() {
    let banks = BANKS.map(|(name, ..)| bank_named(name));
    let templates: Vec<&bank::Template> = banks.iter().flat_map(|bank| &bank.templates).collect();
    assert!(templates.len() >= 96, "{} templates", templates.len());
    for skill in level::SKILLS {
        let levels: BTreeSet<u8> = templates
            .iter()
            .filter(|template| template.skill == skill)
            .flat_map(|template| template.levels.iter().map(|level| level.number()))
            .collect();
        assert!(levels.len() >= 3, "{skill} stands at levels {levels:?}");
    }
    for level in level::Level::all() {
        let skills: BTreeSet<level::Skill> = templates
            .iter()
            .filter(|template| template.levels.contains(&level))
            .map(|template| template.skill)
            .collect();
        assert!(skills.len() >= 3, "level {level} has {skills:?}");
    }
}

#[test]
fn no_id_stands_in_two_banks() {
    let mut seen = BTreeSet::new();
    for (name, ..) in BANKS {
        for template in bank_named(name).templates {
            assert!(seen.insert(template.id.clone()), "{}", template.id);
        }
    }
}

#[test]
fn a_box_to_choose_from_always_holds_a_right_gear() {
    let mut checked = 0;
    for (name, ..) in BANKS {
        let bank = bank_named(name);
        for template in &bank.templates {
            let mut stream = seed::Stream::named(&["box", &template.id], 1);
            let pool = pool::fill(template, template.levels[0], usize::MAX, &mut stream);
            let versions = pool.kinds.iter().flatten();
            for part in versions.flat_map(|version| &version.parts) {
                if let ask::Ask::Choose { .. } = part.ask {
                    let worked = solve::answer(&part.mechanism, &part.ask).expect("drawn");
                    assert_ne!(
                        worked.fact,
                        ask::Fact::Choices(Vec::new()),
                        "{}",
                        template.id
                    );
                    checked += 1;
                }
            }
        }
    }
    assert!(checked > 30, "{checked} choices");
}

#[test]
fn the_examples_of_the_format_page_are_good_banks() {
    let page = fs::read_to_string(folder().join("README.md")).expect("the page is there");
    let head = "format = 1\n[bank]\nid = \"page\"\ntitle = \"Page\"\nedition = \"1\"\n";
    let blocks = set_in_blocks(&page);
    let examples: Vec<&String> = blocks
        .iter()
        .filter(|block| block.contains("[[template]]"))
        .collect();
    assert_eq!(examples.len(), 2, "one with one part, one with several");
    for example in examples {
        let text = if example.contains("format = 1") {
            example.clone()
        } else {
            format!("{head}{example}")
        };
        read(&text, "README.md");
    }
}

#[test]
fn the_format_page_tells_the_numbers_of_each_level() {
    let page = fs::read_to_string(folder().join("README.md")).expect("the page is there");
    let (_, levels) = page
        .split_once("\n## Levels\n")
        .expect("the page has a part on levels");
    for level in level::Level::all() {
        let rule = level.rule();
        let row = levels
            .lines()
            .find(|line| line.starts_with(&format!("| {level} |")))
            .expect("a row for each level");
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        assert_eq!(cells[4], rule.most_gears.to_string(), "gears of {row}");
        let teeth = format!("{}-{}", rule.teeth.0, rule.teeth.1);
        assert_eq!(cells[5], teeth, "teeth of {row}");
        let words = format!("{}, {}", rule.words_a_sentence, rule.words_in_all);
        assert_eq!(cells[7], words, "words of {row}");
    }
}
