//! A homework as the data of the mark scheme's template.
//!
//! Every answer is worked out here from the item's mechanism; no answer comes
//! from the record.

use crate::answer;
use crate::answer::explaining;
use crate::gears::ask;
use crate::gears::solve;
use crate::homework;
use crate::item;
use crate::misconception;
use crate::paper;
use crate::paper::album;
use crate::paper::key;
use crate::paper::once;
use crate::paper::said;
use crate::paper::sheet;
use crate::retention;
use crate::wording;
use serde::Serialize;
use std::collections::BTreeMap;

/// The whole document.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Data {
    title: String,
    code: String,
    date: String,
    policy: &'static [&'static str],
    cautions: &'static [&'static str],
    schemes: Vec<Scheme>,
    key: key::Key,
    /// Until when the key, which names pupils, is kept: a sentence.
    keep: String,
    /// The drawings, to be found by their place.
    figures: Vec<Option<album::Figure>>,
}

/// One version worked in full.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Scheme {
    /// Its version; empty where there is only one.
    version: String,
    /// How many versions are like it but for their numbers.
    alike: usize,
    /// Whether these are single questions of many sheets.
    examples: bool,
    questions: Vec<Drawn>,
}

/// A question with its drawing, small.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Drawn {
    #[serde(flatten)]
    question: sheet::Question<Part>,
    drawing: Option<album::Place>,
}

/// The room for a drawing: it only recalls which question it is.
const ROOM: album::Room = album::Room {
    width_mm: 62.0,
    pair_mm: 22.0,
    height_mm: 26.0,
    type_mm: 2.6,
    enlarged: 1.0,
    paper: None,
};

/// One part of a question, worked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Part {
    letter: String,
    text: String,
    skill: &'static str,
    level: u8,
    marks: u8,
    answer: String,
    accepted: Vec<String>,
    steps: Vec<String>,
    earns: Vec<String>,
    slips: Vec<Slip>,
}

/// What a misconception would give.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
struct Slip {
    name: &'static str,
    /// How its answer comes about; empty where the name says it all: for an answer
    /// from a list of words, and for a mere slip.
    gives: &'static str,
    /// Several where the misconception can be followed in several ways.
    answers: Vec<String>,
    marks: u8,
}

/// The default marking policy, shortly.
const POLICY: &[&str] = &[
    "Equal values earn equal marks: 2 1/2, 2.5, 5/2 and 2½ are the same answer.",
    "Answer only is enough for full marks. Working earns its mark where the method is right and the arithmetic slips once.",
    "A missing unit costs nothing. An equal amount in another unit is right. A unit that contradicts costs one mark where there are two or more.",
    "A ratio the wrong way round earns 1 mark where there are two or more. A ratio that is not simplified loses one mark only where that is asked.",
    "A later part that is worked correctly from the pupil's own earlier answer earns full marks, unless the slip made it easier.",
    "Two different answers, with no sign which is meant, earn nothing. Spelling costs nothing.",
    "No half marks. Marks are proposals: the teacher's decision stands.",
];

/// Cautions where pupils try a question with real gears.
const CAUTIONS: &[&str] = &[
    "Turn by hand and slowly at first. Keep fingers, hair, ties, lanyards and sleeves away from turning gears.",
    "Stop and disconnect before changing gears. Use low-voltage cells only. Keep small parts and button cells from the youngest.",
    "Keep hanging loads light and low, with feet clear and something soft below.",
    "These notes approve nothing: your school's own risk assessment and local rules come first.",
];

/// Returns what the template of the mark scheme prints, and the drawings to go with it.
pub(super) fn data(homework: &homework::Homework) -> Result<(Data, Vec<u8>), paper::PaperError> {
    let answers = answers(homework)?;
    let examples = once::examples(homework, &answers);
    let mut album = album::Album::default();
    let schemes = match &examples {
        Some(examples) => vec![Scheme {
            examples: true,
            ..scheme(&examples.sheet, &examples.answers, 1, 1, &mut album)
        }],
        None => schemes(homework, &answers, &mut album),
    };
    let drawn = album.draw();
    let data = Data {
        title: sheet::title(homework),
        code: homework.code.clone(),
        date: homework.date.clone(),
        policy: POLICY,
        cautions: CAUTIONS,
        schemes,
        key: key::key(homework, &answers, examples.as_ref()),
        keep: retention::sentence(homework.kept_until()),
        figures: drawn.figures,
    };
    Ok((data, drawn.bytes))
}

/// The worked answer of every item: one list a sheet, in the items' order.
pub(super) type Answers = Vec<Vec<solve::Worked>>;

/// Works every item of every sheet.
pub(super) fn answers(homework: &homework::Homework) -> Result<Answers, paper::PaperError> {
    homework
        .sheets
        .iter()
        .map(|sheet| {
            sheet
                .items
                .iter()
                .map(|item| {
                    solve::answer(&item.mechanism, &item.ask).map_err(|faults| {
                        paper::PaperError::NoAnswer {
                            version: sheet.version.clone(),
                            question: item.number.clone(),
                            faults,
                        }
                    })
                })
                .collect()
        })
        .collect()
}

/// Works the first version of each kind: versions are alike when their
/// questions come from the same templates at the same levels.
fn schemes(
    homework: &homework::Homework,
    answers: &Answers,
    album: &mut album::Album,
) -> Vec<Scheme> {
    let kinds: Vec<String> = homework.sheets.iter().map(kind).collect();
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for kind in &kinds {
        *counts.entry(kind).or_default() += 1;
    }
    let mut schemes = Vec::new();
    for ((sheet, answers), kind) in homework.sheets.iter().zip(answers).zip(&kinds) {
        // The first sheet of a kind takes the count; later ones find none.
        let Some(alike) = counts.remove(kind.as_str()) else {
            continue;
        };
        schemes.push(scheme(sheet, answers, alike, homework.sheets.len(), album));
    }
    schemes
}

/// What makes sheets alike, as one text.
pub(super) fn kind(sheet: &homework::Sheet) -> String {
    let items: Vec<String> = sheet
        .items
        .iter()
        .map(|item| {
            let (number, bank, template, level) =
                (&item.number, &item.bank, &item.template, item.level);
            format!("{number} {bank}/{template} {level:?}")
        })
        .collect();
    items.join("\n")
}

fn scheme(
    sheet: &homework::Sheet,
    answers: &[solve::Worked],
    alike: usize,
    sheet_count: usize,
    album: &mut album::Album,
) -> Scheme {
    let worked: BTreeMap<&str, &solve::Worked> = sheet
        .items
        .iter()
        .map(|item| item.number.as_str())
        .zip(answers)
        .collect();
    let questions = sheet::questions(&sheet.items, |item, letter| {
        part(item, letter, worked.get(item.number.as_str()).copied())
    });
    let drawn = |question: sheet::Question<Part>| Drawn {
        drawing: album.question(&sheet::parts(sheet, &question.number), &ROOM),
        question,
    };
    Scheme {
        version: if sheet_count > 1 {
            sheet.version.clone()
        } else {
            String::new()
        },
        alike,
        examples: false,
        questions: questions.into_iter().map(drawn).collect(),
    }
}

fn part(item: &item::Item, letter: &str, worked: Option<&solve::Worked>) -> Part {
    let (answer, accepted, steps) = match worked {
        Some(worked) => (
            answer::expected(&worked.fact, &item.form),
            said::accepted(&worked.fact, &item.form),
            wording::steps(&item.mechanism, &worked.steps),
        ),
        None => (String::new(), Vec::new(), Vec::new()),
    };
    let slips = slips(item, &answer);
    let answer = explained_answer(item).unwrap_or(answer);
    Part {
        letter: letter.to_owned(),
        text: item.question.clone(),
        skill: item.skill.title(),
        level: item.level.number(),
        marks: item.marks,
        answer,
        accepted,
        steps,
        earns: earns(item),
        slips,
    }
}

/// The answer that is explained; the ideas that explain it stand under its marks.
fn explained_answer(item: &item::Item) -> Option<String> {
    let answer::Form::Explanation(explaining) = &item.form else {
        return None;
    };
    Some(format!(
        "{}, with a reason in the pupil's own words",
        explaining.shown(&explaining.reasons.conclusion)
    ))
}

/// What earns the marks of a part, beside the right answer.
fn earns(item: &item::Item) -> Vec<String> {
    let mut earns = Vec::new();
    if let answer::Form::Explanation(explaining) = &item.form {
        earns.push(match item.marks {
            1 => "1 mark for one of these ideas:".to_owned(),
            more => format!("1 mark for each of these ideas, {more} at most:"),
        });
        let ideas = &explaining.reasons.key;
        earns.extend(ideas.iter().map(|idea| format!("– {}", idea.name())));
        earns.push(
            "The answer alone is no reason. Each idea the wrong way round takes a mark off; a \
             person decides every mark."
                .to_owned(),
        );
    }
    if !matches!(item.form, answer::Form::Explanation(_)) {
        let marks = wording::counted(item.marks, "mark");
        earns.push(if item.working && item.marks > 1 {
            format!("{marks} for the right answer, with or without working.")
        } else {
            format!("{marks} for the right answer.")
        });
    }
    if item.working && item.marks > 1 {
        earns.push("1 mark for a right method with one slip in the arithmetic.".to_owned());
    }
    if !item.follows.is_empty() {
        earns.push(format!(
            "Full marks if worked correctly from the pupil's own answer to {}.",
            item.follows.join(" or ")
        ));
    }
    earns
}

fn is_below_nought(fact: &ask::Fact) -> bool {
    match fact {
        ask::Fact::Quantity { value, .. } => value.factor.is_negative(),
        ask::Fact::Ratio(first, second) => first.is_negative() || second.is_negative(),
        ask::Fact::Sense(_)
        | ask::Fact::YesNo(_)
        | ask::Fact::Which(_)
        | ask::Fact::Name(_)
        | ask::Fact::Job(_)
        | ask::Fact::Choices(_)
        | ask::Fact::Reasons(_) => false,
    }
}

/// What the misconceptions that apply would give, a line for each, leaving out
/// answers that, as written, are right, and those below nought, which pupils do not
/// write: they then do something else.
fn slips(item: &item::Item, right: &str) -> Vec<Slip> {
    if let answer::Form::Explanation(explaining) = &item.form {
        return wrong_ideas(item, explaining);
    }
    let mut slips: Vec<Slip> = Vec::new();
    let is_worked_out = match item.form {
        answer::Form::Number { .. } | answer::Form::Ratio { .. } | answer::Form::Gears { .. } => {
            true
        }
        answer::Form::List { .. } | answer::Form::Explanation(_) => false,
    };
    for prediction in misconception::predictions(&item.mechanism, &item.ask) {
        let answer = answer::expected(&prediction.fact, &item.form);
        if answer == right || is_below_nought(&prediction.fact) {
            continue;
        }
        let (name, marks) = (
            prediction.misconception.name,
            prediction.credit.marks(item.marks),
        );
        let known = slips
            .iter_mut()
            .find(|slip| slip.name == name && slip.marks == marks);
        match known {
            Some(slip) if slip.answers.contains(&answer) => {}
            Some(slip) => slip.answers.push(answer),
            None => slips.push(Slip {
                name,
                gives: if is_worked_out && !prediction.misconception.slip {
                    prediction.misconception.gives
                } else {
                    ""
                },
                answers: vec![answer],
                marks,
            }),
        }
    }
    slips
}

/// What explanations that go wrong look like: by the misconceptions that answer the
/// question itself wrongly.
fn wrong_ideas(item: &item::Item, explaining: &explaining::Explaining) -> Vec<Slip> {
    let mut slips: Vec<Slip> = Vec::new();
    for prediction in misconception::predictions(&item.mechanism, &explaining.explained.ask()) {
        if prediction.fact == *explaining.reasons.conclusion {
            continue;
        }
        let name = prediction.misconception.name;
        let answer = format!("explains {}", explaining.shown(&prediction.fact));
        match slips.iter_mut().find(|slip| slip.name == name) {
            Some(slip) if slip.answers.contains(&answer) => {}
            Some(slip) => slip.answers.push(answer),
            None => slips.push(Slip {
                name,
                gives: "",
                answers: vec![answer],
                marks: 0,
            }),
        }
    }
    slips
}
