//! What of the curriculum was never asked.

use crate::attainment;
use crate::attainment::coverage;
use crate::attainment::overview;

/// Skills and statements that no homework asked.
pub(super) fn sentences(summary: &attainment::Summary) -> Vec<String> {
    let coverage = &summary.coverage;
    let mut texts = Vec::new();
    let skills: Vec<String> = coverage
        .not_asked
        .iter()
        .map(|skill| skill.title().to_lowercase())
        .collect();
    if skills.is_empty() {
        texts.push("Every skill was asked.".to_owned());
    } else {
        texts.push(format!("Skills: {}.", overview::listed(&skills)));
    }
    texts.extend(coverage.curricula.iter().map(statements));
    texts
}

fn statements(curriculum: &coverage::CurriculumCovered) -> String {
    let missing: Vec<String> = curriculum
        .statements
        .iter()
        .filter(|covered| covered.times.is_empty())
        .map(|covered| {
            let statement = &covered.statement;
            format!(
                "\u{201c}{}\u{201d} ({}, {})",
                statement.text, statement.subject, statement.stage
            )
        })
        .collect();
    let all = curriculum.statements.len();
    if missing.is_empty() {
        return format!(
            "{}: something was asked on each of the {all} statements.",
            curriculum.title
        );
    }
    let named = missing.get(..2).unwrap_or(&missing);
    let rest = missing.len().saturating_sub(named.len());
    let mut named = named.to_vec();
    if rest > 0 {
        named.push(format!("{rest} more, listed under Coverage"));
    }
    format!(
        "{}: nothing was asked on {} of {all} statements: {}.",
        curriculum.title,
        missing.len(),
        overview::listed(&named)
    )
}
