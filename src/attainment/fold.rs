//! Marked homeworks folded into counts, so that answers need not be kept.
//!
//! Takes the records of one homework at a time ([`Family`]), counts them and lets them
//! go. What is kept grows with the questions, classes and days there are, and by a few
//! numbers a pupil; not with the answers. Any order, and any split over several folds
//! that are merged, gives the same summary.
//!
//! How it is in real lives:
//!
//! | What happens | What is done |
//! |---|---|
//! | a pupil moves class or year | each answer counts for the class and year the pupil was in at the time; in the whole the pupil counts once |
//! | two homeworks on one day | both count, also where they share title and code but no question |
//! | the same work handed in or marked twice | one counts: see [`newest`](crate::attainment) |
//! | a pupil absent throughout | their answers stand under absent; they are no pupil of any row |
//! | a class of several years | its pupils count under their own years, and in the class together |
//! | one id, two names | two pupils, and it is told; a roll column `school` tells apart better |
//! | two classes of one name in two schools | two classes where the roll has a column `school`, else one |

pub(super) mod kept;
mod merge;
pub(super) mod place;
pub(super) mod sheet;

use crate::attainment;
use crate::attainment::counted;
use crate::attainment::misconceptions;
use crate::attainment::names;
use crate::attainment::newest;
use crate::attainment::register;
use crate::attainment::tally;
use crate::attainment::who;
use crate::date;
use crate::level;
use crate::statistics::rasch;
use crate::statistics::rasch::answers;
use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::fmt;

/// Which homework: the code alone is short enough to come up twice by chance.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Homework {
    /// The date it was set, ISO 8601.
    pub set_on: String,
    /// Its code.
    pub code: String,
    /// Its title.
    pub title: String,
}

/// All records of one homework.
#[derive(Debug, Clone)]
pub struct Family<'a> {
    pub(super) homework: Homework,
    pub(super) works: Vec<&'a attainment::Work>,
}

/// A homework that is already counted: its records must come together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AlreadyCounted {
    /// Which it is.
    pub homework: Homework,
}

/// Counts of everything that was added.
#[derive(Debug, Clone, Default)]
pub struct Fold {
    pub(super) names: names::Names,
    pub(super) pupils: register::Register,
    pub(super) places: place::Places,
    pub(super) homeworks: BTreeMap<Homework, kept::Told>,
    pub(super) cells: BTreeMap<kept::Cell, counted::Counted>,
    pub(super) levels: BTreeMap<level::Level, counted::Counted>,
    pub(super) questions: BTreeMap<kept::Question, kept::Asked>,
    /// In how many homeworks each question was asked.
    pub(super) coverage: BTreeMap<kept::Covered, u32>,
    pub(super) shown: misconceptions::Shown,
    pub(super) standing: BTreeMap<kept::Standing, kept::Marks>,
    pub(super) scores: answers::Answers,
    /// How many pupils of a class had each score on the same questions on one day.
    pub(super) sheets: BTreeMap<sheet::Sheet, BTreeMap<u16, u32>>,
    /// What each pupil scored on which sheets while in a class: eight bytes for each.
    pub(super) done: BTreeMap<kept::Standing, Vec<sheet::Done>>,
    pub(super) left_out: u64,
    pub(super) to_check: u64,
}

impl attainment::Work {
    /// Returns which homework it is of.
    #[must_use]
    pub fn homework(&self) -> Homework {
        Homework {
            set_on: self.set_on.clone(),
            code: self.code.clone(),
            title: self.title.clone(),
        }
    }
}

impl<'a> Family<'a> {
    /// Returns the works sorted into families, by date set.
    pub fn all(works: impl IntoIterator<Item = &'a attainment::Work>) -> Vec<Self> {
        let mut families: BTreeMap<Homework, Vec<&'a attainment::Work>> = BTreeMap::new();
        for work in works {
            families.entry(work.homework()).or_default().push(work);
        }
        families
            .into_iter()
            .map(|(homework, works)| Self { homework, works })
            .collect()
    }

    /// The last day on which any of the records may be kept.
    pub(super) fn kept_until(&self) -> Option<date::Date> {
        self.works.iter().filter_map(|work| work.kept_until).max()
    }
}

impl fmt::Display for AlreadyCounted {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            formatter,
            "homework {} of {} is counted already",
            self.homework.code, self.homework.set_on
        )
    }
}

impl std::error::Error for AlreadyCounted {}

impl Fold {
    /// Counts all records of one homework.
    ///
    /// # Errors
    ///
    /// [`AlreadyCounted`] when records of it were added before: which of a pupil's
    /// works is the newest can only be told among all of them.
    pub fn add(&mut self, family: &Family<'_>) -> Result<(), AlreadyCounted> {
        let homework = &family.homework;
        if self.homeworks.contains_key(homework) {
            return Err(AlreadyCounted {
                homework: homework.clone(),
            });
        }
        let newest = newest::newest(&family.works);
        self.left_out = self.left_out.saturating_add(newest.left_out);
        let marked_on = family.works.iter().map(|work| &work.marked_on).max();
        let mut sitting = Sitting {
            set_on: self.names.name(&homework.set_on),
            covered: BTreeSet::new(),
            told: kept::Told {
                marked_on: marked_on.cloned().unwrap_or_default(),
                kept_until: family.kept_until(),
                pupils: 0,
                questions: 0,
                classes: BTreeSet::new(),
            },
        };
        for pupil in newest.pupils {
            self.add_pupil(pupil, &mut sitting);
        }
        for covered in sitting.covered {
            kept::more(&mut self.coverage, covered, 1);
        }
        self.homeworks.insert(homework.clone(), sitting.told);
        Ok(())
    }

    /// Counts one pupil's work of one homework.
    fn add_pupil(&mut self, pupil: &attainment::Pupil, sitting: &mut Sitting) {
        let number = self.pupils.number(pupil.who);
        let year = self.names.name(pupil.year.trim());
        let class = self.names.name(&class(pupil));
        let place = self.place(pupil, class, year);
        let mut whole = tally::Tally::default();
        let mut skills: BTreeMap<level::Skill, tally::Tally> = BTreeMap::new();
        let mut levels: BTreeMap<level::Level, tally::Tally> = BTreeMap::new();
        let mut questions: BTreeSet<&str> = BTreeSet::new();
        for answer in &pupil.answers {
            whole.count(answer);
            skills.entry(answer.skill).or_default().count(answer);
            levels.entry(answer.level).or_default().count(answer);
            questions.insert(&answer.question);
            let question = self.add_to_question(number, answer);
            if tally::was_handed_in(answer.state) {
                sitting.covered.insert(kept::Covered {
                    set_on: sitting.set_on,
                    year,
                    level: answer.level,
                    question,
                });
            }
            self.to_check = self.to_check.saturating_add(u64::from(answer.needs_check));
            if !answer.misconceptions.is_empty() {
                let ids = self
                    .names
                    .name(&misconceptions::joined(&answer.misconceptions));
                self.shown.add(number, year, ids);
            }
        }
        for (skill, tally) in &skills {
            let cell = kept::Cell {
                place,
                set_on: sitting.set_on,
                skill: *skill,
            };
            self.cells.entry(cell).or_default().add(number, tally);
        }
        for (level, tally) in &levels {
            self.levels.entry(*level).or_default().add(number, tally);
        }
        let standing = kept::Standing {
            pupil: number,
            year,
            class,
        };
        self.add_scores(standing, pupil, sitting.set_on);
        self.standing
            .entry(standing)
            .or_default()
            .join(kept::Marks {
                earned: whole.earned,
                available: whole.available,
                was_there: whole.handed_in() > 0,
            });
        let told = &mut sitting.told;
        told.pupils = told.pupils.saturating_add(u32::from(whole.handed_in() > 0));
        told.questions = told.questions.max(questions.len());
        told.classes.insert(class);
    }

    /// Counts an answer for its question, and returns which that is.
    fn add_to_question(&mut self, pupil: u32, answer: &attainment::Answer) -> kept::Question {
        let question = kept::Question {
            skill: answer.skill,
            bank: self.names.name(&answer.bank),
            template: self.names.name(&answer.template),
            part: self.names.name(&part(&answer.question)),
        };
        let mut one = tally::Tally::default();
        one.count(answer);
        let asked = self.questions.entry(question).or_default();
        asked.counted.add(pupil, &one);
        asked.levels.insert(answer.level);
        if tally::counts_for_facility(answer.state) {
            kept::more(&mut asked.marks, (answer.marks, answer.out_of), 1);
        }
        let ids: BTreeSet<&String> = answer.misconceptions.iter().collect();
        for id in ids {
            kept::more(&mut asked.misconceptions, self.names.name(id), 1);
        }
        question
    }

    /// Returns how pupils with each score did on each question, for each set of
    /// questions that some pupil answered; questions are called as in the rows of
    /// [`attainment::Summary::questions`].
    #[must_use]
    pub fn scores(&self) -> &answers::Answers {
        &self.scores
    }

    /// Returns the number of the place that a pupil is in.
    fn place(
        &mut self,
        pupil: &attainment::Pupil,
        class: names::Name,
        year: names::Name,
    ) -> place::PlaceNumber {
        let mut labels = BTreeSet::new();
        for (heading, label) in &pupil.groups {
            if !label.trim().is_empty() {
                labels.insert(place::Label {
                    heading: self.names.name(heading),
                    label: self.names.name(label.trim()),
                });
            }
        }
        self.places.number(place::Place {
            class,
            year,
            labels,
        })
    }

    /// Returns the scales on which questions and pupils can be placed.
    #[must_use]
    pub fn scales(&self) -> rasch::Scales {
        rasch::scales(&self.scores)
    }
}

/// What is gathered while one homework is counted.
struct Sitting {
    set_on: names::Name,
    /// Questions that somebody handed in.
    covered: BTreeSet<kept::Covered>,
    told: kept::Told,
}

/// The letter of a question's part: `b` of `Q3b`; empty where it has one part.
pub(super) fn part(question: &str) -> String {
    question
        .chars()
        .skip_while(|sign| !sign.is_ascii_digit())
        .skip_while(char::is_ascii_digit)
        .collect()
}

/// The name of a pupil's class: where the roll names schools, with its school.
pub(super) fn class(pupil: &attainment::Pupil) -> String {
    let class = pupil.class.trim();
    match who::school(&pupil.groups) {
        Some(school) if class.is_empty() => format!("no class given ({school})"),
        Some(school) => format!("{class} ({school})"),
        None => class.to_owned(),
    }
}

#[cfg(test)]
mod tests;
