//! Why a pupil got these questions, in one line of plain words.

use crate::homework::wish;
use crate::level;
use crate::next;
use crate::next::belief;
use crate::next::pace;
use std::collections::BTreeSet;

/// The most skills that are named for one reason: a line stays a line.
const MOST_NAMED: usize = 4;

/// See [`super::why`].
pub(super) fn why(pupil: &next::Pupil, granted: &[wish::Granted]) -> String {
    let page = Page { pupil, granted };
    let mut said = vec![level(pupil)];
    for (index, belief) in pupil.beliefs.iter().enumerate() {
        said.push(page.belief(index, belief));
    }
    for belief in &pupil.gone {
        said.push(format!(
            "no longer answers like someone who {}",
            belief.name()
        ));
    }
    said.extend(page.missed());
    said.extend(
        page.skills("again, after few marks: ", |reason| match reason {
            next::Reason::Failed(earned, out_of) => Some(format!(" ({earned} of {out_of})")),
            next::Reason::Belief(_)
            | next::Reason::Missed
            | next::Reason::Due(_)
            | next::Reason::NotYet
            | next::Reason::OnItsWay => None,
        }),
    );
    said.extend(page.skills("back, as they hold: ", |reason| match reason {
        next::Reason::Due(days) => Some(days.map_or_else(String::new, after)),
        next::Reason::Belief(_)
        | next::Reason::Missed
        | next::Reason::Failed(..)
        | next::Reason::NotYet
        | next::Reason::OnItsWay => None,
    }));
    said.extend(page.skills("new: ", |reason| {
        (*reason == next::Reason::NotYet).then(String::new)
    }));
    said.extend(page.skills("more practice: ", |reason| {
        (*reason == next::Reason::OnItsWay).then(String::new)
    }));
    said.extend(page.practice());
    let line = said.join("; ");
    format!("{line}.")
}

fn level(pupil: &next::Pupil) -> String {
    let level = pupil.level();
    match pupil.pace {
        pace::Pace::OnTheRoll => format!("Level {level}, as on the class list"),
        pace::Pace::Start => format!("Level {level}, as nothing is known yet"),
        pace::Pace::TooFew => format!("Level {level}, with too few answers to change it"),
        pace::Pace::Up(earned, out_of) => {
            format!("Level {level}, one up ({earned} of {out_of} marks)")
        }
        pace::Pace::Same(earned, out_of) => {
            format!("Level {level} ({earned} of {out_of} marks)")
        }
        pace::Pace::Down(earned, out_of) => {
            format!("Level {level}, one down ({earned} of {out_of} marks)")
        }
    }
}

/// ` after 6 weeks`.
fn after(days: i64) -> String {
    match (days, days / 7) {
        (1, _) => " after 1 day".to_owned(),
        (_, 0) => format!(" after {days} days"),
        (_, 1) => " after 1 week".to_owned(),
        (_, weeks) => format!(" after {weeks} weeks"),
    }
}

/// A pupil's questions and what they are for.
struct Page<'a> {
    pupil: &'a next::Pupil,
    granted: &'a [wish::Granted],
}

impl Page<'_> {
    /// The questions for reasons that are asked after, each with what is told of it.
    fn for_reason(
        &self,
        told: impl Fn(&next::Reason) -> Option<String>,
    ) -> Vec<(&wish::Granted, String)> {
        self.granted
            .iter()
            .filter_map(|granted| {
                let reason = self.pupil.reasons.get(granted.wish?)?;
                Some((granted, told(reason)?))
            })
            .collect()
    }

    fn belief(&self, index: usize, belief: &belief::Belief) -> String {
        let reason = next::Reason::Belief(index);
        let found = self.for_reason(|other| (*other == reason).then(String::new));
        let questions: Vec<&str> = found.iter().map(|(it, _)| it.question.as_str()).collect();
        let is_wished = self.pupil.reasons.contains(&reason);
        let so = match questions.as_slice() {
            [] if is_wished => "but no question here shows it".to_owned(),
            [] => "for which there is no room yet".to_owned(),
            [only] => format!("so 1 question on that ({only})"),
            several => format!(
                "so {} questions on that ({})",
                several.len(),
                several.join(", ")
            ),
        };
        format!(
            "{} answers consistent with someone who {}, {so}",
            belief.answers,
            belief.name()
        )
    }

    fn missed(&self) -> Option<String> {
        if self.pupil.missed.is_empty() {
            return None;
        }
        let dates = self.pupil.missed.join(" and ");
        let found = self.for_reason(|reason| (*reason == next::Reason::Missed).then(String::new));
        let questions = match found.len() {
            0 => String::new(),
            1 => ", so 1 question like those missed".to_owned(),
            count => format!(", so {count} questions like those missed"),
        };
        Some(format!("away for the homework of {dates}{questions}"))
    }

    /// The skills asked for a reason, in the order of the ladder, with levels that are
    /// not the pupil's own.
    fn skills(
        &self,
        heading: &str,
        told: impl Fn(&next::Reason) -> Option<String>,
    ) -> Option<String> {
        let found = self.for_reason(told);
        let named: BTreeSet<level::Skill> = found.iter().map(|(it, _)| it.skill).collect();
        if named.len() > MOST_NAMED {
            return Some(format!("{heading}{} skills", named.len()));
        }
        let mut skills: Vec<(level::Skill, &str)> = found
            .iter()
            .map(|(granted, told)| (granted.skill, told.as_str()))
            .collect();
        skills.sort_unstable();
        skills.dedup();
        let said: Vec<String> = skills
            .into_iter()
            .map(|(skill, told)| {
                let levels: BTreeSet<level::Level> = found
                    .iter()
                    .filter(|(granted, _)| granted.skill == skill)
                    .map(|(granted, _)| granted.level)
                    .collect();
                format!("{}{told}{}", name(skill), self.levels(&levels))
            })
            .collect();
        (!said.is_empty()).then(|| format!("{heading}{}", said.join(", ")))
    }

    /// ` at levels 3 and 4`; nothing where it is the pupil's level.
    fn levels(&self, levels: &BTreeSet<level::Level>) -> String {
        let texts: Vec<String> = levels.iter().map(ToString::to_string).collect();
        match texts.as_slice() {
            [_] if levels.contains(&self.pupil.level()) => String::new(),
            [only] => format!(" at level {only}"),
            several => format!(" at levels {}", several.join(" and ")),
        }
    }

    fn practice(&self) -> Option<String> {
        let skills: BTreeSet<level::Skill> = self
            .granted
            .iter()
            .filter(|granted| granted.wish.is_none())
            .map(|granted| granted.skill)
            .collect();
        if skills.len() > MOST_NAMED {
            return Some(format!("practice in {} skills", skills.len()));
        }
        let names: Vec<String> = skills.into_iter().map(name).collect();
        (!names.is_empty()).then(|| format!("practice: {}", names.join(", ")))
    }
}

fn name(skill: level::Skill) -> String {
    skill.title().to_lowercase()
}
