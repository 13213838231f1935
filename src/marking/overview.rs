//! What the marks of one homework say of its questions, misconceptions and pupils.

use crate::level;
use crate::marking;
use crate::marking::check;
use crate::marking::findings;
use crate::misconception;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// How many answers there are in each state.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// All marks.
    pub correct: usize,
    /// Some marks.
    pub partly: usize,
    /// An attempt that earned nothing.
    pub wrong: usize,
    /// Nothing typed, or don't-know.
    pub blank: usize,
    /// Blank after the last attempted question.
    pub not_reached: usize,
    /// Something typed that gives no answer.
    pub unreadable: usize,
    /// Absent.
    pub absent: usize,
    /// Excused.
    pub excused: usize,
    /// Waiting for a person's look, whatever the state.
    pub to_check: usize,
    /// Marks earned by the pupils who were there.
    pub marks: u32,
    /// Marks to be had in questions attempted or left blank.
    pub out_of: u32,
}

impl Counts {
    /// Counts one mark.
    pub fn count(&mut self, mark: &marking::Mark) {
        let count = match mark.state {
            marking::State::Correct => &mut self.correct,
            marking::State::Partly => &mut self.partly,
            marking::State::Wrong => &mut self.wrong,
            marking::State::Blank => &mut self.blank,
            marking::State::NotReached => &mut self.not_reached,
            marking::State::Unreadable => &mut self.unreadable,
            marking::State::Absent => &mut self.absent,
            marking::State::Excused => &mut self.excused,
        };
        *count += 1;
        self.to_check += usize::from(!mark.check.is_empty());
        match mark.state {
            marking::State::Correct
            | marking::State::Partly
            | marking::State::Wrong
            | marking::State::Blank
            | marking::State::Unreadable => {
                self.marks += u32::from(mark.marks);
                self.out_of += u32::from(mark.out_of);
            }
            marking::State::NotReached | marking::State::Absent | marking::State::Excused => {}
        }
    }

    /// Facility: the share of the marks to be had that was earned, in hundredths
    /// rounded half up; `None` where nobody attempted it.
    #[must_use]
    pub fn facility_percent(&self) -> Option<u32> {
        (self.out_of > 0).then(|| (200 * self.marks + self.out_of) / (2 * self.out_of))
    }
}

/// One question, over the pupils who have it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// Its number on the sheet.
    pub question: String,
    /// The template; sheets at different levels may have different ones here.
    pub template: String,
    /// The skill.
    pub skill: level::Skill,
    /// The marks of one pupil.
    pub out_of: u8,
    /// The counts.
    pub counts: Counts,
    /// Misconceptions met here with how many pupils, the commonest first.
    pub misconceptions: Vec<(&'static misconception::Misconception, usize)>,
}

/// A pupil with two answers or more that are consistent with a misconception.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Holder {
    /// The pupil's id.
    pub pupil_id: String,
    /// The pupil's name.
    pub name: String,
    /// How many of their answers are consistent with it and explained by no other.
    pub answers: usize,
    /// Whether another misconception explains these very answers as well.
    pub or_another: bool,
}

/// One misconception, over all pupils and questions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Met {
    /// Which.
    pub misconception: &'static misconception::Misconception,
    /// How many answers are consistent with it.
    pub answers: usize,
    /// In which questions.
    pub questions: Vec<String>,
    /// Pupils with two such answers or more that no other misconception explains
    /// better. One answer alone may be chance and says nothing of a pupil.
    pub pupils: Vec<Holder>,
}

/// One pupil: what holds, and the next step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pupil {
    /// The pupil's id.
    pub pupil_id: String,
    /// The name.
    pub name: String,
    /// The class.
    pub class: String,
    /// The year.
    pub year: String,
    /// Marks earned.
    pub marks: u32,
    /// Marks to be had; nothing for a pupil who was away.
    pub out_of: u32,
    /// Counts of states.
    pub counts: Counts,
    /// Skills in which every answer earned all its marks, the most answers first.
    pub strengths: Vec<level::Skill>,
    /// The fewest misconceptions with which the answers are consistent, each with two
    /// or more, the most answers first.
    pub consistent_with: Vec<findings::Finding>,
    /// What to say, and what to try next; empty for a pupil who was away.
    pub next: String,
}

/// What the marks say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overview {
    /// Every question, in the order of the sheets.
    pub questions: Vec<Question>,
    /// Every misconception met, the commonest first.
    pub misconceptions: Vec<Met>,
    /// Every pupil, in roll order.
    pub pupils: Vec<Pupil>,
    /// All marks together.
    pub counts: Counts,
}

/// Returns what the marks of a homework say.
#[must_use]
pub fn of(marked: &marking::Marked) -> Overview {
    let mut counts = Counts::default();
    for mark in all_marks(marked) {
        counts.count(mark);
    }
    let pupils: Vec<Pupil> = marked.pupils.iter().map(pupil).collect();
    Overview {
        questions: questions(marked),
        misconceptions: misconceptions(marked, &pupils),
        pupils,
        counts,
    }
}

fn all_marks(marked: &marking::Marked) -> impl Iterator<Item = &marking::Mark> {
    marked.pupils.iter().flat_map(|entry| &entry.marks)
}

fn known(mark: &marking::Mark) -> impl Iterator<Item = &'static misconception::Misconception> {
    mark.misconceptions
        .iter()
        .filter_map(|id| misconception::by_id(id))
}

/// A question, and how many answers met each misconception.
type Gathered<'a> = (Question, BTreeMap<&'a str, usize>);

fn questions(marked: &marking::Marked) -> Vec<Question> {
    let order = check::question_order(marked);
    let mut found: BTreeMap<(usize, &str), Gathered<'_>> = BTreeMap::new();
    for mark in all_marks(marked) {
        let place = order.get(mark.question.as_str()).copied().unwrap_or(0);
        let (question, met) = found.entry((place, &mark.template)).or_insert_with(|| {
            let question = Question {
                question: mark.question.clone(),
                template: mark.template.clone(),
                skill: mark.skill,
                out_of: mark.out_of,
                counts: Counts::default(),
                misconceptions: Vec::new(),
            };
            (question, BTreeMap::new())
        });
        question.counts.count(mark);
        for known in known(mark) {
            *met.entry(known.id).or_insert(0) += 1;
        }
    }
    found
        .into_values()
        .map(|(mut question, met)| {
            question.misconceptions = met
                .into_iter()
                .filter_map(|(id, count)| Some((misconception::by_id(id)?, count)))
                .collect();
            question
                .misconceptions
                .sort_by_key(|(_, count)| std::cmp::Reverse(*count));
            question
        })
        .collect()
}

fn misconceptions(marked: &marking::Marked, pupils: &[Pupil]) -> Vec<Met> {
    let order = check::question_order(marked);
    let mut found: BTreeMap<&str, (usize, BTreeSet<&str>)> = BTreeMap::new();
    for mark in all_marks(marked) {
        for id in &mark.misconceptions {
            let (answers, questions) = found.entry(id).or_default();
            *answers += 1;
            questions.insert(&mark.question);
        }
    }
    let mut met: Vec<Met> = misconception::all()
        .iter()
        .filter_map(|&known| {
            let (answers, questions) = found.remove(known.id)?;
            let mut questions: Vec<&str> = questions.into_iter().collect();
            questions.sort_by_key(|question| order.get(question).copied());
            let pupils = pupils.iter().filter_map(|pupil| holder(pupil, known));
            Some(Met {
                misconception: known,
                answers,
                questions: questions.into_iter().map(str::to_owned).collect(),
                pupils: pupils.collect(),
            })
        })
        .collect();
    met.sort_by_key(|met| std::cmp::Reverse((met.pupils.len(), met.answers)));
    met
}

/// The pupil as one whose answers are consistent with this misconception.
fn holder(pupil: &Pupil, known: &misconception::Misconception) -> Option<Holder> {
    let finding = pupil
        .consistent_with
        .iter()
        .find(|finding| finding.ideas.contains(&known))?;
    Some(Holder {
        pupil_id: pupil.pupil_id.clone(),
        name: pupil.name.clone(),
        answers: finding.answers,
        or_another: finding.only().is_none(),
    })
}

fn pupil(entry: &marking::MarkedPupil) -> Pupil {
    let mut counts = Counts::default();
    let mut out_of = 0;
    let mut skills: BTreeMap<level::Skill, Counts> = BTreeMap::new();
    for mark in &entry.marks {
        counts.count(mark);
        let away = matches!(mark.state, marking::State::Absent | marking::State::Excused);
        if !away {
            out_of += u32::from(mark.out_of);
        }
        skills.entry(mark.skill).or_default().count(mark);
    }
    let mut strengths: Vec<(level::Skill, u32)> = skills
        .iter()
        .filter(|(_, counts)| {
            counts.out_of > 0 && counts.marks == counts.out_of && counts.not_reached == 0
        })
        .map(|(skill, counts)| (*skill, counts.out_of))
        .collect();
    strengths.sort_by_key(|(_, out_of)| std::cmp::Reverse(*out_of));
    let answers = entry
        .marks
        .iter()
        .map(|mark| mark.misconceptions.as_slice());
    let consistent_with = findings::fewest(answers);
    let next = if out_of == 0 {
        String::new()
    } else {
        next_step(&consistent_with, &skills, counts)
    };
    Pupil {
        pupil_id: entry.pupil.id.clone(),
        name: entry.pupil.name.clone(),
        class: entry.pupil.class.clone(),
        year: entry.pupil.year.clone(),
        marks: counts.marks,
        out_of,
        counts,
        strengths: strengths.into_iter().map(|(skill, _)| skill).collect(),
        consistent_with,
        next,
    }
}

/// The next step: from what explains most answers, else from the skill in which most
/// marks were lost.
fn next_step(
    consistent: &[findings::Finding],
    skills: &BTreeMap<level::Skill, Counts>,
    counts: Counts,
) -> String {
    if let Some(known) = consistent.iter().find_map(findings::Finding::only) {
        return format!("{} {}", known.say, known.next);
    }
    if let Some(idea) = consistent.first().and_then(|it| it.ideas.first()) {
        return format!("Say aloud how you worked these out. {}", idea.next);
    }
    if counts.correct + counts.partly + counts.wrong + counts.unreadable == 0 {
        return "Try one question together and say aloud what happens first.".to_owned();
    }
    let lost = |counts: &Counts| counts.out_of - counts.marks;
    let weakest = skills
        .iter()
        .filter(|(_, counts)| lost(counts) > 0)
        .max_by_key(|(skill, counts)| (lost(counts), std::cmp::Reverse(**skill)));
    match weakest {
        Some((skill, _)) => skill_step(*skill).to_owned(),
        None if counts.not_reached > 0 => {
            "All right as far as you came. Take the last questions first next time.".to_owned()
        }
        None => "All right. Try a question one level up.".to_owned(),
    }
}

/// Returns what to try next in a skill, as it is said to the pupil.
#[must_use]
pub fn skill_step(skill: level::Skill) -> &'static str {
    match skill {
        level::Skill::Naming => "Match gears and their names on cards.",
        level::Skill::Direction => "Draw an arrow on each gear, one after the other.",
        level::Skill::FasterSlower => {
            "Turn two gears of different size by hand and count the turns of each."
        }
        level::Skill::Turns => "Say first which gear turns more, then work out how many times.",
        level::Skill::Ratio => "Write the names above the ratio, then the numbers, then simplify.",
        level::Skill::Speed => "Write turns in each minute under each gear along the train.",
        level::Skill::TurningForce => {
            "Say whether the force grows or shrinks before you work it out."
        }
        level::Skill::Distance => "Find how far one turn goes, then multiply by the turns.",
        level::Skill::Gearboxes => "Work out one stage at a time and write down each axle's turns.",
        level::Skill::Choosing => "Try a pair from the box, work it out, and then change one gear.",
        level::Skill::WillItWork => "Follow the arrows from gear to gear, all the way round.",
    }
}
