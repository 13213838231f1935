//! What the working beside an answer changes: a method mark given, or taken off where the
//! policy wants working; where it goes astray; a look where it could not be read.

use crate::answer;
use crate::gears::ask;
use crate::marking::judge;
use crate::marking::one;
use crate::marking::working;

impl one::Judge<'_> {
    /// Takes the method mark off a right answer without working, where the policy
    /// wants working.
    pub(super) fn without_working(&self, mut verdict: judge::Verdict) -> judge::Verdict {
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

    /// Gives the method mark where the working shows the right method, says where it
    /// goes astray, and asks for a look where it could not be read.
    pub(super) fn look_at_working(&self, finding: &mut one::Finding) {
        let one = self.one;
        if one.working.text.trim().is_empty()
            || !one.policy.working_earns_method
            || !one.item.working
            || finding.marks >= one.item.marks
        {
            return;
        }
        let (shown, is_own) = self.shown(finding.own.as_ref());
        let from = if is_own {
            " from the pupil's own earlier answer"
        } else {
            ""
        };
        let most = one.item.marks.saturating_sub(1);
        let method_marks = one.policy.right_method_earns.min(most);
        let right_is = format!("Right is {}.", answer::expected(&self.fact, &one.item.form));
        let (marks, says, check) = match shown {
            working::Shown::OneSlip(slip) => (
                method_marks,
                format!("The method is right{from}; the slip: {slip}. {right_is}"),
                "",
            ),
            working::Shown::NoSlip { ends_in } => (
                method_marks,
                format!(
                    "The working is right{from} and comes to {ends_in}; the answer is not that. \
                     {right_is}"
                ),
                "",
            ),
            working::Shown::Slips(first) => (
                0,
                format!(
                    "The method is right, but there is more than one slip; the first: {first}."
                ),
                "",
            ),
            working::Shown::UnfinishedWithSlip(slip) => (
                0,
                format!("The working goes the right way; a slip in it: {slip}."),
                "the working goes the right way, with a slip",
            ),
            working::Shown::Unfinished if !finding.misconceptions.is_empty() => return,
            working::Shown::Unfinished => (
                1.min(method_marks),
                format!(
                    "The working is right as far as it goes, but does not reach the answer. \
                     {right_is}"
                ),
                "the working is right as far as it goes",
            ),
            working::Shown::Astray {
                step,
                misconceptions,
            } => {
                for known in misconceptions {
                    if !finding.misconceptions.contains(&known) {
                        finding.misconceptions.push(known);
                    }
                }
                let says = step.map_or_else(String::new, |step| {
                    format!("It goes another way from the step {step}.")
                });
                (0, says, "")
            }
            working::Shown::Unread if finding.marks == 0 && finding.misconceptions.is_empty() => {
                (0, String::new(), "working that could not be read")
            }
            working::Shown::Unread => return,
        };
        if marks > finding.marks {
            finding.marks = marks;
            finding.state = one::state(marks, one.item.marks);
            says.clone_into(&mut finding.reason);
        } else if !says.is_empty() && finding.marks == 0 {
            finding.reason = format!("{} {says}", finding.reason);
        }
        if !check.is_empty() && (marks > 0 || finding.marks == 0) {
            if !finding.check.is_empty() {
                finding.check.push_str("; ");
            }
            finding.check.push_str(check);
        }
    }

    /// What the working shows, and whether it starts from the pupil's own earlier
    /// answer.
    fn shown(&self, own: Option<&ask::Fact>) -> (working::Shown, bool) {
        let given = own.and_then(ask::Fact::quantity);
        let item = self.one.item;
        let by = |mechanism, predictions| {
            working::shown(
                self.one.working,
                &working::Asked {
                    mechanism,
                    ask: &item.ask,
                    predictions,
                    given,
                },
            )
        };
        let plain = by(&item.mechanism, &self.predictions);
        if matches!(plain, working::Shown::Astray { .. }) {
            for followed in &self.followed {
                let own = by(&followed.mechanism, &followed.predictions);
                if !matches!(own, working::Shown::Astray { .. }) {
                    return (own, true);
                }
            }
        }
        (plain, false)
    }
}
