//! How to mark: named switches, each with its default.
//!
//! A school keeps its own in a TOML file of the same names; what it leaves out
//! keeps the default.

use crate::problem;
use crate::table;

/// How to mark. The defaults are those of a usual mark scheme.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(default, deny_unknown_fields)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "a policy is a list of switches by nature"
)]
pub struct Policy {
    /// What it is called, for the record.
    pub name: String,
    /// Marks lost by an answer that is right but rounded to fewer digits than
    /// asked, cut off, or worked with too rough a pi. Default 1.
    pub accuracy_costs: u8,
    /// Marks lost by a unit that contradicts the one printed, where the question
    /// has two or more. Default 1.
    pub wrong_unit_costs: u8,
    /// Whether such a unit in a question of one mark asks for a person's look.
    /// Default yes.
    pub wrong_unit_is_checked: bool,
    /// Marks lost by a ratio not in its simplest form where that is asked. Default 1.
    pub unsimplified_costs: u8,
    /// Marks earned by a reversed ratio where the question has two or more. Default 1.
    pub reversed_earns: u8,
    /// Whether a later part worked correctly from the pupil's own earlier answer
    /// earns full marks. Default yes.
    pub follow_through: bool,
    /// Whether it does so even where the slip made the part easier. Default no.
    pub follow_through_when_easier: bool,
    /// Whether a right answer without working earns everything. Default yes.
    pub answer_only_earns_all: bool,
    /// Whether working with the right method earns the method mark when the
    /// answer is wrong. Default yes.
    pub working_earns_method: bool,
    /// Marks earned by working with a right method and one slip of arithmetic, where
    /// the question has two or more. Default 1.
    pub right_method_earns: u8,
    /// Whether a recognised misconception that shows a right method earns part
    /// marks. Default yes.
    pub misconception_credit: bool,
    /// Whether an answer that the pupil corrected (`27 no 3`) and text with
    /// something odd in it ask for a person's look. Default yes.
    pub odd_text_is_checked: bool,
    /// Whether blanks after the last attempted question count as not reached.
    /// Default yes.
    pub trailing_blanks_are_not_reached: bool,
}

impl Default for Policy {
    fn default() -> Self {
        Self {
            name: "default".to_owned(),
            accuracy_costs: 1,
            wrong_unit_costs: 1,
            wrong_unit_is_checked: true,
            unsimplified_costs: 1,
            reversed_earns: 1,
            follow_through: true,
            follow_through_when_easier: false,
            answer_only_earns_all: true,
            working_earns_method: true,
            right_method_earns: 1,
            misconception_credit: true,
            odd_text_is_checked: true,
            trailing_blanks_are_not_reached: true,
        }
    }
}

const KEYS: &[&str] = &[
    "name",
    "accuracy_costs",
    "wrong_unit_costs",
    "wrong_unit_is_checked",
    "unsimplified_costs",
    "reversed_earns",
    "follow_through",
    "follow_through_when_easier",
    "answer_only_earns_all",
    "working_earns_method",
    "right_method_earns",
    "misconception_credit",
    "odd_text_is_checked",
    "trailing_blanks_are_not_reached",
];

/// Returns the policy of a TOML file; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the file at once: unknown keys, values of the wrong kind.
pub fn read(text: &str, file: &str) -> Result<Policy, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    reader.known_keys(&root, KEYS);
    let mut policy = Policy::default();
    if let Some(name) = reader.text(&root, "name") {
        name.value.clone_into(&mut policy.name);
    }
    for (key, count) in [
        ("accuracy_costs", &mut policy.accuracy_costs),
        ("wrong_unit_costs", &mut policy.wrong_unit_costs),
        ("unsimplified_costs", &mut policy.unsimplified_costs),
        ("reversed_earns", &mut policy.reversed_earns),
        ("right_method_earns", &mut policy.right_method_earns),
    ] {
        let found = reader.whole(&root, key, 0..=5);
        if let Some(marks) = found.and_then(|found| u8::try_from(found.value).ok()) {
            *count = marks;
        }
    }
    for (key, switch) in [
        ("wrong_unit_is_checked", &mut policy.wrong_unit_is_checked),
        ("follow_through", &mut policy.follow_through),
        (
            "follow_through_when_easier",
            &mut policy.follow_through_when_easier,
        ),
        ("answer_only_earns_all", &mut policy.answer_only_earns_all),
        ("working_earns_method", &mut policy.working_earns_method),
        ("misconception_credit", &mut policy.misconception_credit),
        ("odd_text_is_checked", &mut policy.odd_text_is_checked),
        (
            "trailing_blanks_are_not_reached",
            &mut policy.trailing_blanks_are_not_reached,
        ),
    ] {
        if let Some(found) = reader.flag(&root, key) {
            *switch = found.value;
        }
    }
    let faults = reader.into_faults();
    if faults.is_empty() {
        Ok(policy)
    } else {
        Err(faults)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_school_leaves_out_keeps_its_default() {
        let policy = read(
            "name = \"Ashwhistle School\"\naccuracy_costs = 0\nfollow_through = false\n",
            "policy.toml",
        )
        .expect("a good policy");
        assert_eq!(
            policy,
            Policy {
                name: "Ashwhistle School".to_owned(),
                accuracy_costs: 0,
                follow_through: false,
                ..Policy::default()
            }
        );
    }

    #[test]
    fn the_example_file_holds_every_switch_with_its_default() {
        let text = include_str!("../../sample-classes/marking-policy.toml");
        assert_eq!(read(text, "marking-policy.toml"), Ok(Policy::default()));
        for key in KEYS {
            assert!(
                text.lines()
                    .any(|line| line.starts_with(&format!("{key} = "))),
                "{key} is missing from the example"
            );
        }
    }

    #[test]
    fn every_fault_of_a_policy_is_told_at_once() {
        let faults = read(
            "acuracy_costs = 1\nreversed_earns = 9\nfollow_through = \"no\"\n",
            "policy.toml",
        )
        .expect_err("three faults");
        let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(said.len(), 3, "{said:?}");
        assert!(said[0].contains("policy.toml:1:1"), "{said:?}");
        assert!(
            said[0].contains("did you mean `accuracy_costs`?"),
            "{said:?}"
        );
        assert!(said[1].contains("reversed_earns"), "{said:?}");
        assert!(said[2].contains("true or false"), "{said:?}");
    }
}
