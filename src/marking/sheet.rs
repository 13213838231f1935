//! One pupil's sheet: every item in order, with follow-through between parts and
//! blanks at the end told from blanks between.

use crate::answer;
use crate::gears::ask;
use crate::item;
use crate::marking;
use crate::marking::explained;
use crate::marking::follow;
use crate::marking::one;
use crate::marking::policy;
use std::collections::BTreeMap;

/// Answers to one sheet that were judged before, under one policy: many pupils with the
/// same sheet write the same.
#[derive(Default)]
pub(super) struct Known(BTreeMap<(usize, String, String), Vec<Judged>>);

/// An answer that spreadsheet programs changed has more to it than its text, and a page
/// of text is nobody else's.
const LONGEST_KNOWN: usize = 64;
/// So many judgements of one answer are remembered, each after other earlier answers.
const MOST_WAYS: usize = 64;

/// How an answer was judged, with the pupil's earlier answers that it hangs on.
struct Judged {
    premises: Vec<Before>,
    concluded: Option<Before>,
    outcome: one::Outcome,
}

/// An earlier answer; what would have been right for it is the same for everybody.
struct Before {
    question: String,
    own: ask::Fact,
    said: String,
}

impl Before {
    fn of(earlier: &follow::Earlier<'_>) -> Self {
        Self {
            question: earlier.item.number.clone(),
            own: earlier.own.clone(),
            said: earlier.said.clone(),
        }
    }

    fn is(&self, earlier: &follow::Earlier<'_>) -> bool {
        self.question == earlier.item.number && self.own == earlier.own && self.said == earlier.said
    }
}

impl Judged {
    fn new(one: &one::One<'_>) -> Self {
        Self {
            premises: one.premises.iter().map(|it| Before::of(it)).collect(),
            concluded: one.concluded.map(Before::of),
            outcome: one::mark(one),
        }
    }

    /// Whether an equal answer stands after the same earlier answers.
    fn is_after_the_same(&self, one: &one::One<'_>) -> bool {
        let premises = self.premises.iter().zip(one.premises);
        let concluded = match (&self.concluded, one.concluded) {
            (None, None) => true,
            (Some(before), Some(earlier)) => before.is(earlier),
            (None, Some(_)) | (Some(_), None) => false,
        };
        concluded
            && self.premises.len() == one.premises.len()
            && premises
                .into_iter()
                .all(|(before, earlier)| before.is(earlier))
    }
}

impl Known {
    /// Judges an answer, or remembers how an equal one was judged after the same earlier
    /// answers.
    fn judge(&mut self, index: usize, one: &one::One<'_>) -> one::Outcome {
        let typed = [one.typed, one.working];
        let is_own = |it: &&answer::Typed| !it.undone.is_empty() || it.text.len() > LONGEST_KNOWN;
        if typed.iter().any(is_own) {
            return one::mark(one);
        }
        let key = (index, one.typed.text.clone(), one.working.text.clone());
        let ways = self.0.entry(key).or_default();
        if let Some(known) = ways.iter().find(|it| it.is_after_the_same(one)) {
            let mut outcome = known.outcome.clone();
            one.pupil_id.clone_into(&mut outcome.mark.pupil_id);
            return outcome;
        }
        let judged = Judged::new(one);
        let outcome = judged.outcome.clone();
        if ways.len() < MOST_WAYS {
            ways.push(judged);
        }
        outcome
    }
}

/// Returns a mark for each item, in the sheet's order.
pub(super) fn mark(
    items: &[item::Item],
    response: &marking::Response,
    policy: &policy::Policy,
    known: &mut Known,
) -> Vec<marking::Mark> {
    let nothing = answer::Typed::default();
    let mut earlier: BTreeMap<&str, follow::Earlier<'_>> = BTreeMap::new();
    let mut marks: Vec<marking::Mark> = Vec::new();
    let mut last_attempted = None;
    for (index, item) in items.iter().enumerate() {
        let number = item.number.as_str();
        let one = one::One {
            pupil_id: &response.pupil_id,
            item,
            typed: response.answers.get(number).unwrap_or(&nothing),
            working: response.working.get(number).unwrap_or(&nothing),
            premises: &follow::premises(item, items, &earlier),
            concluded: concluded(item, &earlier),
            policy,
        };
        let outcome = known.judge(index, &one);
        if let Some((own, right)) = outcome.said {
            earlier.insert(
                number,
                follow::Earlier {
                    item,
                    own,
                    right,
                    said: outcome.mark.read_as.clone(),
                },
            );
        }
        if !outcome.is_empty {
            last_attempted = Some(index);
        }
        marks.push(outcome.mark);
    }
    let was_attempted = last_attempted.is_some();
    if policy.trailing_blanks_are_not_reached
        && let Some(last) = last_attempted
    {
        for mark in marks.iter_mut().skip(last + 1) {
            mark.state = marking::State::NotReached;
            "Nothing was typed here or after it.".clone_into(&mut mark.reason);
        }
    }
    for mark in &mut marks {
        attend(mark, response.attendance, was_attempted);
    }
    marks
}

/// The pupil's own answer to the question that an item asks to explain, where it was
/// another part of the same question and not right.
fn concluded<'e>(
    item: &item::Item,
    earlier: &'e BTreeMap<&str, follow::Earlier<'_>>,
) -> Option<&'e follow::Earlier<'e>> {
    let ask::Ask::Why(explained) = item.ask else {
        return None;
    };
    let question = item.number.trim_end_matches(char::is_alphabetic);
    earlier.values().find(|before| {
        before.item.number.trim_end_matches(char::is_alphabetic) == question
            && explained::is_explained_by(before.item, &item.mechanism, explained)
            && before.own != before.right
    })
}

/// Says that the pupil was away; answers typed all the same stand, but a person
/// looks.
fn attend(mark: &mut marking::Mark, attendance: marking::Attendance, was_attempted: bool) {
    let (state, reason, check) = match attendance {
        marking::Attendance::Present => return,
        marking::Attendance::Absent => (
            marking::State::Absent,
            "The pupil was absent.",
            "answers, but marked absent",
        ),
        marking::Attendance::Excused => (
            marking::State::Excused,
            "The pupil was excused.",
            "answers, but marked excused",
        ),
    };
    if was_attempted {
        if !mark.check.is_empty() {
            mark.check.push_str("; ");
        }
        mark.check.push_str(check);
    } else {
        mark.state = state;
        reason.clone_into(&mut mark.reason);
    }
}
