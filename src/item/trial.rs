//! A template tried out: can it be drawn at each of its levels, and how many
//! different versions does it have.

use crate::bank;
use crate::item::pool;
use crate::item::refusal;
use crate::level;
use crate::level::feature;
use crate::problem;
use crate::seed;

/// Fewer different versions than this make neighbours likely to share numbers.
const FEW_VERSIONS: usize = 6;

/// What trying out one template at one level showed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trial {
    /// The level.
    pub level: level::Level,
    /// How many different versions were found.
    pub versions: usize,
    /// How many of them are equally hard: the most that pupils can have of their own.
    pub equally_hard: usize,
    /// Whether something is calculated, so that numbers of one's own matter.
    pub is_calculated: bool,
    /// How many combinations of values were tried.
    pub tried: u64,
    /// Whether these were all there are.
    pub is_whole: bool,
    /// Ways of thinking that some combinations cannot tell apart, with how many
    /// combinations and one example.
    pub collisions: Vec<(u64, String)>,
    /// Why there is no version, where there is none.
    pub why_none: Option<String>,
}

/// Draws a template at each of its levels, the same draws every time.
#[must_use]
pub fn out(template: &bank::Template) -> Vec<Trial> {
    template
        .levels
        .iter()
        .map(|&level| {
            let mut stream = seed::Stream::named(&["trial", &template.id], level.number().into());
            let pool = pool::fill(template, level, usize::MAX, &mut stream);
            let collisions = pool
                .refused
                .iter()
                .filter_map(|(cause, (count, example))| match cause {
                    refusal::Cause::Collision(..) => Some((*count, example.clone())),
                    refusal::Cause::Unsolved
                    | refusal::Cause::NotPositive
                    | refusal::Cause::Told
                    | refusal::Cause::TooLarge
                    | refusal::Cause::TooAwkward
                    | refusal::Cause::Ratio
                    | refusal::Cause::TooManySteps
                    | refusal::Cause::DoesNotFollow => None,
                })
                .collect();
            Trial {
                level,
                versions: pool.version_count(),
                equally_hard: pool.kinds.first().map_or(0, Vec::len),
                is_calculated: pool
                    .kinds
                    .iter()
                    .flatten()
                    .flat_map(|version| &version.parts)
                    .any(|part| feature::is_calculated(&part.ask)),
                tried: pool.tried,
                is_whole: pool.is_whole,
                collisions,
                why_none: pool.kinds.is_empty().then(|| pool.why_none()),
            }
        })
        .collect()
}

/// Returns what must be mended: a level at which the template cannot be drawn.
#[must_use]
pub fn problems(template: &bank::Template, trials: &[Trial]) -> Vec<problem::Problem> {
    trials
        .iter()
        .filter_map(|trial| {
            let why = trial.why_none.as_ref()?;
            let hint = if trial.collisions.is_empty() {
                "give the placeholders other values, or leave the level out"
            } else {
                "the numbers cannot tell these ways of thinking apart: give other values"
            };
            Some(problem::Problem::new(
                template.place.clone(),
                format!("\"{}\" cannot be set: {why}", template.id),
                hint,
            ))
        })
        .collect()
}

/// Returns what a teacher may want to know: so few versions that pupils of a class
/// with numbers of their own will share some.
#[must_use]
pub fn notices(template: &bank::Template, trials: &[Trial]) -> Vec<problem::Problem> {
    let few: Vec<String> = trials
        .iter()
        .filter(|trial| trial.is_calculated && trial.equally_hard < FEW_VERSIONS)
        .map(|trial| format!("{} at level {}", trial.equally_hard, trial.level))
        .collect();
    if few.is_empty() {
        return Vec::new();
    }
    vec![problem::Problem::new(
        template.place.clone(),
        format!(
            "\"{}\" has few versions that are equally hard: {}",
            template.id,
            few.join(", ")
        ),
        "pupils with numbers of their own will share some: give more values",
    )]
}
