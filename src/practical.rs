//! Hands-on tasks: build a mechanism, predict, try, explain.
//!
//! Takes the text of a TOML file, or the one that comes with the program; gives checked
//! [`Task`]s, and from each a [`card::Card`] with what it needs, its cautions and its
//! answers. A file holds no answers and no cautions: the answers are worked out from
//! the mechanism, and the cautions go by what the mechanism holds, so that none can be
//! left out. Not here: pages.

pub mod card;
pub mod caution;
mod read;

use crate::answer;
use crate::gears::ask;
use crate::gears::mechanism;
use crate::level;
use crate::problem;

/// The version of the file's format that this program reads.
pub const FORMAT: i64 = 1;

/// The file that comes with the program.
const USUAL: &str = include_str!("../question-banks/tasks/gears.toml");
/// How messages name it.
const USUAL_NAME: &str = "question-banks/tasks/gears.toml";

/// A checked file of tasks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tasks {
    /// Its id.
    pub id: String,
    /// Its title for people.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// Its tasks, in the file's order.
    pub tasks: Vec<Task>,
}

/// Something to build, predict, try and explain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Task {
    /// Its id, unique in the file.
    pub id: String,
    /// Its title for pupils.
    pub title: String,
    /// The skill it exercises.
    pub skill: level::Skill,
    /// The levels it suits.
    pub levels: Vec<level::Level>,
    /// What is built.
    pub mechanism: mechanism::Mechanism,
    /// What is needed besides the parts of the mechanism.
    pub also: Vec<String>,
    /// What to do, step by step.
    pub steps: Vec<String>,
    /// What to predict.
    pub predictions: Vec<Prediction>,
    /// What to explain in the end.
    pub explain: String,
}

/// Something to predict.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prediction {
    /// The question to the pupil.
    pub question: String,
    /// What is asked.
    pub ask: ask::Ask,
    /// What the answer looks like.
    pub form: answer::Form,
}

/// Returns the tasks that come with the program.
///
/// # Panics
///
/// Never: a test reads the file.
#[must_use]
pub fn usual() -> Tasks {
    read(USUAL, USUAL_NAME).expect("the tasks that come with the program are sound")
}

/// Returns the text of the tasks that come with the program, as a file to start from.
#[must_use]
pub fn usual_text() -> &'static str {
    USUAL
}

/// Returns the tasks of a TOML file; `file` names it in problems.
///
/// # Errors
///
/// Every fault of the file at once, each with line and column.
pub fn read(text: &str, file: &str) -> Result<Tasks, Vec<problem::Problem>> {
    read::read(text, file)
}

impl Tasks {
    /// Returns the tasks for these levels and skills, in the file's order; every skill
    /// where none is named.
    #[must_use]
    pub fn suiting(&self, levels: level::Span, skills: &[level::Skill]) -> Vec<&Task> {
        self.tasks
            .iter()
            .filter(|task| task.levels.iter().any(|level| levels.contains(*level)))
            .filter(|task| skills.is_empty() || skills.contains(&task.skill))
            .collect()
    }
}
