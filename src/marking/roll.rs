//! A whole class: which response is whose, and decisions applied.

use crate::cores;
use crate::homework;
use crate::item;
use crate::marking;
use crate::marking::handed_in;
use crate::marking::owners;
use crate::marking::settle;
use crate::marking::sheet;
use crate::marking::standing;
use std::collections::BTreeMap;

/// Fewer pupils than this are not worth another core.
const LEAST_SHARE: usize = 64;
/// So many sheets are remembered at a time.
const MOST_SHEETS: usize = 32;

/// Returns a whole homework marked.
pub(super) fn mark(batch: &marking::Batch<'_>) -> marking::Marked {
    let homework = batch.homework;
    let mut notes = Vec::new();
    let owners = owners::Owners::of(homework);
    let mut work: Vec<Work<'_>> = homework.pupils.iter().map(Work::of).collect();
    for response in batch.responses {
        let owner = owners.owner(&response.pupil_id);
        if let Some(theirs) = owner.and_then(|owner| work.get_mut(owner)) {
            theirs.own.push(response);
        } else if has_content(response) {
            notes.push(format!(
                "There are answers of \"{}\", who is not on the roll of this homework; \
                 they are not marked.",
                response.pupil_id
            ));
        }
    }
    let mut pupils = Vec::with_capacity(work.len());
    for (entries, told) in cores::share_out(&work, LEAST_SHARE, |some| mark_some(batch, some)) {
        pupils.extend(entries);
        notes.extend(told);
    }
    notes.extend(settle::without_answer(&pupils, batch.decisions));
    marking::Marked {
        made_by: env!("CARGO_PKG_VERSION").to_owned(),
        code: homework.code.clone(),
        title: homework.title.clone(),
        set_on: homework.date.clone(),
        marked_on: batch.date.to_owned(),
        keep_until: homework.keep_until,
        banks: homework.banks.clone(),
        policy: batch.policy.clone(),
        pupils,
        decisions: batch.decisions.to_vec(),
        second_looks: Vec::new(),
        notes,
    }
}

/// One pupil's rows.
struct Work<'a> {
    assignment: &'a homework::Assignment,
    own: Vec<&'a marking::Response>,
}

impl<'a> Work<'a> {
    fn of(assignment: &'a homework::Assignment) -> Self {
        Self {
            assignment,
            own: Vec::new(),
        }
    }
}

/// Some pupils marked, and what to know of their answers.
type Share = (Vec<marking::MarkedPupil>, Vec<String>);

fn mark_some(batch: &marking::Batch<'_>, work: &[Work<'_>]) -> Share {
    let decisions = standing::Decisions::of(batch.decisions);
    let mut known: BTreeMap<usize, sheet::Known> = BTreeMap::new();
    let mut notes = Vec::new();
    let mut pupils = Vec::with_capacity(work.len());
    for theirs in work {
        // Where each pupil has a sheet of their own, what is remembered is never asked for.
        let sheet = theirs.assignment.sheet;
        if known.len() >= MOST_SHEETS && !known.contains_key(&sheet) {
            known.clear();
        }
        let known = known.entry(sheet).or_default();
        let mut entry = mark_pupil(batch, theirs, known, &mut notes);
        settle::apply(&mut entry.marks, &decisions);
        pupils.push(entry);
    }
    (pupils, notes)
}

/// Returns for each pupil, in roll order, the response that is marked.
pub(super) fn responses_of<'a>(
    homework: &homework::Homework,
    responses: &'a [marking::Response],
) -> Vec<Option<&'a marking::Response>> {
    let mut chosen: Vec<Option<&marking::Response>> = vec![None; homework.pupils.len()];
    let owners = owners::Owners::of(homework);
    for response in responses {
        let place = owners
            .owner(&response.pupil_id)
            .and_then(|owner| chosen.get_mut(owner));
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
    theirs: &Work<'_>,
    known: &mut sheet::Known,
    notes: &mut Vec<String>,
) -> marking::MarkedPupil {
    let Work { assignment, own } = theirs;
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
    let mut marks = sheet::mark(items, &response, batch.policy, known);
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
