//! What to do next, in the order in which it is worth doing.

use crate::attainment;
use crate::attainment::care;
use crate::attainment::overview;
use crate::attainment::overview::standing;
use crate::attainment::overview::sure;
use crate::level;
use crate::marking::overview as steps;

/// The steps, a few words each.
pub(super) fn sentences(summary: &attainment::Summary, care: &care::Care) -> Vec<String> {
    let mut texts = Vec::new();
    if care.to_check > 0 {
        texts.push(
            "First have the open answers looked at (worksheet To check of each marked workbook), \
             and review again."
                .to_owned(),
        );
    }
    texts.extend(weakest(summary));
    if let Some(row) = summary.misconceptions.rows.first() {
        let is_told = overview::again::is_told(&summary.misconceptions, row);
        if is_told && !row.next.is_empty() {
            texts.push(
                "Plan a short lesson on the way of thinking that stands first above, and ask \
                 about it again."
                    .to_owned(),
            );
        }
    }
    let missing: Vec<&str> = summary
        .coverage
        .not_asked
        .iter()
        .map(|skill| skill.text())
        .take(overview::MOST_NAMED)
        .collect();
    if !missing.is_empty() {
        texts.push(format!(
            "Ask what was not asked, where it has been taught: toothmark set ... --skill {}",
            missing.join(" ")
        ));
    }
    let mut about = summary.figures.about.iter();
    if let Some(remark) = about.find(|it| sure::is_doubt(it.kind)) {
        texts.push(format!(
            "Before blaming the pupils, look at the question {}: {}",
            remark.label, remark.text
        ));
    }
    texts.push(
        "Set the next homework from these marks with toothmark set ... --after, then review both \
         together."
            .to_owned(),
    );
    texts
}

/// The skill that holds least, with what to try; the sentence says how sure that is.
fn weakest(summary: &attainment::Summary) -> Option<String> {
    let skills = standing::standings(&summary.skills);
    let whole = standing::Standing::of(&summary.whole)?;
    let least = skills.iter().min_by_key(|skill| skill.percent)?;
    let skill = level::SKILLS
        .into_iter()
        .find(|skill| skill.title() == least.label)?;
    if skills.len() < 2 {
        return None;
    }
    let step = steps::skill_step(skill);
    let name = least.label.to_lowercase();
    Some(match least.beside(whole.percent) {
        standing::Beside::Below => format!("Teach {name} again first. Try: {step}"),
        standing::Beside::Within | standing::Beside::Above => format!(
            "No skill stands lower by more than chance. If you choose one to teach again, {name} \
             has the least ({} %). Try: {step}",
            least.percent
        ),
    })
}
