//! Answers sorted into the groups of one table.

use crate::attainment;
use crate::attainment::count;
use crate::attainment::tally;
use crate::level;
use std::collections::{BTreeMap, BTreeSet};

/// What a group is sorted and called by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Key {
    /// Its number, where it has one, so that year 10 comes after year 9.
    order: u64,
    /// Its name.
    label: String,
}

/// Returns the row of everything together.
pub(super) fn whole(answers: &[&attainment::Answer]) -> attainment::Row {
    let shown = count::shown(vec![tally::Tally::of(answers)]);
    attainment::Row {
        label: "All".to_owned(),
        about: String::new(),
        shown: shown.into_iter().next().expect("one tally gives one entry"),
    }
}

/// Returns a row for each group that the key finds, in order.
pub(super) fn by(
    answers: &[&attainment::Answer],
    key: impl Fn(&attainment::Answer) -> (Key, String),
) -> Vec<attainment::Row> {
    let mut groups: BTreeMap<Key, (BTreeSet<String>, Vec<&attainment::Answer>)> = BTreeMap::new();
    for answer in answers {
        let (key, about) = key(answer);
        let (abouts, members) = groups.entry(key).or_default();
        abouts.insert(about);
        members.push(*answer);
    }
    let tallies = groups
        .values()
        .map(|(_, members)| tally::Tally::of(members))
        .collect();
    groups
        .into_iter()
        .zip(count::shown(tallies))
        .map(|((key, (abouts, _)), shown)| attainment::Row {
            label: key.label,
            about: abouts.into_iter().collect::<Vec<_>>().join("; "),
            shown,
        })
        .collect()
}

/// Returns a row for each group label, heading by heading: the groups of one
/// heading are one table, those of another stand beside it.
pub(super) fn by_labels(answers: &[&attainment::Answer]) -> Vec<attainment::Row> {
    let headings: BTreeSet<&String> = answers
        .iter()
        .flat_map(|answer| answer.groups.keys())
        .collect();
    headings
        .into_iter()
        .flat_map(|heading| {
            let missing = format!("{heading}: none given");
            by(answers, |answer| {
                let label = answer.groups.get(heading).map_or("", |label| label.trim());
                let label = if label.is_empty() {
                    String::new()
                } else {
                    format!("{heading}: {label}")
                };
                (named(&label, &missing), String::new())
            })
        })
        .collect()
}

/// Returns the names of the groups that the key finds, in order.
pub(super) fn labels(
    answers: &[&attainment::Answer],
    key: impl Fn(&attainment::Answer) -> (Key, String),
) -> Vec<String> {
    let keys: BTreeSet<Key> = answers.iter().map(|answer| key(answer).0).collect();
    keys.into_iter().map(|key| key.label).collect()
}

/// Returns the name of the group that a key stands for.
pub(super) fn label((key, _): (Key, String)) -> String {
    key.label
}

/// By the pupil's year.
pub(super) fn year(answer: &attainment::Answer) -> (Key, String) {
    (named(&answer.year, "no year given"), String::new())
}

/// By the pupil's class.
pub(super) fn class(answer: &attainment::Answer) -> (Key, String) {
    (named(&answer.class, "no class given"), String::new())
}

/// By skill.
pub(super) fn skill(answer: &attainment::Answer) -> (Key, String) {
    let key = Key {
        order: skill_order(answer.skill),
        label: answer.skill.title().to_owned(),
    };
    (key, String::new())
}

/// By level.
pub(super) fn level(answer: &attainment::Answer) -> (Key, String) {
    let number = answer.level.number();
    let key = Key {
        order: u64::from(number),
        label: format!("Level {number}"),
    };
    (key, String::new())
}

/// By template and part.
pub(super) fn question(answer: &attainment::Answer) -> (Key, String) {
    let letter: String = answer
        .question
        .chars()
        .skip_while(|sign| !sign.is_ascii_digit())
        .skip_while(char::is_ascii_digit)
        .collect();
    let part = if letter.is_empty() {
        String::new()
    } else {
        format!(", part {letter}")
    };
    let key = Key {
        order: skill_order(answer.skill),
        label: format!("{}: {}{part}", answer.bank, answer.template),
    };
    let about = format!("{}, level {}", answer.skill.title(), answer.level.number());
    (key, about)
}

/// Where the skill stands on the ladder.
fn skill_order(skill: level::Skill) -> u64 {
    let place = level::SKILLS.iter().position(|other| *other == skill);
    place
        .and_then(|place| u64::try_from(place).ok())
        .unwrap_or(u64::MAX)
}

/// A label of the school's own, with its first number to sort by.
fn named(label: &str, missing: &str) -> Key {
    let label = label.trim();
    if label.is_empty() {
        return Key {
            order: u64::MAX,
            label: missing.to_owned(),
        };
    }
    let digits: String = label
        .chars()
        .skip_while(|sign| !sign.is_ascii_digit())
        .take_while(char::is_ascii_digit)
        .take(9)
        .collect();
    Key {
        order: digits.parse().unwrap_or(0),
        label: label.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::attainment::examples;

    #[test]
    fn years_come_in_the_order_of_their_numbers() {
        let answers: Vec<attainment::Answer> = ["10", "9", "", "Reception"]
            .into_iter()
            .map(|year| attainment::Answer {
                year: year.to_owned(),
                ..examples::answer()
            })
            .collect();
        let rows = by(&answers.iter().collect::<Vec<_>>(), year);
        let labels: Vec<&str> = rows.iter().map(|row| row.label.as_str()).collect();
        assert_eq!(labels, ["Reception", "9", "10", "no year given"]);
    }

    #[test]
    fn group_labels_are_a_table_for_each_heading() {
        let answers: Vec<attainment::Answer> = ["blue", "green", ""]
            .into_iter()
            .map(|label| attainment::Answer {
                groups: [("reading".to_owned(), label.to_owned())].into(),
                ..examples::answer()
            })
            .collect();
        let rows = by_labels(&answers.iter().collect::<Vec<_>>());
        let labels: Vec<&str> = rows.iter().map(|row| row.label.as_str()).collect();
        assert_eq!(
            labels,
            ["reading: blue", "reading: green", "reading: none given"]
        );
    }

    #[test]
    fn a_question_is_a_part_of_a_template() {
        let (key, about) = question(&attainment::Answer {
            question: "Q3b".to_owned(),
            ..examples::answer()
        });
        assert_eq!(key.label, "gears-7-11: turns-pair-down, part b");
        assert_eq!(about, "Turns, level 4");
    }
}
