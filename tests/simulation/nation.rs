//! A nation's homeworks, made up one class at a time, to measure and to check the fold
//! that reviewing counts with.
//!
//! A few hundred class records are made once and handed out again and again under other
//! pupils, classes, schools and days: so nothing of the nation is ever in memory but the
//! counts. What the answers are does not matter here, only how many and how varied.

use std::collections::BTreeMap;
use toothmark::attainment;
use toothmark::attainment::fold;
use toothmark::attainment::tally;
use toothmark::attainment::who;
use toothmark::homework;
use toothmark::level;
use toothmark::marking;

/// Pupils in a class.
const CLASS: usize = 30;
/// Classes in a school.
const SCHOOL: usize = 14;
/// Class records that are handed out.
const RECORDS: usize = 300;
/// Questions in a homework.
const QUESTIONS: usize = 12;
/// Templates there are.
const TEMPLATES: usize = 96;

/// A nation of so many pupils who did so many homeworks each.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Nation {
    /// Pupils; whole classes of thirty.
    pub(crate) pupils: usize,
    /// Homeworks of each.
    pub(crate) homeworks: usize,
}

/// What was counted, and what should have been.
pub(crate) struct Counted {
    /// The fold.
    pub(crate) fold: fold::Fold,
    /// Every answer counted without a fold; with the pupils who handed in.
    pub(crate) plain: tally::Tally,
}

impl Nation {
    /// How many classes there are.
    pub(crate) fn classes(self) -> usize {
        self.pupils / CLASS
    }

    /// Counts the homeworks of some classes.
    pub(crate) fn count(self, classes: std::ops::Range<usize>) -> Counted {
        let mut records: Vec<attainment::Work> = (0..RECORDS).map(record).collect();
        let mut counted = Counted {
            fold: fold::Fold::default(),
            plain: tally::Tally::default(),
        };
        for class in classes {
            let pupils: Vec<who::Who> = (0..CLASS).map(|number| pupil(class, number)).collect();
            let mut handed_in = [false; CLASS];
            for homework in 0..self.homeworks {
                let place = (class * 7 + homework * 13) % RECORDS;
                let work = &mut records[place];
                hand_out(work, class, homework, &pupils);
                for (pupil, handed_in) in work.pupils.iter().zip(&mut handed_in) {
                    for answer in &pupil.answers {
                        counted.plain.count(answer);
                    }
                    *handed_in |= pupil.answers[0].state != marking::State::Absent;
                }
                for family in fold::Family::all([&*work]) {
                    counted
                        .fold
                        .add(&family)
                        .expect("each homework is set once");
                }
            }
            let there = handed_in.into_iter().filter(|there| *there).count();
            counted.plain.pupils += u32::try_from(there).expect("at most a class");
        }
        counted
    }
}

/// Who a pupil of a class is.
fn pupil(class: usize, number: usize) -> who::Who {
    who::Who::of(&homework::Pupil {
        id: format!("{}", (class % SCHOOL) * CLASS + number),
        name: format!("Pupil {number} of {class}"),
        class: String::new(),
        year: String::new(),
        level: None,
        groups: [("school".to_owned(), school(class))].into(),
    })
}

fn school(class: usize) -> String {
    format!("School {}", class / SCHOOL)
}

/// Makes a record one of this class and homework.
fn hand_out(work: &mut attainment::Work, class: usize, homework: usize, pupils: &[who::Who]) {
    let year = class % 9 + 1;
    let name = format!("{year}{}", if class.is_multiple_of(2) { "A" } else { "B" });
    let groups: BTreeMap<String, String> = [("school".to_owned(), school(class))].into();
    work.code = format!("C{class}-{homework}");
    work.set_on = format!("2026-{:02}-{:02}", homework % 12 + 1, class % 28 + 1);
    work.marked_on.clone_from(&work.set_on);
    for (pupil, who) in work.pupils.iter_mut().zip(pupils) {
        pupil.who = *who;
        pupil.year = year.to_string();
        pupil.class.clone_from(&name);
        pupil.groups.clone_from(&groups);
    }
}

/// Numbers that look drawn: the upper bits of a linear congruential generator.
struct Draws(u64);

impl Draws {
    fn below(&mut self, bound: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 40).expect("24 bits") % bound
    }
}

/// One class record: pupils of several abilities, some absent.
fn record(number: usize) -> attainment::Work {
    let mut draws = Draws(u64::try_from(number).expect("a small number"));
    let first = draws.below(TEMPLATES);
    let pupils = (0..CLASS).map(|_| {
        let is_absent = draws.below(20) == 0;
        let ability = draws.below(8) + 1;
        let answers = (0..QUESTIONS).map(|question| {
            let template = (first + question * 5) % TEMPLATES;
            answer(
                question,
                template,
                is_absent,
                draws.below(10) < ability,
                &mut draws,
            )
        });
        attainment::Pupil {
            who: pupil(0, 0),
            class: String::new(),
            year: String::new(),
            groups: BTreeMap::new(),
            answers: answers.collect(),
        }
    });
    attainment::Work {
        pupils: pupils.collect(),
        code: String::new(),
        title: "Gears".to_owned(),
        set_on: String::new(),
        marked_on: String::new(),
        kept_until: None,
    }
}

fn answer(
    question: usize,
    template: usize,
    is_absent: bool,
    is_right: bool,
    draws: &mut Draws,
) -> attainment::Answer {
    let slips: [&[&str]; 4] = [
        &["same-speed"],
        &["ratio-upside-down"],
        &["same-speed", "big-gear-faster"],
        &[],
    ];
    let state = match (is_absent, is_right) {
        (true, _) => marking::State::Absent,
        (false, true) => marking::State::Correct,
        (false, false) => marking::State::Wrong,
    };
    let misconceptions = match state {
        marking::State::Wrong => slips[draws.below(slips.len())],
        marking::State::Correct
        | marking::State::Partly
        | marking::State::Blank
        | marking::State::NotReached
        | marking::State::Unreadable
        | marking::State::Absent
        | marking::State::Excused => &[],
    };
    attainment::Answer {
        question: format!("Q{}", question + 1),
        bank: "gears-7-11".to_owned(),
        template: format!("template-{template}"),
        skill: level::SKILLS[template % level::SKILLS.len()],
        level: level::Level::all()
            .nth(template % 8)
            .expect("there are eight levels"),
        marks: if is_right && !is_absent { 2 } else { 0 },
        out_of: 2,
        state,
        misconceptions: misconceptions.iter().map(|id| (*id).to_owned()).collect(),
        needs_check: false,
    }
}
