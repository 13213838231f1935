//! A whole class: which response is whose, and decisions applied.

use crate::homework;
use crate::item;
use crate::marking;
use crate::marking::handed_in;
use crate::marking::settle;
use crate::marking::sheet;
use crate::marking::standing;
use std::collections::BTreeMap;

/// Returns a whole homework marked.
pub(super) fn mark(batch: &marking::Batch<'_>) -> marking::Marked {
    let homework = batch.homework;
    let mut notes = Vec::new();
    let owners: Vec<Option<usize>> = batch
        .responses
        .iter()
        .map(|response| owner(homework, &response.pupil_id))
        .collect();
    for (response, owner) in batch.responses.iter().zip(&owners) {
        if owner.is_none() && has_content(response) {
            notes.push(format!(
                "There are answers of \"{}\", who is not on the roll of this homework; \
                 they are not marked.",
                response.pupil_id
            ));
        }
    }
    let decisions = standing::Decisions::of(batch.decisions);
    let mut pupils = Vec::new();
    for (index, assignment) in homework.pupils.iter().enumerate() {
        let own: Vec<&marking::Response> = batch
            .responses
            .iter()
            .zip(&owners)
            .filter(|(_, owner)| **owner == Some(index))
            .map(|(response, _)| response)
            .collect();
        let mut entry = mark_pupil(batch, assignment, &own, &mut notes);
        settle::apply(&mut entry.marks, &decisions);
        pupils.push(entry);
    }
    notes.extend(settle::without_answer(&pupils, batch.decisions));
    marking::Marked {
        made_by: env!("CARGO_PKG_VERSION").to_owned(),
        code: homework.code.clone(),
        title: homework.title.clone(),
        set_on: homework.date.clone(),
        marked_on: batch.date.to_owned(),
        banks: homework.banks.clone(),
        policy: batch.policy.clone(),
        pupils,
        decisions: batch.decisions.to_vec(),
        second_looks: Vec::new(),
        notes,
    }
}

/// Returns for each pupil, in roll order, the response that is marked.
pub(super) fn responses_of<'a>(
    homework: &homework::Homework,
    responses: &'a [marking::Response],
) -> Vec<Option<&'a marking::Response>> {
    let mut chosen: Vec<Option<&marking::Response>> = vec![None; homework.pupils.len()];
    for response in responses {
        let place = owner(homework, &response.pupil_id).and_then(|owner| chosen.get_mut(owner));
        if let Some(place) = place
            && place.is_none_or(|earlier| !has_content(earlier) && has_content(response))
        {
            *place = Some(response);
        }
    }
    chosen
}

fn mark_pupil(
    batch: &marking::Batch<'_>,
    assignment: &homework::Assignment,
    own: &[&marking::Response],
    notes: &mut Vec<String>,
) -> marking::MarkedPupil {
    let pupil = &assignment.pupil;
    let filled: Vec<&marking::Response> = own
        .iter()
        .copied()
        .filter(|response| has_content(response))
        .collect();
    let differing = filled.windows(2).any(|pair| match pair {
        [one, other] => {
            one.answers != other.answers
                || one.working != other.working
                || one.attendance != other.attendance
        }
        _ => false,
    });
    let missing = marking::Response {
        pupil_id: pupil.id.clone(),
        attendance: marking::Attendance::Absent,
        answers: BTreeMap::new(),
        working: BTreeMap::new(),
        origin: handed_in::Origin::default(),
    };
    let mut response = filled
        .first()
        .or(own.first())
        .copied()
        .unwrap_or(&missing)
        .clone();
    response.pupil_id.clone_from(&pupil.id);
    let no_sheet = Vec::new();
    let sheet = batch.homework.sheets.get(assignment.sheet);
    let items = sheet.map_or(&no_sheet, |sheet| &sheet.items);
    let mut marks = sheet::mark(items, &response, batch.policy);
    let who = format!("{} ({})", pupil.name, pupil.id);
    if own.is_empty() {
        notes.push(format!("There is no row for {who}; counted as absent."));
        for mark in &mut marks {
            "There is no row for this pupil, so the pupil counts as absent."
                .clone_into(&mut mark.reason);
        }
    } else if filled.is_empty() {
        notes.push(format!(
            "The row for {who} is empty; type \"absent\" or \"excused\" there if that is why."
        ));
    }
    if differing {
        notes.push(format!(
            "There are two different rows for {who}; the first is marked."
        ));
        for mark in &mut marks {
            also_check(mark, "two different rows for this pupil");
        }
    }
    for mark in &mut marks {
        check_change(mark, &response.origin);
    }
    marking::MarkedPupil {
        pupil: pupil.clone(),
        version: sheet.map_or_else(String::new, |sheet| sheet.version.clone()),
        attendance: response.attendance,
        marks,
        // Who has no row counts as absent, and handed in nothing.
        handed_in: (!own.is_empty() && has_content(&response))
            .then(|| to_keep(response, items, batch.date)),
    }
}

/// Asks for a look at an answer that was another one in the file marked before.
fn check_change(mark: &mut marking::Mark, origin: &handed_in::Origin) {
    let Some(before) = origin.before.get(&mark.question) else {
        return;
    };
    let file = origin
        .replaced
        .last()
        .map_or("another file", |replaced| replaced.file.name.as_str());
    let why = if before.trim().is_empty() {
        format!("nothing was typed in {file}")
    } else {
        format!("in {file} the answer was \"{before}\"")
    };
    also_check(mark, &why);
}

fn also_check(mark: &mut marking::Mark, why: &str) {
    if !mark.check.is_empty() {
        mark.check.push_str("; ");
    }
    mark.check.push_str(why);
}

/// What is kept of a response: what the sheet asked for, where something was typed.
fn to_keep(mut response: marking::Response, items: &[item::Item], date: &str) -> marking::Response {
    for typed in [&mut response.answers, &mut response.working] {
        typed.retain(|question, typed| {
            !typed.text.trim().is_empty() && items.iter().any(|item| item.number == *question)
        });
    }
    if response.origin.first_marked.is_empty() {
        date.clone_into(&mut response.origin.first_marked);
    }
    response
}

/// Whether anything was typed, attendance included.
pub(super) fn has_content(response: &marking::Response) -> bool {
    response.attendance != marking::Attendance::Present
        || response
            .answers
            .values()
            .chain(response.working.values())
            .any(|typed| !typed.text.trim().is_empty())
}

/// Which pupil of the roll an id means: the same text, else the only one that
/// differs in capitals, white space or leading noughts alone (spreadsheet
/// programs turn `007` into `7`).
pub(super) fn owner(homework: &homework::Homework, typed: &str) -> Option<usize> {
    let pupils = || homework.pupils.iter().map(|assigned| &assigned.pupil.id);
    let typed = typed.trim();
    if let Some(index) = pupils().position(|id| id == typed) {
        return Some(index);
    }
    let loose = loosened(typed);
    if loose.is_empty() {
        return None;
    }
    let mut alike = pupils()
        .enumerate()
        .filter(|(_, id)| loosened(id) == loose)
        .map(|(index, _)| index);
    let first = alike.next()?;
    alike.next().is_none().then_some(first)
}

fn loosened(id: &str) -> String {
    let id: String = id
        .chars()
        .filter(|sign| !sign.is_whitespace())
        .flat_map(char::to_lowercase)
        .collect();
    id.trim_start_matches('0').to_owned()
}
