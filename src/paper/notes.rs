//! Feedback as the data of its template: class pages, then notes to cut out.

use crate::answer;
use crate::feedback;
use crate::feedback::class;
use crate::homework;
use crate::item;
use crate::item::rounding;
use crate::level;
use crate::paper::album;
use crate::paper::clean;
use crate::paper::sheet;
use crate::retention;
use serde::Serialize;

/// The most characters of a title that are printed.
const LONGEST_TITLE: usize = 90;

/// The room for a drawing on a note.
const ON_A_NOTE: album::Room = album::Room {
    width_mm: 83.0,
    pair_mm: 27.0,
    height_mm: 33.0,
    type_mm: 3.4,
    enlarged: 1.0,
    paper: None,
};
/// The room for the drawing that a class looks at.
const ON_A_CLASS_PAGE: album::Room = album::Room {
    width_mm: 84.0,
    pair_mm: 36.0,
    height_mm: 48.0,
    type_mm: 3.8,
    enlarged: 1.0,
    paper: None,
};

/// The whole document.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Data {
    title: String,
    code: String,
    date: String,
    /// Until when it is kept, a sentence.
    keep: String,
    classes: Vec<Class>,
    notes: Vec<Note>,
    figures: Vec<Option<album::Figure>>,
}

/// The page of a class.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Class {
    name: String,
    private: String,
    #[serde(rename = "well-heading")]
    well_heading: String,
    well: Vec<String>,
    #[serde(rename = "again-heading")]
    again_heading: String,
    again: Vec<Again>,
    #[serde(rename = "again-none")]
    again_none: String,
    together: Option<Together>,
    asides: Vec<Names>,
    waiting: String,
}

/// Something to teach again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Again {
    what: String,
    next: String,
    who: Names,
}

/// Names with a word before them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Names {
    lead: String,
    names: String,
}

/// The question to do together.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Together {
    heading: String,
    ask: String,
    example: Example,
    #[serde(rename = "would-say")]
    would_say: String,
}

/// The note of a pupil.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Note {
    name: String,
    opening: String,
    can: Vec<String>,
    marks: String,
    #[serde(rename = "practise-heading")]
    practise_heading: String,
    practise: String,
    /// Whether it is for a beginning reader.
    large: bool,
    example: Option<Example>,
}

/// A question worked.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Example {
    lead: String,
    story: String,
    question: String,
    drawing: Option<album::Place>,
    steps: Vec<String>,
    answer: String,
}

/// Returns what the template of feedback prints, and the drawings to go with it.
pub(super) fn data(feedback: &feedback::Feedback) -> (Data, Vec<u8>) {
    let mut album = album::Album::default();
    let classes = feedback
        .classes
        .iter()
        .map(|page| class_page(page, &mut album))
        .collect();
    let notes = feedback
        .notes
        .iter()
        .map(|entry| note(entry, &mut album))
        .collect();
    let drawn = album.draw();
    let data = Data {
        title: clean::shortened(feedback.title.trim(), LONGEST_TITLE),
        code: feedback.code.clone(),
        date: feedback.marked_on.clone(),
        keep: retention::sentence(feedback.kept_until),
        classes,
        notes,
        figures: drawn.figures,
    };
    (data, drawn.bytes)
}

fn class_page(page: &class::Page, album: &mut album::Album) -> Class {
    Class {
        name: clean::shortened(&page.class, LONGEST_TITLE),
        private: page.private.clone(),
        well_heading: page.well_heading.clone(),
        well: page.well.clone(),
        again_heading: page.again_heading.clone(),
        again: page
            .again
            .iter()
            .map(|again| Again {
                what: again.what.clone(),
                next: again.next.clone(),
                who: names(&again.who),
            })
            .collect(),
        again_none: page.again_none.clone(),
        together: page.together.as_ref().map(|together| Together {
            heading: together.heading.clone(),
            ask: together.ask.clone(),
            example: example(&together.example, &ON_A_CLASS_PAGE, album),
            would_say: together.would_say.clone(),
        }),
        asides: page.asides.iter().map(names).collect(),
        waiting: page.waiting.clone(),
    }
}

fn names(of: &class::Names) -> Names {
    let names: Vec<String> = of.pupils.iter().map(name).collect();
    Names {
        lead: of.lead.clone(),
        names: names.join(", "),
    }
}

/// A name as it is printed everywhere.
fn name(pupil: &homework::Pupil) -> String {
    sheet::name(pupil)
}

fn note(entry: &feedback::Note, album: &mut album::Album) -> Note {
    let beginner = level::Level::new(2);
    let level = entry.example.as_ref().map(|example| example.item.level);
    Note {
        name: name(&entry.pupil),
        opening: entry.opening.clone(),
        can: entry.can.clone(),
        marks: entry.marks.clone(),
        practise_heading: entry.heading.clone(),
        practise: entry.practise.clone(),
        large: level.is_some() && level <= beginner,
        example: entry
            .example
            .as_ref()
            .map(|worked| example(worked, &ON_A_NOTE, album)),
    }
}

fn example(example: &feedback::Example, room: &album::Room, album: &mut album::Album) -> Example {
    let item = &example.item;
    Example {
        lead: example.lead.clone(),
        story: item.story.clone(),
        question: question(item),
        drawing: album.question(&[item], room),
        steps: example.steps.clone(),
        answer: example.answer_line.clone(),
    }
}

/// The question with how exactly its answer is wanted.
fn question(item: &item::Item) -> String {
    let rounding = match item.form {
        answer::Form::Number { precision, .. } => rounding::rounding(item, precision),
        answer::Form::Ratio { .. }
        | answer::Form::List { .. }
        | answer::Form::Gears { .. }
        | answer::Form::Explanation(_) => String::new(),
    };
    if rounding.is_empty() {
        item.question.clone()
    } else {
        format!("{} ({rounding})", item.question)
    }
}
