//! How to mark: named switches, each with its default.
//!
//! A school keeps its own in a TOML file of the same names; what it leaves out
//! keeps the default.

mod switch;

use crate::marking::policy::switch::SWITCHES;
use crate::marking::policy::switch::Slot;
use crate::problem;
use crate::table;
use std::fmt::Write;

/// The most marks that a switch can hold.
const MOST: u8 = 5;

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
    /// Whether an equal value in another form is settled. Default yes.
    pub other_forms_are_settled: bool,
    /// Marks lost by an answer that is right but rounded to fewer digits than
    /// asked, or cut off. Default 1.
    pub accuracy_costs: u8,
    /// Marks lost by too rough a pi for the digits asked. Default 1.
    pub rough_pi_costs: u8,
    /// Marks lost by a missing unit. Default 0.
    pub missing_unit_costs: u8,
    /// Whether another unit of the same kind is converted. Default yes.
    pub other_units_are_converted: bool,
    /// Marks lost by a unit that contradicts the one printed, where the question
    /// has two or more. Default 1.
    pub wrong_unit_costs: u8,
    /// Whether such a unit in a question of one mark asks for a person's look.
    /// Default yes.
    pub wrong_unit_is_checked: bool,
    /// Whether `3` stands for `3 : 1`. Default yes.
    pub number_for_ratio_is_settled: bool,
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
    /// Whether working is read where the answer is not right. Default yes.
    pub working_earns_method: bool,
    /// Marks earned by working with a right method and one slip of arithmetic, where
    /// the question has two or more. Default 1.
    pub right_method_earns: u8,
    /// Whether a recognised misconception that shows a right method earns part
    /// marks. Default yes.
    pub misconception_credit: bool,
    /// Whether two different answers ask for a person's look. Default yes.
    pub two_answers_are_checked: bool,
    /// Whether a corrected answer (`27 no 3`) asks for a person's look. Default yes.
    pub corrections_are_checked: bool,
    /// Whether a misspelt word is settled where it plainly means one thing. Default yes.
    pub misspellings_are_settled: bool,
    /// Whether blanks after the last attempted question count as not reached.
    /// Default yes.
    pub trailing_blanks_are_not_reached: bool,
    /// Whether an answer with two meanings that earn differently asks for a person's
    /// look. Default yes.
    pub two_meanings_are_checked: bool,
    /// Whether text with something odd in it asks for a person's look. Default yes.
    pub odd_text_is_checked: bool,
    /// Whether what a spreadsheet program made of a cell is read back as what was
    /// typed. Default yes.
    pub spreadsheet_changes_are_undone: bool,
}

impl Default for Policy {
    fn default() -> Self {
        Self {
            name: "default".to_owned(),
            other_forms_are_settled: true,
            accuracy_costs: 1,
            rough_pi_costs: 1,
            missing_unit_costs: 0,
            other_units_are_converted: true,
            wrong_unit_costs: 1,
            wrong_unit_is_checked: true,
            number_for_ratio_is_settled: true,
            unsimplified_costs: 1,
            reversed_earns: 1,
            follow_through: true,
            follow_through_when_easier: false,
            answer_only_earns_all: true,
            working_earns_method: true,
            right_method_earns: 1,
            misconception_credit: true,
            two_answers_are_checked: true,
            corrections_are_checked: true,
            misspellings_are_settled: true,
            trailing_blanks_are_not_reached: true,
            two_meanings_are_checked: true,
            odd_text_is_checked: true,
            spreadsheet_changes_are_undone: true,
        }
    }
}

/// A switch as people are shown it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// Its name in a policy file.
    pub name: &'static str,
    /// What it is about, such as `Units`.
    pub topic: &'static str,
    /// What it says, in a sentence or two.
    pub meaning: String,
    /// Its value here: a number of marks, or yes or no.
    pub value: String,
    /// Its default, in the same words.
    pub usual: String,
}

impl Policy {
    /// Returns every switch in the order of the default policy.
    #[must_use]
    pub fn settings(&self) -> Vec<Setting> {
        let (mut here, mut usual) = (self.clone(), Self::default());
        let said = |slot: Slot<'_>| match slot {
            Slot::Marks(marks) => marks.to_string(),
            Slot::Flag(true) => "yes".to_owned(),
            Slot::Flag(false) => "no".to_owned(),
        };
        SWITCHES
            .iter()
            .map(|switch| Setting {
                name: switch.name,
                topic: switch.topic,
                meaning: switch.meaning.replace('\n', " "),
                value: said((switch.slot)(&mut here)),
                usual: said((switch.slot)(&mut usual)),
            })
            .collect()
    }
}

/// Returns the policy of a TOML file; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the file at once: unknown keys, values of the wrong kind.
pub fn read(text: &str, file: &str) -> Result<Policy, Vec<problem::Problem>> {
    let (mut reader, document) = table::Reader::open(file, text);
    let root = document.root();
    let names: Vec<&str> = std::iter::once("name")
        .chain(SWITCHES.iter().map(|switch| switch.name))
        .collect();
    reader.known_keys(&root, &names);
    let mut policy = Policy::default();
    if let Some(name) = reader.text(&root, "name") {
        name.value.clone_into(&mut policy.name);
    }
    for switch in SWITCHES {
        match (switch.slot)(&mut policy) {
            Slot::Marks(marks) => {
                let found = reader.whole(&root, switch.name, 0..=MOST.into());
                if let Some(found) = found.and_then(|found| u8::try_from(found.value).ok()) {
                    *marks = found;
                }
            }
            Slot::Flag(flag) => {
                if let Some(found) = reader.flag(&root, switch.name) {
                    *flag = found.value;
                }
            }
        }
    }
    let faults = reader.into_faults();
    if faults.is_empty() {
        Ok(policy)
    } else {
        Err(faults)
    }
}

/// Returns a policy as a TOML file with every switch, what it says, and its default
/// where that is another.
#[must_use]
pub fn write(policy: &Policy) -> String {
    let mut text = String::from(
        "# How answers are marked. Keep the lines that you change, leave out the others, and\n\
         # give the file with `toothmark mark ANSWERS --policy FILE`. Marks are 0 to 5.\n\n\
         # What you call it; it is kept with the marks.\n",
    );
    let name = serde_json::Value::from(policy.name.as_str());
    line(&mut text, format_args!("name = {name}"));
    let (mut here, mut usual) = (policy.clone(), Policy::default());
    let said = |slot: Slot<'_>| match slot {
        Slot::Marks(marks) => marks.to_string(),
        Slot::Flag(flag) => flag.to_string(),
    };
    let mut topic = "";
    for switch in SWITCHES {
        if switch.topic != topic {
            topic = switch.topic;
            line(&mut text, format_args!("\n# {topic}"));
        }
        line(&mut text, format_args!(""));
        for meaning in switch.meaning.lines() {
            line(&mut text, format_args!("# {meaning}"));
        }
        let value = said((switch.slot)(&mut here));
        let default = said((switch.slot)(&mut usual));
        if value == default {
            line(&mut text, format_args!("{} = {value}", switch.name));
        } else {
            line(
                &mut text,
                format_args!("{} = {value}  # usually {default}", switch.name),
            );
        }
    }
    text
}

fn line(text: &mut String, what: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = writeln!(text, "{what}");
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
    fn the_example_file_is_the_default_written_out() {
        let text = include_str!("../../sample-classes/marking-policy.toml");
        assert_eq!(text, write(&Policy::default()));
    }

    #[test]
    fn a_policy_written_out_is_read_back_switch_by_switch() {
        let mut policy = Policy {
            name: "Ashwhistle \"old\" School\nnorth".to_owned(),
            ..Policy::default()
        };
        for switch in SWITCHES {
            match (switch.slot)(&mut policy) {
                Slot::Marks(marks) => *marks = (*marks + 2) % 5,
                Slot::Flag(flag) => *flag = !*flag,
            }
            let text = write(&policy);
            assert_eq!(read(&text, "policy.toml"), Ok(policy.clone()), "{text}");
        }
        assert!(
            policy
                .settings()
                .iter()
                .all(|setting| setting.value != setting.usual),
            "every switch was turned"
        );
    }

    #[test]
    fn every_switch_of_a_policy_has_its_name_in_the_table_once() {
        let json = serde_json::to_value(Policy::default()).expect("plain values");
        let fields: Vec<&String> = json.as_object().expect("an object").keys().collect();
        let mut names: Vec<&str> = SWITCHES.iter().map(|switch| switch.name).collect();
        names.push("name");
        names.sort_unstable();
        let mut fields: Vec<&str> = fields.into_iter().map(String::as_str).collect();
        fields.sort_unstable();
        assert_eq!(names, fields);
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
