//! What an answer can be, and how typed text is read as one.
//!
//! Takes a [`Typed`] and the [`Form`] asked for; gives a [`Reading`]. Knows
//! nothing of marks, pupils or files.

use crate::gears::ask;
use crate::number;

/// A unit as printed beside the answer space.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    /// turns
    Turns,
    /// turns a minute (rpm)
    Rpm,
    /// teeth
    Teeth,
    /// starts
    Starts,
    /// stages
    Stages,
    /// millimetres
    Millimetres,
    /// centimetres
    Centimetres,
    /// metres
    Metres,
    /// newtons
    Newtons,
    /// newton centimetres
    NewtonCentimetres,
    /// newton metres
    NewtonMetres,
}

/// One entry of a short list of answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListOption {
    /// What it means.
    pub fact: ask::Fact,
    /// How it is printed and shown in the drop-down, such as `clockwise`.
    pub text: String,
}

/// What an answer should look like.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Form {
    /// A number; the unit is printed beside the answer space.
    Number {
        /// The printed unit.
        unit: Unit,
        /// How exactly it is wanted.
        precision: number::Precision,
    },
    /// A ratio `first : second`, in the printed order.
    Ratio {
        /// What the first number stands for, such as `turns of A`.
        first: String,
        /// What the second number stands for.
        second: String,
        /// Whether the simplest form is asked for.
        simplest: bool,
    },
    /// One of a short fixed list (drop-down): direction, yes or no, which gear,
    /// what it is called.
    List {
        /// The entries, in the order shown.
        options: Vec<ListOption>,
    },
    /// Gears chosen from a box.
    Gears {
        /// The labels to fill, such as `A` and `B`, in the order asked.
        labels: Vec<String>,
        /// The tooth counts in the box.
        from: Vec<u32>,
    },
}

/// What stood in one answer cell (or form field).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Typed {
    /// The text as a person would see it in the cell.
    pub text: String,
    /// Where a spreadsheet program changed what was typed: every text that may
    /// have been typed, likeliest first, each with why.
    pub undone: Vec<Undone>,
}

/// One thing that may have been typed before a spreadsheet program changed it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Undone {
    /// What may have been typed, such as `3:1`.
    pub text: String,
    /// Why, such as `the cell holds the time 03:01:00`.
    pub why: String,
}

/// An answer as understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Given {
    /// A number, with the unit where one was written.
    Quantity {
        /// The exact value written.
        value: number::Value,
        /// The unit written, if any.
        unit: Option<Unit>,
        /// How many decimal places were written; `None` for a fraction or whole words.
        places: Option<u8>,
    },
    /// A ratio as written, not simplified.
    Ratio(number::Number, number::Number),
    /// An entry of the list.
    Entry(ask::Fact),
    /// Gears chosen, in the order of the labels.
    Gears(Vec<u32>),
}

/// How sure a reading is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sureness {
    /// Nothing else could be meant.
    Sure,
    /// A person should look, and why.
    Check {
        /// In a few words.
        why: String,
    },
}

/// One way of understanding an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Candidate {
    /// What it means.
    pub given: Given,
    /// How sure.
    pub sureness: Sureness,
    /// The reading said shortly, such as `5/2` or `3 : 1`, for `read_as`.
    pub said: String,
}

/// What became of a typed answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reading {
    /// Nothing there.
    Blank,
    /// The pupil says they do not know.
    DontKnow,
    /// Text that gives no answer of this form, and why.
    Unreadable {
        /// In a few words.
        why: String,
    },
    /// One plausible meaning, or more.
    Read(Vec<Candidate>),
    /// Two or more different answers with no sign which is meant.
    Several(Vec<Candidate>),
}
