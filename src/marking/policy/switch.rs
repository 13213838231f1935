//! The switches in the order of the default policy, each with its place.

use crate::marking::policy::Policy;

/// A switch.
pub(super) struct Switch {
    /// Its name in a policy file.
    pub(super) name: &'static str,
    /// What it is about.
    pub(super) topic: &'static str,
    /// What it says, in lines that fit a page of a policy file.
    pub(super) meaning: &'static str,
    /// Where it stands in a policy.
    pub(super) slot: fn(&mut Policy) -> Slot<'_>,
}

/// The place of a switch's value.
pub(super) enum Slot<'p> {
    /// A number of marks.
    Marks(&'p mut u8),
    /// Yes or no.
    Flag(&'p mut bool),
}

/// Every switch.
pub(super) const SWITCHES: &[Switch] = &[
    Switch {
        name: "other_forms_are_settled",
        topic: "Equal values",
        meaning: "Whether an equal value in another form (a fraction, words, a sum that ends in\n\
                  the answer) is settled; otherwise a person looks at it.",
        slot: |policy| Slot::Flag(&mut policy.other_forms_are_settled),
    },
    Switch {
        name: "accuracy_costs",
        topic: "Rounding",
        meaning: "Marks lost by an answer that is right but has fewer digits than asked, or is cut\n\
                  off where it should be rounded.",
        slot: |policy| Slot::Marks(&mut policy.accuracy_costs),
    },
    Switch {
        name: "rough_pi_costs",
        topic: "Rounding",
        meaning: "Marks lost by an answer worked with too rough a pi for the digits asked, such as\n\
                  3.14 where 3.142 is needed.",
        slot: |policy| Slot::Marks(&mut policy.rough_pi_costs),
    },
    Switch {
        name: "missing_unit_costs",
        topic: "Units",
        meaning: "Marks lost by a missing unit; the sheet prints it beside the answer space.",
        slot: |policy| Slot::Marks(&mut policy.missing_unit_costs),
    },
    Switch {
        name: "other_units_are_converted",
        topic: "Units",
        meaning: "Whether an equal value in another unit (18 cm for 180 mm) is right; otherwise it\n\
                  counts as a wrong unit.",
        slot: |policy| Slot::Flag(&mut policy.other_units_are_converted),
    },
    Switch {
        name: "wrong_unit_costs",
        topic: "Units",
        meaning: "Marks lost by a unit that contradicts the one printed, where the question has\n\
                  two marks or more.",
        slot: |policy| Slot::Marks(&mut policy.wrong_unit_costs),
    },
    Switch {
        name: "wrong_unit_is_checked",
        topic: "Units",
        meaning: "Whether a person looks at such a unit where the question has one mark.",
        slot: |policy| Slot::Flag(&mut policy.wrong_unit_is_checked),
    },
    Switch {
        name: "number_for_ratio_is_settled",
        topic: "Ratios",
        meaning: "Whether 3 stands for 3 : 1 where the simplest form is not asked; otherwise a\n\
                  person looks at it.",
        slot: |policy| Slot::Flag(&mut policy.number_for_ratio_is_settled),
    },
    Switch {
        name: "unsimplified_costs",
        topic: "Ratios",
        meaning: "Marks lost by a ratio that is not in its simplest form where that is asked.",
        slot: |policy| Slot::Marks(&mut policy.unsimplified_costs),
    },
    Switch {
        name: "reversed_earns",
        topic: "Ratios",
        meaning: "Marks earned by a ratio the wrong way round, where the question has two marks or\n\
                  more.",
        slot: |policy| Slot::Marks(&mut policy.reversed_earns),
    },
    Switch {
        name: "follow_through",
        topic: "Parts that follow",
        meaning: "Whether a later part worked rightly from the pupil's own earlier answer earns\n\
                  full marks.",
        slot: |policy| Slot::Flag(&mut policy.follow_through),
    },
    Switch {
        name: "follow_through_when_easier",
        topic: "Parts that follow",
        meaning: "Whether it does so even where the slip made the later part easier.",
        slot: |policy| Slot::Flag(&mut policy.follow_through_when_easier),
    },
    Switch {
        name: "answer_only_earns_all",
        topic: "Working",
        meaning: "Whether a right answer without working earns everything.",
        slot: |policy| Slot::Flag(&mut policy.answer_only_earns_all),
    },
    Switch {
        name: "working_earns_method",
        topic: "Working",
        meaning: "Whether working is read where the answer is not right.",
        slot: |policy| Slot::Flag(&mut policy.working_earns_method),
    },
    Switch {
        name: "right_method_earns",
        topic: "Working",
        meaning: "Marks earned by working with the right method and one slip of arithmetic, where\n\
                  the question has two marks or more.",
        slot: |policy| Slot::Marks(&mut policy.right_method_earns),
    },
    Switch {
        name: "misconception_credit",
        topic: "Misconceptions",
        meaning: "Whether a recognised misconception that shows part of a right method earns part\n\
                  of the marks.",
        slot: |policy| Slot::Flag(&mut policy.misconception_credit),
    },
    Switch {
        name: "two_answers_are_checked",
        topic: "Two answers",
        meaning: "Whether a person looks at two different answers; they earn nothing unless each\n\
                  is right.",
        slot: |policy| Slot::Flag(&mut policy.two_answers_are_checked),
    },
    Switch {
        name: "corrections_are_checked",
        topic: "Two answers",
        meaning: "Whether a person looks at a correction (27 no 3); the later answer is taken.",
        slot: |policy| Slot::Flag(&mut policy.corrections_are_checked),
    },
    Switch {
        name: "misspellings_are_settled",
        topic: "Spelling",
        meaning: "Whether a misspelt word that plainly means one thing is settled; otherwise a\n\
                  person looks at it.",
        slot: |policy| Slot::Flag(&mut policy.misspellings_are_settled),
    },
    Switch {
        name: "trailing_blanks_are_not_reached",
        topic: "Blanks",
        meaning: "Whether blanks after the last question attempted count as not reached.",
        slot: |policy| Slot::Flag(&mut policy.trailing_blanks_are_not_reached),
    },
    Switch {
        name: "two_meanings_are_checked",
        topic: "What a person looks at",
        meaning: "Whether a person looks at an answer with two meanings that earn differently;\n\
                  otherwise the likelier one is taken.",
        slot: |policy| Slot::Flag(&mut policy.two_meanings_are_checked),
    },
    Switch {
        name: "odd_text_is_checked",
        topic: "What a person looks at",
        meaning: "Whether a person looks at an answer with something odd beside it that is not\n\
                  understood.",
        slot: |policy| Slot::Flag(&mut policy.odd_text_is_checked),
    },
    Switch {
        name: "spreadsheet_changes_are_undone",
        topic: "Spreadsheets",
        meaning: "Whether a time, date, percentage or number that a spreadsheet program made of an\n\
                  answer is read back as what was typed.",
        slot: |policy| Slot::Flag(&mut policy.spreadsheet_changes_are_undone),
    },
];
