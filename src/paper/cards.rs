//! Task cards as the data of their templates: one for pupils, one for the teacher.

use crate::answer;
use crate::gears::ask;
use crate::level;
use crate::paper;
use crate::paper::album;
use crate::practical::card;
use crate::practical::caution;
use crate::wording;
use serde::Serialize;

/// The room for a drawing on a pupil's card.
const FOR_PUPILS: album::Room = album::Room {
    width_mm: 150.0,
    pair_mm: 44.0,
    height_mm: 56.0,
    type_mm: 4.2,
    enlarged: 1.0,
    paper: None,
};
/// The room for a drawing on the teacher's card.
const FOR_THE_TEACHER: album::Room = album::Room {
    width_mm: 62.0,
    pair_mm: 26.0,
    height_mm: 34.0,
    type_mm: 3.0,
    enlarged: 1.0,
    paper: None,
};

/// The whole document.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Data {
    title: String,
    edition: String,
    defers: &'static str,
    #[serde(rename = "teacher-first")]
    teacher_first: &'static str,
    #[serde(rename = "where-to-look")]
    where_to_look: &'static str,
    cards: Vec<Card>,
    figures: Vec<Option<album::Figure>>,
}

/// One card.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Card {
    id: String,
    title: String,
    skill: &'static str,
    levels: String,
    /// Whether it is for a beginning reader.
    large: bool,
    drawing: album::Place,
    needs: Vec<String>,
    cautions: Vec<&'static str>,
    steps: Vec<String>,
    explain: String,
    predictions: Vec<Prediction>,
    ideas: Vec<String>,
}

/// Something to predict.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Prediction {
    question: String,
    /// What the answer may be, where it is one of a list.
    options: Vec<String>,
    unit: &'static str,
    answer: String,
    steps: Vec<String>,
    others: Vec<Other>,
}

/// What somebody who thinks otherwise would predict.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Other {
    name: &'static str,
    answer: String,
}

/// Whose cards they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Pupils,
    Teacher,
}

/// Returns what a template of cards prints, and the drawings to go with it.
pub(super) fn data(pack: &paper::Cards<'_>, side: Side) -> (Data, Vec<u8>) {
    let mut album = album::Album::default();
    let cards = pack
        .cards
        .iter()
        .map(|card| one(card, side, &mut album))
        .collect();
    let drawn = album.draw();
    let data = Data {
        title: pack.title.to_owned(),
        edition: pack.edition.to_owned(),
        defers: caution::DEFERS,
        teacher_first: caution::TO_PUPILS,
        where_to_look: caution::WHERE_TO_LOOK,
        cards,
        figures: drawn.figures,
    };
    (data, drawn.bytes)
}

fn one(card: &card::Card<'_>, side: Side, album: &mut album::Album) -> Card {
    let task = card.task;
    let room = match side {
        Side::Pupils => &FOR_PUPILS,
        Side::Teacher => &FOR_THE_TEACHER,
    };
    let say = |caution: &caution::Caution| match side {
        Side::Pupils => caution.to_pupils(),
        Side::Teacher => caution.to_the_teacher(),
    };
    let asks: Vec<ask::Ask> = task
        .predictions
        .iter()
        .map(|prediction| prediction.ask.clone())
        .collect();
    let levels: Vec<String> = task.levels.iter().map(ToString::to_string).collect();
    let beginner = level::Level::new(3);
    Card {
        id: task.id.clone(),
        title: task.title.clone(),
        skill: task.skill.title(),
        levels: levels.join(", "),
        large: task.levels.iter().min().copied() <= beginner,
        drawing: album.asked(task.mechanism.clone(), asks, room),
        needs: card.needs.clone(),
        cautions: card.cautions.iter().map(say).collect(),
        steps: task.steps.clone(),
        explain: task.explain.clone(),
        predictions: card.worked.iter().map(prediction).collect(),
        ideas: card.ideas.clone(),
    }
}

fn prediction(worked: &card::Worked) -> Prediction {
    let (options, unit) = match &worked.form {
        answer::Form::Number { unit, .. } => (Vec::new(), wording::answer_unit(*unit)),
        answer::Form::List { options, .. } => {
            let options = options.iter().map(|option| option.text.clone());
            (options.collect(), "")
        }
        answer::Form::Ratio { .. } | answer::Form::Gears { .. } | answer::Form::Explanation(_) => {
            (Vec::new(), "")
        }
    };
    Prediction {
        question: worked.question.clone(),
        options,
        unit,
        answer: worked.answer.clone(),
        steps: worked.steps.clone(),
        others: worked
            .others
            .iter()
            .map(|(name, answer)| Other {
                name,
                answer: answer.clone(),
            })
            .collect(),
    }
}
