//! One class for its own teacher: pupils by name, with what they did while in it.
//!
//! The one place of a review where pupils are kept, and only those of one class. What
//! they did in another class is not shown: its teacher was another. Not here: anything
//! for more readers than the class's own teacher; that is [`attainment::Summary`].

use crate::attainment;
use crate::attainment::fold;
use crate::attainment::fold::sheet;
use crate::attainment::growth::pupils;
use crate::attainment::newest;
use crate::attainment::tally;
use crate::attainment::who;
use crate::date;
use crate::level;
use crate::marking;
use crate::marking::findings;
use crate::marking::overview;
use crate::statistics::rasch;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// How many skills are named for practice.
const MOST_SKILLS: usize = 2;

/// Gathers the pupils of one class, one homework at a time.
#[derive(Debug, Clone)]
pub struct ClassFold {
    class: String,
    homeworks: BTreeMap<fold::Homework, Dates>,
    pupils: BTreeMap<who::Who, Gathered>,
    classes: BTreeSet<String>,
}

/// When a homework was marked, and how long it may be kept.
#[derive(Debug, Clone)]
struct Dates {
    marked_on: String,
    kept_until: Option<date::Date>,
}

/// What is gathered of one pupil.
#[derive(Debug, Clone, Default)]
struct Gathered {
    /// As the newest homework has them.
    id: String,
    name: String,
    year: String,
    newest: String,
    homeworks: Vec<PupilHomework>,
    skills: BTreeMap<level::Skill, tally::Tally>,
    /// The misconceptions of each answer that shows one.
    shown: Vec<Vec<String>>,
    to_check: u32,
    /// What was scored on which questions, for growth.
    scored: Vec<pupils::Scored>,
}

/// A class as its own teacher may see it.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassView {
    /// The class.
    pub class: String,
    /// Its homeworks, by date set.
    pub homeworks: Vec<fold::Homework>,
    /// When the newest of them was marked.
    pub marked_on: String,
    /// The last day on which any of them may be kept, where that is known.
    pub kept_until: Option<date::Date>,
    /// Its pupils, by name.
    pub pupils: Vec<PupilView>,
}

/// One pupil.
#[derive(Debug, Clone, PartialEq)]
pub struct PupilView {
    /// The school's own id.
    pub id: String,
    /// The name.
    pub name: String,
    /// The year, as the newest homework has it.
    pub year: String,
    /// Each homework of theirs in this class, by date set.
    pub homeworks: Vec<PupilHomework>,
    /// Each skill they were asked, in the order of the ladder.
    pub skills: Vec<PupilSkill>,
    /// What two or more of their answers are consistent with.
    pub findings: Vec<findings::Finding>,
    /// How many answers a person still has to look at.
    pub to_check: u32,
    /// What to practise next, the most telling first; empty where nothing was handed in.
    pub next: Vec<String>,
    /// From time to time on the scale of questions.
    pub growth: pupils::PupilGrowth,
}

/// One homework of one pupil.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PupilHomework {
    /// Which.
    pub homework: fold::Homework,
    /// Counts of the answers; all absent or excused where nothing was handed in.
    pub tally: tally::Tally,
}

/// One skill of one pupil.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PupilSkill {
    /// Which.
    pub skill: level::Skill,
    /// Counts of the answers.
    pub tally: tally::Tally,
}

impl ClassFold {
    /// Returns an empty fold for a class; where the roll names schools the class is
    /// called with its school, `5 Oak (Hill School)`.
    #[must_use]
    pub fn new(class: &str) -> Self {
        Self {
            class: class.trim().to_owned(),
            homeworks: BTreeMap::new(),
            pupils: BTreeMap::new(),
            classes: BTreeSet::new(),
        }
    }

    /// Adds all records of one homework.
    pub fn add(&mut self, records: &[marking::Marked]) {
        let works: Vec<attainment::Work> = records.iter().map(attainment::Work::of).collect();
        for family in fold::Family::all(&works) {
            let marked_on = family.works.iter().map(|work| &work.marked_on).max();
            let dates = Dates {
                marked_on: marked_on.cloned().unwrap_or_default(),
                kept_until: family.kept_until(),
            };
            for pupil in newest::newest(&family.works).pupils {
                let class = fold::class(pupil);
                let is_here = class == self.class;
                self.classes.insert(class);
                if !is_here {
                    continue;
                }
                let told = records.iter().flat_map(|record| &record.pupils);
                let told = told.map(|entry| &entry.pupil);
                let Some(told) = told.into_iter().find(|it| who::Who::of(it) == pupil.who) else {
                    continue;
                };
                self.homeworks
                    .insert(family.homework.clone(), dates.clone());
                let gathered = self.pupils.entry(pupil.who).or_default();
                if gathered.newest <= family.homework.set_on {
                    gathered.newest.clone_from(&family.homework.set_on);
                    gathered.id.clone_from(&told.id);
                    gathered.name.clone_from(&told.name);
                    gathered.year.clone_from(&told.year);
                }
                gathered.add(&family.homework, pupil);
            }
        }
    }

    /// Returns the classes that were met, by name.
    pub fn classes(&self) -> impl Iterator<Item = &str> {
        self.classes.iter().map(String::as_str)
    }

    /// Returns the class as its own teacher may see it; nothing where no pupil of it was
    /// met. The scale for growth comes from `scales`, those of all records; its times from
    /// the school's calendar.
    #[must_use]
    pub fn view(self, scales: &rasch::Scales, school: &attainment::School) -> Option<ClassView> {
        if self.pupils.is_empty() {
            return None;
        }
        let pupils = self.pupils.into_values();
        let mut pupils: Vec<PupilView> = pupils
            .map(|gathered| gathered.view(scales.scales.first(), school))
            .collect();
        pupils.sort_by(|one, other| (&one.name, &one.id).cmp(&(&other.name, &other.id)));
        let dates = self.homeworks.values();
        Some(ClassView {
            class: self.class,
            marked_on: dates
                .clone()
                .map(|it| &it.marked_on)
                .max()
                .cloned()
                .unwrap_or_default(),
            kept_until: dates.filter_map(|it| it.kept_until).max(),
            homeworks: self.homeworks.into_keys().collect(),
            pupils,
        })
    }
}

impl Gathered {
    fn add(&mut self, homework: &fold::Homework, pupil: &attainment::Pupil) {
        let mut whole = tally::Tally::default();
        for answer in &pupil.answers {
            whole.count(answer);
            self.skills.entry(answer.skill).or_default().count(answer);
            if !answer.misconceptions.is_empty() {
                self.shown.push(answer.misconceptions.clone());
            }
            self.to_check = self.to_check.saturating_add(u32::from(answer.needs_check));
        }
        let marks = sheet::marks(pupil);
        if !marks.is_empty() {
            self.scored.push(pupils::Scored {
                set_on: homework.set_on.clone(),
                score: sheet::score(&marks),
                questions: marks.into_iter().map(|it| it.0).collect(),
            });
        }
        self.homeworks.push(PupilHomework {
            homework: homework.clone(),
            tally: whole,
        });
    }

    fn view(mut self, scale: Option<&rasch::Scale>, school: &attainment::School) -> PupilView {
        self.scored.sort();
        self.homeworks
            .sort_by(|one, other| one.homework.cmp(&other.homework));
        let findings = findings::fewest(self.shown.iter().map(Vec::as_slice));
        let skills: Vec<PupilSkill> = self
            .skills
            .into_iter()
            .map(|(skill, tally)| PupilSkill { skill, tally })
            .collect();
        PupilView {
            id: self.id,
            name: self.name,
            year: self.year,
            next: next(&findings, &skills),
            homeworks: self.homeworks,
            skills,
            findings,
            to_check: self.to_check,
            growth: pupils::of(&self.scored, scale, school),
        }
    }
}

/// What to practise: what would answer a way of thinking seen twice, then the skills in
/// which most marks were lost.
fn next(findings: &[findings::Finding], skills: &[PupilSkill]) -> Vec<String> {
    if skills.iter().all(|skill| skill.tally.handed_in() == 0) {
        return Vec::new();
    }
    let mut next: Vec<String> = findings
        .iter()
        .filter_map(|finding| finding.ideas.first())
        .map(|idea| idea.next.to_owned())
        .collect();
    let lost = |skill: &&PupilSkill| skill.tally.available.saturating_sub(skill.tally.earned);
    let mut weakest: Vec<&PupilSkill> = skills.iter().filter(|skill| lost(skill) > 0).collect();
    weakest.sort_by_key(|skill| std::cmp::Reverse(lost(skill)));
    next.extend(weakest.into_iter().take(MOST_SKILLS).map(|skill| {
        format!(
            "{} ({} of {} marks): {}",
            skill.skill.title(),
            skill.tally.earned,
            skill.tally.available,
            overview::skill_step(skill.skill)
        )
    }));
    if next.is_empty() {
        next.push("All right so far. Try questions one level up, or other skills.".to_owned());
    }
    next
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::homework;
    use crate::marking::policy;

    fn mark(question: &str, marks: u8, misconceptions: &[&str]) -> marking::Mark {
        marking::Mark {
            pupil_id: "7".to_owned(),
            question: question.to_owned(),
            bank: "gears-7-11".to_owned(),
            template: "turns-pair-down".to_owned(),
            skill: level::Skill::Turns,
            level: level::Level::LOWEST,
            typed: String::new(),
            read_as: String::new(),
            expected: String::new(),
            marks,
            out_of: 2,
            state: if marks == 2 {
                marking::State::Correct
            } else {
                marking::State::Wrong
            },
            misconceptions: misconceptions.iter().map(|id| (*id).to_owned()).collect(),
            reason: String::new(),
            check: String::new(),
            code: String::new(),
            like: String::new(),
            decided: None,
        }
    }

    fn record(set_on: &str, class: &str, marks: Vec<marking::Mark>) -> marking::Marked {
        let pupil = homework::Pupil {
            id: "7".to_owned(),
            name: "Zoë Hall".to_owned(),
            class: class.to_owned(),
            year: "5".to_owned(),
            level: None,
            groups: BTreeMap::new(),
        };
        marking::Marked {
            made_by: String::new(),
            code: "K7Q2".to_owned(),
            title: "Gears".to_owned(),
            set_on: set_on.to_owned(),
            marked_on: set_on.to_owned(),
            keep_until: None,
            banks: Vec::new(),
            policy: policy::Policy::default(),
            pupils: vec![marking::MarkedPupil {
                pupil,
                version: "A".to_owned(),
                attendance: marking::Attendance::Present,
                marks,
                handed_in: None,
            }],
            decisions: Vec::new(),
            second_looks: Vec::new(),
            notes: Vec::new(),
        }
    }

    fn view(records: &[marking::Marked]) -> Option<ClassView> {
        let mut fold = ClassFold::new("5 Oak");
        for record in records {
            fold.add(std::slice::from_ref(record));
        }
        let scales = rasch::scales(&rasch::answers::Answers::default());
        fold.view(&scales, &attainment::School::default())
    }

    #[test]
    fn a_misconception_seen_in_two_homeworks_is_told_of_the_pupil() {
        let slip = |set_on| record(set_on, "5 Oak", vec![mark("Q1", 0, &["same-speed"])]);
        let view = view(&[slip("2026-03-09"), slip("2026-03-16")]).expect("the class is there");
        let zoe = &view.pupils[0];
        assert_eq!((zoe.name.as_str(), zoe.homeworks.len()), ("Zoë Hall", 2));
        assert_eq!(zoe.findings[0].answers, 2);
        assert_eq!(zoe.skills[0].tally.available, 4);
        assert!(
            zoe.next[1].starts_with("Turns (0 of 4 marks)"),
            "{:?}",
            zoe.next
        );
    }

    #[test]
    fn what_was_done_in_another_class_is_not_shown() {
        let here = record("2026-03-09", "5 Oak", vec![mark("Q1", 2, &[])]);
        let there = record("2026-03-16", "5 Elm", vec![mark("Q1", 0, &[])]);
        let view = view(&[here, there.clone()]).expect("the class is there");
        assert_eq!(view.homeworks.len(), 1);
        assert_eq!(view.pupils[0].skills[0].tally.earned, 2);
        assert_eq!(
            view.pupils[0].next,
            ["All right so far. Try questions one level up, or other skills."]
        );
        assert_eq!(self::view(&[there]), None);
    }
}
