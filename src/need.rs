//! What a pupil needs of the printed page: larger type, wider spacing, a tint and more.
//!
//! Takes what a roll or a command line says; gives the [`Needs`] of one pupil. A need is
//! nobody's group and no part of the record: it is used for printing and then forgotten.
//! Not here: how a page that meets the need looks.

use std::collections::BTreeMap;

/// How large the type is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PrintSize {
    /// As the sheet's level has it.
    #[default]
    Usual,
    /// 18 point on A4.
    Point18,
    /// 24 point on A4.
    Point24,
    /// 36 point on A3.
    Point36,
}

/// How far letters, words and lines stand apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Spacing {
    /// As the typeface has it.
    #[default]
    Usual,
    /// Letters, words and lines farther apart.
    Wide,
}

/// The colour of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tint {
    /// Nothing is printed behind the text.
    #[default]
    None,
    /// Cream.
    Cream,
    /// Yellow.
    Yellow,
    /// Peach.
    Peach,
    /// Pink.
    Pink,
    /// Blue.
    Blue,
    /// Green.
    Green,
}

/// Whether there is a page with the words of the trade and what they mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WordCard {
    /// There is none.
    #[default]
    Without,
    /// It follows the sheet.
    With,
}

/// Where the pupil answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Answers {
    /// Below each question.
    #[default]
    Below,
    /// On a sheet of their own, to lie beside the questions.
    Apart,
}

/// How many questions stand on a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum QuestionsAPage {
    /// As many as fit.
    #[default]
    AsFit,
    /// At most so many.
    AtMost(u8),
}

/// What one pupil needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Needs {
    /// How large the type is.
    pub print_size: PrintSize,
    /// How far letters, words and lines stand apart.
    pub spacing: Spacing,
    /// The colour of the paper.
    pub tint: Tint,
    /// Whether there is a word card.
    pub word_card: WordCard,
    /// Where the pupil answers.
    pub answers: Answers,
    /// How many questions stand on a page.
    pub questions_a_page: QuestionsAPage,
}

/// What is said of one pupil; what is not said is as for the class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Wishes {
    print_size: Option<PrintSize>,
    spacing: Option<Spacing>,
    tint: Option<Tint>,
    word_card: Option<WordCard>,
    answers: Option<Answers>,
    questions_a_page: Option<QuestionsAPage>,
}

/// What a whole class needs.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Class {
    /// What holds for pupils of whom nothing else is said.
    pub usual: Needs,
    /// What is said of single pupils, by their id.
    pub own: BTreeMap<String, Wishes>,
}

/// One kind of need, as a roll has a column for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// How large the type is.
    PrintSize,
    /// How far letters, words and lines stand apart.
    Spacing,
    /// The colour of the paper.
    Tint,
    /// Whether there is a word card.
    WordCard,
    /// Whether answers have a sheet of their own.
    AnswersApart,
    /// The most questions on a page.
    QuestionsAPage,
}

/// The most that can be asked for as the most questions on a page.
const MOST_QUESTIONS_A_PAGE: u8 = 20;

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 6] = [
        Self::PrintSize,
        Self::Spacing,
        Self::Tint,
        Self::WordCard,
        Self::AnswersApart,
        Self::QuestionsAPage,
    ];

    /// Returns the heading of its column.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Self::PrintSize => "print size",
            Self::Spacing => "spacing",
            Self::Tint => "tint",
            Self::WordCard => "word card",
            Self::AnswersApart => "answers apart",
            Self::QuestionsAPage => "questions a page",
        }
    }

    /// Returns the headings that are taken for it: letters only, lower case.
    #[must_use]
    pub fn spellings(self) -> &'static [&'static str] {
        match self {
            Self::PrintSize => &["printsize", "largeprint", "typesize"],
            Self::Spacing => &["spacing", "widespacing"],
            Self::Tint => &["tint", "papertint", "papercolour"],
            Self::WordCard => &["wordcard"],
            Self::AnswersApart => &["answersapart"],
            Self::QuestionsAPage => &["questionsapage", "questionsperpage"],
        }
    }

    /// Returns what can be written, for a person.
    #[must_use]
    pub fn choices(self) -> &'static str {
        match self {
            Self::PrintSize => "18, 24, 36 or usual",
            Self::Spacing => "wide or usual",
            Self::Tint => "cream, yellow, peach, pink, blue, green or none",
            Self::WordCard | Self::AnswersApart => "yes or no",
            Self::QuestionsAPage => "a whole number from 1 to 20, or usual",
        }
    }
}

impl Wishes {
    /// Takes what is written of one kind of need, and says whether it could be read.
    ///
    /// # Example
    ///
    /// ```
    /// use toothmark::need;
    ///
    /// let mut wishes = need::Wishes::default();
    /// assert!(wishes.take(need::Kind::PrintSize, "24 point"));
    /// assert!(!wishes.take(need::Kind::Tint, "plaid"));
    /// assert_eq!(wishes.over(need::Needs::default()).print_size, need::PrintSize::Point24);
    /// ```
    #[must_use]
    pub fn take(&mut self, kind: Kind, text: &str) -> bool {
        let text = text.trim().to_lowercase();
        match kind {
            Kind::PrintSize => set(&mut self.print_size, print_size(&text)),
            Kind::Spacing => set(&mut self.spacing, spacing(&text)),
            Kind::Tint => set(&mut self.tint, tint(&text)),
            Kind::WordCard => {
                let choice = yes_or_no(&text, WordCard::With, WordCard::Without);
                set(&mut self.word_card, choice)
            }
            Kind::AnswersApart => {
                let choice = yes_or_no(&text, Answers::Apart, Answers::Below);
                set(&mut self.answers, choice)
            }
            Kind::QuestionsAPage => set(&mut self.questions_a_page, questions_a_page(&text)),
        }
    }

    /// Says whether nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Returns what is needed where these wishes go before what is usual.
    #[must_use]
    pub fn over(&self, usual: Needs) -> Needs {
        Needs {
            print_size: self.print_size.unwrap_or(usual.print_size),
            spacing: self.spacing.unwrap_or(usual.spacing),
            tint: self.tint.unwrap_or(usual.tint),
            word_card: self.word_card.unwrap_or(usual.word_card),
            answers: self.answers.unwrap_or(usual.answers),
            questions_a_page: self.questions_a_page.unwrap_or(usual.questions_a_page),
        }
    }
}

impl Class {
    /// Returns what the pupil with this id needs.
    #[must_use]
    pub fn of(&self, id: &str) -> Needs {
        match self.own.get(id) {
            Some(wishes) => wishes.over(self.usual),
            None => self.usual,
        }
    }
}

/// Puts what was read in its place, and says whether anything was.
fn set<T>(place: &mut Option<T>, read: Option<T>) -> bool {
    let is_read = read.is_some();
    if is_read {
        *place = read;
    }
    is_read
}

fn is_usual(text: &str) -> bool {
    matches!(text, "usual" | "normal" | "no" | "none")
}

fn print_size(text: &str) -> Option<PrintSize> {
    if is_usual(text) {
        return Some(PrintSize::Usual);
    }
    let number = ["points", "point", "pt"]
        .iter()
        .find_map(|unit| text.strip_suffix(unit))
        .unwrap_or(text);
    match number.trim_end() {
        "18" => Some(PrintSize::Point18),
        "24" => Some(PrintSize::Point24),
        "36" => Some(PrintSize::Point36),
        _ => None,
    }
}

fn spacing(text: &str) -> Option<Spacing> {
    match text {
        "wide" | "yes" => Some(Spacing::Wide),
        _ => is_usual(text).then_some(Spacing::Usual),
    }
}

fn tint(text: &str) -> Option<Tint> {
    match text {
        "cream" => Some(Tint::Cream),
        "yellow" => Some(Tint::Yellow),
        "peach" => Some(Tint::Peach),
        "pink" => Some(Tint::Pink),
        "blue" => Some(Tint::Blue),
        "green" => Some(Tint::Green),
        "white" => Some(Tint::None),
        _ => is_usual(text).then_some(Tint::None),
    }
}

fn yes_or_no<T>(text: &str, yes: T, no: T) -> Option<T> {
    match text {
        "yes" | "y" | "true" | "x" => Some(yes),
        "no" | "n" | "false" => Some(no),
        _ => None,
    }
}

/// A number that a spreadsheet program may have given decimals, such as `3.0`.
fn questions_a_page(text: &str) -> Option<QuestionsAPage> {
    if is_usual(text) {
        return Some(QuestionsAPage::AsFit);
    }
    let count: u8 = text.strip_suffix(".0").unwrap_or(text).parse().ok()?;
    (1..=MOST_QUESTIONS_A_PAGE)
        .contains(&count)
        .then_some(QuestionsAPage::AtMost(count))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_of_a_pupil_goes_before_what_is_usual() {
        let mut wishes = Wishes::default();
        for (kind, text) in [
            (Kind::PrintSize, " 18 pt"),
            (Kind::Spacing, "Wide"),
            (Kind::WordCard, "no"),
            (Kind::QuestionsAPage, "usual"),
        ] {
            assert!(wishes.take(kind, text), "{text}");
        }
        let usual = Needs {
            tint: Tint::Cream,
            word_card: WordCard::With,
            questions_a_page: QuestionsAPage::AtMost(2),
            ..Needs::default()
        };
        let class = Class {
            usual,
            own: BTreeMap::from([("P1".to_owned(), wishes)]),
        };
        assert_eq!(
            class.of("P1"),
            Needs {
                print_size: PrintSize::Point18,
                spacing: Spacing::Wide,
                tint: Tint::Cream,
                ..Needs::default()
            }
        );
        assert_eq!(class.of("P2"), usual);
    }

    #[test]
    fn what_cannot_be_read_is_refused_and_changes_nothing() {
        for (kind, text) in [
            (Kind::PrintSize, "20"),
            (Kind::PrintSize, "yes"),
            (Kind::Spacing, "double"),
            (Kind::Tint, "plaid"),
            (Kind::WordCard, "18"),
            (Kind::AnswersApart, "perhaps"),
            (Kind::QuestionsAPage, "0"),
            (Kind::QuestionsAPage, "21"),
            (Kind::QuestionsAPage, "2.5"),
        ] {
            let mut wishes = Wishes::default();
            assert!(!wishes.take(kind, text), "{text}");
            assert!(wishes.is_empty(), "{text}");
        }
    }

    #[test]
    fn every_choice_that_is_told_can_be_written() {
        for kind in Kind::ALL {
            for choice in kind.choices().replace(" or ", ", ").split(", ") {
                if choice.starts_with("a whole number") || choice.is_empty() {
                    continue;
                }
                assert!(Wishes::default().take(kind, choice), "{kind:?}: {choice}");
            }
        }
    }
}
