//! One answer to one item: read, judged, with a reason.

use crate::answer;
use crate::gears::ask;
use crate::gears::solve;
use crate::gears::step;
use crate::item;
use crate::marking;
use crate::marking::decision;
use crate::marking::follow;
use crate::marking::judge;
use crate::marking::policy;
use crate::marking::working;
use crate::misconception;

/// One answer with all that it is judged by.
pub(super) struct One<'a> {
    pub(super) pupil_id: &'a str,
    pub(super) item: &'a item::Item,
    pub(super) typed: &'a answer::Typed,
    pub(super) working: &'a answer::Typed,
    /// The earlier answers that this one may have been worked from.
    pub(super) earlier: Option<&'a follow::Earlier<'a>>,
    pub(super) policy: &'a policy::Policy,
}

/// A mark, with what the pupil's answer says for later parts.
pub(super) struct Outcome {
    pub(super) mark: marking::Mark,
    /// What the pupil's answer says and what would have been right.
    pub(super) said: Option<(ask::Fact, ask::Fact)>,
    /// Whether nothing at all was typed.
    pub(super) is_empty: bool,
}

/// Returns the state that so many marks mean for an answer that was attempted.
pub(super) fn state(marks: u8, out_of: u8) -> marking::State {
    if marks == 0 {
        marking::State::Wrong
    } else if marks >= out_of {
        marking::State::Correct
    } else {
        marking::State::Partly
    }
}

/// Everything worked out about an item and one pupil's way to it.
struct Judge<'a> {
    one: &'a One<'a>,
    fact: ask::Fact,
    steps: Vec<step::Step>,
    predictions: Vec<misconception::Prediction>,
    followed: Option<follow::Followed>,
}

/// What the mark says of the answer; the rest of it is known before.
struct Finding {
    read_as: String,
    marks: u8,
    state: marking::State,
    misconceptions: Vec<&'static misconception::Misconception>,
    reason: String,
    check: String,
    own: Option<ask::Fact>,
}

impl Finding {
    fn nothing(state: marking::State, reason: impl Into<String>) -> Self {
        Self {
            read_as: String::new(),
            marks: 0,
            state,
            misconceptions: Vec::new(),
            reason: reason.into(),
            check: String::new(),
            own: None,
        }
    }
}

/// Returns the mark of one answer.
pub(super) fn mark(one: &One<'_>) -> Outcome {
    let item = one.item;
    let Ok(worked) = solve::answer(&item.mechanism, &item.ask) else {
        // A record is checked when it is read, so this needs a person.
        let finding = Finding {
            check: "the question itself cannot be worked out".to_owned(),
            ..Finding::nothing(
                marking::State::Unreadable,
                "The question itself cannot be worked out.",
            )
        };
        return outcome(one, "", finding, None);
    };
    let followed = one
        .earlier
        .filter(|_| one.policy.follow_through)
        .and_then(|earlier| follow::follow(item, &worked.fact, earlier));
    let judge = Judge {
        one,
        predictions: misconception::predictions(&item.mechanism, &item.ask),
        fact: worked.fact,
        steps: worked.steps,
        followed,
    };
    let finding = judge.find();
    let expected = answer::expected(&judge.fact, &item.form);
    outcome(one, &expected, finding, Some(judge))
}

fn outcome(one: &One<'_>, expected: &str, finding: Finding, judge: Option<Judge<'_>>) -> Outcome {
    let item = one.item;
    let earlier = match (
        one.earlier,
        judge.as_ref().and_then(|judge| judge.followed.as_ref()),
    ) {
        (Some(earlier), Some(_)) => earlier.said.as_str(),
        (Some(_), None) | (None, _) => "",
    };
    let code = decision::code(
        &decision::Answered {
            item,
            typed: one.typed,
            working: one.working,
            earlier,
        },
        expected,
    );
    let is_empty = finding.state == marking::State::Blank && one.typed.text.trim().is_empty();
    Outcome {
        mark: marking::Mark {
            pupil_id: one.pupil_id.to_owned(),
            question: item.number.clone(),
            bank: item.bank.clone(),
            template: item.template.clone(),
            skill: item.skill,
            level: item.level,
            typed: one.typed.text.clone(),
            read_as: finding.read_as,
            expected: expected.to_owned(),
            marks: finding.marks,
            out_of: item.marks,
            state: finding.state,
            misconceptions: finding
                .misconceptions
                .iter()
                .map(|known| known.id.to_owned())
                .collect(),
            reason: finding.reason,
            check: finding.check,
            code,
            decided: None,
        },
        said: finding.own.zip(judge.map(|judge| judge.fact)),
        is_empty,
    }
}

impl Judge<'_> {
    fn find(&self) -> Finding {
        match answer::read(self.one.typed, &self.one.item.form) {
            answer::Reading::Blank => self.blank(),
            answer::Reading::DontKnow => {
                Finding::nothing(marking::State::Blank, "The pupil says they do not know.")
            }
            answer::Reading::Unreadable { why } => self.unreadable(why),
            answer::Reading::Read(candidates) => self.read(&candidates),
            answer::Reading::Several(candidates) => several(&candidates),
        }
    }

    fn blank(&self) -> Finding {
        if self.one.working.text.trim().is_empty() {
            return Finding::nothing(marking::State::Blank, "Nothing was typed.");
        }
        let reading = answer::read(self.one.working, &self.one.item.form);
        if let answer::Reading::Read(candidates) = &reading
            && let Some(candidate) = candidates.first()
        {
            let verdict = self.verdict(&candidate.given);
            if verdict.marks == self.one.item.marks {
                return Finding {
                    read_as: candidate.said.clone(),
                    marks: verdict.marks,
                    state: marking::State::Correct,
                    misconceptions: Vec::new(),
                    reason: "The answer stands in the working, and it is right.".to_owned(),
                    check: "the answer stands in the working only".to_owned(),
                    own: follow::fact_of(&candidate.given, &self.one.item.form),
                };
            }
        }
        let mut finding =
            Finding::nothing(marking::State::Wrong, "There is working, but no answer.");
        self.look_at_working(&mut finding);
        if finding.check.is_empty() {
            "there is working, but no answer".clone_into(&mut finding.check);
        }
        finding
    }

    fn unreadable(&self, why: String) -> Finding {
        let mut finding = Finding {
            check: why,
            ..Finding::nothing(
                marking::State::Unreadable,
                "No answer of the kind asked for could be read.",
            )
        };
        self.look_at_working(&mut finding);
        finding
    }

    fn read(&self, candidates: &[answer::Candidate]) -> Finding {
        let verdicts: Vec<judge::Verdict> = candidates
            .iter()
            .map(|candidate| self.verdict(&candidate.given))
            .collect();
        let (Some(first), Some(verdict)) = (candidates.first(), verdicts.first()) else {
            return self.unreadable("nothing could be read".to_owned());
        };
        let mut checks = Vec::new();
        let is_settled = verdicts.iter().all(|other| other.marks == verdict.marks);
        if !is_settled {
            checks.push(format!("may mean {}", choices(candidates, &verdicts)));
        }
        if let answer::Sureness::Check { why } = &first.sureness
            && self.one.policy.odd_text_is_checked
        {
            checks.push(why.clone());
        }
        if !verdict.check.is_empty() {
            checks.push(verdict.check.clone());
        }
        let reason = if is_settled && candidates.len() > 1 {
            format!(
                "The same marks whichever way it is read. {}",
                verdict.reason
            )
        } else {
            verdict.reason.clone()
        };
        let mut finding = Finding {
            read_as: said(candidates),
            marks: verdict.marks,
            state: state(verdict.marks, self.one.item.marks),
            misconceptions: verdict.misconceptions.clone(),
            reason,
            check: checks.join("; "),
            own: follow::fact_of(&first.given, &self.one.item.form),
        };
        self.look_at_working(&mut finding);
        finding
    }

    /// What one reading is worth: as it stands, or worked from the pupil's own
    /// earlier answer, whichever is more.
    fn verdict(&self, given: &answer::Given) -> judge::Verdict {
        let item = self.one.item;
        let own = judge::judge(
            &judge::Key {
                item,
                fact: &self.fact,
                predictions: &self.predictions,
                policy: self.one.policy,
            },
            given,
        );
        let (Some(followed), Some(earlier)) = (&self.followed, self.one.earlier) else {
            return self.without_working(own);
        };
        if own.marks == item.marks {
            return self.without_working(own);
        }
        let mut after = judge::judge(
            &judge::Key {
                item,
                fact: &followed.fact,
                predictions: &followed.predictions,
                policy: self.one.policy,
            },
            given,
        );
        if !after.is_recognised || after.marks < own.marks {
            return own;
        }
        let from = format!(
            "the pupil's own answer to {} ({})",
            earlier.item.number, earlier.said
        );
        if after.marks == item.marks
            && followed.is_easier
            && !self.one.policy.follow_through_when_easier
        {
            after.marks = own.marks;
            after.reason = format!("It follows from {from}, but that made this part easier.");
            "worked from an earlier slip that made this part easier".clone_into(&mut after.check);
            return after;
        }
        if own.is_recognised && after.marks == own.marks {
            return own;
        }
        after.reason = if after.marks == item.marks {
            format!("Right from {from}.")
        } else {
            format!("Worked from {from}: {}", lower_first(&after.reason))
        };
        after
    }

    /// Takes the method mark off a right answer without working, where the policy
    /// wants working.
    fn without_working(&self, mut verdict: judge::Verdict) -> judge::Verdict {
        let item = self.one.item;
        if !self.one.policy.answer_only_earns_all
            && item.working
            && item.marks >= 2
            && verdict.marks == item.marks
            && self.one.working.text.trim().is_empty()
        {
            verdict.marks -= 1;
            "Right, but without the working that earns a mark.".clone_into(&mut verdict.reason);
        }
        verdict
    }

    /// Gives the method mark where the working shows a step of the right method,
    /// and asks for a look where the working could not be read.
    fn look_at_working(&self, finding: &mut Finding) {
        let one = self.one;
        let text = one.working.text.trim();
        if text.is_empty() || !one.policy.working_earns_method || one.item.marks < 2 {
            return;
        }
        if finding.marks > 0 || !one.item.working {
            return;
        }
        let by = |fact, steps| {
            working::shown(
                text,
                &working::Method {
                    item: one.item,
                    fact,
                    steps,
                },
            )
        };
        let mut shown = by(&self.fact, &self.steps);
        if let (working::Shown::OtherCalculations, Some(followed)) = (&shown, &self.followed) {
            shown = by(&followed.fact, &[]);
        }
        let check = match shown {
            working::Shown::Method(step) => {
                finding.marks = 1;
                finding.state = state(1, one.item.marks);
                finding.reason = format!(
                    "The answer is not right, but the working shows the right method: {step}."
                );
                "method mark from the working"
            }
            working::Shown::Unread if finding.misconceptions.is_empty() => {
                "working that could not be read"
            }
            working::Shown::Unread | working::Shown::OtherCalculations => return,
        };
        if !finding.check.is_empty() {
            finding.check.push_str("; ");
        }
        finding.check.push_str(check);
    }
}

fn several(candidates: &[answer::Candidate]) -> Finding {
    let all = said(candidates);
    Finding {
        check: format!("two different answers: {all}"),
        read_as: all,
        ..Finding::nothing(
            marking::State::Wrong,
            "Two different answers with no sign which is meant.",
        )
    }
}

fn said(candidates: &[answer::Candidate]) -> String {
    let mut texts: Vec<&str> = Vec::new();
    for candidate in candidates {
        if !texts.contains(&candidate.said.as_str()) {
            texts.push(&candidate.said);
        }
    }
    texts.join(" or ")
}

fn choices(candidates: &[answer::Candidate], verdicts: &[judge::Verdict]) -> String {
    let texts: Vec<String> = candidates
        .iter()
        .zip(verdicts)
        .map(|(candidate, verdict)| {
            format!(
                "{} ({})",
                candidate.said,
                decision::marks_text(verdict.marks)
            )
        })
        .collect();
    texts.join(" or ")
}

fn lower_first(text: &str) -> String {
    let mut signs = text.chars();
    match signs.next() {
        Some(first) => first.to_lowercase().chain(signs).collect(),
        None => String::new(),
    }
}
