//! What an answer can be, and how typed text is read as one.
//!
//! Takes a [`Typed`] and the [`Form`] asked for; gives a [`Reading`], and says
//! how what was given agrees with a right answer ([`Agreement`]). Knows nothing
//! of marks, pupils or files.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::number;
use std::sync::Arc;

mod accuracy;
mod agreement;
pub mod explaining;
mod expression;
mod form;
mod reading;
pub mod scene;
mod scheme;
mod tidy;
mod unit;

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
    /// Other wordings that plainly mean it in this question, such as `same way`
    /// where gear A is said to turn clockwise and meshes with the gear asked about.
    pub also: Vec<String>,
    /// Wordings that may well mean it, so that a person should look.
    pub perhaps: Vec<String>,
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
        /// The labels of the part asked about and of what turns with it, so that
        /// `A 9, B 3` can be read; none where no one part is asked about.
        labels: Vec<String>,
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
        /// What an answer may speak of; shared, for it is long.
        scene: Arc<scene::Scene>,
    },
    /// Gears chosen from a box.
    Gears {
        /// The labels to fill, such as `A` and `B`, in the order asked.
        labels: Vec<String>,
        /// The tooth counts in the box.
        from: Vec<u32>,
        /// Whether each labelled part drives the next one: then `12 drives 36` says
        /// which is which.
        in_drive_order: bool,
    },
    /// An explanation in the pupil's own words.
    Explanation(Box<explaining::Explaining>),
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

/// A unit as a pupil wrote it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// Its words, such as `turns a second`.
    pub words: String,
    /// What it is; `None` for one that no answer here can have, such as `kg`.
    pub means: Option<Measure>,
}

/// So many of a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Measure {
    /// The unit.
    pub unit: Unit,
    /// How many of it one of the unit written is.
    pub scale: number::Number,
}

/// An answer as understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Given {
    /// A number, with the unit where one was written.
    Quantity {
        /// The exact value written.
        value: number::Value,
        /// The unit written, if any.
        unit: Option<Written>,
        /// How many decimal places were written; `None` for a fraction or whole words.
        places: Option<u8>,
    },
    /// A ratio as written, not simplified.
    Ratio(number::Number, number::Number),
    /// An entry of the list.
    Entry(ask::Fact),
    /// Gears chosen, in the order of the labels.
    Gears(Vec<u32>),
    /// What an explanation says.
    Explanation(explaining::Explanation),
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
    /// A loose wording: a person should look where it earns marks, and why.
    Loose {
        /// In a few words.
        why: String,
    },
    /// What it would be but for a slip of the hand, and which: it counts only where it
    /// earns more than what stands there.
    Slip {
        /// In a few words.
        why: String,
    },
}

/// What is out of the ordinary in the writing of an answer, whatever it means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Oddity {
    /// A number or ratio in another form than digits: words, a fraction, a sum.
    OtherForm,
    /// One number where a ratio is asked.
    NumberForRatio,
    /// A word that no dictionary has.
    Misspelt {
        /// The first such word.
        word: String,
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
///
/// More than one candidate in [`Reading::Read`] are different meanings of the same
/// text, likeliest first: where they earn the same there is nothing to ask. A
/// candidate's own [`Sureness::Check`] asks for a look even where it stands alone.
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
    /// Plain words that answer another question, such as `12` for a direction: it
    /// cannot be right.
    OtherKind {
        /// What it is not, such as `no direction`.
        why: String,
    },
    /// One plausible meaning, or more.
    Read(Vec<Candidate>),
    /// Two or more different answers with no sign which is meant; those that the list
    /// asked for does not hold are left out.
    Several(Vec<Candidate>),
}

/// How an answer given agrees with a right (or predicted) one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Agreement {
    /// The same, as asked.
    Equal,
    /// Correctly rounded as asked, or with more digits than asked and those right.
    Rounded,
    /// Right, but in another unit of the same kind (18 cm for 180 mm).
    ConvertedUnit,
    /// Correctly rounded, but to fewer digits than asked.
    TooFewDigits,
    /// Digits cut off where they should have been rounded.
    CutOff,
    /// Right but for pi taken as 3.14, 3.142 or 22/7, which changes the digits asked.
    PiTruncated,
    /// The number is right as printed, but the unit written says otherwise.
    WrongUnit,
    /// As [`Agreement::WrongUnit`], and the digits are too few, cut off or off by pi.
    WrongUnitAndDigits,
    /// The right ratio, not in the simplest form that was asked.
    Unsimplified,
    /// The right numbers the wrong way round.
    Reversed,
    /// The wrong way round, and not in the simplest form that was asked.
    ReversedUnsimplified,
    /// Something else.
    NotEqual,
}

/// A sign of reckoning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Operator {
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `×`
    Times,
    /// `÷`
    Over,
}

/// What is reckoned in a calculation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Expression {
    /// A number.
    Number(number::Value),
    /// Two with a sign between them.
    Combined {
        /// What stands before the sign.
        first: Box<Expression>,
        /// The sign.
        operator: Operator,
        /// What stands behind it.
        second: Box<Expression>,
    },
}

/// One calculation in a pupil's working.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calculation {
    /// What is reckoned.
    pub expression: Expression,
    /// What the pupil says it comes to, where they say.
    pub claimed: Option<number::Value>,
    /// The decimal places of that; `None` for a fraction or words.
    pub claimed_places: Option<u8>,
    /// The whole as one writes it, such as `108 ÷ 36 = 4`.
    pub text: String,
}

/// Reads a pupil's working as a chain of calculations, in the order written.
///
/// What is no calculation is passed over; never fails.
///
/// # Example
///
/// ```
/// use toothmark::answer;
///
/// let typed = answer::Typed {
///     text: "9 x 12 = 108 / 36 = 4".to_owned(),
///     undone: Vec::new(),
/// };
/// let chain = answer::read_working(&typed);
/// assert_eq!(chain[1].text, "108 ÷ 36 = 4");
/// assert_ne!(chain[1].expression.value(), chain[1].claimed);
/// ```
#[must_use]
pub fn read_working(typed: &Typed) -> Vec<Calculation> {
    reading::working::read(typed)
}

/// Returns what is out of the ordinary in the writing of an answer.
#[must_use]
pub fn oddities(typed: &Typed, form: &Form) -> Vec<Oddity> {
    reading::writing::oddities(typed, form)
}

/// Whether a reason to look is that a later answer takes the place of an earlier one,
/// and nothing else.
#[must_use]
pub fn is_correction(why: &str) -> bool {
    why == reading::CORRECTED
}

/// Returns a value as people write it: `2.5`, `2 1/3`, `80π`.
#[must_use]
pub fn number_text(value: number::Value) -> String {
    scheme::exact_text(value)
}

/// Reads a typed answer as the form asks.
///
/// Never fails: text that gives no answer is a [`Reading`] too. Only the first
/// 400 characters are read; the reading says so.
///
/// # Example
///
/// ```
/// use toothmark::answer;
/// use toothmark::number;
///
/// let form = answer::Form::Number {
///     unit: answer::Unit::Turns,
///     precision: number::Precision::Exact,
///     labels: vec!["B".to_owned()],
/// };
/// let typed = answer::Typed {
///     text: "it makes 2 ½ truns".to_owned(),
///     undone: Vec::new(),
/// };
/// let answer::Reading::Read(candidates) = answer::read(&typed, &form) else {
///     panic!("it is an answer");
/// };
/// assert_eq!(candidates[0].said, "2.5 turns");
/// assert_eq!(candidates[0].sureness, answer::Sureness::Sure);
/// ```
#[must_use]
pub fn read(typed: &Typed, form: &Form) -> Reading {
    reading::read(typed, form)
}

/// Returns the right answer as a mark scheme writes it, in the form's unit and
/// precision.
#[must_use]
pub fn expected(fact: &ask::Fact, form: &Form) -> String {
    scheme::expected(fact, form)
}

/// Returns a few other writings of the right answer that earn the same.
#[must_use]
pub fn accepted(fact: &ask::Fact, form: &Form) -> Vec<String> {
    scheme::accepted(fact, form)
}

/// Returns how an answer given agrees with a right (or predicted) one.
#[must_use]
pub fn compare(given: &Given, fact: &ask::Fact, form: &Form) -> Agreement {
    agreement::compare(given, fact, form)
}

/// Whether a number given shows two significant figures or more, so that it says
/// something of how it was found.
#[must_use]
pub fn has_two_figures(given: &Given) -> bool {
    match given {
        Given::Quantity { value, places, .. } => accuracy::has_two_figures(*value, *places),
        Given::Ratio(..) | Given::Entry(_) | Given::Gears(_) | Given::Explanation(_) => true,
    }
}

/// Returns the form of the answer to a question; `unit` is the usual one of the
/// question where none is named.
///
/// # Errors
///
/// One sentence that says what does not fit: a unit of another kind, or a unit,
/// precision or simplest form where no number (or ratio) is asked.
pub fn form_for(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    unit: Option<Unit>,
    precision: number::Precision,
    simplest: bool,
) -> Result<Form, String> {
    form::form_for(
        mechanism,
        ask,
        form::Wanted {
            unit,
            precision,
            simplest,
        },
    )
}

/// Returns a precision as banks and records spell it, such as `2 places`.
#[must_use]
pub fn precision_text(precision: number::Precision) -> String {
    form::precision_text(precision)
}

/// Returns the precision that banks and records spell so.
#[must_use]
pub fn parse_precision(text: &str) -> Option<number::Precision> {
    form::parse_precision(text)
}
