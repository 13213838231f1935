//! A homework as the data of the sheets' template.
//!
//! Only texts and sizes: the template decides how they look.

use crate::answer;
use crate::homework;
use crate::item;
use crate::item::question;
use crate::item::rounding;
use crate::level;
use crate::need;
use crate::paper::album;
use crate::paper::clean;
use crate::paper::look;
use crate::paper::said;
use crate::paper::word_card;
use crate::retention;
use serde::Serialize;

/// The most characters of a name or class that are printed.
const LONGEST_NAME: usize = 60;
/// The most characters of a title that are printed.
const LONGEST_TITLE: usize = 120;

/// The whole document.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Data {
    title: String,
    code: String,
    /// Until when it is kept, a sentence; and what of it large print has room for.
    keep: String,
    #[serde(rename = "keep-shortly")]
    keep_shortly: String,
    pupils: Vec<PupilSheet>,
    /// The drawings, to be found by their place.
    figures: Vec<Option<album::Figure>>,
}

/// One pupil's sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct PupilSheet {
    name: String,
    /// Name and class as far as the header of a further page has room for them.
    header: String,
    class: String,
    version: String,
    look: look::Look,
    #[serde(rename = "out-of")]
    out_of: u32,
    /// The most questions on a page.
    #[serde(rename = "a-page")]
    a_page: Option<u8>,
    /// Whether the answers have a sheet of their own.
    apart: bool,
    questions: Vec<Drawn>,
    words: Vec<word_card::Word>,
}

/// A question with its drawing.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Drawn {
    #[serde(flatten)]
    question: Question<Part>,
    drawing: Option<album::Place>,
}

/// One question with its parts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Question<P> {
    /// Its number without a letter, such as `3`.
    pub(super) number: String,
    /// What every part is about.
    pub(super) story: String,
    /// Its parts; one where the question has no letters.
    pub(super) parts: Vec<P>,
}

/// One part of a question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Part {
    letter: String,
    text: String,
    marks: u8,
    working: bool,
    space: Space,
}

/// What stands in the answer space.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum Space {
    /// A line with its unit.
    Number { unit: String, rounding: String },
    /// Two lines with a colon between, and what each stands for above.
    Ratio {
        first: String,
        second: String,
        simplest: bool,
    },
    /// Boxes to tick.
    List { options: Vec<String> },
    /// The gears in the box, and a line for each one to choose.
    Gears { labels: Vec<String>, from: Vec<u32> },
    /// Lines to write on.
    Lines { count: u8 },
}

/// Returns what the template of the sheets prints, and the drawings to go with it.
pub(super) fn data(homework: &homework::Homework, class: &need::Class) -> (Data, Vec<u8>) {
    let mut album = album::Album::default();
    let pupils = homework
        .pupils
        .iter()
        .filter_map(|assignment| {
            let sheet = homework.sheets.get(assignment.sheet)?;
            let needs = class.of(&assignment.pupil.id);
            Some(pupil_sheet(&assignment.pupil, sheet, needs, &mut album))
        })
        .collect();
    let drawn = album.draw();
    let data = Data {
        title: title(homework),
        code: homework.code.clone(),
        keep: retention::sentence(homework.kept_until()),
        keep_shortly: retention::shortly(homework.kept_until()),
        pupils,
        figures: drawn.figures,
    };
    (data, drawn.bytes)
}

/// The homework's title as printed.
pub(super) fn title(homework: &homework::Homework) -> String {
    clean::shortened(homework.title.trim(), LONGEST_TITLE)
}

/// A pupil's name as printed: the id where there is no name that can be printed.
pub(super) fn name(pupil: &homework::Pupil) -> String {
    let printable = clean::text(pupil.name.trim());
    let letters = printable.chars().any(char::is_alphabetic);
    let name = if letters { &printable } else { &pupil.id };
    clean::shortened(name, LONGEST_NAME)
}

/// Gathers the items that are parts of one question.
pub(super) fn questions<'a, P>(
    items: &'a [item::Item],
    part: impl Fn(&'a item::Item, &str) -> P,
) -> Vec<Question<P>> {
    question::questions(items)
        .into_iter()
        .map(|question| Question {
            story: question.story().to_owned(),
            parts: question
                .parts
                .iter()
                .map(|(letter, item)| part(item, letter))
                .collect(),
            number: question.number,
        })
        .collect()
}

/// The items that are parts of a question.
pub(super) fn parts<'a>(sheet: &'a homework::Sheet, question: &str) -> Vec<&'a item::Item> {
    sheet
        .items
        .iter()
        .filter(|item| question::number_and_letter(&item.number).0 == question)
        .collect()
}

fn pupil_sheet(
    pupil: &homework::Pupil,
    sheet: &homework::Sheet,
    needs: need::Needs,
    album: &mut album::Album,
) -> PupilSheet {
    let highest = sheet.items.iter().map(|item| item.level).max();
    let look = look::look(highest, needs);
    let drawn = |question: Question<Part>| {
        let items = parts(sheet, &question.number);
        let drawing = album.question(&items, &look.room(beside(&question.parts, needs)));
        Drawn { question, drawing }
    };
    let questions = questions(&sheet.items, part)
        .into_iter()
        .map(drawn)
        .collect();
    let name = name(pupil);
    let class = clean::shortened(pupil.class.trim(), LONGEST_NAME);
    let header = if class.is_empty() {
        name.clone()
    } else {
        format!("{name}, {class}")
    };
    PupilSheet {
        header: clean::shortened(&header, look.header_signs()),
        name,
        class,
        version: sheet.version.clone(),
        out_of: sheet.items.iter().map(|item| u32::from(item.marks)).sum(),
        a_page: match needs.questions_a_page {
            need::QuestionsAPage::AsFit => None,
            need::QuestionsAPage::AtMost(most) => Some(most),
        },
        apart: needs.answers == need::Answers::Apart,
        questions,
        words: match needs.word_card {
            need::WordCard::With => word_card::words(&sheet.items, &look, album),
            need::WordCard::Without => Vec::new(),
        },
        look,
    }
}

/// What stands beside a question's drawing: working, where the answer is below.
fn beside(parts: &[Part], needs: need::Needs) -> look::Beside {
    match (parts, needs.answers) {
        ([only], need::Answers::Below) if only.working => look::Beside::Working,
        (_, need::Answers::Below | need::Answers::Apart) => look::Beside::Nothing,
    }
}

fn part(item: &item::Item, letter: &str) -> Part {
    Part {
        letter: letter.to_owned(),
        text: item.question.clone(),
        marks: item.marks,
        working: item.working,
        space: space(item),
    }
}

fn space(item: &item::Item) -> Space {
    match &item.form {
        answer::Form::Number {
            unit, precision, ..
        } => Space::Number {
            unit: unit.text().to_owned(),
            rounding: rounding::rounding(item, *precision),
        },
        answer::Form::Ratio {
            first,
            second,
            simplest,
        } => Space::Ratio {
            first: first.clone(),
            second: second.clone(),
            simplest: *simplest,
        },
        answer::Form::List { options, .. } => Space::List {
            options: options.iter().map(|option| option.text.clone()).collect(),
        },
        answer::Form::Gears { labels, from, .. } => Space::Gears {
            labels: said::choice_labels(item, labels),
            from: from.clone(),
        },
        answer::Form::Explanation(_) => Space::Lines { count: lines(item) },
    }
}

/// How many lines an explanation has: three where the hand is large or two ideas are
/// wanted, else two.
fn lines(item: &item::Item) -> u8 {
    let has_large_hand = level::Level::new(4).is_some_and(|level| item.level < level);
    2 + u8::from(has_large_hand || item.marks > 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_cannot_be_printed_gives_way_to_the_id() {
        let pupil = |name: &str| homework::Pupil {
            id: "P07".to_owned(),
            name: name.to_owned(),
            class: String::new(),
            year: String::new(),
            level: None,
            groups: std::collections::BTreeMap::new(),
        };
        assert_eq!(name(&pupil(" Zoë Byrne ")), "Zoë Byrne");
        assert_eq!(name(&pupil("李小龙")), "P07");
        assert_eq!(name(&pupil("")), "P07");
        assert_eq!(name(&pupil(&"x".repeat(99))).chars().count(), LONGEST_NAME);
    }
}
