//! The rows of a table: what they are called, and in which order they stand.

use crate::level;

/// What a group is sorted and called by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Key {
    /// Its number, where it has one, so that year 10 comes after year 9.
    order: u64,
    /// Its name.
    pub(super) label: String,
}

/// By something with a place of its own in the order.
pub(super) fn placed(order: usize, label: String) -> Key {
    Key {
        order: u64::try_from(order).unwrap_or(u64::MAX),
        label,
    }
}

/// By year.
pub(super) fn year(label: &str) -> Key {
    named(label, "no year given")
}

/// By class.
pub(super) fn class(label: &str) -> Key {
    named(label, "no class given")
}

/// By a label of the roll's own under its heading.
pub(super) fn label(heading: &str, label: &str) -> Key {
    let missing = format!("{heading}: none given");
    if label.is_empty() {
        named("", &missing)
    } else {
        named(&format!("{heading}: {label}"), &missing)
    }
}

/// By skill.
pub(super) fn skill(skill: level::Skill) -> Key {
    Key {
        order: skill_order(skill),
        label: skill.title().to_owned(),
    }
}

/// By level.
pub(super) fn level(level: level::Level) -> Key {
    let number = level.number();
    Key {
        order: u64::from(number),
        label: format!("Level {number}"),
    }
}

/// By template and part.
pub(super) fn question(skill: level::Skill, bank: &str, template: &str, part: &str) -> Key {
    let part = if part.is_empty() {
        String::new()
    } else {
        format!(", part {part}")
    };
    Key {
        order: skill_order(skill),
        label: format!("{bank}: {template}{part}"),
    }
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

    /// The labels of keys in their order.
    fn in_order(mut keys: Vec<Key>) -> Vec<String> {
        keys.sort();
        keys.into_iter().map(|key| key.label).collect()
    }

    #[test]
    fn years_come_in_the_order_of_their_numbers() {
        let years = in_order(["10", "9", "", "Reception"].map(year).to_vec());
        assert_eq!(years, ["Reception", "9", "10", "no year given"]);
    }

    #[test]
    fn a_label_stands_under_its_heading() {
        let labels = ["green", "", "blue"].map(|text| label("reading", text));
        assert_eq!(
            in_order(labels.to_vec()),
            ["reading: blue", "reading: green", "reading: none given"]
        );
    }

    #[test]
    fn a_question_is_a_part_of_a_template() {
        let key = question(level::Skill::Turns, "gears-7-11", "turns-pair-down", "b");
        assert_eq!(key.label, "gears-7-11: turns-pair-down, part b");
    }
}
