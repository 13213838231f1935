//! One answer to one item: read, judged, with a reason.

use crate::answer;
use crate::answer::explaining;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::gears::solve;
use crate::gears::step;
use crate::item;
use crate::marking;
use crate::marking::decision;
use crate::marking::explained;
use crate::marking::follow;
use crate::marking::judge;
use crate::marking::policy;
use crate::misconception;
use crate::wording;

mod worked;

/// One answer with all that it is judged by.
pub(super) struct One<'a> {
    pub(super) pupil_id: &'a str,
    pub(super) item: &'a item::Item,
    pub(super) typed: &'a answer::Typed,
    pub(super) working: &'a answer::Typed,
    /// The earlier answers, not exactly right, that this one may have been worked from.
    pub(super) premises: &'a [&'a follow::Earlier<'a>],
    /// The pupil's answer to the question that is explained here, where it was not
    /// right.
    pub(super) concluded: Option<&'a follow::Earlier<'a>>,
    pub(super) policy: &'a policy::Policy,
}

/// A mark, with what the pupil's answer says for later parts.
#[derive(Clone)]
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
    /// The last step of the working, in words.
    because: String,
    predictions: Vec<misconception::Prediction>,
    followed: Vec<follow::Followed>,
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
    like: String,
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
            like: String::new(),
        }
    }
}

/// Returns the mark of one answer.
pub(super) fn mark(one: &One<'_>) -> Outcome {
    if one.policy.spreadsheet_changes_are_undone {
        return mark_as_read(one);
    }
    let as_stored = |typed: &answer::Typed| answer::Typed {
        text: typed.text.clone(),
        undone: Vec::new(),
    };
    let (typed, working) = (as_stored(one.typed), as_stored(one.working));
    mark_as_read(&One {
        typed: &typed,
        working: &working,
        ..*one
    })
}

fn mark_as_read(one: &One<'_>) -> Outcome {
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
    let followed = if one.policy.follow_through {
        follow::follow(item, &worked.fact, one.premises)
    } else {
        Vec::new()
    };
    let judge = Judge {
        one,
        predictions: misconception::predictions(&item.mechanism, &item.ask),
        because: last_step(&item.mechanism, &worked.steps),
        fact: worked.fact,
        followed,
    };
    let finding = judge.find();
    let expected = answer::expected(&judge.fact, &item.form);
    outcome(one, &expected, finding, Some(judge))
}

fn outcome(one: &One<'_>, expected: &str, finding: Finding, judge: Option<Judge<'_>>) -> Outcome {
    let item = one.item;
    // Only where it counts, so that equal answers stay equal.
    let is_followed = judge
        .as_ref()
        .is_some_and(|judge| !judge.followed.is_empty());
    let earlier: Vec<&str> = one
        .premises
        .iter()
        .filter(|_| is_followed)
        .map(|earlier| earlier.said.as_str())
        .chain(one.concluded.map(|earlier| earlier.said.as_str()))
        .collect();
    let code = decision::code(
        &decision::Answered {
            item,
            typed: one.typed,
            working: one.working,
            earlier: &earlier.join(", "),
        },
        &explained::answer_of(item).unwrap_or_else(|| expected.to_owned()),
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
            like: finding.like,
            decided: None,
        },
        said: finding.own.zip(judge.map(|judge| judge.fact)),
        is_empty,
    }
}

impl Judge<'_> {
    fn find(&self) -> Finding {
        if let answer::Form::Explanation(explaining) = &self.one.item.form {
            return self.explained(explaining);
        }
        match answer::read(self.one.typed, &self.one.item.form) {
            answer::Reading::Blank => self.blank(),
            answer::Reading::DontKnow => {
                Finding::nothing(marking::State::Blank, "The pupil says they do not know.")
            }
            answer::Reading::Unreadable { why } => self.unreadable(why),
            answer::Reading::OtherKind { why } => self.other_kind(&why),
            answer::Reading::Read(candidates) => self.read(&candidates),
            answer::Reading::Several(candidates) => self.several(&candidates),
        }
    }

    /// An explanation: proposed by the ideas found in it, for a person to decide.
    fn explained(&self, explaining: &explaining::Explaining) -> Finding {
        match explained::read(self.one, explaining) {
            explained::Outcome::Nothing(reason) => Finding::nothing(marking::State::Blank, reason),
            explained::Outcome::Unreadable(why) => self.unreadable(why),
            explained::Outcome::Proposed(proposal) => Finding {
                read_as: proposal.read_as,
                marks: proposal.marks,
                state: state(proposal.marks, self.one.item.marks),
                misconceptions: proposal.misconceptions,
                reason: proposal.reason,
                check: proposal.check,
                own: None,
                like: proposal.like,
            },
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
            let verdict = self.verdict(candidate);
            if verdict.marks == self.one.item.marks {
                return Finding {
                    read_as: candidate.said.clone(),
                    marks: verdict.marks,
                    state: marking::State::Correct,
                    misconceptions: Vec::new(),
                    reason: "The answer stands in the working, and it is right.".to_owned(),
                    check: "the answer stands in the working only".to_owned(),
                    own: follow::fact_of(&candidate.given, &self.one.item.form),
                    like: String::new(),
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

    /// Plain words that answer another question: wrong, and nothing to ask about.
    fn other_kind(&self, why: &str) -> Finding {
        let expected = answer::expected(&self.fact, &self.one.item.form);
        let mut finding = Finding::nothing(
            marking::State::Wrong,
            format!("This is {why}. Right is {expected}."),
        );
        self.look_at_working(&mut finding);
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
        let (candidates, verdicts) = self.worth_telling(candidates);
        let (candidates, verdicts) = (candidates.as_slice(), verdicts.as_slice());
        // Of meanings that earn the same, one that is surely read and recognised says more.
        let is_settled = verdicts
            .iter()
            .all(|other| Some(other.marks) == verdicts.first().map(|first| first.marks));
        let place = verdicts
            .iter()
            .zip(candidates)
            .position(|(verdict, candidate)| {
                is_settled && verdict.is_recognised && candidate.sureness == answer::Sureness::Sure
            })
            .unwrap_or(0);
        let (Some(first), Some(verdict)) = (candidates.get(place), verdicts.get(place)) else {
            return self.unreadable("nothing could be read".to_owned());
        };
        let policy = self.one.policy;
        let mut checks = Vec::new();
        if !is_settled {
            let meanings = format!("may mean {}", choices(candidates, verdicts));
            checks.extend(Some(meanings).filter(|_| policy.two_meanings_are_checked));
        }
        match &first.sureness {
            answer::Sureness::Check { why } => {
                let is_checked = if answer::is_correction(why) {
                    policy.corrections_are_checked
                } else {
                    policy.odd_text_is_checked
                };
                checks.extend(Some(why.clone()).filter(|_| is_checked));
            }
            answer::Sureness::Loose { why } if verdict.marks > 0 => checks.push(why.clone()),
            answer::Sureness::Sure
            | answer::Sureness::Loose { .. }
            | answer::Sureness::Slip { .. } => {}
        }
        if verdict.marks > 0 {
            checks.extend(self.oddities());
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
            like: String::new(),
        };
        // What is right but for its digits or its unit has shown its method.
        let is_nearly_right = verdict.is_recognised && verdict.misconceptions.is_empty();
        if !is_nearly_right {
            self.look_at_working(&mut finding);
        }
        finding
    }

    /// The meanings and what each is worth; a slip of the hand only where it is worth
    /// more than what stands there.
    fn worth_telling(
        &self,
        candidates: &[answer::Candidate],
    ) -> (Vec<answer::Candidate>, Vec<judge::Verdict>) {
        let mut told: Vec<(answer::Candidate, judge::Verdict)> = Vec::new();
        for candidate in candidates {
            let verdict = self.verdict(candidate);
            let is_slip = matches!(candidate.sureness, answer::Sureness::Slip { .. });
            if !is_slip || told.iter().all(|(_, other)| other.marks < verdict.marks) {
                told.push((candidate.clone(), verdict));
            }
        }
        told.into_iter().unzip()
    }

    /// What in the writing the policy wants looked at.
    fn oddities(&self) -> Vec<String> {
        let policy = self.one.policy;
        answer::oddities(self.one.typed, &self.one.item.form)
            .into_iter()
            .filter_map(|oddity| match oddity {
                answer::Oddity::OtherForm => (!policy.other_forms_are_settled)
                    .then(|| "an equal value in another form".to_owned()),
                answer::Oddity::NumberForRatio => (!policy.number_for_ratio_is_settled)
                    .then(|| "one number where a ratio is asked".to_owned()),
                answer::Oddity::Misspelt { word } => {
                    (!policy.misspellings_are_settled).then(|| format!("spelling: \"{word}\""))
                }
            })
            .collect()
    }

    /// Two answers are none, unless each of them is right.
    fn several(&self, candidates: &[answer::Candidate]) -> Finding {
        let out_of = self.one.item.marks;
        let all = said(candidates);
        let are_right = candidates.len() > 1
            && candidates
                .iter()
                .all(|candidate| self.verdict(candidate).marks == out_of);
        let check = if self.one.policy.two_answers_are_checked {
            format!("two different answers: {all}")
        } else {
            String::new()
        };
        if are_right {
            return Finding {
                marks: out_of,
                read_as: all,
                check,
                ..Finding::nothing(
                    marking::State::Correct,
                    "Two different answers, and each is right.",
                )
            };
        }
        let right = answer::expected(&self.fact, &self.one.item.form);
        Finding {
            check,
            read_as: all,
            ..Finding::nothing(
                marking::State::Wrong,
                format!("Two different answers with no sign which is meant. Right is {right}."),
            )
        }
    }

    /// What one reading is worth: as it stands, or worked from the pupil's own
    /// earlier answers, whichever is more.
    fn verdict(&self, candidate: &answer::Candidate) -> judge::Verdict {
        let item = self.one.item;
        let own = judge::judge(
            &judge::Key {
                item,
                fact: &self.fact,
                because: &self.because,
                predictions: &self.predictions,
                policy: self.one.policy,
            },
            &candidate.given,
            &candidate.said,
        );
        let mut best = own;
        let mut is_own = true;
        for followed in &self.followed {
            if is_own && best.marks == item.marks {
                break;
            }
            if let Some(after) = self.after(followed, candidate, &best)
                && (after.marks > best.marks || !best.is_recognised)
            {
                best = after;
                is_own = false;
            }
        }
        self.without_working(best)
    }

    /// What a reading is worth after the pupil's own earlier answers; `None` where it
    /// is nothing that follows from them.
    fn after(
        &self,
        followed: &follow::Followed,
        candidate: &answer::Candidate,
        own: &judge::Verdict,
    ) -> Option<judge::Verdict> {
        let item = self.one.item;
        let mut after = judge::judge(
            &judge::Key {
                item,
                fact: &followed.fact,
                because: "",
                predictions: &followed.predictions,
                policy: self.one.policy,
            },
            &candidate.given,
            &candidate.said,
        );
        if !after.is_recognised || after.marks < own.marks {
            return None;
        }
        let from = format!("the pupil's own answer to {}", followed.from);
        if after.marks == item.marks
            && followed.is_easier
            && !self.one.policy.follow_through_when_easier
        {
            after.marks = own.marks;
            after.reason = format!(
                "It follows from {from}, but that made this part easier. Right is {}.",
                answer::expected(&self.fact, &item.form)
            );
            "worked from an earlier slip that made this part easier".clone_into(&mut after.check);
            return Some(after);
        }
        after.reason = if after.marks == item.marks {
            format!("{} is right from {from}.", candidate.said)
        } else {
            format!(
                "Worked from {from}: {} On the mark scheme it is {}.",
                after.reason,
                answer::expected(&self.fact, &item.form)
            )
        };
        Some(after)
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

/// The last step of a working that says a calculation or a reason.
fn last_step(mechanism: &mechanism::Mechanism, steps: &[step::Step]) -> String {
    wording::steps(mechanism, steps).pop().unwrap_or_default()
}
