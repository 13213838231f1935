//! The answers of a sample as a second marker sees them: without marks, reasons
//! or names.

use crate::answer;
use crate::homework;
use crate::item;
use crate::marking;
use crate::marking::roll;
use crate::marking::second_look;
use std::collections::BTreeMap;

/// One answer to be marked blindly.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer<'a> {
    /// The row code, by which the mark finds its way back.
    pub row_code: String,
    /// The question with its numbers.
    pub item: &'a item::Item,
    /// What was typed.
    pub typed: answer::Typed,
    /// The working that was typed; empty where there is none.
    pub working: String,
    /// The right answer, as the mark scheme has it.
    pub expected: &'a str,
    /// Where the question follows from earlier parts: what was answered there.
    pub earlier: Vec<Earlier<'a>>,
    /// The same for equal answers to equal items: [`marking::Mark::code`].
    pub code: &'a str,
}

/// The answer to the part before, from which the pupil may have worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Earlier<'a> {
    /// Its question number.
    pub question: &'a str,
    /// What was typed there.
    pub typed: &'a str,
    /// What would have been right.
    pub expected: &'a str,
}

/// What the answers of a sample are shown from.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    /// The homework.
    pub homework: &'a homework::Homework,
    /// What was handed in.
    pub responses: &'a [marking::Response],
    /// The marks that the sample was drawn from.
    pub marked: &'a marking::Marked,
}

/// Returns the answers of a sample in its order.
#[must_use]
pub fn answers<'a>(look: &second_look::Look, source: &Source<'a>) -> Vec<Answer<'a>> {
    let codes: BTreeMap<(&str, &str), String> = second_look::row_codes(source.marked, &look.seed)
        .into_iter()
        .map(|(code, mark)| ((mark.pupil_id.as_str(), mark.question.as_str()), code))
        .collect();
    let responses = roll::responses_of(source.homework, source.responses);
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    for (place, entry) in source.marked.pupils.iter().enumerate() {
        places.insert(&entry.pupil.id, place);
    }
    look.rows
        .iter()
        .filter_map(|row| {
            let place = *places.get(row.pupil_id.as_str())?;
            let code = codes.get(&(row.pupil_id.as_str(), row.question.as_str()))?;
            let response = responses.get(place).copied().flatten();
            answer(code, row, place, response, source)
        })
        .collect()
}

fn answer<'a>(
    row_code: &str,
    row: &second_look::Row,
    place: usize,
    response: Option<&marking::Response>,
    source: &Source<'a>,
) -> Option<Answer<'a>> {
    let assignment = source.homework.pupils.get(place)?;
    let sheet = source.homework.sheets.get(assignment.sheet)?;
    let item = sheet.items.iter().find(|it| it.number == row.question)?;
    let marks = &source.marked.pupils.get(place)?.marks;
    let mark = marks.iter().find(|it| it.question == row.question)?;
    let earlier = marks
        .iter()
        .filter(|mark| item.follows.contains(&mark.question))
        .map(|mark| Earlier {
            question: &mark.question,
            typed: &mark.typed,
            expected: &mark.expected,
        })
        .collect();
    let typed = response.and_then(|response| response.answers.get(&row.question));
    let working = response.and_then(|response| response.working.get(&row.question));
    Some(Answer {
        row_code: row_code.to_owned(),
        item,
        typed: typed.cloned().unwrap_or_default(),
        working: working.map(|it| it.text.clone()).unwrap_or_default(),
        expected: &mark.expected,
        earlier,
        code: &mark.code,
    })
}
