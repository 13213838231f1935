//! A pupil's history turned into wishes, the most wanted first.

use crate::homework;
use crate::homework::wish;
use crate::level;
use crate::next;
use crate::next::belief;
use crate::next::history;
use crate::next::pace;
use crate::next::skill;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// See [`super::plan`].
pub(super) fn plan(records: &[next::Record], plan: &homework::Plan<'_>) -> next::Next {
    let histories = history::histories(records);
    let skills = skills(plan);
    let count = match plan.questions {
        homework::Questions::Count(count) => count,
        homework::Questions::All => 0,
    };
    let nothing = history::History::default();
    let pupils = plan
        .pupils
        .iter()
        .map(|pupil| {
            let history = histories.get(pupil.id.as_str()).unwrap_or(&nothing);
            let (levels, level, pace) = pace::pace(pupil, history, plan.levels);
            let list = List {
                history,
                levels,
                level,
                wishes: Vec::new(),
                reasons: Vec::new(),
            };
            list.pupil(pupil, pace, &skills, count, &plan.date)
        })
        .collect();
    next::Next {
        pupils,
        notices: notices(records, plan, &histories),
    }
}

/// The skills that the banks have and the plan asks for, in the order of the ladder.
fn skills(plan: &homework::Plan<'_>) -> Vec<level::Skill> {
    let templates = || plan.banks.iter().flat_map(|bank| &bank.templates);
    level::SKILLS
        .into_iter()
        .filter(|skill| plan.skills.is_empty() || plan.skills.contains(skill))
        .filter(|skill| templates().any(|template| template.skill == *skill))
        .collect()
}

/// What is in the records and on the roll, and what is only in one of them.
fn notices(
    records: &[next::Record],
    plan: &homework::Plan<'_>,
    histories: &BTreeMap<&str, history::History<'_>>,
) -> Vec<homework::Notice> {
    let roll = || "roll".to_owned();
    let mut notices = Vec::new();
    let on_roll: BTreeMap<&str, &str> = plan
        .pupils
        .iter()
        .map(|pupil| (pupil.id.as_str(), pupil.name.as_str()))
        .collect();
    let left_out: Vec<&str> = histories
        .keys()
        .filter(|id| !on_roll.contains_key(*id))
        .copied()
        .collect();
    if !left_out.is_empty() {
        notices.push(homework::Notice {
            place: roll(),
            what: format!(
                "the records have pupils who are not on it, and get no sheet: {}",
                left_out.join(", ")
            ),
        });
    }
    let renamed: BTreeSet<&str> = records
        .iter()
        .flat_map(|record| &record.names)
        .filter(|(id, name)| {
            on_roll
                .get(id.as_str())
                .is_some_and(|now| !same_name(now, name))
        })
        .map(|(id, _)| id.as_str())
        .collect();
    if !renamed.is_empty() {
        let ids: Vec<&str> = renamed.into_iter().collect();
        notices.push(homework::Notice {
            place: roll(),
            what: format!(
                "the records have another name for {}: see that these are the same pupils",
                ids.join(", ")
            ),
        });
    }
    let unknown: BTreeSet<&str> = records
        .iter()
        .filter(|record| !record.has_homework())
        .map(|record| record.work.code.as_str())
        .collect();
    if !unknown.is_empty() {
        let codes: Vec<&str> = unknown.into_iter().collect();
        notices.push(homework::Notice {
            place: "records".to_owned(),
            what: format!(
                "what was set is not known of {}, as its homework.json does not lie beside its \
                 marks: numbers may come again, and what is no longer thought cannot be seen",
                codes.join(", ")
            ),
        });
    }
    notices
}

/// Spaces and capitals make no other name.
fn same_name(one: &str, other: &str) -> bool {
    let plain = |name: &str| {
        let words: Vec<String> = name.split_whitespace().map(str::to_lowercase).collect();
        words.join(" ")
    };
    plain(one) == plain(other)
}

/// One pupil's wishes as they are written down.
struct List<'h> {
    history: &'h history::History<'h>,
    levels: level::Span,
    level: level::Level,
    wishes: Vec<wish::Wish>,
    reasons: Vec<next::Reason>,
}

impl List<'_> {
    fn pupil(
        mut self,
        pupil: &homework::Pupil,
        pace: pace::Pace,
        skills: &[level::Skill],
        count: usize,
        date: &str,
    ) -> next::Pupil {
        let (beliefs, gone) = belief::beliefs(self.history);
        self.beliefs(&beliefs, count);
        let missed = self.missed();
        if self.history.handed_in().next().is_some() {
            self.skills(skills, date);
        }
        next::Pupil {
            wished: wish::Wished {
                pupil_id: pupil.id.clone(),
                levels: self.levels,
                level: self.level,
                wishes: self.wishes,
                met: self.history.met(),
            },
            reasons: self.reasons,
            pace,
            beliefs,
            gone,
            missed,
        }
    }

    fn wish(&mut self, aim: wish::Aim, level: level::Level, reason: next::Reason) {
        self.wishes.push(wish::Wish { aim, level });
        self.reasons.push(reason);
    }

    /// Two questions for each way of thinking, on at most half the sheet; one at least
    /// where the sheet has room for no more.
    fn beliefs(&mut self, beliefs: &[belief::Belief], count: usize) {
        let most = (count / 2).max(1);
        for (index, belief) in beliefs.iter().enumerate() {
            for _ in 0..belief::TO_BE_GONE {
                if self.wishes.len() < most {
                    let aim = wish::Aim::Shows(belief.ids());
                    self.wish(aim, self.level, next::Reason::Belief(index));
                }
            }
        }
    }

    /// The questions of homeworks missed since the last one handed in, the newest
    /// first, each template once; returns their dates.
    fn missed(&mut self) -> Vec<String> {
        let missed = self
            .history
            .pasts
            .iter()
            .take_while(|past| past.presence != history::Presence::HandedIn)
            .filter(|past| past.presence == history::Presence::Absent);
        let mut dates = Vec::new();
        let mut wanted = BTreeSet::new();
        let mut wishes = Vec::new();
        for past in missed {
            dates.push(past.set_on.to_owned());
            for answered in &past.answers {
                let answer = answered.answer;
                if wanted.insert((&answer.bank, &answer.template)) {
                    let aim = wish::Aim::Again {
                        bank: answer.bank.clone(),
                        template: answer.template.clone(),
                        skill: answer.skill,
                    };
                    wishes.push((aim, self.levels.nearest(answer.level)));
                }
            }
        }
        for (aim, level) in wishes {
            self.wish(aim, level, next::Reason::Missed);
        }
        dates
    }

    /// Every skill by how it stands: failed ones, then by turns what is due, what was
    /// never answered and what is on its way; then the second question of each.
    fn skills(&mut self, skills: &[level::Skill], date: &str) {
        let mut failed = Vec::new();
        let mut due = Vec::new();
        let mut not_yet = Vec::new();
        let mut on_its_way = Vec::new();
        for &it in skills {
            let standing = skill::standing(self.history, it, date);
            match standing {
                skill::Standing::NotYet => not_yet.push((it, next::Reason::NotYet)),
                skill::Standing::Failed(earned, out_of) => {
                    failed.push((it, earned, out_of));
                }
                skill::Standing::OnItsWay(..) => on_its_way.push((it, next::Reason::OnItsWay)),
                skill::Standing::Secure { days, gap } => {
                    if standing.is_due() {
                        due.push((it, days, gap));
                    }
                }
            }
        }
        // The smaller share first, compared without dividing.
        failed.sort_by(|one, other| (one.1 * other.2).cmp(&(other.1 * one.2)));
        // The most overdue first: days by gap; what nobody knows the days of before all.
        due.sort_by(|one, other| match (one.1, other.1) {
            (Some(days), Some(others)) => (others * one.2).cmp(&(days * other.2)),
            (one, other) => one.is_some().cmp(&other.is_some()),
        });
        let lower = self.levels.nearest(below(self.level));
        for &(it, earned, out_of) in &failed {
            let reason = next::Reason::Failed(earned, out_of);
            self.wish(wish::Aim::Skill(it), lower, reason);
        }
        let due: Vec<(level::Skill, next::Reason)> = due
            .into_iter()
            .map(|(it, days, _)| (it, next::Reason::Due(days)))
            .collect();
        for (it, reason) in by_turns(&[&due, &not_yet, &on_its_way]) {
            self.wish(wish::Aim::Skill(it), self.level, reason);
        }
        for (it, earned, out_of) in failed {
            let reason = next::Reason::Failed(earned, out_of);
            self.wish(wish::Aim::Skill(it), self.level, reason);
        }
        for (it, reason) in by_turns(&[&on_its_way, &not_yet]) {
            self.wish(wish::Aim::Skill(it), self.level, reason);
        }
    }
}

/// The level below, or the lowest.
fn below(level: level::Level) -> level::Level {
    level::Level::new(level.number().saturating_sub(1)).unwrap_or(level::Level::LOWEST)
}

/// One of each list, then the second of each, and so on.
fn by_turns<T: Clone>(lists: &[&[T]]) -> Vec<T> {
    let most = lists.iter().map(|list| list.len()).max().unwrap_or(0);
    (0..most)
        .flat_map(|place| {
            lists
                .iter()
                .filter_map(move |list| list.get(place).cloned())
        })
        .collect()
}
